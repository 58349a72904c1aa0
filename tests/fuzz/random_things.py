"""Random things in a part: holes, slots, marks, its label and its place."""

import math
import random

from tests.fuzz.random_writing import WEB, Box, Shape, Stock, Writer


def _cells(chance: random.Random, box: Box) -> list[Box]:
    """The box parted into cells, in an order of chance."""
    across = max(1, min(4, int(box.width // 22)))
    up = max(1, min(3, int(box.height // 22)))
    w, h = box.width / across, box.height / up
    cells = [
        Box(box.x0 + i * w, box.y0 + j * h, box.x0 + (i + 1) * w, box.y0 + (j + 1) * h)
        for i in range(across)
        for j in range(up)
    ]
    chance.shuffle(cells)
    return cells


def things_inside(
    chance: random.Random, write: Writer, shape: Shape, stocks: list[Stock], face: str
) -> list[str]:
    cutouts: list[str] = []
    slots = list(shape.slots)
    lines: list[str] = []
    for cell in _cells(chance, shape.inside)[: chance.randint(0, 6)]:
        x, y = (cell.x0 + cell.x1) / 2, (cell.y0 + cell.y1) / 2
        room = min(cell.width, cell.height) / 2 - WEB
        if room < 4:
            continue
        kind = chance.randrange(3)
        if kind == 0:
            cutouts.append(_cutout(chance, write, x, y, room))
        elif kind == 1:
            slots.extend(_slot(chance, write, x, y, room, stocks))
        elif kind == 2 and not any(line.startswith("label") for line in lines):
            turn = f", turn = {chance.choice((0, 90, 30))}" if chance.random() < 0.5 else ""
            lines.append(f"label = {{ at = {write.point(x, y)}{turn} }}")
    for key, things in (("cutouts", cutouts), ("slots", slots), ("tabs", shape.tabs)):
        if things:
            lines.append(f"{key} = [\n" + "\n".join(f"  {thing}," for thing in things) + "\n]")
    solid = not cutouts and not slots
    marks = [_mark(chance, write, shape.inside, face, solid) for _ in range(chance.choice((0, 0, 1, 2)))]
    if marks:
        lines.append("marks = [\n" + "\n".join(f"  {mark}," for mark in marks) + "\n]")
    return lines


def _cutout(chance: random.Random, write: Writer, x: float, y: float, room: float) -> str:
    """A hole within `room` of the middle, whatever its turn."""
    size = room * chance.uniform(0.4, 0.7)
    at, turn = write.point(x, y), f"turn = {chance.choice((0, 90, 180, 45, -30, 12.5))}"
    kind = chance.randrange(4)
    if kind == 0:
        return f"{{ circle = {write.length(2 * size)}, at = {at} }}"
    if kind == 1:
        return f"{{ rectangle = {write.point(size, size * 0.6)}, at = {at}, {turn} }}"
    if kind == 2:
        keys = f"bottom = {write.length(size)}, top = {write.length(size / 2)}, height = {write.length(size / 2)}"
        return f"{{ trapezoid = {{ {keys} }}, at = {at}, {turn} }}"
    corners = [(size * math.cos(a), size * math.sin(a)) for a in (0, 2, 4)]
    if chance.random() < 0.3:
        rows = "; ".join(f"{write.words(cx)}, {write.words(cy)} round 0.5 mm" for cx, cy in corners)
        return f'{{ outline = "{rows}", at = {at}, {turn} }}'
    return f"{{ outline = [{', '.join(write.point(*c) for c in corners)}], at = {at}, {turn} }}"


def _slot(
    chance: random.Random, write: Writer, x: float, y: float, room: float, stocks: list[Stock]
) -> list[str]:
    """A slot within `room` of the middle; none when the sheet is too thick."""
    stock = chance.choice(stocks)
    across = stock.thickness / 2 + 0.5
    if across >= room * 0.9:
        return []
    length = 2 * math.sqrt(room**2 - across**2) * chance.uniform(0.3, 0.9)
    turn = f"turn = {chance.choice((0, 90, 45, -20.5))}, " if chance.random() < 0.7 else ""
    return [f'{{ at = {write.point(x, y)}, length = {write.length(length)}, {turn}takes = "{stock.name}" }}']


def _mark(chance: random.Random, write: Writer, box: Box, face: str, solid: bool) -> str:
    """A mark of any kind; a point or a circle only where there is no hole that it might fall into."""
    x, y = chance.uniform(box.x0, box.x1), chance.uniform(box.y0, box.y1)
    end = write.point(box.x1, chance.uniform(box.y0, box.y1))
    start = write.point(box.x0, chance.uniform(box.y0, box.y1))
    on = f', face = "{chance.choice(("inner", "outer"))}"' if face != "either" and chance.random() < 0.3 else ""
    kind = chance.randrange(4)
    if kind == 0:
        text = f', text = "F{chance.randint(1, 9)}"' if chance.random() < 0.6 else ""
        return f"{{ line = [{start}, {end}]{text}{on} }}"
    if kind == 1 and solid:
        share = chance.choice(('"25 %"', "0.3"))
        return f"{{ balance = {share}, from = {start}, to = {end}{on} }}"
    if kind == 2 and solid:
        size = min(20.0, box.width / 2, box.height / 2)
        x, y = (x + 3 * (box.x0 + box.x1) / 2) / 4, (y + 3 * (box.y0 + box.y1) / 2) / 4
        return f"{{ circle = {write.length(size * chance.uniform(0.2, 1))}, at = {write.point(x, y)}{on} }}"
    return f"{{ tape = [{start}, {end}], width = {write.length(chance.uniform(5, 25))}{on} }}"


def place(chance: random.Random, write: Writer) -> str:
    along, upwards, out = (("aft", "fore"), ("up", "down"), ("right", "left"))
    first, second = chance.sample((along, upwards, out), 2)
    x, y = chance.choice(first), chance.choice(second)
    sideways = f", out = {write.length(chance.uniform(-60, 60))}" if chance.random() < 0.7 else ""
    at = write.point(chance.uniform(0, 300), chance.uniform(0, 90))
    return f'place = {{ at = {at}{sideways}, x = "{x}", y = "{y}" }}'
