"""Every part: what it is cut from, how many, which face lies up, how large, on which sheet."""

from collections.abc import Iterator, Mapping

from foamcut.book.chapters_places import places_chapters
from foamcut.book.chapters_words import (
    listed,
    part_labels,
    sheets_of,
    sheets_words,
    sizes_cell,
    sizes_words,
    thickness_words,
    thicknesses,
)
from foamcut.book.facts import Facts
from foamcut.book.values import Block, Chapter, Grid, Words
from foamcut.draw.part_picture import part_picture
from foamcut.draw.pieces import GLUING, Told, piece_roles
from foamcut.draw.words import grain_words
from foamcut.flat.drawn import Hand
from foamcut.flat.way import Piece, Role

#: room for the picture of a part, mm
_PICTURE_MM = (28.0, 16.0)


def parts_chapter(facts: Facts) -> Chapter:
    """The table of all parts; within it what meets what, places, what is worked, pieces of those joined."""
    labels = part_labels(facts)
    within = [*places_chapters(facts, labels)]
    if any(cut.piece.role is not Role.WHOLE for cut in facts.cuts):
        within.append(Chapter(id="parts-pieces", heading="Parts cut in pieces", blocks=tuple(_pieces(facts))))
    return Chapter(
        id="parts", heading="Every part", blocks=(_stocks(facts), _parts(facts, labels)), within=tuple(within)
    )


def _stocks(facts: Facts) -> Words:
    deep = [
        f"{name} {thickness_words(thickness, facts.units)}" for name, thickness in thicknesses(facts).items()
    ]
    return Words(
        text=f"Measured thickness: {listed(deep)}. The number of a part stands on it, on the templates and on"
        " the sheets; one that is cut in pieces has those of its pieces. Sizes are over all, longer first."
        " Sheets of each kind are counted from 1."
    )


def _parts(facts: Facts, labels: Mapping[str, str]) -> Grid:
    sheets = sheets_of(facts.layouts)
    lying: dict[str, list[tuple[str, int]]] = {}
    for cut in facts.cuts:
        lying.setdefault(cut.piece.part.name, []).extend(sheets.get(cut.piece.flat.name, ()))
    rows = tuple(
        (
            labels.get(part.name, ""),
            part.name,
            part.stock,
            str(part.count),
            "-" if part.hand is Hand.NONE else part.hand.value,
            "; ".join(filter(None, (part.face.value, grain_words(part)))),
            sizes_cell(sorted((part.length_mm, part.width_mm), reverse=True), facts.units),
            sheets_words(lying.get(part.name, ()), part.stock),
        )
        for part in facts.parts
    )
    return Grid(
        caption="All parts in the order of their numbers",
        head=(
            "No.",
            "Part",
            "Cut from",
            "Count",
            "Hand",
            "Face up",
            f"Size, {'in (mm)' if facts.units == 'in' else 'mm'}",
            "Sheet",
        ),
        rows=rows,
        pictures=tuple(
            part_picture(part, _first_number(part.name, facts), _PICTURE_MM) for part in facts.parts
        ),
    )


def _first_number(name: str, facts: Facts) -> int:
    """The number of a part, of one in pieces that of the first of them."""
    several = (facts.numbers.get(cut.piece.flat.name) for cut in facts.cuts if cut.piece.part.name == name)
    return min((number for number in several if number is not None), default=0)


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
                sheets_words(sheets.get(cut.piece.flat.name, ())),
            )
            for cut in facts.cuts
            if cut.piece.role is not Role.WHOLE
        ),
    )
    for sentence in (*Told.of(several, facts.joints).joints, *GLUING):
        yield Words(text=sentence)
