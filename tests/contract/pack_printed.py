"""Checks of the pages that are read and not cut by: marking-out.pdf, overview.pdf, gauges.pdf."""

import functools
import re
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

import pypdfium2
from pack_design import MM, Design
from pack_layout import Layout, paper_name
from pack_marking_rows import Row, fraction_of
from pack_pdf import check_bar, check_document
from pack_pdf_reader import MM_PER_UNIT, Page, read_pages
from pack_presence import GAUGES, MARKING, OVERVIEW
from pack_report import Report
from pack_words import check_words, names, says

PAPERS_MM = {
    "a4": (210.0, 297.0),
    "a3": (297.0, 420.0),
    "letter": (215.9, 279.4),
    "tabloid": (279.4, 431.8),
}
#: reductions and enlargements of ISO 5455
SCALES = {f"1:{n}" for n in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000)} | {
    f"{n}:1" for n in (2, 5, 10, 20, 50)
}
_AMOUNT = r"~?((?:[0-9]+ )?[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?)"
_ROOM_MM = 0.05
#: what the overview says of the balance: words before the number, its name, what one of its units is in ours
_FACTS = {
    "mass_all_up": (rf"weight {_AMOUNT} (g|oz)", {"g": 1.0, "oz": 28.349523125}),
    "wing_area": (rf"wing area {_AMOUNT} (dm2|in2)", {"dm2": 1.0, "in2": 0.064516}),
    "wing_loading": (rf"wing loading {_AMOUNT} (g/dm2|oz/ft2)", {"g/dm2": 1.0, "oz/ft2": 3.0515173}),
    "balance_target_along": (rf"root\), {_AMOUNT} (mm|in) from the nose", {"mm": 1.0, "in": 25.4}),
    "balance_back": (rf"may lie \(bar\) .{{1,20}} to {_AMOUNT} (mm|in)", {"mm": 1.0, "in": 25.4}),
    "cg_along": (rf"lies as drawn {_AMOUNT} (mm|in)", {"mm": 1.0, "in": 25.4}),
}
_FITS = re.compile(r"fit, mm slot, mm( slot, in)?((?: -?[0-9]+\.[0-9]+)+)")
_SIZES = {"wing_span": "span", "mean_chord": "mean chord", "tail_span": "tail span"}


@functools.lru_cache(maxsize=64)
def texts_of(data: bytes) -> tuple[str, ...]:
    """Return the words of every page, white space as one space."""
    document = pypdfium2.PdfDocument(data)
    texts = []
    for page in document:
        words = page.get_textpage()
        texts.append(" ".join(words.get_text_range().split()))
        words.close()
    document.close()
    return tuple(texts)


def check_papers(report: Report, file: str, data: bytes, papers: Sequence[str] = tuple(PAPERS_MM)) -> None:
    """Every page is one of the papers, upright or on its long side."""
    document = pypdfium2.PdfDocument(data)
    for number, page in enumerate(document, start=1):
        size = sorted(side * MM_PER_UNIT for side in page.get_size())
        known = any(
            all(abs(a - b) <= _ROOM_MM for a, b in zip(size, PAPERS_MM[name], strict=True)) for name in papers
        )
        report.expect(known, file, f"page {number}: {size[0]:.1f} x {size[1]:.1f} mm is no paper to print on")
    document.close()


def check_printed(report: Report, file: str, data: bytes, design: Design | None) -> tuple[str, ...]:
    """What all of them promise; returns the words of the pages."""
    check_document(report, file, data, layers=False)
    check_papers(report, file, data)
    texts = texts_of(data)
    report.expect(bool(texts), file, "has no page")
    for number, text in enumerate(texts, start=1):
        if design is not None:
            check_words(report, file, f"page {number}", text, design)
    return texts


def check_marking_pages(
    report: Report, data: bytes, layout: Layout, design: Design | None, rows: Sequence[Row]
) -> None:
    """Every sheet and every piece has its place, with the distances of the table."""
    file = MARKING
    texts = check_printed(report, file, data, design)
    check_bar(report, file, 1, read_pages(data, 1)[0])
    totals = [sheet["stock"] for sheet in layout.raw["sheets"]]
    own: dict[tuple[str, int], str] = {}
    own_names = _names_of_pieces(layout)
    for sheet in layout.raw["sheets"]:
        stock, number = sheet["stock"], sheet["number"]
        heading = f"Marking out: {stock}, sheet {number} of {totals.count(stock)}"
        pages = [text for text in texts if says(text, heading)]
        report.expect(bool(pages), file, f"no page is headed {heading!r}")
        own[stock, number] = " ".join(pages)
        for entry in sheet["placed"]:
            named = own_names[entry["piece"]]
            there = any(names(own[stock, number], name) for name in named)
            report.expect(
                there, file, f"piece {entry['piece']} is not named on the pages of {stock}-{number}"
            )
    missing = [row for row in rows if f" {row.name} {' '.join(row.cells)} " not in own.get(row.piece[:2], "")]
    for row in missing[:5]:
        told = f"{row.name} at {' and '.join(row.cells)}"
        report.expect(
            False, file, f"piece {row.piece[2]}: {told} stands in the table and on no page of its sheet"
        )
    report.checks += len(rows)


