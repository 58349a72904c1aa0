"""Weight without a place: it stands in no balance, and what it could do there.  g and mm."""

from collections.abc import Iterator, Sequence

from foamcut.findings import Finding, Level
from foamcut.flight.figures import Item, Loaded, Sort
from foamcut.flight.loading_move import ends_of
from foamcut.flight.loading_sums import mass_of
from foamcut.flight.planform import Planform
from foamcut.flight.values import Model
from foamcut.flight.weights_pieces import named
from foamcut.units import decimal_text, mm_text

#: more than this share of the weight without a place is worth a note
_LOST = 0.02


def lost_findings(
    items: Sequence[Item], now: Loaded | None, model: Model, plan: Planform | None
) -> Iterator[Finding]:
    """Parts and other things without a place, named together; `now` is None when nothing has one."""
    lost = [one for one in items if one.at is None]
    mass, whole = mass_of(lost), mass_of(items) if now is None else now.mass_g
    if not lost or not whole > 0 or round(mass / whole, 6) <= _LOST:
        return
    parts = [one for one in lost if one.sort is Sort.BOARD]
    rest = [one for one in lost if one.sort not in ((Sort.BOARD, Sort.GLUE) if parts else ())]
    text = (
        f"{decimal_text(mass, 0)} g of {decimal_text(whole, 0)} g have no place and stand in no balance"
        f"{', and no glue is counted there' if parts else ''}:"
        f" {named(list(dict.fromkeys(one.name for one in lost)))}"
    )
    ends = ends_of(model, plan)
    if ends is not None and now is not None:
        fore, aft = (abs(mass * (end - now.at[0]) / whole) for end in ends)
        text += f"; at the nose it would move it {mm_text(fore)} forward, at the tail {mm_text(aft)} back"
    largest = max(lost, key=lambda one: round(one.mass_g, 3))
    part = "give each part a place, which says where its (0, 0) lies on the model and where its x and y run"
    yield Finding(
        code="mass-no-place",
        level=Level.NOTE,
        where=f"{largest.key}.place" if largest in parts else largest.key,
        text=text,
        value=f"{decimal_text(mass, 0)} g",
        range="at most 2 % of the weight",
        source="common practice, no source",
        mend="; ".join([*([part] if parts else []), *(["say where it lies (at)"] if rest else [])]),
    )
