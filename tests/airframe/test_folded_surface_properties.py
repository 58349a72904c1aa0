"""Any folded wing is refused with a reason, or its parts can be cut and keep what arithmetic says of them."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamcut.airframe.planform import panels
from foamcut.airframe.values import Nose, OverSpar, Run, Surface, TrailingEdge
from foamcut.flat.build import build_part
from tests.airframe.folded_wings import CARD, aileron, joiner, made_of, raised, wing
from tests.airframe.section_surfaces import spar


@st.composite
def wings(draw: st.DrawFn) -> Surface:
    """Aspect 2 to 12, taper 0.3 to 1, sweep 0 to 35 degrees, 1 to 3 panels; the spar as chords ask for."""
    chord = draw(st.floats(120.0, 320.0))
    taper = draw(st.floats(0.3, 1.0))
    half = draw(st.floats(2.0, 12.0)) * chord * (1 + taper) / 4
    sweep = math.radians(draw(st.floats(0.0, 35.0)))
    count = draw(st.integers(1, 3))
    outs = [half * i / count for i in range(count + 1)]
    rows = tuple((out, out * math.tan(sweep), chord * (1 - (1 - taper) * out / half)) for out in outs)
    dihedral = [draw(st.sampled_from((0.0, 2.0, 6.0, -3.0))) for _ in range(count)]
    layers = max(1, min(3, round(chord * taper / 50.0) - 1))
    control = aileron(
        from_mm=outs[-2] + (half - outs[-2]) * draw(st.sampled_from((0.0, 0.3))),
        to_mm=half * draw(st.sampled_from((1.0, 0.97))),
        chord_mm=chord * taper * 0.25,
    )
    return wing(
        rows,
        stations=raised(rows, *dihedral),
        spar=spar(
            layers=layers,
            width_mm=chord * taper * 0.12,
            behind_mm=chord * taper * 0.3,
            run=draw(st.sampled_from(Run)),
            tip_layers=draw(st.sampled_from((None, 1))),
        ),
        nose=draw(st.sampled_from(Nose)),
        over_spar=draw(st.sampled_from(OverSpar)),
        trailing_edge=draw(st.sampled_from(TrailingEdge)),
        controls=draw(st.sampled_from(((), (control,)))),
        joiner=draw(st.sampled_from((None, joiner(length_mm=40.0)))),
        patches=draw(st.sampled_from((None, CARD))),
        trim_mm=draw(st.sampled_from((0.0, 3.0))),
    )


@settings(max_examples=60, deadline=None)
@given(one=wings())
def test_a_wing_is_refused_or_can_be_cut(one):
    """Arithmetic: lower skins add up to the half span; every part has a place, and what is refused a text."""
    made = made_of(one)
    if made.refusals:
        assert all(refusal.key.startswith("surface.wing") and refusal.text for refusal in made.refusals)
        return
    names = [part.name for part in made.parts]
    assert len(set(names)) == len(names)
    assert all(part.place is not None for part in made.parts)
    cut = {part.name: part for drawn in made.parts for part in build_part(drawn)[0]}
    skins = [
        part for name, part in cut.items() if "-skin" in name and "upper" not in name and "left" not in name
    ]
    starts = sorted(panel.first.out_mm for panel in panels(one))
    assert len(skins) >= len(starts)
    shells = {shell.part: shell for shell in made.shells}
    assert len(shells) == sum("-skin" in part.name for part in made.parts)
    # each corner of the lower skins' shells that lies on the centre plane is at the root
    roots = [shell for name, shell in shells.items() if name in ("wing-skin", "wing-skin-1")]
    for shell in roots:
        assert abs(shell.outer[:, 0, 1]).max() == pytest.approx(0.0, abs=1e-6)
        assert abs(shell.inner[:, 0, 1]).max() == pytest.approx(0.0, abs=1e-6)
