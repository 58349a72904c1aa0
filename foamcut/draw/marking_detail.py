"""A piece drawn with all its numbers, crowded places once more and larger beside it.

mm; boxes and points in the sheet's coordinates, rooms on the page.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import shapely
from shapely import LineString

from foamcut.draw.flow import Block, beside
from foamcut.draw.label import LEAST_MM, SMALL_MM
from foamcut.draw.marking_labels import Box
from foamcut.draw.marking_small import MOST_LOST, SCALES, Small, largest_scale
from foamcut.draw.marking_table import heading_block, under
from foamcut.draw.part import stroke_shape
from foamcut.draw.values import Stroke
from foamcut.draw.words import text_box
from foamcut.flat.doublers import letters
from foamcut.flat.outline import Point, straight

Named = tuple[str, Point]
#: points farther apart than this on the page, mm, are drawn in details of their own
_APART_MM = 16.0
#: what is shown round the points of a detail, and the least size of it, mm on the page
_ROUND_MM = 5.0
_LEAST_MM = 26.0
#: details of a drawing, and points that are looked for in one, at most
_MOST_DETAILS = 10
_MOST_TOGETHER = 60
#: the room of a detail, mm
_DETAIL = (88.0, 76.0)
#: between drawings side by side, mm
_GAP_MM = 6.0


def numbered(
    strokes: Sequence[Stroke],
    points: Sequence[Named],
    *,
    rooms: Sequence[tuple[float, float]],
    width_mm: float,
    unit: str,
) -> tuple[list[Block], list[str]]:
    """The strokes with names beside their points, in rows, and the names that found room nowhere.

    The first of the rooms that has a place for every name is taken, or the last; what has none there is
    drawn larger in details, as far as `width_mm` allows beside it.
    """
    box = _box(strokes, points)
    main = Small(strokes, box, rooms[0])
    lost = main.name(points, LEAST_MM)
    for room in rooms[1:]:
        if 0 < len(lost) < MOST_LOST and largest_scale(box[2] - box[0], box[3] - box[1], room) > main.scale:
            main = Small(strokes, box, room)
            lost = main.name(points, LEAST_MM)
    drawings: list[Block] = []
    homeless = set(lost)
    details = list(_details(strokes, points, [n for n in points if n[0] in homeless], main))
    for letter, (window, detail, found) in zip(letters(len(details)), details, strict=True):
        homeless -= found
        main.frame(window, letter, SMALL_MM)
        heading = heading_block(f"detail {letter}", SMALL_MM, _DETAIL[0])
        drawings.append(under(heading, detail.block(unit), gap_mm=1.0))
    whole = main.block(unit)
    if not drawings:
        return [whole], lost
    return _side_by_side([whole, *drawings], width_mm), [name for name, _ in points if name in homeless]


def _box(strokes: Sequence[Stroke], points: Sequence[Named]) -> Box:
    """The box of all that is drawn and numbered."""
    every = [at for s in strokes for g in s.segments for at in (g.start, *g.points())]
    every += [at for _, at in points]
    xs, ys = [x for x, _ in every], [y for _, y in every]
    return min(xs), min(ys), max(xs), max(ys)


def _details(
    strokes: Sequence[Stroke], points: Sequence[Named], missing: Sequence[Named], main: Small
) -> Iterator[tuple[Box, Small, set[str]]]:
    """Boxes of crowded places, each drawn at the least scale that shows the names it was missing."""
    left, count = list(missing), 0
    while left and count < _MOST_DETAILS:
        group = _group(left, _APART_MM / float(main.scale))
        found = _detail(strokes, points, group, main)
        while found is None and len(group) > 1:
            # too wide to be drawn larger: the half next to its first point
            group = sorted(group, key=lambda named: round(math.dist(named[1], group[0][1]), 6))
            group = group[: len(group) // 2]
            found = _detail(strokes, points, group, main)
        if found is not None:
            yield found
            count += 1
        shown = found[2] & {name for name, _ in left} if found else set()
        done = shown or {name for name, _ in group}
        left = [named for named in left if named[0] not in done]


def _group(points: Sequence[Named], apart_mm: float) -> list[Named]:
    """The first point and those that hang together with it by steps of `apart_mm`, so many at most."""
    group, rest = [points[0]], list(points[1:])
    for _, at in group:
        if len(group) >= _MOST_TOGETHER:
            break
        near = [named for named in rest if math.dist(at, named[1]) <= apart_mm]
        rest = [named for named in rest if named not in near]
        group += near
    return group


def _detail(
    strokes: Sequence[Stroke], points: Sequence[Named], group: Sequence[Named], main: Small
) -> tuple[Box, Small, set[str]] | None:
    best: tuple[Box, Small, set[str]] | None = None
    wanted = {name for name, _ in group}
    for scale in reversed([s for s in SCALES if s > main.scale]):
        box = _window([at for _, at in group], float(scale))
        small = Small(_clipped(strokes, box), box, _DETAIL, most=scale)
        if small.scale < scale:
            break
        inside = [n for n in points if box[0] <= n[1][0] <= box[2] and box[1] <= n[1][1] <= box[3]]
        inside.sort(key=lambda named: named[0] not in wanted)
        inside = inside[: 2 * _MOST_TOGETHER]
        found = {name for name, _ in inside} - set(small.name(inside, LEAST_MM))
        if best is None or len(found & wanted) > len(best[2] & wanted):
            best = box, small, found
        if wanted <= found:
            break
    return best


def _window(points: Sequence[Point], scale: float) -> Box:
    """The box of the points with something round it, not smaller than can be made out."""
    sides = []
    for axis in (0, 1):
        low, high = min(p[axis] for p in points), max(p[axis] for p in points)
        edge = max(_ROUND_MM / scale, (_LEAST_MM / scale - (high - low)) / 2)
        sides.append((low - edge, high + edge))
    (x0, x1), (y0, y1) = sides
    return x0, y0, x1, y1


def _clipped(strokes: Sequence[Stroke], box: Box) -> list[Stroke]:
    """What of the strokes lies in a box, arcs as chords."""
    found: list[Stroke] = []
    for stroke in strokes:
        shape = stroke_shape(stroke)
        x0, y0, x1, y1 = shape.bounds
        if x0 > box[2] or x1 < box[0] or y0 > box[3] or y1 < box[1]:
            continue
        for part in shapely.get_parts(shapely.clip_by_rect(shape, *box)):
            if isinstance(part, LineString) and not part.is_empty:
                run = straight([(x, y) for x, y in part.coords])
                found.append(replace(stroke, segments=run, closed=False))
    return found


def _reach_mm(block: Block) -> float:
    """How far lines and words of a block reach to the right."""
    lines = [x for stroke in block.strokes for s in stroke.segments for x, _ in (s.start, s.end)]
    return max([0.0, *lines, *(text_box(text).bounds[2] for text in block.texts)])


def _side_by_side(drawings: Sequence[Block], width_mm: float) -> list[Block]:
    """Drawings in rows no wider than `width_mm`, but for one that is wider by itself."""
    rows: list[list[tuple[float, Block]]] = []
    left = 0.0
    for block in drawings:
        width = _reach_mm(block)
        if not rows or width > left:
            rows.append([])
            left = width_mm
        rows[-1].append((width_mm - left, block))
        left -= width + _GAP_MM
    return [beside(*row) for row in rows]
