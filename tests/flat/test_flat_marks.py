"""Marks: what is drawn, trimmed, mirrored, and pricked through."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon, box

from foamcut.flat.clipping import clipped, run_points
from foamcut.flat.drawn import Face
from foamcut.flat.marks import mark_of
from tests.strategies import mark

PLATE = box(0.0, 0.0, 100.0, 50.0)


def all_points(runs):
    return [point for run in runs for point in run_points(run)]


def test_a_line_is_drawn_with_its_words_above_the_middle_of_its_longest_stretch():
    lines = mark_of(mark(0, "line", (0, 0), (10, 0), (10, 40), text="F2")).drawn()
    assert [(s.start, s.end) for s in lines.runs[0]] == [((0, 0), (10, 0)), ((10, 0), (10, 40))]
    (text,) = lines.texts
    assert (text.text, text.turn_deg) == ("F2", 90.0)
    assert text.at == pytest.approx((7.2, 20.0))
    assert lines.prick_points == ((0, 0), (10, 0), (10, 40))


@pytest.mark.parametrize(
    ("end", "turn"), [((9, 0), 0), ((-9, 0), 0), ((0, 9), 90), ((0, -9), 90), ((-9, 9), -45), ((-9, -9), 45)]
)
def test_words_are_readable_whichever_way_the_line_runs(end, turn):
    (text,) = mark_of(mark(0, "line", (0, 0), end, text="F2")).drawn().texts
    assert text.turn_deg == pytest.approx(turn)


def test_only_marks_with_words_are_handed():
    assert mark_of(mark(0, "line", (0, 0), (1, 0), text="F2")).handed
    assert not mark_of(mark(0, "line", (0, 0), (1, 0))).handed
    assert mark_of(mark(0, "balance", (0, 0), (9, 0), ratio=0.3)).handed
    assert not mark_of(mark(0, "circle", (0, 0), diameter_mm=3.0)).handed
    assert not mark_of(mark(0, "tape", (0, 0), (9, 0), width_mm=3.0)).handed


def test_a_balance_mark_has_its_tip_at_the_share_of_the_chord():
    lines = mark_of(mark(0, "balance", (40, 9), (74, 9), ratio=0.25, face=Face.OUTER)).drawn()
    legs, across = lines.runs
    tip = (48.5, 9.0)
    assert legs[0].end == legs[1].start == across[0].start == tip
    assert legs[0].start == pytest.approx((45.0, 3.0))
    assert legs[1].end == pytest.approx((52.0, 3.0))
    assert across[0].end == pytest.approx((48.5, 15.0))
    assert [text.text for text in lines.texts] == ["balance 25 %"]
    assert lines.prick_points[0] == tip


def test_a_circle_mark_is_four_quarter_turns_and_pricked_at_its_centre():
    lines = mark_of(mark(0, "circle", (20, 20), diameter_mm=8.0, text="motor")).drawn()
    assert [s.included_deg for s in lines.runs[0]] == pytest.approx([90.0] * 4)
    assert lines.prick_points == ((20, 20),)
    assert lines.texts[0].at == (20, 20)


def test_a_circle_mark_over_the_edge_keeps_its_arc():
    """Half of it lies on the plate, still as an arc; the centre on the edge is pricked."""
    trimmed = mark_of(mark(0, "circle", (0, 25), diameter_mm=8.0)).trimmed(PLATE)
    (run,) = trimmed.drawn().runs
    assert math.fsum(abs(s.included_deg) for s in run) == pytest.approx(180, abs=0.5)
    assert all(s.bulge for s in run)
    off = mark_of(mark(0, "circle", (-1, 25), diameter_mm=8.0, text="motor")).trimmed(PLATE).drawn()
    ends = off.prick_points[0], off.prick_points[-1]
    assert all(x == pytest.approx(0, abs=1e-9) for x, _ in ends)
    assert len(off.texts) == 1


def test_tape_is_two_lines_its_width_apart():
    lines = mark_of(mark(0, "tape", (10, 10), (60, 10), width_mm=19.0, text="tape")).drawn()
    heights = sorted({y for _, y in all_points(lines.runs)})
    assert heights == [0.5, 19.5]
    assert lines.texts[0].at == (35, 10)
    assert len(lines.prick_points) == 4


def test_tape_round_a_corner_keeps_its_width():
    lines = mark_of(mark(0, "tape", (0, 0), (40, 0), (40, 40), width_mm=10.0)).drawn()
    assert sorted(sorted(set(run_points(run))) for run in lines.runs) == [
        [(0, -5), (45, -5), (45, 40)],
        [(0, 5), (35, 5), (35, 40)],
    ]


def test_tape_that_turns_back_is_cut_off_square_at_the_turn():
    lines = mark_of(mark(0, "tape", (0, 0), (40, 0), (0, 1), width_mm=10.0)).drawn()
    assert max(x for x, _ in all_points(lines.runs)) < 46
    assert [len(run) for run in lines.runs] == [3, 3]


@pytest.mark.parametrize(
    "drawn",
    [
        mark(0, "line", (200, 0), (300, 0)),
        mark(0, "line", (-10, 50), (-10, 0)),
        mark(0, "circle", (50, 25), diameter_mm=500.0),
        mark(0, "tape", (-50, 25), (150, 25), width_mm=60.0),
        mark(0, "balance", (100, 20), (200, 20), ratio=0.5),
    ],
)
def test_a_mark_off_the_region_is_none(drawn):
    assert mark_of(drawn).trimmed(PLATE) is None


def test_a_line_within_is_left_as_it_is():
    line = mark_of(mark(0, "line", (10, 10), (90, 40)))
    assert line.trimmed(PLATE) == line


def test_an_unknown_kind_is_a_bug():
    with pytest.raises(ValueError, match="unknown kind"):
        mark_of(mark(0, "sticker", (0, 0)))


on_grid = st.tuples(st.integers(-20, 120), st.integers(-20, 70)).map(lambda p: (float(p[0]), float(p[1])))


@given(
    points=st.lists(on_grid, min_size=2, max_size=6),
    kind=st.sampled_from(["line", "tape", "balance", "circle"]),
)
def test_trimmed_marks_lie_in_the_region_and_miss_nothing(points, kind):
    """Lengths inside the region, by shapely on whole lines, are those of the trimmed runs."""
    region = Polygon(PLATE.exterior, [box(40, 20, 60, 30).exterior])
    count = {"balance": 2, "circle": 1}.get(kind, len(points))
    if len(set(points)) < 2 or points[0] == points[1]:
        return
    whole = mark_of(mark(0, kind, *points[:count], ratio=0.4, diameter_mm=15.0, width_mm=6.0))
    trimmed = whole.trimmed(region)
    if trimmed is None:
        assert kind == "balance" or not clipped(whole.runs, region)
        return
    pieces = [LineString([s.start, *s.points()]) for run in whole.runs for s in run]
    inside = sum(piece.intersection(region).length for piece in pieces)
    kept = sum(LineString(run_points(run)).length for run in trimmed.drawn().runs)
    assert kept == pytest.approx(inside, abs=0.05)
    grown = region.buffer(0.006)
    assert all(grown.covers(LineString(run_points(run))) for run in trimmed.drawn().runs)


@given(points=st.lists(on_grid, min_size=2, max_size=5, unique=True))
def test_a_mark_mirrored_twice_is_itself(points):
    for kind in ("line", "tape", "balance", "circle"):
        count = {"balance": 2, "circle": 1}.get(kind, len(points))
        drawn = mark(0, kind, *points[:count], ratio=0.4, diameter_mm=15.0, width_mm=6.0, text="F2")
        found = mark_of(drawn)
        assert found.mirrored().mirrored() == found
        ends = [(s.start, s.end, s.bulge) for run in found.runs for s in run]
        images = [(s.start, s.end, s.bulge) for run in found.mirrored().runs for s in run]
        assert images == [((a, -b), (c, -d), -bulge) for (a, b), (c, d), bulge in ends]


def test_arcs_keep_their_side_in_the_mirror():
    found = mark_of(mark(0, "circle", (0, 0), diameter_mm=2.0)).mirrored()
    first = found.runs[0][0]
    assert (first.start, first.end) == ((-1.0, 0.0), (0.0, 1.0))
    assert first.included_deg == pytest.approx(-90)


@pytest.mark.parametrize("kind", ["line", "balance", "circle", "tape"])
def test_marks_that_doublers_keep_off_stay_so(kind):
    """Whether they are trimmed or mirrored."""
    points = [(20, 20)] if kind == "circle" else [(20, 20), (200, 20)]
    more = {"ratio": 0.1, "diameter_mm": 8.0, "width_mm": 6.0}
    clear = mark_of(mark(0, kind, *points, clear=True, **more))
    plain = mark_of(mark(0, kind, *points, **more))
    assert clear.clear
    assert clear.mirrored().clear
    assert clear.trimmed(PLATE).clear
    assert not plain.clear
