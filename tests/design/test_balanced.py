"""Starters and samples of aeroplanes: they balance where they shall, as they are drawn, without a warning."""

from pathlib import Path

import pytest

from foamcut.design.design import read_design
from foamcut.design.starters import UNITS, Starter, starter
from foamcut.findings import Level
from foamcut.flight.values import Carried
from foamcut.plan.balancing import Balanced, balance

ROOT = Path(__file__).resolve().parents[2]
STARTERS = [(one.value, units) for one in Starter if one is not Starter.BOX for units in UNITS]
SAMPLES = ("cordgrass-2", "glasswort-1", "sea-blite-3", "thrift-1")
#: what is meant so: no twin of board holds one motor with its rudder at the stall
MEANT = {"twin": {"motor-out"}, "cordgrass-2": {"motor-out"}}
#: how far from its target a model may balance as it is drawn, as a share of the mean chord
NEAR = 0.015


def balanced(name: str, units: str = "") -> Balanced:
    """The balance of a starter, or of a sample."""
    if units:
        return balance(starter(name, units, "x").encode(), "x.toml")
    path = ROOT / "sample_designs" / f"{name}.toml"
    return balance(path.read_bytes(), path.name)


@pytest.mark.parametrize(("name", "units"), [*STARTERS, *((name, "") for name in SAMPLES)])
def test_it_balances_where_it_shall_without_a_warning(name: str, units: str):
    """The centre of gravity lies near the target, and nothing is more than worth knowing."""
    found = balanced(name, units)
    loaded = found.report.loaded
    assert loaded is not None and loaded.target_mm is not None
    values = {number.name: number.value for number in found.report.numbers}
    assert abs(loaded.at[0] - loaded.target_mm) < NEAR * values["mean_chord"]
    told = {one.code for one in found.findings if one.level is not Level.NOTE}
    assert told <= MEANT.get(name, set())


@pytest.mark.parametrize(("name", "units"), [*STARTERS, *((name, "") for name in SAMPLES)])
def test_masses_are_given(name: str, units: str):
    """What is carried, each motor and each propeller has its mass; a battery may be slid to both sides."""
    text = starter(name, units, "x") if units else ""
    data = text.encode() or (ROOT / "sample_designs" / f"{name}.toml").read_bytes()
    design = read_design(data, "x.toml")
    assert all(one.mass_g for one in design.setup.aboard)
    assert {Carried.BATTERY, Carried.RECEIVER} <= {one.kind for one in design.setup.aboard}
    assert all(one.mass_g and one.propeller.mass_g and one.power_w for one in design.airframe.motors)
    for one in design.setup.of(Carried.BATTERY):
        assert one.size_mm and one.slides_mm
        assert one.slides_mm[0] < one.at[0] < one.slides_mm[1]
