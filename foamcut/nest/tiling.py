"""Puts pieces together that fill their sheets without a rest, as a cut-up board does."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from shapely import Polygon

from foamcut.flat.placement import Placement


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """A piece, grown by half the gap (mitred), in its own coordinates, mm, and how it may lie.

    `turns` are pairs of degrees and whether it is turned over; with `askew` every angle is allowed, and only
    the second number of each pair counts.
    """

    polygon: Polygon
    turns: tuple[tuple[float, bool], ...]
    askew: bool = False


def tile(
    tiles: Sequence[Tile],
    room_mm: tuple[float, float, float, float],
    boards: int,
    tries: int,
    is_stopped: Callable[[], bool] = lambda: False,
) -> tuple[tuple[int, Placement], ...] | None:
    """For each tile its board, from 0, and placement in equal rooms x0, y0, x1, y1; None: none was found."""
    return None
