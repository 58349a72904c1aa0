"""Questions: each finds its number in every starter, and what is answered is read there."""

import tomllib

import pytest

from foamcut.design.asking import MOST_QUESTIONS, Due, answered, questions
from foamcut.design.design import read_design
from foamcut.design.literals import SumError
from foamcut.design.starters import UNITS, Starter, starter
from foamcut.units import decimal_text

EVERY = [(one.value, units) for one in Starter for units in UNITS]
OTHER = {Due.SCALE: "5.5", Due.BOARD: "30 x 40 in", Due.ANGLE: "3.5"}


@pytest.mark.parametrize(("name", "units"), EVERY)
def test_the_questions_of_a_starter(name: str, units: str):
    """With the ruler they are fifteen at most; the default is what stands there, and changes nothing."""
    text = starter(name, units, "x")
    asked = questions(text)
    assert len(asked) + 1 <= MOST_QUESTIONS
    assert len({one.words for one in asked}) == len(asked)
    for one in asked:
        same, shown = answered(text, one, one.default)
        assert same == text and shown
    if name != "box":
        assert {"sizes.span", "sizes.length", "sizes.width", "sizes.wing_at"} <= {one.key for one in asked}


@pytest.mark.parametrize(("name", "units"), EVERY)
def test_each_answer_takes_the_place_of_its_number_alone(name: str, units: str):
    """One line of the text changes; the design reads the number that was typed; the next default is it."""
    text = starter(name, units, "x")
    sizes = {row.key: row.mm for row in read_design(text.encode(), "x.toml").sizes_table}
    for one in questions(text):
        typed = OTHER.get(one.due) or f"{decimal_text((sizes[one.key] or 0) * 1.03, 2)} mm"
        other, shown = answered(text, one, f"  {typed} ")
        lines = [(a, b) for a, b in zip(text.split("\n"), other.split("\n"), strict=True) if a != b]
        assert len(lines) == 1, one.key
        design = read_design(other.encode(), "x.toml")
        if one.due is Due.BOARD:
            assert (design.stocks[0].sheets[0].width_mm, design.stocks[0].sheets[0].mass_g) == (762, None)
        else:
            row = next(row for row in design.sizes_table if row.key == one.key)
            assert row.typed == typed
            assert row.mm is None or row.mm == pytest.approx(float(typed.removesuffix(" mm")))
        assert [q.default for q in questions(other) if q.key == one.key] == [typed]
        assert typed.removesuffix(" mm") in shown or one.due is Due.BOARD
        behind = lines[0][0].partition("#")[2]
        assert lines[0][1].partition("#")[2] == behind  # the comment stays


@pytest.mark.parametrize(
    ("key", "typed", "words"),
    [
        ("sketch.scale", "0", "0"),
        ("sketch.scale", "six", "six"),
        ("sizes.t", "5", 'has no unit. Write "5 mm"'),
        ("sizes.t", "0 mm", "not above 0"),
        ("sizes.span", "nan", '"nan" is no name in [sizes]; known are'),
        ("sizes.span", "true", '"true" is no name in [sizes]'),
        ("sizes.span", "1" * 101, "101 letters are too many for a number"),
        ("sizes.span", "9999999", "over 1e6"),
        ("sizes.span", "tail_span", '"tail_span" hangs on this number itself'),
        ("sizes.wing_at", "kink - 3", '"kink" hangs on this number itself'),
        ("stock.board", "700 x 500", "unit"),
        ("stock.board", "9 x 6 m", "a side of 9000 mm is over 5,000 mm"),
        ("surface.wing.dihedral", "50", "not from -45 to 45 degrees"),
        ("surface.wing.dihedral", "5 mm", "5 mm"),
        ("sizes.span", 'x"\n[sizes]', "cannot be read"),
    ],
)
def test_what_cannot_stand_there_is_refused(key: str, typed: str, words: str):
    """The words say why and what to write."""
    text = starter("twin", "mm", "x")
    one = next(one for one in questions(text) if one.key == key)
    with pytest.raises(SumError) as caught:
        answered(text, one, typed)
    assert words in str(caught.value)


def test_sums_may_use_what_does_not_hang_on_the_number():
    """A chord may be a share of another one."""
    text = starter("trainer", "mm", "x")
    one = next(one for one in questions(text) if one.key == "sizes.tip_chord")
    other, shown = answered(text, one, "0.5 * root_chord")
    assert tomllib.loads(other)["sizes"]["tip_chord"] == "0.5 * root_chord"
    assert shown == "102 mm (4 1/64 in)"  # half of 34 x 6 (arithmetic)
