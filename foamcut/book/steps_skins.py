"""Folded surfaces, before they are closed: skins worked and tried, spar, joiners, firewalls.  mm."""

from collections.abc import Iterator, Sequence

from foamcut.airframe.planform import panels
from foamcut.airframe.section import Section, section_at, spar_in
from foamcut.airframe.values import Nose, Surface, TrailingEdge
from foamcut.book.step import Step, Tie
from foamcut.book.steps_begin import GLUE_CAUTION
from foamcut.book.steps_cut import KNIFE_CAUTION
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import counted, deg, listed, sentence
from foamcut.draw.foldwords import groove_wider_deg, hinge_bevel_deg, score_count
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
    does = [f"Lay {ground.all_named(skins)} with the inner face up; everything here is cut on that face."]
    told: set[str] = set()
    for part in right:
        for fold in part.folds:
            words = _fold_work(ground, fold)
            if words not in told:
                told.add(words)
                does.append(words)
    texts = mark_texts(right)
    if any(text.startswith("feather") for text in texts):
        does.append(
            'Feather the trailing edge of the upper skin: from the line "feather from here to the edge" slice'
            " the"
            " foam away on the inner face with a long blade or a sanding block, down to the outer paper at"
            " the edge."
            f" The edge is drawn {ground.ruler(surface.trim_mm)} too long, and is trimmed when the surface is"
            " closed."
        )
    does += [f"At the root: {sentence(text)}" for text in texts if text.startswith("edge ")][:1]
    if slots := sorted({slot.takes for part in right for slot in part.slots}):
        does.append(
            f"Open the slots that take {listed(slots)}, and the holes over them, clean to the corners: a"
            " plate has"
            " to go through without force."
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
            " outside: you"
            " will need that line when the wing is closed."
        )
    return Step(
        id=ground.id("skin", surface),
        heading=f"Work the skins of {surface.name}",
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


def _fold_work(ground: Ground, fold: Fold) -> str:
    """How one fold of a skin is worked, in words for somebody who never did it."""
    ruler = ground.ruler
    wide = ruler(fold.band_mm[1] - fold.band_mm[0])
    if fold.kind is FoldKind.STRIP:
        return (
            f"Nose: cut along both LIFT lines, {wide} apart, through paper and foam, and lift that band off"
            " the outer"
            " paper with a steel ruler held flat; rub the paper clean with a thumb. The bare band becomes the"
            " front of the nose: the paper turns at both its edges, where the ticks stand."
        )
    if fold.kind is FoldKind.ROLL:
        radius = ruler(fold.radius_mm or 0.0)
        return (
            f"Nose: cut {counted(score_count(fold), 'score')} along it, all through the inner paper and"
            " nearly through"
            " the foam, and roll the nose over a pipe with the cuts inside until its outside has a radius of"
            f" {radius}."
        )
    if fold.kind is FoldKind.SCORE:
        face = "outer" if fold.cut_behind else "inner"
        return f"Nose: score the {face} face along the leading edge; the other paper is the hinge and stays whole."
    if fold.kind is FoldKind.GROOVE:
        vee = groove_wider_deg(fold) or fold.turn_deg
        return (
            f"Over an edge of the spar: cut a V groove {wide} wide and {deg(vee)} between its sides, with the"
            " blade"
            " leaning from each of the two GROOVE lines to the FOLD line between them, down to the outer"
            " paper."
        )
    if fold.kind is FoldKind.HINGE:
        bevel = hinge_bevel_deg(fold) if fold.bevel else 0.0
        return (
            "Hinge of the control: cut along the HALF line through the inner paper and the foam, the outer"
            " paper stays"
            " whole. Then slice the edge of the control back to the BEVEL line, which takes off"
            f" {deg(bevel)} from square, so that it can swing. Cut both ends of the control free right"
            " through."
        )
    return f"Fold: lift out {wide} and fold."


def _dry(ground: Ground, surface: Surface, skins: Sequence[Part]) -> Step:
    strips = ground.of(surface, Kind.STRIP)
    joiners = ground.of(surface, Kind.JOINER)
    motors = ground.wing_motors(surface)
    does = [
        f"Lay {ground.all_named(strips)} on the lower skin between the lines of the spar, one on top of the"
        " other,"
        " without glue, and fold the upper skin over them. Press it down along the spar, then along the"
        " trailing"
        " edge. Ease what holds it up; never force a fold, or the paper cracks."
        if strips
        else "Fold the skins together without glue, and ease what holds them apart.",
    ]
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
            " and"
            f" {ground.ruler(thick)} thick over the spar."
        )
    if joiners:
        half = ground.ruler((surface.joiner.length_mm if surface.joiner else 0.0) / 2)
        does.append(
            f"Hold {ground.all_named(joiners)} on edge against the spar in both halves, before it and behind"
            " it, as far"
            f' as the lines "joiner, before closing" go: each plate reaches {half} into each half and stands'
            " against"
            " the spar over all of that. They have to slide in and out without force, since the second half"
            " is"
            " pushed onto them when it is closed: sand them until they do."
        )
        checks.append("The joiners go into both halves to the end of their lines, with both skins down.")
    firewalls = tuple(part for motor in motors for part in ground.of(motor, Kind.FIREWALL))
    if firewalls:
        does.append(
            f"Put {ground.all_named(firewalls)} through the slots in the lower skin, against the front face"
            " of the spar,"
            ' and close the upper skin over them: the lines "underside of the wing" and "top of the wing" lie'
            " level"
            " with the outer papers. Hold the motor against its firewall, and cut both skins inside the line"
            ' "open for the motor", no farther than motor, wires and air need.'
        )
        checks.append("Each firewall stands square to the lower skin and touches the spar.")
    return Step(
        id=ground.id("dry", surface),
        heading=f"Fold {surface.name} dry",
        does=tuple(does),
        cautions=(KNIFE_CAUTION,),
        checks=tuple(checks),
        after=((Tie.CHECKED, ground.id("skin", surface)),),
        shows=names((*skins, *strips, *joiners, *firewalls)),
        tools=("sanding block", "masking tape", "rule"),
    )


