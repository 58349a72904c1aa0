"""Bevels: edges cut on a slope, and where the slope meets the face that loses by it.

The outline is the larger face; the other face ends t tan(angle) inside it.  mm, degrees from square.
`foamcut.flat.bevel_lines` makes bevels.
"""

from dataclasses import dataclass, replace
from typing import Self

from shapely import Polygon

from foamcut.flat import clipping
from foamcut.flat.clipping import Run, clipped
from foamcut.flat.tolerances import ON_EDGE_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Bevel:
    """A bevelled edge.

    `edge` is the edge on the outline, `runs` where the slope meets the smaller face (mitred with adjoining
    bevels), `width_mm` the distance between the two; `back`: the smaller face is the one behind.
    """

    key: str
    angle_deg: float
    back: bool
    width_mm: float
    edge: tuple[Run, ...]
    runs: tuple[Run, ...]

    @property
    def cut_behind(self) -> bool:
        """Whether it is cut on the face behind the drawn one."""
        return self.back

    @staticmethod
    def edge_region(region: Polygon) -> Polygon:
        """What holds the edges of a region: they lie on its outline, their arcs a chord's tolerance off."""
        return region.buffer(ON_EDGE_MM, join_style="mitre")

    def trimmed(self, region: Polygon, edge_region: Polygon | None = None) -> Self | None:
        """The bevel within a region (a section of the part); None when nothing of it lies there.

        `edge_region` is `Bevel.edge_region` of the region, for whoever trims many bevels to it.
        """
        runs = clipped(self.runs, region)
        edge = clipped(self.edge, self.edge_region(region) if edge_region is None else edge_region)
        return replace(self, runs=runs, edge=edge) if runs else None

    def mirrored(self) -> Self:
        """The bevel on the mirror-image part, y -> -y."""
        return replace(self, edge=clipping.mirrored(self.edge), runs=clipping.mirrored(self.runs))
