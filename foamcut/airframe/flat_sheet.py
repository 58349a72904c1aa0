"""The flat boards that a surface is cut from: panels that lie in one plane, seen from above.

mm; drawn x runs aft along the chord, y out along the span: c and s of `foamcut.airframe.planform`.  The
drawn face is the upper one, of a fin the left one.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from shapely import Polygon

from foamcut.airframe.planform import Panel, panels
from foamcut.airframe.values import Role, Surface
from foamcut.flat.drawn import Place
from foamcut.flat.outline import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One flat board: neighbouring panels of one dihedral.

    `across`: it holds the right and the left half, mirrored at s = 0.  `start` is (c, s) of its drawn (0, 0),
    the leading edge of its inner end.
    """

    surface: Surface
    panels: tuple[Panel, ...]
    across: bool
    name: str

    @property
    def thickness_mm(self) -> float:
        """That of the board."""
        return self.surface.material.thickness_mm

    @property
    def fin(self) -> bool:
        """Whether it stands on the centre plane."""
        return self.surface.role is Role.FIN

    @property
    def start(self) -> Point:
        """(c, s) of the drawn (0, 0)."""
        first = self.panels[0].first
        return (0.0, 0.0) if first.out_mm == 0 else (first.back_mm, first.out_mm)

    @property
    def stations_mm(self) -> tuple[float, ...]:
        """s of its stations, both ends among them."""
        return (self.panels[0].first.out_mm, *(panel.last.out_mm for panel in self.panels))

    @property
    def tilts_deg(self) -> tuple[float, float]:
        """By how much the inner and the outer end lean outwards on their way up, from square."""
        return self.panels[0].first_tilt_deg, self.panels[-1].last_tilt_deg

    @property
    def ends_mm(self) -> tuple[float, float]:
        """s of the inner and the outer end on the face that reaches farther."""
        low, high = (self.thickness_mm * math.tan(math.radians(tilt)) for tilt in self.tilts_deg)
        return self.stations_mm[0] + min(low, 0.0), self.stations_mm[-1] + max(high, 0.0)

    def panel(self, s_mm: float) -> Panel:
        """The panel at a place along the span, beyond the ends the nearest one."""
        return next((panel for panel in self.panels if s_mm <= panel.last.out_mm), self.panels[-1])

    def leading(self, s_mm: float) -> float:
        """c of the leading edge."""
        return self.panel(s_mm).leading(s_mm)

    def trailing(self, s_mm: float) -> float:
        """c of the trailing edge."""
        return self.panel(s_mm).trailing(s_mm)

    def holds(self, s_mm: float) -> bool:
        """Whether a place along the span lies on it."""
        return self.stations_mm[0] <= s_mm <= self.stations_mm[-1]

    def drawn(self, c_mm: float, s_mm: float) -> Point:
        """A place of the surface as drawn."""
        return c_mm - self.start[0] + 0.0, s_mm - self.start[1] + 0.0

    def half(self, low_mm: float | None = None) -> Polygon:
        """The right half in c and s, from an inner end (None: its own) to the outer one."""
        low, high = self.ends_mm
        low = low if low_mm is None else low_mm
        between = [s for s in self.stations_mm[:-1] if low < s < high]
        first, root = low, self.stations_mm[0]
        if 2 * (self.trailing(low) - self.leading(low)) < self.trailing(root) - self.leading(root):
            first = root  # edges that run together below the root go on square to it
        rear = [(self.trailing(first), low), *((self.trailing(s), s) for s in (*between, high))]
        front = [(self.leading(first), low), *((self.leading(s), s) for s in (*between, high))]
        return Polygon([*rear, *reversed(front)])

    def place(self) -> Place:
        """Where it sits on the model: its drawn face up, of a fin to the left."""
        panel = self.panels[0]
        at = panel.point(*self.start, self.thickness_mm)
        return Place(key=f"{self.surface.key}.at", at=at, x=panel.aft, y=panel.out)


def sheets(surface: Surface) -> tuple[Sheet, ...]:
    """The boards of a surface from the root out: one across the centre plane unless the root has dihedral."""
    several: list[Sequence[Panel]] = [[*panels(surface)]]
    if surface.role is not Role.FIN:
        several = [list(group) for _, group in groupby(panels(surface), lambda one: one.first.dihedral_deg)]
    return tuple(
        Sheet(
            surface=surface,
            panels=tuple(group),
            across=i == 0 and surface.role is not Role.FIN and group[0].first.dihedral_deg == 0,
            name=f"{surface.name}-panel" if i == 0 else f"{surface.name}-panel-{i + 1}",
        )
        for i, group in enumerate(several)
    )