def spar_steps(ground: Ground, making: Making, surface: Surface) -> Iterator[Step]:
    """Skins of several lengths joined, strips glued onto the lower skin, the joiners into one half."""
    skins, strips = ground.of(surface, *SKINS), ground.of(surface, Kind.STRIP)
    patches = ground.of(surface, Kind.PATCH)
    dry = ground.id("dry", surface)
    if not skins:
        return
    if patches:
        yield _patched(ground, surface, skins, patches)
    if strips:
        yield _spar(ground, making, surface, strips)
    joiners = ground.of(surface, Kind.JOINER)
    if joiners:
        yield _joiner(ground, making, surface, joiners)
    for motor in ground.wing_motors(surface):
        firewalls = ground.of(motor, Kind.FIREWALL)
        if firewalls:
            yield Step(
                id=ground.id("firewall", motor),
                heading=f"Glue the firewalls of the motors into {surface.name}",
                does=(
                    f"{ground.all_named(firewalls)} go through the lower skin,"
                    f" {ground.ruler(motor.out_mm or 0.0)} out"
                    ' from the centre, against the front face of the spar: the line "motor axis" on the skin'
                    " shows the"
                    ' middle. Level the line "underside of the wing" with the outer paper of the lower skin.',
                    "Roughen the plate with sandpaper, spread epoxy on its whole rear face and round the"
                    " slot, press"
                    " it against the spar, square to the lower skin, and hold it with tape until it is hard."
                    " Lay a"
                    " bead of epoxy along both of its edges on the spar.",
                    *(
                        (
                            "Drill nothing now: screw holes are cut already; press the nuts that you use into"
                            " them.",
                        )
                        if motor.firewall.screws_mm
                        else (
                            "Mark the screws of your motor on the plate and drill them first, its shaft on"
                            " the"
                            " crossing of the two lines: behind the plate there is no room later.",
                        )
                    ),
                ),
                cautions=(
                    "Epoxy harms skin and eyes: wear gloves, and sand it with a dust mask.",
                    GLUE_CAUTION,
                ),
                checks=(
                    "Seen from above both plates look straight ahead, or as the thrust line asks.",
                    "The distance between the two motor axes is"
                    f" {ground.ruler(2 * (motor.out_mm or 0.0))} when the halves are joined.",
                ),
                after=making.ties((Tie.CHECKED, dry), (Tie.GLUED, ground.id("spar", surface))),
                adds=names(firewalls),
                shows=names((*skins, *strips)),
                tools=("epoxy", "sandpaper", "small square"),
            )


def _patched(ground: Ground, surface: Surface, skins: Sequence[Part], patches: Sequence[Part]) -> Step:
    return Step(
        id=ground.id("lengths", surface),
        heading=f"Join the lengths of skin of {surface.name}",
        does=(
            f"The skins {ground.all_named(skins)} of one half are several lengths, numbered from the root"
            " out. Lay"
            " neighbours of one panel flat, inner face up, edge against edge, noses and spar lines in one"
            " line,"
            " and glue the edges together.",
            f"Glue {ground.all_named(patches)} inside over each joint of the lower skin, one before and one"
            " behind the"
            " spar, half of it on each length; the place of the spar itself stays free.",
            'Turn it over and tape the joint outside, where "tape over the joint" is drawn. Leave it flat'
            " under weight"
            " until the glue is hard.",
        ),
        cautions=(GLUE_CAUTION,),
        checks=("The line of the spar runs straight over every joint.",),
        after=((Tie.CHECKED, ground.id("dry", surface)),),
        adds=names(patches),
        shows=names(skins),
        tools=("white glue", "long rule", "weights", "tape"),
    )


