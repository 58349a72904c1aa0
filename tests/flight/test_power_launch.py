"""Launch advice: by where propellers turn, worded as caution."""

from dataclasses import replace

import pytest

from foamcut.findings import Level
from foamcut.flight.air import air_at
from foamcut.flight.lift import lift_of_wing
from foamcut.flight.power import power_figures
from foamcut.flight.values import Carried, Site
from tests.flight.power_sample import aboard, battery, loaded, model, pair, plan, setup, single

SEA = air_at(Site())


def launch(inputs, *things, mass: float = 800.0, along: float = 300.0):
    the_plan, now = plan(), loaded(mass, along=along)
    lift = lift_of_wing(the_plan, now, SEA)
    found = power_figures(model(inputs), setup(battery(), *things), SEA, the_plan, now, lift)
    notes = [one for one in found.findings if one.code == "launch"]
    assert len(notes) == 1
    return notes[0]


@pytest.mark.parametrize(
    ("inputs", "words", "disc"),
    [(pair, "behind the discs", "the discs;"), (single, "under the wing", "the disc;")],
)
def test_hands_and_face_stay_clear_of_the_discs(inputs, words, disc):
    note = launch(inputs(power_w=120.0))
    assert (note.level, note.source) == (Level.NOTE, "common practice, no source")
    assert "with an experienced helper, hands and face clear of " + disc in note.text
    assert words in note.text


def test_the_room_between_a_pair_of_discs_is_told():
    """arithmetic: 2 x (162 - 101.6) mm."""
    assert "121 mm" in launch(pair(power_w=120.0)).text
    assert "between" not in launch(single(power_w=120.0)).text


def test_a_propeller_behind_the_balance_passes_the_hand():
    """The nose motor moved behind the balance is one that pushes."""
    inputs = single(power_w=120.0)
    pusher = replace(inputs, motors=(replace(inputs.motors[0], at_mm=(850.0, 50.0)),))
    note = launch(pusher)
    assert "passes the hand" in note.text and "under the wing" not in note.text


def test_a_motor_of_unknown_place_asks_to_look():
    bare = replace(pair(), motors=())
    assert "not in the design" in launch(bare, aboard(Carried.MOTOR, 1)).text


def test_with_a_landing_gear_it_rolls():
    note = launch(pair(power_w=120.0), aboard(Carried.GEAR, 1))
    assert "rolling on its landing gear" in note.text
    assert "hand launch" not in note.range and "by hand" not in note.text


def test_a_stall_faster_than_a_throw_is_told():
    assert "a throw gives" not in launch(pair(power_w=120.0)).mend
    assert "a throw gives about 9 m/s" in launch(pair(power_w=120.0), mass=1500.0).mend
    assert "a throw" not in launch(pair(power_w=120.0), aboard(Carried.GEAR, 1), mass=1500.0).mend


def test_thrust_over_weight_stands_beside_what_a_hand_launch_asks():
    note = launch(pair(power_w=120.0))
    assert note.value.startswith("thrust 1.5")
    assert note.range.startswith("0.5 of the weight")
    assert launch(pair(current_limit_a=10.0)).value.startswith("thrust at most ")
