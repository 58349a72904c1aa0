"""What is said once of the model that a body carries."""

from dataclasses import replace

import pytest

from foamcut.airframe.values import Control
from tests.airframe.body_sample import made_of, servo, stations, tail, twin, wing


def said(code, inputs):
    return [one for one in made_of(inputs).findings if one.code == code]


@pytest.mark.parametrize(
    ("deg", "words"),
    [
        (0.0, None),
        (10.0, None),
        (10.5, "rises by 10.5 deg"),
        (16.0, "rises by 16 deg"),
        (-1.0, "droops by 1 deg"),
    ],
)
def test_a_dihedral_out_of_the_ordinary_is_told_once(deg, words):
    """memory: 5 to 8 degrees for rudder alone, 0 to 5 with ailerons; more than 10 is on no usual model."""
    rows = stations("surface.wing", (0.0, 0.0, 204.0, deg), (552.0, 6.0, 162.0, 0.0))
    found = said("wing-dihedral", twin(surfaces=(wing(stations=rows, at=(240.0, 45.0)),)))
    assert len(found) == (words is not None)
    for one in found:
        assert words in one.text
        assert one.where == "surface.wing.stations[0]"


def test_of_several_panels_that_rise_much_the_first_is_told():
    rows = ((0.0, 0.0, 204.0, 2.0), (200.0, 0.0, 190.0, 12.0), (552.0, 6.0, 162.0, 0.0))
    (one,) = said("wing-dihedral", twin(surfaces=(wing(stations=stations("surface.wing", *rows)),)))
    assert (one.where, one.value) == ("surface.wing.stations[1]", "12 deg")


def test_controls_that_no_servo_drives_are_named_once():
    def control(word, out):
        return Control(
            key=f"surface.tail.{word}",
            word=word,
            from_mm=out,
            to_mm=out + 60.0,
            chord_mm=24.0,
            throw_deg=20.0,
        )

    moved = tail(controls=(control("elevator", 40.0), control("aileron", 120.0)))

    def told(*drives):
        servos = tuple(
            replace(servo("deck", (560.0 + 60 * i, 0.0)), key=f"servo[{i}]", drives=word)
            for i, word in enumerate(drives)
        )
        return [one.value for one in said("servo-place", twin(surfaces=(wing(), moved), servos=servos))]

    assert told() == ["elevator, aileron"]
    assert told("rudder") == ["elevator, aileron"]
    assert told("Elevator") == ["aileron"]
    assert told("elevator", "left ailerons") == []
