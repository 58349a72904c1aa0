"""Folds and bevels against what is known outside the program.  Each check names its source and carries a tag."""

import math
from itertools import pairwise

import pytest

from foamcut.flat.build import build_part
from foamcut.flat.drawn import DrawnFold, FoldAt
from foamcut.flat.folds import Fold
from foamcut.flat.part import Part
from tests.strategies import fold, panel, readings, rectangle


def built(*folds: DrawnFold, width: float = 280.0, height: float = 50.0) -> Part:
    """A plate of 5 mm board with folds."""
    return build_part(panel(rectangle(width, height), folds=folds))[0][0]


def xs(runs) -> list[float]:
    return [run[0].start[0] for run in runs]


@pytest.mark.parametrize(("turn", "mouth"), [(30.0, 2.68), (45.0, 4.14), (60.0, 5.77), (90.0, 10.00)])
def test_mouth_of_a_groove_folded_shut(turn, mouth):
    """*arithmetic*: two right triangles, mouth = 2 t tan(turn / 2); at 90 degrees each side is cut at 45
    and takes one thickness, the model maker's rule for a mitre (*common practice, no source*)."""
    (found,) = built(fold(0, "groove", (50, 0), (50, 50), turn)).folds
    right, left = xs(found.groove)
    assert round(right - left, 2) == mouth
    assert right - 50 == pytest.approx(50 - left)


@pytest.mark.parametrize(("turn", "mouth"), [(90.0, 7.07), (60.0, 5.00), (180.0 - 1e-9, 10.0)])
def test_mouth_of_a_score_that_opens(turn, mouth):
    """*arithmetic*: a score has one line and opens about the far paper; the two lips, t from the hinge and
    the turn apart, are the ends of a chord: 2 t sin(turn / 2)."""
    (found,) = built(fold(0, "score", (50, 0), (50, 50), turn)).folds
    (hinge,) = xs(found.fold)
    (cut,) = xs(found.half)
    lips = [
        (t * math.cos(a), t * math.sin(a))
        for t, a in ((found.thickness_mm, 0.0), (found.thickness_mm, math.radians(found.turn_deg)))
    ]
    assert cut == hinge == 50
    assert math.dist(*lips) == pytest.approx(mouth, abs=0.005)


@pytest.mark.parametrize(("bevel", "off"), [(30.0, 2.9), (45.0, 5.0), (60.0, 8.7)])
def test_foam_that_the_bevel_of_a_hinge_takes(bevel, off):
    """*arithmetic*: a right triangle of the board's thickness, t tan(bevel)."""
    (found,) = built(fold(0, "hinge", (50, 0), (50, 50), 0.0, bevel_deg=bevel)).folds
    ((half,), (line,)) = xs(found.half), xs(found.bevel)
    assert round(half - line, 1) == off


@pytest.mark.parametrize(("bevel", "off"), [(30.0, 2.9), (45.0, 5.0), (60.0, 8.7)])
def test_foam_that_the_bevel_of_an_edge_takes(bevel, off):
    """*arithmetic*: the same triangle at an edge; the outline stays the larger face."""
    shape = readings((0, 0, {"bevel_deg": bevel}), (100, 0), (100, 50), (0, 50))
    (found,) = build_part(panel(shape))[0][0].bevels
    assert round(found.runs[0][0].start[1], 1) == off


def outer_lengths(folds: tuple[Fold, ...], width: float) -> list[float]:
    """Lengths of the outer paper between the lines where it turns."""
    turns = sorted(x for found in folds for x in xs(found.fold))
    return [b - a for a, b in zip([0.0, *turns], [*turns, width], strict=True)]


def test_trough_with_two_grooves():
    """*arithmetic*: the outer paper keeps its length, so a trough 80 wide and 100 high outside is
    100 + 80 + 100 = 280 mm flat, and its paper turns at 100 and at 180."""
    part = built(fold(0, "groove", (100, -1), (100, 51)), fold(1, "groove", (180, 51), (180, -1)))
    assert outer_lengths(part.folds, 280.0) == pytest.approx([100, 80, 100])
    assert sorted(x for found in part.folds for x in xs(found.groove)) == pytest.approx([95, 105, 175, 185])


@pytest.mark.parametrize(("at", "drawn"), [("far", (105.0, 175.0)), ("near", (100.0, 180.0))])
def test_trough_with_two_wraps(at, drawn):
    """*arithmetic*: the same trough; the total is 280 mm whichever edge of the strip the paper turns at.
    Drawn from the floor outwards: with `far` each strip of one thickness lies within the floor's 80 mm,
    with `near` within the wall's 100 mm."""
    first, second = drawn
    part = built(
        fold(0, "wrap", (first, -1), (first, 51), fold_at=FoldAt(at)),
        fold(1, "wrap", (second, 51), (second, -1), fold_at=FoldAt(at)),
    )
    assert outer_lengths(part.folds, 280.0) == pytest.approx([100, 80, 100])
    strips = sorted(x for found in part.folds for x in xs(found.lift))
    assert strips == pytest.approx([100, 105, 175, 180] if at == "far" else [95, 100, 180, 185])


@pytest.mark.parametrize(("radius", "turn"), [(20.0, 90.0), (30.0, 180.0), (15.0, 60.0)])
def test_a_roll_takes_the_arc_of_its_outer_radius(radius, turn):
    """*arithmetic*: the development of a part of a cylinder is R times its angle wide; 90 degrees take
    1.57 R."""
    (found,) = built(fold(0, "roll", (200, -1), (200, 51), turn, radius_mm=radius)).folds
    places = xs(found.half)
    assert max(places) - min(places) == pytest.approx(math.pi * radius * turn / 180)
    gaps = [a - b for a, b in pairwise(places)]
    assert max(gaps) - min(gaps) < 1e-9
    assert max(gaps) <= found.thickness_mm + 1e-9


def test_a_whole_tube_is_its_circumference():
    """*arithmetic*: a full turn of a roll is 2 pi R of outer paper."""
    (found,) = built(fold(0, "roll", (200, -1), (200, 51), 360.0, radius_mm=20.0)).folds
    assert found.band_mm == pytest.approx((0, 2 * math.pi * 20))
