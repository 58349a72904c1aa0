"""Where on a folded part its arrows hold: the panel that holds (0, 0), which the part's place is said of.

The part's coordinates, mm.
"""

import math

import shapely
from shapely import Polygon

from foamcut.flat.folds import Fold
from foamcut.flat.part import Part

#: a fold parts the board at this width at least, and beyond its ends by as much, mm
_HAIR_MM = 0.02


def home_panel(part: Part) -> Polygon:
    """The panel that holds (0, 0); else that on its side of all folds, or of most, and nearest to it.

    So a piece at the far end of a part finds the panel that goes on from that of the whole.  A part without
    folds is one panel.
    """
    whole = part.outline.polygon
    if not part.folds:
        return whole
    rest = shapely.difference(whole, shapely.union_all([_band(fold) for fold in part.folds]))
    panels = [panel for panel in shapely.get_parts(rest) if isinstance(panel, Polygon)]
    home = shapely.Point(0.0, 0.0)
    return min(
        panels,
        key=lambda panel: (
            panel.distance(home) > 0,
            _folds_between(part, panel),
            round(panel.distance(home) * 1e6),
            -round(panel.area * 1e6),
        ),
        default=whole,
    )


def _folds_between(part: Part, panel: Polygon) -> int:
    """How many folds have the panel and (0, 0) on different sides, each fold gone on beyond its ends."""
    inside = panel.representative_point()
    return sum(_side(fold, 0.0, 0.0) != _side(fold, inside.x, inside.y) for fold in part.folds)


def _side(fold: Fold, x: float, y: float) -> bool:
    """Whether a point lies to the left of the middle of what is worked along a fold."""
    (x0, y0), (x1, y1) = fold.start, fold.end
    left = ((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / math.dist(fold.start, fold.end)
    return left > sum(fold.band_mm) / 2


def _band(fold: Fold) -> Polygon:
    """What is worked of the board along a fold."""
    (x0, y0), (x1, y1) = fold.start, fold.end
    length = math.dist(fold.start, fold.end)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    low, high = fold.band_mm
    sides = low - _HAIR_MM, high + _HAIR_MM
    ends = -_HAIR_MM, length + _HAIR_MM
    corners = [(u, s) for u, s in zip((*ends, *ends[::-1]), (sides[0],) * 2 + (sides[1],) * 2, strict=True)]
    return Polygon([(x0 + u * dx - s * dy, y0 + u * dy + s * dx) for u, s in corners])
