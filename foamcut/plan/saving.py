"""Words on parts that are cut in two although they would lie whole, and on what that saves."""

from collections.abc import Iterable, Iterator, Sequence

from foamcut.findings import Finding, Level
from foamcut.nest.values import Saving
from foamcut.plan.pieces import Chosen


def saving_words(savings: Iterable[Saving], chosen: Sequence[Chosen], currency: str = "") -> Iterator[str]:
    """A line for each stock: ``skin: cut in 2 although it lies whole: saves 1 board of foam``."""
    sections = {one.part.name: one.sections for one in chosen}
    for saving in savings:
        if saved := _saved(saving, currency):
            counts = sorted({sections[name] for name in saving.parts})
            pieces = " or ".join(map(str, counts))
            whole = "it lies" if len(saving.parts) == 1 else "they lie"
            names = ", ".join(saving.parts)
            yield f"{names}: cut in {pieces} although {whole} whole: saves {saved}"


def saving_findings(
    savings: Iterable[Saving], chosen: Sequence[Chosen], currency: str = ""
) -> Iterator[Finding]:
    """For each part that is cut to save something: that it would lie whole, and what is saved."""
    by_name = {one.part.name: one for one in chosen}
    for saving in savings:
        saved = _saved(saving, currency)
        for name in saving.parts if saved else ():
            one = by_name[name]
            others = [other for other in saving.parts if other != name]
            together = f", together with {', '.join(others)}" if others else ""
            yield Finding(
                code="joint-saves",
                level=Level.NOTE,
                where=one.part.key,
                text=(
                    f"{name} would lie whole on a sheet, and is cut in {one.sections} because that saves "
                    f"{saved}{together}"
                ),
                value=saved,
                mend="to have it whole, take may_join out",
            )


def _saved(saving: Saving, currency: str) -> str:
    """Boards and money in words; empty when nothing is saved."""
    boards, cost = saving.boards, saving.cost
    money = f"{cost:.2f} {currency}".rstrip() if cost else ""
    if boards <= 0:
        return f"{money} on {saving.stock}" if money else ""
    words = f"{boards} board{'s' * (boards != 1)} of {saving.stock}"
    return f"{words} ({money})" if money else words
