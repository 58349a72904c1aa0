"""What every way to cut a joined part must keep to, by shapely on the pieces alone."""

import math

import shapely
from shapely import LineString, box

from foamcut.flat.clipping import run_points
from foamcut.flat.drawn import Doubling, Grain, Turns
from foamcut.flat.joint import Piece, Role, Way
from foamcut.flat.joint_mark import JointMark
from foamcut.flat.marks import LineMark
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock


def doubling_of(part: Part) -> Doubling:
    return part.doubling or Doubling.usual("", part.stock, part.thickness_mm)


def of_role(way: Way, role: Role) -> list[Piece]:
    return [piece for piece in way.pieces if piece.role is role]


def hold(part: Part, way: Way, *stocks: Stock) -> None:
    """All that is promised of a joined part."""
    sections_rebuild(part, way)
    marks_are_kept(part, way)
    doublers_lie_well(part, way)
    joints_are_covered(part, way)
    joint_marks_agree(part, way)
    lines_keep_off(part, way)
    for piece in way.pieces:
        assert fits_a_sheet(piece.flat, next(s for s in stocks if s.name == piece.flat.stock)), piece.suffix
        assert piece.flat.name == f"{part.name}-{piece.suffix}"
        assert (piece.part, piece.flat.key, piece.flat.hand) == (part, part.key, part.hand)


def sections_rebuild(part: Part, way: Way) -> None:
    whole = part.outline.polygon
    sections = [piece.outline.polygon for piece in of_role(way, Role.SECTION)]
    assert len(sections) > 1
    assert abs(math.fsum(s.area for s in sections) - whole.area) <= 1e-6 * whole.area
    assert shapely.union_all(sections).symmetric_difference(whole).area < 1e-3
    for section in sections:
        assert section.is_valid


def lengths(marks) -> float:
    return math.fsum(
        LineString(run_points(run)).length for m in marks if isinstance(m, LineMark) for run in m.runs
    )


def marks_are_kept(part: Part, way: Way) -> None:
    """Each line goes on in every section that it crosses; one that runs along a joint is on both its sides."""
    along = [
        joint
        for joint in way.joints
        for m in part.marks
        if isinstance(m, LineMark)
        for run in m.runs
        for s in run
        if (joint.x_mm is not None and abs(s.start[0] - joint.x_mm) + abs(s.end[0] - joint.x_mm) < 1e-5)
        or (joint.y_mm is not None and abs(s.start[1] - joint.y_mm) + abs(s.end[1] - joint.y_mm) < 1e-5)
    ]
    pieces = of_role(way, Role.SECTION)
    if not along:
        total = math.fsum(lengths(piece.flat.marks) for piece in pieces)
        assert math.isclose(total, lengths(part.marks), abs_tol=1e-3 * (1 + len(pieces)))
    for piece in pieces:
        grown = piece.outline.polygon.buffer(1e-5)
        for m in piece.flat.marks:
            assert all(grown.covers(LineString(run_points(run))) for run in m.drawn().runs)
        for fold in piece.flat.folds:
            assert all(grown.covers(LineString(run_points(run))) for run in fold.cut_runs())


def doublers_lie_well(part: Part, way: Way) -> None:
    doubling = doubling_of(part)
    inset = doubling.inset_mm
    whole = part.outline.polygon
    doublers = of_role(way, Role.DOUBLER)
    for piece in doublers:
        shape = piece.outline.polygon
        assert whole.buffer(1e-6).covers(shape)
        assert whole.boundary.distance(shape) >= inset - 1e-6
        for m in part.marks:
            if m.clear:
                for run in m.drawn().runs:
                    assert LineString(run_points(run)).distance(shape) >= inset - 1e-6
        for fold in part.folds:
            for run in (*fold.cut_runs(), *fold.fold):
                assert LineString(run_points(run)).distance(shape) >= inset - 1e-6
        for keep in part.keep_clear:
            x0, x1 = keep.x_mm or (-1e6, 1e6)
            y0, y1 = keep.y_mm or (-1e6, 1e6)
            assert box(x0, y0, x1, y1).intersection(shape).area < 1e-3
        assert (piece.flat.stock, piece.flat.thickness_mm) == (doubling.stock, doubling.thickness_mm)
    for i, one in enumerate(doublers):
        for other in doublers[i + 1 :]:
            assert one.outline.polygon.intersection(other.outline.polygon).area < 1e-3


