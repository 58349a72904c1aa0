"""A design that does not yet say what it carries: its weight and balance are not those of what flies."""

from collections.abc import Iterator, Sequence

from foamcut.findings import Finding, Level
from foamcut.flight.figures import Item, Loaded
from foamcut.flight.loading_move import ends_of
from foamcut.flight.loading_sums import mass_of, placed
from foamcut.flight.planform import Planform
from foamcut.flight.values import Carried, Model, Setup
from foamcut.units import mm_text

#: what so much in the nose does to the balance is told, g
_EACH_G = 100.0
#: all that a design without anything aboard leaves out
_ALL = "whatever is carried"


def left_out(model: Model, setup: Setup) -> tuple[str, ...]:
    """What a model of its kind carries and the design does not name; nothing once its balance was measured.

    A battery with motors; receiver and servos with control surfaces; where there are neither and nothing at
    all is carried, whatever that may be.
    """
    if setup.weighed.model_along_mm is not None:
        return ()
    inputs = model.inputs
    has_motors = bool(inputs.motors) or bool(setup.of(Carried.MOTOR))
    is_steered = any(one.controls for one in inputs.surfaces)
    has_radio = bool(inputs.servos) or bool(setup.of(Carried.RECEIVER, Carried.SERVO))
    found = ["battery"] if has_motors and not setup.of(Carried.BATTERY) else []
    found += ["receiver", "servos"] if is_steered and not has_radio else []
    if not found and not (has_motors or inputs.servos or setup.aboard):
        found = [_ALL]
    return tuple(found)


def bare_findings(
    items: Sequence[Item], now: Loaded, model: Model, setup: Setup, plan: Planform | None
) -> Iterator[Finding]:
    """Said once for all that is left out of an aeroplane."""
    names = left_out(model, setup)
    if not names or plan is None:
        return
    mend = "write it under [[aboard]], each thing with its mass and place"
    ends, mass = ends_of(model, plan), mass_of(placed(items))
    if ends is not None and now.at[0] > ends[0] and mass > 0:
        shift = _EACH_G * (now.at[0] - ends[0]) / (mass + _EACH_G)
        mend += f": 100 g at the nose move the balance {mm_text(shift, 0)} forward"
    yield Finding(
        code="bare-model",
        level=Level.NOTE,
        where="aboard" if setup.aboard else "plan",
        text=f"{_said(names)}: weight and balance are those of the bare model, and so is all that follows",
        mend=mend,
    )


def _said(names: Sequence[str]) -> str:
    if _ALL in names:
        return "nothing that is carried is given"
    *first, last = [f"no {name}" for name in names]
    words = f"{', '.join(first)} and {last}" if first else last
    return f"{words} {'are' if first else 'is'} given"
