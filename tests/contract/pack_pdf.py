"""Checks that every PDF of a pack must pass, and those of full-size.pdf."""

import io
from typing import Any

import numpy as np
import pikepdf
import shapely
from pack_design import Design
from pack_geometry import Track, farthest_mm, vertices
from pack_layout import Layout
from pack_lines import LAYERS, PRINTED, check_sheet_lines, has_bar, uncovered_mm
from pack_pdf_reader import Page, Stroke, read_pages
from pack_report import Report
from pack_view import printed_view
from pack_words import check_words, written

FULL_SIZE = "full-size.pdf"
CORNER_MM = (15.0, 30.0)
# The format's limit of 14,400 units a side, 200 in.
LARGEST_MM = 5080.0
BOARD_LAYERS = tuple(name for name in LAYERS if name != "NOTES")


def check_pdf(report: Report, file: str, data: bytes, design: Design | None) -> None:
    """Check what all PDFs of parts promise: no scaling, fonts inside, layers, bookmarks, labels, plain streams."""
    check_document(report, file, data)
    for number, page in enumerate(read_pages(data), start=1):
        size = f"{page.width_mm:.2f} x {page.height_mm:.2f} mm"
        report.expect(
            max(page.width_mm, page.height_mm) <= LARGEST_MM, file, f"page {number}: {size} is too large"
        )
        _check_inside(report, file, number, page)
        report.expect(bool(page.text.strip()), file, f"page {number}: no words")
        if design is not None:
            check_words(report, file, f"page {number}", page.text, design)


def check_document(
    report: Report, file: str, data: bytes, *, true_size: bool = True, layers: bool = True
) -> None:
    """Check a PDF but for what stands on its pages; `true_size`: it must not be scaled when it is printed."""
    with pikepdf.open(io.BytesIO(data)) as document:
        version = tuple(int(number) for number in document.pdf_version.split("."))
        report.expect(
            version >= (1, 6) or not true_size, file, f"PDF {document.pdf_version}, print scaling needs 1.6"
        )
        report.expect("/Encrypt" not in document.trailer, file, "is encrypted")
        _check_root(report, file, document, true_size=true_size)
        if layers:
            _check_layers(report, file, document)
        _check_streams(report, file, document)
        report.expect(b"/FlateDecode" not in data, file, "has a compressed stream (/FlateDecode)")
        for number, page in enumerate(document.pages, start=1):
            report.expect("/UserUnit" not in page.obj, file, f"page {number}: has a UserUnit")
            report.expect(int(page.obj.get("/Rotate", 0)) == 0, file, f"page {number}: is turned by /Rotate")
            _check_fonts(report, file, number, page.obj.get("/Resources", {}), depth=0)


def _check_root(report: Report, file: str, document: pikepdf.Pdf, *, true_size: bool) -> None:
    root = document.Root
    report.expect(bool(str(root.get("/Lang", ""))), file, "names no language (/Lang)")
    if true_size:
        scaling = root.get("/ViewerPreferences", {}).get("/PrintScaling")
        report.expect(scaling == pikepdf.Name("/None"), file, f"/PrintScaling is {scaling}, not /None")
        labels = root.get("/PageLabels")
        report.expect(labels is not None and len(labels.get("/Nums", [])) >= 2, file, "has no page labels")
    report.expect(bool(str(document.docinfo.get("/Title", "")).strip()), file, "has no title")
    outlines = root.get("/Outlines")
    report.expect(outlines is not None and "/First" in outlines, file, "has no bookmarks (/Outlines)")
    for name in ("/OpenAction", "/AA"):
        action = root.get(name)
        scripted = isinstance(action, pikepdf.Dictionary) and action.get("/S") == pikepdf.Name("/JavaScript")
        report.expect(not scripted, file, f"runs a script ({name})")


def _check_layers(report: Report, file: str, document: pikepdf.Pdf) -> None:
    properties = document.Root.get("/OCProperties")
    if not report.expect(properties is not None, file, "has no layers (/OCProperties)"):
        return
    report.expect("/D" in properties, file, "its layers have no default (/OCProperties /D)")
    names = [str(group.get("/Name", "")) for group in properties.get("/OCGs", [])]
    report.expect(bool(names), file, "its list of layers is empty")
    for name in names:
        report.expect(name in LAYERS, file, f"layer {name!r} is not in the table of layers")
    known = [LAYERS.index(name) for name in names if name in LAYERS]
    report.expect(known == sorted(set(known)), file, f"layers are not in the order of the table: {names}")
    off = [str(group.get("/Name", "")) for group in properties.get("/D", {}).get("/OFF", [])]
    report.expect(not off, file, f"layers are switched off at first: {off}")


def _check_streams(report: Report, file: str, document: pikepdf.Pdf) -> None:
    packed = sum(1 for item in document.objects if isinstance(item, pikepdf.Stream) and "/Filter" in item)
    report.expect(packed == 0, file, f"{packed} streams are compressed or coded (/Filter)")


