"""The drawing of a sheet's turned-over face: what is cut and drawn on the face that lay down.

The sheet is turned about its upright middle line: x of the front becomes w - x, y is kept; mm.  Nothing is
cut through here.  Words read from this side.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

import shapely
from shapely import Polygon

from foamcut.draw.back_map import Mapped, back_map, map_scale
from foamcut.draw.columns import BAR, Block, Picture, columns, lines, paragraphs
from foamcut.draw.foldwords import bevel_words, fold_words
from foamcut.draw.furniture import cautions
from foamcut.draw.label import LEAST_MM, NAME_MM, SMALL_MM, WORDS_MM, block, block_size, readable_turn
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.notes import (
    NO_JOINTS,
    RECTANGLES_LATER,
    TURN_OVER,
    Facts,
    by_hand_words,
    heading_rows,
    register_words,
    size_words,
)
from foamcut.draw.part import is_far, part_lines, stroke_shape
from foamcut.draw.room import CLEARANCE_MM, WIDE_MM, FreeRoom
from foamcut.draw.sheet import in_order, placed_stroke, register_holes
from foamcut.draw.styles import STYLES
from foamcut.draw.values import LAYERS, Drawing, Line, Stroke, Text, Title
from foamcut.draw.words import text_box
from foamcut.draw.worked import BACK_LINES, FROM_THE_BACK
from foamcut.flat.clipping import Run
from foamcut.flat.drawn import Side
from foamcut.flat.outline import Point, Segment
from foamcut.flat.part import Part
from foamcut.flat.placement import Placement, rounded
from foamcut.nest.values import Layout, Placed, Sheet

#: what the drawing of this face shows of its pieces
_SHOWN = BACK_LINES | {Line.MARK_BACK}
#: the same kind of line on the face that lies up
_AS_ON_THE_FRONT = {back: front for front, back in FROM_THE_BACK.items()} | {Line.MARK_BACK: Line.MARK}
#: from lines to words in turn, mm
_CLEARANCES = (WIDE_MM, CLEARANCE_MM, 0.3)
#: words of a mark or fold stand no farther than this from it, mm
_NEAR_MM = 25.0


def back_drawing(
    sheet: Sheet,
    layout: Layout,
    title: Title,
    numbers: Mapping[str, int],
    thicknesses: Mapping[str, float],
) -> Drawing:
    """The turned-over face of a sheet, for a machine; arguments as for `sheet.sheet_drawing`."""
    facts = Facts(
        sheet=sheet,
        layout=layout,
        title=title,
        numbers=numbers,
        thicknesses=thicknesses,
        joints=NO_JOINTS,
        machine=True,
    )
    width = sheet.width_mm
    register = tuple((rounded(width - x), y) for x, y in sheet.register)
    strokes = [
        Stroke(line=Line.SHEET, segments=_turned_run(ring, width), closed=True)
        for ring in sheet.outline.lines()
    ]
    strokes += register_holes(register)
    texts: list[Text] = []
    mapped: list[Mapped] = []
    for placed in sheet.placed:
        drawn = _strokes(placed, facts)
        strokes += drawn
        texts += _words(placed, facts, drawn)
        mapped.append(_mapped(placed, facts, drawn))
    picture = back_map(
        width, sheet.height_mm, (_turned_run(ring, width) for ring in sheet.outline.lines()), mapped
    )
    bar, notes = _notes(facts, register, frozenset(stroke.line for stroke in strokes), picture)
    return Drawing(
        name=f"{sheet.stock} {sheet.number} back",
        width_mm=width,
        height_mm=sheet.height_mm,
        strokes=in_order((*strokes, *bar)),
        texts=(*texts, *notes),
    )


def _strokes(placed: Placed, facts: Facts) -> list[Stroke]:
    """A piece's lines of this face, where they lie when the sheet is turned over."""
    part = placed.piece.flat
    every, _ = part_lines(
        part,
        facts.title,
        number=facts.numbers[part.name],
        template=False,
        thicknesses=facts.thicknesses,
        role=facts.told.role(part),
    )
    there = [placed_stroke(stroke, placed) for stroke in every if stroke.line in _SHOWN]
    return [replace(s, segments=_turned_run(s.segments, facts.sheet.width_mm)) for s in there]


