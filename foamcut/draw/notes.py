"""The notes to the right of a sheet: what it is, its lines, its parts, cautions, a bar to measure.

What they say depends on what the drawing is for: a printed page, a machine's file of the sheet, of its
turned-over face, or of a rectangle that is knifed off for the machine's bed.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from foamcut.draw.columns import BAR, Block, columns, lines, paragraphs
from foamcut.draw.foldwords import bevel_words, fold_words
from foamcut.draw.furniture import cautions
from foamcut.draw.kerf import TRUE_EDGES, kerf_words, openings_lost
from foamcut.draw.part import LeftOut, left_out
from foamcut.draw.pieces import GLUING, Told, measuring_words
from foamcut.draw.styles import STYLES
from foamcut.draw.values import LAYERS, Line, Stroke, Text, Title
from foamcut.draw.words import (
    count_words,
    face_words,
    grain_words,
    revision_words,
    sizes_words,
)
from foamcut.flat.joint import Joint, Piece, Role
from foamcut.flat.outline import Point
from foamcut.flat.part import Part
from foamcut.nest.values import Bed, Kind, Layout, Placed, Sheet
from foamcut.units import decimal_text, inch_text

_KIND_WORDS = {
    Kind.OFFCUT: "offcut from the shelf",
    Kind.ON_HAND: "sheet from the shelf",
    Kind.NEW: "new sheet",
}
#: about the upright middle line: two register holes would fit as well after a turn about the level one
TURN_OVER = "turn the board over like the page of a book, its lower edge stays below"
#: what comes after the other face where rectangles are knifed off for the machine
RECTANGLES_LATER = "3 knife the rectangles off; 4 the machine cuts each from its -bed file"
NO_JOINTS: Mapping[str, tuple[Joint, ...]] = {}


@dataclass(frozen=True, kw_only=True)
class Facts:
    """All that the notes of a sheet are made from."""

    sheet: Sheet
    layout: Layout
    title: Title
    numbers: Mapping[str, int]
    thicknesses: Mapping[str, float]
    joints: Mapping[str, tuple[Joint, ...]]
    machine: bool = False
    bed: Bed | None = None  # the drawing shows this rectangle alone

    @cached_property
    def told(self) -> Told:
        """What is told of the sections and doublers among all pieces of the stock."""
        return Told.of(self._pieces(), self.joints)

    @property
    def worked_behind(self) -> bool:
        """Whether the other face of the board is cut, also where this rectangle's pieces are not."""
        whole = [sheet for sheet in self.layout.sheets if sheet.number == self.sheet.number]
        return any(sheet.worked_behind for sheet in (self.sheet, *whole))

    def _pieces(self) -> list[Piece]:
        return [placed.piece for sheet in self.layout.sheets for placed in sheet.placed]

    def joint_rows(self) -> tuple[str, ...]:
        """For each part that is joined and lies here in pieces, its lengths over the assembled joints."""
        pieces = [placed.piece for placed in self.sheet.placed if placed.piece.role is not Role.WHOLE]
        here = dict.fromkeys(piece.part.name for piece in pieces)
        told = Told.of([piece for piece in self._pieces() if piece.part.name in here], self.joints)
        if told.joints:
            return (*told.joints, *GLUING)
        # doublers of a stock that their sections are not cut from
        joined = [name for name in here if self.joints.get(name)]
        places = {piece.part.name: piece.part.place for piece in pieces}
        rows = [f"{name}: {measuring_words(self.joints[name], places[name])}" for name in joined]
        return (*rows, *GLUING) if rows else ()


def sheet_notes(
    facts: Facts, *, used: frozenset[Line], hidden: Mapping[str, Sequence[str]]
) -> tuple[tuple[Stroke, ...], tuple[Text, ...]]:
    """Strokes and texts of the notes.

    Parameters
    ----------
    used
        The kinds of line on the sheet, for the legend.
    hidden
        By a piece's id, words that could not stay on the sheet because another piece lies there.
    """
    sheet, title = facts.sheet, facts.title
    blocks = [
        *paragraphs(_title_rows(facts), gap=False),
        *paragraphs(facts.joint_rows()),
        *paragraphs(_bed_rows(facts)),
        *paragraphs(_legend_rows(used | {Line.NOTES})),
        *_parts(facts, hidden),
        *paragraphs(cautions(title.tool, machine=facts.machine)),
        BAR,
    ]
    return columns(blocks, sheet.width_mm, sheet.height_mm)