def _check_fonts(report: Report, file: str, number: int, resources: Any, depth: int) -> None:
    """Every font of a page and of the forms on it carries its file."""
    for name, font in resources.get("/Font", {}).items():
        if font.get("/Subtype") == "/Type3":
            continue
        holders = [font, *font.get("/DescendantFonts", [])]
        descriptors = [holder["/FontDescriptor"] for holder in holders if "/FontDescriptor" in holder]
        embedded = any(
            key in descriptor
            for descriptor in descriptors
            for key in ("/FontFile", "/FontFile2", "/FontFile3")
        )
        report.expect(embedded, file, f"page {number}: font {font.get('/BaseFont', name)} is not embedded")
        report.expect("/ToUnicode" in font, file, f"page {number}: font {name} has no /ToUnicode")
    if depth < 5:
        for form in resources.get("/XObject", {}).values():
            if isinstance(form, pikepdf.Stream) and "/Resources" in form:
                _check_fonts(report, file, number, form["/Resources"], depth + 1)


def _check_inside(report: Report, file: str, number: int, page: Page) -> None:
    """Nothing is drawn beyond the page's edge, where no printer puts it."""
    frame = shapely.box(-0.01, -0.01, page.width_mm + 0.01, page.height_mm + 0.01)
    for stroke in page.strokes:
        if stroke.stroked and not stroke.white:
            seen = stroke.visible()
            if not seen.is_empty and not frame.covers(seen):
                where = ", ".join(f"{value:.2f}" for value in seen.bounds)
                report.expect(False, file, f"page {number}: a line in the box {where} mm leaves the page")
                return
    report.checks += 1


def bar_tracks(page: Page) -> list[Track]:
    """Return the lines of a page that belong to no layer of the board: strip, bars, notes."""
    return [
        Track(points=stroke.points, closed=False)
        for stroke in page.strokes
        if stroke.layer not in BOARD_LAYERS and len(stroke.points) > 1 and not stroke.white
    ]


def check_bar(report: Report, file: str, number: int, page: Page) -> None:
    """A line of 100 mm stands on the page, by which to check the print."""
    report.expect(
        has_bar(bar_tracks(page), 100.0), file, f"page {number}: no line of 100 mm to check the print by"
    )
    report.expect("100" in page.text, file, f"page {number}: no text names the 100 mm of the bar")


def _sheet_tracks(strokes: tuple[Stroke, ...]) -> dict[str, list[Track]]:
    """Return the drawn lines per layer in sheet coordinates; a layer's filled shapes are no lines."""
    tracks: dict[str, list[Track]] = {}
    for stroke in strokes:
        if stroke.stroked and not stroke.white and stroke.layer in ("SHEET", "OPENING", "THROUGH"):
            points = stroke.points - np.array(CORNER_MM)
            tracks.setdefault(stroke.layer, []).append(Track(points=points, closed=stroke.closed))
    return tracks


def check_full_size(
    report: Report, data: bytes, layout: Layout, dxf_marks: dict[int, dict[str, list[Track]]]
) -> None:
    """Page n is sheet n, its corner 15 mm right of and 30 mm above the page's, every line in its place."""
    file = FULL_SIZE
    pages, sheets = read_pages(data), layout.raw["sheets"]
    report.expect(len(pages) == len(sheets), file, f"{len(pages)} pages for {len(sheets)} sheets")
    for index, (page, sheet) in enumerate(zip(pages, sheets, strict=False)):
        own = Report()
        view = printed_view(layout, index)
        check_sheet_lines(own, file, view, _sheet_tracks(page.strokes), PRINTED, kerf=False)
        report.checks += own.checks
        for fault in own.faults:
            report.expect(False, file, f"page {index + 1}: {fault.text}")
        width, height = sheet["size"]
        report.expect(
            page.width_mm >= width + CORNER_MM[0] and page.height_mm >= height + CORNER_MM[1],
            file,
            f"page {index + 1}: {page.width_mm:.1f} x {page.height_mm:.1f} mm does not hold the sheet",
        )
        check_bar(report, file, index + 1, page)
        thickness = layout.stocks[sheet["stock"]]["thickness"]
        report.expect(
            written(thickness, page.text, "mm"), file, f"page {index + 1}: the thickness is not told"
        )
        for layer, tracks in dxf_marks.get(index, {}).items():
            drawn = page.lines(("MARK", "MARK_BACK") if layer == "MARK" else (layer,))
            for track in tracks:
                wanted = shapely.transform(track.line(), lambda points: points + np.array(CORNER_MM))
                off = uncovered_mm(drawn, wanted)
                x, y = track.points[0]
                what = f"the line of {layer} at ({x:.2f}, {y:.2f}) of the DXF is missing"
                report.expect(off <= 0.1, file, f"page {index + 1}: {what}")


def reverse_off_mm(drawn: shapely.Geometry, wanted: shapely.Geometry) -> float:
    """Return how far the farthest drawn vertex lies from the wanted lines."""
    return farthest_mm(vertices(drawn), wanted) if not drawn.is_empty else 0.0
