"""Checks of templates-<paper>.pdf: pages, tiles and, put together again, every line of what was tiled."""

import itertools
import math
import re
from collections import Counter
from typing import Any

import numpy as np
import shapely
from pack_geometry import SAME_AREA_MM2, Track, mirrored, unmove_points
from pack_layout import Layout, paper_name
from pack_lines import uncovered_mm
from pack_pdf import check_bar, reverse_off_mm
from pack_pdf_reader import Page, read_pages
from pack_report import Report
from pack_words import says, squeezed, written
from shapely import Polygon

# ISO 216 (A4, A3) and ANSI Y14.1 (A and B: 8.5 x 11 and 11 x 17 in), mm.
PAPER_MM = {"a4": (210.0, 297.0), "a3": (297.0, 420.0), "letter": (215.9, 279.4), "tabloid": (279.4, 431.8)}
PAPER_OFF_MM = 0.01
TILED_MM = 0.1
OVERLAP_MM = 10.0
RULED_CORNERS = 8
_CUT = ("OPENING", "THROUGH")


def check_templates(
    report: Report,
    file: str,
    data: bytes,
    layout: Layout,
    part_marks: dict[str, dict[str, list[Track]]],
    *,
    every_part: bool,
) -> None:
    """Check one templates file against its entry in layout.json."""
    pages = read_pages(data)
    entry = next((entry for entry in layout.raw.get("templates", []) if entry["file"] == file), None)
    if not report.expect(entry is not None, file, "layout.json lists no tiles for it"):
        return
    report.expect(
        file == f"templates-{entry['paper']}.pdf", file, f"its paper is {entry['paper']} in layout.json"
    )
    _check_pages(report, file, pages, entry)
    _check_grid(report, file, pages, layout, entry)
    _check_complete(report, file, layout, entry, every_part=every_part)
    _check_ruled(report, file, pages, layout, entry)
    for name in dict.fromkeys(tile["name"] for tile in entry["tiles"]):
        tiles = [tile for tile in entry["tiles"] if tile["name"] == name]
        with report.section(file, f"the tiles of {name}"):
            shapes = _shapes_of(layout, tiles[0])
            _check_reassembly(report, file, pages, name, tiles, shapes, part_marks.get(name, {}))


def _check_pages(report: Report, file: str, pages: tuple[Page, ...], entry: dict[str, Any]) -> None:
    short, long = PAPER_MM[entry["paper"]]
    used = Counter(tile["page"] for tile in entry["tiles"])
    tiled = Counter((tile["of"], tile["name"]) for tile in entry["tiles"])
    for number, page in enumerate(pages, start=1):
        sides = sorted((page.width_mm, page.height_mm))
        report.expect(
            abs(sides[0] - short) <= PAPER_OFF_MM and abs(sides[1] - long) <= PAPER_OFF_MM,
            file,
            f"page {number}: {page.width_mm:.2f} x {page.height_mm:.2f} mm is not {entry['paper']}",
        )
        check_bar(report, file, number, page)
    for number, count in used.items():
        report.expect(number > 1, file, "page 1 is the key page and carries no tile")
        report.expect(
            number <= len(pages), file, f"page {number} with a tile is missing, {len(pages)} are there"
        )
        # several only when each is a whole part
        alone = all(tiled[tile["of"], tile["name"]] == 1 for tile in entry["tiles"] if tile["page"] == number)
        parts = all(tile["of"] == "part" for tile in entry["tiles"] if tile["page"] == number)
        report.expect(count == 1 or (alone and parts), file, f"page {number} carries {count} tiles")
    _check_apart(report, file, entry)
    ruled = {item["page"] for item in entry["ruled"]}
    for number in range(2, len(pages) + 1):
        report.expect(
            number in used or number in ruled or number <= _key_pages(entry),
            file,
            f"page {number}: is listed nowhere",
        )


