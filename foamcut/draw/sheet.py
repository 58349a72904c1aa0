"""The drawing of one sheet: board, pieces with their marks and names, notes to the right.

Coordinates are the sheet's: origin lower left, mm.  Notes begin 10 mm to the right of the sheet.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

import shapely
from shapely import Polygon

from foamcut.draw.kerf import tool_path
from foamcut.draw.label import LEAST_MM
from foamcut.draw.notes import NO_JOINTS, Facts, sheet_notes
from foamcut.draw.part import part_lines
from foamcut.draw.room import FreeRoom
from foamcut.draw.styles import STYLES
from foamcut.draw.values import LAYERS, Align, Drawing, Line, Stroke, Text, Title
from foamcut.draw.words import right_way_up, text_box
from foamcut.draw.worked import BACK_LINES
from foamcut.flat.joint import Joint
from foamcut.flat.outline import Outline, Point
from foamcut.flat.placement import Placement, rounded
from foamcut.nest.register import HOLE_MM
from foamcut.nest.values import Bed, Layout, Placed, Sheet

#: from the sheet's edge to the letter that names it, mm
_EDGE_MM = 0.7
#: heights of the words in a rectangle for the machine's bed, mm, and how far they keep off lines
_BED_MM = (5.0, 3.5, 2.5, LEAST_MM)
_BED_CLEARANCE_MM = 0.5
_OTHER_END = {Align.LEFT: Align.RIGHT, Align.RIGHT: Align.LEFT, Align.MIDDLE: Align.MIDDLE}


def sheet_drawing(
    sheet: Sheet,
    layout: Layout,
    title: Title,
    numbers: Mapping[str, int],
    thicknesses: Mapping[str, float],
    *,
    template: bool = False,
    machine: bool = False,
    joints: Mapping[str, tuple[Joint, ...]] = NO_JOINTS,
) -> Drawing:
    """One sheet at true size.

    Parameters
    ----------
    numbers
        Each piece's number by the name of its flat part.
    thicknesses
        Each stock's by its name, mm.
    template
        Lines of the face that lies down are drawn as small circles to prick through.
    machine
        For a machine's file: outlines and openings with the kerf, register holes, and nothing of what is cut
        on the face that lies down, which stands in the drawing of that face.
    joints
        Those of each part that is joined, by its name.
    """
    facts = Facts(
        sheet=sheet,
        layout=layout,
        title=title,
        numbers=numbers,
        thicknesses=thicknesses,
        joints=joints,
        machine=machine,
    )
    return draw_sheet(facts, f"{sheet.stock} {sheet.number}", template=template)


def draw_sheet(facts: Facts, name: str, *, template: bool = False) -> Drawing:
    """The sheet of `facts` with its notes, under a name."""
    sheet = facts.sheet
    strokes = [Stroke(line=Line.SHEET, segments=ring, closed=True) for ring in sheet.outline.lines()]
    texts = _edge_letter(sheet)
    pieces = shapely.STRtree([placed.outline.polygon for placed in sheet.placed])
    hidden: dict[str, list[str]] = {}
    for placed in sheet.placed:
        piece_strokes, piece_texts = _piece(placed, facts, template)
        strokes += piece_strokes
        for text in piece_texts:
            if _in_the_way(text, placed, pieces):
                hidden.setdefault(placed.id, []).append(text.text)
            else:
                texts.append(_on_sheet(text, sheet))
    for bed in sheet.beds:
        strokes.append(Stroke(line=Line.MARK, segments=_rectangle(bed).lines()[0], closed=True))
        texts += _bed_words(bed, sheet)
    if facts.machine:
        strokes += register_holes(sheet.register)
    used = frozenset(stroke.line for stroke in strokes) | frozenset(text.line for text in texts)
    opening = STYLES[Line.OPENING].letter
    words = {piece: [f"slot takes {w}" for w in lost if w != opening] for piece, lost in hidden.items()}
    bar, notes = sheet_notes(facts, used=used, hidden=words)
    return Drawing(
        name=name,
        width_mm=sheet.width_mm,
        height_mm=sheet.height_mm,
        strokes=in_order((*strokes, *bar)),
        texts=(*texts, *notes),
    )


def register_holes(register: Iterable[Point]) -> list[Stroke]:
    """The register holes, at their true size whatever the kerf: a pin finds the same hole on both faces."""
    rings = [Outline.circle(x, y, HOLE_MM / 2).lines()[0] for x, y in register]
    return [Stroke(line=Line.OPENING, segments=ring, closed=True) for ring in rings]


def in_order(strokes: Sequence[Stroke]) -> tuple[Stroke, ...]:
    """The strokes in the order of the layers."""
    return tuple(sorted(strokes, key=lambda stroke: LAYERS.index(stroke.line)))


def _rectangle(bed: Bed) -> Outline:
    x, y = bed.corner
    return Outline.rectangle(x, y, x + bed.width_mm, y + bed.height_mm)


def _bed_words(bed: Bed, sheet: Sheet) -> list[Text]:
    """Words in a rectangle for the machine's bed where its pieces leave room; the notes tell it, too."""
    # a hole of a piece is no place for what is said of the rectangle
    taken = [Polygon(placed.outline.polygon.exterior) for placed in sheet.placed]
    room = FreeRoom(_rectangle(bed).polygon, taken)
    x, y = bed.corner
    when = "once the other face is cut" if sheet.worked_behind else "first"
    for words in (f"bed {bed.number}: knife this rectangle off {when}", f"bed {bed.number}"):
        for height in _BED_MM:
            for turn in (0.0, 90.0):
                size = text_box(Text(line=Line.LETTERING, at=(0.0, 0.0), text=words, height_mm=height)).bounds
                middle = room.place(size[2] - size[0], size[3] - size[1], turn, (x, y), _BED_CLEARANCE_MM)
                if middle:
                    return [_about(middle, words, height, turn)]
    return []


