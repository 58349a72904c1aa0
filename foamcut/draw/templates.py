"""Templates to print at home: key pages, parts to rule on the board, tiles; and the index of it all.

Pure composition: what each page looks like stands in `keypage`, `ruled` and `tilepage`, how a drawing is
divided in `tiles`.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count

import shapely
from shapely import MultiLineString

from foamcut.draw.checkline import tiled_with_check_line
from foamcut.draw.flow import Block, beside, page_of, room_mm, stacked, width_mm
from foamcut.draw.grouped import grouped
from foamcut.draw.keypage import (
    Listed,
    cautions_block,
    findings_blocks,
    joining_block,
    legend_block,
    list_blocks,
    map_rows,
    shrink_block,
    title_block,
)
from foamcut.draw.paper import PAPERS, Paper
from foamcut.draw.part import left_out, part_lines, stroke_shape
from foamcut.draw.ruled import ruled_rows
from foamcut.draw.tilemap import row_letter
from foamcut.draw.tilepage import CORNER, Shown, Spot, board_words, group_page, rooms, tile_page
from foamcut.draw.tiles import Box, Cell, Content, joined
from foamcut.draw.values import Document, Drawing, Line, Page, Stroke, Text, Title
from foamcut.draw.words import (
    count_words,
    face_words,
    facts_words,
    mm_and_inch,
    revision_words,
    right_way_up,
    text_box,
)
from foamcut.flat.drawn import Hand
from foamcut.flat.outline import Outline, Point
from foamcut.flat.part import Part
from foamcut.nest.values import Layout, Sheet

#: mirror images are the same when they differ by less area than this, mm2: a hundredth of the least part
_SAME_MM2 = 0.01
_COLUMN_GAP_MM = 8.0
#: seams keep off holes no larger than this, mm
_HOLE_MM = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """Where a tile is: its page from 1, its window in the drawing, that window's corner on the page."""

    page: int
    of: str  # part | sheet
    name: str
    row: str
    column: int
    window: Box
    corner: Point
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruled:
    """A part drawn small with its dimensions, and its page from 1."""

    page: int
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SameAs:
    """A part that is not printed, because its mirror image is."""

    name: str
    printed_as: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateIndex:
    """What stands on which page of one file of templates."""

    file: str
    paper: str
    pages: int
    tiles: tuple[Tile, ...]
    ruled: tuple[Ruled, ...]
    same_as: tuple[SameAs, ...]


def template_document(
    parts: Sequence[Part],
    layouts: Sequence[Layout],
    title: Title,
    paper: str,
    *,
    by: str,
    every_part: bool,
    sheet_drawings: Sequence[Drawing],
    numbers: Mapping[str, int] | None = None,
    thicknesses: Mapping[str, float] | None = None,
    summary: Sequence[str] = (),
    findings: Sequence[str] = (),
) -> tuple[Document, TemplateIndex]:
    """All pages for one paper, and their index.

    Parameters
    ----------
    paper
        A name in `PAPERS`.
    by
        "part": each part by itself; "sheet": the sheets with all that lies on them.
    every_part
        Tile also the parts that ruler and pencil do.
    sheet_drawings
        One for each sheet of the layouts, in their order, made for templates.
    numbers
        Each part's number by its name; counted from 1 in the order of the parts when left out.
    thicknesses
        Of each stock by its name, mm; those of the layouts when left out.
    summary
        Sentences for the first page: what to buy.
    findings
        What the program has to say of the design; told on the key pages.

    Raises
    ------
    ValueError
        `by` or `paper` is unknown: a bug in the caller.
    """
    if by not in ("part", "sheet") or paper not in PAPERS:
        raise ValueError(f"templates by {by!r} on {paper!r}")
    size = PAPERS[paper]
    numbers = numbers or {part.name: i for i, part in enumerate(parts, 1)}
    thicknesses = thicknesses or {layout.stock.name: layout.stock.thickness_mm for layout in layouts}
    same = same_as(parts) if by == "part" else ()
    by_name = {part.name: part for part in parts}
    others = {each.printed_as: by_name[each.name] for each in same}
    hidden = {each.name for each in same}
    printed = [part for part in parts if part.name not in hidden] if by == "part" else []
    ruled = [part for part in printed if part.can_be_ruled and not every_part]
    tiled = [part for part in printed if part not in ruled]
    rows = ruled_rows(
        [(part, others.get(part.name)) for part in ruled],
        title,
        numbers=numbers,
        thicknesses=thicknesses,
        width_mm=width_mm(size),
    )
    shown = [_of_part(p, title, size, numbers, others.get(p.name), thicknesses) for p in tiled]
    if by == "sheet":
        shown = _of_sheets(layouts, sheet_drawings, size)
    alone, groups = grouped(shown, rooms(size)[0], CORNER)
    sheaf = _Sheaf(
        title=title,
        paper=size,
        ruled=tuple(rows),
        alone=alone,
        groups=groups,
        same=same,
        listed=tuple(_listed(part, title, numbers[part.name], thicknesses) for part in parts),
        boards=tuple(board_words(stock, mm) for stock, mm in _boards(parts)),
        summary=tuple(summary),
        findings=tuple(findings),
    )
    pages, index = sheaf.bound()
    document = Document(
        title=f"{revision_words(title)}: templates on {size.words}",
        author=title.maker,
        subject=title.title,
        pages=pages,
    )
    return document, index


