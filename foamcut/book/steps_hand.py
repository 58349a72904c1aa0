"""Parts drawn by hand: folded, put together slot by slot, set in their places.  mm."""

from collections.abc import Iterator, Sequence

import numpy as np

from foamcut.book.step import Step, Tie
from foamcut.book.steps_begin import GLUE_CAUTION
from foamcut.book.steps_cut import KNIFE_CAUTION
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_mates import Mate, crossing, mates
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import counted, listed, sentence
from foamcut.book.values import Grid
from foamcut.draw.drawnsmall import work_tags
from foamcut.draw.foldwords import bevel_words, fold_words
from foamcut.flat.assembled import Standing
from foamcut.flat.drawn import FoldKind
from foamcut.flat.part import Part

#: boards nearer than this to each other are glued to each other, mm
_TOUCH_MM = 1.0
_HOW = {
    FoldKind.GROOVE: "cut along both edges of the band with the blade leaning to its middle, down to the far"
    " paper, lift the V out, and fold it shut on glue",
    FoldKind.SCORE: "cut through the near paper and the foam, and fold away from the cut, which opens; fill"
    " it with glue",
    FoldKind.WRAP: "cut both lines down to the far paper, lift the foam between them off it, fold, and set"
    " the edge of the one panel onto the bare paper in glue",
    FoldKind.ROLL: "cut every score nearly through the foam, and roll the board over a pipe with the cuts"
    " inside; glue in the scores keeps the bend",
    FoldKind.HINGE: "cut through the near paper and the foam and bevel the edge: the far paper is the hinge,"
    " and gets no glue",
    FoldKind.STRIP: "lift the foam between the lines off the far paper, and fold at both edges",
}


def hand_steps(ground: Ground, making: Making) -> Iterator[Step]:
    """Drawn parts folded, put together, set in their places; each in at least one step."""
    drawn = ground.of(None, Kind.DRAWN) + tuple(one.part for one in ground.known if one.kind is Kind.UNKNOWN)
    folded = [part for part in drawn if part.folds]
    for part in folded:
        yield _folded(ground, making, part)
    pairs = mates(drawn)
    slotted = [part for part in drawn if any(part in (one.tabbed, one.slotted) for one in pairs)]
    crossed = crossing(drawn)
    slotted += [part for pair in crossed for part in pair if part not in slotted]
    if slotted:
        yield _dry(ground, making, [part for part in drawn if part in slotted], pairs, crossed)
        yield _glued(ground, making, [part for part in drawn if part in slotted])
    base = _base(ground, drawn)
    rest = [
        part
        for part in drawn
        if part is not base and (part not in slotted or part.place is not None or _marked(ground, part))
    ]
    bare = base is not None and base not in folded and base not in slotted
    if base is not None and bare and not rest:
        rest, base = [base], None  # nothing is set onto it
    if rest:
        yield _set(ground, making, rest, base, bare=bare)


def _base(ground: Ground, drawn: Sequence[Part]) -> Part | None:
    """The drawn part that the others are set onto: of those with a place the largest that one lies against.

    None where there is a generated body, or no such part.
    """
    if ground.facts.inputs.bodies:
        return None
    placed = [part for part in drawn if part.place is not None and (part.folds or part.slots or part.tabs)]
    return max(placed, key=lambda part: round(part.outline.polygon.area, 3), default=None)


