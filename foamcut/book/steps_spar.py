"""Folded surfaces, glued before they are closed: lengths of skin, spar, joiner, firewalls.  mm."""

from collections.abc import Iterator, Sequence

from foamcut.airframe.planform import panels
from foamcut.airframe.section import spar_in
from foamcut.airframe.values import Surface
from foamcut.book.step import Step, Tie
from foamcut.book.steps_begin import GLUE_CAUTION
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_skins import SKINS, joiner_reach
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import listed
from foamcut.flat.part import Part

#: a strip that begins where two panels meet lies on the outer one, mm
_INTO_MM = 1.0


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
                heading=f"Glue the firewalls of the motors into {ground.the(surface)}",
                does=(
                    f"{ground.all_named(firewalls)} go through the lower skin,"
                    f" {ground.ruler(motor.out_mm or 0.0)} out"
                    ' from the centre, against the front face of the spar: the line "motor axis" on the skin'
                    " shows the"
                    ' middle. Level the line "underside of the wing" with the outer paper of the lower skin.',
                    "Roughen the plate with sandpaper, spread epoxy on its whole rear face and round the"
                    " slot, press it against the spar, square to the lower skin, and hold it with tape until"
                    " it is hard. Lay a bead of epoxy along both of its edges on the spar.",
                    *(
                        (
                            "Drill nothing now: screw holes are cut already; press the nuts that you use"
                            " into them.",
                        )
                        if motor.firewall.screws_mm
                        else (
                            "Mark the screws of your motor on the plate and drill them first, its shaft on"
                            " the crossing of the two lines: behind the plate there is no room later.",
                        )
                    ),
                ),
                cautions=(
                    "Epoxy harms skin and eyes: wear gloves, and sand it with a dust mask.",
                    GLUE_CAUTION,
                ),
                checks=(
                    "Seen from above both plates look straight ahead, or as the thrust line asks.",
                    f"The distance between the two motor axes is {ground.ruler(2 * (motor.out_mm or 0.0))}"
                    " when the halves are joined.",
                ),
                after=making.ties((Tie.CHECKED, dry), (Tie.GLUED, ground.id("spar", surface))),
                adds=names(firewalls),
                shows=names((*skins, *strips)),
                tools=("epoxy", "sandpaper", "small square"),
            )


def _patched(ground: Ground, surface: Surface, skins: Sequence[Part], patches: Sequence[Part]) -> Step:
    return Step(
        id=ground.id("lengths", surface),
        heading=f"Join the lengths of skin of {ground.the(surface)}",
        does=(
            f"The skins {ground.all_named(skins)} of one half are several lengths, numbered from the root"
            " out. Lay neighbours of one panel flat, inner face up, edge against edge, noses and spar lines"
            " in one line, and glue the edges together.",
            f"Glue {ground.all_named(patches)} inside over each joint of the lower skin, one before and one"
            " behind the spar, half of it on each length; the place of the spar itself stays free.",
            'Turn it over and tape the joint outside, where "tape over the joint" is drawn. Leave it flat'
            " under weight until the glue is hard.",
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
    right = ground.halves(strips)
    narrow = min((min(part.length_mm, part.width_mm) for part in right), default=0.0)
    slanted = (
        f", measured fore and aft, since it is swept; the strips are {ground.ruler(narrow)} wide"
        if root[1] - root[0] > narrow + 0.3
        else ""
    )
    does = [
        "The strips lie flat on the inner face of the lower skin, one on top of the other. The front edge of"
        f" the spar lies {at_root} behind the leading edge at the root and {at_tip} at the tip, on the line"
        f' "spar, front face"; the spar is {ground.ruler(root[1] - root[0])} wide at the root{slanted}.',
    ]
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
            f" {'Each lies on the skin of its own hand and is' if len(both) > 1 else 'It is'} {long} long;"
            f" the inner end{' of the first' if len(members) > 1 else ''} lies at the root."
        )
    does.append(
        "Use a thin, even coat of white glue between papers. Lay a straight board and weights along the"
        " whole spar while the skin lies flat on the table, and leave it over night."
    )
    return Step(
        id=ground.id("spar", surface),
        heading=f"Glue the spar into {ground.the(surface)}",
        does=tuple(does),
        cautions=(GLUE_CAUTION,),
        checks=(
            "The spar is straight from root to tip, and the skin under it lies flat on the table.",
            f"No glue lies {listed(_free(ground, surface))}.",
        ),
        after=making.ties(
            (Tie.CHECKED, ground.id("dry", surface)), (Tie.GLUED, ground.id("lengths", surface))
        ),
        adds=names(strips),
        shows=names(ground.of(surface, *SKINS)),
        tools=("white glue", "straight board", "weights", "film or baking paper"),
    )


def _free(ground: Ground, surface: Surface) -> list[str]:
    """Where the lower skin stays free of glue."""
    leads = ground.wing_motors(surface) or any(
        one.on[0] == surface.name for one in ground.facts.inputs.servos
    )
    return [
        "where the upper skin folds",
        *(["where leads run"] if leads else []),
        *(["where a joiner goes"] if ground.of(surface, Kind.JOINER) else []),
    ]


def _layer(surface: Surface, part: Part) -> float:
    """Height of a strip over the lower skin, to order layers by."""
    assert part.place is not None
    found = []
    for panel in panels(surface):
        _, out, up = panel.place(part.place.at)
        off = max(panel.first.out_mm - out, out + _INTO_MM - panel.last.out_mm, 0.0)
        found.append((round(off, 3), panel.index, up))
    return round(min(found)[2] / part.thickness_mm)


def _joiner(ground: Ground, making: Making, surface: Surface, joiners: Sequence[Part]) -> Step:
    assert surface.joiner is not None
    half = joiner_reach(ground, joiners)
    g = surface.stations[0].dihedral_deg
    shape = " The plates are cut to a V: its point is their middle, and looks down." if g > 0 else ""
    return Step(
        id=ground.id("joiner", surface),
        heading=f"Glue the joiner into the right half of {ground.the(surface)}",
        does=(
            f"Mark the middle of {ground.all_named(joiners)}, {half} from each end. Roughen their faces with"
            f" sandpaper.{shape}",
            "Spread epoxy over half of each plate and press it on edge against the spar of the right half,"
            " the front one before the spar, the rear one behind it, its middle exactly at the root edge."
            " Clamp with pegs through film until it is hard.",
            "In the left half glue nothing yet: its place beside the spar stays clean, since the plates are"
            " pushed in there when that half is closed.",
        ),
        cautions=("Epoxy harms skin and eyes: wear gloves, and sand it with a dust mask.",),
        checks=(
            f"{half} of each plate stand out of the root, seen from above square to it.",
            "The left half still goes on, dry, until the root edges meet.",
        ),
        after=making.ties((Tie.CHECKED, ground.id("dry", surface)), (Tie.GLUED, ground.id("spar", surface))),
        adds=names(joiners),
        shows=names((*ground.of(surface, *SKINS), *ground.of(surface, Kind.STRIP))),
        tools=("epoxy", "sandpaper", "clothes pegs or clamps"),
    )
