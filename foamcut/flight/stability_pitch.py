"""Whether the elevator can hold the wing at its highest lift, with the balance where it is.  SI.

Method: moments about the centre of gravity at the wing's highest lift coefficient, per dynamic pressure (m3,
nose up positive): the wing's lift at its quarter point (without a tail: at the neutral point), the moment of
its section, the stabiliser with its elevator level; against what the elevator adds at full throw, up to the
stabiliser's own highest lift.  Slope of the stabiliser 2 pi AR / (2 + sqrt(AR^2 + 4)): D. Raymer, Aircraft
Design: A Conceptual Approach, from memory; downwash 2 CL / (pi AR): lifting-line theory.  Limits: lift
grows straight up to the stall; no body, slipstream or ground; one wing and a stabiliser behind it.
"""

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

from foamcut.airframe.values import Build
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.controls_flap import lift_share
from foamcut.flight.controls_shape import Hung, board_mm2, hung
from foamcut.flight.figures import Loaded
from foamcut.flight.lift import Lift
from foamcut.flight.lift_values import surface_slope
from foamcut.flight.neutral import Neutral
from foamcut.flight.planform import Lifting, Planform
from foamcut.flight.stability_elevons import Elevons, elevons_of
from foamcut.flight.stability_tail import Tail

PITCH_WORDS = ("elevator", "elevon")


class Case(NamedTuple):
    """What is not known well: highest lift coefficient, balance along, assumed values; SI, radians."""

    cl: float
    along_m: float
    section_moment: float
    zero_lift_rad: float
    flap_effect: float


@dataclass(frozen=True, kw_only=True)
class Pitch:
    """The moments at the wing's highest lift, m3; `hold` is what the elevator has to give, nose up.

    `full` is what it gives at full throw.  `at_limit`: the stabiliser reaches its own highest lift before.
    """

    hold: float
    full: float
    at_limit: bool

    @property
    def share(self) -> float | None:
        """How much of what the elevator gives is needed; negative: nose down; None where it gives nothing."""
        return self.hold / self.full if self.full > 1e-12 else None


@dataclass(frozen=True, kw_only=True)
class PitchModel:
    """A wing and a stabiliser behind it, or a wing alone, with what moves the nose."""

    plan: Planform
    tail: Tail
    neutral: Neutral
    on_tail: tuple[Hung, ...]
    on_wing: tuple[Hung, ...]
    elevons: Elevons

    def at(self, case: Case, *, size: float = 1.0, throw: float = 1.0, back_m: float = 0.0) -> Pitch:
        """The moments of one case; the stabiliser `size` times as large, throws `throw` times as far.

        `back_m`: the stabiliser so much farther back.
        """
        wing = self.plan.wing
        held = case.cl * (case.along_m - self._wing_place()) * wing.area_m2
        held += case.section_moment * wing.mean_chord_m * wing.area_m2
        full, at_limit = self.elevons.moment_m3(case.along_m) * case.flap_effect * throw, False
        if self.plan.tail is not None and self.tail.pitch_m2 > 0:
            arm = (self.plan.tail.quarter_m + back_m - case.along_m) * self.tail.pitch_m2 * size
            most = highest_lift(self.plan.tail) / self.tail.lean
            level = min(max(self._tail_lift(case), -most), most)
            up = level - self._tail_turn(case) * throw
            at_limit = up < -most
            held -= level * arm
            full += (level - max(up, -most)) * arm
        return Pitch(hold=-held, full=full, at_limit=at_limit)

    def deeper(self, by: float) -> "PitchModel":
        """The same with what moves the nose so many times as deep."""
        on_tail, on_wing = (
            tuple(_deeper(one, by) for one in several) for several in (self.on_tail, self.on_wing)
        )
        made = elevons_of(self.plan.wing, on_wing)
        return replace(self, on_tail=on_tail, on_wing=on_wing, elevons=made)

    def share_of_surface(self) -> float:
        """The largest share of the area of what carries it that moves the nose."""
        shares = [0.0]
        for several in (self.on_tail, self.on_wing):
            board = board_mm2(several[0].surface) if several else 0.0
            shares.append(sum(one.area_mm2 for one in several) / board if board > 0 else 0.0)
        return max(shares)

    def _wing_place(self) -> float:
        return self.neutral.lattice_m if self.plan.tail is None else self.plan.wing.quarter_m

    def _tail_lift(self, case: Case) -> float:
        """Lift coefficient of the stabiliser with its elevator level, at the wing's highest lift."""
        tail, wing = self.plan.tail, self.plan.wing
        assert tail is not None
        body = case.cl / self.neutral.wing_slope + case.zero_lift_rad - math.radians(wing.surface.angle_deg)
        wash = 2 * case.cl / (math.pi * wing.aspect_ratio)
        return surface_slope(tail.aspect_ratio) * (body + math.radians(tail.surface.angle_deg) - wash)

    def _tail_turn(self, case: Case) -> float:
        """By how much full throw changes that lift coefficient."""
        tail = self.plan.tail
        assert tail is not None
        board = board_mm2(tail.surface)
        turned = sum(lift_share((one,), board) * _throw_rad(one) for one in self.on_tail)
        return surface_slope(tail.aspect_ratio) * turned * case.flap_effect / self.tail.lean


