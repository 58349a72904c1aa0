"""The drawings of the steps: of what each adds, within their box, told in words; none of what is not there."""

import time
from collections.abc import Iterator

import pytest

from foamcut.book.facts import Facts
from foamcut.book.step_figures import step_pictures
from foamcut.book.step_flat import Lying, flat_picture, lying_on
from foamcut.book.step_sheets import sheets_picture
from foamcut.book.step_things import thing_meshes
from foamcut.book.steps import build_steps
from foamcut.draw.balance_words import width_mm
from foamcut.draw.picture import Ink, Picture
from foamcut.draw.values import Align
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.write import picture_svg
from tests.book.steps_facts import (
    SAMPLE_NAMES,
    STARTERS,
    facts_of_parts,
    facts_of_text,
    loaded_facts,
    sample_facts,
    starter_facts,
)
from tests.draw.drawn_parts import part

#: of text and lines past the edge of a picture, mm
_OVER_MM = 0.3


def faults(facts: Facts) -> Iterator[str]:
    steps = build_steps(facts)
    pictures = step_pictures(steps, facts)
    for step in steps:
        picture = pictures.get(step.id)
        if picture is None:
            if step.adds and any(mesh.name in step.adds for mesh in facts.meshes):
                yield f"{step.id} adds what is not drawn"
            continue
        yield from picture_faults(step.id, picture)
    if lost := set(pictures) - {step.id for step in steps}:
        yield f"pictures of no step: {lost}"


def picture_faults(name: str, picture: Picture) -> Iterator[str]:
    if not picture.told.endswith(".") or not picture.heading or picture.name != f"step-{name}":
        yield f"{name} tells {picture.told!r}"
    if not picture.shapes:
        yield f"{name} is empty"
    for shape in picture.shapes:
        for x, y in shape.points:
            if not (
                -_OVER_MM <= x <= picture.width_mm + _OVER_MM
                and -_OVER_MM <= y <= picture.height_mm + _OVER_MM
            ):
                yield f"{name}: ({x}, {y}) is off {picture.width_mm} x {picture.height_mm}"
                break
    for text in picture.texts:
        wide = width_mm(text.text, text.height_mm)
        left = text.at[0] - {Align.LEFT: 0.0, Align.MIDDLE: wide / 2, Align.RIGHT: wide}[text.align]
        if left < -_OVER_MM or left + wide > picture.width_mm + _OVER_MM:
            yield f"{name}: {text.text[:30]!r} from {left} to {left + wide}"


@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_pictures_of_a_sample(name: str) -> None:
    assert list(faults(sample_facts(name))) == []


@pytest.mark.parametrize(("name", "units"), STARTERS[::2])
def test_pictures_of_a_starter(name: str, units: str) -> None:
    assert list(faults(starter_facts(name, units))) == []


def test_pictures_of_random_aeroplanes() -> None:
    several = [facts for seed in range(4) if (facts := loaded_facts(seed)) is not None]
    assert several
    assert [fault for facts in several for fault in faults(facts)] == []


def test_what_a_step_adds_is_filled() -> None:
    facts = sample_facts("cordgrass-2")
    steps = build_steps(facts)
    pictures = step_pictures(steps, facts)
    for name in (
        "box-fuselage",
        "deck-fuselage",
        "tail",
        "close-wing",
        "nacelles-wing",
        "spar-wing",
        "doublers-fuselage",
    ):
        assert any(shape.ink is Ink.ADDED for shape in pictures[name].shapes), name
        assert "illed" in pictures[name].told


def test_words_of_a_picture_name_what_it_adds() -> None:
    facts = sample_facts("cordgrass-2")
    told = {name: one.told for name, one in step_pictures(build_steps(facts), facts).items()}
    assert "fuselage-deck (" in told["deck-fuselage"]
    assert "the servos" in told["servos"]
    assert "the battery" in told["battery"]
    assert "the dowels" in told["dowels-fuselage"]


def test_same_facts_give_the_same_pictures() -> None:
    facts = sample_facts("thrift-1")
    steps = build_steps(facts)
    once, twice = (step_pictures(steps, facts) for _ in range(2))
    assert {name: picture_svg.render(one) for name, one in once.items()} == {
        name: picture_svg.render(one) for name, one in twice.items()
    }