def _folded(ground: Ground, making: Making, part: Part) -> Step:
    does = [
        f"Lay {ground.named(part)} with the drawn face ({part.face.value}) up. Towards you means up from the"
        " table, away from you means down."
    ]
    tags = work_tags(part)
    how = {fold_words(fold): _HOW[fold.kind] for fold in part.folds}
    does += [
        sentence(f"Marked {tags[words]} on the drawing: {words}. To work it, {work}")
        for words, work in how.items()
    ]
    if part.bevels:
        words = dict.fromkeys(map(bevel_words, part.bevels))
        sloped = listed(f"{tags[one]} ({one})" for one in words)
        does.append(f"Sloped edges, from square: {sloped}. Cut them before you fold.")
    glued = any(fold.kind is not FoldKind.HINGE for fold in part.folds)
    if glued:
        does.append(
            "Fold it once without glue and look whether edges meet. Then glue, hold it with tape outside,"
            " and check the angle with a square or a card cut to it until the glue is hard."
        )
    return Step(
        id=ground.id("fold", part),
        heading=f"{'Fold' if glued else 'Work the hinge of'} {part.name}",
        does=tuple(does),
        cautions=(KNIFE_CAUTION, *((GLUE_CAUTION,) if glued else ())),
        checks=(
            "The far paper is whole at every fold.",
            *(
                ("Edges that meet do so without a gap, and both ends of a fold have the same angle.",)
                if glued
                else ("It swings to both sides without rubbing.",)
            ),
        ),
        after=((Tie.CHECKED, "label"), *making.ties((Tie.GLUED, "joints"))),
        adds=names([part]),
        tools=("sharp knife", "metal rule", *(("glue", "masking tape", "square") if glued else ())),
    )


def _dry(
    ground: Ground,
    making: Making,
    parts: Sequence[Part],
    pairs: Sequence[Mate],
    crossed: Sequence[tuple[Part, Part]],
) -> Step:
    ruler = ground.ruler
    does = ["Put everything together without glue first, in this order; nothing has to be forced."]
    for one, other in crossed:
        does.append(
            f"Push {ground.named(one)} and {ground.named(other)} into each other crosswise, slot over slot,"
            " until their edges are level: turn the one so that its open slots look up, the other so that"
            " they look down."
        )
    for mate in _in_turn(pairs):
        what = (
            f"the {counted(mate.tabs, 'tab') if mate.tabs > 1 else 'tab'} of {ruler(mate.length_mm)}"
            if mate.tabs
            else f"the edge of {ruler(mate.length_mm)}"
        )
        maybe = (
            ""
            if mate.sure
            else " Other parts have slots of that length too: take those that lie as far apart as the tabs."
        )
        does.append(
            f"{ground.named(mate.tabbed)}: {what} into the slots of {ground.named(mate.slotted)}.{maybe}"
        )
    rows = tuple(
        (
            ground.named(one.tabbed),
            f"{one.tabs} of {ruler(one.length_mm)}" if one.tabs else f"edge of {ruler(one.length_mm)}",
            ground.named(one.slotted),
            f"{one.slots}",
        )
        for one in pairs
    )
    return Step(
        id="slots-dry",
        heading="Put the slots together, dry",
        does=tuple(does),
        checks=(
            "Every tab sits in its slot up to its shoulder.",
            "Nothing is bent, and all corners are square.",
        ),
        after=((Tie.CHECKED, "label"), *making.starting(Tie.GLUED, "joints", "fold")),
        shows=names(parts),
        tools=("square", "sharp knife"),
        blocks=(
            Grid(
                caption="What goes into what",
                head=("part", "its tabs", "goes into", "slots in one of it"),
                rows=rows,
            ),
        )
        if rows
        else (),
    )


def _in_turn(pairs: Sequence[Mate]) -> list[Mate]:
    """Inner parts first: what is itself put into others comes after what is put into it."""
    depth: dict[str, int] = {}

    def height(name: str, seen: frozenset[str]) -> int:
        if name in seen:
            return 0
        if name not in depth:
            into = [one.tabbed.name for one in pairs if one.slotted.name == name]
            depth[name] = 1 + max((height(one, seen | {name}) for one in into), default=-1)
        return depth[name]

    return sorted(pairs, key=lambda one: height(one.slotted.name, frozenset()))


