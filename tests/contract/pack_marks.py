"""The lines of marks and folds that stand in a sheet's DXF, for what must show them too."""

from pathlib import Path

from pack_dxf import read_dxf, read_tracks, tracks_of
from pack_geometry import Track
from pack_layout import Layout
from pack_view import bed_number, is_back

# The lines that marks make on sheets and templates alike.
MARKED = ("MARK", "FOLD_UP", "FOLD_DOWN", "HALF", "GROOVE", "LIFT", "BEVEL")


def dxf_marks(
    folder: Path, layout: Layout, layers: tuple[str, ...] = MARKED
) -> dict[int, dict[str, list[Track]]]:
    """Return the lines of marks and folds, by layer, of each sheet's first DXF that can be read.

    Outer marks are only pricked on templates; what is cut on the other face is left to its own file.
    """
    found: dict[int, dict[str, list[Track]]] = {}
    for index, sheet in enumerate(layout.raw["sheets"]):
        for name in sheet["files"]:
            if not name.endswith(".dxf") or index in found or is_back(name) or bed_number(name) is not None:
                continue
            try:
                path = folder / name
                tracks = tracks_of(read_dxf(path.read_bytes()), read_tracks(path))
            except Exception:
                continue  # the sheet's own check has said so already
            found[index] = {layer: tracks[layer] for layer in layers if layer in tracks}
    return found
