"""The tables of what parts are generated from: surfaces, bodies, motors, servos, dowels."""

from typing import Annotated, Any, Literal

from pydantic import Field

from foamcut.design.key_kinds import (
    Current,
    Kind,
    Length,
    LengthAbove0,
    Mass,
    Of,
    Pair,
    Place2,
    Places,
    Range,
    Share,
    Size,
    Span,
    Table,
    Text,
    TrueAbove0,
    TrueFrom0,
    key,
)
from foamcut.design.part_tables import DoublerTable
from foamcut.design.quantities import Quantity

Layers = Annotated[Any, Of(Kind.COUNT, Range.FROM_1, 20)]
LengthFrom0 = Annotated[Any, Of(Kind.LENGTH, Range.FROM_0)]
Throw = Annotated[Any, Of(Kind.ANGLE, Range.THROW)]
Lean = Annotated[Any, Of(Kind.ANGLE, Range.LEAN)]
Lengths = Annotated[Any, Of(Kind.LENGTHS)]
Spans = Annotated[Any, Of(Kind.SPANS)]


class StationTable(Table):
    """A place along the span of a surface."""

    out: LengthFrom0 = key("From the root, along the panels as on the board.", needed=True)
    back: Length = key("How far its leading edge lies behind that of the root. Default 0.")
    chord: LengthAbove0 = key("Chord there.", needed=True)
    dihedral: Lean = key("Degrees by which the panel that begins here rises. Default as before it.")


class SparTable(Table):
    """Strips stacked inside a folded surface."""

    layers: Layers = key("How many strips lie on each other.", needed=True)
    width: TrueAbove0 = key("Width of a strip, square to its run.", needed=True)
    behind_leading_edge: TrueAbove0 = key(
        "From the leading edge to the front face of the spar, at the root.", needed=True
    )
    run: Annotated[Literal["square", "follow"] | None, Of(Kind.WORD)] = key(
        "Square to the root, or following the leading edge. Default square."
    )
    stock: Text = key("Stock of the strips. Default that of the surface.")
    tip_layers: Layers = key("How many strips reach the tip. Default all.")
    tip_width: TrueAbove0 = key("Width of a strip at the tip. Default as at the root.")


class JoinerTable(Table):
    """Plates that join the halves of a surface along the spar."""

    stock: Text = key("Name of their stock, thin plywood as a rule.", needed=True)
    count: Annotated[Any, Of(Kind.COUNT, Range.FROM_1, 2)] = key(
        "One before the spar, or two: before and behind it. Default 2."
    )
    length: TrueAbove0 = key("Length over both halves.", needed=True)


class ControlTable(Table):
    """A control surface."""

    from_: LengthFrom0 = Field(
        default=None,
        alias="from",
        description="Where it begins, out from the root.",
        json_schema_extra={"needed": True},
    )
    to: LengthAbove0 = key("Where it ends, out from the root.", needed=True)
    chord: LengthAbove0 = key("From the hinge line to the trailing edge.", needed=True)
    throw: Throw = key("Degrees to each side.", needed=True)
    horn: Text = key("Stock of its horn. Left out: its place is marked.")


