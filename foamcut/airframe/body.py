"""Parts of a body: sides, floor, deck, hatch, formers, end plates, nose doublers."""

from foamcut.airframe.body_checks import advice, numbers_refused, servo_advice
from foamcut.airframe.body_doubler import doubler_part
from foamcut.airframe.body_openings import cooling_advice, servos_refused, strap_refused
from foamcut.airframe.body_plates import plate_parts
from foamcut.airframe.body_side import SideCuts, side_cuts, side_part
from foamcut.airframe.body_strips import deck_part, floor_parts, hatch_part
from foamcut.airframe.body_view import View, view_of
from foamcut.airframe.made import Made
from foamcut.airframe.trough import trough_made
from foamcut.airframe.values import Body, BodyBuild, Inputs


def body_parts(body: Body, inputs: Inputs) -> Made:
    """Every part of a body, cut for the surfaces and motors that it carries.

    A body with numbers that cannot be looked at, or whose sides cannot be cut, has refusals and no parts.
    """
    refused = numbers_refused(body)
    if refused:
        return Made(refusals=tuple(refused))
    view = view_of(body, inputs)
    found = Made(
        refusals=(*view.refusals, *servos_refused(view, inputs), *strap_refused(view)),
        findings=(
            *view.seats.findings,
            *view.tail.findings,
            *advice(view),
            *cooling_advice(view),
            *servo_advice(view, inputs),
        ),
    )
    if found.refusals:
        return found
    cuts = side_cuts(view, inputs)
    made = [found, _sides(view, inputs, cuts)]
    made += [deck_part(view, inputs), hatch_part(view, inputs), plate_parts(view, inputs, cuts.tabs)]
    if view.doubler is not None:
        made.append(Made(parts=(doubler_part(view, view.doubler, cuts.panel.holes),)))
    return Made.of(made)


def _sides(view: View, inputs: Inputs, cuts: SideCuts) -> Made:
    """The sides and the floor: separate, or folded from one sheet."""
    if view.body.build is BodyBuild.TROUGH:
        return trough_made(view, inputs, cuts)
    sides = Made(parts=(side_part(view, cuts),), refusals=tuple(cuts.panel.refusals))
    return Made.of([sides, floor_parts(view, inputs)])
