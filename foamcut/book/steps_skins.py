"""Folded surfaces, before they are closed: skins worked and tried, spar, joiners, firewalls.  mm."""

from collections.abc import Iterator, Sequence

from foamcut.airframe.planform import panels
from foamcut.airframe.section import Section, section_at
from foamcut.airframe.values import Nose, Surface, TrailingEdge
from foamcut.book.step import Step, Tie
from foamcut.book.steps_cut import KNIFE_CAUTION
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import counted, deg, listed
from foamcut.draw.drawnsmall import work_tags
from foamcut.draw.foldwords import fold_words, groove_wider_deg, hinge_bevel_deg, score_count
from foamcut.flat.drawn import FoldKind
from foamcut.flat.folds import Fold
from foamcut.flat.part import Part

SKINS = (Kind.SKIN, Kind.LOWER, Kind.UPPER)


def skin_steps(ground: Ground, making: Making, surface: Surface) -> Iterator[Step]:
    """Work the skins, try them dry, join those of several lengths, glue spar and joiners in."""
    skins = ground.of(surface, *SKINS)
    if not skins:
        return
    yield _worked(ground, making, surface, skins)
    yield _dry(ground, surface, skins)


def root_section(surface: Surface) -> Section | None:
    """The section at the root; None where it cannot be built."""
    try:
        return section_at(surface, panels(surface)[0], 0.0)
    except ValueError:
        return None


def mark_texts(parts: Sequence[Part]) -> tuple[str, ...]:
    """The words of the marks of parts, each once."""
    found: dict[str, None] = {}
    for part in parts:
        for mark in part.marks:
            if text := getattr(mark, "text", ""):
                found[text] = None
    return tuple(found)


def _worked(ground: Ground, making: Making, surface: Surface, skins: Sequence[Part]) -> Step:
    right = ground.halves(skins)
    does = [
        f"Lay {ground.all_named(skins)} with the inner face up. Everything here is cut on that face, but for"
        " what the sheet marks as from the back. What you cut while it lay in the sheet you only find again,"
        " deepen and clean."
    ]
    told: set[str] = set()
    tags = work_tags(right[0])
    for part in right:
        for fold in part.folds:
            tag = f" (line {tags[fold_words(fold)]} on the drawing)" if len(right) == 1 else ""
            words = _fold_work(ground, fold, tag)
            if words not in told:
                told.add(words)
                does.append(words)
    texts = mark_texts(right)
    if any(text.startswith("feather") for text in texts):
        does.append(
            'Feather the trailing edge of the upper skin: from the line "feather from here to the edge" slice'
            " the foam away on the inner face with a long blade or a sanding block, down to the outer paper"
            f" at the edge. The edge is drawn {ground.ruler(surface.trim_mm)} too long, and is trimmed when"
            " the surface is closed."
        )
    if g := abs(panels(surface)[0].first_tilt_deg):
        cut = "is bevelled" if any(text.startswith("edge bevelled") for text in texts) else "is sanded"
        does.append(
            f"Root edge: it {cut} {deg(g)} from square, so that the halves meet when the tips are up. Work it"
            " roughly now; the last of it is done when the halves are joined."
        )
    if slots := sorted({slot.takes for part in right for slot in part.slots}):
        does.append(
            f"Open the slots that take {listed(slots)}, and the holes over them, clean to the corners: a"
            " plate has to go through without force."
        )
    cut_first = ("servo, before closing", "motor wires, before closing")
    wells = [f'"{text}"' for text in texts if text in cut_first]
    if wells:
        does.append(
            f"Cut the wells {listed(wells)} through the lower skin, and look at the line"
            ' "wire way, before closing": leads lie there, so keep it free of glue.'
        )
    if "open for the motor" in texts:
        does.append(
            'Prick the corners of the line "open for the motor" through both skins and join them on the'
            " outside: you will need that line when the wing is closed."
        )
    return Step(
        id=ground.id("skin", surface),
        heading=f"Work the skins of {ground.the(surface)}",
        does=tuple(does),
        cautions=(KNIFE_CAUTION,),
        checks=(
            "The outer paper is whole everywhere but at openings; held against a lamp it shows no slit.",
            "Bands and grooves are clean: no crumb of foam is left on the paper where it turns.",
            *(("The right and the left skin are mirror images.",) if len(skins) > len(right) else ()),
        ),
        after=((Tie.CHECKED, "label"), *making.ties((Tie.GLUED, "joints"))),
        adds=names(skins),
        tools=("sharp knife", "metal rule", "sanding block", "narrow scraper or steel ruler"),
    )


