"""Mends of a weak wing, done on whole designs: the margin that is told is the margin that is had."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Report
from foamcut.flight.lift_values import GRAVITY_M_S2
from foamcut.flight.planform import planform
from foamcut.flight.strength_advice import WANTED
from foamcut.flight.strength_built import rebuilt
from foamcut.flight.strength_places import joints_of
from foamcut.flight.strength_wing import Wing
from foamcut.plan.balancing import balance
from tests.flight.strength_sample import load_on

ROOT = Path(__file__).resolve().parents[2]
SPAR = re.compile(r'layers = 2, width = "(\d+) mm"')
HIGHER = re.compile(r"a spar (one|\d) layers? higher gives (?:only )?margin ([\d.]+)")
WIDER = re.compile(r"a spar ([\d.]+) mm wider gives (?:only )?margin ([\d.]+)")


def loaded(name: str, factor: float) -> str:
    text = (ROOT / name).read_text("utf-8")
    made, count = re.subn(r"(?m)^load_factor = 4\b", f"load_factor = {factor:g}", text)
    assert count == 1
    return made


def report_of(text: str) -> Report:
    return balance(text.encode(), "design.toml").report


def margin_of(report: Report) -> float:
    number = report.number("wing_margin")
    assert number is not None
    return number.value


def mends(text: str) -> list[tuple[str, float]]:
    """Designs with each mend done, and the margin that was told."""
    told = next(one.mend for one in report_of(text).findings if one.code == "wing-bending")
    width = SPAR.search(text)
    assert width is not None
    found = []
    if higher := HIGHER.search(told):
        layers = 2 + (1 if higher[1] == "one" else int(higher[1]))
        found.append((SPAR.sub(f'layers = {layers}, width = "{width[1]} mm"', text), float(higher[2])))
    if wider := WIDER.search(told):
        wide = float(width[1]) + float(wider[1])
        found.append((SPAR.sub(f'layers = 2, width = "{wide:g} mm"', text), float(wider[2])))
    assert found, told
    return found


@pytest.mark.parametrize(
    ("name", "factor"),
    [
        ("sample_designs/thrift-1.toml", 8.0),
        ("sample_designs/cordgrass-2.toml", 8.0),
        ("foamcut/design/starters/trainer-mm.toml", 12.0),
    ],
)
def test_every_mend_of_the_spar_gives_the_margin_that_is_told(name, factor):
    """The heavier spar is carried, a skin that grows larger than its board has a joint, servos have room."""
    assert_had(loaded(name, factor))


def assert_had(text: str) -> None:
    for changed, margin in mends(text):
        assert margin >= WANTED
        had = margin_of(report_of(changed))
        assert margin - 0.001 <= had < margin + 0.035


def test_mends_of_a_wing_whose_skin_is_bent_over_its_spar_give_it_too():
    """Where its skins are joined is looked for with creased ones first, then with bent ones."""
    text = loaded("sample_designs/cordgrass-2.toml", 8.0)
    bent = text.replace('over_spar = "creased"', 'over_spar = "bent"')
    assert bent != text
    assert_had(bent)


def test_a_skin_that_grows_larger_than_its_board_is_joined_in_the_changed_wing():
    """The joints of what is built anew are those of the changed design as a whole."""
    text = loaded("sample_designs/thrift-1.toml", 8.0)
    wing, whole = wing_in(text), wing_in(SPAR.sub(r'layers = 3, width = "\1 mm"', text))
    assert wing.surface.spar is not None
    made = rebuilt(wing, replace(wing.surface, spar=replace(wing.surface.spar, layers=3)))
    assert made is not None
    assert not wing.joints.skin and made.joints == whole.joints and whole.joints.skin
    assert made.load.lift_n == pytest.approx(whole.load.lift_n, rel=5e-3)


def wing_in(text: str) -> Wing:
    made = balance(text.encode(), "design.toml")
    plan, now = planform(made.model.inputs), made.report.loaded
    assert plan is not None and now is not None
    setup = made.design.setup
    surface = plan.wing.surface
    factor, glue = setup.wishes.load_factor, setup.wishes.glue_g_m
    assert factor is not None
    return Wing(
        surface=surface,
        load=load_on(surface, factor * now.mass_g / 1000 * GRAVITY_M_S2),
        stocks=made.model.stocks,
        joints=joints_of(made.model, surface),
        mass_g=now.mass_g,
        glue_g_mm=(ASSUMED["glue"].value if glue is None else glue) / 1000,
        inputs=made.model.inputs,
    )


def test_a_spar_that_takes_the_place_of_a_servo_is_not_told():
    """The twin's aileron servos stand 17 mm behind a spar 75 mm wide: so wide a one cannot be built."""
    told = next(
        one.mend
        for one in report_of(loaded("sample_designs/cordgrass-2.toml", 8.0)).findings
        if one.code == "wing-bending"
    )
    assert "layers higher" in told
    assert "wider" not in told
    assert "only" not in told


@pytest.mark.parametrize(("factor", "layers"), [(8, 2), (4, 1)])
def test_a_trainer_whose_wing_bears_it_has_a_note_about_its_joiner_alone(factor, layers):
    """Its margin of 3.8 at load factor 4 is 1.9 at 8 (arithmetic: half of it)."""
    text = loaded("foamcut/design/starters/trainer-mm.toml", factor)
    found = report_of(text.replace("layers = 2", f"layers = {layers}", 1))
    assert "wing-bending" not in {one.code for one in found.findings}
    assert "joiner-stress" in {one.code for one in found.findings}
    assert margin_of(found) >= WANTED
