"""No-fit outlines: where a moving piece must not be put because of a lying one, or of the sheet's edge.

Method: the Minkowski sum of the lying outline and the moving one turned through (0, 0); a place strictly
inside it overlaps (Bennell and Oliveira, "The geometry of nesting problems: a tutorial", European Journal of
Operational Research 184, 2008; from memory).  Units as in `foamcut.nest.rooms`.

The moving form is first grown by the gap less the slack, so that a place that fits exactly keeps an area.
"""

from functools import lru_cache

import pyclipper

from foamcut.nest.convex import convex_parts, convex_sum
from foamcut.nest.forms import Forms, Lie, is_convex, signed_area, turned
from foamcut.nest.rooms import SLACK, UNITS, Paths, Source, nanometres, offset

#: corners of outlines that are kept, about 130 bytes each; then they are worked out again
_MOST_KEPT = 1_500_000
#: free places narrower than twice this, in units, come from rounding; an exact fit leaves twice the slack
_NOISE = 8

Box = tuple[int, int, int, int]
Frozen = tuple[tuple[tuple[int, int], ...], ...]


class NoFit:
    """No-fit and inner-fit outlines of one stock's forms, worked out once for each pair and turn.

    `work` counts corners handled, so that a search can be cut short by work and not by the clock.
    """

    def __init__(self, forms: Forms, gap_mm: float) -> None:
        self._forms = forms
        self._gap = nanometres(gap_mm) * UNITS
        self._moving: dict[int, Paths] = {}
        self._pairs: dict[tuple[int, int, int], Paths] = {}
        self._turned: dict[tuple[int, int, int, int], Paths] = {}
        self._inner: dict[tuple[int, int, int], Paths] = {}
        self._kept = 0
        self.work = 0

    def outlines(self, lying: Lie, moving: Lie) -> Paths:
        """Outlines, relative to the place of the lying piece, inside which the moving one must not be put."""
        key = lying.form, lying.quarter, moving.form, moving.quarter
        if (found := self._turned.get(key)) is None:
            quarter = (moving.quarter - lying.quarter) % 4
            pair = self._pair(lying.form, moving.form, quarter)
            found = [turned(path, lying.quarter) for path in pair]
            self._keep(found)
            self._turned[key] = found
        return found

    def inner(self, index: int, source: Source, moving: Lie) -> Paths:
        """Outlines of the places where the piece lies inside the room of a sheet; empty: nowhere."""
        if source.usable:
            return _inner_rectangle(source.usable, moving.bounds)
        key = index, moving.form, moving.quarter
        if key not in self._inner:
            rings = [turned(path, moving.quarter) for path in self._forms.rings[moving.form]]
            self._inner[key] = self._inner_region([list(ring) for ring in source.region], rings)
        return self._inner[key]

    def left(self, room: Paths, barred: Paths) -> Paths:
        """What is left of a room when more is barred."""
        self.work += sum(map(len, room)) + sum(map(len, barred))
        return without(room, barred)

    def _pair(self, lying: int, moving: int, quarter: int) -> Paths:
        key = lying, moving, quarter
        if (found := self._pairs.get(key)) is not None:
            return found
        if lying > moving:
            # the other way round, seen from the other piece: turned back and turned through (0, 0)
            other = self._pair(moving, lying, -quarter % 4)
            found = [turned(path, (quarter + 2) % 4) for path in other]
        else:
            rings = self._forms.rings[lying]
            opposite = [turned(path, quarter) for path in self._opposite(moving)]
            self.work += sum_work(rings, opposite)
            found = no_fit(rings, opposite)
        self._keep(found)
        self._pairs[key] = found
        return found

    def _keep(self, paths: Paths) -> None:
        self._kept += sum(map(len, paths))
        if self._kept > _MOST_KEPT:
            self._kept = 0
            self._pairs.clear()
            self._turned.clear()

    def _opposite(self, form: int) -> Paths:
        """The form grown by the gap, turned through (0, 0)."""
        if form not in self._moving:
            rings = self._forms.rings[form]
            grown = offset(rings, self._gap - SLACK)
            outers = [path for path in grown if signed_area(path) > 0]
            if len(outers) != 1:
                # a form that hangs together by less than the slack
                grown = offset(rings, self._gap)
            self._moving[form] = [turned(path, 2) for path in grown]
        return self._moving[form]

    def _inner_region(self, region: Paths, rings: Paths) -> Paths:
        opposite = [turned(path, 2) for path in rings]
        self.work += sum_work(region, opposite)
        barred = _swept(region, opposite)
        for path in region:
            if signed_area(path) < 0:
                barred.extend(_moved(opposite, path[0]))
        free = without(_moved(region, opposite[0][0]), barred)
        return offset(free, -_NOISE) if free else free


