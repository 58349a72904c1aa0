"""Formers between the sides of a body: do their edges lie against the inside faces, measured as cut.

mm; model axes: x aft, y right, z up.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely
from shapely import Polygon

from foamcut.findings import Finding, Level
from foamcut.flat.assembled import Standing
from foamcut.flat.folded_body import Body
from foamcut.units import decimal_text

#: what a builder's eye and the foam give way
OFF_MM = 0.5
#: a former stands square to x, a side square to y, within what a thrust line or a taper turns them
_SQUARE = math.cos(math.radians(10.0))
#: an edge farther from a side was not meant to lie against it
_FAR_MM = 15.0
#: shorter edges are corners, or chords of an arc
_SHORT_MM = 5.0
#: where along an edge it is measured
_SHARES = (0.05, 0.5, 0.95)


def former_findings(model: Sequence[Standing]) -> Iterator[Finding]:
    """Each former of which an edge is off the inside face of a side, with the largest gap or overlap."""
    sides = [board for one in model for board in one.boards if abs(board.matrix[1, 2]) > _SQUARE]
    fillings = [Polygon(side.panel.outline.rings()[0]).buffer(OFF_MM) for side in sides]
    told: set[str] = set()  # one hand of a pair is enough
    for one in model:
        for board in one.boards:
            if abs(board.matrix[0, 2]) > _SQUARE and one.pair_name not in told:
                gaps = [gap for gap in _gaps(one, board, sides, fillings) if abs(gap[0]) > OFF_MM]
                if gaps:
                    told.add(one.pair_name)
                    yield _told(one, *max(gaps, key=lambda gap: (abs(gap[0]), gap[1])))


def _gaps(
    one: Standing, former: Body, sides: Sequence[Body], fillings: Sequence[Polygon]
) -> Iterator[tuple[float, str, float]]:
    """Along each edge that looks sideways: how far off the side is (below 0: into it), which, how high."""
    for edge, out in _sideways(one, former):
        for share in _SHARES:
            x, y = (edge[0] + share * (edge[1] - edge[0])).tolist()
            at = np.array(former.panel.pose.point(x, y, -one.part.thickness_mm / 2))
            near = [
                (gap, side.part.name)
                for side, filling in zip(sides, fillings, strict=True)
                if side.part is not one.part
                for gap in _gap(side, filling, at, out)
            ]
            if near:
                gap, name = min(near)
                yield gap, name, float(at[2])


def _sideways(one: Standing, former: Body) -> Iterator[tuple[np.ndarray, np.ndarray]]:
    """Edges of a former without its tabs that look right or left: their ends, and the way out in space."""
    outline = Polygon(former.panel.outline.rings()[0])
    bare = outline.difference(shapely.union_all([tab.outline.polygon for tab in one.part.tabs]))
    for piece in shapely.get_parts(bare):
        ring = shapely.get_coordinates(shapely.orient_polygons(piece).exterior)
        for start, end in pairwise(ring):
            length = math.dist(start, end)
            if length >= _SHORT_MM:
                dx, dy = (end - start) / length
                out = former.matrix[:3, :2] @ np.array([dy, -dx])
                if abs(out[1]) > _SQUARE:
                    yield np.array([start, end]), out


def _gap(side: Body, filling: Polygon, at: np.ndarray, out: np.ndarray) -> Iterator[float]:
    """How far a place is off the face of a side that it looks at; nothing when the side is elsewhere."""
    u, v, w = (side.matrix[:3, :3].T @ (at - side.matrix[:3, 3])).tolist()
    looks = float(out @ side.matrix[:3, 2])
    gap = w if looks < 0 else -side.part.thickness_mm - w
    if abs(gap) <= _FAR_MM and filling.covers(shapely.Point(u, v)):
        yield round(gap, 6)


def _told(one: Standing, gap: float, side: str, z: float) -> Finding:
    amount = f"{decimal_text(abs(gap), 2)} mm"
    words = f"stands {amount} off" if gap > 0 else f"goes {amount} into"
    return Finding(
        code="fit-former",
        level=Level.WARNING,
        where=one.part.key,
        text=f"the edge of {one.part.name} {words} the inside face of {side}, {decimal_text(z)} mm up",
        value=amount,
        range=f"up to {decimal_text(OFF_MM)} mm",
        mend="a former is as wide as the body is inside there, doublers counted",
    )
