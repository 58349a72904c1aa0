"""The section of a folded surface at one place along its span, board of true thickness over a spar.

In the plane of the section, mm: c aft from the root's leading edge, n up from the outer paper of the lower
skin.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

from foamcut.airframe import section_nose
from foamcut.airframe.planform import Panel
from foamcut.airframe.section_nose import nose_height
from foamcut.airframe.section_skin import Skin, creased_skin
from foamcut.airframe.section_spar import spar_front, spar_height, spar_width
from foamcut.airframe.values import Build, Surface, TrailingEdge
from foamcut.flat.outline import Point

#: of a single trailing edge without a control, how much of the lower skin runs on alone, mm (common
#: practice, no source)
ALONE_MM = 40.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A section, its upper skin from the nose to the trailing edge.

    `upper_outer` and `upper_inner` are the papers of the upper skin, as many points each, the same indexes
    through the board from each other; `corners` are the indexes of the two creases (empty when bent).
    `turns_deg`: lower nose, upper nose, front crease, rear crease; 0 where there is none.  Folding in is +.
    `spar` is (c of the front face, c of the rear face, n of the skin's inner paper over it); its foot stands
    at n = t, its strips are lower between the ends of steps.  `slopes_deg` are those of the upper skin's
    ends, up from the nose and down to the rear.  `nose_outer` and `nose_inner` are the bend of a round nose
    from the lower skin to the upper one, empty for other noses.  `lower_mm` is from where to where along c
    the lower skin is flat.  All angles are those in the plane of the section.
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
    thickness_mm: float
    lower_mm: tuple[float, float]
    slopes_deg: tuple[float, float] = (0.0, 0.0)
    nose_outer: tuple[Point, ...] = ()
    nose_inner: tuple[Point, ...] = ()

    @property
    def bevel_deg(self) -> float:
        """Angle from square of the bevel that feathers the upper skin's inner face."""
        return 90.0 - self.slopes_deg[1]

    @property
    def bevel_mm(self) -> float:
        """How wide that bevel is on the slant; it lies on the lower skin."""
        return self.thickness_mm / math.sin(math.radians(self.slopes_deg[1]))

    @property
    def bevel_run_mm(self) -> float:
        """How much of the upper skin's inner paper that bevel takes."""
        return self.thickness_mm / math.tan(math.radians(self.slopes_deg[1]))


def section_at(surface: Surface, panel: Panel, s_mm: float) -> Section:
    """The section of a folded or flat surface; a flat one is a rectangle.

    Raises
    ------
    ValueError
        It cannot be built: `section_refusals` says so before.
    """
    if surface.build is Build.FLAT:
        return _flat(surface, panel, s_mm)
    t, leading, trailing = surface.material.thickness_mm, panel.leading(s_mm), panel.trailing(s_mm)
    height = nose_height(surface)
    front = spar_front(surface, panel, s_mm)
    rear, top = front + spar_width(surface, s_mm), t + spar_height(surface, s_mm)
    skin = upper_skin(surface, leading, (front, rear, top), upper_end(surface, panel, s_mm))
    slopes = (math.degrees(skin.front), math.degrees(skin.rear))
    nose_outer, nose_inner = section_nose.bend(surface.nose, leading, height, t, skin.front)
    lower = (section_nose.lower_front(surface.nose, leading, height), trailing)
    around = [(lower[0], 0.0), (trailing, 0.0), (trailing, t), *reversed(skin.outer), *reversed(nose_outer)]
    if not nose_outer:
        around.append(skin.inner[0] if surface.nose in _OPEN else (leading, 0.0))
    return Section(
        s_mm=s_mm,
        leading_mm=leading,
        trailing_mm=trailing,
        nose_height_mm=skin.outer[0][1],
        upper_outer=skin.outer,
        upper_inner=skin.inner,
        corners=skin.corners,
        turns_deg=(
            *section_nose.nose_turns(surface.nose, slopes[0]),
            *(slopes if skin.corners else (0.0, 0.0)),
        ),
        spar=(front, rear, top),
        outline=_closed(around),
        thickness_mm=t,
        lower_mm=lower,
        slopes_deg=slopes,
        nose_outer=nose_outer,
        nose_inner=nose_inner,
    )


_OPEN = (section_nose.Nose.OPENED, section_nose.Nose.TWO_SKINS)


def upper_skin(surface: Surface, leading: float, spar: tuple[float, float, float], end_c: float) -> Skin:
    """The upper skin over a spar (c of its faces, n of its top), its outer paper ending at a c."""
    t = surface.material.thickness_mm
    start = section_nose.anchor(surface.nose, leading, nose_height(surface), t)
    return creased_skin(start, ((spar[0], spar[2]), (spar[1], spar[2])), (end_c, t), t)


def upper_end(surface: Surface, panel: Panel, s_mm: float) -> float:
    """c where the upper skin's outer paper ends: the trailing edge, or before what runs on alone."""
    trailing = panel.trailing(s_mm)
    if surface.trailing_edge is TrailingEdge.BEVELLED:
        return trailing
    return trailing - (surface.controls[0].chord_mm if surface.controls else ALONE_MM)


def _flat(surface: Surface, panel: Panel, s_mm: float) -> Section:
    t, c0, c1 = surface.material.thickness_mm, panel.leading(s_mm), panel.trailing(s_mm)
    return Section(
        s_mm=s_mm,
        leading_mm=c0,
        trailing_mm=c1,
        nose_height_mm=t,
        upper_outer=((c0, t), (c1, t)),
        upper_inner=((c0, 0.0), (c1, 0.0)),
        corners=(),
        turns_deg=(0.0, 0.0, 0.0, 0.0),
        spar=(0.0, 0.0, 0.0),
        outline=((c0, 0.0), (c1, 0.0), (c1, t), (c0, t)),
        thickness_mm=t,
        lower_mm=(c0, c1),
    )


def _closed(points: list[Point]) -> tuple[Point, ...]:
    """A ring without points that repeat the one before them."""
    kept = [b for a, b in pairwise([points[-1], *points]) if a != b]
    return tuple(kept)


def upper_length(section: Section) -> float:
    """Length of the upper skin from the nose to its rear end, along its outer paper, which stays whole."""
    return sum(math.dist(a, b) for a, b in pairwise(section.upper_outer))


def lower_length(section: Section) -> float:
    """The chord."""
    return section.trailing_mm - section.leading_mm
