"""Doublers: their shape, where they lie, how they are divided and named."""

import pytest
from shapely import box

from foamcut.errors import Refused
from foamcut.flat.build import build_part
from foamcut.flat.clipping import run_points
from foamcut.flat.doublers import letters
from foamcut.flat.drawn import Doubling, DrawnFold, FoldKind, Grain, JointLine, KeepClear
from foamcut.flat.joint import Role, ways
from foamcut.flat.joint_mark import TICK_MM
from tests.flat.joined_parts import hold, of_role
from tests.nest.making import stock
from tests.strategies import KEY, mark, panel, readings, rectangle

BOARD = stock((700, 500), (500, 350), margin=3.0)
MIDDLE = (JointLine(key=f"{KEY}.joints[0]", x_mm=500.0),)


def doubling(overlap=50.0, inset=5.0, taper=25.0, stock="board", thickness=5.0):
    return Doubling(
        key=f"{KEY}.doubler", stock=stock, thickness_mm=thickness, overlap_mm=overlap, inset_mm=inset, taper_mm=taper
    )


def joined(shape=None, board=BOARD, ply=None, **more):
    values = {"joint_lines": MIDDLE} | more
    (part,) = build_part(panel(shape or rectangle(1000, 100), **values))[0]
    way = ways(part, board, doubler_stock=ply, most=1)[0]
    hold(part, way, *(one for one in (board, ply) if one))
    return part, way


def doublers(*args, **more):
    return of_role(joined(*args, **more)[1], Role.DOUBLER)


def refused(*args, **more):
    with pytest.raises(Refused) as caught:
        joined(*args, **more)
    return {refusal.key: refusal.text for refusal in caught.value.refusals}


def corners(piece):
    return {(round(x, 6), round(y, 6)) for x, y in piece.outline.rings()[0]}


def test_the_usual_doubler_by_hand():
    """5 mm board: overlap 50, inset 5, taper 25: eight corners, ends run in at 45 degrees."""
    (piece,) = doublers()
    assert corners(piece) == {
        (450, 30), (450, 70), (475, 95), (525, 95), (550, 70), (550, 30), (525, 5), (475, 5)
    }  # fmt: skip


def test_a_narrow_part_has_a_doubler_with_pointed_ends():
    (piece,) = doublers(rectangle(1000, 40))
    assert corners(piece) == {(460, 20), (475, 35), (525, 35), (540, 20), (525, 5), (475, 5)}


def test_without_a_taper_the_ends_are_square():
    (piece,) = doublers(doubling=doubling(taper=0.0))
    assert corners(piece) == {(450, 5), (550, 5), (550, 95), (450, 95)}


def test_a_taper_as_long_as_the_overlap_begins_at_the_joint():
    (piece,) = doublers(rectangle(1000, 200), doubling=doubling(taper=50.0))
    assert corners(piece) == {(450, 55), (450, 145), (500, 195), (550, 145), (550, 55), (500, 5)}


def test_an_inset_of_nothing_reaches_from_edge_to_edge():
    (piece,) = doublers(doubling=doubling(inset=0.0, taper=0.0))
    assert corners(piece) == {(450, 0), (550, 0), (550, 100), (450, 100)}


def test_edges_that_slope_are_followed():
    """Along a tail that tapers the doubler keeps the inset square to the edge."""
    part, way = joined(readings((0, 0), (1000, 30), (1000, 70), (0, 100)))
    (piece,) = of_role(way, Role.DOUBLER)
    assert part.outline.polygon.exterior.distance(piece.outline.polygon) == pytest.approx(5.0, abs=1e-6)


def test_of_thin_ply():
    ply = stock((300, 200))
    ply = type(ply)(**{name: getattr(ply, name) for name in ply.__slots__} | {"name": "ply", "thickness_mm": 1.5})
    (piece,) = doublers(ply=ply, doubling=doubling(stock="ply", thickness=1.5))
    assert (piece.flat.stock, piece.flat.thickness_mm) == ("ply", 1.5)
    assert piece.flat.name == "panel-doubler-a"


def small_ply(width, height, grain=Grain.ANY):
    ply = stock((width, height), grain=grain)
    return type(ply)(**{name: getattr(ply, name) for name in ply.__slots__} | {"name": "ply", "thickness_mm": 1.5})


