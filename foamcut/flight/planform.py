"""Wings and tail as the air sees them: areas, spans, mean chords, where they stand.  SI; model axes."""

from dataclasses import dataclass

from foamcut.airframe.values import Inputs, Role, Surface
from foamcut.flight.figures import Figures


@dataclass(frozen=True, slots=True, kw_only=True)
class Cross:
    """A section across a surface, right half: leading edge (x, y, z) and chord, m; nose up `angle_deg`."""

    leading_m: tuple[float, float, float]
    chord_m: float
    angle_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lifting:
    """One surface, both halves together (a fin: as it is).

    `area_m2` and `span_m` are those of its shadow: in plan, of a fin from the side (its span is its height,
    not doubled).  The mean chord is of that shadow: its length, x of its leading edge, y (fin: 0) and z of
    the place where it lies.  `crosses` from the root out.
    """

    surface: Surface
    area_m2: float
    span_m: float
    aspect_ratio: float
    mean_chord_m: float
    leading_m: float
    out_m: float
    up_m: float
    crosses: tuple[Cross, ...]

    @property
    def quarter_m(self) -> float:
        """x of the quarter point of the mean chord."""
        return self.leading_m + self.mean_chord_m / 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Planform:
    """The wing, the first stabiliser, all fins, and what else is there."""

    wing: Lifting
    tail: Lifting | None
    fins: tuple[Lifting, ...]
    others: tuple[Lifting, ...] = ()

    @property
    def foreplane(self) -> bool:
        """Whether the stabiliser lies before the wing."""
        return self.tail is not None and self.tail.quarter_m < self.wing.quarter_m

    @property
    def all_level(self) -> tuple[Lifting, ...]:
        """All that lifts: wing, stabiliser and others that are no fins."""
        several = (self.wing, self.tail, *self.others)
        return tuple(one for one in several if one is not None and one.surface.role is not Role.FIN)


def planform(inputs: Inputs) -> Planform | None:
    """Wings and tail of an airframe; None when it has no wing."""
    raise NotImplementedError


def planform_figures(plan: Planform) -> Figures:
    """Areas, spans, aspect ratios and mean chords."""
    raise NotImplementedError
