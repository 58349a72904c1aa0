"""The book as one page for a browser, with everything inside it.

Strictly escaped; styles, script, pictures and the model's numbers stand in the page, and its own rule on
contents (CSP) lets it load nothing else.  Without scripts everything can be read, and the model stands still.
The same book gives the same bytes.
"""

import base64
import hashlib
from functools import cache
from importlib.resources import files
from itertools import count

from jinja2 import Environment, FunctionLoader, StrictUndefined

from foamcut.book.values import Block, Book, Chapter, Grid, Listing
from foamcut.draw.picture import Picture
from foamcut.draw.words import revision_words
from foamcut.write.book_svg import ink_styles, inline
from foamcut.write.book_turning import numbers
from foamcut.write.book_words import readable

_PAGES = "foamcut.write.pages"
#: letters of the plan's name at the head of every printed page
_MOST_LETTERS = 60
#: columns of a table are as wide on a small screen as their longest cell asks for
_FEW_LETTERS, _SOME_LETTERS, _MANY_LETTERS = 7, 14, 60


class _Ready(str):
    """Text that is markup already: it says so by a method that the templates ask for."""

    __slots__ = ()

    def __html__(self) -> str:
        """The markup."""
        return str(self)


def render(book: Book, *, boards: str = "") -> bytes:
    """The book as an HTML file; `boards` are the boards and their thickness, in words, at its head.

    Raises
    ------
    ValueError
        A number of a picture is not finite: a bug in the caller.
    """
    style, head = _style(), _printed_head(book, boards)
    names = count(1)

    def picture(drawn: Picture) -> _Ready:
        return _Ready(inline(drawn, f"picture_{next(names)}"))

    page = (
        _environment()
        .get_template("book.html")
        .render(
            book=book,
            boards=boards,
            plan=revision_words(book.title),
            style=style,
            head=head,
            script=_script(),
            hashes={"style": f"{_hashed(style)} {_hashed(head)}", "script": _hashed(_script())},
            ticked=any(map(_ticked, book.chapters)),
            picture=picture,
            number=lambda: next(names),
        )
    )
    return page.encode()


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FunctionLoader(_source),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        auto_reload=False,
        finalize=_shown,
    )
    environment.filters.update(kind=_kind, numbers=numbers, readable=readable, widths=_widths)
    return environment


def _source(name: str) -> str:
    return (files(_PAGES) / name).read_text(encoding="utf-8")


@cache
def _style() -> _Ready:
    return _Ready(f"{_source('book.css')}\n{ink_styles()}\n")


@cache
def _script() -> _Ready:
    return _Ready(_source("turning.js"))


def _shown(value: object) -> object:
    """What stands in the page for a value: words only as they can be read."""
    return readable(value) if isinstance(value, str) and not hasattr(value, "__html__") else value


def _kind(block: Block) -> str:
    return type(block).__name__


def _widths(grid: Grid) -> tuple[str, ...]:
    """Of each column whether its words are few or many: on a small screen it is as narrow or as wide."""
    longest = [
        max((len(row[i]) for row in grid.rows if i < len(row)), default=0) for i in range(_columns(grid))
    ]
    return tuple(_width(letters) for letters in longest)


def _width(letters: int) -> str:
    if letters <= _FEW_LETTERS:
        return "short"
    return "long" if letters > _MANY_LETTERS else "middle" if letters > _SOME_LETTERS else ""


def _columns(grid: Grid) -> int:
    return max(len(grid.head), *(len(row) for row in grid.rows), 0)


def _ticked(chapter: Chapter) -> bool:
    """Whether there is a box to tick in the chapter or within it."""
    own = any(isinstance(block, Listing) and block.ticked for block in chapter.blocks)
    return own or any(map(_ticked, chapter.within))


def _hashed(text: str) -> str:
    """What the page's rule on contents calls a script or style (CSP Level 3, 2.3.1, from memory)."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode('ascii')}'"


def _printed_head(book: Book, boards: str) -> _Ready:
    """Style that puts the plan's name at the head of every printed page, and its number at the foot."""
    words = readable(", ".join(filter(None, (revision_words(book.title), boards))))
    if len(words) > _MOST_LETTERS:
        words = f"{words[:_MOST_LETTERS].rstrip()}..."
    # letters of any kind are written by number: none can end the words or the style
    letters = "".join(each if each.isascii() and each.isalnum() else f"\\{ord(each):06x}" for each in words)
    foot = 'counter(page) " of " counter(pages)'
    return _Ready(f'@page{{@top-left{{content:"{letters}"}}@bottom-right{{content:{foot}}}}}\n')
