"""The numbers that the finished model is set up by."""

from collections.abc import Iterator

from foamcut.airframe.motor_thrust import thrust_of
from foamcut.airframe.values import Motor, Role, Surface
from foamcut.book.chapters_carried import pack_words, propeller_words, turns_words
from foamcut.book.chapters_words import (
    between_words,
    length_words,
    motors_count,
    number_words,
    set_words,
)
from foamcut.book.facts import Facts
from foamcut.book.values import Block, Chapter, Grid, Words
from foamcut.draw.balance_words import speed_words
from foamcut.flat.marks import BalanceMark
from foamcut.flight.amounts import unit_word
from foamcut.flight.figures import Number, Report, Throw
from foamcut.flight.values import Carried
from foamcut.units import decimal_text

Row = tuple[str, str, str]


def set_up_chapter(facts: Facts) -> Chapter | None:
    """Weight, balance, throws, angles, motors and battery in a table each; None of what is no aeroplane."""
    report = facts.report
    if report is None:
        return None
    blocks: list[Block] = [Words(text=_WHAT_FOR)]
    tables: tuple[tuple[str, tuple[Row, ...]], ...] = (
        ("Weight and balance", tuple(_balance(report, facts))),
        ("Angles", tuple(_angles(facts))),
        ("Motors and battery" if motors_count(facts) else "Battery", tuple(_power(report, facts))),
        ("Loading and speeds", tuple(_speeds(report, facts))),
    )
    for caption, rows in tables:
        if rows:
            blocks.append(
                Grid(caption=caption, head=("What", "Value", "From-to, and what is usual"), rows=rows)
            )
    if (mean := report.number("cg_mean_chord")) is not None and mean.usual:
        blocks.append(Words(text=_TWO_RULES))
    if any(isinstance(mark, BalanceMark) for part in facts.parts for mark in part.marks):
        blocks.append(Words(text=_MARKED))
    if report.throws:
        blocks.insert(2, _throws(report, facts))
    return Chapter(id="set-up", heading="Set-up", blocks=tuple(blocks))


_MARKED = (
    "The V on the wing is drawn where the design wants the balance. It was drawn before anything was weighed:"
    " the number of the first table goes before it where they differ."
)
_TWO_RULES = (
    "What is usual of the mean chord knows nothing of the tail, the static margin does: where the two rules"
    " do not agree, the static margin goes before the other."
)
_WHAT_FOR = (
    "Set the finished model up by these numbers, with everything in it that flies. From-to is"
    " what usual values"
    " and the kind of section leave open; it is no promise that the truth lies within."
)


def _balance(report: Report, facts: Facts) -> Iterator[Row]:
    mass, units = report.number("mass_all_up"), facts.units
    if mass is not None:
        yield (
            "weight, ready to fly",
            f"about {number_words(mass, units, bounds=False)}",
            between_words(mass.low, mass.high, mass.unit, units),
        )
    now, wing = report.loaded, facts.inputs.wing
    if now is None:
        return
    datum, place = (
        (wing.at[0], "behind the wing's leading edge at the root") if wing else (0.0, "behind the nose")
    )
    if now.target_mm is not None:
        yield (
            f"balance, {place}",
            set_words(now.target_mm - datum, units),
            _usual_place(report, datum, units),
        )
    low, high = (end - datum for end in (now.along_low_mm, now.along_high_mm))
    yield (
        "balance as worked out, with everything where it is drawn",
        set_words(now.at[0] - datum, units),
        between_words(low, high, "mm", units),
    )
    for title, name in (("the same, of the mean chord", "cg_mean_chord"), ("static margin", "static_margin")):
        number = report.number(name)
        if number is not None:
            yield title, number_words(number, units, bounds=False), _open(number, units)
    battery = report.number("battery_along_target")
    if battery is not None:
        place = set_words(battery.value, units)
        yield (
            "the battery's middle for that balance, behind the nose",
            place,
            "move it until the model balances",
        )


def _usual_place(report: Report, datum: float, units: str) -> str:
    ends = [report.number(name) for name in ("balance_front", "balance_back")]
    if ends[0] is None or ends[1] is None:
        return ""
    between = between_words(ends[0].value - datum, ends[1].value - datum, "mm", units)
    return f"{between} by the usual static margin; farther forward is steadier" if between else ""


