"""Where the stuff of flat pieces comes to lie: the middle of each on the model, and how it spreads.  mm.

A piece of a folded or bent part is split over the panels and facets of the part where it stands.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.flat.assembled import Standing
from foamcut.flat.tolerances import PLACES
from foamcut.flat.way import Piece, Role
from foamcut.flight.figures import Vector
from foamcut.flight.weights_boards import Board, boards_of
from foamcut.flight.weights_moments import moments

#: what lies on no panel is looked for when it is more than this share of a piece
_REST = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Lie:
    """The middle of a piece, and the mean squares of the distances of its stuff from it along x, y, z."""

    at: Vector
    spread_mm2: Vector


@dataclass(frozen=True, kw_only=True, eq=False)
class Bit:
    """What of a piece lies on one panel: its shape on the flat part, and the panel's pose as a matrix.

    The middle of its board is `up_mm` over the drawn face, which is behind that face where it is below 0.
    """

    shape: BaseGeometry
    matrix: np.ndarray
    up_mm: float
    thickness_mm: float


def bits_of(piece: Piece, stands: Standing) -> tuple[Bit, ...]:
    """A piece split over the panels of its part; their areas sum to its area.

    A facet of a bend goes before the panel that it was unrolled from.  What lies on neither, as
    the gaps between facets, goes to the nearest.  A doubler lies on the drawn face, all of it outside.
    """
    t = piece.flat.thickness_mm
    up = t / 2 if piece.role is Role.DOUBLER else -t / 2
    split = _split(piece, stands)
    return tuple(
        Bit(shape=shape, matrix=board.matrix, up_mm=up, thickness_mm=t)
        for shape, board in split
        if not shape.is_empty
    )


def lies(several: Sequence[Sequence[Bit]]) -> list[Lie | None]:
    """Where each piece lies, from its bits; None where it has none with an area."""
    flat = [bit for bits in several for bit in bits]
    if not flat:
        return [None] * len(several)
    rows = moments([bit.shape for bit in flat])
    middles, spreads = _placed(rows, flat)
    found: list[Lie | None] = []
    at = 0
    for bits in several:
        here = slice(at, at + len(bits))
        at += len(bits)
        found.append(_together(rows[here, 0], middles[here], spreads[here]))
    return found


def _split(piece: Piece, stands: Standing) -> list[tuple[BaseGeometry, Board]]:
    shape: BaseGeometry = piece.outline.polygon
    boards = boards_of(stands)
    if len(boards.all) == 1:
        return [(shape, boards.panels[0])]
    found = list(_over(shape, boards.facets))
    rest = shape.difference(shapely.union_all(_outlines(boards.facets))) if found else shape
    if piece.role is Role.WHOLE and not found:
        panels: list[tuple[BaseGeometry, Board]] = [(board.outline, board) for board in boards.panels]
    else:
        panels = list(_over(rest, boards.panels))
    found += panels
    if shape.area - sum(bit.area for bit, _ in found) > shape.area * _REST:
        left = rest.difference(shapely.union_all([bit for bit, _ in panels]))
        found += [(bit, _nearest(bit, boards.all)) for bit in shapely.get_parts(left)]
    return found


def _outlines(boards: Sequence[Board]) -> list[Polygon]:
    return [board.outline for board in boards]


def _over(shape: BaseGeometry, boards: Sequence[Board]) -> Iterator[tuple[BaseGeometry, Board]]:
    """What of a shape lies on each of several boards."""
    if boards:
        shared = shapely.intersection(np.array(_outlines(boards)), shape)
        yield from ((bit, board) for bit, board in zip(shared, boards, strict=True) if bit.area > 0)


def _nearest(bit: BaseGeometry, boards: Sequence[Board]) -> Board:
    off = np.round(shapely.distance(np.array(_outlines(boards)), bit), PLACES)
    return boards[int(np.argmin(off))]


def _placed(rows: np.ndarray, bits: Sequence[Bit]) -> tuple[np.ndarray, np.ndarray]:
    """The middle of each bit on the model (n, 3), and the mean squares about it along x, y, z (n, 3)."""
    matrices = np.array([bit.matrix for bit in bits])
    ups = np.array([bit.up_mm for bit in bits])
    thick = np.array([bit.thickness_mm for bit in bits])
    local = np.column_stack([rows[:, 1:3], ups, np.ones(len(bits))])
    middles = np.einsum("nij,nj->ni", matrices, local)[:, :3]
    about = np.zeros((len(bits), 3, 3))
    about[:, 0, 0], about[:, 1, 1] = rows[:, 3], rows[:, 4]
    about[:, 0, 1] = about[:, 1, 0] = rows[:, 5]
    about[:, 2, 2] = thick**2 / 12
    turns = matrices[:, :3, :3]
    return middles, np.einsum("nij,njk,nik->ni", turns, about, turns)


def _together(areas: np.ndarray, middles: np.ndarray, spreads: np.ndarray) -> Lie | None:
    """The middle and the spread of several bits by their areas."""
    if not areas.sum() > 0:
        return None
    share = areas / areas.sum()
    at = share @ middles
    spread = np.maximum(share @ (spreads + (middles - at) ** 2), 0.0)
    return Lie(at=vector(at), spread_mm2=vector(spread))


def vector(values: np.ndarray) -> Vector:
    """Three numbers of an array."""
    x, y, z = (float(value) for value in values)
    return x, y, z
