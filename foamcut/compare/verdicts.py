"""The verdict on one part of which there are two versions.

mm, the new part's coordinates.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from foamcut.compare.asides import asides, bars
from foamcut.compare.details import Both, Differences
from foamcut.compare.ends import off_words, to_cut_off
from foamcut.compare.extending import Extending
from foamcut.compare.outlines import Laid, laid, largest, shifts
from foamcut.compare.placed import Ruler, Shift, listed
from foamcut.compare.values import Compared, Verdict
from foamcut.flat.part import Part, Slot
from foamcut.flat.placement import Placement

#: differences of edges less than this are not told, mm
_TOLD_MM = 0.05
#: of what differs so much is told
_MOST_TOLD = 4
#: of what is done by hand so much is told
_MOST_DONE = 6
_RANKS = (Verdict.KEEP, Verdict.TRIM, Verdict.EXTEND, Verdict.CUT_AGAIN)


@dataclass(frozen=True, eq=False)
class _Found:
    """A verdict for one way to lay the old part on the new one; `unlike` orders those that are cut again."""

    verdict: Verdict
    words: tuple[str, ...]
    shift: Shift
    added: tuple[Part, ...] = ()
    unlike: float = 0.0


@dataclass(frozen=True, eq=False)
class Judge:
    """All parts of both versions, and the ruler that lengths are told by."""

    before: Sequence[Part]
    after: Sequence[Part]
    ruler: Ruler

    def verdict(self, old: Part, new: Part) -> Compared:
        """What to do with the old part."""
        why = list(bars(old, new))
        if why:
            return self._told(old, new, _Found(Verdict.CUT_AGAIN, tuple(why), (0.0, 0.0)))
        best: _Found | None = None
        for shift in shifts(old.outline, new.outline):
            found = self._laid(old, new, laid(old, new, shift))
            if best is None or _order(found) < _order(best):
                best = found
            if best.verdict is Verdict.KEEP:
                break
        if best is None:
            raise ValueError(f"part {new.name!r} was laid on nothing")
        return self._told(old, new, best)

    def is_same(self, old: Part, new: Part) -> bool:
        """Whether an old part of another name does as it is."""
        if any(abs(a - b) > 1.0 for a, b in zip(old.outline.bounds, new.outline.bounds, strict=True)):
            return False
        if old.hand is not new.hand or any(bars(old, new)):
            return False
        return self._laid(old, new, laid(old, new, (0.0, 0.0))).verdict is Verdict.KEEP

    def _laid(self, old: Part, new: Part, held: Laid) -> _Found:
        if not held.lacking:
            return self._kept(old, new, held)
        if not held.over:
            extended = Extending(old, new, self.before, self.after, self.ruler).by(held)
            if extended.added:
                words = (extended.words, *self._edges(extended.off_mm), *_few(extended.differences.mend))
                return _Found(Verdict.EXTEND, words, held.shift, extended.added)
            why = (*_marred(extended.differences), *filter(None, [extended.refused]))
            if extended.differences.wrong or extended.differences.drawn:
                return self._again(held, why)
            return self._again(held, (*why, *off_words(held, new, self.ruler)))
        differences = self._differences(old, new, held)
        told = _told_slots(old, new, held) if differences.wrong else ()
        return self._again(held, (*_marred(differences), *off_words(held, new, self.ruler, told)))

    def _kept(self, old: Part, new: Part, held: Laid) -> _Found:
        """Of an old part that lacks nothing."""
        differences = Both(old, new, held.shift, held.new, self.ruler).differences()
        cuts = tuple(dict.fromkeys(to_cut_off(held, new, self.ruler)))
        if differences.wrong or differences.drawn:
            return self._again(held, (*_marred(differences, alone=not held.over), *cuts))
        if cuts:
            return _Found(Verdict.TRIM, (*_few(cuts), *_few(differences.mend)), held.shift)
        return _Found(Verdict.KEEP, (*self._edges(held.off_mm), *_few(differences.mend)), held.shift)

    def _edges(self, off_mm: float) -> list[str]:
        """What is said of edges that agree and are not the same."""
        return [f"its edges differ by up to {self.ruler.length(off_mm)}"] if off_mm > _TOLD_MM else []

    def _differences(self, old: Part, new: Part, held: Laid) -> Differences:
        both = largest(held.old.intersection(held.new))
        return Both(old, new, held.shift, both, self.ruler).differences() if both else Differences()

    @staticmethod
    def _again(held: Laid, words: Sequence[str]) -> _Found:
        return _Found(Verdict.CUT_AGAIN, tuple(words), held.shift, unlike=held.unlike_mm2)

    def _told(self, old: Part, new: Part, found: _Found) -> Compared:
        """The verdict with what is cut and said for the number of copies, and what does not matter."""
        words, added = list(found.words), list(found.added)
        again = found.verdict is Verdict.CUT_AGAIN
        if again:
            added, words = [new], list(dict.fromkeys(words))[:_MOST_TOLD]
        else:
            words += asides(old, new, self.ruler)
            words += _counted(old, new, added)
        text = "; ".join(words) or "it is the same"
        return Compared(
            name=new.name,
            verdict=found.verdict,
            reason=f"{text[0].upper()}{text[1:]}.",
            old=old,
            new=new,
            added=tuple(added),
            shift=found.shift,
        )


def _few(words: Sequence[str]) -> tuple[str, ...]:
    """What is done by hand, the first few and how many more there are."""
    kept = tuple(dict.fromkeys(words))
    more = len(kept) - _MOST_DONE
    return (*kept[:_MOST_DONE], f"{more} more of the kind") if more > 1 else kept


def _order(found: _Found) -> tuple[int, float]:
    return _RANKS.index(found.verdict), found.unlike


def _told_slots(old: Part, new: Part, held: Laid) -> tuple[Slot, ...]:
    """The slots of both versions, where the old ones come to lie."""
    moved = Placement(x_mm=held.shift[0], y_mm=held.shift[1])
    return (*(replace(slot, outline=slot.outline.placed(moved)) for slot in old.slots), *new.slots)


def _marred(differences: Differences, *, alone: bool = False) -> tuple[str, ...]:
    """What bars an old part; where lines of marks `alone` do, how it may be used all the same."""
    words = list(differences.wrong)
    if differences.drawn:
        words.append(listed(differences.drawn))
    if alone and not differences.wrong:
        words.append(
            "where nothing is glued on it yet, cross these out and draw the new ones instead of cutting"
        )
    return tuple(words)


def _counted(old: Part, new: Part, added: list[Part]) -> list[str]:
    """What is said of copies that are more or fewer; further ones are put to what is cut."""
    more = new.count - old.count
    if more > 0:
        added.append(replace(new, count=more))
        return [f"there are {new.count} of it, {old.count} before: cut {more} more"]
    if more < 0:
        return [f"there are {new.count} of it, {old.count} before: {-more} left over"]
    return []
