"""The model as closed surfaces: every part that has a place, its board of true thickness, folded and bent.

mm; model axes: x aft, y right, z up.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foamcut.airframe.made import Shell
from foamcut.flat.assembled import Grid, Standing, all_standing
from foamcut.flat.part import Part


@dataclass(frozen=True, kw_only=True, eq=False)
class Mesh:
    """A part's surface: `vertices` (n, 3) mm, `triangles` (m, 3) indexes, counter-clockwise from outside."""

    name: str
    stock: str
    vertices: np.ndarray
    triangles: np.ndarray


def assembled(parts: Sequence[Part], shells: Sequence[Shell]) -> tuple[Standing, ...]:
    """Every part that has a place, where it stands."""
    return all_standing(parts, {shell.part: Grid(shell.outer, shell.inner) for shell in shells})


def model_meshes(parts: Sequence[Part], shells: Sequence[Shell]) -> tuple[Mesh, ...]:
    """The surface of every part that has a place, in the order of the parts; each is closed.

    A part with a shell has that shape, with its openings cut; any other its panels, folded up.
    """
    return tuple(
        Mesh(name=one.part.name, stock=one.part.stock, vertices=one.triangles[0], triangles=one.triangles[1])
        for one in assembled(parts, shells)
    )
