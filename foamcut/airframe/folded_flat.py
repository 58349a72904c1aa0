"""The upper skin of a folded surface laid flat in front of its lower skin, as on the board.

The flat pattern, mm: x aft, y out, (0, 0) where the lower skin begins at the root; the inner face up.  The
lower skin lies as on the model, the upper one in front of it, towards -x.
"""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from foamcut.airframe.folded_piece import Piece
from foamcut.airframe.section_nose import nose_band, nose_height
from foamcut.airframe.section_turns import true_turn_deg
from foamcut.airframe.values import Nose, OverSpar
from foamcut.flat.develop import develop, edge_difference
from foamcut.flat.outline import Point

#: a rail laid before the upper skin, parallel to where it begins: it keeps that line as straight as it is
_BEFORE_MM = 20.0


@dataclass(frozen=True, kw_only=True, eq=False)
class FlatSkin:
    """A skin laid flat: `upper` is (n, m, 2), the points of its rails.

    `error_mm` is the largest difference between a length on the model and on the flat pattern, and between
    the trailing edges of both skins, and between a round nose and its roll; `strays_mm` how far a crease or
    an end strays from a straight line.
    """

    piece: Piece
    upper: np.ndarray
    error_mm: float
    strays_mm: float

    def lower_at(self, c: float, s: float) -> Point:
        """Where a place of the lower skin lies."""
        return c - front_c(self.piece), s - self.piece.first_mm

    def upper_at(self, c: float, s: float) -> Point:
        """Where a place of the upper skin lies, told by the c of the middle of its board."""
        cs, xs, ys = self._across(s)
        return float(_between(c, cs, xs)), float(_between(c, cs, ys))

    def _across(self, s: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """c, x and y of every rail at a place along the span."""
        out = self.piece.rails[:, :, 1]
        lines = (self.piece.middle[:, :, 0], self.upper[:, :, 0], self.upper[:, :, 1])
        return tuple(  # type: ignore[return-value]
            np.array([_between(s, out[j], line[j]) for j in range(len(out))]) for line in lines
        )

    @cached_property
    def nose_line(self) -> tuple[Point, Point]:
        """Where the lower skin ends and its fold begins, root to tip."""
        piece = self.piece
        back = front_c(piece) - piece.panel.leading(piece.first_mm)
        first, last = (self.lower_at(piece.panel.leading(s) + back, s) for s in map(piece.lower_end, (0, 1)))
        return first, last


def front_c(piece: Piece) -> float:
    """c at the root where the flat of the lower skin begins: the leading edge, or behind a round nose."""
    return piece.sections[0].lower_mm[0]


def _between(at: float, places: np.ndarray, values: np.ndarray) -> float:
    """A value between those at rising places, straight on beyond the ends."""
    i = int(np.clip(np.searchsorted(places, at) - 1, 0, len(places) - 2))
    span = places[i + 1] - places[i]
    return float(values[i] + (values[i + 1] - values[i]) * ((at - places[i]) / span if span else 0.0))


def band_mm(piece: Piece) -> float:
    """Between the skins on the flat pattern: stripped or rolled board; 0 where one follows the other."""
    surface = piece.surface
    if surface.nose is Nose.STRIPPED:
        return nose_band(surface)
    if surface.nose is not Nose.SCORED:
        return 0.0
    if surface.nose_band_mm is not None:
        return surface.nose_band_mm
    return sum(_rolled_mm(piece)) / 2


def _rolled_mm(piece: Piece) -> tuple[float, float]:
    """What a round nose takes at both ends: the steeper the upper skin rises, the less it turns."""
    # square to the leading edge a swept cylinder is an ellipse; its arc is as long as the chords of its bend
    along = np.array([piece.along[0], piece.along[1], 0.0])
    made = []
    for section in (piece.sections[0], piece.sections[-1]):
        bend = np.array([(c, 0.0, n) for c, n in section.nose_outer])
        steps = np.diff(bend, axis=0)
        flat = np.linalg.norm(steps - np.outer(steps @ along, along), axis=1).sum()
        arc = math.radians(180.0 - section.slopes_deg[0]) * nose_height(piece.surface) / 2
        chords = np.linalg.norm(steps, axis=1).sum()
        # no bend has an outer radius under the thickness of its board
        made.append(max(float(flat * arc / chords), piece.thickness_mm * math.radians(nose_turn_deg(piece))))
    return made[0], made[1]


def _band_error_mm(piece: Piece) -> float:
    """How much shorter or longer than its roll a round nose is at its ends: on the board it is a strip."""
    surface = piece.surface
    if surface.nose is not Nose.SCORED or surface.nose_band_mm is not None:
        return 0.0
    first, last = _rolled_mm(piece)
    return abs(last - first) / 2


def nose_turn_deg(piece: Piece) -> float:
    """The true turn at the nose, the mean of both ends: of a stripped one that at the upper fold."""
    along = (float(piece.along[0]), float(piece.along[1]), 0.0)
    before = (0.0, 1.0) if piece.surface.nose is Nose.STRIPPED else (-1.0, 0.0)
    slopes = [math.radians(one.slopes_deg[0]) for one in (piece.sections[0], piece.sections[-1])]
    return sum(true_turn_deg(along, before, (math.cos(a), math.sin(a))) for a in slopes) / 2


def laid_flat(piece: Piece) -> FlatSkin:
    """A skin laid flat.

    Raises
    ------
    RulingsCross
        It twists too much to be laid flat.
    """
    rails = piece.rails
    before = rails[:1] - np.array([0.0, 0.0, _BEFORE_MM])
    made = develop(np.concatenate([before, rails]))
    flat = made.flat[1:]
    way = _unit(flat[0, -1] - flat[0, 0])
    along = piece.along
    left = np.array([-along[1], along[0]])
    turn = np.stack([along, left], axis=1) @ np.stack([way, [-way[1], way[0]]], axis=0)
    root = rails[0, 0, :2] - np.array([front_c(piece), piece.first_mm])
    foot = (root @ along) * along + band_mm(piece) * left
    upper = (flat - flat[0, 0]) @ turn.T + foot
    creases = range(1, len(rails)) if piece.surface.over_spar is OverSpar.CREASED else (len(rails) - 1,)
    return FlatSkin(
        piece=piece,
        upper=upper,
        error_mm=max(made.error_mm, abs(edge_difference(upper[-1], rails[-1])), _band_error_mm(piece)),
        strays_mm=max(made.straight_mm[j + 1] for j in creases),
    )


def _unit(vector: np.ndarray) -> np.ndarray:
    return np.asarray(vector / math.hypot(*vector))
