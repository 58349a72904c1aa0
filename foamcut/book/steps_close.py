"""Folded surfaces closed: leads drawn through first, then glue and twist, tape, halves joined.  mm."""

from collections.abc import Iterator, Sequence

from foamcut.airframe.motor_seat import wing_seat
from foamcut.airframe.planform import panels
from foamcut.airframe.values import Motor, Nose, Role, Servo, Surface
from foamcut.book.step import Step, Tie
from foamcut.book.steps_begin import GLUE_CAUTION
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_halves import halves_step
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_skins import SKINS, is_bevelled, mark_texts
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import listed
from foamcut.flat.drawn import Hand
from foamcut.flat.marks import TapeMark
from foamcut.flat.part import Part
from foamcut.flight.values import Carried

#: what the words of a tape mean, for somebody who does not have the skin before the eyes
_EDGES = {
    "tape round the nose": "Tape round the nose",
    "tape round the edge": "Tape round the trailing edge",
}
#: what of a lead stands out at the root, mm (common practice, no source)
_OUT_MM = 100.0


def close_steps(ground: Ground, making: Making, surface: Surface) -> Iterator[Step]:
    """Leads, closing, tape, halves."""
    skins = ground.of(surface, *SKINS)
    if not skins:
        return
    servos = [servo for servo in ground.facts.inputs.servos if servo.on[0] == surface.name]
    motors = ground.wing_motors(surface)
    if servos or motors:
        yield _leads(ground, making, surface, servos, motors)
    yield _closed(ground, making, surface, skins)
    yield _taped(ground, surface, skins)
    if surface.role is not Role.FIN:
        yield halves_step(ground, making, surface, skins)


def _leads(
    ground: Ground, making: Making, surface: Surface, servos: Sequence[Servo], motors: Sequence[Motor]
) -> Step:
    ruler = ground.ruler
    does: list[str] = []
    for servo in servos:
        along, out = servo.at
        needs = abs(out) + _OUT_MM
        long, wide = servo.size_mm
        lead = f" Its lead is {ruler(servo.lead_mm)} long with its extension" if servo.lead_mm else ""
        short = lead and (
            f", and {ruler(needs)} go from the servo to {ruler(_OUT_MM)} outside the root."
            if servo.lead_mm and servo.lead_mm >= needs
            else f", and it takes {ruler(needs)} to {ruler(_OUT_MM)} outside the root: take a longer one."
        )
        does.append(
            f"{servo.drives.capitalize()} servo, one in each half: its well, {ruler.pair(long, wide)}, lies"
            f" {ruler(along)} behind the nose of the model and {ruler(abs(out))} out from the centre. Glue a"
            " strip of scrap board inside along both short ends of the well, so that the ears of the servo"
            " have something to"
            ' be screwed to. Lay the servo\'s lead along the line "wire way, before closing" to the root,'
            f" and tape it down there.{lead}{short}"
        )
    for motor in motors:
        does.append(
            "Motor wires: lead the wires from the motor's side through the opening"
            ' "motor wires, before closing" in the lower skin, along the front of the spar, to the root.'
            " Where the wires are not at hand yet, lay a strong thread along that way instead, its ends"
            f" taped outside, to pull them through later.{_controls(ground, motor)}"
        )
    does += [
        f"Let at least {ruler(_OUT_MM)} of every lead stand out at the root, and write on each plug what it"
        " goes to.",
        "Plug each servo into a receiver or a servo tester and see it move, through the extension, before"
        " anything is closed.",
    ]
    after = [(Tie.CHECKED, ground.id("dry", surface)), (Tie.GLUED, ground.id("spar", surface))]
    after += [(Tie.GLUED, ground.id("firewall", motor)) for motor in motors]
    return Step(
        id=ground.id("leads", surface),
        heading=f"Draw the leads through {ground.the(surface)} before it is closed",
        does=tuple(does),
        checks=(
            "Every lead can be pulled a little to and fro, and none lies on the spar or where the skin is"
            " glued.",
            "Every servo and every extension works.",
        ),
        after=making.ties(*after),
        shows=names((*ground.of(surface, *SKINS), *ground.of(surface, Kind.STRIP))),
        tools=("servo leads and extensions", "tape", "thread", "receiver or servo tester"),
    )


def _controls(ground: Ground, motor: Motor) -> str:
    """Where the speed control of a motor sits, when the design says so."""
    for one in ground.facts.setup.of(Carried.SPEED_CONTROL):
        if one.feeds == motor.key or one.mirrored:
            where = (
                f" The {one.name} of each side sits {ground.ruler(one.at[0])} behind the nose of the model,"
                f" {ground.ruler(abs(one.out_mm))} out and {ground.ruler.up(one.at[1])}"
            )
            lead = f"; its lead to the motor is {ground.ruler(one.lead_mm)} long" if one.lead_mm else ""
            return f"{where}{lead}: let the wires come out where it is reached."
    return ""


