"""Two versions of one design held against each other: the verdicts by shapely alone, and what is cut of them.

`attempt_pair(seed)` takes a random design and the same with one number, or one word, changed.
"""

import json
import random
import traceback
import warnings
from collections import Counter
from collections.abc import Iterator

import numpy as np
from shapely.affinity import translate

from foamcut.compare.values import Compared, Verdict
from foamcut.errors import Refused
from foamcut.flat.part import Part
from foamcut.nest.values import Pace
from foamcut.plan.comparing import Comparison, Version, compared, next_revision, remade, version
from foamcut.plan.values import Options
from foamcut.plan.verifying import verified
from tests.fuzz.attempt_packs import LEAKS, Told, file_faults, not_for_a_builder
from tests.fuzz.mutate import near_number, odd_number
from tests.fuzz.random_packs import built_entries, random_pack

#: how far edges that agree may lie apart, mm: what the verdicts promise, and rounding
_AGREE_MM = 0.6
_DAY = "2031-06-01"
#: of so many pairs one is cut, laid and read back
_CUT_ONE_IN = 4


def random_pair(seed: int) -> tuple[bytes, bytes]:
    """A design and another version of it."""
    chance = random.Random(seed)
    old = random_pack(seed)
    kind = chance.randrange(4)
    if kind == 0:
        return old, old
    if kind == 1:
        return old, old + "".join(built_entries(chance, old)).encode()
    new = old
    for _ in range(chance.choice((1, 1, 2))):
        new = (near_number if chance.random() < 0.9 else odd_number)(chance, new)
    return (old, new) if chance.random() < 0.7 else (new, old)


def attempt_pair(seed: int) -> Told:
    """Compare the pair of a seed and look at every verdict; warnings count as exceptions."""
    return attempt_versions(*random_pair(seed), cut=seed % _CUT_ONE_IN == 0)


