"""What somebody who builds from the pack alone had to ask: each answer stands in a step or chapter."""

import pytest

from foamcut.book.book import book_of
from foamcut.book.chapters_assumed import assumed_chapter
from foamcut.book.chapters_shopping import shopping_chapter
from foamcut.book.chapters_wiring import wiring_chapter
from foamcut.book.facts import Facts
from foamcut.book.step import Step
from foamcut.book.steps import build_steps
from foamcut.book.values import Chapter, Listing, Words
from tests.book.steps_facts import SAMPLE_NAMES, sample_facts


def steps_of(name: str) -> dict[str, Step]:
    """The steps of a sample by their ids."""
    return {step.id: step for step in build_steps(sample_facts(name))}


def words_of(chapter: Chapter | None) -> str:
    """The sentences of a chapter and of those within."""
    assert chapter is not None
    found = []
    for block in chapter.blocks:
        if isinstance(block, Words):
            found.append(block.text)
        elif isinstance(block, Listing):
            found += block.items
    return " ".join((*found, *(words_of(one) for one in chapter.within)))


def told(step: Step) -> str:
    """Its words."""
    return " ".join((step.heading, *step.does, *step.checks))


@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_everything_with_a_size_that_is_carried_is_fitted_in_a_step(name: str) -> None:
    facts = sample_facts(name)
    words = " ".join(told(step) for step in build_steps(facts)).casefold()
    for one in facts.setup.aboard:
        if one.size_mm is not None and facts.inputs.surfaces:
            assert one.name.casefold() in words, one.name


@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_the_table_of_the_scales_has_servos_and_motors(name: str) -> None:
    facts = sample_facts(name)
    if not facts.inputs.surfaces:
        return
    rows = [row[0] for block in steps_of(name)["weigh"].blocks for row in block.rows]  # type: ignore[union-attr]
    for servo in facts.inputs.servos:
        assert any(f"{servo.drives} servo" in row for row in rows)
    for motor in facts.inputs.motors:
        assert any(f"motor of {motor.on}" in row for row in rows)


def test_the_pushrod_of_a_control_without_a_servo_is_led_before_the_deck() -> None:
    steps = steps_of("thrift-1")
    assert "lead the pushrod" in told(steps["inside-hull"])
    for former in ("hull-former-3", "hull-former-4", "hull-former-5"):
        assert former in told(steps["inside-hull"])
    assert any(other == "inside-hull" for _, other in steps["deck-hull"].after)


def test_a_battery_below_the_wing_goes_in_before_the_wing() -> None:
    ids = list(steps_of("sea-blite-3"))
    assert ids.index("battery") < ids.index("fix-wing") < ids.index("weigh")
    steps = steps_of("sea-blite-3")
    assert "do not glue it" in told(steps["fix-wing"])
    assert "without taking anything off" not in told(steps["battery"])
    ids = list(steps_of("thrift-1"))
    assert ids.index("fix-wing") < ids.index("battery")


def test_a_glider_reads_of_no_motor_and_of_no_leads_in_its_wing() -> None:
    steps = steps_of("thrift-1")
    assert "motor" not in told(steps["range"])
    assert "leads" not in told(steps["fix-wing"])
    assert "leads" in told(steps_of("sea-blite-3")["fix-wing"])


def test_a_flying_wing_is_told_how_its_elevons_stand() -> None:
    assert "elevons some degrees up" in told(steps_of("sea-blite-3")["throws"])
    assert "stabiliser holds" not in told(steps_of("thrift-1")["throws"])


def test_dowels_and_their_length_are_among_what_is_needed() -> None:
    assert "6 mm thick: 2 pieces, each 74 mm long" in words_of(shopping_chapter(sample_facts("thrift-1")))


def test_a_battery_that_feeds_a_receiver_straight_is_told() -> None:
    assert "straight" in words_of(wiring_chapter(sample_facts("thrift-1")))
    assert "voltage regulator" not in words_of(wiring_chapter(sample_facts("cordgrass-2")))


@pytest.mark.parametrize("name", ["thrift-1", "cordgrass-2"])
def test_what_was_found_when_it_was_weighed_stands_once(name: str) -> None:
    facts = sample_facts(name)
    assert facts.report is not None
    words = words_of(assumed_chapter(facts))
    for one in facts.report.findings:
        assert words.count(one.text) == 1, one.code


@pytest.mark.parametrize("name", SAMPLE_NAMES)
def test_no_step_is_waited_for_twice_in_one_line(name: str) -> None:
    facts: Facts = sample_facts(name)
    within = next(one for one in book_of(facts).chapters if one.id == "steps").within
    for chapter in within:
        last = chapter.blocks[-1]
        if isinstance(last, Words) and last.text.startswith("Comes after: "):
            several = [part.rpartition(" (")[0] for part in last.text[13:].rstrip(".").split("; ")]
            assert len(several) == len(set(several)), last.text


def test_a_wing_without_a_joiner_is_told_of_a_plate_before_it_is_closed() -> None:
    assert "cannot be put in later" in told(steps_of("sea-blite-3")["close-wing"])
    assert "No joiner" not in told(steps_of("thrift-1")["close-wing"])
