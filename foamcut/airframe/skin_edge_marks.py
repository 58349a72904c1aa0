"""Marks at the edges of a folded surface's skins: tape, trimming, feathering.

mm, on the flat pattern of `foamcut.airframe.folded_flat`.
"""

import math
from collections.abc import Iterable, Iterator

import numpy as np

from foamcut.airframe.folded_controls import controls_on, open_spans
from foamcut.airframe.folded_flat import FlatSkin, band_mm
from foamcut.airframe.section import section_at
from foamcut.airframe.skin_inner import inner_height
from foamcut.airframe.skin_lines import along_span, line_mark
from foamcut.airframe.values import Nose, TrailingEdge
from foamcut.flat.drawn import DrawnMark, Face
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

#: how far tape reaches over each skin at an edge (common practice, no source)
_TAPE_MM = 12.0
#: glue fills what is less high (common practice, no source)
OPEN_MM = 1.0
#: shorter stretches have a word alone
_WORDS_MM = 80.0


def tape_marks(flat: FlatSkin, key: str) -> Iterator[DrawnMark]:
    """Tape along the leading and the trailing edge, outside."""
    piece = flat.piece
    panel, surface = piece.panel, piece.surface
    ux, uy = (float(v) for v in piece.along)
    band = band_mm(piece) if surface.nose is not Nose.TWO_SKINS else 0.0
    start, end = flat.nose_line
    middle = tuple((x - uy * band / 2, y + ux * band / 2) for x, y in (start, end))
    yield DrawnMark(
        key=f"{key}.tape[0]", kind="tape", face=Face.OUTER, points=middle,
        width_mm=2 * _TAPE_MM + band, text="tape round the nose",
    )  # fmt: skip
    if surface.trailing_edge is TrailingEdge.SINGLE:
        return
    for i, (low, high) in enumerate(_beside_controls(flat)):
        points = tuple(flat.lower_at(panel.trailing(s) - _TAPE_MM / 2, s) for s in (low, high))
        yield DrawnMark(
            key=f"{key}.tape[{i + 1}]", kind="tape", face=Face.OUTER, points=points,
            width_mm=_TAPE_MM, text="tape round the edge" if high - low > _WORDS_MM else "tape",
        )  # fmt: skip


def _beside_controls(flat: FlatSkin) -> Iterable[tuple[float, float]]:
    """The stretches of the trailing edge that no control takes, long enough to tape."""
    low, last = along_span(flat)
    for first, end, _ in open_spans(flat.piece):
        if first - low > _TAPE_MM:
            yield low, first
        low = end
    if last - low > _TAPE_MM:
        yield low, last


def close_marks(flat: FlatSkin, key: str) -> Iterator[DrawnMark]:
    """Strips that close the skins where the upper one ends at a hinge line, high above the lower one.

    The line is the front face of a strip of the same board whose rear face stands on the hinge line.
    """
    piece = flat.piece
    t = piece.thickness_mm
    for i, one in enumerate(controls_on(piece)):
        ends = (one.from_mm, one.to_mm)
        gaps = [inner_height(section_at(piece.surface, piece.panel, s), one.hinge(s)) - t for s in ends]
        if max(gaps) <= OPEN_MM:
            continue
        words = " to ".join(dict.fromkeys(decimal_text(gap) for gap in gaps))
        points = tuple(flat.lower_at(one.hinge(s) - t, s) for s in ends)
        yield line_mark(f"{key}.close[{i}]", points, f"close with a strip {words} mm high, up to the hinge")


def rear_marks(flat: FlatSkin, key: str) -> Iterator[DrawnMark]:
    """Where the upper skin is trimmed, and from where it is feathered; not where it ends at a control."""
    piece = flat.piece
    rail = flat.upper[-1]
    way = rail - flat.upper[-2]
    way = way / np.linalg.norm(way, axis=1, keepdims=True)
    feather = rail - way * np.array([[one.bevel_run_mm] for one in piece.sections])
    stretches = (
        [(-math.inf, math.inf)]
        if piece.surface.trailing_edge is TrailingEdge.SINGLE
        else list(_beside_controls(flat))
    )
    longest = max(
        stretches, key=lambda one: min(one[1], piece.last_mm) - max(one[0], piece.first_mm), default=None
    )
    for i, stretch in enumerate(stretches):
        words = ("trim here when it is closed", "feather from here to the edge")
        if stretch != longest:
            words = ("trim", "feather")
        if piece.surface.trim_mm > 0:
            yield line_mark(f"{key}.trim[{i}]", _part_of(flat, rail, stretch), words[0])
        yield line_mark(f"{key}.feather[{i}]", _part_of(flat, feather, stretch), words[1])


def _part_of(flat: FlatSkin, line: np.ndarray, stretch: tuple[float, float]) -> tuple[Point, ...]:
    """What of a line along the rear edge lies between two places along the span."""
    out = flat.piece.rails[-1, :, 1]
    low, high = max(stretch[0], float(out[0])), min(stretch[1], float(out[-1]))
    # the ends of the span are those of the edge, which may lean out
    low = float(out[0]) if low <= flat.piece.first_mm else low
    high = float(out[-1]) if high >= flat.piece.last_mm else high
    places = [low, *(float(s) for s in out if low < s < high), high]
    return tuple((float(np.interp(s, out, line[:, 0])), float(np.interp(s, out, line[:, 1]))) for s in places)