def heading_rows(facts: Facts) -> list[str]:
    """The plan, which sheet of it, and what board."""
    title, stock, sheet = facts.title, facts.layout.stock, facts.sheet
    rows = [title.title] if title.title else []
    thick = f"{decimal_text(stock.thickness_mm, 2)} mm"
    if title.sketch_unit == "in":
        thick += f" ({inch_text(stock.thickness_mm)} in)"
    return [
        *rows,
        revision_words(title),
        f"sheet {sheet.number} of {len(facts.layout.sheets)} of {stock.name}, {_KIND_WORDS[sheet.kind]}",
        f"{stock.material}, measured thickness {thick}",
    ]


def size_words(width_mm: float, height_mm: float) -> str:
    """A size in mm and inches."""
    size = f"{decimal_text(width_mm)} x {decimal_text(height_mm)} mm"
    return f"{size} ({inch_text(width_mm)} x {inch_text(height_mm)} in)"


def _title_rows(facts: Facts) -> list[str]:
    sheet, stock = facts.sheet, facts.layout.stock
    size = size_words(sheet.width_mm, sheet.height_mm)
    rows = heading_rows(facts)
    behind = facts.worked_behind
    if facts.bed:
        at = place_words(facts.bed.corner)
        rows.append(f"rectangle {facts.bed.number} for the machine's bed: its lower left corner lies at {at}")
        first = "once the other face is cut" if behind else "first"
        rows.append(f"knife it off the sheet {first}; lay that corner where the machine counts from")
    rows.append(f"size {size}, pieces on it: {len(sheet.placed)}")
    if sheet.left and not facts.bed:
        kept = size_words(sheet.left.width_mm, sheet.left.height_mm)
        rows.append(f"left in one piece: {kept}, lower left corner at {place_words(sheet.left.corner)}")
    if facts.machine:
        rows += [f"scale 1:1, all numbers mm; {kerf_words(p.piece.flat for p in sheet.placed)}"]
        rows += _lost_rows(facts)
    else:
        rows.append(f"scale 1:1, all numbers mm; {TRUE_EDGES}")
    if behind:
        rows += _other_face_rows(facts)
    widest = max((placed.piece.flat.kerf_mm for placed in sheet.placed), default=0.0)
    if facts.machine and stock.gap_mm < widest:
        rows.append("pieces lie closer together than the kerf is wide: neighbours lose by each other's cuts")
    elif stock.gap_mm == 0 or stock.margin_mm == 0:
        rows.append("where two outlines lie on each other: one cut, two edges")
    return rows


def _lost_rows(facts: Facts) -> list[str]:
    lost = [placed.piece.flat.name for placed in facts.sheet.placed if openings_lost(placed)]
    if not lost:
        return []
    return [f"an opening is no wider than the kerf and not drawn, cut it by hand: {', '.join(_once(lost))}"]


def _other_face_rows(facts: Facts) -> list[str]:
    """That the other face is cut, too, and how one comes to it."""
    if facts.bed:
        return [
            "the other face is cut, too: by hand and before this, while the board is whole, as the sheet's "
            "-back file shows"
        ]
    if not facts.machine:
        return ["lines whose letters end in B are cut on the other face, seen here through the board"]
    if facts.sheet.beds:
        by_hand = by_hand_words(facts.sheet.register)
        return [f"the other face is cut, too, in this order: 1 {by_hand}, 2 {TURN_OVER}; {RECTANGLES_LATER}"]
    holes = register_words(facts.sheet.register)
    pins = f"pin it by {holes}" if facts.sheet.register else holes
    return [
        "the other face is cut, too, from the file whose name ends in -back: do that one first, while the "
        f"board is whole; then {TURN_OVER}, and {pins}"
    ]


def by_hand_words(register: Sequence[Point], *, here: bool = False) -> str:
    """What is done on the other face of a board whose rectangles are knifed off for the machine.

    The holes lie off the rectangles: they serve to lay on the printed drawing, no machine.  `here`: it is
    said in the drawing of that face.
    """
    words = f"by hand, cut {'this face as drawn here' if here else 'that face as the -back file shows'}"
    words += ", while the board is whole"
    return f"{words} (printed 1:1, it lies right by {register_words(register)})" if register else words


def register_words(register: Sequence[Point]) -> str:
    """Where the register holes are; what to do without any."""
    if not register:
        return "there was no room for register holes: turn over, lay the board to the same corner"
    return f"the two register holes at {' and '.join(place_words(at) for at in register)}"


