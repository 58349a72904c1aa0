"""Damages to what people read: the table and the pages of marking out, overview, gauges."""

import csv
import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pikepdf
from breakage import Collection, NotApplicableError, edit_text, load
from breakages_pdf import bar_99, change_pdf, drop_line
from pack_balance import BALANCE
from pack_presence import GAUGES, MARKING, MARKING_ROWS, OVERVIEW

BREAKAGES = Collection()
_TABLE = r"marking-out.csv: "


def _row(folder: Path, change: Callable[[dict[str, str]], Any], of: str = "outline") -> None:
    """Change the cells of the first row of a line of this kind."""
    path = folder / MARKING_ROWS
    rows = list(csv.reader(io.StringIO(path.read_text("utf-8"), newline="")))
    for number, row in enumerate(rows[1:], start=1):
        cells = dict(zip(rows[0], row, strict=True))
        if f"of {of}" in cells["point"]:
            if change(cells) == "gone":
                del rows[number]
            else:
                rows[number] = list(cells.values())
            text = io.StringIO(newline="")
            csv.writer(text, lineterminator="\r\n").writerows(rows)
            path.write_bytes(text.getvalue().encode())
            return
    raise NotApplicableError(f"no row of {of}")


def _shifted(cells: dict[str, str]) -> None:
    """One tick farther from the left, in both spellings."""
    left = float(cells["from_left"]) + 0.5
    cells["from_left"] = f"{left:g}"
    cells["written"] = f"{left:g} and {cells['from_bottom']}"


@BREAKAGES.add("a corner marked out one tick off", rf"{_TABLE}piece .*: no row for its corner at")
def _tick(folder: Path) -> None:
    _row(folder, _shifted)


@BREAKAGES.add("a corner left out of the table", rf"{_TABLE}piece .*: no row for its corner at")
def _corner(folder: Path) -> None:
    _row(folder, lambda cells: "gone")


@BREAKAGES.add("an edge of a part marked out elsewhere", rf"{_TABLE}piece .*: the points draw its line")
def _far(folder: Path) -> None:
    _row(folder, lambda cells: cells.update(from_left="99", written=f"99 and {cells['from_bottom']}"))


@BREAKAGES.add("a mark one tick off", rf"{_TABLE}line .*: .* of mark .*, lies on no line")
def _mark(folder: Path) -> None:
    def change(cells: dict[str, str]) -> None:
        for name in ("from_left", "from_bottom"):
            cells[name] = f"{float(cells[name]) + 2.5:g}"
        cells["written"] = f"{cells['from_left']} and {cells['from_bottom']}"

    _row(folder, change, "mark")


@BREAKAGES.add("a fraction that is not its decimal", rf"{_TABLE}line 2: written '4 and .*' is not")
def _written(folder: Path) -> None:
    _row(folder, lambda cells: cells.update(written=f"4 and {cells['from_bottom']}"))


@BREAKAGES.add("a distance between two ticks", rf"{_TABLE}line 2: .* is on no tick of 1/2 mm")
def _between(folder: Path) -> None:
    _row(folder, lambda cells: cells.update(from_left="3.25", written=f"3.25 and {cells['from_bottom']}"))


@BREAKAGES.add(
    "a rounding error told too small", rf"{_TABLE}line .* is told .* mm off and is .* mm off its corner"
)
def _error(folder: Path) -> None:
    _row(folder, lambda cells: cells.update(rounding_error_mm="0.0123"))


@BREAKAGES.add(
    "a rounding error of more than half a tick", rf"{_TABLE}line 2: 0.26 mm is more than half a tick"
)
def _large(folder: Path) -> None:
    _row(folder, lambda cells: cells.update(rounding_error_mm="0.26"))


@BREAKAGES.add("inches in a table of millimetres", rf"{_TABLE}line 2: unit 'in', not 'mm'")
def _unit(folder: Path) -> None:
    _row(folder, lambda cells: cells.update(unit="in"))


@BREAKAGES.add(
    "a row of a piece that there is not", rf"{_TABLE}line .*: no piece stranger-1 on board-1 is placed"
)
def _stranger(folder: Path) -> None:
    _row(folder, lambda cells: cells.update(piece="stranger-1"))


@BREAKAGES.add("a table of other columns", rf"{_TABLE}the first line is not")
def _columns(folder: Path) -> None:
    edit_text(folder, MARKING_ROWS, "from_left", "left")


@BREAKAGES.add("marking out without a page", r"marking-out.pdf: (no page is headed|piece .* on no page)")
def _page(folder: Path) -> None:
    def change(document: pikepdf.Pdf) -> None:
        del document.pages[1]

    change_pdf(folder, MARKING, change)


@BREAKAGES.add("a piece not named in marking out", r"marking-out.pdf: piece .* is not named on the pages")
def _named(folder: Path) -> None:
    piece = load(folder)["sheets"][0]["placed"][0]["piece"]
    path = folder / MARKING
    name = piece.removesuffix("-1")
    path.write_bytes(path.read_bytes().replace(f" {name}".encode(), b" " + b"x" * len(name)))


@BREAKAGES.add(
    "another distance on the page than in the table", r"marking-out.pdf: piece .* on no page of its sheet"
)
def _distance(folder: Path) -> None:
    rows = list(csv.DictReader(io.StringIO((folder / MARKING_ROWS).read_text("utf-8"), newline="")))
    left = next(row["from_left"] for row in rows if len(row["from_left"]) == 5)
    path = folder / MARKING
    path.write_bytes(path.read_bytes().replace(f"({left})".encode(), b"(999.5)"))


