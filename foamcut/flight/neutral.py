"""The neutral point, by the lattice and by the textbook formula.  SI; x aft from the nose of the model."""

from dataclasses import dataclass

from foamcut.flight.figures import Figures, Group, Loaded, Number
from foamcut.flight.lattice import lift_of
from foamcut.flight.neutral_formula import share_by_formula
from foamcut.flight.neutral_layouts import layout_advice
from foamcut.flight.neutral_margin import DRELA, Margin, balance_range_m, margin_of
from foamcut.flight.neutral_margin_advice import margin_advice
from foamcut.flight.planform import Planform

_LATTICE = (
    "vortex lattice of all level surfaces as thin flat plates; a body and a propeller ahead of the balance"
    " move the true point forward and are not in it"
)
_FORMULA = (
    "1/4 + k Vh / (1 + k Sh/S), k = (1 + 2/A)/(1 + 2/Ah) (1 - 4/(A + 2)): M. Drela, Basic Aircraft Design"
    " Rules, MIT, 2006, set right for a tail arm measured from the wing's quarter point"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Neutral:
    """The neutral point by the lattice, by the formula (None without a tail behind the wing), lift slopes.

    `lift_slope` of the whole over the wing's area, `wing_slope` of the wing alone, per radian.
    """

    lattice_m: float
    formula_m: float | None
    lift_slope: float
    wing_slope: float

    @property
    def points_m(self) -> tuple[float, ...]:
        """The point by each method that gives one, the lattice's first."""
        return (self.lattice_m,) if self.formula_m is None else (self.lattice_m, self.formula_m)


def neutral_of(plan: Planform) -> Neutral:
    """The neutral point of wing, tail and what else is level.

    The lattice holds for every layout; the formula for a wing with a tail behind it and nothing else.  What
    neither sees (body, propeller, thick or stalled sections) mostly moves the true point forward.
    """
    whole = lift_of(plan.all_level, area_m2=plan.wing.area_m2)
    alone = whole if len(plan.all_level) == 1 else lift_of([plan.wing], area_m2=plan.wing.area_m2)
    share = None
    if plan.tail is not None and not plan.foreplane and not plan.others:
        share = share_by_formula(plan.wing, plan.tail)
    return Neutral(
        lattice_m=whole.neutral_m,
        formula_m=None if share is None else plan.wing.leading_m + share * plan.wing.mean_chord_m,
        lift_slope=whole.lift_slope,
        wing_slope=alone.lift_slope,
    )


def neutral_figures(
    plan: Planform,
    neutral: Neutral,
    now: Loaded | None,
    *,
    led_to_mm: float | None = None,
    is_bare: bool = False,
) -> Figures:
    """Neutral point, static margin as a range, advice on both, layouts without a tail.

    The margin's value is that of the lattice and the balance as drawn; its range runs from the more forward
    of the two points with the rearmost balance that the masses' ranges allow to the opposite of both.
    `led_to_mm` is where the advice on the target brings the balance, None where there is none; of a bare
    model the margin is no matter of advice.
    """
    margin = margin_of(plan.wing, neutral.points_m, now) if now else None
    return Figures(
        numbers=(*_points(plan, neutral), *_slopes(neutral), *(_margins(margin) if margin else ())),
        findings=(
            *(
                margin_advice(plan, neutral.points_m, margin, now, led_to_mm)
                if margin and now and not is_bare
                else ()
            ),
            *layout_advice(plan, neutral.points_m),
        ),
    )


def _points(plan: Planform, neutral: Neutral) -> tuple[Number, ...]:
    along = [
        _number(
            "neutral_point_lattice",
            "neutral point, behind the nose",
            neutral.lattice_m * 1000,
            "mm",
            _LATTICE,
        )
    ]
    if neutral.formula_m is not None:
        along.append(
            _number(
                "neutral_point_formula",
                "neutral point by the formula, behind the nose",
                neutral.formula_m * 1000,
                "mm",
                _FORMULA,
            )
        )
    shares = [(one - plan.wing.leading_m) / plan.wing.mean_chord_m * 100 for one in neutral.points_m]
    front, back = balance_range_m(plan.wing, neutral.points_m)
    method = f"margins of 15 and 5 % ({DRELA}) to the more forward neutral point"
    return (
        *along,
        _number(
            "neutral_point_share",
            "neutral point, share of the mean chord",
            shares[0],
            "%",
            _LATTICE,
            low=min(shares) if len(shares) > 1 else None,
            high=max(shares) if len(shares) > 1 else None,
        ),
        _number("balance_front", "foremost usual balance, behind the nose", front * 1000, "mm", method),
        _number("balance_back", "rearmost usual balance, behind the nose", back * 1000, "mm", method),
    )


def _slopes(neutral: Neutral) -> tuple[Number, ...]:
    return (
        _number("lift_slope", "slope of the lift of the whole, per radian", neutral.lift_slope, "", _LATTICE),
        _number(
            "wing_lift_slope", "slope of the lift of the wing, per radian", neutral.wing_slope, "", _LATTICE
        ),
    )


def _margins(margin: Margin) -> tuple[Number, ...]:
    return (
        _number(
            "static_margin",
            "static margin, share of the mean chord",
            margin.value * 100,
            "%",
            "from the balance to the lattice's neutral point; range by both methods and the masses' ranges",
            low=margin.low * 100,
            high=margin.high * 100,
            usual=f"+5 to +15 % ({DRELA})",
        ),
    )


def _number(
    name: str,
    title: str,
    value: float,
    unit: str,
    source: str,
    low: float | None = None,
    high: float | None = None,
    usual: str = "",
) -> Number:
    return Number(
        name=name,
        title=title,
        value=value,
        unit=unit,
        group=Group.STABILITY,
        low=low,
        high=high,
        usual=usual,
        source=source,
    )
