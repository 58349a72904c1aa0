"""Bevels: where the slope meets the smaller face, mitred; carried to halves and hands; each refusal."""

import math
import re
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from shapely import LineString, box

from foamcut.errors import Refused
from foamcut.flat.bevels import Bevel
from foamcut.flat.build import build_part
from foamcut.flat.clipping import Run, run_points
from foamcut.flat.drawn import Face, Grain, Hand, Readings
from foamcut.flat.part import Part
from tests.strategies import KEY, bevelled_shapes, cutout, fold, hole, panel, readings, rectangle, slot, tab


def built(*rows, **more) -> Part:
    return build_part(panel(readings(*rows), **more))[0][0]


def refusals(*rows, **more) -> dict[str, str]:
    with pytest.raises(Refused) as caught:
        build_part(panel(readings(*rows), **more))
    return {r.key.removeprefix(f"{KEY}."): r.text for r in caught.value.refusals}


def b(angle: float = 45.0, **more) -> dict:
    return {"bevel_deg": angle, **more}


def ends(runs: tuple[Run, ...]) -> list[tuple[float, ...]]:
    return [tuple(round(c, 4) + 0.0 for c in (*run[0].start, *run[-1].end)) for run in runs]


def lines(part: Part) -> list[tuple[float, ...]]:
    return [line for bevel in part.bevels for line in ends(bevel.runs)]


#: corners of a plate of 100 x 50
SW, SE, NE, NW = (0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0)


