"""The build order: every design gives steps that can be done one after another, and every part stands in one."""

import re
from collections.abc import Iterable

import pytest

from foamcut.airframe.values import Role
from foamcut.book.facts import Facts
from foamcut.book.step import Step, Tie
from foamcut.book.steps import build_steps, made_steps
from foamcut.book.steps_ground import Ground
from foamcut.book.steps_kinds import Kind, known_parts
from foamcut.book.steps_sort import in_order
from tests.book.steps_facts import (
    SAMPLE_NAMES,
    SAMPLES,
    STARTERS,
    facts_of_text,
    loaded_facts,
    random_facts,
    sample_facts,
    starter_facts,
)
from tests.fuzz.random_designs import random_design
from tests.hostile.designs import GOOD
from tests.thorough import EVERY

#: random parts drawn by hand, random airframes, and random aeroplanes with what they carry
BY_HAND = range(60 if EVERY else 12)
SEEDS, LOADS = range(120 if EVERY else 12), range(40 if EVERY else 4)
_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_LEAKS = re.compile(
    r"\b(nan|inf|Role|Tie|object at|None(?! has))\b|  |\d\.\d{4}|\b[Ss]a"
    r"fe|(?<!\.)\.\.(?!\.)|(?<![\w.])-0\b"
)
#: steps before which nothing is made of the pieces
BENCH = {"measure", "cut", "label"}


def texts(steps: Iterable[Step]) -> list[str]:
    found = []
    for step in steps:
        found += [step.heading, *step.does, *step.cautions, *step.checks, *step.tools]
        for block in step.blocks:
            found += [block.caption, *block.head, *(cell for row in block.rows for cell in row)]
    return found


def faults(facts: Facts) -> list[str]:
    """What is wrong with the steps of a design, whatever it is."""
    steps = build_steps(facts)
    found = []
    done: set[str] = set()
    parts = {part.name for part in facts.parts}
    for step in steps:
        if not _ID.fullmatch(step.id) or step.id in done:
            found.append(f"id {step.id!r}")
        found += [f"{step.id} before {other}" for _, other in step.after if other not in done]
        found += [f"{step.id} tells of {name}" for name in (*step.adds, *step.shows) if name not in parts]
        if not step.does or not step.checks or not step.tools:
            found.append(f"{step.id} says too little")
        done.add(step.id)
    added = {name for step in steps if step.id not in BENCH for name in step.adds}
    found += [f"no step for {name}" for name in parts - added]
    words = " ".join(texts(step for step in steps if step.id not in BENCH))
    named = {
        int(one)
        for bracket in re.findall(r"\((\d[\d, ]*)(?:; \d+ pieces(?: of each)?)?\)", words)
        for one in re.findall(r"\d+", bracket)
    }
    found += [
        f"piece {name} ({number}) is not named"
        for name, number in facts.numbers.items()
        if number not in named
    ]
    found += [f"leak: {text[:200]}" for text in texts(steps) if _LEAKS.search(text)]
    return found


@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_every_part_and_piece_of_a_sample_stands_in_a_step(name: str) -> None:
    assert faults(sample_facts(name)) == []


@pytest.mark.parametrize(("name", "units"), STARTERS)
def test_every_part_and_piece_of_a_starter_stands_in_a_step(name: str, units: str) -> None:
    assert faults(starter_facts(name, units)) == []


def test_random_airframes_can_be_built_in_their_order() -> None:
    several = {seed: facts for seed in SEEDS if (facts := random_facts(seed)) is not None}
    assert len(several) > len(SEEDS) / 4
    assert {seed: found for seed, facts in several.items() if (found := faults(facts))} == {}


def test_random_aeroplanes_with_all_they_carry_can_be_built_in_their_order() -> None:
    several = {seed: facts for seed in LOADS if (facts := loaded_facts(seed)) is not None}
    assert len(several) > len(LOADS) / 4
    assert {seed: found for seed, facts in several.items() if (found := faults(facts))} == {}


@pytest.mark.parametrize("more", ["", '[parts.lid]\nstock = "board"\nrectangle = [40, 30]\n'])
def test_a_part_with_slots_that_nothing_goes_into_stands_in_a_step(more: str) -> None:
    """It is what others are set onto; alone it is set in its place itself."""
    slot = 'slots = [ { at = [30, 20], length = 20, takes = "board" } ]\n'
    place = 'place = { at = [0, 0], x = "aft", y = "up" }\n'
    assert faults(facts_of_text(f"{GOOD}{slot}{place}{more}".encode())) == []


