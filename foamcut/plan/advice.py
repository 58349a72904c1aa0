"""Findings of a design as drawn that no single room sees: places of its parts, words of the plan."""

from collections.abc import Iterator, Sequence

from foamcut.design.design import Design
from foamcut.draw.metrics import missing_letters
from foamcut.findings import Finding, Level
from foamcut.flat.part import Part

#: letters that are listed
_MOST_SHOWN = 30


def place_findings(parts: Sequence[Part]) -> Iterator[Finding]:
    """A part without a place is left out of a model; said once when some have one and some have none."""
    without = [part for part in parts if part.place is None]
    if without and len(without) < len(parts):
        names = ", ".join(dict.fromkeys(part.name for part in without))
        yield Finding(
            code="no-place",
            level=Level.NOTE,
            where="parts",
            text=f"no place on the model: {names}",
            mend="with a `place` FRONT and UP arrows are drawn",
        )


def letter_findings(design: Design) -> Iterator[Finding]:
    """Words of the plan, and names of what is cut and bought, that the pack's font cannot write."""
    plan, inputs = design.plan, design.airframe
    for key in ("title", "maker", "licence"):
        if missing := missing_letters(getattr(plan, key)):
            yield _lacking(f"plan.{key}", f"{_listed(missing)};")
    named = [
        *((one.key, one.name) for one in design.stocks),
        *((one.key, one.name) for one in design.parts),
        *((one.key, one.name) for one in inputs.surfaces),
        *((one.key, one.name) for one in inputs.bodies),
        *((one.key, one.name) for one in design.hardware),
    ]
    lacking = [(key, name) for key, name in named if missing_letters(name)]
    if lacking:
        missing = missing_letters("".join(name for _, name in lacking))
        more = f" and {len(lacking) - 1} more" if len(lacking) > 1 else ""
        yield _lacking(
            lacking[0][0],
            f"{_listed(missing)} for this name{more}; on drawings and printed pages",
            mend="book.html and the tables show it as it is; take other letters to have it drawn too",
        )


def _listed(missing: str) -> str:
    """Letters, the first few of many."""
    return " ".join(missing[:_MOST_SHOWN]) + (" ..." if len(missing) > _MOST_SHOWN else "")


def _lacking(where: str, words: str, mend: str = "") -> Finding:
    return Finding(
        code="letters-missing",
        level=Level.NOTE,
        where=where,
        text=f"the pack's font has no {words} an empty box stands in their place",
        mend=mend,
    )
