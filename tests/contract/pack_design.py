"""Plain facts out of design.toml that need no sums: names, counts, boards, prices; what was built counts."""

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from pack_built import built_table

MM = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
}
_NUMBER = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d+\.\d*|\.\d+|\d+)"
_LENGTH = re.compile(rf"\s*(-?)({_NUMBER})\s*(mm|cm|m|in|ft)\s*\Z")
_SIZE = re.compile(rf"\s*({_NUMBER})\s*(mm|cm|m|in|ft)?\s*x\s*({_NUMBER})\s*(mm|cm|m|in|ft)\s*\Z")


def _fraction(text: str) -> Fraction:
    return sum((Fraction(word) for word in text.replace(". ", " ").split()), Fraction(0))


def true_length_mm(text: Any) -> float | None:
    """Return a literal true length in mm ("5 mm", "3/16 in", "1 1/16 in"), None for anything else."""
    match = _LENGTH.match(text) if isinstance(text, str) else None
    if not match:
        return None
    return float(_fraction(match[2].rstrip(".")) * MM[match[3]]) * (-1 if match[1] else 1)


def size_mm(text: Any) -> tuple[float, float] | None:
    """Return a literal size in mm ("700 x 500 mm", "20 x 30 in"), None for anything else."""
    match = _SIZE.match(text) if isinstance(text, str) else None
    if not match:
        return None
    first = _fraction(match[1].rstrip(".")) * MM[match[2] or match[4]]
    return float(first), float(_fraction(match[3].rstrip(".")) * MM[match[4]])