def test_random_parts_drawn_by_hand_can_be_built_in_their_order() -> None:
    designs = (random_design(seed, 4).encode() for seed in BY_HAND)
    assert {
        seed: found
        for seed, data in zip(BY_HAND, designs, strict=True)
        if (found := faults(facts_of_text(data)))
    } == {}


def test_every_generated_part_is_known() -> None:
    """A new name of a generated part belongs into the one table of kinds."""
    several = [sample_facts(name) for name in SAMPLE_NAMES]
    several += [facts for seed in SEEDS if (facts := random_facts(seed)) is not None]
    kinds = {one.kind for facts in several for one in known_parts(facts.parts, facts.inputs)}
    assert kinds == set(Kind) - {Kind.UNKNOWN}


def place(steps: Iterable[Step], step_id: str) -> int:
    return [step.id for step in steps].index(step_id)


#: what has to come before what on the twin, and why
TWIN_TIES = (
    ("leads-wing", "close-wing", Tie.SHUT_IN),
    ("joiner-wing", "close-wing", Tie.SHUT_IN),
    ("firewall-wing", "close-wing", Tie.SHUT_IN),
    ("dry-wing", "close-wing", Tie.CHECKED),
    ("dry-wing", "joiner-wing", Tie.CHECKED),
    ("close-wing", "join-wing", Tie.GLUED),
    ("joints", "panels-fuselage", Tie.GLUED),
    ("doublers-fuselage", "box-fuselage", Tie.GLUED),
    ("saddle-wing", "deck-fuselage", Tie.CHECKED),
    ("inside-fuselage", "deck-fuselage", Tie.SHUT_IN),
    ("saddle-wing", "tail", Tie.CHECKED),
    ("motors", "bench", Tie.CHECKED),
    ("bench", "nacelles-wing", Tie.CHECKED),
    ("servos", "horns", Tie.CHECKED),
    ("weigh", "battery", Tie.CHECKED),
    ("battery", "balance", Tie.CHECKED),
    ("balance", "throws", Tie.CHECKED),
    ("throws", "range", Tie.CHECKED),
)


@pytest.mark.parametrize(("first", "then", "tie"), TWIN_TIES)
def test_what_cannot_be_mended_later_comes_first(first: str, then: str, tie: Tie) -> None:
    steps = {step.id: step for step in build_steps(sample_facts("cordgrass-2"))}
    assert (tie, first) in steps[then].after


def test_the_order_holds_however_the_makers_run() -> None:
    """The ties alone give an order in which nothing comes too early: made backwards, it is still one."""
    made = made_steps(sample_facts("cordgrass-2"))
    steps = in_order(tuple(reversed(made)))
    for first, then, _ in TWIN_TIES:
        assert place(steps, first) < place(steps, then)
    assert place(steps, "range") < place(steps, "log")


def test_the_order_of_the_twin_is_that_of_the_trade() -> None:
    wanted = [
        "measure", "cut", "label", "joints", "doublers-fuselage", "skin-wing", "dry-wing", "spar-wing", "joiner-wing",
        "leads-wing", "close-wing", "tape-wing", "join-wing", "box-fuselage", "saddle-wing", "tail", "hinges", "motors",
        "bench", "nacelles-wing", "servos", "horns", "paint", "weigh", "battery", "balance", "throws", "range", "log",
    ]  # fmt: skip
    order = [step.id for step in build_steps(sample_facts("cordgrass-2"))]
    assert [one for one in order if one in wanted] == wanted


def test_a_step_stands_only_where_the_design_has_what_it_is_about() -> None:
    glider = {step.id for step in build_steps(sample_facts("thrift-1"))}
    assert not glider & {"motors", "bench", "joints", "leads-wing"}
    wing = {step.id for step in build_steps(sample_facts("sea-blite-3"))}
    assert "joiner-wing" not in wing
    assert "leads-wing" in wing
    assert "firewall-pod" in wing
    tray = [step.id for step in build_steps(sample_facts("jar-tray"))]
    assert tray == ["measure", "cut", "label", "slots-dry", "slots-glue", "paint", "log"]


def test_numbers_follow_the_design() -> None:
    """A number in the words is the design's, not one that was written here."""
    facts = sample_facts("cordgrass-2")
    words = {step.id: " ".join((*step.does, *step.checks)) for step in build_steps(facts)}
    assert "36 mm behind the leading edge at the root" in words["spar-wing"]
    assert "79.8 mm into each half" in words["dry-wing"]
    assert "38.5 mm" in words["join-wing"]
    assert "19.3 mm" in words["join-wing"]
    assert "864 mm long over all" in words["joints"]
    assert "228 mm" in words["hatch-fuselage"]
    assert "114 mm and 162 mm behind the nose" in words["inside-fuselage"]
    assert "203.2 mm" in words["nacelles-wing"]
    assert "LEFT speed control" in words["motors"]
    assert "counter-clockwise" in words["bench"]


