"""Random stocks and nasty parts for the search, from one seed.  mm."""

import math
from random import Random

from shapely import Polygon

from foamcut.flat.drawn import Face, Grain, Turns
from foamcut.flat.outline import Outline, Point
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from tests.nest.making import nasty_outline, part, rectangle, stock


def random_list(seed: int) -> tuple[Stock, tuple[Part, ...]]:
    """A stock and parts for it; some lists cannot be laid at all."""
    rng = Random(seed)
    board = _stock(rng)
    kinds = rng.choice([1, 2, 4, 9])
    many = rng.random() < 0.15
    parts = []
    for i in range(kinds):
        outline = _outline(rng, board)
        count = rng.randrange(50, 300) if many and i == 0 else rng.randrange(1, 6)
        if many and i == 0:
            outline = _tiny(rng)
        parts.append(
            part(
                f"p{i}", outline, count, face=rng.choice(list(Face)), turns=rng.choice(list(Turns)),
                grain=rng.choice([Grain.ANY, Grain.ANY, Grain.X, Grain.Y]),
            )
        )  # fmt: skip
    return board, tuple(parts)


def _stock(rng: Random) -> Stock:
    sizes = [
        (rng.choice([100.0, 250.0, 333.3, 700.0]), rng.choice([100.0, 200.000001, 500.0]))
        for _ in range(rng.randrange(1, 4))
    ]
    offcuts = tuple((_offcut(rng), rng.randrange(1, 4)) for _ in range(rng.choice([0, 0, 1, 3])))
    return stock(
        *sizes,
        margin=rng.choice([0.0, 3.0, 0.333333, 7.1]),
        gap=rng.choice([0.0, 0.0, 2.0, 0.000001, 1.7]),
        grain=rng.choice([Grain.ANY, Grain.ANY, Grain.X, Grain.Y]),
        prices=tuple(f"{rng.randrange(1, 900) / 100:.2f}" for _ in sizes) if rng.random() < 0.5 else (),
        on_hand=tuple(rng.choice([0, 0, 1, 3]) for _ in sizes),
        offcuts=offcuts,
    )


def _offcut(rng: Random) -> Outline:
    a, b = rng.uniform(5, 260), rng.uniform(5, 260)
    kind = rng.randrange(5)
    if kind == 0:
        return rectangle(a, b)
    if kind == 1:
        return Outline.of_points([(0, 0), (a, 0), (a, b / 3), (a / 3, b / 3), (a / 3, b), (0, b)])
    if kind == 2:
        rings = [[(a * i, b * i), (a * j, b * i), (a * j, b * j), (a * i, b * j)] for i, j in ((0, 1), (0.4, 0.6))]
        return Outline(Polygon(rings[0], [rings[1]]))
    if kind == 3:
        return Outline.circle(a / 2, a / 2, a / 2)
    # a bow tie, or a band of no width: to be left alone
    return Outline.of_points([(0, 0), (a, b), (a, 0), (0, b), (0, b / 2)])


def _outline(rng: Random, board: Stock) -> Outline:
    size = board.sheets[0]
    w, h = size.width_mm - 2 * board.margin_mm, size.height_mm - 2 * board.margin_mm
    kind = rng.randrange(10)
    if kind == 0:
        n, m = rng.randrange(1, 5), rng.randrange(1, 5)
        return rectangle((w - (n - 1) * board.gap_mm) / n, (h - (m - 1) * board.gap_mm) / m)
    if kind == 1:
        return rectangle(rng.uniform(20, 240), 10 ** rng.uniform(-0.5, 0.5))
    if kind == 2:
        return Outline.of_points([(0, 0), (rng.uniform(40, 200), rng.uniform(0.5, 40)), (rng.uniform(0, 9), 1.0)])
    if kind == 3:
        return spiral(rng.randrange(1, 4), rng.uniform(3, 9), rng.uniform(1, 5))
    if kind == 4:
        return frame(rng.uniform(20, 120), rng.uniform(20, 90), rng.uniform(0.5, 8))
    if kind == 5:
        return comb(rng.randrange(2, 30), rng.uniform(0.6, 4), rng.uniform(5, 60))
    if kind == 6:
        return _hair(rng)
    if kind == 7:
        return _tiny(rng)
    return nasty_outline(rng)


def _tiny(rng: Random) -> Outline:
    a = rng.uniform(1.5, 6)
    return rng.choice([rectangle(a, a), Outline.circle(0, 0, a / 2), Outline.of_points([(0, 0), (a, 0), (0, a)])])


def _hair(rng: Random) -> Outline:
    """A polygon whose sides bulge and dent by a millionth of a millimetre."""
    a, hair = rng.uniform(5, 80), 1e-6
    return Outline.of_points(
        [(0, 0), (a / 2, -hair), (a, 0), (a + hair, a / 3), (a, a), (a / 2, a - hair), (0, a), (hair, a / 2)]
    )


def frame(width: float, height: float, wall: float) -> Outline:
    """A rectangle with the hole `width` x `height` in it."""
    (found,) = rectangle(width + 2 * wall, height + 2 * wall).minus(
        Outline.rectangle(wall, wall, wall + width, wall + height)
    )
    return found


def comb(teeth: int, pitch: float, length: float) -> Outline:
    """Teeth half a pitch wide on a back of one pitch."""
    up: list[Point] = []
    for i in range(teeth):
        x = i * pitch
        up += [(x, pitch), (x, pitch + length), (x + pitch / 2, pitch + length), (x + pitch / 2, pitch)]
    return Outline.of_points([(0, 0), *up, (up[-1][0], 0)])


def spiral(rounds: int, pitch: float, wall: float) -> Outline:
    """An Archimedean band, walls at most two thirds of the pitch."""
    wall = min(wall, pitch * 2 / 3)
    angles = [i * math.pi / 8 for i in range(4, 16 * rounds + 5)]
    middle = [pitch * t / (2 * math.pi) for t in angles]
    outer = [((r + wall) * math.cos(t), (r + wall) * math.sin(t)) for r, t in zip(middle, angles, strict=True)]
    inner = [(r * math.cos(t), r * math.sin(t)) for r, t in zip(middle, angles, strict=True)]
    outline = Outline.of_points([*outer, *reversed(inner)])
    return outline if outline.fault() is None else rectangle(pitch, wall)