def test_pictures_of_the_twin_take_little_time() -> None:
    """Told for whoever looks; the bound is far off what it takes (half a second)."""
    facts = sample_facts("cordgrass-2")
    steps = build_steps(facts)
    began = time.process_time()
    step_pictures(steps, facts)
    assert time.process_time() - began < 5


def plate(name: str, width: float = 30.0, height: float = 10.0, **more: object) -> Part:
    return part(Outline.rectangle(0, 0, width, height), name, **more)


@pytest.mark.parametrize(
    "facts",
    [
        facts_of_parts([plate("a", 2.0, 2.0)]),
        facts_of_parts([plate("å" * 200), plate("板" * 200, 3000.0, 2.0)]),
        facts_of_parts([plate(f"p{i}") for i in range(40)], units="in"),
    ],
    ids=["tiny", "long names", "many"],
)
def test_nasty_parts_are_drawn_or_left_out(facts: Facts) -> None:
    assert list(faults(facts)) == []


_V_TAIL = b"""
format = 1
[plan]
name = "vee"
[sketch]
units = "mm"
scale = 8
[stock.board]
material = "foam board"
thickness = "5 mm"
sheets = [ { size = "1000 x 700 mm", mass = "230 g" } ]
[surface.Main_2]
role = "wing"
build = "flat"
stock = "board"
at = [30, 7]
span = 120
root_chord = 20
tip_chord = 16
dihedral = 5
[surface.vee]
role = "stabiliser"
build = "flat"
stock = "board"
at = [90, 8]
span = 40
root_chord = 12
tip_chord = 9
dihedral = 35
elevator = { from = 3, to = 19, chord = 4, throw = 20 }
[body.hull]
stock = "board"
width = "50 mm"
side = [[0, 0, 6], [40, 0, 8], [100, 2, 8]]
"""


def test_a_v_tail_is_joined_and_steered_as_one() -> None:
    facts = facts_of_text(_V_TAIL)
    steps = build_steps(facts)
    words = {step.id: " ".join((*step.does, *step.checks)) for step in steps}
    assert "rudder right: the right one down, the left one up" in words["throws"]
    assert (
        next(step.heading for step in steps if step.id == "sheet-surface-1") == 'Make the wing "Main_2" ready'
    )
    assert "propped" in words["sheet-surface-1"]
    assert list(faults(facts)) == []


def test_things_aboard_are_boxes_where_they_sit() -> None:
    facts = sample_facts("cordgrass-2")
    battery = next(mesh for mesh in thing_meshes(facts) if mesh.stock == "battery")
    low, high = battery.vertices.min(axis=0), battery.vertices.max(axis=0)
    assert (high - low).tolist() == pytest.approx([105.0, 34.0, 24.0])
    assert ((low + high) / 2).tolist() == pytest.approx([129.0, 0.0, 24.0])


def test_a_strip_lies_on_its_skin_where_the_spar_is_marked() -> None:
    facts = sample_facts("cordgrass-2")
    parts = {one.name: one for one in facts.parts}
    skin = parts["wing-skin-right"]
    ring = lying_on(skin, parts["wing-spar-1-right"])
    marked = next(mark for mark in skin.marks if getattr(mark, "text", "").startswith("spar, front"))
    front = min(x for x, _ in ring)
    assert front == pytest.approx(marked.runs[0][0].start[0], abs=0.1)


def test_flat_pictures_lay_parts_beside_each_other() -> None:
    picture = flat_picture(
        "step-x", "x", "X.", [Lying(part=plate("a"), label="a"), Lying(part=plate("b"), label="b")]
    )
    edges = [shape for shape in picture.shapes if shape.ink is Ink.EDGE]
    spans = sorted((min(x for x, _ in one.points), max(x for x, _ in one.points)) for one in edges)
    assert spans[0][1] < spans[1][0]
    assert spans[0][1] - spans[0][0] == pytest.approx(30.0), "nothing is drawn larger than it is"


def test_no_sheets_give_no_picture_of_sheets() -> None:
    facts = sample_facts("jar-tray")
    assert "cut" not in step_pictures(build_steps(facts), facts)
    assert sheets_picture.__doc__
