"""Time, memory and sizes of whole packs, and of each writer beside the bare library for the same strokes.

    python -m tests.benchmarks.packs [DESIGN ..]

The bare library draws the very points of our drawings with its usual calls: reportlab a path for each run of
strokes with pen and dashes, svgwrite a path in a group, ezdxf a polyline, Jinja2 the page of the book with its
pictures ready, the csv module the rows.  Seconds of processor time, the best of five.
"""

import csv
import io
import json
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import ezdxf
import svgwrite
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from foamcut.book.book import book_of
from foamcut.draw.back import back_drawing
from foamcut.draw.marking import marking_document, marking_rows
from foamcut.draw.sheet import sheet_drawing
from foamcut.draw.styles import STYLES
from foamcut.draw.values import Document, Drawing
from foamcut.plan.book_facts import book_facts
from foamcut.plan.chain import planned
from foamcut.plan.values import Options
from foamcut.write import book_html, book_pdf, dxf, marking_csv, pdf, svg
from tests.benchmarks.samples import ROOT, peak_mib, timed

SAMPLES = ("cordgrass-2", "glasswort-1", "sea-blite-3", "thrift-1", "samphire-1", "jar-tray")


def best(work: Callable[[], object], runs: int = 5) -> float:
    """Seconds of processor time of the quickest run."""
    found = []
    for _ in range(runs):
        began = time.process_time()
        work()
        found.append(time.process_time() - began)
    return min(found)


def bare_pdf(document: Document) -> bytes:
    """The strokes and texts of a document by the PDF library's usual calls."""
    canvas = Canvas(io.BytesIO(), pageCompression=0, invariant=1)
    for page in document.pages:
        canvas.setPageSize((page.width_mm * mm, page.height_mm * mm))
        shown = [((0.0, 0.0), page.strokes, page.texts)]
        for window in page.windows:
            x0, y0, _, _ = window.view
            shown.append(((window.corner[0] - x0, window.corner[1] - y0), window.strokes, window.texts))
        for (x, y), strokes, texts in shown:
            for stroke in strokes:
                style = STYLES[stroke.line]
                canvas.setLineWidth(style.width_mm * mm)
                canvas.setDash(*([list(style.dashes_mm)] if style.dashes_mm else []))
                path = canvas.beginPath()
                first = stroke.segments[0].start
                path.moveTo((first[0] + x) * mm, (first[1] + y) * mm)
                for segment in stroke.segments:
                    path.lineTo((segment.end[0] + x) * mm, (segment.end[1] + y) * mm)
                canvas.drawPath(path)
            for text in texts:
                canvas.setFont("Helvetica", text.height_mm * mm)
                canvas.saveState()
                canvas.translate((text.at[0] + x) * mm, (text.at[1] + y) * mm)
                canvas.rotate(text.turn_deg)
                canvas.drawString(0, 0, text.text)
                canvas.restoreState()
        canvas.showPage()
    return canvas.getpdfdata()


def bare_svg(drawing: Drawing) -> str:
    """The same by the SVG library's."""
    made = svgwrite.Drawing(size=(f"{drawing.width_mm}mm", f"{drawing.height_mm}mm"), debug=False)
    groups = {}
    for stroke in drawing.strokes:
        group = groups.get(stroke.line)
        if group is None:
            group = groups[stroke.line] = made.add(made.g(id=stroke.line.value, fill="none", stroke="black"))
        first = stroke.segments[0].start
        path = made.path(d=("M", *first))
        for segment in stroke.segments:
            path.push("L", *segment.end)
        group.add(path)
    for text in drawing.texts:
        place = {
            "insert": text.at,
            "font_size": text.height_mm,
            "text_anchor": "start",
            "fill": "black",
            "stroke": "none",
        }
        turn = {"transform": f"rotate({text.turn_deg} {text.at[0]} {text.at[1]})"} if text.turn_deg else {}
        made.add(made.text(text.text, font_family="sans-serif", **place, **turn))
    return made.tostring()


