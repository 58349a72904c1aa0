"""Motors, propellers, servos, dowels and what is carried: masses and places."""

import math
from dataclasses import replace

import pytest

from foamcut.airframe.motors import discs
from foamcut.airframe.values import (
    Body,
    Dowel,
    Former,
    Inputs,
    Material,
    Role,
    Servo,
    SideReading,
)
from foamcut.findings import Level
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Item, Sort
from foamcut.flight.values import Aboard, Carried, Model, Setup
from foamcut.flight.weights_aboard import aboard_things, twice_findings
from foamcut.flight.weights_bought import dowel_items, motor_things, servo_items
from foamcut.flight.weights_missing import Missing, missing_findings
from tests.flight.weights_sample import design_model

BOARD = Material(name="board", thickness_mm=5.0, boards_mm=(), fit_mm=0.0)
HULL = Body(
    key="body.hull",
    name="hull",
    material=BOARD,
    width_mm=62.0,
    side=(
        SideReading(key="a", along_mm=0.0, bottom_mm=10.0, top_mm=70.0),
        SideReading(key="b", along_mm=600.0, bottom_mm=10.0, top_mm=70.0),
    ),
    formers=(Former(key="f1", at_mm=100.0), Former(key="f2", at_mm=300.0)),
    deck_mm=(300.0, 600.0),
)
TWIN, NOSE = "cordgrass-2.toml", "sea-blite-3.toml"


def named(items, name) -> Item:
    return next(item for item in items if item.name == name)


# ---- motors and propellers


def test_motors_of_a_pair_lie_between_firewall_and_disc_on_both_sides():
    inputs = design_model(TWIN).inputs
    items, missing = motor_things(inputs, motors_aboard=False)
    assert not missing
    disc = discs(inputs)[0].middle
    right, left = named(items, "motor-wing-right"), named(items, "motor-wing-left")
    # the firewall's front face is half way farther on the other side of the motor's middle
    firewall = min(one.box[0][0] for one in design_model(TWIN).standing if "wing-firewall" in one.part.name)
    assert disc[0] < right.at[0] < firewall + 2.0
    assert right.at[0] == pytest.approx((disc[0] + firewall) / 2, abs=1.0)
    assert left.at == pytest.approx((right.at[0], -right.at[1], right.at[2]))
    assert right.mass_g == right.low_g == right.high_g == inputs.motors[0].mass_g
    assert right.sort is Sort.MOTOR


def test_a_propeller_weighs_as_its_diameter_squared_and_turns_in_its_disc():
    """Arithmetic: 8 in is 203.2 mm; a bar of length D spreads D^2 / 12 along itself."""
    inputs = design_model(TWIN).inputs
    bare = tuple(replace(one, propeller=replace(one.propeller, mass_g=None)) for one in inputs.motors)
    one = named(motor_things(replace(inputs, motors=bare), motors_aboard=False)[0], "propeller-wing-left")
    row = ASSUMED["propeller"]
    assert one.mass_g == pytest.approx(row.value * 1.016**2)
    assert (one.low_g, one.high_g) == pytest.approx((row.low * 1.016**2, row.high * 1.016**2))
    assert one.assumed == ("propeller",)
    assert one.at == pytest.approx(discs(inputs)[1].middle)
    assert sum(one.spread_mm2) == pytest.approx(203.2**2 / 12)


def test_a_nose_motor_is_half_way_from_its_firewall_to_its_disc():
    """Arithmetic: the firewall's front face is the disc's middle and `ahead` behind it."""
    inputs = design_model(NOSE).inputs
    (motor,) = inputs.motors
    items, _ = motor_things(inputs, motors_aboard=False)
    (disc,) = discs(inputs)
    where, tip = named(items, "motor-pod").at, disc.middle
    assert math.dist(where, tip) == pytest.approx(motor.ahead_mm / 2)
    assert named(items, "propeller-pod").at == pytest.approx(tip)


def test_given_masses_of_propellers_are_taken():
    inputs = design_model(NOSE).inputs
    motor = inputs.motors[0]
    given = replace(motor, propeller=replace(motor.propeller, mass_g=11.0))
    items, _ = motor_things(replace(inputs, motors=(given,)), motors_aboard=False)
    one = named(items, "propeller-pod")
    assert (one.mass_g, one.low_g, one.high_g, one.assumed) == (11.0, 11.0, 11.0, ())