def place_words(at: Point) -> str:
    """A place on the sheet, from its lower left corner."""
    return f"{decimal_text(at[0], 2)}, {decimal_text(at[1], 2)} mm"


def _bed_rows(facts: Facts) -> list[str]:
    """The rectangles for the machine's bed, and what is cut by hand."""
    sheet = facts.sheet
    if facts.bed or not sheet.beds:
        return []
    first = "once the other face is cut" if sheet.worked_behind else "first"
    rows = [f"rectangles for the machine's bed, to be knifed off {first}: {len(sheet.beds)}"]
    for bed in sheet.beds:
        size = f"{decimal_text(bed.width_mm, 2)} x {decimal_text(bed.height_mm, 2)} mm"
        rows.append(f"bed {bed.number}: {size}, lower left corner at {place_words(bed.corner)}")
    laid = {piece for bed in sheet.beds for piece in bed.pieces}
    by_hand = [_named(placed, facts) for placed in sheet.placed if placed.id not in laid]
    if by_hand:
        rows.append(f"by hand, in no rectangle: {', '.join(_once(by_hand))}")
    return rows


def _named(placed: Placed, facts: Facts) -> str:
    return f"{facts.numbers[placed.piece.flat.name]} {placed.piece.flat.name}"


def _once(words: Iterable[str]) -> list[str]:
    """Each once, and how often if oftener."""
    found = list(words)
    return [f"{w} ({found.count(w)} times)" if found.count(w) > 1 else w for w in dict.fromkeys(found)]


def _legend_rows(used: frozenset[Line]) -> list[str]:
    return [f"{STYLES[line].letter}  {line.value}: {STYLES[line].words}" for line in LAYERS if line in used]


def _parts(facts: Facts, hidden: Mapping[str, Sequence[str]]) -> list[Block]:
    """The list of the parts on the sheet, with all that may have found no room on them."""
    numbers, told = facts.numbers, facts.told
    by_part: dict[str, list[Placed]] = {}
    for placed in facts.sheet.placed:
        by_part.setdefault(placed.piece.flat.name, []).append(placed)
    blocks: list[Block] = []
    for name in sorted(by_part, key=lambda name: numbers[name]):
        pieces = by_part[name]
        part = pieces[0].piece.flat
        lost = left_out(
            part,
            facts.title,
            number=numbers[name],
            thicknesses=facts.thicknesses,
            role=told.role(part),
        )
        words = dict.fromkeys((*lost.words, *(w for piece in pieces for w in hidden.get(piece.id, ()))))
        first, *more = _part_rows(part, facts, len(pieces))
        rows = [first, *told.of_piece(part), *more]
        if facts.machine and part.worked_behind:
            rows.append(f"cut on the other face, see the -back file: {'; '.join(_behind(part))}")
        if words:
            rows.append("; ".join(words))
        rows += _ways(lost, pieces)
        heading = () if blocks else ((0.0, "parts on this sheet:"),)
        blocks.append(Block(rows=(*heading, *lines(rows)), gap=not blocks))
    return blocks


def _behind(part: Part) -> list[str]:
    """What is cut on the face that lies down, in the words that stand on the part."""
    folds = [fold_words(fold) for fold in part.folds if fold.cut_behind]
    bevels = [bevel_words(bevel) for bevel in part.bevels if bevel.cut_behind and bevel.runs]
    return _once([*folds, *bevels])


def _part_rows(part: Part, facts: Facts, here: int) -> list[str]:
    number = facts.numbers[part.name]
    count = count_words(part) if here == part.count else f"{count_words(part)} ({here} on this sheet)"
    sizes = sizes_words(part, facts.title, sketch=not facts.told.role(part))
    if grain := grain_words(part):
        sizes = f"{sizes}, {grain}"
    return [f"{number}  {part.name}, {count}, {face_words(part)}", sizes]


def _ways(lost: LeftOut, pieces: Sequence[Placed]) -> list[str]:
    """Where FRONT and UP are when no arrow found room: once, or for each piece when they lie unlike."""
    told = [
        ", ".join(lost.ways(piece.placement.turn_deg, flipped=piece.placement.flipped)) for piece in pieces
    ]
    if not lost.arrows:
        return []
    if len(set(told)) == 1:
        return told[:1]
    rows = []
    for piece, ways in zip(pieces, told, strict=True):
        middle = piece.outline.polygon.centroid
        rows.append(f"the one at {decimal_text(middle.x, 0)}, {decimal_text(middle.y, 0)}: {ways}")
    return rows
