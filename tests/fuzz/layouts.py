"""One attempt on the search: parts go in, a layout or refusals come out, and shapely alone looks at it."""

from collections.abc import Iterator, Sequence

import shapely
from shapely import STRtree

from foamcut.errors import Refused
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.nest.search import lay
from foamcut.nest.values import Layout, Pace, Sheet
from foamcut.nest.verify import faults
from tests.fuzz.attempts import Attempt
from tests.fuzz.random_lists import random_list
from tests.nest.making import want

#: mm that two pieces may overlap, as the contract has it
MOST_MM = 0.001
STEPS = 12


def attempt_list(seed: int, *_: object) -> Attempt:
    """Lay the list of a seed twice and look for faults."""
    return attempt_lay(*random_list(seed))


def attempt_lay(board: Stock, parts: Sequence[Part], steps: int = STEPS, *, again: bool = True) -> Attempt:
    """Lay parts on a stock; a fault is what our verifier or shapely finds, or another layout the next time."""
    try:
        layout = _laid(board, parts, steps)
    except Refused as err:
        texts = [refusal.text for refusal in err.refusals]
        return Attempt(refused=True, faults=() if all(texts) and texts else ("refused without a word",))
    except Exception as err:  # a fault of the program, whatever it is
        return Attempt(refused=False, faults=(f"{type(err).__name__}: {str(err)[:200]}",))
    found = [*faults([layout], want(board, *parts)), *overlaps(layout)]
    if again and _laid(board, parts, steps) != layout:
        found.append("another layout the second time")
    return Attempt(refused=False, faults=tuple(found))


def _laid(board: Stock, parts: Sequence[Part], steps: int) -> Layout:
    return lay(want(board, *parts), board, seed=1, pace=Pace(steps=steps))


def overlaps(layout: Layout) -> Iterator[str]:
    """Pieces that overlap, come nearer than the gap, or lie off the board less its margin, by over `MOST_MM`."""
    for sheet in layout.sheets:
        yield from _sheet_overlaps(sheet, layout.stock)


def _sheet_overlaps(sheet: Sheet, board: Stock) -> Iterator[str]:
    shapes = [one.outline.polygon for one in sheet.placed]
    tree = STRtree(shapes)
    for i, shape in enumerate(shapes):
        name = sheet.placed[i].id
        if shape.difference(sheet.outline.polygon).buffer(-MOST_MM / 2).area > 0:
            yield f"{name} is off the board"
        if sheet.outline.polygon.boundary.distance(shape) < board.margin_mm - MOST_MM:
            yield f"{name} is in the margin"
        for j in tree.query(shape.buffer(board.gap_mm, join_style="mitre")):
            if j <= i:
                continue
            # as wide as this across is what both cover
            if shapely.intersection(shape, shapes[j]).buffer(-MOST_MM / 2).area > 0:
                yield f"{name} and {sheet.placed[j].id} overlap"
            if shape.distance(shapes[j]) < board.gap_mm - MOST_MM:
                yield f"{name} and {sheet.placed[j].id} are nearer than the gap"
