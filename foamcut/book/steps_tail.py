"""The tail put on square, by measuring from the wing tips.  mm."""

import math
from collections.abc import Iterator, Sequence

from foamcut.airframe.planform import Vector, panels
from foamcut.airframe.values import Body, Role, Surface
from foamcut.book.step import Step, Tie
from foamcut.book.steps_begin import GLUE_CAUTION
from foamcut.book.steps_body import SHELL
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_skins import SKINS
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import listed
from foamcut.flat.part import Part

BOARDS = (Kind.PANEL, *SKINS)


def tail_steps(ground: Ground, making: Making) -> Iterator[Step]:
    """Stabilisers and fins glued on: in one step, since they are measured against each other."""
    surfaces = [one for one in ground.tail_surfaces if ground.of(one, *BOARDS)]
    if surfaces:
        yield _tail(ground, making, surfaces)


def tip_point(surface: Surface, *, rear: bool = False) -> Vector:
    """The front corner of the tip of the right half, or of a fin, or the rear one."""
    last = panels(surface)[-1]
    s = surface.half_span_mm
    return last.point(last.trailing(s) if rear else last.leading(s), s, 0.0)


def _tail(ground: Ground, making: Making, surfaces: Sequence[Surface]) -> Step:
    ruler = ground.ruler
    wing = ground.facts.inputs.wing
    seated = wing is not None and making.has(ground.id("saddle", wing))
    does: list[str] = []
    checks: list[str] = []
    level = any(one.role is Role.STABILISER for one in surfaces)
    if level and wing is not None and (seated or not ground.facts.inputs.bodies):
        does.append(
            f"Put {ground.the(wing)}"
            f" on{' and hold it with bands or tape on the lines that you drew' if seated else ''}: the tail"
            " is measured from its tips."
        )
    for one in surfaces:
        does += _stood(ground, one)
    for one in surfaces:
        if one.role is Role.STABILISER and wing is not None and one.half_span_mm > 0:
            far = ruler(math.dist(tip_point(wing, rear=True), tip_point(one)))
            does.append(
                "Square: from the rear corner of the right wing tip to the front corner of the right tip of"
                f" {ground.the(one)} is {far}, and as far on the left. Turn {ground.the(one)} until both are"
                " equal, then glue it."
            )
            checks.append(
                f"Wing tip to the tip of {ground.the(one)}: {far} on both sides, equal within {ruler(2.0)}."
            )
            if abs(one.stations[0].dihedral_deg) < 1.0:
                checks.append(
                    f"Seen from behind, {ground.the(one)} is level with the wing: its tips are equally far"
                    " below or above the wing tips."
                )
    boards = [part for one in surfaces for part in ground.of(one, *BOARDS)]
    for one in surfaces:
        if one.role is Role.FIN:
            does.append(_fin(ground, one, surfaces))
            checks.append(
                f"The {one.name} stands upright, and its two faces look along the middle of the body."
            )
    bodies = ground.facts.inputs.bodies
    ties = [(Tie.GLUED, ground.id(word, body)) for body in bodies for word in ("deck", "box")]
    ties += [(Tie.GLUED, ground.id(word, one)) for one in surfaces for word in ("sheet", "join", "close")]
    if wing is not None:
        ties.append((Tie.CHECKED, ground.id("saddle", wing)))
        ties += [(Tie.GLUED, ground.id(word, wing)) for word in ("join", "sheet")]
    if bodies:
        does.append(
            "Lay a bead of glue along both sides of every joint, and hold all of it with tape until it is"
            " hard."
        )
    return Step(
        id="tail",
        heading=f"Glue {listed(ground.the(one) for one in surfaces)} on, square",
        does=tuple(does),
        cautions=(GLUE_CAUTION,),
        checks=tuple(checks),
        after=making.ties(*ties),
        adds=names(boards),
        shows=_shown(ground, bodies, wing),
        tools=("thread or long rule", "square", "glue", "masking tape"),
    )


def _shown(ground: Ground, bodies: Sequence[Body], wing: Surface | None) -> tuple[str, ...]:
    parts: list[Part] = []
    for body in bodies:
        parts += ground.of(body, *SHELL, Kind.DECK, Kind.FLOOR, Kind.HATCH)
    if wing is not None:
        parts += ground.of(wing, *BOARDS)
    return names(parts)


def _stood(ground: Ground, one: Surface) -> Iterator[str]:
    """Where a surface goes."""
    ruler = ground.ruler
    named = ground.all_named(ground.of(one, *BOARDS))
    place = f"its leading edge at the root {ruler(one.at[0])} behind the nose and {ruler.up(one.at[1])}"
    for body in ground.facts.inputs.bodies:
        tail = ground.views[body.name].tail
        for slot in tail.slots:
            if slot.surface.key != one.key:
                continue
            if one in ground.enclosed(body):
                yield (
                    f"{named} is in the slots of {ground.the(body)} already: set its centre line to the"
                    f" middle of the body, {place}."
                )
            else:
                way = "from behind" if slot.open else "from one side"
                yield (
                    f"Slide {named} {way} into the slots in the sides of {ground.the(body)}, upper face up,"
                    f" {place}. Its centre line"
                    f' lies in the middle, the lines "edge of {body.name}" along the sides.'
                )
            return
        for sitting in tail.sitting:
            if sitting.surface.key == one.key:
                yield f"Set {named} onto {ground.the(body)}, {place}, its centre line in the middle."
                return
    if one.role is not Role.FIN:
        yield f"Set {named} in its place, {place}, its centre line in the middle."


def _fin(ground: Ground, one: Surface, surfaces: Sequence[Surface]) -> str:
    ruler = ground.ruler
    boards = ground.of(one, *BOARDS)
    tabs = any(part.tabs for part in boards)
    named = ground.all_named(boards)
    decks = [part for body in ground.facts.inputs.bodies for part in ground.of(body, Kind.DECK)]
    slotted = [part for part in decks if any(mark_text == "fin" for mark_text in _texts(part))]
    where = (
        f"push its tabs into the slots of {ground.all_named(slotted)}"
        if tabs and slotted
        else "set it on the middle line"
    )
    text = (
        f"{named}: {where}, the leading edge at its foot {ruler(one.at[0])} behind the nose. Glue it upright."
    )
    level = next((other for other in surfaces if other.role is Role.STABILISER), None)
    if level is not None and abs(level.stations[0].dihedral_deg) < 1.0:
        right = tip_point(level)
        far = ruler(math.dist(tip_point(one), right))
        text += (
            f" From the front corner of its top to the front corner of each tip of {ground.the(level)} is"
            f" {far} on both sides."
        )
    else:
        text += " Hold a square against it on both sides."
    return text


def _texts(part: Part) -> list[str]:
    return [getattr(mark, "text", "") for mark in part.marks]
