"""Marks: anything on a part that is not its outline.

A mark has three duties: to check itself in its part and be trimmed to it, to be divided with the part,
and to say what is drawn of it.  A new kind of mark is a new class here.
"""

from dataclasses import dataclass
from typing import Protocol, Self

from shapely import Polygon

from foamcut.flat.drawn import Face
from foamcut.flat.outline import Point, Segment


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkText:
    """Words beside a mark: the middle of their baseline, mm, and their turn."""

    at: Point
    text: str
    turn_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkLines:
    """What is drawn of a mark: runs of segments, words, and the points to prick through from the far face."""

    runs: tuple[tuple[Segment, ...], ...] = ()
    texts: tuple[MarkText, ...] = ()
    prick_points: tuple[Point, ...] = ()


class Mark(Protocol):
    """What every kind of mark can do."""

    @property
    def key(self) -> str: ...  # noqa: D102
    @property
    def face(self) -> Face: ...  # noqa: D102

    @property
    def handed(self) -> bool:
        """Whether it would read wrong on the mirror-image part."""
        ...

    def trimmed(self, region: Polygon) -> Self | None:
        """The mark within a region (the part, or a section of it); None when nothing lies in it."""
        ...

    def mirrored(self) -> Self:
        """The mark on the mirror-image part: y -> -y."""
        ...

    def drawn(self) -> MarkLines:
        """Lines and words in the part's coordinates."""
        ...
