"""DXF, SVG and PDF against what their own references say of units, arcs and layers."""

import io
import math
import xml.etree.ElementTree as ET
from fractions import Fraction

import pikepdf
import pytest

from foamcut.draw.styles import contrast_on_white
from foamcut.draw.values import Document, Drawing, Line, Page, Stroke
from foamcut.flat.outline import Segment, straight
from foamcut.write import dxf, pdf, svg
from tests.write.readers import dxf_lines, svg_lines

SQUARE = Stroke(
    line=Line.THROUGH,
    segments=straight([(10, 10), (110, 10), (110, 110), (10, 110), (10, 10)]),
    closed=True,
)


def drawing(*strokes: Stroke) -> Drawing:
    return Drawing(name="x", width_mm=300, height_mm=200, strokes=strokes)


def pairs(data: bytes) -> list[tuple[str, str]]:
    lines = [line.strip() for line in data.decode("ascii").split("\n")]
    return list(zip(lines[::2], lines[1::2], strict=False))


@pytest.mark.parametrize("included_deg", [30, 90, 120, 180, -90])
def test_a_bulge_is_the_tangent_of_a_quarter_of_the_included_angle(included_deg, tmp_path):
    """Autodesk, DXF Reference, LWPOLYLINE, group 42, and VERTEX: "the tangent of one fourth the included
    angle for an arc segment, made negative if the arc goes clockwise from the start point to the endpoint.
    A bulge of 0 indicates a straight segment, and a bulge of 1 is a semicircle".

    *Published*: the LWPOLYLINE page of the 2018 edition opened and read; the sentence, which stands on the
    VERTEX page, read as quoted by others.  The arc's height above its chord, r (1 - cos(angle / 2)), is
    *arithmetic*, and GDAL, which knows nothing of this program, finds it.
    """
    bulge = math.tan(math.radians(included_deg) / 4)
    mark = Stroke(line=Line.MARK, segments=(Segment((100, 100), (150, 100), bulge),))
    data = dxf.render(drawing(mark), version="R2000")
    found = pairs(data)
    entity = found[found.index(("100", "AcDbPolyline")) :]
    assert next(float(value) for code, value in entity if code == "42") == round(bulge, 6)
    radius = 25 / math.sin(math.radians(abs(included_deg)) / 2)
    height = radius * (1 - math.cos(math.radians(included_deg) / 2))
    _, y0, _, y1 = dxf_lines(data, tmp_path)["MARK"][0].bounds
    assert y1 - y0 == pytest.approx(height, abs=1e-3)
    # from left to right, a turn to the left sags below the chord
    assert (y0 if included_deg > 0 else y1) == pytest.approx(100 - math.copysign(height, included_deg), abs=1e-3)


def test_drawing_units_are_millimetres():
    """Autodesk, DXF Reference, HEADER section: $INSUNITS 1 inches, 4 millimetres, 6 metres; $MEASUREMENT 1
    metric; $ACADVER AC1015 is release 2000, AC1009 release 12.

    *Published*: $ACADVER in the table of header variables of the 2018 edition, opened and read; the list of
    $INSUNITS read in a copy of an earlier edition's table.  $MEASUREMENT from *memory*.
    """
    found = pairs(dxf.render(drawing(SQUARE), version="R2000"))
    values = {name: found[at + 1][1] for at, (code, name) in enumerate(found) if code == "9"}
    assert values["$INSUNITS"] == "4"
    assert values["$MEASUREMENT"] == "1"
    assert values["$ACADVER"] == "AC1015"
    found = pairs(dxf.render(drawing(SQUARE), version="R12"))
    values = {name: found[at + 1][1] for at, (code, name) in enumerate(found) if code == "9"}
    assert values["$ACADVER"] == "AC1009"
    assert "$INSUNITS" not in values


