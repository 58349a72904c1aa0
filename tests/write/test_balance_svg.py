"""SVG files of the balance, read back by svgelements and ElementTree."""

import io
import math
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
import svgelements

from foamcut.draw.balance_pictures import balance_pictures
from foamcut.draw.balance_words import words_at
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.flight.values import Setup
from foamcut.write.picture_svg import render
from tests.draw.balance_checks import NAMES
from tests.draw.balance_reports import THINGS, powered, report, title

SVG = "{http://www.w3.org/2000/svg}"
MM_PER_PX = 25.4 / 96

SQUARE = Picture(
    name="square",
    heading="A <square> & more",
    told="of 40 mm",
    width_mm=100.0,
    height_mm=60.0,
    shapes=(
        Shape(ink=Ink.MODEL, points=((10, 10), (50, 10), (50, 50), (10, 50)), closed=True),
        Shape(ink=Ink.GUIDE, points=((10, 5), (90, 5))),
    ),
    texts=(words_at((60.0, 20.0), "pier & <quay>", 5.0),),
)


def pictures() -> tuple[Picture, ...]:
    return balance_pictures(report(), powered(), Setup(aboard=THINGS), title())


def test_a_square_of_40_mm_is_one_where_it_was_drawn_with_y_turned():
    found = svgelements.SVG.parse(io.BytesIO(render(SQUARE)), ppi=96, reify=True)
    paths = [one for one in found.elements() if isinstance(one, svgelements.Path)]
    assert [px * MM_PER_PX for px in paths[0].bbox()] == pytest.approx([10, 10, 50, 50], abs=2e-4)
    assert [px * MM_PER_PX for px in paths[1].bbox()] == pytest.approx([10, 55, 90, 55], abs=2e-4)
    (text,) = [one for one in found.elements() if isinstance(one, svgelements.Text)]
    assert text.text == "pier & <quay>"
    # capitals of 5 mm: an em is 2048 units and a capital 1493 of DejaVu Sans
    assert text.font_size == pytest.approx(5.0 * 2048 / 1493, rel=1e-3)


@pytest.mark.parametrize("index", range(3))
def test_every_picture_is_read_back_with_all_its_shapes_and_words(index):
    picture = pictures()[index]
    found = svgelements.SVG.parse(io.BytesIO(render(picture)), ppi=96, reify=True)
    paths = [one for one in found.elements() if isinstance(one, svgelements.Path)]
    assert len(paths) == len(picture.shapes)
    for path, shape in zip(paths, picture.shapes, strict=True):
        x0, y0, x1, y1 = (px * MM_PER_PX for px in path.bbox())
        xs, ys = zip(*shape.points, strict=True)
        due = (min(xs), picture.height_mm - max(ys), max(xs), picture.height_mm - min(ys))
        assert (x0, y0, x1, y1) == pytest.approx(due, abs=2e-3)
    texts = [one.text for one in found.elements() if isinstance(one, svgelements.Text)]
    assert texts == [text.text for text in picture.texts]


@pytest.mark.parametrize("index", range(3))
def test_a_picture_is_plain_svg_of_its_size_in_mm(index):
    picture = pictures()[index]
    root = ET.fromstring(render(picture))
    assert {one.tag for one in root.iter()} <= {
        f"{SVG}{tag}" for tag in ("svg", "title", "desc", "rect", "g", "path", "text")
    }
    assert root.get("width", "").endswith("mm")
    assert root.get("viewBox") == f"0 0 {root.get('width', '')[:-2]} {root.get('height', '')[:-2]}"
    assert root.findtext(f"{SVG}title") == picture.heading
    assert not any(name.startswith(("on", "href", "style")) for one in root.iter() for name in one.attrib)


@pytest.mark.parametrize("name", NAMES)
def test_any_name_gives_a_file_that_is_well_formed(name):
    things = tuple(replace(one, name=name) for one in THINGS)
    for picture in balance_pictures(report(), powered(), Setup(aboard=things), title(name=name, words=name)):
        ET.fromstring(render(picture))


def test_the_same_picture_gives_the_same_bytes():
    assert list(map(render, pictures())) == list(map(render, pictures()))


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_what_cannot_be_drawn_is_refused(bad):
    shape = Shape(ink=Ink.AXIS, points=((0, 0), (bad, 1)))
    with pytest.raises(ValueError, match="not a number"):
        render(replace(SQUARE, shapes=(shape,)))
