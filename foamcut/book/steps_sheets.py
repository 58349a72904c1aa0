"""Surfaces of flat board: hinge lines worked, boards joined; then the hinges of every control."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from foamcut.airframe.planform import panels
from foamcut.airframe.skin_marks import tip_heights
from foamcut.airframe.values import Build, Control, Role, Surface
from foamcut.book.step import Step, Tie
from foamcut.book.steps_begin import GLUE_CAUTION
from foamcut.book.steps_cut import KNIFE_CAUTION
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_skins import SKINS
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import deg, listed, titled
from foamcut.draw.foldwords import hinge_bevel_deg
from foamcut.flat.drawn import Face, FoldKind
from foamcut.flat.marks import TapeMark
from foamcut.flat.part import Part


def sheet_steps(ground: Ground, making: Making) -> Iterator[Step]:
    """Every surface of flat board made ready."""
    for surface in ground.flat:
        boards = ground.of(surface, Kind.PANEL)
        if boards:
            yield _worked(ground, making, surface, boards)


def hinge_steps(ground: Ground, making: Making) -> Iterator[Step]:
    """The hinges of all controls, once the surfaces stand on the model."""
    surfaces = [one for one in ground.facts.inputs.surfaces if one.controls]
    parts = [part for one in surfaces for part in ground.of(one, Kind.PANEL, *SKINS)]
    if parts:
        yield _hinges(ground, making, surfaces, parts)


def _worked(ground: Ground, making: Making, surface: Surface, boards: Sequence[Part]) -> Step:
    does: list[str] = []
    folds = [fold for part in boards for fold in part.folds if fold.kind is FoldKind.HINGE]
    if folds:
        behind = folds[0].cut_behind
        cut_face, whole = _faces(surface, drawn=not behind), _faces(surface, drawn=behind)
        words = listed(dict.fromkeys(_control_words(ground, one) for one in surface.controls))
        does.append(
            f"{ground.all_named(boards)}: {words}. Turn the {cut_face} face up. Cut along each hinge line"
            f" (HALF) through the paper and the foam; the paper of the {whole} face stays whole and is the"
            " hinge."
        )
        if bevels := [hinge_bevel_deg(fold) for fold in folds if fold.bevel]:
            does.append(
                f"Slice the edge of each control back to the BEVEL line, {deg(max(bevels))} from square, so"
                f" that it swings towards the {cut_face} face as well. Cut the ends of each control free"
                " right through, with the gap that is drawn."
            )
    else:
        does.append(f"{ground.all_named(boards)}: the board is ready as it is cut.")
    tip, propped = tip_heights(surface) if surface.role is not Role.FIN else (0.0, 0.0)
    checks = ["Every board lies flat."]
    if len(boards) > 1 and surface.role is not Role.FIN:
        does += [*_joined(ground, surface, boards, tip, propped)]
        if abs(tip) > 0.5:
            checks.append(
                f"With both halves alike, each tip is {ground.ruler(abs(tip))} {'up' if tip > 0 else 'down'}."
            )
    elif surface.controls and surface.role is Role.STABILISER and len(boards) == 1:
        pass
    does.append(
        "Sand leading edge and tips a little round, and lay tape over bare foam there: it takes no water and"
        " no dents."
    )
    return Step(
        id=ground.id("sheet", surface),
        heading=f"Make {ground.the(surface)} ready",
        does=tuple(does),
        cautions=(KNIFE_CAUTION, *((GLUE_CAUTION,) if len(boards) > 1 else ())),
        checks=tuple(checks),
        after=((Tie.CHECKED, "label"), *making.ties((Tie.GLUED, "joints"))),
        adds=names(boards),
        tools=("sharp knife", "metal rule", "sanding block", "tape"),
    )


def _faces(surface: Surface, *, drawn: bool) -> str:
    """What the drawn face of a flat surface is called, or the other one."""
    if surface.role is Role.FIN:
        return "left" if drawn else "right"
    return "upper" if drawn else "lower"


def _control_words(ground: Ground, control: Control) -> str:
    return f"the {control.word} is {ground.ruler(control.chord_mm)} wide"


def _joined(
    ground: Ground, surface: Surface, boards: Sequence[Part], tip: float, propped: float
) -> Iterator[str]:
    ruler = ground.ruler
    yield (
        f"Sand the edges at which {ground.all_named(boards)} meet until they touch all along when the panels"
        " are propped, tape the lower side as a hinge, open it, glue, and close it again."
    )
    several = panels(surface)
    for inner, outer in pairwise(several):
        turn = outer.first.dihedral_deg - inner.first.dihedral_deg
        if turn:
            rise = outer.length_mm * math.sin(math.radians(turn))
            yield (
                f"At the bend {ruler(outer.first.out_mm)} out: inner panel flat, the end of the outer panel"
                f" {ruler(abs(rise))} {'up' if rise > 0 else 'down'}."
            )
    if surface.stations[0].dihedral_deg:
        if propped > 0.5:
            yield (
                f"At the middle: one half flat, the other tip propped {ruler(propped)} up, or both tips"
                f" {ruler(abs(tip))} {'up' if tip > 0 else 'down'}. Leave it until the glue is hard."
            )
        else:
            yield f"At the middle: both tips {ruler(abs(tip))} {'up' if tip > 0 else 'down'}."
    if surface.joiner is None and surface.role is Role.WING:
        yield "Lay glass-fibre tape over the joint on the lower side, where it is pulled in flight."


def _hinges(ground: Ground, making: Making, surfaces: Sequence[Surface], parts: Sequence[Part]) -> Step:
    does: list[str] = []
    for surface in surfaces:
        own = ground.of(surface, Kind.PANEL, *SKINS)
        for control in surface.controls:
            does.append(
                f"{titled(control.word)} of {ground.the(surface)}: bend it to both sides along its hinge"
                f" line, softly at first, until it hangs by itself. It has to go {deg(control.throw_deg)} to"
                " each side; where it does not, take more off its bevel."
            )
        widths = [
            (mark.width_mm, part)
            for part in own
            for mark in part.marks
            if isinstance(mark, TapeMark) and "hinge" in mark.text
        ]
        if widths:
            width, part = max(widths, key=lambda one: one[0])
            face = _faces(surface, drawn=part.face is Face.OUTER)
            does.append(
                f"Tape the hinges of {ground.the(surface)} on the whole paper ({face} face),"
                f" {ground.ruler(width)} wide, with the control bent away from the tape a little, so that the"
                " tape does not bind."
            )
        elif surface.build is Build.FOLDED and surface.controls:
            does.append(
                f"Tape the hinges of {ground.the(surface)} along the lower face, where the paper is whole,"
                " with the control bent up a little."
            )
    return Step(
        id="hinges",
        heading="Free the hinges",
        does=tuple(does),
        checks=(
            "Each control falls by its own weight when the model is turned, and nowhere rubs at its ends.",
            "None has play along its hinge.",
        ),
        after=(
            *making.starting(Tie.GLUED, "sheet", "join", "tail"),
            *making.starting(Tie.CHECKED, "tail"),
        ),
        shows=names((*parts, *ground.bodies)),
        tools=("hinge tape", "sharp knife"),
    )
