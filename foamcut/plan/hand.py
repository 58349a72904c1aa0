"""Words on what is cut by hand beside a machine."""

from collections.abc import Iterable, Iterator

from foamcut.nest.beds import by_hand
from foamcut.nest.values import Layout
from foamcut.plan.pieces import Chosen, numbers_of


def hand_words(
    layouts: Iterable[Layout], bed_mm: tuple[float, float] | None, chosen: Iterable[Chosen]
) -> Iterator[str]:
    """The pieces that the machine's bed does not take."""
    if bed_mm and (names := hand_names(layouts, bed_mm, chosen)):
        yield f"by hand: {', '.join(names)}"


def hand_names(layouts: Iterable[Layout], bed_mm: tuple[float, float], chosen: Iterable[Chosen]) -> list[str]:
    """The names of those pieces in the order of the design, with how many of it when there are several."""
    counts = dict.fromkeys(numbers_of(chosen), 0)
    for layout in layouts:
        for placed in by_hand(layout.sheets, bed_mm):
            counts[placed.piece.flat.name] += 1
    return [name if count == 1 else f"{name} ({count})" for name, count in counts.items() if count]
