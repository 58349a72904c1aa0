"""DXF files, read back by GDAL and, for their structure, by the group codes themselves."""

import io
import logging

import ezdxf
import numpy as np
import pytest
from shapely import Point, Polygon

from foamcut.draw.values import Drawing, Line, Stroke, Text
from foamcut.flat.outline import Segment, straight
from foamcut.write.dxf import render
from tests.write.readers import dxf_lines
from tests.write.sheet_drawings import circle, rectangle, sheet

VERSIONS = ("R2000", "R12")


def pairs(data: bytes) -> list[tuple[int, str]]:
    lines = data.decode("ascii").split("\n")
    return [(int(code), value) for code, value in zip(lines[::2], lines[1::2], strict=False) if code.strip()]


def header(data: bytes) -> dict[str, str]:
    found = pairs(data)
    return {value: found[at + 1][1].strip() for at, (code, value) in enumerate(found) if code == 9}


@pytest.fixture(scope="module", params=VERSIONS)
def version(request):
    return request.param


def test_a_hundred_millimetres_is_a_hundred_millimetres(version, tmp_path):
    found = dxf_lines(render(sheet(), version=version), tmp_path)
    (square,) = found["THROUGH"]
    assert square.bounds == pytest.approx((10, 10, 110, 110), abs=1e-6)
    assert Polygon(square.coords).area == pytest.approx(100 * 100, abs=1e-6)
    assert found["NOTES"][0].length == pytest.approx(100, abs=1e-6)


def test_arcs_bend_the_way_they_were_drawn(version, tmp_path):
    """A positive bulge turns left: from left to right it sags, a negative one rises."""
    found = dxf_lines(render(sheet(), version=version), tmp_path)
    (hole,) = found["OPENING"]
    assert Polygon(hole.coords).area == pytest.approx(np.pi * 20**2, rel=1e-5)
    assert Polygon(hole.coords).centroid.distance(Point(60, 60)) < 1e-4
    assert found["MARK_BACK"][0].bounds == pytest.approx((20, 15, 40, 20), abs=1e-4)
    assert found["MARK"][0].bounds == pytest.approx((20, 30, 40, 35), abs=1e-4)


def test_layers_stand_in_the_order_of_the_table(version, tmp_path):
    data = render(sheet(), version=version)
    assert list(dxf_lines(data, tmp_path)) == [
        "SHEET", "MARK", "MARK_BACK", "LETTERING", "OPENING", "THROUGH", "NOTES",
    ]  # fmt: skip
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    listed = {layer.dxf.name for layer in document.layers}
    wanted = {"SHEET", "MARK", "MARK_BACK", "LETTERING", "OPENING", "THROUGH", "NOTES"}
    assert {name.upper() for name in listed} - {"0", "DEFPOINTS"} == wanted


def test_everything_is_drawn_as_its_layer_says(version):
    document = ezdxf.read(io.StringIO(render(sheet(), version=version).decode("ascii")))
    for entity in document.modelspace():
        assert entity.dxf.get("color", 256) == 256
        assert entity.dxf.get("linetype", "BYLAYER").upper() == "BYLAYER"
        assert entity.dxf.layer not in ("0", "Defpoints")
    dashed = document.layers.get("MARK_BACK").dxf.linetype
    pattern = document.linetypes.get(dashed).pattern_tags.tags
    assert [tag.value for tag in pattern if tag.code == 40] == [2.7]  # all of it, mm
    assert [tag.value for tag in pattern if tag.code == 49] == [2.16, -0.54]
    assert document.layers.get("THROUGH").dxf.linetype.upper() == "CONTINUOUS"


def test_the_units_are_stated():
    assert header(render(sheet(), version="R2000"))["$INSUNITS"] == "4"
    assert header(render(sheet(), version="R2000"))["$MEASUREMENT"] == "1"
    data = render(sheet(), version="R12", comment_lines=("cordgrass revision Ä",))
    assert data.startswith(b"999\ncordgrass revision A\n999\nunits: mm\n")


def test_the_header_states_the_extents(version):
    found = pairs(render(sheet(), version=version))
    at = found.index((9, "$EXTMAX"))
    assert [float(value) for _, value in found[at + 1 : at + 3]] == [420, 200]


def test_nothing_is_mended_and_nothing_logged(version, caplog):
    with caplog.at_level(logging.INFO):
        document = ezdxf.read(io.StringIO(render(sheet(), version=version).decode("ascii")))
    auditor = document.audit()
    assert not auditor.errors
    assert not auditor.fixes
    assert not [record for record in caplog.records if "unit" in record.getMessage()]


def test_numbers_have_no_exponent(version):
    tiny = Stroke(line=Line.MARK, segments=straight([(0.000001, 0.00001), (3, 1e-9), (0.1 + 0.2, 7)]))
    data = render(Drawing(name="x", width_mm=10, height_mm=10, strokes=(tiny,)), version=version)
    values = [value.strip() for code, value in pairs(data) if 10 <= code < 60]
    assert "0.000001" in values
    assert "0.3" in values
    assert not [value for value in values if "e" in value or (value.startswith("-0.0") and float(value) == 0)]


def test_words_are_plain_ascii(version):
    odd = Text(line=Line.NOTES, at=(20, 0), text="45° %%d ^J \\U+00B0 Ω\nend", height_mm=3)
    data = render(Drawing(name="x", width_mm=10, height_mm=10, strokes=(), texts=(odd,)), version=version)
    assert (1, "45 deg % %d 'J /U+00B0 O end") in pairs(data)


def test_the_same_twice_and_the_library_as_it_was(version):
    before = ezdxf.options.write_fixed_meta_data_for_testing
    assert render(sheet(), version=version) == render(sheet(), version=version)
    assert ezdxf.options.write_fixed_meta_data_for_testing == before


def test_a_refused_drawing_leaves_the_library_as_it_was(version):
    broken = Drawing(
        name="x", width_mm=10, height_mm=10, strokes=(Stroke(line=Line.MARK, segments=(Segment((0, 0), (0, 0)),)),)
    )
    with pytest.raises(ValueError, match="no length"):
        render(broken, version=version)
    assert not ezdxf.options.write_fixed_meta_data_for_testing


def test_an_empty_sheet_has_no_layers(version):
    data = render(Drawing(name="x", width_mm=10, height_mm=10, strokes=()), version=version)
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    assert {layer.dxf.name.upper() for layer in document.layers} == {"0", "DEFPOINTS"}


def test_holes_and_outlines_stay_apart(version, tmp_path):
    """Two outlines that share an edge are two closed lines."""
    neighbours = Drawing(
        name="x",
        width_mm=30,
        height_mm=10,
        strokes=(
            Stroke(line=Line.THROUGH, segments=rectangle(0, 0, 10, 10), closed=True),
            Stroke(line=Line.THROUGH, segments=rectangle(10, 0, 20, 10), closed=True),
            Stroke(line=Line.OPENING, segments=circle(5, 5, 3), closed=True),
        ),
    )
    found = dxf_lines(render(neighbours, version=version), tmp_path)
    assert [Polygon(line.coords).area for line in found["THROUGH"]] == pytest.approx([100, 100])
    assert len(found["OPENING"]) == 1
