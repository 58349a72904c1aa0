"""The book's chapters and blocks as pieces of printed pages, in their order."""

from collections.abc import Iterator

from foamcut.book.values import Block, Book, Caution, Chapter, Figure, Grid, Listing, Turning, Words
from foamcut.draw.metrics import missing_letters
from foamcut.draw.picture import Picture
from foamcut.draw.words import revision_words
from foamcut.write.book_pdf_lines import lines
from foamcut.write.book_pdf_pieces import Drawn, Entries, Entry, Piece, Text
from foamcut.write.book_pdf_table import fitting, table
from foamcut.write.book_words import readable

BODY_MM = 2.5
_TITLE_MM, _CHAPTER_MM, _WITHIN_MM = 5.5, 4.0, 3.1
_SMALL_MM = 2.1
_ITEM_MM = 6.0
_WITHIN_INDENT_MM = 6.0
_CAUTION_MM = 5.0
_COLUMN_GAP_MM = 8.0
#: what the title and the heading above the contents take up, mostly
_HEADED_MM = 55.0
_LACKING = (
    "Some letters of this plan cannot be printed here and stand as ? in this file; "
    "the file book.html shows them."
)
_NOTHING = "There is nothing in this book."


def front(book: Book, boards: str, width_mm: float, height_mm: float) -> Iterator[Piece]:
    """The title, what the plan is called, and the contents."""
    title = book.title
    heading = readable(title.title) or readable(title.name) or "Build book"
    yield Text(lines=lines(heading, _TITLE_MM, width_mm), size_mm=_TITLE_MM, gap_mm=3.0)
    plan = ", ".join(filter(None, (revision_words(title), boards)))
    yield Text(lines=lines(plan, BODY_MM, width_mm), size_mm=BODY_MM, gap_mm=4.0)
    if _lacking(book):
        yield _words(_LACKING, width_mm)
    if not book.chapters:
        yield _words(_NOTHING, width_mm)
        return
    yield Text(
        lines=("Contents",), size_mm=_CHAPTER_MM, leads=True, ruled=width_mm, goal=("_", "Contents", 0)
    )
    yield from _contents(book, width_mm, height_mm - _HEADED_MM)


def _contents(book: Book, width_mm: float, height_mm: float) -> Iterator[Piece]:
    """A line a chapter; in two columns where one is too high and two are not."""
    single = list(_entries(book, width_mm))
    column = (width_mm - _COLUMN_GAP_MM) / 2
    narrow = list(_entries(book, column))
    half = sum(entry.height_mm for entry in narrow) / 2
    filled, first = 0.0, 0
    while filled < half:
        filled += narrow[first].height_mm
        first += 1
    if filled > height_mm or sum(entry.height_mm for entry in single) <= height_mm:
        yield from single
    else:
        columns = tuple(narrow[:first]), tuple(narrow[first:])
        yield Entries(columns=columns, apart_mm=column + _COLUMN_GAP_MM)


def _entries(book: Book, width_mm: float) -> Iterator[Entry]:
    for chapter in book.chapters:
        yield _entry(chapter, width_mm, 0.0)
        for within in chapter.within:
            yield _entry(within, width_mm, _WITHIN_INDENT_MM)


def _entry(chapter: Chapter, width_mm: float, indent_mm: float) -> Entry:
    return Entry(
        name=chapter.id,
        lines=lines(_heading(chapter), BODY_MM, width_mm - indent_mm - 16.0),
        size_mm=BODY_MM,
        width_mm=width_mm,
        indent_mm=indent_mm,
    )


def _heading(chapter: Chapter) -> str:
    return readable(chapter.heading) or chapter.id


def story(book: Book, width_mm: float, height_mm: float) -> Iterator[tuple[Piece, ...]]:
    """Pieces that stand on one page where it has the room: those of a chapter, and of each within it."""
    for chapter in book.chapters:
        own = tuple(_chapter(chapter, 0, width_mm, height_mm))
        if chapter.blocks or not chapter.within:
            yield own
            own = ()
        for within in chapter.within:
            yield (*own, *_chapter(within, 1, width_mm, height_mm))
            own = ()


def _chapter(chapter: Chapter, level: int, width_mm: float, height_mm: float) -> Iterator[Piece]:
    size = (_CHAPTER_MM, _WITHIN_MM)[level]
    yield Text(
        lines=lines(_heading(chapter), size, width_mm),
        size_mm=size,
        leads=True,
        goal=(chapter.id, _heading(chapter), level),
        ruled=0.0 if level else width_mm,
    )
    for block in chapter.blocks:
        yield from _block(block, width_mm, height_mm)


def _block(block: Block, width_mm: float, height_mm: float) -> Iterator[Piece]:
    match block:
        case Words(text=text) | Caution(text=text) if not readable(text):
            return
        case Words(text=text):
            yield _words(text, width_mm)
        case Caution(text=text):
            indent = _CAUTION_MM
            broken = lines(f"Caution: {text}", BODY_MM, width_mm - indent - 2.0)
            yield Text(lines=broken, size_mm=BODY_MM, indent_mm=indent, framed=width_mm, gap_mm=2.5)
        case Listing():
            yield from _items(block, width_mm)
        case Grid():
            if done := table(block, width_mm):
                yield done
        case Figure(picture=picture, caption=caption) | Turning(still=picture, caption=caption):
            yield from _figure(picture, caption, width_mm, height_mm)


def _words(text: str, width_mm: float) -> Text:
    return Text(lines=lines(text, BODY_MM, width_mm), size_mm=BODY_MM, gap_mm=2.5)


def _items(listing: Listing, width_mm: float) -> Iterator[Piece]:
    number = 0
    for item in listing.items:
        if not readable(item):
            continue
        number += 1
        mark = f"{number}." if listing.numbered else "•"
        words = item
        if listing.ticked:
            mark, words = "[]", f"{number}. {item}" if listing.numbered else item
        yield Text(
            lines=lines(words, BODY_MM, width_mm - _ITEM_MM),
            size_mm=BODY_MM,
            indent_mm=_ITEM_MM,
            mark=mark,
            gap_mm=1.2 if number < len(listing.items) else 3.0,
        )


def _figure(picture: Picture, caption: str, width_mm: float, height_mm: float) -> Iterator[Piece]:
    below = lines(caption, _SMALL_MM, width_mm)
    room = height_mm - min(len(below), 6) * _SMALL_MM * 2 - 25.0  # the heading above it, too
    yield Drawn(picture=picture, scale=fitting(picture, width_mm, room))
    yield Text(lines=below, size_mm=_SMALL_MM, gap_mm=4.0)


def _lacking(book: Book) -> bool:
    """Whether any letter is missing from the font."""
    letters = set().union(*map(readable, _texts(book)))
    return bool(missing_letters("".join(sorted(letters))))


def _texts(book: Book) -> Iterator[str]:
    yield from (book.title.title, book.title.name, book.title.revision)
    for chapter in book.chapters:
        for one in (chapter, *chapter.within):
            yield one.heading
            for block in one.blocks:
                yield from _block_texts(block)


def _block_texts(block: Block) -> Iterator[str]:
    match block:
        case Words(text=text) | Caution(text=text):
            yield text
        case Listing(items=items):
            yield from items
        case Grid():
            yield block.caption
            yield from (cell for row in (block.head, *block.rows) for cell in row)
            yield from (text.text for picture in block.pictures for text in picture.texts)
        case Figure(picture=picture, caption=caption) | Turning(still=picture, caption=caption):
            yield caption
            yield from (text.text for text in picture.texts)
