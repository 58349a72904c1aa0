"""Wings folded from one sheet: the blank against arithmetic and shapely, folded up against the model."""

import math
from dataclasses import replace

import numpy as np
import pytest
from shapely import LineString

from foamcut.airframe.folded_flat import laid_flat
from foamcut.airframe.folded_piece import Piece
from foamcut.airframe.planform import mean_chord, panels
from foamcut.airframe.values import Nose, OverSpar, Run, Servo, TrailingEdge
from foamcut.findings import Level
from foamcut.flat.drawn import FoldKind
from tests.airframe.folded_wings import (
    STRAIGHT,
    TWIN,
    aileron,
    built,
    largest_miss,
    made_of,
    piece_of,
    wing,
)
from tests.airframe.section_surfaces import BOARD, spar, stations

T, CHORD, BEHIND, WIDTH, HEIGHT, NOSE = 5.0, 204.0, 36.0, 25.0, 10.0, 10.0


def slope_off(point: tuple[float, float], edge: tuple[float, float], off: float) -> float:
    """The slope of the line through an edge that a point lies `off` above, by halving."""
    ahead = point[0] < edge[0]
    low, high = -1.5, 1.5
    for _ in range(80):
        u = (low + high) / 2
        above = (point[1] - edge[1]) * math.cos(u) - (point[0] - edge[0]) * math.sin(u)
        low, high = (low, u) if (above > off) is ahead else (u, high)
    return low


def upper_by_shapely() -> float:
    """Reference library: the mitred parallel of shapely to the inner paper, between the ends of the outer."""
    top = T + HEIGHT
    front = slope_off((0.0, NOSE), (BEHIND, top), T)
    rear = slope_off((CHORD, T), (BEHIND + WIDTH, top), T)
    far = 500.0
    inner = LineString(
        [
            (BEHIND - far * math.cos(front), top - far * math.sin(front)),
            (BEHIND, top),
            (BEHIND + WIDTH, top),
            (BEHIND + WIDTH + far * math.cos(rear), top + far * math.sin(rear)),
        ]
    )
    outer = inner.offset_curve(T, join_style="mitre", mitre_limit=20.0)
    points = np.array(outer.coords)
    corners = points[1:-1]
    line = [(0.0, NOSE), *(tuple(c) for c in corners), (CHORD, T)]
    return LineString(line).length


def test_the_blank_is_twice_the_chord_the_nose_and_what_the_upper_skin_is_longer():
    """Common practice: chord, nose band, upper skin; its length is that of shapely's parallel line."""
    part = built(made_of(wing(STRAIGHT)))["wing-skin-right"]
    x0, y0, x1, y1 = part.outline.bounds
    assert x1 == pytest.approx(CHORD, abs=1e-6)
    assert y1 - y0 == pytest.approx(552.0, abs=1e-6)
    assert x1 - x0 == pytest.approx(CHORD + NOSE + 0.5 + upper_by_shapely() + 3.0, abs=1e-5)


def test_the_blank_of_the_twin_lies_on_its_board():
    """Arithmetic: 694 x 494 mm are usable."""
    made = made_of(wing(TWIN, 2.0, controls=(aileron(),)))
    part = built(made)["wing-skin-right"]
    x0, y0, x1, y1 = part.outline.bounds
    assert x1 - x0 < 494.0
    assert y1 - y0 < 694.0
    assert [finding.level for finding in made.findings] == [Level.NOTE] * len(made.findings)


@pytest.mark.parametrize("nose", [Nose.STRIPPED, Nose.OPENED])
@pytest.mark.parametrize("dihedral", [0.0, 3.0])
def test_a_constant_chord_folds_up_to_the_computed_shape(nose, dihedral):
    """The folded flat part against the section's points on the model: plane geometry both ways."""
    made = made_of(wing(STRAIGHT, dihedral, nose=nose, nose_band_mm=NOSE, trim_mm=0.0))
    assert largest_miss(made, built(made)["wing-skin-right"]) < 0.01


def test_a_swept_prism_folds_up_to_the_computed_shape():
    """All lines are parallel, so that every flat is plane: the true turns close it."""
    rows = ((0.0, 0.0, 204.0), (500.0, 200.0, 204.0))
    made = made_of(
        wing(
            rows,
            nose_band_mm=NOSE,
            trim_mm=0.0,
            spar=spar(run=Run.FOLLOW),
            material=replace(BOARD, boards_mm=()),
        )
    )
    assert largest_miss(made, built(made)["wing-skin-right"]) < 0.01


def test_the_trailing_edges_of_the_twin_meet():
    """A constant spar under a taper twists the flats: one turn a fold is off by a millimetre at the nose."""
    made = made_of(wing(TWIN, 2.0, nose_band_mm=NOSE, trim_mm=0.0))
    part = built(made)["wing-skin-right"]
    assert largest_miss(made, part) < 1.0
    assert largest_miss(made, part, slice(-1, None)) < 0.2


def test_a_cone_develops_exactly():
    """Published: surfaces of straight lines through one point are developable.

    Board without thickness, the section scaled towards a point 900 mm out: spar, chord and leading edge.
    """
    thin = replace(BOARD, thickness_mm=1e-7, boards_mm=())
    one = wing(
        material=thin,
        nose=Nose.OPENED,
        stations=stations((0.0, 0.0, 270.0), (600.0, 40.0, 90.0)),
        spar=spar(
            material=replace(BOARD, thickness_mm=10.0),
            behind_mm=60.0,
            width_mm=27.0,
            tip_width_mm=9.0,
            tip_layers=1,
        ),
    )
    flat = laid_flat(Piece(surface=one, panel=panels(one)[0], first_mm=300.0, last_mm=600.0))
    assert flat.error_mm < 1e-6
    assert flat.strays_mm < 1e-6
    edges = flat.upper[:, -1] - flat.upper[:, 0]
    apex = flat.upper[:, 0] + 2 * edges  # 300 mm of the 600 mm to the point
    assert np.ptp(apex, axis=0) == pytest.approx([0.0, 0.0], abs=1e-5)


