"""Random shapes of parts, each with a box that lies well inside it."""

import math
import random

from tests.fuzz.random_writing import WEB, Box, Shape, Stock, Writer, inset, readings, tab


def _rectangle(chance: random.Random, write: Writer, wide: float, high: float, stocks: list[Stock]) -> Shape:
    w, h = write.axis(wide), write.axis(high)
    shape = Shape([f"rectangle = [{w}, {h}]"], inset(Box(0, 0, wide, high), WEB))
    if chance.random() < 0.5:
        for x, y, edge in ((None, "0", wide), (None, h, wide), ("0", None, high), (w, None, high)):
            if chance.random() < 0.5:
                middle = write.length(edge * chance.uniform(0.4, 0.6))
                length = edge * chance.uniform(0.1, 0.6)
                shape.tabs.append(tab(write, x or middle, y or middle, length, chance.choice(stocks)))
    elif high > 40:
        depth = high * chance.uniform(0.1, 0.3)
        for share in (0.25, 0.5, 0.75)[: chance.randint(1, 3)] if wide > 60 else ():
            shape.slots.append(
                f'{{ at = [{write.length(wide * share)}, {h}], length = {write.length(2 * depth)}, '
                f'turn = 90, takes = "{chance.choice(stocks).name}", open = true }}'
            )
        if shape.slots:
            shape.inside.y1 -= depth + 1
    return shape


def _disc(chance: random.Random, write: Writer, wide: float, high: float, stocks: list[Stock]) -> Shape:
    size = min(wide, high)
    half = 0.33 * size
    return Shape([f"circle = {write.length(size)}"], Box(-half, -half, half, half))


def _trapezoid(chance: random.Random, write: Writer, wide: float, high: float, stocks: list[Stock]) -> Shape:
    top = wide * chance.uniform(0.5, 0.9)
    shift = (wide - top) * chance.uniform(0, 1)
    keys = [("bottom", wide), ("top", top), ("height", high), ("shift", shift)]
    inner = ", ".join(f"{k} = {write.length(v)}" for k, v in keys)
    shape = Shape([f"trapezoid = {{ {inner} }}"], inset(Box(shift, 0, shift + top, high), WEB))
    if chance.random() < 0.5:
        shape.tabs.append(tab(write, write.length(wide / 2), "0", wide / 4, chance.choice(stocks)))
    return shape


def _star_points(chance: random.Random, wide: float, high: float) -> list[tuple[float, float]]:
    """Corners on an oval, at least every 60 degrees, so that the middle is well inside."""
    count = chance.randint(7, 12)
    steps = [(i + chance.uniform(-0.08, 0.08)) * 2 * math.pi / count for i in range(count)]
    return [(wide / 2 * math.cos(a), high / 2 * math.sin(a)) for a in steps]


def _polygon(chance: random.Random, write: Writer, wide: float, high: float, stocks: list[Stock]) -> Shape:
    """Corners on an oval, some rounded, some edges arcs."""
    points = _star_points(chance, wide * 0.85, high * 0.85)
    count = len(points)
    arcs = {i for i in range(count) if chance.random() < 0.25}
    rows = []
    for i, (x, y) in enumerate(points):
        after, before = points[(i + 1) % count], points[i - 1]
        words = []
        edge = min(math.dist((x, y), after), math.dist((x, y), before))
        if i not in arcs and (i - 1) % count not in arcs and chance.random() < 0.4:
            words.append(f"round {write.words(edge * chance.uniform(0.1, 0.3))}")
        if i in arcs:
            share = chance.uniform(0.05, 0.2)
            bulge = ((after[1] - y) * share, (x - after[0]) * share)
            middle = ((x + after[0]) / 2 + bulge[0], (y + after[1]) / 2 + bulge[1])
            words.append(f"through {write.words(middle[0])}, {write.words(middle[1])}")
        if chance.random() < 0.1:
            words.append(f"name corner-{i}" if chance.random() < 0.1 else f"name corner_{i}")
        rows.append(f"  {write.words(x)}, {write.words(y)}  {'  '.join(words)}".rstrip())
    half_w, half_h = wide * 0.22, high * 0.22
    return Shape(readings(chance, rows), Box(-half_w, -half_h, half_w, half_h))


def _plain_polygon(chance: random.Random, write: Writer, wide: float, high: float, stocks: list[Stock]) -> Shape:
    points = _star_points(chance, wide, high)
    if chance.random() < 0.5:
        points.reverse()
    inner = ", ".join(write.point(x, y) for x, y in points)
    return Shape([f"outline = [{inner}]"], Box(-wide * 0.22, -high * 0.22, wide * 0.22, high * 0.22))


def _smooth(chance: random.Random, write: Writer, wide: float, high: float, stocks: list[Stock]) -> Shape:
    """A leaf: corners at two places, smooth in between."""
    points = _star_points(chance, wide * 0.9, high * 0.9)
    corners = {0, chance.randrange(2, len(points) - 1)}
    rows = [
        f"  {write.words(x)}, {write.words(y)}{'' if i in corners else '  smooth'}" for i, (x, y) in enumerate(points)
    ]
    half_w, half_h = wide * 0.18, high * 0.18
    return Shape(readings(chance, rows), Box(-half_w, -half_h, half_w, half_h))


def _mirrored(chance: random.Random, write: Writer, wide: float, high: float, stocks: list[Stock]) -> Shape:
    """Half a profile with both ends on its axis."""
    axis = chance.choice("xy")
    if axis == "y":  # drawn along y: what may be long is high
        wide, high = high, wide
    steps = chance.randint(2, 4)
    heights = [high / 2 * chance.uniform(0.6, 0.95) for _ in range(steps + 1)]
    points = [(0.0, 0.0), *((wide * i / steps, h) for i, h in enumerate(heights)), (wide, 0.0)]
    rows = []
    for i, (along, off) in enumerate(points):
        exact = i in (0, len(points) - 1)
        a, o = write.words(along), "0" if exact else write.words(off)
        word = "  round 1 mm" if not exact and chance.random() < 0.3 else ""
        rows.append(f"  {a}, {o}{word}" if axis == "x" else f"  {o}, {a}{word}")
    low = min(heights) * 0.8
    inside = Box(4, -low, wide - 4, low) if axis == "x" else Box(-low, 4, low, wide - 4)
    return Shape([f'mirrored = "{axis}"', *readings(chance, rows)], inside)


SHAPES = (_rectangle, _rectangle, _rectangle, _disc, _trapezoid, _polygon, _plain_polygon, _smooth, _mirrored)
