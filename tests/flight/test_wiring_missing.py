"""What a wiring leaves out is said, and goes when it is given."""

from dataclasses import replace

from foamcut.airframe.values import Servo
from foamcut.findings import Finding, Level
from foamcut.flight.values import Aboard, Carried, Model, Packs, Setup, Wiring
from foamcut.flight.wiring import wiring_findings
from tests.airframe.motors_sample import in_nose
from tests.flight.power_sample import aboard, battery, control, model, pair, setup, single

SERVO = Servo(
    key="servo[0]", drives="rudder", on=("fuselage", "side"), at=(330.0, 30.0), size_mm=(23.0, 12.0)
)
BOTH = replace(pair(), motors=(*pair().motors, in_nose()))


def told(built: Model, wired: Setup, code: str) -> list[Finding]:
    return [one for one in wiring_findings(built, wired) if one.code == code]


def test_servos_without_a_receiver():
    served = model(replace(single(), servos=(SERVO,)))
    (note,) = told(served, setup(battery()), "receiver-missing")
    assert (note.level, note.where) == (Level.NOTE, "servo[0]")
    assert "servo leads are not looked at" in note.text
    assert told(served, setup(battery(), aboard(Carried.RECEIVER, 2)), "receiver-missing") == []
    (carried,) = told(model(single()), setup(aboard(Carried.SERVO, 3)), "receiver-missing")
    assert carried.where == "aboard[3]"
    assert told(model(single()), setup(battery()), "receiver-missing") == []


def test_a_speed_control_that_no_motor_is_left_for():
    named, bare = control(1, name="first", feeds="motor.nose"), control(2, name="second")
    (note,) = told(model(single()), setup(battery(), named, bare), "feeds-nothing")
    assert (note.level, note.where) == (Level.WARNING, "aboard[2].feeds")
    assert 'feeds = "motor.nose"' in note.mend
    assert told(model(single()), setup(battery(), named, replace(bare, feeds="motor.nose")), note.code) == []
    assert told(model(single()), setup(battery(), named), note.code) == []


def test_a_speed_control_of_another_motor_is_none_too_many():
    wing, nose = control(1, feeds="motor.wing"), control(2, feeds="motor.nose")
    assert told(model(BOTH), setup(battery(), wing, nose), "feeds-nothing") == []
    assert told(model(BOTH), setup(battery(), wing, replace(nose, feeds="")), "feeds-nothing") == []
    (note,) = told(model(BOTH), setup(battery(), wing, replace(nose, feeds="tail")), "feeds-nothing")
    assert 'feeds "tail", which is no motor' in note.text
    # nothing is asked of a model without motors
    assert told(model(replace(pair(), motors=())), setup(wing), "feeds-nothing") == []


def test_a_battery_that_names_the_motor_goes_through_its_speed_control():
    """Its lead is held against the speed control all the same."""
    far = control(1, at=(600.0, 30.0), feeds="motor.nose")
    past = battery(feeds="motor.nose", lead_mm=100.0)
    through: Aboard = replace(past, feeds="speed_control")
    for pack in (past, through):
        (short, *_) = told(model(single()), setup(pack, far), "lead-short")
        assert short.where == "aboard[0].lead"


def test_one_pack_alone_is_not_apart():
    for built in (model(pair()), model(single())):
        (note,) = told(built, setup(battery(), wiring=Wiring(packs=Packs.APART)), "packs-alone")
        assert (note.level, note.where) == (Level.WARNING, "wiring.packs")
        assert note.mend.startswith('packs = "together"')
        for wired in (
            setup(battery(), wiring=Wiring(packs=Packs.TOGETHER)),
            setup(battery(mirrored=True), wiring=Wiring(packs=Packs.APART)),
            setup(battery(0), battery(1), wiring=Wiring(packs=Packs.APART)),
            setup(wiring=Wiring(packs=Packs.APART)),
        ):
            assert told(built, wired, "packs-alone") == []
    # a pack of the receiver does not count
    own = battery(1, name="receiver pack")
    assert (
        len(told(model(pair()), setup(battery(), own, wiring=Wiring(packs=Packs.APART)), "packs-alone")) == 1
    )
