"""What every piece that is cut weighs, and where it lies on the model.  g, mm."""

from collections.abc import Iterator, Sequence

from foamcut.findings import Finding
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.flight.figures import Item, Sort
from foamcut.flight.values import Cut, Model, WeighedPart
from foamcut.flight.weights_lie import Lie, bits_of, lies
from foamcut.flight.weights_stock import Areal, areal, assumed_finding, missing_finding

#: so many parts are named in one finding
_NAMED = 6
_HEAVY = "what grooves, bevels and strips take out is not taken off: slightly heavy"


def piece_items(model: Model, weighed: Sequence[WeighedPart]) -> tuple[tuple[Item, ...], tuple[Finding, ...]]:
    """One thing for each piece, its copies together where the part stands; and what is not known.

    Mass = area of the outline x mass by area of the stock x count.  Foam that grooves, bevels and strips take
    out is neglected, which makes pieces slightly heavy.  Of a part that was weighed the pieces share what the
    scales say by their computed masses, or by area where there are none.
    """
    cuts = model.cuts
    each = _lies(model)
    areals = {name: areal(stock) for name, stock in model.stocks.items()}
    scales = {one.name: one for one in weighed}
    found: list[Item] = []
    for cut, lie in zip(cuts, each, strict=True):
        known = areals.get(cut.piece.flat.stock)
        part = _weighed(cut.piece.part, scales)
        if part is not None:
            found.append(_from_scales(cut, lie, part, _share(cut, cuts, areals)))
        elif known is not None:
            found.append(_computed(cut, lie, known))
    return tuple(found), tuple(_stock_findings(model, areals, scales))


def _lies(model: Model) -> list[Lie | None]:
    """Where each piece lies; None of a part that has no place."""
    stands = {one.part.name: one for one in model.standing}
    several = []
    for cut in model.cuts:
        one = stands.get(cut.piece.part.name)
        several.append(bits_of(cut.piece, one) if one is not None else ())
    return lies(several)


def _computed(cut: Cut, lie: Lie | None, known: Areal) -> Item:
    area = cut.piece.outline.area * cut.count
    return _item(
        cut,
        lie,
        (area * known.g_mm2, area * known.low, area * known.high),
        f"area x {known.source}; {_HEAVY}",
        known.assumed,
    )


def _from_scales(cut: Cut, lie: Lie | None, part: WeighedPart, share: float) -> Item:
    mass = part.mass_g * cut.count * share
    return _item(cut, lie, (mass, mass, mass), f'"{part.name}" was weighed', ())


def _item(
    cut: Cut, lie: Lie | None, masses: tuple[float, float, float], source: str, assumed: tuple[str, ...]
) -> Item:
    name = cut.piece.flat.name
    mass, low, high = masses
    return Item(
        key=cut.piece.part.key,
        name=name if cut.count == 1 else f"{cut.count} x {name}",
        sort=Sort.BOARD,
        mass_g=mass,
        low_g=low,
        high_g=high,
        at=lie.at if lie else None,
        spread_mm2=lie.spread_mm2 if lie else (0.0, 0.0, 0.0),
        source=source,
        assumed=assumed,
    )


def _weighed(part: Part, scales: dict[str, WeighedPart]) -> WeighedPart | None:
    """What the scales say of a part, under its own name before that of its pair."""
    return scales.get(part.name) or scales.get(pair_name(part))


def pair_name(part: Part) -> str:
    """What both hands of a part are called."""
    return part.name.removesuffix(f"-{part.hand.value}")


def _share(cut: Cut, cuts: Sequence[Cut], areals: dict[str, Areal | None]) -> float:
    """The share of a piece in the mass of its part; by area when the mass of any piece is not known."""
    ours = [one for one in cuts if one.piece.part.name == cut.piece.part.name]
    known = [areals.get(one.piece.flat.stock) for one in ours]
    weights = [
        one.piece.outline.area * (have.g_mm2 if have and all(known) else 1.0)
        for one, have in zip(ours, known, strict=True)
    ]
    total = sum(weights)
    return weights[ours.index(cut)] / total if total > 0 else 1 / len(ours)


def _stock_findings(
    model: Model, areals: dict[str, Areal | None], scales: dict[str, WeighedPart]
) -> Iterator[Finding]:
    """Stocks whose mass is assumed or not known, of which a piece is cut that was not weighed itself."""
    areas: dict[str, float] = {}
    for cut in model.cuts:
        if _weighed(cut.piece.part, scales) is None:
            name = cut.piece.flat.stock
            areas[name] = areas.get(name, 0.0) + cut.piece.outline.area * cut.count
    for name, area in areas.items():
        stock: Stock | None = model.stocks.get(name)
        known = areals.get(name)
        if stock is not None and known is None:
            yield missing_finding(stock, area)
        elif stock is not None and known is not None and known.assumed:
            yield assumed_finding(stock, known)


def named(names: Sequence[str]) -> str:
    """Names in quotes, the first few of many."""
    said = ", ".join(f'"{name}"' for name in names[:_NAMED])
    return said if len(names) <= _NAMED else f"{said} and {len(names) - _NAMED} more"
