"""The centre of gravity, where it shall lie, and what is to be moved so that it lies there.  g and mm."""

from collections.abc import Sequence
from math import fsum

from foamcut.flight.figures import Figures, Item, Loaded, PlaceRow
from foamcut.flight.loading_advice import loading_findings
from foamcut.flight.loading_numbers import loading_numbers
from foamcut.flight.loading_places import place_rows
from foamcut.flight.loading_sums import along_bounds, bounds_of, centre_of, inertia_of, mass_of
from foamcut.flight.loading_target import target_along
from foamcut.flight.planform import Planform
from foamcut.flight.values import Model, Setup


def loaded(items: Sequence[Item], setup: Setup, plan: Planform | None) -> Loaded | None:
    """Mass, centre of gravity and moments of inertia; None when nothing with a place weighs anything.

    The mass is that of all things, its range the sum of the lowest and of the highest; those without a
    place count for it alone.  What was weighed of the whole model, mass or balance, has no range.
    """
    centre = centre_of(items)
    if centre is None:
        return None
    mass, weighed = mass_of(items), setup.weighed
    bounds = [bounds_of(one) for one in items]
    known = weighed.model_mass_g is not None
    low, high = along_bounds(items) if weighed.model_along_mm is None else (centre[0], centre[0])
    return Loaded(
        mass_g=mass,
        low_g=mass if known else fsum(one for one, _ in bounds),
        high_g=mass if known else fsum(one for _, one in bounds),
        at=centre,
        along_low_mm=min(low, centre[0]),
        along_high_mm=max(high, centre[0]),
        target_mm=target_along(setup, plan),
        inertia_kg_m2=inertia_of(items, centre),
    )


def places(
    items: Sequence[Item], now: Loaded, model: Model, setup: Setup, plan: Planform | None
) -> tuple[PlaceRow, ...]:
    """The ways to place what may be moved, as drawn first, with the balance, leads and wire of each.

    Nothing when nothing may be moved.  See `foamcut.flight.loading_places`.
    """
    return place_rows(items, now, model, setup, plan)


def loading_figures(
    items: Sequence[Item],
    now: Loaded,
    rows: Sequence[PlaceRow],
    model: Model,
    setup: Setup,
    plan: Planform | None,
    points_m: Sequence[float] = (),
) -> Figures:
    """Numbers of weight and balance, and advice: what to move by how much, else the smallest ballast.

    `points_m` are the neutral points: nothing is moved to where it would not be stable by them.
    """
    return Figures(
        numbers=loading_numbers(items, now, setup, plan),
        findings=loading_findings(items, now, rows, model, setup, plan, points_m),
    )
