"""Checks of book.pdf: it says in print what book.html says on a screen."""

from collections.abc import Iterator
from typing import Any

import pypdfium2
from pack_design import Design
from pack_html import HEADINGS, Node
from pack_layout import Layout
from pack_pdf import check_document
from pack_presence import BOOK, BOOK_PDF
from pack_printed import check_papers, texts_of
from pack_report import Report
from pack_words import says, squeezed

NO_LICENCE = "no licence stated: ask the maker"


def check_book_pdf(report: Report, data: bytes) -> None:
    """Check of book.pdf what needs no page to compare it with."""
    check_document(report, BOOK_PDF, data, true_size=False, layers=False)
    check_papers(report, BOOK_PDF, data)


def said(design: Design | None) -> Iterator[tuple[str, str]]:
    """What must stand in the book of a design, with what it is."""
    if design is None:
        return
    yield "the plan's name", design.name
    if design.title:
        yield "the plan's title", design.title
    yield "the licence", design.licence or NO_LICENCE
    if design.revision:
        yield "the revision", f"revision {design.revision}"
    for name in design.aboard:
        yield "what is carried,", name
    for stock in design.stocks:
        yield "stock", stock.name
    for item in design.hardware:
        yield "hardware", item.name


def check_print(report: Report, data: bytes, root: Node, layout: Layout, design: Design | None) -> None:
    """The printed book has the same headings in the same order, each on the page that its bookmark leads to."""
    file = BOOK_PDF
    texts = texts_of(data)
    whole = " ".join(texts)
    main = next(root.all("main"), root)
    due = [squeezed(node.text) for node in main.all(*HEADINGS[1:])]
    marks = _bookmarks(data)
    titles = [squeezed(title) for title, _ in marks]
    there = [title for title in titles if title in due]
    report.expect(there == due, file, f"its headings are not those of {BOOK}: {_first_unlike(there, due)}")
    for title, page in marks:
        on_page = page is not None and page < len(texts) and says(texts[page], title)
        report.expect(on_page, file, f"heading {title[:40]!r} is not on the page that its bookmark leads to")
    for name in layout.parts:
        report.expect(says(whole, name), file, f"part {name} is not named")
    for name, told in said(design):
        report.expect(says(whole, told), file, f"{name} {told!r} does not stand there")
    words = squeezed(whole)
    for text in _told_twice(main):
        report.expect(says(words, text), file, f"{text[:50]!r} stands in {BOOK} and not there")


def _told_twice(main: Node) -> Iterator[str]:
    """Return the words of cautions, which must not be lost in print."""
    for node in main.walk():
        if node.attributes.get("class") == "caution":
            yield node.text


def _first_unlike(found: list[str], due: list[str]) -> str:
    unlike = next((pair for pair in zip(found, due, strict=False) if pair[0] != pair[1]), None)
    return f"{unlike[0][:40]!r} for {unlike[1][:40]!r}" if unlike else f"{len(found)} of {len(due)}"


def _bookmarks(data: bytes) -> list[tuple[str, Any]]:
    document = pypdfium2.PdfDocument(data)
    found = []
    for mark in document.get_toc():
        aim = mark.get_dest()
        found.append((mark.get_title(), aim.get_index() if aim else None))
    document.close()
    return found
