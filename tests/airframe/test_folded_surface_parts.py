"""Joints, two skins, panels and bodies of a folded wing; against arithmetic."""

from dataclasses import replace

import numpy as np
import pytest

from foamcut.airframe.folded_flat import laid_flat
from foamcut.airframe.values import Nose, Role, Run
from foamcut.flat.drawn import Face, Turns
from tests.airframe.folded_wings import (
    CARD,
    PLY,
    STRAIGHT,
    TWIN,
    USABLE,
    aileron,
    boxed,
    built,
    joiner,
    made_of,
    piece_of,
    place_of,
    raised,
    size,
    wing,
)
from tests.airframe.section_surfaces import BOARD, spar

T, LAYER = 5.0, 5.0
LONG = ((0.0, 0.0, 204.0), (900.0, 0.0, 204.0))


def test_a_skin_is_parted_where_a_strip_ends_when_it_would_not_lie_flat():
    """Arithmetic: the strip ends at half of 552 mm; parted there the pattern is within 0.5 mm, whole it is not."""
    stepped = spar(material=USABLE, tip_layers=1, tip_width_mm=15.0)
    made = made_of(wing(TWIN, spar=stepped))
    parts = built(made)
    assert place_of(parts["wing-skin-2-right"])[1] == pytest.approx(276.0)
    assert laid_flat(piece_of(wing(TWIN, spar=stepped))).error_mm > 0.5
    (finding,) = [found for found in made.findings if found.code == "skin-development"]
    (joined,) = [found for found in made.findings if found.code == "skin-joined"]
    whole = laid_flat(piece_of(wing(TWIN, spar=stepped))).error_mm
    assert f"in one piece its flat pattern would be {whole:.2f} mm off its shape" in joined.text
    assert float(finding.value.split()[0]) <= 0.5


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
    assert "flat pattern" not in finding.text  # its board is too short
    assert "give the design a thin stock" in finding.mend


def test_without_patches_the_thin_stock_of_a_horn_is_named():
    made = made_of(wing(LONG, controls=(aileron(from_mm=600.0, to_mm=800.0, horn=PLY),)))
    (finding,) = [found for found in made.findings if found.code == "skin-joined"]
    assert finding.mend.startswith('patches = "ply"')


def test_a_sheet_wider_than_every_board_is_made_of_two_skins():
    """Arithmetic: twice 300 mm and the nose are more than 494 mm, one skin is not."""
    one = wing(((0.0, 0.0, 300.0), (552.0, 0.0, 300.0)), joiner=joiner())
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
    made = made_of(wing(STRAIGHT, nose=Nose.TWO_SKINS, joiner=joiner()))
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


@pytest.mark.parametrize(("z", "upper"), [(70.0, False), (2.0, True)])
def test_the_saddle_is_marked_outside_on_the_skin_that_lies_in_it(z, upper):
    """Arithmetic: half of the body's 62 mm from the centre plane; a high wing lies on its lower skin."""
    one = wing(STRAIGHT, at=(240.0, z), nose_height_mm=10.0)
    part = built(made_of(one, bodies=(boxed(),)))["wing-skin-right"]
    (mark,) = [mark for mark in part.marks if mark.text == "saddle"]
    assert mark.face is Face.OUTER
    points = [end for run in mark.runs for segment in run for end in (segment.start, segment.end)]
    assert {round(y, 3) for _, y in points} == {31.0}
    assert (max(x for x, _ in points) < 0) is upper
    (balance,) = [mark for mark in part.marks if mark.key.endswith("balance")]
    assert balance.tip[1] == pytest.approx(31.0 + 10.0)  # a finger's place beside the body
