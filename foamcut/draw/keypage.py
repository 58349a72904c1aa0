"""The key pages of the templates: what this is, how to read and join the tiles, where each one is.

Blocks for `flow`, mm; a block's origin is its upper left corner.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from foamcut.draw.flow import GAP_MM, Block, below, beside, paragraph, rule
from foamcut.draw.furniture import cautions, legend_rows
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.paper import Paper
from foamcut.draw.pieces import GLUING
from foamcut.draw.shrink import shrink_rows
from foamcut.draw.tilemap import least_cell_mm, tile_map
from foamcut.draw.tilepage import Shown
from foamcut.draw.values import Align, Line, Stroke, Text, Title
from foamcut.draw.words import fitted, wrapped
from foamcut.findings import CLOSING_WORDS
from foamcut.flat.outline import straight
from foamcut.units import decimal_text

#: said where the design names no licence
NO_LICENCE = "no licence stated: ask the maker"
_TITLE_MM = 5.0
_PLAIN_MM = 3.5
_TEXT_MM = 2.5
_ROW_MM = 5.0
_SAMPLE_MM = 22.0
_LINE_MM = 4.0
_LIST_GAP_MM = 1.4
_COLUMN_GAP_MM = 8.0
_INDENT_MM = 6.0
_MAP_GAP_MM = 6.0
#: maps beside one another, and the most height of each, mm
_MAP_SIZES = ((3, 32.0), (2, 55.0), (1, 90.0), (1, 180.0))
#: the smaller side of a cell whose name can be read, mm
_CELL_MM = 5.5

_PRINTING = "Print one page, measure its bar with a steel rule, and only then print the rest."
_JOINING = (
    "Trim each tile along its dotted lines, right and above.",
    "Begin with the upper right tile. Lay each tile onto the one at its right and the one above it:"
    " diamonds close, letters are the same on both, lines run on.",
    "Measure the check line over the joined tiles before you tape them: its length is written on it.",
)
_GLUING = "Tape or spray glue, no wet paste: wet paper grows. Written sizes govern."
_PRICKING = "A mark of the face that lies down is drawn as small circles: prick through paper and board."
_BEHIND = (
    "A line cut from the back is drawn where it lies, with small circles near its ends and at its corners:"
    " prick them through, turn the board over, join the pricks out to the edge, and cut there."
)
_TELLING = (
    "In general every length is as many per cent of its size as the bar reads mm: at 96 mm a part of 500 mm"
    " comes out 480 mm long.",
    "99.5 to 100.5 mm is as near as most printers come. Print again when it is farther off.",
)


def title_block(
    title: Title, paper: Paper, width_mm: float, summary: Iterable[str], pages: str, boards: str
) -> Block:
    """Title, revision, maker, licence, boards with their thickness, and what to buy and print."""
    heading = _heading(title.title or title.name, _TITLE_MM, width_mm)
    fields = (
        ("plan", title.name),
        *([("revision", title.revision)] if title.revision else []),
        ("maker", title.maker or "not stated"),
        ("licence", title.licence or NO_LICENCE),
        ("sketch", f"scale {title.scale_text}, measured in {title.sketch_unit}; templates are 1:1"),
        ("boards", boards),
        ("paper", f"{paper.words}, {decimal_text(paper.width_mm)} x {decimal_text(paper.height_mm)} mm"),
        ("made by", f"foamcut {title.version}"),
    )
    rows = [line for words in (*summary, pages) for line in wrapped(words, _TEXT_MM, width_mm)]
    return below(heading, _fields(fields, width_mm), paragraph(rows), gap_mm=2.5)


def _fields(fields: Sequence[tuple[str, str]], width_mm: float) -> Block:
    strokes: list[Stroke] = [rule(0.0, width_mm, 0.0)]
    texts: list[Text] = []
    y = 0.0
    for name, words in fields:
        texts.append(Text(line=Line.FRAME, at=(1.0, y - 3.6), text=name, height_mm=_TEXT_MM))
        for i, row in enumerate(wrapped(words, _TEXT_MM, width_mm - 25.0)):
            at = (24.0, y - 3.6 - i * _LINE_MM)
            texts.append(Text(line=Line.FRAME, at=at, text=row, height_mm=_TEXT_MM))
        y = texts[-1].at[1] + 3.6 - _ROW_MM
        strokes.append(rule(0.0, width_mm, y))
    return Block(height_mm=-y, strokes=tuple(strokes), texts=tuple(texts))


def joining_block(width_mm: float, *, joined: bool, pricked: bool, behind: bool = False) -> Block:
    """How tiles are printed and, where there are such, joined, and what is pricked through.

    `pricked`: there are circles of the far face; `behind`: there are lines cut from the back.
    """
    steps = (
        _PRINTING,
        *(_JOINING if joined else ()),
        _GLUING,
        *((_PRICKING,) if pricked else ()),
        *((_BEHIND,) if behind else ()),
    )
    return _numbered("Printing and joining" if joined else "Printing", steps, width_mm)


def cautions_block(title: Title, width_mm: float) -> Block:
    """Cautions for the tool that the plan is cut with."""
    rows = [line for words in cautions(title.tool) for line in wrapped(words, _TEXT_MM, width_mm)]
    return paragraph(rows, heading="Cautions")


def joints_blocks(joints: Sequence[str], width_mm: float) -> list[Block]:
    """Every part that is joined, and how long it is once glued; nothing without any."""
    if not joints:
        return []
    blocks = [paragraph(wrapped(words, _TEXT_MM, width_mm)) for words in (*joints, *GLUING)]
    return _titled("Joints", [replace(block, gap_mm=_LIST_GAP_MM) for block in blocks])


def _numbered(heading: str, sentences: Sequence[str], width_mm: float) -> Block:
    rows: list[str] = []
    for i, sentence in enumerate(sentences, 1):
        first, *others = wrapped(f"{i}. {sentence}", _TEXT_MM, width_mm)
        rows += [first, *others]
    return paragraph(rows, heading=heading)


def legend_block(lines: Iterable[Line], width_mm: float) -> Block:
    """A sample of each kind of line that the pages use, its letter, and what it means, in two columns."""
    rows = legend_rows(lines)
    half = (len(rows) + 1) // 2
    column = (width_mm - _COLUMN_GAP_MM) / 2
    columns = ((0.0, _samples(rows[:half], column)), (column + _COLUMN_GAP_MM, _samples(rows[half:], column)))
    return below(paragraph((), heading="Lines"), beside(*columns), gap_mm=1.0)


def _samples(rows: Sequence[tuple[Line, str, str]], width_mm: float) -> Block:
    strokes: list[Stroke] = []
    texts: list[Text] = []
    y = 0.0
    for line, letter, words in rows:
        lines = wrapped(words, _TEXT_MM, width_mm - _SAMPLE_MM - 12.0)
        middle = y - _ROW_MM / 2
        strokes.append(Stroke(line=line, segments=straight([(0.0, middle), (_SAMPLE_MM, middle)])))
        base = middle - _TEXT_MM / 2
        texts.append(Text(line=Line.FRAME, at=(_SAMPLE_MM + 3.0, base), text=letter, height_mm=_TEXT_MM))
        for i, row in enumerate(lines):
            at = (_SAMPLE_MM + 11.0, base - i * _ROW_MM * 0.85)
            texts.append(Text(line=Line.FRAME, at=at, text=row, height_mm=_TEXT_MM))
        y -= _ROW_MM * (1 + 0.85 * (len(lines) - 1))
    return Block(height_mm=-y, strokes=tuple(strokes), texts=tuple(texts))


def shrink_block(paper: Paper, width_mm: float) -> Block:
    """Table of what the 100 mm bar reads when a printer changed the page."""
    heading = paragraph((), heading="If the page was fitted")
    rows = [("the bar reads, at 100 %", 100.0), *shrink_rows(paper)]
    strokes: list[Stroke] = [rule(0.0, width_mm, 0.0)]
    texts: list[Text] = []
    for i, (words, reading) in enumerate(rows):
        y = -i * _ROW_MM - 3.6
        number = f"{reading:.1f} mm"
        shown, height = fitted(words, _TEXT_MM, width_mm - text_width_mm(number, _TEXT_MM) - 4.0)
        texts.append(Text(line=Line.FRAME, at=(1.0, y), text=shown, height_mm=height))
        texts.append(
            Text(line=Line.FRAME, at=(width_mm - 1, y), text=number, height_mm=_TEXT_MM, align=Align.RIGHT)
        )
        strokes.append(rule(0.0, width_mm, -(i + 1) * _ROW_MM))
    table = Block(height_mm=len(rows) * _ROW_MM, strokes=tuple(strokes), texts=tuple(texts))
    telling = paragraph([line for words in _TELLING for line in wrapped(words, _TEXT_MM, width_mm)])
    return below(heading, table, telling, gap_mm=1.5)


def findings_blocks(findings: Sequence[str], width_mm: float) -> list[Block]:
    """What the program has to say of the design; the closing words stand last."""
    said = [words for words in findings if words != CLOSING_WORDS]
    paragraphs = [paragraph(wrapped(words, _TEXT_MM, width_mm)) for words in (*said, CLOSING_WORDS)]
    return _titled("Findings", [replace(block, gap_mm=_LIST_GAP_MM) for block in paragraphs])


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """A line of the list: number and name, what must be read beside them, where it stands."""

    heading: str
    facts: tuple[str, ...]
    where: str


def list_blocks(rows: Iterable[Listed], width_mm: float, heading: str) -> list[Block]:
    """Every part (and every sheet that is tiled) with its facts and its page, a rule below each."""
    blocks = [_list_block(row, width_mm) for row in rows]
    return _titled(heading, blocks)


def _list_block(row: Listed, width_mm: float) -> Block:
    words = wrapped("; ".join(row.facts), _TEXT_MM, width_mm - _INDENT_MM)
    where, _ = fitted(row.where, _TEXT_MM, width_mm * 0.45)
    room = width_mm - text_width_mm(where, _TEXT_MM) - 4.0
    heading, height = fitted(row.heading, _TEXT_MM, room)
    texts = [
        Text(line=Line.FRAME, at=(0.0, -_TEXT_MM), text=heading, height_mm=height),
        Text(line=Line.FRAME, at=(width_mm, -_TEXT_MM), text=where, height_mm=_TEXT_MM, align=Align.RIGHT),
    ]
    y = -_TEXT_MM
    for line in words:
        y -= _LINE_MM
        texts.append(Text(line=Line.FRAME, at=(_INDENT_MM, y), text=line, height_mm=_TEXT_MM))
    strokes = (rule(0.0, width_mm, y - 1.4),)
    return Block(height_mm=1.4 - y, strokes=strokes, texts=tuple(texts), gap_mm=_LIST_GAP_MM)


def _titled(heading: str, blocks: list[Block]) -> list[Block]:
    """The blocks with a heading above the first, and the usual gap below the last."""
    if blocks:
        first = below(paragraph((), heading=heading), blocks[0], gap_mm=1.6)
        blocks = [replace(first, gap_mm=blocks[0].gap_mm), *blocks[1:]]
        blocks[-1] = replace(blocks[-1], gap_mm=GAP_MM)
    return blocks


def map_rows(shown: Sequence[tuple[Shown, str]], width_mm: float) -> list[Block]:
    """Maps of what takes two tiles or more, with words on its pages; a large one gets more of the width."""
    rows: list[list[Block]] = [[]]
    starts: list[list[float]] = [[]]
    left = width_mm
    for each, pages in shown:
        across, block = _map_block(each, pages, width_mm)
        if across > left + 1e-6:
            rows.append([])
            starts.append([])
            left = width_mm
        rows[-1].append(block)
        starts[-1].append(width_mm - left)
        left -= across + _MAP_GAP_MM
    blocks = [beside(*zip(places, row, strict=True)) for places, row in zip(starts, rows, strict=True) if row]
    return _titled("Where each tile is", blocks)


def _map_block(shown: Shown, pages: str, width_mm: float) -> tuple[float, Block]:
    """The smallest map whose tiles can be read, and its width."""
    for share, height in _MAP_SIZES:
        across = (width_mm - (share - 1) * _MAP_GAP_MM) / share
        if least_cell_mm(shown.area, shown.tiling, across, height) >= _CELL_MM:
            break
    little = tile_map(shown.area, shown.tiling, across, height, named=True)
    words = paragraph(wrapped(pages, _TEXT_MM, across))
    return across, below(_heading(shown.heading, _PLAIN_MM, across), words, little, gap_mm=1.6)


def _heading(words: str, height_mm: float, width_mm: float) -> Block:
    shown, height = fitted(words, height_mm, width_mm)
    text = Text(line=Line.FRAME, at=(0.0, -height), text=shown, height_mm=height)
    return Block(height_mm=height * 1.3, texts=(text,))
