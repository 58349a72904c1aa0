"""Units of length and mass, and lengths in the words of a ruler.

Inside the program a length is mm, an angle degrees, a mass grams.  Other units exist at the
two doors only: where a design is read and where a number is written for people.
"""

from fractions import Fraction

#: mm in one of each unit.  The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
MM_PER: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
}

#: grams in one of each unit.  The avoirdupois pound is 453.59237 g exactly (the same agreement).
GRAM_PER: dict[str, Fraction] = {
    "g": Fraction(1),
    "kg": Fraction(1000),
    "oz": Fraction(45359237, 1600000),
    "lb": Fraction(45359237, 100000),
}

MM_PER_INCH = 25.4
POINTS_PER_MM = 72 / 25.4


def decimal_text(value: float, places: int = 1) -> str:
    """Shortest decimal text within half a unit of the last place; never ``-0``, never an exponent.

    >>> decimal_text(12.0), decimal_text(0.25, 2), decimal_text(-0.01)
    ('12', '0.25', '0')
    """
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def inch_text(mm: float, denominator: int = 32) -> str:
    """A length as inches and a fraction, the way a ruler is read.

    >>> inch_text(508.0), inch_text(4.7625), inch_text(26.9875)
    ('20', '3/16', '1 1/16')
    """
    ticks = round(Fraction(mm) / MM_PER["in"] * denominator)
    sign = "-" if ticks < 0 else ""
    whole, rest = divmod(abs(ticks), denominator)
    if not rest:
        return f"{sign}{whole}"
    part = Fraction(rest, denominator)
    fraction = f"{part.numerator}/{part.denominator}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"
