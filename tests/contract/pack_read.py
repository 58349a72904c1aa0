"""Checks of what people read: the marking-out sheets, and of a whole pack overview, gauges and build book."""

import functools
import json
from collections.abc import Callable, Iterator
from pathlib import Path

from pack_balance import BALANCE
from pack_book import check_book
from pack_book_print import check_book_pdf
from pack_design import Design
from pack_layout import Layout
from pack_marking import check_marking
from pack_marking_rows import Row
from pack_marks import MARKED, dxf_marks
from pack_memory import remembered
from pack_model import MODEL, model_extents_mm
from pack_presence import BOOK, BOOK_PDF, GAUGES, MARKING, MARKING_ROWS, OVERVIEW
from pack_printed import check_gauges, check_marking_pages, check_overview
from pack_report import Report


def check_read(report: Report, folder: Path, layout: Layout, design: Design | None) -> Iterator[None]:
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
        remembered(report, folder, (names[0], *names, *files), check)
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
        model = folder / MODEL
        extents_mm = model_extents_mm(model.read_bytes()) if model.is_file() else {}
        check_overview(report, (folder / OVERVIEW).read_bytes(), layout, design, said, extents_mm)


def _check_gauges(report: Report, *, folder: Path, layout: Layout, design: Design | None) -> None:
    with report.section(GAUGES, "the file"):
        check_gauges(report, (folder / GAUGES).read_bytes(), layout, design)


def _check_printed_book(report: Report, *, folder: Path) -> None:
    with report.section(BOOK_PDF, "the file"):
        check_book_pdf(report, (folder / BOOK_PDF).read_bytes())


def _check_told(report: Report, *, folder: Path, layout: Layout, design: Design | None) -> None:
    with report.section(BOOK, "the page"):
        check_book(report, folder, layout, design)
