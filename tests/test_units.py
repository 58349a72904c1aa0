"""Lengths in words: what is written is what a ruler reads, and says so when it is not exact."""

import doctest
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut import files, units
from foamcut.units import MM_PER_INCH, decimal_text, inch_text


@pytest.mark.parametrize("module", [units, files], ids=lambda m: m.__name__)
def test_the_examples_in_the_docstrings(module):
    found = doctest.testmod(module)
    assert found.attempted > 0
    assert found.failed == 0


def inches_of(text: str) -> Fraction:
    """What an inch text says, read as a person would."""
    return sum((Fraction(word) for word in text.removeprefix("~").lstrip("-").split()), Fraction(0))


@given(st.floats(0, 3000))
def test_an_inch_text_is_exact_or_says_so(mm):
    """Within 0.02 mm without a sign; with a ``~`` within half a thirty-second, 0.397 mm (1/64 in)."""
    text = inch_text(mm)
    off = abs(float(inches_of(text)) * MM_PER_INCH - mm)
    assert off <= (0.3969 if text.startswith("~") else 0.0201)


@given(st.integers(-4000, 4000))
def test_every_sixty_fourth_is_written_as_a_fraction(ticks):
    text = inch_text(ticks / 64 * MM_PER_INCH)
    assert "~" not in text and "." not in text
    assert inches_of(text) == Fraction(abs(ticks), 64)


@given(st.decimals(-10000, 10000, places=4), st.integers(0, 3))
def test_decimals_are_rounded_as_people_do(value, places):
    assert abs(float(decimal_text(float(value), places)) - float(value)) <= 0.5 * 10**-places + 1e-9


def test_a_thickness_of_an_eighth_keeps_its_half():
    assert decimal_text(3.175, 2) == "3.18"
