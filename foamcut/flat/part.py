"""Parts: what the builder names.  A `Part` that exists can be cut."""

from dataclasses import dataclass

from foamcut.flat.bevels import Bevel
from foamcut.flat.drawn import Doubling, Face, Grain, Hand, JointLine, KeepClear, Label, Place, Turns
from foamcut.flat.folds import Fold
from foamcut.flat.marks import Mark
from foamcut.flat.outline import Outline, Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """A slot as cut: its middle, its sizes with the fit, and the stock that goes in."""

    key: str
    at: Point
    length_mm: float
    width_mm: float
    turn_deg: float
    takes: str
    outline: Outline
    fit_mm: float = 0.0  # what of length and width is fit
    open: bool = False  # may run out of the part


@dataclass(frozen=True, slots=True, kw_only=True)
class Tab:
    """A tab as cut: the middle of its root, and the stock it goes into."""

    key: str
    at: Point
    length_mm: float
    depth_mm: float
    into: str
    outline: Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One flat piece of sheet as the builder names it; of a pair, one hand.

    `outline` is what falls out when every through line is cut: tabs on, cutouts and slots off.
    Lines of holes are openings, the outer ring the outline.  To change a part, build another.

    Raises
    ------
    ValueError
        The outline cannot be cut, or a number is out of range: whoever builds parts must have refused it.
    """

    key: str
    name: str
    stock: str
    thickness_mm: float
    count: int
    hand: Hand
    face: Face
    grain: Grain
    turns: Turns
    outline: Outline
    slots: tuple[Slot, ...] = ()
    tabs: tuple[Tab, ...] = ()
    marks: tuple[Mark, ...] = ()
    label: Label | None = None
    place: Place | None = None
    named: tuple[tuple[str, Point], ...] = ()
    folds: tuple[Fold, ...] = ()
    bevels: tuple[Bevel, ...] = ()
    joint_lines: tuple[JointLine, ...] = ()  # of this hand and of the other one
    may_be_joined: bool = True
    may_join: bool = False  # although it lies whole, when that saves a board
    keep_clear: tuple[KeepClear, ...] = ()
    doubling: Doubling | None = None
    kerf_mm: float = 0.0
    mirror_image: bool = False  # of the hand that is drawn: y is minus that of the drawing

    def __post_init__(self) -> None:
        if fault := self.outline.fault():
            raise ValueError(f"part {self.name!r}: {fault}")
        if not self.thickness_mm > 0 or self.count < 1:
            raise ValueError(f"part {self.name!r}: {self.thickness_mm=}, {self.count=}")

    @property
    def length_mm(self) -> float:
        """Extent along x, mm."""
        return self.outline.bounds[2] - self.outline.bounds[0]

    @property
    def width_mm(self) -> float:
        """Extent along y, mm."""
        return self.outline.bounds[3] - self.outline.bounds[1]

    @property
    def worked_behind(self) -> bool:
        """Whether something is cut, not only drawn, on the face that lies down."""
        return any(f.cut_behind for f in self.folds) or any(b.cut_behind for b in self.bevels)

    @property
    def can_be_ruled(self) -> bool:
        """Whether ruler and pencil do: straight lines only and at most eight corners, holes included."""
        return not self.outline.circles and self.outline.corner_count <= 8
