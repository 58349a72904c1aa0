"""Words that wiring advice shares: whose range it is, and how numbers are told."""

from foamcut.units import MM_PER_INCH, decimal_text

SOURCE = "common practice, opinions differ; the maker's word comes first"


def unit_text(value: float, unit: str) -> str:
    """A number with its unit, as short as it can be told."""
    return f"{decimal_text(value, 2)} {unit}"


def row_text(word: str, value: float, unit: str) -> str:
    """The same; of a propeller's size with the inches that it is sold by.

    >>> row_text("propeller pitch", 101.6, "mm")
    '101.6 mm (4 in)'
    """
    inches = f" ({decimal_text(value / MM_PER_INCH, 1)} in)" if word.startswith("propeller ") else ""
    return f"{unit_text(value, unit)}{inches}"


def listed(words: list[str]) -> str:
    """Words with commas and an "and" before the last."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