def test_a_motor_without_a_mass_is_left_out_and_named_unless_one_is_carried():
    inputs = design_model(TWIN).inputs
    bare = replace(inputs, motors=tuple(replace(one, mass_g=None) for one in inputs.motors))
    items, missing = motor_things(bare, motors_aboard=False)
    assert [item.name for item in items] == ["propeller-wing-right", "propeller-wing-left"]
    assert missing[0].key == "motor.wing.mass" and len(missing[0].at) == 2
    assert motor_things(bare, motors_aboard=True)[1] == ()


def test_a_motor_without_a_seat_counts_for_the_weight():
    inputs = design_model(TWIN).inputs
    items, _ = motor_things(replace(inputs, surfaces=()), motors_aboard=False)
    assert len(items) == 4 and {item.at for item in items} == {None}


# ---- servos


def servo_at(on, at, **more) -> Servo:
    values = {"key": "servo[0]", "drives": "rudder", "size_mm": (23.0, 12.0), "mass_g": 9.0}
    return Servo(on=on, at=at, **(values | more))


def servos_of(*several, bodies=(HULL,), surfaces=(), cuts=()):
    inputs = Inputs(servos=several, bodies=bodies, surfaces=surfaces)
    return servo_items(Model(inputs=inputs, cuts=cuts, standing=(), stocks={}))


@pytest.mark.parametrize(
    ("word", "at", "expected"),
    [
        ("deck", (400.0, 8.0), (400, 8, 67.5)),
        ("hatch", (400.0, 8.0), (400, 8, 67.5)),
        ("floor", (400.0, -8.0), (400, -8, 12.5)),
        ("side", (400.0, 30.0), (400, 0, 30)),
        ("former-2", (0.0, 30.0), (302.5, 0, 30)),
        ("former-9", (123.0, 30.0), (123, 0, 30)),
    ],
)
def test_a_servo_in_a_body_lies_in_the_middle_of_its_board(word, at, expected):
    """Arithmetic: board of 5 between z 10 and 15 below, 65 and 70 above; the former from 300 to 305."""
    (item,) = servos_of(servo_at(("hull", word), at))
    assert item.at == pytest.approx(expected)
    assert item.spread_mm2 == pytest.approx((23**2 / 12, 12, 0))


def test_a_wing_in_halves_takes_a_servo_in_each():
    model = design_model(TWIN)
    items = [item for item in servo_items(model) if item.name.startswith("servo-aileron")]
    assert [item.name for item in items] == ["servo-aileron-right", "servo-aileron-left"]
    assert items[0].at == pytest.approx((items[1].at[0], -items[1].at[1], items[1].at[2]))
    assert items[0].at[0] == pytest.approx(330) and sum(item.mass_g for item in items) == 18.0
    # 60 by 6 of the sketch out from the middle
    assert items[0].at[1] == pytest.approx(360, abs=0.5)


def test_two_entries_for_both_sides_are_two_servos():
    model = design_model(TWIN)
    one = next(servo for servo in model.inputs.servos if servo.drives == "aileron")
    other = replace(one, key="servo[9]", at=(one.at[0], -one.at[1]))
    inputs = replace(model.inputs, servos=(one, other))
    items = servo_items(replace(model, inputs=inputs))
    assert [round(item.at[1]) for item in items] == [360, -360]


def test_a_servo_in_a_fin_lies_on_the_centre_plane():
    model = design_model(TWIN)
    fin = next(one for one in model.inputs.surfaces if one.role is Role.FIN)
    (item,) = servos_of(servo_at((fin.name, ""), (800.0, 100.0)), surfaces=(fin,), cuts=model.cuts)
    assert item.at == (800.0, 0.0, 100.0)


def test_a_servo_without_a_mass_is_usual_and_one_without_a_panel_has_no_place():
    (item,) = servos_of(servo_at(("nowhere", ""), (1.0, 2.0), mass_g=None))
    row = ASSUMED["servo"]
    assert (item.mass_g, item.low_g, item.high_g) == (row.value, row.low, row.high)
    assert item.at is None and item.assumed == ("servo",)


# ---- dowels


def test_a_dowel_goes_right_through_and_weighs_as_hardwood():
    """Arithmetic: pi / 4 x 6^2 x (62 + 24) mm3 x 650 kg/m3 = 1.5805 g; two of them."""
    dowel = Dowel(
        key="dowel[0]", on="hull", at=((216.0, 72.0), (474.0, 70.0)), diameter_mm=6.0, proud_mm=12.0
    )
    items = dowel_items(Inputs(bodies=(HULL,), dowels=(dowel,)))
    assert [item.at for item in items] == [(216.0, 0.0, 72.0), (474.0, 0.0, 70.0)]
    assert items[0].mass_g == pytest.approx(1.5805, abs=1e-4)
    assert items[0].spread_mm2 == pytest.approx((2.25, 86**2 / 12, 2.25))
    assert dowel_items(Inputs(dowels=(dowel,))) == ()


