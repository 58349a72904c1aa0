"""The folds of a folded surface's skins: at the nose, over the spar, at the hinges of controls.

mm, degrees, on the flat pattern of `foamcut.airframe.folded_flat`.
"""

import math
from dataclasses import dataclass

from foamcut.airframe.folded_controls import controls_on
from foamcut.airframe.folded_flat import FlatSkin, band_mm, nose_turn_deg
from foamcut.airframe.section import Section
from foamcut.airframe.section_turns import true_turn_deg
from foamcut.airframe.skin_outline import hinge_line
from foamcut.airframe.values import Nose
from foamcut.flat.drawn import DrawnFold, DrawnMark, Face, FoldKind, Side
from foamcut.flat.outline import Point

#: board bends through less by itself (common practice, no source)
LEAST_TURN_DEG = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Folds:
    """Folds, and marks where the board only bends."""

    folds: tuple[DrawnFold, ...]
    marks: tuple[DrawnMark, ...] = ()


def nose_fold(flat: FlatSkin, key: str) -> DrawnFold:
    """The fold between the skins of a skin folded from one sheet, root to tip."""
    piece = flat.piece
    nose = piece.surface.nose
    far = nose_turn_deg(piece)
    start, end = flat.nose_line
    key = f"{key}.nose"
    if nose is Nose.STRIPPED:
        return DrawnFold(
            key=key, kind=FoldKind.STRIP, start=start, end=end, turn_deg=90.0,
            band_mm=band_mm(piece), far_turn_deg=far,
        )  # fmt: skip
    if nose is Nose.SCORED:
        return DrawnFold(
            key=key, kind=FoldKind.ROLL, start=start, end=end, turn_deg=far,
            radius_mm=max(band_mm(piece) / math.radians(far), piece.thickness_mm),
        )  # fmt: skip
    start, end = _shared(flat)
    return DrawnFold(key=key, kind=FoldKind.SCORE, start=start, end=end, turn_deg=far, side=Side.DOWN)


def _shared(flat: FlatSkin) -> tuple[Point, Point]:
    """The stretch of the leading edge that both skins of an opened nose share."""
    (x0, y0), (x1, y1) = flat.nose_line
    upper = flat.upper[0]
    ux, uy = float(flat.piece.along[0]), float(flat.piece.along[1])
    low = max(x0 * ux + y0 * uy, float(upper[0] @ flat.piece.along))
    high = min(x1 * ux + y1 * uy, float(upper[-1] @ flat.piece.along))
    return (low * ux, low * uy), (high * ux, high * uy)


def crease_folds(flat: FlatSkin, key: str) -> Folds:
    """The grooves over the spar, or lines where it turns so little that it bends."""
    piece = flat.piece
    folds, marks = [], []
    for i, rail in enumerate(piece.sections[0].corners):
        line = piece.rails[rail]
        along = tuple((line[-1] - line[0]).tolist())
        turn = sum(_turn(one, rail, along) for one in (piece.sections[0], piece.sections[-1])) / 2
        start, end = (tuple(flat.upper[rail, j].tolist()) for j in (0, -1))
        one = f"{key}.over_spar[{i}]"
        if turn < LEAST_TURN_DEG:
            marks.append(
                DrawnMark(key=one, kind="line", face=Face.INNER, points=(start, end), text="bends here")
            )
            continue
        folds.append(DrawnFold(key=one, kind=FoldKind.GROOVE, start=start, end=end, turn_deg=turn))
    return Folds(folds=tuple(folds), marks=tuple(marks))


def _turn(section: Section, rail: int, along: tuple[float, ...]) -> float:
    a, b, c = section.upper_outer[rail - 1 : rail + 2]
    return true_turn_deg(
        (along[0], along[1], along[2]), (b[0] - a[0], b[1] - a[1]), (c[0] - b[0], c[1] - b[1])
    )


def hinge_folds(flat: FlatSkin) -> tuple[DrawnFold, ...]:
    """The hinges of controls: the lower skin's outer paper, the control's edge bevelled on its inner face."""
    made = []
    for one in controls_on(flat.piece):
        low, high = hinge_line(flat, one)
        # from tip to root the control lies to the left
        made.append(
            DrawnFold(
                key=f"{one.control.key}.hinge",
                kind=FoldKind.HINGE,
                start=high,
                end=low,
                turn_deg=0.0,
                bevel_deg=one.bevel_deg,
            )
        )
    return tuple(made)
