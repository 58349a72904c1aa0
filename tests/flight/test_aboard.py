"""Findings of what has no room: outside, too large, through formers, dowels and each other, on its way."""

import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamcut.airframe.values import Inputs
from foamcut.findings import CODES, Finding, Level
from foamcut.flight.aboard import room_findings
from foamcut.flight.aboard_bays import bays
from foamcut.flight.aboard_room import has_room
from foamcut.flight.aboard_ways import free_ways
from foamcut.flight.values import Aboard, Carried, Model, Setup
from tests.airframe.body_sample import body, dowels, former, plain, side, tail, twin, wing
from tests.flight.loading_sample import battery

#: formers at 60 (closed), 228 (42 x 30 open, its middle at 47.3 up) and 456 mm; hatch from 60 to 228, deck
#: from 456, nose doublers to 228, the wing's saddle from 239 to 443, dowels at 216 and 468 mm, 42 up
TWIN = twin()


def found(*things: Aboard, inputs: Inputs = TWIN) -> tuple[Finding, ...]:
    built = Model(inputs=inputs, cuts=(), standing=(), stocks={})
    return room_findings(built, Setup(aboard=things))


def one(*things: Aboard, code: str, inputs: Inputs = TWIN) -> Finding:
    told = found(*things, inputs=inputs)
    assert [x.code for x in told] == [code], told
    return told[0]


def box(i: int = 1, **more: Any) -> Aboard:
    values: dict[str, Any] = {
        "key": f"aboard[{i}]", "name": f"box {i}", "kind": Carried.OTHER, "at": (330.0, 30.0),
        "size_mm": (30.0, 20.0, 10.0),
    }  # fmt: skip
    return Aboard(**values | more)


def test_a_battery_with_room_gives_no_finding() -> None:
    assert found(battery(slides_mm=(118.0, 160.0), may_sit=((340.0, 35.0),))) == ()


def test_through_a_former_that_is_closed() -> None:
    """By hand: its front end at 57.5, the former's rear face at 65: the middle has to be at 117.5 or behind."""
    told = one(battery((110.0, 40.0)), code="aboard-through")
    assert told.where == "aboard[0].at"
    assert "the former at 60 mm" in told.text
    assert told.mend.startswith("battery 7.5 mm back, to 117.5 mm along")
    assert "opening of the former at 60 mm at least 34 x 29 mm (wide, high)" in told.mend


def test_through_a_former_whose_opening_lies_higher() -> None:
    """By hand: 24 mm at 40 up reach 7.3 + 12 mm below the opening's middle; it is 30 high and 47.3 up."""
    short = battery((215.0, 40.0), size_mm=(40.0, 34.0, 24.0))
    told = one(short, code="aboard-through", inputs=twin(dowels=()))
    assert "opening of the former at 228 mm at least 34 x 39 mm (wide, high)" in told.mend
    assert "its middle 44.3 to 50.3 mm up, through the opening at 228 mm" in told.mend
    for up in (44.4, 50.2):
        assert found(replace(short, at=(215.0, up)), inputs=twin(dowels=())) == ()


def test_a_height_at_which_something_else_bars_is_not_told() -> None:
    """Half way up the opening the battery would reach into the wing."""
    told = one(battery((250.0, 40.0)), code="aboard-through", inputs=twin(dowels=()))
    assert "its middle" not in told.mend
    codes = [x.code for x in found(battery((250.0, 47.3)), inputs=twin(dowels=()))]
    assert codes == ["aboard-room"]


@settings(max_examples=25, deadline=None)
@given(st.floats(70, 440), st.floats(20, 120), st.floats(8, 40), st.floats(8, 30))
def test_a_thing_moved_as_told_has_room(along: float, long: float, wide: float, high: float) -> None:
    """Whatever goes through something and is told where to go has room there."""
    thing = battery((along, 40.0), size_mm=(long, wide, high))
    for told in found(thing):
        match = re.match(r"battery [\d.]+ mm (?:back|forward), to ([\d.]+) mm along", told.mend)
        if told.code == "aboard-through" and match:
            there = replace(thing, at=(float(match[1]), 40.0))
            codes = [x.code for x in found(there)]
            assert "aboard-through" not in codes
            assert "aboard-room" not in codes


def test_the_opening_that_is_asked_for_is_enough() -> None:
    """A former cut as told lets the battery through."""
    told = one(battery((250.0, 40.0)), code="aboard-through", inputs=twin(dowels=()))
    size = re.findall(r"at 228 mm at least (\d+) x (\d+) mm", told.mend)[0]
    opened = former(1, 228.0, opening_mm=(float(size[0]), float(size[1])))
    changed = body(formers=(former(0, 60.0), opened, former(2, 456.0)))
    assert found(battery((250.0, 40.0)), inputs=twin(changed, dowels=())) == ()


