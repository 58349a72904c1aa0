"""The joiner plates that carry a wing across the root: their stress, and how far they reach.

mm, N, MPa.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from shapely import LineString, Polygon

from foamcut.airframe.section_spar import spar_height
from foamcut.airframe.spar_joiners import joiner_parts
from foamcut.airframe.values import Build, Surface
from foamcut.flat.drawn import Readings
from foamcut.flat.stock import Stock
from foamcut.flight.strength_stuff import Kind, Level, kind_of

#: beyond any plate
_FAR_MM = 1.0e4


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A joiner plate at the root: its thickness and its height on edge."""

    thickness_mm: float
    height_mm: float

    @property
    def modulus_mm3(self) -> float:
        """Its section modulus on edge, b h^2 / 6."""
        return self.thickness_mm * self.height_mm**2 / 6


@lru_cache(maxsize=64)
def plates(surface: Surface) -> tuple[Plate, ...]:
    """The joiner plates of a folded wing as they are cut; none without a joiner, or without room for it."""
    if surface.joiner is None or surface.build is Build.FLAT:
        return ()
    made = joiner_parts(surface)
    if made.refusals:
        return ()
    found = []
    for part in made.parts:
        if isinstance(part.shape, Readings):
            outline = Polygon([one.at for one in part.shape.points])
            across = outline.intersection(LineString([(0.0, -_FAR_MM), (0.0, _FAR_MM)]))
            found.append(Plate(thickness_mm=part.thickness_mm, height_mm=round(across.length, 6)))
    return tuple(found)


def joiner_stress_mpa(several: tuple[Plate, ...], moment_n_mm: float) -> float | None:
    """Bending stress in plates that carry a moment together, each by its stiffness; None without any.

    Method: of one material and nearly of one height, so that the moment over the sum of their section moduli
    is the stress in each; skins and tape at the gap of the halves are not counted.
    """
    total = sum(one.modulus_mm3 for one in several)
    return moment_n_mm / total if total > 0 else None


def joiner_margin(
    surface: Surface, stocks: Mapping[str, Stock], moment_n_mm: float, level: Level = Level.USUAL
) -> float | None:
    """What plywood bears over the stress in the joiner; None without one, or of another stuff."""
    stress = joiner_stress_mpa(plates(surface), moment_n_mm)
    joiner = surface.joiner
    if (
        stress is None
        or stress <= 0
        or joiner is None
        or kind_of(joiner.material, stocks) is not Kind.PLYWOOD
    ):
        return None
    return level.of("plywood_strength") / stress


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """How far a joiner reaches to each side of the root, the depth of the wing over the spar, half span."""

    reach_mm: float
    depth_mm: float
    half_span_mm: float

    @property
    def depths(self) -> float:
        """The reach in depths of the wing."""
        return self.reach_mm / self.depth_mm

    @property
    def share(self) -> float:
        """The reach as a share of the half span."""
        return self.reach_mm / self.half_span_mm


def reach_of(surface: Surface) -> Reach | None:
    """The reach of a joiner that is made; None without one."""
    if surface.joiner is None or not plates(surface):
        return None
    depth = spar_height(surface, 0.0) + 2 * surface.material.thickness_mm
    return Reach(reach_mm=surface.joiner.length_mm / 2, depth_mm=depth, half_span_mm=surface.half_span_mm)
