"""Values changed before a design is read: names of sizes and keys, texts as values, names that there are not."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.design.changes import changed_data, value_of
from foamcut.design.design import Design, read_design
from foamcut.errors import Refused

from .making import GOOD

AIRFRAME = (
    GOOD
    + """
[surface.wing]
role = "wing"
stock = "board"
at = [40, 9]
span = "2 * half_span"
root_chord = 30

[surface."tail wing"]
role = "stabiliser"
stock = "board"
at = [100, 9]
span = 36
root_chord = 14

[body.hull]
stock = "board"
width = 10
side = "0, 0, 6; 120, 0, 6"
formers = [ { at = 10 }, { at = 38 } ]

[[servo]]
drives = "rudder"
on = "hull.deck"
at = [50, 0]
size = "23 x 12 mm"
"""
)


def what_if(*changes: tuple[str, str]) -> Design:
    """The design with changes."""
    return read_design(AIRFRAME.encode(), "design.toml", changes)


def refusals(*changes: tuple[str, str]) -> dict[str, str]:
    """What is said of changes by their names."""
    with pytest.raises(Refused) as caught:
        what_if(*changes)
    return {one.key: one.text for one in caught.value.refusals}


def test_a_size_and_keys_of_every_shape():
    """Sizes stand alone, keys as findings print them; what is not in the file is added."""
    design = what_if(
        ("half_span", "96"),
        (' surface."tail wing".span ', "96 mm"),
        ("body.hull.formers[1].at", "2 5/16 in"),
        ("servo[0].at[0]", "60"),
        ("site.altitude", "1200 m"),
        ("balance.target.mac", "30 %"),
        ("weighed.parts.side", "24 g"),
        ("surface.wing.dihedral", "3"),
    )
    wing, tail = design.airframe.surfaces
    assert wing.half_span_mm == 96 * 6
    assert tail.half_span_mm == 48
    assert design.airframe.bodies[0].formers[1].at_mm == pytest.approx(2.3125 * 25.4)
    assert design.airframe.servos[0].at == (360, 0)
    assert design.setup.site.altitude_m == 1200
    assert wing.balance == 0.3
    assert [(one.name, one.mass_g) for one in design.setup.weighed.parts] == [("side", 24)]
    assert wing.stations[0].dihedral_deg == 3
    assert [row.typed for row in design.sizes_table if row.key == "sizes.half_span"] == ["96"]


def test_without_changes_nothing_is_touched():
    """No change gives the same tables; a change leaves those it was made from as they were."""
    data = {"sizes": {"a": 1}, "plan": {"name": "x"}}
    assert changed_data(data, ()) is data
    assert changed_data(data, [("a", "2")]) == {"sizes": {"a": 2}, "plan": {"name": "x"}}
    assert data == {"sizes": {"a": 1}, "plan": {"name": "x"}}
    assert what_if() == what_if()


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("96", 96),
        ("-1.5", -1.5),
        ("96 mm", "96 mm"),
        ('"96 mm"', "96 mm"),
        (" 2 5/16 ", "2 5/16"),
        ("25 %", "25 %"),
        ("true", True),
        ("[1, 2]", [1, 2]),
        ("{ mac = '25 %' }", {"mac": "25 %"}),
        ("2 * half_span", "2 * half_span"),
        ("", ""),
        ("1\ny = 2", "1\ny = 2"),
        ("[" * 400, "[" * 400),
    ],
)
def test_a_text_is_a_value_of_toml_or_itself(text: str, value: object):
    """Quotes may be left out on the command line."""
    assert value_of(text) == value


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("half_spn", 'did you mean "half_span"?'),
        ("surface.wing.spam", 'did you mean "surface.wing.span"?'),
        ("surface.wings.span", 'did you mean "surface.wing.span"?'),
        ("site.altitud", 'did you mean "site.altitude"?'),
        ("servo[1].at", 'did you mean "servo[0].at"?'),
        ("servo[0].at[2]", "no key of that name"),
        ("sizes.new", "no key of that name"),
        ("surface.wing.span.more", "no key of that name"),
        ("parts.side.outline[1]", "is a row of a text; give its number a name under [sizes]"),
        ("body.hull.side[0]", "is a row of a text"),
        ("[0]", "no key of that name"),
        ("=", "no key of that name"),
    ],
)  # fmt: skip
def test_names_that_there_are_not(name: str, words: str):
    """The nearest known name is told."""
    assert words in refusals((name, "1"))[name]


def test_all_names_at_once_and_none_twice():
    """Names are refused together, before anything is read; an empty name has a name too."""
    found = refusals(("a", "1"), ("", "2"), ("half_span", "3"), ("sizes.half_span", "4"))
    assert list(found) == ["a", "change", "sizes.half_span"]
    assert "changed twice" in found["sizes.half_span"]


def test_a_value_that_cannot_be_read_is_refused_at_its_key():
    """What stands in the change is looked at like what stands in the file, with the line of its key."""
    assert "has no unit" in refusals(("surface.wing.trim", "4"))["surface.wing.trim"]
    assert "where a number is due" in refusals(("half_span", "true"))["sizes.half_span"]
    assert "is refused" not in refusals(("half_span", "nan"))["sizes.half_span"]
    assert refusals(("surface.wing", "3")) == {
        "surface.wing": "3 where a table is due; write [surface.wing] and its keys below"
    }


NAMES = st.sampled_from(
    [
        "half_span", "sizes.half_span", "surface.wing.span", "body.hull.formers[1].at", "servo[0].at[0]", "servo[0]",
        "site", "site.altitude", "balance.target", "balance.target.mac", "weighed.parts", "weighed.parts.side",
        "parts.side", "parts.side.outline", "parts.side.outline[1]", "stock", "format", "aboard", "aboard[0].at",
    ]
)  # fmt: skip
TEXTS = st.one_of(
    st.text(st.sampled_from("0123456789 ./-+[]{},=\"'mgtrue"), max_size=12),
    st.sampled_from(["nan", "[[1, 2]]", "{}"]),
)


@given(st.lists(st.tuples(st.one_of(NAMES, st.text(max_size=12)), TEXTS), max_size=3))
def test_any_changes_are_read_or_refused(changes: list[tuple[str, str]]):
    """Whatever is typed, the answer is a design or refusals in words."""
    try:
        what_if(*changes)
    except Refused as err:
        assert all(one.text and one.text.isprintable() for one in err.refusals)