class TestLines:
    """5 mm board: a bevel of 45 degrees takes 5 mm, one of 30 degrees 2.8868 mm."""

    def test_the_line_lies_t_tan_inside_and_runs_on_to_square_edges(self):
        part = built((*SW, b(30.0)), SE, NE, NW)
        (found,) = part.bevels
        assert (found.key, found.angle_deg, found.back) == (f"{KEY}.outline[0]", 30.0, False)
        assert found.width_mm == pytest.approx(5 / math.sqrt(3))
        assert (ends(found.edge), ends(found.runs)) == ([(0, 0, 100, 0)], [(0, 2.8868, 100, 2.8868)])
        assert part.outline.area == 5000
        assert not part.worked_behind

    def test_a_bevel_from_the_back_is_cut_behind(self):
        part = built((*SW, {"bevel_back_deg": 45.0}), SE, NE, NW)
        assert part.bevels[0].back
        assert part.worked_behind
        assert lines(part) == [(0, 5, 100, 5)]

    @pytest.mark.parametrize("clockwise", [False, True])
    def test_adjoining_bevels_are_mitred(self, clockwise):
        corners = [(*at, b()) for at in (SW, SE, NE, NW)]
        part = built(*(reversed(corners) if clockwise else corners))
        inner = {(5.0, 5.0), (95.0, 5.0), (95.0, 45.0), (5.0, 45.0)}
        assert {line[:2] for line in lines(part)} == inner
        assert {line[2:] for line in lines(part)} == inner

    def test_bevels_of_two_angles_are_mitred_at_a_reflex_corner(self):
        part = built(SW, SE, NE, (50, 50, b()), (50, 20, b(30.0)), (0, 20))
        assert lines(part) == [(55, 50, 55, 17.1132), (55, 17.1132, 0, 17.1132)]

    def test_a_lone_bevel_ends_square_at_a_reflex_corner(self):
        assert lines(built(SW, SE, NE, (50, 50), (50, 20, b()), (0, 20))) == [(50, 15, 0, 15)]

    def test_bevels_on_the_two_faces_do_not_meet(self):
        part = built((*SW, b()), (*SE, {"bevel_back_deg": 45.0}), NE, NW)
        assert [(found.back, ends(found.runs)) for found in part.bevels] == [
            (False, [(0, 5, 100, 5)]),
            (True, [(95, 0, 95, 50)]),
        ]

    def test_edges_in_one_line_go_on_or_step(self):
        """Equal angles go on; unequal ones end square at the point between."""
        assert lines(built((*SW, b()), (50, 0, b()), SE, NE, NW)) == [(0, 5, 50, 5), (50, 5, 100, 5)]
        assert lines(built((*SW, b()), (50, 0, b(30.0)), SE, NE, NW)) == [
            (0, 5, 50, 5),
            (50, 2.8868, 100, 2.8868),
        ]

    def test_a_rounding_between_bevels_carries_them_as_a_concentric_arc(self):
        part = built((*SW, b()), (*SE, b(round_mm=12.0)), NE, NW)
        assert lines(part) == [(0, 5, 88, 5), (88, 5, 95, 12), (95, 12, 95, 50)]
        ((segment,),) = part.bevels[1].runs
        assert (segment.radius, segment.centre) == (pytest.approx(7), pytest.approx((88, 12)))
        assert ends(part.bevels[1].edge) == [(88, 0, 100, 12)]

    def test_a_rounding_smaller_than_the_bevel_leaves_a_corner(self):
        assert lines(built((*SW, b()), (*SE, b(round_mm=3.0)), NE, NW)) == [(0, 5, 95, 5), (95, 5, 95, 50)]

    def test_beside_a_rounding_that_is_not_bevelled_the_line_runs_out(self):
        half_chord = math.sqrt(10**2 - 5**2)
        assert lines(built((*SW, b()), (*SE, {"round_mm": 10.0}), NE, NW)) == [
            (0, 5, pytest.approx(90 + half_chord, abs=0.006), 5)
        ]
        assert lines(built((*SW, b()), (*SE, {"round_mm": 3.0}), NE, NW)) == [(0, 5, 100, 5)]

    def test_an_arc_carries_its_bevel_as_a_concentric_arc(self):
        part = built(SW, SE, (*NE, b(through=(50.0, 70.0))), NW)
        ((*segments,),) = part.bevels[0].runs
        assert {round(s.radius, 6) for s in segments} == {67.5}
        assert {tuple(round(c, 6) for c in s.centre) for s in segments} == {(50.0, -2.5)}
        assert ends(part.bevels[0].runs) == [(100, round(-2.5 + math.sqrt(67.5**2 - 50**2), 4), 0, 42.8459)]

    def test_a_hollow_arc_grows(self):
        part = built(SW, SE, (*NE, b(through=(50.0, 30.0))), NW)
        assert {round(s.radius, 6) for run in part.bevels[0].runs for s in run} == {77.5}

    def test_sharp_corners_are_mitred_far_in(self):
        """A wedge: both bevels meet on its middle line."""
        (first, second) = built((0, 0, b()), (100, 0, b()), (0, 50)).bevels
        assert ends(first.runs)[0][2:] == ends(second.runs)[0][:2]
        x, y = first.runs[0][-1].end
        assert math.degrees(math.atan2(y, 100 - x)) == pytest.approx(math.degrees(math.atan2(50, 100)) / 2)

    def test_a_small_chamfer_does_not_stop_the_line_short(self):
        assert lines(built((*SW, b()), (98, 0), (100, 2), NE, NW)) == [(0, 5, 100, 5)]

    def test_holes_and_open_slots_interrupt_the_line(self):
        assert lines(built((*SW, b()), SE, NE, NW, cutouts=(hole(0, (50, 5), 6),))) == [
            (0, 5, 47, 5),
            (53, 5, 100, 5),
        ]
        part = built((*SW, b()), SE, NE, NW, slots=(slot(0, (50, 5), 20, 90, open_end=True),))
        assert lines(part) == [(0, 5, 47.4, 5), (52.6, 5, 100, 5)]
        assert ends(part.bevels[0].edge) == [
            (0, 0, pytest.approx(47.4, abs=0.011), 0),
            (pytest.approx(52.6, abs=0.011), 0, 100, 0),
        ]

    def test_a_line_on_the_edge_of_a_cutout_is_not_cut_twice(self):
        window = cutout(0, rectangle(20, 10), (40, 5))
        assert lines(built((*SW, b()), SE, NE, NW, cutouts=(window,))) == [(0, 5, 40, 5), (60, 5, 100, 5)]

    def test_a_bevel_may_cross_a_fold(self):
        part = built((*SW, b()), SE, NE, NW, folds=(fold(0, "groove", (50, -1), (50, 51)),))
        assert lines(part) == [(0, 5, 100, 5)]


class TestTrays:
    """The walls of a tray, folded up by grooves, meet at their ends: each end is bevelled by 45 degrees."""

    def test_bevels_of_the_walls_end_where_the_walls_fold(self):
        """At the corners of the floor the lines are not mitred: the floor lies between the walls."""
        tray = readings(
            (0, 0, b()), (0, -30), (100, -30, b()), (100, 0, b()), (130, 0), (130, 80, b()),
            (100, 80, b()), (100, 110), (0, 110, b()), (0, 80, b()), (-30, 80), (-30, 0, b()),
        )  # fmt: skip
        corners = [(100, 80), (100, 0), (0, 0), (0, 80)]
        walls = tuple(fold(i, "groove", corners[i], corners[(i + 1) % 4]) for i in range(4))
        part = build_part(panel(tray, folds=walls))[0][0]
        assert lines(part) == [
            (5, 0, 5, -30), (95, -30, 95, 0), (100, 5, 130, 5), (130, 75, 100, 75),
            (95, 80, 95, 110), (5, 110, 5, 80), (0, 75, -30, 75), (-30, 5, 0, 5),
        ]  # fmt: skip


