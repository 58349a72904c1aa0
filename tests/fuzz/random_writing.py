"""Lengths, points and readings written the ways a builder may, and the shapes that they make up."""

import random
from dataclasses import dataclass, field

IN = 25.4
#: kept between the things that are cut in a part, and between them and its edge, mm
WEB = 2.5


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
        return number(mm / self.sketch_mm, 5)

    def true(self, mm: float) -> str:
        """A true size, without quotes."""
        unit, size = self.chance.choice((("mm", 1), ("mm", 1), ("cm", 10), ("in", IN)))
        return f"{number(mm / size, 4 if size > 1 else 3)} {unit}"

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
            return f"{number(mm / size, 6)} * {name}" if mm >= 0 else f"-({number(-mm / size, 6)} * {name})"
        if kind == 4:
            half = number(mm / 2, 4)
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
        return f'"{number(mm, 3)} mm"' if mm else "0"


def number(value: float, places: int) -> str:
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0", "-") else text


def _signed(mm: float) -> str:
    return f"{'-' if mm < 0 else '+'} {number(abs(mm), 4)} mm"


def _is_number(words: str) -> bool:
    return words.lstrip("-").replace(".", "", 1).isdigit()


def inset(box: Box, by: float) -> Box:
    return Box(box.x0 + by, box.y0 + by, box.x1 - by, box.y1 - by)


def tab(write: Writer, x: str, y: str, length: float, stock: Stock) -> str:
    return f'{{ at = [{x}, {y}], length = {write.length(length)}, into = "{stock.name}" }}'


def readings(chance: random.Random, rows: list[str]) -> list[str]:
    if chance.random() < 0.15:
        return ['outline = "' + "; ".join(row.strip() for row in rows) + '"']
    noted = [row + ("  # read twice" if chance.random() < 0.1 else "") for row in rows]
    return ['outline = """', *noted, '"""']
