"""What every drawing of a sheet must show in any format: layers of the table, lines of the layout."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import shapely
from pack_geometry import CHORD_MM, READ_MM, Track, farthest_mm, match_rings, vertices
from pack_kerf import match_moved
from pack_report import Report
from pack_view import View
from shapely import LinearRing, Polygon

LAYERS = (
    "SHEET",
    "MARK",
    "MARK_BACK",
    "FOLD_UP",
    "FOLD_DOWN",
    "LETTERING",
    "HALF",
    "HALF_BACK",
    "GROOVE",
    "GROOVE_BACK",
    "LIFT",
    "LIFT_BACK",
    "BEVEL",
    "BEVEL_BACK",
    "OPENING",
    "THROUGH",
    "NOTES",
)
BACK_CUTS = ("HALF_BACK", "GROOVE_BACK", "LIFT_BACK", "BEVEL_BACK")
ON_BACK = ("SHEET", "MARK_BACK", "LETTERING", *BACK_CUTS, "OPENING", "NOTES")
ALWAYS = ("SHEET", "THROUGH", "NOTES")
CLOSED = ("SHEET", "OPENING", "THROUGH")
TEXTED = ("LETTERING", "NOTES")
NOTES_FROM_MM = 10.0
# Marks are cut off at the part's edge; their ends may be rounded outwards.
MARK_OUTSIDE_MM = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance:
    """How far lines may be off: layout vertices from the drawing, drawn vertices from the layout."""

    on_mm: float
    off_mm: float


# DXF: arcs read back in steps of 0.1 degrees; SVG: sampled as finely.
EXACT = Allowance(on_mm=READ_MM, off_mm=CHORD_MM + READ_MM)
# PDF: 7 significant digits, arcs as Bezier curves.
PRINTED = Allowance(on_mm=0.02, off_mm=0.02 + CHORD_MM)


def check_layer_names(
    report: Report, file: str, names: Sequence[str], what: str, *, back: bool = False
) -> None:
    """Only layers of the table, in its order, each once, on the face they belong to; none is lacking."""
    for name in names:
        report.expect(name in LAYERS, file, f"{what} {name!r} is not in the table of layers")
        own = name in ON_BACK if back else name not in BACK_CUTS
        face = "turned-over" if back else "drawn"
        report.expect(
            name not in LAYERS or own, file, f"{what} {name} has no place in the file of the {face} face"
        )
    known = [LAYERS.index(name) for name in names if name in LAYERS]
    report.expect(
        known == sorted(set(known)), file, f"{what}s do not stand in the order of the table: {list(names)}"
    )
    for name in ALWAYS:
        if not (back and name == "THROUGH"):
            report.expect(name in names, file, f"{what} {name} is missing")


def check_sheet_lines(
    report: Report,
    file: str,
    view: View,
    tracks: Mapping[str, Sequence[Track]],
    allowance: Allowance,
    *,
    kerf: bool,
) -> None:
    """SHEET is the outline, THROUGH the outsides, OPENING the holes, one line each; marks lie on pieces.

    kerf: outsides and holes are moved by half the kerf of their part.
    """
    for layer in CLOSED:
        for track in tracks.get(layer, ()):
            x, y = track.points[0]
            report.expect(
                track.closed, file, f"{layer}: the line that starts at ({x:.3f}, {y:.3f}) is not closed"
            )
    _check_rings(report, file, "SHEET", _sheet_rings(view), tracks.get("SHEET", ()), allowance)
    bodies = () if view.back else view.shown
    outsides = [
        _Ring(ring=shown.shape.exterior, what=f"outline of piece {shown.name}", kerf_mm=shown.kerf_mm * kerf)
        for shown in bodies
    ]
    holes = [
        _Ring(ring=ring, what=f"hole of piece {shown.name}", kerf_mm=shown.kerf_mm * kerf)
        for shown in bodies
        for ring in shown.shape.interiors
    ]
    holes += [
        _Ring(ring=LinearRing(hole.exterior), what="a register hole", register=True)
        for hole in view.register()
    ]
    _check_rings(report, file, "THROUGH", outsides, tracks.get("THROUGH", ()), allowance)
    _check_rings(report, file, "OPENING", holes, tracks.get("OPENING", ()), allowance)
    _check_marks(report, file, view, tracks)
    _check_room_for_notes(report, file, view.size[0], tracks.get("NOTES", ()))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ring:
    """A closed line that must be drawn."""

    ring: LinearRing
    what: str
    kerf_mm: float = 0.0
    register: bool = False


def _sheet_rings(view: View) -> list[_Ring]:
    edge = [_Ring(ring=view.outline.exterior, what="the board's edge")]
    return edge + [_Ring(ring=ring, what="a void") for ring in view.outline.interiors]


def _check_rings(
    report: Report,
    file: str,
    layer: str,
    wanted: Sequence[_Ring],
    tracks: Sequence[Track],
    allowance: Allowance,
) -> None:
    drawn = [track.area() for track in tracks if len(track.points) >= 4]
    report.expect(
        len(drawn) == len(tracks), file, f"{layer}: {len(tracks) - len(drawn)} lines enclose nothing"
    )
    spare = list(range(len(drawn)))
    for moved in (False, True):
        own = [ring for ring in wanted if (ring.kerf_mm > 0) == moved]
        left = [drawn[at] for at in spare]
        rings = [ring.ring for ring in own]
        if moved:
            kerfs = [ring.kerf_mm for ring in own]
            missing, free = match_moved(rings, kerfs, left, holes=layer == "OPENING")
        else:
            missing, free = match_rings(rings, left, on_mm=allowance.on_mm, off_mm=allowance.off_mm)
        spare = [spare[at] for at in free]
        for index, ring in enumerate(own):
            with_kerf = f" with its kerf of {ring.kerf_mm:g} mm" if moved else ""
            report.expect(
                index not in missing, file, f"{layer}: {ring.what} is not drawn as in the layout{with_kerf}"
            )
    for index in spare:
        box = ", ".join(f"{value:.3f}" for value in drawn[index].bounds)
        report.expect(False, file, f"{layer}: the closed line in the box {box} is no line of the layout")


def _check_marks(report: Report, file: str, view: View, tracks: Mapping[str, Sequence[Track]]) -> None:
    """Marks are trimmed to their part: none leaves the pieces (holes are waste, a mark may cross them)."""
    filled = shapely.union_all(
        [Polygon(shown.shape.exterior).buffer(MARK_OUTSIDE_MM) for shown in view.shown]
    )
    beds = view.beds()
    drawn_beds: set[int] = set()
    for layer in ("MARK", "MARK_BACK", "LETTERING"):  # the lines among the lettering are arrows
        for track in tracks.get(layer, ()):
            line = track.line()
            x, y = track.points[0]
            bed = next((at for at, box in enumerate(beds) if _is_frame(line, box)), None)
            if layer == "MARK" and bed is not None:
                report.expect(bed not in drawn_beds, file, f"MARK: bed {bed + 1} is drawn twice")
                drawn_beds.add(bed)
                continue
            report.expect(
                filled.covers(line),
                file,
                f"{layer}: the line that starts at ({x:.3f}, {y:.3f}) leaves its piece",
            )
    for at in range(len(beds)):
        report.expect(at in drawn_beds, file, f"MARK: the rectangle of bed {at + 1} is not drawn")


def _is_frame(line: shapely.LineString, box: Polygon) -> bool:
    return line.hausdorff_distance(box.exterior) <= MARK_OUTSIDE_MM


def _check_room_for_notes(report: Report, file: str, width_mm: float, tracks: Sequence[Track]) -> None:
    for track in tracks:
        left = float(track.points[:, 0].min())
        report.expect(
            left >= width_mm + NOTES_FROM_MM - READ_MM,
            file,
            f"NOTES: a line begins at x = {left:.3f}, notes keep to the right of {width_mm + NOTES_FROM_MM}",
        )


def has_bar(tracks: Sequence[Track], length_mm: float, within_mm: float = 0.01) -> bool:
    """Tell whether one straight stretch of a line, level or upright, has this length."""
    for track in tracks:
        points = track.line().coords if len(track.points) > 1 else []
        steps = [(b[0] - a[0], b[1] - a[1]) for a, b in zip(points, list(points)[1:], strict=False)]
        for dx, dy in steps:
            if min(abs(dx), abs(dy)) <= within_mm and abs(max(abs(dx), abs(dy)) - length_mm) <= within_mm:
                return True
    return False


def uncovered_mm(lines: shapely.Geometry, wanted: shapely.Geometry) -> float:
    """Return how far the farthest point of `wanted`, sampled every millimetre, lies from the drawn lines."""
    if wanted.is_empty:
        return 0.0
    return farthest_mm(vertices(shapely.segmentize(wanted, 1.0)), lines)
