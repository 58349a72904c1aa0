"""The first steps: boards measured, pieces cut and lettered, joints and doublers glued flat."""

from collections.abc import Iterator, Sequence

from foamcut.airframe.values import Body
from foamcut.book.step import Step, Tie
from foamcut.book.steps_cut import cut_step
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind, pair_name
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import counted, listed, titled
from foamcut.flat.drawn import Face, Hand
from foamcut.flat.joint import Joint
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.flat.way import Piece, Role

GLUE_CAUTION = (
    "Hot glue burns the skin and a hot nozzle melts foam; solvent glues, thin instant glue and many sprays"
    " eat it. Try every glue on a scrap first, let air in, and keep glue off skin and eyes."
)
#: boards that differ more than this from the design are cut for anew, mm, and more than this in mass, a share
OFF_MM, _OFF_SHARE = 0.2, 10


def begin_steps(ground: Ground, making: Making) -> Iterator[Step]:
    """Measure, cut, letter, join, double."""
    yield _measure(ground)
    yield cut_step(ground)
    yield _label(ground)
    if joined := [part for part in ground.facts.parts if ground.facts.joints.get(part.name)]:
        yield _joints(ground, joined)
    for body in ground.facts.inputs.bodies:
        doublers = ground.of(body, Kind.DOUBLER)
        if doublers:
            yield _doublers(ground, making, body, doublers)


def _measure(ground: Ground) -> Step:
    ruler = ground.ruler
    does = []
    for layout in ground.facts.layouts:
        does.append(_measured(layout.stock, ground))
    does += [
        "Write what you measured into the design file, and have the plan cut again when a thickness is more"
        f" than {ruler(OFF_MM)} off or a mass more than {_OFF_SHARE} % off: slots and"
        f" folds{', formers and the balance' if ground.facts.inputs.surfaces else ''} follow these numbers.",
        f"Slots are cut {ruler(ground.facts.fit_mm)} longer and wider than what goes in ([cutting] fit). Cut"
        " the fit gauge of the pack into a scrap, push a piece of board into each of its slots, and enter"
        " the one that holds without bending the board.",
        "Put a drop of every glue that you mean to use on a scrap of each sheet, and look at it after an"
        " hour: take no glue that leaves a dent.",
    ]
    return Step(
        id="measure",
        heading="Measure and weigh the boards",
        does=tuple(does),
        cautions=(GLUE_CAUTION,),
        checks=(
            "The thickness of every sheet is that of the design, or the plan was cut again.",
            "Every sheet is flat; one with a bow lies under weights over night.",
            "The glue has left the scraps as they were.",
        ),
        tools=("caliper, or a rule and a stack of scraps", "kitchen scales", "fit gauge (gauges.pdf)"),
    )


def _measured(stock: Stock, ground: Ground) -> str:
    masses = [
        f"{ruler_pair} weighs {ground.ruler.mass(size.mass_g)}"
        for size in stock.sheets
        if size.mass_g is not None
        for ruler_pair in (ground.ruler.pair(size.width_mm, size.height_mm),)
    ]
    text = (
        f'{titled(stock.material or stock.name)} ("{stock.name}"): measure the thickness near all four'
        " corners of each sheet, both papers or faces with it, and take the mean. Without a caliper stack"
        " five scraps, measure the stack and divide by five. The design says"
        f" {ground.ruler.thickness(stock.thickness_mm)}."
    )
    if masses:
        text += f" Weigh a whole sheet: in the design one of {listed(masses)}."
    return text


def _label(ground: Ground) -> Step:
    facts = ground.facts
    pieces = sum(cut.count for cut in facts.cuts)
    does = [
        "As each piece comes out of its sheet, copy onto its drawn face what the sheet says of it: number,"
        " name, hand, which face lies up (inner or outer), and the arrows FRONT and UP where there are any."
        " Write in pencil, away from edges that are glued.",
    ]
    pairs = sorted(
        {pair_name(part) for part in facts.parts if part.hand is not Hand.NONE}, key=_first(ground)
    )
    if pairs:
        does.append(
            f"{listed(pairs)} come in a right and a left hand, the mirror image of each other. Lay the two"
            " beside each other, both with the drawn face up: they have to look like your two hands. Right"
            " is right as seen by somebody who sits in the model and looks forwards."
        )
    if copies := [part for part in facts.parts if part.count > 1]:
        does.append(f"Of these there are several alike: {ground.all_named(copies)}.")
    if ground.facts.inputs:
        does.append(_places(ground))
    does.append("Keep the scraps: strips for corners and tests of glue are cut from them.")
    return Step(
        id="label",
        heading="Letter every piece",
        does=tuple(does),
        checks=(
            f"{counted(pieces, 'piece')} lie on the bench, each with its number.",
            *(("Every pair lies as a right and a left hand, not twice the same.",) if pairs else ()),
        ),
        after=((Tie.CHECKED, "cut"),),
        tools=("soft pencil",),
    )


