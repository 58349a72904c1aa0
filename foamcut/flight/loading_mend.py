"""What brings a balance onto its target: the battery by so much, other places, else ballast.  g, mm."""

from collections.abc import Sequence
from dataclasses import replace

from foamcut.flight.aboard_room import has_room
from foamcut.flight.figures import Item, Loaded, PlaceRow
from foamcut.flight.loading_move import ballast_for, ends_of, mass_aboard, movers, shift_mm
from foamcut.flight.loading_places import may_move
from foamcut.flight.loading_sums import mass_of, placed
from foamcut.flight.loading_target import mean_chord_mm
from foamcut.flight.planform import Planform
from foamcut.flight.values import Aboard, Carried, Model, Setup
from foamcut.units import decimal_text
from foamcut.units import mm_text as _mm

#: so near its target, as a share of the mean chord, a balance is left as it is
_NEAR = 0.01
#: what is moved by less than this stays, mm
_STAYS_MM = 0.05
#: more ballast than this share of the weight is no mend (common practice, no source)
_MUCH = 0.5
#: a place may lie so far past the end of a way, mm
_PAST_MM = 1e-6


def mend_words(
    items: Sequence[Item],
    now: Loaded,
    rows: Sequence[PlaceRow],
    model: Model,
    setup: Setup,
    plan: Planform,
) -> str:
    """The battery's move where it may be moved so far and has room there; else the best that can be had.

    Raises
    ------
    ValueError
        There is no target.
    """
    if now.target_mm is None:
        raise ValueError("a balance without a target wants no mending")
    things = movers(setup, items)
    mass = mass_of(placed(items))
    if not things:
        words = _ballast(now.at[0], mass, now.target_mm, model, plan)
        given = setup.of(Carried.BATTERY)
        return (
            words if given else f"{words}; a battery under [[aboard]] with its place and slides does the same"
        )
    change = shift_mm(now.target_mm - now.at[0], mass, mass_aboard(things, items))
    if _off_body(things, change, model, plan):
        best = _instead(now, rows, mass, model, setup, plan)
        return f"no place on the model for {_named(things)} does it alone; {best}"
    wish = f"{_named(things)} {_moved(change)}"
    if len(things) == 1:
        wish += f", to {_mm(things[0].at[0] + change)} along"
    against = _against(things, change, model, setup)
    if not against:
        return wish
    return f"{wish}, {against}; or {_instead(now, rows, mass, model, setup, plan)}"


def _off_body(things: Sequence[Aboard], change: float, model: Model, plan: Planform) -> bool:
    """Whether a thing would lie before or behind all that there is."""
    ends = ends_of(model, plan)
    return ends is not None and not all(ends[0] <= one.at[0] + change <= ends[1] for one in things)


def _named(things: Sequence[Aboard]) -> str:
    words = " and ".join(f"{one.name} on both sides" if one.mirrored else one.name for one in things)
    return f"{words} each" if len(things) > 1 else words


def _moved(by_mm: float) -> str:
    return f"{_mm(abs(by_mm))} {'back' if by_mm > 0 else 'forward'}"


def _against(things: Sequence[Aboard], change: float, model: Model, setup: Setup) -> str:
    """Why things cannot be moved along by so much; empty when they can."""
    past = [(round(_past(one, change), 1), one) for one in things if one.slides_mm is not None]
    worst = max(past, key=lambda pair: pair[0], default=None)
    if worst is not None and worst[0] > 0 and worst[1].slides_mm is not None:
        low, high = sorted(worst[1].slides_mm)
        return (
            f"which is {_mm(worst[0])} beyond where it may slide"
            f" ({decimal_text(low, 1)} to {decimal_text(high, 1)} mm)"
        )
    moved = {one.key: replace(one, at=(one.at[0] + change, one.at[1])) for one in things}
    there = replace(setup, aboard=tuple(moved.get(one.key, one) for one in setup.aboard))
    if not all(has_room(one, model, there) for one in moved.values()):
        return "where it has no room"
    if any(one.slides_mm is None and one.may_sit for one in things):
        return "where it may not sit"
    if any(one.slides_mm is None for one in things):
        return "if it may be moved there (it has no slides)"
    return ""


def _past(thing: Aboard, change: float) -> float:
    """How far beyond its way a thing would lie."""
    assert thing.slides_mm is not None
    at, (low, high) = thing.at[0] + change, sorted(thing.slides_mm)
    return max(low - at, at - high, 0.0) - _PAST_MM


def _instead(
    now: Loaded, rows: Sequence[PlaceRow], mass: float, model: Model, setup: Setup, plan: Planform
) -> str:
    """The best way to place things, and the ballast that is left to be added then."""
    assert now.target_mm is not None
    best = next((row for row in rows if row.is_best), None)
    moves = [] if best is None else _moves(best, setup)
    along = now.at[0] if best is None or not moves else best.along_mm
    near = abs(along - now.target_mm) <= _NEAR * mean_chord_mm(plan)[1]
    ballast = "" if near and moves else _ballast(along, mass, now.target_mm, model, plan)
    return " and ".join(filter(None, [", ".join(moves), ballast]))


def _moves(row: PlaceRow, setup: Setup) -> list[str]:
    """What is moved in a row, and where to."""
    found = []
    for thing, (name, along, up) in zip(may_move(setup), row.moved, strict=True):
        by, rise = along - thing.at[0], up - thing.at[1]
        if max(abs(by), abs(rise)) < _STAYS_MM:
            continue
        words = f"{name} {_moved(by)}, to {_mm(along)} along"
        found.append(f"{words} and {_mm(up)} up" if abs(rise) >= _STAYS_MM else words)
    return found


def _ballast(centre: float, mass: float, target: float, model: Model, plan: Planform) -> str:
    """The smallest ballast; where no end is far enough off, what has to be moved."""
    ballast = ballast_for(centre, mass, target, ends_of(model, plan))
    if ballast is None:
        way = "forward" if centre > target else "back"
        return f"{decimal_text(mass * abs(centre - target) / 100, 1)} g moved 100 mm {way}"
    grams, half = decimal_text(ballast.mass_g, 1), (ballast.along_mm + target) / 2
    words = f"{grams} g at the {ballast.end} ({_mm(ballast.along_mm)} along; twice as much at {_mm(half)})"
    if round(ballast.mass_g / mass, 6) <= _MUCH:
        return words
    percent = decimal_text(100 * ballast.mass_g / mass, 0)
    way = "forward" if centre < target else "back"
    return f"{words}, {percent} % of what the model weighs: rather the wing farther {way}"
