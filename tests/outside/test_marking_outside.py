"""Distances as a rule reads them, against exact arithmetic: arithmetic (international inch of 25.4 mm, 1959).

Nearest tick by comparing exact fractions with both neighbours; numbers ours.
"""

from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from foamcut.draw.marking_rule import RULES

INCH = Fraction(127, 5)
TICKS = {"mm": Fraction(1, 2), "in": INCH / 32}
UNIT = {"mm": Fraction(1), "in": INCH}


def value_of(text: str) -> Fraction:
    """``9 13/32`` or ``238.5`` as an exact number."""
    return sum((Fraction(word) for word in text.split()), Fraction(0))


@pytest.mark.parametrize("unit", ["mm", "in"])
@given(mm=st.floats(0, 5000))
@example(mm=0.25)
@example(mm=0.396875)
@example(mm=12.7 + 25.4 / 64)
@example(mm=4999.999999)
def test_written_text_and_number_are_the_nearest_tick_exactly(unit, mm):
    read, tick = RULES[unit].read(mm), TICKS[unit]
    written = value_of(read.text) * UNIT[unit]
    assert written == read.mm == Fraction(read.number) * UNIT[unit]
    assert written % tick == 0
    off = abs(written - Fraction(mm))
    assert off <= tick / 2
    assert off <= min(abs(written + step - Fraction(mm)) for step in (tick, -tick))
    assert read.error_mm == pytest.approx(float(written - Fraction(mm)), abs=1e-12)


@given(ticks=st.integers(0, 20000))
def test_inches_are_in_lowest_terms_and_no_finer_than_a_thirty_second(ticks):
    read = RULES["in"].read(float(INCH * ticks / 32))
    whole, _, part = read.text.rpartition(" ")
    if "/" in part:
        above, below = map(int, part.split("/"))
        assert Fraction(above, below).denominator == below and below in (2, 4, 8, 16, 32)
        assert above < below and (not whole or int(whole) > 0)
    assert value_of(read.text) * 32 == ticks