def test_a_doubler_longer_than_its_stock_is_divided_in_equal_ones():
    pieces = doublers(
        rectangle(1000, 310), ply=small_ply(110, 120), doubling=doubling(stock="ply", thickness=1.5, taper=0.0)
    )
    assert [piece.outline.bounds for piece in pieces] == [
        (450, 5, 550, 105), (450, 105, 550, 205), (450, 205, 550, 305)
    ]  # fmt: skip


def test_butt_ends_do_not_lie_at_another_joint():
    """Halves of the upright doubler would meet where the level joint runs: it is divided in three."""
    lines = (*MIDDLE, JointLine(key=f"{KEY}.joints[1]", y_mm=450.0))
    _, way = joined(rectangle(1000, 900), joint_lines=lines)
    upright, level = way.joints
    assert len(upright.letters) == 3
    assert len(level.letters) == 2


def test_doublers_of_level_joints_keep_off_upright_ones():
    lines = (*MIDDLE, JointLine(key=f"{KEY}.joints[1]", y_mm=300.0))
    _, way = joined(rectangle(1000, 600), joint_lines=lines)
    shapes = {piece.suffix[-1].upper(): piece.outline.polygon for piece in of_role(way, Role.DOUBLER)}
    upright, level = way.joints
    for a in upright.letters:
        for b in level.letters:
            assert shapes[a].distance(shapes[b]) >= 5.0 - 1e-6


def test_a_doubler_that_no_sheet_of_its_stock_holds():
    found = refused(ply=small_ply(90, 90), doubling=doubling(stock="ply", thickness=1.5))
    assert found == {
        f"{KEY}.doubler": "the doubler over the joint at x = 500 mm, 100 x 90 mm, fits no sheet of stock ply in the turns "
        "that the part and both grains allow, in one piece or divided: the largest leaves 90 x 90 mm inside its margin; "
        "shorten the overlap, or give the doubler another stock"
    }


def test_cut_back_from_clear_marks():
    (low, high) = doublers(marks=(mark(0, "tape", (300, 50), (700, 50), width_mm=10.0, clear=True),))
    assert (low.outline.bounds[3], high.outline.bounds[1]) == pytest.approx((40, 60), abs=0.01)
    (piece,) = doublers(marks=(mark(0, "tape", (300, 50), (700, 50), width_mm=10.0),))
    assert piece.outline.area == doublers()[0].outline.area


def test_a_clear_circle_is_kept_off_whole_and_its_arc_is_one():
    """The doubler goes round a small one, and is divided by a large one."""
    small = doublers(marks=(mark(0, "circle", (500, 50), diameter_mm=30.0, clear=True),))
    large = doublers(
        rectangle(1000, 200), marks=(mark(0, "circle", (500, 100), diameter_mm=60.0, clear=True),)
    )
    assert (len(small), len(large)) == (1, 2)
    for pieces, middle, radius in ((small, (500, 50), 20), (large, (500, 100), 35)):
        for piece in pieces:
            (circle,) = piece.outline.circles
            assert (circle.x, circle.y) == pytest.approx(middle, abs=1e-6)
            assert circle.radius == pytest.approx(radius, abs=0.01)


def test_no_doubler_in_what_is_kept_clear():
    kept = KeepClear(key="k", x_mm=(550.0, 600.0))
    (piece,) = doublers(keep_clear=(kept,))
    assert piece.outline.bounds[2] == 550.0


def test_one_doubler_for_each_panel_between_folds():
    """A score has no width, and still no doubler crosses it."""
    score = DrawnFold(key=f"{KEY}.folds[0]", kind=FoldKind.SCORE, start=(-1, 50), end=(1001, 50), turn_deg=30.0)
    low, high = doublers(folds=(score,), doubling=doubling(inset=0.0))
    assert low.outline.bounds[3] == pytest.approx(49)
    assert high.outline.bounds[1] == pytest.approx(51)


