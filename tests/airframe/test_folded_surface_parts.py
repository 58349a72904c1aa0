"""What goes with a folded wing: strips, joiners, controls, joints along the span; against arithmetic."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from shapely import Point

from foamcut.airframe.folded_flat import laid_flat
from foamcut.airframe.skin_marks import tip_heights
from foamcut.airframe.values import Firewall, Motor, Nose, Propeller, Role, Run
from foamcut.flat.drawn import Face, FoldKind, Hand, Turns
from foamcut.flat.part import Part
from tests.airframe.folded_wings import (
    CARD,
    PLY,
    STRAIGHT,
    TWIN,
    USABLE,
    aileron,
    built,
    joiner,
    made_of,
    piece_of,
    raised,
    wing,
)
from tests.airframe.section_surfaces import BOARD, spar

T, LAYER = 5.0, 5.0
LONG = ((0.0, 0.0, 204.0), (900.0, 0.0, 204.0))


def place_of(part: Part, x: float = 0.0, y: float = 0.0) -> np.ndarray:
    assert part.place is not None
    return np.array(part.place.at) + x * np.array(part.place.x) + y * np.array(part.place.y)


def size(part: Part) -> tuple[float, float]:
    x0, y0, x1, y1 = part.outline.bounds
    return x1 - x0, y1 - y0


def test_strips_lie_on_each_other_and_start_square_off_the_centre_plane():
    """Arithmetic: layer k is h tan(2 deg) shorter, h the height of its upper face; faces a strip apart."""
    one = wing(TWIN, 2.0)
    parts = built(made_of(one))
    lean = math.tan(math.radians(2.0))
    for k in (1, 2):
        strip = parts[f"wing-spar-{k}-right"]
        top = T + k * LAYER
        assert size(strip) == pytest.approx((25.0, 552.0 - top * lean), abs=1e-5)
        inner_end = place_of(strip)
        assert inner_end[1] == pytest.approx(0.0, abs=1e-9)  # the upper corner touches the centre plane
        g = math.radians(2.0)
        assert inner_end[2] - one.at[1] == pytest.approx(
            top * math.cos(g) + top * lean * math.sin(g), abs=1e-9
        )
        assert inner_end[0] - one.at[0] == pytest.approx(36.0)


def test_a_tapered_and_stepped_spar():
    """Arithmetic: the upper of two layers ends at half span; widths run straight to that of the tip."""
    one = wing(TWIN, spar=spar(material=USABLE, tip_layers=1, tip_width_mm=15.0))
    parts = built(made_of(one))
    assert size(parts["wing-spar-1-right"])[1] == pytest.approx(552.0)
    assert size(parts["wing-spar-2-right"])[1] == pytest.approx(276.0)
    ring = parts["wing-spar-2-right"].outline.rings()[0]
    ends = sorted(x for x, y in ring[:-1] if abs(y - 276.0) < 1e-6)
    assert ends[1] - ends[0] == pytest.approx(20.0)


def test_a_skin_is_parted_where_a_strip_ends_when_it_would_not_lie_flat():
    """Arithmetic: the strip ends at half of 552 mm; parted there the pattern is within 0.5 mm, whole it is not."""
    stepped = spar(material=USABLE, tip_layers=1, tip_width_mm=15.0)
    made = made_of(wing(TWIN, spar=stepped))
    parts = built(made)
    assert place_of(parts["wing-skin-2-right"])[1] == pytest.approx(276.0)
    assert laid_flat(piece_of(wing(TWIN, spar=stepped))).error_mm > 0.5
    (finding,) = [found for found in made.findings if found.code == "skin-development"]
    assert float(finding.value.split()[0]) <= 0.5


def test_long_strips_are_staggered_off_the_joint_of_the_skin_and_off_each_other():
    """Common practice: joints lie four spar widths apart."""
    one = wing(LONG)
    made = made_of(one)
    (finding,) = [found for found in made.findings if found.code == "skin-joined"]
    skin = float(finding.value.split()[0])
    parts = built(made)
    strips = [part for name, part in parts.items() if "spar" in name and name.endswith("right")]
    assert sum(size(part)[1] for part in strips) == pytest.approx(2 * 900.0)
    assert max(size(part)[1] for part in strips) <= 694.0
    joints = [skin, *(float(place_of(part)[1]) for part in strips if place_of(part)[1] > 1.0)]
    assert len(joints) == 3
    assert min(b - a for a, b in pairwise(sorted(joints))) >= 4 * 25.0


def test_a_joined_skin_is_whole_again_end_to_end():
    """Arithmetic: lengths add up; joints are square to the spar, off the control, taped outside."""
    made = made_of(wing(LONG, controls=(aileron(from_mm=450.0, to_mm=860.0),), patches=CARD))
    parts = built(made)
    first, second = parts["wing-skin-1-right"], parts["wing-skin-2-right"]
    assert size(first)[1] + size(second)[1] == pytest.approx(900.0, abs=1e-6)
    assert place_of(second)[1] == pytest.approx(size(first)[1])
    assert size(first)[1] <= 450.0 - 35.0
    for part in (first, second):
        tapes = [mark for mark in part.marks if ".joint" in mark.key]
        assert {mark.face for mark in tapes} == {Face.OUTER}
        assert len(tapes) == (4 if part is first else 2)  # both skins; the root is a joint too


def test_patches_lie_before_and_behind_the_spar_where_there_is_room_for_them():
    """Arithmetic: before the spar at 36 mm, behind its rear at 61 mm; on the lower skin, T + 1 mm up."""
    one = wing(LONG, patches=CARD)
    made = made_of(one)
    parts = built(made)
    front, rear = parts["wing-patch-1-front-right"], parts["wing-patch-1-rear-right"]
    x = place_of(front)[0] - one.at[0]
    assert 0.0 < x < x + size(front)[0] == pytest.approx(35.0)
    assert place_of(rear)[0] - one.at[0] == pytest.approx(62.0)
    assert place_of(front)[2] - one.at[1] == pytest.approx(T + 1.0)
    end = place_of(rear)[0] - one.at[0] + size(rear)[0]
    (shell,) = [shell for shell in made.shells if shell.part == "wing-skin-2"]
    inner = shell.inner[:, 0]
    upper = inner[2:]
    room = np.interp(one.at[0] + end, upper[:, 0], upper[:, 2]) - one.at[1] - T
    assert room == pytest.approx(1.3, abs=0.35)


def test_no_board_is_laid_where_the_room_inside_is_less_than_its_thickness():
    """Arithmetic: two layers leave 10 mm; a stock of 12 mm has no room anywhere, tape alone is told."""
    thick = replace(CARD, thickness_mm=12.0)
    made = made_of(wing(LONG, patches=thick))
    assert not [part for part in made.parts if "patch" in part.name]
    (finding,) = [found for found in made.findings if found.code == "skin-joined"]
    assert "no room" in finding.text


def test_without_thin_stock_tape_alone_is_told():
    made = made_of(wing(LONG))
    assert not [part for part in made.parts if "patch" in part.name]
    (finding,) = [found for found in made.findings if found.code == "skin-joined"]
    assert "no thin stock" in finding.text


def test_a_sheet_wider_than_every_board_is_made_of_two_skins():
    """Arithmetic: twice 300 mm and the nose are more than 494 mm, one skin is not."""
    one = wing(((0.0, 0.0, 300.0), (552.0, 0.0, 300.0)))
    made = made_of(one)
    parts = built(made)
    assert {"wing-skin-lower-right", "wing-skin-upper-right"} <= set(parts)
    assert [found.code for found in made.findings] == ["skin-two"]
    upper = parts["wing-skin-upper-right"]
    # its nose lies a board inside the outer paper of the section
    (shell,) = [shell for shell in made.shells if shell.part == "wing-skin-upper"]
    assert place_of(upper) == pytest.approx(shell.inner[0, 0], abs=1e-6)
    assert np.cross(upper.place.x, upper.place.y)[2] < 0  # the inner face looks down


def test_two_skins_asked_for_are_no_advice():
    made = made_of(wing(STRAIGHT, nose=Nose.TWO_SKINS))
    assert {"wing-skin-lower-right", "wing-skin-upper-left"} <= set(built(made))
    assert made.findings == ()


def test_a_skin_that_lies_aslant_alone_is_turned_freely():
    """Arithmetic: 395 mm aft and wide as drawn, 245 mm wide along its leading edge; the board is 300 mm."""
    rows = ((0.0, 0.0, 120.0), (560.0, 275.0, 120.0))
    long = replace(USABLE, boards_mm=((800.0, 300.0),))
    own = spar(material=long, run=Run.FOLLOW, behind_mm=25.0, width_mm=20.0, layers=1)
    parts = built(made_of(wing(rows, spar=own, material=long)))
    assert parts["wing-skin-right"].turns is Turns.ANY


def test_a_skin_with_no_place_on_any_board_is_refused():
    small = replace(BOARD, boards_mm=((190.0, 150.0),))
    refusals = made_of(wing(STRAIGHT, material=small)).refusals
    assert refusals[0].key == "surface.wing"
    assert "lies on no board" in refusals[0].text


def test_joiners_stand_against_the_spar_and_carry_the_dihedral():
    """Arithmetic: V of 2 degrees, 160 mm over both; as high as the spar less the skin's slope over 2 mm."""
    one = wing(TWIN, 2.0, joiner=joiner())
    made = made_of(one)
    parts = built(made)
    section = made.shells[0].inner
    for name, c, ply in (("front", 36.0, 0.0), ("rear", 61.0, 2.0)):
        part = parts[f"wing-joiner-{name}"]
        assert part.hand is Hand.NONE
        assert place_of(part)[0] - one.at[0] == pytest.approx(c + ply)
        ring = np.array(part.outline.rings()[0][:-1])
        ends = ring[ring[:, 0] > 10.0]
        direction = ends[1] - ends[0] if ends[1, 1] > ends[0, 1] else ends[0] - ends[1]
        assert math.degrees(math.atan2(-direction[0], direction[1])) == pytest.approx(2.0, abs=1e-3)
        height = float(np.linalg.norm(direction))
        slopes = np.diff(section[:, 1], axis=0)
        rise = slopes[2] if name == "front" else slopes[4]
        lower = 2.0 * math.hypot(rise[1], rise[2]) * abs(rise[2] / rise[0]) / math.hypot(rise[1], rise[2])
        assert height == pytest.approx(10.0 - lower, abs=0.05)
        assert ring[:, 0].max() - ring[:, 0].min() == pytest.approx(
            2 * 80.0 * math.cos(math.radians(2)), abs=0.5
        )


