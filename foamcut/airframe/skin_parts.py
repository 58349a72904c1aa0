"""The skins of a folded surface as parts: one folded sheet, or a lower and an upper skin.  mm."""

import math
from dataclasses import dataclass, replace

import numpy as np

from foamcut.airframe import folded_horns
from foamcut.airframe.folded_flat import FlatSkin, front_c
from foamcut.airframe.folded_piece import Piece
from foamcut.airframe.made import Shell
from foamcut.airframe.skin_folds import crease_folds, hinge_folds, nose_fold
from foamcut.airframe.skin_holes import lower_cutouts, lower_slots, upper_cutouts
from foamcut.airframe.skin_joints import joint_marks
from foamcut.airframe.skin_marks import lower_marks, upper_marks
from foamcut.airframe.skin_outline import Corner, lower_corners, readings, sheet_corners, upper_corners
from foamcut.airframe.skin_shells import shell_of
from foamcut.airframe.values import Inputs, Role
from foamcut.flat.drawn import Cutout, DrawnFold, DrawnMark, DrawnPart, DrawnSlot, Face, Hand, Place, Turns


@dataclass(frozen=True, kw_only=True, eq=False)
class Skin:
    """A skin or a folded sheet: its part and its shape on the model."""

    part: DrawnPart
    shell: Shell


@dataclass(frozen=True, slots=True, kw_only=True)
class _On:
    """What is on a skin."""

    corners: list[Corner]
    folds: tuple[DrawnFold, ...]
    marks: tuple[DrawnMark, ...]
    cutouts: tuple[Cutout, ...]
    slots: tuple[DrawnSlot, ...] = ()


def hand_of(piece: Piece) -> Hand:
    """The hand that is drawn: a fin is one part, everything else a pair."""
    return Hand.NONE if piece.surface.role is Role.FIN else Hand.RIGHT


def folded_sheet(flat: FlatSkin, inputs: Inputs, name: str, key: str, joined: tuple[bool, bool]) -> Skin:
    """Both skins in one sheet."""
    lower, upper = _lower(flat, inputs, key, joined), _upper(flat, inputs, key, joined)
    on = _On(
        corners=sheet_corners(flat),
        folds=(nose_fold(flat, key), *upper.folds, *lower.folds),
        marks=(*lower.marks, *upper.marks),
        cutouts=(*lower.cutouts, *upper.cutouts),
        slots=lower.slots,
    )
    part = _part(flat, on, name, key, lower_place(flat.piece))
    return Skin(part=part, shell=shell_of(part.name, flat.piece, lower=True, upper=True))


def two_skins(
    flat: FlatSkin, inputs: Inputs, name: str, number: str, key: str, joined: tuple[bool, bool]
) -> tuple[Skin, Skin]:
    """A lower and an upper skin of their own, of one section."""
    lower = _lower(flat, inputs, key, joined)
    upper = _moved(flat, _upper(flat, inputs, f"{key}.upper", joined))
    parts = (
        _part(flat, lower, f"{name}-lower{number}", key, lower_place(flat.piece)),
        _part(flat, upper, f"{name}-upper{number}", f"{key}.upper", upper_place(flat)),
    )
    return (
        Skin(part=parts[0], shell=shell_of(parts[0].name, flat.piece, lower=True, upper=False)),
        Skin(part=parts[1], shell=shell_of(parts[1].name, flat.piece, lower=False, upper=True)),
    )


def _lower(flat: FlatSkin, inputs: Inputs, key: str, joined: tuple[bool, bool]) -> _On:
    return _On(
        corners=lower_corners(flat),
        folds=hinge_folds(flat),
        marks=(
            *lower_marks(flat, inputs, key),
            *folded_horns.marks(flat),
            *joint_marks(flat, key, joined, upper=False),
        ),
        cutouts=lower_cutouts(flat, inputs),
        slots=(*lower_slots(flat, inputs), *folded_horns.slots(flat)),
    )


def _upper(flat: FlatSkin, inputs: Inputs, key: str, joined: tuple[bool, bool]) -> _On:
    creases = crease_folds(flat, key)
    return _On(
        corners=upper_corners(flat),
        folds=creases.folds,
        marks=(
            *creases.marks,
            *upper_marks(flat, inputs, key),
            *joint_marks(flat, f"{key}.upper", joined, upper=True),
        ),
        cutouts=upper_cutouts(flat, inputs),
    )


def _part(flat: FlatSkin, on: _On, name: str, key: str, place: Place) -> DrawnPart:
    material = flat.piece.surface.material
    return DrawnPart(
        key=key,
        name=name,
        stock=material.name,
        thickness_mm=material.thickness_mm,
        shape=readings(key, on.corners),
        pair=hand_of(flat.piece),
        face=Face.INNER,
        turns=Turns.QUARTER,
        cutouts=on.cutouts,
        slots=on.slots,
        marks=on.marks,
        place=place,
        folds=on.folds,
        may_be_joined=False,
        kerf_mm=material.kerf_mm,
    )


def lower_place(piece: Piece) -> Place:
    """Where the lower skin's inner face lies."""
    panel, s = piece.panel, piece.first_mm
    at = panel.point(front_c(piece), s, piece.thickness_mm)
    return Place(key=piece.surface.key, at=at, x=panel.aft, y=panel.out)


def _moved(flat: FlatSkin, on: _On) -> _On:
    """An upper skin of its own, moved so that its nose at the root lies at (0, 0)."""
    dx, dy = (0.0 - float(v) for v in flat.upper[0, 0])

    def moved(at: tuple[float, float]) -> tuple[float, float]:
        return at[0] + dx, at[1] + dy

    return replace(
        on,
        corners=[replace(one, at=moved(one.at)) for one in on.corners],
        folds=tuple(replace(one, start=moved(one.start), end=moved(one.end)) for one in on.folds),
        marks=tuple(replace(one, points=tuple(moved(at) for at in one.points)) for one in on.marks),
        cutouts=tuple(replace(one, at=moved(one.at)) for one in on.cutouts),
    )


def upper_place(flat: FlatSkin) -> Place:
    """Where the inner face of an upper skin's first flat lies: its frame on the model and on the board."""
    piece = flat.piece
    outer = piece.panel.points(piece.upper.outer)
    # a flat that is warped lies between its two ends
    along, left = _frame(outer[0, -1] - outer[0, 0], (outer[1] - outer[0])[[0, -1]].mean(axis=0))
    drawn = flat.upper[0, -1] - flat.upper[0, 0]
    ux, uy = (drawn / math.hypot(*drawn)).tolist()
    # the board's x and y in the frame along the nose and to its left
    x, y = ux * along - uy * left, uy * along + ux * left
    inwards = np.cross(x, y)
    at = outer[0, 0] + piece.thickness_mm * inwards
    return Place(key=piece.surface.key, at=_vector(at), x=_vector(x), y=_vector(y))


def _frame(along: np.ndarray, towards: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    u = along / np.linalg.norm(along)
    v = towards - (towards @ u) * u
    return u, v / np.linalg.norm(v)


def _vector(at: np.ndarray) -> tuple[float, float, float]:
    return float(at[0]), float(at[1]), float(at[2])
