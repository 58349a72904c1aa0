"""Cheeks and sides of nacelles, glued on when the motors are proven.  mm."""

from collections.abc import Sequence

from foamcut.airframe.values import Motor
from foamcut.book.step import Step, Tie
from foamcut.book.steps_begin import GLUE_CAUTION
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_skins import SKINS
from foamcut.book.steps_sort import Making
from foamcut.flat.part import Part


def nacelles_step(ground: Ground, making: Making, motor: Motor, boards: Sequence[Part]) -> Step:
    """What closes a wing motor in."""
    ruler = ground.ruler
    does: list[str] = []
    for kind, word in ((Kind.CHEEK, "cheeks"), (Kind.NACELLE, "sides of the nacelle")):
        own = ground.of(motor, kind)
        if not own:
            continue
        apart = _apart(own)
        between = f", {ruler(apart)} apart inside, the motor's shaft in the middle" if apart else ""
        does.append(
            f"The {word} {ground.all_named(own)}: of each motor the inner one stands on the side of the body,"
            f" the outer one on the side of the tip{between}. Slide each from the front over the nose of the"
            " wing, upright and"
            ' looking straight ahead, the line "shaft" level with the motor\'s shaft, until its mouth lies'
            f" round the nose{' and its rear edge stands at the firewall' if kind is Kind.CHEEK else ''}."
            + (
                " The cheeks hold the firewall from both sides: glue them to its edges as well."
                if kind is Kind.CHEEK
                else ""
            )
        )
    if motor.nacelle is not None:
        does.append(
            f"The nacelle reaches {ruler(motor.nacelle.length_mm)} forwards from the spar and is"
            f" {ruler(motor.nacelle.width_mm)} wide outside. Close it above and below with scrap board or"
            " card, and leave the front and an opening behind free for air."
        )
    does.append(
        "Glue them to the skins with a bead inside and outside, and keep the screws of the motor within"
        " reach."
    )
    surface = ground.facts.inputs.surface(motor.on)
    skins = ground.of(surface, *SKINS, Kind.PANEL) if surface is not None else ()
    return Step(
        id=ground.id("nacelles", motor),
        heading="Close the nacelles" if ground.of(motor, Kind.NACELLE) else "Glue the cheeks on",
        does=tuple(does),
        cautions=(GLUE_CAUTION,),
        checks=(
            "Both motors turned as they should on the bench, before this step.",
            f"The disc of a propeller, {ruler(motor.propeller.diameter_mm)} across and turned by hand on its"
            " shaft, clears every board; then it comes off again.",
            "No wire touches a motor that turns.",
        ),
        after=(
            (Tie.CHECKED, "bench"),
            *making.ties(
                (Tie.GLUED, ground.id("firewall", motor)),
                (Tie.GLUED, ground.id("close", surface)) if surface else (Tie.GLUED, ""),
            ),
        ),
        adds=names(boards),
        shows=names((*skins, *ground.of(motor, Kind.FIREWALL))),
        tools=("glue", "square", "masking tape"),
    )


def _apart(own: Sequence[Part]) -> float:
    """Between the boards of one motor, inside, mm; 0 when it cannot be said."""
    right = [part for part in own if part.hand.value == "right" and part.place is not None]
    if len(right) != 2:
        return 0.0
    sides = [part.place.at[1] for part in right if part.place is not None]
    heights = [part.place.at[2] for part in right if part.place is not None]
    far = ((sides[0] - sides[1]) ** 2 + (heights[0] - heights[1]) ** 2) ** 0.5
    return max(far - right[0].thickness_mm, 0.0)
