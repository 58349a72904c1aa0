"""Joined parts of every shape: sections rebuild them, doublers lie well, mirror and split commute."""

from dataclasses import replace
from itertools import combinations, pairwise

from hypothesis import assume, event, given, settings
from hypothesis import strategies as st
from shapely import LineString

from foamcut.errors import Refused
from foamcut.flat.build import build_part
from foamcut.flat.clipping import run_points
from foamcut.flat.drawn import Doubling, DrawnFold, FoldKind, Hand, JointLine, KeepClear, Place, Turns
from foamcut.flat.joint import Role, ways
from foamcut.flat.other_hand import other_hand
from tests.flat.joined_parts import hold, of_role
from tests.nest.making import stock
from tests.strategies import KEY, mark, panel, readings, rectangle, sound_parts, star_shapes

SMALL = stock((75, 95), (70, 40), margin=1.0)
MIDDLE = stock((150, 110), margin=1.0)


def doublings(overlap: float):
    return st.builds(
        lambda inset, taper: Doubling(
            key=f"{KEY}.doubler", stock="board", thickness_mm=5.0, overlap_mm=overlap, inset_mm=inset,
            taper_mm=taper * overlap,
        ),
        st.sampled_from([0.0, 0.5, 1.5]),
        st.sampled_from([0.0, 0.5, 1.0]),
    )  # fmt: skip


@st.composite
def u_shapes(draw):
    """Two legs of unlike length and width, and a step."""
    a, b, c = (draw(st.floats(12.0, 60.0)) for _ in range(3))
    long, other, back = draw(st.floats(100.0, 400.0)), draw(st.floats(60.0, 400.0)), draw(st.floats(5.0, 90.0))
    top = a + b + c
    return readings((0, 0), (long, 0), (long, a), (back, a + 1), (back, a + b), (other, a + b), (other, top), (0, top))


near = st.tuples(st.floats(-120.0, 120.0), st.floats(-120.0, 120.0))


@st.composite
def loose_parts(draw):
    """Stars and U shapes with lines, circles and tapes across them, some to be kept clear, and folds."""
    marks = []
    for i in range(draw(st.integers(0, 2))):
        kind = draw(st.sampled_from(["line", "circle", "tape"]))
        points = [draw(near)] if kind == "circle" else [draw(near), draw(near)]
        assume(kind == "circle" or max(abs(p - q) for p, q in zip(*points, strict=True)) > 1)
        marks.append(
            mark(i, kind, *points, diameter_mm=draw(st.floats(3.0, 40.0)), width_mm=6.0, clear=draw(st.booleans()))
        )
    low = draw(st.floats(-100.0, 100.0))
    keep = KeepClear(key=f"{KEY}.keep_clear[0]", x_mm=(low, low + draw(st.floats(0.5, 40.0))))
    across = DrawnFold(
        key=f"{KEY}.folds[0]",
        kind=draw(st.sampled_from([FoldKind.GROOVE, FoldKind.SCORE])),
        start=(-500.0, low),
        end=(500.0, low + draw(st.floats(-90.0, 90.0))),
        turn_deg=60.0,
    )
    return panel(
        draw(st.one_of(star_shapes(), u_shapes())),
        pair=draw(st.sampled_from(list(Hand))),
        turns=draw(st.sampled_from([Turns.HALF, Turns.QUARTER])),
        marks=tuple(marks),
        keep_clear=draw(st.sampled_from([(), (), (keep,)])),
        folds=draw(st.sampled_from([(), (), (across,)])),
        doubling=draw(doublings(8.0)),
    )


def built(drawn):
    try:
        return build_part(drawn)[0]
    except Refused:
        assume(False)


def joined(part, board, **more):
    try:
        return ways(part, board, most=2, **more)
    except Refused as refused:
        event("refused")
        assert all(refusal.key.startswith(KEY) for refusal in refused.refusals)
        return ()


@settings(max_examples=15)
@given(drawn=sound_parts(), doubling=doublings(4.0))
def test_plates_of_holes_slots_and_tabs(drawn, doubling):
    """A column of cells between two lines always fits, so that none of these is refused for its lines."""
    for part in built(replace(drawn, doubling=doubling)):
        for way in joined(part, SMALL):
            if len(way.pieces) > 1:
                hold(part, way, SMALL)


@settings(max_examples=20)
@given(drawn=loose_parts())
def test_stars_and_u_shapes_with_arcs_marks_and_folds(drawn):
    for part in built(drawn):
        for way in joined(part, MIDDLE):
            if len(way.pieces) > 1:
                event(f"{len(way.joints)} joints")
                hold(part, way, MIDDLE)