def test_less_than_half_a_joint_covered_is_refused():
    """Of 100 mm a tape of 44 and its distance leave 36; of 30 they leave 2 x 25."""
    wide = mark(0, "tape", (300, 50), (700, 50), width_mm=44.0, clear=True)
    found = refused(marks=(wide,))
    assert list(found) == [f"{KEY}.joints[0]"]
    assert found[f"{KEY}.joints[0]"].startswith(
        "the doublers over the joint at x = 500 mm cover 36 of its 100 mm, less than half; move the joint"
    )
    narrower = mark(0, "tape", (300, 50), (700, 50), width_mm=29.9, clear=True)
    assert len(doublers(marks=(narrower,))) == 2


def test_the_program_passes_over_lines_that_cannot_be_doubled():
    """Lines in the tape leave too little; the best one beside it is taken."""
    wide = mark(0, "tape", (480, 50), (560, 50), width_mm=60.0, clear=True)
    _, way = joined(marks=(wide,), joint_lines=())
    assert way.joints[0].x_mm > 560


def test_where_no_line_can_be_doubled_the_part_is_refused():
    found = refused(rectangle(1000, 18), joint_lines=())
    assert list(found) == [KEY]
    assert "less than half" in found[KEY]


def test_a_leg_that_no_doubler_joins_is_refused():
    """The wide leg alone covers more than half; the narrow one would fall off."""
    shape = readings((0, 0), (1000, 0), (1000, 100), (300, 100), (300, 110), (1000, 110), (1000, 120), (0, 120))
    found = refused(shape)
    assert found[f"{KEY}.joints[0]"].startswith(
        "no doubler finds room to join the section from 500, 110 to 1000, 120 mm to the rest"
    )


def test_letters_go_on_after_z():
    assert letters(3) == ["A", "B", "C"]
    assert letters(53)[25:28] == ["Z", "AA", "AB"]
    assert letters(53)[52] == "BA"
    assert letters(703)[701:] == ["ZZ", "AAA"]


def test_doublers_are_lettered_from_the_nose_on():
    lines = tuple(JointLine(key=f"{KEY}.joints[{i}]", x_mm=x) for i, x in enumerate((650.0, 350.0)))
    _, way = joined(joint_lines=lines)
    assert [(joint.x_mm, joint.letters) for joint in way.joints] == [(350.0, ("A",)), (650.0, ("B",))]
    assert [piece.suffix for piece in way.pieces] == [
        "section-1", "section-2", "section-3", "doubler-a", "doubler-b"
    ]  # fmt: skip


def test_ticks_stand_across_the_middles_of_the_ends():
    """5 mm inside and 5 mm outside on a section, the inner half of it on the doubler."""
    _, way = joined()
    first, second, doubler = way.pieces

    def level(piece, x):
        (own,) = [m for m in piece.flat.marks if m.key == f"{KEY}.joints[0]"]
        runs = (run_points(run) for run in own.runs)
        return {points for points in runs if len(points) == 2 and points[0][1] == points[1][1] and any(
            abs(p[0] - x) < 1e-6 for p in points)}  # fmt: skip

    assert TICK_MM == 5.0
    assert level(first, 445.0) == {((455.0, 50.0), (445.0, 50.0))} or level(first, 445.0) == {
        ((445.0, 50.0), (455.0, 50.0))
    }
    assert {points[0][1] for points in level(second, 555.0)} == {50.0, 58.0}
    assert {points[0][1] for points in level(doubler, 545.0)} == {50.0, 58.0}
    (own,) = doubler.flat.marks
    along = {tuple(run_points(run)) for run in own.runs if run[0].start[0] == run[-1].end[0] == 500.0}
    assert along == {((500.0, 5.0), (500.0, 10.0)), ((500.0, 90.0), (500.0, 95.0))}


def test_the_letter_stands_on_either_side_of_the_joint():
    _, way = joined()
    assert [piece.flat.marks[-1].letter_places for piece in way.pieces] == [
        ((475.0, 50.0),), ((525.0, 50.0),), ((475.0, 50.0), (525.0, 50.0))
    ]  # fmt: skip


def test_no_line_runs_straight_across_the_part():
    """The end of a doubler is narrower than its middle by twice the taper."""
    _, way = joined()
    (piece,) = of_role(way, Role.DOUBLER)
    shape = piece.outline.polygon
    end = shape.intersection(box(549.9999, 0, 551, 100)).bounds
    assert end[3] - end[1] == pytest.approx(100 - 2 * 5 - 2 * 25, abs=1e-3)
