"""What is carried besides board: motors, propellers, battery, radio, load; with masses, sizes and places."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from foamcut.airframe.values import Motor, Propeller, Servo
from foamcut.book.chapters_words import (
    counted,
    length_words,
    out_cell,
    sizes_words,
    span_cell,
    span_head,
    value_words,
)
from foamcut.book.facts import Facts
from foamcut.book.values import Grid
from foamcut.flat.outline import Point
from foamcut.flight.figures import Item
from foamcut.flight.values import Aboard, Carried
from foamcut.units import MM_PER_INCH, decimal_text

_KINDS = {
    Carried.MOTOR: "motor",
    Carried.BATTERY: "battery",
    Carried.SPEED_CONTROL: "speed control",
    Carried.RECEIVER: "receiver",
    Carried.SERVO: "servo",
    Carried.WIRE: "wire",
    Carried.GEAR: "landing gear",
    Carried.PAINT: "paint",
    Carried.BALLAST: "ballast",
    Carried.OTHER: "",
}
_ASSUMED = " *"


class _Row(NamedTuple):
    """A thing that is carried: what, how many, the mass of one, its size, what to look for."""

    what: str
    how_many: int
    mass: str
    size: str
    looks: str
    place: tuple[str, ...] = ()  # along, out, up, where else it may sit; empty where its part says it


def propeller_words(propeller: Propeller) -> str:
    """Diameter and pitch in inches, as propellers are sold: ``8 x 6 in``."""
    sizes = [propeller.diameter_mm, *([propeller.pitch_mm] if propeller.pitch_mm is not None else [])]
    blades = f", {propeller.blades} blades" if propeller.blades != 2 else ""
    return f"{' x '.join(decimal_text(size / MM_PER_INCH, 2) for size in sizes)} in{blades}"


def turns_words(motor: Motor) -> str:
    """Which way its propeller turns, behind a comma; empty where the design does not say."""
    turns = motor.propeller.turns
    if not turns:
        return ""
    return f", turns {turns} {'at the top of its disc' if motor.on_wing else 'seen from behind'}"


def pack_words(battery: Aboard) -> str:
    """Cells and charge of a battery; empty where neither is given."""
    said = []
    if battery.cells is not None:
        said.append(counted(battery.cells, "cell"))
    if battery.capacity_mah is not None:
        said.append(f"{decimal_text(battery.capacity_mah)} mAh")
    return " and ".join(said)


def carried_grids(facts: Facts) -> tuple[Grid, ...]:
    """Everything that is carried, the mass of one of each, and where it sits; none where nothing is."""
    rows = [
        *(row for motor in facts.inputs.motors for row in _motor(motor, facts)),
        *(_servo(servo, facts) for servo in facts.inputs.servos),
        *(_aboard(one, facts) for one in facts.setup.aboard),
    ]
    if not rows:
        return ()
    starred = any(row.mass.endswith(_ASSUMED) for row in rows)
    note = "; * a usual value, since the design does not say" if starred else ""
    things = Grid(
        caption=f"What is carried: the mass of one, its size (long x wide x high){note}",
        head=("What", "How many", "Mass of one", "Size", "What to look for"),
        rows=tuple((row.what, str(row.how_many), row.mass, row.size, row.looks) for row in rows),
        figures=(1, 2),
    )
    heads = (span_head(name, facts) for name in ("Along", "Out", "Up", "May be moved"))
    places = tuple((row.what, *row.place) for row in rows if row.place)
    if not places:
        return (things,)
    caption = "Where the middle of each thing lies on the model"
    return things, Grid(caption=caption, head=("What", *heads), rows=places)


def _motor(motor: Motor, facts: Facts) -> Iterator[_Row]:
    """A motor and its propeller; of a pair one row each."""
    count = 2 if motor.on_wing else 1
    looks = [
        *([value_words(motor.power_w, "W", facts.units)] if motor.power_w is not None else []),
        *([f"{decimal_text(motor.speed_constant_rpm_v)} rpm/V"] if motor.speed_constant_rpm_v else []),
        *([f"up to {decimal_text(motor.current_limit_a)} A"] if motor.current_limit_a is not None else []),
    ]
    screws = motor.firewall.screws_mm
    if screws is not None:
        looks.append(f"screws on a circle of {length_words(screws, facts.units)}")
    mass = _mass(motor.key, motor.mass_g, facts)
    yield _Row(f'motor "{motor.name}"', count, mass, "", ", ".join(looks))
    pair = "; one of each hand" if motor.propeller.turns in ("inwards", "outwards") else ""
    mass = _mass(motor.propeller.key, motor.propeller.mass_g, facts)
    looks = [f"{propeller_words(motor.propeller)}{turns_words(motor)}{pair}"]
    yield _Row(f'propeller of "{motor.name}"', count, mass, "", ", ".join(looks))


def _servo(servo: Servo, facts: Facts) -> _Row:
    body, panel = servo.on
    items = [one for one in _items(facts) if one.key == servo.key]
    looks = f"in {body}{f', {panel}' if panel else ''}"
    if servo.lead_mm is not None:
        looks += f"; lead {length_words(servo.lead_mm, facts.units)}"
    spot = items[0].at if items else None
    place: tuple[str, ...] = ()
    if spot is not None:
        along, out, up = spot
        place = (*_spots(((along, up),), facts), "")
        place = (place[0], _aside(out, facts, both=len(items) > 1), *place[1:])
    return _Row(
        f"servo for the {servo.drives}",
        max(1, len(items)),
        _mass(servo.key, servo.mass_g, facts),
        sizes_words(servo.size_mm, facts.units),
        looks,
        place,
    )


def _aboard(one: Aboard, facts: Facts) -> _Row:
    kind = _KINDS[one.kind]
    name = one.name if not kind or kind in one.name else f"{one.name} ({kind})"
    looks = [pack_words(one)]
    if one.current_limit_a is not None:
        looks.append(f"up to {decimal_text(one.current_limit_a)} A")
    if one.cut_off_v is not None:
        looks.append(f"stops its motor at {decimal_text(one.cut_off_v, 2)} V a cell")
    if one.lead_mm is not None:
        looks.append(f"lead {length_words(one.lead_mm, facts.units)}")
    along, up = _spots((one.at,), facts)
    return _Row(
        name,
        one.count,
        _mass(one.key, one.mass_g, facts),
        sizes_words(one.size_mm, facts.units) if one.size_mm is not None else "",
        ", ".join(filter(None, looks)),
        (along, _aside(one.out_mm, facts, both=one.mirrored), up, _elsewhere(one, facts)),
    )


def _spots(spots: Iterable[Point], facts: Facts) -> tuple[str, str]:
    """Along and up of places, one or more."""
    several = tuple(spots)
    along = "; ".join(span_cell(x, x, facts) for x, _ in several)
    return along, "; ".join(span_cell(z, z, facts) for _, z in several)


def _aside(out_mm: float, facts: Facts, *, both: bool) -> str:
    if both:
        return out_cell(-abs(out_mm), abs(out_mm), facts)
    return out_cell(out_mm, out_mm, facts) if round(out_mm, 1) else "in the middle"


def _elsewhere(one: Aboard, facts: Facts) -> str:
    """From where to where along it may be moved, and where else it may sit."""
    said = []
    if one.slides_mm is not None:
        said.append(f"{span_cell(*one.slides_mm, facts)} along")
    for spot in one.may_sit:
        along, up = _spots((spot,), facts)
        said.append(f"to {along} along, {up} up")
    return "; ".join(said)


def _items(facts: Facts) -> tuple[Item, ...]:
    return facts.report.items if facts.report else ()


def _mass(key: str, given_g: float | None, facts: Facts) -> str:
    """As given, or what was taken for it, with a star."""
    if given_g is not None:
        return value_words(given_g, "g", facts.units)
    item = next((one for one in _items(facts) if one.key == key), None)
    return "not known" if item is None else value_words(item.mass_g, "g", facts.units) + _ASSUMED
