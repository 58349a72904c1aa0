"""Folds: the lines of each kind at their places, from edge to edge, mirrored with the part, and each refusal."""

import math
import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from shapely import LineString, Point, Polygon, box

from foamcut.errors import Refused
from foamcut.findings import Level
from foamcut.flat.build import build_part
from foamcut.flat.clipping import Run, flip, run_points
from foamcut.flat.drawn import DrawnFold, DrawnPart, Face, FoldAt, FoldKind, Hand, Side
from foamcut.flat.fold_checks import laid_folds
from foamcut.flat.fold_lines import fold_of
from foamcut.flat.fold_table import table
from foamcut.flat.folds import Fold
from foamcut.flat.part import Part
from tests.strategies import (
    KEY,
    cutout,
    fold,
    folded_parts,
    hostile_folds,
    panel,
    readings,
    rectangle,
    slot,
    tab,
)

LAYERS = ("half", "groove", "lift", "bevel", "fold")

#: a tray seen flat: a floor of 100 x 80 and a wall of 30 along each side of it
TRAY = readings(
    (0, 0), (0, -30), (100, -30), (100, 0), (130, 0), (130, 80),
    (100, 80), (100, 110), (0, 110), (0, 80), (-30, 80), (-30, 0),
)  # fmt: skip


def built(*folds: DrawnFold, **more) -> Part:
    return build_part(panel(folds=folds, **more))[0][0]


def only(*folds: DrawnFold, **more) -> Fold:
    (found,) = built(*folds, **more).folds
    return found


def refusals(*folds: DrawnFold, **more) -> dict[str, str]:
    with pytest.raises(Refused) as caught:
        build_part(panel(folds=folds, **more))
    return {r.key.removeprefix(f"{KEY}."): r.text for r in caught.value.refusals}


def ends(runs: tuple[Run, ...]) -> list[tuple[float, ...]]:
    """Start and end of each run, to a thousandth of a micrometre."""
    return [tuple(round(c, 6) + 0.0 for c in (*run[0].start, *run[-1].end)) for run in runs]


def lines(found: Fold) -> dict[str, list[tuple[float, ...]]]:
    return {layer: ends(getattr(found, layer)) for layer in LAYERS if getattr(found, layer)}


def upright(*xs: float, low: float = 0.0, high: float = 50.0) -> list[tuple[float, ...]]:
    return [(x, low, x, high) for x in xs]


def up(kind: str, turn: float = 90.0, x: float = 40.0, **more) -> DrawnFold:
    """A fold up the panel of 100 x 50 at x; left of it lie the smaller x."""
    return fold(0, kind, (x, -1.0), (x, 51.0), turn, **more)