def no_fit(lying: Paths, opposite: Paths) -> Paths:
    """The Minkowski sum of a lying outline with one turned through (0, 0), holes and all, in units."""
    if _are_convex(lying, opposite):
        return [convex_sum(lying[0], opposite[0])]
    return list(_concave_sum(_frozen(lying), _frozen(opposite)))


@lru_cache(maxsize=2048)  # the same parts are laid again with other ways to cut some of them
def _concave_sum(lying_rings: Frozen, opposite_rings: Frozen) -> Paths:
    lying, opposite = ([list(path) for path in rings] for rings in (lying_rings, opposite_rings))
    swept = _swept(lying, opposite)
    # boundaries that do not cross: one inside the other, or apart
    for path in opposite:
        if signed_area(path) > 0:
            swept.extend(_moved(lying, path[0]))
    for path in lying:
        if signed_area(path) > 0:
            swept.extend(_moved(opposite, path[0]))
    return offset(_united(swept), _NOISE)


#: sums of convex parts that are put together at once: of hundreds, all over each other, that takes minutes
_MOST_SUMS = 200


def no_fit_by_parts(lying: Paths, opposite: Paths) -> Paths:
    """The same, but for rounding: quicker where both have many corners and no holes."""
    if len(lying) > 1 or len(opposite) > 1:
        return no_fit(lying, opposite)
    ours, theirs = (convex_parts(tuple(one[0])) for one in (lying, opposite))
    if not ours or not theirs or len(ours) * len(theirs) > _MOST_SUMS:
        return no_fit(lying, opposite)
    return offset(_united([convex_sum(one, other) for one in ours for other in theirs]), _NOISE)


def _frozen(paths: Paths) -> Frozen:
    return tuple(tuple(path) for path in paths)


def sum_work(lying: Paths, opposite: Paths) -> int:
    """About how many corners a sum handles."""
    a, b = sum(map(len, lying)), sum(map(len, opposite))
    return a + b if _are_convex(lying, opposite) else 4 * a * b


def _are_convex(lying: Paths, opposite: Paths) -> bool:
    return len(lying) == len(opposite) == 1 and is_convex(lying[0]) and is_convex(opposite[0])


def _swept(rings: Paths, opposite: Paths) -> Paths:
    """Where the boundaries cross."""
    swept: Paths = []
    for path in rings:
        for pattern in opposite:
            swept.extend(_as_paths(pyclipper.MinkowskiSum(pattern, path, True)))
    return swept


def without(paths: Paths, barred: Paths) -> Paths:
    """What is left of a region; its rings stay turned outer counter-clockwise, holes clockwise."""
    if not paths or not barred:
        return paths
    clipper = pyclipper.Pyclipper()
    clipper.AddPaths(paths, pyclipper.PT_SUBJECT, True)
    clipper.AddPaths(barred, pyclipper.PT_CLIP, True)
    left: Paths = clipper.Execute(pyclipper.CT_DIFFERENCE, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    return left


def _inner_rectangle(usable: Box, bounds: Box) -> Paths:
    x0, y0 = usable[0] * UNITS - bounds[0], usable[1] * UNITS - bounds[1]
    x1, y1 = usable[2] * UNITS - bounds[2], usable[3] * UNITS - bounds[3]
    if x0 > x1 or y0 > y1:
        return []
    x0, y0, x1, y1 = x0 - SLACK, y0 - SLACK, x1 + SLACK, y1 + SLACK
    return [[(x0, y0), (x1, y0), (x1, y1), (x0, y1)]]


def _moved(paths: Paths, by: tuple[int, int]) -> Paths:
    dx, dy = by
    return [[(x + dx, y + dy) for x, y in path] for path in paths]


def _as_paths(paths: list[list[list[int]]]) -> Paths:
    return [[(x, y) for x, y in path] for path in paths]


def _united(paths: Paths) -> Paths:
    clipper = pyclipper.Pyclipper()
    clipper.AddPaths(paths, pyclipper.PT_SUBJECT, True)
    return _as_paths(clipper.Execute(pyclipper.CT_UNION, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO))