def test_through_a_dowel() -> None:
    """By hand: the dowel reaches forward to 213 mm; half the battery is 52.5 mm: its middle at most at 160.5."""
    told = one(battery((165.0, 40.0)), code="aboard-through")
    assert "the dowel at 216 mm along and 42 mm up" in told.text
    assert told.mend == "battery 4.5 mm forward, to 160.5 mm along"
    assert found(battery((165.0, 25.0), size_mm=(105.0, 34.0, 20.0))) == ()  # it passes under


def test_a_way_through_a_former_and_a_dowel() -> None:
    told = one(battery(slides_mm=(100.0, 180.0)), code="slides-through")
    assert told.where == "aboard[0].slides"
    assert "the former at 60 mm by 17.5 mm" in told.text
    assert "the dowel at 216 mm along and 42 mm up by 19" in told.text
    assert told.mend == "slides from 117.5 to 160.5 mm is free"


def test_a_way_through_an_opening_too_small_asks_for_a_larger() -> None:
    told = one(battery(slides_mm=(132.0, 300.0)), code="slides-through", inputs=twin(dowels=()))
    assert "slides from 132 to 175.5 mm is free" in told.mend
    assert "or opening of the former at 228 mm at least 34 x 39 mm" in told.mend


def test_a_way_that_runs_into_the_floor() -> None:
    """The floor rises from 384 mm on; nothing else is in the way."""
    told = one(
        box(slides_mm=(300.0, 440.0), at=(310.0, 22.0), size_mm=(40.0, 20.0, 8.0)), code="slides-through"
    )
    assert "has not room between floor, cover" in told.text
    low, high = map(float, re.findall(r"from ([\d.]+) to ([\d.]+) mm is free", told.mend)[0])
    assert low == 300
    assert 330 < high < 440
    assert found(box(slides_mm=(low, high), at=(310.0, 22.0), size_mm=(40.0, 20.0, 8.0))) == ()


@settings(max_examples=20, deadline=None)
@given(st.floats(0, 300), st.floats(310, 860), st.floats(20, 60))
def test_a_way_that_is_said_to_be_free_is_free(low: float, high: float, up: float) -> None:
    """Each free stretch of a way, given as a way, gives no finding of a way."""
    thing, bay = box(at=(low, up), slides_mm=(low, high)), bays(TWIN)[0]
    for a, b in free_ways(thing, (low, high), bay, Setup(aboard=(thing,))):
        again = replace(thing, at=((a + b) / 2, up), slides_mm=(a, b))
        assert [x.code for x in found(again)] == []


def test_a_way_that_does_not_hold_its_place() -> None:
    told = one(battery(slides_mm=(140.0, 160.0)), code="slides-place")
    assert "8 mm beyond" in told.text
    assert told.mend == "draw it at 140 mm, or let it slide from 132 mm to 160 mm"


def test_another_place_where_it_may_sit_is_tested() -> None:
    told = one(battery(may_sit=((340.0, 35.0), (240.0, 40.0))), code="aboard-through")
    assert told.where == "aboard[0].may_sit[1]"


def test_several_places_that_are_not_free_are_told_once() -> None:
    """Six go through dowel or former, one is free; what is said of each is what is said of it alone."""
    barred = [(x, 40.0) for x in (240.0, 245.0, 250.0, 235.0, 230.0, 225.0)]
    told = one(battery(may_sit=((340.0, 35.0), *barred)), code="aboard-through")
    assert (told.where, told.value) == ("aboard[0].may_sit", "6 of the 7")
    assert told.text.endswith(", and 2 more") and told.mend.count(" along: ") == 4
    for at in barred[:4]:
        alone = one(battery(may_sit=(at,)), code="aboard-through")
        met = re.search(r"goes through (.*) with its middle", alone.text)
        assert met is not None
        assert f"{at[0]:g} mm along and 40 mm up ({met[1]})" in told.text
        assert f"{at[0]:g} mm along: {alone.mend.split('; or ')[0]}" in told.mend


def test_places_that_are_wrong_in_two_ways_are_counted_once() -> None:
    """Too high and too wide at both of two places, and outside at two more."""
    big = battery((340.0, 35.0), size_mm=(40.0, 200.0, 150.0), may_sit=((330.0, 35.0), (350.0, 35.0)))
    several = [x for x in found(big) if x.where == "aboard[0].may_sit"]
    assert [(x.code, x.value) for x in several] == [("aboard-room", "2 of the 2")]
    assert "150 mm high" in several[0].text and "200 mm wide" in several[0].text
    out = one(battery(may_sit=((-30.0, 40.0), (900.0, 50.0))), code="outside-body")
    assert out.where == "aboard[0].may_sit" and "(by 30 mm), 900 mm along and 50 mm up (by 36 mm)" in out.text


