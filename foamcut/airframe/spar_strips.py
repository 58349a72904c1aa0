"""The strips of a folded surface's spar: lengths, ends, where long ones are joined.

mm; c aft, s out, n up from the lower skin's outer paper (`foamcut.airframe.planform`).  Strips are drawn y
along their front edge outwards, x across it aft, their upper face up; their ends run along the chord.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from foamcut.airframe.made import Made
from foamcut.airframe.planform import Panel, Vector, panels
from foamcut.airframe.section_spar import spar_front, spar_of, spar_slope, spar_steps, strip_width
from foamcut.airframe.values import Role, Surface
from foamcut.errors import Refusal
from foamcut.flat.drawn import DrawnPart, Face, Hand, Place, Reading, Readings
from foamcut.flat.placement import rounded
from foamcut.units import decimal_text

#: joints of strips lie so many widths of the spar off that of a skin and those of other layers (common
#: practice, no source)
APART_WIDTHS = 4.0
#: strips are joined at full and half centimetres
_GRID_MM = 5.0
#: the shortest strip worth gluing in, in widths of the spar
_SHORTEST_WIDTHS = 2.0
#: directions that differ by less are one
_SAME = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Neighbouring panels through which a strip runs straight."""

    several: tuple[Panel, ...]

    @property
    def span(self) -> tuple[float, float]:
        """From where to where along the surface."""
        return self.several[0].first.out_mm, self.several[-1].last.out_mm

    def panel(self, s: float) -> Panel:
        """The panel that holds a place."""
        return next((one for one in self.several if s <= one.last.out_mm), self.several[-1])


def runs(surface: Surface) -> tuple[Run, ...]:
    """The surface's panels, those together through which the spar is one straight line."""
    made: list[list[Panel]] = []
    for panel in panels(surface):
        if made and not panel.first_tilt_deg and _straight(surface, made[-1][-1], panel):
            made[-1].append(panel)
        else:
            made.append([panel])
    return tuple(Run(several=tuple(one)) for one in made)


def _straight(surface: Surface, first: Panel, second: Panel) -> bool:
    return abs(spar_slope(surface, first) - spar_slope(surface, second)) <= _SAME


def strip_parts(surface: Surface, joints: Sequence[float]) -> Made:
    """Every strip, layer by layer from the bottom, each from the root out; `joints` are those of the skin."""
    spar = spar_of(surface)
    longest = max((max(board) for board in spar.material.boards_mm), default=math.inf)
    parts: list[DrawnPart] = []
    refusals: list[Refusal] = []
    before: list[float] = []
    for end, layer in sorted(spar_steps(surface), key=lambda step: step[1]):
        own: list[float] = []
        for run in runs(surface):
            stretch = _stretch(surface, run, layer, end)
            if stretch is None:
                continue
            cuts = strip_joints(stretch, _reach(surface, run, longest), spar.width_mm, joints, before)
            if cuts is None:
                text = (
                    f"strips of {decimal_text(stretch[1] - stretch[0])} mm cannot be joined from boards of"
                    f' {decimal_text(longest)} mm ("{spar.material.name}"): take longer boards'
                )
                refusals.append(Refusal(key=spar.key, text=text))
                continue
            own += cuts
            for low, high in pairwise((stretch[0], *cuts, stretch[1])):
                parts.append(_strip(surface, run, layer, (low, high), len(parts) + 1))
        before += own
    return Made(parts=tuple(parts), refusals=tuple(dict.fromkeys(refusals)))


def _stretch(surface: Surface, run: Run, layer: int, end: float) -> tuple[float, float] | None:
    """From where to where a layer runs: its ends are cut square, off the planes in which panels meet."""
    spar = spar_of(surface)
    low, high = run.span
    high = min(high, end)
    if high <= low:
        return None
    foot = surface.material.thickness_mm + (layer - 1) * spar.material.thickness_mm
    faces = (foot, foot + spar.material.thickness_mm)
    low += max(n * math.tan(math.radians(run.several[0].first_tilt_deg)) for n in faces)
    if high == run.span[1]:
        high += min(n * math.tan(math.radians(run.several[-1].last_tilt_deg)) for n in faces)
    return (low, high) if high - low > spar.width_mm / 2 else None