class TestKinds:
    """The lines of each kind, 5 mm board; s runs to the left, here towards smaller x."""

    def test_a_score_is_one_half_cut(self):
        found = only(up("score"))
        assert lines(found) == {"half": upright(40), "fold": upright(40)}
        assert (found.band_mm, found.axis_mm, found.fold_strokes()) == ((0.0, 0.0), 0.0, ())

    def test_a_groove_of_90_degrees_is_two_thicknesses_wide(self):
        found = only(up("groove"))
        assert lines(found) == {"groove": upright(45, 35), "fold": upright(40)}
        assert found.band_mm == pytest.approx((-5, 5))
        assert found.fold_strokes() == found.fold

    def test_groove_extra_widens_the_groove_and_not_the_turn(self):
        found = only(up("groove", 70.0, groove_extra_deg=20.0))
        assert lines(found)["groove"] == upright(45, 35)
        assert found.turn_deg == 70.0

    def test_a_wrap_lifts_a_strip_and_turns_at_its_far_edge(self):
        found = only(up("wrap"))
        assert lines(found) == {"lift": upright(40, 35), "fold": upright(35)}
        assert (found.band_mm, found.axis_mm) == ((0.0, 5.0), 5.0)

    def test_a_wrap_may_turn_at_its_near_edge(self):
        found = only(up("wrap", fold_at=FoldAt.NEAR, lands_thickness_mm=3.0))
        assert lines(found) == {"lift": upright(40, 37), "fold": upright(40)}
        assert (found.band_mm, found.axis_mm) == ((0.0, 3.0), 0.0)

    def test_a_wrap_shows_its_fold_as_two_end_ticks(self):
        assert ends(only(up("wrap")).fold_strokes()) == [(35, 0, 35, 5), (35, 45, 35, 50)]

    def test_ticks_of_a_short_run_take_a_third_each(self):
        low = readings((0, 0), (100, 0), (100, 9), (0, 9))
        assert ends(only(up("wrap"), shape=low).fold_strokes()) == [(35, 0, 35, 3), (35, 6, 35, 9)]

    def test_a_roll_is_scored_evenly_over_its_arc(self):
        """R 20 through 90 degrees: 31.416 mm of outer paper, seven gaps of 4.488 mm, at most t apart."""
        found = only(up("roll", radius_mm=20.0, x=60.0))
        b = 10 * math.pi
        assert lines(found)["half"] == upright(*(round(60 - b * i / 7, 6) for i in range(8)))
        assert lines(found)["fold"] == upright(60)
        assert found.band_mm == pytest.approx((0, b))
        assert (found.axis_mm, found.radius_mm, found.fold_strokes()) == (0.0, 20.0, ())

    @pytest.mark.parametrize(("every", "count"), [(4.0, 9), (31.5, 2), (10 * math.pi / 4, 5), (1.0, 33)])
    def test_lines_of_a_roll_are_at_most_every_apart(self, every, count):
        assert len(only(up("roll", radius_mm=20.0, every_mm=every, x=60.0)).half) == count

    def test_a_hinge_is_a_half_cut_and_where_the_bevel_meets_the_face(self):
        found = only(up("hinge", 0.0, bevel_deg=45.0))
        assert lines(found) == {"half": upright(40), "bevel": upright(35), "fold": upright(40)}
        assert found.band_mm == pytest.approx((0, 5))
        assert found.fold_strokes() == ()

    def test_a_hinge_without_a_bevel_has_no_second_line(self):
        assert lines(only(up("hinge", -20.0))) == {"half": upright(40), "fold": upright(40)}

    def test_left_follows_the_way_the_line_is_drawn(self):
        found = only(fold(0, "wrap", (40, 51), (40, -1)))
        assert lines(found)["lift"] == [(40, 50, 40, 0), (45, 50, 45, 0)]

    @pytest.mark.parametrize(
        ("kind", "side", "rises"),
        [("groove", "up", True), ("groove", "down", False), ("score", "up", False), ("score", "down", True)],
    )
    def test_the_left_panel_turns_towards_the_cut_face_of_a_score_away(self, kind, side, rises):
        found = only(up(kind, side=Side(side)))
        assert (found.rises, found.cut_behind) == (rises, side == "down")
        assert lines(found) == lines(only(up(kind)))


