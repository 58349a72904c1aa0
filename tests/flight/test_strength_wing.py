"""A wing under its load: where its margin is least, how far its tip bends."""

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given, settings

from foamcut.airframe.flat_surface import flat_surface_parts
from foamcut.airframe.section_refusals import section_refusals
from foamcut.airframe.values import Build, Inputs, Role, Run, Surface
from foamcut.flat.build import build_part
from foamcut.flat.way import Piece
from foamcut.flat.way import Role as PieceRole
from foamcut.flight.strength_places import Joints, Patch, SkinJoint, joints_of, spots
from foamcut.flight.strength_stuff import Kind, Level
from foamcut.flight.strength_wing import Wing, at_spot, beam_at, tip_deflection_mm, worst
from foamcut.flight.values import Cut
from tests.airframe.folded_wings import CARD, PLY, aileron, joiner, wing
from tests.airframe.section_surfaces import BOARD, spar, stations, surface, surfaces
from tests.flight.strength_sample import bare_model, load_on, standing_model, wing_of

LONG = ((0.0, 0.0, 204.0), (900.0, 0.0, 204.0))


def flat(chord: float = 200.0, half: float = 500.0, tip: float | None = None, **more) -> Surface:
    rows = stations((0.0, 0.0, chord), (half, 0.0, chord if tip is None else tip))
    return surface(**{"build": Build.FLAT, "spar": None, "stations": rows} | more)


def margin(one: Wing) -> float:
    found = worst(one)
    assert found is not None
    return found.stress.margin


def test_tip_of_a_plank_under_a_uniform_load():
    """w L^4 / 8 E I.  Check: arithmetic (cantilever)."""
    one = flat()
    load = load_on(one, elliptic_share=0.0)
    made = wing_of(one, load=load)
    beam = beam_at(made, spots(one, Joints(), 0.0)[0], Level.USUAL)
    assert beam is not None

    expected = load.lift_n / 1000 * 500.0**4 / (8 * beam.stiffness_n_mm2)
    assert tip_deflection_mm(made) == pytest.approx(expected, rel=1e-9)


def test_tip_of_a_tapered_wing_against_the_integral_on_a_fine_grid():
    """Check: arithmetic (moment over stiffness summed in steps of 0.05 mm)."""
    one = flat(240.0, 500.0, 100.0)
    made = wing_of(one)
    total, step = 0.0, 0.05
    stiff = beam_at(made, spots(one, Joints(), 0.0)[0], Level.USUAL)
    assert stiff is not None
    for i in range(10000):
        s = (i + 0.5) * step
        chord = 240.0 - 140.0 * s / 500.0  # a flat board is as stiff as it is wide
        total += made.load.moment_n_mm(s) * (500.0 - s) / (stiff.stiffness_n_mm2 * chord / 240.0) * step
    # stiffness of a board is straight along the span: what is left is Simpson's rule
    assert tip_deflection_mm(made) == pytest.approx(total, rel=2e-4)


def test_a_plank_is_worst_at_its_root_and_by_hand():
    """M / (E I) E n of two papers.  Check: arithmetic."""
    made = worst(wing_of(flat()))
    assert made is not None
    paper, core, arm = 200 * 0.22, 200 * 4.56**3 / 12, 2.5 - 0.11
    bending = 3000 * (2 * paper * arm**2 + 2 * 200 * 0.22**3 / 12) + 2.0 * core

    assert made.spot.s_mm == 0.0
    assert made.moment_n_mm == pytest.approx(wing_of(flat()).load.moment_n_mm(0.0))
    assert abs(made.stress.stress_mpa) == pytest.approx(made.moment_n_mm * 3000 * arm / bending)
    assert made.stress.margin == pytest.approx(10.0 / abs(made.stress.stress_mpa))


def test_a_joiner_moves_what_is_judged_to_where_it_ends():
    made = worst(wing_of(surface(), from_mm=80.0))
    assert made is not None
    assert made.spot.s_mm == 80.0
    assert made.stress.margin > margin(wing_of(surface()))


def test_twice_the_load_halves_the_margin():
    one = surface()
    assert margin(wing_of(one, load=load_on(one, 62.8))) == pytest.approx(margin(wing_of(one)) / 2)


def test_more_strips_and_wider_strips_bear_more():
    now = margin(wing_of(surface()))
    assert margin(wing_of(surface(spar=spar(layers=3)))) > 1.2 * now
    assert margin(wing_of(surface(spar=spar(width_mm=40.0)))) > now
    assert margin(wing_of(surface(spar=spar(layers=2, tip_layers=1)))) <= now


