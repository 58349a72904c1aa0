"""Wings of the salt-marsh station for tests of strength, as models with their parts cut and standing.  mm."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from foamcut.airframe.model import assembled
from foamcut.airframe.values import Inputs, Surface
from foamcut.findings import Finding
from foamcut.flat.build import build_part
from foamcut.flat.stock import Stock
from foamcut.flight.figures import Figures, Loaded
from foamcut.flight.planform import Lifting, Planform
from foamcut.flight.strength import strength_figures
from foamcut.flight.strength_load import Load
from foamcut.flight.strength_wing import Wing
from foamcut.flight.values import Cut, Model, Setup, Wishes
from tests.airframe.folded_wings import made_of


def stock(name: str, material: str, thickness: float) -> Stock:
    return Stock(
        key=f"stock.{name}", name=name, material=material, thickness_mm=thickness, margin_mm=3.0, gap_mm=2.0
    )


STOCKS: Mapping[str, Stock] = {
    "board": stock("board", "paper-faced foam board", 5.0),
    "ply": stock("ply", "birch plywood", 2.0),
    "foam": stock("foam", "expanded polystyrene", 6.0),
    "balsa": stock("balsa", "balsa sheet", 3.0),
}


def load_on(surface: Surface, lift_n: float = 31.4, **more: Any) -> Load:
    return Load(lift_n=lift_n, stations=tuple((s.out_mm, s.chord_mm) for s in surface.stations), **more)


def wing_of(surface: Surface, **more: Any) -> Wing:
    return Wing(surface=surface, **{"load": load_on(surface), "stocks": STOCKS} | more)


def standing_model(surface: Surface, *, hardware: tuple[str, ...] = ()) -> Model:
    """A wing whose parts stand, each cut whole."""
    made = made_of(surface)
    assert made.refusals == ()
    parts = [part for drawn in made.parts for part in build_part(drawn)[0]]
    return replace(bare_model(surface, hardware=hardware), standing=assembled(parts, made.shells))


def bare_model(surface: Surface, *, cuts: tuple[Cut, ...] = (), hardware: tuple[str, ...] = ()) -> Model:
    """A wing none of whose parts is known."""
    return Model(inputs=Inputs(surfaces=(surface,)), cuts=cuts, standing=(), stocks=STOCKS, hardware=hardware)


def lifting(surface: Surface, area_m2: float = 0.2) -> Lifting:
    return Lifting(
        surface=surface, area_m2=area_m2, span_m=2 * surface.half_span_mm / 1000, aspect_ratio=5.0,
        mean_chord_m=0.18, leading_m=0.24, out_m=0.25, up_m=0.05, crosses=(),
    )  # fmt: skip


def loaded(mass_g: float = 800.0) -> Loaded:
    return Loaded(
        mass_g=mass_g, low_g=0.9 * mass_g, high_g=1.1 * mass_g, at=(290.0, 0.0, 50.0), along_low_mm=285.0,
        along_high_mm=295.0, target_mm=None, inertia_kg_m2=(0.0, 0.0, 0.0),
    )  # fmt: skip


def figures_of(
    model: Model, mass_g: float = 800.0, factor: float | None = None, others: tuple[Lifting, ...] = ()
) -> Figures:
    surface = model.inputs.surfaces[0]
    plan = Planform(wing=lifting(surface), tail=None, fins=(), others=others)
    return strength_figures(model, Setup(wishes=Wishes(load_factor=factor)), plan, loaded(mass_g))


def finding(figures: Figures, code: str) -> Finding:
    (found,) = [one for one in figures.findings if one.code == code]
    return found
