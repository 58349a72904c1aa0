"""Controls, horns and openings of a folded wing; against arithmetic."""

import math
import re

import numpy as np
import pytest
from shapely import Point

from foamcut.airframe.values import Firewall, Motor, Propeller, Servo, TrailingEdge
from foamcut.flat.drawn import Face, FoldKind
from tests.airframe.folded_wings import (
    PLY,
    STRAIGHT,
    aileron,
    boxed,
    built,
    joiner,
    made_of,
    place_of,
    wing,
)


def test_an_aileron_is_cut_on_its_hinge_line():
    """Arithmetic: bevel of 20 + 10 degrees, 5 tan 30 = 2.89 mm wide; gaps of 2 mm at both ends."""
    one = wing(STRAIGHT, controls=(aileron(),))
    part = built(made_of(one))["wing-skin-right"]
    (hinge,) = [fold for fold in part.folds if fold.kind is FoldKind.HINGE]
    assert not hinge.cut_behind  # cut on the inner face, the lower skin's outer paper is the hinge
    assert {hinge.start, hinge.end} == {(156.0, 528.0), (156.0, 276.0)}
    assert hinge.band_mm == pytest.approx((0.0, 5.0 * math.tan(math.radians(30.0))))
    polygon = part.outline.polygon
    for s in (275.0, 529.0):
        assert polygon.boundary.distance(Point(190.0, s)) == pytest.approx(1.0, abs=1e-6)
        assert not polygon.covers(Point(190.0, s))
    assert polygon.covers(Point(190.0, 400.0))
    assert not polygon.covers(Point(-205.0, 400.0))  # above it the upper skin ends at the hinge line
    assert polygon.covers(Point(-205.0, 100.0))


@pytest.mark.parametrize(("throw", "bevel"), [(10.0, 30.0), (35.0, 45.0), (70.0, 60.0)])
def test_the_bevel_of_a_hinge_is_the_throw_and_ten_degrees_within_limits(throw, bevel):
    """Common practice: 30 to 45 degrees; the program goes from 30 to 60."""
    part = built(made_of(wing(STRAIGHT, controls=(aileron(throw_deg=throw),))))["wing-skin-right"]
    (hinge,) = [fold for fold in part.folds if fold.kind is FoldKind.HINGE]
    assert hinge.band_mm[1] == pytest.approx(5.0 * math.tan(math.radians(bevel)))


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"to_mm": 600.0}, "the panel from 0 to 552 mm"),
        ({"from_mm": 530.0}, "give from below to"),
        ({"chord_mm": 145.0}, "ahead of the spar"),
        ({"chord_mm": 6.0}, "its bevel takes"),
    ],
)
def test_controls_that_cannot_be_cut_are_refused(changed, words):
    (refusal,) = made_of(wing(STRAIGHT, controls=(aileron(**changed),))).refusals
    assert refusal.key.startswith("surface.wing.aileron")
    assert words in refusal.text


def test_a_control_out_of_the_ordinary_is_told():
    """Arithmetic: 100 of 204 mm are 49 %."""
    (finding,) = made_of(wing(STRAIGHT, controls=(aileron(chord_mm=100.0),), joiner=joiner())).findings
    assert (finding.code, finding.value) == ("control-place", "49 %")


def test_a_horn_stands_in_its_slot_behind_the_hinge():
    """Arithmetic: the hole lies over the hinge line; plate and slot are in the middle of the control."""
    one = wing(STRAIGHT, controls=(aileron(horn=PLY),))
    parts = built(made_of(one))
    horn, skin = parts["wing-aileron-horn-right"], parts["wing-skin-right"]
    (slot,) = skin.slots
    assert slot.takes == "ply"
    assert slot.at[1] == pytest.approx(402.0)
    assert place_of(horn)[0] - one.at[0] == pytest.approx(156.0)


def test_over_an_aileron_the_upper_skin_ends_at_the_hinge_line_on_the_model():
    """Arithmetic: chord 204 less 48 mm between the gaps, the whole chord beside them."""
    one = wing(STRAIGHT, controls=(aileron(),))
    (shell,) = made_of(one).shells
    rear = shell.outer[-1] - np.array([one.at[0], 0.0, 0.0])
    over = (rear[:, 1] >= 274.0) & (rear[:, 1] <= 530.0)
    assert rear[over, 0] == pytest.approx(156.0)
    assert rear[~over, 0] == pytest.approx(204.0)
    assert shell.outer[0, :, 0] - one.at[0] == pytest.approx(204.0)


