"""The first page of a sheet to mark out: where each piece lies, where the datum is, how it is done.

mm on the page; a block's origin is its upper left corner.
"""

from collections.abc import Iterator, Mapping, Sequence

from shapely import Polygon

from foamcut.draw.flow import Block, paragraph
from foamcut.draw.keypage import legend_block
from foamcut.draw.label import SMALL_MM
from foamcut.draw.marking_checks import straight_edges
from foamcut.draw.marking_rule import Rule
from foamcut.draw.marking_small import Small
from foamcut.draw.marking_table import TEXT_MM, under
from foamcut.draw.part import circle_stroke, is_far
from foamcut.draw.sheet import placed_stroke
from foamcut.draw.values import Line, Stroke
from foamcut.draw.words import wrapped
from foamcut.draw.worked import BACK_LINES, fold_lines
from foamcut.flat.outline import Point
from foamcut.flat.part import Part
from foamcut.nest.values import Kind, Layout, Sheet
from foamcut.units import decimal_text, inch_text

#: the most height of the sheet's drawing, mm
_HIGHEST_MM = 180.0
#: the circle round the datum corner, mm on the page
_DATUM_MM = 1.5
_BEHIND = (
    "6. Lines of the face that lies down are marked from above: prick their ends through, turn the board"
    " over, and join the pricks there."
)
_KINDS = {Kind.NEW: "a new board", Kind.ON_HAND: "a board on hand", Kind.OFFCUT: "an offcut"}
_NO_EDGE = (
    "No edge of this board runs along the left or the bottom. Tape it onto a larger sheet with a square"
    " corner, so that it touches both edges there, and measure from that corner."
)
_UNITS = {"mm": "mm", "in": "inches"}
#: an edge that is missing at its corner by less than this counts as whole, mm
_WHOLE_MM = 0.5


def how_blocks(layouts: Sequence[Layout], rule: Rule, width_mm: float) -> Iterator[Block]:
    """What holds of all sheets: how to mark out, and what the lines mean."""
    used = {Line.SHEET, Line.THROUGH}
    for layout in layouts:
        for sheet in layout.sheets:
            for placed in sheet.placed:
                part = placed.piece.flat
                used |= {stroke.line for stroke in fold_lines(part)}
                used |= {Line.MARK_BACK if is_far(mark, part) else Line.MARK for mark in part.marks}
                used |= {Line.OPENING} if placed.outline.polygon.interiors else set()
    steps = (*_steps(rule), *((_BEHIND,) if used & {Line.MARK_BACK, *BACK_LINES} else ()))
    words = [line for step in steps for line in wrapped(step, TEXT_MM, width_mm)]
    yield paragraph(words, TEXT_MM, heading="How to mark out")
    yield legend_block(used, width_mm)


def sheet_blocks(
    layout: Layout, sheet: Sheet, numbers: Mapping[str, int], rule: Rule, width_mm: float
) -> Iterator[Block]:
    """The sheet drawn small with the number of each piece, and where its datum is."""
    stock = layout.stock
    size = f"{rule.length(sheet.width_mm)} by {rule.length(sheet.height_mm)}"
    box = 0.0, 0.0, sheet.width_mm, sheet.height_mm
    drawing = Small(list(_strokes(sheet)), box, (width_mm, _HIGHEST_MM))
    drawing.name([("datum", (0.0, 0.0))], SMALL_MM)
    names = [_named(placed.piece.flat, placed.outline.polygon, numbers) for placed in sheet.placed]
    lost = drawing.name(names, SMALL_MM, inside=True)
    thick = f"{decimal_text(stock.thickness_mm, 2)} mm"
    if rule.unit == "in":
        thick = f"{inch_text(stock.thickness_mm)} in ({thick})"
    board = f"{stock.material}, {thick} thick; {_KINDS[sheet.kind]}, {size}."
    facts = (
        f"{stock.name}: {board}",
        *_datum_words(sheet, rule),
        *((f"Not numbered in the drawing: {', '.join(lost)}.",) if lost else ()),
    )
    words = [line for fact in facts for line in wrapped(fact, TEXT_MM, width_mm)]
    heading = f"Sheet {sheet.number} of {len(layout.sheets)} and its datum"
    yield under(paragraph(words, TEXT_MM, heading=heading), drawing.block(rule.unit), gap_mm=2.0)


def _strokes(sheet: Sheet) -> Iterator[Stroke]:
    for ring in sheet.outline.lines():
        yield Stroke(line=Line.SHEET, segments=ring, closed=True)
    for placed in sheet.placed:
        for stroke in fold_lines(placed.piece.flat):
            yield placed_stroke(stroke, placed)
        for i, ring in enumerate(placed.outline.lines()):
            yield Stroke(line=Line.OPENING if i else Line.THROUGH, segments=ring, closed=True)
    yield circle_stroke(Line.DIMENSION, 0.0, 0.0, _DATUM_MM)


def _named(part: Part, polygon: Polygon, numbers: Mapping[str, int]) -> tuple[str, Point]:
    at = polygon.representative_point()
    return str(numbers[part.name]), (at.x, at.y)


def _datum_words(sheet: Sheet, rule: Rule) -> Sequence[str]:
    """Where distances start, and which edges of the sheet are straight from there."""
    left, bottom = straight_edges(sheet)
    start = "Every distance is measured from the lower left corner of the sheet, never from the point before."
    if left is None and bottom is None:
        return start, _NO_EDGE
    ends = (left, sheet.height_mm, "left"), (bottom, sheet.width_mm, "bottom")
    words = [start]
    for edge, whole, name in ends:
        if edge is None:
            words.append(
                f"No edge runs along the {name} side: draw that line square to the other, through the datum."
            )
        elif edge[0] <= _WHOLE_MM and edge[1] >= whole - _WHOLE_MM:
            words.append(f"The {name} edge is straight over its whole length.")
        elif edge[0] <= _WHOLE_MM:
            words.append(f"The {name} edge is straight from the datum for {rule.length(edge[1])} alone.")
        else:
            words.append(
                f"The {name} edge is straight from {rule.length(edge[0])} to {rule.length(edge[1])}: lengthen"
                " it with a straight edge to the datum, which is not on the board."
            )
    return (words[0], " ".join(words[1:]))


def _steps(rule: Rule) -> tuple[str, ...]:
    return (
        f"Distances are in {_UNITS[rule.unit]}, to the nearest {rule.words}, as fine as a sharp pencil. An"
        " outline is good to twice that; slots, hinges and what meets another board want it. In the column"
        " off stands how far the worse of the two written distances is from the true one, in mm.",
        "1. Check that the corner at the datum is square. Mark distances along the left edge and along the"
        " bottom edge, and again along the opposite edges; join them with a long straight edge.",
        "2. Rule the long lines first, then the other corners, then openings and slots, folds, and last the"
        " marks.",
        "3. A c is a place for the compass or the point of the drill. Set the compass to the radius, not to a"
        " corner. Where several corners follow a curve, join them with a bent strip.",
        "4. A slot is as wide as the board that it takes, and a little more: rule one long side, lay a scrap"
        " of that board along it, and rule the other.",
        "5. Measure the lengths called measure last. Where one is off by more than"
        f" {rule.length(2 * float(rule.tick_mm))}, a corner is in the wrong place: find it before you cut.",
    )
