"""Parts with folds and bevelled edges for the tests of drawings."""

import math

from foamcut.draw.values import Line
from foamcut.flat.bevels import Bevel
from foamcut.flat.drawn import DrawnFold, FoldKind, Side
from foamcut.flat.fold_lines import fold_of
from foamcut.flat.outline import Outline, Point, straight
from foamcut.flat.part import Part
from tests.draw.drawn_parts import part

#: what each kind of fold needs besides its line and its turn
KINDS: dict[FoldKind, dict[str, float]] = {
    FoldKind.SCORE: {},
    FoldKind.GROOVE: {},
    FoldKind.WRAP: {},
    FoldKind.ROLL: {"radius_mm": 30.0},
    FoldKind.HINGE: {"bevel_deg": 40.0},
    FoldKind.STRIP: {"band_mm": 12.0},
}
#: what is cut for each kind, from the drawn face and from the back
CUTS: dict[FoldKind, tuple[set[Line], set[Line]]] = {
    FoldKind.SCORE: ({Line.HALF}, {Line.HALF_BACK}),
    FoldKind.GROOVE: ({Line.GROOVE}, {Line.GROOVE_BACK}),
    FoldKind.WRAP: ({Line.LIFT}, {Line.LIFT_BACK}),
    FoldKind.ROLL: ({Line.HALF}, {Line.HALF_BACK}),
    FoldKind.STRIP: ({Line.LIFT}, {Line.LIFT_BACK}),
    FoldKind.HINGE: ({Line.HALF, Line.BEVEL}, {Line.HALF_BACK, Line.BEVEL_BACK}),
}


def drawn_fold(
    kind: FoldKind, start: Point, end: Point, turn_deg: float = 90.0, side: Side = Side.UP, **more
) -> DrawnFold:
    """A fold as the builder gives it, with whatever its kind needs."""
    return DrawnFold(
        key="f", kind=kind, start=start, end=end, turn_deg=turn_deg, side=side, **KINDS[kind] | more
    )


def folded(outline: Outline, *folds: DrawnFold, name: str = "tray", **more) -> Part:
    """A part of 5 mm board with folds."""
    made = tuple(fold_of(each, 5.0, outline.polygon) for each in folds)
    return part(outline, name, folds=made, **more)


def plate(
    kind: FoldKind,
    side: Side = Side.UP,
    size: Point = (300.0, 160.0),
    turn_deg: float = 90.0,
    groove_extra_deg: float = 0.0,
    far_turn_deg: float | None = None,
    **more,
) -> Part:
    """A rectangle with one upright fold in its middle."""
    width, height = size
    extra = {"groove_extra_deg": groove_extra_deg} if groove_extra_deg else {}
    extra |= {"far_turn_deg": far_turn_deg} if far_turn_deg else {}
    fold = drawn_fold(kind, (width / 2, -1), (width / 2, height + 1), turn_deg, side, **extra)
    return folded(Outline.rectangle(0, 0, width, height), fold, **more)


def lower_bevel(width_mm: float, *, back: bool = False, angle_deg: float = 45.0) -> Bevel:
    """The lower edge of a rectangle from (0, 0), cut on a slope."""
    off = 5.0 * math.tan(math.radians(angle_deg))
    return Bevel(
        key="b",
        angle_deg=angle_deg,
        back=back,
        width_mm=off,
        edge=(straight([(0, 0), (width_mm, 0)]),),
        runs=(straight([(0, off), (width_mm, off)]),),
    )
