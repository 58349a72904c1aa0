"""What holds for the folded shape of any part: nothing stretches, tears, grows or changes hands.

mm; space as in `foamcut.flat.panels`.
"""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings

from foamcut.errors import Refused
from foamcut.flat.build import build_part
from foamcut.flat.clipping import run_points
from foamcut.flat.drawn import FoldKind, Hand, Side
from foamcut.flat.folded_check import fold_findings
from foamcut.flat.folds import Fold
from foamcut.flat.frame import Frame
from foamcut.flat.panels import Folded, Panel, fold_up
from foamcut.flat.solids import solid
from tests.strategies import folded_parts, hostile_folds

FEW = settings(max_examples=30, deadline=None)


def paper(fold: Fold) -> float:
    """The height of the whole paper over the drawn face."""
    return -fold.thickness_mm if fold.side is Side.UP else 0.0


def spread(panel: Panel, z: float) -> tuple[np.ndarray, np.ndarray]:
    """The corners of a panel, flat and in space."""
    flat = np.array(panel.outline.rings()[0][:-1])
    return flat, np.array([panel.pose.point(x, y, z) for x, y in flat])


def beside(folded: Folded, fold: Fold, place: tuple[float, float]) -> tuple[list[Panel], list[Panel]]:
    """The panels to the right and to the left of a place on a fold."""
    dx, dy = Frame(fold.start, fold.end).along
    found = []
    for side in (-1.0, 1.0):
        spot = shapely.Point(place[0] - side * 0.01 * dy, place[1] + side * 0.01 * dx)
        found.append([p for p in folded.panels if p.outline.polygon.contains(spot)])
    return found[0], found[1]


@FEW
@given(folded_parts())
def test_poses_turn_and_move_and_nothing_else(drawn):
    for part in build_part(drawn)[0]:
        for one in fold_up(part).panels:
            turn = one.pose.matrix[:3, :3]
            assert np.abs(turn @ turn.T - np.eye(3)).max() < 1e-12
            assert np.linalg.det(turn) == pytest.approx(1.0, abs=1e-12)


@FEW
@given(folded_parts())
def test_lengths_on_either_paper_are_those_of_the_flat_part(drawn):
    part = build_part(drawn)[0][0]
    for one in fold_up(part).panels:
        for z in (0.0, -part.thickness_mm):
            flat, placed = spread(one, z)
            for (a, b), (p, q) in zip(pairwise(flat), pairwise(placed), strict=True):
                assert np.linalg.norm(q - p) == pytest.approx(np.linalg.norm(b - a), abs=1e-9)


@FEW
@given(folded_parts())
def test_the_panels_are_the_part(drawn):
    """They cover it, and none lies on another."""
    part = build_part(drawn)[0][0]
    panels = fold_up(part).panels
    # ends of folds are rounded to the nanometre, along lines of at most some hundred millimetres
    room = 1e-6 * sum(p.outline.polygon.length for p in panels)
    assert sum(p.outline.area for p in panels) == pytest.approx(part.outline.area, abs=room)
    assert shapely.union_all([p.outline.polygon for p in panels]).area >= part.outline.area - room


@FEW
@given(folded_parts())
def test_neighbours_keep_their_fold_line(drawn):
    """Where its whole paper turns, both panels beside a fold lie at the same place, turned as it says."""
    part = build_part(drawn)[0][0]
    folded = fold_up(part)
    seen = 0
    for fold in part.folds:
        for run in fold.fold if fold.kind is not FoldKind.ROLL else ():
            a, b = run_points(run)[0], run_points(run)[-1]
            middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
            (right,), (left,) = beside(folded, fold, middle)
            for place in (a, middle, b):
                here = right.pose.point(*place, paper(fold))
                assert left.pose.point(*place, paper(fold)) == pytest.approx(here, abs=1e-9)
            cosine = float(right.pose.matrix[:3, 2] @ left.pose.matrix[:3, 2])
            far = fold.kind is FoldKind.STRIP and right.of_strip is not None
            turn = fold.far_turn_deg if far else fold.turn_deg
            assert cosine == pytest.approx(math.cos(math.radians(turn)), abs=1e-9)
            seen += 1
    assert seen or all(fold.kind is FoldKind.ROLL for fold in part.folds)


@FEW
@given(folded_parts())
def test_facets_of_a_roll_lie_on_its_cylinder(drawn):
    """Their whole paper touches it; where two facets meet the paper steps by less than the sagitta."""
    part = build_part(drawn)[0][0]
    folded = fold_up(part)
    for index, fold in enumerate(part.folds):
        if fold.kind is not FoldKind.ROLL:
            continue
        frame, z = Frame(fold.start, fold.end), paper(fold)
        starts = (float(frame.us(np.array([run[0].start]))[1][0]) for run in fold.half)
        places = sorted({round(s, 4): s for s in starts}.values())
        half = max(b - a for a, b in pairwise(places)) / 2 / fold.radius_mm
        step = fold.radius_mm * math.hypot(
            math.sin(half) - half * math.cos(half), 1 - math.cos(half) - half * math.sin(half)
        )
        for run in fold.half:
            a, b = run_points(run)[0], run_points(run)[-1]
            middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
            for right in beside(folded, fold, middle)[0]:
                for left in beside(folded, fold, middle)[1]:
                    off = np.subtract(right.pose.point(*middle, z), left.pose.point(*middle, z))
                    assert np.linalg.norm(off) <= step + 1e-6
                    assert index in right.folds and index in left.folds


@FEW
@given(folded_parts())
def test_the_other_hand_folds_to_the_mirror_image(drawn):
    """Every panel of the one hand has its image on the other, y -> -y, in space as on the flat part."""
    parts = build_part(drawn)[0]
    if len(parts) < 2:
        return
    assert {part.hand for part in parts} == {Hand.RIGHT, Hand.LEFT}
    right, left = (fold_up(part) for part in parts)
    assert len(right.panels) == len(left.panels)
    for one in right.panels:
        image = one.outline.mirrored().polygon
        (other,) = [p for p in left.panels if p.outline.polygon.symmetric_difference(image).area < 1e-3]
        assert (other.of_roll, other.of_strip) == (one.of_roll, one.of_strip)
        assert other.turned_by == one.turned_by
        for x, y in one.outline.rings()[0]:
            here, there = one.pose.point(x, y, -3.0), other.pose.point(x, -y, -3.0)
            assert there == pytest.approx((here[0], -here[1], here[2]), abs=1e-6)


@FEW
@given(folded_parts())
def test_solids_never_hold_more_than_the_board(drawn):
    part = build_part(drawn)[0][0]
    volume = sum(solid(part, one).volume() for one in fold_up(part).panels)
    assert 0 < volume <= part.outline.area * part.thickness_mm * (1 + 1e-6)


@settings(max_examples=100, deadline=None)
@given(hostile_folds())
def test_whatever_can_be_built_can_be_folded_and_looked_over(drawn):
    try:
        parts = build_part(drawn)[0]
    except Refused:
        return
    for part in parts:
        folded = fold_up(part)
        room = 1e-6 * sum(p.outline.polygon.length for p in folded.panels)
        assert sum(p.outline.area for p in folded.panels) == pytest.approx(part.outline.area, abs=room)
        for index in range(len(part.folds)):
            assert any(index in p.folds for p in folded.panels) or folded.open_mm > 0
        assert all(finding.text for finding in fold_findings(part))