def _mapped(placed: Placed, facts: Facts, drawn: list[Stroke]) -> Mapped:
    """A piece for the map: its outline, and where it is cut on this face."""
    width = facts.sheet.width_mm
    outline = [_turned_run(ring, width) for ring in placed.outline.lines()]
    return Mapped(
        number=facts.numbers[placed.piece.flat.name],
        area=_turned_area(placed, width),
        runs=(*outline, *(stroke.segments for stroke in drawn if stroke.line in BACK_LINES)),
    )


def _turned_area(placed: Placed, width_mm: float) -> Polygon:
    return shapely.transform(placed.outline.polygon, lambda points: points * (-1, 1) + (width_mm, 0))


def _turned_run(run: Run, width_mm: float) -> Run:
    return tuple(Segment(_over(s.start, width_mm), _over(s.end, width_mm), 0.0 - s.bulge) for s in run)


def _over(point: Point, width_mm: float) -> Point:
    return rounded(width_mm - point[0]), point[1]


# words


def _words(placed: Placed, facts: Facts, drawn: list[Stroke]) -> Iterator[Text]:
    """A piece's name, then the words of its marks and folds where they find room near by."""
    part = placed.piece.flat
    width = facts.sheet.width_mm
    polygon = _turned_area(placed, width)
    room = FreeRoom(polygon, [stroke_shape(stroke) for stroke in drawn])
    for text in _name(facts.numbers[part.name], part, polygon, room):
        room.take(text_box(text))
        yield replace(text, piece=placed.id)
    for words, at, turn_deg in _sayings(part):
        beside = _beside(words, *_seen(at, turn_deg, placed.placement, width), room)
        if beside:
            room.take(text_box(beside))
            yield replace(beside, piece=placed.id)


def _name(number: int, part: Part, polygon: Polygon, room: FreeRoom) -> list[Text]:
    """Number and name as large as they fit, the number alone where they do not: pieces are told apart."""
    middle = polygon.centroid
    for words in (f"{number}  {part.name}", str(number)):
        for clearance in _CLEARANCES:
            for height in (NAME_MM, WORDS_MM, SMALL_MM, LEAST_MM):
                for turn in (0.0, 90.0):
                    size = block_size(((words, height),))
                    centre = room.place(*size, turn, (middle.x, middle.y), clearance)
                    if centre:
                        return block(((words, height),), centre, turn)
    widest = shapely.maximum_inscribed_circle(polygon).coords[0]
    return block(((str(number), LEAST_MM),), (widest[0], widest[1]), 0.0)


def _sayings(part: Part) -> Iterator[tuple[str, Point, float]]:
    """Words of the marks and cuts of this face, where they belong on the part, and their turn there."""
    for mark in part.marks:
        if is_far(mark, part):
            for text in mark.drawn().texts:
                if text.text:
                    yield text.text, text.at, text.turn_deg
    for words, runs in _work(part):
        yield (words, *_middle(runs))


def _work(part: Part) -> Iterator[tuple[str, tuple[Run, ...]]]:
    """What is cut on this face, in words as seen from it, and along which lines."""
    for fold in part.folds:
        if fold.cut_behind and (runs := (*fold.half, *fold.groove, *fold.lift, *fold.bevel)):
            yield fold_words(replace(fold, side=Side.UP)), runs
    for bevel in part.bevels:
        if bevel.cut_behind and bevel.runs:
            yield bevel_words(replace(bevel, back=False)), bevel.runs


def _middle(runs: tuple[Run, ...]) -> tuple[Point, float]:
    """The middle of the longest segment, and its direction."""
    segments = [segment for run in runs for segment in run]
    longest = max(segments, key=lambda s: round(math.dist(s.start, s.end) * 1e6))
    (x0, y0), (x1, y1) = longest.start, longest.end
    return ((x0 + x1) / 2, (y0 + y1) / 2), math.degrees(math.atan2(y1 - y0, x1 - x0))