class TestEdgeToEdge:
    def test_lines_run_on_to_slanted_edges(self):
        wedge = readings((0, 0), (100, 20), (100, 50), (0, 50))
        assert lines(only(up("groove"), shape=wedge))["groove"] == [(45, 9, 45, 50), (35, 7, 35, 50)]

    def test_a_line_drawn_just_to_the_edges_is_enough(self):
        assert lines(only(fold(0, "score", (40, 0.005), (40, 49.995))))["half"] == upright(40)

    def test_a_window_makes_several_runs(self):
        window = cutout(0, rectangle(20, 10), (25, 20))
        found = only(up("wrap"), cutouts=(window,))
        assert ends(found.lift) == [
            (40, 0, 40, 20), (40, 30, 40, 50), (35, 0, 35, 20), (35, 30, 35, 50),
        ]  # fmt: skip
        assert len(found.fold_strokes()) == 4

    def test_no_line_turns_up_in_an_arm_that_the_drawn_line_does_not_reach(self):
        fork = readings((0, 0), (100, 0), (100, 80), (0, 80), (0, 60), (90, 60), (90, 20), (0, 20))
        found = only(fold(0, "groove", (40, -1), (40, 21)), shape=fork)
        assert lines(found) == {
            "groove": upright(45, 35, high=20),
            "fold": upright(40, high=20),
        }

    def test_a_line_that_reaches_both_arms_folds_both(self):
        fork = readings((0, 0), (100, 0), (100, 80), (0, 80), (0, 60), (90, 60), (90, 20), (0, 20))
        found = only(fold(0, "score", (40, -1), (40, 81)), shape=fork)
        assert ends(found.half) == [(40, 0, 40, 20), (40, 60, 40, 80)]

    def test_a_line_stops_where_it_would_run_along_an_edge(self):
        """The fold of a tray's wall is in one line with the end of the wall beside it."""
        found = only(fold(0, "score", (100, 80), (100, 0)), shape=TRAY)
        assert ends(found.half) == [(100, 80, 100, 0)]

    def test_the_grooves_of_a_tray_are_mitred_at_its_corners(self):
        corners = [(100, 80), (100, 0), (0, 0), (0, 80)]
        walls = [fold(i, "groove", corners[i], corners[(i + 1) % 4]) for i in range(4)]
        found = [ends(one.groove) for one in built(*walls, shape=TRAY).folds]
        assert found == [
            [(95, 75, 95, 5), (105, 80, 105, 0)],
            [(95, 5, 5, 5), (100, -5, 0, -5)],
            [(5, 5, 5, 75), (-5, 0, -5, 80)],
            [(5, 75, 95, 75), (0, 85, 100, 85)],
        ]

    @pytest.mark.parametrize("end", [95.0, 100.0])
    def test_wraps_of_a_tray_may_end_in_each_others_strips(self, end):
        """A floor of 100 x 80 with two long walls, and two short ones between them (one thickness less)."""
        tray = readings(
            (0, 0), (5, 0), (5, -30), (95, -30), (95, 0), (130, 0), (130, 80),
            (95, 80), (95, 110), (5, 110), (5, 80), (-30, 80), (-30, 0),
        )  # fmt: skip
        walls = [
            fold(0, "wrap", (95, 80), (95, 0)),
            fold(1, "wrap", (end, 5), (100 - end, 5)),
            fold(2, "wrap", (5, 0), (5, 80)),
            fold(3, "wrap", (100 - end, 75), (end, 75)),
        ]
        found = built(*walls, shape=tray).folds
        assert [ends(one.lift) for one in found] == [
            [(95, 80, 95, 0), (100, 80, 100, 0)],
            [(95, 5, 5, 5), (95, 0, 5, 0)],
            [(5, 0, 5, 80), (0, 0, 0, 80)],
            [(5, 75, 95, 75), (5, 80, 95, 80)],
        ]
        assert [ends(one.fold) for one in found] == [ends(one.lift)[1:] for one in found]

    def test_a_fold_may_end_at_a_reflex_corner(self):
        """Beyond the corner the board goes on; every line ends square to where the drawn one does."""
        step = readings((0, 0), (100, 0), (100, 30), (50, 20), (50, 50), (0, 50))
        found = only(fold(0, "groove", (0, 20), (50, 20)), shape=step)
        assert lines(found) == {"groove": [(0, 15, 50, 15), (0, 25, 50, 25)], "fold": [(0, 20, 50, 20)]}
        assert lines(only(fold(0, "score", (50, 20), (0, 20)), shape=step))["half"] == [(50, 20, 0, 20)]

    def test_at_a_raked_corner_lines_end_at_the_fold_beside_them(self):
        """A hull's bow fold in line with no edge: the sides reach forward of it."""
        hull = readings(
            (20, 0), (100, 0), (30, -50), (300, -50), (300, 160), (30, 210), (100, 160), (20, 160)
        )
        bow, side = built(
            fold(0, "groove", (100, 0), (100, 160), 35.0), fold(1, "groove", (300, 0), (100, 0)), shape=hull
        ).folds
        half = 5 * math.tan(math.radians(17.5))
        near, far = ends(bow.groove)
        assert near == (round(100 + half, 6), 5, round(100 + half, 6), 160)
        assert far == (round(100 - half, 6), 0, round(100 - half, 6), 160)
        assert ends(bow.fold) == [(100, 0, 100, 160)]
        assert ends(side.groove)[0][2:] == near[:2]

    def test_folds_that_fan_out_are_mitred_between_them_only(self):
        """A groove of 20 degrees and one of 90 from one point of the edge, 30 degrees apart: the line of the
        narrow one starts at the wide one's where they face each other, at the edge on the other side."""
        far = 50 + 60 / math.sqrt(3)
        narrow, wide = built(
            fold(0, "groove", (50, 0), (50, 51), 20.0), fold(1, "groove", (50, 0), (far, 60))
        ).folds
        half = 5 * math.tan(math.radians(10))
        met = (5 + half * math.cos(math.radians(30))) / math.sin(math.radians(30))
        (right, left) = narrow.groove
        assert (right[0].start, right[0].end) == (
            pytest.approx((50 + half, met)),
            pytest.approx((50 + half, 50)),
        )
        assert (left[0].start, left[0].end) == (pytest.approx((50 - half, 0)), pytest.approx((50 - half, 50)))
        assert wide.groove[-1][0].start == pytest.approx((50 + half, met))
        assert ends(narrow.fold) == upright(50)

    def test_without_a_part_lines_are_as_long_as_drawn(self):
        found = fold_of(fold(0, "wrap", (40, 10), (40, 20)), 5.0)
        assert lines(found) == {
            "lift": upright(40, 35, low=10, high=20),
            "fold": upright(35, low=10, high=20),
        }