def test_a_joiner_on_a_swept_spar_is_told_with_the_gap():
    """Arithmetic: over 30 mm a leading edge swept by 30 in 552 moves 1.63 mm."""
    rows = ((0.0, 0.0, 204.0), (552.0, 30.0, 204.0))
    one = wing(rows, joiner=joiner(length_mm=60.0, count=1), spar=spar(material=USABLE, run=Run.FOLLOW))
    (finding,) = [found for found in made_of(one).findings if found.code == "joiner-off"]
    assert float(finding.value.split()[0]) == pytest.approx(30.0 * 30.0 / 552.0, abs=0.005)


@pytest.mark.parametrize(("half", "dihedral", "propped"), [(600.0, 3.0, 63.0), (552.0, 2.0, 38.5)])
def test_the_height_of_a_propped_tip(half, dihedral, propped):
    """Published (a table of dihedral joints): 600 mm and 3 degrees are 63 mm, half span x sin(2 g)."""
    one = wing(((0.0, 0.0, 204.0), (half, 0.0, 204.0)), dihedral)
    tip, other = tip_heights(one)
    assert other == pytest.approx(propped, abs=0.5)
    assert tip == pytest.approx(half * math.sin(math.radians(dihedral)))
    (mark,) = [mark for mark in made_of(one).parts[0].marks if mark.key.endswith("end[0]")]
    assert f"{other:.1f}".rstrip("0").rstrip(".") in mark.text