def outline_mm(text: Any) -> tuple[tuple[float, float], ...] | None:
    """Return an outline of plain true lengths ("0 mm, 0 mm; 300 mm, 0 mm; ..."), None for anything else."""
    if not isinstance(text, str):
        return None
    rows = [row for row in text.replace("\n", ";").split(";") if row.strip()]
    points = [tuple(true_length_mm(cell) for cell in row.split(",")) for row in rows]
    if len(points) < 3 or any(len(point) != 2 or None in point for point in points):
        return None
    return tuple(points)


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One size of a stock that can be bought, with how many are on hand, or an offcut (price None)."""

    size_mm: tuple[float, float] | None
    outline_mm: tuple[tuple[float, float], ...] | None = None
    price: Decimal | None
    sold_in: int
    on_hand: int
    offcut: bool

    @property
    def box_mm(self) -> tuple[float, float]:
        """Return the size, or that of the box round the outline."""
        if self.size_mm is not None:
            return self.size_mm
        along, across = zip(*(self.outline_mm or ()), strict=True)
        return max(along) - min(along), max(across) - min(across)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """What a stock of the design says of itself."""

    name: str
    thickness_mm: float | None
    margin_mm: float | None
    gap_mm: float | None
    grain: str
    spare: int
    boards: tuple[Board, ...]

    @property
    def priced(self) -> bool:
        """Tell whether every size that can be bought has a price."""
        return all(board.price is not None for board in self.boards if not board.offcut)


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignPart:
    """One part as the layout must list it; a pair gives two of these."""

    name: str
    stock: str
    count: int
    hand: str
    face: str
    grain: str
    turns: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """One line of hardware."""

    name: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """A value that was built otherwise than drawn, and why."""

    key: str
    value: Any
    why: str
    date: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """The facts of one design."""

    name: str
    title: str
    revision: str | None
    currency: str
    stocks: tuple[Stock, ...]
    parts: tuple[DesignPart, ...]
    hardware: tuple[Hardware, ...]
    text: str
    flies: bool = False  # it has a wing or tail
    generated: tuple[str, ...] = ()  # what the names of parts begin with that the design does not draw
    units: str = "mm"  # what the ruler on the sketch reads
    scale: float | None = None  # full size over sketch; None where it would have to be worked out
    licence: str = ""
    aboard: tuple[str, ...] = ()  # names of what is carried
    built: tuple[Built, ...] = ()
    revisions: tuple[tuple[str, str, str], ...] = ()  # letter, date and what changed

    @property
    def airframe(self) -> bool:
        """Tell whether the program makes parts of its own from surfaces, bodies, motors and the like."""
        return bool(self.generated)

    def makes(self, name: str) -> bool:
        """Tell whether a part may be one that the program made."""
        return name.startswith(tuple(f"{start}-" for start in self.generated))


def _boards(table: dict[str, Any]) -> tuple[Board, ...]:
    bought = [
        Board(
            size_mm=size_mm(entry.get("size")),
            price=None if entry.get("price") is None else Decimal(str(entry["price"])),
            sold_in=int(entry.get("sold_in", 1)),
            on_hand=int(entry.get("on_hand", 0)),
            offcut=False,
        )
        for entry in table.get("sheets", [])
    ]
    offcuts = [
        Board(
            size_mm=size_mm(entry.get("size")),
            outline_mm=outline_mm(entry.get("outline")),
            price=None,
            sold_in=1,
            on_hand=int(entry.get("count", 1)),
            offcut=True,
        )
        for entry in table.get("offcuts", [])
    ]
    return tuple(bought + offcuts)


def _stock(name: str, table: dict[str, Any], tool: str) -> Stock:
    default_margin = "3 mm" if tool == "knife" else "6 mm"
    return Stock(
        name=name,
        thickness_mm=true_length_mm(table.get("thickness")),
        margin_mm=true_length_mm(table.get("margin", default_margin)),
        gap_mm=true_length_mm(table["gap"]) if "gap" in table else None,
        grain=table.get("grain", "none"),
        spare=int(table.get("spare", 0)),
        boards=_boards(table),
    )


def _parts(name: str, table: dict[str, Any]) -> list[DesignPart]:
    hands = {f"{name}-right": "right", f"{name}-left": "left"} if table.get("pair") else {name: "none"}
    return [
        DesignPart(
            name=hand_name,
            stock=table["stock"],
            count=int(table.get("count", 1)),
            hand=hand,
            face=table.get("face", "inner"),
            grain=table.get("grain", "any"),
            turns=table.get("turns", "quarter"),
        )
        for hand_name, hand in hands.items()
    ]


def _generated(table: dict[str, Any]) -> tuple[str, ...]:
    """Parts are called after what asks for them: wing-skin, fuselage-side, motor-wing-firewall."""
    named = [*table.get("surface", {}), *table.get("body", {})]
    named += [f"motor-{name}" for name in table.get("motor", {})]
    return (*named, *(word for word in ("servo", "dowel") if table.get(word)))


def _plain(value: Any) -> float | None:
    return float(value) if isinstance(value, int | float) else None


def read_design(data: bytes) -> Design:
    """Read the facts; raises what tomllib raises, or KeyError, on a design that cannot have made a pack."""
    text = data.decode("utf-8-sig")
    table = built_table(text)
    plan = table["plan"]
    tool = table.get("cutting", {}).get("tool", "knife")
    return Design(
        name=plan["name"],
        text=text,
        flies=bool(table.get("surface")),
        generated=_generated(table),
        title=plan.get("title", ""),
        revision=plan.get("revision"),
        currency=plan.get("currency", ""),
        stocks=tuple(_stock(name, entry, tool) for name, entry in table.get("stock", {}).items()),
        parts=tuple(part for name, entry in table.get("parts", {}).items() for part in _parts(name, entry)),
        hardware=tuple(
            Hardware(name=entry["name"], count=int(entry.get("count", 1)))
            for entry in table.get("hardware", [])
        ),
        units=table.get("sketch", {}).get("units", "mm"),
        scale=_plain(table.get("sketch", {}).get("scale")),
        licence=plan.get("licence", ""),
        aboard=tuple(entry["name"] for entry in table.get("aboard", [])),
        built=tuple(
            Built(
                key=entry["key"].strip(),
                value=entry["value"],
                why=entry["why"],
                date=entry["date"].isoformat(),
            )
            for entry in table.get("built", [])
        ),
        revisions=tuple(
            (entry["letter"], entry["date"].isoformat(), entry["what"]) for entry in table.get("revision", [])
        ),
    )