def same_as(parts: Sequence[Part]) -> tuple[SameAs, ...]:
    """The second of each mirrored pair whose template is the first one's, turned over.

    That is so when the outlines are mirror images and no mark would read wrong on the other hand.
    """
    found: list[SameAs] = []
    for i, part in enumerate(parts):
        first = next((other for other in parts[:i] if _is_other_hand(part, other)), None)
        if first:
            found.append(SameAs(name=part.name, printed_as=first.name))
    return tuple(found)


def _is_other_hand(part: Part, other: Part) -> bool:
    if part.key != other.key or {part.hand, other.hand} != {Hand.LEFT, Hand.RIGHT}:
        return False
    if any(mark.handed for mark in (*part.marks, *other.marks)):
        return False
    mirrored = part.outline.mirrored().polygon
    return bool(mirrored.symmetric_difference(other.outline.polygon).area < _SAME_MM2)


def _boards(parts: Sequence[Part]) -> tuple[tuple[str, float], ...]:
    """Every stock that is used, with its thickness, in the order of the parts."""
    return tuple(dict.fromkeys((part.stock, part.thickness_mm) for part in parts))


def _listed(part: Part, title: Title, number: int, thicknesses: Mapping[str, float]) -> tuple[str, Listed]:
    """A part's line in the list, its page still to be told."""
    lost = left_out(part, title, number=number, thicknesses=thicknesses).told()
    facts = (
        f"{count_words(part)}, {face_words(part)}, {board_words(part.stock, part.thickness_mm)}",
        *facts_words(part, title, number, lost)[1:],
    )
    return part.name, Listed(heading=f"{number}  {part.name}", facts=facts, where="")


def _of_part(
    part: Part,
    title: Title,
    paper: Paper,
    numbers: Mapping[str, int],
    other: Part | None,
    thicknesses: Mapping[str, float],
) -> Shown:
    number = numbers[part.name]
    strokes, texts = part_lines(part, title, number=number, template=True, thicknesses=thicknesses)
    off = (*(slot.outline.bounds for slot in part.slots), *(tab.outline.bounds for tab in part.tabs))
    shown = _shown(
        part.name,
        "part",
        (part.stock, part.thickness_mm),
        strokes,
        texts,
        [part.outline],
        off,
        paper,
    )
    lost = left_out(part, title, number=number, thicknesses=thicknesses).told(
        90.0 if shown.tiling.turned else 0.0
    )
    facts = (count_words(part), face_words(part), *facts_words(part, title, number, lost)[1:])
    heading = f"{number}  {part.name}"
    if other:
        heading = f"as drawn: {heading}"
        over = f"turned over: {numbers[other.name]}  {other.name}, {count_words(other)}"
        facts = (facts[0], over, *facts[1:])
    return replace(shown, heading=heading, facts=facts)


def _of_sheets(layouts: Sequence[Layout], drawings: Sequence[Drawing], paper: Paper) -> list[Shown]:
    sheets = [(layout, sheet) for layout in layouts for sheet in layout.sheets]
    return [
        _of_sheet(layout, sheet, drawing, paper)
        for (layout, sheet), drawing in zip(sheets, drawings, strict=True)
    ]


