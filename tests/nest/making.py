"""Parts, stocks and lists for the tests of nesting."""

import math
from decimal import Decimal
from random import Random

from shapely import Polygon

from foamcut.flat.drawn import Face, Grain, Hand, Turns
from foamcut.flat.joint import Piece, Way
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.stock import Offcut, SheetSize, Stock
from foamcut.nest.search import lay
from foamcut.nest.values import Layout, Pace, Wanted
from foamcut.nest.verify import faults


def stock(
    *sizes: tuple[float, float],
    margin: float = 0.0,
    gap: float = 0.0,
    grain: Grain = Grain.ANY,
    prices: tuple[str, ...] = (),
    on_hand: tuple[int, ...] = (),
    offcuts: tuple[tuple[Outline, int], ...] = (),
) -> Stock:
    """A stock called board of the sizes."""
    return Stock(
        key="stock.board",
        name="board",
        material="paper-faced foam board",
        thickness_mm=5.0,
        margin_mm=margin,
        gap_mm=gap,
        grain=grain,
        sheets=tuple(
            SheetSize(
                key=f"stock.board.sheets[{i}]",
                width_mm=w,
                height_mm=h,
                price=Decimal(prices[i]) if prices else None,
                on_hand=on_hand[i] if on_hand else 0,
            )
            for i, (w, h) in enumerate(sizes)
        ),
        offcuts=tuple(
            Offcut(key=f"stock.board.offcuts[{i}]", outline=outline, count=count)
            for i, (outline, count) in enumerate(offcuts)
        ),
    )


def part(
    name: str,
    outline: Outline,
    count: int = 1,
    *,
    face: Face = Face.INNER,
    grain: Grain = Grain.ANY,
    turns: Turns = Turns.QUARTER,
) -> Part:
    """A part of the stock called board."""
    return Part(
        key=f"parts.{name}", name=name, stock="board", thickness_mm=5.0, count=count, hand=Hand.NONE,
        face=face, grain=grain, turns=turns, outline=outline,
    )  # fmt: skip


def rectangle(width: float, height: float) -> Outline:
    """An upright rectangle from (0, 0)."""
    return Outline.rectangle(0, 0, width, height)


def want(sheet_stock: Stock, *parts: Part) -> list[Wanted]:
    """The parts, each to be laid whole."""
    return [Wanted(part=one, ways=(Way(pieces=(Piece.whole(one),)),)) for one in parts]


def laid(sheet_stock: Stock, *parts: Part, seed: int = 1, steps: int = 200) -> Layout:
    """A layout in which the verifier finds nothing."""
    wanted = want(sheet_stock, *parts)
    layout = lay(wanted, sheet_stock, seed=seed, pace=Pace(steps=steps))
    assert faults([layout], wanted) == ()
    return layout


def dissection(rng: Random, width: int, height: int, pieces: int) -> list[tuple[int, int]]:
    """Sizes of whole-mm rectangles into which straight cuts from edge to edge divide a rectangle."""
    found = [(width, height)]
    while len(found) < pieces:
        found.sort(key=lambda size: size[0] * size[1])
        w, h = found.pop()
        if w >= h:
            cut = rng.randrange(w // 4, w - w // 4 + 1)
            found += [(cut, h), (w - cut, h)]
        else:
            cut = rng.randrange(h // 4, h - h // 4 + 1)
            found += [(w, cut), (w, h - cut)]
    return found


def nasty_outline(rng: Random) -> Outline:
    """Stars with spikes, slivers, combs, frames, almost straight corners, discs."""
    kind = rng.randrange(6)
    a, b = rng.uniform(4, 60), rng.uniform(4, 60)
    if kind == 0:
        count = rng.randrange(3, 12)
        angles = sorted(rng.uniform(0, 2 * math.pi) for _ in range(count))
        points = [(rng.uniform(0.2, 1) * a * math.cos(t), rng.uniform(0.2, 1) * b * math.sin(t)) for t in angles]
        outline = Outline.of_points(points)
        return outline if outline.fault() is None else rectangle(a, b)
    if kind == 1:
        return Outline.of_points([(0, 0), (a * 3, 0.01), (a * 3, 1.0), (a, 0.9999999), (0, 1.0)])
    if kind == 2:
        teeth = [(x * a / 4, y) for x in range(4) for y in ((b, 1) if x % 2 else (1, b))]
        return Outline.of_points([(0, 0), *teeth[1:], (a * 3 / 4 + 0.5, 0)])
    if kind == 3:
        (frame,) = rectangle(a + 6, b + 6).minus(Outline.rectangle(3, 3, a + 3, b + 3))
        return frame
    if kind == 4:
        return Outline.circle(3.3, -7.7, a / 2)
    hole = [(2.0, 2.0), (2.000001, 2.5), (2.0, 3.0)]
    return Outline(Polygon([(0, 0), (a, 0), (a + 1e-6, b / 2), (a, b), (0, b), (0, b / 2)], [hole]))
