"""Lines that several marks of a skin share, on the flat pattern of `foamcut.airframe.folded_flat`.  mm."""

from foamcut.airframe.folded_flat import FlatSkin
from foamcut.flat.drawn import DrawnMark, Face
from foamcut.flat.outline import Point


def line_mark(key: str, points: tuple[Point, ...], text: str, face: Face = Face.INNER) -> DrawnMark:
    """A line with words, inside unless told."""
    return DrawnMark(key=key, kind="line", face=face, points=points, text=text)


def along_span(flat: FlatSkin) -> tuple[float, float]:
    """s from where to where a skin reaches."""
    return flat.piece.first_mm, flat.piece.last_mm


def across_lower(flat: FlatSkin, s: float) -> tuple[Point, Point]:
    """From the leading to the trailing edge of the lower skin."""
    panel = flat.piece.panel
    return flat.lower_at(panel.leading(s), s), flat.lower_at(panel.trailing(s), s)
