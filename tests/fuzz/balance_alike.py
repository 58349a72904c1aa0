"""What must hold between the balances of two designs that differ in one thing.

Each relation changes the tables of a design and says what may and what must change in its numbers
(arithmetic, or the sign of an effect that every textbook has).
"""

import copy
import math
import re
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from typing import Any

from foamcut.flight.figures import Report
from tests.fuzz.attempt_balance import attempt_balance
from tests.fuzz.written import Mm, Tables, text_of

Check = Callable[[Report, Report], Iterator[str]]
#: the changed design and what is to be checked; None: the relation says nothing of this design
Changed = tuple[Tables, Check] | None

_AHEAD_MM = 100.0
_AFT_MM = 20.0
#: numbers that are places along
_ALONG = (
    "cg_along", "balance_target_along", "battery_along_target", "mean_chord_leading", "neutral_point_lattice",
    "neutral_point_formula", "balance_front", "balance_back",
)  # fmt: skip


#: numbers that go by what lies off the centre plane
_SIDEWAYS = ("cg_out", "inertia_roll", "inertia_yaw", "control_speed", "control_speed_ratio")


def _alike(
    before: Report,
    after: Report,
    *,
    within: float = 1e-6,
    but: dict[str, Callable[[float], float]] | None = None,
    without: Collection[str] = (),
) -> Iterator[str]:
    """Numbers of both that differ; `but`: what is expected of some of them."""
    names = [one.name for one in before.numbers]
    if names != [one.name for one in after.numbers]:
        yield f"other numbers: {sorted(set(names) ^ {one.name for one in after.numbers})}"
    for one in before.numbers:
        other = after.number(one.name)
        if other is None or one.name in without:
            continue
        due = (but or {}).get(one.name, lambda value: value)(one.value)
        if not math.isclose(due, other.value, rel_tol=within, abs_tol=within):
            yield f"{one.name}: {due} due, {other.value} found"


def _codes(before: Report, after: Report) -> Iterator[str]:
    several = [{(one.code, one.level.value) for one in report.findings} for report in (before, after)]
    if several[0] != several[1]:
        yield f"other findings: {sorted(several[0] ^ several[1])}"


def _grew(name: str, before: Report, after: Report, sign: int = 1) -> Iterator[str]:
    a, b = before.number(name), after.number(name)
    if a is not None and b is not None and (b.value - a.value) * sign < -1e-9 * max(1.0, abs(a.value)):
        yield f"{name} went from {a.value} to {b.value}"


# ---- what changes nothing


def mirrored(tables: Tables) -> Changed:
    """Left is right: the same numbers, all that is carried on the other side.

    Joints of left and right panels are staggered, so that the airframe itself is not quite its mirror image.
    """
    for thing in tables["aboard"]:
        if not thing.get("mirrored") and thing.get("out"):
            thing["out"] = Mm(-thing["out"].mm)
    for servo in tables["servo"]:
        servo["at"] = [servo["at"][0], Mm(-servo["at"][1].mm)]
    for motor in tables["motor"].values():
        if "right" in motor["thrust"]:
            motor["thrust"]["right"] = -motor["thrust"]["right"]
        turns = motor["propeller"].get("turns")
        motor["propeller"]["turns"] = {"right": "left", "left": "right"}.get(turns, turns)

    def check(before: Report, after: Report) -> Iterator[str]:
        yield from _alike(before, after, without=_SIDEWAYS)
        yield from _codes(before, after)
        a, b = (_moment_out(report) for report in (before, after))
        if abs(a + b) > 1e-6 * (1 + abs(a)):
            yield f"a moment of {a} g mm to the right became one of {b} g mm"

    return tables, check


def _moment_out(report: Report) -> float:
    """Of what is carried and bought, g mm to the right."""
    own = [one for one in report.items if re.match(r"aboard|servo|motor|dowel", one.key) and one.at]
    return math.fsum(one.mass_g * one.at[1] for one in own if one.at)


