"""What a key of the design file may hold: kinds, ranges, and the base of all tables.

The tables themselves stand in `foamcut.design.schema`.
"""

from dataclasses import dataclass
from enum import Enum
from functools import cache
from typing import Annotated, Any, ClassVar, get_args, get_origin

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler
from pydantic.fields import FieldInfo
from pydantic_core import CoreSchema, core_schema

from foamcut.design.quantities import Quantity


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
    BLOCK = "three true lengths in one text: long x wide x high"
    NUMBER = "bare number"
    RATIO = "share"
    ANGLE = "angle in degrees"
    COUNT = "whole number"
    MONEY = "price"
    MEASURED = "measured value: a unit is a must"
    POINT = "two lengths"
    POINTS = "list of two or more points"
    PAIR = "width and height"
    SPAN = "from a lower to a higher length"
    OUTLINE = "table or list of points"
    TRUE_OUTLINE = "table or list of points, every length with its unit"
    DIRECTION = "word or three numbers"
    LENGTHS = "list of lengths"
    PLACES = "list of one or more points"
    SPANS = "list of pairs, from a lower to a higher length"
    SIDE = "table or list of readings along, bottom, top"
    NAMES = "named sizes"
    MASSES = "masses by name"
    ANYTHING = "what another key takes"


class Range(Enum):
    """Which numbers a key takes; lengths in mm at full size."""

    ANY = "any number"
    ABOVE_0 = "above 0"
    FROM_0 = "0 or more"
    FROM_1 = "1 or more"
    FIT = "from -1 mm to 3 mm"
    SHARE = "from 0 to 1 (0 % to 100 %)"
    KERF = "from 0 to 3 mm"
    SLOPE = "from 0 to 80 degrees"
    SLOPE_ABOVE_0 = "above 0, to 80 degrees"
    THROW = "above 0, to 80 degrees to each side"
    LEAN = "from -45 to 45 degrees"
    ALTITUDE = "from -500 m to 9,000 m"
    WEATHER = "from -60 to 60 degC"
    LOAD_FACTOR = "from 1 to 20"


@dataclass(frozen=True, slots=True)
class Of:
    """Kind and range of a key; `most` is the highest count that is read, `quantity` what is measured."""

    kind: Kind
    range: Range = Range.ANY
    most: int | None = None
    quantity: Quantity | None = None


class Holds(Enum):
    """How a key holds tables."""

    ONE = "a table"
    LIST = "a list of tables"
    NAMED = "tables by name"


@dataclass(frozen=True, slots=True)
class Key:
    """A key of a table: its word in the file and its attribute in the model.

    Either `of` says what value it holds, or `table` and `holds` what tables; `words` are those that may
    stand there, with tables: instead of them.
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
    """A table of the design file."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)
    #: of these keys exactly one is given
    one_of: ClassVar[tuple[str, ...]] = ()
    #: of these keys one or more are given
    some_of: ClassVar[tuple[str, ...]] = ()
    #: keys of another table that are looked for here, and what is said of them
    elsewhere: ClassVar[dict[str, str]] = {}


@dataclass(frozen=True, slots=True)
class TablesOr:
    """A list of tables, or one word instead of it; a union of models would put its own names into paths."""

    table: type[Table]
    word: str

    def __get_pydantic_core_schema__(self, _: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        tables = handler.generate_schema(list[self.table] | None)  # type: ignore[name-defined]
        return core_schema.no_info_wrap_validator_function(self._checked, tables)

    def _checked(self, raw: Any, tables: core_schema.ValidatorFunctionWrapHandler) -> Any:
        return raw if raw == self.word else tables(raw)


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
Kerf = Annotated[Any, Of(Kind.TRUE_LENGTH, Range.KERF)]
Size = Annotated[Any, Of(Kind.SIZE, Range.ABOVE_0)]
Share = Annotated[Any, Of(Kind.RATIO, Range.SHARE)]
Angle = Annotated[Any, Of(Kind.ANGLE)]
AngleFrom0 = Annotated[Any, Of(Kind.ANGLE, Range.FROM_0)]
Slope = Annotated[Any, Of(Kind.ANGLE, Range.SLOPE)]
Copies = Annotated[Any, Of(Kind.COUNT, Range.FROM_1, 5000)]
Boards = Annotated[Any, Of(Kind.COUNT, Range.FROM_0, 200)]
Scraps = Annotated[Any, Of(Kind.COUNT, Range.FROM_1, 200)]
Things = Annotated[Any, Of(Kind.COUNT, Range.FROM_1, 100000)]
ThingsFrom0 = Annotated[Any, Of(Kind.COUNT, Range.FROM_0, 100000)]
Money = Annotated[Any, Of(Kind.MONEY, Range.FROM_0)]
Mass = Annotated[Any, Of(Kind.MEASURED, Range.ABOVE_0, quantity=Quantity.MASS)]
Current = Annotated[Any, Of(Kind.MEASURED, Range.ABOVE_0, quantity=Quantity.CURRENT)]
Place2 = Annotated[Any, Of(Kind.POINT)]
Line = Annotated[Any, Of(Kind.POINTS)]
Places = Annotated[Any, Of(Kind.PLACES)]
Span = Annotated[Any, Of(Kind.SPAN)]
Pair = Annotated[Any, Of(Kind.PAIR, Range.ABOVE_0)]
OutlineTable = Annotated[Any, Of(Kind.OUTLINE)]
TrueOutline = Annotated[Any, Of(Kind.TRUE_OUTLINE)]
Direction = Annotated[Any, Of(Kind.DIRECTION)]


@cache
def keys_of(model: type[Table]) -> dict[str, Key]:
    """The keys that a table may have, in order, by their word in the file."""
    return {k.word: k for k in (_key_of(name, field) for name, field in model.model_fields.items())}


def _key_of(name: str, field: FieldInfo) -> Key:
    of = next((m for m in field.metadata if isinstance(m, Of)), None)
    either = next((m for m in field.metadata if isinstance(m, TablesOr)), None)
    inner = next((a for a in get_args(field.annotation) if a is not type(None)), field.annotation)
    table: Any = None
    holds: Holds | None = None
    words: tuple[str, ...] = tuple(get_args(inner)) if of and of.kind is Kind.WORD else ()
    if either:
        table, holds, words = either.table, Holds.LIST, (either.word,)
    elif of is None:
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
        words=words,
    )
