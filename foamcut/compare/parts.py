"""Every part of two versions: keep, trim, extend, cut again, new or gone."""

from collections.abc import Sequence

from foamcut.compare.placed import Ruler
from foamcut.compare.values import Compared, Verdict
from foamcut.compare.verdicts import Judge
from foamcut.flat.part import Part


def compared_parts(old: Sequence[Part], new: Sequence[Part], units: str = "mm") -> tuple[Compared, ...]:
    """A verdict on each part, those of the new version in their order, then what is gone.

    Parts are the same by name; one that is left over does for a new one of its shape that has another name.
    Lengths in the reasons are in `units`, mm or in.
    """
    judge = Judge(old, new, Ruler(units))
    by_name = {part.name: part for part in reversed(old)}
    names = {part.name for part in new}
    left = [part for part in old if part.name not in names]
    found: list[Compared] = []
    for part in new:
        before = by_name.get(part.name)
        if before is None:
            before = next((one for one in left if judge.is_same(one, part)), None)
            left = [one for one in left if one is not before]
        if before is None:
            found.append(_new(part))
        else:
            found.append(judge.verdict(before, part))
    return (*found, *map(_gone, left))


def unrelated(old: Sequence[Part], new: Sequence[Part]) -> str:
    """Why two designs cannot be compared; empty where some part of theirs has the same name."""
    if {part.name for part in old} & {part.name for part in new}:
        return ""
    if not old or not new:
        return f"the {'old' if not old else 'new'} design has no parts"
    return (
        f"none of the {len(old)} parts of the old design has the name of one of the {len(new)} parts of the"
        " new one, so that they are no two versions of one design"
    )


def _new(part: Part) -> Compared:
    return Compared(
        name=part.name,
        verdict=Verdict.NEW,
        reason="The old version has no part of this name.",
        old=None,
        new=part,
        added=(part,),
    )


def _gone(part: Part) -> Compared:
    return Compared(
        name=part.name,
        verdict=Verdict.GONE,
        reason="The new version has no part of this name.",
        old=part,
        new=None,
    )