@pytest.mark.parametrize(
    ("at", "words"),
    [
        ((-30.0, 40.0), "lies 30 mm before"),
        ((900.0, 50.0), "lies 36 mm behind"),
        ((132.0, 100.0), "lies 16 mm over"),
        ((132.0, -10.0), "under"),
        ((20.0, 20.0), "stands out 32.5 mm before"),
    ],
)
def test_outside_the_body(at: tuple[float, float], words: str) -> None:
    told = one(battery(at), code="outside-body")
    assert told.level is Level.WARNING
    assert words in told.text
    assert told.mend


def test_outside_over_the_body_is_told_how_far_down() -> None:
    told = one(box(at=(330.0, 140.0)), code="outside-body")
    x, z = 330.0, float(re.findall(r"to ([\d.]+) mm up", told.mend)[0])
    assert found(box(at=(x, z))) == ()


def test_too_high_is_told_with_what_would_do() -> None:
    """84 mm under the open top; by hand at 330 mm: the floor's inside at about 15, the wing from 54 on."""
    told = one(box(size_mm=(30.0, 20.0, 60.0)), code="aboard-room")
    assert "60 mm high" in told.text
    assert "turned on its side, 60 wide" not in told.mend
    lying = one(box(size_mm=(30.0, 20.0, 44.0)), code="aboard-room")
    assert "turned on its side, 44 wide and 20 high" in lying.mend


def test_too_low_is_told_by_how_much() -> None:
    told = one(battery((132.0, 10.0)), code="aboard-room")
    z = float(re.findall(r"its middle at ([\d.]+) mm up", told.mend)[0])
    assert "higher" in told.mend
    assert found(battery((132.0, z))) == ()


def test_too_wide_between_the_nose_doublers() -> None:
    """62 mm less four boards of 5 mm leave 42; behind the doublers 52."""
    told = one(battery(size_mm=(105.0, 44.0, 24.0)), code="aboard-room")
    assert "between the sides there are 42 mm" in told.text
    assert found(box(size_mm=(30.0, 50.0, 20.0))) == ()


def test_into_a_side() -> None:
    told = one(box(out_mm=18.0), code="aboard-room")
    assert told.text.endswith("lies 2 mm into a side")
    assert told.mend == "2 mm to the left"
    assert one(box(out_mm=-18.0), code="aboard-room").mend == "2 mm to the right"


def test_things_in_each_others_place_are_told_once() -> None:
    told = one(box(), box(2, at=(340.0, 34.0)), code="aboard-through")
    assert told.where == "aboard[2].at"
    assert "box 1" in told.text
    assert told.mend == "box 2 6 mm higher"
    assert found(box(), box(2, at=(340.0, 40.0))) == ()


def test_a_mirrored_thing_in_the_place_of_its_other_one() -> None:
    told = one(box(mirrored=True, out_mm=8.0), code="aboard-through")
    assert told.where == "aboard[1].out"
    assert told.mend == "2 mm farther out, to 10 mm"
    assert found(box(mirrored=True, out_mm=10.0)) == ()


def test_on_the_wing_or_of_no_shape_is_not_tested() -> None:
    """Beyond the sides, in the wing, and what hangs outside by its nature."""
    assert found(box(out_mm=160.0, at=(250.0, 70.0))) == ()
    assert found(box(at=(320.0, 66.0), size_mm=(20.0, 20.0, 6.0))) == ()  # between the skins
    assert found(box(kind=Carried.GEAR, at=(300.0, -60.0))) == ()
    assert found(box(kind=Carried.MOTOR, at=(-20.0, 40.0))) == ()


def test_only_a_battery_without_a_size_is_told_of() -> None:
    assert one(battery(size_mm=None), code="aboard-size").level is Level.NOTE
    assert found(box(size_mm=None)) == ()


def test_an_opening_as_long_as_the_battery() -> None:
    """The hatch is 168 mm long; a battery of 205 mm goes in nowhere, even where it has room."""
    long = battery((338.0, 35.0), size_mm=(205.0, 30.0, 20.0))
    told = one(long, code="aboard-opening", inputs=twin(dowels=()))
    assert told.level is Level.NOTE
    assert 'the saddle of "wing", 204.1 mm' in told.text
    assert found(replace(long, size_mm=(190.0, 30.0, 20.0)), inputs=twin(dowels=())) == ()


def test_an_opening_that_does_not_lead_to_the_battery() -> None:
    """Closed in from all sides: a deck over it, formers before and behind."""
    shut = body(formers=(former(0, 60.0), former(1, 228.0), former(2, 456.0), former(3, 620.0)))
    told = one(battery((540.0, 45.0)), code="aboard-opening", inputs=twin(shut))
    assert "parts" in told.text
    assert "a hatch over it, 487.5 to 592.5 mm along" in told.mend


