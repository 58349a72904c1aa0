"""Random aeroplanes: parts that pass every check, or a refusal or a finding that names the reason.

`make fuzz` tries 2,000 of them; a test run takes those that 10 seconds of one core are enough for.
"""

from dataclasses import replace

import pytest
from shapely.affinity import scale, translate

from foamcut.airframe.airframe import airframe_parts
from foamcut.airframe.made import Made
from foamcut.airframe.values import Inputs
from foamcut.flat.build import build_part
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from tests.fuzz import attempt_airframe
from tests.fuzz.airframe_table import Tried, reason, table
from tests.fuzz.attempt_airframe import Outcome
from tests.fuzz.flat_skins import skin_faults
from tests.fuzz.random_airframes import random_airframe
from tests.thorough import EVERY

SEEDS = range(50 if EVERY else 25)
#: an aeroplane that is built
WHOLE = 8


@pytest.fixture(scope="module")
def outcomes() -> dict[int, Outcome]:
    return {seed: attempt_airframe.attempt_airframe(seed) for seed in SEEDS}


def test_random_aeroplanes_are_built_or_told_why_not(outcomes):
    """No exception, no generated part that cannot be cut, no skin that differs from its shape unsaid."""
    assert {seed: one.faults for seed, one in outcomes.items() if one.faults} == {}


def test_more_than_half_are_built(outcomes):
    """Otherwise the numbers drawn are nonsense and try nothing but refusals."""
    assert sum(not one.refusals for one in outcomes.values()) > len(outcomes) / 2


def generated(seed: int) -> tuple[list[Part], Made, Inputs]:
    inputs = random_airframe(seed)[0]
    made = airframe_parts(inputs)
    assert not made.refusals
    return [part for one in made.parts for part in build_part(one)[0]], made, inputs


def scaled(part: Part, x: float, y: float) -> Part:
    return replace(
        part, outline=Outline(scale(part.outline.polygon, x, y, origin=(0, 0))), marks=(), slots=()
    )


@pytest.mark.parametrize(("x", "y"), [(1.01, 1.0), (1.0, 1.01)])
def test_a_skin_of_another_size_is_told(x, y):
    """One of a hundred parts longer along the chord or along the span is no fit."""
    parts, made, inputs = generated(WHOLE)
    assert list(skin_faults(parts, made.shells, inputs, ())) == []
    wrong = [scaled(part, x, y) if "skin" in part.name else part for part in parts]
    assert list(skin_faults(wrong, made.shells, inputs, ()))


def test_hands_that_differ_are_told():
    parts, _, _ = generated(WHOLE)
    assert list(attempt_airframe._hand_faults(parts)) == []
    i = next(i for i, part in enumerate(parts) if part.name.endswith("-left"))
    moved = Outline(translate(parts[i].outline.polygon, 0.0, 0.1))
    parts[i] = replace(parts[i], outline=moved, marks=(), slots=())
    (fault,) = attempt_airframe._hand_faults(parts)
    assert "apart from its other hand" in fault


def test_an_exception_is_a_fault(monkeypatch):
    def broken(inputs: Inputs) -> Made:
        raise ZeroDivisionError("a width of nothing")

    monkeypatch.setattr(attempt_airframe, "airframe_parts", broken)
    (fault,) = attempt_airframe.attempt_airframe(0).faults
    assert fault.startswith("ZeroDivisionError at test_random_airframes.py")


def test_the_table_counts_every_aeroplane_once_a_row():
    """arithmetic: two of three built, one refused for one reason."""
    clean = Tried(seed=0, nose="scored", over_spar="bent", panels=1, became="clean")
    refused = replace(clean, seed=1, became="refused", panels=2, refused=(reason("3.5 mm too long"),))
    named = replace(clean, seed=2, became="named", named=("fit-tab: off",))
    lines = table([clean, refused, named]).splitlines()
    assert "| all | 3 | 1 (33 %) | 1 (33 %) | 1 (33 %) | 0 (0 %) |" in lines
    assert "| panels: 2 | 1 | 0 (0 %) | 0 (0 %) | 1 (100 %) | 0 (0 %) |" in lines
    assert "| 1 | # mm too long |" in lines
