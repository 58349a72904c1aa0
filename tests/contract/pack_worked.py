"""Compares what is drawn of folds and bevels in one file with what the design's words make of them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import shapely
from pack_bevels import Slope, slopes_of
from pack_drawn import DrawnPart
from pack_folds import TICK_MM, Course, fold_courses
from pack_geometry import Track
from pack_layout import Layout
from pack_report import Report
from pack_view import Shown, View
from shapely import LineString, Polygon

# Lines lie within this of where they must, and end within it.
WORKED_MM = 0.01
CUT_LAYERS = ("HALF", "GROOVE", "LIFT", "BEVEL")
# Two lines closer than this along more than the second lie on each other.
_ON_MM, _ALONG_MM = 1e-3, 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """One line that must stand in a file, in its coordinates."""

    layer: str
    line: shapely.Geometry
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DueSlope:
    """One bevel of a placed piece, in the coordinates of the file."""

    layer: str
    inside: shapely.Geometry
    core: shapely.Geometry
    stops: shapely.Geometry  # where a stroke may end
    edge: shapely.Geometry  # of the piece
    body: Polygon
    what: str


class Expected:
    """The lines that the folds and bevels of each part make, worked out once for a pack."""

    def __init__(self, layout: Layout) -> None:
        self._layout = layout
        self._known: dict[str, tuple[list[Course], list[Slope]]] = {}

    def of(self, name: str, drawn: DrawnPart | None) -> tuple[list[Course], list[Slope]]:
        """Return courses and slopes of a part."""
        if drawn is None or drawn.made:
            return [], []
        if name not in self._known:
            shape = self._layout.part_shape(name)
            self._known[name] = fold_courses(drawn, shape), slopes_of(drawn, shape)
        return self._known[name]


def has_back_cuts(view: View, expected: Expected) -> bool:
    """Whether the turned-over face of a sheet has cuts."""
    for shown in view.shown:
        if shown.piece["role"] == "doubler":
            continue
        courses, slopes = expected.of(shown.piece["part"], shown.drawn)
        for course in courses:
            behind = course.down != shown.entry["flipped"]
            if course.layer != "FOLD" and behind and course.line.intersection(shown.own).length > WORKED_MM:
                return True
        if any(
            slope.back != shown.entry["flipped"] and slope.core.intersection(shown.own).length > WORKED_MM
            for slope in slopes
        ):
            return True
    return False


def due_lines(view: View, expected: Expected) -> tuple[list[Due], list[DueSlope]]:
    """Return all lines of folds and bevels that this file must hold."""
    lines, slopes = [], []
    for shown in view.shown:
        if shown.piece["role"] == "doubler":
            continue
        courses, own_slopes = expected.of(shown.piece["part"], shown.drawn)
        for course in courses:
            lines += _due(view, shown, course)
        for slope in own_slopes:
            behind = slope.back != shown.entry["flipped"]
            if behind == view.back:
                slopes.append(_due_slope(view, shown, slope))
    return lines, slopes


def _due(view: View, shown: Shown, course: Course) -> list[Due]:
    behind = course.down != shown.entry["flipped"]
    own = _straight(course.line.intersection(shown.own))
    what = f"piece {shown.name}: {course.what}"
    if course.layer == "FOLD":
        if view.back:
            return []
        layer = "FOLD_UP" if course.rises != shown.entry["flipped"] else "FOLD_DOWN"
        runs = [tick for run in own for tick in _ticks(run)] if course.ticks else own
        return [Due(layer=layer, line=view.part_to_file(shown, run), what=what) for run in runs]
    if behind != view.back:
        return []
    layer = course.layer + ("_BACK" if behind else "")
    return [Due(layer=layer, line=view.part_to_file(shown, run), what=what) for run in own]


def _straight(shape: shapely.Geometry) -> list[LineString]:
    """Return the straight stretches of a shape, in one where they follow each other."""
    lines = [
        part for part in shapely.get_parts(shape) if part.geom_type == "LineString" and part.length > 1e-3
    ]
    if not lines:
        return []
    merged = shapely.line_merge(shapely.MultiLineString(lines))
    return [part for part in shapely.get_parts(merged) if part.length > WORKED_MM]


def _ticks(run: LineString) -> list[LineString]:
    """Return the two end ticks of a line: 5 mm, less where the line is shorter than three of them."""
    ends = shapely.get_coordinates(run)[[0, -1]]
    step = (ends[1] - ends[0]) / run.length * min(TICK_MM, run.length / 3)
    return [LineString([ends[0], ends[0] + step]), LineString([ends[1], ends[1] - step])]


def _due_slope(view: View, shown: Shown, slope: Slope) -> DueSlope:
    def there(shape: shapely.Geometry) -> shapely.Geometry:
        return view.part_to_file(shown, shape)

    return DueSlope(
        layer="BEVEL_BACK" if view.back else "BEVEL",
        inside=there(slope.inside),
        core=there(slope.core.intersection(shown.own)),
        stops=there(slope.ends),
        edge=shown.shape.boundary,
        body=shown.shape,
        what=f"piece {shown.name}: {slope.what}",
    )


def check_worked(
    report: Report, file: str, view: View, tracks: Mapping[str, Sequence[Track]], expected: Expected
) -> None:
    """Every line of folds and bevels is there, in its place, once, and there is no other."""
    lines, slopes = due_lines(view, expected)
    unknown = _unknown(view)
    suffix = "_BACK" if view.back else ""
    layers = ["FOLD_UP", "FOLD_DOWN"] * (not view.back) + [f"{name}{suffix}" for name in CUT_LAYERS]
    for layer in layers:
        drawn = [track.line() for track in tracks.get(layer, ())]
        drawn = [line for line in drawn if not unknown.covers(line)]
        exact = [due for due in lines if due.layer == layer]
        sloping = [slope for slope in slopes if slope.layer == layer]
        _check_layer(report, file, layer, drawn, exact, sloping)
    _check_on_each_other(report, file, view, tracks, [name for name in layers if "FOLD" not in name])


def _unknown(view: View) -> shapely.Geometry:
    """Return where lines of folds may stand that no word of the design tells of: on parts made by the program."""
    made = [shown.shape for shown in view.shown if shown.made and shown.piece["role"] != "doubler"]
    return shapely.union_all([Polygon(shape.exterior).buffer(WORKED_MM) for shape in made])


def _check_layer(
    report: Report,
    file: str,
    layer: str,
    drawn: list[LineString],
    exact: list[Due],
    sloping: list[DueSlope],
) -> None:
    there = shapely.union_all(drawn) if drawn else LineString()
    near = there.buffer(WORKED_MM)
    for due in exact:
        missing = due.line.difference(near).length
        report.expect(
            missing < WORKED_MM, file, f"{layer}: {due.what} is not drawn ({missing:.3f} mm missing)"
        )
    for slope in sloping:
        missing = slope.core.difference(near).length
        report.expect(
            missing < WORKED_MM, file, f"{layer}: {slope.what} is not drawn ({missing:.3f} mm missing)"
        )
    wanted = shapely.union_all([due.line for due in exact]).buffer(WORKED_MM) if exact else Polygon()
    for line in drawn:
        (x, y), extra = line.coords[0], line.difference(wanted).length
        if extra >= WORKED_MM:
            fault = _slope_fault(line, sloping)
            report.expect(fault is None, file, f"{layer}: the line that starts at ({x:.3f}, {y:.3f}) {fault}")
        else:
            report.checks += 1
    loose = [line for line in drawn if line.difference(wanted).length < WORKED_MM]
    due_mm, drawn_mm = sum(due.line.length for due in exact), sum(line.length for line in loose)
    allowed = WORKED_MM * (2 * len(exact) + 2) + due_mm
    report.expect(
        drawn_mm <= allowed, file, f"{layer}: {drawn_mm:.3f} mm are drawn where {due_mm:.3f} mm are due"
    )


def _slope_fault(line: LineString, sloping: list[DueSlope]) -> str | None:
    """Tell what is wrong with a stroke that must belong to a bevel."""
    ends = [shapely.Point(point) for point in (line.coords[0], line.coords[-1])]
    on = [
        slope
        for slope in sloping
        if slope.body.buffer(WORKED_MM).covers(line)
        and line.difference(slope.inside.buffer(WORKED_MM)).length < 1e-9
    ]
    if not on:
        return "is no line of a fold or bevel"
    for slope in on:
        stops = shapely.union_all([slope.stops, slope.edge])
        if all(stops.distance(end) <= 2 * WORKED_MM for end in ends):
            return None
    return "follows a bevel and ends neither at the part's edge nor at a mitre"


def _check_on_each_other(
    report: Report, file: str, view: View, tracks: Mapping[str, Sequence[Track]], layers: Sequence[str]
) -> None:
    """No two lines of one piece that are cut lie on each other."""
    found: list[tuple[str, LineString]] = [
        (layer, track.line()) for layer in layers for track in tracks.get(layer, ())
    ]
    edges = [] if view.back else [shown.shape.boundary for shown in view.shown]
    tree = shapely.STRtree([line for _, line in found])
    for at, (layer, line) in enumerate(found):
        x, y = line.coords[0]
        close = line.buffer(_ON_MM, cap_style="flat")
        for other in tree.query(line, predicate="dwithin", distance=_ON_MM):
            shared = found[int(other)][1].intersection(close).length if other > at else 0.0
            report.expect(
                shared < _ALONG_MM,
                file,
                f"{layer}: the line that starts at ({x:.3f}, {y:.3f}) lies on one of {found[int(other)][0]}",
            )
        for edge in edges:
            if edge.distance(line) < _ON_MM:
                shared = edge.intersection(close).length
                report.expect(
                    shared < _ALONG_MM,
                    file,
                    f"{layer}: the line that starts at ({x:.3f}, {y:.3f}) lies on an outline",
                )