class TestTrimmed:
    def test_a_section_keeps_its_share_of_every_line(self):
        found = only(fold(0, "groove", (-1, 25), (101, 25))).trimmed(box(20, 0, 60, 50))
        assert lines(found) == {
            "groove": [(20, 20, 60, 20), (20, 30, 60, 30)],
            "fold": [(20, 25, 60, 25)],
        }

    def test_nothing_is_left_in_a_section_beside_it(self):
        assert only(up("groove")).trimmed(box(60, 0, 100, 50)) is None


class TestPairs:
    def test_the_other_hand_has_the_mirror_image(self):
        (right, left), _ = build_part(panel(folds=(up("wrap"),), pair=Hand.RIGHT))
        (one,), (other,) = right.folds, left.folds
        assert (other.start, other.end) == ((40.0, -51.0), (40.0, 1.0))
        assert ends(one.lift) == upright(40, 35)
        assert ends(other.lift) == upright(40, 35, low=-50, high=0)
        assert (one.side, one.turn_deg) == (other.side, other.turn_deg)


@settings(max_examples=60)
@given(folded_parts())
def test_every_line_lies_in_the_part_at_its_s_and_ends_on_an_edge(drawn):
    """Edge to edge: covered by the part, both ends on its boundary, at the place of the table."""
    for part in build_part(drawn)[0]:
        region = part.outline.polygon
        for found, one in zip(part.folds, drawn.folds, strict=True):
            wanted = table(one, part.thickness_mm)
            for layer in LAYERS:
                places = wanted.axes if layer == "fold" else getattr(wanted, layer)
                runs = getattr(found, layer)
                assert bool(runs) == bool(places)
                seen = {
                    min(range(len(places)), key=lambda i: abs(places[i] - s_of(found, run))) for run in runs
                }
                assert seen == set(range(len(places)))
                for run in runs:
                    assert region.buffer(1e-6).covers(LineString(run_points(run)))
                    for end in (run[0].start, run[-1].end):
                        assert region.boundary.distance(Point(end)) < 1e-6
                        assert min(abs(s_of(found, run) - s) for s in places) < 1e-9


