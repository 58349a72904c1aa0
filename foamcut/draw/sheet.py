"""The drawing of one sheet: board, pieces with their marks and names, notes to the right.

Coordinates are the sheet's: origin lower left, mm.  Notes begin 10 mm to the right of the sheet.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import shapely

from foamcut.draw.label import LEAST_MM
from foamcut.draw.notes import sheet_notes
from foamcut.draw.part import part_lines
from foamcut.draw.room import FreeRoom
from foamcut.draw.styles import STYLES
from foamcut.draw.values import LAYERS, Align, Drawing, Line, Stroke, Text, Title
from foamcut.draw.words import right_way_up, text_box
from foamcut.flat.placement import Placement, rounded
from foamcut.nest.values import Layout, Placed, Sheet

#: from the sheet's edge to the letter that names it, mm
_EDGE_MM = 0.7
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
    texts = _edge_letter(sheet)
    pieces = shapely.STRtree([placed.outline.polygon for placed in sheet.placed])
    hidden: dict[str, list[str]] = {}
    for placed in sheet.placed:
        number = numbers[placed.piece.flat.name]
        piece_strokes, piece_texts = _piece(placed, title, number, thicknesses, template)
        strokes += piece_strokes
        for text in piece_texts:
            if _in_the_way(text, placed, pieces):
                hidden.setdefault(placed.id, []).append(text.text)
            else:
                texts.append(_on_sheet(text, sheet))
    used = frozenset(stroke.line for stroke in strokes) | frozenset(text.line for text in texts)
    opening = STYLES[Line.OPENING].letter
    words = {piece: [f"slot takes {w}" for w in lost if w != opening] for piece, lost in hidden.items()}
    bar, notes = sheet_notes(sheet, layout, title, numbers, thicknesses, used=used, hidden=words)
    return Drawing(
        name=f"{sheet.stock} {sheet.number}",
        width_mm=sheet.width_mm,
        height_mm=sheet.height_mm,
        strokes=_in_order((*strokes, *bar)),
        texts=(*texts, *notes),
    )


def _on_sheet(text: Text, sheet: Sheet) -> Text:
    """A text moved onto the board where it sticks out: a sliver at the edge is narrower than its number."""
    x0, y0, x1, y1 = text_box(text).bounds
    right = max(0.0, -x0) - max(0.0, x1 - sheet.width_mm)
    up = max(0.0, -y0) - max(0.0, y1 - sheet.height_mm)
    return replace(text, at=(rounded(text.at[0] + right), rounded(text.at[1] + up))) if right or up else text


def _in_the_way(text: Text, placed: Placed, pieces: shapely.STRtree) -> bool:
    """Whether words in the waste of a piece stand where another piece lies."""
    box = text_box(text)
    if placed.outline.polygon.intersects(box):
        return False
    return len(pieces.query(box, predicate="intersects")) > 0


def _edge_letter(sheet: Sheet) -> list[Text]:
    """The letter of the sheet's edge, near its lower left corner, where there is room."""
    letter = STYLES[Line.SHEET].letter
    room = FreeRoom(sheet.outline.polygon, [placed.outline.polygon for placed in sheet.placed])
    along = [_EDGE_MM + step for step in range(0, 30, 2)]
    for at in [*((x, _EDGE_MM) for x in along), *((_EDGE_MM, y) for y in along)]:
        text = Text(line=Line.LETTERING, at=at, text=letter, height_mm=LEAST_MM)
        if room.is_free(text_box(text), 0.1):
            return [text]
    return []


def _in_order(strokes: Sequence[Stroke]) -> tuple[Stroke, ...]:
    return tuple(sorted(strokes, key=lambda stroke: LAYERS.index(stroke.line)))


def _piece(
    placed: Placed, title: Title, number: int, thicknesses: Mapping[str, float], template: bool
) -> tuple[list[Stroke], list[Text]]:
    """A piece's lines where it lies.  Cut lines come from the placed outline, so that all outputs agree."""
    part = placed.piece.flat
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
