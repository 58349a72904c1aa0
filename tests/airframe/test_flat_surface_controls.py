"""Controls of flat board: hinge lines, bevels, gaps, what they clear, horns.  mm, degrees."""

import math
from dataclasses import replace
from typing import Any

import pytest
import shapely

from foamcut.airframe.assembly import fit_findings
from foamcut.airframe.values import Inputs, Role, Surface
from foamcut.findings import Finding
from foamcut.flat.build import build_part
from foamcut.flat.clipping import run_points
from foamcut.flat.drawn import FoldKind, Hand, Side
from foamcut.flat.part import Part
from tests.airframe.body_sample import body
from tests.airframe.flat_sample import (
    ELEVATOR,
    RUDDER,
    T,
    alone,
    control,
    cut,
    fin,
    flat_wing,
    made_of,
    model,
    rows,
    surface,
    tail,
    told,
    whole,
)

SQUARE = rows("wing", (0.0, 0.0, 200.0, 0.0), (400.0, 0.0, 200.0, 0.0))


def wing(*numbers: float, **more: Any) -> Surface:
    """A straight wing of 400 x 200 to each side, with an aileron."""
    given = control("wing", "aileron", *numbers, **more)
    return surface("wing", Role.WING, at=(240.0, 80.0), stations=SQUARE, controls=(given,))


def lines(part: Part) -> list[tuple[str, list[tuple[float, float]]]]:
    return [
        (layer, [point for run in runs for point in run_points(run)])
        for fold in part.folds
        for layer, runs in (("half", fold.half), ("bevel", fold.bevel))
    ]


@pytest.mark.parametrize(("throw", "bevel", "width"), [(20, 30, 2.9), (35, 45, 5.0), (50, 60, 8.7)])
def test_the_bevel_is_the_throw_and_a_margin(throw: float, bevel: float, width: float) -> None:
    """published by the trade, arithmetic t tan(bevel): 5 mm board at 30, 45, 60 degrees loses 2.9, 5, 8.7 mm."""
    (part,) = cut(wing(100, 300, 50, throw, horn=None)).values()
    right = part.folds[0]

    assert right.kind is FoldKind.HINGE
    assert right.side is Side.DOWN
    (half, bevelled) = [points for _, points in lines(part)[:2]]
    assert {round(x, 4) for x, _ in half} == {150.0}
    assert {round(x - 150, 1) for x, _ in bevelled} == {width}
    assert sorted(round(y, 3) for _, y in half) == [100, 300]
    assert made_of(wing(100, 300, 50, throw)).parts[0].folds[0].bevel_deg == bevel


def test_the_hinge_line_runs_the_chord_before_the_trailing_edge() -> None:
    """arithmetic: trailing edge 84 at the root and 75 at the tip, 108 out: 83.5 at 6 and 75.5 at 102, less 24."""
    (part,) = cut(tail(controls=(replace(ELEVATOR, horn=None),))).values()
    half = [points for layer, points in lines(part) if layer == "half"]

    assert [sorted(points) for points in half] == [
        [pytest.approx((51.5, way * 102)), pytest.approx((59.5, way * 6))] for way in (1, -1)
    ]


def test_end_gaps_part_the_control_from_what_is_fixed() -> None:
    """arithmetic: 2 mm beside it, from 1 mm before the hinge line to the trailing edge, on both sides."""
    with_aileron, without = (
        cut(one)["wing-panel"].outline.polygon
        for one in (wing(100, 300, 50, 20, horn=None), replace(wing(100, 300, 50, 20), controls=()))
    )
    gaps = without.difference(with_aileron)

    assert sorted(gap.bounds for gap in shapely.get_parts(gaps)) == [
        pytest.approx((149, low, 200, low + 2)) for low in (-302, -100, 98, 300)
    ]


def test_a_control_that_reaches_the_tip_has_no_gap_there() -> None:
    (part,) = cut(wing(100, 400, 50, 20, horn=None)).values()

    assert part.outline.bounds == (0, -400, 200, 400)
    assert part.outline.area == pytest.approx(2 * (400 * 200 - 2 * 51))


