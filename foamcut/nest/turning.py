"""At which angles and on which face nesting lays a part, beside the quarter turns of `foamcut.flat.turning`.

Degrees counter-clockwise, as in `Placement`.
"""

import math
from collections.abc import Sequence

from foamcut.flat.drawn import Face
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.placement import rounded
from foamcut.flat.turning import (
    grain_limits,
    hull_points,
    may_lie_askew,
    roomiest_turn,
    spare,
    upright_turns,
)

__all__ = ["askew_bases", "flips", "grain_limits", "may_lie_askew", "roomiest_turn", "upright_turns"]


def flips(part: Part) -> tuple[bool, ...]:
    """Whether the part may be turned over: only when it does not matter which face lies up.

    What is drawn of a piece turned over is done on the face that lies up then: marks may be, folds and bevels
    would be cut on the wrong face.
    """
    return (False, True) if part.face is Face.EITHER and not (part.folds or part.bevels) else (False,)


def askew_bases(outline: Outline, rooms: Sequence[tuple[float, float]]) -> tuple[float, ...]:
    """A few angles in (0, 90) to try beside the upright one, each with its quarter turns.

    They lay the two longest edges of the hull along the sheet, and the part as roomily as can be into
    each room (width and height, mm) that it does not fit upright.
    """
    hull = hull_points(outline)
    edges = sorted(zip(hull, hull[1:] + hull[:1], strict=True), key=lambda e: -math.dist(*e))
    angles = [_base(-math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))) for a, b in edges[:2]]
    for width, height in rooms:
        if all(left < 0 for left in spare(hull, (0.0, 90.0), width, height)):
            angle = roomiest_turn(outline, width, height)
            if angle is not None:
                angles.append(_base(angle))
    return tuple(dict.fromkeys(angle for angle in angles if angle))


def _base(angle: float) -> float:
    return rounded(angle % 90) % 90
