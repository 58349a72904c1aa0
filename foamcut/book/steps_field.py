"""Throws, range check, log: what is done before and after the model leaves the bench."""

from collections.abc import Iterator

from foamcut.book.step import Step, Tie
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_motors import PROPELLER_CAUTION, motor_count
from foamcut.book.steps_skins import SKINS
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import advice
from foamcut.book.values import Grid
from foamcut.units import decimal_text

_WAYS = {
    "aileron": "stick right: right aileron up, left aileron down",
    "elevator": "stick back, towards you: trailing edge up",
    "rudder": "stick right: trailing edge to the right, seen from behind",
    "elevon": "stick back: both trailing edges up; stick right: the right one up, the left one down",
}
_V_TAIL = (
    "stick back: both trailing edges up; rudder right: the right one down, the left one up, seen from behind"
)


def field_steps(ground: Ground, making: Making) -> Iterator[Step]:
    """Throws, range and the log; of what is no aeroplane the log alone."""
    facts = ground.facts
    controls = [control for one in facts.inputs.surfaces for control in one.controls]
    if controls:
        yield _throws(ground, making)
    if controls or motor_count(ground):
        yield _range(ground, making)
    yield _log(ground, making)


def _throws(ground: Ground, making: Making) -> Step:
    facts, ruler = ground.facts, ground.ruler
    throws = {one.key: one for one in (facts.report.throws if facts.report else ())}
    motors = motor_count(ground)
    rows, does = [], []
    for surface in facts.inputs.surfaces:
        for control in surface.controls:
            one = throws.get(control.key)
            way = _WAYS.get(control.word, "")
            if ground.v_tail is not None and surface.key == ground.v_tail.key:
                way = _V_TAIL
            mm = ruler(one.mm) if one is not None else "as the throw gauge says"
            rows.append(
                (f"{surface.name} {control.word}", f"{decimal_text(control.throw_deg)} degrees", mm, way)
            )
    does += [
        f"{'Propellers off, t' if motors else 'T'}ransmitter on, battery in. Stand behind the model and look"
        " forwards with it: right is its right.",
        "Move one stick at a time and compare with the last column of the table. Where a control goes the"
        " wrong way, reverse that channel in the transmitter.",
        "Hold the throw gauge of each control (gauges.pdf) at its hinge, or measure at the trailing edge"
        " where the control is widest, up and down: set what the table says with the holes of horn and arm"
        " first, and with the transmitter's travel for the rest.",
    ]
    does += [
        f"No stabiliser holds the nose up. Usual is then: {mend}. The wing is built without twist: with the"
        " sticks in the middle the controls stand so."
        for _, mend in advice(facts.report, "no-tail")
    ]
    low = facts.report.number("low_rate") if facts.report else None
    if low is not None:
        does.append(
            f"Put a low rate of {decimal_text(low.value, 0)} % of these on a switch, for the first flight."
        )
    return Step(
        id="throws",
        heading="Set throws and directions",
        does=tuple(does),
        cautions=("Propellers stay off until the model is at the field.",) if motors else (),
        checks=tuple(f"{row[0]}: {row[3]}." if row[3] else f"{row[0]} moves the right way." for row in rows),
        after=making.ties((Tie.CHECKED, "horns"), (Tie.CHECKED, "balance")),
        shows=names(
            [
                part
                for one in facts.inputs.surfaces
                if one.controls
                for part in ground.of(one, *SKINS, Kind.PANEL)
            ]
        ),
        tools=("throw gauges (gauges.pdf) or a rule", "transmitter"),
        blocks=(
            Grid(
                caption="Throws, to each side",
                head=("control", "angle", "at the trailing edge", "direction"),
                rows=tuple(rows),
            ),
        ),
    )


def _range(ground: Ground, making: Making) -> Step:
    motors = motor_count(ground)
    does = [
        f"At the field{', first with the motor off' if motors else ''}: set the transmitter to its range test"
        " as its papers say (often about 30 m at low power). One holds the model, the other walks away and"
        " moves every stick.",
    ]
    if motors:
        does += [
            "Then once more with the motor running at half throttle, the model held fast from behind.",
            "Switch the transmitter off for a moment: the motor has to stop. Set the receiver so if it does"
            " not, and do not fly before it does.",
            "Propellers go on last, at the field: the side with the numbers forwards, nut tight, battery"
            " unplugged while you do it.",
        ]
    does.append(
        "Have somebody who has flown such models look it all over, and ask them to make the first flight, or"
        " to stand beside you. Follow the rules of your place and of your club."
    )
    ties = [(Tie.CHECKED, step) for step in ("throws", "balance", "bench")]
    return Step(
        id="range",
        heading="Range check",
        does=tuple(does),
        cautions=((PROPELLER_CAUTION,) if motors else ())
        + ("A model in the air can hurt somebody: fly away from people, roads and buildings.",),
        checks=(
            "No control jerks or stops at the full distance of the test.",
            *(("The motor stops when the transmitter is switched off.",) if motors else ()),
            "Two people have looked at directions, hinges, screws and battery.",
        ),
        after=making.ties(*ties),
        tools=("transmitter", "a second person"),
    )


def _log(ground: Ground, making: Making) -> Step:
    plane = bool(ground.facts.inputs.surfaces)
    does = [
        "Write down date, who built it, which sheets and glue, and what took long.",
        "For everything that you built otherwise than drawn add an entry to the design file: [[built]] with"
        " key, value, why and date. It is shown beside the drawn value everywhere, and the next revision can"
        " take it over.",
    ]
    if plane:
        does.insert(
            1,
            "Weight ready to fly, where it balances behind the leading edge, where the battery lies, throws"
            " as they were set: into the design file under [weighed], and onto a label inside the hatch or"
            " the body.",
        )
        does.append("After each flight: trims, battery used, what broke and how it was mended.")
    waits = [step for step in ("range", "balance", "paint") if making.has(step)]
    return Step(
        id="log",
        heading="Keep a log",
        does=tuple(does),
        checks=("The plan's revision stands on the model: " + (ground.facts.title.revision or "none") + ".",),
        after=tuple((Tie.CHECKED, step) for step in waits[:1]),
        tools=("pencil", "the design file"),
    )
