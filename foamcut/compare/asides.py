"""What of two versions of a part differs beside its shape: what bars the old one, what does not matter."""

import math
from collections.abc import Iterator

from foamcut.compare.placed import Ruler
from foamcut.flat.drawn import Face, Grain, Place
from foamcut.flat.part import Part
from foamcut.flat.tolerances import EDGES_AGREE_MM, ROUNDING_MM, THICKNESS_AGREES_MM
from foamcut.units import decimal_text

#: directions of a place that differ by less are one
_TURNED = 1e-3


def bars(old: Part, new: Part) -> Iterator[str]:
    """Why the old part cannot serve as the new one whatever its shape."""
    if abs(old.thickness_mm - new.thickness_mm) > THICKNESS_AGREES_MM + ROUNDING_MM:
        before, after = (decimal_text(one.thickness_mm, 2) for one in (old, new))
        yield f"its board is {after} mm thick, it was {before} mm"
    elif old.stock != new.stock:
        yield f"it is cut from {new.stock}, it was from {old.stock}"
    if new.grain is not Grain.ANY and new.grain is not old.grain:
        yield f"its {new.grain.value} has to lie along the grain"
    if old.face is not new.face and _is_worked(new) and _is_worked(old):
        yield f"it is drawn on its {_face(new.face)}, it was on its {_face(old.face)}"


def asides(old: Part, new: Part, ruler: Ruler) -> Iterator[str]:
    """What differs and does not matter for a part that is cut, each as the end of a sentence."""
    if old.name != new.name:
        yield f"it was called {old.name}, write the new name on it"
    thick = abs(old.thickness_mm - new.thickness_mm)
    if ROUNDING_MM < thick <= THICKNESS_AGREES_MM + ROUNDING_MM:
        yield f"its board differs by {decimal_text(thick, 2)} mm, which does not matter"
    if old.face is not new.face and not (_is_worked(new) and _is_worked(old)):
        yield f"its drawn face is now {_face(new.face)}"
    if old.hand is not new.hand:
        yield f"its hand is now {new.hand.value}"
    if _at(old) != _at(new):
        yield "its label stands elsewhere"
    yield from _stands(old.place, new.place, ruler)
    if old.joint_lines != new.joint_lines:
        yield "its joint lines differ, joints that are glued may stay"


def _is_worked(part: Part) -> bool:
    return bool(part.folds or part.bevels or part.marks)


def _face(face: Face) -> str:
    return "either face" if face is Face.EITHER else f"{face.value} face"


def _at(part: Part) -> tuple[float, float, float] | None:
    return (*part.label.at, part.label.turn_deg) if part.label else None


def _stands(old: Place | None, new: Place | None, ruler: Ruler) -> Iterator[str]:
    if old is None or new is None:
        return
    far = math.dist(old.at, new.at)
    if far > EDGES_AGREE_MM:
        yield f"it stands {ruler.length(far)} from where it stood on the model"
    if max(math.dist(old.x, new.x), math.dist(old.y, new.y)) > _TURNED:
        yield "it stands at another angle on the model"
