"""Advice on wiring: each mistake gives its finding, a sound model none."""

import re
from dataclasses import replace
from itertools import permutations

import pytest

from foamcut.airframe.values import Inputs, Motor, Servo
from foamcut.findings import Finding, Level
from foamcut.flight.values import Aboard, Carried, Model, Packs, Setup, Wiring
from foamcut.flight.wiring import wiring_findings
from foamcut.flight.wiring_alike import pairs
from foamcut.flight.wiring_leads import End, way_mm
from foamcut.flight.wiring_words import listed
from tests.airframe.motors_sample import in_nose, on_wing, propeller, twin
from tests.airframe.motors_sample import wing as wing_surface

SAME = "the maker's word comes first"


def model(*motors: Motor, **changed) -> Model:
    inputs = twin(*(motors or (on_wing(),)), **changed)
    return Model(inputs=inputs, cuts=(), standing=(), stocks={})


def bare(**changed) -> Model:
    """A model without a motor."""
    return Model(inputs=replace(twin(), motors=(), **changed), cuts=(), standing=(), stocks={})


def thing(number: int, kind: Carried, name: str = "", **more) -> Aboard:
    values = {"at": (100.0, 40.0), "key": f"aboard[{number}]", "name": name or kind.value, "kind": kind}
    return Aboard(**values | more)


def battery(number: int = 0, **more) -> Aboard:
    values = {"cells": 3, "capacity_mah": 2200.0, "size_mm": (105.0, 34.0, 24.0)}
    return thing(number, Carried.BATTERY, **values | more)


def control(number: int = 1, **more) -> Aboard:
    """One on each side, behind the motors."""
    values = {
        "at": (262.0, 66.0),
        "out_mm": 150.0,
        "mirrored": True,
        "current_limit_a": 20.0,
        "cut_off_v": 3.3,
    }
    return thing(number, Carried.SPEED_CONTROL, **values | {"feeds": "motor.wing"} | more)


def sides(number: int, kind: Carried, right: dict, left: dict, **both) -> tuple[Aboard, Aboard]:
    """One on the right and one on the left."""
    return (
        thing(number, kind, f"right {kind.value}", out_mm=150.0, **both, **right),
        thing(number + 1, kind, f"left {kind.value}", out_mm=-150.0, **both, **left),
    )


def setup(*things: Aboard, packs: Packs | None = Packs.TOGETHER, joined: bool | None = False) -> Setup:
    return Setup(aboard=things, wiring=Wiring(packs=packs, joined=joined))


def codes(built: Model, wired: Setup) -> list[str]:
    return [one.code for one in wiring_findings(built, wired)]


def only(built: Model, wired: Setup, code: str) -> Finding:
    (found,) = [one for one in wiring_findings(built, wired) if one.code == code]
    assert SAME in found.source
    assert found.mend
    return found


# ---- nothing to say


def test_nothing_is_said_of_a_glider_or_one_motor_that_carry_nothing():
    assert wiring_findings(bare(), Setup()) == ()
    assert wiring_findings(model(in_nose()), Setup()) == ()
    assert wiring_findings(Model(inputs=Inputs(), cuts=(), standing=(), stocks={}), Setup()) == ()


def test_a_sound_twin_is_left_in_peace():
    wired = setup(battery(at=(130.0, 40.0), lead_mm=290.0, feeds="speed_control"), control(lead_mm=90.0))
    assert codes(model(), wired) == []


# ---- motors, propellers, speed controls


def test_two_pairs_of_motors_that_are_not_alike():
    outer = on_wing(key="motor.outer", name="outer", out_mm=400.0, propeller=propeller(7, "motor.outer"))
    inner = on_wing(power_w=120.0)
    found = only(model(inner, replace(outer, power_w=90.0)), setup(), "motors-unlike")
    assert found.level is Level.NOTE
    assert found.where == "motor.outer"
    assert "power 120 W and 90 W" in found.text
    assert "propeller diameter 203.2 mm (8 in) and 177.8 mm (7 in)" in found.text
    assert found.mend == "the same in both: power 120 W and propeller diameter 203.2 mm (8 in)"


def test_pairs_that_are_alike_or_not_given_are_not_told_of():
    outer = on_wing(key="motor.outer", name="outer", out_mm=400.0)
    assert "motors-unlike" not in codes(model(on_wing(power_w=100.0), outer), setup())
    assert "motors-unlike" not in codes(model(on_wing(), in_nose()), setup())


