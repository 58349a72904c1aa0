"""Reads a plan pack back with libraries that did not write it and checks the outside contract line by line.

    check_pack.py [--every-part] DIR [DIR..]   one line for each fault; exit 1 when there is one
    check_pack.py --break DIR                  damages a good pack in many ways, each must be found

It knows nothing of the program: it reads design.toml, layout.json, manifest.json, the tables, balance.json, the
build book, the DXF, SVG and PDF files as any other program would. A file that cannot be read is a fault, never a traceback.
"""

import argparse
import functools
import re
import sys
import warnings
from collections.abc import Callable, Iterator
from pathlib import Path

import shapely
from pack_balance import BALANCE, check_balance
from pack_balance_pictures import PICTURES
from pack_both import check_both, check_grooves
from pack_design import Design, read_design
from pack_drawn import Drawn, read_drawn
from pack_dxf import check_dxf
from pack_faces import check_same_marks
from pack_geometry import Track
from pack_joint_marks import check_joint_marks
from pack_layout import Layout, read_layout
from pack_layout_checks import check_layout
from pack_marks import dxf_marks
from pack_memory import remembered
from pack_model import MODEL, check_model, model_due
from pack_partial import COMPARISON, check_comparison
from pack_pdf import FULL_SIZE, check_full_size, check_pdf
from pack_presence import check_presence
from pack_read import check_read
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
from pack_view import is_back, view_of
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
        remembered(report, folder, ("layout",), check)
        with report.section("layout.json", "names of the sheets' files"):
            check_sheet_files(report, layout)
        yield
        _check_sheets(report, folder, layout, design, drawn, expected)
        yield
    if layout is not None and (folder / COMPARISON).exists():
        with report.section(COMPARISON, "the comparison"):
            check_comparison(report, folder, layout)
    if layout is not None and design is not None and not layout.is_partial and model_due(layout, design):
        remembered(report, folder, (MODEL, MODEL), functools.partial(_check_solid, folder, layout, drawn))
        yield
    if (folder / BALANCE).exists():
        check = functools.partial(_check_weighed, folder, layout, design)
        remembered(report, folder, (BALANCE, BALANCE, *PICTURES), check)
        yield
    _check_pdfs(report, folder, layout, design, every_part=every_part)
    yield
    if layout is not None:
        yield from check_read(report, folder, layout, design)


def _check_solid(folder: Path, layout: Layout, drawn: Drawn | None, report: Report) -> None:
    with report.section(MODEL, "the model"):
        check_model(report, (folder / MODEL).read_bytes(), layout, drawn)


def _check_weighed(folder: Path, layout: Layout | None, design: Design | None, report: Report) -> None:
    with report.section(BALANCE, "the balance"):
        check_balance(report, folder, layout, design)


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
            remembered(report, folder, (f"{index} {name}", name), check)
        backs = [name for name in sheet["files"] if is_back(name)]
        for name in backs:
            front = name.replace("-back", "", 1)
            with report.section(name, "marks of both faces"):
                check = functools.partial(
                    check_same_marks, folder=folder, front=front, back=name, sheet=sheet
                )
                remembered(report, folder, (f"marks {index}", front, name), check)
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
            remembered(report, folder, (f"both {index}", dxf, svg), check)
            area = shapely.union_all(made).buffer(0.01)
            check = functools.partial(check_grooves, folder=folder, file=dxf, height_mm=height, made=area)
            remembered(report, folder, (f"grooves {index}", dxf), check)


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
        remembered(report, folder, (f"{every_part} {name}", name, *sheets), check)


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
