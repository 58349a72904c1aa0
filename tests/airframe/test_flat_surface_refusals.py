"""What flat surfaces refuse, and random ones: parts that can be cut and fit, or refusals; never an error."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamcut.airframe.assembly import fit_findings
from foamcut.airframe.flat_surface import flat_surface_parts, root_tabs
from foamcut.airframe.values import Build, Inputs, Joiner, Role, Servo, Spar, Surface
from foamcut.flat.build import build_part, check_fits
from foamcut.flat.drawn import FoldKind
from tests.airframe.body_sample import BOARD, PLY, body
from tests.airframe.flat_sample import (
    ELEVATOR,
    RUDDER,
    alone,
    control,
    fin,
    flat_wing,
    made_of,
    model,
    refused,
    rows,
    surface,
    tail,
)


def elevator(**more: Any) -> Surface:
    return tail(controls=(replace(ELEVATOR, **more),))


@pytest.mark.parametrize(
    ("one", "key", "words"),
    [
        (tail(stations=rows("tail", (0, 0, 84, 0))), "surface.tail.stations", "two stations or more"),
        (
            tail(stations=rows("tail", (0, 0, 84, 0), (108, 0, 66, 0), (108, 0, 60, 0))),
            "surface.tail.stations[2]",
            "lies 108 mm out and the one before it 108 mm",
        ),
        (
            tail(spar=Spar(key="surface.tail.spar", material=BOARD, layers=1, width_mm=20.0, behind_mm=20.0)),
            "surface.tail.spar",
            "no room for a spar",
        ),
        (
            tail(joiner=Joiner(key="surface.tail.joiner", material=PLY, count=1, length_mm=100.0)),
            "surface.tail.joiner",
            "no room for a joiner",
        ),
        (
            tail(stations=rows("tail", (0, 0, 84, 80), (108, 0, 66, 0)), controls=()),
            "surface.tail.stations[0]",
            "80 degrees is more than 60",
        ),
        (fin(angle_deg=2.0), "surface.fin.angle", "leave its angle out"),
        (
            fin(stations=rows("fin", (0, 0, 96, 10), (96, 30, 60, 0))),
            "surface.fin.stations[0]",
            "a fin stands upright",
        ),
        (elevator(to_mm=109.0), "surface.tail.elevator.to", "from 6 to 109 mm out"),
        (elevator(from_mm=102.0), "surface.tail.elevator.from", "from 102 to 102 mm out"),
        (elevator(chord_mm=60.0), "surface.tail.elevator.chord", "give it a chord of"),
        (elevator(chord_mm=8.0), "surface.tail.elevator.chord", "10 mm are the least"),
        (elevator(chord_mm=12.0, throw_deg=50.0), "surface.tail.elevator.chord", "its bevel takes 8.7 mm"),
        (
            flat_wing(controls=(control("wing", "aileron", 200.0, 400.0, 40.0, 20.0),)),
            "surface.wing.aileron.to",
            "over the joint of two panels 300 mm out",
        ),
        (
            tail(controls=(ELEVATOR, control("tail", "elevon", 100.0, 108.0, 20.0, 20.0))),
            "surface.tail.elevon.from",
            "begins 100 mm out and the elevator before it ends 102 mm out",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_cut_is_refused(one: Surface, key: str, words: str) -> None:
    """Each refusal names its key and says what to do."""
    assert words in refused(one)[key]


def test_all_refusals_come_at_once() -> None:
    one = tail(
        controls=(replace(ELEVATOR, to_mm=60.0, chord_mm=70.0), control("tail", "elevon", 50, 120, 20, 20))
    )

    assert set(refused(one)) == {
        "surface.tail.elevator.chord", "surface.tail.elevon.to", "surface.tail.elevon.from",
    }  # fmt: skip


def test_the_chord_that_is_advised_is_taken() -> None:
    """arithmetic: what the refusal says is the most; a millimetre more is refused."""
    text = refused(elevator(chord_mm=70.0))["surface.tail.elevator.chord"]
    most = float(text.rsplit("chord of ", 1)[1].split(" mm")[0])

    assert refused(elevator(chord_mm=most - 0.06)) == {}
    assert refused(elevator(chord_mm=most + 1))


def test_an_elevator_within_the_body_is_refused() -> None:
    """arithmetic: 33 mm out to 50 mm are less than 20."""
    one = elevator(to_mm=50.0)

    assert "begin 33 mm out" in refused(one, model(one))["surface.tail.elevator.to"]


@pytest.mark.parametrize(
    ("at", "on", "key"),
    [
        ((330.0, 290.0), ("wing", ""), "servo[0].at"),
        ((435.0, 200.0), ("wing", ""), "servo[0].at"),
        ((330.0, 200.0), ("wing", "side"), "servo[0].on"),
    ],
)
def test_servos_without_room_are_refused(at: Any, on: Any, key: str) -> None:
    one = flat_wing()
    servo = Servo(key="servo[0]", drives="aileron", on=on, at=at, size_mm=(23.0, 12.0))

    assert key in refused(one, alone(one, servos=(servo,)))


def test_a_servo_on_a_control_is_refused() -> None:
    """It would move with it: 410 along is 170 behind the root's leading edge, the hinge line at about 155."""
    one = flat_wing(controls=(control("wing", "aileron", 100.0, 280.0, 40.0, 20.0),))
    servo = Servo(key="servo[0]", drives="aileron", on=("wing", ""), at=(415.0, 200.0), size_mm=(12.0, 10.0))

    assert "servo[0].at" in refused(one, alone(one, servos=(servo,)))


