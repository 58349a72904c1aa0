"""Starters: they pass as they stand, for both rulers, and carry the name of their file."""

import re
import tomllib

import pytest

from foamcut.design.design import Design, read_design
from foamcut.design.starters import UNITS, Starter, starter
from foamcut.findings import Level
from foamcut.flat.build import build_part, check_fits
from foamcut.plan.building import built

#: parts of the twin that are longer than a board
LONG = ("fuselage-side-right", "fuselage-side-left", "fuselage-floor")
EVERY = [(one.value, units) for one in Starter for units in UNITS]


@pytest.mark.parametrize(("name", "units"), EVERY)
def test_a_starter_is_a_design_in_order(name: str, units: str):
    """Every number is read, every part can be built, every tab has its slot, without a warning."""
    design = read_design(starter(name, units, "cordgrass-2").encode(), "cordgrass-2.toml")
    assert design.plan.name == "cordgrass-2"
    assert design.plan.units == units
    whole = built(design)
    assert not [finding for finding in whole.findings if finding.level is not Level.NOTE]
    assert not check_fits(whole.parts)
    if name == "box":
        assert not whole.findings


@pytest.mark.parametrize(("name", "units"), EVERY)
def test_each_part_fits_its_board(name: str, units: str):
    """No part is longer or wider than the board inside its margin."""
    _assert_parts_fit(read_design(starter(name, units, "x").encode(), "x.toml"))


def _assert_parts_fit(design: Design) -> None:
    stocks = {stock.name: stock for stock in design.stocks}
    for part in built(design).parts:
        stock = stocks[part.stock]
        sheet = stock.sheets[0]
        long, short = sorted((sheet.width_mm, sheet.height_mm), reverse=True)
        if design.plan.title.startswith("Twin") and part.name in LONG:
            assert max(part.length_mm, part.width_mm) > long  # its joint shows how one is made
            continue
        assert max(part.length_mm, part.width_mm) <= long - 2 * stock.margin_mm, part.name
        assert min(part.length_mm, part.width_mm) <= short - 2 * stock.margin_mm, part.name


@pytest.mark.parametrize(("name", "units"), EVERY)
def test_a_starter_tells_editors_where_its_schema_is(name: str, units: str):
    """The first line names the schema that is written beside the file; comments tell how numbers are read."""
    text = starter(name, units, "x")
    assert text.startswith("#:schema ./foamcut.schema.json\n")
    assert "a bare number is a measure off the sketch" in text
    assert "a number with a unit is a true size" in text


@pytest.mark.parametrize("units", UNITS)
def test_the_box_is_as_large_as_its_sizes_say(units: str):
    """Walls are as far apart as the inside is long and wide: floor less lips less two thicknesses."""
    design = read_design(starter("box", units, "x").encode(), "x.toml")
    rows = {row.key: row.mm for row in design.sizes_table}
    parts = {drawn.name: build_part(drawn)[0][0] for drawn in design.parts}
    floor = parts["floor"]
    slots = sorted(slot.at for slot in floor.slots if slot.turn_deg == 90)
    between = slots[-1][0] - slots[0][0] - rows["sizes.t"]
    assert between == pytest.approx(rows["sizes.long"])
    end_wall = parts["end-wall"]
    tabs_out = 2 * rows["sizes.t"]
    assert end_wall.length_mm == pytest.approx(rows["sizes.wide"] + tabs_out)


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("name", [one.value for one in Starter])
def test_keys_in_comments_are_in_order(name: str, units: str):
    """What stands there to be taken out of its comment is read, and the parts can still be built."""
    text = starter(name, units, "x")
    opened, count = re.subn(r"(?m)^# ([a-z_]+ = )", r"\1", text)
    assert count == 1
    design = read_design(opened.encode(), "x.toml")
    assert design.plan.kerf_mm == pytest.approx(0.2, abs=0.01)
    _assert_parts_fit(design)


@pytest.mark.parametrize("stem", ['qu"ote', "back\\slash", "φτερό", "a" * 200])
def test_any_file_name_may_name_the_plan(stem: str):
    """Letters that TOML writes as escapes are written so."""
    assert tomllib.loads(starter("box", "mm", stem))["plan"]["name"] == stem


@pytest.mark.parametrize("stem", ["", "  ", "a" * 201, "line\nbreak", "\udcff"])
def test_a_file_name_that_no_plan_may_have(stem: str):
    """The plan then keeps the starter's own name."""
    assert tomllib.loads(starter("box", "mm", stem))["plan"]["name"] == "box"


def test_no_such_starter():
    """Whoever asks must have checked."""
    with pytest.raises(ValueError, match="boat"):
        starter("boat", "mm", "x")
    with pytest.raises(ValueError, match="cm"):
        starter("box", "cm", "x")
