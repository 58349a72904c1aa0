"""What tiles show: a part by itself, or a sheet with all that lies on it; and how it is divided.

Drawings in mm, the part's or the sheet's coordinates.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

import shapely
from shapely import MultiLineString

from foamcut.draw.checkline import tiled_with_check_line
from foamcut.draw.paper import Paper
from foamcut.draw.part import left_out, part_lines, stroke_shape
from foamcut.draw.pieces import Told
from foamcut.draw.tilepage import Shown, rooms
from foamcut.draw.tiles import Box, Content, joined
from foamcut.draw.values import Drawing, Line, Stroke, Text, Title
from foamcut.draw.words import count_words, face_words, mm_and_inch, right_way_up, text_box
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.nest.values import Layout, Sheet

#: seams keep off holes no larger than this, mm
_HOLE_MM = 60.0


def shown_part(
    part: Part,
    title: Title,
    paper: Paper,
    numbers: Mapping[str, int],
    other: Part | None,
    thicknesses: Mapping[str, float],
    told: Told,
) -> Shown:
    """A part by itself; `other` is its mirror image that is not printed, None without one."""
    number, role = numbers[part.name], told.role(part)
    strokes, texts = part_lines(part, title, number=number, template=True, thicknesses=thicknesses, role=role)
    off = (*(slot.outline.bounds for slot in part.slots), *(tab.outline.bounds for tab in part.tabs))
    shown = _shown(
        part.name,
        "part",
        (part.stock, part.thickness_mm, title.sketch_unit),
        strokes,
        texts,
        [part.outline],
        off,
        paper,
    )
    lost = left_out(part, title, number=number, thicknesses=thicknesses, role=role).told(
        90.0 if shown.tiling.turned else 0.0
    )
    facts = (count_words(part), face_words(part), *told.facts(part, title, number, lost))
    heading = f"{number}  {part.name}"
    if other:
        heading = f"as drawn: {heading}"
        over = f"turned over: {numbers[other.name]}  {other.name}, {count_words(other)}"
        facts = (facts[0], over, *facts[1:])
    return replace(shown, heading=heading, facts=facts)


def shown_sheets(
    layouts: Sequence[Layout], drawings: Sequence[Drawing], paper: Paper, units: str
) -> list[Shown]:
    """The sheets of the layouts, each with its drawing; `units` are those of the sketch's ruler."""
    sheets = [(layout, sheet) for layout in layouts for sheet in layout.sheets]
    return [
        _of_sheet(layout, sheet, drawing, paper, units)
        for (layout, sheet), drawing in zip(sheets, drawings, strict=True)
    ]


def _of_sheet(layout: Layout, sheet: Sheet, drawing: Drawing, paper: Paper, units: str) -> Shown:
    """A sheet without its notes: they stand beyond its edge and on the key page."""
    strokes = [stroke for stroke in drawing.strokes if stroke.line is not Line.NOTES]
    texts = [text for text in drawing.texts if text.line is not Line.NOTES]
    off = []
    for placed in sheet.placed:
        part = placed.piece.flat
        cuts = (*(slot.outline for slot in part.slots), *(tab.outline for tab in part.tabs))
        off += [cut.placed(placed.placement).bounds for cut in cuts]
    board = sheet.stock, layout.stock.thickness_mm, units
    name = f"{sheet.stock}-{sheet.number}"
    shown = _shown(name, "sheet", board, strokes, texts, [p.outline for p in sheet.placed], off, paper)
    size = f"{mm_and_inch(sheet.width_mm)} by {mm_and_inch(sheet.height_mm)}"
    return replace(shown, facts=(f"sheet {size}", f"pieces on it: {len(sheet.placed)}"))


def _shown(
    name: str,
    kind: str,
    board: tuple[str, float, str],
    strokes: Sequence[Stroke],
    texts: Sequence[Text],
    outlines: Iterable[Outline],
    keep_off: Sequence[Box],
    paper: Paper,
) -> Shown:
    material = [outline.polygon for outline in outlines]
    holes = [ring.bounds for shape in material for ring in shape.interiors]
    boxes = [text_box(text) for text in texts]
    content = Content(
        # material that no line crosses needs no tile, nor does the board's edge alone
        area=joined(boxes),
        lines=MultiLineString([stroke_shape(s) for s in strokes if s.line is not Line.SHEET]),
        keep_off=tuple(keep_off),
        openings=tuple(b for b in holes if max(b[2] - b[0], b[3] - b[1]) <= _HOLE_MM),
        rather_off=tuple(box.bounds for box in boxes),
    )
    x0, y0, x1, y1 = map(float, shapely.total_bounds([content.area, *map(stroke_shape, strokes)]))
    tiling, line = tiled_with_check_line(content, rooms(paper), (x0, y0, x1, y1))
    turn = 90.0 if tiling.turned else 0.0
    words = [right_way_up(text, turn) for text in texts]
    if line:
        strokes = [*strokes, *line.strokes()]
        drawn = MultiLineString([stroke_shape(s) for s in strokes if s.line is not Line.RULER])
        words += line.texts(tiling, drawn, content.rather_off)
    return Shown(
        name=name,
        kind=kind,
        board=board,
        heading=name,
        facts=(),
        strokes=tuple(strokes),
        texts=tuple(words),
        area=joined(material),
        tiling=tiling,
    )