@BREAKAGES.add("marking out on a page of no paper", r"marking-out.pdf: page 1: .* is no paper to print on")
def _paper(folder: Path) -> None:
    _box(folder, MARKING)


@BREAKAGES.add("marking out with a bar of 99 mm", r"marking-out.pdf: page 1: no line of 100 mm")
def _bar(folder: Path) -> None:
    bar_99(folder, MARKING, 1)


def _box(folder: Path, name: str) -> None:
    def change(document: pikepdf.Pdf) -> None:
        box = [float(value) for value in document.pages[0].mediabox]
        document.pages[0].obj["/MediaBox"] = pikepdf.Array([*box[:2], box[2] + 10, box[3]])

    change_pdf(folder, name, change)


@BREAKAGES.add("an overview on a page of no paper", r"overview.pdf: page 1: .* is no paper to print on")
def _overview_paper(folder: Path) -> None:
    _box(folder, OVERVIEW)


@BREAKAGES.add("a scale that is in no standard", r"overview.pdf: page 1: scale 1:[0-9]+ is none of ISO 5455")
def _scale(folder: Path) -> None:
    _retold(folder, OVERVIEW, "(1:5) Tj", "(1:4) Tj")


@BREAKAGES.add("a scale bar of another length", r"overview.pdf: page 1: no scale bar of")
def _scale_bar(folder: Path) -> None:
    drop_line(folder, OVERVIEW, 1, lambda stroke: stroke.closed and abs(_wide(stroke) - 60) < 0.05)


def _wide(stroke: Any) -> float:
    return float(stroke.points[:, 0].max() - stroke.points[:, 0].min())


@BREAKAGES.add("an overview of another revision", r"overview.pdf: page 1: the plan's name is not on it")
def _nameless(folder: Path) -> None:
    name = load(folder)["design"]["name"]
    path = folder / OVERVIEW
    path.write_bytes(path.read_bytes().replace(name.encode(), b"x" * len(name)))


@BREAKAGES.add("another span on the overview", r"overview.pdf: page 1: span 999 is not 5.* mm")
def _span(folder: Path) -> None:
    _flown(folder)
    _retold(folder, OVERVIEW, "(span 547 ", "(span 999 ")


@BREAKAGES.add("another height on the overview", r"overview.pdf: page 1: height 99.9 is not .* mm")
def _height(folder: Path) -> None:
    edit_text(folder, OVERVIEW, "(height 78.7 ", "(height 99.9 ")


@BREAKAGES.add(
    "another throw on the overview", r"overview.pdf: page 1: the throw of elevator of tail: .* is not told"
)
def _throw(folder: Path) -> None:
    edit_text(folder, OVERVIEW, "(20 deg, ", "(25 deg, ")


@BREAKAGES.add("another weight on the overview", r"overview.pdf: page 1: 'weight 999 g', and mass_all_up is")
def _weight(folder: Path) -> None:
    number = next(one for one in _flown(folder)["numbers"] if one["name"] == "mass_all_up")
    _retold(folder, OVERVIEW, f"({number['value']:.0f} g ", "(999 g ")


@BREAKAGES.add(
    "a size that its sketch measure does not give", r"overview.pdf: page 1: length 500 is not 5 times"
)
def _sketch(folder: Path) -> None:
    _retold(folder, OVERVIEW, r"(length 500 \(100\)", r"(length 500 \(101\)")


def _flown(folder: Path) -> Any:
    if not (folder / BALANCE).exists():
        raise NotApplicableError("no aeroplane")
    return load(folder, BALANCE)


def _retold(folder: Path, name: str, old: str, new: str) -> None:
    """Say something else with as many letters."""
    assert len(old) == len(new)
    edit_text(folder, name, old, new)


@BREAKAGES.add("a gauge that lacks a slot", r"gauges.pdf: page .*: slots are told .* wide and drawn")
def _slot(folder: Path) -> None:
    drop_line(folder, GAUGES, 1, lambda stroke: stroke.closed and abs(_wide(stroke) - 5) < 0.01)


@BREAKAGES.add(
    "a slot that is told wider than it is", r"gauges.pdf: page .*: slots .* are no board and a fit"
)
def _told(folder: Path) -> None:
    """Every 5.4 mm: the fit gauge's too, which has it for a board of 5 mm and a fit of 0.4 mm."""
    path = folder / GAUGES
    data = path.read_bytes()
    if b"(5.4) Tj" not in data:
        raise NotApplicableError("no slot of 5.4 mm")
    path.write_bytes(data.replace(b"(5.4) Tj", b"(5.9) Tj"))


@BREAKAGES.add("gauges that a viewer may scale", r"gauges.pdf: /PrintScaling is")
def _scaling(folder: Path) -> None:
    def change(document: pikepdf.Pdf) -> None:
        del document.Root.ViewerPreferences["/PrintScaling"]

    change_pdf(folder, GAUGES, change)


@BREAKAGES.add("gauges of another stock", r"gauges.pdf: no gauge for the thickness of stock board")
def _stock(folder: Path) -> None:
    path = folder / GAUGES
    path.write_bytes(path.read_bytes().replace(b"board", b"boxed"))