class TestMirrors:
    def test_the_mirrored_half_carries_the_bevel_of_its_own_edge(self):
        """The edge that leaves a point of the half arrives at its image."""
        part = built((0, 0, b()), (100, 0, b(30.0)), (100, 50), (0, 50), mirrored=Grain.Y)
        assert [(found.key[-3:], *ends(found.runs)) for found in part.bevels] == [
            ("[0]", (0, 5, 97.1132, 5)),
            ("[1]", (97.1132, 5, 97.1132, 50)),
            ("[1]", (-97.1132, 50, -97.1132, 5)),
            ("[0]", (-97.1132, 5, 0, 5)),
        ]

    def test_a_half_over_the_x_axis(self):
        part = built((0, 0), (0, 40), (80, 40, b()), (100, 0), mirrored=Grain.X)
        first, second = lines(part)
        assert (first[0], first[1]) == (second[2], -second[3])
        assert (
            (first[2], first[3])
            == (second[0], -second[1])
            == (pytest.approx(100 - 5 * math.sqrt(1.25), abs=1e-4), 0)
        )

    def test_the_other_hand_has_the_mirror_image(self):
        right, left = build_part(panel(readings((*SW, b()), SE, NE, NW), pair=Hand.RIGHT))[0]
        assert lines(right) == [(0, 5, 100, 5)]
        assert lines(left) == [(0, -5, 100, -5)]
        assert left.bevels[0].back is right.bevels[0].back

    def test_a_section_keeps_its_share(self):
        (found,) = built((*SW, b()), SE, NE, NW).bevels
        left = found.trimmed(box(20, 0, 60, 50))
        assert left is not None
        assert ends(left.runs) == [(20, 5, 60, 5)]
        assert found.trimmed(box(20, 10, 60, 50)) is None


class TestRefusals:
    @pytest.mark.parametrize(
        ("rows", "key", "text"),
        [
            (((*SW, b(0.0)), SE, NE, NW), "outline[0]", "bevel 0 is out of range; a bevel goes above 0 and up to 80"),
            (((*SW, {"bevel_back_deg": 81.0}), SE, NE, NW), "outline[0]", "bevel_back 81 is out of range"),
            (((*SW, b(math.nan)), SE, NE, NW), "outline[0]", "bevel nan is out of range"),
            (((*SW, b(bevel_back_deg=10.0)), SE, NE, NW), "outline[0]",
             "is bevelled from both faces, which would leave it short of the outline; take bevel or bevel_back out"),
            (((*SW, b(smooth=True)), SE, NE, NW), "outline[0]", "needs a straight edge or an arc, and this edge is"),
            (((*SW, b()), (*SE, b(30.0, round_mm=9.0)), NE, NW), "outline[1]",
             "the rounding of outline[1] lies between bevels of different angles and can follow neither"),
            (((*SW, b(80.0)), SE, (100, 25), (0, 25)), "outline[0]",
             "the bevel takes 28.36 mm, more than the part has at 50, 28.36 mm; make the angle smaller"),
            (((*SW, b()), SE, (100, 5), (0, 5)), "outline[0]", "more than the part has at 50, 5 mm"),
            (((*SW, b()), SE, (100, 2), (0, 25)), "outline[0]", "more than the part has at 93.4"),
            (((*SW, b(70.0)), SE, (100, 25, b(70.0)), (0, 25)), "outline[2]",
             "the bevel takes 13.74 mm and meets the one of outline[0] at 50, 12.5 mm: nothing of that face"),
            (((*SW, b(70.0)), (20, 0, b(70.0)), (20, 100, b(70.0)), (0, 100, b(70.0))), "outline[0]",
             "the edges beside it leave nothing of its line near 10, 13.74 mm; make the angle smaller, or the edge"),
            (((0, 0), (10, 0, b(70.0, through=(5.0, 5.0)))), "outline[1]",
             "the bevel takes 13.74 mm, and the arc's radius is 5 mm: nothing is left for its line"),
        ],
    )  # fmt: skip
    def test_bevels_that_cannot_be_cut(self, rows, key, text):
        assert text in refusals(*rows)[key]

    def test_the_last_point_of_a_half(self):
        found = refusals((0, 0), (100, 5), (0, 30, b()), mirrored=Grain.Y)
        assert found["outline[2]"].startswith("no edge leaves the last point of a half")

    def test_a_tab_on_a_bevelled_edge(self):
        text = (
            "the tab stands at 50, 0 mm on the edge that leaves outline[0], which is bevelled; a tab needs a square"
            " edge: move it, or leave the bevel out"
        )
        assert refusals((*SW, b()), SE, NE, NW, tabs=(tab(0, (50, 0), 10),)) == {"tabs[0].at": text}
        assert lines(built((*SW, b()), SE, NE, NW, tabs=(tab(0, (50, 50), 10),))) == [(0, 5, 100, 5)]

    def test_a_line_along_a_fold(self):
        score = fold(0, "score", (-1, 5), (101, 5))
        text = "the line of the bevel lies in what is cut for folds[0], at 50, 5 mm; make the angle smaller, or move"
        assert refusals((*SW, b()), SE, NE, NW, folds=(score,))["outline[0]"].startswith(text)
        groove = fold(0, "groove", (-1, 8), (101, 8))
        assert (
            "lies in what is cut for folds[0]"
            in refusals((*SW, b()), SE, NE, NW, folds=(groove,))["outline[0]"]
        )
        assert built((*SW, {"bevel_back_deg": 45.0}), SE, NE, NW, folds=(groove,)).bevels

    def test_a_part_that_may_be_turned_over(self):
        found = refusals((*SW, b()), SE, NE, NW, face=Face.EITHER)
        assert found["face"].startswith('bevels are cut from one face, but face = "either"')

    def test_the_edge_of_a_cutout(self):
        shape = readings((10, 10, b()), (20, 10), (20, 20))
        shape = replace(
            shape, points=tuple(replace(p, key=f"{KEY}.cutouts[0].{p.key[-10:]}") for p in shape.points)
        )
        (key,) = refusals(SW, SE, NE, NW, cutouts=(cutout(0, shape),))
        assert re.fullmatch(r"cutouts\[0\]\.outline\[0\]", key)


