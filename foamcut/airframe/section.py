"""The section of a folded surface at one place along its span, board of true thickness over a spar.

In the plane of the section, mm: c aft from the root's leading edge, n up from the outer paper of the lower
skin.
"""

from dataclasses import dataclass

from foamcut.airframe.planform import Panel
from foamcut.airframe.values import Surface
from foamcut.flat.outline import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A section, its upper skin from the nose to the trailing edge.

    `upper_outer` and `upper_inner` are the papers of the upper skin, as many points each, the same indexes
    through the board from each other; `corners` are the indexes of the two creases (empty when bent).
    `turns_deg`: lower nose, upper nose, front crease, rear crease; 0 where there is none.  Folding in is +.
    `spar` is (c of the front face, c of the rear face, n of its top); its foot stands at n = t.
    """

    s_mm: float
    leading_mm: float
    trailing_mm: float
    nose_height_mm: float
    upper_outer: tuple[Point, ...]
    upper_inner: tuple[Point, ...]
    corners: tuple[int, ...]
    turns_deg: tuple[float, float, float, float]
    spar: tuple[float, float, float]
    outline: tuple[Point, ...]  # the whole outside, counter-clockwise from the nose's underside


def section_at(surface: Surface, panel: Panel, s_mm: float) -> Section:
    """The section of a folded or flat surface."""
    raise NotImplementedError
