"""Checks of the build book: a page that needs nothing else and can be read by all; the same words in print."""

import html
import json
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from pack_book_print import check_print, said
from pack_design import Design
from pack_html import HEADINGS, Node, read_html
from pack_layout import Layout, paper_name
from pack_presence import BOOK, BOOK_PDF
from pack_report import Report
from pack_words import says, squeezed

_LEADS = frozenset(
    ("href", "src", "action", "formaction", "poster", "data", "srcset", "xlink:href", "background")
)
_NAMED_BY = frozenset(("aria-labelledby", "aria-describedby", "aria-controls", "for", "headers"))
_LOADS = re.compile(r"@import|https?:|\bfetch\s*\(|XMLHttpRequest|WebSocket|\bimport\s*\(|sendBeacon")
_LETTERED = re.compile(r">([0-9]+)  ?([^<>]+)</text>")
#: names of fewer letters are not shortened on a sheet
_SHORT = 30
_FILE = re.compile(r"(?<![\w./-])[a-z][a-z-]*\.(?:pdf|csv|html|json|toml|glb)\b")


def check_book(report: Report, folder: Path, layout: Layout, design: Design | None) -> None:
    """Check book.html and, against it, book.pdf."""
    root, doctype, faults = read_html((folder / BOOK).read_text("utf-8"))
    report.expect(doctype.lower() == "doctype html", BOOK, f"the document type is {doctype!r}")
    report.expect(not faults, BOOK, "; ".join(faults[:5]))
    nodes = list(root.walk())
    _check_page(report, root, nodes)
    _check_links(report, nodes)
    _check_alone(report, nodes)
    _check_seen(report, nodes)
    tables = list(_tables(root))
    _check_parts(report, tables, layout, _numbers_on_sheets(folder, layout))
    _check_files(report, tables, folder)
    shown = root.text
    for name, words in said(design):
        report.expect(says(shown, words), BOOK, f"{name} {words!r} does not stand there")
    if design is not None:
        _check_told(report, tables, design)
        promise = "s" + "afe"
        quiet = promise in design.text.lower() or promise not in squeezed(shown).lower()
        report.expect(quiet, BOOK, "a word promises what no plan can")
    with report.section(BOOK_PDF, "the file"):
        check_print(report, (folder / BOOK_PDF).read_bytes(), root, layout, design)


def _check_page(report: Report, root: Node, nodes: list[Node]) -> None:
    """One page in one language with a title; headings step down one by one."""
    page = next(root.all("html"), None)
    lang = page.attributes.get("lang", "") if page else ""
    report.expect(bool(re.fullmatch(r"[a-z]{2,3}(-[A-Za-z0-9]+)*", lang)), BOOK, f"the language is {lang!r}")
    titles = [node for head in root.all("head") for node in head.all("title")]
    titled = len(titles) == 1 and any(child.words.strip() for child in titles[0].children)
    report.expect(titled, BOOK, "has no title, or more than one")
    coded = any(node.attributes.get("charset", "").lower() == "utf-8" for node in root.all("meta"))
    report.expect(coded, BOOK, "does not say that it is UTF-8")
    report.expect(sum(node.tag == "main" for node in nodes) == 1, BOOK, "has not one main part")
    headings = [node for node in nodes if node.tag in HEADINGS]
    levels = [int(node.tag[1]) for node in headings]
    report.expect(levels.count(1) == 1, BOOK, f"{levels.count(1)} headings of level 1, one is due")
    report.expect(levels[:1] == [1], BOOK, "the first heading is not of level 1")
    for before, after, node in zip(levels, levels[1:], headings[1:], strict=False):
        report.expect(after <= before + 1, BOOK, f"heading {node.text[:40]!r} skips from {before} to {after}")
    report.expect(all(node.text for node in headings), BOOK, "a heading says nothing")


def _check_links(report: Report, nodes: list[Node]) -> None:
    ids = [node.attributes["id"] for node in nodes if "id" in node.attributes]
    for name, count in Counter(ids).items():
        report.expect(count == 1, BOOK, f"id {name!r} stands {count} times")
        report.expect(bool(name) and not re.search(r"\s", name), BOOK, f"id {name!r} is none")
    known = set(ids)
    leads = [node.attributes["href"] for node in nodes if node.tag == "a" and "href" in node.attributes]
    report.expect(len(leads) > 3, BOOK, "has no list of contents")
    for lead in leads:
        report.expect(lead[1:] in known, BOOK, f"link {lead!r} leads nowhere")
    for node in nodes:
        for name in node.attributes.keys() & _NAMED_BY:
            for word in node.attributes[name].split():
                report.expect(word in known, BOOK, f"<{node.tag}> {name}: there is no {word!r}")


