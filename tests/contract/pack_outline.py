"""Reads outlines of the design file: points, the words behind them, and the edges that carry a bevel."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from pack_sums import Measures

WORDS = ("round", "smooth", "through", "bevel", "bevel_back", "name")
_PIECE = re.compile(r"\s+|[a-z][a-z0-9_-]*|\d+\s+\d+/\d+|\d+/\d+|\d+\.\d*|\.\d+|\d+|[-+*/(),%]")
_UNITS = ("mm", "cm", "m", "in", "ft", "deg")
Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """An edge from one point to the next as drawn, without its corners' rounds."""

    start: Point
    end: Point
    through: Point | None = None
    curved: bool = False  # part of a smooth run
    rounds_mm: tuple[float, float] = (0.0, 0.0)
    bevel_deg: float = 0.0
    bevel_back_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    at: Point
    round_mm: float = 0.0
    through: Point | None = None
    smooth: bool = False
    bevel_deg: float = 0.0
    bevel_back_deg: float = 0.0


def edges_of(table: dict[str, Any], measures: Measures) -> tuple[Edge, ...]:
    """Return the edges of a part's outline; none for a circle or a trapezoid."""
    rows = _points(table, measures)
    if not rows:
        return ()
    axis = table.get("mirrored")
    pairs = list(zip(rows, [*rows[1:], rows[0]], strict=True))
    if axis:
        pairs.pop()  # the closing edge lies on the axis
    edges = [
        Edge(
            start=a.at,
            end=b.at,
            through=a.through,
            curved=a.smooth or b.smooth,
            rounds_mm=(a.round_mm, b.round_mm),
            bevel_deg=a.bevel_deg,
            bevel_back_deg=a.bevel_back_deg,
        )
        for a, b in pairs
    ]
    if axis:
        edges += [_mirrored(edge, axis) for edge in reversed(edges)]
    return tuple(edges)


def _points(table: dict[str, Any], measures: Measures) -> list[_Row]:
    outline = table.get("outline")
    if isinstance(outline, str):
        return [_row(row, measures) for row in _rows(outline)]
    if outline is not None:
        return [_Row(at=measures.point_mm(point)) for point in outline]
    if "rectangle" in table:
        width, height = measures.point_mm(table["rectangle"])
        return [_Row(at=at) for at in ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))]
    return []


def _mirrored(edge: Edge, axis: str) -> Edge:
    def over(point: Point) -> Point:
        return (point[0], -point[1]) if axis == "x" else (-point[0], point[1])

    return Edge(
        start=over(edge.end),
        end=over(edge.start),
        through=None if edge.through is None else over(edge.through),
        curved=edge.curved,
        rounds_mm=(edge.rounds_mm[1], edge.rounds_mm[0]),
        bevel_deg=edge.bevel_deg,
        bevel_back_deg=edge.bevel_back_deg,
    )


def flipped(edge: Edge) -> Edge:
    """Return the edge of the other hand, y -> -y."""
    return _mirrored(edge, "x")


def _rows(text: str) -> Iterator[str]:
    for line in text.splitlines():
        for row in line.partition("#")[0].split(";"):
            if row.strip():
                yield row.strip()


def _row(text: str, measures: Measures) -> _Row:
    """Read `x, y` and the words behind; raises ValueError on what is no row."""
    pieces = _pieces(text)
    x = _expression(pieces)
    _comma(pieces)
    y = _expression(pieces)
    found: dict[str, Any] = {}
    while pieces:
        word = pieces.pop(0)
        if word == "smooth":
            found["smooth"] = True
        elif word == "name":
            pieces.pop(0)
        elif word == "round":
            found["round_mm"] = measures.length_mm(_expression(pieces))
        elif word == "through":
            first = _expression(pieces)
            _comma(pieces)
            found["through"] = measures.point_mm((first, _expression(pieces)))
        elif word in ("bevel", "bevel_back"):
            found[f"{word}_deg"] = measures.angle_deg(_expression(pieces))
        else:
            raise ValueError(f"{word!r} in the row {text!r}")
    return _Row(at=measures.point_mm((x, y)), **found)


def _pieces(text: str) -> list[str]:
    pieces, at = [], 0
    while at < len(text):
        match = _PIECE.match(text, at)
        if match is None:
            raise ValueError(f"{text!r} cannot be read at {at}")
        if match[0].strip():
            pieces.append(match[0])
        at = match.end()
    return pieces


def _comma(pieces: list[str]) -> None:
    if not pieces or pieces.pop(0) != ",":
        raise ValueError("a comma is missing")


def _expression(pieces: list[str]) -> str:
    """Take one sum off the front: a word that stands where an operator is due does not belong to it."""
    taken: list[str] = []
    depth, whole = 0, False  # whole: what was taken could end here
    while pieces:
        piece = pieces[0]
        word = piece[0].isalpha()
        if depth == 0 and whole and (piece == "," or (word and piece not in _UNITS)):
            break
        if word and whole and piece in _UNITS and not taken[-1][-1].isdigit():
            break
        depth += (piece == "(") - (piece == ")")
        whole = word or piece in (")", "%") or piece[-1].isdigit() or piece[-1] == "."
        if word and piece in ("min", "max"):
            whole = False
        taken.append(pieces.pop(0))
    return " ".join(taken)
