"""Facts for the tests of steps: designs cut the usual way, nothing laid on boards, as that takes long."""

from functools import cache
from pathlib import Path

from foamcut.airframe.airframe import airframe_parts
from foamcut.airframe.model import assembled, model_meshes
from foamcut.airframe.values import Inputs
from foamcut.book.facts import Facts
from foamcut.design.design import read_design
from foamcut.design.starters import starter
from foamcut.draw.values import Title
from foamcut.errors import Refused
from foamcut.flat.build import build_part
from foamcut.flat.part import Part
from foamcut.flat.way import Piece
from foamcut.flight.values import Cut, Setup
from foamcut.plan.balancing import balance_of
from foamcut.plan.building import built
from foamcut.plan.pieces import Offers, joints_of, numbers_of
from tests.fuzz.random_airframes import random_airframe
from tests.fuzz.random_loads import random_loads
from tests.fuzz.written import text_of

SAMPLES = Path(__file__).parent.parent.parent / "sample_designs"
SAMPLE_NAMES = ("cordgrass-2", "glasswort-1", "jar-tray", "samphire-1", "sea-blite-3", "thrift-1")
STARTERS = tuple(
    (name, units) for name in ("trainer", "twin", "glider", "flying-wing", "box") for units in ("mm", "in")
)

TITLE = Title(
    name="tried", title="Tried", revision="A", maker="", licence="", scale_text="1:1", tool="knife",
    sketch_unit="mm", sketch_scale=1.0, version="0",
)  # fmt: skip


@cache
def sample_facts(name: str) -> Facts:
    """A sample design, without sheets."""
    return facts_of_text((SAMPLES / f"{name}.toml").read_bytes())


@cache
def starter_facts(name: str, units: str) -> Facts:
    """A starter, without sheets."""
    return facts_of_text(starter(name, units, name).encode())


def loaded_facts(seed: int) -> Facts | None:
    """A random aeroplane with what it carries; None when it is refused."""
    try:
        return facts_of_text(text_of(random_loads(seed)).encode())
    except Refused:
        return None


def facts_of_text(data: bytes) -> Facts:
    """The facts of a design.

    Raises
    ------
    Refused
        It cannot be built.
    """
    design = read_design(data, "design.toml")
    made = built(design, looked_over=False)
    chosen = Offers(made.parts, design.stocks).usual
    model = report = None
    if design.airframe.surfaces:
        model, report = balance_of(design, made.parts, made.shells, chosen)
    return Facts(
        title=TITLE,
        units=design.plan.units,
        parts=made.parts,
        cuts=tuple(Cut(piece=piece, count=one.part.count) for one in chosen for piece in one.way.pieces),
        numbers=numbers_of(chosen),
        joints=joints_of(chosen),
        layouts=(),
        inputs=model.inputs if model else design.airframe,
        setup=design.setup,
        standing=model.standing if model else assembled(made.parts, made.shells),
        meshes=model_meshes(made.parts, made.shells),
        model=model,
        report=report,
        fit_mm=0.2,
    )


@cache
def random_facts(seed: int) -> Facts | None:
    """A random airframe alone, each part whole; None when it is refused."""
    inputs, _ = random_airframe(seed)
    made = airframe_parts(inputs)
    if made.refusals:
        return None
    return facts_of_parts([part for drawn in made.parts for part in build_part(drawn)[0]], inputs)


def facts_of_parts(parts: list[Part], inputs: Inputs | None = None, units: str = "mm") -> Facts:
    """Facts of parts cut whole."""
    return Facts(
        title=TITLE,
        units=units,
        parts=tuple(parts),
        cuts=tuple(Cut(piece=Piece.whole(part), count=part.count) for part in parts),
        numbers={part.name: i for i, part in enumerate(parts, 1)},
        joints={},
        layouts=(),
        inputs=inputs or Inputs(),
        setup=Setup(),
    )
