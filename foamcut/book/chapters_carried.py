"""What is carried besides board: motors, propellers, battery, radio, load; with masses, sizes and places."""

from collections.abc import Iterator
from typing import NamedTuple

from foamcut.airframe.values import Motor, Propeller, Servo
from foamcut.book.chapters_words import (
    aside_words,
    counted,
    length_words,
    sizes_words,
    span_words,
    value_words,
)
from foamcut.book.facts import Facts
from foamcut.book.values import Grid
from foamcut.flat.outline import Point
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
    what: str
    how_many: int
    mass: str
    size: str
    facts: str
    place: str


def propeller_words(propeller: Propeller) -> str:
    """Diameter and pitch in inches, as propellers are sold: ``8 x 6 in``."""
    sizes = [propeller.diameter_mm, *([propeller.pitch_mm] if propeller.pitch_mm is not None else [])]
    blades = f", {propeller.blades} blades" if propeller.blades != 2 else ""
    return f"{' x '.join(decimal_text(size / MM_PER_INCH, 2) for size in sizes)} in{blades}"


def pack_words(battery: Aboard) -> str:
    """Cells and charge of a battery; empty where neither is given."""
    said = []
    if battery.cells is not None:
        said.append(counted(battery.cells, "cell"))
    if battery.capacity_mah is not None:
        said.append(f"{decimal_text(battery.capacity_mah)} mAh")
    return " and ".join(said)


def carried_grid(facts: Facts) -> Grid | None:
    """Everything that is carried, the mass of one of each; None where nothing is."""
    rows = [
        *(row for motor in facts.inputs.motors for row in _motor(motor, facts)),
        *(_servo(servo, facts) for servo in facts.inputs.servos),
        *(_aboard(one, facts) for one in facts.setup.aboard),
    ]
    if not rows:
        return None
    starred = any(row.mass.endswith(_ASSUMED) for row in rows)
    note = "; * a usual value, since the design does not say" if starred else ""
    return Grid(
        caption=f"What is carried: mass of one, its size (long x wide x high), its middle on the model{note}",
        head=("What", "How many", "Mass of one", "Size", "To look for when buying", "Where its middle lies"),
        rows=tuple((row.what, str(row.how_many), *row[2:]) for row in rows),
        figures=(1, 2),
    )


def _motor(motor: Motor, facts: Facts) -> Iterator[_Row]:
    """A motor and its propeller; of a pair one row each."""
    count = 2 if motor.on_wing else 1
    where = "on its firewall, the same on the other side" if motor.on_wing else "on its firewall"
    looks = [
        *([value_words(motor.power_w, "W", facts.units)] if motor.power_w is not None else []),
        *([f"{decimal_text(motor.speed_constant_rpm_v)} rpm/V"] if motor.speed_constant_rpm_v else []),
        *([f"up to {decimal_text(motor.current_limit_a)} A"] if motor.current_limit_a is not None else []),
    ]
    screws = motor.firewall.screws_mm
    if screws is not None:
        looks.append(f"screws on a circle of {length_words(screws, facts.units)}")
    mass = _mass(motor.key, motor.mass_g, facts)
    yield _Row(f'motor "{motor.name}"', count, mass, "", ", ".join(looks), where)
    turns = f", turns {motor.propeller.turns}" if motor.propeller.turns else ""
    pair = "; one of each hand" if motor.propeller.turns in ("inwards", "outwards") else ""
    mass = _mass(motor.propeller.key, motor.propeller.mass_g, facts)
    looks = [f"{propeller_words(motor.propeller)}{turns}{pair}"]
    yield _Row(f'propeller of "{motor.name}"', count, mass, "", ", ".join(looks), "on its motor")


def _servo(servo: Servo, facts: Facts) -> _Row:
    body, panel = servo.on
    items = facts.report.items if facts.report else ()
    count = max(1, sum(one.key == servo.key for one in items))
    where = (
        f"in {body}{f', {panel}' if panel else ''}, {span_words(servo.at[0], servo.at[0], facts, 'along')}"
    )
    looks = f"lead {length_words(servo.lead_mm, facts.units)}" if servo.lead_mm is not None else ""
    return _Row(
        f"servo for the {servo.drives}",
        count,
        _mass(servo.key, servo.mass_g, facts),
        sizes_words(servo.size_mm, facts.units),
        looks,
        f"{where}{', one on each side' if count > 1 else ''}",
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
    return _Row(
        name,
        one.count,
        _mass(one.key, one.mass_g, facts),
        sizes_words(one.size_mm, facts.units) if one.size_mm is not None else "",
        ", ".join(filter(None, looks)),
        _place(one, facts),
    )


def _place(one: Aboard, facts: Facts) -> str:
    """Where its middle lies, and from where to where it may be moved."""
    places = [*_at(one.at, facts)]
    if one.mirrored:
        places.append(aside_words(one.out_mm, facts, "to each side"))
    elif round(one.out_mm, 1):
        places.append(aside_words(one.out_mm, facts))
    words = ", ".join(places)
    if one.slides_mm is not None:
        words += f"; may be moved from {span_words(*one.slides_mm, facts, 'along')}"
    return "; or ".join((words, *(", ".join(_at(spot, facts)) for spot in one.may_sit)))


def _at(spot: Point, facts: Facts) -> tuple[str, str]:
    along, up = spot
    return span_words(along, along, facts, "along"), span_words(up, up, facts, "up")


def _mass(key: str, given_g: float | None, facts: Facts) -> str:
    """As given, or what was taken for it, with a star."""
    if given_g is not None:
        return value_words(given_g, "g", facts.units)
    items = facts.report.items if facts.report else ()
    item = next((one for one in items if one.key == key), None)
    return "not known" if item is None else value_words(item.mass_g, "g", facts.units) + _ASSUMED
