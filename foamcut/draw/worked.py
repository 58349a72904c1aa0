"""The lines of folds and bevels, each of the kind that says what is done there and from which face.

The part's coordinates, mm.
"""

from collections.abc import Iterator

from foamcut.draw.values import Line, Stroke
from foamcut.flat.bevels import Bevel
from foamcut.flat.clipping import Run
from foamcut.flat.folds import Fold
from foamcut.flat.part import Part

#: the same work done from the face that lies down
FROM_THE_BACK = {
    Line.HALF: Line.HALF_BACK,
    Line.GROOVE: Line.GROOVE_BACK,
    Line.LIFT: Line.LIFT_BACK,
    Line.BEVEL: Line.BEVEL_BACK,
}
BACK_LINES = frozenset(FROM_THE_BACK.values())


def fold_lines(part: Part) -> tuple[Stroke, ...]:
    """What is cut for folds and bevels, on both faces, and where the whole paper turns."""
    strokes = [stroke for fold in part.folds for stroke in _fold(fold)]
    return (*strokes, *(stroke for bevel in part.bevels for stroke in _bevel(bevel)))


def cut_behind(part: Part) -> tuple[Run, ...]:
    """All that is cut on the face that lies down."""
    return tuple(stroke.segments for stroke in fold_lines(part) if stroke.line in BACK_LINES)


def work_of(fold: Fold) -> tuple[tuple[Line, tuple[Run, ...]], ...]:
    """The cuts of a fold by kind, as if they were made from the drawn face."""
    return (
        (Line.HALF, fold.half),
        (Line.GROOVE, fold.groove),
        (Line.LIFT, fold.lift),
        (Line.BEVEL, fold.bevel),
    )


def turning(fold: Fold) -> Line:
    """The kind of line at which the whole paper turns, as seen on the drawn face."""
    return Line.FOLD_UP if fold.rises else Line.FOLD_DOWN


def _fold(fold: Fold) -> Iterator[Stroke]:
    for line, runs in work_of(fold):
        kind = FROM_THE_BACK[line] if fold.cut_behind else line
        yield from (Stroke(line=kind, segments=run) for run in runs)
    yield from (Stroke(line=turning(fold), segments=run) for run in fold.fold_strokes())


def _bevel(bevel: Bevel) -> Iterator[Stroke]:
    line = Line.BEVEL_BACK if bevel.cut_behind else Line.BEVEL
    yield from (Stroke(line=line, segments=run) for run in bevel.runs)
