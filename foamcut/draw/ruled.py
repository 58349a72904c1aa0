"""Parts that are ruled straight on the board: drawn small, with every corner's distances.

mm on the page; a block's origin is its upper left corner.  The drawing itself is made in `drawnsmall`.
"""

from collections.abc import Mapping, Sequence

from foamcut.draw.dimensions import PITCH_MM, TEXT_MM
from foamcut.draw.drawnsmall import (
    cut_points,
    drawn_small,
    gutter_mm,
    mark_points,
    mark_tags,
    turning_places,
    work_tags,
)
from foamcut.draw.flow import Block, below, beside, paragraph
from foamcut.draw.foldwords import fold_words
from foamcut.draw.metrics import text_width_mm
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
_LARGEST_HEIGHT_MM, _HALF_HEIGHT_MM = 120.0, 50.0
#: the longest row or column of numbers, mm: what a page has room for
_MOST_NUMBERS_MM = 150.0
#: between two columns, mm
_COLUMN_GAP_MM = 8.0
#: a drawing that half the width would reduce more than this gets all of it, where that makes it larger
_MOST_REDUCED = 2


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
    height_mm: float,
    told: Told,
) -> list[tuple[tuple[Part, ...], Block]]:
    """Rows of drawings, two of small parts beside each other, with the parts of each row.

    No row is higher than `height_mm`.  Each part comes with the one that is its mirror image and left out,
    if there is such.
    """
    column_mm = (width_mm - _COLUMN_GAP_MM) / 2
    rows: list[tuple[tuple[Part, ...], Block]] = []
    waiting: int | None = None  # the row whose right half is free
    for part, other in parts:
        half = _fits_half(part, numbers[part.name], column_mm, width_mm)
        block = ruled_block(
            part,
            title,
            numbers=numbers,
            other=other,
            thicknesses=thicknesses,
            told=told,
            width_mm=column_mm if half else width_mm,
            room_mm=height_mm,
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


def _fits_half(part: Part, number: int, column_mm: float, width_mm: float) -> bool:
    """Whether half the width of a page shows a part as large as all of it or 1:2, its name in one line."""
    if text_width_mm(f"{number} {part.name}", _NAME_MM) > column_mm:
        return False
    if _numbers_mm(cut_points(part) + mark_points(part)) > column_mm - gutter_mm(part):
        return False
    half = _scales(part, column_mm, _HALF_HEIGHT_MM)[0]
    return half <= max(_MOST_REDUCED, _scales(part, width_mm, _LARGEST_HEIGHT_MM)[0])


def ruled_block(
    part: Part,
    title: Title,
    *,
    numbers: Mapping[str, int],
    other: Part | None,
    thicknesses: Mapping[str, float],
    told: Told,
    width_mm: float,
    room_mm: float,
    highest_mm: float = _LARGEST_HEIGHT_MM,
) -> Block:
    """Name, facts, and the part drawn small with its dimensions in mm and inches.

    It is drawn as large as the width and the height of `room_mm` allow, and no higher than `highest_mm`.
    `other` is the part that is its mirror image, none when it is not left out; `thicknesses` as in
    `part_lines`.
    """
    gutter = gutter_mm(part)
    heading = wrapped(f"{numbers[part.name]}  {part.name}", _NAME_MM, width_mm)
    facts = _facts(part, title, thicknesses, told)
    points = cut_points(part) + mark_points(part)
    if _numbers_mm(points) > min(width_mm - gutter, _MOST_NUMBERS_MM):
        points = cut_points(part)
        facts.append("its marks have too many points to rule here: print them with --every-part")
    if other:
        facts.insert(1, f"mirror image for {numbers[other.name]} {other.name}, {count_words(other)}")
    for scale in _scales(part, width_mm, highest_mm):
        told_all = [f"{facts[0]}, drawn 1:{scale}", *facts[1:]]
        words = paragraph([line for fact in told_all for line in wrapped(fact, TEXT_MM, width_mm)])
        drawing = drawn_small(part, points, scale, gutter)
        block = below(paragraph(heading, _NAME_MM), words, drawing, gap_mm=2.0)
        if block.height_mm <= room_mm:
            break
    return block


def _scales(part: Part, width_mm: float, highest_mm: float) -> tuple[int, ...]:
    """The scales at which a drawing and the numbers at its left have room, the largest first."""
    across = width_mm - gutter_mm(part) - 4.0
    fit = (s for s in SCALES if part.length_mm / s <= across and part.width_mm / s <= highest_mm)
    return tuple(fit) or SCALES[-1:]


def _turning_words(words: str, part: Part) -> str:
    """Where the paper turns at the wraps and strips of these words, by the numbers of the drawing."""
    lifted = (fold for fold in part.folds if fold.kind in (FoldKind.WRAP, FoldKind.STRIP))
    places = [place for fold in lifted if fold_words(fold) == words for place in turning_places(fold, part)]
    return f" ({', '.join(places)})" if places else ""


def _facts(part: Part, title: Title, thicknesses: Mapping[str, float], told: Told) -> list[str]:
    board = f"{part.stock} {decimal_text(part.thickness_mm, 2)} mm"
    facts = [
        f"{count_words(part)}, {face_words(part)}, {board}",
        "; ".join((*told.of_piece(part), *overall_words(part, title, sketch=not told.role(part)))),
    ]
    facts += [f"{tag}: {words}{_turning_words(words, part)}" for words, tag in work_tags(part).items()]
    if part.worked_behind:
        facts.append("from the back: prick lines near their ends, turn the board over, join the pricks")
    taken = dict.fromkeys(slot_words(slot, part, thicknesses) for slot in part.slots)
    more = [f"slot takes {words}" for words in taken]
    if grain := grain_words(part):
        more.append(grain)
    if marks := mark_tags(part):
        more.append(f"marks: {', '.join(f'{tag} {words}' for words, tag in marks.items())}")
    more.append(f"mm (inches) from the corner with the circle; {SIZES_GOVERN}")
    return [*facts, "; ".join(more)]


def _numbers_mm(points: Sequence[Point]) -> float:
    """How long the row or column of numbers is that these points have."""
    return PITCH_MM * max(len({round(p[axis], 2) for p in points}) for axis in (0, 1))
