"""Lines of folds on parts that the program made: no word of the design tells of them, so the two formats must agree.

What a groove is holds without the design too: its fold lies half way between its two edges.
"""

from pathlib import Path

import shapely
import shapely.ops
from pack_faces import lines_of, tracks_in
from pack_report import Report
from shapely import LineString
from shapely.affinity import affine_transform

SAME_MM = 0.01
# A fold's ticks are shorter than this; they lie on cuts, not between them.
TICK_MM = 5.1
WORKED = ("FOLD_UP", "FOLD_DOWN", "HALF", "GROOVE", "LIFT", "BEVEL")


def check_both(report: Report, folder: Path, dxf: str, svg: str, height_mm: float) -> None:
    """Each format holds every line of folds and bevels that the other has, as often."""
    for face in ("", "_BACK"):
        for layer in WORKED:
            name = layer + face if not layer.startswith("FOLD") else layer
            if face and name == layer:
                continue
            found = {file: tracks_in(folder / file, height_mm, name) for file in (dxf, svg)}
            for file, other in ((dxf, svg), (svg, dxf)):
                lacks, has = lines_of(found[file]), lines_of(found[other])
                missing = has.difference(lacks.buffer(SAME_MM)).length
                report.expect(
                    missing < SAME_MM, file, f"{name}: {missing:.3f} mm of the lines of {other} is not drawn"
                )
            lengths = [sum(track.line().length for track in tracks) for tracks in found.values()]
            report.expect(
                abs(lengths[0] - lengths[1]) <= SAME_MM * (1 + len(found[dxf])),
                dxf,
                f"{name}: {lengths[0]:.3f} mm are drawn, {lengths[1]:.3f} mm in {svg}",
            )


def check_grooves(report: Report, folder: Path, file: str, height_mm: float, made: shapely.Geometry) -> None:
    """Every edge of a groove on parts made by the program has the other edge beyond a fold, as far off."""
    folds = [
        line
        for layer in ("FOLD_UP", "FOLD_DOWN")
        for line in (track.line() for track in tracks_in(folder / file, height_mm, layer))
        if line.length > TICK_MM and made.covers(line)
    ]
    grooves = [track.line() for track in tracks_in(folder / file, height_mm, "GROOVE")]
    there = shapely.union_all(grooves).buffer(SAME_MM) if grooves else LineString()
    for groove in grooves:
        if made.covers(groove):
            x, y = groove.coords[0]
            middle = groove.interpolate(0.5, normalized=True)
            near = min(folds, key=lambda fold: fold.distance(middle), default=None)
            core = shapely.ops.substring(groove, 0.1, 0.9, normalized=True)
            report.expect(
                near is not None and there.covers(_mirrored(core, near)),
                file,
                f"GROOVE: the line that starts at ({x:.3f}, {y:.3f}) has no like edge beyond a fold",
            )


def _mirrored(line: LineString, axis: LineString) -> LineString:
    (x0, y0), (x1, y1) = axis.coords[0], axis.coords[-1]
    dx, dy = (x1 - x0) / axis.length, (y1 - y0) / axis.length
    a, b = dx * dx - dy * dy, 2 * dx * dy
    return affine_transform(line, [a, b, b, -a, x0 - a * x0 - b * y0, y0 - b * x0 + a * y0])
