"""Somebody who has the book of the glider alone writes the list of its parts, and holds it against the design."""

import re
import tomllib

import pytest

from foamcut.book.chapters import front_chapters
from foamcut.flat.drawn import Hand
from tests.book.chapter_facts import GLIDER, SAMPLES, TWIN, facts_of, grid


def numbers_of(cell):
    """The numbers of a cell before its brackets, and those in them."""
    full, _, sketch = cell.partition(" (")
    return [[float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", words)] for words in (full, sketch)]


@pytest.mark.parametrize("name", [GLIDER, TWIN])
def test_every_part_has_stock_count_hand_face_size_and_sheet(name):
    """What the parts of the design say, read back from the table."""
    facts = facts_of(name)
    table = grid(front_chapters(facts), "All parts")

    thick = next(one.text for one in front_chapters(facts)[4].blocks)
    lying = {part.name: set() for part in facts.parts}
    for layout in facts.layouts:
        for sheet in layout.sheets:
            for placed in sheet.placed:
                lying[placed.piece.part.name].add(sheet.number)
    assert [row[1] for row in table.rows] == [part.name for part in facts.parts]
    for row, part in zip(table.rows, facts.parts, strict=True):
        assert row[2] == part.stock
        assert f"{part.stock} {part.thickness_mm:g} mm" in thick
        assert int(row[3]) == part.count
        assert row[4] == ("-" if part.hand is Hand.NONE else part.hand.value)
        assert row[5].partition(";")[0] == part.face.value
        sizes = [float(one) for one in re.findall(r"[\d.]+", row[6])]
        assert sizes == pytest.approx(sorted((part.length_mm, part.width_mm), reverse=True), abs=0.051)
        assert {int(one) for one in re.findall(r"\d+", row[7])} == lying[part.name]


def test_formers_stand_where_the_design_has_them():
    """The front face of each former, along, is its `at` times the scale; read from the file itself."""
    design = tomllib.loads((SAMPLES / f"{GLIDER}.toml").read_text(encoding="utf-8"))
    rows = {row[1]: row for row in grid(front_chapters(facts_of(GLIDER)), "From where to where").rows}

    for i, former in enumerate(design["body"]["hull"]["formers"], 1):
        (start, end), (sketch, _) = numbers_of(rows[f"hull-former-{i}"][2])
        assert start == pytest.approx(former["at"] * design["sketch"]["scale"], abs=0.051)
        assert end - start == pytest.approx(5.0, abs=0.11)
        assert sketch == pytest.approx(former["at"], abs=0.006)


def test_the_wing_stands_where_the_design_has_it():
    """Its leading edge along, its span to each side, both hands in one row."""
    design = tomllib.loads((SAMPLES / f"{TWIN}.toml").read_text(encoding="utf-8"))
    rows = {row[1]: row for row in grid(front_chapters(facts_of(TWIN)), "From where to where").rows}
    row = rows["wing-skin (both hands)"]

    assert row[0] == "1; 2"
    (start, _), (sketch, _) = numbers_of(row[2])
    assert sketch == pytest.approx(design["sizes"]["saddle"], abs=0.01)
    assert start == pytest.approx(design["sizes"]["saddle"] * design["sketch"]["scale"], abs=0.1)
    assert row[3].startswith("0 to 551.7 to its side")
    assert row[5] == "up"


def test_sides_look_inwards():
    """The side view is the right side seen on its inner face: both drawn faces look at each other."""
    rows = {row[1]: row for row in grid(front_chapters(facts_of(TWIN)), "From where to where").rows}
    assert rows["fuselage-side (both hands)"][5] == "inwards"
    assert rows["fuselage-side (both hands)"][3] == "26 to 31 to its side (4.33 to 5.17)"
    assert rows["fin-panel"][5] == "left"
    assert rows["fuselage-former-2"][3] == "31 to each side (5.17)"
    assert rows["fin-rudder-horn"][3] == "from 21.5 left (3.58) to 2.5 right (0.42)"


def test_each_part_is_in_the_table_of_what_meets_what():
    """Every part once, alone or with its other hand; none of the glider meets nothing."""
    facts = facts_of(GLIDER)
    named = set()
    for _, name, meets in grid(front_chapters(facts), "What each part meets").rows:
        pair, both, _ = name.partition(" (both hands)")
        named |= {f"{pair}-right", f"{pair}-left"} if both else {pair}
        assert "nothing" not in meets
    assert named == {part.name for part in facts.parts}


def test_sections_and_doublers_have_their_sheets():
    """Each piece of the twin's long sides with its number and the sheet that it lies on."""
    facts = facts_of(TWIN)
    table = grid(front_chapters(facts), "Sections and doublers")
    lying = {
        placed.piece.flat.name: f"{sheet.stock} {sheet.number}"
        for layout in facts.layouts
        for sheet in layout.sheets
        for placed in sheet.placed
    }

    assert len(table.rows) == 9
    for number, name, what, *_, sheet in table.rows:
        assert int(number) == facts.numbers[name]
        assert sheet == lying[name]
        assert re.fullmatch(r"(section \d of \d|doubler [A-Z]) of fuselage-\S+", what)


def test_slots_name_what_goes_into_them():
    """The stock and the size as cut."""
    rows = {row[1]: row for row in grid(front_chapters(facts_of(GLIDER)), "Slots with what").rows}
    assert rows["tail-panel"][2] == "2 x for ply, 19.3 x 1.7 mm"
    assert rows["fin-panel"][3] == "into board, 29.6 mm long"
    assert "2 x wrap: lift out 5 mm, fold 90 deg towards you" in rows["hull-trough"][4]
