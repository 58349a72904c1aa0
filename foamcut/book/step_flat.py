"""Parts as they lie on the bench: outlines, what is worked filled, marks thin, names below.

mm on the picture, all at one scale.  Parts of pairs and skins keep their own turn, so that a right and a left
hand lie beside each other as they do on the model.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from foamcut.draw.balance_words import PLAIN_MM, shortened, width_mm, words_at
from foamcut.draw.drawnsmall import work_tags
from foamcut.draw.foldwords import fold_words
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.draw.values import Align, Text
from foamcut.flat.clipping import Run
from foamcut.flat.drawn import FoldKind
from foamcut.flat.folds import Fold
from foamcut.flat.outline import Point
from foamcut.flat.part import Part

#: between parts, around them, and room for a name below
_GAP_MM, _MARGIN_MM, _NAME_MM = 6.0, 3.0, 5.0
#: arcs are drawn by chords at most so far off, mm on the board
_CHORD_MM = 0.5
#: the usual box
BOX_MM = (170.0, 110.0)
#: shares of what would fit at most, tried one after another
_SHRINK, _ROUNDS = 0.9, 60
_LARGEST = 1.0
#: letters of folds begin at a share of the line, and lie so far apart
_FIRST_SHARE, _SHARE, _SHARES = 0.15, 0.1, 7
#: parts stay in one row where that costs no more of their scale
_ONE_ROW = 0.7


@dataclass(frozen=True, slots=True, kw_only=True)
class Lying:
    """What lies there: a part, its name as written below it, whether all of it is filled."""

    part: Part
    label: str
    filled: bool = False
    over: tuple[Part, ...] = ()  # doublers, drawn on it and filled
    on_it: tuple[tuple[Point, ...], ...] = ()  # outlines of what stands on it, filled, in its coordinates
    bold: tuple[str, ...] = ()  # marks whose words begin so are drawn as ways of wires
    lettered: bool = False  # whether its folds have letters, in their order
    beside: tuple[Part, ...] = ()  # other sections of the same part, drawn in the same coordinates


def flat_picture(
    name: str, heading: str, told: str, several: Sequence[Lying], box_mm: tuple[float, float] = BOX_MM
) -> Picture:
    """Parts beside each other in rows, as large as the box lets them be."""
    turned = [_turned(one) for one in several]
    sizes = [_size(one) for one in turned]
    wide = box_mm[0] - 2 * _MARGIN_MM
    high = box_mm[1] - 2 * _MARGIN_MM
    scale = min(_LARGEST, *(wide / max(w, 0.1) for w, _ in sizes), *(high / max(h, 0.1) for _, h in sizes))
    rows = _rows(sizes, scale, wide)
    for _ in range(_ROUNDS):
        if _height(rows, sizes, scale) <= high:
            break
        scale *= _SHRINK
        rows = _rows(sizes, scale, wide)
    level = (wide - _GAP_MM * (len(sizes) - 1)) / max(sum(w for w, _ in sizes), 0.1)
    if len(rows) > 1 and level >= _ONE_ROW * scale:
        scale, rows = level, [list(range(len(sizes)))]
    total = _height(rows, sizes, scale) + 2 * _MARGIN_MM
    shapes: list[Shape] = []
    texts: list[Text] = []
    names: list[Text] = []
    top = total - _MARGIN_MM
    for row in rows:
        tall = max(sizes[i][1] for i in row) * scale
        used = sum(max(sizes[i][0] * scale, 0.0) for i in row) + _GAP_MM * (len(row) - 1)
        x = (box_mm[0] - used) / 2
        for i in row:
            w, h = sizes[i][0] * scale, sizes[i][1] * scale
            on = _Onto(
                scale=scale, x=x, y=top - tall + (tall - h) / 2, origin=turned[i][1], turn=turned[i][0]
            )
            shapes += _drawn(several[i], on)
            if several[i].lettered:
                texts += _letters(several[i].part, on)
            room = max(w + _GAP_MM - 1.0, 12.0) if len(row) > 1 else wide
            label = shortened(several[i].label, room)
            names.append(words_at((x + w / 2, top - tall - PLAIN_MM - 1.0), label, align=Align.MIDDLE))
            x += w + _GAP_MM
        top -= tall + _NAME_MM + _GAP_MM / 2
    return Picture(
        name=name, heading=heading, told=told, width_mm=box_mm[0], height_mm=total,
        shapes=tuple(shapes), texts=(*_apart(names), *texts),
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class _Onto:
    """How places of a part come to lie on the picture: turned by a quarter or not, scaled, moved."""

    scale: float
    x: float
    y: float
    origin: Point
    turn: bool

    def at(self, point: Point) -> Point:
        px, py = (point[1], -point[0]) if self.turn else point
        return (px - self.origin[0]) * self.scale + self.x, (py - self.origin[1]) * self.scale + self.y

    def all(self, points: Iterable[Point]) -> tuple[Point, ...]:
        return tuple(map(self.at, points))


def lying_on(part: Part, thing: Part) -> tuple[Point, ...]:
    """The outline that a part makes on the plane of another, in its coordinates; both have a place."""
    assert part.place is not None
    assert thing.place is not None
    at, x, y = (np.array(one) for one in (thing.place.at, thing.place.x, thing.place.y))
    ring = np.array(thing.outline.rings()[0][:-1])
    face = at + ring[:, :1] * x + ring[:, 1:] * y
    points = np.concatenate([face, face - thing.thickness_mm * np.cross(x, y)]) - np.array(part.place.at)
    flat = np.round(np.column_stack([points @ np.array(part.place.x), points @ np.array(part.place.y)]), 3)
    hull = shapely.MultiPoint(flat).convex_hull
    return tuple(hull.exterior.coords[:-1]) if isinstance(hull, Polygon) else ()


def _bounds(one: Lying) -> tuple[float, float, float, float]:
    boxes = [part.outline.bounds for part in (one.part, *one.over, *one.beside)]
    for ring in one.on_it:
        xs, ys = [x for x, _ in ring], [y for _, y in ring]
        boxes.append((min(xs), min(ys), max(xs), max(ys)))
    lows, highs = (
        [min(box[i] for box in boxes) for i in (0, 1)],
        [max(box[i] for box in boxes) for i in (2, 3)],
    )
    return lows[0], lows[1], highs[0], highs[1]


def _turned(one: Lying) -> tuple[bool, Point, tuple[float, float]]:
    """Whether it lies a quarter turned, so that its longer side is level, and its lower left corner then."""
    x0, y0, x1, y1 = _bounds(one)
    if y1 - y0 > x1 - x0:
        return True, (y0, -x1), (y1 - y0, x1 - x0)
    return False, (x0, y0), (x1 - x0, y1 - y0)


def _size(turned: tuple[bool, Point, tuple[float, float]]) -> tuple[float, float]:
    return turned[2]


def _rows(sizes: Sequence[tuple[float, float]], scale: float, wide: float) -> list[list[int]]:
    rows: list[list[int]] = [[]]
    used = 0.0
    for i, (w, _) in enumerate(sizes):
        more = w * scale + (_GAP_MM if rows[-1] else 0.0)
        if rows[-1] and used + more > wide + 1e-6:
            rows.append([])
            used, more = 0.0, w * scale
        rows[-1].append(i)
        used += more
    return rows


def _height(rows: Sequence[Sequence[int]], sizes: Sequence[tuple[float, float]], scale: float) -> float:
    return sum(max(sizes[i][1] for i in row) * scale + _NAME_MM for row in rows) + _GAP_MM / 2 * (
        len(rows) - 1
    )


def _drawn(one: Lying, on: _Onto) -> Iterator[Shape]:
    """Boards, then what is worked, then cuts and marks, then what lies on it."""
    for part in (one.part, *one.beside):
        yield from _board(part, on, Ink.ADDED if one.filled else Ink.BOARD)
        for fold in part.folds:
            yield from _band(part, fold, on)
        rings = part.outline.rings()
        for ring in rings[1:]:
            yield Shape(ink=Ink.BOARD, points=on.all(ring[:-1]), closed=True)
        yield Shape(ink=Ink.EDGE, points=on.all(rings[0][:-1]), closed=True)
        for fold in part.folds:
            for run in (*fold.half, *fold.fold):
                yield Shape(ink=Ink.HIDDEN, points=on.all(_points(run)))
        for bevel in part.bevels:
            for run in bevel.runs:
                yield Shape(ink=Ink.CREASE, points=on.all(_points(run)))
        for mark in part.marks:
            ink = Ink.SIGNAL if one.bold and getattr(mark, "text", "").startswith(one.bold) else Ink.LEADER
            for run in mark.drawn().runs:
                yield Shape(ink=ink, points=on.all(_points(run)))
    for part in one.over:
        yield from _board(part, on, Ink.ADDED)
    for ring in one.on_it:
        yield Shape(ink=Ink.ADDED, points=on.all(ring), closed=True)


def _board(part: Part, on: _Onto, ink: Ink) -> Iterator[Shape]:
    yield Shape(ink=ink, points=on.all(part.outline.rings()[0][:-1]), closed=True)


def _band(part: Part, fold: Fold, on: _Onto) -> Iterator[Shape]:
    """What of the board is worked for a fold."""
    low, high = fold.band_mm
    if fold.kind is FoldKind.HINGE or high - low <= 0:
        return
    (x0, y0), (x1, y1) = fold.start, fold.end
    long = math.dist(fold.start, fold.end)
    nx, ny = (y0 - y1) / long, (x1 - x0) / long
    band = Polygon(
        [
            (x0 + low * nx, y0 + low * ny), (x1 + low * nx, y1 + low * ny),
            (x1 + high * nx, y1 + high * ny), (x0 + high * nx, y0 + high * ny),
        ]
    )  # fmt: skip
    for piece in shapely.get_parts(part.outline.polygon.intersection(band)):
        if isinstance(piece, Polygon) and not piece.is_empty:
            yield Shape(ink=Ink.ADDED, points=on.all(piece.exterior.coords[:-1]), closed=True)


def _letters(part: Part, on: _Onto) -> Iterator[Text]:
    """The letter of each fold close to its line, each farther along than the last."""
    tags = work_tags(part)
    for i, fold in enumerate(part.folds):
        line = shapely.LineString([fold.start, fold.end]).intersection(part.outline.polygon)
        if line.is_empty:
            continue
        (x0, y0), (x1, y1) = fold.start, fold.end
        share = _FIRST_SHARE + _SHARE * (i % _SHARES)
        middle = line.interpolate(share if (x0, y0) <= (x1, y1) else 1 - share, normalized=True)
        long = math.dist(fold.start, fold.end)
        off = fold.band_mm[1] + 0.8 * PLAIN_MM / on.scale
        at = middle.x - (y1 - y0) / long * off, middle.y + (x1 - x0) / long * off
        x, y = on.at(at)
        yield words_at((x, y - PLAIN_MM / 2), tags[fold_words(fold)], align=Align.MIDDLE)


def _points(run: Run) -> list[Point]:
    return [run[0].start, *(point for segment in run for point in segment.points(_CHORD_MM))]


def _apart(texts: Sequence[Text]) -> Iterator[Text]:
    """Words without those that would lie on their neighbours in the same row."""
    ends: dict[float, float] = {}
    for text in texts:
        y = round(text.at[1], 3)
        half = width_mm(text.text, text.height_mm) / 2
        if text.at[0] - half >= ends.get(y, -math.inf):
            ends[y] = text.at[0] + half + 1.0
            yield text
