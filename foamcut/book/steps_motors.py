"""Motors and speed controls fitted, proven with the propellers off, and only then built in.  mm."""

from collections.abc import Iterator, Sequence

from foamcut.airframe.motor_seat import wing_seat
from foamcut.airframe.values import Motor
from foamcut.book.step import Step, Tie
from foamcut.book.steps_body import SHELL
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_nacelles import nacelles_step
from foamcut.book.steps_skins import SKINS, mark_texts
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import deg, listed, off_middle, titled
from foamcut.flat.part import Part
from foamcut.flight.values import Aboard, Carried
from foamcut.units import decimal_text

PROPELLER_CAUTION = (
    "A propeller cuts to the bone, and a motor may start without being asked. PROPELLERS STAY OFF for all"
    " work on the bench. Later stand behind it, hold the model, and keep sleeves, faces and other people out"
    " of its plane."
)
BATTERY_CAUTION = (
    "A lithium battery that is shorted, pierced or overcharged burns fiercely. Never charge one alone or a"
    " swollen one, take it out of the model to charge it, charge and keep it in a case that does not burn,"
    " and cover bare wires before you plug it in."
)


def motor_count(ground: Ground) -> int:
    """How many motors turn propellers, those carried without a mount counted."""
    mounted = sum(2 if one.on_wing else 1 for one in ground.facts.inputs.motors)
    return mounted or sum(one.count for one in ground.facts.setup.of(Carried.MOTOR))


def motor_steps(ground: Ground, making: Making) -> Iterator[Step]:
    """Fit, prove, build in."""
    if not motor_count(ground):
        return
    yield _fitted(ground, making)
    yield _proven(ground)
    for motor in ground.wing_motors():
        boards = ground.of(motor, Kind.CHEEK, Kind.NACELLE)
        if boards:
            yield nacelles_step(ground, making, motor, boards)


def _carrier(ground: Ground, motor: Motor) -> tuple[Part, ...]:
    """What a motor is shown on."""
    inputs = ground.facts.inputs
    if motor.on_wing:
        surface = inputs.surface(motor.on)
        return ground.of(surface, *SKINS, Kind.PANEL) if surface is not None else ()
    return tuple(
        part for body in inputs.bodies if body.name == motor.on for part in ground.of(body, *SHELL, Kind.DECK)
    )


def _fitted(ground: Ground, making: Making) -> Step:
    facts, ruler = ground.facts, ground.ruler
    does: list[str] = []
    shown: list[Part] = []
    for motor in facts.inputs.motors:
        plates = ground.of(motor, Kind.FIREWALL)
        shown += (*_carrier(ground, motor), *plates)
        where = (
            f"onto {'each of ' if motor.on_wing else ''}{ground.all_named(plates)}"
            if plates
            else "in its place"
        )
        seat = wing_seat(motor, facts.inputs) if motor.on_wing else None
        bridge = ruler(seat.shaft_mm if seat is not None else motor.ahead_mm)
        screws = (
            f"; four screws on a circle of {ruler(motor.firewall.screws_mm)}"
            if motor.firewall.screws_mm
            else ""
        )
        does.append(
            f"Screw {'one motor' if motor.on_wing else 'the motor'} {where}{screws}, its shaft on the"
            " crossing of the lines drawn there, with a drop of thread lock on every screw. From the front"
            f" face of the plate to the middle of the propeller are {bridge}: motor, shaft and stand-offs"
            " under the motor together bridge that."
        )
        does += _thrust(motor, mark_texts(plates))
    for one in facts.setup.of(Carried.MOTOR):
        does.append(
            f"{titled(one.name)}: {_sits(ground, one)}. Screw it down with a drop of thread lock on every"
            " screw."
        )
    controls = facts.setup.of(Carried.SPEED_CONTROL)
    for one in controls:
        limit = f", {decimal_text(one.current_limit_a)} A" if one.current_limit_a else ""
        lead = f" Its lead to the motor is {ruler(one.lead_mm)} long." if one.lead_mm else ""
        does.append(
            f"{titled(one.name)}{' of each side' if one.mirrored else ''}{limit}: {_sits(ground, one)}, where"
            " air passes it. Join its three motor wires to the motor, in any order for now, cover every"
            f" joint with shrink tube, and fix it.{lead}"
        )
    if not controls:
        does.append(
            "Put the speed control of each motor where air passes it and where it can be reached; join its"
            " three wires to the motor and cover every joint with shrink tube."
        )
    several = motor_count(ground) > 1
    if several:
        does.append(_supply(ground))
    does.append(
        "Plug the speed controls into the receiver, both by a Y lead into the throttle channel."
        if several
        else "Plug the speed control into the throttle channel of the receiver."
    )
    wing = facts.inputs.wing
    ties = [
        *making.starting(Tie.GLUED, "firewall", "join", "box"),
        *making.ties(*((Tie.GLUED, ground.id("join", wing)),) if wing else ()),
    ]
    return Step(
        id="motors",
        heading="Fit the motors and speed controls" if several else "Fit motor and speed control",
        does=tuple(does),
        cautions=(PROPELLER_CAUTION, BATTERY_CAUTION),
        checks=(
            "Every screw is tight, and no screw touches the windings of a motor.",
            "Red goes to red and black to black at every battery plug; nothing bare can touch.",
            "The shaft turns freely by hand.",
        ),
        after=tuple(dict.fromkeys(ties)),
        shows=names(shown),
        tools=("screwdriver", "soldering iron", "shrink tube", "thread lock"),
    )


