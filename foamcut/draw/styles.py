"""How each kind of line is drawn: the one table that all writers and the legend read.

Widths and dashes are mm on paper.  A line's style and its letter say everything that its colour says,
for readers who do not see the colour and for printers that have none.

Three widths in the ratio 4:2:1, and dash patterns built from the width, as ISO 128-2 has them (lengths
in line widths: dash 12, long dash 24, short dash 6, dot 0.5, gap 3; from memory).  Outlines are extra
wide, all other lines that are cut wide, lines that are only drawn or read narrow; what lies on the
other face is drawn as the same operation with other dashes and the letter B.  Of a view of the model
the edges of parts are wide, all else narrow.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

from foamcut.draw.values import Line

RGB = tuple[int, int, int]

#: widths of the series 0.13 0.18 0.25 0.35 0.5 0.7 mm that ISO 128-2 allows
NARROW_MM = 0.18
WIDE_MM = 0.35
EXTRA_WIDE_MM = 0.7

#: Krzywinski's palette of 15 colours for colour-blind readers, "Color palettes for color blindness"
#: (mkweb.bcgsc.ca/colorblind), which builds on Okabe and Ito, "Color Universal Design" (2008).  The
#: eight of Okabe and Ito are too few here: only five of theirs, black among them, keep 3:1 on white.
PALETTE: tuple[RGB, ...] = (
    (0, 0, 0),
    (0, 73, 73),
    (0, 146, 146),
    (255, 109, 182),
    (255, 182, 219),
    (73, 0, 146),
    (0, 109, 219),
    (182, 109, 255),
    (109, 182, 255),
    (182, 219, 255),
    (146, 0, 0),
    (146, 73, 0),
    (219, 109, 0),
    (36, 255, 36),
    (255, 255, 109),
)


class Dashes(Enum):
    """Kinds of line of ISO 128-2 by number (from memory): drawn and empty lengths in line widths."""

    CONTINUOUS = (1,)  # 01, drawn throughout; with an empty tuple Python 3.11.2 loses the value
    DASHED = (12, 3)  # 02
    SPACED = (12, 18)  # 03
    LONG_DASH_DOT = (24, 3, 0.5, 3)  # 04
    LONG_DASH_2_DOTS = (24, 3, 0.5, 3, 0.5, 3)  # 05
    LONG_DASH_3_DOTS = (24, 3, 0.5, 3, 0.5, 3, 0.5, 3)  # 06
    DOTTED = (0.5, 3.0)  # 07
    LONG_SHORT_DASH = (24, 3, 6, 3)  # 08
    DASH_DOT = (12, 3, 0.5, 3)  # 10
    DASH_2_DOTS = (12, 3, 0.5, 3, 0.5, 3)  # 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How one kind of line is drawn and what the legend says of it.

    `closed` tells that every line of the kind comes back to its start; `cut` that a blade or beam
    follows it.  `letter` is one or two capitals, unlike those of any other kind.
    """

    letter: str
    words: str
    width_mm: float
    dashes: Dashes
    colour: RGB
    cut: bool = False
    closed: bool = False

    @property
    def dashes_mm(self) -> tuple[float, ...]:
        """Drawn and empty lengths in turn, mm; empty for a continuous line."""
        if self.dashes is Dashes.CONTINUOUS:
            return ()
        return tuple(round(length * self.width_mm, 6) for length in self.dashes.value)