class SurfaceTable(Table):
    """A wing, stabiliser or fin."""

    role: Annotated[Literal["wing", "stabiliser", "fin"] | None, Of(Kind.WORD)] = key(
        "What it is for: wing, stabiliser or fin.", needed=True
    )
    build: Annotated[Literal["folded", "flat"] | None, Of(Kind.WORD)] = key(
        "One sheet folded over a spar, or flat board. Default flat."
    )
    stock: Text = key("Name of its stock.", needed=True)
    at: Place2 = key(
        "Leading edge of the root on the side view, underside: along from the nose, up.", needed=True
    )
    span: LengthAbove0 = key("From tip to tip; of a fin its height.")
    root_chord: LengthAbove0 = key("Chord at the root.")
    tip_chord: LengthAbove0 = key("Chord at the tip. Default as at the root.")
    tip_back: Length = key("How far the leading edge at the tip lies behind that of the root. Default 0.")
    stations: list[StationTable] | None = key("Instead of span and chords: places from the root out.")
    angle: Lean = key("Degrees nose up. Default 0.")
    dihedral: Lean = key("Degrees by which the tips rise. Default 0.")
    tip_height: LengthFrom0 = key("Instead of dihedral: how high the tip lies above the root.")
    over_spar: Annotated[Literal["creased", "bent"] | None, Of(Kind.WORD)] = key(
        "Whether the upper skin is grooved at the edges of the spar, or bent over it. Default creased."
    )
    nose: Annotated[Literal["stripped", "opened", "scored", "two skins"] | None, Of(Kind.WORD)] = key(
        "How the sheet turns at the leading edge. Default stripped."
    )
    nose_height: TrueAbove0 = key("Outside height of the nose. Default two boards.")
    nose_band: TrueAbove0 = key("Width of the bared band. Default 0.5 mm more than the nose is high.")
    trailing_edge: Annotated[Literal["bevelled", "single"] | None, Of(Kind.WORD)] = key(
        "Upper skin bevelled onto the lower, or the lower skin alone from the hinge line. Default bevelled."
    )
    trim: TrueFrom0 = key("Left to be trimmed at the trailing edge of the upper skin. Default 3 mm.")
    closest_bend: Annotated[Any, Of(Kind.RATIO, Range.ABOVE_0)] = key(
        "Least inner radius of an unscored bend, in thicknesses of the board. Default 8."
    )
    balance: Share = key('Where the balance is marked, as a share of the mean chord. Default "25 %".')
    patches: Text = key("Thin stock of the patches over a joint of the skin.")
    spar: SparTable | None = key("Strips inside a folded surface.")
    joiner: JoinerTable | None = key("Plates that join the halves.")
    aileron: ControlTable | None = key("From, to, chord, throw.")
    elevator: ControlTable | None = key("From, to, chord, throw.")
    rudder: ControlTable | None = key("From, to, chord, throw.")
    elevon: ControlTable | None = key("From, to, chord, throw.")


class FormerTable(Table):
    """A former across a body."""

    at: Length = key("Where along its front face lies.", needed=True)
    opening: Pair = key("Width and height of an opening in its middle.")
    stock: Text = key("Name of its stock. Default that of the body.")


class DeckTable(Table):
    """What closes the top of a body."""

    top: Span = key("From where to where along.", needed=True)


class CoolingTable(Table):
    """Openings for air in both sides of a body: where along, and how high."""

    in_: Pair = Field(
        default=None, alias="in", description="Where along air comes in, height of the opening."
    )
    out: Pair = key("Where along air goes out, height of the opening.")


class BodyTable(Table):
    """A body of flat sides."""

    stock: Text = key("Name of its stock.", needed=True)
    width: LengthAbove0 = key(
        'Outside width, such as "62 mm"; a bare number is read off the sketch.', needed=True
    )
    corners: Annotated[Literal["butt", "wrapped", "mitred"] | None, Of(Kind.WORD)] = key(
        "How its long corners are made. Default butt."
    )
    side: Annotated[Any, Of(Kind.SIDE)] = key(
        'Readings of the side view, a row each: "along, bottom, top". Or [[along, bottom, top], ...].',
        needed=True,
    )
    formers: list[FormerTable] | None = key("Formers, from the nose.")
    deck: DeckTable | None = key("Where the top is closed.")
    hatch: Span = key("From where to where along a hatch lies.")
    build: Annotated[Literal["box", "trough"] | None, Of(Kind.WORD)] = key(
        "Sides and floor apart, or folded from one sheet. Default box."
    )
    nose_doubler: Span = key("From where to where along the sides have a second layer inside.")
    straps: Lengths = key("Where along the floor has slots for a strap.")
    cooling: CoolingTable | None = key("Openings for air, in and out.")
    pushrods: Places = key("Openings through which pushrods leave: [[along, up], ...].")
    keep_clear: Spans = key("From where to where along no joint lies: [[from, to], ...].")
    doubler: DoublerTable | None = key("What is glued over joints of its panels.")


