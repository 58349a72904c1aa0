"""Findings of a design as drawn that no single room sees: places of its parts, words of the plan."""

from collections.abc import Iterator, Sequence

from foamcut.design.design import Design
from foamcut.draw.metrics import missing_letters
from foamcut.findings import Finding, Level
from foamcut.flat.part import Part


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
    """Words of the plan that the pack's font cannot write."""
    plan = design.plan
    for key in ("title", "maker", "licence"):
        words = getattr(plan, key)
        if missing := missing_letters(words):
            yield Finding(
                code="letters-missing",
                level=Level.NOTE,
                where=f"plan.{key}",
                text=f"the pack's font has no {' '.join(missing)}; an empty box stands in their place",
            )
