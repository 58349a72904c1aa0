"""Damages to the build book, on the screen and in print."""

import re
from pathlib import Path

import pikepdf
from breakage import Collection, NotApplicableError, edit_text, load
from breakages_pdf import change_pdf
from pack_presence import BOOK, BOOK_PDF

BREAKAGES = Collection()
#: what is damaged, the fault, the words in the page and those in their place
_WORDS = (
    ("a page in no language", "the language is ''", '<html lang="en">', "<html>"),
    ("a page without a title", "has no title", "<title>", "<title></title><title>"),
    ("a second heading of level 1", "2 headings of level 1", "</h1>", "</h1><h1>again</h1>"),
    ("a heading that skips a level", "heading .* skips from 2 to 4", '<h3 dir="auto">', '</h4><h4 dir="auto">'),
    ("a tag that is not closed", "line .*: </.*> closes", "</caption>", ""),
    ("an id twice", "id 'parts' stands 2 times", 'id="cautions"', 'id="parts"'),
    ("a link that leads nowhere", "link '#nowhere' leads nowhere", 'href="#parts"', 'href="#nowhere"'),
    ("a name that points nowhere", "aria-labelledby: there is no", 'id="contents_"', 'id="contents"'),
    ("a link to another page", "link 'other.html' leads nowhere", 'href="#parts"', 'href="other.html"'),
    ("a picture from outside", "<img> src leads out", "</h1>", '</h1><img alt="x" src="x.png">'),
    ("a style that loads", "<style> loads 'x.png'", "<style>", "<style>p { background: url(x.png) }"),
    ("a script that fetches", "<script> loads something", "</body>", "<script>fetch('/x')</script></body>"),
    ("a script in an attribute", r"<h1> has \['onclick'\]", "<h1 ", '<h1 onclick="x()" '),
    ("a picture without words", "a picture .svg. has no text", 'role="img" aria-labelledby', 'role="img" data-by'),
    ("a bitmap without words", "a picture .img. has no text", "</h1>", '</h1><img alt="" src="data:,">'),
    ("a table without a caption", "a table has no caption", '<caption id="table_7">', '<caption id="table_7"></caption><p>'),
    ("a head of no column", "a table has heads that are of no row", '<th scope="col"', "<th"),
    ("a control without a name", "a control .input. has no name", "</h1>", '</h1><input type="checkbox">'),
    ("a cell too many", "a table has rows of", "</tr>", "<td>more</td></tr>"),
    ("another licence", "the licence .* does not stand there", "no licence stated", "licence stated"),
    ("a thing aboard left out", "what is carried, 'tide gauge' does not stand there", "tide gauge", "tide"),
    ("a revision left out", "revision B of .* has no row", ">B<", "><"),
    ("a built value left out", r"what was built of aboard\[1\]\.mass: 38 g\?", "38 g", "39 g"),
    ("a built value without its key", r"what was built of aboard\[1\]\.mass has no row", "aboard[1].mass", "a mass"),
    ("a promise", "a word promises what no plan can", "</h1>", "</h1><p>It is s" + "afe.</p>"),
    ("a file that is not there", "parts.pdf is told to be in the pack and is not", "full-size.pdf", "parts.pdf"),
    ("data of a model that are none", "the data of the model cannot be read", 'type="application/json">', 'type="application/json">{'),
    ("old HTML", "the document type is", "<!DOCTYPE html>", "<!DOCTYPE html3>"),
)  # fmt: skip


def _edit(old: str, new: str, *, every: bool) -> object:
    def damage(folder: Path) -> None:
        edit_text(folder, BOOK, old, new)
        if every:
            path = folder / BOOK
            path.write_text(path.read_text("utf-8").replace(old, new), "utf-8")

    return damage


for _name, _finds, _old, _new in _WORDS:
    _every = not _old.startswith(("<", "</", 'id="', "href"))
    BREAKAGES.add(_name, f"book.html: .*{_finds}")(_edit(_old, _new, every=_every))  # type: ignore[arg-type]


def _cell(folder: Path, was: str, now: str) -> None:
    """Change a cell in the row of the first part."""
    part = load(folder)["parts"][0]
    path = folder / BOOK
    text = path.read_text("utf-8")
    row = re.search(
        rf'<tr><td class="drawn">(?:(?!</tr>).)*<td[^>]*>{re.escape(part["name"])}</td>(?:(?!</tr>).)*</tr>',
        text,
    )
    cell = f">{was.format(**part)}</t"
    if row is None or cell not in row[0]:
        raise NotApplicableError(f"no {cell}")
    path.write_text(text.replace(row[0], row[0].replace(cell, f">{now}</t")), "utf-8")


@BREAKAGES.add("a part without its row", r"book.html: part .* has no row among the parts")
def _row(folder: Path) -> None:
    _cell(folder, "{name}", "another")


@BREAKAGES.add("a part of another stock", r"book.html: part .*: Cut from is 'ply', not")
def _stock(folder: Path) -> None:
    _cell(folder, "{stock}", "ply")


@BREAKAGES.add("a part of another hand", r"book.html: part .*: Hand is 'both', not")
def _hand(folder: Path) -> None:
    _cell(folder, "{hand}", "both")


@BREAKAGES.add("a part with its other face up", r"book.html: part .*: Face up is 'far', not")
def _face(folder: Path) -> None:
    _cell(folder, "{face}", "far")


@BREAKAGES.add(
    "a part with another number than its piece", r"book.html: part .* stand on its pieces, its row has '77'"
)
def _number(folder: Path) -> None:
    """The number in the head of its row, and its count with it."""
    _cell(folder, "1", "77")


@BREAKAGES.add("a chapter missing in print", r"book.pdf: its headings are not those of book.html")
def _chapter(folder: Path) -> None:
    edit_text(folder, BOOK_PDF, "/Title (Cautions)", "/Title (Captions)")


@BREAKAGES.add("a heading on another page", r"book.pdf: heading .* is not on the page that its bookmark")
def _heading(folder: Path) -> None:
    def change(document: pikepdf.Pdf) -> None:
        pages = document.pages
        pages[3].Contents, pages[4].Contents = pages[4].Contents, pages[3].Contents

    change_pdf(folder, BOOK_PDF, change)


@BREAKAGES.add("a caution lost in print", r"book.pdf: 'Caution: .*' stands in book.html and not there")
def _caution(folder: Path) -> None:
    edit_text(folder, BOOK_PDF, "(Caution: ", "(Notices: ")


@BREAKAGES.add("a printed book without a language", r"book.pdf: names no language")
def _language(folder: Path) -> None:
    def change(document: pikepdf.Pdf) -> None:
        del document.Root["/Lang"]

    change_pdf(folder, BOOK_PDF, change)


@BREAKAGES.add("another licence in print", r"book.pdf: the licence .* does not stand there")
def _licence(folder: Path) -> None:
    path = folder / BOOK_PDF
    path.write_bytes(path.read_bytes().replace(b"licence stated", b"licence stayed"))