def _seen(at: Point, turn_deg: float, placement: Placement, width_mm: float) -> tuple[Point, float]:
    """A place and a direction of a part as seen on the turned-over sheet."""
    return _over(placement.point(*at), width_mm), readable_turn(180 - placement.direction_deg(turn_deg))


def _beside(words: str, near: Point, turn_deg: float, room: FreeRoom) -> Text | None:
    """Words as near as can be to where they belong; None without room."""
    for height in (SMALL_MM, LEAST_MM):
        size = block_size(((words, height),))
        for clearance in _CLEARANCES:
            for turn in dict.fromkeys((turn_deg, 0.0, 90.0)):
                centre = room.place(*size, turn, near, clearance)
                if centre and math.dist(centre, near) <= _NEAR_MM + text_width_mm(words, height) / 2:
                    (text,) = block(((words, height),), centre, turn)
                    return text
    return None


# notes


def _notes(
    facts: Facts, register: tuple[Point, ...], used: frozenset[Line], picture: Picture
) -> tuple[tuple[Stroke, ...], tuple[Text, ...]]:
    sheet = facts.sheet
    rows = [
        *heading_rows(facts),
        f"the turned-over face of the sheet, size {size_words(sheet.width_mm, sheet.height_mm)}",
        _order_words(register, beds=bool(sheet.beds)),
        "scale 1:1, all numbers mm; nothing is cut through here and no kerf is in this file",
    ]
    legend = [
        f"{STYLES[line].letter}  {line.value}: {_meaning(line)}"
        for line in LAYERS
        if line in used | {Line.NOTES, Line.LETTERING}
    ]
    blocks = [
        *paragraphs(rows, gap=False),
        *paragraphs(legend),
        *_pieces(facts),
        _map_block(picture, map_scale(sheet.width_mm, sheet.height_mm)),
        *paragraphs(cautions(facts.title.tool, machine=True)),
        BAR,
    ]
    return columns(blocks, sheet.width_mm, sheet.height_mm)


def _map_block(picture: Picture, scale: int) -> Block:
    words = f"where each piece lies as seen from here, 1:{scale}, with the lines that are cut on this face"
    return Block(rows=lines([words]), picture=picture, gap=True)


def _order_words(register: tuple[Point, ...], *, beds: bool) -> str:
    """What is done first, and how one comes from this face to the other."""
    if beds:
        return f"1 {by_hand_words(register, here=True)}, 2 {TURN_OVER}; {RECTANGLES_LATER}"
    return f"do this face first, while the board is whole; {_turn_words(register)}"


def _turn_words(register: tuple[Point, ...]) -> str:
    """Two holes alone would fit as well turned the wrong way."""
    turn = f"then {TURN_OVER}"
    if not register:
        return f"{turn}; {register_words(register)}"
    return f"cut {register_words(register)} first; {turn}, pin it by the holes and cut the other face's file"


def _meaning(line: Line) -> str:
    """A kind of line's words as they hold on this face, which lies up now."""
    if line is Line.OPENING:
        return "register holes, cut right through once, from the face that is done first"
    return STYLES[_AS_ON_THE_FRONT.get(line, line)].words


def _pieces(facts: Facts) -> list[Block]:
    """The pieces on the sheet, and what is cut on this face of each."""
    parts = {placed.piece.flat.name: placed.piece.flat for placed in facts.sheet.placed}
    blocks: list[Block] = []
    for name in sorted(parts, key=lambda name: facts.numbers[name]):
        part = parts[name]
        counts: dict[str, int] = {}
        for words, _ in _work(part):
            counts[words] = counts.get(words, 0) + 1
        work = [f"{words}{f' ({count} times)' if count > 1 else ''}" for words, count in counts.items()]
        first = f"{facts.numbers[name]}  {name}: {'; '.join(work) or 'nothing is cut on this face'}"
        heading = () if blocks else ((0.0, "pieces, as seen from here:"),)
        blocks.append(Block(rows=(*heading, *lines([first])), gap=not blocks))
    return blocks
