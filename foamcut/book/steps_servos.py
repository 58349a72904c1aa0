"""Receiver, servos, horns and pushrods.  mm."""

import math
from collections.abc import Iterator, Sequence

from foamcut.airframe.values import Control, Inputs, Servo, Surface
from foamcut.book.step import Step, Tie
from foamcut.book.steps_begin import GLUE_CAUTION
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_inside import SERVO_FIRST, inside_things
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_motors import motor_count
from foamcut.book.steps_skins import SKINS, mark_texts
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import advice, counted, off_middle, titled
from foamcut.flat.drawn import Hand
from foamcut.flat.part import Part
from foamcut.flight.values import Aboard, Carried


def servo_steps(ground: Ground, making: Making) -> Iterator[Step]:
    """Servos that are fitted from outside, the receiver, then horns and pushrods."""
    facts = ground.facts
    servos = [
        one
        for one in facts.inputs.servos
        if one.on[0] not in {b.name for b in facts.inputs.bodies} or one.on[1] == "hatch"
    ]
    inside = [one for body in facts.inputs.bodies for one in inside_things(body, facts.setup.aboard)]
    loose = [one for one in facts.setup.of(Carried.SERVO, Carried.RECEIVER) if one not in inside]
    loose += [
        one
        for one in facts.setup.of(Carried.BALLAST, Carried.OTHER)
        if one.size_mm is not None and one not in inside
    ]
    if servos or loose:
        yield _servos(ground, making, servos, loose)
    horns = ground.of(None, Kind.HORN)
    controls = [(one, control) for one in facts.inputs.surfaces for control in one.controls]
    if controls:
        yield _horns(ground, making, controls, horns)


def _servos(ground: Ground, making: Making, servos: Sequence[Servo], loose: Sequence[Aboard]) -> Step:
    ruler = ground.ruler
    surfaces = {one.name: one for one in ground.facts.inputs.surfaces}
    does = [SERVO_FIRST] if servos or any(one.kind is Carried.SERVO for one in loose) else []
    shown: list[Part] = []
    for servo in servos:
        surface = surfaces.get(servo.on[0])
        where = (
            f"of {ground.the(surface)}" if surface is not None else f"of the {servo.on[1]} of {servo.on[0]}"
        )
        long, wide = servo.size_mm
        does.append(
            f"{servo.drives.capitalize()} servo{'s, one in each half' if surface is not None else ''}: into"
            f" the well {where}, {ruler.pair(long, wide)}, {ruler(servo.at[0])} behind the nose"
            f"{' and ' + ruler(abs(servo.at[1])) + ' out' if surface is not None else ''}. Plug it onto the"
            " lead that lies there, tape the plug so that it cannot part, and screw the servo to its strips,"
            " its arm outside."
        )
        if surface is not None:
            shown += ground.of(surface, *SKINS, Kind.PANEL)
    for one in loose:
        out = f"{ruler(abs(one.out_mm))} out on each side" if one.mirrored else off_middle(one.out_mm, ruler)
        does.append(
            f"{titled(one.name)}: its middle {ruler(one.at[0])} behind the nose, {ruler.up(one.at[1])},"
            f" {out}. {_held(ground, one)}"
        )
    if any(one.kind is Carried.RECEIVER for one in loose):
        does.append(
            "Lead the aerial of the receiver away from battery, wires and carbon, straight, and the second"
            " one square to the first."
        )
    radio = bool(servos) or any(one.kind in (Carried.SERVO, Carried.RECEIVER) for one in loose)
    if radio:
        does.append(
            "Plug every lead into the receiver, into the channel that the transmitter's papers give for it."
        )
    ties = [(Tie.CHECKED, "bench"), *making.starting(Tie.GLUED, "close", "box", "tail", "deck")]
    return Step(
        id="servos",
        heading=_fits(servos, loose),
        does=tuple(dict.fromkeys(does)),
        cautions=("Propellers stay off while anything is plugged in.",) if motor_count(ground) else (),
        checks=(
            (
                "With every stick in the middle, each servo stands in its middle and its arm square to the"
                " pushrod.",
            )
            if radio
            else ("Nothing shifts when the model is turned over.",)
        ),
        after=making.ties(*ties),
        shows=names((*shown, *ground.bodies)),
        tools=("small screwdriver", "transmitter, receiver, battery", "hook-and-loop tape"),
    )