def _glued(ground: Ground, making: Making, parts: Sequence[Part]) -> Step:
    return Step(
        id="slots-glue",
        heading="Glue the slots",
        does=(
            f"Take {ground.all_named(parts)} apart again and put them together in the same order, with a thin"
            " coat of glue on each tab and a bead along each edge that meets a face. White glue gives time"
            " to set it square.",
            "Wipe off what comes out, hold it together with masking tape, and leave it square until the glue"
            " is hard.",
        ),
        cautions=(GLUE_CAUTION,),
        checks=("Both diagonals of each opening are equal.", "It stands on the table without rocking."),
        after=((Tie.CHECKED, "slots-dry"),),
        adds=names(parts),
        tools=("glue", "masking tape", "square", "rule"),
    )


def _marked(ground: Ground, part: Part) -> list[Part]:
    """Other parts with a mark that has the part's name or begins it."""
    name = part.name.casefold()
    return [
        other
        for other in ground.facts.parts
        if other is not part and any(getattr(mark, "text", "").casefold() == name for mark in other.marks)
    ]


def _set(
    ground: Ground, making: Making, parts: Sequence[Part], base: Part | None, *, bare: bool = False
) -> Step:
    """Parts in their places; a bare `base` stands in no step before this one."""
    stands = {one.part.name: one for one in ground.facts.standing}
    lost = [part for part in parts if part.name not in stands and not _marked(ground, part)]
    does = [_placed(ground, part, stands) for part in parts if part not in lost]
    if base is not None:
        does.insert(0, f"{ground.named(base)} is what the others are set onto.")
    if lost:
        does.append(
            f"Where {ground.all_named(lost)} {'goes' if len(lost) == 1 else 'go'} is not in the design: the"
            " maker's drawing shows it. Look at their marks, slots and edges, and ask the maker when in"
            " doubt."
        )
    added = names([base, *parts] if base is not None and bare else parts)
    generated = [tie for tie in making.starting(Tie.GLUED, "box", "join", "tail", "deck")]
    return Step(
        id="set",
        heading="Set the other parts in their places",
        does=(
            "Hold each in its place without glue first, and mark round it. Then glue it, press it on and"
            " tape it until the glue is hard.",
            *does,
        ),
        cautions=(GLUE_CAUTION,),
        checks=("Each part is where its line or its numbers say, and faces the right way.",),
        after=tuple(
            dict.fromkeys(
                (
                    (Tie.CHECKED, "label"),
                    *making.starting(Tie.GLUED, "joints", "fold"),
                    *making.ties((Tie.GLUED, "slots-glue")),
                    *generated,
                )
            )
        ),
        adds=added,
        shows=tuple(name for name in stands if name not in added),
        tools=("glue", "masking tape", "rule"),
    )


def _placed(ground: Ground, part: Part, stands: dict[str, Standing]) -> str:
    """Where a part goes: on a line with its name, at its place on the model, or as the overview shows."""
    ruler = ground.ruler
    named = ground.named(part)
    if on := _marked(ground, part):
        return f'{named}: onto the line "{part.name}" that is drawn on {ground.all_named(on)}, square to it.'
    one = stands[part.name]
    low, high = one.box
    text = (
        f"{named}: from {ruler(low[0])} to {ruler(high[0])} behind the nose, from {ruler(low[2])} to"
        f" {ruler(high[2])} up, {_sides(ground, low[1], high[1])}."
    )
    near = [
        other.part
        for other in stands.values()
        if other is not one and bool((np.maximum(low - other.box[1], other.box[0] - high) <= _TOUCH_MM).all())
    ]
    if near:
        text += f" It lies against {ground.all_named(near[:6])}."
    return text


def _sides(ground: Ground, low: float, high: float) -> str:
    ruler = ground.ruler
    if abs(low + high) < 0.5:
        return f"{ruler(high - low)} wide on the middle line"
    side = "right" if low + high > 0 else "left"
    near, far = sorted((abs(low), abs(high))) if low * high >= 0 else (0.0, max(abs(low), abs(high)))
    return f"from {ruler(near)} to {ruler(far)} {side} of the middle line"