def _check_alone(report: Report, nodes: list[Node]) -> None:
    """Nothing is fetched: every link is inside, every picture in the page."""
    for node in nodes:
        for name in node.attributes.keys() & _LEADS:
            lead = node.attributes[name]
            own = lead.startswith(("#", "data:"))
            report.expect(own, BOOK, f"<{node.tag}> {name} leads out: {lead[:60]!r}")
        style = node.attributes.get("style", "")
        if node.tag in ("style", "script"):
            style += "".join(child.words for child in node.children)
        for lead in re.findall(r"url\(\s*['\"]?([^)'\"]*)", style):
            report.expect(lead.startswith(("#", "data:")), BOOK, f"<{node.tag}> loads {lead[:60]!r}")
        loads = _LOADS.search(re.sub(r"http://www\.w3\.org/[0-9]{4}/[a-z]+", "", style)) if style else None
        report.expect(loads is None, BOOK, f"<{node.tag}> loads something: {loads and loads[0]!r}")
        scripted = [name for name in node.attributes if name.startswith("on")]
        report.expect(not scripted, BOOK, f"<{node.tag}> has {scripted}")
        if node.tag == "script" and node.attributes.get("type") == "application/json":
            with report.section(BOOK, "the data of the model"):
                json.loads("".join(child.words for child in node.children))
                report.checks += 1


def _check_seen(report: Report, nodes: list[Node]) -> None:
    """Pictures have a text in their place, tables a caption and heads, controls a name."""
    named = {node.attributes["id"]: node for node in nodes if "id" in node.attributes}
    labels = [node for node in nodes if node.tag == "label" and node.text]
    labelled = {label.attributes["for"] for label in labels if "for" in label.attributes}
    wrapped = {id(node) for label in labels for node in label.walk()}

    def name_of(node: Node) -> str:
        words = [
            _words(named[word])
            for word in node.attributes.get("aria-labelledby", "").split()
            if word in named
        ]
        return " ".join([*words, node.attributes.get("aria-label", "")]).strip()

    for node in nodes:
        hidden = node.attributes.get("aria-hidden") == "true"
        if node.tag == "img":
            report.expect(
                bool(node.attributes.get("alt", "").strip()), BOOK, "a picture (img) has no text in its place"
            )
        elif node.tag in ("svg", "canvas") and not hidden:
            told = bool(name_of(node)) and node.attributes.get("role", "") in ("img", "application")
            report.expect(told, BOOK, f"a picture ({node.tag}) has no text in its place")
        elif node.tag == "table":
            report.expect(any(one.text for one in node.all("caption")), BOOK, "a table has no caption")
            heads = list(node.all("th"))
            scoped = all(head.attributes.get("scope") in ("col", "row") for head in heads)
            report.expect(bool(heads) and scoped, BOOK, "a table has heads that are of no row and no column")
            widths = {
                sum(int(cell.attributes.get("colspan", 1)) for cell in row.all("td", "th"))
                for row in node.all("tr")
            }
            report.expect(len(widths) == 1, BOOK, f"a table has rows of {sorted(widths)} cells")
        elif node.tag in ("input", "select"):
            known = node.attributes.get("id") in labelled or id(node) in wrapped or bool(name_of(node))
            report.expect(known, BOOK, f"a control ({node.tag}) has no name")
        elif node.tag == "button":
            report.expect(bool(node.text or name_of(node)), BOOK, "a button has no name")


def _words(node: Node) -> str:
    """Return all words, those of titles too."""
    return " ".join(" ".join(one.words for one in node.walk() if not one.tag).split())


#: heads and rows of every table
Tables = list[tuple[list[str], list[list[str]]]]


def _tables(root: Node) -> Iterator[tuple[list[str], list[list[str]]]]:
    for table in root.all("table"):
        rows = [[cell.text for cell in row.all("th", "td")] for row in table.all("tr")]
        yield rows[0], rows[1:]


