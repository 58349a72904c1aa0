"""The marking-out sheet: distances from one corner of each sheet, for a ruler and a pencil.

Pages, and the same numbers as rows of a table.  Distances run from the lower left corner of the sheet's box,
cumulative, never from point to point, so that errors do not add up (running dimensioning, ISO 129-1, from
memory).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from foamcut.draw.flow import Block, beside, page_of, room_mm, stacked, width_mm
from foamcut.draw.marking_piece import half_mm, piece_blocks
from foamcut.draw.marking_points import marked
from foamcut.draw.marking_rule import RULES, Rule
from foamcut.draw.marking_sheet import how_blocks, sheet_blocks
from foamcut.draw.marking_table import off_mm
from foamcut.draw.paper import PAPERS, Paper
from foamcut.draw.values import Document, Page, Title
from foamcut.draw.words import fitted, revision_words
from foamcut.flat.outline import Point
from foamcut.nest.values import Layout, Sheet

#: height of a page's heading, mm, and how much of the width it may take
_HEAD_MM = 3.5
_HEAD_SHARE = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkingRow:
    """One point to mark on a sheet, as `marking_document` shows it.

    `point` says what it is: ``7 of outline``, ``13 of slot 2, takes ply``, ``c1 of outline, arc 3 to 4,
    radius 25 mm, turning left``, ``c2 of opening 1, circle, diameter 6 mm``; a compass stands at a c.  The
    corners of an outline, opening or slot follow one another and the last leads back to the first; those of
    a fold or mark do not close.  `from_left` and `from_bottom` are what the rule reads, as decimals of
    `unit`, exactly; `written` is what the page shows for both.  `rounding_error_mm` is the larger of the two
    distances' errors, not the distance between the points, without a sign.
    """

    stock: str
    sheet: int
    piece: str
    point: str
    from_left: str
    from_bottom: str
    unit: str
    written: str
    rounding_error_mm: float


def marking_rows(layouts: Sequence[Layout], units: str) -> tuple[MarkingRow, ...]:
    """Every point to mark, sheet by sheet and piece by piece, in the order of the pages.

    `units` is ``mm`` or ``in``.
    """
    rule = RULES[units]
    return tuple(row for layout in layouts for sheet in layout.sheets for row in _sheet_rows(sheet, rule))


def _sheet_rows(sheet: Sheet, rule: Rule) -> Iterator[MarkingRow]:
    for placed in sheet.placed:
        for line in marked(placed, sheet, rule).lines:
            more = f", {line.words}" if line.words else ""
            points = [(f"{name} of {line.name}{more}", at) for name, at in line.points]
            points += [(f"{c.name} of {line.name}, {c.words(rule)}", c.at) for c in line.centres]
            for point, at in points:
                yield _row(sheet, placed.id, point, at, rule)


def _row(sheet: Sheet, piece: str, point: str, at: Point, rule: Rule) -> MarkingRow:
    left, bottom = (rule.read(value) for value in at)
    return MarkingRow(
        stock=sheet.stock,
        sheet=sheet.number,
        piece=piece,
        point=point,
        from_left=left.number,
        from_bottom=bottom.number,
        unit=rule.unit,
        written=f"{left.text} and {bottom.text}",
        rounding_error_mm=off_mm(at, rule),
    )


def marking_document(
    layouts: Sequence[Layout], title: Title, numbers: Mapping[str, int], units: str, paper: str
) -> Document:
    """Pages for every sheet: the sheet with its pieces, then each piece with all its points.

    Parameters
    ----------
    numbers
        Each piece's number by the name of its flat part.
    units
        ``mm`` or ``in``: what the rule reads.
    paper
        A name of `PAPERS`.
    """
    rule, page = RULES[units], PAPERS[paper]
    how = list(how_blocks(layouts, rule, width_mm(page)))
    filled = [("how to mark out", "how", group) for group in _pages(how, room_mm(page))]
    for layout in layouts:
        for sheet in layout.sheets:
            name = f"{sheet.stock}, sheet {sheet.number} of {len(layout.sheets)}"
            blocks = list(sheet_blocks(layout, sheet, numbers, rule, width_mm(page)))
            blocks = _pieces(blocks, sheet, numbers, rule, page)
            label = f"{sheet.stock}-{sheet.number}"
            filled += [(name, label, group) for group in _pages(blocks, room_mm(page))]
    pages: list[Page] = []
    for number, (name, label, group) in enumerate(filled, 1):
        heading, _ = fitted(f"Marking out: {name}", _HEAD_MM, width_mm(page) * _HEAD_SHARE, _HEAD_MM)
        first = number == 1 or filled[number - 2][:2] != (name, label)
        pages.append(
            page_of(
                group,
                page,
                title,
                heading=heading,
                label=label,
                number=number,
                total=len(filled),
                bookmark=name if first else "",
            )
        )
    return Document(
        title=f"{revision_words(title)}: marking out",
        author=title.maker,
        subject=title.title,
        pages=tuple(pages),
    )


def _pieces(
    blocks: list[Block], sheet: Sheet, numbers: Mapping[str, int], rule: Rule, page: Paper
) -> list[Block]:
    """The blocks with those of all pieces behind them, narrow ones side by side where there are two."""
    width, room = width_mm(page), room_mm(page)
    waiting: int | None = None  # the row whose right half is free
    for placed in sheet.placed:
        points, number = marked(placed, sheet, rule), numbers[placed.piece.flat.name]
        left = _left(blocks, room)
        for one in piece_blocks(points, number, rule, width_mm=width, room_mm=room, left_mm=left):
            if one.half and waiting is not None:
                right = width - half_mm(width)
                blocks[waiting] = beside((0.0, blocks[waiting]), (right, one.block))
                waiting = None
                continue
            waiting = len(blocks) if one.half else waiting
            blocks.append(one.block)
    return blocks


def _left(blocks: Sequence[Block], room: float) -> float:
    """What is left of the last page that the blocks fill."""
    last = stacked(blocks, room)[-1]
    return room - sum(blocks[i].height_mm + blocks[i].gap_mm for i in last)


def _pages(blocks: Sequence[Block], room: float) -> list[list[Block]]:
    return [[blocks[i] for i in page] for page in stacked(blocks, room)]