def _closed(ground: Ground, making: Making, surface: Surface, skins: Sequence[Part]) -> Step:
    texts = mark_texts(skins)
    both = any(part.hand is Hand.LEFT for part in skins)
    panels_of = panels(surface)
    chord = ground.ruler(panels_of[0].chord(0.0))
    does = [
        f"{'Close one half after the other. ' if both else ''}Cover a flat table or a straight board, longer"
        " than the surface, with film, and lay the lower skin flat on it. How it lies now is how it stays:"
        " the twist is set in this step and cannot be taken out later. The design wants none: root and tip"
        " stand at the same angle.",
        "Spread glue on top of the spar, on the feathered edge at the rear and inside the nose. White glue"
        " gives time; foaming glue fills gaps and has to be weighed down well."
        + (f" Keep it off {listed(bare)}." if (bare := _bare(ground, surface)) else ""),
        "Fold the upper skin over: press it onto the spar first, from the root to the tip, then onto the"
        " lower skin along the trailing edge. Hold nose and trailing edge with strips of masking tape"
        " across.",
        "Lay a straight board along the spar and another along the trailing edge, and weights on both; press"
        " the lower skin flat onto the table all along. Leave it over night.",
    ]
    if (low := _below(ground, surface)) > 0.5:
        does.insert(
            1,
            f"The firewalls stand {ground.ruler(low)} out below the lower skin: lay straight boards of one"
            f" thickness, at least {ground.ruler(low)}, under the half on both sides of the plate, so that"
            " the skin is carried from root to tip.",
        )
    does += [
        f"Between the skins: {text}. Cut that strip from a scrap."
        for text in texts
        if text.startswith("close with")
    ]
    if any(panel.first_tilt_deg for panel in panels_of[1:]):
        does.insert(
            0,
            "Panels that meet at an angle are closed one by one, each flat on the table, and joined to each"
            " other afterwards.",
        )
    if surface.nose is Nose.TWO_SKINS:
        does.insert(2, "Glue the front edges of both skins together along the nose, flush.")
    if "trim here when it is closed" in texts:
        does.append(
            'When the glue is hard, trim the trailing edge along the line "trim here when it is closed"'
            + (", and sand it to a smooth edge." if is_bevelled(surface) else ".")
        )
    joiner = ground.of(surface, Kind.JOINER)
    if both and not joiner and surface.role is Role.WING:
        does.insert(
            0,
            "No joiner is drawn. A plate cut to the angle at which the spars of both halves meet carries more"
            " than tape alone: glue it against the spar of one half now, and into the other half when they"
            " are joined; it cannot be put in later.",
        )
    after = [
        (Tie.CHECKED, ground.id("dry", surface)),
        (Tie.GLUED, ground.id("spar", surface)),
        (Tie.SHUT_IN, ground.id("joiner", surface)),
        (Tie.SHUT_IN, ground.id("leads", surface)),
        (Tie.SHUT_IN, ground.id("lengths", surface)),
        *((Tie.SHUT_IN, ground.id("firewall", motor)) for motor in ground.wing_motors(surface)),
    ]
    return Step(
        id=ground.id("close", surface),
        heading=f"Close {ground.the(surface)}: the twist is set now",
        does=tuple(does),
        cautions=(GLUE_CAUTION,),
        checks=(
            "Before the glue sets, sight along it from behind, one eye closed: leading edge, spar and"
            " trailing edge lie in one line with the table from root to tip, not turned up or down at the"
            " tip.",
            "Under the leading and the trailing edge no more than a sheet of paper goes between skin and"
            f" table, at the root, where the chord is {chord}, and at the tip.",
            *(
                ("The second half, laid upside down on the first, leaves the same gap all round.",)
                if both
                else ()
            ),
            *(
                (f"The left half still goes onto {ground.all_named(joiner)} up to the root edge.",)
                if joiner
                else ()
            ),
            *(("Every lead still moves.",) if making.has(ground.id("leads", surface)) else ()),
        ),
        after=making.ties(*after),
        adds=names(skins),
        shows=names((*ground.of(surface, Kind.STRIP), *joiner)),
        tools=(
            "flat table",
            "two straight boards",
            "weights",
            "glue",
            "masking tape",
            "film or baking paper",
        ),
    )


def _bare(ground: Ground, surface: Surface) -> list[str]:
    """What no glue may come onto when the surface is closed."""
    leads = ground.wing_motors(surface) or any(
        one.on[0] == surface.name for one in ground.facts.inputs.servos
    )
    return [
        *(["hinges", "controls"] if surface.controls else []),
        *(["leads"] if leads else []),
        *(["the place of the joiner"] if ground.of(surface, Kind.JOINER) else []),
    ]


def _below(ground: Ground, surface: Surface) -> float:
    """How far firewalls stand out below the lower skin, mm."""
    seats = [wing_seat(motor, ground.facts.inputs) for motor in ground.wing_motors(surface)]
    return max((seat.height_mm / 2 - seat.axis_mm for seat in seats if seat is not None), default=0.0)


def _taped(ground: Ground, surface: Surface, skins: Sequence[Part]) -> Step:
    widths: dict[str, float] = {}
    for part in ground.halves(skins):
        for mark in part.marks:
            if isinstance(mark, TapeMark) and mark.text:
                widths[mark.text] = max(widths.get(mark.text, 0.0), mark.width_mm)
    does = [
        f"{_EDGES.get(text, text.capitalize())}: a strip {ground.ruler(width)} wide, laid between the two"
        f' lines "{text}" on the outer face.'
        for text, width in widths.items()
        if text not in ("tape over the joint", "tape") and "hinge" not in text
    ]
    does += [
        "The tips are open: hold a scrap against each, draw round it, cut it out and glue it on, or close"
        " them with tape.",
        "Wipe dust off the paper first. Lay the tape on without stretching it, from the middle outwards, and"
        " rub it down with a cloth; round the nose cut it every hand's width at the edge so that it lies"
        " flat.",
    ]
    return Step(
        id=ground.id("tape", surface),
        heading=f"Tape the edges of {ground.the(surface)}",
        does=tuple(does),
        checks=(
            "Laid back on the table, both halves are as flat as before: tape that was stretched twists them.",
        ),
        after=((Tie.GLUED, ground.id("close", surface)),),
        shows=names(skins),
        tools=("packing tape or coloured tape", "scissors", "cloth"),
    )
