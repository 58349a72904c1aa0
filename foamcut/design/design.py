"""A design read: bytes of a file in, values in mm out, or every refusal of the first step that has any.

Of the four steps of reading, two are taken here: text and TOML; keys, kinds, names and sums.  The third,
geometry, begins here with the offcuts and goes on where parts are built.
"""

import datetime
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from foamcut.airframe.values import Inputs
from foamcut.design.airframe import read_airframe
from foamcut.design.built import BuiltValue, rows_beside, with_built
from foamcut.design.changes import Change, changed_data
from foamcut.design.keys import key_of, path_of
from foamcut.design.lines import rows_with_lines
from foamcut.design.literals import SumError, quoted
from foamcut.design.measures import describe, read_scale
from foamcut.design.offcuts import with_offcuts
from foamcut.design.parts import read_parts
from foamcut.design.reader import Reader, SizeRow
from foamcut.design.schema import DesignTable, HardwareTable, PlanTable, RevisionTable, SketchTable
from foamcut.design.setting import Setting
from foamcut.design.setup import read_setup, with_balance_mark
from foamcut.design.stocks import Cutting, Tool, read_cutting, read_stocks
from foamcut.design.structure import Path, checked
from foamcut.design.sums import Kind, resolve_sizes
from foamcut.design.text import Document, TextErrors, read_document
from foamcut.errors import Refusal, Refused
from foamcut.flat.drawn import DrawnPart
from foamcut.flat.stock import Stock
from foamcut.flight.values import Setup
from foamcut.units import MM_PER, decimal_text

FORMAT = 1
MAX_READING_SHOWN = 40  # letters of a reading that is shown before what is wrong with it
MAX_SHOWN = 200  # refusals: more would hide the first ones


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What a plan says of itself, and the sketch that it was measured on.

    `units` is what the sketch's ruler reads (``mm`` or ``in``); one on the sketch is `scale` at full size.
    """

    name: str
    title: str
    revision: str
    maker: str
    currency: str
    licence: str
    units: str
    scale: float
    tool: Tool
    fit_mm: float
    kerf_mm: float = 0.0
    bed_mm: tuple[float, float] | None = None  # width and height of the machine's bed

    @property
    def places(self) -> str:
        """What places in refusals and findings are measured in; empty where the sketch is at full size."""
        if self.scale == 1:
            return ""
        one = f"one on the sketch is {decimal_text(self.scale, 6)}"
        if self.units != "mm":
            full = decimal_text(self.scale * MM_PER[self.units], 4)
            one = f"one inch on the sketch is {full} mm"
        return f"places are in mm at full size; {one}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """Something to buy that is not cut from sheet; price of one, None when it is not known."""

    key: str
    name: str
    count: int
    size: str = ""
    price: Decimal | None = None
    sold_in: int = 1
    on_hand: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """A line of the list of changes."""

    letter: str
    date: datetime.date
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A design whose text, keys, names and sums are in order; its parts are drawn, not yet built."""

    file_name: str
    plan: Plan
    stocks: tuple[Stock, ...]
    parts: tuple[DrawnPart, ...]
    hardware: tuple[Hardware, ...]
    revisions: tuple[Revision, ...]
    sizes_table: tuple[SizeRow, ...]
    document: Document
    airframe: Inputs = field(default_factory=Inputs)
    setup: Setup = field(default_factory=Setup)
    built: tuple[BuiltValue, ...] = ()

    @property
    def name(self) -> str:
        """The plan's short name."""
        return self.plan.name

    def line_of(self, key: str) -> int | None:
        """The line of a key in the file, from 1; of the nearest key around it when it is not there."""
        return self.document.line_of(key)

    def with_lines(self, refusals: Iterable[Refusal]) -> tuple[Refusal, ...]:
        """The refusals with their lines, in the order of the file."""
        return _by_line(refusals, self.document)


def read_design(data: bytes, file_name: str, changes: Sequence[Change] = ()) -> Design:
    """Read a design file, with some of its values changed.

    Raises
    ------
    Refused
        With every refusal of the first step that has any, by line.
    """
    try:
        document = read_document(data)
    except TextErrors as err:
        faults = (Refusal(key=f.key, text=f.text, line=f.line) for f in err.refusals)
        raise Refused(faults, later_steps=True) from None
    data_as_built, built, not_built = with_built(document.data)
    document = replace(
        document,
        data=changed_data(data_as_built, changes),
        moved=tuple((one.path, path_of(one.key)) for one in built),
    )
    tables, refusals, gone = checked(document.data)
    refusals += not_built
    reader = _reader(tables, document.data, refusals)
    cutting = read_cutting(tables.cutting, reader)
    plan = _plan(tables, cutting, reader)
    drawn = read_stocks(tables.stock or {}, cutting.tool, reader)
    setting = Setting(stocks=drawn, stock_names=_names_in(document.data, "stock"), cutting=cutting, gone=gone)
    parts = read_parts(tables.parts or {}, setting, reader)
    airframe = read_airframe(tables, setting, reader)
    motors = document.data.get("motor")
    setup = read_setup(tables, tuple(motors) if isinstance(motors, dict) else (), setting, reader)
    airframe = with_balance_mark(airframe, tables, setup.wishes.target, gone, reader)
    hardware = tuple(_hardware(t, ("hardware", i), reader) for i, t in enumerate(tables.hardware or ()))
    revisions = tuple(_revision(t, ("revision", i), reader) for i, t in enumerate(tables.revision or ()))
    for i, table in enumerate(tables.built or ()):
        reader.text(table, ("built", i), "why")
    if reader.refusals:
        raise Refused(_by_line(reader.refusals, document), later_steps=True)
    try:
        stocks = with_offcuts(drawn.values())
    except Refused as err:
        raise Refused(_by_line(err.refusals, document), later_steps=True) from None
    return Design(
        file_name=file_name,
        plan=plan,
        stocks=stocks,
        parts=parts,
        hardware=hardware,
        revisions=revisions,
        sizes_table=rows_beside(reader.rows, built),
        document=document,
        airframe=airframe,
        setup=setup,
        built=built,
    )