def luminance(colour: RGB) -> float:
    """Relative luminance, 0 black to 1 white, as WCAG 2.2 defines it for sRGB."""
    red, green, blue = (_linear(value / 255) for value in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(value: float) -> float:
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def contrast_on_white(colour: RGB) -> float:
    """Contrast ratio against white paper, 1 to 21 (WCAG 2.2: (L1 + 0.05) / (L2 + 0.05))."""
    return (1.0 + 0.05) / (luminance(colour) + 0.05)


#: Kinds that share a colour, in the order in which colours are dealt out, the darkest first: what is
#: cut, the deeper the sooner; then what must be read; then lines.  A colour of a line that is cut
#: stands on no line that is not, since a machine may sort its work by colour.
_HANDS: tuple[tuple[Line, ...], ...] = (
    (Line.THROUGH,),
    (Line.OPENING,),
    (Line.HALF, Line.HALF_BACK),
    (Line.GROOVE, Line.GROOVE_BACK, Line.LIFT, Line.LIFT_BACK),
    (Line.BEVEL, Line.BEVEL_BACK),
    (Line.LETTERING, Line.NOTES, Line.RULER, Line.DIMENSION, Line.FRAME),
    (Line.FOLD_UP, Line.FOLD_DOWN),
    (Line.MARK, Line.MARK_BACK),
    (Line.SHEET, Line.TRIM),
)


def _deal(palette: Iterable[RGB], hands: Iterable[tuple[Line, ...]]) -> dict[Line, RGB]:
    """Give each hand in turn the colour with the most contrast of those left."""
    darkest_first = sorted(palette, key=contrast_on_white, reverse=True)
    return {line: colour for hand, colour in zip(hands, darkest_first, strict=False) for line in hand}


#: lines of views of the whole model: all black, since no machine reads them
VIEW_LINES = (Line.EDGE, Line.CREASE, Line.CENTRE, Line.SWEPT)

_COLOURS = _deal(PALETTE, _HANDS) | dict.fromkeys(VIEW_LINES, PALETTE[0])


def _cut(
    line: Line, letter: str, words: str, dashes: Dashes, *, closed: bool = False, width_mm: float = WIDE_MM
) -> Style:
    colour = _COLOURS[line]
    return Style(
        letter=letter, words=words, width_mm=width_mm, dashes=dashes, colour=colour, cut=True, closed=closed
    )


def _drawn(
    line: Line, letter: str, words: str, dashes: Dashes, *, closed: bool = False, width_mm: float = NARROW_MM
) -> Style:
    colour = _COLOURS[line]
    return Style(letter=letter, words=words, width_mm=width_mm, dashes=dashes, colour=colour, closed=closed)


def _table() -> dict[Line, Style]:
    whole, dashed, spaced = Dashes.CONTINUOUS, Dashes.DASHED, Dashes.SPACED
    half = "cut through the paper and the foam, leave the far paper"
    groove = "edges of a V of foam to take out, leave the far paper"
    lift = "edges of a strip of foam to lift out, leave the far paper"
    bevel, bevel_back = (f"where a sloping cut meets {face} face" for face in ("this", "that"))
    drawn = {
        Line.SHEET: _drawn(
            Line.SHEET, "S", "edge of the sheet, not cut", Dashes.LONG_DASH_2_DOTS, closed=True
        ),
        Line.MARK: _drawn(Line.MARK, "M", "draw, do not cut", whole),
        Line.MARK_BACK: _drawn(Line.MARK_BACK, "MB", "draw on the face that lies down", dashed),
        Line.FOLD_UP: _drawn(Line.FOLD_UP, "FU", "fold towards you", spaced),
        Line.FOLD_DOWN: _drawn(Line.FOLD_DOWN, "FD", "fold away from you", Dashes.LONG_DASH_DOT),
        Line.LETTERING: _drawn(Line.LETTERING, "W", "words, no lines", whole),
        Line.HALF: _cut(Line.HALF, "H", half, dashed),
        Line.HALF_BACK: _cut(Line.HALF_BACK, "HB", f"from the back: {half}", spaced),
        Line.GROOVE: _cut(Line.GROOVE, "G", groove, Dashes.LONG_DASH_DOT),
        Line.GROOVE_BACK: _cut(Line.GROOVE_BACK, "GB", f"from the back: {groove}", Dashes.DASH_DOT),
        Line.LIFT: _cut(Line.LIFT, "L", lift, Dashes.LONG_DASH_2_DOTS),
        Line.LIFT_BACK: _cut(Line.LIFT_BACK, "LB", f"from the back: {lift}", Dashes.DASH_2_DOTS),
        Line.BEVEL: _cut(Line.BEVEL, "B", bevel, Dashes.DOTTED),
        Line.BEVEL_BACK: _cut(Line.BEVEL_BACK, "BB", f"from the back: {bevel_back}", Dashes.LONG_DASH_3_DOTS),
        Line.OPENING: _cut(Line.OPENING, "O", "cut right through first: holes and slots", whole, closed=True),
        Line.THROUGH: _cut(
            Line.THROUGH,
            "T",
            "cut right through, the middle of the thick line: outlines",
            whole,
            closed=True,
            width_mm=EXTRA_WIDE_MM,
        ),
        Line.NOTES: _drawn(Line.NOTES, "N", "notes, not cut", whole),
        Line.TRIM: _drawn(Line.TRIM, "TR", "trim the page here", Dashes.DOTTED),
        Line.RULER: _drawn(Line.RULER, "R", "check line: measure it", Dashes.LONG_SHORT_DASH),
        Line.DIMENSION: _drawn(Line.DIMENSION, "D", "dimension", whole),
        Line.FRAME: _drawn(Line.FRAME, "F", "frame", whole),
        Line.EDGE: _drawn(Line.EDGE, "E", "edge of a part", whole, width_mm=WIDE_MM),
        Line.CREASE: _drawn(Line.CREASE, "C", "edge within a part", whole),
        Line.CENTRE: _drawn(Line.CENTRE, "CL", "mean chord, middle", Dashes.LONG_DASH_DOT),
        Line.SWEPT: _drawn(Line.SWEPT, "SW", "what a propeller sweeps", Dashes.LONG_DASH_2_DOTS),
    }
    return {line: drawn[line] for line in Line}


#: The table: a style for every kind of line, in the order of the kinds.
STYLES = MappingProxyType(_table())
