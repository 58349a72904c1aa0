"""Parts that a builder folds up, drawn flat: trays, tubes and troughs of 5 mm board, right and with slips."""

import math
from typing import Any

from foamcut.flat.build import build_part
from foamcut.flat.drawn import DrawnFold, FoldAt, Readings, Side
from foamcut.flat.part import Part
from tests.strategies import fold, panel, readings, rectangle

T = 5.0  # the board's thickness, mm


def built(shape, *folds: DrawnFold, **more: Any) -> Part:
    return build_part(panel(shape, folds=folds, **more))[0][0]


def bevel_word(side: Side) -> str:
    """The bevel that is cut from the face which comes to lie inside."""
    return "bevel_deg" if side is Side.UP else "bevel_back_deg"


def tray(
    *,
    floor: tuple[float, float] = (100.0, 80.0),
    high: float = 40.0,
    side: Side = Side.UP,
    bevel: float | None = None,
    short: float = 0.0,
    right_short: float = 0.0,
    turn: float = 90.0,
    **more: Any,
) -> Part:
    """A cross: a floor from (0, 0) and a flap along each side of it, named front, right, back, left.

    `bevel` of the flaps' upright ends; `short`: how much sooner the right and the left flap end, at both
    their ends; `right_short`: how much sooner still the right one does at its lower end.
    """
    w, d = floor
    slope = {} if bevel is None else {bevel_word(side): bevel}
    low = short + right_short
    rows = [
        (0, 0, slope), (0, -high), (w, -high, slope), (w, 0),
        *([(w, low, slope)] if low else []), (w + high, low), (w + high, d - short, slope), *([(w, d - short)] if short else []),
        (w, d, slope), (w, d + high), (0, d + high, slope), (0, d),
        *([(0, d - short, slope)] if short else []), (-high, d - short), (-high, short, slope), *([(0, short)] if short else []),
    ]  # fmt: skip
    if not low:
        rows[3] = (w, 0, slope)
    if not short:
        rows = [(x, y, slope) if (x, y) == (0, d) else (x, y, *said) for x, y, *said in rows]
    ends = [((w, 0), (0, 0)), ((w, d - short), (w, low)), ((0, d), (w, d)), ((0, short), (0, d - short))]
    folds = [fold(i, "groove", a, b, turn, side=side) for i, (a, b) in enumerate(ends)]
    return built(readings(*rows), *folds, **more)


def tube(
    widths: tuple[float, ...] = (60.0, 40.0, 60.0, 40.0),
    *,
    long: float = 100.0,
    side: Side = Side.UP,
    bevel: float | None = None,
    kind: str = "groove",
    turn: float = 90.0,
) -> Part:
    """A strip of panels side by side along x, folded round; `bevel` of its first and its last edge."""
    total = sum(widths)
    slope = {} if bevel is None else {bevel_word(side): bevel}
    shape: Readings = readings((0, 0), (total, 0, slope), (total, long), (0, long, slope))
    places = [sum(widths[: i + 1]) for i in range(len(widths) - 1)]
    folds = [fold(i, kind, (x, long + 1), (x, -1), turn, side=side) for i, x in enumerate(places)]
    return built(shape, *folds)


def strip(width: float, *folds: DrawnFold, long: float = 50.0) -> Part:
    """A plate from (0, 0) with folds across it."""
    return built(rectangle(width, long), *folds)


def across(i: int, kind: str, x: float, turn: float = 90.0, **more: Any) -> DrawnFold:
    """A fold across a strip at x, the panel at larger x turning."""
    return fold(i, kind, (x, 2000.0), (x, -2000.0), turn, **more)


def lidded(low: float = 0.0, *, bevel: float | None = None) -> Part:
    """A box 100 x 80 x 40 outside, its walls mitred; the lid hangs on the back wall.

    `low`: how much lower the three walls are that the lid lies on; `bevel` of their tops and of the lid.
    """
    w, d, h = 100.0, 80.0, 40.0
    end = {"bevel_deg": 45}
    top = {} if bevel is None else {"bevel_deg": bevel}
    q = h - low
    rows = [
        (0, 0, end), (0, -q, top), (w, -q, end), (w, 0, end), (w + q, 0, top), (w + q, d, end), (w, d, end),
        (w, d + h, top), (w, d + h + d, top), (0, d + h + d, top), (0, d + h, end), (0, d, end), (-q, d, top), (-q, 0, end),
    ]  # fmt: skip
    lines = [((w, 0), (0, 0)), ((w, d), (w, 0)), ((0, d), (w, d)), ((0, 0), (0, d)), ((0, d + h), (w, d + h))]
    return built(readings(*rows), *(fold(i, "groove", a, b) for i, (a, b) in enumerate(lines)))


def wrapped_tray(short: float, at: FoldAt) -> Part:
    """The tray of 100 x 80 x 40 outside, with wraps; two of its walls end `short` sooner at both ends."""
    w, d, h = 100.0, 80.0, 40.0
    s, o = short, T if at is FoldAt.FAR else 0.0
    rows = [
        (0, 0), (0, -h), (w, -h), (w, 0), (w, s), (w + h, s), (w + h, d - s), (w, d - s),
        (w, d), (w, d + h), (0, d + h), (0, d), (0, d - s), (-h, d - s), (-h, s), (0, s),
    ]  # fmt: skip
    lines = [((w, o), (0, o)), ((w - o, d - s), (w - o, s)), ((0, d - o), (w, d - o)), ((o, s), (o, d - s))]
    folds = [fold(i, "wrap", a, b, fold_at=at) for i, (a, b) in enumerate(lines)]
    return built(readings(*dict.fromkeys(rows)), *folds)


def frustum(count: int, kind: str = "groove", *, mitred: bool = False, more_deg: float = 0.0) -> Part:
    """A ring sector folded along its rays to a pyramid's frustum of so many sides.

    Its development is that of a cone of slant 200 over radius 60, cut off at slant 80: a sector of
    2 pi 60 / 200.  `more_deg`: by how much each fold turns too far.
    """
    slant, top, radius = 200.0, 80.0, 60.0
    step = 2 * math.pi * radius / slant / count
    rim = slant * math.sin(step / 2) / math.sin(math.pi / count)  # of a pyramid with such faces
    slope, apothem = slant * math.cos(step / 2), rim * math.cos(math.pi / count)
    level, upright = math.sqrt(slope**2 - apothem**2) / slope, apothem / slope  # of a face's normal
    turn = math.degrees(math.acos(level**2 * math.cos(2 * math.pi / count) + upright**2))
    end = {"bevel_deg": turn / 2} if mitred else {}
    rays = [(math.cos(i * step), math.sin(i * step)) for i in range(count + 1)]
    outer, inner = ([(r * x, r * y) for x, y in rays] for r in (slant, top))
    rows = [*outer[:-1], (*outer[-1], end), *inner[:0:-1], (*inner[0], end)]
    folds = [fold(i, kind, inner[i + 1], outer[i + 1], turn + more_deg) for i in range(count - 1)]
    return built(readings(*rows), *folds)