@settings(max_examples=120, deadline=None)
@given(bevelled_shapes())
def test_lines_lie_inside_at_their_width(shape: Readings):
    """What is not refused lies in the part, its width inside its edge; the other hand's is its image."""
    try:
        (part,), _ = build_part(panel(shape))
    except Refused as refused:
        assert all(r.key.startswith(f"{KEY}.outline") and r.text for r in refused.refusals)
        assume(False)
        return
    region = part.outline.polygon.buffer(1e-6)
    assert len({(found.key, found.back) for found in part.bevels}) <= len(shape.points)
    for found in part.bevels:
        assert found.mirrored().mirrored() == found
        for run in found.runs:
            assert region.covers(LineString(run_points(run)))
        edge = endless(found)
        for run in found.runs:
            for segment in run:
                middle = LineString(run_points((segment,))).interpolate(0.5, normalized=True)
                assert edge.distance(middle) == pytest.approx(found.width_mm, abs=0.006)


def endless(found: Bevel) -> LineString:
    """The edge, a straight one drawn out far to both sides."""
    (run, *_) = found.edge
    if any(segment.bulge for segment in run):
        return LineString(run_points(run))
    (x0, y0), (x1, y1) = run[0].start, run[-1].end
    far = 1000 / math.hypot(x1 - x0, y1 - y0)
    return LineString(
        [(x0 - far * (x1 - x0), y0 - far * (y1 - y0)), (x1 + far * (x1 - x0), y1 + far * (y1 - y0))]
    )


@settings(max_examples=60, deadline=None)
@given(bevelled_shapes())
def test_bevels_of_neighbouring_edges_meet(shape: Readings):
    """Mitred: where two bevels of one face adjoin at a sharp corner, their lines share an end."""
    try:
        (part,), _ = build_part(panel(shape))
    except Refused:
        assume(False)
        return
    rows = {row.key: i for i, row in enumerate(shape.points)}
    for found in part.bevels:
        for other in part.bevels:
            after = (rows[found.key] + 1) % len(rows) == rows[other.key]
            sharp = shape.points[rows[other.key]].round_mm is None
            if not (after and sharp and found.back is other.back and len(rows) > 2):
                continue
            if found.edge[-1][-1].end != other.edge[0][0].start or turn_deg(found, other) < 16:
                continue
            gap = min(math.dist(one, two) for one in all_ends(found) for two in all_ends(other))
            assert gap < 1e-3


def turn_deg(first: Bevel, second: Bevel) -> float:
    (ax, ay), (bx, by) = first.edge[-1][-1].start, first.edge[-1][-1].end
    (cx, cy), (dx, dy) = second.edge[0][0].start, second.edge[0][0].end
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    return abs(math.degrees(math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)))


def all_ends(found: Bevel) -> list[tuple[float, float]]:
    return [end for run in found.runs for end in (run[0].start, run[-1].end)]


def test_rectangles_have_no_bevels():
    assert build_part(panel())[0][0].bevels == ()
