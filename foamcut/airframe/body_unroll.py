"""A floor, deck or hatch unrolled along its outer paper: where it turns, its folds, its place.

mm, degrees.  The outer paper stays whole and keeps its length; u runs along it from the front, v across,
and the inner face is drawn.  Towards the inside the board is grooved and folded shut, away from it scored.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from foamcut.airframe.body_profile import height_at
from foamcut.airframe.made import Shell
from foamcut.errors import Refusal
from foamcut.flat.drawn import DrawnFold, DrawnMark, Face, FoldKind, Place
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

#: board bends so much by itself (common practice, no source)
BENDS_DEG = 2.0
#: a groove narrower than this is no groove: a knife cannot set off two cuts so close
_NARROWEST_GROOVE_MM = 0.15
#: a bend smaller than this is straight
_STRAIGHT_DEG = 0.01
#: the paper of a score as the model shows it, and how far its panels stop short of it
_HINGE_MM = 0.05
#: board left flat between what is cut for one fold and the next, and to the end
_FLAT_MM = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """Where a strip turns: along the model, along its paper, and by how much, + towards the inside."""

    x_mm: float
    u_mm: float
    turn_deg: float
    thickness_mm: float

    @property
    def folded(self) -> bool:
        """Whether it is folded; a smaller turn the board bends by itself."""
        return abs(self.turn_deg) > BENDS_DEG and (
            self.turn_deg < 0 or 2 * self.half_band_mm > _NARROWEST_GROOVE_MM
        )

    @property
    def half_band_mm(self) -> float:
        """How far to each side the board is cut for it."""
        return self.thickness_mm * math.tan(math.radians(max(self.turn_deg, 0.0)) / 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A strip of board whose outer paper runs along `line`, (x, z) from front to rear.

    `over`: it closes the body from above (deck, hatch), so that its inner face looks down.
    """

    line: tuple[Point, ...]
    over: bool
    thickness_mm: float
    width_mm: float

    @property
    def length_mm(self) -> float:
        """Along the outer paper."""
        return sum(math.dist(a, b) for a, b in pairwise(self.line))

    @property
    def front_mm(self) -> float:
        """Where along the model it begins."""
        return self.line[0][0]

    @property
    def rear_mm(self) -> float:
        """Where along the model it ends."""
        return self.line[-1][0]

    def along(self, x_mm: float) -> float:
        """u of a place along the model; before and behind the strip as at its ends."""
        u = 0.0
        for (x0, z0), (x1, z1) in pairwise(self.line):
            length = math.hypot(x1 - x0, z1 - z0)
            if x_mm <= x1:
                return u + length * max(x_mm - x0, 0.0) / (x1 - x0)
            u += length
        return u

    def across(self, out_mm: float) -> float:
        """v of a place so far to the right: the deck is seen from below."""
        return 0.0 - out_mm if self.over else out_mm

    @property
    def turns(self) -> tuple[Turn, ...]:
        """Every place where it turns at all."""
        found = []
        slopes = [math.degrees(math.atan2(z1 - z0, x1 - x0)) for (x0, z0), (x1, z1) in pairwise(self.line)]
        for (x, _), (before, after) in zip(self.line[1:], pairwise(slopes), strict=False):
            turn = before - after if self.over else after - before
            if abs(turn) > _STRAIGHT_DEG:
                u = self.along(x)
                found.append(Turn(x_mm=x, u_mm=u, turn_deg=turn, thickness_mm=self.thickness_mm))
        return tuple(found)

    def place(self, key: str) -> Place:
        """Where the panel that begins at (0, 0) sits: the front edge's middle, on the inner face."""
        (x0, z0), (x1, z1) = self.line[:2]
        length = math.hypot(x1 - x0, z1 - z0)
        dx, dz = (x1 - x0) / length, (z1 - z0) / length
        t = -self.thickness_mm if self.over else self.thickness_mm
        y = (0.0, -1.0, 0.0) if self.over else (0.0, 1.0, 0.0)
        return Place(key=key, at=(x0 - t * dz, 0.0, z0 + t * dx), x=(dx, 0.0, dz), y=y)

    def folds(self, key: str) -> tuple[DrawnFold, ...]:
        """The folds across it."""
        half = self.width_mm / 2
        return tuple(
            DrawnFold(
                key=f"{key}.folds[{i}]",
                kind=FoldKind.GROOVE if turn.turn_deg > 0 else FoldKind.SCORE,
                start=(turn.u_mm, -half),
                end=(turn.u_mm, half),
                turn_deg=abs(turn.turn_deg),
            )
            for i, turn in enumerate(turn for turn in self.turns if turn.folded)
        )

    def bend_marks(self, key: str) -> tuple[DrawnMark, ...]:
        """Lines where it bends by itself."""
        half = self.width_mm / 2
        return tuple(
            DrawnMark(
                key=f"{key}.bends[{i}]",
                kind="line",
                face=Face.INNER,
                points=((turn.u_mm, -half), (turn.u_mm, half)),
                text=f"bends a little, {decimal_text(abs(turn.turn_deg), 1)} deg",
            )
            for i, turn in enumerate(turn for turn in self.turns if not turn.folded)
        )

    def refusals(self, key: str, words: str) -> list[Refusal]:
        """Folds that leave no flat board between them, or to the strip's ends."""
        folded = [turn for turn in self.turns if turn.folded]
        length = self.length_mm
        ends = [(0.0, 0.0, self.front_mm)]
        ends += [(turn.u_mm, turn.half_band_mm, turn.x_mm) for turn in folded]
        ends.append((length, 0.0, self.rear_mm))
        found = []
        for (u0, half0, x0), (u1, half1, x1) in pairwise(ends):
            left = u1 - u0 - half0 - half1
            if left < _FLAT_MM:
                text = (
                    f"{words} turns at {decimal_text(x0, 1)} and at {decimal_text(x1, 1)} mm along, or"
                    " ends there,"
                    f" which leaves {decimal_text(max(left, 0.0), 2)} mm of flat board between, less than"
                    f" {decimal_text(_FLAT_MM)} mm: move a reading or the end of the span, or leave it out"
                )
                found.append(Refusal(key=key, text=text))
        return found

    def shell(self, part: str, *, narrower_mm: float = 0.0, lifted_mm: float = 0.0) -> tuple[Shell, ...]:
        """Its shape where it bends without a fold, or foam is lifted off it; none where its folds give it.

        `narrower_mm`: how much its inner face is narrower at each side; `lifted_mm`: over how much of each
        edge the foam is lifted, where nothing but paper is left.
        """
        if all(turn.folded for turn in self.turns) and not lifted_mm:
            return ()
        rows = self._stations()
        outer, inner = (np.array([row[i] for row in rows]) for i in (0, 1))
        half = np.full(len(rows), self.width_mm / 2 - lifted_mm)
        through = np.minimum(np.linalg.norm(inner - outer, axis=1) / self.thickness_mm, 1.0)
        return (
            Shell(part=part, outer=_sheet(outer, half), inner=_sheet(inner, half - narrower_mm * through)),
        )

    def _stations(self) -> list[tuple[Point, Point]]:
        """Points of the outer paper and of the inner face; three at a score, whose faces gape."""
        scored = {turn.x_mm for turn in self.turns if turn.folded and turn.turn_deg < 0}
        inner = offset_line(self.line, self.thickness_mm, self.over)
        rows: list[tuple[Point, Point]] = []
        for i, (at, inside) in enumerate(zip(self.line, inner, strict=True)):
            if at[0] not in scored:
                rows.append((at, inside))
                continue
            share = _HINGE_MM / self.thickness_mm
            paper = (at[0] + share * (inside[0] - at[0]), at[1] + share * (inside[1] - at[1]))
            front, rear = (self._beside(i, way) for way in (-1, 1))
            rows += [front, (at, paper), rear]
        return rows

    def _beside(self, i: int, way: int) -> tuple[Point, Point]:
        """The end of the panel before (-1) or behind (1) a point of the line: outer paper, inner face."""
        (x, z), (x1, z1) = self.line[i], self.line[i + way]
        length = way * math.hypot(x1 - x, z1 - z)
        dx, dz = (x1 - x) / length, (z1 - z) / length
        t, off = (-self.thickness_mm if self.over else self.thickness_mm), way * _HINGE_MM
        return (x + off * dx, z + off * dz), (x + off * dx - t * dz, z + off * dz + t * dx)


