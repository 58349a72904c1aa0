"""Pictures as values: shapes in an ink, and words.

mm, x right, y up, from the lower left corner.  A picture is for a screen or a page of words: nothing of it is
cut, so that its inks are none of the kinds of line of a sheet.
"""

from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

from foamcut.draw.styles import PALETTE, RGB
from foamcut.draw.values import Text
from foamcut.flat.outline import Point


class Ink(Enum):
    """What a shape shows."""

    MODEL = "model"  # bodies and fins from the side
    LIFTING = "lifting"  # sections of wing and tail at the root
    TIP = "tip"  # those at the tip
    DISC = "disc"  # propeller discs edge on
    THING = "thing"  # what is aboard, as drawn
    MOVED = "moved"  # where it should be
    LEADER = "leader"  # from a number to its thing
    GUIDE = "guide"  # from a symbol down to its row
    SYMBOL = "symbol"
    SOLID = "solid"  # black parts of symbols, and bars of sums
    BAR = "bar"
    PART_BAR = "part bar"  # bars of single things
    RANGE = "range"  # from the lowest to the highest
    AXIS = "axis"
    # views of the model
    EDGE = "edge"  # where it ends against what lies behind it
    CREASE = "crease"  # edges within that
    HIDDEN = "hidden"
    BOARD = "board"  # what is there already
    ADDED = "added"  # what a step adds: its area, under its edges
    CENTRE = "centre"  # centre lines, mean chord
    MEASURE = "measure"  # dimension and extension lines
    # two versions over each other
    BEFORE = "before"
    AFTER = "after"
    # wires
    PLUS = "plus"
    MINUS = "minus"
    SIGNAL = "signal"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pen:
    """How an ink is drawn: width and dashes mm, colours; `fill` None: nothing inside."""

    width_mm: float
    colour: RGB
    fill: RGB | None = None
    dashes_mm: tuple[float, ...] = ()


BLACK, DARK_GREEN, PURPLE, BLUE, RED, BROWN = (PALETTE[i] for i in (0, 1, 5, 6, 10, 11))
WHITE: RGB = (255, 255, 255)
_PALE: RGB = (236, 236, 236)
_GREY: RGB = (190, 190, 190)

#: the table: a pen for every ink; unlike ones differ in width, dashes or shape where they differ in colour
PENS = MappingProxyType(
    {
        Ink.MODEL: Pen(width_mm=0.35, colour=BLACK, fill=_PALE),
        Ink.LIFTING: Pen(width_mm=0.35, colour=PURPLE, fill=_GREY),
        Ink.TIP: Pen(width_mm=0.22, colour=PURPLE),
        Ink.DISC: Pen(width_mm=0.5, colour=BROWN, dashes_mm=(4.0, 1.2)),
        Ink.THING: Pen(width_mm=0.2, colour=DARK_GREEN, fill=WHITE),
        Ink.MOVED: Pen(width_mm=0.35, colour=RED, dashes_mm=(1.4, 0.7)),
        Ink.LEADER: Pen(width_mm=0.13, colour=BLACK),
        Ink.GUIDE: Pen(width_mm=0.18, colour=BLUE, dashes_mm=(2.2, 0.6, 0.1, 0.6)),
        Ink.SYMBOL: Pen(width_mm=0.25, colour=BLACK, fill=WHITE),
        Ink.SOLID: Pen(width_mm=0.25, colour=BLACK, fill=BLACK),
        Ink.BAR: Pen(width_mm=0.25, colour=BLACK, fill=_GREY),
        Ink.PART_BAR: Pen(width_mm=0.18, colour=BLACK, fill=_PALE),
        Ink.RANGE: Pen(width_mm=0.5, colour=BLUE),
        Ink.AXIS: Pen(width_mm=0.18, colour=BLACK),
        Ink.EDGE: Pen(width_mm=0.35, colour=BLACK),
        Ink.CREASE: Pen(width_mm=0.18, colour=BLACK),
        Ink.HIDDEN: Pen(width_mm=0.18, colour=BLACK, dashes_mm=(2.2, 0.6)),
        Ink.BOARD: Pen(width_mm=0.18, colour=BLACK, fill=WHITE),
        Ink.ADDED: Pen(width_mm=0.05, colour=BLACK, fill=_GREY),
        Ink.CENTRE: Pen(width_mm=0.18, colour=BLACK, dashes_mm=(4.3, 0.6, 0.1, 0.6)),
        Ink.MEASURE: Pen(width_mm=0.13, colour=BLACK),
        Ink.BEFORE: Pen(width_mm=0.35, colour=RED, dashes_mm=(2.2, 0.8)),
        Ink.AFTER: Pen(width_mm=0.6, colour=BLACK),
        Ink.PLUS: Pen(width_mm=0.7, colour=RED),
        Ink.MINUS: Pen(width_mm=0.45, colour=BLACK),
        Ink.SIGNAL: Pen(width_mm=0.25, colour=BLUE, dashes_mm=(1.5, 0.5)),
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """Points joined by straight lines; a closed one is filled with its ink's fill."""

    ink: Ink
    points: tuple[Point, ...]
    closed: bool = False

    def moved(self, x: float, y: float) -> "Shape":
        """The shape with every point moved."""
        return Shape(ink=self.ink, points=tuple((a + x, b + y) for a, b in self.points), closed=self.closed)


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """Shapes, the later over the earlier, and words over all of them.

    `name` is that of its file without the ending, `heading` and `told` what it shows, in words.
    """

    name: str
    heading: str
    told: str
    width_mm: float
    height_mm: float
    shapes: tuple[Shape, ...]
    texts: tuple[Text, ...]