# ---- aboard


def thing(kind=Carried.OTHER, **more) -> Aboard:
    values = {"key": "aboard[0]", "name": "thing", "at": (120.0, 30.0)}
    return Aboard(kind=kind, **(values | more))


def carried(*several):
    return aboard_things(Setup(aboard=several))


def test_a_thing_lies_where_it_is_drawn_and_spreads_as_its_box():
    """Arithmetic: an even box of 105 x 34 x 24."""
    one = thing(Carried.BATTERY, mass_g=182.0, size_mm=(105.0, 34.0, 24.0), out_mm=-7.0)
    (item,), missing = carried(one)
    assert item.at == (120.0, -7.0, 30.0) and item.sort is Sort.BATTERY and not missing
    assert item.spread_mm2 == pytest.approx((105**2 / 12, 34**2 / 12, 24**2 / 12))


def test_a_mirrored_thing_is_two():
    items, _ = carried(thing(mass_g=30.0, out_mm=150.0, mirrored=True))
    assert [(item.name, item.at, item.mass_g) for item in items] == [
        ("thing-right", (120.0, 150.0, 30.0), 30.0), ("thing-left", (120.0, -150.0, 30.0), 30.0),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("one", "rows", "times"),
    [
        # arithmetic: 3 x 3.7 V x 2.2 Ah = 24.42 Wh
        (thing(Carried.BATTERY, cells=3, capacity_mah=2200.0), ("battery", "cell_voltage"), 24.42),
        (thing(Carried.SPEED_CONTROL, current_limit_a=30.0), ("speed_control",), 30.0),
        (thing(Carried.RECEIVER), ("receiver",), 1.0),
        (thing(Carried.SERVO), ("servo",), 1.0),
    ],
)
def test_what_has_no_mass_is_usual_where_there_is_a_row(one, rows, times):
    (item,), missing = carried(one)
    row = ASSUMED[rows[0]]
    assert not missing and item.assumed == rows
    assert [item.mass_g, item.low_g, item.high_g] == pytest.approx(
        [row.value * times, row.low * times, row.high * times]
    )


@pytest.mark.parametrize(
    "one",
    [
        thing(Carried.BATTERY, cells=3), thing(Carried.BATTERY, capacity_mah=900.0),
        thing(Carried.SPEED_CONTROL), thing(Carried.WIRE), thing(Carried.GEAR), thing(Carried.PAINT),
        thing(Carried.BALLAST), thing(Carried.MOTOR), thing(Carried.OTHER),
    ],
)  # fmt: skip
def test_what_has_no_row_is_left_out_and_named(one):
    items, (missing,) = carried(one)
    assert items == () and missing.key == "aboard[0].mass" and "thing" in missing.name


def test_a_missing_mass_is_told_with_what_ten_grams_of_it_do():
    """Arithmetic: 10 g at 120 on a model of 90 g at 220: 10 x (120 - 220) / 100 = 10 mm forward."""
    rest = Item(
        key="a", name="a", sort=Sort.BOARD, mass_g=90.0, low_g=90.0, high_g=90.0, at=(220.0, 0.0, 0.0)
    )
    one = Missing(key="aboard[0].mass", name='"gear"', at=((120.0, 0.0, 0.0),))
    (found,) = missing_findings((one,), (rest,))
    assert found.code == "mass-missing" and found.level is Level.WARNING and found.where == "aboard[0].mass"
    assert "10 g of it move the balance 10 mm forward" in found.mend
    (alone,) = missing_findings((one,), ())
    assert "move" not in alone.mend


def test_a_motor_that_is_carried_beside_a_mount_counts_twice():
    inputs = design_model(TWIN).inputs
    setup = Setup(aboard=(thing(Carried.MOTOR, mass_g=52.0, mirrored=True),))
    (found,) = twice_findings(setup, inputs)
    assert found.code == "motor-twice" and found.value == "104 g" and "takes 104 g off" in found.mend
    bare = replace(inputs, motors=tuple(replace(one, mass_g=None) for one in inputs.motors))
    (found,) = twice_findings(setup, bare)
    assert "[motor.wing]" in found.mend
    assert not list(twice_findings(setup, Inputs()))
    assert not list(twice_findings(Setup(), inputs))
