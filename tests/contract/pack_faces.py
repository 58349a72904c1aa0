"""What the file of the drawn face and that of the turned-over face must share."""

from pathlib import Path
from typing import Any

import shapely
from pack_dxf import read_dxf, read_tracks, tracks_of
from pack_geometry import Track
from pack_report import Report
from pack_svg import read_groups
from shapely import LineString

SAME_MM = 0.01


def check_same_marks(report: Report, folder: Path, front: str, back: str, sheet: dict[str, Any]) -> None:
    """MARK_BACK stands in both files, turned over; so do the register holes."""
    width, height = sheet["size"]
    ours = lines_of(tracks_in(folder / front, height, "MARK_BACK"))
    theirs = shapely.transform(
        lines_of(tracks_in(folder / back, height, "MARK_BACK")), lambda points: points * (-1, 1) + (width, 0)
    )
    for file, has, lacks in ((front, theirs, ours), (back, ours, theirs)):
        missing = has.difference(lacks.buffer(SAME_MM)).length
        report.expect(
            missing < SAME_MM, file, f"MARK_BACK: {missing:.3f} mm of the other file's marks are not drawn"
        )


def tracks_in(path: Path, height_mm: float, layer: str) -> list[Track]:
    """Return the lines of a layer of a file, y up."""
    if path.suffix == ".dxf":
        return _of_dxf(path).get(layer, [])
    return [
        Track(points=track.points * (1, -1) + (0, height_mm), closed=track.closed)
        for track in read_groups(path.read_bytes()).get(layer, [])
    ]


# The lines of the DXF files that were read, by their bytes: each is asked for layer after layer.
_READ: dict[bytes, dict[str, list[Track]]] = {}
_MOST_READ = 64


def _of_dxf(path: Path) -> dict[str, list[Track]]:
    data = path.read_bytes()
    if data not in _READ:
        if len(_READ) >= _MOST_READ:
            _READ.clear()
        _READ[data] = tracks_of(read_dxf(data), read_tracks(path))
    return _READ[data]


def lines_of(tracks: list[Track]) -> shapely.Geometry:
    """Return them as one shape."""
    return shapely.union_all([track.line() for track in tracks]) if tracks else LineString()
