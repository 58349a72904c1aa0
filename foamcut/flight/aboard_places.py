"""What is wrong with the places where a thing may sit: said of one place, or once of several.  mm."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from foamcut.airframe.values import Inputs
from foamcut.findings import Finding
from foamcut.flat.outline import Point
from foamcut.flight.aboard_room import bay_at
from foamcut.flight.aboard_spots import spot_findings, through_words
from foamcut.flight.values import Aboard, Setup
from foamcut.units import mm_text as _mm

#: so many places are told one by one
_TOLD = 4
_HEADS = {
    "aboard-through": "goes through what stands in its way",
    "outside-body": "lies outside the body",
    "aboard-room": "has no room",
}


class _Place(NamedTuple):
    """A place where a thing may sit, its findings of one kind, and what they say in a few words."""

    at: Point
    findings: tuple[Finding, ...]
    words: str


def places_findings(thing: Aboard, inputs: Inputs, setup: Setup) -> Iterator[Finding]:
    """The findings of all places where a thing may sit, those of one kind at several places as one."""
    found: dict[str, list[_Place]] = {}
    for i, at in enumerate(thing.may_sit):
        for code, one in _wrong(thing, at, f"{thing.key}.may_sit[{i}]", inputs, setup):
            found.setdefault(code, []).append(one)
    for several in found.values():
        yield from several[0].findings if len(several) == 1 else (_gathered(thing, several),)


def _wrong(
    thing: Aboard, at: Point, where: str, inputs: Inputs, setup: Setup
) -> Iterator[tuple[str, _Place]]:
    bay = bay_at(thing, at, inputs)
    if bay is None:
        return
    others = at != thing.at
    found = tuple(spot_findings(thing, at, where, bay, setup, others=others))
    for code in dict.fromkeys(one.code for one in found):
        same = tuple(one for one in found if one.code == code)
        if code == "aboard-through":
            words = [through_words(thing, at, bay, setup, others=others)]
        elif code == "aboard-room":
            words = [one.text.removeprefix(f'"{thing.name}" ') for one in same]
        else:
            words = [f"by {one.value}" for one in same]
        yield code, _Place(at, same, " and ".join(words))


def _gathered(thing: Aboard, several: Sequence[_Place]) -> Finding:
    first = several[0].findings[0]
    count = f"{len(several)} of the {len(thing.may_sit)}"
    told = [f"{_mm(at[0])} along and {_mm(at[1])} up ({words})" for at, _, words in several]
    ways = [(at, " and ".join(one.mend.partition("; or ")[0] for one in found)) for at, found, _ in several]
    alike = len({way for _, way in ways}) == 1
    mends = [way if alike else f"{_mm(at[0])} along: {way}" for at, way in (ways[:1] if alike else ways)]
    return Finding(
        code=first.code,
        level=first.level,
        where=f"{thing.key}.may_sit",
        text=f'"{thing.name}" {_HEADS[first.code]} at {count} places where it may sit: {_listed(told)}',
        value=count,
        source=first.source,
        mend=f"{_listed(mends, '; ')}; or take these places out of may_sit",
    )


def _listed(words: Sequence[str], between: str = ", ") -> str:
    """The first few, and how many more there are."""
    more = f"{between}and {len(words) - _TOLD} more" if len(words) > _TOLD else ""
    return between.join(words[:_TOLD]) + more