def _throws(report: Report, facts: Facts) -> Grid:
    low = report.number("low_rate")
    rate = f"; begin with {number_words(low, facts.units, bounds=False)} of them as low rate" if low else ""
    return Grid(
        caption=f"Throws, each way, measured at the trailing edge where the surface is deepest{rate}",
        head=("Control surface", "Each way", "Angle", "Depth there"),
        rows=tuple(_throw(one, facts) for one in report.throws),
        figures=(1, 2, 3),
    )


def _throw(one: Throw, facts: Facts) -> tuple[str, str, str, str]:
    return (
        f"{one.word} of {one.surface}",
        set_words(one.mm, facts.units),
        f"{decimal_text(one.deg)} deg",
        set_words(one.chord_mm, facts.units),
    )


def _angles(facts: Facts) -> Iterator[Row]:
    """Wing and tail against the base line, dihedral, thrust lines."""
    report = facts.report
    for surface in facts.inputs.surfaces:
        if surface.role is not Role.FIN:
            yield f"{surface.name}, nose up from the base line", f"{decimal_text(surface.angle_deg)} deg", ""
    incidence = report.number("incidence") if report else None
    if incidence is not None:
        usual = f"usual: {incidence.usual}" if incidence.usual else ""
        yield incidence.title, number_words(incidence, facts.units, bounds=False), usual
    for surface in facts.inputs.surfaces:
        if surface.role is not Role.FIN and (words := _dihedral(surface)):
            yield f"{surface.name}, dihedral, each side", words, "gauges.pdf has the height of the prop"
    for motor in facts.inputs.motors:
        yield _thrust(motor)


def _dihedral(surface: Surface) -> str:
    """The dihedral of every panel from the root out; empty where all lie flat."""
    angles = [station.dihedral_deg for station in surface.stations[:-1]]
    if not any(angles):
        return ""
    return " then ".join(f"{decimal_text(one)} deg" for one in angles)


def _thrust(motor: Motor) -> Row:
    line = thrust_of(motor)
    if line.straight:
        return f'thrust line of motor "{motor.name}"', "straight", ""
    said = [(line.side_deg, line.side_word), (line.down_deg, "down")]
    words = ", ".join(f"{decimal_text(deg)} deg {word}" for deg, word in said if deg)
    return (
        f'thrust line of motor "{motor.name}"',
        words,
        "by washers; how thick, says What was found about the design",
    )


def _power(report: Report, facts: Facts) -> Iterator[Row]:
    for motor in facts.inputs.motors:
        yield (
            f'propeller of motor "{motor.name}"',
            f"{propeller_words(motor.propeller)}{turns_words(motor)}",
            "",
        )
        ahead = "before the leading edge" if motor.on_wing else "before the firewall"
        yield (
            f'propeller disc of motor "{motor.name}"',
            f"{length_words(motor.ahead_mm, facts.units)} {ahead}",
            "",
        )
    for one in facts.setup.of(Carried.BATTERY):
        if words := pack_words(one):
            yield one.name, words, ""
    for name in ("current_total", "flight_time", "thrust_to_weight", "power_per_mass", "control_speed"):
        number = report.number(name)
        if number is not None:
            words = f"about {number_words(number, facts.units, bounds=False)}"
            yield number.title, words, _open(number, facts.units)


def _speeds(report: Report, facts: Facts) -> Iterator[Row]:
    for name in ("wing_loading", "cube_loading"):
        number = report.number(name)
        if number is not None:
            words = f"about {number_words(number, facts.units, bounds=False)}"
            yield number.title, words, _open(number, facts.units)
    for name in ("stall_speed", "approach_speed", "flight_speed"):
        number = report.number(name)
        if number is not None:
            between = between_words(number.low, number.high, number.unit, facts.units)
            yield number.title, f"about {speed_words(number.value, facts.units)}", between


def _open(number: Number, units: str) -> str:
    """From where to where a number may lie, and what is usual, which is told in the unit that it has here."""
    between = between_words(number.low, number.high, number.unit, units)
    own = unit_word(number.unit, units) == number.unit
    usual = f"usual{'' if own else f', in {number.unit}'}: {number.usual}" if number.usual else ""
    return "; ".join(filter(None, (between, usual)))