def farther_aft(tables: Tables) -> Changed:
    """All of it farther from the nose: places along move with it, all else stays."""
    if tables["sketch"]["scale"] != 1:
        return None
    _moved(tables, _AHEAD_MM)

    def check(before: Report, after: Report) -> Iterator[str]:
        yield from _alike(before, after, but=dict.fromkeys(_ALONG, lambda value: value + _AHEAD_MM))
        yield from _codes(before, after)

    return tables, check


def _moved(tables: Tables, mm: float) -> None:
    def along(one: Any) -> Any:
        return Mm(one.mm + mm, true=one.true)

    for surface in tables["surface"].values():
        surface["at"] = [along(surface["at"][0]), surface["at"][1]]
    for body in tables["body"].values():
        body["side"] = [[along(row[0]), *row[1:]] for row in body["side"]]
        for key in ("hatch", "nose_doubler"):
            if body.get(key):
                body[key] = [along(one) for one in body[key]]
        if body.get("deck"):
            body["deck"] = {"top": [along(one) for one in body["deck"]["top"]]}
        for former in body.get("formers") or ():
            former["at"] = along(former["at"])
    for table in (*tables["servo"], *tables["aboard"]):
        table["at"] = [along(table["at"][0]), table["at"][1]]
        if table.get("slides"):
            table["slides"] = [along(one) for one in table["slides"]]
        if table.get("may_sit"):
            table["may_sit"] = [[along(one[0]), one[1]] for one in table["may_sit"]]
    for dowel in tables["dowel"]:
        dowel["at"] = [[along(one[0]), one[1]] for one in dowel["at"]]
    model = tables.get("weighed", {}).get("model")
    if model and model.get("along"):
        model["along"] = along(model["along"])


def other_order(tables: Tables) -> Changed:
    """Things aboard in another order weigh and balance the same.

    Of what is unlike each is told beside the first of its kind, so that the level may be another.
    """
    if len(tables["aboard"]) < 2:
        return None
    tables["aboard"].reverse()

    def check(before: Report, after: Report) -> Iterator[str]:
        yield from _alike(before, after)
        several = [{one.code for one in report.findings} for report in (before, after)]
        if several[0] != several[1]:
            yield f"other findings: {sorted(several[0] ^ several[1])}"

    return tables, check


# ---- what changes by arithmetic


def thing_aft(tables: Tables) -> Changed:
    """arithmetic: change of balance = way x mass / whole mass; it never moves forward."""
    if not tables["aboard"] or tables["sketch"]["scale"] != 1 or "weighed" in tables:
        return None
    thing = tables["aboard"][0]
    thing["at"] = [Mm(thing["at"][0].mm + _AFT_MM), thing["at"][1]]
    if thing.get("slides"):
        thing["slides"] = [one if i == 0 else Mm(one.mm + _AFT_MM) for i, one in enumerate(thing["slides"])]

    def check(before: Report, after: Report) -> Iterator[str]:
        yield from _grew("cg_along", before, after)
        mine = sum(one.mass_g for one in before.items if one.key == "aboard[0]")
        whole = sum(one.mass_g for one in before.items if one.at is not None)
        if before.loaded and after.loaded:
            due = before.loaded.at[0] + _AFT_MM * mine / whole
            if abs(due - after.loaded.at[0]) > 0.01:
                yield f"balance at {after.loaded.at[0]} mm, {due} mm by the shift formula"

    return tables, check


def larger_sketch(tables: Tables) -> Changed:
    """arithmetic: twice the scale leaves shares and volumes, and gives four times the area."""
    tables["sketch"]["scale"] *= 2

    def check(before: Report, after: Report) -> Iterator[str]:
        same = ("wing_aspect_ratio", "wing_taper", "tail_volume", "fin_volume", "equivalent_dihedral")
        for name, factor in (*((one, 1.0) for one in same), ("wing_area", 4.0), ("wing_span", 2.0)):
            a, b = before.number(name), after.number(name)
            if (a is None) != (b is None):
                yield f"{name} is there once only"
            elif a and b and not math.isclose(a.value * factor, b.value, rel_tol=2e-3, abs_tol=1e-6):
                yield f"{name} went from {a.value} to {b.value}"
        a, b = before.number("neutral_point_share"), after.number("neutral_point_share")
        if a and b and abs(a.value - b.value) > 2.0 + 0.02 * abs(a.value):
            yield f"neutral point went from {a.value} % to {b.value} %"

    return tables, check


