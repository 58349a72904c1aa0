"""What is carried: batteries, receivers, controls of speed and all that is named in the design.  g, mm."""

from collections.abc import Iterator

from foamcut.airframe.values import Inputs
from foamcut.findings import Finding, Level
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Item, Sort, Vector
from foamcut.flight.values import Aboard, Carried, Setup
from foamcut.flight.weights_bought import hands
from foamcut.flight.weights_missing import Missing
from foamcut.units import decimal_text

_SORTS: dict[Carried, Sort] = {
    Carried.MOTOR: Sort.MOTOR,
    Carried.BATTERY: Sort.BATTERY,
    Carried.SPEED_CONTROL: Sort.RADIO,
    Carried.RECEIVER: Sort.RADIO,
    Carried.SERVO: Sort.RADIO,
    Carried.WIRE: Sort.RADIO,
    Carried.PAINT: Sort.GLUE,
}
#: rows of things that are usual as they are
_ONE_ROW = {Carried.RECEIVER: "receiver", Carried.SERVO: "servo"}


def aboard_things(setup: Setup) -> tuple[tuple[Item, ...], tuple[Missing, ...]]:
    """Everything that is carried, both of a mirrored pair, in its drawn place; and what has no mass.

    A given mass is that of one with its leads.  Without one a battery weighs by its energy (cells x nominal
    voltage x capacity), a speed control by its current, a servo or receiver as usual.
    """
    items: list[Item] = []
    missing: list[Missing] = []
    for one in setup.aboard:
        known = _mass(one)
        if known is None:
            missing.append(Missing(key=f"{one.key}.mass", name=f'"{one.name}"', at=_places(one)))
        else:
            items += _items(one, *known)
    return tuple(items), tuple(missing)


def _items(
    one: Aboard, masses: tuple[float, float, float], source: str, assumed: tuple[str, ...]
) -> Iterator[Item]:
    for hand, at in zip(hands(one.mirrored), _places(one), strict=True):
        yield Item(
            key=one.key,
            name=f"{one.name}{hand}",
            sort=_SORTS.get(one.kind, Sort.OTHER),
            mass_g=masses[0],
            low_g=masses[1],
            high_g=masses[2],
            at=at,
            spread_mm2=_box(one),
            source=source,
            assumed=assumed,
        )


def _places(one: Aboard) -> tuple[Vector, ...]:
    (along, up), out = one.at, one.out_mm
    return ((along, out, up), (along, 0.0 - out, up)) if one.mirrored else ((along, out, up),)


def _box(one: Aboard) -> Vector:
    """An even box of its size."""
    long, wide, high = one.size_mm or (0.0, 0.0, 0.0)
    return long**2 / 12, wide**2 / 12, high**2 / 12


def _mass(one: Aboard) -> tuple[tuple[float, float, float], str, tuple[str, ...]] | None:
    """Mass, least and most of one, where it is from, rows that were used; None where nothing is usual."""
    if one.mass_g is not None:
        return (one.mass_g, one.mass_g, one.mass_g), "as given", ()
    row, times = _ONE_ROW.get(one.kind, ""), 1.0
    others: tuple[str, ...] = ()
    if one.kind is Carried.BATTERY and one.cells is not None and one.capacity_mah is not None:
        row, others = "battery", ("cell_voltage",)
        times = one.cells * one.capacity_mah / 1000 * ASSUMED["cell_voltage"].value
    if one.kind is Carried.SPEED_CONTROL and one.current_limit_a is not None:
        row, times = "speed_control", one.current_limit_a
    if not row:
        return None
    usual = ASSUMED[row]
    masses = (usual.value * times, usual.low * times, usual.high * times)
    return masses, f"{usual.what}; {usual.source}", (row, *others)


def twice_findings(setup: Setup, inputs: Inputs) -> Iterator[Finding]:
    """Motors that are carried although there are motor mounts, whose motors count by themselves."""
    if not inputs.motors:
        return
    mounts = ", ".join(f"[{motor.key}]" for motor in inputs.motors)
    given = [motor for motor in inputs.motors if motor.mass_g is not None]
    for one in setup.of(Carried.MOTOR):
        mass = one.count * (one.mass_g or 0.0)
        grams = f"{decimal_text(mass, 1)} g"
        if given:
            said, mend = "they count twice", f"take it out, which takes {grams} off"
        else:
            said = "without a mass there it stands for them"
            mend = f"write its mass under {mounts} and take it out here"
        yield Finding(
            code="motor-twice",
            level=Level.WARNING,
            where=f"{one.key}.kind",
            text=f'"{one.name}" is a motor, {grams}, and {mounts} has its own: {said}',
            value=grams,
            mend=mend,
        )
