"""Words that wiring advice shares: whose range it is, and how numbers are told."""

from foamcut.units import decimal_text

SOURCE = "common practice, opinions differ; the maker's word comes first"


def unit_text(value: float, unit: str) -> str:
    """A number with its unit, as short as it can be told."""
    return f"{decimal_text(value, 2)} {unit}"


def listed(words: list[str]) -> str:
    """Words with commas and an "and" before the last."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
