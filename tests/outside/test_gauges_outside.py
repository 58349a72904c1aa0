"""Gauges read back from the PDF by another library, and their sizes against what is published or worked out."""

import math
from dataclasses import replace

import numpy as np
import pytest

from foamcut.airframe.values import Inputs
from foamcut.draw.gauges import gauges_document
from foamcut.draw.gauges_wing import props
from foamcut.draw.paper import PAPERS
from foamcut.draw.styles import STYLES
from foamcut.draw.values import Line
from foamcut.flat.outline import Outline
from foamcut.write import pdf
from tests.contract.pack_pdf_reader import read_pages
from tests.draw.balance_reports import NOSE_MOTOR, title
from tests.draw.drawn_parts import part, slot
from tests.draw.gauge_samples import control, stock, wing

#: how far off a line may be on paper, mm
OFF_MM = 0.05
BOARDS = (stock(),)


def strokes(inputs=None, parts=(), stocks=BOARDS, paper="a4"):
    """Every painted line of the gauges as the file has it, in mm, page after page."""
    found = gauges_document(title(), "mm", parts, stocks, inputs, paper=PAPERS[paper])
    assert found is not None
    return [line for page in read_pages(pdf.render(found)) for line in page.strokes if line.stroked]


def boxes(lines):
    """Width, height and left edge of upright closed rectangles."""
    found = []
    for line in lines:
        if line.closed and len(np.unique(np.round(line.points, 3), axis=0)) == 4:
            low, high = line.points.min(axis=0), line.points.max(axis=0)
            found.append((high[0] - low[0], high[1] - low[1], low[0]))
    return found


def rotated(lines):
    """For every closed line, angles in degrees from upright of its sides that are nearly upright, and not."""
    for line in lines:
        if line.closed:
            points = line.points
            for a, b in zip(points, np.roll(points, -1, axis=0), strict=True):
                dx, dy = b - a
                length = math.hypot(dx, dy)
                if length > 5.0:
                    yield length, math.degrees(math.atan2(dx, dy))


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("thickness", [1.5, 4.7625, 5.0])
def test_slots_of_the_fit_gauge(thickness, paper):
    """arithmetic: thickness and fit, numbers ours: eleven slots from t - 0.4 to t + 0.6 mm."""
    plate = part(Outline.rectangle(0, 0, 90, 60), slots=(slot(30, 30, 20, takes="board"),))
    lines = strokes(None, (plate,), (stock("board", thickness),), paper)
    slots = sorted((x, wide) for wide, high, x in boxes(lines) if abs(high - 20.0) < OFF_MM)
    assert [wide for _, wide in slots] == pytest.approx(
        [thickness + tenths / 10 for tenths in range(-4, 7)], abs=OFF_MM
    )


@pytest.mark.parametrize(("thickness", "around"), [(1.5, 5), (5.0, 10)])
def test_white_between_the_lines(thickness, around):
    """arithmetic: what is white is the distance of two lines less their width (0.18 mm by ISO 128's series)."""
    lines = strokes(stocks=(stock("board", thickness),))
    upright = [
        (round(float(line.points[:, 1].min()), 2), float(line.points[0, 0]))
        for line in lines
        if len(line.points) == 2
        and abs(line.points[0, 0] - line.points[1, 0]) < 1e-3
        and abs(abs(line.points[0, 1] - line.points[1, 1]) - 12.0) < OFF_MM
    ]
    rows: dict[float, list[float]] = {}
    for foot, x in upright:
        rows.setdefault(foot, []).append(x)
    white = []
    for foot in sorted(rows, reverse=True):
        xs = sorted(rows[foot])
        white += [b - a - 0.18 for a, b in zip(xs[::2], xs[1::2], strict=True)]
    assert STYLES[Line.FRAME].width_mm == 0.18
    middle = round(thickness * 10)
    expected = [tenths / 10 for tenths in range(middle - around, middle + around + 1)]
    assert white == pytest.approx(expected, abs=OFF_MM)