def _check_apart(report: Report, file: str, entry: dict[str, Any]) -> None:
    """No two windows of a page overlap."""
    for first, second in itertools.combinations(entry["tiles"], 2):
        if first["page"] == second["page"]:
            apart = not _on_page(first).intersects(_on_page(second))
            names = f"{first['name']} and {second['name']}"
            report.expect(apart, file, f"page {first['page']}: the windows of {names} overlap")


def _names(page: Page, name: str) -> bool:
    """Whether a name stands on a page; the reader gives a hyphen at the end of a line as U+FFFE."""
    return says(page.text.replace("\ufffe", "-"), name)


def _on_page(tile: dict[str, Any]) -> Polygon:
    (x0, y0, x1, y1), (left, low) = tile["window"], tile["corner"]
    wide, high = (y1 - y0, x1 - x0) if tile["turned"] else (x1 - x0, y1 - y0)
    return shapely.box(left, low, left + wide, low + high)


def _key_pages(entry: dict[str, Any]) -> int:
    """Return how many pages stand before the first that is listed: the key may need more than one."""
    listed = [tile["page"] for tile in entry["tiles"]] + [item["page"] for item in entry["ruled"]]
    return min(listed, default=math.inf) - 1 if listed else 10**6


def _check_grid(
    report: Report, file: str, pages: tuple[Page, ...], layout: Layout, entry: dict[str, Any]
) -> None:
    """Every tile lies on its page and names itself; neighbours overlap by at least 10 mm."""
    places = Counter((tile["name"], tile["row"], tile["column"]) for tile in entry["tiles"])
    for (name, row, column), count in places.items():
        report.expect(count == 1, file, f"{name}: tile {row}{column} is listed {count} times")
    for tile in entry["tiles"]:
        x0, y0, x1, y1 = tile["window"]
        where = f"page {tile['page']}: tile {tile['row']}{tile['column']} of {tile['name']}"
        report.expect(
            re.fullmatch(r"[A-Z]{1,2}", tile["row"]) is not None, file, f"{where}: the row is no letter"
        )
        report.expect(x1 > x0 and y1 > y0, file, f"{where}: its window is empty")
        if not 1 <= tile["page"] <= len(pages):
            continue
        page = pages[tile["page"] - 1]
        wide, high = (y1 - y0, x1 - x0) if tile["turned"] else (x1 - x0, y1 - y0)
        left, bottom = tile["corner"]
        inside = min(left, bottom) >= 0 and left + wide <= page.width_mm and bottom + high <= page.height_mm
        report.expect(inside, file, f"{where}: does not lie on the page")
        label = f"{tile['row']}{tile['column']}"
        words = squeezed(page.text)
        report.expect(label in words, file, f"{where}: {label} is not written on the page")
        report.expect(_names(page, tile["name"]), file, f"{where}: the name is not written on the page")
        thickness = _thickness(layout, tile)
        report.expect(written(thickness, page.text, "mm"), file, f"{where}: the thickness is not told")
        report.expect(
            re.search(rf"{tile['page']}\s*(of|/)\s*{len(pages)}(?![0-9])", page.text) is not None,
            file,
            f"{where}: 'page {tile['page']} of {len(pages)}' is not written on the page",
        )
    for first, second in itertools.combinations(entry["tiles"], 2):
        if first["name"] == second["name"] and _neighbours(first, second):
            _check_overlap(report, file, first, second)


def _thickness(layout: Layout, tile: dict[str, Any]) -> float:
    """Return the thickness of the stock of what a tile shows."""
    if tile["of"] == "part":
        return layout.stocks[layout.stock_on_paper(tile["name"])]["thickness"]
    sheets = layout.raw["sheets"]
    stock = next(s["stock"] for s in sheets if tile["name"] == f"{s['stock']}-{s['number']}")
    return layout.stocks[stock]["thickness"]


