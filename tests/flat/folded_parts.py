"""Parts that a builder folds up, drawn flat: trays, tubes and troughs of 5 mm board, right and with slips."""

from typing import Any

from foamcut.flat.build import build_part
from foamcut.flat.drawn import DrawnFold, Readings, Side
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