def bare_dxf(drawing: Drawing) -> str:
    """The same by the DXF library's; checked and written as ours is."""
    made = ezdxf.new("R2000")
    space = made.modelspace()
    for stroke in drawing.strokes:
        if stroke.line.value not in made.layers:
            made.layers.add(stroke.line.value)
        points = [(*segment.start, segment.bulge) for segment in stroke.segments]
        if not stroke.closed:
            points.append((*stroke.segments[-1].end, 0.0))
        space.add_lwpolyline(
            points, format="xyb", close=stroke.closed, dxfattribs={"layer": stroke.line.value}
        )
    for text in drawing.texts:
        space.add_text(text.text, height=text.height_mm, rotation=text.turn_deg).set_placement(text.at)
    made.audit()
    stream = io.StringIO()
    made.write(stream)
    return stream.getvalue()


def bare_csv(rows: list[list[object]]) -> str:
    """Rows by the csv module."""
    stream = io.StringIO()
    csv.writer(stream).writerows(rows)
    return stream.getvalue()


def writers() -> None:
    """Print the writers' table."""
    path = ROOT / "sample_designs" / "cordgrass-2.toml"
    plan = planned(path.read_bytes(), path.name, Options())
    units = plan.design.plan.units
    marking = marking_document(plan.layouts, plan.title, plan.numbers, units, "a4")
    templates, _ = plan.templates[0]
    facts = plan.title, plan.numbers, plan.thicknesses
    drawings = [
        sheet_drawing(sheet, layout, *facts, machine=True, joints=plan.joints)
        for layout in plan.layouts
        for sheet in layout.sheets
    ]
    drawings += [
        back_drawing(sheet, layout, *facts)
        for layout in plan.layouts
        for sheet in layout.sheets
        if sheet.worked_behind
    ]
    rows = marking_rows(plan.layouts, units)
    cells = [
        [
            r.stock,
            r.sheet,
            r.piece,
            r.point,
            r.from_left,
            r.from_bottom,
            r.unit,
            r.written,
            r.rounding_error_mm,
        ]
        for r in rows
    ]
    book = book_of(book_facts(plan))
    table = [
        ("templates, pdf", lambda: pdf.render(templates), lambda: bare_pdf(templates)),
        ("marking out, pdf", lambda: pdf.render(marking), lambda: bare_pdf(marking)),
        (
            "sheets, svg",
            lambda: [svg.render(d, title="t", description="d") for d in drawings],
            lambda: [bare_svg(d) for d in drawings],
        ),
        (
            "sheets, dxf",
            lambda: [dxf.render(d, version="R2000") for d in drawings],
            lambda: [bare_dxf(d) for d in drawings],
        ),
        ("marking out, csv", lambda: marking_csv.render(rows), lambda: bare_csv(cells)),
    ]
    print(f"{'writer':20} {'ours':>7} {'bare':>7}  times")
    for name, ours, bare in table:
        a, b = best(ours), best(bare)
        print(f"{name:20} {a:7.3f} {b:7.3f}  {a / b:5.2f}")
    print(f"{'book, html':20} {best(lambda: book_html.render(book)):7.3f}")
    print(f"{'book, pdf':20} {best(lambda: book_pdf.render(book)):7.3f}")
    print(f"{'book, its values':20} {best(lambda: book_of(book_facts(plan))):7.3f}")


def packs(paths: list[Path]) -> None:
    """Print the packs' table: seconds by the clock, the best of three, with both cores."""
    print(f"{'pack':14} seconds  MiB  KiB: book.html book.pdf marking-out overview gauges templates")
    names = ("book.html", "book.pdf", "marking-out.pdf", "overview.pdf", "gauges.pdf")
    with tempfile.TemporaryDirectory() as folder:
        for path in paths:
            cut = [
                sys.executable,
                "-m",
                "foamcut",
                "cut",
                str(path),
                "--json",
                "--out",
                f"{folder}/{path.stem}",
            ]
            seconds, out = timed(cut)
            made = Path(json.loads(out)["result"]["dir"])
            sizes = [made / name for name in (*names, *(p.name for p in made.glob("templates-*.pdf")))]
            kib = " ".join(f"{p.stat().st_size / 1024:7.0f}" if p.exists() else "      -" for p in sizes)
            print(f"{path.stem:14} {seconds:7.2f} {peak_mib(cut):4.0f}  {kib}", flush=True)
            subprocess.run(
                [sys.executable, "-m", "foamcut", "verify", str(made)], check=True, capture_output=True
            )


if __name__ == "__main__":
    packs([Path(a) for a in sys.argv[1:]] or [ROOT / "sample_designs" / f"{name}.toml" for name in SAMPLES])
    writers()
