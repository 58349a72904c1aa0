"""Random closed lines of straight pieces and arcs go out to each format and come back the same."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString

from foamcut.draw.values import Document, Drawing, Line, Page, Stroke
from foamcut.flat.outline import Segment
from foamcut.write import dxf, pdf, svg
from tests.write.readers import dxf_lines, pdf_paths, svg_lines
from tests.write.sheet_drawings import HEIGHT_MM, WIDTH_MM

NEAR_MM = 0.01


@st.composite
def rings(draw) -> Stroke:
    """A star-shaped ring about the middle of the sheet; small bulges either way, sometimes a half turn."""
    degrees = sorted(draw(st.lists(st.integers(0, 359), min_size=3, max_size=12, unique=True)))
    turns, count = [math.radians(degree) for degree in degrees], len(degrees)
    radii = draw(st.lists(st.floats(5, 60), min_size=count, max_size=count))
    points = [(150 + r * math.cos(a), 100 + r * math.sin(a)) for a, r in zip(turns, radii, strict=True)]
    bulges = draw(
        st.lists(
            st.one_of(st.just(0.0), st.floats(-0.4, -1e-4), st.floats(1e-4, 0.4), st.just(1.0)),
            min_size=count,
            max_size=count,
        )
    )
    ends = [*points[1:], points[0]]
    segments = [Segment(a, b, c) for a, b, c in zip(points, ends, bulges, strict=True)]
    return Stroke(line=Line.THROUGH, segments=tuple(segments), closed=True)


def track(stroke: Stroke) -> LineString:
    return LineString([stroke.segments[0].start, *(p for s in stroke.segments for p in s.points(0.002))])


def drawing(stroke: Stroke) -> Drawing:
    return Drawing(name="x", width_mm=WIDTH_MM, height_mm=HEIGHT_MM, strokes=(stroke,))


def same(found: np.ndarray, stroke: Stroke) -> None:
    """No vertex of either line is off the other, and they enclose as much, the same way round."""
    wanted, got = track(stroke), LineString(found)
    assert shapely.distance(shapely.points(found), wanted).max() < NEAR_MM
    assert shapely.distance(shapely.points(wanted.coords), got).max() < NEAR_MM
    assert signed_area(found) == pytest.approx(signed_area(np.array(wanted.coords)), abs=0.01 * wanted.length)


def signed_area(points: np.ndarray) -> float:
    x, y = points[:, 0], points[:, 1]
    return float(x @ np.roll(y, -1) - np.roll(x, -1) @ y) / 2


@given(stroke=rings())
@settings(max_examples=25)
@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_dxf_file(version, stroke, tmp_path_factory):
    data = dxf.render(drawing(stroke), version=version)
    found = dxf_lines(data, tmp_path_factory.mktemp("dxf"))
    same(shapely.get_coordinates(found["THROUGH"][0]), stroke)


@given(stroke=rings())
def test_svg_file(stroke):
    data = svg.render(drawing(stroke), title="x", description="y")
    same(svg_lines(data)["THROUGH"][0], stroke)


@given(stroke=rings())
def test_pdf_file(stroke):
    """pdfium lists corners and handles: the corners are the ring's, and handles lie outside the arcs."""
    page = Page(width_mm=WIDTH_MM, height_mm=HEIGHT_MM, label="1", strokes=(stroke,))
    (points,) = pdf_paths(pdf.render(Document(title="x", author="", subject="", pages=(page,))))
    corners = [segment.start for segment in stroke.segments]
    assert max(np.hypot(*(points - corner).T).min() for corner in corners) < 1e-3
    low, high = points.min(axis=0), points.max(axis=0)
    x0, y0, x1, y1 = track(stroke).bounds
    assert (low <= np.array([x0, y0]) + NEAR_MM).all()
    assert (high >= np.array([x1, y1]) - NEAR_MM).all()
