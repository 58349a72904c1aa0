"""Every lead between things aboard: what it joins, how far it reaches."""

import pytest

from foamcut.airframe.values import Inputs
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.loading_leads import motor_spots
from foamcut.flight.values import Carried, Model, Setup
from foamcut.flight.wiring_list import Strands, leads
from tests.airframe.motors_sample import in_nose
from tests.flight.test_wiring import bare, battery, control, model, setup, sides, thing


def joins(found):
    return [(one.start, one.end, one.strands, one.count) for one in found]


def test_nothing_aboard_has_no_leads():
    assert leads(Model(inputs=Inputs(), cuts=(), standing=(), stocks={}), Setup()) == ()
    assert leads(model(), Setup()) == ()


def test_a_twin_has_all_its_leads():
    """One battery feeds two speed controls, these a motor each; all signals go to the receiver."""
    receiver = thing(2, Carried.RECEIVER, at=(200.0, 50.0))
    servo = thing(3, Carried.SERVO, "rudder servo", at=(600.0, 50.0), lead_mm=450.0)
    found = leads(model(), setup(battery(feeds="speed_control"), control(), receiver, servo))

    assert joins(found) == [
        ("battery", "speed_control", Strands.POWER, 2),
        ("speed_control", 'motor "wing"', Strands.MOTOR, 2),
        ("speed_control", "receiver", Strands.SIGNAL, 2),
        ("rudder servo", "receiver", Strands.SIGNAL, 1),
    ]
    assert [one.given_mm for one in found] == [None, None, None, 450.0]


def test_the_way_goes_along_across_and_up():
    """Arithmetic: |dx| + |dy| + |dz| between ends that face each other, and the usual length to spare."""
    one = battery(at=(100.0, 40.0), size_mm=(100.0, 30.0, 20.0), lead_mm=200.0)
    other = control(at=(262.0, 66.0), size_mm=(40.0, 20.0, 8.0), out_mm=150.0)
    lead = leads(model(), setup(one, other))[0]

    assert lead.way_mm == pytest.approx(162.0 - 50.0 - 20.0 + 150.0 + 26.0)
    assert lead.needed_mm == pytest.approx(lead.way_mm + ASSUMED["lead_slack"].value)
    assert lead.given_mm == 200.0


def test_each_control_goes_to_the_motor_on_its_side():
    """The nearest end is taken, so that no lead crosses over."""
    built = model()
    (x, y, z), _ = motor_spots(built.inputs.motors[0], built)
    lead = leads(built, setup(control(at=(x + 60.0, z), out_mm=y)))[0]
    assert lead.way_mm == pytest.approx(60.0)


def test_two_packs_for_one_control_are_two_leads():
    """Of a pair of batteries each has its own lead, though there is one control in the middle."""
    found = leads(
        model(in_nose()),
        setup(battery(out_mm=30.0, mirrored=True), control(mirrored=False, out_mm=0.0, feeds="")),
    )
    assert joins(found)[0] == ("battery", "speed_control", Strands.POWER, 2)


def test_each_pack_feeds_its_own_control():
    """What a battery names is what it is led to."""
    right, left = (
        {"feeds": "right speed_control"},
        {"feeds": "left speed_control"},
    )
    packs = sides(0, Carried.BATTERY, right, left)
    controls = sides(2, Carried.SPEED_CONTROL, {}, {}, feeds="motor.wing")
    found = [one for one in leads(model(), setup(*packs, *controls)) if one.strands is Strands.POWER]
    assert joins(found) == [
        ("right battery", "right speed_control", Strands.POWER, 1),
        ("left battery", "left speed_control", Strands.POWER, 1),
    ]


def test_a_glider_feeds_its_receiver():
    """Where nothing drives the model, the battery goes to the receiver."""
    found = leads(bare(), setup(battery(), thing(1, Carried.RECEIVER, at=(200.0, 40.0))))
    assert joins(found) == [("battery", "receiver", Strands.POWER, 1)]


def test_without_speed_control_the_battery_goes_to_the_motor():
    found = leads(model(in_nose()), setup(battery()))
    assert [one.strands for one in found] == [Strands.POWER]
    assert found[0].end.startswith("motor")


def test_the_nearest_receiver_is_taken():
    """Of two receivers each servo goes to the one that it is nearer to."""
    fore, aft = (
        thing(1, Carried.RECEIVER, "fore", at=(100.0, 40.0)),
        thing(2, Carried.RECEIVER, "aft", at=(600.0, 40.0)),
    )
    servo = thing(3, Carried.SERVO, at=(550.0, 40.0))
    assert leads(bare(), setup(fore, aft, servo))[-1].end == "aft"
