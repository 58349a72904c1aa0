"""What `flight` gives: numbers with their range and source, things with their mass and place, advice."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from foamcut.findings import Finding

Vector = tuple[float, float, float]


class Group(Enum):
    """Under which heading a number is shown, in this order."""

    WEIGHT = "weight"
    BALANCE = "balance"
    PLANFORM = "wings and tail"
    STABILITY = "stability"
    SPEED = "lift and speed"
    POWER = "power"
    STRENGTH = "strength"
    THROWS = "throws"


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """One number of the balance.

    `name` is unique and stays (lower-case letters, digits, _): other programs look for it.  `title` is what
    a person reads.  `unit` is one of: g mm deg % dm2 m/s N W A V min kg m2 MPa N m g/dm2 kg/m3 rpm Wh W/kg,
    or empty; people who measure in inches read it converted.  `low` and `high` bound it, None where nothing
    is known of its range.  `usual` is the range that is usual, in words, and whose it is.  `source` names
    the method or the table.  `assumed`: what was not in the design and was taken from the table of usual
    values, empty when nothing was.
    """

    name: str
    title: str
    value: float
    unit: str
    group: Group
    low: float | None = None
    high: float | None = None
    usual: str = ""
    source: str
    assumed: tuple[str, ...] = ()  # names of rows of `foamcut.flight.assumed`


@dataclass(frozen=True, kw_only=True)
class Figures:
    """Numbers and advice of one question."""

    numbers: tuple[Number, ...] = ()
    findings: tuple[Finding, ...] = ()

    @classmethod
    def of(cls, several: Iterable["Figures"]) -> "Figures":
        """All of several in their order."""
        kept = list(several)
        return cls(
            numbers=tuple(number for one in kept for number in one.numbers),
            findings=tuple(finding for one in kept for finding in one.findings),
        )

    def value(self, name: str) -> float | None:
        """The number of a name; None when it is not among them."""
        return next((one.value for one in self.numbers if one.name == name), None)


class Sort(Enum):
    """Which bar of the weight picture a thing belongs to."""

    BOARD = "board and other sheet"
    GLUE = "glue, tape, paint"
    MOTOR = "motors and propellers"
    BATTERY = "battery"
    RADIO = "radio and wires"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A thing with its mass and the place of its middle; a mirrored pair is two items.

    `at` None: its place is not known; it counts for the weight alone.  `low_g` and `high_g` bound the mass,
    which is its measured value where they are equal.  `spread_mm2` are the mean squares of the distances of
    its stuff from its own middle along x, y and z (a box: length^2 / 12), for moments of inertia.
    """

    key: str
    name: str
    sort: Sort
    mass_g: float
    low_g: float
    high_g: float
    at: Vector | None
    spread_mm2: Vector = (0.0, 0.0, 0.0)
    source: str = ""  # how the mass is known
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Weighing:
    """Every thing that counts, with advice about what is not known."""

    items: tuple[Item, ...]
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """The model with all things in their places as drawn.

    `at` is the centre of gravity, mm; `along_low_mm` and `along_high_mm` bound its place along for the
    masses' ranges.  `target_mm` is where along it shall lie, None without a wing or a target.  Moments of
    inertia are about the centre of gravity: roll (x), pitch (y), yaw (z).  None of it when nothing with a
    place weighs anything: then there is no `Loaded`.
    """

    mass_g: float
    low_g: float
    high_g: float
    at: Vector
    along_low_mm: float
    along_high_mm: float
    target_mm: float | None
    inertia_kg_m2: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceRow:
    """One way to place what may be moved, and the balance that it gives.

    `moved` are (name of the thing, place along mm, place up mm).  `lead_mm` is the length of wire that its
    leads need in all, `wire_g` its mass; None where it is not known.
    """

    moved: tuple[tuple[str, float, float], ...]
    along_mm: float
    mean_chord_share: float | None
    lead_mm: float | None = None
    wire_g: float | None = None
    is_drawn: bool = False  # as in the design
    is_best: bool = False  # nearest to the target of those that can be had


@dataclass(frozen=True, slots=True, kw_only=True)
class Throw:
    """How far a control surface moves to each side: degrees, and mm at the trailing edge, at its widest."""

    key: str
    surface: str
    word: str
    deg: float
    mm: float
    chord_mm: float


@dataclass(frozen=True, kw_only=True)
class Report:
    """The whole balance of a design."""

    numbers: tuple[Number, ...]
    items: tuple[Item, ...]
    loaded: Loaded | None
    places: tuple[PlaceRow, ...]
    throws: tuple[Throw, ...]
    findings: tuple[Finding, ...]

    def number(self, name: str) -> Number | None:
        """The number of a name; None when it is not there."""
        return next((one for one in self.numbers if one.name == name), None)