def _neighbours(first: dict[str, Any], second: dict[str, Any]) -> bool:
    rows = abs(_row_number(first["row"]) - _row_number(second["row"]))
    return rows + abs(first["column"] - second["column"]) == 1


def _row_number(row: str) -> int:
    number = 0
    for letter in row:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number


def _check_overlap(report: Report, file: str, first: dict[str, Any], second: dict[str, Any]) -> None:
    shared = shapely.box(*first["window"]).intersection(shapely.box(*second["window"]))
    sides = (
        (shared.bounds[2] - shared.bounds[0], shared.bounds[3] - shared.bounds[1])
        if not shared.is_empty
        else (0, 0)
    )
    names = [f"{tile['row']}{tile['column']}" for tile in (first, second)]
    report.expect(
        min(sides) >= OVERLAP_MM - 1e-3,
        file,
        f"{first['name']}: tiles {names[0]} and {names[1]} overlap by {min(sides):.2f} mm, not {OVERLAP_MM}",
    )


def _check_complete(
    report: Report, file: str, layout: Layout, entry: dict[str, Any], *, every_part: bool
) -> None:
    """Every part (or, tiled by sheets, every sheet) is tiled, ruled or printed as its mirror image."""
    kinds = {tile["of"] for tile in entry["tiles"]}
    report.expect(len(kinds) < 2, file, "tiles of parts and of sheets are mixed")
    tiled = {tile["name"] for tile in entry["tiles"]}
    ruled = [item["name"] for item in entry["ruled"]]
    same = {item["name"]: item["printed_as"] for item in entry["same_as"]}
    report.expect(
        not (every_part and ruled), file, f"parts are ruled although every part was asked for: {ruled}"
    )
    if kinds == {"sheet"}:
        wanted = [f"{sheet['stock']}-{sheet['number']}" for sheet in layout.raw["sheets"]]
        report.expect(
            not ruled and not same, file, "tiled by sheets, nothing is ruled or left to a mirror image"
        )
    else:
        wanted = layout.names_on_paper()
    for name in wanted:
        ways = (name in tiled) + (name in ruled) + (name in same)
        report.expect(
            ways == 1, file, f"{name}: is tiled, ruled or printed as another {ways} times, not once"
        )
    for name in (*tiled, *ruled, *same):
        report.expect(name in wanted, file, f"{name}: is no part or sheet of the layout")
    for name, other in same.items():
        there = other in tiled or other in ruled
        report.expect(there, file, f"{name}: printed as {other}, which is not printed")
        if name in wanted and other in wanted:
            off = mirrored(layout.paper_shape(name)).symmetric_difference(layout.paper_shape(other)).area
            report.expect(off < SAME_AREA_MM2, file, f"{name}: {other} is not its mirror image")


def _check_ruled(
    report: Report, file: str, pages: tuple[Page, ...], layout: Layout, entry: dict[str, Any]
) -> None:
    """A part to be ruled on the board has straight lines and few corners, and its dimensions are written."""
    for item in entry["ruled"]:
        if not report.expect(
            item["page"] <= len(pages), file, f"{item['name']}: its page {item['page']} is missing"
        ):
            continue
        page = pages[item["page"] - 1]
        where = f"page {item['page']}: {item['name']}"
        report.expect(_names(page, item["name"]), file, f"{where}: the name is not written")
        if item["name"] not in layout.names_on_paper():
            continue
        shape = layout.paper_shape(item["name"])
        corners = len(shape.exterior.coords) - 1
        report.expect(
            corners <= RULED_CORNERS, file, f"{where}: has {corners} corners and is left to be ruled"
        )
        x0, y0, x1, y1 = shape.bounds
        for length in (x1 - x0, y1 - y0):
            report.expect(written(length, page.text), file, f"{where}: its {length:.2f} mm are not written")


