"""Models to weigh: of parts drawn by hand, and of whole designs."""

from functools import cache
from pathlib import Path

from foamcut.airframe.model import assembled
from foamcut.airframe.motors import with_places
from foamcut.airframe.values import Inputs
from foamcut.design.design import read_design
from foamcut.flat.drawn import Place
from foamcut.flat.part import Part
from foamcut.flat.stock import SheetSize, Stock
from foamcut.flat.way import Piece
from foamcut.flight.values import Cut, Model
from foamcut.plan.building import built
from foamcut.plan.pieces import Offers

SAMPLES = Path(__file__).parents[2] / "sample_designs"
#: a board of 1 m by 1 m that weighs 400 g is 400 g/m2
G_MM2 = 400 / 1e6


def stock(
    name: str = "board", material: str = "foam board", *masses: float | None, thickness: float = 5.0
) -> Stock:
    """One size of 1 m by 1 m for each mass."""
    sheets = tuple(
        SheetSize(key=f"stock.{name}.sheets[{i}]", width_mm=1000.0, height_mm=1000.0, mass_g=mass)
        for i, mass in enumerate(masses)
    )
    return Stock(
        key=f"stock.{name}", name=name, material=material, thickness_mm=thickness,
        margin_mm=3.0, gap_mm=2.0, sheets=sheets,
    )  # fmt: skip


BOARD = stock("board", "foam board", 400.0)


def model_of(parts: list[Part], stocks: tuple[Stock, ...] = (BOARD,), inputs: Inputs | None = None) -> Model:
    """Parts cut whole."""
    return Model(
        inputs=inputs or Inputs(),
        cuts=tuple(Cut(piece=Piece.whole(part), count=part.count) for part in parts),
        standing=assembled(parts, ()),
        stocks={one.name: one for one in stocks},
    )


def place(at=(0.0, 0.0, 0.0), x=(1.0, 0.0, 0.0), y=(0.0, 1.0, 0.0)) -> Place:
    return Place(key="parts.a.place", at=at, x=x, y=y)


@cache
def design_model(name: str) -> Model:
    """The model of a sample design, every part cut in its usual way."""
    design = read_design((SAMPLES / name).read_bytes(), name)
    made = built(design, looked_over=False)
    chosen = Offers(made.parts, design.stocks).usual
    return Model(
        inputs=with_places(design.airframe)[0],
        cuts=tuple(Cut(piece=piece, count=one.part.count) for one in chosen for piece in one.way.pieces),
        standing=assembled(made.parts, made.shells),
        stocks={one.name: one for one in design.stocks},
    )
