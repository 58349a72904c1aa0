"""Batteries and receiver supplies together: what joins, what is not alike, what keeps the receiver alive."""

from collections.abc import Iterator, Sequence

from foamcut.findings import Finding, Level
from foamcut.flight.power_supply import circuits
from foamcut.flight.values import Aboard, Carried, Model, Packs, Setup
from foamcut.flight.wiring_alike import differ
from foamcut.flight.wiring_words import SOURCE, unit_text


def motors_count(model: Model, setup: Setup) -> int:
    """How many motors there are, a pair counted as two."""
    mounted = sum(2 if one.on_wing else 1 for one in model.inputs.motors)
    return mounted + sum(one.count for one in setup.of(Carried.MOTOR))


def flight_packs(setup: Setup) -> tuple[Aboard, ...]:
    """Batteries that feed motors: those not called after the receiver."""
    return tuple(one for one in setup.of(Carried.BATTERY) if "receiver" not in one.name.lower())


def supply_findings(model: Model, setup: Setup) -> Iterator[Finding]:
    """Receiver supplies of several speed controls that meet, or may meet, at the receiver."""
    given = sum(one.count for one in setup.of(Carried.SPEED_CONTROL))
    count = given or motors_count(model, setup)  # each motor has one of its own
    joined = setup.wiring.joined
    if count < 2 or joined is False:
        return
    others = "one" if count == 2 else f"{count - 1} of the {count}"
    keep = _kept(setup)
    kept = f', and keep that of the speed control on "{keep.name}"' if keep is not None else ""
    yield Finding(
        code="supplies-joined",
        level=Level.WARNING if joined else Level.NOTE,
        where=f"{setup.wiring.key}.joined",
        text=f"the receiver supplies of {count} speed controls meet at the receiver: they work against each"
        " other"
        if joined
        else f"it is not said whether the receiver supplies of {count} speed controls meet at the receiver,"
        " where they would work against each other",
        value=str(count),
        range="one supply",
        source=SOURCE,
        mend=f"part the red wire of {others} and insulate its end{kept}; then write joined = false."
        " Not needed where their maker allows it, or only one has a supply",
    )


def receiver_findings(model: Model, setup: Setup) -> Iterator[Finding]:
    """Which pack keeps the receiver alive, where every motor has a pack of its own."""
    packs = flight_packs(setup)
    own = len(packs) < len(setup.of(Carried.BATTERY))  # the receiver has a pack of its own
    if setup.wiring.packs is not Packs.APART or own or sum(one.count for one in packs) < 2:
        return
    if motors_count(model, setup) < 2:
        return
    keep = _kept(setup)
    if keep is not None:
        name = f'"{keep.name}" ({unit_text(keep.capacity_mah or 0, "mAh")}, the larger)'
        mend = f"keep the red wire of the speed control that {name} feeds, and part those of the others"
    else:
        mend = "write on the model which pack it is, watch its voltage, and land before it is empty"
    one = f'"{packs[0].name}"' if len(packs) == 1 else "the pack"
    yield Finding(
        code="receiver-pack",
        level=Level.NOTE,
        where=f"{setup.wiring.key}.packs",
        text=f"packs are apart: receiver and servos live on {one} of that speed control whose red wire is"
        " kept; when it is empty all control stops, though another pack still turns its motor; when another"
        " is empty its motor alone stops, and the model turns towards it",
        source=SOURCE,
        mend=f"{mend}; or give the receiver a pack of its own",
    )


def _kept(setup: Setup) -> Aboard | None:
    """The pack that is larger than every other one, where packs are apart; None where none is."""
    packs = flight_packs(setup)
    if setup.wiring.packs is not Packs.APART or any(one.capacity_mah is None for one in packs):
        return None
    ranked = sorted(packs, key=lambda one: -(one.capacity_mah or 0))
    if len(ranked) < 2 or ranked[0].mirrored or not differ(ranked[0].capacity_mah, ranked[1].capacity_mah):
        return None
    return ranked[0]


def pack_findings(model: Model, setup: Setup) -> Iterator[Finding]:
    """Packs that work together and are not alike: cells, then capacity."""
    packs = flight_packs(setup)
    if setup.wiring.packs is Packs.APART:
        groups: list[Sequence[Aboard]] = [packs] if motors_count(model, setup) > 1 else []
    else:
        held = [one.packs for one in circuits(model.inputs.motors, setup)] or [packs]
        groups = [[one for one in packs if one in several] for several in held]
    yield from dict.fromkeys(finding for several in groups for finding in _unlike(several, setup))


def _unlike(packs: Sequence[Aboard], setup: Setup) -> Iterator[Finding]:
    """Every pack beside the one that most are like, whichever comes first in the file."""
    most = _usual(packs)
    alike = [one for one in packs if most is None or one.cells in (None, most.cells)]
    for one in packs:
        if most is not None and one not in alike:
            yield _cells(most, one, setup.wiring.packs)
    given = [one for one in alike if one.capacity_mah is not None]
    if not given:
        return
    largest = min(given, key=lambda one: (-(one.capacity_mah or 0.0), one.name))
    for one in given:
        if differ(largest.capacity_mah, one.capacity_mah):
            yield _capacity(largest, one, setup.wiring.packs)


def _usual(packs: Sequence[Aboard]) -> Aboard | None:
    """Of the packs with the number of cells that most have, of as many the higher one, the first by name."""
    counts: dict[int, int] = {}
    for one in packs:
        if one.cells is not None:
            counts[one.cells] = counts.get(one.cells, 0) + one.count
    if not counts:
        return None
    cells = max(counts, key=lambda each: (counts[each], each))
    return min((one for one in packs if one.cells == cells), key=lambda one: one.name)


def _cells(first: Aboard, other: Aboard, packs: Packs | None) -> Finding:
    text = f'"{first.name}" has {first.cells} cells and "{other.name}" {other.cells}: '
    if packs is Packs.APART:
        text += "their motors do not turn alike"
    else:
        text += "joined side by side the one charges the other with more current than any battery bears"
    if packs is None:
        text += "; it is not said whether they are together or apart"
    return Finding(
        code="packs-unlike",
        level=Level.STOP if packs is Packs.TOGETHER else Level.WARNING,
        where=f"{other.key}.cells",
        text=text,
        value=f"{first.cells} and {other.cells}",
        range="the same number of cells",
        source=SOURCE,
        mend=f'a battery of {first.cells} cells in place of "{other.name}"',
    )


def _capacity(larger: Aboard, smaller: Aboard, packs: Packs | None) -> Finding:
    a, b = larger.capacity_mah or 0.0, smaller.capacity_mah or 0.0
    sizes = f"{unit_text(a, 'mAh')} and {unit_text(b, 'mAh')}"
    what = (
        f'the motor of "{smaller.name}" stops first'
        if packs is Packs.APART
        else "side by side they share the current unlike as they empty"
    )
    return Finding(
        code="packs-unlike",
        level=Level.WARNING,
        where=f"{smaller.key}.capacity",
        text=f'"{larger.name}" and "{smaller.name}" hold {sizes}: {what}',
        value=sizes,
        range="the same capacity, make and age",
        source=SOURCE,
        mend=f'{unit_text(a - b, "mAh")} more in "{smaller.name}", as much as "{larger.name}" has; until'
        f" then reckon with {unit_text(b, 'mAh')} in each",
    )
