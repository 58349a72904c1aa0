"""Pictures of the balance: no word over another or cut off, every number where it belongs, smaller ones honest."""

from dataclasses import replace

import pytest

from foamcut.airframe.values import Inputs
from foamcut.draw.balance_pictures import balance_pictures
from foamcut.draw.balance_side import side_picture
from foamcut.draw.balance_weights import weight_picture
from foamcut.draw.picture import Ink, Picture
from foamcut.flight.figures import Report, Sort
from foamcut.flight.values import Aboard, Carried, Setup
from tests.draw.balance_checks import NAMES, look_over, of, tick_at, words
from tests.draw.balance_reports import (
    FIN,
    HULL,
    ITEMS,
    NUMBERS,
    TAIL,
    THINGS,
    WING,
    battery,
    item,
    model,
    powered,
    report,
    surface,
    title,
)

NOTHING = Report(numbers=(), items=(), loaded=None, places=(), throws=(), findings=())


def whole(units: str = "mm") -> Picture:
    picture = side_picture(report(), powered(), Setup(aboard=THINGS), title(units))
    assert picture is not None
    return picture


@pytest.mark.parametrize("units", ["mm", "in"])
def test_no_words_meet_or_are_cut_off_and_no_line_runs_through_them(units):
    pictures = balance_pictures(report(), powered(), Setup(aboard=THINGS), title(units))
    assert [one.name for one in pictures] == ["balance-side", "balance-speeds", "balance-weights"]
    for picture in pictures:
        look_over(picture)


@pytest.mark.parametrize("name", NAMES)
def test_a_name_of_any_length_and_script_finds_room(name):
    things = tuple(replace(one, name=name) for one in THINGS)
    found = report(
        tuple(replace(one, name=name) for one in ITEMS), tuple(replace(n, title=name) for n in NUMBERS)
    )
    found = replace(found, places=tuple(replace(row, moved=((name, 168.0, 20.0),)) for row in found.places))
    head = title(name=name, words=name)
    for picture in balance_pictures(found, powered(), Setup(aboard=things), head):
        look_over(picture)
        assert "revision C: " in words(picture)


@pytest.mark.parametrize(("count", "numbers"), [(1, 1), (30, 30), (36, 36), (90, 36)])
def test_many_things_aboard_have_a_number_each_and_a_line_in_the_list(count, numbers):
    """All of them in one place, where they crowd most; the heaviest of too many, the rest as a sum."""
    things = tuple(
        Aboard(
            key=f"aboard[{i}]",
            name=f"sampler {i}",
            kind=Carried.OTHER,
            at=(150.0 + 0.1 * i, 30.0),
            mass_g=10.0 + i,
            size_mm=(20.0, 20.0, 15.0),
            slides_mm=(100.0, 200.0) if i % 2 else None,
        )
        for i in range(count)
    )
    items = tuple(item(one.name, one.mass_g or 0, one.at[0], Sort.OTHER, one.key) for one in things)
    bare = model(Inputs(surfaces=(WING, TAIL), bodies=(HULL,)))
    picture = side_picture(report(items), bare, Setup(aboard=things), title())
    assert picture is not None
    look_over(picture)
    listed = [text.text for text in picture.texts if text.text.startswith("sampler ")]
    heaviest = {f"sampler {i}" for i in range(count - numbers, count)}
    assert heaviest <= set(listed)
    more = sum(10.0 + i for i in range(count - numbers))
    assert (f"and {count - numbers} more without a number, {more:.0f} g together" in words(picture)) == (
        count > numbers
    )


def test_the_balance_stands_where_the_scale_says():
    """The sign lies as far between two ticks as its number between theirs (arithmetic)."""
    found = report()
    assert found.loaded is not None
    picture = side_picture(found, powered(), Setup(aboard=THINGS), title())
    assert picture is not None
    zero, four = tick_at(picture, "0"), tick_at(picture, "400")
    circle = next(s for s in of(picture, Ink.SYMBOL) if len(s.points) == 48)
    middle = (min(x for x, _ in circle.points) + max(x for x, _ in circle.points)) / 2
    assert (middle - zero) / (four - zero) * 400 == pytest.approx(found.loaded.at[0], abs=0.5)


