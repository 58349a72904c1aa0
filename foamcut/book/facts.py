"""All that a book is made from."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from foamcut.airframe.model import Mesh
from foamcut.airframe.values import Inputs
from foamcut.draw.values import Title
from foamcut.flat.assembled import Standing
from foamcut.flat.joint import Joint
from foamcut.flat.part import Part
from foamcut.flight.figures import Report
from foamcut.flight.values import Cut, Model, Setup
from foamcut.nest.values import Layout


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """A line of the shopping list: `kind` is sheet or hardware, `cost` in words with the currency."""

    kind: str
    name: str
    size: str
    needed: int
    on_hand: int
    to_buy: int
    spare: int
    cost: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Revised:
    """A line of the list of changes."""

    letter: str
    date: str  # year-month-day
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AsBuilt:
    """A value that was built otherwise than drawn: both as typed, why, and when."""

    key: str
    drawn: str
    built: str
    why: str
    date: str = ""  # year-month-day


@dataclass(frozen=True, kw_only=True, eq=False)
class Facts:
    """A design built, cut, laid and weighed.

    `parts` in the order of the design, `cuts` their pieces, `numbers` those of the pieces by the name of
    their flat part; `joints` by part.  `standing` are the parts with a place.  `model` and `report` are None
    for what is no aeroplane.  `findings` are in words, the closing ones last.  `units` is what the sketch's
    ruler reads, mm or in.
    """

    title: Title
    units: str
    parts: tuple[Part, ...]
    cuts: tuple[Cut, ...]
    numbers: Mapping[str, int]
    joints: Mapping[str, tuple[Joint, ...]]
    layouts: tuple[Layout, ...]
    inputs: Inputs
    setup: Setup
    standing: tuple[Standing, ...] = ()
    meshes: tuple[Mesh, ...] = ()
    model: Model | None = None
    report: Report | None = None
    bought: tuple[Bought, ...] = ()
    revisions: tuple[Revised, ...] = ()
    built: tuple[AsBuilt, ...] = ()
    findings: tuple[str, ...] = ()
    summary: tuple[str, ...] = field(default=())  # boards to buy, pages to print, as the screen says
    fit_mm: float = 0.0
    kerf_mm: float = 0.0
