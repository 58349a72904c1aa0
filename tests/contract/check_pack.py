"""Reads a plan pack back with libraries that did not write it and checks the outside contract line by line.

    check_pack.py [--every-part] DIR [DIR..]   one line for each fault; exit 1 when there is one
    check_pack.py --break DIR                  damages a good pack in many ways, each must be found

It knows nothing of the program: it reads design.toml, layout.json, manifest.json, the tables, balance.json, the
build book, the DXF, SVG and PDF files as any other program would. A file that cannot be read is a fault, never a traceback.
"""

import argparse
import functools
import hashlib
import json
import re
import sys
import warnings
from collections.abc import Callable, Iterator
from pathlib import Path

import shapely
from pack_balance import BALANCE, check_balance
from pack_balance_pictures import PICTURES
from pack_book import check_book, check_book_pdf
from pack_both import check_both, check_grooves
from pack_design import Design, read_design
from pack_drawn import Drawn, read_drawn
from pack_dxf import check_dxf, read_dxf, read_tracks, tracks_of
from pack_faces import check_same_marks
from pack_geometry import Track
from pack_joint_marks import check_joint_marks
from pack_layout import Layout, read_layout
from pack_layout_checks import check_layout
from pack_marking import Row, check_marking
from pack_model import MODEL, check_model, model_due
from pack_partial import COMPARISON, check_comparison
from pack_pdf import FULL_SIZE, check_full_size, check_pdf
from pack_presence import (
    BOOK,
    BOOK_PDF,
    GAUGES,
    MARKING,
    MARKING_ROWS,
    OVERVIEW,
    check_presence,
)
from pack_printed import check_gauges, check_marking_pages, check_overview
from pack_report import Report
from pack_svg import check_svg
from pack_tables import (
    MANIFEST_FILE,
    SHOPPING,
    check_identity,
    check_manifest,
    check_sheet_files,
    check_shopping,
)
from pack_templates import check_templates, marks_of_parts
from pack_view import bed_number, is_back, view_of
from pack_worked import Expected, check_worked


