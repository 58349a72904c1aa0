"""Wiring pictures: who is wired to whom, which supply is off, nothing over anything else."""

from dataclasses import replace

import pytest
from shapely import LineString, STRtree, box

from foamcut.airframe.values import Firewall, Inputs, Motor, Propeller, Servo
from foamcut.draw.picture import Ink, Picture
from foamcut.draw.wiring_picture import wiring_pictures
from foamcut.draw.wiring_picture_canvas import beside
from foamcut.draw.wiring_picture_parts import schemes
from foamcut.flight.values import Aboard, Carried, Packs, Setup, Wiring
from foamcut.write import picture_svg
from tests.draw.balance_checks import NAMES, box_of, crowded
from tests.draw.balance_reports import BOARD, FIN, HULL, NOSE_MOTOR, TAIL, WING, model

WIRES = (Ink.PLUS, Ink.MINUS, Ink.SIGNAL, Ink.EDGE)
PAIR = Motor(
    key="motor.wing",
    name="wing",
    on="wing",
    on_wing=True,
    ahead_mm=40.0,
    firewall=Firewall(key="motor.wing.firewall", material=BOARD, width_mm=45.0),
    propeller=Propeller(key="motor.wing.propeller", diameter_mm=203.0, turns="inwards"),
    out_mm=160.0,
)


def plane(*motors, servos=()):
    return model(Inputs(surfaces=(WING, TAIL, FIN), bodies=(HULL,), motors=motors, servos=servos))


def thing(kind, name, **more):
    facts = {"key": f"aboard.{name}", "name": name, "kind": kind, "at": (200.0, 30.0)}
    return Aboard(**(facts | more))


BATTERY = thing(Carried.BATTERY, "battery", cells=3, capacity_mah=2200.0, lead_mm=120.0)
CONTROL = thing(Carried.SPEED_CONTROL, "speed control", lead_mm=150.0, current_limit_a=20.0)
CONTROLS = replace(CONTROL, mirrored=True, out_mm=90.0)
RECEIVER = thing(Carried.RECEIVER, "receiver")
SERVO = thing(Carried.SERVO, "elevator servo", lead_mm=560.0)


def drawn(motors, *aboard, wiring=None, units="mm", servos=()):
    setup = Setup(aboard=aboard, wiring=wiring or Wiring())
    return wiring_pictures(plane(*motors, servos=servos), setup, units)


def words(picture: Picture):
    return " ".join(text.text for text in picture.texts)


def look_over(picture: Picture):
    """No words over words or wires, nothing outside, no wire over another one."""
    assert crowded(picture) == []
    field = box(0, 0, picture.width_mm, picture.height_mm)
    for text in picture.texts:
        assert field.contains(box_of(text)), text.text
    for shape in picture.shapes:
        assert field.contains(LineString(shape.points))
    lines = [LineString(shape.points) for shape in picture.shapes if shape.ink in WIRES]
    tree = STRtree(lines)
    for text in picture.texts:
        assert not len(tree.query(box_of(text).buffer(-0.2), predicate="intersects")), text.text
    for i, j in tree.query(lines, predicate="intersects").T.tolist():
        assert i >= j or lines[i].intersection(lines[j]).length == 0 == lines[i].crosses(lines[j])


def test_nothing_where_nothing_is_aboard():
    assert drawn(()) == ()
    assert wiring_pictures(None, Setup(aboard=(BATTERY,)), "mm") == ()
    assert drawn((), thing(Carried.BALLAST, "nose weight")) == ()


def test_one_motor():
    (picture,) = drawn((NOSE_MOTOR,), BATTERY, CONTROL, RECEIVER, SERVO)
    look_over(picture)
    said = words(picture)
    for part in (
        'motor "nose"',
        "speed control",
        "20 A",
        "battery",
        "3 cells, 2200 mAh",
        "lead 120 mm",
        "150 mm",
    ):
        assert part in said
    assert "lead 560 mm" in said and "parted" not in said
    assert [shape.ink for shape in picture.shapes].count(Ink.EDGE) == 3 + 1  # and one in the key
    assert "Battery feeds speed control, which drives motor" in picture.told


def test_two_motors_share_a_pack_and_only_one_supply_is_on():
    (picture,) = drawn((PAIR,), BATTERY, CONTROLS, RECEIVER, SERVO)
    look_over(picture)
    said = words(picture)
    assert "power Y lead" in said and "servo Y lead" in said and "red wire parted, insulated" in said
    assert "the red wire of the left speed control's lead" in said
    assert [shape.ink for shape in picture.shapes].count(Ink.EDGE) == 6 + 1
    assert "turns left" in said and "turns right" in said and "one propeller of each hand" in said
    # the parted wire is two wires with a cap on each end
    assert [shape.ink for shape in picture.shapes].count(Ink.SOLID) == 2


def test_the_left_of_a_pair_that_turns_inwards_turns_right():
    """Seen from behind, the upper blades move towards the body."""
    scheme = schemes(plane(PAIR), Setup(aboard=(BATTERY, CONTROLS)), "mm")[0]
    assert [(one.side, one.motor.more) for one in scheme.columns] == [
        ("left", ("turns right",)),
        ("right", ("turns left",)),
    ]


def test_supplies_that_may_meet_are_left_whole_and_told_of():
    (picture,) = drawn((PAIR,), BATTERY, CONTROLS, RECEIVER, wiring=Wiring(joined=True))
    look_over(picture)
    assert "parted, insulated" not in words(picture) and "Ask their maker" in words(picture)


