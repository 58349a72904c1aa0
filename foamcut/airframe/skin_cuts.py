"""Where the skin of a panel may be parted along the span.  mm, s of `foamcut.airframe.planform`."""

import math
from collections.abc import Sequence
from itertools import pairwise

from foamcut.airframe.motors import skin_slots
from foamcut.airframe.planform import Panel
from foamcut.airframe.section_spar import spar_steps
from foamcut.airframe.skin_body_marks import saddles
from foamcut.airframe.skin_holes import openings
from foamcut.airframe.values import Inputs, Surface

#: joints of a skin keep so far off controls, slots, openings and the body: a patch lies there (common
#: practice, no source)
KEEP_MM = 35.0
#: the shortest stretch of skin (common practice, no source)
SHORTEST_MM = 80.0
#: joints lie at full and half centimetres
_GRID_MM = 5.0

Spans = Sequence[tuple[float, float]]


def even_cuts(taken: Spans, panel: Panel, count: int, at: Sequence[float] = ()) -> list[float] | None:
    """Where to part a panel in so many stretches, near to equal; None: no places are free.

    `at` are places where it is parted in any case; `taken` are stretches of the span where it is not.
    """
    ends = [panel.first.out_mm, *at, panel.last.out_mm]
    counts = [1] * (len(ends) - 1)
    for _ in range(count - len(counts)):
        longest = max(range(len(counts)), key=lambda i: ((ends[i + 1] - ends[i]) / counts[i], -i))
        counts[longest] += 1
    cuts: list[float] = []
    for (first, last), parts in zip(pairwise(ends), counts, strict=True):
        between = _between(taken, first, last, parts)
        if between is None:
            return None
        cuts += [*between, last]
    return cuts[:-1]


def _between(taken: Spans, first: float, last: float, count: int) -> list[float] | None:
    cuts: list[float] = []
    for i in range(1, count):
        even = first + (last - first) * i / count
        low = (cuts[-1] if cuts else first) + SHORTEST_MM
        high = last - (count - i) * SHORTEST_MM
        places = [_GRID_MM * k for k in range(math.ceil(low / _GRID_MM), math.floor(high / _GRID_MM) + 1)]
        free = [s for s in places if not any(a < s < b for a, b in taken)]
        if not free:
            return None
        cuts.append(min(free, key=lambda s: (abs(s - even), s)))
    return cuts


def step_cuts(surface: Surface, inputs: Inputs, panel: Panel) -> tuple[float, ...]:
    """Where strips end within a panel: there the skin's lines turn, and a skin that is parted lies flat."""
    first, last = panel.first.out_mm + SHORTEST_MM, panel.last.out_mm - SHORTEST_MM
    holes = _holes(surface, inputs)
    steps = sorted({s for s, _ in spar_steps(surface) if first <= s <= last})
    return tuple(s for s in steps if not any(a < s < b for a, b in holes))


def taken_spans(surface: Surface, inputs: Inputs, *, through: bool) -> list[tuple[float, float]]:
    """Stretches of the span in which a skin is not joined; `through`: it may be, within a control."""
    spans = [(one.from_mm, one.to_mm) for one in surface.controls]
    if through:
        spans = [(s, s) for span in spans for s in span]
    return [*((a - KEEP_MM, b + KEEP_MM) for a, b in spans), *_holes(surface, inputs)]


def _holes(surface: Surface, inputs: Inputs) -> list[tuple[float, float]]:
    spans = [
        (one.s_mm - one.length_mm / 2, one.s_mm + one.length_mm / 2) for one in skin_slots(surface, inputs)
    ]
    spans += [
        (one.s_mm - one.size_mm[1] / 2, one.s_mm + one.size_mm[1] / 2) for one in openings(surface, inputs)
    ]
    spans += [(0.0, half) for half, _ in saddles(surface, inputs)]
    return [(a - KEEP_MM, b + KEEP_MM) for a, b in spans]