def test_motors_aboard_that_are_heavier_on_one_side():
    unlike = sides(0, Carried.MOTOR, {"mass_g": 52.0}, {"mass_g": 60.0})
    found = only(bare(), setup(*unlike), "motors-unlike")
    assert found.level is Level.WARNING
    assert found.where == "aboard[1]"
    assert "mass 52 g and 60 g" in found.text
    alike = sides(0, Carried.MOTOR, {"mass_g": 52.0}, {"mass_g": 52.5})
    assert "motors-unlike" not in codes(bare(), setup(*alike))


def test_propellers_aboard_are_compared_too():
    right, left = sides(2, Carried.OTHER, {"mass_g": 10.0}, {"mass_g": 14.0})
    named = (replace(right, name="propeller right"), replace(left, name="propeller left"))
    assert "motors-unlike" in codes(model(), setup(*named))
    assert "motors-unlike" not in codes(model(), setup(right, left))


@pytest.mark.parametrize(
    ("turns", "told"), [("right", True), ("left", True), ("inwards", False), ("outwards", False), ("", False)]
)
def test_a_pair_that_turns_the_same_way(turns, told):
    motor = on_wing(propeller=replace(propeller(8), turns=turns))
    assert ("motors-turn" in codes(model(motor), setup())) is told


def test_speed_controls_with_other_cut_offs_and_limits():
    unlike = sides(
        0, Carried.SPEED_CONTROL, {"cut_off_v": 3.3, "current_limit_a": 20.0},
        {"cut_off_v": 3.0, "current_limit_a": 30.0}, feeds="motor.wing",
    )  # fmt: skip
    found = only(model(), setup(*unlike), "speed-controls-unlike")
    assert found.level is Level.WARNING
    assert "one motor stops before the other" in found.text
    assert found.mend.startswith("both alike: cut-off 3.3 V a cell and current limit 30 A")


def test_of_three_speed_controls_each_is_told_that_is_unlike_the_strongest():
    three = [
        control(i, name=name, cut_off_v=cut, current_limit_a=limit)
        for i, (name, cut, limit) in enumerate((("a", 3.0, 20.0), ("b", None, 30.0), ("c", 3.3, 30.0)))
    ]
    told = {(one.name, tuple(found)) for one, found in _told_in_every_order(three, "speed-controls-unlike")}
    words = 'the speed controls "c" and "a" are not alike: cut-off 3.3 V a cell and 3 V a cell and'
    assert [name for name, _ in told] == ["a"]
    assert all(text.startswith(words) for _, texts in told for text in texts)


def _told_in_every_order(things, code):
    """Things with what is told of them, of every order of the file the same."""
    several = []
    for order in permutations(things):
        found = wiring_findings(model(), setup(*order))
        several.append([(one, [f.text for f in found if f.code == code and f.where.startswith(one.key)])
                        for one in things])  # fmt: skip
    assert all(one == several[0] for one in several)
    return [(one, texts) for one, texts in several[0] if texts]


def test_speed_controls_of_other_motors_may_differ():
    wired = setup(control(), thing(2, Carried.SPEED_CONTROL, feeds="motor.nose", current_limit_a=40.0))
    assert "speed-controls-unlike" not in codes(model(on_wing(), in_nose()), wired)


# ---- supplies and packs


@pytest.mark.parametrize(("joined", "level"), [(True, Level.WARNING), (None, Level.NOTE)])
def test_receiver_supplies_that_meet(joined, level):
    found = only(model(), setup(control(), joined=joined), "supplies-joined")
    assert found.level is level
    assert found.where == "wiring.joined"
    assert found.value == "2"
    assert "red wire of one" in found.mend


def test_a_twin_without_speed_controls_named_has_two():
    assert only(model(), setup(joined=None), "supplies-joined").value == "2"


def test_of_three_supplies_two_are_parted():
    wired = setup(control(), thing(2, Carried.SPEED_CONTROL, feeds="motor.nose"), joined=True)
    found = only(model(on_wing(), in_nose()), wired, "supplies-joined")
    assert "red wire of 2 of the 3" in found.mend


def test_one_supply_meets_nothing():
    wired = setup(control(mirrored=False, out_mm=0.0, feeds="motor.nose"), joined=True)
    assert "supplies-joined" not in codes(model(in_nose()), wired)


