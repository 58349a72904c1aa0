"""The ways to place what may be moved along or elsewhere, and the balance that each gives.  g and mm.

A thing that slides is tried as drawn, at both ends of its way and of what is free of it, and where it brings
the balance onto the target; one that may sit elsewhere at each of its places.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, product

from foamcut.flat.outline import Point
from foamcut.flight.aboard_room import bay_at, has_room
from foamcut.flight.aboard_ways import free_ways
from foamcut.flight.figures import Item, Loaded, PlaceRow
from foamcut.flight.loading_leads import Spots, leads_of
from foamcut.flight.loading_move import mass_aboard, shift_mm
from foamcut.flight.loading_sums import mass_of, placed
from foamcut.flight.loading_target import share_at
from foamcut.flight.planform import Planform
from foamcut.flight.values import Aboard, Model, Setup

#: no more ways than these are tried: a table of more is read by nobody
MOST_WAYS = 200
#: places nearer to each other than this are one, as decimals of a mm
_PLACES = 2

Others = Mapping[str, Sequence[Point]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Balance:
    """What a way to place things is reckoned with: mass and centre of all that has a place, as drawn."""

    mass_g: float
    along_mm: float
    target_mm: float | None
    weights: Mapping[str, float]

    def along(self, things: Sequence[Aboard], spots: Spots) -> float:
        """Where the balance lies with things at their spots: moments are added."""
        moved = sum(self.weights[one.key] * (spots[one.key][0] - one.at[0]) for one in things)
        return self.along_mm + moved / self.mass_g


def may_move(setup: Setup) -> tuple[Aboard, ...]:
    """The things aboard that slide or may sit elsewhere, in the order of the file."""
    return tuple(one for one in setup.aboard if one.slides_mm is not None or one.may_sit)


def way_count(model: Model, setup: Setup) -> int:
    """How many ways there are without those that give the target exactly."""
    return math.prod(1 + len(_others(one, model, setup)) for one in may_move(setup))


def place_rows(
    items: Sequence[Item], now: Loaded, model: Model, setup: Setup, plan: Planform | None
) -> tuple[PlaceRow, ...]:
    """As drawn first, then from the foremost balance aft; nothing when nothing may be moved.

    At most `MOST_WAYS`, those that move fewer things before others.  The best is nearest to the target of
    those with room in the body, and of equals the one for which the least is moved.  Limits: the wire of
    leads is told, but stands in no sum; the balance is moved along alone.
    """
    things = may_move(setup)
    if not things:
        return ()
    balance = _Balance(
        mass_g=mass_of(placed(items)),
        along_mm=now.at[0],
        target_mm=now.target_mm,
        weights={one.key: mass_aboard([one], items) for one in things},
    )
    others = {one.key: _others(one, model, setup) for one in things}
    ways = _ways(things, others, balance)
    rows = [_row(things, spots, balance, items, model, setup, plan) for spots in ways]
    best = _best(things, ways, rows, balance, model, setup)
    rows = [replace(row, is_drawn=i == 0, is_best=i == best) for i, row in enumerate(rows)]
    rest = sorted(rows[1:], key=lambda row: (round(row.along_mm, _PLACES), row.moved))
    return (rows[0], *rest)


def _ways(things: Sequence[Aboard], others: Others, balance: _Balance) -> list[Spots]:
    """Every way once, as drawn first."""
    found: dict[tuple[Point, ...], Spots] = {}
    for spots in _tried(things, others, balance):
        found.setdefault(tuple(_rounded(spots[one.key]) for one in things), spots)
        if len(found) >= MOST_WAYS:
            break
    return list(found.values())


def _tried(things: Sequence[Aboard], others: Others, balance: _Balance) -> Iterator[Spots]:
    drawn = {one.key: one.at for one in things}
    for count in range(len(things) + 1):
        for moved in combinations(things, count):
            free = [one for one in things if one not in moved]
            for picked in product(*(others[one.key] for one in moved)):
                spots = drawn | {one.key: spot for one, spot in zip(moved, picked, strict=True)}
                yield spots
                yield from _onto_target(free, things, spots, balance)


def _onto_target(
    free: Sequence[Aboard], things: Sequence[Aboard], spots: Spots, balance: _Balance
) -> Iterator[Spots]:
    """One more thing moved along so far that the balance lies on its target, where its way holds that."""
    if balance.target_mm is None:
        return
    change = balance.target_mm - balance.along(things, spots)
    for one in free:
        weight = balance.weights[one.key]
        if one.slides_mm is None or not weight > 0:
            continue
        at = one.at[0] + shift_mm(change, balance.mass_g, weight)
        if min(one.slides_mm) <= at <= max(one.slides_mm):
            yield {**spots, one.key: (at, one.at[1])}


def _others(thing: Aboard, model: Model, setup: Setup) -> tuple[Point, ...]:
    """Where else a thing is tried, each once: ends of its way and of what is free of it, its other places."""
    found = {_rounded(spot): spot for spot in (*_ends(thing, model, setup), *thing.may_sit)}
    return tuple(spot for key, spot in found.items() if key != _rounded(thing.at))


def _ends(thing: Aboard, model: Model, setup: Setup) -> list[Point]:
    if thing.slides_mm is None:
        return []
    low, high = sorted(thing.slides_mm)
    bay = bay_at(thing, thing.at, model.inputs)
    ways = () if bay is None else free_ways(thing, (low, high), bay, setup)
    return [(x, thing.at[1]) for x in (low, high, *(end for way in ways for end in way))]


def _rounded(spot: Point) -> Point:
    return round(spot[0], _PLACES) + 0.0, round(spot[1], _PLACES) + 0.0


def _row(
    things: Sequence[Aboard],
    spots: Spots,
    balance: _Balance,
    items: Sequence[Item],
    model: Model,
    setup: Setup,
    plan: Planform | None,
) -> PlaceRow:
    along = balance.along(things, spots)
    leads = leads_of(items, model, setup, spots)
    return PlaceRow(
        moved=tuple((one.name, *spots[one.key]) for one in things),
        along_mm=along,
        mean_chord_share=share_at(plan, along),
        lead_mm=None if leads is None else leads.length_mm,
        wire_g=None if leads is None else leads.wire_g,
    )


def _best(
    things: Sequence[Aboard],
    ways: Sequence[Spots],
    rows: Sequence[PlaceRow],
    balance: _Balance,
    model: Model,
    setup: Setup,
) -> int | None:
    """The index of the way nearest to the target in which everything has room."""
    if balance.target_mm is None:
        return None
    target = balance.target_mm
    ranked = sorted(
        range(len(ways)),
        key=lambda i: (round(abs(rows[i].along_mm - target), _PLACES), *_effort(things, ways[i]), i),
    )
    return next((i for i in ranked if _room(things, ways[i], model, setup)), None)


def _effort(things: Sequence[Aboard], spots: Spots) -> tuple[int, float]:
    """How many things are moved, and how far in all."""
    moves = [_far(one.at, spots[one.key]) for one in things]
    return sum(move > 0 for move in moves), round(sum(moves), _PLACES)


def _far(one: Point, other: Point) -> float:
    return round(abs(one[0] - other[0]) + abs(one[1] - other[1]), _PLACES)


def _room(things: Sequence[Aboard], spots: Spots, model: Model, setup: Setup) -> bool:
    """Whether all that is moved has room where it goes; what stays is as the builder drew it."""
    moved = {one.key for one in things if _far(one.at, spots[one.key]) > 0}
    there = tuple(replace(one, at=spots[one.key]) if one.key in moved else one for one in setup.aboard)
    return all(has_room(one, model, replace(setup, aboard=there)) for one in there if one.key in moved)