def _of_sheet(layout: Layout, sheet: Sheet, drawing: Drawing, paper: Paper) -> Shown:
    """A sheet without its notes: they stand beyond its edge and on the key page."""
    strokes = [stroke for stroke in drawing.strokes if stroke.line is not Line.NOTES]
    texts = [text for text in drawing.texts if text.line is not Line.NOTES]
    off = []
    for placed in sheet.placed:
        part = placed.piece.flat
        cuts = (*(slot.outline for slot in part.slots), *(tab.outline for tab in part.tabs))
        off += [cut.placed(placed.placement).bounds for cut in cuts]
    board = sheet.stock, layout.stock.thickness_mm
    name = f"{sheet.stock}-{sheet.number}"
    shown = _shown(name, "sheet", board, strokes, texts, [p.outline for p in sheet.placed], off, paper)
    size = f"{mm_and_inch(sheet.width_mm)} by {mm_and_inch(sheet.height_mm)}"
    return replace(shown, facts=(f"sheet {size}", f"pieces on it: {len(sheet.placed)}"))


def _shown(
    name: str,
    kind: str,
    board: tuple[str, float],
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
    everything = shapely.union_all([content.area, *(stroke_shape(stroke) for stroke in strokes)])
    tiling, line = tiled_with_check_line(content, rooms(paper), everything.bounds)
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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheaf:
    """Everything that is to be printed, before its pages are counted."""

    title: Title
    paper: Paper
    ruled: tuple[tuple[tuple[Part, ...], Block], ...]
    alone: tuple[Shown, ...]
    groups: tuple[tuple[Spot, ...], ...]
    same: tuple[SameAs, ...]
    listed: tuple[tuple[str, Listed], ...]
    boards: tuple[str, ...]
    summary: tuple[str, ...]
    findings: tuple[str, ...]

    @property
    def shown(self) -> tuple[Shown, ...]:
        """Everything on tiles."""
        return (*self.alone, *(spot.shown for spots in self.groups for spot in spots))

    def bound(self) -> tuple[tuple[Page, ...], TemplateIndex]:
        """The pages in order, and what stands on each."""
        ruled_pages = stacked([block for _, block in self.ruled], room_mm(self.paper))
        key, total = self._key_that_counts_itself(ruled_pages)
        key_count = len(key)
        pages = self._key_pages(key, total)
        pages += self._ruled_pages(ruled_pages, key_count, total)
        ruled = [
            Ruled(page=key_count + i, name=part.name)
            for i, page in enumerate(ruled_pages, 1)
            for index in page
            for part in self.ruled[index][0]
        ]
        tiles: list[Tile] = []
        for each in self.alone:
            for i, cell in enumerate(each.tiling.cells):
                number = len(pages) + 1
                many = len(each.tiling.cells)
                bookmark = "" if i else f"{each.name}, {many} page{'s' * (many != 1)}"
                page = tile_page(
                    each, cell, self.paper, self.title, number=number, total=total, bookmark=bookmark
                )
                pages.append(page)
                tiles.append(_tile(number, each, cell, page.windows[0].corner))
        for i, spots in enumerate(self.groups, 1):
            number = len(pages) + 1
            page = group_page(
                spots,
                self.paper,
                self.title,
                number=number,
                total=total,
                label=f"whole parts {i}",
                bookmark=", ".join(spot.shown.name for spot in spots),
            )
            pages.append(page)
            tiles += [_tile(number, spot.shown, spot.cell, spot.corner) for spot in spots]
        index = TemplateIndex(
            file=f"templates-{self.paper.name}.pdf",
            paper=self.paper.name,
            pages=total,
            tiles=tuple(tiles),
            ruled=tuple(ruled),
            same_as=self.same,
        )
        return tuple(pages), index

    def _key_that_counts_itself(
        self, ruled_pages: tuple[tuple[int, ...], ...]
    ) -> tuple[tuple[tuple[Block, ...], ...], int]:
        """The key's pages and the number of all pages, which stands on the key and may lengthen it."""
        for key_count in count(1):
            first = key_count + len(ruled_pages) + 1
            total = first - 1 + self._tile_pages()
            places = {
                part.name: f"page {key_count + i}, to rule"
                for i, page in enumerate(ruled_pages, 1)
                for index in page
                for part in self.ruled[index][0]
            }
            key = self._key(places | self._tile_places(first), total)
            if len(key) <= key_count:
                return (*key, *[()] * (key_count - len(key))), total
        raise ValueError("the key grows without an end")

    def _tile_places(self, first: int) -> dict[str, str]:
        """Pages in words of everything that is tiled, by its name; `first` is the page of the first tile."""
        places = {}
        for each in self.alone:
            last = first + len(each.tiling.cells) - 1
            places[each.name] = f"page{'s' * (last > first)} {_span(first, last)}"
            first = last + 1
        for number, spots in enumerate(self.groups, first):
            places |= {spot.shown.name: f"page {number}" for spot in spots}
        return places

    def _tile_pages(self) -> int:
        return sum(len(each.tiling.cells) for each in self.alone) + len(self.groups)

    def _key(self, places: Mapping[str, str], total: int) -> tuple[tuple[Block, ...], ...]:
        """The blocks of each key page."""
        width = width_mm(self.paper)
        narrow = (width - _COLUMN_GAP_MM) * 0.45
        wide = width - _COLUMN_GAP_MM - narrow
        lines = self._lines()
        many = [each for each in self.shown if len(each.tiling.cells) > 1]
        joining = joining_block(wide, joined=bool(many), pricked=self._pricked())
        blocks = [
            title_block(
                self.title, self.paper, width, self.summary, self._printing(total), ", ".join(self.boards)
            ),
            beside((0.0, joining), (wide + _COLUMN_GAP_MM, shrink_block(self.paper, narrow))),
            beside(
                (0.0, legend_block(lines, wide)),
                (wide + _COLUMN_GAP_MM, cautions_block(self.title, narrow)),
            ),
            *findings_blocks(self.findings, width),
            *list_blocks(
                self._list(places),
                width,
                "Sheets and parts" if any(each.kind == "sheet" for each in self.shown) else "Parts",
            ),
            *map_rows([(each, places[each.name]) for each in many], width),
        ]
        return tuple(tuple(blocks[i] for i in page) for page in stacked(blocks, room_mm(self.paper)))

    def _list(self, places: Mapping[str, str]) -> list[Listed]:
        """Every part, and every sheet that is tiled, with its pages."""
        printed_as = {each.name: each.printed_as for each in self.same}
        rows = [
            Listed(heading=each.name, facts=each.facts, where=places[each.name])
            for each in self.shown
            if each.kind == "sheet"
        ]
        for name, row in self.listed:
            where = places.get(name, "")
            if name in printed_as:
                where = f"mirror image of {printed_as[name]}, {places[printed_as[name]]}"
            rows.append(replace(row, where=where))
        return rows

    def _pricked(self) -> bool:
        """Whether the tiles show marks of the face that lies down."""
        return any(stroke.line is Line.MARK_BACK for each in self.shown for stroke in each.strokes)

    def _printing(self, total: int) -> str:
        tiles = self._tile_pages()
        words = f"print {total} pages at 100 %, {tiles} of them templates"
        if self.ruled:
            names = ", ".join(part.name for row, _ in self.ruled for part in row)
            words += f"; ruled straight on the board: {names}"
        return words

    def _lines(self) -> set[Line]:
        """Kinds of line that the tiles and the drawings to rule from use."""
        used = {stroke.line for each in self.shown for stroke in each.strokes}
        used |= {text.line for each in self.shown for text in each.texts}
        used |= {stroke.line for _, block in self.ruled for stroke in block.strokes}
        if any(len(each.tiling.cells) > 1 for each in self.shown):
            used.add(Line.TRIM)
        return used - {Line.FRAME}

    def _key_pages(self, key: tuple[tuple[Block, ...], ...], total: int) -> list[Page]:
        return [
            page_of(
                blocks,
                self.paper,
                self.title,
                heading="Templates: key" if i == 1 else f"Templates: key {i}",
                label="key" if i == 1 else f"key {i}",
                number=i,
                total=total,
                bookmark="Templates" if i == 1 else "",
            )
            for i, blocks in enumerate(key, 1)
        ]

    def _ruled_pages(self, pages: tuple[tuple[int, ...], ...], before: int, total: int) -> list[Page]:
        return [
            page_of(
                [self.ruled[index][1] for index in page],
                self.paper,
                self.title,
                heading="To rule on the board",
                label=f"ruled {i}",
                number=before + i,
                total=total,
                bookmark="To rule straight on the board" if i == 1 else "",
                level=1,
            )
            for i, page in enumerate(pages, 1)
        ]


def _tile(page: int, shown: Shown, cell: Cell, corner: Point) -> Tile:
    return Tile(
        page=page,
        of=shown.kind,
        name=shown.name,
        row=row_letter(cell.row),
        column=cell.column + 1,
        window=cell.view,
        corner=corner,
        turned=shown.tiling.turned,
    )


def _span(first: int, last: int) -> str:
    return str(first) if first == last else f"{first} to {last}"