@pytest.mark.parametrize("change", [{"build": Build.FOLDED}, {"stations": rows("fin", (0, 0, 96, 0))}])
def test_no_tabs_where_there_is_no_fin(change: dict[str, Any]) -> None:
    one = fin(**change)

    assert root_tabs(one, model(one)) == ()
    assert root_tabs(tail(), model(tail())) == ()


@st.composite
def airframes(draw: st.DrawFn) -> Inputs:
    """A flat wing or tail of any kind, with a fin, on the twin's fuselage or alone."""
    number = lambda low, high: round(draw(st.floats(low, high)), 2)  # noqa: E731
    role = draw(st.sampled_from([Role.WING, Role.STABILISER]))
    wing = role is Role.WING
    chord = number(60, 250) if wing else number(50, 100)
    several, out, back = [], 0.0, 0.0
    for _ in range(draw(st.integers(2, 4))):
        rise = draw(st.sampled_from([0.0, 0.0, 4.0, -3.0, 35.0]))
        several.append((out, back, chord, rise))
        step = number(40, 300)
        out, back, chord = (
            round(out + step, 2),
            round(back + step * number(-0.2, 0.7), 2),
            round(chord * number(0.5, 1), 2),
        )
    board = replace(BOARD, thickness_mm=draw(st.sampled_from([3.0, 5.0, 6.0])))
    one = surface(
        "wing" if wing else "tail",
        role,
        material=board,
        at=(240.0, 84.0) if wing else (number(700, 850), number(40, 90)),
        angle_deg=draw(st.sampled_from([0.0, 2.0])),
        stations=rows("wing" if wing else "tail", *several),
    )
    name, word = one.name, "aileron" if wing else "elevator"
    last = several[-1][0]
    controls = []
    if draw(st.booleans()):
        ends = sorted((number(0, last), number(0, last)))
        controls.append(
            control(name, word, *ends, number(10, 40), number(5, 60), horn=draw(st.sampled_from([None, PLY])))
        )
    rudder = replace(RUDDER, from_mm=number(0, 40), chord_mm=number(15, 40), throw_deg=number(5, 40))
    stands = fin(
        at=(number(650, 780), number(55, 80)),
        material=board,
        controls=draw(st.sampled_from([(), (rudder,)])),
    )
    bodies = draw(st.sampled_from([(), (body(),)]))
    return Inputs(surfaces=(replace(one, controls=tuple(controls)), stands), bodies=bodies)


@settings(max_examples=60, deadline=None)
@given(airframes())
def test_random_surfaces_are_cut_or_refused(inputs: Inputs) -> None:
    """arithmetic: what is cut hangs together, tabs have slots of their length, boards are no larger than drawn."""
    for one in inputs.surfaces:
        made = flat_surface_parts(one, inputs)
        if made.refusals:
            continue
        parts = [part for drawn in made.parts for part in build_part(drawn)[0]]
        boards = [part for part in parts if part.name.startswith(f"{one.name}-panel")]
        whole = sum(
            (b.out_mm - a.out_mm) * (a.chord_mm + b.chord_mm) / 2
            for a, b in zip(one.stations, one.stations[1:], strict=False)
        )
        if one.role is not Role.FIN and not one.controls:
            bevels = sum(bevel.angle_deg != 0 for part in boards for bevel in part.bevels)
            more = one.material.thickness_mm * one.stations[0].chord_mm * bevels
            slots = sum(slot.outline.area for part in boards for slot in part.slots)
            assert 2 * whole - slots - 1 <= sum(part.outline.area for part in boards) <= 2 * whole + more + 1
        for part in boards:
            for fold in part.folds:
                assert fold.kind is FoldKind.HINGE
                assert len(fold.half) == 1


@settings(max_examples=25, deadline=None)
@given(airframes())
def test_random_surfaces_fit(inputs: Inputs) -> None:
    """arithmetic in space: alone, no two boards pass through each other, horns stand in their slots."""
    for one in inputs.surfaces:
        by_itself = alone(one)
        made = made_of(one, by_itself)
        if made.refusals:
            continue
        parts = [part for drawn in made.parts for part in build_part(drawn)[0]]
        found = fit_findings(parts, made.shells, by_itself)
        assert [finding for finding in found if finding.code != "fit-halves"] == []
        assert check_fits(parts) == ()
