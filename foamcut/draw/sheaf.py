"""The pages of the templates bound together: key, parts to rule, tiles; each counted and told on the key.

Everything that is to be printed comes in; what a page looks like stands in `keypage`, `ruled`, `tilepage`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import count

from foamcut.draw.flow import GAP_MM, Block, below, beside, page_of, room_mm, stacked, width_mm
from foamcut.draw.keypage import (
    Listed,
    cautions_block,
    findings_blocks,
    joining_block,
    joints_blocks,
    legend_block,
    list_blocks,
    map_rows,
    shrink_block,
    title_block,
)
from foamcut.draw.paper import Paper
from foamcut.draw.template_index import Ruled, SameAs, TemplateIndex, Tile
from foamcut.draw.tilemap import row_letter
from foamcut.draw.tilepage import Shown, Spot, group_page, tile_page
from foamcut.draw.tiles import Cell
from foamcut.draw.values import Line, Page, Title
from foamcut.draw.worked import BACK_LINES
from foamcut.flat.outline import Point
from foamcut.flat.part import Part

_COLUMN_GAP_MM = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheaf:
    """Everything that is to be printed, before its pages are counted."""

    title: Title
    paper: Paper
    ruled: tuple[tuple[tuple[Part, ...], Block], ...]
    alone: tuple[Shown, ...]
    groups: tuple[tuple[Spot, ...], ...]
    same: tuple[SameAs, ...]
    listed: tuple[tuple[str, Listed], ...]
    boards: tuple[str, ...]
    joints: tuple[str, ...]
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
        fitted, cautions = shrink_block(self.paper, narrow), cautions_block(self.title, wide)
        many = [each for each in self.shown if len(each.tiling.cells) > 1]
        joining = joining_block(wide, joined=bool(many), pricked=self._pricked(), behind=self._behind())
        blocks = [
            title_block(
                self.title, self.paper, width, self.summary, self._printing(total), ", ".join(self.boards)
            ),
            beside((0.0, below(joining, cautions, gap_mm=GAP_MM)), (wide + _COLUMN_GAP_MM, fitted)),
            legend_block(self._lines(), width),
            *findings_blocks(self.findings, width),
            *list_blocks(
                self._list(places),
                width,
                "Sheets and parts" if any(each.kind == "sheet" for each in self.shown) else "Parts",
            ),
            *joints_blocks(self.joints, width),
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

    def _behind(self) -> bool:
        """Whether the tiles show lines that are cut on the face that lies down."""
        return any(stroke.line in BACK_LINES for each in self.shown for stroke in each.strokes)

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
