"""The doublers of a part for given joint lines, and why lines will not do.

The part's coordinates, mm.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from foamcut.errors import Refusal
from foamcut.flat.doublers import Line, Patch, curves, divided, joined_ranges, patches, room_for_doublers
from foamcut.flat.drawn import Doubling
from foamcut.flat.fitting import Fitting, millimetres
from foamcut.flat.joint_lines import Lines
from foamcut.flat.joint_reach import LEAST_COVERED, LEAST_REACH, marks_beside, reach_mm
from foamcut.flat.joint_refusals import doubler_too_large, falls_off, reaches_too_little, too_little_covered
from foamcut.flat.obstacles import clear_marks
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.sections import section_outlines
from foamcut.flat.stock import Stock
from foamcut.flat.tolerances import CHORD_MM, SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class Doubled:
    """Lines, the sections that they leave, the doublers of each line, and what is wrong with it all.

    `reaches_mm`: how far the doublers of each line reach to both sides (see `foamcut.flat.joint_reach`).
    """

    lines: tuple[Line, ...]
    sections: tuple[Outline, ...]
    doublers: tuple[tuple[Patch, ...], ...]
    refusals: tuple[Refusal, ...]
    reaches_mm: tuple[float, ...] = ()


class Joinery:
    """What is needed to double the joints of one part."""

    def __init__(self, part: Part, doubling: Doubling, doubler_stock: Stock) -> None:
        self._part = part
        self._doubling = doubling
        self._fitting = Fitting.of(part, doubler_stock)
        self._room: BaseGeometry | None = None
        self._circles = curves(part, doubling)
        self._clear = shapely.union_all([shape for _, shape in clear_marks(part, doubling.inset_mm)])

    def doubled(self, lines: Lines, keys: Sequence[str] = ()) -> Doubled:
        """The doublers for lines; `keys` are those of the builder's lines, those at x first, both rising."""
        every = [Line(axis, millimetres(at)) for axis in (0, 1) for at in lines.of_axis(axis)]
        named = keys or [self._part.key] * len(every)
        sections = section_outlines(
            self._part.outline,
            [line.at_mm for line in every if line.axis == 0],
            [line.at_mm for line in every if line.axis == 1],
        )
        refusals: list[Refusal] = []
        found: list[tuple[Patch, ...]] = []
        reaches: list[float] = []
        for line, key in zip(every, named, strict=True):
            across = [patch for row in found for patch in row if patch.line.axis != line.axis]
            row = self._over(line, across, every, refusals)
            reaches.append(self._reach_mm(line, row))
            refusals += self._uncovered(line, key, row) or self._too_short(line, key, reaches[-1])
            found.append(tuple(row))
        if not refusals:
            refusals += _apart(named[0], sections, [patch for row in found for patch in row])
        return Doubled(tuple(every), sections, tuple(found), tuple(refusals), tuple(reaches))

    def _over(
        self, line: Line, across: Sequence[Patch], every: Sequence[Line], refusals: list[Refusal]
    ) -> list[Patch]:
        """The doublers over a line, divided where their stock has no room for them whole."""
        if self._room is None:
            self._room = room_for_doublers(self._part, self._doubling)
        shape, doubling = self._part.outline.polygon, self._doubling
        crossing = [other.at_mm for other in every if other.axis != line.axis]
        row: list[Patch] = []
        for patch in patches(line, shape, self._room, doubling, across, self._circles):
            pieces = divided(patch, self._fitting, shape, crossing, doubling.overlap_mm)
            if not pieces:
                key = self._part.key if self._part.doubling is None else doubling.key
                refusals.append(doubler_too_large(key, line, patch.outline, doubling, self._fitting))
                pieces = [patch]
            row += pieces
        return row

    def _uncovered(self, line: Line, key: str, row: Sequence[Patch]) -> list[Refusal]:
        board = sum(b - a for a, b in line.stretches(self._part.outline.polygon))
        covered = sum(patch.covered_mm for patch in row)
        if covered >= LEAST_COVERED * board - CHORD_MM:  # edges of doublers may be chords
            return []
        return [too_little_covered(key, line, covered, board)]

    def _reach_mm(self, line: Line, row: Sequence[Patch]) -> float:
        covered = sorted(one for patch in row for one in line.stretches(patch.outline.polygon))
        return reach_mm(line, joined_ranges(covered), self._clear, self._doubling.overlap_mm)

    def _too_short(self, line: Line, key: str, reach: float) -> list[Refusal]:
        if reach >= LEAST_REACH * self._doubling.overlap_mm - SAME_POINT_MM:
            return []
        marks = marks_beside(self._part, line, self._doubling)
        return [reaches_too_little(key, line, reach, self._doubling.overlap_mm, marks)]


def _apart(key: str, sections: Sequence[Outline], doublers: Sequence[Patch]) -> list[Refusal]:
    """Sections that no chain of doublers joins to the first."""
    joined = {0}
    left = list(doublers)
    while True:
        for patch in left:
            under = {
                i for i, one in enumerate(sections)
                if one.polygon.intersection(patch.outline.polygon).area > 0
            }  # fmt: skip
            if under & joined:
                joined |= under
                left.remove(patch)
                break
        else:
            break
    return [falls_off(key, one) for i, one in enumerate(sections) if i not in joined]
