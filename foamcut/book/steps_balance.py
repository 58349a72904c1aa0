"""The battery placed, and the model balanced on its V.  mm."""

from foamcut.airframe.flat_marks import balance_out
from foamcut.book.step import Step, Tie
from foamcut.book.steps_body import SHELL
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_motors import BATTERY_CAUTION, PROPELLER_CAUTION, motor_count
from foamcut.book.steps_reach import batteries_under
from foamcut.book.steps_skins import SKINS
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import listed, titled
from foamcut.draw.gauges_balance import behind
from foamcut.flat.part import Part
from foamcut.flight.values import Aboard, Carried


def battery_step(ground: Ground, batteries: tuple[Aboard, ...]) -> Step:
    """Where each battery lies, and how it is held."""
    ruler = ground.ruler
    report = ground.facts.report
    does: list[str] = []
    for one in batteries:
        size = f", {ruler.sizes(*one.size_mm)}" if one.size_mm else ""
        cells = f" of {one.cells} cells" if one.cells else ""
        slides = (
            f" It may slide from {ruler(one.slides_mm[0])} to {ruler(one.slides_mm[1])}."
            if one.slides_mm
            else ""
        )
        does.append(
            f"{titled(one.name)}{cells}{size}: its middle is drawn {ruler(one.at[0])} behind the nose,"
            f" {ruler.up(one.at[1])}.{slides}"
        )
    target = report.number("battery_along_target") if report else None
    if target is not None:
        does.append(
            f"To balance as is wanted, its middle has to lie {ruler(target.value)} behind the nose, as worked"
            " out: begin there."
        )
    under = batteries_under(ground)
    if under:
        does.insert(
            0,
            "The battery lies under the wing, and no hatch opens above it: it goes in before the wing is put"
            " on, and the wing comes off again to unplug it.",
        )
    strapped = [body for body in ground.facts.inputs.bodies if body.straps_mm]
    if strapped:
        straps = listed(ruler(x) for body in strapped for x in body.straps_mm)
        does.append(
            f"Draw the strap over it that runs through the slots {straps} behind the nose, and put"
            " hook-and-loop tape under it."
        )
    else:
        does.append(
            "Fix it with a strap or hook-and-loop tape, so that it cannot slide in a dive or a hard landing."
        )
    does.append(
        "Mark its front end with a line inside the body when the balance is right, so that it goes there"
        " every time."
    )
    parts = [
        part
        for body in ground.facts.inputs.bodies
        for part in ground.of(body, *SHELL, Kind.FLOOR, Kind.FORMER)
    ]
    return Step(
        id="battery",
        heading="Place and strap the battery",
        does=tuple(does),
        cautions=(BATTERY_CAUTION,),
        checks=(
            "Turned upside down and shaken, the battery stays where it is.",
            "It is unplugged at once when the wing is off."
            if under
            else "It can be unplugged without taking anything off.",
        ),
        after=((Tie.CHECKED, "paint"),) if under else ((Tie.CHECKED, "weigh"),),
        shows=names(parts),
        tools=("battery strap", "hook-and-loop tape"),
    )


def balance_step(ground: Ground, making: Making) -> Step:
    """Where the model shall hang level, and what to move when it does not."""
    facts, ruler = ground.facts, ground.ruler
    report, wing = facts.report, facts.inputs.wing
    edge = wing.at[0] if wing else 0.0
    place = "the leading edge of the wing at its root" if wing else "the nose"
    loaded = report.loaded if report else None
    does: list[str] = []
    checks: list[str] = []
    target = loaded.target_mm if loaded else None
    if target is None and loaded is not None:
        target = loaded.at[0]
    front = report.number("balance_front") if report else None
    back = report.number("balance_back") if report else None
    if target is not None:
        does.append(
            f"It shall balance {ruler(target - edge)} behind {place}, measured level: that is"
            f" {ruler(target)} behind the nose{_on_strip(ground, target)}."
        )
        checks.append(f"It hangs level, or a little nose down, {ruler(target - edge)} behind {place}.")
    if front is not None and back is not None:
        does.append(
            f"By the usual static margin it may lie from {ruler(front.value - edge)} to"
            f" {ruler(back.value - edge)} behind it{_outside(target, front.value, back.value)}. Farther back"
            " it may become impossible to steer; a little farther forward is the better mistake on a first"
            " flight."
        )
    low = any(
        not one.upwards
        for body in facts.inputs.bodies
        for one in ground.views[body.name].seats.saddles
        if wing is not None and one.surface.key == wing.key
    )
    skins = [part for part in ground.of(wing, *SKINS, Kind.PANEL)] if wing else []
    marked = any(type(mark).__name__ == "BalanceMark" for part in skins for mark in part.marks)
    how = (
        f"under the two V marks, one on each side of the body{_v_out(ground)},"
        if marked
        else "on two marks that you draw at that place, one on each side of the body,"
    )
    does += [
        "Everything is in its place and the hatch"
        f" closed{'; each propeller is taped to its motor, not screwed on' if motor_count(ground) else ''}.",
        f"{'Turn it upside down, since the wing lies low. ' if low else ''}Lift it with a fingertip on each"
        f" side {how} and let it hang level.",
    ]
    if any(one.slides_mm or one.may_sit for one in facts.setup.aboard):
        does.append(
            "Nose down: move the battery back, nose up: forward, within the way that it may slide. Only when"
            " that does not do, add weight at the far end and fix it with epoxy."
        )
    else:
        does.append(
            "Where it does not, move what can be moved; else add weight at nose or tail and fix it with"
            " epoxy."
        )
    does.append("Level across as well: when one wing always falls, add a little weight to the other tip.")
    does.append(
        'Write where it balances into the design file: [weighed] model = { mass = "... g", along = ... }.'
    )
    if facts.setup.of(Carried.BALLAST):
        does.append("Glue in the ballast now that its place is found.")
    before = ["battery"] if facts.setup.of(Carried.BATTERY) and not batteries_under(ground) else ["weigh"]
    return Step(
        id="balance",
        heading="Balance it on the V",
        does=tuple(does),
        cautions=(PROPELLER_CAUTION,) if motor_count(ground) else (),
        checks=(*checks, "Nothing inside can move."),
        after=tuple((Tie.CHECKED, one) for one in before),
        shows=names(_all(ground)),
        tools=("rule", "ballast"),
    )


def _outside(target: float | None, front: float, back: float) -> str:
    """Where a wanted balance lies off the usual way, to which side."""
    if target is not None and target < front - 0.05:
        return "; what is wanted here lies in front of that"
    if target is not None and target > back + 0.05:
        return "; what is wanted here lies behind that"
    return ""


def _on_strip(ground: Ground, target: float) -> str:
    """What the strip of the gauges says of the same place, which lies along the chord."""
    wing = ground.facts.inputs.wing
    if wing is None:
        return ""
    return (
        f"; the strips of gauges.pdf have it along the chord, {ground.ruler(behind(wing, 0.0, target))} there"
    )


def _v_out(ground: Ground) -> str:
    """How far out the V of a wing is drawn."""
    wing = ground.facts.inputs.wing
    if wing is None:
        return ""
    return f" on the underside of the wing, {ground.ruler(balance_out(wing, ground.facts.inputs))} out"


def _all(ground: Ground) -> list[Part]:
    return [part for part in ground.facts.parts if part.place is not None]
