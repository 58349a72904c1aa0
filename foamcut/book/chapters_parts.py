"""Every part: what it is cut from, how many, which face lies up, how large, what it meets, its place."""

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from foamcut.book.chapters_mates import How, Mate, crossing, fitting, mates
from foamcut.book.chapters_words import (
    names_words,
    out_words,
    part_labels,
    sheets_of,
    sizes_words,
    span_words,
    thickness_words,
    thicknesses,
)
from foamcut.book.facts import Facts
from foamcut.book.values import Block, Chapter, Grid, Words
from foamcut.draw.foldwords import bevel_words, fold_words
from foamcut.draw.pieces import GLUING, Told, piece_roles
from foamcut.draw.words import count_words, face_words, grain_words
from foamcut.flat.assembled import Standing
from foamcut.flat.part import Part
from foamcut.flat.way import Piece, Role

#: which way a drawn face looks, by the axis of the model that it looks along most and its sign
_LOOKS = (("aft", "forward"), ("right", "left"), ("up", "down"))
_STAND_IN = {How.SLOT: "holds in slots", How.CUTOUT: "holds in a cut-out", How.FACE: "lies against"}


def parts_chapter(facts: Facts) -> Chapter:
    """Tables of all parts, of the pieces of those that are joined, of what meets what, of places."""
    labels = part_labels(facts)
    within = [
        Chapter(id="parts-mates", heading="What goes where", blocks=tuple(_mates_blocks(facts, labels))),
    ]
    if any(part.slots or part.tabs or part.folds or part.bevels for part in facts.parts):
        within.append(
            Chapter(id="parts-work", heading="Slots, folds and bevels", blocks=(_worked(facts, labels),))
        )
    if any(cut.piece.role is not Role.WHOLE for cut in facts.cuts):
        within.append(Chapter(id="parts-pieces", heading="Parts cut in pieces", blocks=tuple(_pieces(facts))))
    return Chapter(id="parts", heading="Every part", blocks=(_parts(facts, labels),), within=tuple(within))


def _parts(facts: Facts, labels: Mapping[str, str]) -> Grid:
    deep = thicknesses(facts)
    sheets = sheets_of(facts.layouts)
    lying: dict[str, list[str]] = {}
    for cut in facts.cuts:
        lying.setdefault(cut.piece.part.name, []).append(sheets.get(cut.piece.flat.name, ""))
    rows = tuple(
        (
            labels.get(part.name, ""),
            part.name,
            f"{part.stock}, {thickness_words(deep[part.stock], facts.units)}",
            count_words(part),
            "; ".join(filter(None, (face_words(part), grain_words(part)))),
            sizes_words(sorted((part.length_mm, part.width_mm), reverse=True), facts.units),
            ", ".join(dict.fromkeys(filter(None, lying.get(part.name, ())))),
        )
        for part in facts.parts
    )
    return Grid(
        caption="All parts in the order of their numbers, which stand on them; length x width over all",
        head=("No.", "Part", "Cut from", "How many", "Face", "Length x width", "On sheet"),
        rows=rows,
    )


def _mates_blocks(facts: Facts, labels: Mapping[str, str]) -> Iterator[Block]:
    found = (*mates(facts.standing), *fitting(facts.parts))
    crossed = crossing(facts.parts)
    placed = {one.part.name for one in facts.standing}
    if facts.standing:
        yield Words(text=_AXES + (_DATUM if facts.inputs.bodies else ""))
    if len(placed) < len(facts.parts):
        some = "Some parts have" if placed else "No part has"
        yield Words(
            text=f"{some} a place of its own in the design. What such a part meets is told"
            " by its sizes alone:"
            " tabs, and slots of the same length for the same stock."
        )
    by_name = {part.name: part for part in facts.parts}
    stands = {one.part.name: one for one in facts.standing}
    yield Grid(
        caption="What each part meets, and where it stands: from where to where its board reaches",
        head=("No.", "Part", "Meets", "Along", "Out", "Up", "Drawn face looks"),
        rows=tuple(
            (
                labels.get(part.name, ""),
                part.name,
                _meets(part, found, crossed, by_name) or "nothing that is cut",
                *_place(stands.get(part.name), facts),
            )
            for part in facts.parts
        ),
    )


