"""Whether slots, tabs, folds, bevels and marks of two versions of a part agree where both have board.

mm, the new part's coordinates.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Generic, Protocol, TypeVar

import shapely
from shapely import Polygon
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from foamcut.compare.outlines import farthest
from foamcut.compare.placed import Ruler, Shift, lines_of
from foamcut.flat.bevels import Bevel
from foamcut.flat.clipping import Run
from foamcut.flat.drawn import FoldKind
from foamcut.flat.folds import Fold
from foamcut.flat.marks import BalanceMark, Mark, TapeMark
from foamcut.flat.outline import Point
from foamcut.flat.part import Part, Slot, Tab
from foamcut.flat.tolerances import (
    ANGLES_AGREE_DEG,
    CUTS_AGREE_MM,
    EDGES_AGREE_MM,
    MARKS_AGREE_MM,
    ROUNDING_MM,
)

#: nearer to an edge than this, where the versions are trimmed each to its own, lines are not compared, mm
_EDGE_MM = 2.0
#: letters of a mark's words that are said to name it, and to write them anew
_SAID, _WORDS = 40, 160
_MARKS = MARKS_AGREE_MM + ROUNDING_MM


class _Keyed(Protocol):
    @property
    def key(self) -> str: ...


_Thing = TypeVar("_Thing", bound=_Keyed)
_Cut = TypeVar("_Cut", Slot, Tab)


@dataclass(frozen=True, slots=True)
class Differences:
    """What differs: `wrong` bars the old part, `drawn` are marks that bar it, `mend` is done by hand."""

    wrong: tuple[str, ...] = ()
    drawn: tuple[str, ...] = ()
    mend: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class _Lined(Generic[_Thing]):
    """Something that is drawn or worked along lines, with them."""

    thing: _Thing
    line: BaseGeometry

    @property
    def key(self) -> str:
        return self.thing.key


@dataclass(frozen=True, eq=False)
class Both:
    """Two versions of a part, the old one moved by `shift`, and where they are compared."""

    old: Part
    new: Part
    shift: Shift
    region: Polygon
    ruler: Ruler

    def differences(self) -> Differences:
        """All that differs in the region."""
        inner = self.region.buffer(-_EDGE_MM, join_style="mitre")
        shapely.prepare(inner)
        wrong = [*self._slots(), *self._tabs(), *self._folds(inner), *self._bevels()]
        drawn, mend = self._marks(inner)
        return Differences(tuple(wrong), tuple(drawn), tuple(mend))

    def _to(self, at: Point) -> Point:
        return at[0] + self.shift[0], at[1] + self.shift[1]

    def _holds(self, at: Point) -> bool:
        x0, y0, x1, y1 = self.region.bounds
        return x0 - _EDGE_MM <= at[0] <= x1 + _EDGE_MM and y0 - _EDGE_MM <= at[1] <= y1 + _EDGE_MM

    def _slots(self) -> Iterator[str]:
        def unlike(a: Slot, b: Slot) -> bool:
            lengths = a.length_mm - b.length_mm, a.width_mm - b.width_mm
            turned = (a.turn_deg - b.turn_deg + 90) % 180 - 90
            return max(map(abs, lengths)) > CUTS_AGREE_MM or abs(turned) > ANGLES_AGREE_DEG

        yield from self._moved("slot", self.old.slots, self.new.slots, unlike)

    def _tabs(self) -> Iterator[str]:
        def unlike(a: Tab, b: Tab) -> bool:
            lengths = a.length_mm - b.length_mm, a.depth_mm - b.depth_mm
            return max(map(abs, lengths)) > CUTS_AGREE_MM

        yield from self._moved("tab", self.old.tabs, self.new.tabs, unlike)

    def _moved(
        self,
        word: str,
        before: Sequence[_Cut],
        after: Sequence[_Cut],
        unlike: Callable[[_Cut, _Cut], bool],
    ) -> Iterator[str]:
        """What is moved or has another size; slots and tabs of one version alone show in the edges."""

        def agree(a: _Cut, b: _Cut) -> bool:
            return math.dist(self._to(a.at), b.at) <= CUTS_AGREE_MM and not unlike(a, b)

        for a, b in paired(before, after, agree)[0]:
            if agree(a, b) or not self._holds(b.at) or not self._holds(self._to(a.at)):
                continue
            name = f"the {word} at {self.ruler.place(self.new, b.at)}"
            far = math.dist(self._to(a.at), b.at)
            how = f"is moved by {self.ruler.length(far)}" if far > CUTS_AGREE_MM else "has another size"
            yield f"{name} {how}"

    def _lined(
        self, before: Iterable[_Thing], after: Iterable[_Thing], line: Callable[[_Thing], BaseGeometry]
    ) -> tuple[list[_Lined[_Thing]], list[_Lined[_Thing]]]:
        return [_Lined(one, translate(line(one), *self.shift)) for one in before], [
            _Lined(one, line(one)) for one in after
        ]

    def _folds(self, inner: BaseGeometry) -> Iterator[str]:
        before, after = self._lined(self.old.folds, self.new.folds, _fold_line)

        def agree(a: _Lined[Fold], b: _Lined[Fold]) -> bool:
            return _off(a.line, b.line, inner) <= EDGES_AGREE_MM and not _worked_otherwise(a.thing, b.thing)

        pairs, gone, added = paired(before, after, agree)
        for a, b in pairs:
            if agree(a, b) or not (_seen(a.line, inner) or _seen(b.line, inner)):
                continue
            far = _off(a.line, b.line, inner)
            how = (
                f"is off by {self.ruler.length(far)}"
                if EDGES_AGREE_MM < far < math.inf
                else "is worked otherwise"
            )
            yield f"{self._fold_words(b.thing)} {how}"
        yield from (f"{self._fold_words(b.thing)} is new" for b in added if _seen(b.line, inner))
        yield from (f"{self._fold_words(a.thing)} is gone" for a in gone if _seen(a.line, inner))

    def _fold_words(self, fold: Fold) -> str:
        if fold.kind is FoldKind.HINGE:
            return "the hinge"
        middle = (fold.start[0] + fold.end[0]) / 2, (fold.start[1] + fold.end[1]) / 2
        return f"the fold ({fold.kind.value}) at {self.ruler.place(self.new, middle)}"

    def _bevels(self) -> Iterator[str]:
        # a bevel's line lies inside the edge by its width, nearer to it than other lines are compared
        inner = self.region.buffer(-EDGES_AGREE_MM, join_style="mitre")
        before, after = self._lined(self.old.bevels, self.new.bevels, lambda one: lines_of(one.runs))

        def agree(a: _Lined[Bevel], b: _Lined[Bevel]) -> bool:
            one, other = a.thing, b.thing
            same = one.back == other.back and abs(one.angle_deg - other.angle_deg) <= ANGLES_AGREE_DEG
            return same and _off(a.line, b.line, inner) <= EDGES_AGREE_MM

        pairs, gone, added = paired(before, after, agree)
        several = [b for a, b in pairs if not agree(a, b) and (_seen(a.line, inner) or _seen(b.line, inner))]
        for word, found in (("differs", several), ("is new", added), ("is gone", gone)):
            if any(_seen(one.line, inner) for one in found):
                yield f"a bevel {word}"

    def _marks(self, inner: BaseGeometry) -> tuple[list[str], list[str]]:
        """Marks that bar the old part, and what is drawn anew by hand."""
        before, after = self._lined(self.old.marks, self.new.marks, _mark_line)

        def off(a: _Lined[Mark], b: _Lined[Mark]) -> float:
            if isinstance(a.thing, BalanceMark) and isinstance(b.thing, BalanceMark):
                return math.dist(self._to(a.thing.tip), b.thing.tip)
            return _off(a.line, b.line, inner)

        def agree(a: _Lined[Mark], b: _Lined[Mark]) -> bool:
            one, other = a.thing, b.thing
            return type(one) is type(other) and one.face is other.face and off(a, b) <= _MARKS

        pairs, gone, added = paired(before, after, agree)
        drawn: list[str] = []
        mend: list[str] = []
        for a, b in pairs:
            name = mark_words(b.thing)
            there = _seen(a.line, inner), _seen(b.line, inner)
            if there == (True, False):  # its place is cut off, or on the piece that is added
                gone.append(a)
            elif there == (False, True):
                added.append(b)
            if not all(there):
                continue
            if agree(a, b):
                if _text(a.thing) != _text(b.thing):
                    mend.append(f"change the words of a mark to {mark_words(b.thing, _WORDS)}")
                continue
            far = off(a, b)
            how = f"is moved by {self.ruler.length(far)}" if _MARKS < far < math.inf else "differs"
            if isinstance(b.thing, BalanceMark | TapeMark):
                mend.append(f"draw the mark {name} anew, it {how}")
            else:
                drawn.append(f"the mark {name} {how}")
        mend += [f"draw the new mark {mark_words(b.thing)}" for b in added if _seen(b.line, inner)]
        mend += [f"cross out the mark {mark_words(a.thing)}" for a in gone if _seen(a.line, inner)]
        return drawn, mend


_Any = TypeVar("_Any", bound=_Keyed)


def paired(
    before: Sequence[_Any], after: Sequence[_Any], agree: Callable[[_Any, _Any], bool]
) -> tuple[list[tuple[_Any, _Any]], list[_Any], list[_Any]]:
    """Things of two versions in pairs, those of the old one alone, and those of the new one alone.

    Those with one key that agree first, then others that agree, as keys count rows and a row put in shifts
    them; then those with one key, in their order.
    """
    left, free = list(before), list(after)
    pairs: list[tuple[_Any, _Any]] = []
    rules: tuple[Callable[[_Any, _Any], bool], ...] = (
        lambda a, b: a.key == b.key and agree(a, b),
        agree,
        lambda a, b: a.key == b.key,
    )
    for rule in rules:
        for b in list(free):
            a = next((one for one in left if rule(one, b)), None)
            if a is not None:
                pairs.append((a, b))
                left = [one for one in left if one is not a]
                free = [one for one in free if one is not b]
    return pairs, left, free


def mark_words(mark: Mark, most: int = _SAID) -> str:
    """What a mark is called: its words, else the end of its key, in quotes."""
    text = _text(mark) or mark.key.rsplit(".", 1)[-1]
    text = text if len(text) <= most else text[:most].rstrip() + "..."
    return f'"{text}"'


def _text(mark: Mark) -> str:
    found = getattr(mark, "text", "")
    return found if isinstance(found, str) else ""


def _mark_line(mark: Mark) -> BaseGeometry:
    return lines_of(mark.drawn().runs)


def _fold_line(fold: Fold) -> BaseGeometry:
    runs: tuple[Run, ...] = fold.fold or fold.cut_runs()
    return lines_of(runs)


def _worked_otherwise(a: Fold, b: Fold) -> bool:
    if (a.kind, a.side, a.rises) != (b.kind, b.side, b.rises):
        return True
    angles = abs(a.turn_deg - b.turn_deg), abs((a.far_turn_deg or 0.0) - (b.far_turn_deg or 0.0))
    widths = [one.band_mm[1] - one.band_mm[0] for one in (a, b)]
    return max(angles) > ANGLES_AGREE_DEG or abs(widths[0] - widths[1]) > CUTS_AGREE_MM


def _off(a: BaseGeometry, b: BaseGeometry, inner: BaseGeometry) -> float:
    """How far the lines of both lie off each other inside; infinite where only one is there."""
    near, there = a.intersection(inner), b.intersection(inner)
    if near.is_empty and there.is_empty:
        return 0.0
    if a.is_empty or b.is_empty:
        return math.inf
    return max(farthest(near, b), farthest(there, a))


def _seen(line: BaseGeometry, inner: BaseGeometry) -> bool:
    return bool(line.intersection(inner).length > EDGES_AGREE_MM)
