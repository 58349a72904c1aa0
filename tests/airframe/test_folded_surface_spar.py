"""Strips, joiners and the dihedral of a folded wing; against arithmetic."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from foamcut.airframe.planform import panels
from foamcut.airframe.skin_marks import tip_heights
from foamcut.airframe.values import Run
from foamcut.flat.drawn import Hand
from tests.airframe.folded_wings import (
    CARD,
    STRAIGHT,
    TWIN,
    USABLE,
    built,
    joiner,
    made_of,
    place_of,
    size,
    wing,
)
from tests.airframe.section_surfaces import spar

T, LAYER = 5.0, 5.0
LONG = ((0.0, 0.0, 204.0), (900.0, 0.0, 204.0))


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


def test_a_swept_strip_of_a_joined_spar_lies_on_the_line_of_its_spar():
    """Arithmetic: the second strip of a layer begins where the line behind the leading edge is."""
    rows = ((0.0, 0.0, 204.0), (900.0, 90.0, 204.0))
    one = wing(rows, spar=spar(material=USABLE, run=Run.FOLLOW))
    parts = built(made_of(one))
    for name, part in parts.items():
        if "spar" in name and name.endswith("right"):
            x, y, _ = place_of(part)
            assert x - one.at[0] == pytest.approx(36.0 + 0.1 * y, abs=1e-6)


@pytest.mark.parametrize(("back", "start"), [(90.0, 0.0), (-90.0, -2.5 * math.cos(math.atan(0.1)))])
@pytest.mark.parametrize("dihedral", [0.0, 4.0])
def test_a_swept_strip_is_drawn_along_its_own_axis_and_as_wide_as_given(back, start, dihedral):
    """Arithmetic: 450 mm out at 1 in 10 are 450 sqrt(1.01) long; the ends lean by a tenth of 25 mm.

    Its four corners lie on the front and the rear line on the model, which are 25 sqrt(1.01) apart along
    the chord.
    """
    rows = ((0.0, 0.0, 204.0), (450.0, back / 2, 204.0))
    one = wing(rows, dihedral, spar=spar(material=USABLE, run=Run.FOLLOW, layers=1))
    part = built(made_of(one))["wing-spar-1-right"]
    panel = panels(one)[0]
    ring = np.array(part.outline.rings()[0][:-1])
    assert ring.min(axis=0) == pytest.approx([0.0, 0.0], abs=1e-6)
    assert np.ptp(ring[:, 0]) == pytest.approx(25.0, abs=1e-6)
    lean = (T + LAYER) * math.tan(math.radians(dihedral))
    assert np.ptp(ring[:, 1]) == pytest.approx((450.0 - lean) * math.sqrt(1.01) + 2.5, abs=1e-6)
    assert sorted(ring[:, 0]) == pytest.approx([0.0, 0.0, 25.0, 25.0], abs=1e-6)
    on_panel = [panel.place(tuple(place_of(part, x, y).tolist())) for x, y in ring]
    assert {round(n, 6) for _, _, n in on_panel} == {T + LAYER}
    assert sorted({round(s, 5) for _, s, _ in on_panel}) == pytest.approx([lean, 450.0], abs=1e-5)
    ahead = [c - panel.leading(s) for c, s, _ in on_panel]
    assert sorted(ahead) == pytest.approx([36.0, 36.0, *[36.0 + 25.0 * math.sqrt(1.01)] * 2], abs=1e-5)
    assert part.place is not None
    assert np.cross(part.place.x, part.place.y) == pytest.approx(panel.up, abs=1e-9)
    assert panel.place(tuple(place_of(part).tolist()))[1] - lean == pytest.approx(start, abs=1e-5)


@pytest.mark.parametrize("back", [300.0, -300.0])
def test_swept_strips_are_no_longer_than_their_board(back):
    """Arithmetic: 600 mm out and 300 mm aft are 671 mm, with the leaning end of 25 mm 683 mm."""
    rows = ((0.0, 0.0, 204.0), (600.0, back, 204.0))
    for longest, count in ((694.0, 1), (680.0, 2)):
        board = replace(USABLE, boards_mm=((longest, 494.0),))
        made = made_of(wing(rows, material=USABLE, spar=spar(material=board, run=Run.FOLLOW, layers=1)))
        strips = [part for name, part in built(made).items() if "spar" in name and part.hand is Hand.RIGHT]
        assert len(strips) == count
        assert max(size(part)[1] for part in strips) <= longest