def test_strips_of_all_panels_lie_in_their_layers() -> None:
    """Each panel of a wing with bends has its own strips: the first of every panel lies on the skin."""
    facts = random_facts(33)
    assert facts is not None
    spar = next(step for step in build_steps(facts) if step.id == "spar-wing")
    layers = [set(re.findall(r"wing-spar-(\d)", text)) for text in spar.does if text.startswith("Layer")]
    assert layers == [{"1", "2", "3"}, {"4", "5", "6"}, {"7", "8"}]


def test_leads_on_the_way_ask_for_holes_in_formers_that_have_none() -> None:
    inside = next(step for step in build_steps(sample_facts("thrift-1")) if step.id == "inside-hull")
    assert any("hull-former-3" in text and "notch" in text for text in inside.does)
    assert not any("hull-former-2" in text and "notch" in text for text in inside.does), (
        "that one has an opening"
    )


def test_firewalls_below_the_wing_are_given_room_when_it_is_closed() -> None:
    close = next(step for step in build_steps(sample_facts("cordgrass-2")) if step.id == "close-wing")
    assert any("12 mm out below the lower skin" in text for text in close.does)


def test_an_inch_design_speaks_of_inches() -> None:
    steps = build_steps(starter_facts("trainer", "in"))
    words = " ".join(texts(steps))
    assert re.search(r"\d/\d+ in \(\d+(\.\d)? mm\)", words)
    assert "1/3" not in set(re.findall(r"\d+/\d+", words)), "a ruler in inches has no thirds"


def test_what_no_ruler_in_inches_shows_is_said_in_mm() -> None:
    for name, units in STARTERS:
        if units == "in":
            assert not [text for text in texts(build_steps(starter_facts(name, units))) if "0 in (0" in text]


_SKID = b"""
[parts.skid]
stock = "ply"
rectangle = ["120 mm", "20 mm"]
place = { at = [40, 0], out = "-10 mm", x = "aft", y = "right" }

[parts.rib]
stock = "board"
count = 2
rectangle = ["80 mm", "30 mm"]
tabs = [ { at = ["40 mm", 0], length = "20 mm", into = "board" } ]

[parts.tray]
stock = "board"
rectangle = ["100 mm", "60 mm"]
slots = [
  { at = ["50 mm", "15 mm"], length = "20 mm", takes = "board" },
  { at = ["50 mm", "45 mm"], length = "20 mm", takes = "board" },
]

[parts.plate]
stock = "board"
rectangle = ["30 mm", "30 mm"]
"""


def test_parts_drawn_by_hand_join_those_that_are_generated() -> None:
    facts = facts_of_text((SAMPLES / "cordgrass-2.toml").read_bytes() + _SKID)
    assert faults(facts) == []
    steps = {step.id: step for step in build_steps(facts)}
    assert {"rib", "tray"} <= set(steps["slots-glue"].adds)
    assert set(steps["set"].adds) == {"skid", "plate"}
    assert (Tie.GLUED, "box-fuselage") in steps["set"].after
    words = " ".join(steps["set"].does)
    assert "240 mm to 360 mm behind the nose" in words, "the skid's place is told"
    assert re.search(r"Where plate \(\d+\) goes is not in the design", words)


def test_a_glider_hears_nothing_of_propellers() -> None:
    words = texts(build_steps(sample_facts("thrift-1")))
    assert not [text for text in words if "propeller" in text.casefold() or "throttle" in text.casefold()]


def test_motors_are_proven_with_the_propellers_off_before_they_are_built_in() -> None:
    for name in ("cordgrass-2", "glasswort-1", "sea-blite-3"):
        steps = build_steps(sample_facts(name))
        bench = next(step for step in steps if step.id == "bench")
        assert any("PROPELLERS STAY OFF" in text for text in bench.cautions)
        assert bench.checks[0] == "Every propeller is off."


def test_a_stabiliser_in_a_closed_slot_is_put_in_before_the_sides_stand() -> None:
    steps = {step.id: step for step in build_steps(sample_facts("thrift-1"))}
    assert (Tie.SHUT_IN, "sheet-tail") in steps["box-hull"].after


def test_ground_tells_wings_and_tails() -> None:
    ground = Ground(facts=sample_facts("cordgrass-2"))
    assert [one.role for one in ground.tail_surfaces] == [Role.STABILISER, Role.FIN]
    assert ground.v_tail is None
