"""One attempt on what tells of a design: marking out, overview, build book, gauges, model and balance.

The boards are laid once, not searched, since the search has attempts of its own.  Everything that a builder must
never meet is a fault, in words: an exception, a warning of numpy, a file that other libraries cannot read, a
part that no step or table speaks of, a text of the design that became markup.
"""

import csv
import html
import io
import re
import time
import traceback
import unicodedata
import warnings
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree

import pypdfium2
from lxml import etree
from lxml import html as lxml_html

from foamcut.book.book import book_of
from foamcut.book.steps import build_steps
from foamcut.book.values import Book, Caution, Chapter, Figure, Grid, Listing, Turning, Words
from foamcut.errors import Refused
from foamcut.files import File
from foamcut.nest.values import Pace
from foamcut.plan.book_facts import book_facts
from foamcut.plan.chain import planned
from foamcut.plan.products import BUILDING, CUTTING, MARKING, MODEL
from foamcut.plan.values import Options, Plan

#: products that have attempts of their own
_TRIED_ELSEWHERE = ("_design_file", "_sheet_files", "_full_size_file", "_template_files", "_layout_file")
#: seconds of one processor that a product may take
SECONDS = 10.0
#: put together here, so that this file does not hold the word itself
_CLEARANCE = "sa" + "fe"
LEAKS = re.compile(
    r"Traceback|object at 0x|\b(nan|inf|NoneType|TypeError|ValueError|KeyError|IndexError)\b|(?<=[^.:;] )None\b|"
    rf"{_CLEARANCE}"
)
#: tags that the book is made of; any other came out of a text
_TAGS = frozenset(
    ["a", "aside", "bdi", "body", "button", "canvas", "caption", "defs", "desc", "figcaption", "figure", "footer", "g",
     "h1", "h2", "h3", "h4", "head", "header", "html", "input", "label", "li", "link", "main", "meta", "nav", "noscript",
     "ol", "option", "p", "path", "rect", "script", "select", "strong", "style", "svg", "table", "tbody", "td", "text", "th", "thead", "title",
     "tr", "tspan", "ul", "circle", "line", "polygon", "polyline", "section", "article", "div", "span", "use"]
)  # fmt: skip
#: a refusal may repeat a number of the design that is none
REFUSAL_LEAKS = re.compile(
    rf"Traceback|object at 0x|\b(NoneType|TypeError|ValueError|KeyError)\b|{_CLEARANCE}"
)
_FORMULA = ("=", "+", "-", "@")
_IS_NUMBER = re.compile(r"-?\d+([.]\d+)?( \d+/\d+)?|-?\d+/\d+|-")


@dataclass(frozen=True, kw_only=True)
class Told:
    """What became of one design; `faults` are empty when every promise held."""

    refused: bool
    faults: tuple[str, ...]
    files: tuple[File, ...] = ()
    seconds: tuple[tuple[str, float], ...] = ()


def attempt_pack(data: bytes, name: str = "design.toml", **options: object) -> Told:
    """Make all that tells of a design and look at it; warnings count as exceptions."""
    pace = Pace(steps=1)
    files: list[File] = []
    seconds: list[tuple[str, float]] = []
    doing = "planning"
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            plan = planned(data, name, Options(pace=pace, **options))  # type: ignore[arg-type]
            for words, product in (*CUTTING, *MARKING, *MODEL, *BUILDING):
                if product.__name__ in _TRIED_ELSEWHERE:
                    continue
                doing, began = words, time.process_time()
                files += product(plan)
                seconds.append((words, time.process_time() - began))
            doing = "looking at the files"
            faults = [
                *(f"{words}: {took:.1f} s" for words, took in seconds if took > SECONDS),
                *file_faults(files),
                *_plan_faults(plan, {file.name: file.data for file in files}),
            ]
    except Refused as refused:
        bad = [one.text[:300] for one in refused.refusals if not_for_a_builder(one.text)]
        return Told(refused=True, faults=tuple(f"words that are not for a builder: {one}" for one in bad))
    except Exception as err:
        frames = traceback.extract_tb(err.__traceback__)
        where = ", ".join(f"{frame.filename.rsplit('/', 1)[-1]}:{frame.lineno}" for frame in frames[-3:])
        return Told(refused=False, faults=(f"{doing}: {type(err).__name__} at {where}: {str(err)[:300]}",))
    return Told(refused=False, faults=tuple(faults), files=tuple(files), seconds=tuple(seconds))