def test_packs_apart_name_the_larger_as_the_one_that_keeps_the_receiver_alive():
    wired = setup(
        battery(0, name="right pack"), battery(1, name="left pack", capacity_mah=3000.0), packs=Packs.APART
    )
    found = only(model(), wired, "receiver-pack")
    assert found.level is Level.NOTE
    assert '"left pack" (3000 mAh, the larger)' in found.mend
    joined = replace(wired, wiring=replace(wired.wiring, joined=True))
    assert 'keep that of the speed control on "left pack"' in only(model(), joined, "supplies-joined").mend


def test_packs_apart_and_alike_name_none():
    found = only(model(), setup(battery(mirrored=True, out_mm=60.0), packs=Packs.APART), "receiver-pack")
    assert "the larger" not in found.mend
    assert "land before it is empty" in found.mend


def test_a_receiver_with_a_pack_of_its_own_depends_on_none():
    own = thing(2, Carried.BATTERY, "receiver pack", cells=2, capacity_mah=500.0)
    wired = setup(battery(0), battery(1, name="other"), own, packs=Packs.APART)
    assert codes(model(), wired) == []


@pytest.mark.parametrize(
    ("packs", "level"), [(Packs.TOGETHER, Level.STOP), (Packs.APART, Level.WARNING), (None, Level.WARNING)]
)
def test_packs_of_other_cells(packs, level):
    wired = setup(battery(0, name="first"), battery(1, name="second", cells=2), packs=packs)
    found = only(model(), wired, "packs-unlike")
    assert found.level is level
    assert found.where == "aboard[1].cells"
    assert found.value == "3 and 2"
    assert "3 cells" in found.mend


@pytest.mark.parametrize("packs", [Packs.TOGETHER, Packs.APART])
def test_packs_of_other_capacity(packs):
    wired = setup(battery(0, name="first", capacity_mah=3000.0), battery(1, name="second"), packs=packs)
    found = only(model(), wired, "packs-unlike")
    assert found.level is Level.WARNING
    assert found.where == "aboard[1].capacity"
    assert found.mend.startswith('800 mAh more in "second"')


@pytest.mark.parametrize(
    ("cells", "capacities", "odd"),
    [
        ((2, 3, 3), (2200.0, 2200.0, 2200.0), "a"),
        ((3, 2, 4), (2200.0, 2200.0, 2200.0), "ab"),  # of as many the one with more cells stays
        ((3, 3, 3), (2200.0, 1000.0, 2190.0), "b"),
        ((3, 3, 3), (1000.0, 1010.0, 2200.0), "ab"),
        ((3, None, 2), (1000.0, 2200.0, 9000.0), "ac"),
        ((None, None, None), (None, 2200.0, 1000.0), "c"),
    ],
)
def test_of_three_packs_the_odd_ones_are_told_in_any_order(cells, capacities, odd):
    three = [
        battery(i, name=name, cells=count, capacity_mah=holds)
        for i, (name, count, holds) in enumerate(zip("abc", cells, capacities, strict=True))
    ]
    told = _told_in_every_order(three, "packs-unlike")
    assert "".join(one.name for one, _ in told) == odd
    assert all(len(texts) == 1 for _, texts in told)


def test_packs_of_separate_motors_are_not_side_by_side():
    """One for the pair on the wing, one for the motor in the nose."""
    wired = setup(battery(0, feeds="motor.wing"), battery(1, name="second", cells=2, feeds="motor.nose"))
    assert "packs-unlike" not in codes(model(on_wing(), in_nose()), wired)


def test_packs_that_do_not_say_what_they_hold_are_not_judged():
    wired = setup(battery(0, cells=None, capacity_mah=None), battery(1, name="second"))
    assert "packs-unlike" not in codes(model(), wired)


# ---- leads


def test_the_way_of_a_lead_goes_between_facing_ends():
    """Along 300 mm less both halves, then across and up.  Check: arithmetic."""
    assert way_mm(End((0.0, 0.0, 0.0), 50.0), End((300.0, 40.0, -10.0), 20.0)) == 230.0 + 40.0 + 10.0
    assert way_mm(End((0.0, 0.0, 0.0), 50.0), End((30.0, 40.0, 0.0), 20.0)) == 40.0


