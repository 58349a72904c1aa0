"""Random designs in the design file's format: valid, mostly buildable, with every key that parts may have.

`random_design(seed)` gives the same text for the same seed.  Sizes are laid out in mm at full size and then
written the ways a builder may: sketch measures, true sizes in several units, fractions, sums with names.
"""

import math
import random
from dataclasses import dataclass, field

IN = 25.4
#: kept between the things that are cut in a part, and between them and its edge, mm
WEB = 2.5

PLANTS = ("cordgrass", "sea-lavender", "glasswort", "thrift", "sea-aster", "samphire", "eelgrass", "sea-blite")
NAMES = ("rib", "side", "former", "deck", "floor", "wall", "skid", "fin", "lid", "spar", "Tray end", "queue-é", "щит")
STOCK_NAMES = ("board", "ply", "foam sheet", "Karton", "lime-3")


@dataclass
class Box:
    """An upright rectangle, mm."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def width(self) -> float:
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        return self.y1 - self.y0


@dataclass
class Stock:
    """A kind of sheet, as far as parts must know it."""

    name: str
    thickness: float
    grain: str
    room: tuple[float, float]


@dataclass
class Shape:
    """A shape's lines in the file, a box that lies well inside it, and edges that can carry tabs."""

    lines: list[str]
    inside: Box
    tabs: list[str] = field(default_factory=list)
    slots: list[str] = field(default_factory=list)