@pytest.mark.parametrize(("dihedral", "bevelled"), [(2.0, False), (5.0, True), (-5.0, True)])
def test_the_root_is_bevelled_where_the_board_shows_it(dihedral, bevelled):
    """Arithmetic: t tan(2 deg) is 0.17 mm, t tan(5 deg) 0.44 mm: more than 0.3 mm is cut aslant."""
    part = built(made_of(wing(STRAIGHT, dihedral)))["wing-skin-right"]
    assert bool(part.bevels) is bevelled
    if bevelled:
        assert {bevel.angle_deg for bevel in part.bevels} == {5.0}
        behind = {bevel.back for bevel in part.bevels}
        assert behind == {True, False}


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
    (finding,) = made_of(wing(STRAIGHT, controls=(aileron(chord_mm=100.0),))).findings
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


def test_panels_of_several_stations_are_skins_of_their_own():
    """Arithmetic: neighbours share their edge; at an angle no flat patch goes over it."""
    rows = ((0.0, 0.0, 204.0), (400.0, 0.0, 204.0), (620.0, 0.0, 204.0))
    one = replace(wing(rows, patches=CARD), stations=raised(rows, 2.0, 12.0))
    made = made_of(one)
    parts = built(made)
    first, second = parts["wing-skin-1-right"], parts["wing-skin-2-right"]
    assert size(first)[1] == pytest.approx(400.0, abs=0.01)
    # the lower papers meet: the end of one lies where the other begins
    end = place_of(first, 0.0, 400.0) - T * np.cross(first.place.x, first.place.y)
    start = place_of(second) - T * np.cross(second.place.x, second.place.y)
    assert end == pytest.approx(start, abs=1e-6)
    assert not [name for name in parts if "patch" in name]
    shells = {shell.part: shell for shell in made.shells}
    assert shells["wing-skin-1"].outer[:, -1] == pytest.approx(shells["wing-skin-2"].outer[:, 0], abs=0.01)


def test_a_folded_fin_is_one_part():
    one = wing(((0.0, 0.0, 150.0), (200.0, 0.0, 150.0)), role=Role.FIN, joiner=joiner(), name="fin")
    made = made_of(one)
    parts = built(made)
    assert set(parts) == {"fin-skin", "fin-spar-1", "fin-spar-2"}