def test_a_battery_lead_reaches_both_speed_controls_or_is_told_by_how_much():
    """From the battery's rear end at 152.5 mm to 262, 150 out, 26 up: 285.5 mm, and 30 mm to spare."""
    short = setup(battery(lead_mm=250.0), control())
    found = only(model(), short, "lead-short")
    assert found.level is Level.WARNING
    assert found.where == "aboard[0].lead"
    assert "285.5 mm to a speed control" in found.text
    longer = float(re.match(r"(\d+) mm longer", found.mend).group(1))
    assert longer == 70.0
    assert "lead-short" not in codes(model(), setup(battery(lead_mm=250.0 + longer), control()))


def test_one_battery_off_the_middle_reaches_the_speed_control_on_the_other_side():
    """109.5 mm along, 26 mm up, and 210 mm across to the farther one, 90 mm to the nearer one."""
    found = only(model(), setup(battery(lead_mm=300.0, out_mm=60.0), control()), "lead-short")
    assert "345.5 mm to a speed control" in found.text


def test_a_lead_that_just_reaches_is_a_note():
    found = only(model(), setup(battery(lead_mm=286.0), control()), "lead-short")
    assert found.level is Level.NOTE


def test_with_a_battery_on_each_side_each_reaches_its_own():
    """No lead crosses to the other side: 109.5 mm along and 26 mm up."""
    both = battery(mirrored=True, out_mm=150.0, lead_mm=160.0)
    assert "lead-short" not in codes(model(), setup(both, control()))
    assert "lead-short" in codes(model(), setup(replace(both, lead_mm=120.0), control()))


def test_a_speed_control_in_the_body_is_too_far_from_a_motor_out_on_the_wing():
    wired = setup(control(out_mm=10.0, lead_mm=100.0))
    found = only(model(), wired, "lead-short")
    assert found.where == "aboard[1].lead"
    assert "its motor" in found.text
    longer = float(re.match(r"(\d+) mm longer", found.mend).group(1))
    # the motor's axis lies 162 mm out
    assert longer >= 162.0 - 10.0 + 30.0 - 100.0
    assert "lead-short" not in codes(model(), setup(control(out_mm=10.0, lead_mm=100.0 + longer)))


def test_servos_in_the_wing_reach_the_receiver():
    servo = Servo(
        key="servo[0]",
        drives="aileron",
        on=("wing", ""),
        at=(330.0, 360.0),
        size_mm=(23.0, 12.0),
        lead_mm=250.0,
    )
    receiver = thing(0, Carried.RECEIVER, at=(300.0, 40.0))
    found = only(model(servos=(servo,)), setup(receiver), "lead-short")
    assert found.where == "servo[0].lead"
    assert "servo for the aileron" in found.text
    assert "lead-short" not in codes(model(servos=(replace(servo, lead_mm=450.0),)), setup(receiver))
    # without a receiver there is nothing to reach
    assert "lead-short" not in codes(model(servos=(servo,)), setup())


def test_long_battery_leads():
    found = only(model(), setup(battery(lead_mm=350.0), control()), "lead-long")
    assert found.level is Level.NOTE
    assert found.mend.startswith("50 mm shorter")
    assert "lead-long" not in codes(model(), setup(battery(lead_mm=300.0), control(out_mm=50.0)))


def test_a_battery_lead_that_is_not_given_is_long_where_it_has_to_be():
    found = only(model(), setup(battery(), control(out_mm=250.0)), "lead-long")
    assert "has to be about" in found.text


def test_leads_of_both_sides_that_differ():
    unlike = sides(0, Carried.SPEED_CONTROL, {"lead_mm": 200.0}, {"lead_mm": 120.0}, feeds="motor.wing")
    found = only(model(), setup(*unlike), "leads-unlike")
    assert found.where == "aboard[1].lead"
    assert found.value == "80 mm"
    assert found.mend.startswith("80 mm longer")


# ---- plugs under the wing


def test_a_battery_under_the_wing_is_not_reached():
    """The wing lies on the body from 240 to 444 mm along; there is no hatch."""
    found = only(model(), setup(battery(at=(340.0, 30.0))), "connector-hidden")
    assert found.level is Level.WARNING
    assert found.where == "aboard[0].at"
    by, way = re.search(r"or (\d+) mm (forward|back)", found.mend).groups()
    moved = 340.0 + float(by) * (-1 if way == "forward" else 1)
    assert "connector-hidden" not in codes(model(), setup(battery(at=(moved, 30.0))))