def test_a_joint_of_the_skin_in_an_aileron_divides_it():
    """Arithmetic: a control of 1,000 mm on boards of 694 mm; both parts of it are hinged, one horn is cut."""
    rows = ((0.0, 0.0, 204.0), (1100.0, 0.0, 204.0))
    long = aileron(from_mm=60.0, to_mm=1060.0, horn=PLY)
    parts = built(made_of(wing(rows, controls=(long,))))
    skins = [part for name, part in parts.items() if "skin" in name and name.endswith("right")]
    hinges = [fold for part in skins for fold in part.folds if fold.kind is FoldKind.HINGE]
    assert sum(math.dist(one.start, one.end) for one in hinges) == pytest.approx(1000.0)
    assert len([name for name in parts if "horn" in name]) == 2  # right and left


def test_a_control_that_reaches_under_the_body_is_told():
    one = wing(STRAIGHT, at=(240.0, 70.0), controls=(aileron(from_mm=0.0),))
    found = [
        finding for finding in made_of(one, bodies=(boxed(),)).findings if finding.code == "control-place"
    ]
    assert [finding.range for finding in found] == ["31 mm or more"]


def test_a_servo_across_a_joint_of_panels_is_refused():
    rows = ((0.0, 0.0, 204.0), (300.0, 0.0, 204.0), (552.0, 0.0, 204.0))
    servo = Servo(key="servo[0]", drives="aileron", on=("wing", ""), at=(340.0, 302.0), size_mm=(23.0, 12.0))
    (refusal,) = made_of(wing(rows), servos=(servo,)).refusals
    assert refusal.key == "servo[0].at"
    assert "across the joint of the skin 300 mm out" in refusal.text


def test_marks_that_have_to_be_seen_before_closing_lie_inside():
    servo = Servo(key="servo[0]", drives="aileron", on=("wing", ""), at=(340.0, 300.0), size_mm=(23.0, 12.0))
    one = wing(STRAIGHT, joiner=joiner())
    part = built(made_of(one, servos=(servo,)))["wing-skin-right"]
    early = [mark for mark in part.marks if "before closing" in getattr(mark, "text", "")]
    assert {mark.text.split(",")[0] for mark in early} == {"spar", "joiner", "servo", "wire way"}
    assert {mark.face for mark in early} == {Face.INNER}


def test_a_firewall_passes_both_skins_before_the_spar():
    """Arithmetic: the slot lies before the spar's front face at 36 mm, in both skins, 127 mm out and more."""
    one = wing(STRAIGHT)
    motor = Motor(
        key="motor.wing", name="wing", on="wing", on_wing=True, ahead_mm=24.0, out_mm=160.0,
        firewall=Firewall(key="motor.wing.firewall", material=PLY, width_mm=40.0),
        propeller=Propeller(key="motor.wing.propeller", diameter_mm=152.0),
    )  # fmt: skip
    part = built(made_of(one, motors=(motor,)))["wing-skin-right"]
    (slot,) = part.slots
    assert slot.at == pytest.approx((35.0, 160.0))
    holes = [np.array(ring) for ring in part.outline.rings()[1:]]
    (upper,) = [hole for hole in holes if hole[:, 0].max() < 0]
    assert np.ptp(upper[:, 1]) == pytest.approx(40.0 + 0.1 + 0.5, abs=1e-6)
    assert upper[:, 1].mean() == pytest.approx(160.0, abs=12.0)


def test_over_an_aileron_the_open_end_of_the_skins_is_closed_with_a_strip():
    """Arithmetic: the inner paper of the upper skin slopes straight from the spar's rear edge, 10 mm over the
    lower skin 61 mm aft; the outer one, a board outside it, comes down on the lower skin 204 mm aft.
    """
    made = made_of(wing(STRAIGHT, controls=(aileron(chord_mm=70.0),)))
    (drawn,) = [part for part in made.parts if part.name == "wing-skin"]
    (mark,) = [mark for mark in drawn.marks if "close with" in getattr(mark, "text", "")]
    given = float(re.search(r"strip ([\d.]+) mm high", mark.text)[1])
    run, high, t = 204.0 - 61.0, 10.0, 5.0
    slope = math.atan2(high, run) + math.asin(t / math.hypot(high, run))
    assert given == pytest.approx(high - (134.0 - 61.0) * math.tan(slope), abs=0.06)
    assert mark.face is Face.INNER
    assert {x for x, _ in mark.points} == {134.0 - t}
    assert sorted(y for _, y in mark.points) == [276.0, 528.0]


def test_where_the_skins_meet_at_the_hinge_no_strip_is_asked_for():
    """Arithmetic: feathered, the inner paper meets the lower skin 5 / tan(6 deg) = 48 mm ahead of the edge."""
    long = aileron(chord_mm=70.0)
    for one in (
        wing(STRAIGHT, controls=(long,), trailing_edge=TrailingEdge.SINGLE),
        wing(STRAIGHT, controls=(aileron(chord_mm=48.0),)),
    ):
        texts = [getattr(mark, "text", "") for part in made_of(one).parts for mark in part.marks]
        assert not [text for text in texts if "close with" in text]
