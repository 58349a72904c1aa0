"""Stock as the design gives it: thickness, sheets, offcuts, and the defaults that the tool sets."""

import math
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from enum import Enum

from foamcut.design.keys import key_of
from foamcut.design.literals import near, quoted
from foamcut.design.outline_table import read_outline
from foamcut.design.reader import Reader
from foamcut.design.schema import CuttingTable, OffcutTable, SheetTable, StockTable
from foamcut.design.structure import Path
from foamcut.flat.drawn import Grain, Readings, Rectangle
from foamcut.flat.stock import SheetSize

#: the longest side of a sheet, mm
LONGEST_SHEET_MM = 5000.0
#: between two pieces when the design does not say (common practice, no source)
GAP_MM = 2.0


SCRAP_IS_SQUARE = "the edges of a scrap are taken as square"


class Tool(Enum):
    """What cuts."""

    KNIFE = "knife"
    PLOTTER = "plotter"
    LASER = "laser"

    @property
    def fit_mm(self) -> float:
        """Slots are that much wider than what they take, unless the design says otherwise."""
        return 0.2 if self is Tool.KNIFE else 0.0

    @property
    def margin_mm(self) -> float:
        """Kept free along every edge of a sheet, unless the design says otherwise."""
        return 3.0 if self is Tool.KNIFE else 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """The tool, what it removes, what is added to every slot, and the machine's bed, if it has one."""

    tool: Tool
    fit_mm: float
    kerf_mm: float
    bed_mm: tuple[float, float] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnOffcut:
    """A scrap before its outline is built."""

    key: str
    shape: Readings | Rectangle
    voids: tuple[Readings, ...]
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnStock:
    """A kind of sheet before the outlines of its offcuts are built."""

    key: str
    name: str
    material: str
    thickness_mm: float
    margin_mm: float
    gap_mm: float
    grain: Grain
    sheets: tuple[SheetSize, ...]
    offcuts: tuple[DrawnOffcut, ...]
    spare: int


#: stands for a stock that was refused
NO_STOCK = DrawnStock(
    key="",
    name="",
    material="",
    thickness_mm=math.nan,
    margin_mm=math.nan,
    gap_mm=math.nan,
    grain=Grain.ANY,
    sheets=(),
    offcuts=(),
    spare=0,
)


def read_cutting(table: CuttingTable | None, reader: Reader) -> Cutting:
    """What [cutting] says, with the defaults of its tool."""
    table = table or CuttingTable()
    tool = Tool(table.tool or "knife")
    path: Path = ("cutting",)
    return Cutting(
        tool=tool,
        fit_mm=reader.mm(table, path, "fit", tool.fit_mm),
        kerf_mm=reader.mm(table, path, "kerf", 0.0),
        bed_mm=_bed(table, tool, path, reader),
    )


def _bed(table: CuttingTable, tool: Tool, path: Path, reader: Reader) -> tuple[float, float] | None:
    if table.bed is None:
        return None
    bed = reader.size(table, path, "bed")
    _refuse_long(bed, (*path, "bed"), reader)
    if tool is Tool.KNIFE:
        said = "the tool is a knife" if table.tool else "no tool is given, which means a knife"
        reader.refuse(
            (*path, "bed"),
            f"{said}, and a knife has no bed: it goes wherever the sheet lies; "
            'take this key out, or write tool = "plotter" or tool = "laser"',
        )
    return bed


def read_stocks(tables: Mapping[str, StockTable], tool: Tool, reader: Reader) -> dict[str, DrawnStock]:
    """Every kind of sheet, by name."""
    return {name: _stock(name, table, tool, reader) for name, table in tables.items()}


def _stock(name: str, table: StockTable, tool: Tool, reader: Reader) -> DrawnStock:
    path: Path = ("stock", name)
    thickness = reader.mm(table, path, "thickness")
    margin = reader.mm(table, path, "margin", tool.margin_mm)
    return DrawnStock(
        key=key_of(path),
        name=name,
        material=reader.text(table, path, "material"),
        thickness_mm=thickness,
        margin_mm=margin,
        gap_mm=reader.mm(table, path, "gap", GAP_MM),
        grain=Grain.ANY if table.grain in (None, "none") else Grain(table.grain),
        sheets=tuple(
            _sheet(sheet, (*path, "sheets", i), margin, reader) for i, sheet in enumerate(table.sheets or ())
        ),
        offcuts=tuple(
            _offcut(offcut, (*path, "offcuts", i), reader) for i, offcut in enumerate(table.offcuts or ())
        ),
        spare=reader.count(table, path, "spare", 0),
    )


def _sheet(table: SheetTable, path: Path, margin_mm: float, reader: Reader) -> SheetSize:
    width, height = reader.size(table, path, "size")
    _refuse_long((width, height), (*path, "size"), reader)
    if min(width, height) <= 2 * margin_mm:
        reader.refuse(
            (*path, "size"),
            f"nothing is left inside a margin of {margin_mm:g} mm along every edge; "
            "write a larger size or a smaller margin",
        )
    return SheetSize(
        key=key_of(path),
        width_mm=width,
        height_mm=height,
        mass_g=reader.measured(table, path, "mass"),
        price=reader.money(table, path, "price"),
        sold_in=reader.count(table, path, "sold_in", 1),
        on_hand=reader.count(table, path, "on_hand", 0),
    )


def _offcut(table: OffcutTable, path: Path, reader: Reader) -> DrawnOffcut:
    shape: Readings | Rectangle
    if table.size is not None:
        width, height = reader.size(table, path, "size")
        shape = Rectangle(key=key_of(path), width_mm=width, height_mm=height)
        sides = [width, height]
    else:
        shape = Readings(key=key_of((*path, "outline")), points=())
        if table.outline is not None:
            shape = read_outline(
                table.outline, (*path, "outline"), reader, true_size=True, square=SCRAP_IS_SQUARE
            )
        sides = [_extent(point.at[axis] for point in shape.points) for axis in (0, 1)]
    _refuse_long(sides, path, reader)
    voids = tuple(
        read_outline(void.outline, (*path, "voids", i, "outline"), reader, true_size=True)
        for i, void in enumerate(table.voids or ())
        if void.outline is not None
    )
    return DrawnOffcut(
        key=key_of(path), shape=shape, voids=voids, count=reader.count(table, path, "count", 1)
    )


def _extent(values: Iterable[float]) -> float:
    several = list(values)
    return max(several) - min(several) if several else 0.0


def _refuse_long(sides: Iterable[float], path: Path, reader: Reader) -> None:
    longest = max(sides)
    if longest > LONGEST_SHEET_MM:
        reader.refuse(
            path, f"a side of {longest:g} mm is over {LONGEST_SHEET_MM:g} mm; check it and its unit"
        )


def stock_named(
    name: str,
    path: Path,
    stocks: Mapping[str, DrawnStock],
    known: Collection[str] | None,
    reader: Reader,
) -> DrawnStock | None:
    """The stock of that name; refused when there is none.

    `known` are all names in the file, also of tables that were refused themselves; None when there is no
    table of stocks to look into, which was told before.
    """
    found = stocks.get(name)
    if found is None and name and known is not None and name not in known:
        hint = near(name, stocks) or (f"; known are {', '.join(stocks)}" if stocks else "")
        reader.refuse(path, f"there is no stock {quoted(name)}{hint}")
    return found
