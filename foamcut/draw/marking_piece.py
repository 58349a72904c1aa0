"""A piece on the marking-out sheet: drawn with every corner numbered, and its table of distances.

mm on the page; a block's origin is its upper left corner.  The drawing lies as the piece lies on its sheet.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from foamcut.draw.flow import GAP_MM, Block, paragraph
from foamcut.draw.label import SMALL_MM
from foamcut.draw.marking_checks import Length, diagonals, long_lines
from foamcut.draw.marking_detail import numbered
from foamcut.draw.marking_labels import Box
from foamcut.draw.marking_points import Marked, Ruled, places
from foamcut.draw.marking_rule import Rule
from foamcut.draw.marking_small import largest_scale
from foamcut.draw.marking_table import (
    COLUMN_GAP_MM,
    TEXT_MM,
    Row,
    column_mm,
    columns_in,
    heading_block,
    height_mm,
    table_rows,
    tables,
    under,
)
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.sheet import placed_stroke
from foamcut.draw.values import Stroke
from foamcut.draw.words import count_words, face_words, wrapped
from foamcut.draw.worked import fold_lines

_NAME_MM = 3.5
_GAP_MM = 6.0
#: between the halves of a page, mm
_MIDDLE_MM = 6.0
#: rows of a table in half a page, beside a drawing as wide as what is left of it
_MOST_IN_HALF = 15
#: rows of a table beside a drawing, the width that it leaves and heights to be tried, mm
_MOST_BESIDE = 36
_BESIDE_MM = 78.0
_BESIDE_HIGH_MM = (62.0, 115.0)
#: the least and the most height of a drawing over the whole width, mm
_WIDE_HIGH_MM = (90.0, 165.0)
#: so high a drawing may be when that makes it larger, though its table then goes on
_RATHER_HIGH_MM = 140.0
#: what stands above it, and the least of a table below it, mm
_WORDS_MM = 26.0
_LOWEST_TABLE_MM = 40.0
#: room for what ends a clause, mm
_COMMA_MM = 1.0
#: numbers that found no room are named one by one up to so many
_MOST_TOLD = 20
#: rows that headings may move on to the next column
_SPARE_ROWS = 4


@dataclass(frozen=True, slots=True)
class PieceBlock:
    """A block of a piece; `half`: it is as wide as half a page, and another may stand beside it."""

    block: Block
    half: bool


@dataclass(frozen=True, slots=True)
class _View:
    """What is drawn and listed together: heading, facts, strokes, lines with their points."""

    name: str
    facts: tuple[str, ...]
    strokes: tuple[Stroke, ...]
    lines: tuple[Ruled, ...]
    rows: tuple[Row, ...]
    box: Box


def half_mm(width_mm: float) -> float:
    """Width of half a page."""
    return (width_mm - _MIDDLE_MM) / 2


def piece_blocks(
    piece: Marked, number: int, rule: Rule, *, width_mm: float, room_mm: float, left_mm: float
) -> Iterator[PieceBlock]:
    """Drawing and table of a piece, its marks apart where they are many; no block is over `room_mm`.

    A table that goes on over several pages begins on what is left of the first, `left_mm`.
    """
    for view in _views(piece, number, rule):
        half = _fits_half(view, rule, half_mm(width_mm))
        if half or len(view.rows) <= _MOST_BESIDE:
            width, heights = (half_mm(width_mm), _BESIDE_HIGH_MM[:1]) if half else (width_mm, _BESIDE_HIGH_MM)
            block = _table_beside(view, rule, width, heights)
            if block.height_mm <= room_mm:
                yield PieceBlock(block, half=half)
                left_mm = room_mm
                continue
        for block in _table_below(view, rule, width_mm, room_mm, left_mm):
            yield PieceBlock(block, half=False)
        left_mm = room_mm


def _views(piece: Marked, number: int, rule: Rule) -> Iterator[_View]:
    part = piece.placed.piece.flat
    # the number behind a name tells copies apart, and says nothing where there is one alone
    name = f"{number}  {piece.placed.id if part.count > 1 else part.name}"
    facts = (
        f"{count_words(part)}, {face_words(part)}",
        *_lengths("rule first", long_lines(piece.rings), rule),
        *_lengths("measure last", diagonals(piece), rule),
    )
    outline = [
        Stroke(line=ring.line, segments=segments, closed=True)
        for ring, segments in zip(piece.rings, piece.placed.outline.lines(), strict=True)
    ]
    folds = [placed_stroke(stroke, piece.placed) for stroke in fold_lines(part)]
    cuts = (*piece.rings, *piece.folds)
    marks = [Stroke(line=mark.line, segments=mark.segments) for mark in piece.marks]
    rows = table_rows(piece.lines, rule)
    box = piece.placed.outline.bounds
    if not marks or len(rows) <= _MOST_BESIDE:
        yield _View(name, facts, (*marks, *folds, *outline), piece.lines, tuple(rows), box)
        return
    yield _View(name, facts, (*folds, *outline), cuts, tuple(table_rows(cuts, rule)), box)
    facts = ("what is drawn on it and not cut; the numbers go on from those of its corners",)
    rows = table_rows(piece.marks, rule)
    yield _View(f"{name}: marks", facts, (*marks, *outline), piece.marks, tuple(rows), box)


def _lengths(what: str, lengths: Sequence[Length], rule: Rule) -> tuple[str, ...]:
    if not lengths:
        return ()
    return (f"{what}: {'; '.join(f'{a} to {b}, {rule.length(mm)}' for a, b, mm in lengths)}",)


def _fits_half(view: _View, rule: Rule, width_mm: float) -> bool:
    """Whether half the width shows a piece with few points as large as all of it, or 1:2."""
    if len(view.rows) > _MOST_IN_HALF:
        return False
    x0, y0, x1, y1 = view.box
    half = largest_scale(x1 - x0, y1 - y0, (width_mm - column_mm(rule.unit) - _GAP_MM, _BESIDE_HIGH_MM[0]))
    whole = largest_scale(x1 - x0, y1 - y0, (_BESIDE_MM, _BESIDE_HIGH_MM[0]))
    return half >= whole or half * 2 >= 1


def _table_beside(view: _View, rule: Rule, width_mm: float, high_mm: Sequence[float]) -> Block:
    """The table at the right, the drawing in what is left of the width, in the least of these heights."""
    columns = 1 if len(view.rows) <= _MOST_IN_HALF else columns_in(width_mm - _BESIDE_MM - _GAP_MM, rule.unit)
    down = height_mm(len(view.rows) + _SPARE_ROWS, 1)
    table, *_ = tables(view.rows, rule.unit, columns, down, down)
    columns_mm = columns * column_mm(rule.unit) + (columns - 1) * COLUMN_GAP_MM
    left = width_mm - columns_mm - _GAP_MM
    rows, lost = numbered(
        view.strokes,
        places(view.lines),
        rooms=[(left, high) for high in high_mm],
        width_mm=left,
        unit=rule.unit,
    )
    told = _told(view, lost, width_mm)
    down = -told.height_mm - 2.0
    return _put_together(
        told, under(*rows, gap_mm=2.0).moved(0.0, down), table.moved(width_mm - columns_mm, down)
    )


def _table_below(view: _View, rule: Rule, width_mm: float, room_mm: float, left_mm: float) -> Iterator[Block]:
    """The drawing over the whole width, the table below it and on further blocks."""
    columns = columns_in(width_mm, rule.unit)
    lowest, highest = _WIDE_HIGH_MM
    spare = room_mm - _WORDS_MM - height_mm(len(view.rows) + columns, columns)
    rows, lost = numbered(
        view.strokes,
        places(view.lines),
        rooms=[(width_mm, high) for high in (lowest, max(lowest, min(highest, spare)), _RATHER_HIGH_MM)],
        width_mm=width_mm,
        unit=rule.unit,
    )
    head = _told(view, lost, width_mm)
    for row in rows:
        if head.height_mm + row.height_mm + 2.0 > room_mm:
            yield head
            head = row
        else:
            head = under(head, row, gap_mm=2.0)
    on = heading_block(f"{view.name}, goes on", SMALL_MM, width_mm)
    later, least = room_mm - on.height_mm - 1.0, min(_LOWEST_TABLE_MM, height_mm(len(view.rows), columns))
    left = next(
        (room for whole in (left_mm, room_mm) if (room := whole - head.height_mm - 2.0) >= least), 0.0
    )
    if not left:
        yield head
        rest = list(tables(view.rows, rule.unit, columns, later, later))
    else:
        first, *rest = tables(view.rows, rule.unit, columns, left, later)
        yield replace(under(head, first, gap_mm=2.0), gap_mm=GAP_MM)
    yield from (under(on, table, gap_mm=1.0) for table in rest)


def _put_together(told: Block, *others: Block) -> Block:
    """The words with what was moved to its place below them."""
    return Block(
        height_mm=told.height_mm + 2.0 + max(block.height_mm for block in others),
        strokes=tuple(stroke for block in (told, *others) for stroke in block.strokes),
        texts=tuple(text for block in (told, *others) for text in block.texts),
    )


def _filled(fact: str, width_mm: float) -> list[str]:
    """The fact in lines, parted between its clauses where that can be done."""
    lines: list[str] = []
    for clause in fact.split("; "):
        longer = f"{lines[-1]}; {clause}" if lines else clause
        if lines and text_width_mm(longer, TEXT_MM) <= width_mm:
            lines[-1] = longer
        else:
            lines[-1:] = [f"{line};" for line in lines[-1:]]
            lines += wrapped(clause, TEXT_MM, width_mm - _COMMA_MM)
    return lines


def _told(view: _View, lost: Sequence[str], width_mm: float) -> Block:
    more: tuple[str, ...] = ()
    if len(lost) > _MOST_TOLD:
        more = (
            f"{len(lost)} points are not numbered in the drawing; numbers follow each line in turn, those of"
            " the outline counter-clockwise",
        )
    elif lost:
        more = (f"not numbered in the drawing: {', '.join(lost)}",)
    words = [line for fact in (*view.facts, *more) for line in _filled(fact, width_mm)]
    return under(heading_block(view.name, _NAME_MM, width_mm), paragraph(words, TEXT_MM), gap_mm=1.0)
