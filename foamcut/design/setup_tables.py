"""The tables of weight, balance and flight: what is carried, site, target, wiring, what was weighed."""

from typing import Annotated, Any, ClassVar, Literal

from foamcut.design.key_kinds import (
    Current,
    Flag,
    Kind,
    Length,
    Mass,
    Of,
    Place2,
    Places,
    Range,
    Share,
    Span,
    Table,
    Text,
    TrueAbove0,
    key,
)
from foamcut.design.quantities import Quantity

Word = Literal[
    "motor",
    "battery",
    "speed_control",
    "receiver",
    "servo",
    "wire",
    "gear",
    "paint",
    "ballast",
    "other",
]


class AboardTable(Table):
    """Something that is carried."""

    elsewhere: ClassVar[dict[str, str]] = {
        "weight": 'unknown key; write mass = "182 g"',
        "along": "unknown key; where it sits is written at = [along, up]",
        "up": "unknown key; where it sits is written at = [along, up]",
        "place": "unknown key; where it sits is written at = [along, up]",
        "count": "unknown key; write each thing for itself, or mirrored = true for one on each side",
        "voltage": "unknown key; write how many cells it has: cells = 3",
        "power": "unknown key; what a motor draws stands in its own table, [motor.name]",
        "speed_constant": "unknown key; what a motor draws stands in its own table, [motor.name]",
    }

    name: Text = key("What it is called, such as battery.", needed=True)
    kind: Annotated[Word | None, Of(Kind.WORD)] = key(
        "What it is: battery, speed_control, receiver, servo and so on; motor only where there is no"
        " [motor.name].",
        needed=True,
    )
    mass: Mass = key('Mass of one, weighed, such as "182 g".')
    size: Annotated[Any, Of(Kind.BLOCK, Range.ABOVE_0)] = key(
        'Long x wide x high, such as "105 x 34 x 24 mm".'
    )
    at: Place2 = key("Its middle on the side view: along from the nose, up.", needed=True)
    out: Length = key("How far its middle lies off the centre plane, to the right. Default 0.")
    mirrored: Flag = key("Whether there is one on each side; every number is that of one. Default false.")
    slides: Span = key("From where to where along its middle may be moved.")
    may_sit: Places = key("Other places where it may sit: [[along, up], ...].")
    cells: Annotated[Any, Of(Kind.COUNT, Range.FROM_1, 14)] = key("Of a battery: cells in series.")
    capacity: Annotated[Any, Of(Kind.MEASURED, Range.ABOVE_0, quantity=Quantity.CHARGE)] = key(
        'Of a battery: its capacity, such as "2200 mAh".'
    )
    current_limit: Current = key('The most current that it gives or bears for long, such as "20 A".')
    cut_off: Annotated[Any, Of(Kind.MEASURED, Range.ABOVE_0, quantity=Quantity.VOLTAGE)] = key(
        'Of a speed control: voltage of a cell at which it stops its motor, such as "3.2 V".'
    )
    feeds: Text = key(
        'What it gives current to: a motor, "motor.wing", or the name of a speed control or motor aboard.'
    )
    lead: TrueAbove0 = key(
        "Length of its lead: of a battery to the speed control, of that to the motor, of others to the"
        " receiver."
    )


class SiteTable(Table):
    """Where it is flown."""

    altitude: Annotated[Any, Of(Kind.TRUE_LENGTH, Range.ALTITUDE)] = key(
        'Height above the sea, such as "350 m". Default 0.'
    )
    temperature: Annotated[Any, Of(Kind.MEASURED, Range.WEATHER, quantity=Quantity.TEMPERATURE)] = key(
        'Temperature of the air, such as "18 degC". Default that of the standard atmosphere.'
    )


class TargetTable(Table):
    """Where the balance shall lie."""

    one_of = ("mac", "along")

    mac: Share = key('As a share of the mean chord of the wing, such as "25 %".')
    along: Length = key("Along from the nose.")


class BalanceTable(Table):
    """What the model shall weigh and bear, and where it shall balance."""

    target: TargetTable | None = key('Where the balance shall lie: { mac = "25 %" } or { along = 48 }.')
    load_factor: Annotated[Any, Of(Kind.NUMBER, Range.LOAD_FACTOR)] = key(
        "How many times its weight the wing shall bear; a bare number from 1 to 20."
    )
    paint: Annotated[Any, Of(Kind.MEASURED, Range.FROM_0, quantity=Quantity.AREA_MASS)] = key(
        'Paint over the outside of everything, such as "60 g/m2".'
    )
    glue: Annotated[Any, Of(Kind.MEASURED, Range.FROM_0, quantity=Quantity.LINE_MASS)] = key(
        'Glue on a glued edge, such as "6.7 g/m".'
    )


class WiringTable(Table):
    """How packs feed motors, and whether the supplies of the receiver are joined."""

    packs: Annotated[Literal["together", "apart"] | None, Of(Kind.WORD)] = key(
        "Whether all packs feed all motors, or each motor has one of its own."
    )
    joined: Flag = key("Whether the receiver supplies of several speed controls meet at the receiver.")


class WeighedModelTable(Table):
    """The whole model on the scales."""

    mass: Mass = key("What it weighs, ready to fly.", needed=True)
    along: Length = key("Where along it balances.")


class WeighedTable(Table):
    """What was put on the scales."""

    model: WeighedModelTable | None = key('The whole model: { mass = "812 g", along = 48 }.')
    parts: Annotated[dict[str, Any] | None, Of(Kind.MASSES)] = key(
        'What one part of a name weighs, of a pair each: { "wing-skin" = "24 g" }.'
    )
