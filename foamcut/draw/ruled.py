"""Parts that are ruled straight on the board: drawn small, with every corner's distances.

mm on the page; a block's origin is its upper left corner.  The drawing itself is made in `drawnsmall`.
"""

from collections.abc import Mapping, Sequence

from foamcut.draw.dimensions import PITCH_MM, TEXT_MM
from foamcut.draw.drawnsmall import cut_points, drawn_small, gutter_mm, mark_points, turning_place, work_tags
from foamcut.draw.flow import Block, below, beside, paragraph
from foamcut.draw.foldwords import fold_words
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.part import is_far
from foamcut.draw.pieces import Told
from foamcut.draw.values import Title
from foamcut.draw.words import (
    SIZES_GOVERN,
    count_words,
    face_words,
    grain_words,
    overall_words,
    slot_words,
    wrapped,
)
from foamcut.flat.drawn import FoldKind
from foamcut.flat.outline import Point
from foamcut.flat.part import Part
from foamcut.units import decimal_text

#: scales that drawings are reduced by (ISO 5455: 1:2, 1:5, 1:10 and so on)
SCALES = (1, 2, 5, 10, 20, 50, 100)
_NAME_MM = 3.5
#: of a drawing over the whole width and of one in half of it
_LARGEST_HEIGHT_MM, _HALF_HEIGHT_MM = 80.0, 50.0
#: the longest row or column of numbers, mm: what a page has room for
_MOST_NUMBERS_MM = 150.0
#: between two columns, and the longer side of a drawing that is not to be smaller, mm
_COLUMN_GAP_MM = 8.0
_LEAST_DRAWN_MM = 25.0
#: a drawing that half the width would reduce more than this gets all of it: lines of folds lie close together
_MOST_REDUCED, _MOST_REDUCED_FOLDS = 10, 5


def can_be_ruled(part: Part, width_mm: float) -> bool:
    """Whether ruler and pencil do, and a page of this width has room for every distance that is to be cut."""
    room = min(width_mm - gutter_mm(part), _MOST_NUMBERS_MM)
    return part.can_be_ruled and _numbers_mm(cut_points(part)) <= room


def ruled_rows(
    parts: Sequence[tuple[Part, Part | None]],
    title: Title,
    *,
    numbers: Mapping[str, int],
    thicknesses: Mapping[str, float],
    width_mm: float,
    told: Told,
) -> list[tuple[tuple[Part, ...], Block]]:
    """Rows of drawings, two of small parts beside each other, with the parts of each row.

    Each part comes with the one that is its mirror image and left out, if there is such.
    """
    column_mm = (width_mm - _COLUMN_GAP_MM) / 2
    rows: list[tuple[tuple[Part, ...], Block]] = []
    waiting: int | None = None  # the row whose right half is free
    for part, other in parts:
        half = _fits_half(part, numbers[part.name], column_mm)
        block = ruled_block(
            part,
            title,
            numbers=numbers,
            other=other,
            thicknesses=thicknesses,
            told=told,
            width_mm=column_mm if half else width_mm,
            highest_mm=_HALF_HEIGHT_MM if half else _LARGEST_HEIGHT_MM,
        )
        if half and waiting is not None:
            there, left = rows[waiting]
            rows[waiting] = (*there, part), beside((0.0, left), (column_mm + _COLUMN_GAP_MM, block))
            waiting = None
            continue
        waiting = len(rows) if half else waiting
        rows.append(((part,), block))
    return rows


def _fits_half(part: Part, number: int, column_mm: float) -> bool:
    """Whether half the width of a page shows a part large enough, and its name in one line."""
    if text_width_mm(f"{number} {part.name}", _NAME_MM) > column_mm:
        return False
    if _numbers_mm(cut_points(part) + mark_points(part)) > column_mm - gutter_mm(part):
        return False
    longer = max(part.length_mm, part.width_mm)
    scale = _scale(part, column_mm - gutter_mm(part) - 4.0, _HALF_HEIGHT_MM)
    most = _MOST_REDUCED_FOLDS if part.folds or part.bevels else _MOST_REDUCED
    return scale <= most and longer / scale >= min(longer, _LEAST_DRAWN_MM)


def ruled_block(
    part: Part,
    title: Title,
    *,
    numbers: Mapping[str, int],
    other: Part | None,
    thicknesses: Mapping[str, float],
    told: Told,
    width_mm: float,
    highest_mm: float = _LARGEST_HEIGHT_MM,
) -> Block:
    """Name, facts, and the part drawn small with its dimensions in mm and inches.

    `other` is the part that is its mirror image, none when it is not left out; `thicknesses` as in
    `part_lines`.
    """
    gutter = gutter_mm(part)
    scale = _scale(part, width_mm - gutter - 4.0, highest_mm)
    heading = wrapped(f"{numbers[part.name]}  {part.name}", _NAME_MM, width_mm)
    facts = _facts(part, title, scale, thicknesses, told)
    points = cut_points(part) + mark_points(part)
    if _numbers_mm(points) > min(width_mm - gutter, _MOST_NUMBERS_MM):
        points = cut_points(part)
        facts.append("its marks have too many points to rule here: print them with --every-part")
    if other:
        facts.insert(1, f"mirror image for {numbers[other.name]} {other.name}, {count_words(other)}")
    words = paragraph([line for fact in facts for line in wrapped(fact, TEXT_MM, width_mm)])
    return below(paragraph(heading, _NAME_MM), words, drawn_small(part, points, scale, gutter), gap_mm=2.0)


def _scale(part: Part, room_mm: float, highest_mm: float) -> int:
    for scale in SCALES:
        if part.length_mm / scale <= room_mm and part.width_mm / scale <= highest_mm:
            return scale
    return SCALES[-1]


def _turning_words(words: str, part: Part) -> str:
    """Where the paper turns at the folds of these words that are wraps, by the numbers of the drawing."""
    wraps = [fold for fold in part.folds if fold.kind is FoldKind.WRAP and fold_words(fold) == words]
    places = [place for fold in wraps if (place := turning_place(fold, part))]
    return f" ({', '.join(places)})" if places else ""


def _facts(part: Part, title: Title, scale: int, thicknesses: Mapping[str, float], told: Told) -> list[str]:
    board = f"{part.stock} {decimal_text(part.thickness_mm, 2)} mm"
    facts = [
        f"{count_words(part)}, {face_words(part)}, {board}, drawn 1:{scale}",
        "; ".join((*told.of_piece(part), *overall_words(part, title))),
    ]
    facts += [f"{tag}: {words}{_turning_words(words, part)}" for words, tag in work_tags(part).items()]
    if part.worked_behind:
        facts.append("from the back: prick lines near their ends, turn the board over, join the pricks")
    taken = dict.fromkeys(slot_words(slot, part, thicknesses) for slot in part.slots)
    more = [f"slot takes {words}" for words in taken]
    if grain := grain_words(part):
        more.append(grain)
    for mark in part.marks:
        named = ", ".join(dict.fromkeys(text.text for text in mark.drawn().texts))
        if named:
            more.append(f"mark {named}{' on the far face' if is_far(mark, part) else ''}")
    more.append(f"mm (inches) from the corner with the circle; {SIZES_GOVERN}")
    return [*facts, "; ".join(more)]


def _numbers_mm(points: Sequence[Point]) -> float:
    """How long the row or column of numbers is that these points have."""
    return PITCH_MM * max(len({round(p[axis], 2) for p in points}) for axis in (0, 1))
