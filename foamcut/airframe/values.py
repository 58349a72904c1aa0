"""What `airframe` takes in: surfaces, bodies, motors, servos, dowels, every number in mm or degrees.

Each value carries the key it came from.  `foamcut.design` builds these.  Model axes: x aft from the nose,
y to the right wing, z up; `at` is (x, z) on the side view.  Nothing here is checked but what the kinds of
the keys refuse; generators refuse what cannot be built.
"""

from dataclasses import dataclass
from enum import Enum

from foamcut.flat.drawn import Doubling
from foamcut.flat.outline import Point


class Role(Enum):
    """What a surface is for."""

    WING = "wing"
    STABILISER = "stabiliser"
    FIN = "fin"


class Build(Enum):
    """How a surface is made: one sheet folded over a spar, or flat board."""

    FOLDED = "folded"
    FLAT = "flat"


class OverSpar(Enum):
    """How an upper skin goes over the spar: three flats with a groove at each edge, or unscored."""

    CREASED = "creased"
    BENT = "bent"


class Nose(Enum):
    """How the sheet turns at the leading edge (see `foamcut.airframe.section`)."""

    STRIPPED = "stripped"
    OPENED = "opened"
    SCORED = "scored"
    TWO_SKINS = "two skins"


class TrailingEdge(Enum):
    """Whether the upper skin is bevelled onto the lower, or ends where the lower runs on alone."""

    BEVELLED = "bevelled"
    SINGLE = "single"


class Run(Enum):
    """How a spar runs: square to the root, or along the leading edge."""

    SQUARE = "square"
    FOLLOW = "follow"


class Corners(Enum):
    """How the long corners of a box body are made."""

    BUTT = "butt"
    WRAPPED = "wrapped"
    MITRED = "mitred"


