"""What pages and sheets have in common: bars to measure, legend, cautions.

Page coordinates, mm.  Every function takes the kind of line to draw with, so that sheets can draw the
same on their layer of notes.
"""

from collections.abc import Iterable

from foamcut.draw.styles import STYLES
from foamcut.draw.values import Align, Line, Stroke, Text
from foamcut.flat.outline import Point, straight
from foamcut.units import MM_PER_INCH

#: length of every bar to measure, mm
BAR_MM = 100.0
#: height of the numbers at a bar, mm
BAR_TEXT_MM = 2.5
_END_TICK_MM = 2.2
_TICK_MM = 1.1
_TEXT_GAP_MM = 0.5

#: what hurts, by the tool that the plan is cut with
_KNIFE = (
    "Fresh blade, metal rule, several light passes; cut away from the hand that holds the board.",
    "Keep the other hand out of the line of the blade and put the knife away closed.",
)
_LASER = (
    "Many workshops forbid laser cutting of foam of any kind: ask before you switch on.",
    "Polystyrene burns and gives off styrene, PVC-faced board gives off hydrogen chloride: find out what "
    "your board is made of.",
    "Extraction to the open air on, and never leave a running laser alone. A knife is the usual tool.",
)
_PLOTTER = ("Keep hands, hair and sleeves away from the moving blade.",)
_ALL = (
    "Read the label of glue and paint, and keep the room aired.",
    "Follow the rules of your place, and ask someone experienced before the first cut and the first flight.",
)
_BY_TOOL: dict[str, tuple[str, ...]] = {
    "knife": _KNIFE,
    "plotter": (*_PLOTTER, *_KNIFE),
    "laser": (*_LASER, *_KNIFE[:1]),
}
#: what stands in every machine's file besides: a file may come to a machine that nobody had in mind
_FOR_LASERS = (
    "This file may be read by a laser: many workshops forbid laser cutting of foam of any kind. Polystyrene "
    "burns and gives off styrene, PVC-faced board gives off hydrogen chloride: find out what your board is, "
    "ask whoever runs the machine, extraction on, never leave it. A knife is the usual tool.",
)
#: how the line begins that stands on every page with a bar
ON_A_BAR = "Measure the bar first. "
#: one line for every page, by tool
_ONE_LINE: dict[str, str] = {
    "knife": f"{ON_A_BAR}Fresh blade, metal rule, cut away from your hand.",
    "plotter": f"{ON_A_BAR}Keep hands away from the moving blade.",
    "laser": f"{ON_A_BAR}Many workshops forbid laser cutting of foam: ask.",
}


def cautions(tool: str, *, machine: bool = False) -> tuple[str, ...]:
    """The cautions for a plan that is cut with this tool, one sentence or more a line.

    With `machine` those of a file that a machine reads: what holds of lasers stands in all of them.

    Sources: a university laser laboratory's list of materials (foam of any kind forbidden), TWI's answers on
    fumes of plastics (styrene, hydrogen chloride); the rest is common practice, no source.
    """
    own = _BY_TOOL.get(tool, (*_PLOTTER, *_LASER, *_KNIFE))
    lasers = _FOR_LASERS if machine and not set(_LASER) & set(own) else ()
    return (*own, *lasers, *_ALL)


def caution_line(tool: str) -> str:
    """The caution that stands on every page."""
    return _ONE_LINE.get(tool, _ONE_LINE["knife"])


def level_bar(at: Point, line: Line = Line.FRAME) -> tuple[tuple[Stroke, ...], tuple[Text, ...]]:
    """A bar of 100 mm with centimetres and "100 mm" above, and 4 in with inches and "4 in" below.

    `at` is the left end of the 100 mm line; the bar reaches 4.1 mm up and down, and 101.6 mm right.
    """
    x, y = at
    end_mm = 4 * MM_PER_INCH
    strokes = [
        Stroke(line=line, segments=straight([(x, y), (x + BAR_MM, y)])),
        Stroke(line=line, segments=straight([(x + BAR_MM, y), (x + end_mm, y)])),
    ]
    for i in range(11):
        strokes.append(_tick(line, x + 10 * i, y, 0, _END_TICK_MM if i in (0, 10) else _TICK_MM))
    for i in range(5):
        strokes.append(_tick(line, x + MM_PER_INCH * i, y, 0, -(_END_TICK_MM if i in (0, 4) else _TICK_MM)))
    off = _TICK_MM + _TEXT_GAP_MM
    words = (("100 mm", x + BAR_MM / 2, y + off), ("4 in", x + end_mm / 2, y - off - BAR_TEXT_MM))
    texts = [
        Text(line=line, at=(middle, level), text=word, height_mm=BAR_TEXT_MM, align=Align.MIDDLE)
        for word, middle, level in words
    ]
    return tuple(strokes), tuple(texts)


def _tick(line: Line, x: float, y: float, across: float, up: float) -> Stroke:
    return Stroke(line=line, segments=straight([(x, y), (x + across, y + up)]))


def upright_bar(at: Point, line: Line = Line.FRAME) -> tuple[tuple[Stroke, ...], tuple[Text, ...]]:
    """A bar of 100 mm that stands on `at`, centimetres and its length on the left; 4.1 mm wide."""
    x, y = at
    strokes = [Stroke(line=line, segments=straight([(x, y), (x, y + BAR_MM)]))]
    for i in range(11):
        strokes.append(_tick(line, x, y + 10 * i, -(_END_TICK_MM if i in (0, 10) else _TICK_MM), 0))
    text = Text(
        line=line,
        at=(x - _TICK_MM - _TEXT_GAP_MM, y + BAR_MM / 2),
        text="100 mm",
        height_mm=BAR_TEXT_MM,
        turn_deg=90.0,
        align=Align.MIDDLE,
    )
    return tuple(strokes), (text,)


def legend_rows(lines: Iterable[Line]) -> tuple[tuple[Line, str, str], ...]:
    """For each kind of line in use, in the order of the table: the kind, its letter, what it means."""
    used = frozenset(lines)
    return tuple((line, STYLES[line].letter, STYLES[line].words) for line in Line if line in used)
