"""What each part meets, where it stands, and what is cut into it; both hands of a pair in one row.

Of a part with a hand everything is said as seen from its own side, so that the other hand reads the same:
"same hand", "to its side", "outwards".  Where the two do not read the same they have a row each.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from foamcut.book.chapters_mates import How, Mate, loose_mates, mates
from foamcut.book.chapters_words import OWN_SIDES, SIDES, listed, out_cell, sizes_words, span_cell, span_head
from foamcut.book.facts import Facts
from foamcut.book.values import Block, Chapter, Grid, Words
from foamcut.draw.foldwords import bevel_words, fold_words
from foamcut.flat.assembled import Standing
from foamcut.flat.drawn import Hand
from foamcut.flat.part import Part

#: which way a drawn face looks, by the axis of the model that it looks along most and its sign
_LOOKS = (("aft", "forward"), ("right", "left"), ("up", "down"))
_HOLDS = {How.SLOT: "holds in slots", How.FITS: "has slots that fit", How.CUTOUT: "holds in a cut-out"}
_AXES = (
    "Along is counted from the nose towards the tail, out from the centre plane, and up from the base line of"
    " the sketch's side view. Right is the right of somebody who looks towards the nose from the tail."
)
_PAIRS = (
    " Both hands of a pair have one row: its side is the right one of a right hand part, the left one of a"
    " left hand part."
)

Row = tuple[str, ...]


def places_chapters(facts: Facts, labels: Mapping[str, str]) -> Iterator[Chapter]:
    """What goes where, where everything stands, what is cut into each part; those of which there is any."""
    tables = Tables(facts=facts, labels=labels)
    yield Chapter(id="parts-mates", heading="What goes where", blocks=tuple(_mates(tables)))
    if facts.standing:
        yield Chapter(id="parts-places", heading="Where each part stands", blocks=tuple(_places(tables)))
    if any(part.slots or part.tabs or part.folds or part.bevels for part in facts.parts):
        yield Chapter(id="parts-work", heading="Slots, folds and bevels", blocks=(_worked(tables),))


@dataclass(frozen=True, kw_only=True, eq=False)
class Tables:
    """Rows for parts, both hands of a pair in one where they read the same."""

    facts: Facts
    labels: Mapping[str, str]

    def rows(self, cells: Mapping[str, Row]) -> tuple[Row, ...]:
        """Number, name and cells of each part that has any (by its name), in the order of the parts."""
        told: set[str] = set()
        found: list[Row] = []
        for part in self.facts.parts:
            row = cells.get(part.name)
            if row is None or part.name in told:
                continue
            other = other_name(part)
            numbers, name = self.labels.get(part.name, ""), part.name
            if other and cells.get(other) == row:
                told.add(other)
                numbers = f"{numbers}; {self.labels.get(other, '')}"
                name = f"{pair_name(part)} (both hands)"
            found.append((numbers, name, *row))
        return tuple(found)


def pair_name(part: Part) -> str:
    """What both hands of a part are called."""
    return part.name.removesuffix(f"-{part.hand.value}")


def other_name(part: Part) -> str:
    """The name of the other hand; empty for a part that is no pair."""
    other = {Hand.RIGHT: Hand.LEFT, Hand.LEFT: Hand.RIGHT}.get(part.hand)
    return f"{pair_name(part)}-{other.value}" if other else ""


def _mates(tables: Tables) -> Iterator[Block]:
    facts = tables.facts
    found = (*mates(facts.standing), *loose_mates(facts.parts))
    without = [part.name for part in facts.parts if part.place is None]
    if without:
        which = (
            "No part has a place"
            if len(without) == len(facts.parts)
            else f"Without a place: {listed(without)}"
        )
        yield Words(
            text=f"{which} on the model in the design. What such a part meets is told by sizes alone:"
            " tabs, and slots of the same length for the same stock."
        )
    by_name = {part.name: part for part in facts.parts}
    cells = {part.name: (_meets(part, found, by_name),) for part in facts.parts}
    yield Grid(
        caption="What each part meets",
        head=("No.", "Part", "Meets"),
        rows=tables.rows(
            {name: (words or "nothing that the design tells",) for name, (words,) in cells.items()}
        ),
    )


def _meets(part: Part, found: Sequence[Mate], parts: Mapping[str, Part]) -> str:
    """All that a part meets, by how it does."""
    said = []
    for how in How:
        several = [one for one in found if one.how is how]
        if how in _HOLDS:
            said.append((how.value, [one.other for one in several if one.one == part.name]))
            said.append((_HOLDS[how], [one.one for one in several if one.other == part.name]))
        else:
            said.append((how.value, _others(part, several)))
    return "; ".join(f"{words} {_names(names, part, parts)}" for words, names in said if names)


def _others(part: Part, several: Sequence[Mate]) -> list[str]:
    """The other one of every two of which it is one."""
    return [one.other if one.one == part.name else one.one for one in several if part.name in one[:2]]


def _names(names: Sequence[str], of: Part, parts: Mapping[str, Part]) -> str:
    """Names in a row; of a part with a hand, its own and the same hand of others are called so."""
    said: dict[str, None] = {}
    for name in names:
        other = parts.get(name)
        if other is None or other.hand is Hand.NONE:
            said[name] = None
        elif name == other_name(of):
            said["its other hand"] = None
        elif other.hand is of.hand:
            said[f"{pair_name(other)} (same hand)"] = None
        elif other_name(other) in names:
            said[f"{pair_name(other)} (both hands)"] = None
        else:
            said[name] = None
    return ", ".join(said)


def _places(tables: Tables) -> Iterator[Block]:
    facts = tables.facts
    hands = any(one.part.hand is not Hand.NONE for one in facts.standing)
    yield Words(text=_AXES + (_PAIRS if hands else ""))
    yield Grid(
        caption="From where to where the board of each part reaches on the model"
        f"{'; in brackets what a ruler reads on the sketch' * (facts.title.sketch_scale != 1)}",
        head=(
            "No.",
            "Part",
            *(span_head(name, facts) for name in ("Along", "Out", "Up")),
            "Drawn face looks",
        ),
        rows=tables.rows({one.part.name: _place(one, facts) for one in facts.standing}),
    )


def _place(stands: Standing, facts: Facts) -> Row:
    """From where to where along, out and up; which way the drawn face looks."""
    (x0, y0, z0), (x1, y1, z1) = np.asarray(stands.box).tolist()
    hand = stands.part.hand
    if hand is Hand.LEFT:
        y0, y1 = -y1, -y0
    sides = SIDES if hand is Hand.NONE else OWN_SIDES
    out = out_cell(y0, y1, facts, sides)
    return span_cell(x0, x1, facts), out, span_cell(z0, z1, facts), _looks(stands.part)


def _looks(part: Part) -> str:
    """Along which axis of the model the drawn face looks most; sideways as seen from its own side."""
    if part.place is None:
        return "-"
    normal = np.round(np.cross(part.place.x, part.place.y), 3)
    axis = int(np.argmax(np.abs(normal)))
    behind = bool(normal[axis] < 0)
    if axis == 1 and part.hand is not Hand.NONE:
        return "inwards" if behind == (part.hand is Hand.RIGHT) else "outwards"
    return _LOOKS[axis][behind]


def _worked(tables: Tables) -> Grid:
    """What is cut into each part besides its outline."""
    facts = tables.facts
    cells = {part.name: (_slots(part, facts), _tabs(part, facts), _folds(part)) for part in facts.parts}
    return Grid(
        caption="Slots with what goes into them (length x width as cut), tabs, folds and bevelled edges",
        head=("No.", "Part", "Slots", "Tabs", "Folds and bevels"),
        rows=tables.rows(
            {name: tuple(cell or "-" for cell in row) for name, row in cells.items() if any(row)}
        ),
    )


def _slots(part: Part, facts: Facts) -> str:
    return _alike(
        [
            f"for {slot.takes}, {sizes_words((slot.length_mm, slot.width_mm), facts.units)}"
            + (", runs out at the edge" if slot.open else "")
            for slot in part.slots
        ]
    )


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
