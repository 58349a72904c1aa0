"""The step in which the pieces are cut: marks and scores first, then openings, outlines last."""

from collections.abc import Iterator

from foamcut.book.step import Step, Tie
from foamcut.book.steps_ground import Ground
from foamcut.book.steps_words import counted, listed
from foamcut.book.values import Grid
from foamcut.flat.drawn import FoldKind
from foamcut.nest.values import Kind, Sheet

KNIFE_CAUTION = (
    "A knife that slips goes deep. Use a sharp blade, several light passes and a metal rule, keep fingers"
    " behind the blade and out of its way, cut away from yourself, and put old blades into a closed tin."
)
_LASER_CAUTION = (
    "Foam board under a laser can burn, and its fumes are bad to breathe; many workshops forbid it. Ask"
    " those who run the machine, follow their rules, use the extraction, and never leave it alone while it"
    " cuts."
)
_PLOTTER_CAUTION = (
    "The blade of a cutting plotter moves without warning: keep hands, hair and sleeves away, and stop the"
    " machine before you reach in."
)
_SOURCES = {Kind.OFFCUT: "offcut", Kind.ON_HAND: "from the shelf", Kind.NEW: "new"}


def cut_step(ground: Ground) -> Step:
    """Cut every piece, in the order that keeps a sheet stiff as long as it can be."""
    knife = ground.tool == "knife"
    does = [*(_by_hand(ground) if knife else _by_machine(ground))]
    if behind := [part for part in ground.facts.parts if part.worked_behind]:
        does.append(
            f"{ground.all_named(behind)} {'has' if len(behind) == 1 else 'have'} cuts on the face that lies"
            " down as well: the sheet's -back file shows them. Turn the sheet over sideways, prick the ends"
            " of those lines through from the front, and cut them before the outline."
        )
    cautions = [KNIFE_CAUTION]
    if not knife:
        cautions.append(_LASER_CAUTION if ground.tool == "laser" else _PLOTTER_CAUTION)
    return Step(
        id="cut",
        heading="Cut the pieces",
        does=tuple(does),
        cautions=tuple(cautions),
        checks=(
            "100 mm on the template or in the file is 100 mm on your rule.",
            "No score has gone through the far paper; where one has, tape the far side now.",
            "Every slot takes a scrap of what goes in: it holds, and bends nothing.",
        ),
        after=((Tie.CHECKED, "measure"),),
        tools=("sharp knife, spare blades", "metal rule", "cutting mat", "pin")
        if knife
        else (ground.tool, "sharp knife"),
        blocks=(_sheets(ground),),
    )


def _by_hand(ground: Ground) -> Iterator[str]:
    count = sum(len(layout.sheets) for layout in ground.facts.layouts)
    openings = sum(
        cut.count * (len(cut.piece.flat.outline.rings()) - 1) for cut in ground.facts.cuts
    )  # fmt: skip
    yield (
        f"There are {counted(count, 'sheet')}; the table below says which pieces come from which. Finish one"
        " before you begin the next. Transfer it by the marking-out sheet with rule and pencil, or tape the"
        " printed templates on and prick their corners through with a pin. Written sizes govern."
    )
    yield (
        "Draw the marks first, and write the letters and words beside them on the board. A mark of the face"
        " that lies down is shown by small circles: prick those through and draw the line on the other face."
    )
    if any(part.folds for part in ground.facts.parts):
        yield (
            f"Cut what does not go through next, while the sheet is whole: {_half_words(ground)}. Cut the"
            " upper paper and the foam, and leave the lower paper whole; find the depth on a scrap, a little"
            " more with each pass."
        )
    if openings:
        yield (
            f"Cut the {counted(openings, 'opening')} and slots: start at each corner, cut towards the middle"
            " of the side, and push the waste out from the drawn face."
        )
    yield (
        "Cut the outlines last, the smallest pieces first, so that the sheet stays stiff. Hold the knife"
        " upright: an edge that leans does not meet its neighbour."
    )


def _by_machine(ground: Ground) -> Iterator[str]:
    yield (
        "Each sheet has a DXF and an SVG file of its own, at true size. Try depth and speed on a scrap of"
        " the same board: a score must leave the lower paper whole."
    )
    yield (
        "Let the machine cut in this order: MARK, LETTERING and FOLD lines as drawn lines; HALF, GROOVE and"
        " LIFT in part of the depth; OPENING; THROUGH last. Where a sheet has a -back file, cut that first,"
        " turn the board over sideways, and lay it to the same corner or onto the two register holes."
    )
    if ground.facts.kerf_mm:
        yield (
            f"The files allow for {ground.ruler(ground.facts.kerf_mm)} that the tool takes away ([cutting]"
            " kerf): cut a square of 100 mm, measure it, and mend that number if it is off."
        )
    yield "Cut loose by hand what the machine leaves hanging, and slopes (BEVEL), which it cannot cut."


def _half_words(ground: Ground) -> str:
    kinds = {fold.kind for part in ground.facts.parts for fold in part.folds}
    words = {
        FoldKind.SCORE: "scores",
        FoldKind.ROLL: "the scores of rolled bends",
        FoldKind.GROOVE: "the edges of grooves",
        FoldKind.WRAP: "the edges of what is lifted out",
        FoldKind.STRIP: "the edges of the nose bands",
        FoldKind.HINGE: "hinge lines",
    }
    return listed(word for kind, word in words.items() if kind in kinds)


def _sheets(ground: Ground) -> Grid:
    rows = []
    for layout in ground.facts.layouts:
        for sheet in layout.sheets:
            size = ground.ruler.pair(sheet.width_mm, sheet.height_mm)
            rows.append(
                (f"{sheet.stock} {sheet.number}", f"{size}, {_SOURCES[sheet.kind]}", _on(sheet, ground))
            )
    return Grid(
        caption="Which pieces come from which sheet",
        head=("sheet", "size", "numbers of its pieces"),
        rows=tuple(rows),
    )


def _on(sheet: Sheet, ground: Ground) -> str:
    counts: dict[int, int] = {}
    for one in sheet.placed:
        number = ground.facts.numbers.get(one.piece.flat.name)
        if number is not None:
            counts[number] = counts.get(number, 0) + 1
    return ", ".join(f"{n}" if count == 1 else f"{n} ({count} times)" for n, count in sorted(counts.items()))
