"""The keys of a design file: one strict model per table, the kind of every key, and its description.

What stands here is read by three others: `foamcut.design.structure` refuses unknown keys and wrong types,
`foamcut.design.reader` turns each key into a value by its kind, and `foamcut.design.json_schema` writes
the schema that editors read.  Numbers stay as typed; nothing here computes.
"""

import datetime
from dataclasses import dataclass
from enum import Enum
from functools import cache
from typing import Annotated, Any, ClassVar, Literal, get_args, get_origin

from pydantic import BaseModel, ConfigDict, Field
from pydantic.fields import FieldInfo


class Kind(Enum):
    """What a key holds, and so how its number is read."""

    TEXT = "text"
    WORD = "one of a few words"
    FLAG = "true or false"
    DATE = "date"
    FORMAT = "format number"
    SCALE = "factor from the sketch to full size"
    LENGTH = "length: a bare number is a sketch measure"
    TRUE_LENGTH = "true length: a unit is a must"
    SIZE = "two true lengths in one text"
    RATIO = "share"
    ANGLE = "angle in degrees"
    COUNT = "whole number"
    MONEY = "price"
    MASS = "mass: a unit is a must"
    POINT = "two lengths"
    POINTS = "list of two or more points"
    PAIR = "width and height"
    OUTLINE = "table or list of points"
    TRUE_OUTLINE = "table or list of points, every length with its unit"
    DIRECTION = "word or three numbers"
    NAMES = "named sizes"


class Range(Enum):
    """Which numbers a key takes; lengths in mm at full size."""

    ANY = "any number"
    ABOVE_0 = "above 0"
    FROM_0 = "0 or more"
    FROM_1 = "1 or more"
    FIT = "from -1 mm to 3 mm"
    SHARE = "from 0 to 1 (0 % to 100 %)"


@dataclass(frozen=True, slots=True)
class Of:
    """Kind and range of a key; `most` is the highest count that is read."""

    kind: Kind
    range: Range = Range.ANY
    most: int | None = None


class Holds(Enum):
    """How a key holds tables."""

    ONE = "a table"
    LIST = "a list of tables"
    NAMED = "tables by name"


@dataclass(frozen=True, slots=True)
class Key:
    """A key of a table: its word in the file and its attribute in the model.

    Either `of` says what value it holds, or `table` and `holds` what tables.
    """

    word: str
    attribute: str
    description: str
    needed: bool
    of: Of | None
    table: "type[Table] | None"
    holds: Holds | None
    words: tuple[str, ...] = ()