def not_for_a_builder(text: str) -> bool:
    """Whether a refusal says nothing, too much, or speaks of the program's insides."""
    return bool(REFUSAL_LEAKS.search(text)) or not text.strip() or len(text) > 1000


def file_faults(files: Sequence[File]) -> Iterator[str]:
    """Files that are empty, twice there, or that another library cannot read."""
    for name, count in Counter(file.name for file in files).items():
        if count > 1:
            yield f"{name}: there {count} times"
    for file in files:
        if not file.data:
            yield f"{file.name}: is empty"
        elif file.name.endswith(".svg"):
            yield from (f"{file.name}: {fault}" for fault in _svg_faults(file.data))
        elif file.name.endswith(".pdf"):
            yield from (f"{file.name}: {fault}" for fault in _pdf_faults(file.data))
        elif file.name.endswith(".csv"):
            yield from (f"{file.name}: {fault}" for fault in _csv_faults(file.data))
        elif file.name.endswith(".html"):
            yield from (f"{file.name}: {fault}" for fault in _html_faults(file.data))


def _svg_faults(data: bytes) -> Iterator[str]:
    try:
        root = ElementTree.fromstring(data)
    except ElementTree.ParseError as err:
        yield f"no XML: {err}"
        return
    yield from _number_faults(value for one in root.iter() for value in one.attrib.values())


def _number_faults(values: Iterator[str]) -> Iterator[str]:
    for value in values:
        if re.search(r"\b(nan|inf)\b", value):
            yield f"a number that is none: {value[:80]}"
            return


def _pdf_faults(data: bytes) -> Iterator[str]:
    try:
        document = pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError as err:
        yield f"cannot be read: {err}"
        return
    for number, page in enumerate(document, 1):
        if not page.get_textpage().get_text_bounded().strip():
            yield f"page {number} says nothing"
    if not len(document):
        yield "has no page"
    if re.search(rb"(?<![\w/(])-?(nan|inf) ", data):
        yield "a number that is none"


def _csv_faults(data: bytes) -> Iterator[str]:
    """RFC 4180: as many cells in every row; no cell that a spreadsheet takes for a formula."""
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    if len({len(row) for row in rows}) != 1:
        yield "rows of unlike length"
    for row in rows:
        for cell in row:
            if cell.lstrip().startswith(_FORMULA) and not _IS_NUMBER.fullmatch(cell):
                yield f"a formula to a spreadsheet: {cell[:80]}"
            if cell in ("nan", "inf", "-inf", "None"):
                yield f"no number: {cell}"


def _html_faults(data: bytes) -> Iterator[str]:
    """Tags of the book alone, ids once each, links that lead somewhere, nothing of the network."""
    root = lxml_html.document_fromstring(data.decode(), parser=lxml_html.HTMLParser(encoding="utf-8"))
    elements = [one for one in root.iter() if isinstance(one.tag, str)]
    if strange := sorted({one.tag for one in elements} - _TAGS):
        yield f"tags that are not the book's: {strange[:5]}"
    ids = Counter(one.get("id") for one in elements if one.get("id"))
    if twice := [name for name, count in ids.items() if count > 1]:
        yield f"ids given twice: {twice[:5]}"
    for one in elements:
        handlers = [key for key in one.attrib if key.lower().startswith("on")]
        if handlers:
            yield f"{one.tag} with {handlers}"
        for key in ("href", "src", "xlink:href"):
            where = one.get(key, "")
            if where.startswith("#") and where[1:] not in ids:
                yield f"a link to {where[:60]}, which is not there"
            elif where and not where.startswith(("#", "data:")):
                yield f"fetches {where[:60]}"
        for key in ("aria-labelledby", "aria-describedby", "for"):
            for name in one.get(key, "").split():
                if name not in ids:
                    yield f"{key} names {name[:60]}, which is not there"
    if not root.findtext(".//title", "").strip():
        yield "no title"
    yield from _number_faults(value for one in elements for value in one.attrib.values())
    for drawing in re.findall(rb"<svg\b.*?</svg>", data, re.DOTALL):
        try:
            etree.fromstring(html.unescape(drawing.decode()) if b"&nbsp;" in drawing else drawing)
        except etree.XMLSyntaxError as err:
            yield f"a picture is no XML: {err}"
            return


