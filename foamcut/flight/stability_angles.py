"""The angle of the wing above that of the stabiliser behind it.  Degrees."""

from foamcut.findings import Finding, Level
from foamcut.flight.figures import Figures, Group, Number
from foamcut.flight.planform import Planform
from foamcut.units import decimal_text

#: usual angles of the wing above the stabiliser; outside of which it is told, and warned of (from memory)
_USUAL, _TOLD, _WARNED = (0.0, 3.0), (-1.0, 3.0), (-1.0, 4.0)
_SOURCE = "from memory"


def angle_figures(plan: Planform) -> Figures:
    """How much more nose up the wing is set than its stabiliser, with advice; nothing without one behind it.

    Both angles are those of the design: of a folded wing that of its underside, of a flat one of its board.
    Limits: washout, thrust line and downwash are not counted; a foreplane has its own advice.
    """
    if plan.tail is None or plan.foreplane:
        return Figures()
    angle = plan.wing.surface.angle_deg - plan.tail.surface.angle_deg
    number = Number(
        name="incidence",
        title="angle of the wing above the stabiliser's",
        value=angle,
        unit="deg",
        group=Group.STABILITY,
        usual=f"{_words(_USUAL)} ({_SOURCE})",
        source="the design",
    )
    found = _odd(plan, angle)
    return Figures(numbers=(number,), findings=() if found is None else (found,))


def _words(ends: tuple[float, float]) -> str:
    return f"{ends[0]:g} to {ends[1]:g} deg"


def _odd(plan: Planform, angle: float) -> Finding | None:
    shown = round(angle, 3)
    if plan.tail is None or _TOLD[0] <= shown <= _TOLD[1]:
        return None
    wing, tail = plan.wing.surface, plan.tail.surface
    high = angle > _TOLD[1]
    what = (
        "it flies with its tail high and its nose down, and pitches up with speed"
        if high
        else "the balance has to lie far back, or the elevator holds the nose up all the time"
    )
    aim = _USUAL[1] if high else _USUAL[0]
    degrees = decimal_text(aim + tail.angle_deg, 1)
    turned = decimal_text(abs(angle - aim), 1)
    way = "more" if high else "less"
    return Finding(
        code="incidence",
        level=Level.NOTE if _WARNED[0] <= shown <= _WARNED[1] or not high else Level.WARNING,
        where=f"{wing.key}.angle",
        text=f"the wing is set {decimal_text(abs(angle), 1)} deg {'above' if angle > 0 else 'below'} the"
        f" stabiliser: {what}",
        value=f"{decimal_text(angle, 1)} deg",
        range=_words(_USUAL),
        source=_SOURCE,
        mend=f"angle = {degrees} for the wing, or the stabiliser {turned} deg {way} nose up",
    )