def test_a_closed_polyline_carries_bit_1_of_group_70():
    """Autodesk, DXF Reference, LWPOLYLINE: group 70 "1 = Closed", group 90 "number of vertices".

    *Published*: the page of the 2018 edition opened and read.
    """
    found = pairs(dxf.render(drawing(SQUARE), version="R2000"))
    at = max(i for i, pair in enumerate(found) if pair == ("0", "LWPOLYLINE"))
    entity = dict(found[at + 1 : at + 8])
    assert int(entity["70"]) & 1
    assert entity["90"] == "4"


def test_a_millimetre_of_svg_is_96_over_25_4_pixels():
    """W3C, CSS Values and Units Module Level 3, 5.2 Absolute Lengths: 1in = 2.54cm = 96px, 1mm = 1/10 cm.

    *Published*: the section opened and read in translation.  The reader is told 96 px to the inch and
    nothing of this program; a view of as many units as mm makes a unit a mm, *arithmetic*.
    """
    data = svg.render(drawing(SQUARE), title="x", description="y")
    root = ET.fromstring(data)
    width_px = Fraction(root.get("width").removesuffix("mm")) * 96 / Fraction(254, 10)
    units = Fraction(root.get("viewBox").split()[2])
    assert width_px / units == Fraction(960, 254)
    (points,) = svg_lines(data)["THROUGH"]
    assert points[:, 0].max() - points[:, 0].min() == pytest.approx(100, abs=1e-3)
    # y turned: the lower edge of the square lies 10 mm above the lower edge of the sheet
    assert points[:, 1].min() == pytest.approx(10, abs=1e-3)


def test_a_point_of_pdf_is_a_72nd_of_an_inch():
    """ISO 32000-1, Table 30: user space unit "1/72 inch" by default.  A4 is 210 x 297 mm (ISO 216).

    *Published*: the entry read as quoted on a page of questions and answers; the standard itself not opened.
    595.276 x 841.890 points is *arithmetic*.
    """
    page = Page(width_mm=210, height_mm=297, label="1", strokes=(SQUARE,))
    data = pdf.render(Document(title="x", author="", subject="", pages=(page,)))
    with pikepdf.open(io.BytesIO(data)) as document:
        box = [float(value) for value in document.pages[0].MediaBox]
        assert box == pytest.approx([0, 0, 210 / 25.4 * 72, 297 / 25.4 * 72], abs=1e-3)
        # the square in the page's own operators: the matrix times the numbers gives points
        instructions = pikepdf.parse_content_stream(document.pages[0])
        matrix = next(
            [float(v) for v in operands]
            for operands, operator in instructions
            if str(operator) == "cm" and float(operands[0]) != 1
        )
        corners = [
            [float(v) for v in operands] for operands, operator in instructions if str(operator) in ("m", "l")
        ]
    side_points = (corners[1][0] - corners[0][0]) * matrix[0]
    assert side_points / 72 * 25.4 == pytest.approx(100, abs=1e-4)


def test_print_scaling_none_needs_pdf_1_6():
    """ISO 32000-1, Table 150: PrintScaling, a name, "PDF 1.6", None for no scaling.

    *Published*: the table read in part as quoted in a public package made from the standard.
    """
    page = Page(width_mm=210, height_mm=297, label="1")
    data = pdf.render(Document(title="x", author="", subject="", pages=(page,)))
    assert data.startswith(b"%PDF-1.6")
    with pikepdf.open(io.BytesIO(data)) as document:
        assert document.Root.ViewerPreferences.PrintScaling == pikepdf.Name("/None")


@pytest.mark.parametrize(
    ("colour", "ratio"),
    [((0x77, 0x77, 0x77), 4.48), ((0x76, 0x76, 0x76), 4.54), ((0, 0, 0), 21.0), ((255, 0, 0), 4.0)],
)
def test_contrast_against_white(colour, ratio):
    """W3C, WCAG 2.2, "contrast ratio" and "relative luminance": #767676 is the lightest grey that reaches
    4.5:1 on white, #777777 just fails.

    Formula *published*, read as quoted; the two greys and the red from *memory*.
    """
    assert contrast_on_white(colour) == pytest.approx(ratio, abs=0.006)
