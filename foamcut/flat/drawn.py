"""What `flat` takes in: a part as the builder drew it, every number resolved to mm and degrees.

Each value carries the key it came from, so that a refusal can name its cause.  `foamcut.design`
builds these; `foamcut.flat.build` turns them into parts.
"""

from dataclasses import dataclass, replace
from enum import Enum

from foamcut.flat.outline import Point


class Hand(Enum):
    """Which of a mirrored pair; none for a part that is no pair."""

    LEFT = "left"
    RIGHT = "right"
    NONE = "none"


class Face(Enum):
    """The face of the board that is drawn and lies up."""

    INNER = "inner"
    OUTER = "outer"
    EITHER = "either"


class Grain(Enum):
    """Axis that lies along a grain, of a part or of a stock."""

    ANY = "any"
    X = "x"
    Y = "y"


class Turns(Enum):
    """How a part may be turned on its sheet."""

    NONE = "none"
    HALF = "half"
    QUARTER = "quarter"
    ANY = "any"


class FoldKind(Enum):
    """How a fold is worked (see `foamcut.flat.folds`)."""

    SCORE = "score"
    GROOVE = "groove"
    WRAP = "wrap"
    ROLL = "roll"
    HINGE = "hinge"
    STRIP = "strip"


class Side(Enum):
    """The face that is cut: up is the drawn face, down the one behind it."""

    UP = "up"
    DOWN = "down"