class Table(BaseModel):
    """A table of the design file.  `later` names the keys that a later version reads."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)
    later: ClassVar[tuple[str, ...]] = ()
    #: of these keys exactly one is given
    one_of: ClassVar[tuple[str, ...]] = ()


def key(description: str, *, needed: bool = False) -> Any:
    """A key that may be left out; `needed` ones are refused later when missing, together with the rest."""
    return Field(default=None, description=description, json_schema_extra={"needed": needed})


Text = Annotated[str | None, Of(Kind.TEXT)]
Flag = Annotated[bool | None, Of(Kind.FLAG)]
Length = Annotated[Any, Of(Kind.LENGTH)]
LengthAbove0 = Annotated[Any, Of(Kind.LENGTH, Range.ABOVE_0)]
TrueFrom0 = Annotated[Any, Of(Kind.TRUE_LENGTH, Range.FROM_0)]
TrueAbove0 = Annotated[Any, Of(Kind.TRUE_LENGTH, Range.ABOVE_0)]
Fit = Annotated[Any, Of(Kind.TRUE_LENGTH, Range.FIT)]
Size = Annotated[Any, Of(Kind.SIZE, Range.ABOVE_0)]
Share = Annotated[Any, Of(Kind.RATIO, Range.SHARE)]
Angle = Annotated[Any, Of(Kind.ANGLE)]
Copies = Annotated[Any, Of(Kind.COUNT, Range.FROM_1, 5000)]
Boards = Annotated[Any, Of(Kind.COUNT, Range.FROM_0, 200)]
Scraps = Annotated[Any, Of(Kind.COUNT, Range.FROM_1, 200)]
Things = Annotated[Any, Of(Kind.COUNT, Range.FROM_1, 100000)]
ThingsFrom0 = Annotated[Any, Of(Kind.COUNT, Range.FROM_0, 100000)]
Money = Annotated[Any, Of(Kind.MONEY, Range.FROM_0)]
Mass = Annotated[Any, Of(Kind.MASS, Range.ABOVE_0)]
Place2 = Annotated[Any, Of(Kind.POINT)]
Line = Annotated[Any, Of(Kind.POINTS)]
Pair = Annotated[Any, Of(Kind.PAIR, Range.ABOVE_0)]
OutlineTable = Annotated[Any, Of(Kind.OUTLINE)]
TrueOutline = Annotated[Any, Of(Kind.TRUE_OUTLINE)]
Direction = Annotated[Any, Of(Kind.DIRECTION)]


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

    later = ("bed",)

    tool: Annotated[Literal["knife", "plotter", "laser"] | None, Of(Kind.WORD)] = key(
        "What cuts: it sets fit and margin when left out, and the cautions that are printed. Default knife."
    )
    kerf: TrueFrom0 = key("Full width of what the tool removes. This version reads 0 mm only.")
    fit: Fit = key(
        "Added to width and length of every slot. When left out: 0.2 mm for a knife, 0 for plotter and laser."
    )


class PartCuttingTable(Table):
    """What one part changes of [cutting]."""

    later = ("bed",)

    kerf: TrueFrom0 = key("As in [cutting], for this part. This version reads 0 mm only.")
    fit: Fit = key("As in [cutting], for the slots of this part.")


class SheetTable(Table):
    """A size that can be bought."""

    size: Size = key('Width x height, such as "700 x 500 mm" or "20 x 30 in".', needed=True)
    mass: Mass = key('Mass of one board, weighed, such as "158 g".')
    price: Money = key("Price of one board, in the currency of [plan].")
    sold_in: Things = key("Boards in a pack, where only whole packs are sold. Default 1.")
    on_hand: Boards = key("How many of them lie on the shelf. Default 0.")


class OffcutTable(Table):
    """A scrap on the shelf."""

    one_of = ("size", "outline")

    size: Size = key('Width x height of a rectangular scrap, such as "320 x 180 mm".')
    outline: TrueOutline = key('Corners of any other scrap: "0 mm, 0 mm; 300 mm, 0 mm; 120 mm, 200 mm".')
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


class TrapezoidTable(Table):
    """Bottom edge from (0, 0) along x; the top edge starts at x = shift."""

    bottom: LengthAbove0 = key("Length of the bottom edge.", needed=True)
    top: LengthAbove0 = key("Length of the top edge.", needed=True)
    height: LengthAbove0 = key("Distance between the two.", needed=True)
    shift: Length = key("How far the top edge starts to the right of the bottom edge. Default 0.")


SHAPES = ("outline", "rectangle", "circle", "trapezoid")
_OUTLINE = (
    'Points in order, a row each: "x, y" and words: round 1, smooth, through x, y, name n. Or [[x, y], ...].'
)
_MIRRORED = "The outline is one half, both its ends on this axis; the other half is its mirror image."


class CutoutTable(Table):
    """A hole in a part."""

    one_of = SHAPES

    outline: OutlineTable = key(_OUTLINE)
    rectangle: Pair = key("Width and height; lower left corner at (0, 0) of the cutout.")
    circle: LengthAbove0 = key("Diameter; centre at (0, 0) of the cutout.")
    trapezoid: TrapezoidTable | None = key("Bottom, top, height, shift.")
    mirrored: Annotated[Literal["x", "y"] | None, Of(Kind.WORD)] = key(_MIRRORED)
    turn: Angle = key("Turned counter-clockwise by so many degrees about the shape's (0, 0). Default 0.")
    at: Place2 = key("Where the shape's (0, 0) comes to lie, after the turn. Default [0, 0].")


class SlotTable(Table):
    """A slot for another sheet; its width is that sheet's thickness."""

    at: Place2 = key("Middle of the slot.", needed=True)
    length: LengthAbove0 = key("Along x before the turn, without the fit.", needed=True)
    turn: Angle = key("Turned counter-clockwise by so many degrees about its middle. Default 0.")
    takes: Text = key("Name of the stock that goes in.", needed=True)
    open: Flag = key("Whether the slot may run out through the part's edge. Default false.")


class TabTable(Table):
    """A tab that goes into another sheet; it stands out by that sheet's thickness."""

    at: Place2 = key("Middle of the tab, on the part's outline.", needed=True)
    length: LengthAbove0 = key("Length along the edge.", needed=True)
    into: Text = key("Name of the stock that it goes into.", needed=True)


class MarkTable(Table):
    """Something drawn on a part, not cut."""

    later = ("clear",)
    one_of = ("line", "balance", "circle", "tape")

    line: Line = key("A line to draw: [[x, y], [x, y], ...].")
    balance: Share = key('The balance V, at this share of the chord between `from` and `to`, such as "25 %".')
    circle: LengthAbove0 = key("Diameter of a circle to draw round `at`.")
    tape: Line = key("Middle line of a strip of tape: [[x, y], [x, y], ...].")
    from_: Place2 = Field(default=None, alias="from", description="With balance: front end of the chord.")
    to: Place2 = key("With balance: rear end of the chord.")
    at: Place2 = key("With circle: its centre.")
    width: LengthAbove0 = key("With tape: its width.")
    text: Text = key("Words beside the mark.")
    face: Annotated[Literal["inner", "outer"] | None, Of(Kind.WORD)] = key(
        "Face with it. Default outer for balance and tape, else inner; not where the part's is either."
    )


class LabelTable(Table):
    """Where the part's name goes; left out, the program finds a place."""

    at: Place2 = key("Middle of the words.", needed=True)
    turn: Angle = key("Turned counter-clockwise by so many degrees. Default 0.")


