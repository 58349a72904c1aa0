"""What the files show of joints: each doubler's outline on both sections, its letter, the joint on the doubler."""

from collections.abc import Sequence

import shapely
from pack_doublers import doublers_of, letter_of
from pack_geometry import Drawing, Text
from pack_joints import joints_of
from pack_layout import Layout
from pack_lines import uncovered_mm
from pack_report import Report
from pack_view import Shown, View
from shapely import LineString, Polygon

MARK_MM = 0.01
# Nearer than this to a section's own edge an outline is not looked for: it is cut there.
EDGE_MM = 0.05


def check_joint_marks(report: Report, file: str, layout: Layout, view: View, drawing: Drawing) -> None:
    """Check the marks of joints on all sections and doublers that a file of the drawn face shows."""
    if view.back:
        return
    strokes = [track.line() for track in drawing.tracks.get("MARK", ())]
    marks = shapely.union_all(strokes) if strokes else LineString()
    for shown in view.shown:
        if shown.piece["role"] == "section":
            for doubler, body in doublers_of(layout, shown.piece["part"], shown.piece["copy"]):
                _check_section(report, file, view, shown, marks, drawing.texts, letter_of(doubler), body)
        elif shown.piece["role"] == "doubler":
            _check_doubler(report, file, layout, view, shown, marks, drawing.texts)


def _check_section(
    report: Report,
    file: str,
    view: View,
    shown: Shown,
    marks: shapely.Geometry,
    texts: Sequence[Text],
    letter: str,
    body: Polygon,
) -> None:
    here = body.intersection(shown.own)
    if here.area < 1.0:
        return
    inside = shown.own.buffer(-EDGE_MM, join_style="mitre")
    outline = view.part_to_file(shown, body.boundary.intersection(inside))
    off = uncovered_mm(marks, outline)
    report.expect(
        off <= MARK_MM,
        file,
        f"MARK: the outline of doubler {letter} is not drawn on piece {shown.name} ({off:.3f} mm off)",
    )
    report.expect(
        _lettered(view.part_to_file(shown, here), texts, letter),
        file,
        f"LETTERING: piece {shown.name} has no letter {letter} where its doubler lies",
    )


def _check_doubler(
    report: Report,
    file: str,
    layout: Layout,
    view: View,
    shown: Shown,
    marks: shapely.Geometry,
    texts: Sequence[Text],
) -> None:
    letter = letter_of(shown.piece)
    report.expect(
        _lettered(shown.shape, texts, letter), file, f"LETTERING: piece {shown.name} has no letter {letter}"
    )
    for joint in joints_of(layout, shown.piece["part"]):
        if letter not in joint["doublers"]:
            continue
        at = joint["at"]
        far = 1e5
        line = LineString([(at, -far), (at, far)] if joint["axis"] == "x" else [(-far, at), (far, at)])
        placed = view.part_to_file(shown, line.intersection(shown.own))
        ticked = placed.intersection(marks.buffer(MARK_MM, cap_style="flat")).length
        report.expect(
            ticked >= min(2.0, 0.2 * placed.length),
            file,
            f"MARK: piece {shown.name} does not show where its joint lies ({ticked:.3f} mm drawn)",
        )


def _lettered(room: shapely.Geometry, texts: Sequence[Text], letter: str) -> bool:
    return any(text.words.strip() == letter and room.covers(shapely.Point(text.at)) for text in texts)
