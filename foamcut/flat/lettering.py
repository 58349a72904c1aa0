"""Where a part's label finds room: inside the material, off slots, cutouts and the words of marks.

mm; a search over a grid of places and a few turns.  Choices compare whole nanometres and whole numbers,
ties go to the first, so the same part gives the same place.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely import Polygon, STRtree
from shapely.geometry.base import BaseGeometry

from foamcut.flat.clipping import run_points
from foamcut.flat.marks import MarkText
from foamcut.flat.outline import Point
from foamcut.flat.part import Part
from foamcut.flat.placement import cos_sin

#: heights of letters that are tried, the largest first (series of ISO 3098, from memory), mm
HEIGHTS_MM = (10.0, 7.0, 5.0, 3.5, 2.5, 1.8)
#: places looked at along the longer and the shorter side; odd, so that the middle is one of them
_LONG, _SHORT = 41, 21
#: width of a letter and height of the words of a mark, as far as room for them goes
_MARK_LETTER_MM, _MARK_WORDS_MM = 1.8, 2.5
#: kept free round words, mm
_CLEAR_MM = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a label goes: the middle of its box, its turn, and the height its letters have there."""

    at: Point
    turn_deg: float
    height_mm: float


def label_spot(part: Part, text_width_mm: float, text_height_mm: float) -> Spot | None:
    """The place for a label whose box is this wide and high; None when there is none at any height.

    A label that the builder placed stays there, as high as fits, or else as low as can be read.
    Otherwise the largest height wins, up to the one asked for; then a box that no mark's line runs
    through; then the turn: upright, along y, along the longest edge; then the most room around; then the
    middle of the part.

    Raises
    ------
    ValueError
        A size is not above 0.
    """
    if not (text_width_mm > 0 and text_height_mm > 0):
        raise ValueError(f"sizes must be positive: {text_width_mm=}, {text_height_mm=}")
    heights = [text_height_mm, *(h for h in HEIGHTS_MM if h < text_height_mm)]
    material = part.outline.polygon
    words = STRtree([_words_box(text) for mark in part.marks for text in mark.drawn().texts])
    lines = STRtree(list(_lines(part)))
    shapely.prepare(material)
    if part.label is not None:
        at, turn = part.label.at, part.label.turn_deg
        fitting = (h for h in heights if _fits(material, at, turn, text_width_mm * h / text_height_mm, h))
        return Spot(at=at, turn_deg=turn, height_mm=next(fitting, heights[-1]))
    for height in heights:
        width = text_width_mm * height / text_height_mm
        for obstacles in ((words, lines), (words,)):
            found = _roomiest(part, width, height, obstacles)
            if found is not None:
                return Spot(at=found[0], turn_deg=found[1], height_mm=height)
    return None


def _fits(material: Polygon, at: Point, turn_deg: float, width: float, height: float) -> bool:
    (box,) = _boxes(np.array([at]), turn_deg, width, height)
    return bool(material.contains(box))


def _roomiest(
    part: Part, width: float, height: float, obstacles: Sequence[STRtree]
) -> tuple[Point, float] | None:
    """Place and turn of the box with most room around, of the first turn that has any off the obstacles."""
    places, material = _places(part), part.outline.polygon
    for turn in _turns(part):
        boxes = _boxes(places, turn, width, height)
        fits = shapely.contains_properly(material, boxes)
        for tree in obstacles:
            if len(tree):
                fits[tree.query(boxes, predicate="intersects")[0]] = False
        inside = np.flatnonzero(fits)
        if len(inside):
            around = np.rint(shapely.distance(material.boundary, boxes[inside]) * 1e6)
            best = inside[around == around.max()]
            off = np.rint(((places[best] - _middle(part)) ** 2).sum(axis=1) * 1e6)
            x, y = places[best[int(off.argmin())]].tolist()
            return (x, y), turn
    return None


def _middle(part: Part) -> np.ndarray:
    x0, y0, x1, y1 = part.outline.bounds
    return np.array([(x0 + x1) / 2, (y0 + y1) / 2])


def _places(part: Part) -> np.ndarray:
    """The grid over the part's box: whole micrometres, (n, 2), row by row from below."""
    x0, y0, x1, y1 = part.outline.bounds
    columns, rows = (_LONG, _SHORT) if x1 - x0 >= y1 - y0 else (_SHORT, _LONG)
    xs = [round(x0 + (x1 - x0) * (i + 0.5) / columns, 3) for i in range(columns)]
    ys = [round(y0 + (y1 - y0) * (i + 0.5) / rows, 3) for i in range(rows)]
    return np.array([(x, y) for y in ys for x in xs])


def _turns(part: Part) -> tuple[float, ...]:
    """Upright, along y, and along the longest straight edge, each once and readable."""
    ring = part.outline.rings()[0]
    (x0, y0), (x1, y1) = max(pairwise(ring), key=lambda edge: round(math.dist(*edge) * 1e6))
    along = round(math.degrees(math.atan2(y1 - y0, x1 - x0)), 3)
    readable = (along + 90) % 180 - 90
    return tuple(dict.fromkeys((0.0, 90.0, 90.0 if readable <= -90 else readable)))


def _boxes(places: np.ndarray, turn_deg: float, width: float, height: float) -> np.ndarray:
    """Boxes about the places, turned; an array of polygons."""
    cos, sin = cos_sin(turn_deg % 360)
    w, h = width / 2, height / 2
    corners = np.array(
        [(cos * x - sin * y, sin * x + cos * y) for x, y in ((-w, -h), (w, -h), (w, h), (-w, h))]
    )
    return shapely.polygons(places[:, None, :] + corners[None, :, :])


def _words_box(text: MarkText) -> Polygon:
    """The room that the words of a mark take, from below their baseline up."""
    up = math.radians(text.turn_deg + 90)
    height = _MARK_WORDS_MM + 2 * _CLEAR_MM
    off = _MARK_WORDS_MM / 2
    middle = np.array([(text.at[0] + off * math.cos(up), text.at[1] + off * math.sin(up))])
    width = _MARK_LETTER_MM * max(len(text.text), 1) + 2 * _CLEAR_MM
    return _boxes(middle, text.turn_deg, width, height)[0]


def _lines(part: Part) -> Iterator[BaseGeometry]:
    """The lines of marks, chord by chord."""
    for mark in part.marks:
        for run in mark.drawn().runs:
            yield from shapely.linestrings([list(chord) for chord in pairwise(run_points(run))])