def _deeper(one: Hung, by: float) -> Hung:
    return replace(one, control=replace(one.control, chord_mm=by * one.control.chord_mm))


def pitch_model(plan: Planform, tail: Tail, neutral: Neutral) -> PitchModel | None:
    """None for a foreplane, several wings, and where nothing moves the nose or the air has no hold."""
    several_wings = len(plan.all_level) > (1 if plan.tail is None else 2)
    if plan.foreplane or several_wings or neutral.wing_slope <= 0 or plan.wing.aspect_ratio <= 0:
        return None
    on_tail = hung(plan.tail.surface, *PITCH_WORDS) if plan.tail is not None else ()
    if plan.tail is not None and tail.vee:  # whatever moves on a V tail moves the nose
        on_tail = hung(plan.tail.surface)
    on_wing = hung(plan.wing.surface, *PITCH_WORDS)
    if not on_tail and not on_wing:
        return None
    return PitchModel(
        plan=plan,
        tail=tail,
        neutral=neutral,
        on_tail=on_tail,
        on_wing=on_wing,
        elevons=elevons_of(plan.wing, on_wing),
    )


def cases(plan: Planform, now: Loaded, lift: Lift) -> tuple[Case, Case, Case]:
    """As it is likely, at its best, at its worst for the elevator."""
    along, low, high = (mm / 1000 for mm in (now.at[0], now.along_low_mm, now.along_high_mm))
    usual, least, most = lift.cl_max
    effect = ASSUMED["flap_effect"]
    if plan.wing.surface.build is Build.FOLDED:
        moment, zero = ASSUMED["section_moment"], ASSUMED["section_zero_lift"]
        moments = (moment.value, moment.high, moment.low)
        # nose higher at the stall: the stabiliser lifts more, and the elevator has more to overcome
        zeros = tuple(math.radians(one) for one in (zero.value, zero.low, zero.high))
    else:
        moments, zeros = (0.0, 0.0, 0.0), (0.0, 0.0, 0.0)
    return (
        Case(usual, along, moments[0], zeros[0], effect.value),
        Case(least, high, moments[1], zeros[1], effect.high),
        Case(most, low, moments[2], zeros[2], effect.low),
    )


def bounds(model: PitchModel, likely: Case, best: Case, worst: Case) -> tuple[float, float] | None:
    """The least and the most of the share that is needed; None where there is none.

    Method: what each uncertain input does alone from its best to its worst, as independent errors: the root
    of the sum of their squares (J. R. Taylor, An Introduction to Error Analysis, from memory).  All at their
    worst at once is not to be expected.  The least is shown as 0 where the likely share is above 0.
    """
    share = model.at(likely).share
    if share is None:
        return None
    under = over = 0.0
    for name in Case._fields:
        ends = [model.at(likely._replace(**{name: getattr(one, name)})).share for one in (best, worst)]
        off = [one - share for one in ends if one is not None] + [0.0]
        under, over = math.hypot(under, min(off)), math.hypot(over, max(off))
    return min(max(share - under, 0.0), share), share + over


def rows_used(plan: Planform, lift: Lift) -> tuple[str, ...]:
    """The rows of the table of usual values that went in."""
    folded = ("section_moment", "section_zero_lift") if plan.wing.surface.build is Build.FOLDED else ()
    tail = () if plan.tail is None else (_highest_row(plan.tail),)
    return tuple(dict.fromkeys((*lift.assumed, *folded, "flap_effect", *tail)))


def _highest_row(lifting: Lifting) -> str:
    return "cl_max_folded" if lifting.surface.build is Build.FOLDED else "cl_max_flat"


def highest_lift(lifting: Lifting) -> float:
    """The highest lift coefficient of a stabiliser, up or down."""
    return ASSUMED[_highest_row(lifting)].value


def _throw_rad(one: Hung) -> float:
    return math.radians(one.control.throw_deg)
