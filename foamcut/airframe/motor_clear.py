"""What a propeller comes near, by the numbers alone: the side of the body, the ground, other propellers.

mm.  The model as assembled is looked at elsewhere; here is what a number in the design mends.
"""

import math
from itertools import takewhile

from foamcut.airframe.meets import Disc
from foamcut.airframe.motor_places import clearance
from foamcut.airframe.motor_seat import discs_of
from foamcut.airframe.values import Inputs, Motor
from foamcut.findings import Finding, Level
from foamcut.units import mm_text as _mm

#: less than this between propeller and body is a warning (common practice, no source)
CLOSE_MM = 15.0
#: a disc so far before or behind a body does not pass beside it (from memory)
_BESIDE_MM = 5.0


def disc_findings(motor: Motor, inputs: Inputs) -> tuple[Finding, ...]:
    """What is to be said of a motor's disc; of two motors with the later one."""
    discs = discs_of(motor, inputs)
    if not discs:
        return ()
    return (*_body(motor, discs[0], inputs), *_ground(discs[0], inputs), *_others(motor, discs, inputs))


def _body(motor: Motor, disc: Disc, inputs: Inputs) -> tuple[Finding, ...]:
    """A body taken as a rectangle in plan; a disc that lies before or behind it passes it."""
    gap = clearance(motor, inputs) if motor.on_wing else None
    if gap is None or gap >= CLOSE_MM or motor.out_mm is None:
        return ()
    body = inputs.bodies[0]
    along = [one.along_mm for one in body.side]
    if not min(along) - _BESIDE_MM < disc.middle[0] < max(along) + _BESIDE_MM:
        return ()
    hits = round(gap, 3) <= 0
    words = "strikes the side of the body" if hits else f"passes the body {_mm(gap)} away"
    farther = CLOSE_MM - gap
    return (
        Finding(
            code="propeller-close",
            level=Level.STOP if hits else Level.WARNING,
            where=f"{motor.key}.out",
            text=f"the propeller, {_mm(disc.diameter_mm)} across, {words}",
            value=_mm(gap),
            range=f"{_mm(CLOSE_MM)} or more",
            source="common practice, no source",
            mend=(
                f"move the motor {_mm(farther)} farther out, to {_mm(motor.out_mm + farther)}, or take a"
                " smaller propeller"
            ),
        ),
    )


def _ground(disc: Disc, inputs: Inputs) -> tuple[Finding, ...]:
    """A disc that reaches lower than every body: on the belly a blade strikes first."""
    if not inputs.bodies:
        return ()
    belly = min(one.bottom_mm for body in inputs.bodies for one in body.side)
    lower = belly - lowest(disc)
    if lower <= 0:
        return ()
    return (
        Finding(
            code="propeller-close",
            level=Level.NOTE,
            where=disc.key,
            text=(
                f"the propeller of {disc.name} reaches {_mm(lower)} lower than the belly: fold it or stop it"
                " level before landing"
            ),
            value=_mm(0.0 - lower),
            range="above the belly, or a landing gear that lifts the model by more",
            source="from memory",
            mend="take a folding or rubber-held propeller, or a landing gear",
        ),
    )


def lowest(disc: Disc) -> float:
    """z of the lowest point of a disc."""
    return disc.middle[2] - disc.diameter_mm / 2 * math.sqrt(max(0.0, 1 - disc.forwards[2] ** 2))


def _others(motor: Motor, own: tuple[Disc, ...], inputs: Inputs) -> tuple[Finding, ...]:
    """Discs that lie over each other seen from ahead: those of the pair, and of motors before this one."""
    earlier = takewhile(lambda one: one.key != motor.key, inputs.motors)
    pairs = [(own[0], other) for other in own[1:]]
    pairs += [(own[0], other) for one in earlier for other in discs_of(one, inputs)]
    found = []
    for one, other in pairs:
        apart = math.hypot(*(a - b for a, b in zip(one.middle[1:], other.middle[1:], strict=True)))
        gap = apart - (one.diameter_mm + other.diameter_mm) / 2
        if round(gap, 3) < 0:
            found.append(_over(one, other, gap))
    return tuple(found)


def _over(one: Disc, other: Disc, gap: float) -> Finding:
    return Finding(
        code="propeller-close",
        level=Level.WARNING,
        where=one.key,
        text=(
            f"seen from ahead, the propellers of {one.name} and {other.name} lie {_mm(-gap)} over each other"
        ),
        value=_mm(gap),
        range="0 mm or more",
        source="from memory",
        mend="move the motors apart, or take smaller propellers",
    )
