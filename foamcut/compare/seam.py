"""Where a part is cut in two so that the piece beyond the line can be added to the old one.

mm, the new part's coordinates.
"""

from dataclasses import dataclass

import shapely
from shapely import Polygon, box

from foamcut.compare.ends import ENDS, bound
from foamcut.compare.outlines import Laid
from foamcut.flat.outline import Outline
from foamcut.flat.placement import rounded
from foamcut.flat.tolerances import EDGES_AGREE_MM, SAME_POINT_MM

#: a corner of the old end so close to where the new board begins is where the seam lies, mm
_NEAR_MM = 2.0
#: of the whole new part the piece that is added is this share at most
_MOST_SHARE = 0.5
#: of the board that is added so much of the old one may be cut off to make its end straight
_LOST_SHARE = 0.5
#: a box reaches so far over a part that its own edges are not cut again
_OVER_MM = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """A line at one x (axis 0) or y (axis 1); the added piece lies to the side `side` of it.

    `old_end` and `new_end` are where the versions end on that side.
    """

    axis: int
    side: int
    at_mm: float
    old_end: float
    new_end: float

    @property
    def longer_mm(self) -> float:
        """How much longer the new part is."""
        return (self.new_end - self.old_end) * self.side

    @property
    def cut_back_mm(self) -> float:
        """How much of the old part's length is cut off for a straight seam."""
        return (self.old_end - self.at_mm) * self.side

    @property
    def added_mm(self) -> float:
        """Length of the added piece."""
        return (self.new_end - self.at_mm) * self.side

    def beyond(self, shape: Polygon) -> Polygon:
        """A box over all that lies beyond the seam, of a shape or of what is smaller."""
        return self._box(shape, self.side)

    def within(self, shape: Polygon) -> Polygon:
        """A box over all that lies on the old part's side."""
        return self._box(shape, -self.side)

    def _box(self, shape: Polygon, side: int) -> Polygon:
        ends = list(shape.bounds)
        ends = [ends[0] - _OVER_MM, ends[1] - _OVER_MM, ends[2] + _OVER_MM, ends[3] + _OVER_MM]
        ends[self.axis + 2 if side < 0 else self.axis] = self.at_mm
        return box(*ends)


def seam_of(held: Laid) -> Seam | None:
    """The seam at the end where the least of the old part is cut off; None: it lacks more than a strip.

    All that is lacking lies beyond it, in one piece of the new part of at most half of its area, and what
    the old part loses there is at most half of what is added.
    """
    if held.over or not held.lacking:
        return None
    best: tuple[float, Seam] | None = None
    for axis, side in ENDS:
        seam = _seam(held, axis, side)
        if seam is None:
            continue
        added, lost = piece_beyond(held.new, seam), held.old.intersection(seam.beyond(held.new)).area
        gained = added.area - lost if added is not None else 0.0
        if added is None or added.area > _MOST_SHARE * held.new.area or lost > _LOST_SHARE * gained:
            continue
        cost = round(lost, 3)
        if best is None or cost < best[0]:
            best = cost, seam
    return best[1] if best else None


def _seam(held: Laid, axis: int, side: int) -> Seam | None:
    old_end, new_end = bound(held.old, axis, side), bound(held.new, axis, side)
    if (new_end - old_end) * side <= EDGES_AGREE_MM:
        return None
    # edges that agree are one: what is lacking begins that much beyond the old edge
    begins = side * min(side * bound(piece, axis, -side) for piece in held.lacking) - side * EDGES_AGREE_MM
    corners = (point[axis] for point in shapely.get_coordinates(held.old.exterior).tolist())
    near = [at for at in corners if -SAME_POINT_MM <= (begins - at) * side <= _NEAR_MM]
    at = side * max((side * one for one in near), default=side * begins - EDGES_AGREE_MM)
    if (old_end - at) * side < 0:
        at = old_end
    return Seam(axis=axis, side=side, at_mm=rounded(at), old_end=old_end, new_end=new_end)


def piece_beyond(shape: Polygon, seam: Seam) -> Polygon | None:
    """What lies of a shape beyond a seam when it is one piece."""
    several = Outline(shape).within(seam.beyond(shape))
    return several[0].polygon if len(several) == 1 else None