def test_packs_apart_feed_a_motor_each():
    right = replace(BATTERY, key="aboard[8]", name="right pack", out_mm=30.0)
    left = replace(BATTERY, key="aboard[9]", name="left pack", out_mm=-30.0, capacity_mah=3000.0)
    (picture,) = drawn((PAIR,), right, left, CONTROLS, RECEIVER, wiring=Wiring(packs=Packs.APART))
    look_over(picture)
    said = words(picture)
    assert "power Y lead" not in said and "left pack, left" in said and "right pack, right" in said
    # the larger pack keeps the receiver alive
    assert "the red wire of the right speed control's lead" in said
    assert "Left pack feeds the left speed control" in picture.told


def test_packs_together_are_drawn_as_one_of_several():
    (picture,) = drawn((PAIR,), replace(BATTERY, mirrored=True, out_mm=20.0), CONTROLS, RECEIVER)
    look_over(picture)
    assert "2 of them" in words(picture) and "plus goes to plus" in words(picture)


def test_a_pack_of_the_receivers_own_parts_every_red_wire():
    own = thing(Carried.BATTERY, "receiver pack", cells=2)
    (picture,) = drawn((PAIR,), BATTERY, own, CONTROLS, RECEIVER)
    look_over(picture)
    said = words(picture)
    assert said.count("red wire parted, insulated") == 2 and "a pack of its own" in said
    (picture,) = drawn((NOSE_MOTOR,), BATTERY, own, CONTROL, RECEIVER)
    look_over(picture)
    assert [shape.ink for shape in picture.shapes].count(Ink.SOLID) == 2


def test_a_glider_has_its_pack_on_the_receiver():
    (picture,) = drawn((), BATTERY, RECEIVER, SERVO)
    look_over(picture)
    assert Ink.EDGE not in [shape.ink for shape in picture.shapes]
    assert picture.told.startswith("Battery feeds receiver.")


def test_what_the_design_lacks_is_drawn_dashed():
    (picture,) = drawn((PAIR,))
    look_over(picture)
    assert words(picture).count("not in the design") == 4  # two speed controls, a battery, a receiver
    assert Ink.HIDDEN in [shape.ink for shape in picture.shapes]


def test_motors_that_are_aboard_alone():
    right = thing(Carried.MOTOR, "starboard motor", out_mm=120.0)
    left = thing(Carried.MOTOR, "port motor", out_mm=-120.0)
    (picture,) = drawn((), BATTERY, right, left, CONTROLS, RECEIVER)
    look_over(picture)
    texts = {text.text: text.at[0] for text in picture.texts}
    assert texts["port motor, left"] < 85 < texts["starboard motor, right"]


def test_more_than_two_motors_have_a_picture_for_every_pair():
    outer = replace(PAIR, key="motor.outer", name="outer", out_mm=320.0)
    several = drawn((PAIR, outer, NOSE_MOTOR), BATTERY, CONTROLS, RECEIVER, SERVO)
    assert [one.name for one in several] == ["wiring-1", "wiring-2", "wiring-3"]
    for picture in several:
        look_over(picture)
    assert ["elevator servo" in words(one) for one in several] == [True, False, False]


@pytest.mark.parametrize("count", [1, 2, 5, 8, 14])
def test_any_number_of_servos(count):
    servos = [replace(SERVO, key=f"aboard[{i}]", name=f"servo of flap {i + 1}") for i in range(count)]
    (picture,) = drawn((NOSE_MOTOR,), BATTERY, CONTROL, RECEIVER, *servos)
    look_over(picture)
    assert ("more servo" in words(picture)) == (count > 8)


def test_servos_in_panels_tell_what_they_drive():
    one = Servo(key="servo[0]", drives="rudder", on=("hull", "deck"), at=(600.0, 0.0), size_mm=(23.0, 12.0))
    (picture,) = drawn((NOSE_MOTOR,), BATTERY, CONTROL, RECEIVER, servos=(one,))
    look_over(picture)
    assert "servo for the rudder" in words(picture) and "or more" in words(picture)


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("name", NAMES)
def test_long_and_strange_names_overflow_nothing(name, units):
    aboard = [replace(one, name=name) for one in (BATTERY, CONTROLS, RECEIVER, SERVO)]
    for motors in ((PAIR,), (NOSE_MOTOR,), ()):
        named = tuple(replace(one, name=name) for one in motors)
        for picture in drawn(named, *aboard, units=units):
            look_over(picture)
            assert picture_svg.render(picture)


def test_inch_designs_read_inches():
    (picture,) = drawn((NOSE_MOTOR,), BATTERY, CONTROL, RECEIVER, SERVO, units="in")
    look_over(picture)
    assert "lead 22 1/16 in (560 mm)" in words(picture)


def test_wires_of_a_lead_stay_side_by_side_round_corners():
    path = [(0.0, 0.0), (0.0, -10.0), (20.0, -10.0), (20.0, -30.0)]
    assert beside(path, 2.0) == ((2.0, 0.0), (2.0, -8.0), (22.0, -8.0), (22.0, -30.0))
    assert LineString(beside(path, 2.0)).distance(LineString(path)) == pytest.approx(2.0)


def test_wires_are_told_apart_without_their_colours():
    """Plus, minus, signal and motor wires differ in width or dashes."""
    from foamcut.draw.picture import PENS

    drawn_as = {(PENS[ink].width_mm, PENS[ink].dashes_mm) for ink in WIRES}
    assert len(drawn_as) == len(WIRES)
