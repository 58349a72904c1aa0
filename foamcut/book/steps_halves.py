"""The halves of a folded surface joined, propped to their dihedral.  mm."""

import math
from collections.abc import Sequence

from foamcut.airframe.planform import panels
from foamcut.airframe.skin_marks import tip_heights
from foamcut.airframe.values import Role, Surface
from foamcut.book.step import Step, Tie
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_skins import mark_texts
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import advice, deg
from foamcut.flat.marks import TapeMark
from foamcut.flat.part import Part


def halves_step(ground: Ground, making: Making, surface: Surface, skins: Sequence[Part]) -> Step:
    """Bends in a half first, then both halves at the root."""
    ruler = ground.ruler
    tip, propped = tip_heights(surface)
    joiners = ground.of(surface, Kind.JOINER)
    several = panels(surface)
    g = surface.stations[0].dihedral_deg
    bends = [(panel.first, panel.first_tilt_deg) for panel in several[1:] if panel.first_tilt_deg]
    does: list[str] = []
    for station, tilt in bends:
        inner = next(panel for panel in several if panel.last is station)
        outer = next(panel for panel in several if panel.first is station)
        rise = outer.length_mm * _sine(outer.first.dihedral_deg - inner.first.dihedral_deg)
        does.append(
            f"Each half has a bend {ruler(station.out_mm)} out: bevel both edges there by {deg(abs(tilt))},"
            f" lay the inner panel flat, prop the end of the outer panel {ruler(abs(rise))}"
            f" {'up' if rise > 0 else 'down'}, and glue the edges with epoxy or foaming glue. Tape the joint"
            " all round."
        )
    drawn = any(text.startswith("edge bevelled") for text in mark_texts(skins))
    cut = "sand or cut it, with the bevel as drawn," if drawn else "sand it"
    if g:
        does.append(
            f"Each root edge leans by {deg(abs(g))}: {cut} until the two"
            " edges meet without a gap while the tips are propped."
        )
    if joiners:
        does.append(
            f"Spread epoxy on the free halves of {ground.all_named(joiners)}, into the left half beside its"
            " spar and on both root edges, and push the halves together until the root edges meet."
        )
    else:
        does.append(
            "Nothing but glue and tape joins the spars of both halves: spread epoxy on both root edges and"
            " the ends of the spars, push the halves together, and lay glass-fibre tape over the joint."
        )
    bent = ", its inner panel," if bends else ""
    does.append(_prop(ruler(abs(tip)), ruler(abs(propped)), tip, propped, bent))
    does.append(
        "Look along the nose: the leading edges of both halves meet at the middle without a step, and so do"
        " the trailing edges. Weigh it all down, and leave it until the glue is hard."
    )
    weak = advice(ground.facts.report, "joiner-stress") if surface.role is Role.WING else ()
    width = _tape_width(skins)
    if width:
        does.append(
            f"Lay tape {ruler(2 * width)} wide over the joint, half on each side of it, above and below,"
            " round the nose"
            + ("." if weak else "; where much load is expected, glass-fibre tape along the spar across it.")
        )
    for text, mend in weak:
        does.append(f"What the joint bears: {text}. What helps: {mend}.")
    span = ground.facts.report.number("wing_span") if ground.facts.report else None
    checks = [
        "Seen from behind, both halves have the same twist: the trailing edges of both make one line with"
        " the middle.",
        "From the middle of the nose to both tips is the same distance.",
    ]
    if span is not None and surface.role is Role.WING:
        checks.append(f"From tip to tip it measures {ruler(span.value)}.")
    if propped > 0.5 and tip > 0:
        checks.insert(
            0,
            f"With one half{bent} flat on the table, the underside of the other tip is {ruler(propped)} up.",
        )
    return Step(
        id=ground.id("join", surface),
        heading=f"Join the halves of {ground.the(surface)}" + (", propped" if abs(tip) > 0.5 else ""),
        does=tuple(does),
        cautions=("Epoxy harms skin and eyes: wear gloves, and sand it with a dust mask.",),
        checks=tuple(checks),
        after=making.ties(
            (Tie.GLUED, ground.id("close", surface)),
            (Tie.GLUED, ground.id("tape", surface)),
            (Tie.GLUED, ground.id("joiner", surface)),
        ),
        adds=names(skins),
        shows=names((*ground.of(surface, Kind.STRIP), *joiners)),
        tools=("epoxy", *(("blocks for the prop",) if abs(tip) > 0.5 else ()), "rule", "weights", "tape"),
    )


def _prop(tip_words: str, propped_words: str, tip: float, propped: float, bent: str) -> str:
    """How high the tips are held."""
    if tip > 0.5:
        return (
            f"Prop: lay one half{bent} flat on the table with weights, and put a block {propped_words} high"
            f" under the tip of the other; or prop both tips {tip_words} up. Measure to the underside at the"
            " tip."
        )
    if tip < -0.5:
        return f"The tips hang {tip_words} lower than the middle: prop the middle so high."
    return "Both halves lie flat on the table: there is nothing to prop."


def _sine(angle_deg: float) -> float:
    return math.sin(math.radians(angle_deg))


def _tape_width(skins: Sequence[Part]) -> float:
    return max(
        (
            mark.width_mm
            for part in skins
            for mark in part.marks
            if isinstance(mark, TapeMark) and mark.text == "tape over the joint"
        ),
        default=0.0,
    )