def _fold_work(ground: Ground, fold: Fold, tag: str) -> str:
    """How one fold of a skin is worked, in words for somebody who never did it."""
    ruler = ground.ruler
    wide = ruler(fold.band_mm[1] - fold.band_mm[0])
    if fold.kind is FoldKind.STRIP:
        return (
            f"Nose{tag}: cut along both LIFT lines, {wide} apart, through paper and foam, and lift that band"
            " off the outer paper with a steel ruler held flat; rub the paper clean with a thumb. The bare"
            " band becomes the front of the nose: the paper turns at both its edges, where the ticks stand."
        )
    if fold.kind is FoldKind.ROLL:
        radius = ruler(fold.radius_mm or 0.0)
        return (
            f"Nose{tag}: cut {counted(score_count(fold), 'score')} along it, all through the inner paper and"
            " nearly through the foam, and roll the nose over a pipe with the cuts inside until its outside"
            f" has a radius of {radius}."
        )
    if fold.kind is FoldKind.SCORE:
        face = "outer" if fold.cut_behind else "inner"
        return f"Nose{tag}: score the {face} face along the leading edge; the other paper stays whole."
    if fold.kind is FoldKind.GROOVE:
        vee = groove_wider_deg(fold) or fold.turn_deg
        return (
            f"Over an edge of the spar{tag}: cut a V groove {wide} wide and {deg(vee)} between its sides,"
            " with the blade leaning from each of the two GROOVE lines to the FOLD line between them, down"
            " to the outer paper."
        )
    if fold.kind is FoldKind.HINGE:
        bevel = hinge_bevel_deg(fold) if fold.bevel else 0.0
        return (
            f"Hinge of the control{tag}: cut along the HALF line through the inner paper and the foam, the"
            " outer paper stays whole. Then slice the edge of the control back to the BEVEL line, which"
            f" takes off {deg(bevel)} from square, so that it can swing. Cut both ends of the control free"
            " right through."
        )
    return f"Fold: lift out {wide} and fold."


def _dry(ground: Ground, surface: Surface, skins: Sequence[Part]) -> Step:
    strips = ground.of(surface, Kind.STRIP)
    joiners = ground.of(surface, Kind.JOINER)
    motors = ground.wing_motors(surface)
    does = [
        f"Lay {ground.all_named(strips)} on the lower skin between the lines of the spar, one on top of the"
        " other, without glue, and fold the upper skin over them. Press it down along the spar, then along"
        " the trailing edge. Ease what holds it up; never force a fold, or the paper cracks."
        if strips
        else "Fold the skins together without glue, and ease what holds them apart.",
    ]
    if not is_bevelled(surface):
        does.append(
            "Behind the upper skin the lower one runs on alone, as a single board: nothing lies on it there."
        )
    if surface.nose is Nose.TWO_SKINS:
        does.append(
            "Hold the upper and the lower skin together at the nose with tape: their edges meet along it."
        )
    section = root_section(surface)
    checks = ["The upper skin lies on the spar along both its edges, and on the lower skin behind."]
    if section is not None:
        thick = max(n for _, n in section.outline)
        checks.append(
            f"At the root the closed section is {ground.ruler(section.trailing_mm - section.leading_mm)} long"
            f" and {ground.ruler(thick)} thick over the spar."
        )
    if joiners:
        half = joiner_reach(ground, joiners)
        does.append(
            f"Hold {ground.all_named(joiners)} on edge against the spar in both halves, before it and behind"
            " it, as far"
            f' as the lines "joiner, before closing" go: each plate reaches {half} into each half,'
            " measured level, and stands against the spar over all of that. They have to slide in and out"
            " without force, since the second half is pushed onto them when it is closed: sand them until"
            " they do."
        )
        checks.append("The joiners go into both halves to the end of their lines, with both skins down.")
    firewalls = tuple(part for motor in motors for part in ground.of(motor, Kind.FIREWALL))
    if firewalls:
        does.append(
            f"Put {ground.all_named(firewalls)} through the slots in the lower skin, against the front face"
            " of the spar,"
            ' and close the upper skin over them: the lines "underside of the wing" and "top of the wing" lie'
            " level with the outer papers. Hold the motor against its firewall, and cut both skins inside"
            " the line"
            ' "open for the motor", no farther than motor, wires and air need.'
        )
        checks.append("Each firewall stands square to the lower skin and touches the spar.")
    return Step(
        id=ground.id("dry", surface),
        heading=f"Fold {ground.the(surface)} dry",
        does=tuple(does),
        cautions=(KNIFE_CAUTION,),
        checks=tuple(checks),
        after=((Tie.CHECKED, ground.id("skin", surface)),),
        shows=names((*skins, *strips, *joiners, *firewalls)),
        tools=("sanding block", "masking tape", "rule"),
    )


def joiner_reach(ground: Ground, joiners: Sequence[Part]) -> str:
    """How far joiners stand into each half, as measured level on the plates that are cut."""
    several = {round(max(one.length_mm, one.width_mm) / 2, 1) for one in joiners}
    return listed(ground.ruler(one) for one in sorted(several))


def is_bevelled(surface: Surface) -> bool:
    """Whether the upper skin ends on the lower one, bevelled."""
    return surface.trailing_edge is TrailingEdge.BEVELLED