def test_the_scale_bar_is_as_long_as_it_says():
    """Against the distance of two ticks of the scale below, in both units."""
    for units, first, last in (("mm", "0", "200"), ("in", "0", "5")):
        picture = whole(units)
        said = next(t for t in picture.texts if t.text.endswith(" of the model"))
        bar = next(
            s
            for s in of(picture, Ink.AXIS)
            if s.points[0][0] == said.at[0] and s.points[0][1] == s.points[1][1]
        )
        a, b = tick_at(picture, first), tick_at(picture, last)
        length = (bar.points[1][0] - bar.points[0][0]) / (b - a) * float(last)
        assert length == pytest.approx(float(said.text.split()[0]), rel=1e-6)


def test_what_is_told_of_the_side_view():
    told = words(whole())
    for said in (
        "curlew-4, revision C",
        "mean chord of the wing",
        "where the balance shall lie",
        "neutral point",
        "slides from 80 to 220 mm",
        "drawn at 120 mm (black)",
        "best at 168 mm (dashed)",
        "may sit at 340 mm, 380 mm (white)",
        "165 g",
        "2 x 9 g",
    ):
        assert said in told


def test_a_thing_without_a_weight_says_so():
    unknown = battery(mass_g=None)
    bare = tuple(one for one in ITEMS if one.key != "aboard[0]")
    picture = side_picture(report(bare), powered(), Setup(aboard=(unknown,)), title())
    assert picture is not None
    assert "weight not known" in words(picture)


def test_a_motor_without_a_weight_is_numbered_and_says_so():
    bare = tuple(one for one in ITEMS if one.key != "motor.nose")
    picture = side_picture(report(bare), powered(), Setup(), title())
    assert picture is not None
    assert "motor-nose weight not known" in words(picture)


def test_a_pair_of_things_is_one_number():
    items = (
        item("servo-aileron-right", 9.0, 330.0, Sort.RADIO, "servo[0]"),
        item("servo-aileron-left", 9.0, 330.0, Sort.RADIO, "servo[0]"),
    )
    picture = side_picture(report(items), powered(), Setup(), title())
    assert picture is not None
    assert "2 servo-aileron 2 x 9 g" in words(picture)


@pytest.mark.parametrize(
    "inputs",
    [
        Inputs(),
        Inputs(surfaces=(WING, TAIL, FIN)),
        Inputs(bodies=(HULL,)),
        Inputs(surfaces=(TAIL,)),
        Inputs(surfaces=(FIN,)),
        Inputs(surfaces=(surface("wing", WING.role, (0.0, 0.0), 40.0, 1.0, 0.5),)),
    ],
    ids=["nothing", "no body", "no wing", "tail alone", "fin alone", "tiny"],
)
@pytest.mark.parametrize("known", [True, False])
def test_smaller_designs_have_smaller_pictures(inputs, known):
    bare = report(known=known, numbers=() if not known else NUMBERS)
    picture = side_picture(bare, model(inputs), Setup(aboard=THINGS[:1]), title())
    assert picture is not None
    look_over(picture)
    assert ("mean chord of the wing" in words(picture)) == (inputs.wing is not None)
    assert ("balance, all in its place" in words(picture)) == known


def test_nothing_to_show_is_no_picture():
    assert balance_pictures(NOTHING, model(Inputs()), Setup(), title()) == ()
    nought = report(tuple(replace(one, mass_g=0.0) for one in ITEMS))
    assert weight_picture(nought, title()) is None


@pytest.mark.parametrize("at", [(150000.0, 20.0), (-900.0, 4000.0), (0.0, -1e6)])
def test_a_thing_far_off_shrinks_the_view_and_breaks_nothing(at):
    picture = side_picture(report(), powered(), Setup(aboard=(battery(at=at),)), title())
    assert picture is not None
    look_over(picture)
    assert picture.height_mm < 500
