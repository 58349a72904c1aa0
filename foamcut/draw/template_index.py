"""What stands on which page of a file of templates."""

from dataclasses import dataclass

from foamcut.draw.tiles import Box
from foamcut.flat.outline import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """Where a tile is: its page from 1, its window in the drawing, that window's corner on the page."""

    page: int
    of: str  # part | sheet
    name: str
    row: str
    column: int
    window: Box
    corner: Point
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruled:
    """A part drawn small with its dimensions, and its page from 1."""

    page: int
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SameAs:
    """A part that is not printed, because its mirror image is."""

    name: str
    printed_as: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateIndex:
    """What stands on which page of one file of templates."""

    file: str
    paper: str
    pages: int
    tiles: tuple[Tile, ...]
    ruled: tuple[Ruled, ...]
    same_as: tuple[SameAs, ...]
