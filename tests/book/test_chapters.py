"""The chapters round the steps, of every sample and of what is hardly a design."""

import re
from dataclasses import replace

import pytest

from foamcut.book.book import book_of
from foamcut.book.chapters import back_chapters, front_chapters
from foamcut.book.facts import AsBuilt, Revised
from foamcut.book.values import Caution, Figure, Grid, Listing, Turning
from foamcut.findings import CLOSING_WORDS
from foamcut.flat.drawn import Hand
from tests.book.chapter_facts import (
    ALL,
    BOAT,
    GLIDER,
    INCHES,
    TRAY,
    TWIN,
    WING,
    blocks,
    by_hand,
    facts_of,
    grid,
    plate,
    texts,
)

CLEARANCE = re.compile("sa" + "fe", re.IGNORECASE)


def chapters(facts):
    return (*front_chapters(facts), *back_chapters(facts))


def ids(several):
    return [chapter.id for one in several for chapter in (one, *one.within)]


@pytest.mark.parametrize("name", ALL)
def test_chapters_can_be_written(name):
    """Every id is unique and plain, every text says something, every row is as wide as its head."""
    several = chapters(facts_of(name))

    assert len(set(ids(several))) == len(ids(several))
    assert all(re.fullmatch("[a-z0-9-]+", one) for one in ids(several))
    assert not [one for one in ids(several) if one == "steps" or one.startswith("step-")]
    for block in blocks(*several):
        if isinstance(block, Grid):
            assert {len(row) for row in block.rows} == {len(block.head)}
            assert len(block.pictures) in (0, len(block.rows))
            assert all(0 <= column < len(block.head) for column in block.figures)
        elif isinstance(block, Listing):
            assert all(block.items)
    assert not [text for text in texts(*several) if CLEARANCE.search(text) or text != text.strip()]


@pytest.mark.parametrize("name", ALL)
def test_the_same_facts_give_the_same_chapters(name):
    """Nothing in them hangs on an order that differs from run to run."""
    facts = facts_of(name)
    assert texts(*chapters(facts)) == texts(*chapters(facts))


def test_the_paragraph_says_what_the_twin_is():
    """Span, length, weight, loading, balance, power, boards: the numbers of its report."""
    facts = facts_of(TWIN)
    paragraph = texts(*front_chapters(facts)[:1])[1]

    for words in (
        "Twin that carries plot marker sticks over the salt marsh.",
        "spans 1103.3 mm",
        "864 mm long",
        "about 835 g",
        "20.19 dm2",
        "41.4 g/dm2",
        "52.7 mm behind the wing's leading edge",
        "2 electric motors of 110 W each",
        "propellers of 8 x 6 in",
        "3 cells and 2200 mAh",
        "ailerons, elevator and rudder",
    ):
        assert words in paragraph


def test_thickness_and_revision_stand_in_front():
    """What every slot and fold hangs on, and which plan it is."""
    words = " ".join(texts(*front_chapters(facts_of(TWIN))[:1]))

    assert "board 5 mm thick" in words
    assert "ply 1.5 mm thick" in words
    assert "Measure yours" in words
    assert "at 1:6" in words
    assert "revision C of 2031-06-24" in words


def test_the_model_turns_where_there_is_one():
    """The aeroplane has its bodies and a still picture; what has no places has none."""
    turning = [one for one in blocks(*chapters(facts_of(GLIDER))) if isinstance(one, Turning)]

    assert len(turning) == 1
    assert turning[0].meshes == facts_of(GLIDER).meshes
    assert turning[0].still.shapes
    assert not [one for one in blocks(*chapters(facts_of(TRAY))) if isinstance(one, Turning)]
    assert "8 parts without a place" in next(
        one.caption for one in blocks(*chapters(facts_of(BOAT))) if isinstance(one, Turning)
    )


def test_cautions_are_those_that_the_design_asks_for():
    """A tray has no propeller, battery or flight; a glider no propeller; a laser has its own."""

    def said(facts):
        return " ".join(one.text for one in blocks(*front_chapters(facts)) if isinstance(one, Caution))

    tray, glider, twin = (said(facts_of(name)) for name in (TRAY, GLIDER, TWIN))
    assert "glue" in tray
    assert not re.search("ropeller|atter|in the air", tray)
    assert "Lithium packs" in glider
    assert "A model in the air" in glider
    assert "Propellers" not in glider
    assert "Propellers" in twin
    laser = replace(facts_of(TRAY), title=replace(facts_of(TRAY).title, tool="laser"))
    assert "laser cutting of foam" in said(laser)
    assert "laser cutting of foam" not in tray


def test_what_is_no_aeroplane_has_a_smaller_book():
    """No set-up, no checks before a flight, and the first paragraph says so."""
    tray = chapters(facts_of(TRAY))

    assert ids(tray) == [
        "what", "pack", "cautions", "shopping", "parts", "parts-mates", "parts-work", "lines", "changes", "licence",
    ]  # fmt: skip
    assert "no weight or balance" in texts(*tray[:1])[1]
    assert not [text for text in texts(*tray) if "balance.json" in text or "model.glb" in text]


