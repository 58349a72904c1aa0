"""The twin of the samples in two versions: a longer span, a thinner board, a former that moves."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from foamcut.compare.parts import compared_parts
from foamcut.compare.values import Compared, Verdict
from foamcut.design.design import read_design
from foamcut.flat.drawn import FoldKind
from foamcut.flat.joint_mark import JointMark
from foamcut.flat.outline import straight
from foamcut.flat.part import Part
from foamcut.plan.building import built
from tests.compare.versions import hold

ROOT = Path(__file__).resolve().parents[2]
TWIN = (ROOT / "sample_designs" / "cordgrass-2.toml").read_text("utf-8")
STARTERS = sorted(ROOT.glob("foamcut/design/starters/*.toml"))
SPAN = ("half_span = 92", "half_span = 96")
CONSTANT = ('tip_chord = "tip_chord"', 'tip_chord = "root_chord"')
STRAIGHT = ("tip_back = 1 ", "tip_back = 0 ")
SKINS = ["wing-skin-right", "wing-skin-left"]
STRIPS = [f"wing-spar-{layer}-{hand}" for layer in (1, 2) for hand in ("right", "left")]


@cache
def version(*changes: tuple[str, str]) -> tuple[Part, ...]:
    text = TWIN
    for before, after in changes:
        assert text.count(before) == 1
        text = text.replace(before, after)
    return built(read_design(text.encode(), "twin.toml")).parts


def compared(old: tuple[Part, ...], new: tuple[Part, ...], units: str = "mm") -> dict[str, Compared]:
    found = compared_parts(old, new, units)
    hold(found)
    assert [one.name for one in found if one.new] == [part.name for part in new]
    return {one.name: one for one in found}


def names(found: dict[str, Compared], verdict: Verdict) -> list[str]:
    return [name for name, one in found.items() if one.verdict is verdict]


@pytest.mark.parametrize("path", STARTERS, ids=lambda path: path.stem)
def test_every_starter_against_itself_is_kept(path):
    parts = built(read_design(path.read_bytes(), path.name)).parts
    found = compared(parts, built(read_design(path.read_bytes(), path.name)).parts)
    assert {one.reason for one in found.values()} == {"It is the same."}
    assert {one.verdict for one in found.values()} == {Verdict.KEEP}


def test_a_tapered_wing_that_grows_is_cut_again_for_its_taper_and_its_strips_are_extended():
    found = compared(version(), version(SPAN))
    assert names(found, Verdict.CUT_AGAIN) == SKINS
    assert names(found, Verdict.EXTEND) == STRIPS
    for skin in SKINS:
        assert "the hinge is off by 1.4 mm" in found[skin].reason
        assert "is moved by 1.1 mm" in found[skin].reason


@pytest.mark.parametrize("straight", [(), (STRAIGHT,)], ids=["swept", "straight"])
def test_a_wing_of_constant_chord_that_grows_is_extended(straight):
    old, new = version(CONSTANT, *straight), version(CONSTANT, *straight, SPAN)
    found = compared(old, new)
    assert names(found, Verdict.EXTEND) == [*SKINS, *STRIPS]
    assert names(found, Verdict.CUT_AGAIN) == []
    for name in SKINS:
        one = found[name]
        assert "longer at the tip end" in one.reason
        strip, *patches = one.added
        assert strip.outline.bounds[1 if strip.hand.value == "right" else 3] in (552.0, -552.0)
        assert [part.name.rsplit("-", 1)[-1] for part in patches] == ["a", "b"]
        # they bear the letters of their doublers
        marks = [mark for mark in strip.marks if isinstance(mark, JointMark)]
        assert sorted(mark.letter for mark in marks) == ["A", "B"]


def test_patches_of_a_skin_are_thin_and_keep_off_its_spar_its_folds_and_the_thin_rear():
    """The height inside falls straight from the spar to where the upper board's paper meets the lower one's.

    arithmetic: similar triangles; the spar 10 mm high ends at x = 61, the lower side at 204, boards 5 mm.
    """
    found = compared(version(CONSTANT, STRAIGHT), version(CONSTANT, STRAIGHT, SPAN))
    _, front, rear = found["wing-skin-right"].added
    assert {front.stock, rear.stock} == {"ply"}
    x0, _, x1, _ = front.outline.bounds
    assert x0 >= 6.0 and x1 == pytest.approx(36.0 - 1.0)
    x0, y0, x1, y1 = rear.outline.bounds
    assert x0 == pytest.approx(61.0 + 1.0)
    height_at_end = 10.0 - 15.0 * (x1 - 61.0) / (204.0 - 61.0)
    assert height_at_end == pytest.approx(1.5 + 0.3)
    assert (y0, y1) == (522.0, pytest.approx(575.0))


def test_seams_of_strips_keep_off_that_of_the_skin_and_off_each_other():
    found = compared(version(CONSTANT, STRAIGHT), version(CONSTANT, STRAIGHT, SPAN))
    seams = {}
    for name in STRIPS:
        (piece,) = found[name].added
        y0, y1 = piece.outline.bounds[1], piece.outline.bounds[3]
        seams[name] = min(abs(y0), abs(y1))
        assert piece.outline.bounds[2] == 25.0
        # a builder whose wing is closed already has to know that this is not for it
        assert "while the skin is open" in found[name].reason
    for hand in ("right", "left"):
        places = sorted([552.0, seams[f"wing-spar-1-{hand}"], seams[f"wing-spar-2-{hand}"]])
        # strips are kept four widths of the spar apart
        assert places[1] - places[0] >= 100.0 and places[2] - places[1] >= 100.0
    assert seams["wing-spar-1-right"] == seams["wing-spar-1-left"]


def test_a_wing_that_gets_shorter_is_trimmed():
    found = compared(version(CONSTANT, STRAIGHT, SPAN), version(CONSTANT, STRAIGHT))
    assert names(found, Verdict.TRIM) == [*SKINS, *STRIPS]
    assert found["wing-skin-right"].reason.startswith("Cut 24 mm off at the tip end, at y = 552 mm")
    assert found["wing-skin-left"].reason == found["wing-skin-right"].reason


def with_hinge_to_the_tip(part: Part) -> Part:
    """A right-hand skin whose aileron reaches its tip."""
    tip = part.outline.bounds[3]
    folds = []
    for one in part.folds:
        if one.kind is FoldKind.HINGE:
            start, end = (138.0, 276.0), (138.0, tip)
            one = replace(one, start=start, end=end, half=(), bevel=(), fold=(straight([start, end]),))
        folds.append(one)
    return replace(part, folds=tuple(folds))


def test_an_aileron_that_reaches_the_tip_bars_the_seam():
    old, new = (
        tuple(with_hinge_to_the_tip(part) if part.name == SKINS[0] else part for part in version(*changes))
        for changes in ((CONSTANT, STRAIGHT), (CONSTANT, STRAIGHT, SPAN))
    )
    found = compared(old, new)
    assert found[SKINS[0]].verdict is Verdict.CUT_AGAIN
    assert "a hinge stands at the seam, y = 552 mm" in found[SKINS[0]].reason
    assert found[SKINS[1]].verdict is Verdict.EXTEND


def test_a_thinner_board_is_cut_again_and_plywood_is_judged_by_its_shape():
    found = compared(version(), version(('thickness = "5 mm" ', 'thickness = "4.8 mm" ')))
    for one in found.values():
        board = one.new.stock == "board"
        assert (one.verdict is Verdict.CUT_AGAIN) is board
        if board:
            assert one.reason == "Its board is 4.8 mm thick, it was 5 mm."


def test_a_balance_that_moves_is_drawn_anew_and_nothing_is_cut():
    found = compared(version(), version(('target = { mac = "27 %" }', 'target = { mac = "29 %" }')))
    assert names(found, Verdict.KEEP) == list(found)
    assert "anew, it is moved by 3.7 mm" in found["wing-skin-right"].reason


def test_an_opening_of_a_former_that_grows_is_cut_larger():
    found = compared(version(), version(("opening = [5, 6]", "opening = [5.5, 6]")))
    assert names(found, Verdict.TRIM) == ["fuselage-former-1"]
    assert (
        found["fuselage-former-1"].reason == "Cut the opening at x = 0, y = 36.7 mm larger, by up to 1.5 mm."
    )


def test_a_motor_farther_out_moves_its_slots_and_nothing_of_its_own():
    found = compared(version(), version(("out = 27\n", "out = 27.5\n")))
    assert names(found, Verdict.CUT_AGAIN) == SKINS
    assert "is moved by 3 mm" in found["wing-skin-right"].reason
    assert "3 mm from where it stood" in found["motor-wing-firewall-right"].reason


def test_reasons_in_inches_have_the_mm_beside():
    found = compared(version(CONSTANT, STRAIGHT), version(CONSTANT, STRAIGHT, SPAN), "in")
    assert "(24 mm) longer at the tip end" in found["wing-skin-right"].reason


def test_a_stabiliser_of_one_piece_has_a_left_and_a_right_end():
    one = compared(version(), version(("span = 44\n", "span = 48\n")))["tail-panel"]
    assert one.verdict is Verdict.CUT_AGAIN
    assert "12 mm longer at the right end and 12 mm longer at the left end" in one.reason