def twice_the_load(tables: Tables) -> Changed:
    """arithmetic: the bending moment grows with the load factor, and margins go down with it."""
    tables["balance"] = {**tables.get("balance", {}), "load_factor": 3}
    doubled = copy.deepcopy(tables)
    doubled["balance"]["load_factor"] = 6

    def check(before: Report, after: Report) -> Iterator[str]:
        for name, factor in (("root_moment", 2.0), ("wing_margin", 0.5), ("joiner_margin", 0.5)):
            a, b = before.number(name), after.number(name)
            if a and b and not math.isclose(a.value * factor, b.value, rel_tol=1e-6):
                yield f"{name} went from {a.value} to {b.value}"

    return doubled, check


# ---- what goes one way


def higher_site(tables: Tables) -> Changed:
    """Thinner air: faster stall, less thrust from the same power."""
    tables["site"] = {"altitude": "0 m", "temperature": "15 degC"}
    high = copy.deepcopy(tables)
    high["site"]["altitude"] = "2500 m"

    def check(before: Report, after: Report) -> Iterator[str]:
        yield from _grew("air_density", before, after, -1)
        yield from _grew("stall_speed", before, after)
        yield from _grew("flight_speed", before, after)
        yield from _grew("thrust_total", before, after, -1)
        yield from _grew("reynolds_stall", before, after, -1)

    return high, check


def more_dihedral(tables: Tables) -> Changed:
    """A V that is deeper has a larger spiral parameter."""
    wing = tables["surface"].get("wing")
    if wing is None or wing["build"] != "flat":
        return None
    if any(one["dihedral"] is None or not -5 <= one["dihedral"] <= 20 for one in wing["stations"]):
        return None
    for one in wing["stations"]:
        one["dihedral"] += 3.0

    def check(before: Report, after: Report) -> Iterator[str]:
        yield from _grew("equivalent_dihedral", before, after)
        yield from _grew("spiral_parameter", before, after)

    return tables, check


def larger_tail(tables: Tables) -> Changed:
    """A larger stabiliser behind the wing moves the neutral point aft, and its volume is larger."""
    wing, tail = tables["surface"].get("wing"), tables["surface"].get("tail")
    if (
        wing is None
        or tail is None
        or tail["at"][0].mm < wing["at"][0].mm + 1.5 * wing["stations"][0]["chord"].mm
    ):
        return None
    tables["body"], tables["motor"], tables["servo"], tables["dowel"] = {}, {}, [], []
    tail.pop("elevator", None)
    for thing in tables["aboard"]:
        thing.pop("feeds", None)
    larger = copy.deepcopy(tables)
    for one in larger["surface"]["tail"]["stations"]:
        one["out"] = Mm(one["out"].mm * 1.3)

    def check(before: Report, after: Report) -> Iterator[str]:
        volume = before.number("tail_volume")
        if volume is None or volume.value <= 0.05:  # hardly behind the wing's own middle, if at all
            return
        yield from _grew("neutral_point_lattice", before, after)
        yield from _grew("neutral_point_formula", before, after)
        yield from _grew("tail_volume", before, after)

    return larger, check


def more_power(tables: Tables) -> Changed:
    """Twice the power gives more thrust, and draws more current."""
    if not any(one.get("power") for one in tables["motor"].values()):
        return None
    for motor in tables["motor"].values():
        if motor.get("power"):
            motor["power"] = f"{2 * float(motor['power'].split()[0]):f} W"

    def check(before: Report, after: Report) -> Iterator[str]:
        for name in ("thrust_total", "thrust_to_weight", "power_total", "current_total"):
            yield from _grew(name, before, after)
        yield from _grew("flight_time", before, after, -1)

    return tables, check


