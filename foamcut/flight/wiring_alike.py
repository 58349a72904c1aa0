"""What is alike on both sides of a model with several motors, and what is not.

Two things are of one pair when both are of one kind, not mirrored, one on the right and one on the left;
of several those that lie most alike.
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations, product

from foamcut.airframe.values import Motor
from foamcut.findings import Finding, Level
from foamcut.flight.values import Aboard, Carried, Model, Setup
from foamcut.flight.wiring_words import SOURCE, listed, row_text, unit_text

#: numbers that differ by less of the larger are alike: rounding and scales
_ALIKE = 0.02
#: leads of both sides that differ by less are alike, mm
_LEADS_MM = 10.0

Row = tuple[str, float | None, float | None, str]


def pairs(things: Sequence[Aboard]) -> list[tuple[Aboard, Aboard]]:
    """Right and left things that belong together, those that lie most alike first."""
    right = [one for one in things if not one.mirrored and one.out_mm > 0]
    left = [one for one in things if not one.mirrored and one.out_mm < 0]
    free = {one.key for one in (*right, *left)}
    found = []
    for one, other in sorted(product(right, left), key=_apart):
        if one.key in free and other.key in free:
            free -= {one.key, other.key}
            found.append((one, other))
    return found


def _apart(pair: tuple[Aboard, Aboard]) -> tuple[float, str, str]:
    """How far a pair is from lying alike on both sides, along, out and up, mm; then by name."""
    one, other = pair
    along, up = (abs(a - b) for a, b in zip(one.at, other.at, strict=True))
    return round(along + up + abs(other.out_mm + one.out_mm), 3), one.name, other.name


def differ(one: float | None, other: float | None) -> bool:
    """Whether two numbers that are both given are not alike."""
    if one is None or other is None:
        return False
    return abs(one - other) > _ALIKE * max(abs(one), abs(other))


def _unlike(rows: Sequence[Row]) -> list[Row]:
    return [row for row in rows if differ(row[1], row[2])]


def _told(rows: Sequence[Row]) -> str:
    return listed(
        [
            f"{word} {row_text(word, a or 0, unit)} and {row_text(word, b or 0, unit)}"
            for word, a, b, unit in rows
        ]
    )


def _higher(rows: Sequence[Row]) -> str:
    return listed([f"{word} {row_text(word, max(a or 0, b or 0), unit)}" for word, a, b, unit in rows])


def motor_findings(model: Model, setup: Setup) -> Iterator[Finding]:
    """Motors and propellers that are not alike, and pairs whose propellers turn the same way."""
    wing = [one for one in model.inputs.motors if one.on_wing]
    for one, other in combinations(wing, 2):
        rows = _unlike(_motor_rows(one, other))
        if rows:
            yield Finding(
                code="motors-unlike",
                level=Level.NOTE,
                where=other.key,
                text=f'the pairs "{one.name}" and "{other.name}" are not alike: {_told(rows)}; at one'
                " throttle they do not pull alike",
                source=SOURCE,
                mend=f"the same in both: {_first(rows)}",
            )
    carried = [*setup.of(Carried.MOTOR), *_propellers(setup)]
    for right, left in pairs(carried):
        rows = _unlike(
            (
                ("mass", right.mass_g, left.mass_g, "g"),
                ("current limit", right.current_limit_a, left.current_limit_a, "A"),
            )
        )
        if rows:
            yield Finding(
                code="motors-unlike",
                level=Level.WARNING,
                where=left.key,
                text=f'"{right.name}" on the right and "{left.name}" on the left are not alike:'
                f" {_told(rows)}; the model turns towards the weaker side",
                source=SOURCE,
                mend=f"the same on both sides: {_first(rows)}",
            )
    for one in wing:
        if one.propeller.turns in ("right", "left"):
            yield Finding(
                code="motors-turn",
                level=Level.NOTE,
                where=one.propeller.key,
                text=f"both propellers turn to the {one.propeller.turns}: their torque and swing add up",
                source=SOURCE,
                mend='turns = "inwards" with one propeller of the other hand, two leads of its motor changed'
                " over",
            )


def _first(rows: Sequence[Row]) -> str:
    return listed([f"{word} {row_text(word, a or 0, unit)}" for word, a, _, unit in rows])


def _motor_rows(one: Motor, other: Motor) -> tuple[Row, ...]:
    a, b = one.propeller, other.propeller
    return (
        ("power", one.power_w, other.power_w, "W"),
        ("speed constant", one.speed_constant_rpm_v, other.speed_constant_rpm_v, "rpm/V"),
        ("current limit", one.current_limit_a, other.current_limit_a, "A"),
        ("mass", one.mass_g, other.mass_g, "g"),
        ("propeller diameter", a.diameter_mm, b.diameter_mm, "mm"),
        ("propeller pitch", a.pitch_mm, b.pitch_mm, "mm"),
        ("blades", float(a.blades), float(b.blades), ""),
    )


def _propellers(setup: Setup) -> list[Aboard]:
    return [one for one in setup.of(Carried.OTHER) if "propeller" in one.name.lower()]


def control_findings(model: Model, setup: Setup) -> Iterator[Finding]:
    """Speed controls of motors that belong together, and are not alike."""
    groups: dict[str, list[Aboard]] = {}
    for control in setup.of(Carried.SPEED_CONTROL):
        groups.setdefault(_group(control, model, setup), []).append(control)
    for several in groups.values():
        ranked = sorted(several, key=_rank)
        for other in (one for one in several if one is not ranked[0]):
            cut, first = _beside(other, ranked, lambda one: one.cut_off_v, "cut-off", "V a cell")
            limit, second = _beside(other, ranked, lambda one: one.current_limit_a, "current limit", "A")
            if cut or limit:
                rows = [*cut, *limit]
                names = listed([f'"{one.name}"' for one in dict.fromkeys((*first, *second, other))])
                yield Finding(
                    code="speed-controls-unlike",
                    level=Level.WARNING,
                    where=other.key,
                    text=f"the speed controls {names} are not alike: {_told(rows)}; "
                    + ("one motor stops before the other" if cut else "they may start and brake unlike"),
                    source=SOURCE,
                    mend=f"both alike: {_higher(rows)}, of one make and with one setting",
                )


def _rank(control: Aboard) -> tuple[int, float, float, str]:
    """The one of which most is known first, then the strongest, then by name: no order of the file."""
    limit, cut = control.current_limit_a, control.cut_off_v
    known = sum(one is not None for one in (limit, cut))
    return -known, -(limit or 0.0), -(cut or 0.0), control.name


def _beside(
    control: Aboard,
    ranked: Sequence[Aboard],
    number: Callable[[Aboard], float | None],
    word: str,
    unit: str,
) -> tuple[list[Row], list[Aboard]]:
    """A number of a speed control beside that of the first that has one, where they differ."""
    first = next((one for one in ranked if number(one) is not None), control)
    rows = _unlike([(word, number(first), number(control), unit)])
    return rows, [first] if rows else []


def _group(control: Aboard, model: Model, setup: Setup) -> str:
    """What a speed control belongs to: a motor's table, or the motors aboard on both sides."""
    for motor in model.inputs.motors:
        if control.feeds in (motor.key, motor.name) or (not control.feeds and len(model.inputs.motors) == 1):
            return motor.key
    for one in setup.of(Carried.MOTOR):
        if control.feeds in (one.key, one.name) and one.out_mm != 0:
            return "both sides"
    return control.feeds


def lead_findings(setup: Setup) -> Iterator[Finding]:
    """Leads of things on both sides that are not as long as each other."""
    for kind in (Carried.BATTERY, Carried.SPEED_CONTROL, Carried.SERVO, Carried.RECEIVER):
        for right, left in pairs(setup.of(kind)):
            if right.lead_mm is None or left.lead_mm is None:
                continue
            apart = abs(right.lead_mm - left.lead_mm)
            if apart <= _LEADS_MM:
                continue
            shorter = left if left.lead_mm < right.lead_mm else right
            yield Finding(
                code="leads-unlike",
                level=Level.NOTE,
                where=f"{shorter.key}.lead",
                text=f'the leads of "{right.name}" and "{left.name}" are {unit_text(right.lead_mm, "mm")} and'
                f" {unit_text(left.lead_mm, 'mm')} long: both sides do not get quite the same",
                value=unit_text(apart, "mm"),
                range=f"within {unit_text(_LEADS_MM, 'mm')}",
                source=SOURCE,
                mend=f"{unit_text(apart, 'mm')} longer, or the other as much shorter",
            )