def joints_are_covered(part: Part, way: Way) -> None:
    """At least half of each joint lies under its doublers, and they reach one overlap at most."""
    overlap = doubling_of(part).overlap_mm
    x0, y0, x1, y1 = part.outline.bounds
    by_suffix = {piece.suffix: piece.outline.polygon for piece in of_role(way, Role.DOUBLER)}
    for joint in way.joints:
        upright = joint.y_mm is None
        at = joint.x_mm if upright else joint.y_mm
        line = LineString([(at, y0), (at, y1)] if upright else [(x0, at), (x1, at)])
        board = line.intersection(part.outline.polygon).length
        shapes = [by_suffix[f"doubler-{letter.lower()}"] for letter in joint.letters]
        covered = math.fsum(line.intersection(shape).length for shape in shapes)
        assert covered >= board / 2 - 0.006  # edges may be chords
        assert joint.length_mm == (part.length_mm if upright else part.width_mm)
        for shape in shapes:
            low, high = (shape.bounds[0], shape.bounds[2]) if upright else (shape.bounds[1], shape.bounds[3])
            assert at - overlap - 1e-6 <= low < at < high <= at + overlap + 1e-6


def joint_marks_agree(part: Part, way: Way) -> None:
    """A doubler's letter stands on it and on two sections at least, its lines on sections are its outline."""
    letters = [letter for joint in way.joints for letter in joint.letters]
    assert len(set(letters)) == len(letters) == len(of_role(way, Role.DOUBLER))
    marks = [(piece, m) for piece in way.pieces for m in piece.flat.marks if isinstance(m, JointMark)]
    for piece, m in marks:
        assert m.face is part.face
        assert all(piece.outline.polygon.buffer(1e-6).covers(shapely.Point(at)) for at in m.letter_places)
        assert all(piece.outline.polygon.buffer(1e-5).covers(LineString(run_points(run))) for run in m.runs)
    for piece in of_role(way, Role.DOUBLER):
        (own,) = piece.flat.marks
        assert piece.suffix == f"doubler-{own.letter.lower()}"
        on = [(p, m) for p, m in marks if m.letter == own.letter and p is not piece]
        assert len(on) >= 2
        drawn = shapely.union_all([LineString(run_points(run)) for _, m in on for run in m.runs])
        undrawn = piece.outline.polygon.exterior.difference(drawn.buffer(0.02))  # arcs by other chords
        assert undrawn.difference(part.outline.polygon.boundary.buffer(2e-3)).length < 1e-2


def lines_keep_off(part: Part, way: Way) -> None:
    """Slots, tabs and holes are one overlap away from every line."""
    overlap = doubling_of(part).overlap_mm
    shapes = [s.outline.polygon for s in part.slots] + [t.outline.polygon for t in part.tabs]
    shapes += [shapely.Polygon(ring) for ring in part.outline.polygon.interiors]
    for joint in way.joints:
        axis, at = (0, joint.x_mm) if joint.y_mm is None else (1, joint.y_mm)
        for shape in shapes:
            low, high = shape.bounds[axis], shape.bounds[axis + 2]
            assert at <= low - overlap + 1e-6 or at >= high + overlap - 1e-6


def fits_a_sheet(part: Part, stock: Stock) -> bool:
    """Upright, in the turns that the part and both grains allow, or at some angle if every one is allowed."""
    limited = part.grain is not Grain.ANY and stock.grain is not Grain.ANY
    turns = {Turns.NONE: (0,), Turns.HALF: (0,)}.get(part.turns, (0, 90))
    if limited:
        turns = tuple(t for t in turns if (t == 0) == (part.grain is stock.grain))
    if part.turns is Turns.ANY and not limited:
        turns = tuple(t / 10 for t in range(1800))
    corners = shapely.get_coordinates(part.outline.polygon.convex_hull).tolist()
    for turn in turns:
        cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        xs = [cos * x - sin * y for x, y in corners]
        ys = [sin * x + cos * y for x, y in corners]
        wide, high = max(xs) - min(xs), max(ys) - min(ys)
        for size in stock.sheets:
            room = size.width_mm - 2 * stock.margin_mm, size.height_mm - 2 * stock.margin_mm
            if wide <= room[0] + 1e-6 and high <= room[1] + 1e-6:
                return True
    return False