@pytest.mark.parametrize(("length", "dihedral"), [(600.0, 3.0), (552.0, 2.0), (650.0, 6.0)])
def test_height_of_the_prop(length, dihedral):
    """arithmetic: one half flat, the other tip b/2 sin(2 g) up (trade practice): 600 mm and 3 degrees, 62.7 mm."""
    surface = wing((length, dihedral))
    worked = length * 2 * math.sin(math.radians(dihedral)) * math.cos(math.radians(dihedral))
    (prop,) = props(surface)
    assert prop.height_mm == pytest.approx(worked, abs=1e-9)
    if (length, dihedral) == (600.0, 3.0):
        assert round(worked, 1) == 62.7
    strips = [
        high for wide, high, _ in boxes(strokes(Inputs(surfaces=(surface,)))) if abs(wide - 40.0) < OFF_MM
    ]
    assert strips == pytest.approx([worked], abs=OFF_MM)


def test_a_prop_in_pieces_is_as_high_in_all():
    """arithmetic: 900 sin 16 degrees = 248.07 mm."""
    lines = strokes(Inputs(surfaces=(wing((900.0, 8.0)),)))
    strips = [high for wide, high, _ in boxes(lines) if abs(wide - 40.0) < OFF_MM]
    assert len(strips) == 2
    assert sum(strips) == pytest.approx(248.07, abs=OFF_MM)


@pytest.mark.parametrize("dihedral", [2.0, 6.0, -4.0])
def test_bevel_cards_lean_by_the_dihedral(dihedral):
    """arithmetic: two halves that meet upright in the middle, each raised by g, have ends g from square; what
    a bevel of g takes off a thickness h is h tan g, 25 mm and 5 degrees 2.2 mm (trade practice)."""
    lines = strokes(Inputs(surfaces=(wing((500.0, dihedral)),)))
    leaning = [turn for length, turn in rotated(lines) if 0.5 < abs(turn) < 30 and length > 30]
    assert leaning == pytest.approx([dihedral], abs=0.05)
    assert round(25 * math.tan(math.radians(5)), 1) == 2.2


def test_thrust_and_wing_cards_have_their_angles():
    """arithmetic: the angles of the design, read off the sides of the cards."""
    motor = replace(NOSE_MOTOR, on="wing", right_deg=2.0, down_deg=3.5)
    surface = replace(wing((500.0, 0.0)), angle_deg=1.5)
    lines = strokes(Inputs(surfaces=(surface,), motors=(motor,)))
    sides = list(rotated(lines))
    assert sorted(turn for length, turn in sides if 0.5 < abs(turn) < 30) == pytest.approx(
        [2.0, 3.5], abs=0.05
    )
    slopes = [90 - abs(turn) for length, turn in sides if 60 < abs(turn) < 89.7 or 90.3 < abs(turn) < 120]
    assert [abs(slope) for slope in slopes] == pytest.approx([1.5], abs=0.05)


@pytest.mark.parametrize(
    ("chord", "throw", "mm"), [(40.0, 15.0, 10.4), (40.0, 20.0, 13.7), (40.0, 30.0, 20.0)]
)
def test_throw_cards_stop_at_the_throw(chord, throw, mm):
    """arithmetic: mm = chord x sin(angle) (trade practice: 40 mm and 15, 20, 30 degrees: 10.4, 13.7, 20.0 mm).

    The board lies below its hinge: up it is stopped by a side at the throw, down by one beside it, t off.
    """
    surface = wing((500.0, 0.0), controls=(control(chord=chord, throw=throw),))
    lines = strokes(Inputs(surfaces=(surface,)))
    sides = [
        (length, turn if turn > 0 else turn + 180)
        for length, turn in rotated(lines)
        if length > chord * 0.8 and min(abs(abs(turn) - straight) for straight in (0, 90, 180)) > 1
    ]
    assert sorted(90 - turn for _, turn in sides) == pytest.approx([-throw, throw], abs=0.05)
    assert chord * math.sin(math.radians(throw)) == pytest.approx(mm, abs=0.05)
