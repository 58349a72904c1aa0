"""The ways to place what may be moved: which are tried, what they give, how much wire they need."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import PlaceRow
from foamcut.flight.loading import places
from foamcut.flight.loading_leads import joined, leads_of
from foamcut.flight.loading_places import MOST_WAYS, way_count
from foamcut.flight.values import Aboard, Carried
from tests.airframe.motors_sample import in_nose, on_wing, twin
from tests.flight.loading_sample import all_of, battery, item, items_of, model, now_of, plank, setup, share

REST = (item(300, 310), item(200, 330, up=50))


def rows_of(*things: Aboard, **more: Any) -> tuple[PlaceRow, ...]:
    rest = more.pop("rest", REST)
    _, rows, _ = all_of((*items_of(*things), *rest), setup(*things, **more), plank())
    return tuple(rows)


def alongs(rows: tuple[PlaceRow, ...]) -> list[float]:
    """Where the first thing lies in each row."""
    return [round(row.moved[0][1], 3) for row in rows]


def test_drawn_both_ends_and_the_place_for_the_target() -> None:
    """Arithmetic: 180 g at 140, 300 g at 310, 200 g at 330 mm: 270.9; for 265 mm the battery goes to 117.8."""
    rows = rows_of(battery((140.0, 40.0), slides_mm=(110.0, 160.0), size_mm=None), target=share(0.125))
    at = (265 * 680 - 300 * 310 - 200 * 330) / 180
    assert alongs(rows) == [140.0, 110.0, round(at, 3), 160.0]
    assert [row.is_drawn for row in rows] == [True, False, False, False]
    best = next(row for row in rows if row.is_best)
    assert best.along_mm == pytest.approx(265.0, abs=1e-9)
    assert best.mean_chord_share == pytest.approx(0.125)


def test_every_way_is_a_sum_of_its_own() -> None:
    """Another way: each row's balance is summed anew with everything where the row says."""
    things = (
        battery(slides_mm=(118.0, 160.0), size_mm=None),
        Aboard(
            key="aboard[1]", name="gear", kind=Carried.OTHER, at=(300.0, 30.0), mass_g=25, mirrored=True,
            out_mm=10, may_sit=((350.0, 30.0), (420.0, 20.0)),
        ),
    )  # fmt: skip
    rows = rows_of(*things)
    assert len(rows) >= 9
    for row in rows:
        there = [replace(one, at=(x, z)) for one, (_, x, z) in zip(things, row.moved, strict=True)]
        found = now_of((*items_of(*there), *REST), setup(), None)
        assert row.along_mm == pytest.approx(found.at[0], abs=1e-9)
    assert len({row.moved for row in rows}) == len(rows)
    assert [row.along_mm for row in rows[1:]] == sorted(row.along_mm for row in rows[1:])


def test_nothing_to_move_gives_no_rows() -> None:
    assert rows_of(battery()) == ()


def test_one_that_slides_nowhere_is_only_as_drawn() -> None:
    rows = rows_of(battery(slides_mm=(132.0, 132.0)))
    assert alongs(rows) == [132.0]
    assert rows[0].is_drawn
    assert rows[0].is_best


def test_without_a_wing_nothing_is_best() -> None:
    things = (battery(slides_mm=(118.0, 160.0)),)
    _, rows, figures = all_of((*items_of(*things), *REST), setup(*things), None)
    assert not any(row.is_best for row in rows)
    assert {row.mean_chord_share for row in rows} == {None}
    assert figures.findings == ()


def test_the_place_for_the_target_is_not_best_where_a_former_stands() -> None:
    """A former at 60 mm bars all before 117.5: the end of what is free is the best that can be had."""
    rows = rows_of(battery((132.0, 40.0), slides_mm=(60.0, 150.0)), target=share(0.05))
    exact = next(row for row in rows if abs(row.along_mm - 250.0) < 1e-6)
    assert exact.moved[0][1] < 117.5 - 1
    assert not exact.is_best
    best = next(row for row in rows if row.is_best)
    assert best.moved[0][1] == pytest.approx(117.5, abs=0.02)


def test_so_many_ways_are_cut_short_and_it_is_said() -> None:
    spots = tuple((300.0 + 10 * i, 30.0) for i in range(6))
    things = tuple(
        Aboard(
            key=f"aboard[{i}]",
            name=f"box {i}",
            kind=Carried.OTHER,
            at=(200.0 + i, 30.0),
            mass_g=5,
            may_sit=spots,
        )
        for i in range(6)
    )
    _, rows, figures = all_of((*items_of(*things), *REST), setup(*things), plank())
    assert len(rows) == MOST_WAYS
    assert rows[0].is_drawn
    assert way_count(model(), setup(*things)) == 7**6
    assert next(one for one in figures.findings if one.code == "balance-places").value == str(7**6)
    singles = sum(
        sum(a != (one.name, *one.at) for a, one in zip(row.moved, things, strict=True)) == 1 for row in rows
    )
    assert singles == 36  # those that move one thing come before all others