def test_a_low_wing_is_an_opening_from_below() -> None:
    low = twin(surfaces=(wing(at=(240.0, 8.0)), tail()), dowels=())
    assert found(battery((340.0, 60.0)), inputs=low) == ()
    assert one(battery((340.0, 30.0)), code="aboard-room", inputs=low).where == "aboard[0].at"


def test_no_body_no_finding() -> None:
    assert found(battery(), box(2, at=(132.0, 40.0), size_mm=None), inputs=Inputs()) == ()


def test_a_body_that_cannot_be_looked_at_is_left_out() -> None:
    """A single reading is refused elsewhere; here it does no harm."""
    broken = plain(((0.0, 0.0, 10.0), (100.0, 0.0, 60.0)))
    inputs = Inputs(bodies=(replace(broken, side=side((0.0, 0.0, 10.0))),))
    assert bays(inputs) == ()
    assert found(battery(), inputs=inputs) == ()


@settings(max_examples=40, deadline=None)
@given(
    st.tuples(st.floats(-1e4, 1e4), st.floats(-1e4, 1e4)),
    st.tuples(st.floats(0, 5e3), st.floats(0, 5e3), st.floats(0, 5e3)),
    st.floats(-1e3, 1e3),
    st.tuples(st.floats(-1e4, 1e4), st.floats(-1e4, 1e4)),
)
def test_whatever_is_given_gives_an_answer(
    at: tuple[float, float], size: tuple[float, float, float], out: float, way: tuple[float, float]
) -> None:
    """Huge, flat, far off: findings with known codes and whole words, and the same ones again."""
    things = battery(at, size_mm=size, out_mm=out, slides_mm=way, may_sit=(at, way))
    told = found(things)
    assert told == found(things)
    assert all(x.code in CODES and x.text and "nan" not in x.text + x.mend for x in told)


def test_has_room_agrees_with_the_findings() -> None:
    built = Model(inputs=TWIN, cuts=(), standing=(), stocks={})
    for x in range(60, 460, 10):
        thing = battery((float(x), 40.0))
        codes = {one.code for one in found(thing)} - {"aboard-opening"}
        assert has_room(thing, built, Setup(aboard=(thing,))) is (codes == set())


def test_a_model_with_holes_in_its_top() -> None:
    """Without deck and hatch things may stand up to the edge of the sides."""
    opened = Inputs(bodies=(plain(),), dowels=dowels((216.0, 42.0)))
    assert found(box(at=(300.0, 78.0)), inputs=opened) == ()
    told = one(box(at=(300.0, 82.0)), code="aboard-room", inputs=opened)
    assert "3 mm into" in told.text


@pytest.mark.parametrize(("along", "high"), [(140.0, 75.0), (330.0, 60.0), (640.0, 80.0)])
def test_a_body_as_high_as_told_holds_the_thing_where_it_is_told_to_lie(along: float, high: float) -> None:
    """Every reading of the upper edge raised, and the wing with it; the floor stays."""
    thing = box(name="logger", at=(along, 40.0), size_mm=(20.0, 20.0, high))
    few = twin(body(formers=()), dowels=())
    told = next(x for x in found(thing, inputs=few) if x.code == "aboard-room")
    match = re.match(
        r"a body ([\d.]+) mm higher there(, the wing with it)?, its floor where it is: inside height ([\d.]+) mm,"
        r" ([\d.]+) to ([\d.]+) mm up, with the middle of logger at ([\d.]+) mm up; or a thing \1 mm lower",
        told.mend,
    )
    assert match is not None, told.mend
    more, inside, low, top, middle = (float(match[i]) for i in (1, 3, 4, 5, 6))
    assert bool(match[2]) == (239.0 < along < 443.0)
    assert (inside, round(top - low, 1), round((low + top) / 2, 1)) == (high, high, round(middle, 1))
    more += 0.06  # what is told is rounded to a tenth
    readings = tuple((x.along_mm, x.bottom_mm, x.top_mm + more) for x in few.bodies[0].side)
    surfaces = tuple(replace(x, at=(x.at[0], x.at[1] + more)) for x in few.surfaces)
    grown = replace(few, bodies=(body(readings, formers=()),), surfaces=surfaces)
    codes = [x.code for x in found(replace(thing, at=(along, middle + 0.02)), inputs=grown)]
    assert "aboard-room" not in codes
    lower = replace(thing, size_mm=(20.0, 20.0, high - more), at=(along, low + (high - more) / 2 + 0.05))
    assert "aboard-room" not in [x.code for x in found(lower, inputs=few)]