def test_shopping_has_every_row_and_its_cost():
    """The rows of the list with their costs, and the sum of those that have one."""
    facts = facts_of(TWIN)
    table = grid(front_chapters(facts), "To buy")

    assert table.rows[0][:2] == ("board: paper-faced foam board, 5 mm thick", "700 x 500 mm")
    assert [row[0] for row in table.rows[2:]] == [row.name for row in facts.bought[2:]]
    assert [row[2:6] for row in table.rows] == [
        tuple(map(str, (row.needed, row.on_hand, row.to_buy, row.spare))) for row in facts.bought
    ]
    costs = [row.cost for row in facts.bought if row.cost]
    total = sum(round(100 * float(cost.split()[0])) for cost in costs)
    assert f"In all {total // 100}.{total % 100:02} EUR, where a price is known" in " ".join(
        texts(*front_chapters(facts))
    )


def test_what_is_carried_has_masses_and_places():
    """Both motors, their propellers, servos of panels and everything aboard."""
    table = grid(front_chapters(facts_of(TWIN)), "What is carried")
    rows = {row[0]: row for row in table.rows}

    assert rows['motor "wing"'][1:3] == ("2", "52 g")
    assert rows["servo for the aileron"][1:3] == ("2", "9 g")
    assert rows["battery"][2:4] == ("182 g", "105 x 34 x 24 mm")
    places = {row[0]: row[1:] for row in grid(front_chapters(facts_of(TWIN)), "Where the middle").rows}
    assert places["battery"] == ("129 (21.5)", "in the middle", "24 (4)", "120 to 171 (20 to 28.5) along")
    assert places["speed control"][1] == "96 to each side (16)"
    assert places["receiver"][1] == "14 right (2.33)"
    assert places["elevator servo"][1] == "17 left (2.83)"
    assert places["servo for the aileron"][:2] == ("330 (55)", "359.9 to each side (59.99)")
    assert 'motor "wing"' not in places


def test_the_set_up_of_the_twin():
    """Throws in mm and degrees, balance with its usual range, propeller, pack, angles."""
    back = back_chapters(facts_of(TWIN))

    throws = {row[0]: row[1:3] for row in grid(back, "Throws").rows}
    assert throws == {
        "aileron of wing": ("16.4 mm", "20 deg"),
        "elevator of tail": ("10.2 mm", "20 deg"),
        "rudder of fin": ("19.8 mm", "30 deg"),
    }
    balance = grid(back, "Weight and balance").rows
    assert balance[1][:2] == ("balance, behind the wing's leading edge at the root", "52.7 mm")
    assert balance[1][2].startswith("41.4 to 59.8 mm by the usual static margin")
    angles = {row[0]: row[1] for row in grid(back, "Angles").rows}
    assert angles["wing, nose up from the base line"] == "1 deg"
    assert angles["wing, dihedral, each side"] == "2 deg"
    power = " ".join(" ".join(row) for row in grid(back, "Motors and battery").rows)
    assert "8 x 6 in" in power
    assert "2200 mAh" in power


def test_an_inch_design_has_fractions_with_the_mm_beside_them():
    """Where something is set with a ruler, it is a thirty-second of an inch, the mm in brackets."""
    back = back_chapters(facts_of(INCHES))

    for row in grid(back, "Throws").rows:
        for cell in (row[1], row[3]):
            fraction, mm = re.fullmatch(r"((?:\d+ )?\d+/\d+|\d+) in \((\d+(?:\.\d+)?) mm\)", cell).groups()
            inches = sum(
                int(a) / int(b or 1) for a, _, b in (word.partition("/") for word in fraction.split())
            )
            assert abs(inches * 25.4 - float(mm)) <= 25.4 / 64 + 0.05
    assert not [text for text in texts(*back[:1]) if re.search(r"(?<!\()\b[\d.]+ mm(?!\))", text)]


def test_the_weight_is_told_without_a_rule():
    """Registration: the all-up weight and whom to ask; no threshold stands there as a fact."""
    for name in (TWIN, GLIDER, WING):
        lists = [one for one in blocks(*back_chapters(facts_of(name))) if isinstance(one, Listing)]
        ticked = [item for one in lists if one.ticked for item in one.items]
        first = ticked[0]

        assert "check your authority" in first
        mass = facts_of(name).report.number("mass_all_up").value
        assert f"about {round(mass)} g" in first
        assert not re.search(r"\b(250|100|0\.55|400|120)\b", first)
        assert any("distance that the maker states" in item for item in ticked)


def test_the_glider_is_not_asked_about_motors():
    """Checks speak of what is there."""
    items = " ".join(texts(*[one for one in back_chapters(facts_of(GLIDER)) if one.id == "checks"]))
    assert not re.search("motor|ropeller|throttle", items)