class FirewallTable(Table):
    """The plate that a motor is screwed to."""

    stock: Text = key("Name of its stock.", needed=True)
    width: TrueAbove0 = key("Width.", needed=True)
    height: TrueAbove0 = key("Height. Left out: what its place asks for.")
    screws: TrueAbove0 = key(
        "Diameter of the circle that four screws lie on. Left out: drilled to the motor."
    )


class PropellerTable(Table):
    """A propeller."""

    diameter: TrueAbove0 = key("Diameter.", needed=True)
    pitch: TrueAbove0 = key("Pitch.")
    blades: Annotated[Any, Of(Kind.COUNT, Range.FROM_1, 8)] = key("How many. Default 2.")
    turns: Annotated[Literal["inwards", "outwards", "right", "left"] | None, Of(Kind.WORD)] = key(
        "Which way it turns, seen from behind; of a pair at the top of its disc."
    )
    mass: Mass = key("Mass of one propeller.")


class ThrustTable(Table):
    """By how many degrees the thrust line is turned."""

    right: Lean = key("In the nose: to the right. Default 0.")
    outwards: Lean = key("On the wing: outwards. Default 0.")
    down: Lean = key("Down. Default 0.")


class NacelleTable(Table):
    """Board sides beside a motor on the wing."""

    width: TrueAbove0 = key("Outside width.", needed=True)
    length: LengthAbove0 = key("From the firewall forwards.", needed=True)


class MotorTable(Table):
    """A motor in the nose, or a mirrored pair on the wing."""

    on: Text = key("Surface or body that carries it. Default the one of the motor's own name.")
    out: LengthAbove0 = key("On the wing: its axis from the centre plane.")
    clearance: TrueAbove0 = key(
        "On the wing: between propeller and body; `out` is worked out. Default 20 mm."
    )
    ahead: TrueAbove0 = key(
        "Propeller disc before the leading edge; in the nose before the firewall.", needed=True
    )
    at: Place2 = key("In the nose: middle of the firewall, along and up. Default the front, half way up.")
    firewall: FirewallTable | None = key("The plate that it is screwed to.", needed=True)
    propeller: PropellerTable | None = key("Its propeller.", needed=True)
    thrust: ThrustTable | None = key("By how many degrees its thrust line is turned.")
    nacelle: NacelleTable | None = key("Board sides beside it, on the wing.")
    mass: Mass = key("Mass of one motor.")
    power: Annotated[Any, Of(Kind.MEASURED, Range.ABOVE_0, quantity=Quantity.POWER)] = key(
        'Electric power of one motor at full throttle, such as "180 W".'
    )
    speed_constant: Annotated[Any, Of(Kind.MEASURED, Range.ABOVE_0, quantity=Quantity.SPEED_CONSTANT)] = key(
        'Turns a minute for each volt, such as "1100 rpm/V".'
    )
    current_limit: Current = key("The most current that one motor bears.")


class ServoTable(Table):
    """A servo that lies in a panel."""

    drives: Text = key("What it moves.", needed=True)
    on: Text = key('Where it lies: "wing", or a body and a panel of it: "fuselage.deck".', needed=True)
    at: Place2 = key("Along, and out from the centre line; on a side along and up.", needed=True)
    size: Size = key("Length along the model x width.", needed=True)
    mass: Mass = key("Its mass.")
    lead: TrueAbove0 = key("Length of its lead.")


class DowelTable(Table):
    """Dowels through both sides of a body."""

    on: Text = key("Name of the body.", needed=True)
    at: Places = key("Places on the side view: [[along, up], ...].", needed=True)
    diameter: TrueAbove0 = key("Diameter.", needed=True)
    proud: TrueFrom0 = key("How far it stands out on each side. Default 0.")
