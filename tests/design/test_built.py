"""What was built otherwise counts, and stands beside what was drawn."""

from pathlib import Path

import pytest

from foamcut.design.built import toml_text
from foamcut.design.changes import value_of
from foamcut.design.design import Design, read_design
from foamcut.errors import Refusal, Refused

SAMPLE = Path(__file__).parents[2] / "sample_designs" / "cordgrass-2.toml"


def entry(key: str, value: str, why: str = '"the sheet was longer"', date: str = "2031-05-02") -> str:
    return f'\n[[built]]\nkey = "{key}"\nvalue = {value}\nwhy = {why}\ndate = {date}\n'


def read(*entries: str) -> Design:
    return read_design(SAMPLE.read_bytes() + "".join(entries).encode(), "plane.toml")


def refused(*entries: str) -> list[Refusal]:
    with pytest.raises(Refused) as caught:
        read(*entries)
    return list(caught.value.refusals)


def test_a_built_value_takes_the_place_of_the_drawn_one() -> None:
    text = SAMPLE.read_text(encoding="utf-8").replace("half_span = 92", "half_span = 96")
    changed = read_design(text.encode(), "plane.toml")
    assert read(entry("half_span", "96")).airframe == changed.airframe != read().airframe


def test_both_stand_beside_each_other() -> None:
    design = read(entry("half_span", "96"), entry("aboard[0].at", "[22, 5]"))
    assert [one.sentence for one in design.built] == [
        "half_span is 96, drawn 92: the sheet was longer (2031-05-02)",
        "aboard[0].at is [22, 5], drawn [21.5, 4]: the sheet was longer (2031-05-02)",
    ]
    drawn = {row.key: row.drawn for row in design.sizes_table if row.drawn}
    assert drawn == {
        "sizes.half_span": "92",
        "aboard[0].at[0]": "[21.5, 4]",
        "aboard[0].at[1]": "[21.5, 4]",
    }


def test_a_value_that_was_left_out_can_be_built() -> None:
    design = read(entry("surface.wing.trim", '"4 mm"'))
    assert design.built[0].drawn_words == "left out"
    assert design.airframe.surfaces[0].trim_mm == 4


def test_a_refused_value_has_the_line_at_which_it_was_built() -> None:
    lines = SAMPLE.read_text(encoding="utf-8").count("\n")
    (found,) = refused(entry("half_span", '"3,4"'))
    assert (found.key, found.line) == ("sizes.half_span", lines + 4)


@pytest.mark.parametrize(
    ("entries", "key", "words"),
    [
        ([entry("half_spam", "3")], "built[0].key", 'did you mean "half_span"?'),
        ([entry("half_span", "3"), entry("half_span", "4")], "built[1].key", "built twice"),
        ([entry("revision[0].letter", '"B"')], "built[0].key", "no value that is built"),
        ([entry("half_span", "96", why='""')], "built[0].why", "is empty"),
        ([entry("half_span", "96", why="3")], "built[0].why", "text is due"),
        ([entry("half_span", "96", date='"May"')], "built[0].date", "a date is due"),
        (["\n[[built]]\nvalue = 3\n"], "built[0].key", "is missing"),
        (["\n[[built]]\nkey = 'half_span'\n"], "built[0].value", "is missing"),
        ([entry("format", "2")], "built[0].key", "no value that is built"),
    ],
)
def test_what_cannot_be_built_is_refused(entries: list[str], key: str, words: str) -> None:
    assert any(one.key == key and words in one.text for one in refused(*entries))


def test_built_that_is_no_list_is_refused() -> None:
    text = SAMPLE.read_text(encoding="utf-8").replace("format = 1", "format = 1\nbuilt = 3")
    with pytest.raises(Refused) as caught:
        read_design(text.encode(), "plane.toml")
    assert [one.key for one in caught.value.refusals] == ["built"]


@pytest.mark.parametrize(
    "text", ["96", "-1.5", '"2 5/16"', "true", '[1, "2 mm"]', '{ size = "3 mm" }', "2031-01-02"]
)
def test_a_value_is_the_same_written_anew(text: str) -> None:
    assert value_of(toml_text(value_of(text))) == value_of(text)
