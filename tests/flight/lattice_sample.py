"""Wings and tails for lattices and neutral points, of stations (y, x of the leading edge, chord) in m."""

import math
from typing import Any

import numpy as np

from foamcut.airframe.values import Inputs, Role, Surface
from foamcut.flight.figures import Loaded
from foamcut.flight.planform import Lifting, Planform, planform
from foamcut.flight.planform_lifting import lifting
from tests.airframe.flat_sample import rows, surface

Place = tuple[float, float, float]


def level(
    name: str,
    *places: Place,
    role: Role = Role.WING,
    dihedral: tuple[float, ...] = (),
    up: float = 0.0,
    **more: Any,
) -> Surface:
    """A surface by the places of its shadow; along the panels they lie farther apart where it rises."""
    lean = [*dihedral, *[0.0] * (len(places) - len(dihedral))]
    out, several = 0.0, []
    for i, (y, x, chord) in enumerate(places):
        if i:
            out += (y - places[i - 1][0]) / math.cos(math.radians(lean[i - 1]))
        several.append((out * 1000, (x - places[0][1]) * 1000, chord * 1000, lean[i]))
    return surface(name, role, at=(places[0][1] * 1000, up * 1000), stations=rows(name, *several), **more)


def wing(*places: Place, **more: Any) -> Surface:
    return level("wing", *places, **more)


def tail(*places: Place, **more: Any) -> Surface:
    return level("tail", *places, role=Role.STABILISER, **more)


def fin(*places: Place) -> Surface:
    return level("fin", *places, role=Role.FIN)


def plan(*surfaces: Surface) -> Planform:
    made = planform(Inputs(surfaces=surfaces))
    assert made is not None
    return made


def alone(*places: Place, **more: Any) -> Lifting:
    return lifting(wing(*places, **more))


def rectangle(ratio: float) -> Lifting:
    """Of 1 m span."""
    return alone((0, 0, 1 / ratio), (0.5, 0, 1 / ratio))


def oval(ratio: float, count: int = 25) -> Lifting:
    """An ellipse of 2 m span, its middles of chords on a straight line; area 4 / ratio."""
    root = 8 / (math.pi * ratio)
    turns = np.linspace(0, math.pi / 2, count)
    chords = [max(root * math.cos(t), 1e-6) for t in turns]
    return alone(*((math.sin(t), (root - c) / 2, c) for t, c in zip(turns, chords, strict=True)))


#: planforms A, B and C of a wing with a tail: stations of the wing, of the tail, dihedral of the wing's panels
A = ((0, 0, 0.20), (0.5, 0, 0.20)), ((0, 0.62, 0.11), (0.18, 0.62, 0.11)), ()
B = ((0, 0, 0.24), (0.6, 0.02, 0.16)), ((0, 0.62, 0.13), (0.21, 0.64, 0.09)), ()
C = (
    ((0, 0, 0.22), (0.35, 0, 0.22), (0.70, 0.05, 0.14)),
    ((0, 0.60, 0.14), (0.22, 0.63, 0.10)),
    (0.0, 8.0),
)


def layout(which: Any, up: float) -> Planform:
    places, behind, dihedral = which
    return plan(wing(*places, dihedral=dihedral), tail(*behind, up=up))


def loaded(along_mm: float, *, off_mm: float = 0.0, mass_g: float = 700.0) -> Loaded:
    """A model that balances there, give or take."""
    return Loaded(
        mass_g=mass_g,
        low_g=mass_g,
        high_g=mass_g,
        at=(along_mm, 0.0, 0.0),
        along_low_mm=along_mm - off_mm,
        along_high_mm=along_mm + off_mm,
        target_mm=None,
        inertia_kg_m2=(0.0, 0.0, 0.0),
    )
