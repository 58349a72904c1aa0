"""What a layout says of its parts, pieces and sheets, each value looked at before it is used.

A document may have been damaged or tampered with: whatever stands in it, the answer is a value or words.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import shapely
from shapely import Polygon

#: pieces, and points of one polygon, that are looked at
MAX_PIECES, _MAX_POINTS = 5000, 200_000
#: no number of a layout is larger: kilometres in mm
_LARGEST = 1e7


class LayoutError(ValueError):
    """The document is no layout; the text says where and why."""


@dataclass(frozen=True, kw_only=True, eq=False)
class PartTold:
    """A part as the layout has it."""

    name: str
    count: int
    outline: Polygon


@dataclass(frozen=True, kw_only=True, eq=False)
class PieceTold:
    """A piece, of which copy of which part it is, and its shape."""

    id: str
    part: str
    role: str
    copy: int
    shape: Polygon


@dataclass(frozen=True, kw_only=True, eq=False)
class Lies:
    """Where a piece lies on a sheet: mirrored, turned about (0, 0) by degrees, moved; and its shape there."""

    piece: str
    x: float
    y: float
    turn_deg: float
    flipped: bool
    shape: Polygon


@dataclass(frozen=True, kw_only=True, eq=False)
class SheetTold:
    """A sheet, its margin and the gap between its pieces (mm), and what lies on it."""

    stock: str
    number: int
    outline: Polygon
    margin: float
    gap: float
    placed: tuple[Lies, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """A value of the document, and where it stands in it."""

    value: Any
    where: str

    def of(self, key: str) -> "Told":
        """The value of a key of a record.

        Raises
        ------
        LayoutError
            It is no record, or has no such key.
        """
        if not isinstance(self.value, Mapping):
            raise LayoutError(f"{self.where or 'it'} is no record")
        where = f"{self.where}.{key}".lstrip(".")
        if key not in self.value:
            raise LayoutError(f"{where} is missing")
        return Told(self.value[key], where)

    def list(self) -> "list[Told]":
        """The values of a list.

        Raises
        ------
        LayoutError
            It is none.
        """
        if not isinstance(self.value, list):
            raise LayoutError(f"{self.where} is no list")
        return [Told(one, f"{self.where}[{i}]") for i, one in enumerate(self.value)]

    def text(self) -> str:
        """A text.

        Raises
        ------
        LayoutError
            It is none.
        """
        if not isinstance(self.value, str):
            raise LayoutError(f"{self.where} is no text")
        return self.value

    def number(self) -> float:
        """A number that a layout may have.

        Raises
        ------
        LayoutError
            It is none.
        """
        if not _is_number(self.value):
            raise LayoutError(f"{self.where} is no number that a layout has")
        return float(self.value)

    def whole(self) -> int:
        """A whole number.

        Raises
        ------
        LayoutError
            It is none.
        """
        if self.number() != int(self.value):
            raise LayoutError(f"{self.where} is no whole number")
        return int(self.value)

    def yes(self) -> bool:
        """Yes or no.

        Raises
        ------
        LayoutError
            It is neither.
        """
        if not isinstance(self.value, bool):
            raise LayoutError(f"{self.where} is neither true nor false")
        return self.value

    def polygon(self) -> Polygon:
        """A polygon of closed rings, the outside first.

        Raises
        ------
        LayoutError
            It is none, or one that crosses itself.
        """
        rings = [_ring(one) for one in self.list()]
        if not rings or sum(map(len, rings)) > _MAX_POINTS:
            raise LayoutError(f"{self.where} is a polygon without rings, or with too many points")
        found = Polygon(rings[0], rings[1:])
        if not found.is_valid or not found.area > 0:
            x, y = rings[0][0]
            raise LayoutError(f"{self.where} is a polygon that crosses itself or is empty, at {x:g}, {y:g}")
        return found


def parts_told(document: Told) -> list[PartTold]:
    """Every part.

    Raises
    ------
    LayoutError
        They cannot be read.
    """
    return [
        PartTold(
            name=one.of("name").text(), count=one.of("count").whole(), outline=one.of("polygon").polygon()
        )
        for one in document.of("parts").list()
    ]


def pieces_told(document: Told) -> list[PieceTold]:
    """Every piece.

    Raises
    ------
    LayoutError
        They cannot be read, or there are too many.
    """
    several = document.of("pieces").list()
    if len(several) > MAX_PIECES:
        raise LayoutError(f"it has {len(several):,} pieces; {MAX_PIECES:,} are looked at")
    return [
        PieceTold(
            id=one.of("id").text(),
            part=one.of("part").text(),
            role=one.of("role").text(),
            copy=one.of("copy").whole(),
            shape=one.of("polygon").polygon(),
        )
        for one in several
    ]


def sheets_told(document: Told) -> list[SheetTold]:
    """Every sheet with what lies on it.

    Raises
    ------
    LayoutError
        They cannot be read, too much lies on them, or one is of a stock that is not there.
    """
    stocks = {
        one.of("name").text(): (one.of("margin").number(), one.of("gap").number())
        for one in document.of("stocks").list()
    }
    found = []
    left = MAX_PIECES
    for sheet in document.of("sheets").list():
        stock, placed = sheet.of("stock"), sheet.of("placed").list()
        left -= len(placed)
        if stock.text() not in stocks:
            raise LayoutError(f"{stock.where} names a stock that is not there")
        if left < 0:
            raise LayoutError(f"more than {MAX_PIECES:,} pieces lie on its sheets")
        margin, gap = stocks[stock.text()]
        found.append(
            SheetTold(
                stock=stock.text(),
                number=sheet.of("number").whole(),
                outline=sheet.of("outline").polygon(),
                margin=margin,
                gap=gap,
                placed=tuple(map(_lies, placed)),
            )
        )
    return found


def _lies(one: Told) -> Lies:
    return Lies(
        piece=one.of("piece").text(),
        x=one.of("x").number(),
        y=one.of("y").number(),
        turn_deg=one.of("turn_deg").number(),
        flipped=one.of("flipped").yes(),
        shape=one.of("polygon").polygon(),
    )


def _ring(told: Told) -> list[tuple[float, float]]:
    points = told.value
    if not isinstance(points, list) or len(points) < 4:
        raise LayoutError(f"{told.where} is no ring of four points or more")
    for i, point in enumerate(points):
        if not isinstance(point, list) or len(point) != 2 or not all(map(_is_number, point)):
            raise LayoutError(f"{told.where}[{i}] is no point of two numbers")
    return [(float(x), float(y)) for x, y in points]


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and -_LARGEST <= value <= _LARGEST


def same(one: Polygon, other: Polygon, off_mm: float) -> bool:
    """Whether two shapes are one but for so much along their edges."""
    apart = shapely.area(shapely.symmetric_difference(one, other))
    return bool(apart <= off_mm * (one.length + other.length))