def _by_line(refusals: Iterable[Refusal], document: Document) -> tuple[Refusal, ...]:
    several = list(refusals)
    more = len(several) - MAX_SHOWN
    readings: dict[Path, list[str]] = {}
    lined = (
        replace(
            r,
            line=document.line_of(r.key) if r.line is None else r.line,
            text=_reading_before(r, document, readings) + r.text,
        )
        for r in several[:MAX_SHOWN]
    )
    ordered = sorted(lined, key=lambda r: r.line or 0)
    if more > 0:
        text = f"{more:,} more of the design's keys are refused; mend these first"
        ordered.append(Refusal(key="", text=text, line=ordered[-1].line))
    return tuple(ordered)


def _reading_before(refusal: Refusal, document: Document, readings: dict[Path, list[str]]) -> str:
    """The reading that a refusal is about, to stand before its words: nobody counts rows from 0.

    Nothing when it is no row of an outline or of a body's side, when the words show it already, or when it
    is long.
    """
    path = path_of(refusal.key)
    tables = ("outline", "side") if path[:1] == ("body",) else ("outline",)
    at = next((i for i in range(1, len(path)) if path[i - 1] in tables and isinstance(path[i], int)), None)
    if at is None:
        return ""
    if path[:at] not in readings:
        raw: Any = document.data
        for step in path[:at]:
            try:
                raw = raw[step]
            except (KeyError, IndexError, TypeError):
                return ""
        readings[path[:at]] = [row for row, _ in rows_with_lines(raw)] if isinstance(raw, str) else []
    rows, index = readings[path[:at]], path[at]
    row = " ".join(rows[index].split()) if isinstance(index, int) and index < len(rows) else ""
    shown = f"({row}): "
    if not row or len(row) > MAX_READING_SHOWN or not row.isprintable():
        return ""
    return "" if refusal.text.startswith((shown, quoted(rows[int(index)]))) else shown


def _names_in(data: Mapping[str, Any], table: str) -> tuple[str, ...] | None:
    """The names of the tables in a table, without spaces round them; None when these are no tables."""
    named = data.get(table)
    if not isinstance(named, dict) or not any(isinstance(one, dict | list) for one in named.values()):
        return None
    return tuple(name.strip() for name in named)


def _reader(tables: DesignTable, data: Mapping[str, Any], refusals: list[Refusal]) -> Reader:
    """A reader against the sketch and the named sizes; what cannot be read counts as 1 mm to 1 mm."""
    sketch = tables.sketch or SketchTable()
    found = list(refusals)
    rows: list[SizeRow] = []
    if tables.format is not None and not _is_format(tables.format):
        found.append(
            Refusal(key="format", text=f"{describe(tables.format)} cannot be read by this version; write 1")
        )
    scale = Fraction(1)
    if sketch.scale is not None:
        try:
            scale = Fraction(read_scale(sketch.scale))
            rows.append(SizeRow.of_number(("sketch", "scale"), sketch.scale))
        except SumError as err:
            found.append(Refusal(key="sketch.scale", text=str(err)))
    units = sketch.units or "mm"
    sizes, refused = resolve_sizes(tables.sizes or {}, scale, sketch_unit_mm=MM_PER[units])
    found.extend(Refusal(key=key, text=text) for key, text in refused)
    reader = Reader(sizes=sizes, scale=scale, units=units, refusals=found, rows=rows)
    for name, value in sizes.items():
        if value.kind is not Kind.REFUSED:
            reader.length((tables.sizes or {})[name], ("sizes", name))
    return reader


def _is_format(raw: object) -> bool:
    return raw == FORMAT and isinstance(raw, int) and not isinstance(raw, bool)


def _plan(tables: DesignTable, cutting: Cutting, reader: Reader) -> Plan:
    table, path = tables.plan or PlanTable(), ("plan",)
    return Plan(
        name=reader.name(table, path, "name"),
        title=reader.name(table, path, "title"),
        revision=reader.text(table, path, "revision", 40),
        maker=reader.name(table, path, "maker"),
        currency=reader.text(table, path, "currency", 40),
        licence=reader.name(table, path, "licence"),
        units=reader.units,
        scale=float(reader.scale),
        tool=cutting.tool,
        fit_mm=cutting.fit_mm,
        kerf_mm=cutting.kerf_mm,
        bed_mm=cutting.bed_mm,
    )


def _hardware(table: HardwareTable, path: Path, reader: Reader) -> Hardware:
    return Hardware(
        key=key_of(path),
        name=reader.name(table, path, "name"),
        count=reader.count(table, path, "count", 1),
        size=reader.name(table, path, "size"),
        price=reader.money(table, path, "price"),
        sold_in=reader.count(table, path, "sold_in", 1),
        on_hand=reader.count(table, path, "on_hand", 0),
    )


def _revision(table: RevisionTable, path: Path, reader: Reader) -> Revision:
    return Revision(
        letter=reader.text(table, path, "letter", 40),
        date=table.date or datetime.date.min,
        what=reader.text(table, path, "what"),
    )