def _shapes_of(layout: Layout, tile: dict[str, Any]) -> list[Polygon]:
    """Return what must be found drawn: the part, or a sheet with all that lies on it."""
    if tile["of"] == "part":
        return [layout.paper_shape(tile["name"])]
    for index, sheet in enumerate(layout.raw["sheets"]):
        if tile["name"] == f"{sheet['stock']}-{sheet['number']}":
            return layout.placed(index)
    raise ValueError(f"no sheet {tile['name']}")


def _back(points: np.ndarray, tile: dict[str, Any]) -> np.ndarray:
    """Take points of the page to the coordinates of the part or sheet."""
    x0, y0, _, y1 = tile["window"]
    right, up = points[:, 0] - tile["corner"][0], points[:, 1] - tile["corner"][1]
    if tile["turned"]:
        return np.column_stack([x0 + up, y1 - right])
    return np.column_stack([x0 + right, y0 + up])


def _check_reassembly(
    report: Report,
    file: str,
    pages: tuple[Page, ...],
    name: str,
    tiles: list[dict[str, Any]],
    shapes: list[Polygon],
    marks: dict[str, list[Track]],
) -> None:
    """Each tile shows every line inside its window within 0.1 mm; the windows leave no line out."""
    edges = shapely.union_all([shape.boundary for shape in shapes])
    windows = shapely.union_all([shapely.box(*tile["window"]) for tile in tiles])
    lost = edges.difference(windows.buffer(1e-3)).length
    report.expect(lost == 0, file, f"{name}: {lost:.2f} mm of its outline lie on no tile")
    for tile in tiles:
        if not 1 <= tile["page"] <= len(pages):
            continue
        where = f"page {tile['page']}: tile {tile['row']}{tile['column']} of {name}"
        page = pages[tile["page"] - 1]
        window = shapely.box(*tile["window"])
        # Half the allowance in from the edge: a line just on it may be printed on the neighbour alone.
        inner = window.buffer(-TILED_MM / 2, join_style="mitre")
        cut = shapely.transform(page.lines(_CUT), lambda points, tile=tile: _back(points, tile))
        off = uncovered_mm(cut, edges.intersection(inner))
        report.expect(off <= TILED_MM, file, f"{where}: a line of the outline is missing or {off:.3f} mm off")
        foreign = reverse_off_mm(cut.intersection(inner), edges)
        report.expect(
            foreign <= TILED_MM, file, f"{where}: shows a cut {foreign:.3f} mm from any line of the part"
        )
        for layer, tracks in marks.items():
            layers = (*_CUT, "MARK", "MARK_BACK") if layer == "MARK" else (layer,)
            drawn = shapely.transform(page.lines(layers), lambda points, tile=tile: _back(points, tile))
            for track in tracks:
                off = uncovered_mm(drawn, track.line().intersection(inner))
                x, y = track.points[0]
                what = f"the line of {layer} at ({x:.2f}, {y:.2f})"
                report.expect(off <= TILED_MM, file, f"{where}: {what} is missing or {off:.3f} off")


def marks_of_parts(
    layout: Layout, dxf_marks: dict[int, dict[str, list[Track]]]
) -> dict[str, dict[str, list[Track]]]:
    """Take the lines of the sheets back to the parts' own coordinates, from the first piece of each name."""
    found: dict[str, dict[str, list[Track]]] = {}
    for index, layers in dxf_marks.items():
        sheet = layout.raw["sheets"][index]
        for entry, shape in zip(sheet["placed"], layout.placed(index), strict=True):
            name = paper_name(layout.pieces[entry["piece"]])
            if name in found:
                continue
            filled = Polygon(shape.exterior).buffer(TILED_MM)
            place = (entry["x"], entry["y"], entry["turn_deg"], entry["flipped"])
            found[name] = {
                layer: [
                    Track(points=unmove_points(track.points, *place), closed=track.closed)
                    for track in tracks
                    if filled.covers(track.line())
                ]
                for layer, tracks in layers.items()
            }
        found |= {f"{sheet['stock']}-{sheet['number']}": layers}
    return found
