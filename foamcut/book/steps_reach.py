"""What is reached only with the wing off.  mm."""

from foamcut.airframe.values import Surface
from foamcut.book.steps_ground import Ground
from foamcut.flight.values import Aboard, Carried


def wing_over(ground: Ground, one: Aboard) -> Surface | None:
    """The wing that lies over a thing in a body, where no hatch opens above it; None when there is none."""
    for body in ground.facts.inputs.bodies:
        if abs(one.out_mm) > body.width_mm / 2:
            continue
        if body.hatch_mm is not None and body.hatch_mm[0] <= one.at[0] <= body.hatch_mm[1]:
            continue
        for saddle in ground.views[body.name].seats.saddles:
            low, high = saddle.span
            if saddle.upwards and low < one.at[0] < high and one.at[1] < max(z for _, z in saddle.line):
                return saddle.surface
    return None


def batteries_under(ground: Ground, wing: Surface | None = None) -> tuple[Aboard, ...]:
    """Batteries over which a wing lies (None: any wing)."""
    return tuple(
        one
        for one in ground.facts.setup.of(Carried.BATTERY)
        if (over := wing_over(ground, one)) is not None and (wing is None or over.key == wing.key)
    )