def test_a_taper_that_does_not_scale_is_told_with_its_error():
    made = made_of(wing(((0.0, 0.0, 240.0), (552.0, 6.0, 150.0))))
    (finding,) = [one for one in made.findings if one.code == "skin-development"]
    assert finding.level is Level.NOTE
    assert 0.05 < laid_flat(piece_of(wing(((0.0, 0.0, 240.0), (552.0, 6.0, 150.0))))).error_mm < 0.5


def test_a_pattern_that_is_half_a_millimetre_off_is_refused():
    rows = ((0.0, 0.0, 320.0), (500.0, 120.0, 110.0))
    made = made_of(wing(rows, spar=spar(layers=3, behind_mm=40.0, run=Run.FOLLOW)))
    assert [one.key for one in made.refusals] == ["surface.wing"]
    assert "off its shape on the model" in made.refusals[0].text


@pytest.mark.parametrize(
    ("nose", "kind", "turns"),
    [
        (Nose.STRIPPED, FoldKind.STRIP, 180.0),
        (Nose.OPENED, FoldKind.SCORE, 180.0),
        (Nose.SCORED, FoldKind.ROLL, 180.0),
    ],
)
def test_the_turns_round_the_nose_and_over_the_spar_close_the_section(nose, kind, turns):
    """Arithmetic: round the nose and over the spar the sheet turns by half a turn and the rear's slope."""
    made = made_of(wing(STRAIGHT, nose=nose))
    part = built(made)["wing-skin-right"]
    section = piece_of(wing(STRAIGHT, nose=nose)).sections[0]
    assert part.folds[0].kind is kind
    total = sum(fold.turn_deg + (fold.far_turn_deg or 0.0) for fold in part.folds)
    assert total == pytest.approx(turns + section.slopes_deg[1], abs=1e-6)


def test_a_bent_upper_skin_has_no_grooves_and_is_as_long_as_the_middle_of_its_board():
    """Arithmetic: the line half way between both papers, measured on the model."""
    one = wing(STRAIGHT, over_spar=OverSpar.BENT)
    made = made_of(one)
    part = built(made)["wing-skin-right"]
    assert [fold.kind for fold in part.folds] == [FoldKind.STRIP]
    papers = piece_of(one).upper
    middle = (papers.outer[:, 0] + papers.inner[:, 0])[:-1] / 2
    rear = math.radians(piece_of(one).sections[0].slopes_deg[1])
    end = papers.outer[-1, 0] - T / 2 * np.array([math.sin(rear), 0.0, math.cos(rear)])
    length = np.linalg.norm(np.diff(np.concatenate([middle, [end]]), axis=0), axis=1).sum()
    assert 0.0 - part.outline.bounds[0] == pytest.approx(NOSE + 0.5 + length + 3.0, abs=0.01)


def test_a_single_trailing_edge_ends_the_upper_skin_at_the_hinge_line():
    """Arithmetic: the upper skin's rear edge lies over chord - 48 mm, the lower skin has the whole chord."""
    one = wing(STRAIGHT, trailing_edge=TrailingEdge.SINGLE, controls=(aileron(),))
    made = made_of(one)
    built(made)
    (shell,) = made.shells
    assert shell.outer[-1, 0, 0] - one.at[0] == pytest.approx(CHORD - 48.0, abs=1e-6)
    assert shell.outer[0, 0, 0] - one.at[0] == pytest.approx(CHORD, abs=1e-6)


def test_the_balance_v_stands_at_its_share_of_the_mean_chord():
    """Arithmetic: c = leading edge + 0.25 x length of the mean chord, measured on the model."""
    one = wing(TWIN, 2.0)
    part = built(made_of(one))["wing-skin-right"]
    (mark,) = [mark for mark in part.marks if mark.key.endswith("balance")]
    mean = mean_chord(one)
    assert mark.tip[0] == pytest.approx(mean.leading_mm + 0.25 * mean.chord_mm, abs=1e-6)
    assert mark.tip[1] == pytest.approx(0.15 * 552.0, abs=1e-6)


def test_a_servo_lies_where_its_place_says():
    """Arithmetic: along from the nose of the model and out from the centre plane, dihedral counted."""
    one = wing(TWIN, 2.0, angle_deg=1.0)
    servo = Servo(key="servo[0]", drives="aileron", on=("wing", ""), at=(340.0, -300.0), size_mm=(23.0, 12.0))
    part = built(made_of(one, servos=(servo,)))["wing-skin-right"]
    (hole,) = part.outline.rings()[1:]
    x, y = np.array(hole[:-1]).mean(axis=0)
    place = part.place
    at = np.array(place.at) + x * np.array(place.x) + y * np.array(place.y) - T * np.cross(place.x, place.y)
    assert at[0] == pytest.approx(340.0, abs=0.01)
    assert at[1] == pytest.approx(300.0, abs=0.01)


def test_a_servo_over_the_spar_is_refused_with_the_room_there_is():
    servo = Servo(key="servo[0]", drives="aileron", on=("wing", ""), at=(300.0, 300.0), size_mm=(23.0, 12.0))
    (refusal,) = made_of(wing(TWIN), servos=(servo,)).refusals
    assert refusal.key == "servo[0].at"
    assert "give along from" in refusal.text
