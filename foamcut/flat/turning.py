"""Which quarter turns a part may take on its stock, and the free turn at which it would lie best.

Degrees counter-clockwise, as in `Placement`.
"""

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from foamcut.flat.drawn import Grain, Turns
from foamcut.flat.outline import Outline, Point
from foamcut.flat.part import Part
from foamcut.flat.placement import rounded
from foamcut.flat.stock import Stock

_TURNS: dict[Turns, tuple[float, ...]] = {
    Turns.NONE: (0.0,),
    Turns.HALF: (0.0, 180.0),
    Turns.QUARTER: (0.0, 90.0, 180.0, 270.0),
    Turns.ANY: (0.0, 90.0, 180.0, 270.0),
}

_DEGREES = tuple(float(angle) for angle in range(180))


def grain_limits(part: Part, stock: Stock) -> bool:
    """Whether both have a grain, so that the part's axis must lie along that of the stock."""
    return part.grain is not Grain.ANY and stock.grain is not Grain.ANY


def upright_turns(part: Part, stock: Stock) -> tuple[float, ...]:
    """The quarter turns that the part's turns and both grains allow; empty when they contradict."""
    turns = _TURNS[part.turns]
    if not grain_limits(part, stock):
        return turns
    along = (0.0, 180.0) if part.grain is stock.grain else (90.0, 270.0)
    return tuple(turn for turn in turns if turn in along)


def may_lie_askew(part: Part, stock: Stock) -> bool:
    """Whether every angle is allowed."""
    return part.turns is Turns.ANY and not grain_limits(part, stock)


def roomiest_turn(outline: Outline, width: float, height: float) -> float | None:
    """The turn in [0, 180), in tenths, that leaves most room in a rectangle; None: none fits."""
    return _roomiest(hull_points(outline), width, height)


def hull_points(outline: Outline) -> list[Point]:
    """Corners of the outline's hull, in turn, from the lower left corner of its box."""
    x0, y0, _, _ = outline.bounds
    hull = outline.polygon.convex_hull
    return [(x - x0, y - y0) for x, y in list(hull.exterior.coords)[:-1]]


def spare(hull: Sequence[Point], angles: Sequence[float], width: float, height: float) -> list[int]:
    """For each angle, the lesser of what is left in width and height, nm; negative: too big."""
    xs, ys = np.asarray(hull, dtype=float).T
    cos, sin = _cos_sin(tuple(angles))
    wide, high = cos * xs - sin * ys, sin * xs + cos * ys
    left = np.minimum(width - np.ptp(wide, axis=1), height - np.ptp(high, axis=1))
    return np.rint(left * 1e6).astype(np.int64).tolist()


@lru_cache(maxsize=512)
def _cos_sin(angles: tuple[float, ...]) -> tuple[np.ndarray, np.ndarray]:
    """Cosines and sines of angles, degrees, as columns."""
    radians = [math.radians(angle) for angle in angles]
    return np.array([[math.cos(a)] for a in radians]), np.array([[math.sin(a)] for a in radians])


def _roomiest(hull: Sequence[Point], width: float, height: float) -> float | None:
    if _surely_too_large(hull, width, height):
        return None
    coarse, _ = _best(hull, _DEGREES, width, height)
    tenths = [rounded((coarse + tenth / 10) % 180) for tenth in range(-10, 11)]
    fine, left = _best(hull, tenths, width, height)
    return fine if left >= 0 else None


def _surely_too_large(hull: Sequence[Point], width: float, height: float) -> bool:
    """Whether a side of the hull's box is longer than the rectangle's diagonal."""
    xs, ys = zip(*hull, strict=True)
    return max(max(xs) - min(xs), max(ys) - min(ys)) > math.hypot(width, height) + 1.0


def _best(hull: Sequence[Point], angles: Sequence[float], width: float, height: float) -> tuple[float, int]:
    """The angle that leaves most, of like ones the smallest, and what it leaves."""
    left = spare(hull, angles, width, height)
    most = max(range(len(angles)), key=lambda i: (left[i], -angles[i]))
    return angles[most], left[most]
