"""The tables of parts that are drawn by hand: shapes, cuts, folds, marks, joints."""

from typing import Annotated, Any, ClassVar, Literal

from pydantic import Field

from foamcut.design.key_kinds import (
    Angle,
    AngleFrom0,
    Copies,
    Direction,
    Fit,
    Flag,
    Kerf,
    Kind,
    Length,
    LengthAbove0,
    Line,
    Of,
    OutlineTable,
    Pair,
    Place2,
    Share,
    Slope,
    Span,
    Table,
    TablesOr,
    Text,
    TrueAbove0,
    TrueFrom0,
    key,
)


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
_PART_OUTLINE = (
    'Points in order, a row each: "x, y" and words: round 1, smooth, through x, y, bevel 45, bevel_back 45, '
    "name n. Or [[x, y], ...]."
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
    clear: Flag = key("Whether doublers keep off it. Default false.")


class FoldTable(Table):
    """Where the board is worked so that its whole paper turns; the panel left of from -> to turns."""

    kind: Annotated[Literal["score", "groove", "wrap", "roll", "hinge", "strip"] | None, Of(Kind.WORD)] = key(
        "Score opens, groove is folded shut, wrap lands on a panel, roll is bent, hinge moves, strip is a "
        "band of bare paper that turns at both its edges. "
        "What a wrap or strip lifts out and what a roll bends lies to the left of from -> to.",
        needed=True,
    )
    from_: Place2 = Field(
        default=None,
        alias="from",
        description="Where the line of the fold begins; it crosses the part from edge to edge.",
        json_schema_extra={"needed": True},
    )
    to: Place2 = key("Where the line of the fold ends.", needed=True)
    turn: Angle = key(
        "By how many degrees it is folded, such as 90. The panel left of from -> to turns towards the face "
        "that is cut, by a score away from it; by a hinge towards it, and below 0 away from it. "
        "Left out: 90 for a wrap, 0 for a hinge."
    )
    side: Annotated[Literal["up", "down"] | None, Of(Kind.WORD)] = key(
        "The face that is cut: up is the drawn one, down the one behind it. Default up."
    )
    groove_extra: AngleFrom0 = key("With groove: degrees by which the V is wider than the turn. Default 0.")
    lands: Text = key("With wrap: name of the stock that lands in the strip. Default that of the part.")
    fold_at: Annotated[Literal["far", "near"] | None, Of(Kind.WORD)] = key(
        "With wrap: the edge of the strip at which the paper turns. The strip lies to the left of from -> "
        "to: its far edge is as far left of the line as what lands is thick, its near edge is the line. "
        "Default far."
    )
    radius: LengthAbove0 = key(
        "With roll: its outer radius. The bend begins at from -> to and lies to the left of it."
    )
    every: LengthAbove0 = key("With roll: cuts at most so far apart. Default the thickness of the board.")
    bevel: Slope = key(
        "With hinge: degrees from square by which the edge left of from -> to is cut back; so far it swings "
        "towards the cut. Default 0: it swings away from the cut alone."
    )
    band: TrueAbove0 = key(
        "With strip: width of the band of foam that is lifted out, to the left of from -> to. Two "
        "thicknesses make a square nose."
    )
    far_turn: Angle = key(
        "With strip: by how many degrees the paper turns at the far edge of the band, on top of turn. "
        "Default as turn."
    )


class JointTable(Table):
    """A line at which the part is cut in two."""

    one_of = ("x", "y")

    x: Length = key("Where along x: the line runs up and down.")
    y: Length = key("Where along y: the line runs right and left.")
    hand: Annotated[Literal["right", "left"] | None, Of(Kind.WORD)] = key(
        "Of a pair the hand that is cut there. Left out: both."
    )


class KeepClearTable(Table):
    """Where no joint line and no doubler lies; x and y together: the box that they make."""

    some_of = ("x", "y")

    x: Span = key("From a lower to a higher x: [40, 74].")
    y: Span = key("From a lower to a higher y: [40, 74].")


class DoublerTable(Table):
    """The patch that is glued over each joint."""

    overlap: TrueAbove0 = key("How far it reaches to each side of the joint. Default ten thicknesses.")
    inset: TrueFrom0 = key("How far it stays off edges, slots and cutouts. Default one thickness.")
    taper: TrueFrom0 = key("Length over which its ends run in at 45 degrees. Default half the overlap.")
    stock: Text = key("Name of the stock that it is cut from. Default that of the part.")


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


class PartCuttingTable(Table):
    """What one part changes of [cutting]."""

    elsewhere: ClassVar[dict[str, str]] = {
        "bed": 'the bed is the machine\'s and holds for every part; write "bed" under [cutting]',
    }

    kerf: Kerf = key("As in [cutting], for this part.")
    fit: Fit = key("As in [cutting], for the slots of this part.")


class PartTable(Table):
    """A part drawn by hand."""

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
    may_join: Flag = key("Whether it may be cut in two to save a board although it would lie whole.")
    outline: OutlineTable = key(_PART_OUTLINE)
    rectangle: Pair = key("Width and height; lower left corner at (0, 0).")
    circle: LengthAbove0 = key("Diameter; centre at (0, 0).")
    trapezoid: TrapezoidTable | None = key("Bottom, top, height, shift.")
    mirrored: Annotated[Literal["x", "y"] | None, Of(Kind.WORD)] = key(_MIRRORED)
    cutouts: list[CutoutTable] | None = key("Holes.")
    slots: list[SlotTable] | None = key("Slots for other sheets.")
    tabs: list[TabTable] | None = key("Tabs that go into other sheets.")
    folds: list[FoldTable] | None = key("Where the part is folded, rolled or hinged.")
    marks: list[MarkTable] | None = key("Lines, balance marks, circles, tape.")
    label: LabelTable | None = key("Where the part's name goes. Left out: the program finds the place.")
    place: PlaceTable | None = key("Where the part sits on the model; gives the FRONT and UP arrows.")
    joints: Annotated[Any, TablesOr(JointTable, "none")] = key(
        "Where it is cut in two when it is longer than its sheets. Left out: the program finds the places. "
        '"none": it is refused instead. With may_join: where it is cut if that saves a board.'
    )
    keep_clear: list[KeepClearTable] | None = key("Where no joint line and no doubler lies.")
    doubler: DoublerTable | None = key("What is glued over its joints.")
    cutting: PartCuttingTable | None = key("What this part changes of [cutting].")
