"""What propellers sweep, against every part as it stands and against each other.

mm; model axes: x aft, y right, z up.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations

from foamcut.airframe.meets import Disc
from foamcut.findings import Finding, Level
from foamcut.flat.assembled import Standing
from foamcut.flat.together import Swept
from foamcut.units import decimal_text

#: how close a blade may come to any board (from memory)
CLOSE_MM = 5.0


def disc_findings(model: Sequence[Standing], discs: Sequence[Disc]) -> Iterator[Finding]:
    """Each part, and each other propeller, that a disc comes too close to; where they touch, a stop."""
    told: set[tuple[str, str]] = set()  # one of a pair of motors is enough
    swept = [Swept(middle=d.middle, axis=d.forwards, diameter_mm=d.diameter_mm) for d in discs]
    for disc, sweep in zip(discs, swept, strict=True):
        for one in model:
            gap = min((sweep.gap(body, CLOSE_MM) for body in one.bodies), default=CLOSE_MM)
            if round(gap, 3) < CLOSE_MM and (disc.key, one.pair_name) not in told:
                told.add((disc.key, one.pair_name))
                yield _told(disc, one.part.name, gap)
    for (a, one_swept), (b, other) in combinations(zip(discs, swept, strict=True), 2):
        gap = one_swept.gap(other, CLOSE_MM)
        if round(gap, 3) < CLOSE_MM:
            yield _told(a, f"the propeller of {b.name}", gap)


def _told(disc: Disc, other: str, gap: float) -> Finding:
    touches = round(gap, 3) <= 0
    amount = f"{decimal_text(gap, 1)} mm"
    words = f"strikes {other}" if touches else f"passes {amount} from {other}"
    return Finding(
        code="propeller-close",
        level=Level.STOP if touches else Level.WARNING,
        where=disc.key,
        text=f"the propeller of {disc.name} {words}",
        value=amount,
        range=f"{decimal_text(CLOSE_MM)} mm or more",
        source="from memory",
        mend="move the motor, set the propeller further ahead, take a smaller one, or cut the part back",
    )