def best_on_a_grid(length, barred, longest, overlap, nose):
    """The least (lines, lines in the nose half, sum of squares) of all rows on a 5 mm grid, by trying them all."""
    shortest = 2 * overlap + 20
    free = [
        x for x in range(0, length + 1, 5) if all(not low - overlap < x < high + overlap for low, high in barred)
    ]
    for count in (1, 2, 3):
        found = []
        for row in combinations(free, count):
            lengths = [b - a for a, b in pairwise((0, *row, length))]
            if min(lengths) >= shortest and max(lengths) <= longest:
                in_nose = sum((2 * x < length) if nose > 0 else (2 * x > length) for x in row) if nose else 0
                found.append((count, in_nose, sum(one * one for one in lengths)))
        if found:
            return min(found)
    return None


@settings(max_examples=60)
@given(
    length=st.integers(21, 60).map(lambda n: 10 * n),
    barred=st.lists(st.tuples(st.integers(0, 60), st.integers(1, 12)), max_size=4),
    longest=st.integers(11, 24).map(lambda n: 10 * n),
    nose=st.sampled_from([1, -1]),
)
def test_no_row_on_a_grid_is_better(length, barred, longest, nose):
    """*Arithmetic*: every row of up to three lines of a strip, tried one by one."""
    barred = [(10 * low, 10 * (low + wide)) for low, wide in barred]
    assume(length > longest)
    keep = tuple(
        KeepClear(key=f"{KEY}.keep_clear[{i}]", x_mm=(float(low), float(high)))
        for i, (low, high) in enumerate(barred)
        if low <= length
    )
    overlap = 20
    patch = Doubling(
        key=f"{KEY}.doubler", stock="board", thickness_mm=5.0, overlap_mm=overlap, inset_mm=1.0, taper_mm=0.0
    )
    drawn = panel(
        rectangle(length, 50),
        keep_clear=keep,
        doubling=patch,
        turns=Turns.HALF,
        place=Place(key=f"{KEY}.place", at=(0, 0, 0), x=(nose, 0, 0), y=(0, 0, 1)),
    )
    (part,) = build_part(drawn)[0]
    due = best_on_a_grid(length, [b for b in barred if b[0] <= length], longest, overlap, nose)
    try:
        way = ways(part, stock((longest, 60)), most=1)[0]
    except Refused:
        assert due is None
        return
    row = [joint.x_mm for joint in way.joints]
    lengths = [b - a for a, b in pairwise((0, *row, length))]
    in_nose = sum((2 * x < length) if nose > 0 else (2 * x > length) for x in row)
    assert max(lengths) <= longest
    if due is not None:
        assert (len(row), in_nose, sum(one * one for one in lengths)) <= (*due[:2], due[2] + 1e-3)


def image(outline):
    return outline.mirrored().polygon


def drawn_length(piece):
    return sum(LineString(run_points(run)).length for m in piece.flat.marks for run in m.drawn().runs)


@settings(max_examples=30)
@given(drawn=loose_parts(), x=st.floats(-60.0, 60.0), y=st.floats(-60.0, 60.0), both=st.booleans())
def test_mirror_and_split_commute(drawn, x, y, both):
    """The ways of the mirror image with mirrored lines are the mirrored ways, marks and all."""
    lines = [JointLine(key=f"{KEY}.joints[0]", x_mm=x)]
    lines += [JointLine(key=f"{KEY}.joints[1]", y_mm=y)] if both else []
    drawn = replace(drawn, pair=Hand.RIGHT, joint_lines=tuple(lines), folds=())
    right, left = built(drawn)
    board = stock((400, 400))
    of_right, of_left = joined(right, board), joined(left, board)
    assert len(of_right) == len(of_left)
    if not of_right:
        return
    for role in (Role.SECTION, Role.DOUBLER):
        here, there = of_role(of_right[0], role), of_role(of_left[0], role)
        assert len(here) == len(there)
        for piece in there:
            twin = max(here, key=lambda p: p.outline.polygon.intersection(image(piece.outline)).area)
            assert twin.outline.polygon.symmetric_difference(image(piece.outline)).area < 1e-3
            assert abs(drawn_length(twin) - drawn_length(piece)) < 1e-3
            assert len(twin.flat.marks) == len(piece.flat.marks)
    assert [j.length_mm for j in of_right[0].joints] == [j.length_mm for j in of_left[0].joints]


@settings(max_examples=8)
@given(drawn=loose_parts())
def test_a_pair_chooses_its_lines_in_one_view(drawn):
    """The left-hand one, drawn first and mirrored, gets the lines that it gets as the mirror image."""
    right, left = built(replace(drawn, pair=Hand.RIGHT))
    again = other_hand(other_hand(left))
    assert [way.joints for way in joined(left, MIDDLE)] == [way.joints for way in joined(again, MIDDLE)]
    for one, two in zip(joined(right, MIDDLE), joined(other_hand(left), MIDDLE), strict=True):
        assert one.joints == two.joints
