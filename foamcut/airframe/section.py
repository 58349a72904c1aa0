"""The section of a folded surface at one place along its span, board of true thickness over a spar.

In the plane of the section, mm: c aft from the root's leading edge, n up from the outer paper of the lower
skin.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

from foamcut.airframe import section_nose
from foamcut.airframe.bent import Bent, bent_line, bent_skin, chord_counts, most
from foamcut.airframe.planform import Panel, panels
from foamcut.airframe.section_nose import Anchor, nose_height
from foamcut.airframe.section_skin import Skin, creased_skin
from foamcut.airframe.section_spar import spar_front, spar_height, spar_steps, spar_width
from foamcut.airframe.values import Build, Nose, OverSpar, Surface, TrailingEdge
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

    `stops_mm` says how far along the board from the nose lie the front crease, the rear crease and the end:
    along the outer paper, which stays whole at folds; of a bent skin the spar's edges and the end, along the
    middle of the board (no source).  `lift_mm` is how far a bent skin stands off the spar's top between the
    edges, `least_radius_mm` that of its inner paper.
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
    stops_mm: tuple[float, float, float]
    slopes_deg: tuple[float, float] = (0.0, 0.0)
    lift_mm: float = 0.0
    least_radius_mm: float = math.inf
    nose_outer: tuple[Point, ...] = ()
    nose_inner: tuple[Point, ...] = ()

    @property
    def bevel_deg(self) -> float:
        """Angle from square of the bevel that feathers the upper skin's inner face; 0: there is none."""
        return 90.0 - self.slopes_deg[1] if self.slopes_deg[1] else 0.0

    @property
    def bevel_mm(self) -> float:
        """How wide that bevel is on the slant: what lies on the lower skin; 0 of a flat surface."""
        return self.thickness_mm / math.sin(math.radians(self.slopes_deg[1])) if self.slopes_deg[1] else 0.0

    @property
    def bevel_run_mm(self) -> float:
        """How much of the upper skin's inner paper that bevel takes; 0 of a flat surface."""
        return self.thickness_mm / math.tan(math.radians(self.slopes_deg[1])) if self.slopes_deg[1] else 0.0


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
    skin = upper_skin(surface, panel, s_mm)
    slopes = (math.degrees(skin.front), math.degrees(skin.rear))
    nose_outer, nose_inner = section_nose.bend(surface.nose, leading, height, t, skin.front)
    lower = (section_nose.lower_front(surface.nose, leading, height), trailing)
    if nose_outer:
        nose_outer, nose_inner = (*nose_outer[:-1], skin.outer[0]), (*nose_inner[:-1], skin.inner[0])
    behind = [(lower[0], 0.0), (trailing, 0.0), (trailing, t)]
    before = [skin.inner[0]] if surface.nose in _OPEN else reversed(nose_outer[1:-1])
    rear = len(skin.outer) - 1 if surface.trailing_edge is TrailingEdge.BEVELLED else len(skin.outer)
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
        spar=spar_in(surface, panel, s_mm),
        outline=(*behind, *reversed(skin.outer[:rear]), *before),
        thickness_mm=t,
        lower_mm=lower,
        stops_mm=skin.stops_mm,
        slopes_deg=slopes,
        lift_mm=skin.lift_mm,
        least_radius_mm=skin.least_radius_mm,
        nose_outer=nose_outer,
        nose_inner=nose_inner,
    )


_OPEN = (Nose.OPENED, Nose.TWO_SKINS)


def upper_skin(surface: Surface, panel: Panel, s_mm: float) -> Skin:
    """The upper skin at a place.

    Raises
    ------
    ValueError
        A spar's edge is too near to an end for the skin to pass over it.
    """
    if surface.over_spar is OverSpar.CREASED:
        return creased_skin(*_held(surface, panel, s_mm))
    return bent_skin(bent_at(surface, panel, s_mm), _counts(surface))


def bent_at(surface: Surface, panel: Panel, s_mm: float) -> Bent:
    """The line of a bent upper skin at a place."""
    return bent_line(*_held(surface, panel, s_mm))


@lru_cache(maxsize=16)
def _counts(surface: Surface) -> tuple[int, ...]:
    """Chords of each span of a bent skin, the same all along a surface."""
    return most([chord_counts(bent_at(surface, panel, s)) for panel, s in section_places(surface)])


def _held(surface: Surface, panel: Panel, s_mm: float) -> tuple[Anchor, tuple[Point, Point], Point, float]:
    """What holds the upper skin: its start, the spar's upper edges, its end, and the board's thickness."""
    t = surface.material.thickness_mm
    start = section_nose.anchor(surface.nose, panel.leading(s_mm), nose_height(surface), t)
    front, rear, top = spar_in(surface, panel, s_mm)
    return start, ((front, top), (rear, top)), (upper_end(surface, panel, s_mm), t), t


def spar_in(surface: Surface, panel: Panel, s_mm: float) -> tuple[float, float, float]:
    """c of the spar's front and rear face, and n of the skin's inner paper over it."""
    front = spar_front(surface, panel, s_mm)
    top = surface.material.thickness_mm + spar_height(surface, s_mm)
    return front, front + spar_width(surface, panel, s_mm), top


def section_places(surface: Surface) -> tuple[tuple[Panel, float], ...]:
    """Both ends of every panel, and where strips end in it, from the root out."""
    ends = sorted({end for end, _ in spar_steps(surface)})
    return tuple(
        (panel, s)
        for panel in panels(surface)
        for s in (
            panel.first.out_mm,
            *(end for end in ends if panel.first.out_mm < end < panel.last.out_mm),
            panel.last.out_mm,
        )
    )


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
        stops_mm=(0.0, 0.0, c1 - c0),
    )


def upper_length(section: Section) -> float:
    """Length of the upper skin from the nose to its end: the last of its stops."""
    return section.stops_mm[2]


def lower_length(section: Section) -> float:
    """The chord."""
    return section.trailing_mm - section.leading_mm