def _sheet(line: np.ndarray, halves: np.ndarray) -> np.ndarray:
    """(n, 2, 3) points: a line (x, z) at both edges, the left one first, so far from the middle."""
    x, z = line[:, 0], line[:, 1]
    return np.stack([np.stack([x, side * halves, z], axis=1) for side in (-1.0, 1.0)], axis=1)


def offset_line(line: Sequence[Point], by_mm: float, down: bool) -> list[Point]:
    """The line a distance above, or below, another, its corners mitred, its ends square."""
    side = -by_mm if down else by_mm
    ways = []
    for (x0, z0), (x1, z1) in pairwise(line):
        length = math.hypot(x1 - x0, z1 - z0)
        ways.append(((x1 - x0) / length, (z1 - z0) / length))
    found = []
    for (x, z), before, after in zip(line, [ways[0], *ways], [*ways, ways[-1]], strict=True):
        whole = 1 + before[0] * after[0] + before[1] * after[1]
        nx, nz = -(before[1] + after[1]) / whole, (before[0] + after[0]) / whole
        found.append((x + side * nx, z + side * nz))
    return found


def part_of_line(line: Sequence[Point], x0: float, x1: float) -> tuple[Point, ...]:
    """The line from one place along the model to another."""
    inside = [point for point in line if x0 < point[0] < x1]
    return ((x0, height_at(line, x0)), *inside, (x1, height_at(line, x1)))
