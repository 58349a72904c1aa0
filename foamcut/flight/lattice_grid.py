"""Where the horseshoe vortices of a lattice lie, and where the air must not go through.  m, right half.

All surfaces share the places across the span at which their strips meet.  So a surface behind another has its
control points half-way between the legs that trail from the one before it, at whatever height it stands: the
air drawn from the wake changes smoothly when it comes down into the wake and through it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from foamcut.flight.planform import Lifting

#: the outermost line of vortices lies this share of a strip inside the tip; with it an even lattice comes
#: near its limit with few strips (Hough, 1973: a quarter; from memory, seen again in the tests)
TIP_INSET = 0.25
#: a tip nearer to another than this share of a strip has no strip of its own: the last one reaches as far
_ONE_STRIP = 0.5
#: a kink nearer to another line than this share of a strip is rounded off
_ROUNDED = 1.0
#: a chord is no shorter than this share of the longest, or rows of a pointed tip would fall together
_LEAST_CHORD = 1e-4


@dataclass(frozen=True, kw_only=True, eq=False)
class Lattice:
    """The panels of all surfaces.

    `nodes` (n, 3): the ends of bound vortices, from each a leg trails straight aft; `inner` and `outer` (p,)
    are which of them bound each panel's vortex.  `points` (p, 3): where the flow is along the surface,
    `normals` (p, 3): square to it.
    """

    nodes: np.ndarray
    inner: np.ndarray
    outer: np.ndarray
    points: np.ndarray
    normals: np.ndarray


def lattice(surfaces: Sequence[Lifting], *, strips: int, rows: int, inset: float = TIP_INSET) -> Lattice:
    """The panels of surfaces: `strips` across the widest half, `rows` along each chord, all even.

    Each section is laid level at the height of the quarter point of its chord: its angle turns the lift, and
    neither the slope of the lift nor the neutral point.  Surfaces whose shadow has no width are left out.
    """
    several = [one for one in surfaces if _tip(one) > 0]
    if not several:
        raise ValueError("a lattice needs a surface with a shadow")
    own = _lines(several, strips, inset)
    made = [_panels(one, own[_tip(one)], rows) for one in several]
    before = np.cumsum([0, *(len(one.nodes) for one in made)])
    return Lattice(
        nodes=np.concatenate([one.nodes for one in made]),
        inner=np.concatenate([one.inner + first for one, first in zip(made, before, strict=False)]),
        outer=np.concatenate([one.outer + first for one, first in zip(made, before, strict=False)]),
        points=np.concatenate([one.points for one in made]),
        normals=np.concatenate([one.normals for one in made]),
    )


def _tip(one: Lifting) -> float:
    return one.crosses[-1].leading_m[1]


def _lines(surfaces: Sequence[Lifting], strips: int, inset: float) -> dict[float, np.ndarray]:
    """Where strips meet, from the centre plane out, for surfaces with each tip: even between tips and kinks.

    They are the same for all but the outermost of surfaces whose tips lie close together.
    """
    tips = sorted({_tip(one) for one in surfaces})
    kinks = sorted({cross.leading_m[1] for one in surfaces for cross in one.crosses[1:-1]})
    step = tips[-1] / strips
    lines, own = [0.0], {}
    for tip in tips:
        if len(lines) > 1 and _strips(tip - lines[-1], step) < inset + _ONE_STRIP:
            own[tip] = np.array([*lines[:-1], tip - inset * (lines[-1] - lines[-2])])
            continue
        for kink in kinks:
            if _strips(kink - lines[-1], step) > _ROUNDED < _strips(tip - kink, step) - inset:
                lines += _even(lines[-1], kink, step)
        count = max(1, round(_strips(tip - lines[-1], step) - inset))
        width = (tip - lines[-1]) / (count + inset)
        lines += [lines[-1] + width * (i + 1) for i in range(count)]
        own[tip] = np.array(lines)
    return own


def _strips(length: float, step: float) -> float:
    """How many strips a length is, rounded so that machines agree on which side of a limit it lies."""
    return round(length / step, 6)


def _even(first: float, last: float, step: float) -> Iterable[float]:
    count = max(1, round(_strips(last - first, step)))
    return [first + (last - first) * (i + 1) / count for i in range(count)]


def _panels(one: Lifting, lines: np.ndarray, rows: int) -> Lattice:
    """The panels of one surface over the strips between lines, row after row."""
    shade = np.cos(np.radians(one.crosses[0].angle_deg))
    sink = np.sin(np.radians(one.crosses[0].angle_deg))
    outs = np.maximum.accumulate([cross.leading_m[1] for cross in one.crosses])
    chords = np.array([cross.chord_m for cross in one.crosses])
    chords = np.maximum(chords, _LEAST_CHORD * chords.max())
    backs = np.array([cross.leading_m[0] for cross in one.crosses])
    ups = np.array([cross.leading_m[2] for cross in one.crosses]) - chords * sink / 4

    def at(y: np.ndarray, share: float) -> np.ndarray:
        x = np.interp(y, outs, backs) + share * shade * np.interp(y, outs, chords)
        return np.stack([x, y, np.interp(y, outs, ups)], axis=-1)

    rise = np.diff(np.interp(lines, outs, ups)) / np.diff(lines)
    level = 1 / np.hypot(1, rise)
    normals = np.stack([0 * rise, -rise * level, level], axis=-1)
    first = np.arange(len(lines) - 1)
    return Lattice(
        nodes=np.concatenate([at(lines, (row + 0.25) / rows) for row in range(rows)]),
        inner=np.concatenate([first + row * len(lines) for row in range(rows)]),
        outer=np.concatenate([first + 1 + row * len(lines) for row in range(rows)]),
        points=np.concatenate([_middles(at(lines, (row + 0.75) / rows)) for row in range(rows)]),
        normals=np.concatenate([normals] * rows),
    )


def _middles(places: np.ndarray) -> np.ndarray:
    return (places[:-1] + places[1:]) / 2
