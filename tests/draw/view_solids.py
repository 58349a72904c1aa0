"""Closed surfaces for views: boxes, a ball, and the samples' own parts where they stand."""

import math
from functools import cache
from pathlib import Path

import numpy as np

from foamcut.airframe.model import Mesh
from foamcut.design.design import read_design
from foamcut.plan.balancing import Balanced, balance
from foamcut.plan.building import built

ROOT = Path(__file__).resolve().parents[2]


def mesh(name: str, vertices, triangles) -> Mesh:
    return Mesh(
        name=name,
        stock="board",
        vertices=np.array(vertices, dtype=float).reshape(-1, 3),
        triangles=np.array(triangles, dtype=int).reshape(-1, 3),
    )


def block(name: str, low: tuple[float, float, float], high: tuple[float, float, float]) -> Mesh:
    """A box from its lowest to its highest corner."""
    vertices = [(x, y, z) for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])]
    quads = ((0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3))
    return mesh(name, vertices, [t for a, b, c, d in quads for t in ((a, b, c), (a, c, d))])


def ball(name: str, radius: float, rounds: int = 24) -> Mesh:
    """A ball of small facets about (0, 0, 0)."""
    vertices = [(0.0, 0.0, -radius)]
    for i in range(1, rounds):
        t = math.pi * i / rounds
        for k in range(2 * rounds):
            p = math.pi * k / rounds
            ring = radius * math.sin(t)
            vertices.append((ring * math.cos(p), ring * math.sin(p), -radius * math.cos(t)))
    vertices.append((0.0, 0.0, radius))
    n, last = 2 * rounds, len(vertices) - 1
    triangles = []
    for k in range(n):
        m = (k + 1) % n
        triangles += [(0, 1 + m, 1 + k), (last, last - n + k, last - n + m)]
        for i in range(rounds - 2):
            a, b = 1 + i * n, 1 + (i + 1) * n
            triangles += [(a + k, a + m, b + m), (a + k, b + m, b + k)]
    return mesh(name, vertices, triangles)


@cache
def balanced(name: str) -> Balanced:
    """A sample or starter with its balance."""
    path = _path(name)
    return balance(path.read_bytes(), path.name)


@cache
def meshes_of(name: str) -> tuple[Mesh, ...]:
    """The parts of a sample or starter where they stand."""
    from foamcut.airframe.model import model_meshes

    path = _path(name)
    whole = built(read_design(path.read_bytes(), path.name), looked_over=False)
    return model_meshes(whole.parts, whole.shells)


def _path(name: str) -> Path:
    several = [ROOT / "sample_designs" / f"{name}.toml", *ROOT.glob(f"foamcut/design/starters/{name}*.toml")]
    return next(path for path in several if path.exists())
