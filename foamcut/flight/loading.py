"""The centre of gravity, where it shall lie, and what is to be moved so that it lies there.  g and mm."""

from collections.abc import Sequence

from foamcut.flight.figures import Figures, Item, Loaded, PlaceRow
from foamcut.flight.planform import Planform
from foamcut.flight.values import Model, Setup


def loaded(items: Sequence[Item], setup: Setup, plan: Planform | None) -> Loaded | None:
    """Mass, centre of gravity and moments of inertia; None when nothing with a place weighs anything."""
    raise NotImplementedError


def places(
    items: Sequence[Item], now: Loaded, model: Model, setup: Setup, plan: Planform | None
) -> tuple[PlaceRow, ...]:
    """The ways to place what may be moved, as drawn first, with the balance, leads and wire of each."""
    raise NotImplementedError


def loading_figures(
    items: Sequence[Item],
    now: Loaded,
    rows: Sequence[PlaceRow],
    model: Model,
    setup: Setup,
    plan: Planform | None,
) -> Figures:
    """Numbers of weight and balance, and advice: what to move by how much, else the smallest ballast."""
    raise NotImplementedError
