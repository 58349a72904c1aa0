"""An open body, before it is shut: saddle tried, servos, leads, pushrods; then deck and hatch.  mm."""

import math
from collections.abc import Iterator

from foamcut.airframe.planform import panels
from foamcut.airframe.values import Body, Surface
from foamcut.book.step import Step, Tie
from foamcut.book.steps_begin import GLUE_CAUTION
from foamcut.book.steps_body import PLATES, SHELL
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_inside import inside_step, inside_things, moved_inside
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_skins import SKINS, mark_texts
from foamcut.book.steps_sort import Making
from foamcut.book.steps_undriven import undriven_words
from foamcut.book.steps_words import deg


def saddle_steps(ground: Ground, making: Making) -> Iterator[Step]:
    """Every wing tried on its bodies while these are open."""
    for body in ground.facts.inputs.bodies:
        if not ground.of(body, *SHELL):
            continue
        for saddle in ground.views[body.name].seats.saddles:
            parts = ground.of(saddle.surface, *SKINS, Kind.PANEL)
            if parts and not making.has(ground.id("saddle", saddle.surface)):
                yield _saddle(ground, making, body, saddle.surface, upwards=saddle.upwards)


def _saddle(ground: Ground, making: Making, body: Body, wing: Surface, *, upwards: bool) -> Step:
    ruler = ground.ruler
    first, last = panels(wing)[0], panels(wing)[-1]
    tip = last.point(last.trailing(wing.half_span_mm), wing.half_span_mm, 0.0)
    profile = ground.views[body.name].profile
    tail = (profile.rear_mm, 0.0, profile.top(profile.rear_mm))
    skew = ruler(math.dist(tip, tail))
    drop = first.point(first.trailing(0.0), 0.0, 0.0)[2] - first.point(first.leading(0.0), 0.0, 0.0)[2]
    sides = ground.of(body, *SHELL)
    bands = any(one.on == body.name for one in ground.facts.inputs.dowels)
    does = [
        f"Set {ground.the(wing)} {'into' if upwards else 'under'} the saddle of {ground.the(body)}, its"
        f" leading edge at the root {ruler(wing.at[0])} behind the nose, its middle over the middle of the"
        f" body, and hold it with {'rubber bands over the dowels' if bands else 'masking tape'}. Nothing is"
        " glued.",
        "Look along the saddle against a lamp: where light shows, sand what is high, a little from both"
        " sides alike.",
        f"Square: from the rear corner of the right wing tip to the upper rear corner of {ground.the(body)},"
        f" in the middle, is as far as from the left: {skew}. Turn the wing until both are equal, and draw a"
        " line on the wing along both sides of the body.",
    ]
    if abs(drop) > 0.2:
        does.append(
            f"Angle: the wing stands {deg(abs(wing.angle_deg))} nose {'up' if drop < 0 else 'down'} against"
            f" the model's long axis, so that its trailing edge at the root is {ruler(abs(drop))}"
            f" {'lower' if drop < 0 else 'higher'} than its leading edge. Sand the saddle, never the wing,"
            " until it is."
        )
    does.append(
        "Lay packing tape over the sanded edge of the saddle, so that the bare foam does not crumble, and"
        " take the wing off."
    )
    return Step(
        id=ground.id("saddle", wing),
        heading=f"Try {ground.the(wing)} in its saddle",
        does=tuple(does),
        checks=(
            "The wing lies in the saddle all along, without rocking.",
            f"From both wing tips to the rear of the body it is {skew}, equal within {ruler(2.0)}.",
            "Seen from the front, both wing tips are equally high over the table while the body stands"
            " upright.",
        ),
        after=making.ties(
            (Tie.GLUED, ground.id("box", body)),
            (Tie.GLUED, ground.id("dowels", body)),
            (Tie.GLUED, ground.id("join", wing)),
            (Tie.GLUED, ground.id("sheet", wing)),
            (Tie.GLUED, ground.id("close", wing)),
        ),
        adds=names(ground.of(wing, *SKINS, Kind.PANEL)),
        shows=names((*sides, *ground.of(body, Kind.FLOOR, *PLATES))),
        tools=("rubber bands or masking tape", "long rule or thread", "sanding block", "packing tape"),
    )


