"""Whether what is carried has room in the body, where it sits and where it may be moved.  mm."""

from collections.abc import Iterator
from itertools import combinations

from foamcut.findings import Finding, Level
from foamcut.flight.aboard_boxes import boxes_of
from foamcut.flight.aboard_openings import opening_findings
from foamcut.flight.aboard_places import places_findings
from foamcut.flight.aboard_room import bay_at, hangs
from foamcut.flight.aboard_spots import spot_findings
from foamcut.flight.aboard_ways import way_findings
from foamcut.flight.values import Aboard, Carried, Model, Setup
from foamcut.units import mm_text as _mm


def room_findings(model: Model, setup: Setup) -> tuple[Finding, ...]:
    """Things outside the body, too large for it, or that go through a former, a dowel or each other.

    Each thing is a box square to the model.  It is looked at where it is drawn, along all of the way it may
    slide, and at each place where it may sit.  Not looked at: a thing without a size (of a battery it is
    said), one beyond the sides of the body or in the wing, gear, wire, a motor, a model without a body; how
    far servos in panels reach into the body, which no design gives.
    """
    found: list[Finding] = []
    for thing in setup.aboard:
        found += _of(thing, model, setup)
    return (*found, *_each_other(setup))


def _of(thing: Aboard, model: Model, setup: Setup) -> Iterator[Finding]:
    if thing.size_mm is None:
        if thing.kind is Carried.BATTERY and model.inputs.bodies:
            yield Finding(
                code="aboard-size",
                level=Level.NOTE,
                where=thing.key,
                text=f'the size of "{thing.name}" is not given: whether it has room was not looked at',
                mend='give its size, such as size = "long x wide x high mm", measured with its leads',
            )
        return
    bay = bay_at(thing, thing.at, model.inputs)
    if bay is not None:
        yield from spot_findings(thing, thing.at, f"{thing.key}.at", bay, setup, others=False)
    yield from places_findings(thing, model.inputs, setup)
    if bay is not None:
        yield from way_findings(thing, bay, setup)
        yield from opening_findings(thing, bay)


def _each_other(setup: Setup) -> Iterator[Finding]:
    """Things drawn in one place, each two told once, and a mirrored thing in the place of its other one."""
    things = [one for one in setup.aboard if one.size_mm is not None and not hangs(one)]
    for thing in things:
        both = boxes_of(thing)
        if len(both) > 1 and both[0].meets(both[1]):
            wide = both[0].y[1] - both[0].y[0]
            by = wide - 2 * abs(thing.out_mm)
            yield _clash(
                f"{thing.key}.out",
                f'the two of "{thing.name}" lie {_mm(by)} in each other: each is {_mm(wide)} wide,'
                f" {_mm(abs(thing.out_mm))} off the centre plane",
                f"{_mm(by / 2)} farther out, to {_mm(abs(thing.out_mm) + by / 2)}",
            )
    for one, other in combinations(things, 2):
        pairs = [(a, b) for a in boxes_of(one) for b in boxes_of(other) if a.meets(b)]
        if not pairs:
            continue
        mine, its = pairs[0]
        forward, back = its.x[1] - mine.x[0], mine.x[1] - its.x[0]
        rise, sink = mine.z[1] - its.z[0], its.z[1] - mine.z[0]
        ways = ((forward, "forward"), (back, "back"), (rise, "higher"), (sink, "lower"))
        by, word = min(ways, key=lambda way: round(way[0], 2))
        yield _clash(
            f"{other.key}.at",
            f'"{other.name}" lies in the place of "{one.name}" ({one.key})',
            f"{other.name} {_mm(by)} {word}",
        )


def _clash(where: str, text: str, mend: str) -> Finding:
    return Finding(
        code="aboard-through", level=Level.WARNING, where=where, text=text, source="their sizes", mend=mend
    )