def test_a_strip_too_narrow_to_hold_is_cut_away_and_told_of() -> None:
    """arithmetic: 8 mm beyond the aileron is less than 2 mm and two boards of 5: 51 x 8 on each side go."""
    one = wing(100, 392, 50, 20, horn=None)
    (part,) = cut(one).values()

    assert part.outline.area == pytest.approx(2 * (400 * 200 - 2 * 51 - 8 * 51))
    assert "outer end of the aileron" in told(one)["surface.wing.aileron"]


def test_two_controls_that_meet_are_parted_by_an_end_gap() -> None:
    one = replace(
        wing(0, 0, 0, 0),
        controls=(control("wing", "aileron", 200, 400, 50, 20), control("wing", "elevon", 50, 200, 50, 20)),
    )
    (inner, outer) = [points for layer, points in lines(cut(one)["wing-panel"]) if layer == "half"][::2]

    assert max(y for _, y in inner) == pytest.approx(200)
    assert min(y for _, y in outer) == pytest.approx(202)


def test_elevons_from_the_root_are_parted_on_the_centre_line() -> None:
    """arithmetic: half an end gap of 2 mm on each side."""
    (part,) = cut(wing(0, 400, 50, 20, horn=None)).values()

    assert part.outline.area == pytest.approx(2 * (400 * 200 - 1 * 51))


def test_an_elevator_begins_beside_the_body_it_passes() -> None:
    """arithmetic: half of 62 mm and a gap of 2 mm; it is told of."""
    one = tail()
    part = cut(one, model(one))["tail-panel"]

    assert min(y for fold in part.folds for y in (abs(fold.start[1]), abs(fold.end[1]))) == pytest.approx(33)
    assert "33 mm out instead of 6 mm" in told(one, model(one))["surface.tail.elevator.from"]
    # the hinge line is still the one that was drawn from 6 to 102
    assert part.folds[0].end[0] == pytest.approx(59.5 - 8 * 27 / 96)


def test_an_elevator_behind_the_body_keeps_its_place() -> None:
    one = tail(at=(850.0, 54.0))

    assert "surface.tail.elevator.from" not in told(one, model(one))


def test_an_elevator_clears_what_the_rudder_swings() -> None:
    """arithmetic: half a board, 30 sin(25) and a gap: 2.5 + 12.68 + 2."""
    low = fin(at=(756.0, 50.0))
    found = told(tail(), alone(tail(), low))

    assert "17.2 mm out" in found["surface.tail.elevator.from"]


def test_a_rudder_clears_the_deck() -> None:
    """arithmetic: the deck at the hinge is 67.6 high; a rudder drawn from 64.5 begins 2 mm over it."""
    one = fin(at=(756.0, 60.0), controls=(replace(RUDDER, from_mm=4.5),))
    hinge = 756 + 96 - 4.5 * 6 / 96 - 30
    deck = 84 - 18 * (hinge - 384) / 480
    part = cut(one, model(one))["fin-panel"]

    assert part.folds[0].end[1] == pytest.approx(deck + 2 - 60, abs=0.01)


@pytest.mark.parametrize("turn", [20.0, -20.0])
@pytest.mark.parametrize("dihedral", [0.0, 35.0, -20.0])
def test_controls_swing_without_meeting_anything(turn: float, dihedral: float) -> None:
    """arithmetic in space: turned to their throw both ways no boards pass through each other."""
    one = tail(
        at=(768.0, 54.0 if dihedral == 0 else 90.0),
        stations=rows("tail", (0, 0, 84, dihedral), (108, 9, 66, 0)),
        controls=(replace(ELEVATOR, horn=None),),
    )
    fins = () if dihedral else (fin(controls=(replace(RUDDER, horn=None),)),)
    inputs = model(one, *fins)

    assert not [f for f in swung(inputs, turn) if f.code in ("fit-through", "panels-clash")]


def test_a_control_that_swings_too_far_is_seen() -> None:
    """The check above can fail: an elevator that begins at the body's middle meets its sides."""
    one = tail(controls=(replace(ELEVATOR, horn=None),))
    made, parts = whole(model(one))
    drawn = made_of(one, alone(one)).parts  # as if there were no body
    parts = [part for part in parts if part.name != "tail-panel"]
    turned = replace(drawn[0], folds=tuple(replace(fold, turn_deg=20.0) for fold in drawn[0].folds))

    found = fit_findings([*parts, *build_part(turned)[0]], made.shells, model(one))
    assert "fit-through" in {finding.code for finding in found}