def _plan_faults(plan: Plan, files: dict[str, bytes]) -> Iterator[str]:
    """What should stand in the files of this design and does not."""
    for due in ("book.html", "book.pdf", "gauges.pdf", "marking-out.pdf", "marking-out.csv"):
        if due not in files:
            yield f"{due} is missing"
    facts = book_facts(plan)
    steps = build_steps(facts)  # raises where steps wait for one another
    names = [part.name for part in plan.parts]
    added = {name for step in steps for name in step.adds}
    # a pair may be spoken of by its own name
    if lost := [name for name in names if name not in added]:
        yield f"no step speaks of {lost[:4]}"
    if unknown := sorted({name for step in steps for name in (*step.adds, *step.shows)} - set(names)):
        yield f"steps speak of {unknown[:4]}, which are no parts"
    done: set[str] = set()
    for step in steps:
        if not {other for _, other in step.after} <= done:
            yield f"step {step.id} stands before what it waits for"
        if step.id in done:
            yield f"two steps {step.id}"
        if not step.does:
            yield f"step {step.id} has nothing to do"
        done.add(step.id)
    yield from _book_faults(book_of(facts))
    pages = files.get("book.html", b"").decode()
    read = squeezed(lxml_html.document_fromstring(pages).text_content()) if pages else ""
    title = plan.title
    for text in (*names, title.title, title.maker, title.licence, *(one.why for one in plan.design.built)):
        if text and squeezed(text) not in read:
            yield f"book.html does not hold {text[:80]!r}"
    rows = files.get("marking-out.csv", b"").decode("utf-8-sig")
    cells = {cell.lstrip("'") for row in csv.reader(io.StringIO(rows, newline="")) for cell in row}
    placed = (one.id for layout in plan.layouts for sheet in layout.sheets for one in sheet.placed)
    if lost := [one for one in placed if one.lstrip("'") not in cells]:
        yield f"marking-out.csv does not hold {lost[:4]}"


def squeezed(text: str) -> str:
    """Letters alone, each written one way: soft hyphens, blanks and a heap of accents are the writer's to place."""
    letters = re.sub(r"[\s\u00ad\u200b]+", "", unicodedata.normalize("NFC", text))
    return re.sub(r"([\u0300-\u036f]{4})[\u0300-\u036f]+", r"\1", letters)


def _book_faults(book: Book) -> Iterator[str]:
    seen: set[str] = set()
    for chapter in (one for top in book.chapters for one in (top, *top.within)):
        if not re.fullmatch(r"[a-z0-9-]+", chapter.id) or chapter.id in seen:
            yield f"chapter {chapter.id!r}: no id, or one given twice"
        seen.add(chapter.id)
        for text in _texts(chapter):
            if not text.strip():
                yield f"{chapter.id}: a text without a word"
            elif found := LEAKS.search(text):
                yield f"{chapter.id}: {found.group()!r} in {text[max(0, found.start() - 60) : found.end() + 60]!r}"
        for block in chapter.blocks:
            if isinstance(block, Grid) and any(len(row) != len(block.head) for row in block.rows):
                yield f"{chapter.id}: rows of unlike length in {block.caption!r}"
            if isinstance(block, Grid) and block.pictures and len(block.pictures) != len(block.rows):
                yield f"{chapter.id}: {len(block.pictures)} pictures for {len(block.rows)} rows"
            if isinstance(block, Listing) and not block.items:
                yield f"{chapter.id}: a list of nothing"


def _texts(chapter: Chapter) -> Iterator[str]:
    yield chapter.heading
    for block in chapter.blocks:
        if isinstance(block, Words | Caution):
            yield block.text
        elif isinstance(block, Listing):
            yield from block.items
        elif isinstance(block, Grid):
            yield from (block.caption, *filter(None, block.head))
            yield from (cell for row in block.rows for cell in row if cell)
        elif isinstance(block, Figure):
            yield from (block.caption, block.picture.told)
        elif isinstance(block, Turning):
            yield block.caption