class PlaceTable(Table):
    """Where the part sits on the model."""

    at: Place2 = key("Where the part's (0, 0) sits: along (aft from the nose), up.", needed=True)
    out: Length = key("How far out of the centre plane, to the right; negative to the left. Default 0.")
    x: Direction = key(
        "Where the part's x runs: aft, fore, up, down, right, left, or [aft, right, up] in numbers.",
        needed=True,
    )
    y: Direction = key("Where the part's y runs; square to x.", needed=True)


class PartTable(Table):
    """A part drawn by hand."""

    later = ("folds", "joints", "doubler", "keep_clear")
    one_of = SHAPES

    stock: Text = key("Name of the stock that it is cut from.", needed=True)
    count: Copies = key("How many; of each hand, if a pair. Default 1.")
    pair: Annotated[Literal["right", "left"] | None, Of(Kind.WORD)] = key(
        "This drawing is that hand; the other hand is its mirror image (y to -y)."
    )
    face: Annotated[Literal["inner", "outer", "either"] | None, Of(Kind.WORD)] = key(
        "The face that is drawn and lies up. Either: the part may be turned over on the sheet. Default inner."
    )
    grain: Annotated[Literal["any", "x", "y"] | None, Of(Kind.WORD)] = key(
        "This axis of the part lies along the stock's grain. Default any."
    )
    turns: Annotated[Literal["none", "half", "quarter", "any"] | None, Of(Kind.WORD)] = key(
        "How the part may be turned on its sheet. Default quarter."
    )
    may_join: Flag = key("Whether it may be cut in two to save a board. This version reads false only.")
    outline: OutlineTable = key(_OUTLINE)
    rectangle: Pair = key("Width and height; lower left corner at (0, 0).")
    circle: LengthAbove0 = key("Diameter; centre at (0, 0).")
    trapezoid: TrapezoidTable | None = key("Bottom, top, height, shift.")
    mirrored: Annotated[Literal["x", "y"] | None, Of(Kind.WORD)] = key(_MIRRORED)
    cutouts: list[CutoutTable] | None = key("Holes.")
    slots: list[SlotTable] | None = key("Slots for other sheets.")
    tabs: list[TabTable] | None = key("Tabs that go into other sheets.")
    marks: list[MarkTable] | None = key("Lines, balance marks, circles, tape.")
    label: LabelTable | None = key("Where the part's name goes. Left out: the program finds the place.")
    place: PlaceTable | None = key("Where the part sits on the model; gives the FRONT and UP arrows.")
    cutting: PartCuttingTable | None = key("What this part changes of [cutting].")


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


class DesignTable(Table):
    """A whole design file."""

    later = (
        "surface", "body", "motor", "servo", "dowel", "aboard",
        "site", "balance", "wiring", "weighed", "built",
    )  # fmt: skip

    format: Annotated[Any, Of(Kind.FORMAT)] = key("Version of the file's format: 1.", needed=True)
    plan: PlanTable | None = key("Who made the plan and what it is called.", needed=True)
    sketch: SketchTable | None = key("What turns a bare number into a size.", needed=True)
    sizes: Annotated[dict[str, Any] | None, Of(Kind.NAMES)] = key(
        "Measures that are used more than once, each under a name: lower-case letters, digits and _."
    )
    cutting: CuttingTable | None = key("The tool, and what it takes.")
    stock: dict[str, StockTable] | None = key("Kinds of sheet, by name: [stock.board].", needed=True)
    parts: dict[str, PartTable] | None = key("Parts, by name: [parts.side].", needed=True)
    hardware: list[HardwareTable] | None = key("What else is bought: [[hardware]].")
    revision: list[RevisionTable] | None = key("List of changes: [[revision]].")


@cache
def keys_of(model: type[Table]) -> dict[str, Key]:
    """The keys that a table may have, in order, by their word in the file."""
    return {k.word: k for k in (_key_of(name, field) for name, field in model.model_fields.items())}


def _key_of(name: str, field: FieldInfo) -> Key:
    of = next((m for m in field.metadata if isinstance(m, Of)), None)
    inner = next((a for a in get_args(field.annotation) if a is not type(None)), field.annotation)
    table: Any = None
    holds: Holds | None = None
    if of is None:
        origin = get_origin(inner)
        holds = {list: Holds.LIST, dict: Holds.NAMED}.get(origin, Holds.ONE) if origin else Holds.ONE
        table = get_args(inner)[-1] if origin else inner
        if not (isinstance(table, type) and issubclass(table, Table)):
            raise TypeError(f"{name}: neither a kind nor a table")
    extra = field.json_schema_extra
    return Key(
        word=field.alias or name,
        attribute=name,
        description=field.description or "",
        needed=bool(isinstance(extra, dict) and extra.get("needed")),
        of=of,
        table=table,
        holds=holds,
        words=tuple(get_args(inner)) if of and of.kind is Kind.WORD else (),
    )
