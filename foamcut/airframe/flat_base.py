"""What a fin stands on: the deck of a body, or a stabiliser.  The side view, mm: x aft, z up."""

from dataclasses import dataclass
from itertools import pairwise

from foamcut.airframe.body_profile import Profile, height_at
from foamcut.airframe.planform import panels
from foamcut.airframe.values import Body, Build, Inputs, Material, Role, Surface
from foamcut.flat.outline import Point

#: a fin whose root is drawn farther above or below a deck was not meant to stand on it
REACH_MM = 25.0
#: from tabs to a hinge line behind them
_TO_HINGE_MM = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Base:
    """The upper face that the root of a fin follows: `line` from front to rear, where tabs go into `into`.

    `spans` are the straight stretches along the model where the board lies under it.  `key` and `words` name
    what it belongs to; `stabiliser` is its name when it is one.
    """

    key: str
    words: str
    line: tuple[Point, ...]
    into: Material
    spans: tuple[tuple[float, float], ...]
    stabiliser: str = ""

    def top(self, x_mm: float) -> float:
        """z of the upper face at a place, before and behind it as at its ends."""
        return height_at(self.line, x_mm)

    def highest(self, x0: float, x1: float) -> float:
        """The highest z between two places."""
        inside = [z for x, z in self.line if x0 <= x <= x1]
        return max(self.top(x0), self.top(x1), *inside) if inside else max(self.top(x0), self.top(x1))


def base_of(fin: Surface, inputs: Inputs) -> Base | None:
    """The highest face within reach under the middle of a fin's root; None: there is none."""
    middle = fin.at[0] + fin.stations[0].chord_mm / 2
    found = [
        *(_deck(body) for body in inputs.bodies),
        *(_stabiliser(one) for one in inputs.surfaces if one.role is Role.STABILISER),
    ]
    near = [
        (round(base.top(middle), 3), -i, base)
        for i, base in enumerate(found)
        if base is not None
        and base.line[0][0] <= middle <= base.line[-1][0]
        and -REACH_MM <= base.top(middle) - fin.at[1] <= min(REACH_MM, fin.half_span_mm / 2)
    ]
    return max(near, key=lambda one: one[:2])[2] if near else None


def _deck(body: Body) -> Base | None:
    if body.deck_mm is None:
        return None
    x0, x1 = body.deck_mm
    line = Profile(body=body).top_line
    corners = [x0, *(x for x, _ in line if x0 < x < x1), x1]
    return Base(
        key=body.key,
        words=f'the deck of "{body.name}"',
        line=line,
        into=body.material,
        spans=tuple(pairwise(corners)),
    )


def _stabiliser(surface: Surface) -> Base | None:
    """One that lies flat across the centre plane."""
    root = surface.stations[0]
    if surface.build is not Build.FLAT or root.dihedral_deg != 0:
        return None
    panel, t = panels(surface)[0], surface.material.thickness_mm
    rear = min(
        (panel.trailing(one.from_mm) - one.chord_mm - _TO_HINGE_MM for one in surface.controls), default=0
    )
    (x0, _, z0), (x1, _, z1) = (panel.point(c, 0.0, t) for c in (0.0, root.chord_mm))
    end = panel.point(rear if surface.controls else root.chord_mm, 0.0, t)[0]
    return Base(
        key=surface.key,
        words=f'"{surface.name}"',
        line=((x0, z0), (x1, z1)),
        into=surface.material,
        spans=((x0, end),) if end > x0 else (),
        stabiliser=surface.name,
    )