@settings(max_examples=30, deadline=None)
@given(st.floats(1, 500), st.floats(80, 500), st.floats(0.05, 0.45))
def test_the_place_for_the_target_gives_it(mass: float, along: float, wish: float) -> None:
    """Wherever the way holds it, one row has the balance on the target within 0.01 mm."""
    thing = battery((along, 40.0), mass, slides_mm=(-1e5, 1e5), size_mm=None)
    rows = rows_of(thing, target=share(wish))
    best = next(row for row in rows if row.is_best)
    assert best.along_mm == pytest.approx(240 + 200 * wish, abs=0.01)


SLACK = ASSUMED["lead_slack"].value
CONTROL = Aboard(
    key="aboard[1]",
    name="control",
    kind=Carried.SPEED_CONTROL,
    at=(300.0, 30.0),
    mass_g=20,
    feeds="motor.nose",
)
RECEIVER = Aboard(key="aboard[2]", name="receiver", kind=Carried.RECEIVER, at=(340.0, 30.0), mass_g=10)
SERVO = Aboard(key="aboard[3]", name="servo", kind=Carried.SERVO, at=(600.0, 40.0), out_mm=9.0, mass_g=9)


def test_leads_from_battery_to_control_to_motor() -> None:
    """By hand: 132 to 300 along and 40 to 30 up, then to the firewall at -3 along and 42 up."""
    built = model(twin(in_nose()))
    one = setup(battery(feeds="motor.nose"), CONTROL)
    found = leads_of((), built, one, {})
    assert found is not None
    first, then = 168 + 10 + SLACK, 303 + 12 + SLACK
    assert found.length_mm == pytest.approx(first + then)
    assert found.wire_g == pytest.approx((2 * first + 3 * then) / 1000 * ASSUMED["wire"].value)
    moved = leads_of((), built, one, {"aboard[0]": (200.0, 40.0)})
    assert moved is not None
    assert moved.length_mm == pytest.approx(first - 68 + then)


def test_leads_to_both_motors_of_a_wing_without_a_control() -> None:
    """Along, across and up to each firewall; the two are mirror images."""
    built = model(twin(on_wing()))
    found = leads_of((), built, setup(battery(feeds="motor.wing")), {})
    assert found is not None
    assert found.length_mm / 2 - SLACK == pytest.approx(162 + (273.5 - 132) + (65 - 40), abs=8)


def test_a_control_on_each_side_leads_to_its_own_motor() -> None:
    """Each 162 mm out, as the motors are: nothing across, and both leads alike."""
    pair = replace(CONTROL, at=(290.0, 70.0), out_mm=162.0, mirrored=True, feeds="motor.wing")
    found = leads_of((), model(twin(on_wing())), setup(pair), {})
    assert found is not None
    assert found.length_mm / 2 - SLACK < 40
    assert found.wire_g == pytest.approx(3 * found.length_mm / 1000 * ASSUMED["wire"].value)


def test_a_servo_lead_runs_to_the_receiver() -> None:
    panel = item(9, 672, up=70, key="servo[0]", name="rudder servo")
    one = setup(RECEIVER, SERVO)
    found = leads_of((panel,), model(), one, {})
    assert found is not None
    assert found.length_mm == pytest.approx(260 + 9 + 10 + SLACK)  # the model has no [[servo]] of that key
    assert found.wire_g == pytest.approx((279 + SLACK) / 1000 * ASSUMED["servo_wire"].value)


def test_a_servo_in_a_panel_counts() -> None:
    from tests.airframe.body_sample import twin as with_servo

    panel = item(9, 672, up=70, key="servo[0]", name="rudder servo")
    found = leads_of((panel,), model(with_servo()), setup(RECEIVER), {})
    assert found is not None
    assert found.length_mm == pytest.approx(332 + 40 + SLACK)


def test_a_receiver_battery_leads_to_the_receiver() -> None:
    """Of a glider, which nothing drives; or by its name, whatever else there is."""
    found = leads_of((), model(), setup(battery(), RECEIVER), {})
    assert found is not None
    assert found.length_mm == pytest.approx(208 + 10 + SLACK)
    assert found.wire_g == pytest.approx(found.length_mm / 1000 * ASSUMED["servo_wire"].value)
    named = leads_of((), model(twin(in_nose())), setup(battery(feeds="receiver"), RECEIVER), {})
    assert named == found


def test_nobody_to_lead_to() -> None:
    assert leads_of((), model(), setup(battery(), SERVO), {}) is None
    assert leads_of((), model(), setup(), {}) is None


def test_pairs_are_joined_side_by_side() -> None:
    """Two batteries and two controls: each to its own side; two and one: both to the one."""
    left, right, middle = (0.0, -50.0, 0.0), (0.0, 50.0, 0.0), (100.0, 0.0, 0.0)
    assert joined([left, right], [(80.0, 50.0, 0.0), (80.0, -50.0, 0.0)]) == [80.0, 80.0]
    assert joined([left, right], [middle]) == [150.0, 150.0]
    assert joined([middle], [left, right]) == [150.0, 150.0]
    assert joined([], [left]) == []


def test_rows_know_their_wire() -> None:
    things = (battery(slides_mm=(120.0, 150.0), feeds="motor.nose"), CONTROL)
    items = (*items_of(*things), *REST)
    one, built = setup(*things), model()
    rows = places(items, now_of(items, one, plank()), built, one, plank())
    assert [round(row.lead_mm or 0) for row in rows] == [178 + SLACK, 190 + SLACK, 160 + SLACK]
