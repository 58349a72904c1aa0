"""What a book is made of: chapters of blocks.  Writers read these; nothing here knows HTML or PDF.

Every text is plain words, without markup.
"""

from dataclasses import dataclass

from foamcut.airframe.model import Mesh
from foamcut.draw.picture import Picture
from foamcut.draw.values import Title


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A paragraph."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """What can hurt, and what to do about it; set apart from the words around it."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """Items in a list: `numbered` in an order, `ticked` with a box to tick each off."""

    items: tuple[str, ...]
    numbered: bool = False
    ticked: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A table: what it shows, a head, rows of as many cells; `figures` are the columns that hold numbers.

    `pictures` are drawn in a further first column, one a row; empty: none.
    """

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    figures: tuple[int, ...] = ()
    pictures: tuple[Picture, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A picture with words under it; what it shows, for who cannot see it, is `picture.told`."""

    picture: Picture
    caption: str


@dataclass(frozen=True, kw_only=True, eq=False)
class Turning:
    """The model, to be turned where a page can; `still` stands where it cannot."""

    meshes: tuple[Mesh, ...]
    still: Picture
    caption: str


Block = Words | Caution | Listing | Grid | Figure | Turning


@dataclass(frozen=True, kw_only=True, eq=False)
class Chapter:
    """A heading, what stands under it, and chapters within it (at most one level of them).

    `id` is unique in the book: lower-case letters, digits, ``-``.
    """

    id: str
    heading: str
    blocks: tuple[Block, ...] = ()
    within: tuple["Chapter", ...] = ()


@dataclass(frozen=True, kw_only=True, eq=False)
class Book:
    """A book: its title and chapters, in the order in which they are read."""

    title: Title
    chapters: tuple[Chapter, ...]