def _sits(ground: Ground, one: Aboard) -> str:
    ruler = ground.ruler
    out = f"{ruler(abs(one.out_mm))} out on each side" if one.mirrored else off_middle(one.out_mm, ruler)
    return f"its middle sits {ruler(one.at[0])} behind the nose, {ruler.up(one.at[1])}, {out}"


def _thrust(motor: Motor, texts: Sequence[str]) -> Iterator[str]:
    side = motor.outwards_deg if motor.on_wing else motor.right_deg
    if not side and not motor.down_deg:
        return
    words = []
    if side:
        way = ("outwards" if side > 0 else "inwards") if motor.on_wing else ("right" if side > 0 else "left")
        words.append(f"{deg(abs(side))} {way}")
    if motor.down_deg:
        words.append(f"{deg(abs(motor.down_deg))} {'down' if motor.down_deg > 0 else 'up'}")
    told = [text for text in texts if text.startswith(("washers ", "motor "))]
    more = f" On the plate is written what that takes: {listed(told)}." if told else ""
    yield f"The thrust line looks {listed(words)}, by washers under the motor's feet.{more}"


def _supply(ground: Ground) -> str:
    joined = ground.facts.setup.wiring.joined
    if joined:
        return (
            "The design lets the receiver supplies of both speed controls meet at the receiver. Ask the"
            " maker's papers whether they may: many may not. When in doubt part the red wire of one plug and"
            " insulate it."
        )
    return (
        "Two speed controls, one receiver supply: lift the red wire out of the receiver plug of the LEFT"
        " speed control, fold it back and insulate it with shrink tube. The right one alone feeds the"
        " receiver; its black and signal wires stay in both."
    )


def _turning(motor: Motor) -> str:
    """Which way each motor turns, seen from behind."""
    ways = {
        "inwards": ": the right one to the left (counter-clockwise), the left one to the right (clockwise):"
        " the upper blades move towards the body",
        "outwards": ": the right one to the right (clockwise), the left one to the left (counter-clockwise):"
        " the upper blades move away from the body",
        "right": " clockwise",
        "left": " counter-clockwise",
    }
    return ways.get(
        motor.propeller.turns, " the way its propeller is made for (the side with the numbers looks forwards)"
    )


def _proven(ground: Ground) -> Step:
    count = motor_count(ground)
    does = [
        "Take every propeller off. Hold the model down on the bench, switch the transmitter on with the"
        " throttle closed, and plug the battery in last.",
    ]
    for motor in ground.facts.inputs.motors:
        does.append(
            "Open the throttle a little. Seen from behind,"
            f" {'the motors have to turn' if motor.on_wing else 'the motor has to turn'}{_turning(motor)}."
            " Stick a flag of tape on the shaft to see it. Where it turns the wrong way, unplug the battery"
            " and change over any two of its three wires."
        )
    if count > 1:
        does += [
            "Teach both speed controls the same throttle range, as their papers say, and give both the same"
            " settings: brake off, timing, cut-off.",
            "Open the throttle slowly to a quarter, a half and full, each for ten seconds: both start at the"
            " same place of the stick and sound alike. Hold a tachometer, or a telephone that shows the"
            " pitch of a tone, to one after the other.",
            "Change over the motors between the speed controls when they differ, to learn which of the two"
            " is to blame, and change that motor or speed control NOW: later it is built in. Unlike motors"
            " pull the model to one side.",
        ]
    else:
        does.append(
            "Open the throttle slowly to full for ten seconds: it starts softly, runs evenly and stops at"
            " once."
        )
    does.append(
        "Wait a minute with the battery plugged in, then feel speed controls and plugs, and unplug it."
    )
    cut = [one for one in ground.facts.setup.of(Carried.SPEED_CONTROL) if one.cut_off_v]
    if cut:
        does.append(
            f"Set the cut-off to {decimal_text(cut[0].cut_off_v or 0.0, 2)} V for each cell"
            + (
                " on both speed controls, slow down rather than stop."
                if count > 1
                else ", slow down rather than stop."
            )
        )
    return Step(
        id="bench",
        heading=f"Prove {'the motors' if count > 1 else 'the motor'} on the bench, propellers off",
        does=tuple(does),
        cautions=(PROPELLER_CAUTION, BATTERY_CAUTION),
        checks=(
            "Every propeller is off.",
            "Every motor turns the way that is given above.",
            *(
                ("Both motors start together and run equally fast at each place of the stick.",)
                if count > 1
                else ()
            ),
            "With the transmitter switched off, every motor stops: set the receiver so if it does not.",
            "Nothing is hot to the finger.",
        ),
        after=((Tie.CHECKED, "motors"),),
        shows=names(
            [
                part
                for motor in ground.facts.inputs.motors
                for part in (*_carrier(ground, motor), *ground.of(motor, Kind.FIREWALL))
            ]
        ),
        tools=("transmitter", "battery", "tachometer"),
    )
