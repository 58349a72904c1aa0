"""Random designs in the design file's format: valid, mostly buildable, with every key that parts may have.

`random_design(seed)` gives the same text for the same seed.  Sizes are laid out in mm at full size and then
written the ways a builder may: sketch measures, true sizes in several units, fractions, sums with names.
"""

import random

from tests.fuzz.random_folds import bevel_an_edge, folded, long_part
from tests.fuzz.random_shapes import SHAPES
from tests.fuzz.random_things import place, things_inside
from tests.fuzz.random_writing import IN, Stock, Writer

#: share of parts that are longer than their sheets, and of the others that are folded
LONG = 0.08
FOLDED = 0.15
BEVELLED = 0.3

PLANTS = ("cordgrass", "sea-lavender", "glasswort", "thrift", "sea-aster", "samphire", "eelgrass", "sea-blite")
NAMES = ("rib", "side", "former", "deck", "floor", "wall", "skid", "fin", "lid", "spar", "Tray end", "queue-é", "щит")
STOCK_NAMES = ("board", "ply", "foam sheet", "Karton", "lime-3")


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
        tool = chance.choice(("knife", "plotter", "laser"))
        cutting = [f'tool = "{tool}"']
        if chance.random() < 0.5:
            cutting.append(f'fit = "{chance.choice((-0.2, 0, 0.1, 0.3))} mm"')
        if chance.random() < 0.5:
            cutting.append(f'kerf = "{chance.choice((0, 0.1, 0.3))} mm"')
        if tool != "knife" and chance.random() < 0.5:
            cutting.append(f'bed = "{chance.choice(("300 x 200", "250 x 400", "600 x 450"))} mm"')
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
    long = chance.random() < LONG
    count = chance.choice((1, 1, 1, 2, 3, 8)) if not long else 1
    if count > 1:
        lines.append(f"count = {count}")
    if chance.random() < 0.25:
        lines.append(f'pair = "{chance.choice(("left", "right"))}"')
    if long:
        pair = any(line.startswith("pair") for line in lines)
        lines += long_part(chance, write, stock, stocks, pair=pair, across=across)
    else:
        wide, high = _size(chance, stock, across, count)
        # what is worked on one face cannot be turned over
        if face != "either" and chance.random() < FOLDED:
            shape = folded(chance, write, wide, high, stock)
        else:
            shape = chance.choice(SHAPES)(chance, write, wide, high, stocks)
            if face != "either" and chance.random() < BEVELLED:
                bevel_an_edge(chance, shape)
        lines += shape.lines
        lines += things_inside(chance, write, shape, stocks, face)
    if chance.random() < 0.25:
        lines.append(place(chance, write))
    if chance.random() < 0.1:
        lines.append(chance.choice(('cutting = { fit = "0.4 mm" }', 'cutting = { kerf = "0.2 mm" }')))
    header = f"[parts.{name}]" if name.isascii() and " " not in name else f'[parts."{name}"]'
    return "\n".join((header, *lines))


def _size(chance: random.Random, stock: Stock, across: bool, count: int) -> tuple[float, float]:
    """Width and height of a part that fits the first sheet of its stock."""
    short = 0.8 * min(stock.room) - 14
    longest = short if across else 0.9 * stock.room[0] - 14
    if count > 3:
        longest = short = short / 3
    return chance.uniform(30, max(31, longest)), chance.uniform(30, max(31, short))
