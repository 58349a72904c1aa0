"""What `flight` takes in besides the airframe: what is carried, the site, targets, wiring, what was weighed.

Each value carries the key it came from.  `foamcut.design` builds these.  None stands for what the design
does not give; nothing is filled in here (see `foamcut.flight.assumed`).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from foamcut.airframe.values import Inputs
from foamcut.flat.assembled import Standing
from foamcut.flat.outline import Point
from foamcut.flat.stock import Stock
from foamcut.flat.way import Piece


class Carried(Enum):
    """What a thing aboard is; a motor only where no motor mount is generated for it."""

    MOTOR = "motor"
    BATTERY = "battery"
    SPEED_CONTROL = "speed_control"
    RECEIVER = "receiver"
    SERVO = "servo"
    WIRE = "wire"
    GEAR = "gear"
    PAINT = "paint"
    BALLAST = "ballast"
    OTHER = "other"


class Packs(Enum):
    """How battery packs feed motors: all together, or each motor from one of its own."""

    TOGETHER = "together"
    APART = "apart"


@dataclass(frozen=True, slots=True, kw_only=True)
class Aboard:
    """A thing that is carried.

    `at` is its middle (along, up), `out_mm` off the centre plane to the right; `mirrored`: there is one on
    each side, and every number is that of one.  `size_mm` is long, wide, high.  `slides_mm` is from where to
    where along its middle may be moved, `may_sit` are other places (along, up).  `feeds` is what it gives
    current to, such as ``motor.wing``.  `lead_mm` is the length of its lead: a battery's to the speed
    control, a speed control's to the motor, a servo's or receiver's to the receiver.  `cut_off_v` is the
    voltage of a cell at which a speed control stops its motor.
    """

    key: str
    name: str
    kind: Carried
    at: Point
    mass_g: float | None = None
    size_mm: tuple[float, float, float] | None = None
    out_mm: float = 0.0
    mirrored: bool = False
    slides_mm: tuple[float, float] | None = None
    may_sit: tuple[Point, ...] = ()
    cells: int | None = None
    capacity_mah: float | None = None
    current_limit_a: float | None = None
    cut_off_v: float | None = None
    feeds: str = ""
    lead_mm: float | None = None

    @property
    def count(self) -> int:
        """How many there are."""
        return 2 if self.mirrored else 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """Where it is flown: metres above the sea; degrees Celsius, None: those of the standard atmosphere."""

    key: str = "site"
    altitude_m: float = 0.0
    temperature_c: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """Where the balance shall lie: a share of the mean chord, or a place along; one of them is given."""

    key: str
    mean_chord_share: float | None = None
    along_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """The table [balance]: the target, the load factor that it shall bear, paint and glue."""

    key: str = "balance"
    target: Target | None = None
    load_factor: float | None = None
    paint_g_m2: float | None = None  # over the outside of everything
    glue_g_m: float | None = None  # of a glued edge


@dataclass(frozen=True, slots=True, kw_only=True)
class Wiring:
    """How packs feed motors; whether the receiver supplies of several speed controls meet at the receiver."""

    key: str = "wiring"
    packs: Packs | None = None
    joined: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighedPart:
    """What one part of a name weighs (of a pair: each of the two)."""

    key: str
    name: str
    mass_g: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """What was put on the scales: the whole model, where it balances, single parts."""

    key: str = "weighed"
    model_mass_g: float | None = None
    model_along_mm: float | None = None
    parts: tuple[WeighedPart, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """All that `flight` takes from a design besides the airframe."""

    aboard: tuple[Aboard, ...] = ()
    site: Site = field(default_factory=Site)
    wishes: Wishes = field(default_factory=Wishes)
    wiring: Wiring = field(default_factory=Wiring)
    weighed: Weighed = field(default_factory=Weighed)

    def of(self, *kinds: Carried) -> tuple[Aboard, ...]:
        """The things of some kinds, in the order of the file."""
        return tuple(one for one in self.aboard if one.kind in kinds)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """A piece that is cut, and how many of it."""

    piece: Piece
    count: int


@dataclass(frozen=True, kw_only=True, eq=False)
class Model:
    """What is built: the airframe with all its places worked out, its pieces, its parts where they stand.

    `standing` are the parts that have a place; a part of several copies stands there once.  `hardware` are
    the names of what is bought besides.
    """

    inputs: Inputs
    cuts: tuple[Cut, ...]
    standing: tuple[Standing, ...]
    stocks: Mapping[str, Stock]
    hardware: tuple[str, ...] = ()

    def stands(self, part: str) -> Standing | None:
        """The part of a name where it stands; None when it has no place."""
        return next((one for one in self.standing if one.part.name == part), None)
