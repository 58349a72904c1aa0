"""Random parts that are folded or bevelled, or longer than their sheets."""

import math
import random

from tests.fuzz.random_writing import WEB, Box, Shape, Stock, Writer, inset, number, readings


def folded(chance: random.Random, write: Writer, wide: float, high: float, stock: Stock) -> Shape:
    """A rectangle with one to three folds right across it, as far apart as their cuts need."""
    shape = Shape([f"rectangle = [{write.axis(wide)}, {write.axis(high)}]"], inset(Box(0, 0, wide, high), WEB))
    folds: list[str] = []
    panel = chance.uniform(8, 20)  # what is left uncut before the next fold
    at = panel
    for _ in range(chance.randint(1, 3)):
        words, (before, behind) = _fold_words(chance, write, stock)
        line = at + before
        if line + behind + panel > wide:
            break
        up = chance.random() < 0.5  # the other way round the cuts lie on the other side
        line = line if up else at + behind
        ends = [write.point(line, -1), write.point(line, high + 1)]
        start, end = ends if up else ends[::-1]
        side = chance.choice(("", ', side = "up"', ', side = "down"'))
        folds.append(f"{{ {words}, from = {start}, to = {end}{side} }}")
        at += before + behind + panel
    if folds:
        shape.lines.append("folds = [\n" + "\n".join(f"  {fold}," for fold in folds) + "\n]")
        shape.inside.x0 = at - panel + WEB
    return shape


def _fold_words(chance: random.Random, write: Writer, stock: Stock) -> tuple[str, tuple[float, float]]:
    """The keys of a fold without its line, and how far it is cut left and right of it."""
    t = stock.thickness
    kind = chance.choice(("score", "groove", "wrap", "roll", "hinge", "strip"))
    if kind == "score":
        turn = chance.choice(("10", '"30 deg"', "90"))
        return f'kind = "score", turn = {turn}', (0, 0)
    if kind == "groove":
        angle, extra = chance.choice((20, 45, 90)), chance.choice((0, 0, 5))
        mouth = t * math.tan(math.radians(angle + extra) / 2)
        more = f", groove_extra = {extra}" if extra else ""
        return f'kind = "groove", turn = {angle}{more}', (mouth, mouth)
    if kind == "wrap":
        lands = chance.choice(("", f', lands = "{stock.name}"', ', fold_at = "near"'))
        return f'kind = "wrap"{lands}', (t, 0)
    if kind == "roll":
        radius, angle = t * chance.uniform(3.5, 6), chance.choice((30, 60))
        every = f", every = {write.length(t * 1.5)}" if chance.random() < 0.5 else ""
        words = f'kind = "roll", turn = {angle}, radius = {write.length(radius)}{every}'
        return words, (radius * math.radians(angle), 0)
    if kind == "strip":
        band = t * chance.uniform(1, 3)
        far = chance.choice(("", ", far_turn = 60", ', far_turn = "90 deg"'))
        return f'kind = "strip", turn = 90, band = "{number(band, 3)} mm"{far}', (band, 0)
    bevel = chance.choice((0, 30, 45))
    return f'kind = "hinge", bevel = {bevel}', (t * math.tan(math.radians(bevel)), 0)


def bevel_an_edge(chance: random.Random, shape: Shape) -> None:
    """One straight edge is cut on a slope, where the shape is given by readings that have one."""
    rows = [i for i, line in enumerate(shape.lines) if line.startswith("  ") and "," in line]
    rows = [i for i in rows if not any(word in shape.lines[i] for word in ("through", "smooth", "#"))]
    if shape.lines[0].startswith("mirrored"):
        rows = rows[:-1]  # no edge leaves the last point of a half
    if len(rows) > 2:
        row = chance.choice(rows)
        word, angle = chance.choice(("bevel", "bevel_back")), chance.choice(("10", "20", "30 deg"))
        shape.lines[row] += f" {word} {angle}"


def long_part(
    chance: random.Random, write: Writer, stock: Stock, stocks: list[Stock], *, pair: bool, across: bool
) -> list[str]:
    """A part longer than its first sheet: whoever joins it finds room between what little is cut in it."""
    t = stock.thickness
    along, up = stock.room[::-1] if across else stock.room  # as the grain lets it lie
    wide = along * chance.uniform(1.05, 2.2)
    high = min(0.9 * up, chance.uniform(8 * t + 10, 120))
    if chance.random() < 0.5:
        lines = [f"rectangle = [{write.axis(wide)}, {write.axis(high)}]"]
    else:
        rows = [(0, 0), (wide, high * 0.2), (wide, high), (wide * 0.4, high * 1.1), (0, high)]
        lines = readings(chance, [f"  {write.words(x)}, {write.words(y)}" for x, y in rows])
    if chance.random() < 0.4:
        middle = write.point(t * 1.5 + 6, high / 2)
        lines.append(f"cutouts = [ {{ circle = {write.length(6)}, at = {middle} }} ]")
    marks = [f"{{ line = [{write.point(0, high / 3)}, {write.point(wide, high / 3)}] }}"]
    if chance.random() < 0.3:
        marks.append(f"{{ circle = 4, at = {write.point(wide - 12, high * 0.7)}, clear = true }}")
    lines.append(f"marks = [ {', '.join(marks)} ]")
    if chance.random() < 0.3 and wide < 1.8 * along:
        hand = f', hand = "{chance.choice(("left", "right"))}"' if pair and chance.random() < 0.5 else ""
        lines.append(f"joints = [ {{ x = {write.length(wide / 2)}{hand} }} ]")
    if chance.random() < 0.3:
        lines.append(f"keep_clear = [ {{ x = [{write.length(wide * 0.9)}, {write.length(wide * 0.95)}] }} ]")
    if chance.random() < 0.4:
        keys = [f'overlap = "{number(8 * t, 3)} mm"', f'inset = "{number(t / 2, 3)} mm"', f'taper = "{number(2 * t, 3)} mm"']
        keys += [f'stock = "{chance.choice(stocks).name}"']
        lines.append("doubler = { " + ", ".join(chance.sample(keys, chance.randint(1, 4))) + " }")
    return lines
