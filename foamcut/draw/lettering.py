"""The words and arrows on a part, and where they find room.

The part's coordinates, mm.  What must be read is put down in the order of its weight: what goes into
each slot, what a mark is, how a fold or an edge is worked, the label (name, number, hand, count, face,
sizes) with the arrows, the letters of the kinds of line.  What finds no room is kept, to be told elsewhere.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.draw.arrows import Arrow, directions, find_arrow
from foamcut.draw.beside import beside_line, beside_mark, beside_slot, letter_at_end
from foamcut.draw.foldwords import bevel_code, bevel_words, edge_letters, fold_code, fold_words, left_mm
from foamcut.draw.label import (
    LEAST_MM,
    Spot,
    block,
    block_size,
    centred,
    last_spot,
    rectangle,
    short_spots,
    spots,
)
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.panel import home_panel
from foamcut.draw.pricks import is_far
from foamcut.draw.room import FreeRoom
from foamcut.draw.styles import STYLES
from foamcut.draw.values import Line, Stroke, Text, Title
from foamcut.draw.words import slot_words, text_box
from foamcut.flat.clipping import Run
from foamcut.flat.drawn import FoldKind
from foamcut.flat.folds import Fold
from foamcut.flat.outline import Point
from foamcut.flat.part import Part
from foamcut.flat.tolerances import SAME_POINT_MM

#: the letter of a line stands no farther than this from its first corner, mm
_LETTER_FAR_MM = 8.0
_LETTER_CLEARANCE_MM = 0.5
#: so many labels are tried for the sake of the arrows
_TRIALS = 8
#: kept between the label and the arrows beyond the clearance of both, mm
_APART_MM = 1.0


@dataclass(slots=True)
class Lettering:
    """Words and arrows found so far, and what found no room: words, and directions in degrees."""

    strokes: list[Stroke] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    homeless: list[str] = field(default_factory=list)
    lost_arrows: list[tuple[str, float]] = field(default_factory=list)

    def add(self, text: Text, room: FreeRoom) -> None:
        """Put a text down."""
        self.texts.append(text)
        room.take(text_box(text))


def lettering(
    part: Part,
    title: Title,
    number: int,
    obstacles: Sequence[BaseGeometry],
    thicknesses: Mapping[str, float],
    role: str = "",
) -> Lettering:
    """All words and arrows of a part that find room; `obstacles` are the lines already on it.

    `role` says what a piece is of its part, empty for a whole one.
    """
    room = FreeRoom(part.outline.polygon, obstacles)
    found = Lettering()
    for mark in part.marks:
        for mark_text in mark.drawn().texts:
            beside = beside_mark(mark_text, mark, part, room)
            if beside:
                found.add(beside, room)
            elif mark_text.text:
                found.homeless.append(f"mark: {mark_text.text}")
    slots_without: list[str] = []
    for slot in part.slots:
        words = slot_words(slot, part, thicknesses)
        beside = beside_slot(slot, words, room, part.outline.polygon)
        if beside:
            found.add(beside, room)
        else:
            slots_without.append(words)
    slots_without = list(dict.fromkeys(slots_without))
    _worked(part, room, found)
    _label_and_arrows(part, title, number, role, slots_without, room, found)
    _letters(part, room, found)
    # the label tells what goes into the slots, where it says everything
    said = {text.text for text in found.texts}
    found.homeless += [f"slot takes {w}" for w in slots_without if f"slot takes {w}" not in said]
    return found


def _worked(part: Part, room: FreeRoom, found: Lettering) -> None:
    """Words beside every fold and bevelled edge, the letters of its lines where only they have room."""
    for fold in part.folds:
        runs = (*fold.cut_runs(), *fold.fold)
        if not runs:
            continue
        run = _longest(runs)
        there = left_mm(fold, run[0].start)
        low, high = fold.band_mm
        _beside_work(fold_words(fold), fold_code(fold), run, (low - there, high - there), room, found)
        if fold.kind in (FoldKind.WRAP, FoldKind.STRIP) and fold.fold:
            _letters_of_ticks(fold, room, found)
    for bevel in part.bevels:
        if bevel.runs:
            run = _longest(bevel.runs)
            _beside_work(bevel_words(bevel), bevel_code(bevel), run, (0.0, 0.0), room, found)


def _letters_of_ticks(fold: Fold, room: FreeRoom, found: Lettering) -> None:
    """The letter of each edge at which the paper turns, outside the strip: ticks on a cut are hard to see."""
    axes = (fold.axis_mm,) if fold.far_axis_mm is None else (fold.axis_mm, fold.far_axis_mm)
    for axis, words in zip(axes, edge_letters(fold), strict=True):
        runs = [run for run in fold.fold if abs(left_mm(fold, run[0].start) - axis) <= SAME_POINT_MM]
        side = 1 if axis >= fold.band_mm[1] else -1
        letter = letter_at_end(words, _longest(runs), side, room) if runs else None
        if letter:
            found.add(letter, room)


def _beside_work(
    words: str, code: str, run: Run, off_mm: tuple[float, float], room: FreeRoom, found: Lettering
) -> None:
    for said in (words, code):
        beside = beside_line(said, run, off_mm, room)
        if beside:
            found.add(beside, room)
            break
    if beside is None or said != words:
        found.homeless.append(f"{code}: {words}")


def _longest(runs: Sequence[Run]) -> Run:
    return max(runs, key=lambda run: round(math.dist(run[0].start, run[-1].end) * 1e6))


def _label_and_arrows(
    part: Part,
    title: Title,
    number: int,
    role: str,
    slots_without: Sequence[str],
    room: FreeRoom,
    found: Lettering,
) -> None:
    """The largest full label that leaves room for the arrows; the largest of all, when none does."""
    wanted = directions(part)
    home, ground = home_panel(part), room.copy()
    if part.folds:
        ground.take(part.outline.polygon.difference(home))
    best: tuple[Spot, list[Arrow | None]] | None = None
    full = spots(part, title, number, slots_without, room, role=role)
    for labels in (full, short_spots(part, number, room)):
        for spot in islice(labels, _TRIALS if wanted else 1):
            arrows = _arrows(spot, part, home, ground)
            if best is None or _count(arrows) > _count(best[1]):
                best = spot, arrows
            if _count(arrows) == len(wanted):
                break
        if best:
            break
    if best is None:
        spot = last_spot(part, number, room)
        best = spot, _arrows(spot, part, home, ground)
    spot, arrows = best
    found.texts += block(*spot)
    room.take(_taken(spot))
    for (word, turn), each in zip(wanted, arrows, strict=True):
        if each is None:
            found.lost_arrows.append((word, turn))
        else:
            found.strokes += each.strokes
            found.texts.append(each.text)
            room.take(each.box)


def _count(arrows: Sequence[Arrow | None]) -> int:
    return sum(each is not None for each in arrows)


def _taken(spot: Spot) -> Polygon:
    lines, centre, turn = spot
    return rectangle(centre, turn, *block_size(lines)).buffer(_APART_MM, join_style="mitre")


def _arrows(spot: Spot, part: Part, home: Polygon, ground: FreeRoom) -> list[Arrow | None]:
    """The arrows that find room, on the panel that they hold for, when the label lies where it is to be."""
    wanted = directions(part)
    if not wanted:
        return []
    trial = ground.copy()
    trial.take(_taken(spot))
    arrows: list[Arrow | None] = []
    for word, turn in wanted:
        each = find_arrow(word, turn, home, trial)
        arrows.append(each)
        if each:
            trial.take(each.box.buffer(_APART_MM, join_style="mitre"))
    return arrows


def _letters(part: Part, room: FreeRoom, found: Lettering) -> None:
    """The letters of openings, in the waste where there is room, and of marks of the far face."""
    every: list[Polygon] = []
    for ring in part.outline.polygon.interiors:
        corner = ring.coords[0]
        hole = Polygon(ring)
        every += map(text_box, found.texts[len(every) :])
        waste = FreeRoom(hole, [box for box in every if box.intersects(hole)])
        for there in (waste, room):
            if _letter(Line.OPENING, (corner[0], corner[1]), there, found):
                break
    for mark in part.marks:
        pricks = mark.drawn().prick_points
        if pricks and is_far(mark, part):
            _letter(Line.MARK_BACK, pricks[0], room, found)


def _letter(line: Line, corner: Point, room: FreeRoom, found: Lettering) -> bool:
    letter = STYLES[line].letter
    size = text_width_mm(letter, LEAST_MM), LEAST_MM
    centre = room.place(*size, 0.0, corner, _LETTER_CLEARANCE_MM)
    if centre is None or math.dist(centre, corner) > _LETTER_FAR_MM:
        return False
    found.add(centred(letter, LEAST_MM, centre, 0.0), room)
    return True