def test_a_hatch_over_it_or_its_end_in_the_open_is_enough():
    open_top = model()
    body = replace(open_top.inputs.bodies[0], hatch_mm=(60.0, 300.0))
    hatched = model(bodies=(body,))
    assert "connector-hidden" not in codes(hatched, setup(battery(at=(290.0, 30.0))))
    assert "connector-hidden" not in codes(open_top, setup(battery(at=(260.0, 30.0))))
    decked = model(bodies=(replace(body, hatch_mm=None, deck_mm=(0.0, 864.0)),))
    found = only(decked, setup(battery(at=(340.0, 30.0))), "connector-hidden")
    assert found.mend.endswith("or a hatch that reaches over it")


def test_a_lead_that_reaches_a_speed_control_in_the_open_brings_the_plug_out():
    """The battery's front end lies at 287.5 mm, the speed control at 200 mm, 10 mm up."""
    held = control(at=(200.0, 40.0), out_mm=0.0, mirrored=False, feeds="motor.nose")
    under = battery(at=(340.0, 30.0), feeds="speed_control", lead_mm=100.0)
    nose = model(in_nose())
    assert "connector-hidden" not in codes(nose, setup(under, held))
    assert "connector-hidden" in codes(nose, setup(replace(under, lead_mm=97.0), held))
    assert "connector-hidden" in codes(nose, setup(replace(under, lead_mm=None), held))
    assert "connector-hidden" in codes(nose, setup(under, replace(held, at=(270.0, 40.0))))


def test_what_is_plugged_in_once_is_not_told_of():
    receiver = thing(0, Carried.RECEIVER, at=(340.0, 30.0))
    servo = Servo(key="servo[0]", drives="aileron", on=("wing", ""), at=(330.0, 360.0), size_mm=(23.0, 12.0))
    assert "connector-hidden" not in codes(model(), setup(receiver))
    found = only(model(servos=(servo,)), setup(receiver), "connector-hidden")
    assert found.level is Level.NOTE
    assert found.mend.startswith("leads out of the wing 100 mm longer")


def test_what_lies_over_a_low_wing_or_out_on_it_is_reached():
    low = model(surfaces=(wing_surface(at=(240.0, 5.0)),))
    assert "connector-hidden" not in codes(low, setup(battery(at=(340.0, 50.0))))
    assert "connector-hidden" not in codes(
        model(), setup(battery(at=(340.0, 30.0), mirrored=True, out_mm=90.0))
    )


def test_in_a_glider_nothing_starts():
    found = only(bare(), setup(battery(at=(340.0, 30.0))), "connector-hidden")
    assert found.level is Level.NOTE


# ---- nasty


def test_names_that_nothing_has_do_no_harm():
    wired = setup(
        battery(feeds="nothing", lead_mm=10.0), control(feeds="motor.none", lead_mm=10.0),
        thing(2, Carried.SERVO, lead_mm=1.0), thing(3, Carried.RECEIVER, at=(-1e6, 1e6)),
    )  # fmt: skip
    found = wiring_findings(model(), wired)
    assert {one.code for one in found} <= {"lead-short", "lead-long", "feeds-nothing"}
    assert wiring_findings(Model(inputs=Inputs(), cuts=(), standing=(), stocks={}), wired) == wiring_findings(
        Model(inputs=Inputs(), cuts=(), standing=(), stocks={}), wired
    )


def test_pairs_are_found_by_their_places():
    first = sides(0, Carried.SPEED_CONTROL, {"at": (100.0, 0.0)}, {"at": (300.0, 0.0)})
    second = sides(2, Carried.SPEED_CONTROL, {"at": (300.0, 0.0)}, {"at": (100.0, 0.0)})
    found = pairs((*first, *second))
    assert [(a.key, b.key) for a, b in found] == [("aboard[0]", "aboard[3]"), ("aboard[2]", "aboard[1]")]
    assert pairs((control(),)) == []


def test_pairs_do_not_hang_on_the_order_of_the_file():
    """One on the right and two on the left: the nearer one is its fellow."""
    right = thing(0, Carried.OTHER, "right", out_mm=100.0)
    near, far = (
        thing(i, Carried.OTHER, name, out_mm=out) for i, name, out in ((1, "z", -120.0), (2, "a", -190.0))
    )
    for order in permutations((right, near, far)):
        assert pairs(order) == [(right, near)]


def test_words_are_listed():
    assert (listed(["a"]), listed(["a", "b"]), listed(["a", "b", "c"])) == ("a", "a and b", "a, b and c")