def _about(middle: Point, words: str, height_mm: float, turn_deg: float) -> Text:
    """A text with the middle of its box at a point; the turn is 0 or 90."""
    text = Text(
        line=Line.LETTERING,
        at=(0.0, 0.0),
        text=words,
        height_mm=height_mm,
        turn_deg=turn_deg,
        align=Align.MIDDLE,
    )
    x0, y0, x1, y1 = text_box(text).bounds
    return replace(text, at=(rounded(middle[0] - (x0 + x1) / 2), rounded(middle[1] - (y0 + y1) / 2)))


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


def _piece(placed: Placed, facts: Facts, template: bool) -> tuple[list[Stroke], list[Text]]:
    """A piece's lines where it lies.  Cut lines come from the placed outline, so that all outputs agree."""
    part = placed.piece.flat
    strokes, texts = part_lines(
        part,
        facts.title,
        number=facts.numbers[part.name],
        template=template,
        thicknesses=facts.thicknesses,
        role=facts.told.role(part),
    )
    left_to_others = {Line.THROUGH, Line.OPENING, *(BACK_LINES if facts.machine else ())}
    moved = [placed_stroke(s, placed) for s in strokes if s.line not in left_to_others]
    for outline in tool_path(placed) if facts.machine else (placed.outline,):
        rings = outline.lines()
        lines = [Line.THROUGH, *[Line.OPENING] * (len(rings) - 1)]
        moved += [
            Stroke(line=line, segments=ring, closed=True, piece=placed.id)
            for line, ring in zip(lines, rings, strict=True)
        ]
    return moved, [placed_text(text, placed.placement, placed.id) for text in texts]


def placed_stroke(stroke: Stroke, placed: Placed) -> Stroke:
    """A stroke where its piece lies.

    Marks of a piece that is turned over stay on the face that lies up: it may be, because either face serves.
    """
    segments = tuple(segment.placed(placed.placement) for segment in stroke.segments)
    return replace(stroke, segments=segments, piece=placed.id)


def placed_text(text: Text, placement: Placement, piece: str = "") -> Text:
    """A text where its piece lies: in the same box, never mirrored, never upside down."""
    turn, align = placement.direction_deg(text.turn_deg), text.align
    if placement.flipped:
        # along the mirrored baseline the letters would stand on its other side: read it from its end
        turn, align = (turn + 180) % 360, _OTHER_END[align]
    at = placement.point(*text.at)
    pivot = placement.point(*text.pivot) if text.pivot else None
    return right_way_up(replace(text, at=at, turn_deg=turn, align=align, piece=piece, pivot=pivot))
