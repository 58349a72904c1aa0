"""Advice about the balance: off its target or the centre plane, marked elsewhere, not all told.  g, mm."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from foamcut.findings import Finding, Level
from foamcut.flight.assumed import PRACTICE
from foamcut.flight.figures import Item, Loaded, PlaceRow
from foamcut.flight.loading_bare import bare_findings, left_out
from foamcut.flight.loading_lost import lost_findings
from foamcut.flight.loading_mend import mend_words
from foamcut.flight.loading_move import movers
from foamcut.flight.loading_paint import paint_findings
from foamcut.flight.loading_places import MOST_WAYS, place_rows, way_count
from foamcut.flight.loading_sums import mass_of, placed
from foamcut.flight.loading_target import mean_chord_mm, share_at
from foamcut.flight.loading_target import percent_text as _percent
from foamcut.flight.loading_wish import aim_mm, is_usual, wish_findings
from foamcut.flight.planform import Planform
from foamcut.flight.values import Model, Setup
from foamcut.units import MM_PER_M, decimal_text
from foamcut.units import mm_text as _mm

#: off the target by more than these shares of the mean chord: worth a note, doubtful
_NOTE, _WARNING = 0.01, 0.03
#: off the centre plane by more than this is worth a note
_SIDE_MM = 2.0
#: a balance that the masses leave open by less than this is told without its range
_OPEN_MM = 1.0


def loading_findings(
    items: Sequence[Item],
    now: Loaded,
    rows: Sequence[PlaceRow],
    model: Model,
    setup: Setup,
    plan: Planform | None,
    points_m: Sequence[float] = (),
) -> tuple[Finding, ...]:
    """What a builder should know of the balance; of a target only where there is a wing.

    `points_m` are the neutral points, against which the target is held.
    """
    return (
        *bare_findings(items, now, model, setup, plan),
        *wish_findings(now, setup, plan, points_m),
        *_target(items, now, rows, model, setup, plan, points_m),
        *_mark(now, setup, plan, points_m),
        *_side(items, now, plan),
        *lost_findings(items, now, model, plan),
        *paint_findings(items, now, setup, plan),
        *(_ways(model, setup) if len(rows) >= MOST_WAYS else ()),
    )


def _target(
    items: Sequence[Item],
    now: Loaded,
    rows: Sequence[PlaceRow],
    model: Model,
    setup: Setup,
    plan: Planform | None,
    points_m: Sequence[float],
) -> Iterator[Finding]:
    """The balance as drawn off its target; only a note where the masses are too little known to say so.

    Nothing is moved towards a target that is not stable, but to the nearest usual place.
    """
    aim, share = aim_mm(now, plan, points_m), share_at(plan, now.at[0])
    if plan is None or aim is None or share is None:
        return
    off, is_wish = now.at[0] - aim, aim == now.target_mm
    part = round(abs(off) / mean_chord_mm(plan)[1], 6)
    if part <= _NOTE:
        return
    meant = f"where it shall be ({_mm(aim)}, {_percent(share_at(plan, aim))})"
    if not is_wish:
        meant = (
            f"{_mm(aim)} ({_percent(share_at(plan, aim))}), the nearest usual place: its target is not usual"
        )
        now = replace(now, target_mm=aim)
        rows = place_rows(items, now, model, setup, plan)
    side = "behind" if off > 0 else "before"
    low, high = now.along_low_mm, now.along_high_mm
    text = (
        f"the balance lies at {_mm(now.at[0])} along, {_percent(share)} of the mean chord, {_mm(abs(off))}"
        f" {side} {meant}"
    )
    doubtful = low <= aim <= high
    if high - low > _OPEN_MM:
        text += f"; the masses leave {_mm(low)} to {_mm(high)} open"
        text += ", so that it may lie right: weigh what was assumed" if doubtful else ""
    if left_out(model, setup):
        text, doubtful = f"{text}; this is the bare model", True
    yield Finding(
        code="balance-target",
        level=Level.NOTE if part <= _WARNING or doubtful else Level.WARNING,
        where=_where(items, model, setup, plan),
        text=text,
        value=_mm(now.at[0]),
        range=f"within {_percent(_WARNING)} of the mean chord of {'the target' if is_wish else 'it'}",
        source=PRACTICE,
        mend=mend_words(items, now, rows, model, setup, plan),
    )


def _where(items: Sequence[Item], model: Model, setup: Setup, plan: Planform) -> str:
    """What the builder can change: the battery's place, else the target, else the wing's mark."""
    moved = movers(setup, items)
    if moved:
        return f"{moved[0].key}.at"
    if left_out(model, setup):
        return "aboard" if setup.aboard else "plan"
    target = setup.wishes.target
    return target.key if target is not None else f"{plan.wing.surface.key}.balance"


def _mark(now: Loaded, setup: Setup, plan: Planform | None, points_m: Sequence[float]) -> Iterator[Finding]:
    """A target at another place than the balance mark on the wing; nothing of a target that has to change."""
    wish = None if now.target_mm is None else share_at(plan, now.target_mm)
    if plan is None or setup.wishes.target is None or now.target_mm is None or wish is None:
        return
    marked = plan.wing.surface.balance
    if round(abs(marked - wish), 6) <= _NOTE or (points_m and not is_usual(now, plan, points_m)):
        return
    on_wing = 0 < round(wish, 6) < 1
    off = (marked - wish) * mean_chord_mm(plan)[1]
    yield Finding(
        code="balance-mark",
        level=Level.NOTE,
        where=f"{plan.wing.surface.key}.balance",
        text=f"the balance is marked on the wing at {_percent(marked)} of the mean chord, {_mm(abs(off))}"
        f" {'behind' if off > 0 else 'before'} the target at {_percent(wish)} ({setup.wishes.target.key})",
        value=_percent(marked),
        mend=f'give the wing balance = "{_percent(wish)}", or another target'
        if on_wing
        else f"mark {_mm(now.target_mm)} behind the nose on the body; at the wing's mark it does not balance",
    )


def _side(items: Sequence[Item], now: Loaded, plan: Planform | None) -> Iterator[Finding]:
    """A centre of gravity beside the centre plane."""
    out = now.at[1]
    if round(abs(out), 3) <= _SIDE_MM:
        return
    mass = mass_of(placed(items))
    heavy, light = ("right", "left") if out > 0 else ("left", "right")
    mend = f"move {decimal_text(mass * abs(out) / 100, 1)} g by 100 mm to the {light}"
    tip = plan.wing.crosses[-1].leading_m[1] * MM_PER_M if plan is not None and plan.wing.crosses else 0.0
    if tip > _SIDE_MM:
        grams = decimal_text(mass * abs(out) / tip, 1)
        mend += f", or {grams} g at the tip of the {light} wing, {_mm(tip)} out"
    worst = max(
        (one for one in items if one.at is not None and one.at[1] * out > 0),
        key=lambda one: round(_moment(one, items), 3),
    )
    yield Finding(
        code="balance-side",
        level=Level.NOTE,
        where=worst.key,
        text=f"the balance lies {_mm(abs(out))} to the {heavy} of the centre plane",
        value=_mm(abs(out)),
        range=f"at most {_mm(_SIDE_MM)}",
        source=PRACTICE,
        mend=mend,
    )


def _moment(item: Item, items: Sequence[Item]) -> float:
    """What a thing and its like on the other side do to one side, g mm."""
    return abs(sum(one.mass_g * one.at[1] for one in items if one.at is not None and one.key == item.key))


def _ways(model: Model, setup: Setup) -> Iterator[Finding]:
    """More ways to place things than are tried."""
    count = way_count(model, setup)
    if count > MOST_WAYS:
        yield Finding(
            code="balance-places",
            level=Level.NOTE,
            where="aboard",
            text=f"what may be moved can be placed in {count} ways; {MOST_WAYS} were tried, those that move"
            " the fewest things first",
            value=str(count),
            mend="let fewer things slide, or give them fewer places",
        )
