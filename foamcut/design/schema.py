"""The keys of a design file: one strict model per table, the kind of every key, and its description.

What stands here is read by three others: `foamcut.design.structure` refuses unknown keys and wrong types,
`foamcut.design.reader` turns each key into a value by its kind, and `foamcut.design.json_schema` writes
the schema that editors read.  Numbers stay as typed; nothing here computes.
"""

import datetime
from typing import Annotated, Any, Literal

from pydantic import Field

from foamcut.design.airframe_tables import BodyTable, DowelTable, MotorTable, ServoTable, SurfaceTable
from foamcut.design.key_kinds import (
    Boards,
    Fit,
    Kerf,
    Kind,
    Mass,
    Money,
    Of,
    Range,
    Scraps,
    Size,
    Table,
    Text,
    Things,
    ThingsFrom0,
    TrueAbove0,
    TrueFrom0,
    TrueOutline,
    key,
)
from foamcut.design.part_tables import PartTable
from foamcut.design.setup_tables import AboardTable, BalanceTable, SiteTable, WeighedTable, WiringTable


class PlanTable(Table):
    """Who made the plan and what it is called; every sheet and page says so."""

    name: Text = key("Short name of the plan, as it stands on every sheet.", needed=True)
    title: Text = key("What it is, in a line.")
    revision: Text = key("Letter of this revision, such as A.")
    maker: Text = key("Who drew it.")
    currency: Text = key("What prices are in, such as EUR.")
    licence: Text = key("Under what licence others may use it. Empty: the pack says that none is stated.")


class SketchTable(Table):
    """What turns a bare number into a size."""

    units: Annotated[Literal["mm", "in"] | None, Of(Kind.WORD)] = key(
        "What the ruler on the sketch reads.", needed=True
    )
    scale: Annotated[Any, Of(Kind.SCALE, Range.ABOVE_0)] = key(
        "How many times full size is larger than the sketch: 8 for a sketch at 1:8.", needed=True
    )


class CuttingTable(Table):
    """The tool, and what it takes."""

    tool: Annotated[Literal["knife", "plotter", "laser"] | None, Of(Kind.WORD)] = key(
        "What cuts: it sets fit and margin when left out, and the cautions that are printed. Default knife."
    )
    kerf: Kerf = key(
        "Full width of what the tool removes, at most 3 mm: DXF and SVG lines move by half of it. Default 0."
    )
    fit: Fit = key(
        "Added to width and length of every slot. When left out: 0.2 mm for a knife, 0 for plotter and laser."
    )
    bed: Size = key(
        'Plotter, laser: what the machine takes, where it is smaller than the board, such as "400 x 300 mm".'
    )


class SheetTable(Table):
    """A size that can be bought."""

    size: Size = key('Width x height, such as "700 x 500 mm" or "20 x 30 in".', needed=True)
    mass: Mass = key('Mass of one board, weighed, such as "158 g".')
    price: Money = key("Price of one board, in the currency of [plan].")
    sold_in: Things = key("Boards in a pack, where only whole packs are sold. Default 1.")
    on_hand: Boards = key("How many of them lie on the shelf. Default 0.")


class VoidTable(Table):
    """A hole in a scrap."""

    outline: TrueOutline = key("Its corners, like those of the scrap.", needed=True)


class OffcutTable(Table):
    """A scrap on the shelf."""

    one_of = ("size", "outline")

    size: Size = key('Width x height of a rectangular scrap, such as "320 x 180 mm".')
    outline: TrueOutline = key('Corners of any other scrap: "0 mm, 0 mm; 300 mm, 0 mm; 120 mm, 200 mm".')
    voids: list[VoidTable] | None = key("Holes in it: nothing is laid over them.")
    count: Scraps = key("How many scraps of this shape there are. Default 1.")


