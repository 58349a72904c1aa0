"""Outlines as they are read off a ruler: a row for each point, ``x, y`` and words behind.

A row ends at the line's end or at ``;``; what stands behind ``#`` is a comment; commas inside brackets part
no columns.  A word begins behind a finished number, so that a size may well be called ``smooth``.
"""

import re
from collections.abc import Container, Sequence
from dataclasses import dataclass

from foamcut.design.key_kinds import Range
from foamcut.design.keys import key_of
from foamcut.design.lines import rows_with_lines
from foamcut.design.literals import near, quoted
from foamcut.design.measures import describe
from foamcut.design.reader import NOT_READ, Reader
from foamcut.design.structure import Path
from foamcut.flat.drawn import Reading, Readings
from foamcut.flat.outline import Point
from foamcut.units import MM_PER

MAX_POINTS = 20_000
SLOPES = ("bevel", "bevel_back")
WORDS = ("round", "smooth", "through", *SLOPES, "name")

_TOKEN = re.compile(r"(?P<number>\d[\d./]*|\.\d+)|(?P<word>[^\W\d]\w*)|(?P<sign>\S)")
_LETTER = re.compile(r"[^\W\d]")
_COLUMN_SIGN = re.compile(r"[(),]")
_BACK = re.compile(r"[-\s]*back\b")
_POINT_NAME = re.compile(r"[^\W\d_][\w-]{0,199}")


@dataclass(frozen=True, slots=True)
class _Said:
    """A word of a row and what stands behind it, up to the next; the word is empty for the point itself."""

    word: str
    rest: str


def read_outline(
    raw: object, path: Path, reader: Reader, *, true_size: bool = False, square: str = ""
) -> Readings:
    """The points of an outline, given as a table of readings or as a list of pairs.

    With `true_size`, every length must carry its unit; `square` says why no edge of it can have a bevel.
    What is refused is told to the reader; its points have nan in them or are left out.
    """
    if isinstance(raw, str):
        rows = [row for row, _ in rows_with_lines(raw)]
        if _count_fits(len(rows), path, reader):
            points = tuple(_row(row, (*path, i), reader, true_size, square) for i, row in enumerate(rows))
            return Readings(key=key_of(path), points=_named_once(points, path, reader))
    elif isinstance(raw, list):
        if _count_fits(len(raw), path, reader):
            pairs = (
                (reader.point(pair, (*path, i), true_size=true_size), (*path, i))
                for i, pair in enumerate(raw)
            )
            return Readings(key=key_of(path), points=tuple(Reading(key=key_of(p), at=at) for at, p in pairs))
    else:
        reader.refuse(
            path, f'{describe(raw)} where points are due; write a row "x, y" for each, or [[x, y], ...]'
        )
    return Readings(key=key_of(path), points=())


def _count_fits(count: int, path: Path, reader: Reader) -> bool:
    if count < 2:
        reader.refuse(path, f"has {count or 'no'} point; an outline needs three, a half two")
    elif count > MAX_POINTS:
        reader.refuse(path, f"has {count:,} points; at most {MAX_POINTS:,} are read")
    return 2 <= count <= MAX_POINTS


def _row(row: str, path: Path, reader: Reader, true_size: bool, square: str) -> Reading:
    """One point and what is said of it."""
    point, *words = _parted(row, reader.sizes)
    at = _two(point.rest, path, reader, true_size, 'write "x, y"')
    round_mm: float | None = None
    through: Point | None = None
    name: str | None = None
    smooth = False
    slopes: dict[str, float] = {}
    said: set[str] = set()
    for one in words:
        here = (*path, one.word)
        if fault := _word_fault(one, said, square):
            reader.refuse(path, fault)
            continue
        said.add(one.word)
        if one.word == "round":
            round_mm = reader.length(one.rest, here, Range.ABOVE_0, true_size=true_size)
        elif one.word == "through":
            through = _two(one.rest, here, reader, true_size, 'write "through x, y"')
        elif one.word in SLOPES:
            slopes[one.word] = reader.degrees(one.rest, here, Range.SLOPE_ABOVE_0)
        elif one.word == "name":
            name = one.rest
        else:
            smooth = True
    if smooth and round_mm is not None:
        reader.refuse(path, "a point is either smooth or round; take one of the words out")
    return Reading(
        key=key_of(path),
        at=at,
        round_mm=round_mm,
        smooth=smooth,
        through=through,
        name=name,
        bevel_deg=slopes.get("bevel"),
        bevel_back_deg=slopes.get("bevel_back"),
    )


