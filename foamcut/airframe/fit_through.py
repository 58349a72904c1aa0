"""Parts that pass through each other on the model, measured as bodies.

mm; model axes: x aft, y right, z up.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from foamcut.airframe.fit_tabs import TabMiss
from foamcut.findings import Finding, Level
from foamcut.flat.assembled import Standing
from foamcut.flat.together import Filling, clashes
from foamcut.units import decimal_text

#: what foam gives way where parts are pressed together
DEEP_MM = 0.5


def through_findings(model: Sequence[Standing], misses: Sequence[TabMiss]) -> Iterator[Finding]:
    """Each two parts that go into each other, once for both hands; tabs beside slots are told of already."""
    fillings = [Filling(owner=i, body=body) for i, one in enumerate(model) for body in one.bodies]
    deepest: dict[frozenset[str], tuple[float, int, int, np.ndarray]] = {}
    for a, b, found in clashes(fillings, DEEP_MM):
        owners = frozenset((a.owner, b.owner))
        if any(
            miss.owners == owners and np.linalg.norm(miss.middle - found.middle) <= miss.reach_mm
            for miss in misses
        ):
            continue
        names = frozenset(model[i].pair_name for i in owners)
        if names not in deepest or found.depth_mm > deepest[names][0] + DEEP_MM / 10:
            deepest[names] = found.depth_mm, a.owner, b.owner, found.middle
    for depth, i, j, middle in deepest.values():
        yield _told(model[i], model[j], depth, middle)


def _told(one: Standing, other: Standing, depth: float, middle: np.ndarray) -> Finding:
    at = ", ".join(decimal_text(value) for value in middle.tolist())
    amount = f"{decimal_text(depth, 2)} mm"
    return Finding(
        code="fit-through",
        level=Level.WARNING,
        where=one.part.key,
        text=f"{one.part.name} and {other.part.name} pass through each other by {amount}, at ({at}) mm aft,"
        " right, up",
        value=amount,
        range=f"up to {decimal_text(DEEP_MM)} mm",
        mend="make one of them smaller, cut it out for the other, or mend its place",
    )
