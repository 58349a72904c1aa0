"""What the scales said of the whole model, beside the sum of all that is counted.  g, mm; model axes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from foamcut.findings import Finding, Level
from foamcut.flight.figures import Item, Sort, Vector
from foamcut.flight.values import Weighed
from foamcut.units import decimal_text

#: the scales and the sum may differ by this share before it is told of, and before it is doubtful (common
#: practice, no source)
_TOLD, _DOUBTFUL = 0.02, 0.10
#: a balance is read to about so much, mm
_READ_MM = 2.0
#: a mass and a moment below which nothing has to be put in, g and g mm
_NOTHING = 1e-9
#: a thing lighter than this that moves the balance is put in as two at the ends, g
_LIGHT_G = 0.5
_NAME = "what was weighed over the sum"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sum:
    """All that counts, and of it what has a place: mass, middle, mean squares about it, ends along."""

    mass_g: float
    low_g: float
    high_g: float
    placed_g: float
    at: Vector
    spread_mm2: Vector
    ends_mm: tuple[float, float]


def scale_items(items: Sequence[Item], weighed: Weighed) -> tuple[tuple[Item, ...], tuple[Finding, ...]]:
    """What has to be added to the sum so that it is what the scales said, and balances where the model does.

    The mass may be below 0: then more was counted than is there.  Without a measured balance it lies where
    the rest balances and is spread as the rest is.  With one its place along is worked out; where that would
    lie off the model, or there is hardly any mass, it is shared out to both ends of the model, which gives
    the same sum and balance (one of the two below 0).  Nothing is added where nothing was weighed.
    """
    if weighed.model_mass_g is None and weighed.model_along_mm is None:
        return (), ()
    now = _sum(items)
    mass = now.mass_g if weighed.model_mass_g is None else weighed.model_mass_g
    return tuple(_added(now, mass - now.mass_g, weighed)), tuple(_findings(now, weighed))


def _sum(items: Sequence[Item]) -> _Sum:
    placed = [(item, item.at) for item in items if item.at is not None]
    mass = sum(item.mass_g for item, _ in placed)
    at: Vector = (0.0, 0.0, 0.0)
    spread: Vector = at
    if mass > 0:
        x, y, z = (sum(item.mass_g * place[i] for item, place in placed) / mass for i in range(3))
        at = (x, y, z)
        a, b, c = (
            sum(item.mass_g * (item.spread_mm2[i] + (place[i] - at[i]) ** 2) for item, place in placed) / mass
            for i in range(3)
        )
        spread = (a, b, c)
    along = [place[0] for _, place in placed] or [0.0]
    return _Sum(
        mass_g=sum(item.mass_g for item in items),
        low_g=sum(item.low_g for item in items),
        high_g=sum(item.high_g for item in items),
        placed_g=mass,
        at=at,
        spread_mm2=spread,
        ends_mm=(min(along), max(along)),
    )


def _added(now: _Sum, over_g: float, weighed: Weighed) -> Iterator[Item]:
    along = weighed.model_along_mm
    if along is None:
        if abs(over_g) > _NOTHING:
            yield _item(weighed, _NAME, over_g, now.at if now.placed_g > 0 else None, now.spread_mm2)
        return
    _, y, z = now.at
    moment = along * (now.placed_g + over_g) - now.at[0] * now.placed_g
    first, last = now.ends_mm
    if now.placed_g <= 0:
        if abs(over_g) > _NOTHING:
            yield _item(weighed, _NAME, over_g, (along, y, z))
    elif abs(over_g) >= _LIGHT_G and first <= moment / over_g <= last:
        yield _item(weighed, _NAME, over_g, (moment / over_g, y, z))
    elif last > first and abs(moment - over_g * now.at[0]) > _NOTHING:
        behind = (moment - over_g * first) / (last - first)
        yield _item(weighed, f"{_NAME}, in front", over_g - behind, (first, y, z))
        yield _item(weighed, f"{_NAME}, behind", behind, (last, y, z))
    elif abs(over_g) > _NOTHING:
        yield _item(weighed, _NAME, over_g, now.at)


def _item(
    weighed: Weighed, name: str, mass_g: float, at: Vector | None, spread: Vector = (0.0, 0.0, 0.0)
) -> Item:
    return Item(
        key=f"{weighed.key}.model",
        name=name,
        sort=Sort.OTHER,
        mass_g=mass_g,
        low_g=mass_g,
        high_g=mass_g,
        at=at,
        spread_mm2=spread,
        source="the model on the scales less all that is counted",
    )


def _findings(now: _Sum, weighed: Weighed) -> Iterator[Finding]:
    mass, along = weighed.model_mass_g, weighed.model_along_mm
    if mass is not None and now.mass_g > 0:
        over = mass - now.mass_g
        share = abs(over) / now.mass_g
        if share > _TOLD:
            yield _mass_finding(now, weighed, mass, share)
    if along is not None and now.placed_g > 0 and abs(along - now.at[0]) > _READ_MM:
        yield _balance_finding(now, weighed, along)


def _mass_finding(now: _Sum, weighed: Weighed, mass_g: float, share: float) -> Finding:
    over = mass_g - now.mass_g
    grams, percent = f"{decimal_text(abs(over), 0)} g", f"{decimal_text(100 * share, 0)} %"
    if over > 0:
        mend = f"look for {grams} that no table names, and write them under [[aboard]]"
    else:
        mend = f"look for {grams} too many: in the masses aboard, the sheets' mass, the glue"
    return Finding(
        code="weighed-differs",
        level=Level.WARNING if share > _DOUBTFUL else Level.NOTE,
        where=f"{weighed.key}.model",
        text=(
            f"on the scales the model is {decimal_text(mass_g, 0)} g, and all that is counted"
            f" {decimal_text(now.mass_g, 0)} g: {grams} or {percent}"
            f" {'more' if over > 0 else 'less'}; the sums go by the scales"
        ),
        value=f"{decimal_text(mass_g, 0)} g",
        range=f"{decimal_text(now.low_g, 0)} to {decimal_text(now.high_g, 0)} g",
        source="sum of all that is counted, with the ranges of what was assumed",
        mend=mend,
    )


def _balance_finding(now: _Sum, weighed: Weighed, along_mm: float) -> Finding:
    off = along_mm - now.at[0]
    mm = f"{decimal_text(abs(off), 1)} mm"
    moment = decimal_text(abs(off) * now.placed_g / 100, 0)
    return Finding(
        code="weighed-differs",
        level=Level.NOTE,
        where=f"{weighed.key}.model",
        text=(
            f"the model balances at {decimal_text(along_mm, 1)} mm, {mm} {'behind' if off > 0 else 'before'}"
            f" where all that is counted does, {decimal_text(now.at[0], 1)} mm; the sums go by the model"
        ),
        value=f"{decimal_text(along_mm, 1)} mm",
        source="sum of all that is counted",
        mend=(
            f"look for what lies farther {'back' if off > 0 else 'forward'} than drawn, or is heavier there:"
            f" {moment} g moved by 100 mm make this difference"
        ),
    )