def _spar(ground: Ground, making: Making, surface: Surface, strips: Sequence[Part]) -> Step:
    assert surface.spar is not None
    several = panels(surface)
    root = spar_in(surface, several[0], 0.0)
    tip = spar_in(surface, several[-1], surface.half_span_mm)
    at_root = ground.ruler(root[0] - several[0].leading(0.0))
    at_tip = ground.ruler(tip[0] - several[-1].leading(surface.half_span_mm))
    does = [
        "The strips lie flat on the inner face of the lower skin, one on top of the other. The front edge of"
        " the spar"
        f" lies {at_root} behind the leading edge at the root and {at_tip} at the tip, on the line"
        f' "spar, front face"; the spar is {ground.ruler(root[1] - root[0])} wide at the root.',
    ]
    right = ground.halves(strips)
    levels: dict[float, list[Part]] = {}
    for part in right:
        levels.setdefault(_layer(surface, part), []).append(part)
    for i, (_, members) in enumerate(sorted(levels.items())):
        both = [part for part in strips if any(part.key == one.key for one in members)]
        where = "onto the lower skin" if i == 0 else "on top of that, front edges flush"
        more = ", end to end from the root out," if len(members) > 1 else ""
        long = listed(ground.ruler(max(part.length_mm, part.width_mm)) for part in members)
        does.append(
            f"Layer {i + 1}: glue {ground.all_named(both)}{more} {where}."
            f" {'They are' if len(both) > 1 else 'It is'}"
            f" {long} long; inner end at the root."
        )
    does.append(
        "Use a thin, even coat of white glue between papers. Lay a straight board and weights along the whole"
        " spar"
        " while the skin lies flat on the table, and leave it over night."
    )
    return Step(
        id=ground.id("spar", surface),
        heading=f"Glue the spar into {surface.name}",
        does=tuple(does),
        cautions=(GLUE_CAUTION,),
        checks=(
            "The spar is straight from root to tip, and the skin under it lies flat on the table.",
            "Nothing of the glue lies where the upper skin folds, where leads run or where the joiner goes.",
        ),
        after=making.ties(
            (Tie.CHECKED, ground.id("dry", surface)), (Tie.GLUED, ground.id("lengths", surface))
        ),
        adds=names(strips),
        shows=names(ground.of(surface, *SKINS)),
        tools=("white glue", "straight board", "weights", "film or baking paper"),
    )


def _layer(surface: Surface, part: Part) -> float:
    """Height of a strip over the lower skin, to order layers by."""
    assert part.place is not None
    several = panels(surface)
    heights = [panel.place(part.place.at) for panel in several]
    near = min(heights, key=lambda csn: round(max(csn[1] - surface.half_span_mm, 0.0 - csn[1], 0.0), 3))
    return round(near[2] / part.thickness_mm)


def _joiner(ground: Ground, making: Making, surface: Surface, joiners: Sequence[Part]) -> Step:
    assert surface.joiner is not None
    half = ground.ruler(surface.joiner.length_mm / 2)
    g = surface.stations[0].dihedral_deg
    shape = " The plates are bent to a V in their outline: its point looks down." if g > 0 else ""
    return Step(
        id=ground.id("joiner", surface),
        heading=f"Glue the joiner into the right half of {surface.name}",
        does=(
            f"Mark the middle of {ground.all_named(joiners)}, {half} from each end. Roughen their faces with"
            f" sandpaper.{shape}",
            "Spread epoxy over half of each plate and press it on edge against the spar of the right half,"
            " the front one"
            " before the spar, the rear one behind it, its middle exactly at the root edge. Clamp with pegs"
            " through film until it is hard.",
            "In the left half glue nothing yet: its place beside the spar stays clean, since the plates are"
            " pushed in"
            " there when that half is closed.",
        ),
        cautions=("Epoxy harms skin and eyes: wear gloves, and sand it with a dust mask.",),
        checks=(
            f"{half} of each plate stand out of the root, square to it seen from above.",
            "The left half still goes on, dry, until the root edges meet.",
        ),
        after=making.ties((Tie.CHECKED, ground.id("dry", surface)), (Tie.GLUED, ground.id("spar", surface))),
        adds=names(joiners),
        shows=names((*ground.of(surface, *SKINS), *ground.of(surface, Kind.STRIP))),
        tools=("epoxy", "sandpaper", "clothes pegs or clamps"),
    )


def is_bevelled(surface: Surface) -> bool:
    """Whether the upper skin ends on the lower one, bevelled."""
    return surface.trailing_edge is TrailingEdge.BEVELLED