def test_behind_a_hinge_line_nothing_bears():
    plain, cut = wing_of(wing()), wing_of(wing(controls=(aileron(),)))
    (spot,) = [one for one in spots(plain.surface, Joints(), 0.0) if one.s_mm == 345.0]
    beams = [beam_at(one, spot, Level.USUAL) for one in (plain, cut)]

    assert all(beams)
    assert beams[1].stiffness_n_mm2 < beams[0].stiffness_n_mm2
    hinge = spot.panel.trailing(345.0) - 48.0
    reach = max(c for band in beams[1].bands for c, _ in (band.first, band.last))
    assert hinge - 0.5 < reach <= hinge + 1.0


def test_a_swept_spar_counts_less():
    rows = stations((0.0, 0.0, 240.0), (552.0, 250.0, 160.0))
    along, square = (
        wing_of(surface(stations=rows, spar=spar(run=run, behind_mm=60.0)))
        for run in (Run.FOLLOW, Run.SQUARE)
    )
    spot = spots(along.surface, Joints(), 0.0)[0]
    first, second = (beam_at(one, spot, Level.USUAL) for one in (along, square))
    assert first is not None
    assert second is not None
    assert first.stiffness_n_mm2 < second.stiffness_n_mm2


def test_at_a_joint_of_the_skin_the_lower_skin_is_not_counted_but_patches_are():
    one = surface()
    bare = Joints(skin=(SkinJoint(s_mm=250.0),))
    patch = Patch(from_mm=70.0, to_mm=130.0, thickness_mm=2.0, stock="ply")
    patched = Joints(skin=(SkinJoint(s_mm=250.0, patches=(patch,)),))
    found = {}
    for name, joints in (("whole", Joints()), ("bare", bare), ("patched", patched)):
        made = wing_of(one, joints=joints)
        (spot,) = [spot for spot in spots(one, joints, 0.0) if spot.skin] or [
            spot for spot in spots(one, joints, 0.0) if spot.s_mm == 241.5
        ]
        beam = beam_at(made, spot, Level.USUAL)
        assert beam is not None
        found[name] = beam.stiffness_n_mm2
    assert found["bare"] < found["whole"]
    assert found["bare"] < found["patched"]


def test_a_flat_board_is_held_at_its_joint_by_the_doubler_alone():
    one = flat()
    open_joint = Joints(skin=(SkinJoint(s_mm=100.0),))
    doubler = Patch(from_mm=5.0, to_mm=195.0, thickness_mm=5.0, stock="board")
    made = wing_of(one, joints=Joints(skin=(SkinJoint(s_mm=100.0, patches=(doubler,)),)))
    (spot,) = [spot for spot in spots(one, made.joints, 0.0) if spot.skin]

    found = at_spot(made, spot, Level.USUAL)
    plain = at_spot(wing_of(one), replace(spot, skin=None), Level.USUAL)
    assert found is not None
    assert plain is not None
    assert abs(found.stress.stress_mpa) == pytest.approx(abs(plain.stress.stress_mpa) * 200 / 190, rel=1e-3)
    # without a doubler nothing bears there, and no margin is made up
    (gap,) = [spot for spot in spots(one, open_joint, 0.0) if spot.skin]
    assert beam_at(wing_of(one, joints=open_joint), gap, Level.USUAL) is None


def test_boards_on_each_other_are_much_stiffer():
    one = flat()
    first, second = (tip_deflection_mm(wing_of(one, boards=count)) for count in (1, 2))
    assert first is not None
    assert second is not None
    assert 3 < first / second < 5


def test_of_boards_on_each_other_those_under_a_joint_run_through():
    one = flat()
    joints = Joints(skin=(SkinJoint(s_mm=100.0),))
    (spot,) = [spot for spot in spots(one, joints, 0.0) if spot.skin]
    joined = beam_at(wing_of(one, joints=joints, boards=2), spot, Level.USUAL)
    single = beam_at(wing_of(one), replace(spot, skin=None), Level.USUAL)
    assert joined is not None
    assert single is not None
    assert joined.stiffness_n_mm2 == pytest.approx(single.stiffness_n_mm2)