class BodyBuild(Enum):
    """Separate sides and floor, or sides and floor folded from one sheet."""

    BOX = "box"
    TROUGH = "trough"


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A stock as generators need it: measured thickness, and the usable rectangles that can be bought.

    `boards_mm` are (width, height) inside the margins, largest first, offcuts left out; `fit_mm` is added
    to slots, `kerf_mm` is what the tool removes.
    """

    name: str
    thickness_mm: float
    boards_mm: tuple[tuple[float, float], ...]
    fit_mm: float
    kerf_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A place along a surface's span.

    `out_mm` is measured from the root along the panels, as on the board; `back_mm` is how far the leading
    edge lies behind that of the root.  `dihedral_deg` is that of the panel which begins here.
    """

    key: str
    out_mm: float
    back_mm: float
    chord_mm: float
    dihedral_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Spar:
    """Stacked strips: how many, their width square to their run, where the front lies.

    `behind_mm` is from the leading edge to the front face at the root.  `tip_layers` and `tip_width_mm`
    are those at the tip; None: as at the root.
    """

    key: str
    material: Material
    layers: int
    width_mm: float
    behind_mm: float
    run: Run = Run.SQUARE
    tip_layers: int | None = None
    tip_width_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Joiner:
    """Plates that stand against the spar's faces across the root: one or two, `length_mm` long each."""

    key: str
    material: Material
    count: int
    length_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Control:
    """A control surface on a hinge line.

    `word` is the key that gave it: aileron, elevator, rudder or elevon.  `from_mm` and `to_mm` are out from
    the root, `chord_mm` from the hinge line to the trailing edge, `throw_deg` to each side.  `horn` is the
    stock of its horn, None: only its place is marked.
    """

    key: str
    word: str
    from_mm: float
    to_mm: float
    chord_mm: float
    throw_deg: float
    horn: Material | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A wing, stabiliser or fin; one half of it, or a fin whole.

    `stations` from the root out: two or more.  `at` is the underside of the nose at the root (a fin: its
    root's leading edge, on the centre plane).  `angle_deg` is nose up.  `nose_height_mm` None: two boards;
    `nose_band_mm` None: the nose's height and 0.5 mm; `trim_mm` is left to be trimmed at the trailing edge of
    the upper skin.  `closest_bend` is the least inner radius of an unscored bend, in board thicknesses.
    `balance` is where the balance V stands, as a share of the mean chord.
    """

    key: str
    name: str
    role: Role
    build: Build
    material: Material
    at: Point
    stations: tuple[Station, ...]
    angle_deg: float = 0.0
    over_spar: OverSpar = OverSpar.CREASED
    nose: Nose = Nose.STRIPPED
    nose_height_mm: float | None = None
    nose_band_mm: float | None = None
    trailing_edge: TrailingEdge = TrailingEdge.BEVELLED
    trim_mm: float = 3.0
    closest_bend: float = 8.0
    balance: float = 0.25
    spar: Spar | None = None
    joiner: Joiner | None = None
    patches: Material | None = None  # thin stock of the patches at a joint of the skin
    controls: tuple[Control, ...] = ()

    @property
    def half_span_mm(self) -> float:
        """From the root to the tip along the panels."""
        return self.stations[-1].out_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class SideReading:
    """One reading of the ruler along a body: where along, and the height of its bottom and of its top."""

    key: str
    along_mm: float
    bottom_mm: float
    top_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Former:
    """A former: its front face along, and width and height of an opening in its middle."""

    key: str
    at_mm: float
    opening_mm: tuple[float, float] | None = None
    material: Material | None = None  # None: the body's board


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A body of flat sides; its outside width is the same all along.

    Spans are (from, to) along.  `cooling_in_mm` and `cooling_out_mm`: a place along and the height of the
    opening, in both sides.  `straps_mm`: where along slots for a strap are cut in the floor; `pushrods_mm`:
    (along, up) of the openings through which pushrods leave, in both sides.  `doubling` is glued over joints.
    """

    key: str
    name: str
    material: Material
    width_mm: float
    side: tuple[SideReading, ...]
    corners: Corners = Corners.BUTT
    build: BodyBuild = BodyBuild.BOX
    formers: tuple[Former, ...] = ()
    deck_mm: tuple[float, float] | None = None
    hatch_mm: tuple[float, float] | None = None
    nose_doubler_mm: tuple[float, float] | None = None
    straps_mm: tuple[float, ...] = ()
    cooling_in_mm: tuple[float, float] | None = None
    cooling_out_mm: tuple[float, float] | None = None
    pushrods_mm: tuple[Point, ...] = ()
    keep_clear_mm: tuple[tuple[float, float], ...] = ()
    doubling: Doubling | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Firewall:
    """The plate that a motor is screwed to; `height_mm` None: what its place asks for.

    `screws_mm` is the diameter of the circle that four screws lie on, None: the builder drills to the motor.
    """

    key: str
    material: Material
    width_mm: float
    height_mm: float | None = None
    screws_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Propeller:
    """Diameter and pitch; `turns` is inwards, outwards, right or left (seen from behind), or empty."""

    key: str
    diameter_mm: float
    pitch_mm: float | None = None
    blades: int = 2
    turns: str = ""
    mass_g: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Nacelle:
    """Board sides beside a wing motor: outside width, and length from the firewall forwards."""

    key: str
    width_mm: float
    length_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Motor:
    """A motor on the wing (a mirrored pair) or in the nose.

    On the wing `out_mm` is its axis from the centre plane, or None and worked out from `clearance_mm`, the
    gap between propeller and body.  `ahead_mm`: the disc before the leading edge (nose: before the
    firewall).  `right_deg` (nose) or `outwards_deg` (wing) and `down_deg` turn the thrust line.  `at_mm`:
    (x, z) of the nose firewall's middle, None: the front of the body, mid height.
    """

    key: str
    name: str
    on: str  # name of the surface, or of the body, that carries it
    on_wing: bool
    ahead_mm: float
    firewall: Firewall
    propeller: Propeller
    out_mm: float | None = None
    clearance_mm: float | None = None
    at_mm: Point | None = None
    right_deg: float = 0.0
    outwards_deg: float = 0.0
    down_deg: float = 0.0
    nacelle: Nacelle | None = None
    mass_g: float | None = None
    power_w: float | None = None  # electric, at full throttle; this and what follows of each motor of a pair
    speed_constant_rpm_v: float | None = None
    current_limit_a: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Servo:
    """A servo in a panel: `on` is (name of the body or surface, word of the panel or empty).

    `at` is along and out for what lies flat (deck, floor, wing: out from the centre plane, right is +), along
    and up for a side.  `size_mm` is length along the model and width.
    """

    key: str
    drives: str
    on: tuple[str, str]
    at: Point
    size_mm: tuple[float, float]
    mass_g: float | None = None
    lead_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Dowel:
    """Dowels through both sides of a body, at places (along, up); `proud_mm` stands out on each side."""

    key: str
    on: str
    at: tuple[Point, ...]
    diameter_mm: float
    proud_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Inputs:
    """All that an airframe is generated from."""

    surfaces: tuple[Surface, ...] = ()
    bodies: tuple[Body, ...] = ()
    motors: tuple[Motor, ...] = ()
    servos: tuple[Servo, ...] = ()
    dowels: tuple[Dowel, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.surfaces or self.bodies or self.motors or self.servos or self.dowels)

    def surface(self, name: str) -> Surface | None:
        """The surface of a name; None when there is none."""
        return next((one for one in self.surfaces if one.name == name), None)

    @property
    def wing(self) -> Surface | None:
        """The first surface whose role is wing."""
        return next((one for one in self.surfaces if one.role is Role.WING), None)