def _names_of_pieces(layout: Layout) -> dict[str, tuple[str, ...]]:
    """Return what each piece may be called: its id; one that has no copy, its name on paper too."""
    count = Counter(paper_name(piece) for piece in layout.pieces.values())
    return {
        name: (name, paper_name(piece)) if count[paper_name(piece)] == 1 else (name,)
        for name, piece in layout.pieces.items()
    }


def check_overview(
    report: Report,
    data: bytes,
    layout: Layout,
    design: Design | None,
    said: dict[str, Any] | None,
    extents_mm: dict[str, float],
) -> None:
    """Views are drawn to a scale of the standard; sizes and facts are those of the balance and the model.

    `said`: balance.json of an aeroplane; `extents_mm`: of model.glb, none where there is none.
    """
    file = OVERVIEW
    texts = check_printed(report, file, data, design)
    views = any(part["pose"] is not None for part in layout.raw["parts"])
    numbers = {one["name"]: one["value"] for one in said["numbers"]} if said else {}
    if not views:
        for part in layout.raw["parts"]:
            report.expect(
                any(names(text, part["name"]) for text in texts), file, f"part {part['name']} is not named"
            )
        return
    for number, (text, page) in enumerate(zip(texts, read_pages(data), strict=True), start=1):
        where = f"page {number}"
        scale = re.search(r"\bscale ([0-9]+:[0-9]+)", text.replace("(scale", "("))
        if report.expect(scale is not None, file, f"{where}: no scale is told"):
            report.expect(scale[1] in SCALES, file, f"{where}: scale {scale[1]} is none of ISO 5455")
            _check_bar(report, where, text, page, scale[1])
        report.expect("third angle" in text, file, f"{where}: the projection is not told")
        if design is not None:
            _check_sketch(report, where, text, design)
        _check_sizes(report, where, text, numbers, extents_mm)
        _check_facts(report, where, text, numbers)
        for one in said["throws"] if said else ():
            _check_throw(report, where, text, one)


def _amount(text: str) -> Fraction:
    found = fraction_of(text)
    return Fraction(text) if found is None else found


def _near(told: str, due: float) -> bool:
    """Tell whether a number is told to the last digit with which it is written; fractions to half a 1/32."""
    decimals = len(told.partition(".")[2])
    room = 1 / 64 if "/" in told else 0.5 * 10**-decimals
    return abs(float(_amount(told)) - due) <= room * 1.0001 + 2e-6 * abs(due)


def _check_bar(report: Report, where: str, text: str, page: Page, scale: str) -> None:
    """The scale bar is as long as its last number says."""
    told = re.search(r"\b0 (?:[0-9.]+ )+(mm|in)\b", text)
    if not report.expect(told is not None, OVERVIEW, f"{where}: no numbers of a scale bar"):
        return
    paper, model = (float(word) for word in scale.split(":"))
    due = float(told[0].split()[-2]) * float(MM[told[1]]) * paper / model
    wide = [stroke.points[:, 0].max() - stroke.points[:, 0].min() for stroke in page.strokes if stroke.closed]
    found = any(abs(width - due) <= _ROOM_MM for width in wide)
    report.expect(found, OVERVIEW, f"{where}: no scale bar of {due:.2f} mm for {told[0]!r} at {scale}")


def _check_sketch(report: Report, where: str, text: str, design: Design) -> None:
    """Each size stands there at full size and, in brackets, as the ruler reads it on the sketch."""
    found = re.findall(rf"([a-z][a-z ]*) {_AMOUNT} \({_AMOUNT}\)", text)
    report.expect(len(found) >= 3, OVERVIEW, f"{where}: only {len(found)} sizes stand there")
    if design.scale is None:
        return
    for word, full, sketch in found:
        room = (
            0.011 if "/" not in sketch and design.units == "in" else 0.051 if design.units == "mm" else 1 / 63
        )
        off = abs(float(_amount(full)) - float(_amount(sketch)) * design.scale)
        text_ = f"{where}: {word} {full} is not {design.scale:g} times the {sketch} of the sketch"
        report.expect(off <= room * design.scale + 0.06, OVERVIEW, text_)


