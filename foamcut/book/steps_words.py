"""Words of the steps: lengths on the builder's ruler, parts by name and number, lists in a sentence."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from foamcut.book.chapters_words import thickness_words
from foamcut.flight.amounts import amount, unit_word
from foamcut.flight.figures import Report
from foamcut.units import MM_PER, decimal_text, mm_text

#: the finest tick that is read off a ruler in inches
_TICKS = 32
#: what is smaller is said in mm alone: no ruler in inches shows it
_SMALL_MM = 0.7


def listed(items: Iterable[str], last: str = "and") -> str:
    """Items in a sentence.

    >>> listed(["a", "b", "c"]), listed(["a"])
    ('a, b and c', 'a')
    """
    several = list(items)
    if len(several) < 2:
        return "".join(several)
    return f"{', '.join(several[:-1])} {last} {several[-1]}"


def counted(count: int, word: str, more: str = "") -> str:
    """How many of something.

    >>> counted(1, "sheet"), counted(3, "sheet")
    ('1 sheet', '3 sheets')
    """
    return f"{count} {word if count == 1 else more or word + 's'}"


def sentence(text: str) -> str:
    """The text with a capital first and a full stop last."""
    text = text.strip()
    ended = text if text.endswith((".", "!", "?", ":")) else f"{text}."
    return ended[:1].upper() + ended[1:]


@dataclass(frozen=True, slots=True)
class Ruler:
    """Lengths as the builder's ruler reads them: `units` is mm or in."""

    units: str

    def __call__(self, mm: float) -> str:
        """A length, with its unit: to half a millimetre, or to a thirty-second with the mm beside it.

        >>> Ruler("mm")(38.54), Ruler("in")(35.7), Ruler("in")(25.4)
        ('38.5 mm', '1 13/32 in (35.7 mm)', '1 in (25.4 mm)')
        """
        if self.units != "in" or 0 < abs(mm) < _SMALL_MM:
            return mm_text(mm)
        if not mm:
            return "0 in"
        return f"{self._inches(mm)} in ({mm_text(mm)})"

    def up(self, mm: float) -> str:
        """How high something lies, from the base line of the side view."""
        return f"{self(mm)} up" if mm > -0.05 else f"{self(-mm)} below the base line"

    def sizes(self, *mm: float) -> str:
        """Sizes with a cross between them."""
        words = f"{' x '.join(map(decimal_text, mm))} mm"
        if self.units != "in":
            return words
        return f"{' x '.join(map(self._inches, mm))} in ({words})"

    def thickness(self, mm: float) -> str:
        """The thickness of a sheet, to a hundredth of a millimetre."""
        return thickness_words(mm, self.units)

    def pair(self, first_mm: float, second_mm: float) -> str:
        """Two sizes, the first by the second."""
        return self.sizes(first_mm, second_mm)

    def mass(self, grams: float) -> str:
        """A mass, with its unit."""
        return f"{amount(grams, 'g', self.units)} {unit_word('g', self.units)}"

    def _inches(self, mm: float) -> str:
        ticks = math.floor(Fraction(round(mm, 6)) / MM_PER["in"] * _TICKS + Fraction(1, 2))
        sign, (whole, rest) = "-" if ticks < 0 else "", divmod(abs(ticks), _TICKS)
        part = Fraction(rest, _TICKS)
        if not rest:
            return f"{sign}{whole}"
        words = f"{part.numerator}/{part.denominator}"
        return f"{sign}{whole} {words}" if whole else f"{sign}{words}"


def deg(angle: float) -> str:
    """An angle in words."""
    text = decimal_text(angle, 1)
    return f"{text} {'degree' if text == '1' else 'degrees'}"


def off_middle(out_mm: float, ruler: Ruler) -> str:
    """How far off the centre plane something lies, and to which side."""
    if abs(out_mm) < 0.5:
        return "on the middle line"
    return f"{ruler(abs(out_mm))} to the {'right' if out_mm > 0 else 'left'} of the middle line"


def advice(report: Report | None, code: str) -> tuple[tuple[str, str], ...]:
    """What was found of a kind when the model was weighed, and what mends it; no full stop at the ends."""
    found = report.findings if report is not None else ()
    return tuple((one.text, one.mend) for one in found if one.code == code)


def titled(name: str) -> str:
    """A name at the beginning of a sentence.

    >>> titled("elevator servo")
    'Elevator servo'
    """
    return name[:1].upper() + name[1:]
