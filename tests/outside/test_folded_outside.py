"""The folded shape held against published examples and plane geometry that knows nothing of the program.

Each check names its source: *published*, *arithmetic* (a short sum beside it) or *memory*.
"""

import math

import numpy as np
import pytest
import shapely

from foamcut.flat.build import build_part
from foamcut.flat.panels import Folded, Panel, fold_up
from foamcut.flat.part import Part
from foamcut.flat.solids import flat_solid, solid
from tests.strategies import fold, hole, panel, readings, rectangle

T = 5.0
INCH = 25.4


def across(i: int, kind: str, x: float, turn: float = 90.0, *, to_the_right: bool = True, **more):
    """A fold across a strip at x; the panel at larger x, or else at smaller x, turns."""
    ends = (x, 900.0), (x, -900.0)
    return fold(i, kind, *(ends if to_the_right else ends[::-1]), turn, **more)


def strip(width: float, *folds, long: float = 60.0, thickness: float = T) -> Part:
    return build_part(panel(rectangle(width, long), folds=folds, thickness_mm=thickness))[0][0]


def outer_box(part: Part) -> list[float]:
    """Extents of the panels' solids along x, y and z of the first one; facets of a roll stand out a little."""
    boxes = [solid(part, piece).bounding_box() for piece in proper(fold_up(part))]
    return [max(box[i + 3] for box in boxes) - min(box[i] for box in boxes) for i in range(3)]


def proper(folded: Folded) -> list[Panel]:
    """Panels without the facets of rolls, by their lowest x."""
    return sorted((p for p in folded.panels if p.of_roll is None), key=lambda p: p.outline.bounds)


@pytest.mark.parametrize("kind", ["wrap", "groove"])
def test_a_trough_of_280_mm_is_80_by_100_outside(kind):
    """*arithmetic*: the outer paper keeps its length: 100 + 80 + 100 = 280 mm, whatever the corner."""
    lift = T if kind == "wrap" else 0.0  # the strip of a wrap lies before the line where the paper turns
    part = strip(
        280.0,
        across(0, kind, 100.0 + lift, to_the_right=False),
        across(1, kind, 180.0 - lift),
    )
    assert [p.outline.bounds[2] - p.outline.bounds[0] for p in proper(fold_up(part))] == [100.0, 80.0, 100.0]
    sizes = outer_box(part)
    assert sorted(sizes) == pytest.approx([60.0, 80.0, 100.0], abs=1e-9)


def test_the_handbooks_channel():
    """A channel 1 x 2 x 1 in outside, T 0.040, R 0.16 (inner), 90 degrees.

    *published* (Aviation Maintenance Technician Handbook - Airframe, FAA, sheet metal bending example):
    setback T + R = 0.2 in, flats 0.8, 1.6 and 0.8 in.  *arithmetic*, at K = 0.5: developed 3.7655 in.
    A roll is drawn on the outer paper, which is longer than the neutral line by the angle times t / 2.
    """
    t, inner = 0.040 * INCH, 0.16 * INCH
    outer = inner + t  # the setback at 90 degrees is the outer radius
    assert outer == pytest.approx(0.2 * INCH)
    arc = outer * math.pi / 2
    total = (0.8 + 1.6 + 0.8) * INCH + 2 * arc
    part = strip(
        total,
        across(0, "roll", 0.8 * INCH, radius_mm=outer),
        across(1, "roll", 2.4 * INCH + arc, radius_mm=outer),
        thickness=t,
    )
    folded = fold_up(part)
    flats = [(p.outline.bounds[2] - p.outline.bounds[0]) / INCH for p in proper(folded)]
    assert flats == pytest.approx([0.8, 1.6, 0.8], abs=1e-6)
    assert [size / INCH for size in outer_box(part)] == pytest.approx([1.0, 60.0 / INCH, 2.0], abs=1e-6)
    bends = [f.band_mm[1] - f.band_mm[0] - math.radians(f.turn_deg) * t / 2 for f in part.folds]
    assert sum(flats) + sum(bends) / INCH == pytest.approx(3.7655, abs=5e-5)