def heavier_tail(tables: Tables) -> Changed:
    """A thing put on at the tail moves the balance aft."""
    tail = tables["surface"].get("tail")
    if tail is None or "weighed" in tables:
        return None
    at = [Mm(tail["at"][0].mm + tail["stations"][0]["chord"].mm / 2), tail["at"][1]]
    tables["aboard"].append({"name": "tail skid", "kind": "gear", "mass": "20 g", "at": at})

    def check(before: Report, after: Report) -> Iterator[str]:
        a, b = before.loaded, after.loaded
        place = [one for one in after.items if one.name == "tail skid"]
        if a and b and place and place[0].at and place[0].at[0] > a.at[0]:
            yield from _grew("cg_along", before, after)
            yield from _grew("mass_all_up", before, after)

    return tables, check


RELATIONS: tuple[Callable[[Tables], Changed], ...] = (
    mirrored, farther_aft, other_order, thing_aft, larger_sketch, twice_the_load, higher_site, more_dihedral, larger_tail,
    more_power, heavier_tail,
)  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Related:
    """What became of two designs; `tried`: both were balanced."""

    tried: bool = False
    faults: tuple[str, ...] = ()


def related(relation: Callable[[Tables], Changed], tables: Tables) -> Related:
    """Balance a design and a changed one, and look at what became of the numbers.

    A relation that also sets something in the design itself does so in the tables that it is given.
    """
    first = copy.deepcopy(tables)
    second = relation(first)
    if second is None:
        return Related()
    changed, check = second
    base = tables if changed is first else first
    one, other = (attempt_balance(text_of(each).encode()) for each in (base, changed))
    faults = [*one.faults, *other.faults]
    if one.balanced is None or other.balanced is None:
        return Related(faults=tuple(faults))
    faults += check(one.balanced.report, other.balanced.report)
    return Related(tried=True, faults=tuple(f"{relation.__name__}: {fault}" for fault in faults))


def in_inches(tables: Tables) -> Related:
    """The same design measured in inches has the same numbers and findings."""
    inches = copy.deepcopy(tables)
    inches["sketch"]["units"] = "in"
    one, other = (
        attempt_balance(text_of(each, unit).encode()) for each, unit in ((tables, "mm"), (inches, "in"))
    )
    faults = [*one.faults, *other.faults]
    if one.refused != other.refused:
        faults.append("refused in one of the two units alone")
    if one.balanced is None or other.balanced is None:
        return Related(faults=tuple(faults))
    a, b = one.balanced.report, other.balanced.report
    faults += [*_alike(a, b, within=1e-5), *_codes(a, b)]
    return Related(tried=True, faults=tuple(f"in inches: {fault}" for fault in faults))


def what_if_as_typed(tables: Tables) -> Related:
    """A change to the value that stands there changes nothing at all, to the last digit."""
    changes = [("sketch.scale", str(tables["sketch"]["scale"]))]
    if tables["aboard"] and tables["aboard"][0].get("mass"):
        changes.append(("aboard[0].mass", tables["aboard"][0]["mass"]))
    for name, surface in tables["surface"].items():
        changes.append((f"surface.{name}.stations[0].chord", f"{surface['stations'][0]['chord'].mm:.10f}"))
    data = text_of(tables).encode()
    answer = attempt_balance(data, changes=changes)
    if answer.balanced is None or answer.balanced.before is None:
        return Related(faults=answer.faults)
    before, after = answer.balanced.before.report, answer.balanced.report
    faults = list(answer.faults)
    for word in ("numbers", "items", "loaded", "places", "throws", "findings"):
        if getattr(before, word) != getattr(after, word):
            faults.append(f"{word} changed")
    return Related(tried=True, faults=tuple(f"as typed: {fault}" for fault in faults))
