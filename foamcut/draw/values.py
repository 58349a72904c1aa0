"""Drawings as values: strokes with a line kind, texts, and pages that show drawings through windows.

mm, x right, y up, from the lower left corner.  Writers read these and the table in `styles`; nothing
here knows DXF, SVG or PDF.
"""

from dataclasses import dataclass
from enum import Enum

from foamcut.flat.outline import Point, Segment


class Line(Enum):
    """Kinds of line.  The first seventeen are the layers of a sheet, in their order in every file."""

    SHEET = "SHEET"
    MARK = "MARK"
    MARK_BACK = "MARK_BACK"
    FOLD_UP = "FOLD_UP"
    FOLD_DOWN = "FOLD_DOWN"
    LETTERING = "LETTERING"
    HALF = "HALF"
    HALF_BACK = "HALF_BACK"
    GROOVE = "GROOVE"
    GROOVE_BACK = "GROOVE_BACK"
    LIFT = "LIFT"
    LIFT_BACK = "LIFT_BACK"
    BEVEL = "BEVEL"
    BEVEL_BACK = "BEVEL_BACK"
    OPENING = "OPENING"
    THROUGH = "THROUGH"
    NOTES = "NOTES"
    # of printed pages only
    TRIM = "trim"  # where a tile is cut or laid onto its neighbour
    RULER = "ruler"  # bars and check lines, to be measured
    DIMENSION = "dimension"  # dimension and extension lines
    FRAME = "frame"  # boxes of tables, maps, title
    # of views of the whole model
    EDGE = "edge"  # where a part ends against what lies behind it
    CREASE = "crease"  # edges within that
    CENTRE = "centre"  # mean chord, lines through a middle
    SWEPT = "swept"  # what turns: propeller discs


#: the layers of a sheet, in their order
LAYERS: tuple[Line, ...] = tuple(line for line in Line if line.value.isupper())


class Align(Enum):
    """Which point of a text's baseline `at` is."""

    LEFT = "left"
    MIDDLE = "middle"
    RIGHT = "right"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """Segments drawn in one go.  `piece` is the id of the piece it belongs to, empty for none."""

    line: Line
    segments: tuple[Segment, ...]
    closed: bool = False
    piece: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of text; `height_mm` is that of a capital letter, `turn_deg` counter-clockwise.

    `pivot` is the middle of the lines that it is read with: they are turned over about it together.
    """

    line: Line
    at: Point
    text: str
    height_mm: float
    turn_deg: float = 0.0
    align: Align = Align.LEFT
    piece: str = ""
    pivot: Point | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shade:
    """A polygon filled with grey (0 black, 1 white), under the strokes."""

    points: tuple[Point, ...]
    grey: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Strokes and texts on a field of `width_mm` x `height_mm` (a sheet); notes may lie outside it."""

    name: str
    width_mm: float
    height_mm: float
    strokes: tuple[Stroke, ...]
    texts: tuple[Text, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """A part of a drawing shown at true size on a page, and nothing of it outside the window.

    `view` is x0, y0, x1, y1 in the drawing; its lower left corner comes to lie at `corner` on the page.
    When `turned`, the drawing lies a quarter turn counter-clockwise on the page: (x, y) goes to
    (corner.x + y1 - y, corner.y + x - x0).
    """

    view: tuple[float, float, float, float]
    corner: Point
    strokes: tuple[Stroke, ...]
    texts: tuple[Text, ...] = ()
    turned: bool = False

    def on_page(self, x: float, y: float) -> Point:
        """Where a point of the drawing lies on the page, mm."""
        x0, y0, _, y1 = self.view
        if self.turned:
            return self.corner[0] + y1 - y, self.corner[1] + x - x0
        return self.corner[0] + x - x0, self.corner[1] + y - y0

    def size(self) -> tuple[float, float]:
        """Width and height on the page, mm."""
        x0, y0, x1, y1 = self.view
        return (y1 - y0, x1 - x0) if self.turned else (x1 - x0, y1 - y0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A page to print: its own strokes and texts, and windows onto drawings.

    `label` is what a viewer shows in place of a page number; `bookmark` its entry in the contents,
    empty for none; `level` 0 is the top level of bookmarks.
    """

    width_mm: float
    height_mm: float
    label: str
    bookmark: str = ""
    level: int = 0
    shades: tuple[Shade, ...] = ()
    windows: tuple[Window, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    texts: tuple[Text, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """Pages to print, with what the file says of itself."""

    title: str
    author: str
    subject: str
    pages: tuple[Page, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Title:
    """What every sheet and page says of the plan."""

    name: str
    title: str
    revision: str
    maker: str
    licence: str
    scale_text: str  # "1:6", the sketch's factor
    tool: str  # knife | plotter | laser
    sketch_unit: str  # mm | in: what the sketch's ruler reads
    sketch_scale: float
    version: str  # of the program