@pytest.mark.parametrize("radius", [30.0, 75.0])
def test_a_full_turn_of_a_roll_is_a_cylinder(radius):
    """*arithmetic*: 2 pi R of outer paper goes once round and comes back to where it began."""
    round_mm = 2 * math.pi * radius
    part = strip(20.0 + round_mm + 20.0, across(0, "roll", 20.0, 360.0, radius_mm=radius))
    folded = fold_up(part)
    first, last = proper(folded)
    for y in (0.0, 60.0):
        begins, ends = first.pose.point(20.0, y, -T), last.pose.point(20.0 + round_mm, y, -T)
        assert ends == pytest.approx(begins, abs=1e-6)
    facets = [p for p in folded.panels if p.of_roll == 0]
    assert len(facets) == math.ceil(round_mm / T)
    for facet in facets:
        x0, _, x1, _ = facet.outline.bounds
        x, _, z = facet.pose.point((x0 + x1) / 2, 30.0, -T)
        assert math.hypot(x - 20.0, z - (radius - T)) == pytest.approx(radius, abs=1e-6)


def test_half_a_turn_stands_two_radii_high():
    """*arithmetic*: a half round of radius 32 between walls of 20 is 64 mm outside, wall over wall."""
    part = strip(2 * 20.0 + 32.0 * math.pi, across(0, "roll", 20.0, 180.0, radius_mm=32.0))
    first, last = proper(fold_up(part))
    low, high = first.pose.point(0.0, 0.0, -T), last.pose.point(40.0 + 32.0 * math.pi, 0.0, -T)
    assert high[2] - low[2] == pytest.approx(64.0, abs=1e-6)
    assert high[0] == pytest.approx(low[0], abs=1e-6)


SLANT, TOP_SLANT, RADIUS = 200.0, 80.0, 60.0  # of a cone: apex to rim, apex to the upper rim, of the rim


def frustum(count: int, kind: str) -> tuple[Folded, float]:
    """A ring sector folded along its rays, and its angle, radians."""
    sector = 2 * math.pi * RADIUS / SLANT
    step = sector / count
    # a regular pyramid with edges SLANT and apex angles `step`
    rim = SLANT * math.sin(step / 2) / math.sin(math.pi / count)
    apothem, slope = rim * math.cos(math.pi / count), SLANT * math.cos(step / 2)
    level, upright = math.sqrt(slope**2 - apothem**2) / slope, apothem / slope  # of a face's normal
    turn = math.degrees(math.acos(level**2 * math.cos(2 * math.pi / count) + upright**2))
    rays = [(math.cos(i * step), math.sin(i * step)) for i in range(count + 1)]
    rows = [(SLANT * x, SLANT * y) for x, y in rays] + [(TOP_SLANT * x, TOP_SLANT * y) for x, y in rays[::-1]]
    folds = [
        fold(i, kind, (TOP_SLANT * x, TOP_SLANT * y), (SLANT * x, SLANT * y), turn)
        for i, (x, y) in enumerate(rays[1:-1])
    ]
    part = build_part(panel(readings(*rows), folds=tuple(folds)))[0][0]
    return fold_up(part), sector


@pytest.mark.parametrize("kind", ["groove", "score"])
@pytest.mark.parametrize("count", [5, 8, 16, 40])
def test_a_ring_sector_closes_to_a_frustum(count, kind):
    """*memory*: the development of a cone is a sector of 2 pi r / slant; the end edges meet when folded."""
    folded, sector = frustum(count, kind)
    paper = -T  # the whole one: behind, since the drawn face is cut
    ends = {
        name: next(
            p for p in folded.panels if p.outline.polygon.distance(_at(angle, (SLANT + TOP_SLANT) / 2)) < 1e-3
        )
        for name, angle in (("begin", 0.0), ("end", sector))
    }
    for reach in (TOP_SLANT, SLANT):
        begins = ends["begin"].pose.point(reach, 0.0, paper)
        closes = ends["end"].pose.point(reach * math.cos(sector), reach * math.sin(sector), paper)
        assert closes == pytest.approx(begins, abs=2e-5)
    apexes = np.array([p.pose.point(0.0, 0.0, paper) for p in folded.panels])
    assert np.abs(apexes - apexes[0]).max() < 2e-5


