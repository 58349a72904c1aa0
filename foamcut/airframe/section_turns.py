"""Turns of folds that do not lie square to the plane of a section: those of a swept or tapered surface."""

import math

import numpy as np

from foamcut.airframe.planform import Vector
from foamcut.flat.outline import Point


def true_turn_deg(line: Vector, before: Point, after: Point) -> float:
    """The turn of a fold, degrees, 0 to 180: that of the sheet seen along the fold.

    `line` is the fold's direction, (c, s, n); `before` and `after` are the directions of the sheet in the
    plane of the section, (c, n), on the way to the fold and on the way from it.  Of a fold along s it is the
    angle between the two.

    Method: both directions are laid square to the fold.
    """
    along = np.array(line) / math.hypot(*line)
    a, b = (np.array([way[0], 0.0, way[1]]) for way in (before, after))
    a, b = (way - (way @ along) * along for way in (a, b))
    return math.degrees(math.atan2(float(np.linalg.norm(np.cross(a, b))), float(a @ b)))
