"""How the model is brought into the air, by where its propellers turn.  Caution, no instruction to do it.

Common practice, no source.
"""

from collections.abc import Iterator, Sequence
from enum import Enum

from foamcut.airframe.motor_seat import discs_of
from foamcut.airframe.values import Inputs
from foamcut.findings import Finding, Level
from foamcut.flight.assumed import PRACTICE
from foamcut.flight.figures import Loaded
from foamcut.flight.lift_values import GRAVITY_M_S2, Lift
from foamcut.flight.planform import Planform
from foamcut.flight.power_drives import Drive
from foamcut.flight.power_hold import LEAST
from foamcut.flight.power_numbers import total_thrust
from foamcut.flight.values import Carried, Setup
from foamcut.units import decimal_text, mm_text

#: what a throw by hand gives, m/s (from memory)
_THROW = (6.0, 9.0)
#: static thrust over weight from which a hand launch leaves something in hand (from memory)
_THRUST = 0.5


class Where(Enum):
    """Where a propeller turns, seen from the hand that launches."""

    NOSE = "nose"
    WING = "wing"
    BEHIND = "behind"
    UNKNOWN = "unknown"


def places(drives: Sequence[Drive], inputs: Inputs, now: Loaded) -> tuple[Where, ...]:
    """Where the propellers turn, each place once, in the order of `Where`."""
    found = {_place(one, inputs, now) for one in drives}
    return tuple(one for one in Where if one in found)


def _place(one: Drive, inputs: Inputs, now: Loaded) -> Where:
    motor = one.engine.motor
    discs = discs_of(motor, inputs) if motor is not None else ()
    if motor is None or not discs:
        return Where.UNKNOWN
    if discs[0].middle[0] > now.at[0]:
        return Where.BEHIND
    return Where.WING if motor.on_wing else Where.NOSE


def launch_findings(
    drives: Sequence[Drive],
    inputs: Inputs,
    setup: Setup,
    plan: Planform | None,
    now: Loaded | None,
    lift: Lift | None,
) -> tuple[Finding, ...]:
    """One note on launching; of a glider only when a throw is likely too slow; none without a wing."""
    if plan is None or now is None or lift is None:
        return ()
    if not drives:
        return tuple(_thrown(plan, lift))
    return (_powered(drives, inputs, setup, now, lift),)


def _thrown(plan: Planform, lift: Lift) -> Iterator[Finding]:
    """A model without motors that stalls faster than it is thrown."""
    stall = lift.stall_m_s[0]
    if round(stall, 2) <= _THROW[1]:
        return
    lighter = 1 - (_THROW[1] / stall) ** 2
    yield Finding(
        code="launch",
        level=Level.NOTE,
        where=plan.wing.surface.key,
        text=f"the stall speed of {decimal_text(stall, 1)} m/s is faster than a throw by hand gives",
        value=f"{decimal_text(stall, 1)} m/s",
        range=f"{decimal_text(_THROW[0])} to {decimal_text(_THROW[1])} m/s",
        source="from memory",
        mend=(
            f"a tow line or a slope with wind, with an experienced helper; or"
            f" {decimal_text(lighter * 100 + 0.5, 0)} % less weight for its wing"
        ),
    )


def _powered(drives: Sequence[Drive], inputs: Inputs, setup: Setup, now: Loaded, lift: Lift) -> Finding:
    wheels = bool(setup.of(Carried.GEAR))
    seen = places(drives, inputs, now)
    thrust = total_thrust(drives)
    ratio = None if thrust is None else thrust.value / (now.mass_g / 1000 * GRAVITY_M_S2)
    at_most = any(one.at_most for one in drives)
    how = "rolling on its landing gear" if wheels else "by hand"
    discs = "discs" if _several(drives) else "disc"
    words = [f"launch {how} with an experienced helper, hands and face clear of the {discs}"]
    words += [_ROLLING.format(discs)] if wheels else [_WORDS[one] for one in seen]
    words += _between(drives, inputs) if Where.WING in seen and not wheels else []
    if ratio is None:
        words.append("thrust is not known: measure it first")
    mend = f"have {decimal_text(LEAST * lift.stall_m_s[0], 1)} m/s, {LEAST} x stall, before it climbs"
    if not wheels and lift.stall_m_s[0] > _THROW[1]:
        throw = decimal_text(_THROW[1])
        slow = f"a throw gives about {throw} m/s and it stalls at more"
        mend = f"{slow}: wait for wind, or take a landing gear; {mend}"
    return Finding(
        code="launch",
        level=Level.NOTE,
        where=drives[0].engine.key,
        text="; ".join(words),
        value=""
        if ratio is None
        else f"thrust {'at most ' if at_most else ''}{decimal_text(ratio, 2)} of weight",
        range="" if wheels else f"{_THRUST} of the weight or more for a hand launch (from memory)",
        source=PRACTICE,
        mend=mend,
    )


_ROLLING = "hold it by the tail, nobody ahead of or beside the {}"
_WORDS = {
    Where.NOSE: "hold it under the wing, behind the propeller",
    Where.WING: "hold it by the body behind the discs, sleeves away from them",
    Where.BEHIND: "a propeller behind passes the hand that throws: throttle up only after it has left it",
    Where.UNKNOWN: "where a propeller turns is not in the design: look which way the hand leaves it",
}


def _several(drives: Sequence[Drive]) -> bool:
    return sum(one.engine.count for one in drives) > 1


def _between(drives: Sequence[Drive], inputs: Inputs) -> list[str]:
    """How much room there is between the propellers of a pair, for the hand at the body."""
    gaps = []
    for one in drives:
        motor = one.engine.motor
        discs = discs_of(motor, inputs) if motor is not None and motor.on_wing else ()
        if len(discs) == 2:
            gaps.append(discs[0].middle[1] - discs[1].middle[1] - discs[0].diameter_mm)
    return [f"there are {mm_text(min(gaps), 0)} between them for body and hand"] if gaps else []
