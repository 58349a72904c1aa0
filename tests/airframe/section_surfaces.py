"""Surfaces with a spar, for the tests of sections and their pictures."""

from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from foamcut.airframe.planform import panels
from foamcut.airframe.section import Section, section_at
from foamcut.airframe.values import (
    Build,
    Material,
    Nose,
    OverSpar,
    Role,
    Run,
    Spar,
    Station,
    Surface,
    TrailingEdge,
)

KEY = "surface.wing"
BOARD = Material(name="board", thickness_mm=5.0, boards_mm=((700.0, 500.0),), fit_mm=0.2)


def board(thickness: float) -> Material:
    return replace(BOARD, thickness_mm=thickness)


def stations(*rows: tuple[float, float, float]) -> tuple[Station, ...]:
    """Rows of out, back, chord."""
    return tuple(
        Station(key=f"{KEY}.stations[{i}]", out_mm=out, back_mm=back, chord_mm=chord)
        for i, (out, back, chord) in enumerate(rows)
    )


def spar(**changed: Any) -> Spar:
    values: dict[str, Any] = {
        "key": f"{KEY}.spar",
        "material": BOARD,
        "layers": 2,
        "width_mm": 25.0,
        "behind_mm": 36.0,
    }
    return Spar(**values | changed)


def surface(**changed: Any) -> Surface:
    """The wing of the twin: two layers under a chord of 204 mm, 162 mm at the tip."""
    values: dict[str, Any] = {
        "key": KEY,
        "name": "wing",
        "role": Role.WING,
        "build": Build.FOLDED,
        "material": BOARD,
        "at": (240.0, 54.0),
        "stations": stations((0.0, 0.0, 204.0), (552.0, 6.0, 162.0)),
        "spar": spar(),
    }
    return Surface(**values | changed)


def section(made: Surface, s_mm: float = 0.0) -> Section:
    several = panels(made)
    panel = next((one for one in several if s_mm <= one.last.out_mm), several[-1])
    return section_at(made, panel, s_mm)


@st.composite
def surfaces(draw: st.DrawFn) -> Surface:
    """Surfaces of all kinds, most of which cannot be built."""
    t = draw(st.floats(1.0, 8.0))
    strip = t * draw(st.floats(0.5, 1.5))
    chord = draw(st.floats(60.0, 400.0))
    layers = draw(st.integers(1, 4))
    rows = [(0.0, 0.0, chord)]
    for _ in range(draw(st.integers(1, 3))):
        out, back, last = rows[-1]
        far = draw(st.floats(50.0, 500.0))
        rows.append((out + far, back + far * draw(st.floats(-0.1, 0.7)), last * draw(st.floats(0.5, 1.0))))
    return surface(
        material=board(t),
        stations=stations(*rows),
        nose=draw(st.sampled_from(Nose)),
        over_spar=draw(st.sampled_from(OverSpar)),
        trailing_edge=draw(st.sampled_from(TrailingEdge)),
        nose_height_mm=draw(st.none() | st.floats(1.8, 3.5).map(lambda share: share * t)),
        spar=spar(
            material=board(strip),
            layers=layers,
            width_mm=chord * draw(st.floats(0.02, 0.25)),
            behind_mm=chord * draw(st.floats(0.1, 0.5)),
            run=draw(st.sampled_from(Run)),
            tip_layers=draw(st.none() | st.integers(1, layers)),
            tip_width_mm=draw(st.none() | st.floats(2.0, 30.0)),
        ),
    )