def _at(angle: float, reach: float) -> shapely.Point:
    return shapely.Point(reach * math.cos(angle), reach * math.sin(angle))


def test_the_frustum_comes_to_the_cone_as_facets_grow():
    """*memory*: the cone of slant s over radius r is sqrt(s^2 - r^2) high; n facets are off by 1 / n^2."""
    off = []
    for count in (8, 16, 32):
        folded, _ = frustum(count, "groove")
        apex = np.array(folded.panels[0].pose.point(0.0, 0.0, -T))
        step = 2 * math.pi * RADIUS / SLANT / count
        rims = np.array(
            [
                p.pose.point(SLANT * math.cos(i * step), SLANT * math.sin(i * step), -T)
                for i in range(count)
                for p in folded.panels
                if p.outline.polygon.distance(_at(i * step + step / 2, 140.0)) < 1e-3
            ]
        )
        assert len(rims) == count
        middle = rims.mean(axis=0)
        radii = np.linalg.norm(rims - middle, axis=1)
        assert np.ptp(radii) < 2e-5
        height = float(np.linalg.norm(middle - apex))
        assert height**2 + radii[0] ** 2 == pytest.approx(SLANT**2, abs=1e-2)
        off.append((height - math.sqrt(SLANT**2 - RADIUS**2), float(radii[0]) - RADIUS))
    for (h0, r0), (h1, r1) in ((off[0], off[1]), (off[1], off[2])):
        assert h0 / h1 == pytest.approx(4.0, rel=0.05)
        assert r0 / r1 == pytest.approx(4.0, rel=0.05)


@pytest.mark.parametrize(
    ("taken", "folds"),
    [
        (0.0, ()),
        (0.0, (across(0, "score", 100.0, 60.0),)),
        # a right triangle t by t tan(turn / 2) off either panel
        (2 * T * T * math.tan(math.radians(45)) / 2, (across(0, "groove", 100.0),)),
        (2 * T * T * math.tan(math.radians(25)) / 2, (across(0, "groove", 100.0, 50.0),)),
        (2 * T * T * math.tan(math.radians(35)) / 2, (across(0, "groove", 100.0, 50.0, groove_extra_deg=20.0),)),
        # a strip t wide
        (T * T, (across(0, "wrap", 100.0),)),
        (T * 3.0, (across(0, "wrap", 100.0, lands_thickness_mm=3.0),)),
        # a right triangle off one panel
        (T * T * math.tan(math.radians(40)) / 2, (across(0, "hinge", 100.0, 0.0, bevel_deg=40.0),)),
    ],
)  # fmt: skip
def test_volume_is_area_times_thickness_less_what_is_cut_away(taken, folds):
    """*arithmetic*: prisms of the section that is taken, 60 mm long; area by shapely."""
    part = strip(200.0, *folds)
    volume = sum(solid(part, piece).volume() for piece in fold_up(part).panels)
    assert volume == pytest.approx(part.outline.polygon.area * T - taken * 60.0, rel=1e-9)


def test_volume_of_a_plate_with_a_bevel_and_a_hole():
    """*arithmetic*: a bevel of 30 degrees takes t^2 tan(30 degrees) / 2 along its edge; a disc of 20 mm."""
    shape = readings((0, 0, {"bevel_deg": 30.0}), (100, 0), (100, 50), (0, 50))
    part = build_part(panel(shape, cutouts=(hole(0, (50.0, 30.0), 20.0),)))[0][0]
    (only,) = fold_up(part).panels
    taken = T * T * math.tan(math.radians(30)) / 2 * 100.0
    assert flat_solid(part, only).volume() == pytest.approx(part.outline.polygon.area * T - taken, rel=1e-9)
    # the hole's chords are at most 0.005 mm off its circle: its area is short by less than that times its round
    assert part.outline.polygon.area == pytest.approx(5000 - math.pi * 100, abs=0.005 * math.pi * 20)
