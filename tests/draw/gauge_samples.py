"""Sample designs and handmade ones for the tests of gauges."""

from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from foamcut.airframe.values import Build, Control, Inputs, Role, Station, Surface
from foamcut.design.design import read_design
from foamcut.draw.values import Title
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.flight.figures import Report
from foamcut.plan.balancing import balance_of
from foamcut.plan.building import built
from tests.draw.balance_reports import BOARD
from tests.draw.balance_reports import title as title_in

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = ("cordgrass-2", "glasswort-1", "sea-blite-3", "thrift-1", "samphire-1", "jar-tray")


@dataclass(frozen=True, kw_only=True, eq=False)
class Given:
    """What the gauges of a design are made from."""

    title: Title
    units: str
    parts: tuple[Part, ...]
    stocks: tuple[Stock, ...]
    inputs: Inputs | None
    report: Report | None


@cache
def sample(name: str) -> Given:
    path = ROOT / "sample_designs" / f"{name}.toml"
    design = read_design(path.read_bytes(), path.name)
    made = built(design, looked_over=False)
    inputs = report = None
    if design.airframe.surfaces:
        model, report = balance_of(design, made.parts, made.shells, ())
        inputs = model.inputs
    units = design.plan.units
    title = title_in(units, name=name, words=design.plan.title)
    return Given(
        title=title, units=units, parts=made.parts, stocks=design.stocks, inputs=inputs, report=report
    )


def stock(name: str = "board", thickness_mm: float = 5.0) -> Stock:
    return Stock(
        key=f"stock.{name}",
        name=name,
        material="paper-faced foam board",
        thickness_mm=thickness_mm,
        margin_mm=3.0,
        gap_mm=2.0,
    )


def wing(
    *panels: tuple[float, float], chord: float = 200.0, name: str = "wing", build: Build = Build.FLAT, **more
) -> Surface:
    """A straight wing of panels, each its length and dihedral."""
    out = 0.0
    stations = []
    for i, (length, dihedral) in enumerate((*panels, (0.0, 0.0))):
        key = f"surface.{name}.stations[{i}]"
        stations.append(Station(key=key, out_mm=out, back_mm=0.0, chord_mm=chord, dihedral_deg=dihedral))
        out += length
    facts = {
        "key": f"surface.{name}",
        "name": name,
        "role": Role.WING,
        "build": build,
        "material": BOARD,
        "at": (240.0, 55.0),
        "stations": tuple(stations),
    }
    return Surface(**(facts | more))


def control(word: str = "aileron", chord: float = 40.0, throw: float = 20.0) -> Control:
    return Control(
        key=f"surface.wing.{word}", word=word, from_mm=100.0, to_mm=400.0, chord_mm=chord, throw_deg=throw
    )


def renamed(inputs: Inputs, name: str) -> Inputs:
    """The same with every surface and motor called by a name."""
    return replace(
        inputs,
        surfaces=tuple(replace(one, name=name) for one in inputs.surfaces),
        motors=tuple(replace(one, name=name) for one in inputs.motors),
    )
