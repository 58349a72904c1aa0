"""The drawing of one sheet: board, pieces with their marks and names, notes to the right.

Coordinates are the sheet's: origin lower left, mm.  Notes begin 10 mm to the right of the sheet.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from foamcut.draw.furniture import cautions
from foamcut.draw.part import part_lines
from foamcut.draw.styles import STYLES
from foamcut.draw.values import LAYERS, Align, Drawing, Line, Stroke, Text, Title
from foamcut.draw.words import right_way_up, text_box
from foamcut.flat.outline import straight
from foamcut.flat.placement import Placement, rounded
from foamcut.nest.values import Kind, Layout, Placed, Sheet
from foamcut.units import decimal_text, inch_text

#: from the sheet's right edge to the notes, mm
NOTES_GAP_MM = 10.0
_NOTE_HEIGHT_MM = 3.5
_NOTE_STEP_MM = 6.0
_KIND_WORDS = {
    Kind.OFFCUT: "offcut from the shelf",
    Kind.ON_HAND: "board from the shelf",
    Kind.NEW: "new board",
}
_OTHER_END = {Align.LEFT: Align.RIGHT, Align.RIGHT: Align.LEFT, Align.MIDDLE: Align.MIDDLE}


def sheet_drawing(
    sheet: Sheet,
    layout: Layout,
    title: Title,
    numbers: Mapping[str, int],
    thicknesses: Mapping[str, float],
    *,
    template: bool = False,
) -> Drawing:
    """One sheet at true size.

    `numbers` gives each part's number by its name, `thicknesses` each stock's by its name, mm.  With
    `template` marks of the face that lies down are drawn as small circles to prick through.
    """
    strokes = [Stroke(line=Line.SHEET, segments=ring, closed=True) for ring in sheet.outline.lines()]
    texts: list[Text] = []
    for placed in sheet.placed:
        number = numbers[placed.piece.part.name]
        piece_strokes, piece_texts = _piece(placed, title, number, thicknesses, template)
        strokes += piece_strokes
        texts += (_on_sheet(text, sheet) for text in piece_texts)
    drawn = Drawing(
        name=f"{sheet.stock} {sheet.number}",
        width_mm=sheet.width_mm,
        height_mm=sheet.height_mm,
        strokes=tuple(strokes),
        texts=tuple(texts),
    )
    bar, notes = _notes(drawn, sheet, layout, title)
    return replace(drawn, strokes=_in_order((*strokes, *bar)), texts=(*texts, *notes))


def _on_sheet(text: Text, sheet: Sheet) -> Text:
    """A text moved onto the board where it sticks out: a sliver at the edge is narrower than its number."""
    x0, y0, x1, y1 = text_box(text).bounds
    right = max(0.0, -x0) - max(0.0, x1 - sheet.width_mm)
    up = max(0.0, -y0) - max(0.0, y1 - sheet.height_mm)
    return replace(text, at=(rounded(text.at[0] + right), rounded(text.at[1] + up))) if right or up else text


def _in_order(strokes: Sequence[Stroke]) -> tuple[Stroke, ...]:
    return tuple(sorted(strokes, key=lambda stroke: LAYERS.index(stroke.line)))


def _piece(
    placed: Placed, title: Title, number: int, thicknesses: Mapping[str, float], template: bool
) -> tuple[list[Stroke], list[Text]]:
    """A piece's lines where it lies.  Cut lines come from the placed outline, so that all outputs agree."""
    part = placed.piece.part
    strokes, texts = part_lines(part, title, number=number, template=template, thicknesses=thicknesses)
    cut = {Line.THROUGH, Line.OPENING}
    moved = [_placed_stroke(s, placed.placement, placed.id) for s in strokes if s.line not in cut]
    rings = placed.outline.lines()
    lines = [Line.THROUGH, *[Line.OPENING] * (len(rings) - 1)]
    moved += [
        Stroke(line=line, segments=ring, closed=True, piece=placed.id)
        for line, ring in zip(lines, rings, strict=True)
    ]
    return moved, [placed_text(text, placed.placement, placed.id) for text in texts]


def _placed_stroke(stroke: Stroke, placement: Placement, piece: str) -> Stroke:
    """A stroke where its piece lies.

    Marks of a piece that is turned over stay on the face that lies up: it may be, because either face serves.
    """
    segments = tuple(segment.placed(placement) for segment in stroke.segments)
    return replace(stroke, segments=segments, piece=piece)


def placed_text(text: Text, placement: Placement, piece: str = "") -> Text:
    """A text where its piece lies: in the same box, never mirrored, never upside down."""
    turn, align = placement.direction_deg(text.turn_deg), text.align
    if placement.flipped:
        # along the mirrored baseline the letters would stand on its other side: read it from its end
        turn, align = (turn + 180) % 360, _OTHER_END[align]
    at = placement.point(*text.at)
    pivot = placement.point(*text.pivot) if text.pivot else None
    return right_way_up(replace(text, at=at, turn_deg=turn, align=align, piece=piece, pivot=pivot))


def _notes(drawn: Drawing, sheet: Sheet, layout: Layout, title: Title) -> tuple[list[Stroke], list[Text]]:
    """The column to the right: what this is, how to read it, cautions, a bar to measure."""
    x, top = sheet.width_mm + NOTES_GAP_MM, max(sheet.height_mm - _NOTE_STEP_MM, 0.0)
    words = [*_title_words(sheet, layout, title), "", *_legend_words(drawn), "", *cautions(title.tool)]
    texts = [
        Text(line=Line.NOTES, at=(x, top - i * _NOTE_STEP_MM), text=row, height_mm=_NOTE_HEIGHT_MM)
        for i, row in enumerate(words)
        if row
    ]
    y = top - (len(words) + 2) * _NOTE_STEP_MM
    bar = [straight([(x, y), (x + 100, y)])]
    bar += [straight([(end, y - 2), (end, y + 2)]) for end in (x, x + 100)]
    bar_text = Text(
        line=Line.NOTES,
        at=(x, y + 3.5),
        text="this line is 100 mm long: measure it before you cut",
        height_mm=_NOTE_HEIGHT_MM,
    )
    return [Stroke(line=Line.NOTES, segments=s) for s in bar], [*texts, bar_text]


def _title_words(sheet: Sheet, layout: Layout, title: Title) -> list[str]:
    stock = layout.stock
    size = f"{decimal_text(sheet.width_mm)} x {decimal_text(sheet.height_mm)} mm"
    inches = f"{inch_text(sheet.width_mm)} x {inch_text(sheet.height_mm)} in"
    words = [
        f"{title.title or title.name}, revision {title.revision}",
        f"{title.name}: sheet {sheet.number} of {len(layout.sheets)} of {stock.name}",
        _KIND_WORDS[sheet.kind],
        f"{stock.material}, measured thickness {decimal_text(stock.thickness_mm, 2)} mm",
        f"sheet {size} ({inches}), pieces on it: {len(sheet.placed)}",
        "scale 1:1, all numbers mm; the lines are the true edges, no kerf is taken off",
    ]
    if layout.stock.gap_mm == 0 or layout.stock.margin_mm == 0:
        words.append("where two outlines lie on each other: one cut, two edges")
    return words


def _legend_words(drawn: Drawing) -> list[str]:
    used = {stroke.line for stroke in drawn.strokes} | {text.line for text in drawn.texts}
    return [f"{STYLES[line].letter}  {line.value}: {STYLES[line].words}" for line in LAYERS if line in used]