def _fits(servos: Sequence[Servo], loose: Sequence[Aboard]) -> str:
    """The heading, by what is fitted."""
    kinds = {one.kind for one in loose}
    moved = bool(servos) or Carried.SERVO in kinds
    if moved:
        return "Fit receiver and servos" if Carried.RECEIVER in kinds else "Fit the servos"
    return "Fit the receiver" if Carried.RECEIVER in kinds else "Fit what is carried"


def _held(ground: Ground, one: Aboard) -> str:
    """How a thing is fixed; ballast only when the balance is found."""
    if one.kind is Carried.BALLAST:
        mass = f" It weighs {ground.ruler.mass(one.mass_g)}." if one.mass_g is not None else ""
        return f"Tape it there for now; it is glued in when the model balances.{mass}"
    return "Fix it with hook-and-loop tape or a strip of scrap."


def _horns(
    ground: Ground, making: Making, controls: Sequence[tuple[Surface, Control]], horns: Sequence[Part]
) -> Step:
    ruler = ground.ruler
    does: list[str] = []
    shown: list[Part] = []
    for surface, control in controls:
        own = [part for part in horns if part.key.startswith(f"{control.key}.")]
        shown += ground.of(surface, *SKINS, Kind.PANEL)
        face = "left face" if surface.role.value == "fin" else "lower face"
        if own:
            does.append(
                f"{ground.all_named(own)}: push {'the tab of each' if len(own) > 1 else 'its tab'} through"
                f" the slot in the {control.word} of {ground.the(surface)} from the {face}, foot flat on the"
                " paper, its hole over the hinge line, and glue it with epoxy on both faces."
            )
        elif any(text == "horn here" for text in mark_texts(ground.of(surface, *SKINS, Kind.PANEL))):
            does.append(
                f"{titled(control.word)} of {ground.the(surface)}: glue a bought horn onto the {face} on the"
                ' line "horn here",'
                " its holes over the hinge line."
            )
        else:
            does.append(
                f"{titled(control.word)} of {ground.the(surface)}: glue a horn onto the {face}, its holes"
                " over the hinge line, where the pushrod runs straight."
            )
        if len(own) > 1 and not any(
            one.drives == control.word and one.on[0] == surface.name for one in ground.facts.inputs.servos
        ):
            does.append(
                f"The {control.word} has two halves with a horn each: move both from one servo by a forked"
                " pushrod, or each by a servo of its own, so that both go the same way by the same amount."
            )
        if (long := _pushrod(ground.facts.inputs, surface, control, own)) is not None:
            does.append(
                f"From the servo to the horn of the {control.word} it is about {ruler(long)}: bend one end of"
                f" a wire {ruler(1.0)} to {ruler(1.5)} thick into a Z, and let a clamp or a second Z take up"
                " the length with servo and control in the middle."
            )
    does.append(
        "Hold each control in the middle with tape while its pushrod is fixed. A long pushrod is guided"
        f" every {ruler(100.0)} to {ruler(150.0)}, so that it cannot bow when it pushes."
    )
    return Step(
        id="horns",
        heading=f"Fit {counted(len(horns), 'horn')} and the pushrods" if horns else "Fit horns and pushrods",
        does=tuple(does),
        cautions=(GLUE_CAUTION,),
        checks=(
            "With the sticks in the middle every control is in line with its surface"
            + (
                "; it is set off from there with the throws."
                if advice(ground.facts.report, "no-tail")
                else "."
            ),
            f"Each control moves to both ends without binding, and its edge has no more than {ruler(1.5)}"
            " play before the servo moves.",
        ),
        after=(
            *making.ties((Tie.CHECKED, "servos"), (Tie.GLUED, "hinges")),
            *making.starting(Tie.CHECKED, "inside"),
        ),
        adds=names(horns),
        shows=names((*shown, *ground.bodies)),
        tools=("epoxy", "pushrod wire", "pliers", "tape"),
    )


def _pushrod(inputs: Inputs, surface: Surface, control: Control, own: Sequence[Part]) -> float | None:
    """From a servo that drives a control to its horn, mm."""
    servo = next((one for one in inputs.servos if one.drives == control.word), None)
    horn = next((part for part in own if part.hand is not Hand.LEFT and part.place is not None), None)
    if servo is None or horn is None or horn.place is None:
        return None
    x, y = horn.place.at[0], horn.place.at[1]
    if servo.on[0] == surface.name:
        return math.dist((servo.at[0], abs(servo.at[1])), (x, abs(y)))
    across = 0.0 if servo.on[1] == "side" else servo.at[1]
    return math.dist((servo.at[0], across), (x, y))