_AXES = (
    "Along is counted from the nose to the tail, out from the centre plane to the right and to"
    " the left as the"
    " pilot would sit, and up from the base line of the sketch's side view."
)
_DATUM = " The nose is where the side view of the body begins."


def _meets(part: Part, found: Sequence[Mate], crossed: Sequence[Mate], parts: Mapping[str, Part]) -> str:
    """All that a part meets, by how it does."""
    said = []
    for how in How:
        if how is not How.FACE:
            others = [mate.other for mate in found if mate.one == part.name and mate.how is how]
            said.append((how.value, others))
            others = [mate.one for mate in found if mate.other == part.name and mate.how is how]
            said.append((_STAND_IN[how], others))
    said.append((How.FACE.value, _others(part, [mate for mate in found if mate.how is How.FACE])))
    said.append(("is slid crosswise over", _others(part, crossed)))
    return "; ".join(f"{words} {names_words(names, parts)}" for words, names in said if names)


def _others(part: Part, several: Sequence[Mate]) -> list[str]:
    """The other one of every two of which it is one."""
    return [mate.other if mate.one == part.name else mate.one for mate in several if part.name in mate[:2]]


def _place(stands: Standing | None, facts: Facts) -> tuple[str, str, str, str]:
    """From where to where along, out and up; which way the drawn face looks."""
    if stands is None:
        return "-", "-", "-", "-"
    (x0, y0, z0), (x1, y1, z1) = np.asarray(stands.box).tolist()
    return (
        span_words(x0, x1, facts),
        out_words(y0, y1, facts),
        span_words(z0, z1, facts),
        _looks(stands.part),
    )


def _looks(part: Part) -> str:
    if part.place is None:
        return "-"
    normal = np.round(np.cross(part.place.x, part.place.y), 3)
    axis = int(np.argmax(np.abs(normal)))
    return _LOOKS[axis][int(normal[axis] < 0)]


def _worked(facts: Facts, labels: Mapping[str, str]) -> Grid:
    """What is cut into each part besides its outline."""
    rows = []
    for part in facts.parts:
        cells = (_slots(part, facts), _tabs(part, facts), _folds(part))
        if any(cells):
            rows.append((labels.get(part.name, ""), part.name, *(cell or "-" for cell in cells)))
    return Grid(
        caption="Slots with what goes into them (length x width as cut), tabs, folds and bevelled edges",
        head=("No.", "Part", "Slots", "Tabs", "Folds and bevels"),
        rows=tuple(rows),
    )


def _slots(part: Part, facts: Facts) -> str:
    said = [
        f"for {slot.takes}, {sizes_words((slot.length_mm, slot.width_mm), facts.units)}"
        + (", runs out at the edge" if slot.open else "")
        for slot in part.slots
    ]
    return _alike(said)


def _tabs(part: Part, facts: Facts) -> str:
    return _alike(
        [f"into {tab.into}, {sizes_words((tab.length_mm,), facts.units)} long" for tab in part.tabs]
    )


def _folds(part: Part) -> str:
    return _alike([*map(fold_words, part.folds), *map(bevel_words, part.bevels)])


def _alike(said: Sequence[str]) -> str:
    """Words in a row; those that come several times once, with how often."""
    counts = {words: said.count(words) for words in said}
    return "; ".join(words if n == 1 else f"{n} x {words}" for words, n in counts.items())


def _pieces(facts: Facts) -> Iterator[Block]:
    several: list[Piece] = [cut.piece for cut in facts.cuts]
    roles, sheets = piece_roles(several), sheets_of(facts.layouts)
    yield Grid(
        caption="Sections and doublers of the parts that are longer than a board",
        head=("No.", "Piece", "What it is", "Cut from", "How many", "Length x width", "On sheet"),
        rows=tuple(
            (
                str(facts.numbers.get(cut.piece.flat.name, "")),
                cut.piece.flat.name,
                roles[cut.piece.flat.name],
                cut.piece.flat.stock,
                f"cut {cut.count}",
                sizes_words(
                    sorted((cut.piece.flat.length_mm, cut.piece.flat.width_mm), reverse=True), facts.units
                ),
                sheets.get(cut.piece.flat.name, ""),
            )
            for cut in facts.cuts
            if cut.piece.role is not Role.WHOLE
        ),
    )
    for sentence in (*Told.of(several, facts.joints).joints, *GLUING):
        yield Words(text=sentence)