def _numbers_on_sheets(folder: Path, layout: Layout) -> dict[str, set[int]]:
    """Return the numbers that stand on the pieces of each name, as the SVG files of the sheets letter them."""
    found: dict[str, set[int]] = {}
    known = set(layout.names_on_paper())
    for name in (name for sheet in layout.raw["sheets"] for name in sheet["files"] if name.endswith(".svg")):
        path = folder / name
        for number, words in _LETTERED.findall(path.read_text("utf-8") if path.is_file() else ""):
            whole = html.unescape(words)
            own = whole if whole in known else whole.partition(", ")[0]
            found.setdefault(own, set()).add(int(number))
    return found


def _check_parts(report: Report, tables: Tables, layout: Layout, numbers: dict[str, set[int]]) -> None:
    """Every part has its row with count, hand, face, stock and the numbers that are lettered on its pieces."""
    heads = ("No.", "Part", "Cut from", "Count", "Hand", "Face up")
    found: dict[str, dict[str, str]] = {}
    for head, rows in tables:
        if all(word in head for word in heads):
            for row in rows:
                cells = dict(zip(head, row, strict=False))
                report.expect(cells["Part"] not in found, BOOK, f"part {cells['Part']} has two rows")
                found[cells["Part"]] = cells
    pieces: dict[str, list[dict[str, Any]]] = {}
    for piece in layout.raw["pieces"]:
        pieces.setdefault(piece["part"], []).append(piece)
    for name, part in layout.parts.items():
        cells = found.get(name) or next((one for key, one in found.items() if says(key, name)), None)
        if not report.expect(cells is not None, BOOK, f"part {name} has no row among the parts"):
            continue
        hand = "-" if part["hand"] == "none" else part["hand"]
        due = {"Cut from": part["stock"], "Count": str(part["count"]), "Hand": hand, "Face up": part["face"]}
        for word, value in due.items():
            report.expect(
                says(cells[word], value), BOOK, f"part {name}: {word} is {cells[word]!r}, not {value!r}"
            )
        lettered = set().union(*(numbers.get(paper_name(piece), set()) for piece in pieces[name]))
        short = name.isascii() and len(name) < _SHORT
        same = lettered <= _counted(cells["No."]) and bool(lettered or not short)
        text = f"part {name}: {sorted(lettered)} stand on its pieces, its row has {cells['No.']!r}"
        report.expect(same, BOOK, text)
    known = set(layout.parts)
    for name in found:
        report.expect(name in known or "..." in name, BOOK, f"part {name} has a row, and is no part")


def _counted(text: str) -> set[int]:
    """Return the numbers of "3", "3; 5", "3 to 7", "3-7"."""
    found: set[int] = set()
    for first, last in re.findall(r"([0-9]+)(?:\s*(?:to|-)\s*([0-9]+))?", text):
        found |= set(range(int(first), int(last or first) + 1))
    return found


def _check_files(report: Report, tables: Tables, folder: Path) -> None:
    """What the book says lies beside it does."""
    for head, rows in tables:
        if head[0] == "File":
            for name in (name for row in rows for name in _FILE.findall(row[0])):
                report.expect((folder / name).is_file(), BOOK, f"{name} is told to be in the pack and is not")


def _check_told(report: Report, tables: Tables, design: Design) -> None:
    """Revisions and what was built have their rows."""
    rows = [(head, row) for head, table in tables for row in table]
    for letter, date, what in design.revisions:
        own = [row for head, row in rows if head[:1] == ["Revision"] and row[0] == letter]
        held = len(own) == 1 and date in own[0] and says(own[0][-1], what)
        report.expect(held, BOOK, f"revision {letter} of {date} has no row")
    for one in design.built:
        own = [row for head, row in rows if "Built" in head and squeezed(row[0]) == squeezed(one.key)]
        if report.expect(len(own) == 1, BOOK, f"what was built of {one.key} has no row"):
            row = " ".join(own[0])
            plain = isinstance(one.value, str | int | float) and len(str(one.value)) < 50
            report.expect(
                not plain or says(row, str(one.value)), BOOK, f"what was built of {one.key}: {one.value}?"
            )
            report.expect(
                one.date in row and says(row, one.why), BOOK, f"what was built of {one.key}: why or when?"
            )
