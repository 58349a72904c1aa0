"""Numbers in the words of the steps, against sums of our own and against the model as it is put together."""

import math
import re

import numpy as np
import pytest

from foamcut.book.facts import Facts
from foamcut.book.steps import build_steps
from foamcut.book.steps_ground import Ground
from foamcut.book.steps_tail import tip_point
from foamcut.book.steps_words import Ruler, counted, deg, listed, off_middle, sentence
from tests.book.steps_facts import sample_facts

PLANES = ("cordgrass-2", "glasswort-1", "thrift-1")


def words(facts: Facts, step_id: str) -> str:
    step = next(step for step in build_steps(facts) if step.id == step_id)
    return " ".join((*step.does, *step.checks))


@pytest.mark.parametrize("name", PLANES)
def test_the_prop_is_as_high_as_the_tip_of_a_v_rises(name: str) -> None:
    """Arithmetic: half span x sin(2 g) with one half flat, half span x sin(g) with both alike; numbers ours."""
    facts = sample_facts(name)
    wing = facts.inputs.wing
    assert wing is not None
    g = math.radians(wing.stations[0].dihedral_deg)
    ruler = Ruler(facts.units)
    told = words(facts, "join-wing")
    assert f"a block {ruler(wing.half_span_mm * math.sin(2 * g))} high" in told
    assert f"both tips {ruler(wing.half_span_mm * math.sin(g))} up" in told


@pytest.mark.parametrize("name", PLANES)
def test_the_diagonal_of_a_body_is_that_of_its_upper_corners(name: str) -> None:
    """Arithmetic: Pythagoras over length, width and the drop of the upper edge; numbers ours."""
    facts = sample_facts(name)
    body = facts.inputs.bodies[0]
    first, last = body.side[0], body.side[-1]
    diagonal = math.sqrt(
        (last.along_mm - first.along_mm) ** 2 + (last.top_mm - first.top_mm) ** 2 + body.width_mm**2
    )
    assert f"Both are {Ruler(facts.units)(diagonal)};" in words(facts, f"box-{body.name}")


@pytest.mark.parametrize("name", PLANES)
def test_the_tail_is_measured_between_corners_that_the_model_has(name: str) -> None:
    """The corners that a builder holds a thread to are corners of the parts where they stand."""
    facts = sample_facts(name)
    ground = Ground(facts=facts)
    level = ground.tail_surfaces[0]
    parts = {f"{level.name}-panel", f"{level.name}-panel-right"}
    vertices = np.concatenate([mesh.vertices for mesh in facts.meshes if mesh.name in parts])
    off = np.linalg.norm(vertices - np.array(tip_point(level)), axis=1).min()
    assert off < 0.1
    wing = facts.inputs.wing
    assert wing is not None
    far = math.dist(tip_point(wing, rear=True), tip_point(level))
    assert f"is {Ruler(facts.units)(far)}, and as far on the left" in words(facts, "tail")


@pytest.mark.parametrize("name", PLANES)
def test_the_wing_tip_that_is_measured_from_lies_on_the_skin(name: str) -> None:
    """The rear corner of the tip: the upper skin is drawn to be trimmed, so that a mesh may reach past it."""
    facts = sample_facts(name)
    wing = facts.inputs.wing
    assert wing is not None
    skin = next(mesh for mesh in facts.meshes if mesh.name == "wing-skin-right")
    off = np.linalg.norm(skin.vertices - np.array(tip_point(wing, rear=True)), axis=1).min()
    assert off < 5.0


def test_formers_stand_where_the_table_says() -> None:
    facts = sample_facts("cordgrass-2")
    box = next(step for step in build_steps(facts) if step.id == "box-fuselage")
    stands = {one.part.name: one.box for one in facts.standing}
    for row in box.blocks[0].rows:  # type: ignore[union-attr]
        name = row[1].split(" (")[0]
        front = float(re.match(r"([\d.]+) mm", row[2])[1])  # type: ignore[index]
        assert front == pytest.approx(float(stands[name][0, 0]), abs=0.06)


def test_battery_and_balance_are_those_of_the_report() -> None:
    facts = sample_facts("cordgrass-2")
    assert facts.report is not None
    assert facts.report.loaded is not None
    target = facts.report.number("battery_along_target")
    assert target is not None
    assert f"lie {Ruler('mm')(target.value)} behind the nose" in words(facts, "battery")
    wing = facts.inputs.wing
    assert wing is not None
    assert facts.report.loaded.target_mm is not None
    behind = Ruler("mm")(facts.report.loaded.target_mm - wing.at[0])
    assert f"It shall balance {behind} behind the leading edge" in words(facts, "balance")


def test_words_of_lengths() -> None:
    ruler = Ruler("in")
    assert ruler(25.4) == "1 in (25.4 mm)"
    assert ruler(0.2) == "0.2 mm"
    assert ruler(1.0) == "1/32 in (1 mm)"
    assert ruler(-30.0) == "-1 3/16 in (-30 mm)"
    assert ruler.up(-25.4) == "1 in (25.4 mm) below the base line"
    assert ruler.sizes(50.8, 25.4) == "2 x 1 in (50.8 x 25.4 mm)"
    assert Ruler("mm").sizes(50.8, 25.4) == "50.8 x 25.4 mm"
    assert Ruler("mm")(-0.01) == "0 mm"


def test_words_of_lists_and_angles() -> None:
    assert listed([]) == ""
    assert listed(["a", "b"]) == "a and b"
    assert counted(0, "piece") == "0 pieces"
    assert (deg(1.0), deg(0.5)) == ("1 degree", "0.5 degrees")
    assert sentence("so it is") == "So it is."
    assert off_middle(-3.0, Ruler("mm")) == "3 mm to the left of the middle line"
    assert off_middle(0.1, Ruler("mm")) == "on the middle line"