def s_of(found: Fold, run: Run) -> float:
    (x0, y0), (x1, y1), (x, y) = found.start, found.end, run[-1].end
    return ((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / math.dist(found.start, found.end)


@settings(max_examples=40)
@given(folded_parts())
def test_mirrored_twice_is_the_same(drawn):
    """Nothing is lost in a mirror, not even the order of the lines."""
    for found in build_part(drawn)[0][0].folds:
        assert found.mirrored().mirrored() == found
        assert found.mirrored().rises == found.rises


@settings(max_examples=40)
@given(folded_parts())
def test_mirrored_lines_are_the_lines_of_the_mirrored_part(drawn):
    """To fold and mirror is to mirror and fold."""
    part = build_part(replace(drawn, pair=Hand.NONE))[0][0]
    turned = [replace(one, start=flip(one.end), end=flip(one.start)) for one in drawn.folds]
    found, refused = laid_folds(turned, part.outline.mirrored().polygon, part.thickness_mm)
    assert not refused
    for one, other in zip(part.folds, found, strict=True):
        assert lines(one.mirrored()) == lines(other)


@settings(max_examples=30)
@given(folded_parts())
def test_no_two_cut_lines_lie_on_each_other(drawn):
    """Machines would cut twice: lines of folds share no stretch with each other or with the outline."""
    part = build_part(drawn)[0][0]
    cuts = [LineString(run_points(run)) for one in part.folds for run in one.cut_runs()]
    for i, line in enumerate(cuts):
        assert line.buffer(1e-4).intersection(part.outline.polygon.boundary).length < 0.01
        assert all(line.distance(other) > 1e-3 for other in cuts[:i])


def test_bits_shorter_than_a_point_are_dropped():
    """A line that only nicks the tip of a bump leaves nothing to cut."""
    sliver = Polygon([(0, 0), (100, 0), (100, 1), (40.0003, 1), (40, 1.0006), (39.9997, 1), (0, 1)])
    found = fold_of(fold(0, "score", (-1, 1.0002), (101, 1.0002)), 5.0, sliver)
    assert found.half == ()


class TestRefusals:
    """Each says what, where and what to do, at the key to change."""

    @pytest.mark.parametrize(
        ("start", "end", "key", "text"),
        [
            ((40, 10), (40, 51), "from", "the fold starts inside the part, at 40, 10 mm; it has to run from edge to"
             " edge: the edge there lies at 40, 0 mm"),
            ((40, -1), (40, 30), "to", "the fold ends inside the part, at 40, 30 mm; it has to run from edge to"
             " edge: the edge there lies at 40, 50 mm"),
            ((140, -1), (140, 30), "", "the fold from 140, -1 mm to 140, 30 mm lies outside the part by 40 mm;"
             " move it onto the part"),
            ((0, 0), (100, 0), "", "the fold from 0, 0 mm to 100, 0 mm only runs along an edge of the part, or in"
             " a hole; move it onto the part"),
            ((40, 3), (40, 3), "to", "the fold starts and ends at 40, 3 mm, which gives it no direction; draw it"
             " from one edge of the part to the other"),
            ((math.nan, 3), (40, 3), "from", "the point is no number, or lies beyond 1000000 mm; mend it"),
        ],
    )  # fmt: skip
    def test_lines_that_do_not_cross_the_part(self, start, end, key, text):
        where = f"folds[0].{key}" if key else "folds[0]"
        assert refusals(fold(0, "groove", start, end)) == {where: text}

    @pytest.mark.parametrize(
        ("kind", "turn", "more", "key", "text"),
        [
            ("score", 0.0, {}, "turn", "a score cannot turn through 0 degrees; it goes above 0 and below 180"),
            ("score", 180.0, {}, "turn", "a score cannot turn through 180 degrees"),
            ("score", math.nan, {}, "turn", "a score cannot turn through nan degrees"),
            ("groove", -5.0, {}, "turn", "below 180 degrees: to fold the other way, write turn = 5 and side = \"down\""),
            ("score", -5.0, {"side": Side.DOWN}, "turn", 'the other way, write turn = 5 and side = "up"'),
            ("roll", -361.0, {"radius_mm": 9.0}, "turn", 'the other way, write a turn above 0 and side = "down"'),
            ("wrap", -90.0, {}, "turn", 'for 90 degrees: to fold the other way, write turn = 90 and side = "down"'),
            ("groove", 170.0, {"groove_extra_deg": 10.0}, "groove_extra", "make a groove of 180 degrees; it has"),
            ("groove", 90.0, {"groove_extra_deg": -1.0}, "groove_extra", "too narrow to fold shut; it is 0 or"),
            ("groove", 179.9999999999, {}, "turn", "of the board, more than 1000000 mm; make its turn smaller"),
            ("wrap", 80.0, {}, "turn", "a wrap is for 90 degrees: take a groove for another turn"),
            ("wrap", 90.0, {"lands_thickness_mm": 0.0}, "lands", "thickness of the panel that lands is 0 mm"),
            ("roll", 361.0, {"radius_mm": 9.0}, "turn", "it goes above 0 and up to 360 degrees"),
            ("roll", 90.0, {}, "radius", "a roll needs its outer radius: add radius"),
            ("roll", 90.0, {"radius_mm": 0.0}, "radius", "the radius is 0 mm; it has to be above 0"),
            ("roll", 90.0, {"radius_mm": 4.0}, "radius", "less than the board's thickness, 5 mm, which leaves no"),
            ("roll", 90.0, {"radius_mm": 9.0, "every_mm": 0.0}, "every", "it has to be above 0 and at most"),
            ("roll", 90.0, {"radius_mm": 9.0, "every_mm": 1e-4}, "every", "more than the 1,000 that one may have"),
            ("hinge", 0.0, {"bevel_deg": 81.0}, "bevel", "a hinge's bevel goes from 0 to 80 degrees"),
            ("hinge", 0.0, {"bevel_deg": -1.0}, "bevel", "a bevel of -1 degrees is out of range"),
            ("hinge", 46.0, {"bevel_deg": 45.0}, "turn", "swings towards its cut face as far as its bevel, 45 deg"),
            ("hinge", -180.0, {}, "turn", "away from it to just short of -180 degrees"),
        ],
    )  # fmt: skip
    def test_numbers_that_no_fold_can_have(self, kind, turn, more, key, text):
        found = refusals(up(kind, turn, **more))
        assert list(found) == [f"folds[0].{key}"]
        assert text in found[f"folds[0].{key}"]

    @pytest.mark.parametrize(("kind", "turn", "more"), [
        ("roll", 360.0, {"radius_mm": 5.0}), ("hinge", 45.0, {"bevel_deg": 45.0}), ("hinge", -179.0, {}),
        ("score", 179.0, {}),
    ])  # fmt: skip
    def test_numbers_at_their_limits_pass(self, kind, turn, more):
        assert only(up(kind, turn, x=60.0, **more)).turn_deg == turn

    @pytest.mark.parametrize("x", [4.0, 5.0, 5.0005])
    def test_a_band_wider_than_its_panel(self, x):
        text = (
            "the groove takes 10 mm of the board, from 5 mm right of its line to 5 mm left of it, and leaves"
            " nothing of the panel on its left at "
        )
        assert refusals(up("groove", x=x))["folds[0]"].startswith(text)
        assert only(up("groove", x=5.1))

    def test_a_strip_wider_than_its_panel(self):
        assert "nothing of the panel on its left at" in refusals(up("wrap", x=3.0))["folds[0]"]
        assert only(up("wrap", x=3.0, lands_thickness_mm=2.0))

    def test_a_fold_without_room_beside_another(self):
        found = refusals(up("wrap", x=3.0), fold(1, "score", (-1, 25), (101, 25)))
        assert "nothing of the panel on its left at" in found["folds[0]"]

    def test_a_slot_in_the_band(self):
        text = "the fold meets slots[0] at 44.4, 19.9 mm, and a slot cannot be folded; move one of them"
        assert refusals(up("groove"), slots=(slot(0, (47, 25), 10, 90),)) == {"folds[0]": text}

    def test_a_slot_across_a_score(self):
        found = refusals(up("score"), slots=(slot(0, (40, 25), 10),))
        assert re.fullmatch(r"the fold meets slots\[0\] at .* mm, and a slot cannot .*", found["folds[0]"])

    def test_a_slot_beside_the_band_stays(self):
        assert only(up("groove"), slots=(slot(0, (48, 25), 10, 90),))

    def test_a_tab_in_the_band(self):
        found = refusals(fold(0, "score", (40, -6), (40, 51)), tabs=(tab(0, (40, 0), 10),))
        assert re.fullmatch(
            r"the fold meets tabs\[0\] at .*, and a tab cannot be folded; .*", found["folds[0]"]
        )

    @pytest.mark.parametrize("x", [39.0, 40.0, 30.0])
    def test_bands_that_meet(self, x):
        found = refusals(up("groove", x=30.0), replace(up("groove", x=x), key=f"{KEY}.folds[1]"))
        assert found["folds[1]"].startswith("folds[1] and folds[0] meet at ")
        assert "move one of them" in found["folds[1]"]

    def test_bands_with_some_panel_between_them(self):
        assert len(built(up("groove", x=30.0), up("groove", x=40.5)).folds) == 2

    def test_lines_that_cross(self):
        found = refusals(up("score"), fold(1, "score", (-1, 25), (101, 25)))
        assert found["folds[1]"].startswith("folds[1] and folds[0] meet at 40, 25 mm; inside the part")

    def test_folds_at_one_corner_cut_from_both_faces(self):
        found = refusals(
            fold(0, "groove", (0, 0), (100, 0)),
            fold(1, "groove", (100, 0), (100, 80), side=Side.DOWN),
            shape=TRAY,
        )
        assert "end at one corner and are cut from both faces at" in found["folds[1]"]

    def test_a_part_that_may_be_turned_over(self):
        text = 'folds are cut from one face, but face = "either" lets the part be turned over; set face to'
        assert refusals(up("score"), face=Face.EITHER)["face"].startswith(text)

    def test_all_at_once(self):
        found = refusals(up("score", 0.0), fold(1, "roll", (60, -1), (60, 30), radius_mm=9.0))
        assert list(found) == ["folds[0].turn", "folds[1].to"]


def test_a_tight_roll_is_a_warning():
    """Below 3 thicknesses most boards crease (from memory)."""
    drawn = panel(folds=(up("roll", radius_mm=14.9, x=60.0),))
    (found,) = build_part(drawn)[1]
    assert (found.code, found.level, found.where) == ("roll-tight", Level.WARNING, f"{KEY}.folds[0].radius")
    assert (found.value, found.range, found.source) == ("14.9 mm", "at least 15 mm", "from memory")
    assert found.mend
    assert build_part(panel(folds=(up("roll", radius_mm=15.0, x=60.0),)))[1] == ()


def test_kinds_are_all_tested():
    """A new kind of fold needs its tests here; those of strips stand in a file of their own."""
    assert {kind.value for kind in FoldKind} == {"score", "groove", "wrap", "roll", "hinge", "strip"}


def test_a_part_without_folds_has_none():
    part: Part = build_part(DrawnPart(key=KEY, name="p", stock="b", thickness_mm=5.0, shape=rectangle(9, 9)))[
        0
    ][0]
    assert (part.folds, part.bevels, part.worked_behind) == ((), (), False)


@settings(max_examples=120, deadline=None)
@given(hostile_folds())
def test_any_fold_is_built_or_refused(drawn):
    """Whatever is drawn over any shape: lines within the part, off its edges and each other, or words."""
    try:
        parts, _ = build_part(drawn)
    except Refused as refused:
        assert all(r.key.startswith(KEY) and r.text for r in refused.refusals)
        return
    for part in parts:
        region = part.outline.polygon
        cuts = [LineString(run_points(run)) for one in part.folds for run in one.cut_runs()]
        for i, line in enumerate(cuts):
            assert region.buffer(1e-6).covers(line)
            assert line.length > 1e-3
            assert line.buffer(1e-5).intersection(region.boundary).length < 0.05
            for other in cuts[:i]:
                assert line.buffer(1e-5).intersection(other).length < 0.05


def test_a_hinge_without_a_bevel_is_a_note():
    """Square board meets board as soon as it turns towards the cut (plane geometry)."""
    part, findings = build_part(panel(folds=(up("hinge", -20.0),)))
    (found,) = findings
    assert (found.code, found.level, found.where) == ("hinge-square", Level.NOTE, f"{KEY}.folds[0]")
    assert "it swings away from the cut alone" in found.text and "give bevel for a control surface" in found.mend
    assert part[0].folds[0].bevel == ()
    assert build_part(panel(folds=(up("hinge", -20.0, bevel_deg=2.0),)))[1] == ()
    assert build_part(panel(folds=(up("score", 20.0),)))[1] == ()


def test_cuts_of_one_fold_that_lie_closer_than_can_be_cut_are_refused():
    """A groove of 1 degree in board of 5 mm is 2 x 5 tan(0.5) = 0.087 mm wide (arithmetic)."""
    ((key, text),) = refusals(up("groove", 1.0)).items()
    assert key == "folds[0]" and "0.09 mm apart" in text
    assert build_part(panel(folds=(up("groove", 1.2),)))[0]