def shut_steps(ground: Ground, making: Making, body: Body) -> Iterator[Step]:
    """What goes inside, then the deck, then the hatch."""
    if not ground.of(body, *SHELL):
        return
    servos = [one for one in ground.facts.inputs.servos if one.on[0] == body.name and one.on[1] != "hatch"]
    things = inside_things(body, ground.facts.setup.aboard)
    lost = tuple(undriven_words(ground, body)) if body.deck_mm is not None and not body.pushrods_mm else ()
    if servos or things or lost or body.straps_mm or body.pushrods_mm:
        yield inside_step(ground, making, body, servos, things, lost)
    deck = ground.of(body, Kind.DECK)
    if deck:
        yield _deck(ground, making, body)
    if hatch := ground.of(body, Kind.HATCH):
        yield _hatch(ground, making, body, ground.all_named(hatch), names(hatch))


def _deck(ground: Ground, making: Making, body: Body) -> Step:
    deck = ground.of(body, Kind.DECK)
    assert body.deck_mm is not None
    ruler = ground.ruler
    fins = "fin" in mark_texts(deck)
    wings = [one.surface for one in ground.views[body.name].seats.saddles]
    does = [
        f"Glue {ground.all_named(deck)} on, inner face down, from {ruler(body.deck_mm[0])} to"
        f" {ruler(body.deck_mm[1])} behind"
        ' the nose, its lower face on the line "deck, inside" of both sides and on the formers.',
        "Check the diagonals of the box once more before it sets, and hold the deck down with tape across.",
    ]
    if fins:
        does.append('Keep the slots marked "fin" free of glue: the tabs of the fin go in there.')
    return Step(
        id=ground.id("deck", body),
        heading=f"Glue the deck onto {ground.the(body)}",
        does=tuple(does),
        cautions=(GLUE_CAUTION,),
        checks=(
            "The body has no twist: sighted from behind, the deck is"
            f" level{' with the wing saddle' if wings else ''}.",
            *(("Every servo under the deck still moves.",) if moved_inside(ground, body) else ()),
        ),
        after=making.ties(
            (Tie.GLUED, ground.id("box", body)),
            (Tie.SHUT_IN, ground.id("inside", body)),
            *((Tie.CHECKED, ground.id("saddle", wing)) for wing in wings),
        ),
        adds=names(deck),
        shows=names((*ground.of(body, *SHELL), *ground.of(body, Kind.FLOOR, *PLATES))),
        tools=("glue", "masking tape"),
    )


def _hatch(ground: Ground, making: Making, body: Body, named: str, adds: tuple[str, ...]) -> Step:
    assert body.hatch_mm is not None
    ruler = ground.ruler
    return Step(
        id=ground.id("hatch", body),
        heading=f"Hang the hatch of {ground.the(body)}",
        does=(
            f"Lay {named} between the sides, from {ruler(body.hatch_mm[0])} to {ruler(body.hatch_mm[1])}"
            " behind the nose,"
            ' outer face up, level with the upper edges: the line "hatch, inside" shows where its lower face'
            " lies. Glue two strips of scrap under that line for it to rest on.",
            "Tape its front edge as a hinge, on the line that is drawn, half of the tape on the body. Hold"
            " the rear edge with a tab of tape or a magnet.",
        ),
        checks=(
            "The hatch opens wide enough for what lies under it, and cannot open by itself in the wind.",
        ),
        after=making.ties((Tie.GLUED, ground.id("box", body)), (Tie.GLUED, ground.id("deck", body))),
        adds=adds,
        shows=names(ground.of(body, *SHELL, Kind.DECK)),
        tools=("hinge tape",),
    )