def _word_fault(one: _Said, said: set[str], square: str) -> str | None:
    if one.word not in WORDS:
        hint = near(one.word, WORDS) or "; known are " + ", ".join(WORDS)
        return f"{quoted(one.word)} is no word of an outline{hint}"
    if one.word in said:
        return f'"{one.word}" stands there twice; take one out'
    if one.word in SLOPES and square:
        return f'"{one.word}" has no place here: {square}; take it out'
    if one.word == "bevel" and (back := _BACK.match(one.rest)):
        degrees = one.rest[back.end() :].strip() or "45"
        return f'"bevel" and "back" have to be one word; write {quoted(f"bevel_back {degrees}")}'
    if one.word in SLOPES and not one.rest:
        return f'"{one.word}" needs degrees behind it, such as "{one.word} 45"'
    if one.word == "smooth" and one.rest:
        return f'"smooth" stands alone; take {quoted(one.rest)} out'
    if one.word == "round" and not one.rest:
        return '"round" needs a radius behind it, such as "round 1"'
    if one.word == "name" and not _POINT_NAME.fullmatch(one.rest):
        return f'{quoted(one.rest)} is no name of a point; write one word behind "name", such as "name tail"'
    return None


def _parted(row: str, sizes: Container[str]) -> list[_Said]:
    """The point and the words of a row, each with what stands behind it."""
    if not _LETTER.search(row):  # numbers alone, as most rows are
        return [_Said("", row.strip())]
    starts: list[tuple[int, int, str]] = [(0, 0, "")]
    depth = 0
    finished = False  # whether a number or name has just ended, so that a word may begin
    for token in _TOKEN.finditer(row):
        word = token["word"]
        if word and finished and depth <= 0 and _begins(word, sizes):
            starts.append((token.start(), token.end(), word))
            finished = word == "smooth"
        elif word or token["number"]:
            finished = True
        else:
            depth += {"(": 1, ")": -1}.get(token["sign"], 0)
            finished = token["sign"] in ")%"
    ends = [start for start, _, _ in starts[1:]] + [len(row)]
    return [_Said(word, row[begin:end].strip()) for (_, begin, word), end in zip(starts, ends, strict=True)]


def _begins(word: str, sizes: Container[str]) -> bool:
    """Whether a word behind a finished number is one of an outline, or meant as one; no unit or name is."""
    if word in WORDS:
        return True
    return word not in MM_PER and word != "deg" and word not in sizes and bool(near(word, WORDS))


def _two(text: str, path: Path, reader: Reader, true_size: bool, example: str) -> Point:
    """Two lengths with a comma between."""
    columns = columns_of(text)
    if len(columns) != 2 or not all(columns):
        found = "one number" if len(columns) == 1 else f"{len(columns)} columns"
        if len(columns) == 2:
            found = "nothing on one side of the comma"
        hint = "; the decimal sign is a full stop" if len(columns) > 2 else ""
        opened = text.count("(") - text.count(")")
        if opened > 0:
            reader.refuse(path, f'{quoted(text)} has a "(" that is never closed; write ")"')
        elif opened < 0:
            reader.refuse(
                path, f'{quoted(text)} has a ")" too many; take it out, or write "(" before its sum'
            )
        else:
            reader.refuse(path, f"{quoted(text)} has {found} where two are due; {example}{hint}")
        return NOT_READ
    x, y = (reader.length(one, (*path, i), true_size=true_size) for i, one in enumerate(columns))
    return x, y


def columns_of(text: str) -> list[str]:
    """Parts of a text between the commas that stand in no brackets."""
    if "(" not in text and ")" not in text:
        return [column.strip() for column in text.split(",")]
    columns, depth, begin = [], 0, 0
    for sign in _COLUMN_SIGN.finditer(text):
        depth += {"(": 1, ")": -1}.get(sign[0], 0)
        if sign[0] == "," and depth <= 0:
            columns.append(text[begin : sign.start()])
            begin = sign.end()
    return [column.strip() for column in (*columns, text[begin:])]


def _named_once(points: Sequence[Reading], path: Path, reader: Reader) -> tuple[Reading, ...]:
    """The points; a name given twice is refused at its second point."""
    seen: set[str] = set()
    for i, point in enumerate(points):
        if point.name in seen:
            reader.refuse((*path, i), f'the name "{point.name}" is given twice; choose another')
        if point.name:
            seen.add(point.name)
    return tuple(points)
