"""Wings and tail as the air sees them: areas, spans, mean chords, where they stand.  SI; model axes."""

from dataclasses import dataclass

from foamcut.airframe.values import Inputs, Role
from foamcut.flight.figures import Figures
from foamcut.flight.planform_advice import counted_advice, tail_advice, wing_advice
from foamcut.flight.planform_lifting import Cross, Lifting, lifting
from foamcut.flight.planform_numbers import fin_numbers, tail_numbers, wing_numbers

__all__ = ["Cross", "Lifting", "Planform", "planform", "planform_figures"]


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
    """Wings and tail of an airframe; None when it has no wing, or a wing without a shadow.

    A stabiliser or fin without a shadow is left out: it does nothing.
    """
    several = [lifting(one) for one in inputs.surfaces if len(one.stations) > 1]
    wing = next((one for one in several if one.surface is inputs.wing), None)
    if wing is None or not _is_any(wing):
        return None
    rest = [one for one in several if one is not wing and _is_any(one)]
    tail = next((one for one in rest if one.surface.role is Role.STABILISER), None)
    return Planform(
        wing=wing,
        tail=tail,
        fins=tuple(one for one in rest if one.surface.role is Role.FIN),
        others=tuple(one for one in rest if one is not tail and one.surface.role is not Role.FIN),
    )


def _is_any(one: Lifting) -> bool:
    """Whether it has a shadow of a square millimetre or more."""
    return one.area_m2 >= 1e-6


def planform_figures(plan: Planform) -> Figures:
    """Areas, spans, aspect ratios and mean chords, with advice on the wing's shape and on the tail's."""
    behind = None if plan.foreplane else plan.tail
    return Figures(
        numbers=(
            *wing_numbers(plan.wing),
            *(tail_numbers(plan.tail, plan.wing) if plan.tail else ()),
            *(fin_numbers(plan.fins, plan.wing) if plan.fins else ()),
        ),
        findings=(
            *wing_advice(plan.wing, has_tail=plan.tail is not None),
            *(tail_advice(behind, plan.wing) if behind else ()),
            *counted_advice(plan.others, plan.wing),
        ),
    )
