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
_LONG_TICK_MM = 2.2
_SHORT_TICK_MM = 1.2

#: what hurts, by the tool that the plan is cut with
_KNIFE = (
    "Fresh blade, metal rule, several light passes; cut away from the hand that holds the board.",
    "Keep the other hand out of the line of the blade and put the knife away closed.",
)
_LASER = (
    "Many workshops forbid laser cutting of foam of any kind: ask before you switch on.",
    "Polystyrene gives off styrene, PVC hydrogen chloride: find out what your board is made of.",
    "Extract the fumes to the open air, and never leave a running laser alone.",
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
#: one line for every page, by tool
_ONE_LINE: dict[str, str] = {
    "knife": "Measure the bar first. Fresh blade, metal rule, cut away from your hand.",
    "plotter": "Measure the bar first. Keep hands away from the moving blade.",
    "laser": "Measure the bar first. Many workshops forbid laser cutting of foam: ask.",
}


def cautions(tool: str) -> tuple[str, ...]:
    """The cautions for a plan that is cut with this tool, one sentence or two a line.

    Sources: a university laser laboratory's list of materials (foam of any kind forbidden), TWI's answers on
    fumes of plastics (styrene, hydrogen chloride); the rest is common practice, no source.
    """
    return (*_BY_TOOL.get(tool, (*_PLOTTER, *_LASER, *_KNIFE)), *_ALL)


def caution_line(tool: str) -> str:
    """The caution that stands on every page."""
    return _ONE_LINE.get(tool, _ONE_LINE["knife"])


def level_bar(at: Point, line: Line = Line.RULER) -> tuple[tuple[Stroke, ...], tuple[Text, ...]]:
    """A bar of 100 mm with centimetres and its length above, and 4 in with inches and its length below.

    `at` is the left end of the 100 mm line; the bar reaches 5.6 mm up and down, and 101.6 mm right.
    """
    x, y = at
    inches_mm = 4 * MM_PER_INCH
    strokes = [
        Stroke(line=line, segments=straight([(x, y), (x + BAR_MM, y)])),
        Stroke(line=line, segments=straight([(x + BAR_MM, y), (x + inches_mm, y)])),
    ]
    strokes += _ticks(line, [(x + 10 * i, y) for i in range(11)], up=1, long={0, 5, 10})
    strokes += _ticks(line, [(x + MM_PER_INCH * i, y) for i in range(5)], up=-1, long={0, 2, 4})
    texts = [
        _bar_text("100 mm", x + BAR_MM / 2, y + _LONG_TICK_MM + 0.7, line),
        _bar_text("0", x, y + _LONG_TICK_MM + 0.7, line, Align.LEFT),
        _bar_text("100", x + BAR_MM, y + _LONG_TICK_MM + 0.7, line, Align.RIGHT),
        _bar_text("4 in", x + inches_mm / 2, y - _LONG_TICK_MM - 0.7 - BAR_TEXT_MM, line),
        _bar_text("0", x, y - _LONG_TICK_MM - 0.7 - BAR_TEXT_MM, line, Align.LEFT),
        _bar_text("4", x + inches_mm, y - _LONG_TICK_MM - 0.7 - BAR_TEXT_MM, line, Align.RIGHT),
    ]
    return tuple(strokes), tuple(texts)


def _bar_text(text: str, x: float, y: float, line: Line, align: Align = Align.MIDDLE) -> Text:
    return Text(line=line, at=(x, y), text=text, height_mm=BAR_TEXT_MM, align=align)


def _ticks(line: Line, places: Iterable[Point], *, up: int, long: set[int]) -> list[Stroke]:
    ends = [(x, y, _LONG_TICK_MM if i in long else _SHORT_TICK_MM) for i, (x, y) in enumerate(places)]
    return [Stroke(line=line, segments=straight([(x, y), (x, y + up * tick)])) for x, y, tick in ends]


def upright_bar(at: Point, line: Line = Line.RULER) -> tuple[tuple[Stroke, ...], tuple[Text, ...]]:
    """A bar of 100 mm that stands on `at`, centimetres and its length to the left; 5.6 mm wide."""
    x, y = at
    strokes = [Stroke(line=line, segments=straight([(x, y), (x, y + BAR_MM)]))]
    for i in range(11):
        tick = _LONG_TICK_MM if i % 5 == 0 else _SHORT_TICK_MM
        strokes.append(Stroke(line=line, segments=straight([(x - tick, y + 10 * i), (x, y + 10 * i)])))
    text = Text(
        line=line,
        at=(x - _LONG_TICK_MM - 0.7, y + BAR_MM / 2),
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