def test_every_usual_value_that_went_in_is_listed_with_its_source():
    """The rows are those that the numbers and things name, and numbers point at them."""
    facts = facts_of(TWIN)
    used = {name for one in (*facts.report.numbers, *facts.report.items) for name in one.assumed}
    back = back_chapters(facts)
    table = grid(back, "Taken from a table")

    assert len(table.rows) == len(used)
    assert all(row[4] for row in table.rows)
    rows = {row[0] for row in table.rows}
    pointed = {
        number
        for row in grid(back, "Numbers that are not sure").rows
        for number in row[3].split(", ")
        if number != "-"
    }
    assert pointed <= rows


def test_findings_stand_in_words_and_their_end_is_said():
    """Every line that the screen has; nothing listed is no clearance."""
    facts = facts_of(TWIN)
    chapter = next(one for one in back_chapters(facts) if one.id == "assumed")
    found = texts(chapter)

    assert facts.findings[-1] == CLOSING_WORDS
    assert set(facts.findings) <= set(found)
    assert found[-1] == CLOSING_WORDS


def test_built_beside_drawn_and_revisions():
    """Both values, why and when; revisions in a table; without any it says so."""
    built = AsBuilt(key="surface.wing.span", drawn="184", built="190", why="longer board", date="2031-07-01")
    facts = by_hand(
        plate(40, 20), built=(built,), revisions=(Revised(letter="B", date="2031-07-02", what="span"),)
    )
    back = back_chapters(facts)

    assert grid(back, "Built otherwise").rows == (
        ("surface.wing.span", "184", "190", "longer board", "2031-07-01"),
    )
    assert grid(back, "Revisions").rows == (("B", "2031-07-02", "span"),)
    said = " ".join(texts(*back_chapters(by_hand(plate(40, 20)))))
    assert "Nothing is entered as built otherwise" in said
    assert "lists no revisions" in said


def test_no_licence_is_said_as_it_is():
    """Who finds the pack knows whom to ask."""
    facts = by_hand(plate(40, 20))
    said = texts(*back_chapters(facts))
    assert "Licence: no licence stated: ask the maker." in said
    licensed = replace(facts, title=replace(facts.title, licence="CC0 1.0"))
    assert "Licence: CC0 1.0." in texts(*back_chapters(licensed))


@pytest.mark.parametrize("name", ["r" * 200, "Flügel 翼 جناح", "a b", "x\u202ey"])
def test_names_of_any_kind_are_told(name):
    """One tiny part, a name of any script or length, no layout, no place: a book all the same."""
    part = replace(plate(2, 1), name=name, hand=Hand.NONE)
    book = book_of(by_hand(part))

    assert any(name in text for text in texts(*book.chapters))


def test_an_empty_title_is_no_gap():
    """No title, maker or revision: the name stands for them."""
    facts = by_hand(plate(40, 20))
    bare = replace(facts, title=replace(facts.title, title="", maker="", revision=""))
    said = texts(*chapters(bare))

    assert "Plan: cordgrass-2. Maker: not stated." in said
    assert any(text.startswith("The plan states no revision.") for text in said)
    assert any(text.startswith("cordgrass-2. The plan is called cordgrass-2. ") for text in said)
    assert not [text for text in said if "  " in text]


def test_every_lead_of_the_twin_has_its_length():
    """Battery, controls, servos: the way, what is needed, what the design gives."""
    rows = {row[:2]: row[2:] for row in grid(back_chapters(facts_of(TWIN)), "Every lead").rows}

    assert rows["battery", "speed control"][0] == "2"
    assert rows["battery", "speed control"][2:] == ("162 mm", "192 mm", "270 mm")
    assert rows["speed control", 'motor "wing"'][0] == "2"
    assert rows["elevator servo", "receiver"][4] == "560 mm"
    said = " ".join(texts(*[one for one in back_chapters(facts_of(TWIN)) if one.id == "wiring"]))
    assert "fed by one speed control alone" in said
    (drawn,) = [one for one in blocks(*back_chapters(facts_of(TWIN))) if isinstance(one, Figure)]
    assert "150 mm long" in drawn.picture.told
    assert "Propellers stay off" in said


def test_wiring_of_a_glider_speaks_of_no_motor():
    """A battery, a receiver, servos; nothing that does not concern them."""
    said = " ".join(texts(*[one for one in back_chapters(facts_of(GLIDER)) if one.id == "wiring"]))
    assert "receiver" in said
    assert not re.search("motor|ropeller|speed control", said)
    assert "wiring" not in ids(back_chapters(facts_of(TRAY)))


@pytest.mark.parametrize("name", ALL)
def test_every_part_has_its_picture(name):
    """One a row, told in words for who does not see it."""
    facts = facts_of(name)
    table = grid(front_chapters(facts), "All parts")

    assert len(table.pictures) == len(table.rows) == len(facts.parts)
    for picture, part in zip(table.pictures, facts.parts, strict=True):
        assert part.name in picture.heading
        assert picture.told
        assert picture.shapes
