"""The key pages of the templates: what this is, how to read and join the tiles, where each one is.

Blocks for `flow`, mm; a block's origin is its upper left corner.
"""

from collections.abc import Iterable, Sequence

from foamcut.draw.flow import Block, below, beside, paragraph, rule
from foamcut.draw.furniture import cautions, legend_rows
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.paper import Paper
from foamcut.draw.shrink import shrink_rows
from foamcut.draw.tilemap import tile_map
from foamcut.draw.tilepage import Shown
from foamcut.draw.values import Align, Line, Stroke, Text, Title
from foamcut.draw.words import fitted, turn_over, wrapped
from foamcut.flat.outline import straight
from foamcut.units import decimal_text

#: said where the design names no licence
NO_LICENCE = "no licence stated: ask the maker"
_TITLE_MM = 5.0
_PLAIN_MM = 3.5
_TEXT_MM = 2.5
_ROW_MM = 5.0
_SAMPLE_MM = 22.0
_MAP_HEIGHT_MM = 32.0
_SHEET_MAP_HEIGHT_MM = 60.0
_MAP_GAP_MM = 6.0
#: a map with more columns of tiles than this needs more room
_MANY_COLUMNS = 5

_JOINING = (
    "Print one page, measure its bar with a steel rule, and only then print the rest.",
    "Trim each tile along its long-and-short dashed lines, right and above.",
    "Begin with the upper right tile. Lay each tile onto the one at its right and the one above it:"
    " diamonds close, letters are the same on both, lines run on.",
    "Measure the check line over the joined tiles before you tape them: its length is written on it.",
    "Tape or spray glue, no wet paste: wet paper grows. Written sizes govern.",
    "A mark of the face that lies down is drawn as small circles: prick through paper and board there.",
)
_TELLING = (
    "In general every length is as many per cent of its size as the bar reads mm: at 96 mm a part of 500 mm"
    " comes out 480 mm long.",
    "99.5 to 100.5 mm is as near as most printers come. Print again when it is farther off.",
)


def title_block(title: Title, paper: Paper, width_mm: float, summary: Iterable[str], pages: str) -> Block:
    """Title, revision, maker, licence, and what to buy and print."""
    heading = _heading(title.title or title.name, _TITLE_MM, width_mm)
    fields = (
        ("plan", title.name),
        ("revision", title.revision),
        ("maker", title.maker or "not stated"),
        ("licence", title.licence or NO_LICENCE),
        ("sketch", f"scale {title.scale_text}, measured in {title.sketch_unit}; templates are 1:1"),
        ("paper", f"{paper.words}, {decimal_text(paper.width_mm)} x {decimal_text(paper.height_mm)} mm"),
        ("made by", f"foamcut {title.version}"),
    )
    rows = [line for words in (*summary, pages) for line in wrapped(words, _TEXT_MM, width_mm)]
    return below(heading, _fields(fields, width_mm), paragraph(rows), gap_mm=2.5)


def _fields(fields: Sequence[tuple[str, str]], width_mm: float) -> Block:
    strokes: list[Stroke] = [rule(0.0, width_mm, 0.0)]
    texts: list[Text] = []
    for i, (name, words) in enumerate(fields):
        y = -i * _ROW_MM - 3.6
        shown, height = fitted(words, _TEXT_MM, width_mm - 24.0)
        texts.append(Text(line=Line.FRAME, at=(1.0, y), text=name, height_mm=_TEXT_MM))
        texts.append(Text(line=Line.FRAME, at=(24.0, y), text=shown, height_mm=height))
        strokes.append(rule(0.0, width_mm, -(i + 1) * _ROW_MM))
    return Block(height_mm=len(fields) * _ROW_MM, strokes=tuple(strokes), texts=tuple(texts))


def joining_block(width_mm: float) -> Block:
    """How tiles are printed, trimmed and joined."""
    return _numbered("Printing and joining", _JOINING, width_mm)


def cautions_block(title: Title, width_mm: float) -> Block:
    """Cautions for the tool that the plan is cut with."""
    rows = [line for words in cautions(title.tool) for line in wrapped(words, _TEXT_MM, width_mm)]
    return paragraph(rows, heading="Cautions")


def _numbered(heading: str, sentences: Sequence[str], width_mm: float) -> Block:
    rows: list[str] = []
    for i, sentence in enumerate(sentences, 1):
        first, *others = wrapped(f"{i}. {sentence}", _TEXT_MM, width_mm)
        rows += [first, *others]
    return paragraph(rows, heading=heading)


def legend_block(lines: Iterable[Line], width_mm: float) -> Block:
    """A sample of each kind of line that the pages use, its letter, and what it means."""
    heading = paragraph((), heading="Lines")
    strokes: list[Stroke] = []
    texts: list[Text] = []
    y = 0.0
    for line, letter, words in legend_rows(lines):
        rows = wrapped(words, _TEXT_MM, width_mm - _SAMPLE_MM - 12.0)
        middle = y - _ROW_MM / 2
        strokes.append(Stroke(line=line, segments=straight([(0.0, middle), (_SAMPLE_MM, middle)])))
        base = middle - _TEXT_MM / 2
        texts.append(Text(line=Line.FRAME, at=(_SAMPLE_MM + 3.0, base), text=letter, height_mm=_TEXT_MM))
        for i, row in enumerate(rows):
            at = (_SAMPLE_MM + 11.0, base - i * _ROW_MM * 0.85)
            texts.append(Text(line=Line.FRAME, at=at, text=row, height_mm=_TEXT_MM))
        y -= _ROW_MM * (1 + 0.85 * (len(rows) - 1))
    return below(heading, Block(height_mm=-y, strokes=tuple(strokes), texts=tuple(texts)), gap_mm=1.0)


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


def map_rows(shown: Sequence[tuple[Shown, str]], width_mm: float) -> list[Block]:
    """Maps of what is tiled, each with words on its pages, three (of many tiles two) beside one another."""
    beside_each_other = 2 if any(each.tiling.columns > _MANY_COLUMNS for each, _ in shown) else 3
    across = (width_mm - (beside_each_other - 1) * _MAP_GAP_MM) / beside_each_other
    maps = [_map_block(each, pages, across) for each, pages in shown]
    rows = [maps[i : i + beside_each_other] for i in range(0, len(maps), beside_each_other)]
    blocks = [beside(*((j * (across + _MAP_GAP_MM), block) for j, block in enumerate(row))) for row in rows]
    if blocks:
        blocks[0] = below(paragraph((), heading="Where each tile is"), blocks[0], gap_mm=2.0)
    return blocks


def _map_block(shown: Shown, pages: str, width_mm: float) -> Block:
    said = (pages, turn_over(shown.other)) if shown.other else (pages,)
    rows = [line for words in said for line in wrapped(words, _TEXT_MM, width_mm)]
    height = _SHEET_MAP_HEIGHT_MM if shown.kind == "sheet" else _MAP_HEIGHT_MM
    little = tile_map(shown.area, shown.tiling, width_mm, height, named=True)
    return below(_heading(shown.name, _PLAIN_MM, width_mm), paragraph(rows), little, gap_mm=1.6)


def _heading(words: str, height_mm: float, width_mm: float) -> Block:
    shown, height = fitted(words, height_mm, width_mm)
    text = Text(line=Line.FRAME, at=(0.0, -height), text=shown, height_mm=height)
    return Block(height_mm=height * 1.3, texts=(text,))


