"""Narrow webs: where little material is left between two cuts, or between a cut and the edge.

A builder may want it; it is a finding, not a refusal.  Two looks: the distance between two rings of
the outline; and, for necks within one ring, what an opening of the polygon takes away (moved inwards by
half the width, then outwards again with its corners kept).
"""

import math
from collections.abc import Sequence

import shapely
from shapely import LinearRing, Polygon, STRtree

from foamcut.findings import Finding, Level
from foamcut.flat.outline import Outline, Point
from foamcut.flat.tolerances import NARROW_WEB_MM
from foamcut.flat.trace import length_text, place_text

#: findings of one part that are listed one by one
_MOST_LISTED = 10
#: corners sharper than about 3 degrees count as needles of material; the rest are left alone
_MITRE_LIMIT = 40.0
#: what an opening takes away that is smaller than this is the rounding of a curve, mm2
_SMALLEST_NECK_MM2 = 0.1

_SOURCE = "common practice, no source"
_MEND = "move the cut, or make it smaller, so that at least 1 mm is left"


def narrow_webs(key: str, outline: Outline, cuts: Sequence[tuple[str, Outline]]) -> tuple[Finding, ...]:
    """Findings for the part with this key; `cuts` are the keys and outlines of its cutouts and slots."""
    between = _between_rings(outline, cuts)
    near = [place for place, _, _ in between]
    necks = [(at, key, None) for at in _necks(outline.polygon) if not _beside(at, near)]
    found: list[tuple[Point, str, float | None]] = [*between, *necks]
    findings = [_finding(at, where, width) for at, where, width in found[:_MOST_LISTED]]
    if len(found) > _MOST_LISTED:
        more = len(found) - _MOST_LISTED
        text = f"less than {length_text(NARROW_WEB_MM)} of material is left in {more} more places"
        findings.append(_as_finding(key, text, ""))
    return tuple(findings)


def _finding(at: Point, where: str, width: float | None) -> Finding:
    value = length_text(width) if width is not None else ""
    left = value if value else f"less than {length_text(NARROW_WEB_MM)}"
    return _as_finding(where, f"only {left} of material is left near {place_text(at)}", value)


def _as_finding(where: str, text: str, value: str) -> Finding:
    return Finding(
        code="narrow-web",
        level=Level.WARNING,
        where=where,
        text=f"{text}; it tears easily when it is cut",
        value=value,
        range=f"at least {length_text(NARROW_WEB_MM)}",
        source=_SOURCE,
        mend=_MEND,
    )


def _between_rings(
    outline: Outline, cuts: Sequence[tuple[str, Outline]]
) -> list[tuple[Point, str, float | None]]:
    """Place, key and width where two rings come near each other."""
    rings = [outline.polygon.exterior, *outline.polygon.interiors]
    tree = STRtree(rings)
    firsts, seconds = tree.query(rings, predicate="dwithin", distance=NARROW_WEB_MM)
    pairs = sorted((i, j) for i, j in zip(firsts.tolist(), seconds.tolist(), strict=True) if i < j)
    found: list[tuple[Point, str, float | None]] = []
    for i, j in pairs:
        line = shapely.shortest_line(rings[i], rings[j])
        width = float(line.length)
        if width < NARROW_WEB_MM:
            at = line.interpolate(0.5, normalized=True)
            found.append(((at.x, at.y), _cut_of(rings[j], cuts), width))
    return found


def _cut_of(ring: LinearRing, cuts: Sequence[tuple[str, Outline]]) -> str:
    """The key of the cut that made a hole: the nearest to the hole's first corner, of like ones the first."""
    corner = shapely.Point(ring.coords[0])
    distances = [round(corner.distance(cut.polygon.exterior) * 1e6) for _, cut in cuts]
    return cuts[distances.index(min(distances))][0]


def _necks(polygon: Polygon) -> list[Point]:
    """Places where the polygon is narrower than a web should be, corners aside."""
    half = NARROW_WEB_MM / 2
    inner = polygon.buffer(-half, quad_segs=8)
    opened = inner.buffer(half, join_style="mitre", mitre_limit=_MITRE_LIMIT)
    places = []
    for bit in shapely.get_parts(polygon.difference(opened)):
        if bit.area >= _SMALLEST_NECK_MM2:
            at = bit.representative_point()
            places.append((at.x, at.y))
    return sorted(places)


def _beside(at: Point, places: Sequence[Point]) -> bool:
    return any(math.dist(at, place) < 3 * NARROW_WEB_MM for place in places)