def _check_sizes(
    report: Report, where: str, text: str, numbers: dict[str, float], extents_mm: dict[str, float]
) -> None:
    """Span and mean chord are those of the balance; length, width and height those of the model."""
    unit = 25.4 if re.search(r"Sizes are in inches", text) else 1.0
    due = {word: numbers[name] for name, word in _SIZES.items() if name in numbers} | extents_mm
    for word, size in due.items():
        told = re.findall(rf"(?<![a-z] )\b{word} {_AMOUNT} \(", text)
        same = not told or any(_near(one, size / unit) for one in told)
        report.expect(same, OVERVIEW, f"{where}: {word} {' or '.join(told)} is not {size:.6g} mm")
    spans = "span" if "wing_span" in numbers else "width"
    for word in (spans, "length", "height") if extents_mm else ():
        there = re.search(rf"(?<![a-z] )\b{word} {_AMOUNT} \(", text)
        report.expect(there is not None, OVERVIEW, f"{where}: no {word} is told")


def _check_facts(report: Report, where: str, text: str, numbers: dict[str, float]) -> None:
    for name, (pattern, units) in _FACTS.items():
        found = re.search(pattern, text)
        if name in numbers and found:
            due = numbers[name] / units[found[2]]
            report.expect(
                _near(found[1], due), OVERVIEW, f"{where}: {found[0]!r}, and {name} is {numbers[name]}"
            )
        needed = name in ("mass_all_up", "wing_area", "cg_along") and name in numbers
        report.expect(not needed or found is not None, OVERVIEW, f"{where}: {name} is not told")


def _check_throw(report: Report, where: str, text: str, throw: dict[str, Any]) -> None:
    """Each control has its angle and how far its edge goes."""
    told = re.findall(rf"\b{throw['word']}s?\b.{{0,60}}?{_AMOUNT} deg, {_AMOUNT} (mm|in)\b", text)
    held = any(
        _near(deg, throw["deg"]) and _near(edge, throw["mm"] / float(MM[unit])) for deg, edge, unit in told
    )
    what = f"{throw['word']} of {throw['surface']}: {throw['deg']} deg, {throw['mm']} mm"
    report.expect(held, OVERVIEW, f"{where}: the throw of {what} is not told")


def check_gauges(report: Report, data: bytes, layout: Layout, design: Design | None) -> None:
    """Slots of the fit gauges are as wide as their numbers say: the board's thickness and the fit."""
    file = GAUGES
    texts = check_printed(report, file, data, design)
    gauged = " ".join(texts)
    for stock in layout.raw["stocks"]:
        there = names(gauged, f'Thickness of "{stock["name"]}"')
        report.expect(there, file, f"no gauge for the thickness of stock {stock['name']}")
    for number, (text, page) in enumerate(zip(texts, read_pages(data), strict=True), start=1):
        check_bar(report, file, number, page)
        gauges = [_pairs(*row) for row in _FITS.findall(text)]
        known = [stock["thickness"] for stock in layout.raw["stocks"]]
        known += [stock.thickness_mm for stock in design.stocks if stock.thickness_mm] if design else []
        for pairs in gauges:
            held = any(all(abs(slot - fit - mm) < 0.0056 for fit, slot in pairs) for mm in known)
            report.expect(held, file, f"page {number}: slots {pairs[:3]} are no board and a fit")
        drawn = _slots(page)
        told = [slot for pairs in gauges for _, slot in pairs]
        same = len(drawn) == len(told) and all(abs(a - b) <= 0.0101 for a, b in zip(drawn, told, strict=True))
        report.expect(same, file, f"page {number}: slots are told {told[:4]} mm wide and drawn {drawn[:4]}")


def _pairs(inches: str, words: str) -> list[tuple[float, float]]:
    """Return fit and slot in mm, column by column; a third number is the slot in inches."""
    numbers = [float(word) for word in words.split()]
    step = 3 if inches else 2
    return list(zip(numbers[::step], numbers[1::step], strict=True))


def _slots(page: Page) -> list[float]:
    """Return the widths of the upright rectangles of 20 mm, row by row."""
    found = []
    for stroke in page.strokes:
        low, high = stroke.points.min(axis=0), stroke.points.max(axis=0)
        width, height = high - low
        if stroke.closed and len(stroke.points) == 5 and abs(height - 20) < 0.01 and width < 20:
            found.append((-round(float(low[1]), 1), float(low[0]), round(float(width), 3)))
    return [width for *_, width in sorted(found)]