def test_a_board_across_the_middle_that_is_cut_on_the_left_is_judged_there():
    """Its right half is whole; the wing is as weak as its left one."""
    one = flat()
    (whole,) = (drawn for drawn in flat_surface_parts(one, Inputs(surfaces=(one,))).parts)
    part = build_part(whole)[0][0]

    def piece(role: PieceRole, low: float, high: float) -> Cut:
        shape: Any = SimpleNamespace(
            outline=SimpleNamespace(bounds=(0.0, low, 200.0, high)), thickness_mm=5.0, stock="board"
        )
        return Cut(piece=Piece(part=part, role=role, flat=shape), count=1)

    cuts = (
        piece(PieceRole.SECTION, -500.0, -120.0),
        piece(PieceRole.SECTION, -120.0, 500.0),
        piece(PieceRole.DOUBLER, -160.0, -80.0),
    )
    (joint,) = joints_of(bare_model(one, cuts=cuts), one).skin
    assert joint.s_mm == 120.0
    assert [(patch.from_mm, patch.to_mm) for patch in joint.patches] == [(0.0, 200.0)]


def test_foam_without_paper_is_judged_by_the_foam():
    foam = replace(BOARD, name="foam")
    made = wing_of(surface(material=foam, spar=spar(material=foam)))
    found = worst(made)
    assert made.kind is Kind.FOAM
    assert found is not None
    assert found.stress.stuff.word == "foam"
    assert found.stress.limit_mpa == 0.20


def test_what_is_not_known_is_not_judged():
    balsa = replace(BOARD, name="balsa")
    made = wing_of(surface(material=balsa, spar=spar(material=balsa)))
    assert worst(made) is None
    assert tip_deflection_mm(made) is None


def test_joints_of_a_long_wing_are_found_where_its_parts_end():
    long = wing(LONG, 2.0, patches=CARD)
    found = joints_of(standing_model(long), long)
    (joint,) = found.skin

    assert joint.s_mm == pytest.approx(450.0, abs=0.01)
    assert len(joint.patches) == 2
    front, rear = joint.patches
    assert front.to_mm <= 36.0 < 61.0 <= rear.from_mm
    assert front.stock == "card"
    # strips of 694 mm at most: each layer is cut once, apart from the skin's joint and from the other's
    assert [layer for _, layer in sorted(found.strips, key=lambda one: one[1])] == [1, 2]
    assert all(abs(s - 450.0) >= 100.0 for s, _ in found.strips)
    assert found.breaks == ()


def test_a_joint_of_a_strip_weakens_its_place():
    long = wing(LONG, 2.0)
    made = wing_of(long, joints=joints_of(standing_model(long), long))
    for spot in spots(long, made.joints, 0.0):
        if spot.words != "at a joint of a strip, ":
            continue
        weak = beam_at(made, spot, Level.USUAL)
        whole = beam_at(made, replace(spot, layers=(1, 2)), Level.USUAL)
        assert weak is not None
        assert whole is not None
        assert weak.stiffness_n_mm2 < whole.stiffness_n_mm2
    assert sum(spot.words == "at a joint of a strip, " for spot in spots(long, made.joints, 0.0)) == 2


def test_panels_at_an_angle_are_breaks_and_no_joints():
    rows = ((0.0, 0.0, 204.0), (400.0, 0.0, 204.0), (700.0, 10.0, 150.0))
    bent = wing(rows, 3.0, 10.0)
    found = joints_of(standing_model(bent), bent)
    assert found.breaks == (400.0,)
    assert found.skin == ()
    assert found.strips == ()


def test_a_short_wing_runs_through():
    one = wing(((0.0, 0.0, 204.0), (450.0, 0.0, 180.0)), 2.0, joiner=joiner(material=PLY))
    assert joints_of(standing_model(one), one) == Joints()
    assert joints_of(bare_model(one), one) == Joints()


@settings(max_examples=25)
@given(surfaces())
def test_every_wing_that_can_be_folded_can_be_judged(one):
    """Margins are finite and above 0; a tip bends up."""
    if one.role is not Role.WING or section_refusals(one):
        return
    made = wing_of(one)
    found = worst(made)
    bent = tip_deflection_mm(made)
    assert found is not None
    assert 0 < found.stress.margin < float("inf")
    assert bent is not None
    assert bent > 0


def test_raised_wings_give_the_same_as_level_ones():
    """Dihedral is left out: s is measured along the panels."""
    level, up = (wing(((0.0, 0.0, 204.0), (552.0, 6.0, 162.0)), angle) for angle in (0.0, 6.0))
    assert margin(wing_of(up)) == pytest.approx(margin(wing_of(level)))
