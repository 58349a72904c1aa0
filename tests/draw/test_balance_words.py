"""Words of the pictures of the balance, the places of numbers, round steps, inks."""

from itertools import pairwise

import pytest

from foamcut.draw.balance_frame import spread, steps, ticks
from foamcut.draw.balance_words import clean, length_words, mass_words, shortened, speed_words, width_mm
from foamcut.draw.picture import PENS
from foamcut.draw.styles import contrast_on_white
from tests.draw.balance_checks import NAMES


@pytest.mark.parametrize(
    ("mm", "units", "said"), [(25.4, "in", "1 in"), (25.4, "mm", "25.4 mm"), (100.0, "in", "3.94 in")]
)
def test_lengths_are_said_in_the_units_of_the_sketch(mm, units, said):
    assert length_words(mm, units) == said


def test_masses_and_speeds_are_said_in_the_units_of_the_sketch():
    """An ounce is 28.349523125 g."""
    assert [mass_words(28.349523125, units) for units in ("mm", "in")] == ["28 g", "1 oz"]
    assert mass_words(7.25, "mm") == "7.3 g"
    assert speed_words(10.0, "mm") == "10 m/s, 36 km/h"


def test_letters_that_turn_or_stack_words_are_left_out():
    assert clean("a\u202eb\u200bc\x07d\ne") == "abcd e"
    assert clean("n\u0303") == "ñ"
    assert len(clean("z" + "\u0301" * 50)) <= 3


def test_a_shortened_name_ends_in_dots_and_fits():
    for name in NAMES:
        short = shortened(name, 30.0)
        assert width_mm(short) <= 30.0
        assert short == clean(name) or short.endswith("...")


def test_numbers_on_a_rail_keep_apart_and_inside():
    places = [0.0, 0.0, 0.0, 10.0, 99.0, 99.0]
    found = spread(places, 5.0, 0.0, 100.0)
    assert all(b - a >= 5.0 - 1e-9 for a, b in pairwise(found))
    assert found[0] >= 0.0
    assert found[-1] <= 100.0
    assert spread([20.0, 60.0], 5.0, 0.0, 100.0) == [20.0, 60.0]
    assert spread([], 5.0, 0.0, 100.0) == []


@pytest.mark.parametrize("span", [1e-7, 0.3, 1.0, 7.0, 99.0, 1e7])
def test_steps_are_round_and_few(span):
    step = steps(span, 8)
    assert span / step <= 8 + 1e-6
    assert f"{step:.0e}"[0] in "125"
    assert len(ticks(0.0, span, step)) <= 9


def test_nothing_is_said_by_colour_alone():
    """Inks that look alike but for their colour are told apart by their width, dashes or whether they are filled."""
    colours = {}
    for pen in PENS.values():
        colours.setdefault((pen.width_mm, pen.dashes_mm, pen.fill), set()).add(pen.colour)
    assert all(len(several) == 1 for several in colours.values())
    assert all(contrast_on_white(pen.colour) >= 4.5 for pen in PENS.values())


def test_letters_that_the_font_lacks_count_as_an_em():
    """An em of DejaVu Sans is 2048 units and a capital 1493 high: 3.43 mm for capitals of 2.5 mm."""
    assert width_mm("潮汐", 2.5) == pytest.approx(2 * 2.5 * 2048 / 1493, rel=1e-3)