class FoldAt(Enum):
    """At which edge of a lifted strip the whole paper turns: far from the panel on the right, or near."""

    FAR = "far"
    NEAR = "near"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One point of an outline, in order; what is said of the edge is of the edge that leaves it.

    `bevel_deg` from square, taken off the drawn face; `bevel_back_deg` off the face behind it.
    """

    key: str
    at: Point
    round_mm: float | None = None
    smooth: bool = False
    through: Point | None = None
    name: str | None = None
    bevel_deg: float | None = None
    bevel_back_deg: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """An outline by its points."""

    key: str
    points: tuple[Reading, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rectangle:
    """Lower left corner at (0, 0)."""

    key: str
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc:
    """A full circle, its centre at (0, 0)."""

    key: str
    diameter_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Trapezoid:
    """Bottom edge from (0, 0) along x; the top edge starts at x = shift, y = height."""

    key: str
    bottom_mm: float
    top_mm: float
    height_mm: float
    shift_mm: float = 0.0


Shape = Readings | Rectangle | Disc | Trapezoid


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutout:
    """A hole: its shape, turned about the shape's (0, 0), then moved by `at`."""

    key: str
    shape: Shape
    mirrored: Grain = Grain.ANY
    turn_deg: float = 0.0
    at: Point = (0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnSlot:
    """A slot: `at` is its middle, `length_mm` along x before the turn; sizes without the fit."""

    key: str
    at: Point
    length_mm: float
    takes: str
    takes_thickness_mm: float
    fit_mm: float
    turn_deg: float = 0.0
    open: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnTab:
    """A tab: `at` is its middle, on the outline; it stands out by the thickness of the stock `into`."""

    key: str
    at: Point
    length_mm: float
    into: str
    into_thickness_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """Where the builder wants the part's name: its middle, and the turn of the text."""

    key: str
    at: Point
    turn_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where the part's (0, 0) sits on the model and where its x and y run.

    Model axes: x aft from the nose, y to the right wing, z up; mm and unit vectors.
    """

    key: str
    at: tuple[float, float, float]
    x: tuple[float, float, float]
    y: tuple[float, float, float]

    def mirrored(self) -> "Place":
        """The place of the mirror-image part (drawn y -> -y) on the other side of the centre plane."""
        (ax, ay, az), (xx, xy, xz), (yx, yy, yz) = self.at, self.x, self.y
        return Place(key=self.key, at=(ax, -ay, az), x=(xx, -xy, xz), y=(-yx, yy, -yz))

    def fore(self) -> Point:
        """The direction to the nose in the part's plane; shorter than 1 when it leaves the plane."""
        return -self.x[0], -self.y[0]

    def up(self) -> Point:
        """The direction upwards in the part's plane; shorter than 1 when it leaves the plane."""
        return self.x[2], self.y[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnMark:
    """A mark before it is trimmed: which kind, its points or numbers; see `foamcut.flat.marks`."""

    key: str
    kind: str  # line | balance | circle | tape
    face: Face
    points: tuple[Point, ...]
    text: str = ""
    ratio: float | None = None  # balance: the share of the chord from `points[0]` to `points[1]`
    diameter_mm: float | None = None  # circle
    width_mm: float | None = None  # tape
    clear: bool = False  # doublers keep off it


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnFold:
    """A fold as drawn: the panel left of `start` -> `end` turns towards the cut face (score: away).

    A strip is a band of bare paper that turns at both its edges: at `start` -> `end` by `turn_deg`, at its
    far edge, to the left, by `far_turn_deg` more.
    """

    key: str
    kind: FoldKind
    start: Point
    end: Point
    turn_deg: float
    side: Side = Side.UP
    groove_extra_deg: float = 0.0  # groove
    lands_thickness_mm: float | None = None  # wrap: of the panel that lands there; None: this board
    fold_at: FoldAt = FoldAt.FAR  # wrap
    radius_mm: float | None = None  # roll: outer
    every_mm: float | None = None  # roll: scores at most so far apart; None: the board's thickness
    bevel_deg: float = 0.0  # hinge
    band_mm: float | None = None  # strip: width of what is lifted out
    far_turn_deg: float | None = None  # strip: turn at its far edge; None: as at the line


@dataclass(frozen=True, slots=True, kw_only=True)
class JointLine:
    """Where the builder wants a part cut in two: at one x or one y of the drawn hand; hand NONE is both."""

    key: str
    x_mm: float | None = None
    y_mm: float | None = None
    hand: Hand = Hand.NONE

    def mirrored(self) -> "JointLine":
        """The line on the mirror-image part: y -> -y."""
        return self if self.y_mm is None else replace(self, y_mm=0.0 - self.y_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepClear:
    """Ranges of x and y, mm, low and high, where no joint line or doubler lies; both: the box they make."""

    key: str
    x_mm: tuple[float, float] | None = None
    y_mm: tuple[float, float] | None = None

    def mirrored(self) -> "KeepClear":
        """The ranges on the mirror-image part: y -> -y."""
        return self if self.y_mm is None else replace(self, y_mm=(0.0 - self.y_mm[1], 0.0 - self.y_mm[0]))


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubling:
    """What is glued over the joints of a part: from which stock, how far it reaches, how it ends.

    `overlap_mm` to each side of the joint line, `inset_mm` off the part's edges and off cuts, `taper_mm`
    the length over which its ends run in at 45 degrees.
    """

    key: str
    stock: str
    thickness_mm: float
    overlap_mm: float
    inset_mm: float
    taper_mm: float

    @classmethod
    def usual(cls, key: str, stock: str, board_mm: float) -> "Doubling":
        """A patch of the part's own board: 10 thicknesses each side, inset 1, taper 5 (common practice)."""
        return cls(
            key=key,
            stock=stock,
            thickness_mm=board_mm,
            overlap_mm=10 * board_mm,
            inset_mm=board_mm,
            taper_mm=5 * board_mm,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPart:
    """A part as drawn, one hand of it when it is a pair."""

    key: str
    name: str
    stock: str
    thickness_mm: float
    shape: Shape
    mirrored: Grain = Grain.ANY  # x or y: the shape is one half, mirrored at that axis
    count: int = 1
    pair: Hand = Hand.NONE
    face: Face = Face.INNER
    grain: Grain = Grain.ANY
    turns: Turns = Turns.QUARTER
    cutouts: tuple[Cutout, ...] = ()
    slots: tuple[DrawnSlot, ...] = ()
    tabs: tuple[DrawnTab, ...] = ()
    marks: tuple[DrawnMark, ...] = ()
    label: Label | None = None
    place: Place | None = None
    folds: tuple[DrawnFold, ...] = ()
    joint_lines: tuple[JointLine, ...] = ()
    may_be_joined: bool = True  # False: refuse rather than cut in two
    may_join: bool = False  # may be cut in two although it lies whole
    keep_clear: tuple[KeepClear, ...] = ()
    doubling: Doubling | None = None  # None: the usual one
    kerf_mm: float = 0.0  # full width of what the tool removes