def swung(inputs: Inputs, turn: float) -> tuple[Finding, ...]:
    made, _ = whole(inputs)
    parts = []
    for drawn in made.parts:
        folds = tuple(
            replace(fold, turn_deg=turn) if fold.kind is FoldKind.HINGE else fold for fold in drawn.folds
        )
        parts += build_part(replace(drawn, folds=folds))[0]
    return fit_findings(parts, made.shells, inputs)


def test_the_horn_stands_through_its_slot() -> None:
    """arithmetic: slot and tab are 20 long, the tab as deep as the board, the hole 15 over the hinge line."""
    named = cut(wing(100, 300, 60, 20))
    horn, panel = named["wing-aileron-horn-right"], named["wing-panel"]

    assert {slot.length_mm for slot in panel.slots} == {20.2}
    assert {round(slot.width_mm, 6) for slot in panel.slots} == {1.7}
    assert sorted(round(slot.at[1]) for slot in panel.slots) == [-200, 200]
    (tab,) = horn.tabs
    assert tab.length_mm == 20
    assert tab.outline.bounds[1] == pytest.approx(-T)
    (hole,) = horn.outline.polygon.interiors
    assert shapely.Polygon(hole).centroid.coords[0] == pytest.approx((0, 15))
    # the slot stands clear of the bevel
    assert min(slot.outline.bounds[0] for slot in panel.slots) - 140 > T * math.tan(math.radians(30))


def test_horns_fit_and_stand_under_the_wing() -> None:
    """arithmetic in space: the tab in the slot, the hole 15 mm under the hinge line."""
    one = wing(100, 300, 60, 20)
    inputs = alone(one)
    made, parts = whole(inputs)
    (horn,) = [part for part in parts if part.name == "wing-aileron-horn-right"]

    assert fit_findings(parts, made.shells, inputs) == ()
    assert horn.hand is Hand.RIGHT
    place = horn.place
    assert place is not None
    hole = [a + 15 * b for a, b in zip(place.at, place.y, strict=True)]
    assert hole == pytest.approx([240 + 140, 200 + 0.75, 80 - 15])


def test_a_rudder_has_one_horn_on_the_left() -> None:
    named = cut(fin(), model(fin()))

    assert set(named) == {"fin-panel", "fin-rudder-horn"}
    place = named["fin-rudder-horn"].place
    assert place is not None
    assert place.y == pytest.approx((0, -1, 0))


def test_without_a_stock_the_place_of_a_horn_is_marked() -> None:
    made = made_of(wing(100, 300, 60, 20, horn=None))

    assert [mark.text for mark in made.parts[0].marks].count("horn here") == 2
    assert len(made.parts) == 1


def test_a_control_too_narrow_for_a_horn_says_so() -> None:
    """arithmetic: bevel 2.9 and webs of 4 leave less than 8 of 16 mm."""
    one = wing(100, 300, 16, 20)

    assert len(made_of(one).parts) == 1
    assert "too narrow" in told(one)["surface.wing.aileron.horn"]


def test_an_unusual_share_of_the_chord_is_told_of() -> None:
    """common practice, no source: 15 to 50 % of the chord."""
    assert "12 %" in told(wing(100, 300, 24, 20))["surface.wing.aileron.chord"]
    assert "55 %" in told(wing(100, 300, 110, 20))["surface.wing.aileron.chord"]
    assert "surface.wing.aileron.chord" not in told(wing(100, 300, 50, 20))


def test_a_throw_beyond_the_largest_bevel_is_told_of() -> None:
    assert "60 degrees" in told(wing(100, 300, 50, 65))["surface.wing.aileron.throw"]
    assert "surface.wing.aileron.throw" not in told(wing(100, 300, 50, 50))


def test_controls_on_outer_panels_lie_on_their_board() -> None:
    """arithmetic: drawn from the inner end of their panel, 300 out."""
    one = flat_wing(controls=(control("wing", "aileron", 320.0, 450.0, 40.0, 20.0),))
    part = cut(one)["wing-panel-2-right"]

    assert part.folds[0].start[1] == pytest.approx(150)
    assert part.folds[0].end[1] == pytest.approx(20)
    assert not cut(one)["wing-panel"].folds
    inputs = model(one, bodies=(body(),))
    made, parts = whole(inputs)
    assert not [f for f in fit_findings(parts, made.shells, inputs) if f.code != "fit-saddle"]
