"""A flight that is over too soon.  Minutes, mAh."""

from collections.abc import Iterator, Sequence

from foamcut.findings import Finding, Level
from foamcut.flight.power_currents import Load, shortest
from foamcut.flight.power_drives import Known
from foamcut.flight.power_limits import STEP_MAH, named
from foamcut.flight.power_words import least
from foamcut.units import decimal_text

#: below this little is left for a second approach; below the other not even for one; what is asked for
#: (all from memory)
_SHORT, _LEAST, _WISHED = 4.0, 2.0, 6.0


def time_findings(loads: Sequence[Load]) -> Iterator[Finding]:
    """Said of a short flight, with the capacity that lasts longer; not where the power is the most alone."""
    first = shortest(loads)
    if first is None or any(one.at_most for load in loads for one in load.drives):
        return
    minutes, packs, capacity = first.span.value, first.branch.packs, first.branch.capacity_ah
    if capacity is None or capacity <= 0 or minutes <= 0 or round(minutes, 1) >= _SHORT:
        return
    wanted = least(capacity * 1000 * _WISHED / minutes / STEP_MAH) * STEP_MAH
    typed = any(one.known is Known.GIVEN for load in loads for one in load.drives)
    in_all = " in all" if len(packs) > 1 else ""
    yield Finding(
        code="flight-short",
        level=Level.WARNING if round(minutes, 1) < _LEAST else Level.NOTE,
        where=f"{packs[0].key}.capacity",
        text=(
            f"{named('battery', packs[0].name)} lasts about {decimal_text(minutes, 1)} min"
            f" ({decimal_text(first.span.low, 1)} to {decimal_text(first.span.high, 1)})"
            f"{' by the power as typed' if typed else ''}: little is left for a second approach"
        ),
        value=f"{decimal_text(minutes, 1)} min",
        range=f"{decimal_text(_SHORT, 0)} min and more",
        source="from memory; capacity, share of it that is flown, mean share of full power",
        mend=(
            f"{decimal_text(wanted, 0)} mAh instead of {decimal_text(capacity * 1000, 0)}{in_all} lasts"
            f" {decimal_text(_WISHED, 0)} min: look at weight and balance with it"
        ),
    )
