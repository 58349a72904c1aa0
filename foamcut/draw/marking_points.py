"""The points of a piece on its sheet: numbered corners, places of a compass, ends of folds and marks.

mm, the sheet's coordinates: x from the left edge, y from the bottom edge.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from foamcut.draw.drawnsmall import mark_words
from foamcut.draw.marking_rule import Rule
from foamcut.draw.marking_trace import Trace, traced
from foamcut.draw.part import is_far
from foamcut.draw.styles import STYLES
from foamcut.draw.values import Line, Stroke
from foamcut.draw.worked import FROM_THE_BACK, fold_lines
from foamcut.flat.outline import Point, Segment
from foamcut.flat.part import Slot
from foamcut.nest.values import Placed, Sheet

#: points as near as this are one, mm
_SAME_MM = 0.01
#: what may be off of a curve between two corners, as a share of the rule's finest tick
_CURVE_SHARE = 5
#: what a line of a fold or bevel is, shorter than in the legend
_WORKED = {
    Line.HALF: "half cut",
    Line.GROOVE: "edge of a groove",
    Line.LIFT: "edge of a lifted strip",
    Line.BEVEL: "edge of a bevel",
    Line.FOLD_UP: "fold towards you",
    Line.FOLD_DOWN: "fold away from you",
}
_BACK = {back: f"from the back: {_WORKED[front]}" for front, back in FROM_THE_BACK.items()}


@dataclass(frozen=True, slots=True)
class Centre:
    """Where a compass stands: its name, place and radius, mm.

    Of an arc `ends` are the numbers of the corners it leads from and to, and `left` tells that it turns
    left (counter-clockwise) on the way; a circle has no ends.
    """

    name: str
    at: Point
    radius: float
    ends: tuple[str, str] | None = None
    left: bool = True

    def words(self, rule: Rule) -> str:
        """What is struck from here: ``circle, diameter 6 mm``."""
        if self.ends is None:
            return f"circle, diameter {rule.length(2 * self.radius)}"
        side = "left" if self.left else "right"
        start, end = self.ends
        return f"arc {start} to {end}, radius {rule.length(self.radius)}, turning {side}"


@dataclass(frozen=True, slots=True)
class Ruled:
    """A line as it is ruled: its numbered points in turn, and where a compass stands for it.

    `name` is ``outline``, ``opening 1``, ``slot 2``, ``fold 3``, ``mark 4``; `words` say more of it.
    """

    name: str
    words: str
    line: Line
    points: tuple[tuple[str, Point], ...]
    centres: tuple[Centre, ...]
    trace: Trace
    segments: tuple[Segment, ...]


@dataclass(frozen=True, slots=True)
class Marked:
    """All that is ruled of one piece: outline and holes, folds and bevels, marks."""

    placed: Placed
    rings: tuple[Ruled, ...]
    folds: tuple[Ruled, ...]
    marks: tuple[Ruled, ...]

    @property
    def lines(self) -> tuple[Ruled, ...]:
        """All of them, in the order of the tables."""
        return (*self.rings, *self.folds, *self.marks)


def marked(placed: Placed, sheet: Sheet, rule: Rule) -> Marked:
    """The points of a piece where it lies on its sheet, numbered round the outline, then inwards."""
    maker = _Maker(sheet, rule)
    names = list(_ring_names(placed))
    rings = [
        maker.ruled(name, words, Line.OPENING if i else Line.THROUGH, segments, closed=True)
        for i, ((name, words), segments) in enumerate(zip(names, placed.outline.lines(), strict=True))
    ]
    folds = [
        maker.ruled(f"fold {i}", _work_words(stroke.line), stroke.line, run)
        for i, (stroke, run) in enumerate(_placed_folds(placed), 1)
    ]
    marks = [
        maker.ruled(f"mark {i}", words, line, run)
        for i, (words, line, run) in enumerate(_placed_marks(placed), 1)
    ]
    return Marked(placed, tuple(rings), tuple(folds), tuple(marks))


def _work_words(line: Line) -> str:
    return f"{STYLES[line].letter}, {(_WORKED | _BACK)[line]}"


class _Maker:
    """Gives numbers to points, the same number to the same place."""

    def __init__(self, sheet: Sheet, rule: Rule) -> None:
        self._off_mm = float(rule.tick_mm) / _CURVE_SHARE
        self._reachable = _on(sheet)
        self._numbers: dict[tuple[int, int], str] = {}
        self._centres = 0

    def ruled(
        self, name: str, words: str, line: Line, segments: Sequence[Segment], *, closed: bool = False
    ) -> Ruled:
        trace = traced(segments, closed=closed, off_mm=self._off_mm, reachable=self._reachable)
        numbers = [self._number(at) for at in trace.corners]
        centres = []
        for i, arc in sorted(trace.arcs.items()):
            self._centres += 1
            ends = (numbers[i], numbers[(i + 1) % len(numbers)]) if numbers else None
            centres.append(Centre(f"c{self._centres}", arc.centre, arc.radius, ends, arc.left))
        points = tuple(zip(numbers, trace.corners, strict=True))
        return Ruled(name, words, line, points, tuple(centres), trace, tuple(segments))

    def _number(self, at: Point) -> str:
        key = round(at[0] / _SAME_MM), round(at[1] / _SAME_MM)
        return self._numbers.setdefault(key, str(len(self._numbers) + 1))


def _on(sheet: Sheet) -> Callable[[Point], bool]:
    def inside(at: Point) -> bool:
        return 0 <= at[0] <= sheet.width_mm and 0 <= at[1] <= sheet.height_mm

    return inside


def _ring_names(placed: Placed) -> Iterator[tuple[str, str]]:
    yield "outline", ""
    slots = [(placed.placement.point(*slot.at), slot) for slot in placed.piece.flat.slots]
    openings = taken = 0
    for hole in placed.outline.polygon.interiors:
        x0, y0, x1, y1 = hole.bounds
        slot = _nearest(slots, ((x0 + x1) / 2, (y0 + y1) / 2))
        if slot:
            taken += 1
            yield f"slot {taken}", f"takes {slot.takes}"
        else:
            openings += 1
            yield f"opening {openings}", ""


def _nearest(slots: Sequence[tuple[Point, Slot]], at: Point) -> Slot | None:
    for (x, y), slot in slots:
        if abs(x - at[0]) < _SAME_MM and abs(y - at[1]) < _SAME_MM:
            return slot
    return None


def _placed_folds(placed: Placed) -> Iterator[tuple[Stroke, tuple[Segment, ...]]]:
    for stroke in fold_lines(placed.piece.flat):
        if stroke.segments:
            yield stroke, tuple(segment.placed(placed.placement) for segment in stroke.segments)


def _placed_marks(placed: Placed) -> Iterator[tuple[str, Line, tuple[Segment, ...]]]:
    part = placed.piece.flat
    for mark in part.marks:
        line = Line.MARK_BACK if is_far(mark, part) else Line.MARK
        for run in mark.drawn().runs:
            if run:
                moved = tuple(segment.placed(placed.placement) for segment in run)
                yield mark_words(mark, part), line, moved


def places(lines: Sequence[Ruled]) -> tuple[tuple[str, Point], ...]:
    """Every numbered point and every place of a compass of these lines, each once, in their order."""
    found = chain.from_iterable(
        (*line.points, *((centre.name, centre.at) for centre in line.centres)) for line in lines
    )
    return tuple(dict(found).items())
