"""Which ways up and round a part may lie on its stock, and the angle at which it would fit best.

Degrees counter-clockwise, as in `Placement`.
"""

import math
from collections.abc import Sequence

from foamcut.flat.drawn import Face, Grain, Turns
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


def flips(part: Part) -> tuple[bool, ...]:
    """Whether the part may be turned over: only when it does not matter which face lies up."""
    return (False, True) if part.face is Face.EITHER else (False,)


def askew_bases(outline: Outline, rooms: Sequence[tuple[float, float]]) -> tuple[float, ...]:
    """A few angles in (0, 90) to try beside the upright one, each with its quarter turns.

    They lay the two longest edges of the hull along the sheet, and the part as roomily as can be into
    each room (width and height, mm) that it does not fit upright.
    """
    hull = _hull(outline)
    edges = sorted(zip(hull, hull[1:] + hull[:1], strict=True), key=lambda e: -math.dist(*e))
    angles = [_base(-math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))) for a, b in edges[:2]]
    for width, height in rooms:
        if _spare(hull, 0.0, width, height) < 0 and _spare(hull, 90.0, width, height) < 0:
            angle = roomiest_turn(outline, width, height)
            if angle is not None:
                angles.append(_base(angle))
    return tuple(dict.fromkeys(angle for angle in angles if angle))


def roomiest_turn(outline: Outline, width: float, height: float) -> float | None:
    """The turn in [0, 180), in tenths, that leaves most room in a rectangle; None: none fits."""
    hull = _hull(outline)
    coarse = max(range(180), key=lambda a: (_spare(hull, float(a), width, height), -a))
    fine = max(
        (rounded((coarse + tenth / 10) % 180) for tenth in range(-10, 11)),
        key=lambda a: (_spare(hull, a, width, height), -a),
    )
    return fine if _spare(hull, fine, width, height) >= 0 else None


def _base(angle: float) -> float:
    return rounded(angle % 90) % 90


def _hull(outline: Outline) -> list[Point]:
    x0, y0, _, _ = outline.bounds
    hull = outline.polygon.convex_hull
    return [(x - x0, y - y0) for x, y in list(hull.exterior.coords)[:-1]]


def _spare(hull: Sequence[Point], angle: float, width: float, height: float) -> int:
    """The lesser of what is left in width and height when turned by `angle`, nm; negative: too big."""
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    xs = [cos * x - sin * y for x, y in hull]
    ys = [sin * x + cos * y for x, y in hull]
    left = min(width - (max(xs) - min(xs)), height - (max(ys) - min(ys)))
    return round(left * 1e6)