def attempt_versions(before: bytes, after: bytes, *, cut: bool = True) -> Told:
    """The same of two designs; with `cut` the sheets of what is cut are made and read back too."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            old, new = version(before, "old.toml"), version(after, "new.toml")
            found = compared(old, new)
            faults = [*verdict_faults(found), *_same_faults(old), *_said_faults(found)]
            faults += _adopted_faults(found)
            if cut:
                faults += _remade_faults(found)
    except Refused as refused:
        bad = [one.text[:300] for one in refused.refusals if not_for_a_builder(one.text)]
        return Told(refused=True, faults=tuple(f"words that are not for a builder: {one}" for one in bad))
    except Exception as err:
        frames = traceback.extract_tb(err.__traceback__)
        where = ", ".join(f"{frame.filename.rsplit('/', 1)[-1]}:{frame.lineno}" for frame in frames[-3:])
        return Told(refused=False, faults=(f"{type(err).__name__} at {where}: {str(err)[:300]}",))
    return Told(refused=False, faults=tuple(faults))


def verdict_faults(found: Comparison) -> Iterator[str]:
    """Every part of both versions once, and each verdict as shapely sees both outlines."""
    for which, parts in (("old", found.old.parts), ("new", found.new.parts)):
        several = Counter(id(getattr(one, which)) for one in found.compared if getattr(one, which))
        if several != Counter(map(id, parts)):
            yield f"not every part of the {which} version has one verdict"
    for one in found.compared:
        yield from (f"{one.name}: {one.verdict.value}, {fault}" for fault in _one_faults(one))


def _one_faults(one: Compared) -> Iterator[str]:
    old, new = one.old, one.new
    due = {
        Verdict.KEEP: (True, True, False),
        Verdict.TRIM: (True, True, False),
        Verdict.EXTEND: (True, True, True),
        Verdict.CUT_AGAIN: (True, True, True),
        Verdict.NEW: (False, True, True),
        Verdict.GONE: (True, False, False),
    }[one.verdict]
    if (bool(old), bool(new), bool(one.added)) != due:
        yield "and the wrong of old, new and added is there"
        return
    if one.verdict in (Verdict.CUT_AGAIN, Verdict.NEW) and one.added != (new,):
        yield "and something else than the part is cut"
    if not one.reason.strip() or not one.reason.endswith(".") or LEAKS.search(one.reason):
        yield f"and its reason is {one.reason[:200]!r}"
    if old and new and one.verdict in (Verdict.KEEP, Verdict.TRIM, Verdict.EXTEND):
        yield from _shape_faults(one, old, new)


def _shape_faults(one: Compared, old: Part, new: Part) -> Iterator[str]:
    """That the old outline, where it is laid, holds the new one, lies in it, or both."""
    was = translate(old.outline.polygon, *one.shift)
    now = new.outline.polygon
    lacks = now.difference(was.buffer(_AGREE_MM, join_style="mitre")).area
    over = was.difference(now.buffer(_AGREE_MM, join_style="mitre")).area
    slack = 1e-6 * max(was.length, now.length)
    if one.verdict is not Verdict.EXTEND and lacks > slack:
        yield f"yet the old one lacks {lacks:.3f} mm2"
    if one.verdict is not Verdict.TRIM and over > slack:
        yield f"yet the old one has {over:.3f} mm2 too much"
    if one.verdict is Verdict.EXTEND:
        for part in one.added:
            if not part.outline.polygon.is_valid or part.outline.polygon.is_empty:
                yield f"yet {part.name} is no shape"
        more = max(part.outline.polygon.area for part in one.added)
        # the added piece and the old part together are no smaller than the new part
        if more + was.area < now.area - _AGREE_MM * now.length:
            yield f"yet {now.area - was.area - more:.1f} mm2 are still lacking"
    if abs(old.thickness_mm - new.thickness_mm) > 0.5:
        yield "yet its board is of another thickness"
    if len(old.folds) != len(new.folds) and one.verdict is Verdict.KEEP:
        yield "yet it has other folds"
    if len(old.slots) != len(new.slots) and one.verdict is Verdict.KEEP:
        yield "yet it has other slots"


def _same_faults(version_: Version) -> Iterator[str]:
    """A version held against itself: all is kept, nothing is cut, no number differs."""
    same = compared(version_, version_)
    for one in same.compared:
        if one.verdict is not Verdict.KEEP or one.shift != (0.0, 0.0) or one.reason != "It is the same.":
            yield f"{one.name} held against itself: {one.verdict.value}: {one.reason[:200]}"
    if same.added or same.changed or any(row.differs for row in same.rows):
        yield "something differs in a version from itself"


def _said_faults(found: Comparison) -> Iterator[str]:
    """What the screen and the document say."""
    text = json.dumps(found.result(), allow_nan=False)  # raises where a number is none
    if LEAKS.search(json.dumps(found.result()["parts"])):
        yield f"words that are not for a builder: {text[:200]}"
    screen = found.screen()
    if lost := [one.name for one in found.compared if one.name not in screen]:
        yield f"the screen does not tell of {lost[:4]}"
    if not found.revision_line.strip() or "\n" in found.revision_line:
        yield f"a line for the revisions that is none: {found.revision_line[:200]!r}"
    for row in found.rows:
        if not all(value is None or np.isfinite(value) for value in (row.before, row.after)):
            yield f"{row.name}: no number"


def _adopted_faults(found: Comparison) -> Iterator[str]:
    """The next revision: the parts of the new version, nothing left as built, the day and line in its list."""
    try:
        data = next_revision(found, _DAY)
    except Refused as refused:
        if any(not_for_a_builder(one.text) for one in refused.refusals):
            yield f"words that are not for a builder: {refused}"
        if not found.design.built:
            yield f"with nothing built it is not adopted: {str(refused)[:300]}"
        return
    try:
        after = version(data, "next.toml")
    except Refused as refused:
        yield f"the next revision is refused: {str(refused)[:300]}"
        return
    if after.design.built:
        yield "the next revision still has values as built"
    if not after.design.revisions or after.design.revisions[-1].date.isoformat() != _DAY:
        yield "the next revision does not stand in its own list"
    kept = compared(found.new, after)
    for one in kept.compared:
        if one.verdict is not Verdict.KEEP or one.reason != "It is the same.":
            yield f"{one.name} of the next revision: {one.verdict.value}: {one.reason[:200]}"


def _remade_faults(found: Comparison) -> Iterator[str]:
    """The pack of what is cut: whole, true, every file readable."""
    pack = remade(found, Options(pace=Pace(steps=1)))
    if pack is None:
        if found.added:
            yield "nothing is laid though something is cut"
        return
    files = {file.name: file.data for file in pack.files}
    yield from file_faults(pack.files)
    read = verified(files, "pack")
    yield from (f"{fault.file}: {fault.text}" for fault in read.faults[:5])
    drawings = [name for name in files if name.endswith(".svg") and "/" not in name]
    changed = [one for one in found.compared if one.verdict is not Verdict.KEEP and one.old and one.new]
    if changed and not drawings:
        yield "no drawing shows both versions"