def check_pack(folder: Path, *, every_part: bool = False, until: str | None = None) -> Report:
    """Check a whole pack and return the checks counted and the faults found.

    until: a pattern of a fault ("file: text") after which the files that are not yet read are left out.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # damaged coordinates: the checks themselves tell what is wrong
        report = Report()
        for _ in _checks(report, folder, every_part=every_part):
            if until and any(re.search(until, str(fault), re.DOTALL) for fault in report.faults):
                break
        return report


def _checks(report: Report, folder: Path, *, every_part: bool) -> Iterator[None]:
    """Run the checks step by step."""
    manifest = design = layout = drawn = None
    with report.section("design.toml", "the design"):
        design = read_design((folder / "design.toml").read_bytes())
        drawn = read_drawn((folder / "design.toml").read_bytes())
    with report.section("layout.json", "the layout"):
        layout = read_layout(report, (folder / "layout.json").read_bytes())
    with report.section(MANIFEST_FILE, "the manifest"):
        manifest = check_manifest(report, folder)
    if manifest is not None:
        with report.section(MANIFEST_FILE, "the list of files"):
            check_presence(report, folder, manifest, layout, design)
    if manifest is not None and layout is not None and design is not None:
        with report.section(MANIFEST_FILE, "the design's identity"):
            check_identity(report, folder, manifest, layout, design)
    with report.section(SHOPPING, "the list"):
        check_shopping(report, (folder / SHOPPING).read_bytes(), layout, design)
    yield
    if layout is not None:
        if drawn is not None:
            drawn = drawn.with_made({name: part["stock"] for name, part in layout.parts.items()})
        expected = Expected(layout)
        check = functools.partial(check_layout, layout=layout, design=design, drawn=drawn, expected=expected)
        _remembered(report, folder, ("layout",), check)
        with report.section("layout.json", "names of the sheets' files"):
            check_sheet_files(report, layout)
        yield
        _check_sheets(report, folder, layout, design, drawn, expected)
        yield
    if layout is not None and (folder / COMPARISON).exists():
        with report.section(COMPARISON, "the comparison"):
            check_comparison(report, folder, layout)
    if layout is not None and design is not None and not layout.is_partial and model_due(layout, design):
        _remembered(report, folder, (MODEL, MODEL), functools.partial(_check_solid, folder, layout, drawn))
        yield
    if (folder / BALANCE).exists():
        check = functools.partial(_check_weighed, folder, layout, design)
        _remembered(report, folder, (BALANCE, BALANCE, *PICTURES), check)
        yield
    _check_pdfs(report, folder, layout, design, every_part=every_part)
    yield
    if layout is not None:
        yield from _check_read(report, folder, layout, design)


def _check_solid(folder: Path, layout: Layout, drawn: Drawn | None, report: Report) -> None:
    with report.section(MODEL, "the model"):
        check_model(report, (folder / MODEL).read_bytes(), layout, drawn)


def _check_weighed(folder: Path, layout: Layout | None, design: Design | None, report: Report) -> None:
    with report.section(BALANCE, "the balance"):
        check_balance(report, folder, layout, design)


# What was found of a file and all that it was compared with: packs of one design share most files.
_SEEN: dict[tuple[str, bytes], Report] = {}
_MOST_SEEN = 1000


def _remembered(report: Report, folder: Path, key: tuple[str, ...], check: Callable[[Report], None]) -> None:
    """Run a check, unless it ran before on files of the same bytes: `key` is the kind, then all files it reads."""
    kind, *names = key
    digest = hashlib.sha256()
    for name in (*names, "layout.json", "design.toml"):
        path = folder / name
        digest.update(b"1" + hashlib.sha256(path.read_bytes()).digest() if path.is_file() else b"0")
    own = _SEEN.get((kind, digest.digest()))
    if own is None:
        own = Report()
        check(own)
        if len(_SEEN) >= _MOST_SEEN:
            _SEEN.clear()
        _SEEN[kind, digest.digest()] = own
    report.checks += own.checks
    report.faults += [fault for fault in own.faults if fault not in report.faults]


# The lines that marks make on sheets and templates alike.
MARKED = ("MARK", "FOLD_UP", "FOLD_DOWN", "HALF", "GROOVE", "LIFT", "BEVEL")


def _check_sheets(
    report: Report,
    folder: Path,
    layout: Layout,
    design: Design | None,
    drawn: Drawn | None,
    expected: Expected,
) -> None:
    for index, sheet in enumerate(layout.raw["sheets"]):
        for name in sheet["files"]:
            check = functools.partial(
                _check_sheet,
                folder=folder,
                name=name,
                layout=layout,
                index=index,
                design=design,
                drawn=drawn,
                expected=expected,
            )
            _remembered(report, folder, (f"{index} {name}", name), check)
        backs = [name for name in sheet["files"] if is_back(name)]
        for name in backs:
            front = name.replace("-back", "", 1)
            with report.section(name, "marks of both faces"):
                check = functools.partial(
                    check_same_marks, folder=folder, front=front, back=name, sheet=sheet
                )
                _remembered(report, folder, (f"marks {index}", front, name), check)
        _check_made(report, folder, layout, index, drawn)


def _check_made(report: Report, folder: Path, layout: Layout, index: int, drawn: Drawn | None) -> None:
    """Check the lines of folds of parts that the program made, of which the design says nothing."""
    sheet = layout.raw["sheets"][index]
    for dxf, svg in zip(sheet["files"][::2], sheet["files"][1::2], strict=False):
        with report.section(dxf, "lines of both formats"):
            view = view_of(layout, index, dxf, drawn)
            made = [shown.shape for shown in view.shown if shown.made and shown.piece["role"] != "doubler"]
            if not made:
                continue
            height = view.size[1]
            check = functools.partial(check_both, folder=folder, dxf=dxf, svg=svg, height_mm=height)
            _remembered(report, folder, (f"both {index}", dxf, svg), check)
            area = shapely.union_all(made).buffer(0.01)
            check = functools.partial(check_grooves, folder=folder, file=dxf, height_mm=height, made=area)
            _remembered(report, folder, (f"grooves {index}", dxf), check)


def _check_sheet(
    report: Report,
    *,
    folder: Path,
    name: str,
    layout: Layout,
    index: int,
    design: Design | None,
    drawn: Drawn | None,
    expected: Expected,
) -> None:
    with report.section(name, "the file"):
        view = view_of(layout, index, name, drawn)
        if name.endswith(".svg"):
            drawing = check_svg(report, name, (folder / name).read_bytes(), layout, view, design)
        else:
            drawing = check_dxf(report, name, folder / name, layout, view, design)
        if drawing is None:
            return
        if drawn is not None:
            check_worked(report, name, view, drawing.tracks, expected)
        check_joint_marks(report, name, layout, view, drawing)


def dxf_marks(
    folder: Path, layout: Layout, layers: tuple[str, ...] = MARKED
) -> dict[int, dict[str, list[Track]]]:
    """Return the lines of marks and folds, by layer, of each sheet's first DXF that can be read.

    Outer marks are only pricked on templates; what is cut on the other face is left to its own file.
    """
    found: dict[int, dict[str, list[Track]]] = {}
    for index, sheet in enumerate(layout.raw["sheets"]):
        for name in sheet["files"]:
            if not name.endswith(".dxf") or index in found or is_back(name) or bed_number(name) is not None:
                continue
            try:
                path = folder / name
                tracks = tracks_of(read_dxf(path.read_bytes()), read_tracks(path))
            except Exception:
                continue  # the sheet's own check has said so already
            found[index] = {layer: tracks[layer] for layer in layers if layer in tracks}
    return found


def _check_pdfs(
    report: Report, folder: Path, layout: Layout | None, design: Design | None, *, every_part: bool
) -> None:
    marks = functools.cache(lambda: dxf_marks(folder, layout) if layout is not None else {})
    listed = [entry["file"] for entry in layout.raw.get("templates", [])] if layout is not None else []
    there = sorted(path.name for path in folder.glob("templates-*.pdf"))
    report.expect(bool(there), "templates-<paper>.pdf", "is missing")
    sheets = [name for sheet in layout.raw["sheets"] for name in sheet["files"]] if layout is not None else []
    for name in sorted({FULL_SIZE, *listed, *there}):
        check = functools.partial(
            _check_one_pdf,
            folder=folder,
            name=name,
            layout=layout,
            design=design,
            marks=marks,
            every_part=every_part,
        )
        _remembered(report, folder, (f"{every_part} {name}", name, *sheets), check)


def _check_read(report: Report, folder: Path, layout: Layout, design: Design | None) -> Iterator[None]:
    """Check what people read: the marking-out sheets, and of a whole pack overview, gauges and build book."""
    files = [name for sheet in layout.raw["sheets"] for name in sheet["files"]]
    kinds: list[tuple[tuple[str, ...], Callable[[Report], None]]] = [
        (
            (MARKING, MARKING_ROWS),
            functools.partial(_check_marked, folder=folder, layout=layout, design=design),
        )
    ]
    if not layout.is_partial:
        kinds += [
            (
                (OVERVIEW, BALANCE),
                functools.partial(_check_views, folder=folder, layout=layout, design=design),
            ),
            ((GAUGES,), functools.partial(_check_gauges, folder=folder, layout=layout, design=design)),
            ((BOOK_PDF,), functools.partial(_check_printed_book, folder=folder)),
            ((BOOK, BOOK_PDF), functools.partial(_check_told, folder=folder, layout=layout, design=design)),
        ]
    for names, check in kinds:
        _remembered(report, folder, (names[0], *names, *files), check)
        yield


def _check_marked(report: Report, *, folder: Path, layout: Layout, design: Design | None) -> None:
    rows: list[Row] = []
    with report.section(MARKING_ROWS, "the table"):
        data = (folder / MARKING_ROWS).read_bytes()
        drawn = dxf_marks(folder, layout, (*MARKED, "MARK_BACK"))
        rows = check_marking(report, data, layout, design, drawn)
    with report.section(MARKING, "the file"):
        check_marking_pages(report, (folder / MARKING).read_bytes(), layout, design, rows)


def _check_views(report: Report, *, folder: Path, layout: Layout, design: Design | None) -> None:
    with report.section(OVERVIEW, "the file"):
        path = folder / BALANCE
        said = json.loads(path.read_text("utf-8")) if path.is_file() else None
        check_overview(report, (folder / OVERVIEW).read_bytes(), layout, design, said)


def _check_gauges(report: Report, *, folder: Path, layout: Layout, design: Design | None) -> None:
    with report.section(GAUGES, "the file"):
        check_gauges(report, (folder / GAUGES).read_bytes(), layout, design)


def _check_printed_book(report: Report, *, folder: Path) -> None:
    with report.section(BOOK_PDF, "the file"):
        check_book_pdf(report, (folder / BOOK_PDF).read_bytes())


def _check_told(report: Report, *, folder: Path, layout: Layout, design: Design | None) -> None:
    with report.section(BOOK, "the page"):
        check_book(report, folder, layout, design)


def _check_one_pdf(
    report: Report,
    *,
    folder: Path,
    name: str,
    layout: Layout | None,
    design: Design | None,
    marks: Callable[[], dict[int, dict[str, list[Track]]]],
    every_part: bool,
) -> None:
    with report.section(name, "the file"):
        data = (folder / name).read_bytes()
        check_pdf(report, name, data, design)
        if layout is None:
            return
        if name == FULL_SIZE:
            check_full_size(report, data, layout, marks())
        else:
            check_templates(
                report, name, data, layout, marks_of_parts(layout, marks()), every_part=every_part
            )


def main(arguments: list[str] | None = None) -> int:
    """Run from the command line and return the exit code."""
    parser = argparse.ArgumentParser(description="check plan packs against the outside contract")
    parser.add_argument("folders", nargs="+", type=Path, metavar="DIR")
    parser.add_argument("--break", dest="damage", action="store_true", help="damage a good pack in many ways")
    parser.add_argument("--every-part", action="store_true", help="the pack was made with --every-part")
    options = parser.parse_args(arguments)
    if options.damage:
        from pack_breakages import run_breakages

        return max(run_breakages(folder) for folder in options.folders)
    checks = faults = 0
    for folder in options.folders:
        report = check_pack(folder, every_part=options.every_part)
        for fault in report.faults:
            print(f"{folder / fault.file}: {fault.text}")
        checks += report.checks
        faults += len(report.faults)
    print(f"{checks} checks, {faults} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