class Writer:
    """Writes lengths the ways a builder may."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.units = chance.choice(("mm", "in"))
        self.scale = chance.choice((1, 2, 4, 5, 6, 8, "1/2", "2.5"))
        factor = {"1/2": 0.5, "2.5": 2.5}.get(str(self.scale)) or float(self.scale)
        self.sketch_mm = factor * (IN if self.units == "in" else 1)
        self.sizes = {f"{c}_{n}": round(chance.uniform(5, 90), 1) for n, c in enumerate(("span", "chord", "web"))}

    def plain(self, mm: float) -> str:
        """A sketch measure as a number of TOML."""
        return _number(mm / self.sketch_mm, 5)

    def true(self, mm: float) -> str:
        """A true size, without quotes."""
        unit, size = self.chance.choice((("mm", 1), ("mm", 1), ("cm", 10), ("in", IN)))
        return f"{_number(mm / size, 4 if size > 1 else 3)} {unit}"

    def words(self, mm: float) -> str:
        """A length as it stands in a text: plain, true, or a sum."""
        kind = self.chance.randrange(8)
        if kind == 0:
            return self.true(mm)
        if kind == 1 and self.units == "in" and mm > 2:
            whole, parts = divmod(round(mm / self.sketch_mm * 64), 64)
            rest = mm - (whole + parts / 64) * self.sketch_mm
            fraction = " ".join([*([str(whole)] if whole else []), *([f"{parts}/64"] if parts else [])]) or "0"
            return f"{fraction} {_signed(rest)}" if abs(rest) > 1e-4 else fraction
        if kind == 2:
            name, size = self.chance.choice(sorted(self.sizes.items()))
            return f"{name} {_signed(mm - size)}"
        if kind == 3:
            name, size = self.chance.choice(sorted(self.sizes.items()))
            return f"{_number(mm / size, 6)} * {name}" if mm >= 0 else f"-({_number(-mm / size, 6)} * {name})"
        if kind == 4:
            half = _number(mm / 2, 4)
            return f"max({half} mm, {half} mm - 1) * 2"
        return self.plain(mm)

    def length(self, mm: float) -> str:
        """A length as a value of TOML."""
        words = self.words(mm)
        return words if _is_number(words) and self.chance.random() < 0.8 else f'"{words}"'

    def point(self, x: float, y: float) -> str:
        """A point as a value of TOML."""
        return f"[{self.length(x)}, {self.length(y)}]"

    def axis(self, mm: float) -> str:
        """A coordinate that must come out exactly; to be written twice in the same words."""
        return f'"{_number(mm, 3)} mm"' if mm else "0"


def _number(value: float, places: int) -> str:
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0", "-") else text


def _signed(mm: float) -> str:
    return f"{'-' if mm < 0 else '+'} {_number(abs(mm), 4)} mm"


def _is_number(words: str) -> bool:
    return words.lstrip("-").replace(".", "", 1).isdigit()


def random_design(seed: int, most_parts: int = 5) -> str:
    """A design as text with at most so many kinds of parts; the same for the same seed."""
    chance = random.Random(seed)
    write = Writer(chance)
    money = chance.random() < 0.5
    names = chance.sample(STOCK_NAMES, chance.choice((1, 1, 2, 3)))
    stocks = [_stock(chance, name, money) for name in names]
    parts = [
        _part(chance, write, name, chance.choice(stocks)[0], [stock for stock, _ in stocks])
        for name in chance.sample(NAMES, chance.randint(1, most_parts))
    ]
    head = _head(chance, write, seed, money)
    return "\n\n".join((*head, *(text for _, text in stocks), *parts, *_tail(chance, money))) + "\n"


def _head(chance: random.Random, write: Writer, seed: int, money: bool) -> list[str]:
    plan = [f'name = "{chance.choice(PLANTS)}-{seed % 1000}"']
    optional = (
        f'title = "Carrier of marker sticks no. {seed}"',
        'revision = "B"',
        'maker = "Salt-marsh station workshop"',
        chance.choice(('licence = ""', 'licence = "CC0-1.0"')),
    )
    plan += [line for line in optional if chance.random() < 0.5]
    if money or chance.random() < 0.2:
        plan.append('currency = "EUR"')
    scale = write.scale if not isinstance(write.scale, str) or "/" not in write.scale else f'"{write.scale}"'
    sizes = [f'{name} = "{size} mm"' for name, size in write.sizes.items()]
    sizes.append(f'half_span = "{next(iter(write.sizes))} / 2"')
    texts = [
        "format = 1",
        "[plan]\n" + "\n".join(plan),
        f'[sketch]\nunits = "{write.units}"\nscale = {scale}',
        "[sizes]\n" + "\n".join(sizes),
    ]
    if chance.random() < 0.6:
        cutting = [f'tool = "{chance.choice(("knife", "plotter", "laser"))}"']
        if chance.random() < 0.5:
            cutting.append(f'fit = "{chance.choice((-0.2, 0, 0.1, 0.3))} mm"')
        if chance.random() < 0.3:
            cutting.append('kerf = "0 mm"')
        texts.append("[cutting]\n" + "\n".join(cutting))
    return texts


def _tail(chance: random.Random, money: bool) -> list[str]:
    texts = []
    for name in chance.sample(("rubber band, 80 mm", "control horn", "hot glue", '=wire "1 mm"'), chance.randrange(3)):
        escaped = name.replace('"', '\\"')
        price = f"\nprice = {chance.choice((0.15, 2, 3.4))}" if money else ""
        texts.append(f'[[hardware]]\nname = "{escaped}"\ncount = {chance.randint(1, 9)}{price}')
    if chance.random() < 0.3:
        texts.append('[[revision]]\nletter = "B"\ndate = 2031-04-02\nwhat = "wider tail"')
    return texts


def _stock(chance: random.Random, name: str, money: bool) -> tuple[Stock, str]:
    thickness = chance.choice((1.5, 3, 5, 5.2, 6))
    margin = chance.choice((0, 2, 3, 6))
    gap = chance.choice((0, 1, 2, 4))
    grain = chance.choice(("none", "none", "x", "y"))
    first = chance.choice(((300, 200), (420, 297), (500, 350), (700, 500)))
    sizes = [first, *chance.sample(((250, 250), (350, 200), (500, 250), (600, 400)), chance.choice((0, 0, 1, 2)))]
    lines = ['material = "paper-faced foam board"', f'thickness = "{thickness} mm"']
    if chance.random() < 0.8:
        lines += [f'margin = "{margin} mm"', f'gap = "{gap} mm"']
    else:
        margin = 6
    if grain != "none" or chance.random() < 0.5:
        lines.append(f'grain = "{grain}"')
    lines.append("sheets = [\n" + "\n".join(f"  {_sheet(chance, size, money)}," for size in sizes) + "\n]")
    if chance.random() < 0.4:
        lines.append("offcuts = [" + ", ".join(_offcut(chance) for _ in range(chance.randint(1, 3))) + "]")
    if chance.random() < 0.2:
        lines.append("spare = 1")
    header = f"[stock.{name}]" if name.isascii() and " " not in name else f'[stock."{name}"]'
    stock = Stock(name, thickness, grain, (first[0] - 2 * margin, first[1] - 2 * margin))
    return stock, "\n".join((header, *lines))


def _sheet(chance: random.Random, size: tuple[int, int], money: bool) -> str:
    inches = chance.random() < 0.15
    words = f"{size[0] / IN:.3f} x {size[1] / IN:.3f} in" if inches else f"{size[0]} x {size[1]} mm"
    keys = [f'size = "{words}"']
    if money and chance.random() < 0.9:
        keys.append(f"price = {chance.randint(50, 900) / 100}")
        if chance.random() < 0.3:
            keys.append(f"sold_in = {chance.randint(2, 5)}")
    if chance.random() < 0.5:
        keys.append(f'mass = "{round(size[0] * size[1] / 2200)} g"')
    if chance.random() < 0.3:
        keys.append(f"on_hand = {chance.randint(1, 2)}")
    return "{ " + ", ".join(keys) + " }"


def _offcut(chance: random.Random) -> str:
    wide, high = chance.randint(40, 320), chance.randint(40, 180)
    count = f", count = {chance.randint(2, 3)}" if chance.random() < 0.3 else ""
    if chance.random() < 0.5:
        return f'{{ size = "{wide} x {high} mm"{count} }}'
    corners = [(10, -20), (10 + wide, -20), (10 + chance.randint(10, wide), -20 + high), (10, -20 + high // 2)]
    return '{ outline = "' + "; ".join(f"{x} mm, {y} mm" for x, y in corners) + f'"{count} }}'


def _part(chance: random.Random, write: Writer, name: str, stock: Stock, stocks: list[Stock]) -> str:
    lines = [f'stock = "{stock.name}"']
    grain = chance.choice(("any", "any", "x", "y"))
    turns = chance.choice(("none", "half", "quarter", "any", "quarter"))
    across = grain != "any" and stock.grain != "none" and grain != stock.grain
    if across and turns in ("none", "half"):
        turns = "quarter"
    face = chance.choice(("inner", "outer", "either", "inner"))
    for key, value, default in (("grain", grain, "any"), ("turns", turns, "quarter"), ("face", face, "inner")):
        if value != default or chance.random() < 0.2:
            lines.append(f'{key} = "{value}"')
    count = chance.choice((1, 1, 1, 2, 3, 8))
    if count > 1:
        lines.append(f"count = {count}")
    if chance.random() < 0.25:
        lines.append(f'pair = "{chance.choice(("left", "right"))}"')
    short = 0.8 * min(stock.room) - 14
    long = short if across else 0.9 * stock.room[0] - 14
    if count > 3:
        long = short = short / 3
    wide, high = chance.uniform(30, max(31, long)), chance.uniform(30, max(31, short))
    shape = chance.choice(SHAPES)(chance, write, wide, high, stocks)
    lines += shape.lines
    lines += _things_inside(chance, write, shape, stocks, face)
    if chance.random() < 0.25:
        lines.append(_place(chance, write))
    if chance.random() < 0.1:
        lines.append('cutting = { fit = "0.4 mm" }')
    header = f"[parts.{name}]" if name.isascii() and " " not in name else f'[parts."{name}"]'
    return "\n".join((header, *lines))


def _inset(box: Box, by: float) -> Box:
    return Box(box.x0 + by, box.y0 + by, box.x1 - by, box.y1 - by)


def _tab(write: Writer, x: str, y: str, length: float, stock: Stock) -> str:
    return f'{{ at = [{x}, {y}], length = {write.length(length)}, into = "{stock.name}" }}'


def _rectangle(chance: random.Random, write: Writer, wide: float, high: float, stocks: list[Stock]) -> Shape:
    w, h = write.axis(wide), write.axis(high)
    shape = Shape([f"rectangle = [{w}, {h}]"], _inset(Box(0, 0, wide, high), WEB))
    if chance.random() < 0.5:
        for x, y, edge in ((None, "0", wide), (None, h, wide), ("0", None, high), (w, None, high)):
            if chance.random() < 0.5:
                middle = write.length(edge * chance.uniform(0.4, 0.6))
                length = edge * chance.uniform(0.1, 0.6)
                shape.tabs.append(_tab(write, x or middle, y or middle, length, chance.choice(stocks)))
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
    shape = Shape([f"trapezoid = {{ {inner} }}"], _inset(Box(shift, 0, shift + top, high), WEB))
    if chance.random() < 0.5:
        shape.tabs.append(_tab(write, write.length(wide / 2), "0", wide / 4, chance.choice(stocks)))
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
    return Shape(_readings(chance, rows), Box(-half_w, -half_h, half_w, half_h))


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
    return Shape(_readings(chance, rows), Box(-half_w, -half_h, half_w, half_h))


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
    return Shape([f'mirrored = "{axis}"', *_readings(chance, rows)], inside)


def _readings(chance: random.Random, rows: list[str]) -> list[str]:
    if chance.random() < 0.15:
        return ['outline = "' + "; ".join(row.strip() for row in rows) + '"']
    noted = [row + ("  # read twice" if chance.random() < 0.1 else "") for row in rows]
    return ['outline = """', *noted, '"""']


SHAPES = (_rectangle, _rectangle, _rectangle, _disc, _trapezoid, _polygon, _plain_polygon, _smooth, _mirrored)


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


def _things_inside(
    chance: random.Random, write: Writer, shape: Shape, stocks: list[Stock], face: str
) -> list[str]:
    cutouts: list[str] = []
    slots = list(shape.slots)
    lines = []
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


def _place(chance: random.Random, write: Writer) -> str:
    along, upwards, out = (("aft", "fore"), ("up", "down"), ("right", "left"))
    first, second = chance.sample((along, upwards, out), 2)
    x, y = chance.choice(first), chance.choice(second)
    sideways = f", out = {write.length(chance.uniform(-60, 60))}" if chance.random() < 0.7 else ""
    at = write.point(chance.uniform(0, 300), chance.uniform(0, 90))
    return f'place = {{ at = {at}{sideways}, x = "{x}", y = "{y}" }}'