class StockTable(Table):
    """A kind of sheet: what it is, how thick, how large."""

    material: Text = key("What it is, for the shopping list.", needed=True)
    thickness: TrueAbove0 = key("Thickness as measured, not as labelled; slots are cut to it.", needed=True)
    margin: TrueFrom0 = key(
        "Kept free along every edge. Left out: 3 mm for a knife, 6 for plotter and laser."
    )
    gap: TrueFrom0 = key("Kept between two pieces. Default 2 mm.")
    grain: Annotated[Literal["none", "x", "y"] | None, Of(Kind.WORD)] = key(
        "Whether the grain runs along the first (x) or the second (y) number of a size. Default none."
    )
    sheets: list[SheetTable] | None = key("Every size that can be bought, the usual one first.")
    offcuts: list[OffcutTable] | None = key("Scraps to be used up first.")
    spare: Boards = key("Boards over the count, shown apart. Default 0.")


class HardwareTable(Table):
    """Something to buy that is not cut from sheet."""

    name: Text = key("What it is, with its size.", needed=True)
    count: Things = key("How many. Default 1.")
    size: Text = key("Its size in words, for the shopping list.")
    price: Money = key("Price of one, in the currency of [plan].")
    sold_in: Things = key("How many in a pack, where only whole packs are sold. Default 1.")
    on_hand: ThingsFrom0 = key("How many are there already. Default 0.")


class RevisionTable(Table):
    """A line of the list of changes."""

    letter: Text = key("Letter of the revision.", needed=True)
    date: Annotated[datetime.date | None, Of(Kind.DATE)] = key(
        "Day, such as 2031-04-02, without quotes.", needed=True
    )
    what: Text = key("What was changed.", needed=True)


class BuiltTable(Table):
    """A value that was built otherwise than drawn."""

    name: Text = Field(
        default=None,
        alias="key",
        description='What was built otherwise: a size or a key, such as "half_span".',
        json_schema_extra={"needed": True},
    )
    value: Annotated[Any, Of(Kind.ANYTHING)] = key("What was built, as that key takes it.", needed=True)
    why: Text = key("Why.", needed=True)
    date: Annotated[datetime.date | None, Of(Kind.DATE)] = key(
        "Day, such as 2031-04-02, without quotes.", needed=True
    )


class DesignTable(Table):
    """A whole design file."""

    some_of = ("parts", "surface", "body")

    format: Annotated[Any, Of(Kind.FORMAT)] = key("Version of the file's format: 1.", needed=True)
    plan: PlanTable | None = key("Who made the plan and what it is called.", needed=True)
    sketch: SketchTable | None = key("What turns a bare number into a size.", needed=True)
    sizes: Annotated[dict[str, Any] | None, Of(Kind.NAMES)] = key(
        "Measures that are used more than once, each under a name: lower-case letters, digits and _."
    )
    cutting: CuttingTable | None = key("The tool, and what it takes.")
    stock: dict[str, StockTable] | None = key("Kinds of sheet, by name: [stock.board].", needed=True)
    parts: dict[str, PartTable] | None = key("Parts drawn by hand, by name: [parts.side].")
    surface: dict[str, SurfaceTable] | None = key("Wings and tails, by name: [surface.wing].")
    body: dict[str, BodyTable] | None = key("Bodies, by name: [body.fuselage].")
    motor: dict[str, MotorTable] | None = key("Motors, by name: [motor.wing], [motor.nose].")
    servo: list[ServoTable] | None = key("Servos: [[servo]].")
    dowel: list[DowelTable] | None = key("Dowels: [[dowel]].")
    aboard: list[AboardTable] | None = key("What else is carried: [[aboard]].")
    site: SiteTable | None = key("Where it is flown.")
    balance: BalanceTable | None = key("Where it shall balance, what it shall bear, paint and glue.")
    wiring: WiringTable | None = key("How packs feed motors and the receiver.")
    weighed: WeighedTable | None = key("What was put on the scales.")
    hardware: list[HardwareTable] | None = key("What else is bought: [[hardware]].")
    built: list[BuiltTable] | None = key("What was built otherwise than drawn: [[built]].")
    revision: list[RevisionTable] | None = key("List of changes: [[revision]].")