def _reach(surface: Surface, run: Run, longest: float) -> float:
    """How far along the span a strip of a length reaches, its ends cut along the chord."""
    slope = spar_slope(surface, run.several[0])
    widest = max(strip_width(surface, s) for s in run.span)
    return (longest - widest * abs(slope)) / math.hypot(1.0, slope)


def strip_joints(
    stretch: tuple[float, float], longest: float, width: float, skin: Sequence[float], other: Sequence[float]
) -> list[float] | None:
    """Where a strip is cut: as few pieces as fit, near to equal, off the joints of the skin and of others.

    Of all places on a grid that leave pieces that fit, one after another the nearest to equal parts that is
    four spar widths off every joint there is; where there is none, that which is farthest off.  None: no
    place fits.
    """
    low, high = stretch
    taken = [*skin, *other]
    for count in range(math.ceil((high - low) / longest - 1e-9), 40):
        cuts: list[float] = []
        for i in range(1, count):
            start = cuts[-1] if cuts else low
            first = max(start + _SHORTEST_WIDTHS * width, high - (count - i) * longest)
            last = min(start + longest, high - _SHORTEST_WIDTHS * width)
            even = start + (high - start) / (count - i + 1)
            places = [
                _GRID_MM * k for k in range(math.ceil(first / _GRID_MM), math.floor(last / _GRID_MM) + 1)
            ]
            if not places:
                break
            apart = {s: min((abs(s - joint) for joint in taken), default=math.inf) for s in places}
            enough = [s for s in places if apart[s] >= APART_WIDTHS * width]
            most = max(apart.values())
            cuts.append(
                min(enough or [s for s in places if apart[s] == most], key=lambda s: (abs(s - even), s))
            )
        if len(cuts) == count - 1:
            return cuts
    return None


def _strip(surface: Surface, run: Run, layer: int, stretch: tuple[float, float], number: int) -> DrawnPart:
    spar = spar_of(surface)
    low, high = stretch
    panel = run.panel(low)
    slope = spar_slope(surface, panel)
    secant = math.hypot(1.0, slope)
    length = (high - low) * secant
    wide = [strip_width(surface, s) for s in stretch]
    # swept forward its rear edge begins nearer to the root than its front edge: y = 0 lies there
    back = min(0.0, wide[0] * slope)
    corners = (
        (0.0, 0.0 - back),
        (wide[0], wide[0] * slope - back),
        (wide[1], length + wide[1] * slope - back),
        (0.0, length - back),
    )
    start = low + back / secant
    c0 = spar_front(surface, panel, start)
    key = f"{spar.key}.strip[{number - 1}]"
    top = surface.material.thickness_mm + layer * spar.material.thickness_mm
    return DrawnPart(
        key=key,
        name=f"{surface.name}-spar-{number}",
        stock=spar.material.name,
        thickness_mm=spar.material.thickness_mm,
        shape=Readings(
            key=f"{key}.outline",
            points=tuple(
                Reading(key=f"{key}.outline[{i}]", at=(rounded(x), rounded(y)))
                for i, (x, y) in enumerate(corners)
            ),
        ),
        pair=Hand.NONE if surface.role is Role.FIN else Hand.RIGHT,
        face=Face.EITHER,
        place=Place(
            key=spar.key,
            at=panel.point(c0, start, top),
            x=_way(panel, 1.0 / secant, 0.0 - slope / secant),
            y=_way(panel, slope / secant, 1.0 / secant),
        ),
        may_be_joined=False,
        kerf_mm=spar.material.kerf_mm,
    )


def _way(panel: Panel, aft: float, out: float) -> Vector:
    """A direction of the panel in model axes."""
    x, y, z = (aft * a + out * b for a, b in zip(panel.aft, panel.out, strict=True))
    return x, y, z
