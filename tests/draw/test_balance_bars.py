"""Bars of weights and speeds: as long as they should be, in order, whatever their size."""

from dataclasses import replace

import pytest

from foamcut.draw.balance_side import side_picture
from foamcut.draw.balance_speeds import speed_picture
from foamcut.draw.balance_weights import weight_picture
from foamcut.draw.picture import Ink
from foamcut.flight.figures import Sort
from foamcut.flight.values import Setup
from tests.draw.balance_checks import look_over, of, words
from tests.draw.balance_reports import (
    ITEMS,
    NUMBERS,
    item,
    number,
    powered,
    report,
    title,
)


@pytest.mark.parametrize("factor", [1e-6, 1e-3, 1.0, 1e3, 1e6])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_weights_and_speeds_of_any_size_are_drawn(factor, units):
    items = tuple(
        replace(one, mass_g=one.mass_g * factor, low_g=one.low_g * factor, high_g=one.high_g * factor)
        for one in ITEMS
    )
    numbers = tuple(
        replace(one, value=one.value * factor, low=(one.low or 0) * factor, high=(one.high or 0) * factor)
        for one in NUMBERS
    )
    for picture in (
        weight_picture(report(items), title(units)),
        speed_picture(report(numbers=numbers), title(units)),
    ):
        assert picture is not None
        look_over(picture)


def test_bars_are_as_long_as_their_weights():
    """Lengths of the bars of kinds, of the sum and of its range against each other (arithmetic)."""
    picture = weight_picture(report(), title())
    assert picture is not None
    lengths = [max(x for x, _ in s.points) - min(x for x, _ in s.points) for s in of(picture, Ink.BAR)]
    (whole_bar,) = of(picture, Ink.SOLID)
    total = max(x for x, _ in whole_bar.points) - min(x for x, _ in whole_bar.points)
    assert sum(lengths) == pytest.approx(total)
    sums = [sum(one.mass_g for one in ITEMS if one.sort is sort) for sort in Sort]
    assert [length / total for length in lengths] == pytest.approx([one / sum(sums) for one in sums])
    assert "630 g (603 to 657 g)" in words(picture)


def test_the_heaviest_things_are_named_and_the_rest_counted():
    items = tuple(item(f"rib {i}", 5.0 + i, 100.0, Sort.BOARD) for i in range(9))
    picture = weight_picture(report(items), title())
    assert picture is not None
    told = words(picture)
    assert all(f"rib {i}" in told for i in (8, 7, 6, 5))
    assert "5 others" in told
    assert "rib 4" not in told


def test_what_the_scales_say_less_than_is_counted_is_shown_too():
    items = (*ITEMS, item("on the scales", -40.0, 300.0, Sort.OTHER, "weighed.model"))
    picture = weight_picture(report(items), title())
    assert picture is not None
    look_over(picture)
    assert "-40 g" in words(picture)
    side = side_picture(report(items), powered(), Setup(), title())
    assert side is not None
    assert "on the scales" not in words(side)


def test_speeds_stand_from_the_slowest_up_in_both_units():
    """18 m/s are 64.8 km/h and 40.26 miles an hour (arithmetic: 1 mile is 1609.344 m)."""
    fast = number("fast_speed", 18.0, "m/s", NUMBERS[-1].group, 18.0, 18.0)
    for units, said in (("mm", "18 m/s, 65 km/h"), ("in", "18 m/s, 40.3 mph")):
        picture = speed_picture(report(numbers=(fast, *NUMBERS)), title(units))
        assert picture is not None
        told = words(picture)
        assert said in told
        places = [told.index(name) for name in ("stall speed", "approach speed", "pitch speed", "fast speed")]
        assert places == sorted(places)
