"""What a failed motor does and what the rudder holds: lever, thrust over speed, speed of balance.  SI."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from foamcut.airframe.meets import Disc
from foamcut.flight.controls_flap import lift_share
from foamcut.flight.controls_shape import Hung, board_mm2, hung
from foamcut.flight.figures import Vector
from foamcut.flight.lift_values import surface_slope
from foamcut.flight.planform import Lifting, Planform
from foamcut.flight.power_drives import Drive, Span, row
from foamcut.flight.power_formulas import bladed_share, ideal_power, moving_thrust
from foamcut.flight.stability_tail import is_vee, tail_of

#: no plane is flown faster; without a root below, none is given
_FASTEST_M_S = 100.0
_HALVINGS = 60
#: the row of the speed at which a propeller has no thrust left
END = "thrust_end"
#: the model should be held on its line down to so many times its stall speed (full-size practice for twins,
#: from memory)
LEAST = 1.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Failing:
    """The worst motor to fail: its partner's lever about the centre of gravity, and the rudder's hold.

    `room_mm` is how far in the motors may be moved before propellers come near anything; `hold_m3` is the
    yawing moment of the rudder at full throw over dynamic pressure: (usual, low, high).
    """

    drive: Drive
    lever_m: float
    room_mm: float
    hold_m3: Span


def lever_m(disc: Disc, gravity_mm: Vector) -> float:
    """Yawing moment of a disc's thrust about the centre of gravity, over the thrust; nose left: positive."""
    along, out = disc.middle[0] - gravity_mm[0], disc.middle[1] - gravity_mm[1]
    return (along * disc.forwards[1] - out * disc.forwards[0]) / 1000


def rudder_hold(plan: Planform, gravity_mm: Vector) -> Span:
    """Yawing moment of all rudders at full throw over dynamic pressure, m3; 0 without any.

    Side force = slope of the fin x share of its angle that the rudder turns it x throw, at the quarter point
    of the fin's mean chord.  Of a V tail, whose controls all turn one way then, the part of the boards' force
    that goes sideways.  Source: slope see `surface_slope`, share by thin-aerofoil theory.  Limits: the fin's
    own aspect ratio, no help of body and stabiliser; no bank, no propeller blast.  The usual and the
    low value are without sideslip; the high one is that of a model that has yawed until the fin bears the
    most that a flat plate does.
    """
    effect, most = row("flap_effect"), row("cl_max_flat")
    value = low = high = 0.0
    for fin, area_m2, several in _yawing(plan):
        arm = fin.quarter_m - gravity_mm[0] / 1000
        if area_m2 <= 0 or arm <= 0:
            continue
        lever = area_m2 * arm
        slope = surface_slope(fin.aspect_ratio) * _turned(fin, several)
        value += lever * min(slope * effect.value, most.value)
        low += lever * min(slope * effect.low, most.low)
        high += lever * most.value
    return Span(value, low, high)


def _yawing(plan: Planform) -> Iterator[tuple[Lifting, float, tuple[Hung, ...]]]:
    """Fins, and a V tail: each with the area whose force goes sideways, m2, and what turns it."""
    for fin in plan.fins:
        yield fin, fin.area_m2, hung(fin.surface, "rudder")
    if plan.tail is not None and is_vee(plan.tail):
        sideways = math.sqrt(1 - min(tail_of(plan).lean, 1.0) ** 2)
        yield plan.tail, board_mm2(plan.tail.surface) * 1e-6 * sideways, hung(plan.tail.surface)


def rudders(plan: Planform) -> tuple[Hung, ...]:
    """All that turns the nose to a side."""
    return tuple(one for _, _, several in _yawing(plan) for one in several)


def _turned(fin: Lifting, several: tuple[Hung, ...]) -> float:
    """Angle of the whole fin that the full throw of its rudders is worth, radians."""
    area = board_mm2(fin.surface)
    return sum(lift_share((one,), area) * math.radians(abs(one.control.throw_deg)) for one in several)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """A propeller's thrust over speed: static thrust N, diameter m, density kg/m3.

    `ends_m_s` is the speed at which it has none left; None where pitch or turns are not known.
    """

    static_n: float
    diameter_m: float
    density_kg_m3: float
    ends_m_s: float | None

    def at(self, speed_m_s: float) -> float:
        """The lesser of what a disc of the same power gives and what blades have left."""
        ideal = ideal_power(self.static_n, self.diameter_m, self.density_kg_m3)
        disc = moving_thrust(ideal, self.diameter_m, self.density_kg_m3, speed_m_s)
        if self.ends_m_s is None:
            return disc
        return min(disc, self.static_n * bladed_share(speed_m_s, self.ends_m_s))


def pull_of(drive: Drive, thrust_n: float, density: float) -> Pull:
    """The pull of a motor's propeller; it ends where its pitch speed is known."""
    motor, turning = drive.engine.motor, drive.turning
    return Pull(
        static_n=thrust_n,
        diameter_m=motor.propeller.diameter_mm / 1000 if motor else 0.0,
        density_kg_m3=density,
        ends_m_s=turning.pitch_m_s.value * row(END).value if turning and turning.pitch_m_s else None,
    )


def control_speed(pull: Pull, lever: float, hold_m3: float) -> float | None:
    """Speed at which rudder and thrust balance, m/s: below it the rudder is too weak; None where none is.

    Thrust falls and the rudder's moment grows with speed, so that there is one such speed.
    """

    def over(speed: float) -> float:
        return pull.density_kg_m3 / 2 * speed**2 * hold_m3 - pull.at(speed) * lever

    if pull.static_n <= 0 or lever <= 0:
        return 0.0
    low, high = 0.0, _FASTEST_M_S
    if over(high) < 0:
        return None
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if over(middle) < 0 else (low, middle)
    return high
