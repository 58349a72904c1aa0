"""SVG files, read back by svgelements at 96 px to the inch, their structure by ElementTree."""

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest
from shapely import Point, Polygon

from foamcut.draw.values import Align, Drawing, Line, Stroke, Text
from foamcut.flat.outline import straight
from foamcut.write.svg import render
from tests.write.readers import svg_lines
from tests.write.sheet_drawings import rectangle, sheet

SVG = "{http://www.w3.org/2000/svg}"
MM_PER_PX = 25.4 / 96
# The reader's px per mm is 3.7795296 and not 3.7795276: a tenth of a thousandth on 200 mm.
NEAR_MM = 2e-4


def written(drawing: Drawing) -> bytes:
    return render(drawing, title="Cordgrass – sheet 1", description="5 mm board & ply")


def test_a_hundred_millimetres_is_a_hundred_millimetres_and_y_is_turned():
    found = svg_lines(written(sheet()))
    (square,) = found["THROUGH"]
    assert (*square.min(axis=0), *square.max(axis=0)) == pytest.approx((10, 10, 110, 110), abs=NEAR_MM)
    assert np.ptp(found["NOTES"][0][:, 0]) == pytest.approx(100, abs=NEAR_MM)


def test_arcs_bend_the_way_they_were_drawn():
    found = svg_lines(written(sheet()))
    hole = Polygon(found["OPENING"][0])
    assert hole.area == pytest.approx(math.pi * 20**2, rel=1e-3)
    assert hole.centroid.distance(Point(60, 60)) < 1e-3
    assert found["MARK_BACK"][0][:, 1].min() == pytest.approx(15, abs=NEAR_MM)
    assert found["MARK"][0][:, 1].max() == pytest.approx(35, abs=NEAR_MM)


def test_size_in_mm_and_the_same_numbers_in_the_view():
    """10 mm are left to the right of the notes, for fonts that are wider."""
    root = ET.fromstring(written(sheet()))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("430mm", "200mm", "0 0 430 200")


def test_notes_below_the_sheet_make_the_picture_higher_but_do_not_move_it():
    low = Stroke(line=Line.NOTES, segments=straight([(320, -50), (320, 0)]))
    data = written(replace(sheet(), strokes=(*sheet().strokes, low)))
    assert ET.fromstring(data).get("viewBox") == "0 0 430 250"
    assert svg_lines(data)["THROUGH"][0][:, 1].max() == pytest.approx(110, abs=NEAR_MM)


@pytest.mark.parametrize("points", [[(-5, 5), (5, 5)], [(5, 5), (5, 205)]])
def test_what_lies_outside_the_picture_is_refused(points):
    stray = Stroke(line=Line.MARK, segments=straight(points))
    with pytest.raises(ValueError, match="left of the sheet or above"):
        written(replace(sheet(), strokes=(stray,)))


def test_groups_in_order_each_with_its_look_and_nothing_else():
    root = ET.fromstring(written(sheet()))
    assert [child.tag.removeprefix(SVG) for child in root][:2] == ["title", "desc"]
    groups = root.findall(f"{SVG}g")
    assert [group.get("id") for group in groups] == [
        "SHEET", "MARK", "MARK_BACK", "LETTERING", "OPENING", "THROUGH", "NOTES",
    ]  # fmt: skip
    assert len(root) == 2 + len(groups)
    assert {group.get("fill") for group in groups} == {"none"}
    assert root.find(f"{SVG}g[@id='MARK_BACK']").get("stroke-dasharray") == "2.16 0.54"
    assert root.find(f"{SVG}g[@id='THROUGH']").get("stroke-dasharray") is None


def test_only_plain_elements_and_absolute_commands():
    root = ET.fromstring(written(sheet()))
    assert {e.tag.removeprefix(SVG) for e in root.iter()} == {"svg", "title", "desc", "g", "path", "text"}
    for element in root.iter():
        assert not {"class", "style"} & set(element.attrib)
        assert "transform" not in element.attrib or element.tag == f"{SVG}text"
    for element in root.iter(f"{SVG}path"):
        assert re.fullmatch(r"[MLAZ0-9. -]+", element.get("d"))


def test_numbers_have_at_most_six_decimals():
    odd = Stroke(line=Line.MARK, segments=straight([(0.1 + 0.2, 1 / 3), (1e-7, 5), (7, 5)]))
    text = written(replace(sheet(), strokes=(odd,))).decode()
    assert "M0.3 199.666667 L0 195 L7 195" in text
    assert not re.search(r"\d\.\d{7}|\d[eE][-+]?\d|-0[ \"]", text)


def test_texts_keep_their_letters_place_and_turn():
    root = ET.fromstring(written(sheet()))
    lettering = root.find(f"{SVG}g[@id='LETTERING']/{SVG}text")
    assert lettering.text == "Größe 2½ Ω"
    assert lettering.get("text-anchor") == "middle"
    assert lettering.get("transform") == "rotate(-90 90 140)"
    assert lettering.get("font-family").endswith("sans-serif")
    # capitals of the font are 0.729 of its size
    assert float(lettering.get("font-size")) * 0.729 == pytest.approx(3, abs=0.001)


def test_letters_that_xml_does_not_know_and_signs_that_it_uses():
    odd = Text(line=Line.NOTES, at=(320, 50), text="a\x07<b>&\nc\ufffe", height_mm=3, align=Align.LEFT)
    root = ET.fromstring(written(replace(sheet(), texts=(odd,))))
    assert root.find(f"{SVG}g[@id='NOTES']/{SVG}text").text == "a?<b>& c?"


def test_an_empty_sheet():
    root = ET.fromstring(written(Drawing(name="x", width_mm=10, height_mm=20, strokes=())))
    assert root.get("viewBox") == "0 0 10 20"
    assert root.find(f"{SVG}g") is None


def test_a_closed_line_ends_with_z_and_says_no_point_twice():
    only = Drawing(
        name="x",
        width_mm=10,
        height_mm=10,
        strokes=(Stroke(line=Line.THROUGH, segments=rectangle(1, 1, 9, 9), closed=True),),
    )
    assert 'd="M1 9 L9 9 L9 1 L1 1 Z"' in written(only).decode()
