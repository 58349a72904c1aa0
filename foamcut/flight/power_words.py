"""Words that advice on power shares."""

import math
from typing import NamedTuple

from foamcut.findings import Finding
from foamcut.units import MM_PER_INCH, decimal_text, mm_text

#: a propeller of another size altogether is no mend
_OTHER = 2.0
#: what is less than so much of the usual is another thing, or a slip, and is not mended by a share
SENSIBLE = 0.1


class Symptom(NamedTuple):
    """A finding that may come of another alone: of which engine (empty: of all), and its words in short."""

    engine: str
    words: str
    finding: Finding


def size_text(value_mm: float) -> str:
    """A diameter or pitch, with the inches that propellers are sold by.

    >>> size_text(137.16)
    '137 mm (5.4 in)'
    """
    return f"{mm_text(value_mm, 0)} ({decimal_text(value_mm / MM_PER_INCH, 1)} in)"


def least(value: float) -> int:
    """The whole number that is no less."""
    return math.ceil(round(value, 3))


def most(value: float) -> int:
    """The whole number that is no more."""
    return math.floor(round(value, 3))


def listed(words: list[str], last: str = "or") -> str:
    """Words with commas, and a word before the last: whole ways, so that a comma stands there too."""
    return f", {last} ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)


def same_shape_text(diameter_mm: float, factor: float) -> str:
    """A propeller whose diameter and pitch are so many times as large; empty when another altogether."""
    if not 1 / _OTHER <= factor <= _OTHER:
        return ""
    return f"a propeller of about {size_text(diameter_mm * factor)} of the same shape"