def _places(ground: Ground) -> str:
    """From where along, up and out are counted."""
    text = (
        'Places in this book are those of the finished model: "behind the nose" counts aft from 0 along on'
        ' the side view of the sketch, "up" from its base line, "out" from the middle line to the side.'
    )
    if ground.facts.inputs.bodies:
        body = ground.facts.inputs.bodies[0]
        front = min(one.along_mm for one in body.side)
        low = min(one.bottom_mm for one in body.side)
        end = f"The front end of {ground.the(body)}"
        text += (
            f" {end} is that 0"
            if abs(front) < 0.05
            else f" {end} lies {ground.ruler(abs(front))} {'behind' if front > 0 else 'before'} that 0"
        )
        text += (
            ", and its lowest point lies on the base line."
            if abs(low) < 0.05
            else f", and its lowest point {ground.ruler.up(low)}."
        )
    return text


def _first(ground: Ground):  # type: ignore[no-untyped-def]
    order = {pair_name(part): i for i, part in reversed(list(enumerate(ground.facts.parts)))}
    return lambda name: order[name]


def _joints(ground: Ground, parts: Sequence[Part]) -> Step:
    does = [
        "Work on a flat table covered with film or baking paper, so that nothing sticks to it. For each"
        " part, glue the sections edge to edge first and their doubler on afterwards.",
    ]
    for part in parts:
        does += [_joined(ground, part, joint) for joint in ground.facts.joints[part.name]]
    does += [
        "Press each doubler down, wipe off what glue comes out, cover it with film, and put a flat board and"
        " weights (books, bottles of water) on all of it.",
        "Leave it until the glue is hard: white glue between papers over night, others as their makers say.",
    ]
    return Step(
        id="joints",
        heading="Glue the sections together, flat under weight",
        does=tuple(does),
        cautions=(GLUE_CAUTION,),
        checks=(
            "Each part lies flat on the table, and a long rule along it touches both sections.",
            "The length over all is the one given above, to a millimetre.",
            "Right and left hand, laid back to back, cover each other.",
        ),
        after=((Tie.CHECKED, "label"),),
        adds=names(parts),
        tools=("long straight rule", "white glue", "film or baking paper", "weights"),
    )


def _joined(ground: Ground, part: Part, joint: Joint) -> str:
    """One joint: which sections, along what, which doubler on which face."""
    at, upright = (joint.x_mm, True) if joint.x_mm is not None else (joint.y_mm or 0.0, False)
    pieces = ground.pieces.get(part.name, [])
    beside = [piece for piece in pieces if piece.role is Role.SECTION and _ends_at(piece, at, upright)]
    doublers = [
        piece
        for piece in pieces
        if piece.role is Role.DOUBLER and piece.suffix.rsplit("-", 1)[-1].upper() in joint.letters
    ]
    face = {Face.INNER: "inner", Face.OUTER: "outer", Face.EITHER: "drawn"}[part.face]
    text = (
        f"{part.name}: lay {listed(ground.piece_named(piece) for piece in beside)} with the {face} face up,"
        " edge against edge, and pull them along a long rule until the part is"
        f" {ground.ruler(joint.length_mm)} long over all, square across the joint. Glue the two edges."
    )
    for piece in doublers:
        long, wide = sorted((piece.flat.length_mm, piece.flat.width_mm), reverse=True)
        text += (
            f" Glue {ground.piece_named(piece)}, {ground.ruler.pair(long, wide)}, over the joint on the"
            f" {face} face, its middle on the joint, into the outline or between the ticks that are drawn for"
            " it."
        )
    return text


def _ends_at(piece: Piece, at: float, upright: bool) -> bool:
    x0, y0, x1, y1 = piece.outline.bounds
    return any(abs(end - at) < 0.01 for end in ((x0, x1) if upright else (y0, y1)))


def _doublers(ground: Ground, making: Making, body: Body, doublers: Sequence[Part]) -> Step:
    sides = ground.of(body, Kind.SIDE, Kind.TROUGH)
    front, rear = doublers[0].outline.bounds[0], doublers[0].outline.bounds[2]
    where = "the inner faces of the sides" if ground.of(body, Kind.SIDE) else "the inner face of both sides"
    does = [
        f"Lay {ground.all_named(sides)} flat, inner face up. The doublers {ground.all_named(doublers)} go"
        f" onto {where}, each on its own hand, from {ground.ruler(front)} to {ground.ruler(rear)} behind the"
        " front"
        ' end of the body; the line "doubler" shows their rear end.',
        "Hold each doubler dry in its place first: its openings lie over those of the side, its front and"
        " lower edges stand back from those of the side as drawn, since floor and formers go there. The long"
        " bevel looks aft and away from the side.",
        "Spread a thin coat of white glue over the whole face, lay the doubler on, and weigh it down flat"
        " over night with film between.",
    ]
    return Step(
        id=ground.id("doublers", body),
        heading=f"Double the nose of {ground.the(body)}, flat under weight",
        does=tuple(does),
        cautions=(GLUE_CAUTION,),
        checks=(
            "The sides lie flat, without a bow.",
            "The openings for dowels and air are free through both boards.",
        ),
        after=((Tie.CHECKED, "label"), *making.ties((Tie.GLUED, "joints"))),
        adds=names(doublers),
        shows=names(sides),
        tools=("white glue", "weights", "film or baking paper"),
    )
