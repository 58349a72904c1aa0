"""What one file of a sheet shows: the sheet itself, the face behind it, or one rectangle for a machine's bed."""

import re
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely
from pack_drawn import Drawn, DrawnPart
from pack_geometry import move_points
from pack_layout import Layout
from shapely import Polygon

_BACK = re.compile(r"-back(?:-mm)?\.(?:svg|dxf)\Z")
_BED = re.compile(r"-bed-([1-9][0-9]*)(?:-mm)?\.(?:svg|dxf)\Z")
REGISTER_MM = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One placed piece in the coordinates of the file."""

    entry: dict[str, Any]
    piece: dict[str, Any]
    own: Polygon  # in the part's coordinates
    shape: Polygon
    drawn: DrawnPart | None  # None: nothing is known of it
    common_kerf_mm: float = 0.0

    @property
    def name(self) -> str:
        """Return the piece's identity."""
        return self.entry["piece"]

    @property
    def made(self) -> bool:
        """Tell whether the program made the part, so that nothing is known of its folds."""
        return self.drawn is None or self.drawn.made

    @property
    def kerf_mm(self) -> float:
        """Return the full width of what the tool removes from this piece."""
        return self.drawn.kerf_mm if self.drawn else self.common_kerf_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One file of a sheet: the sheet at `index` of the layout, as this file shows it."""

    index: int
    sheet: dict[str, Any]
    back: bool
    bed: dict[str, Any] | None
    size: tuple[float, float]
    outline: Polygon
    shown: tuple[Shown, ...]

    def to_file(self, points: np.ndarray) -> np.ndarray:
        """Take (n, 2) points of the sheet to the coordinates of the file."""
        if self.back:
            return points * (-1, 1) + (self.sheet["size"][0], 0)
        return points - self.bed["corner"] if self.bed else points

    def shape_to_file(self, shape: shapely.Geometry) -> shapely.Geometry:
        """Take a shape of the sheet to the coordinates of the file."""
        return shapely.transform(shape, self.to_file)

    def part_to_file(self, shown: Shown, shape: shapely.Geometry) -> shapely.Geometry:
        """Take a shape of a placed piece's part to the coordinates of the file."""
        place = shown.entry
        return shapely.transform(
            shape,
            lambda points: self.to_file(
                move_points(points, place["x"], place["y"], place["turn_deg"], place["flipped"])
            ),
        )

    def register(self) -> list[Polygon]:
        """Return the register holes that this file must show."""
        if self.bed:
            return []
        spots = self.to_file(np.array(self.sheet["register"])) if "register" in self.sheet else ()
        return [shapely.Point(spot).buffer(REGISTER_MM / 2, quad_segs=256) for spot in spots]

    def beds(self) -> list[Polygon]:
        """Return the rectangles that this file must show as marks."""
        if self.bed or self.back:
            return []
        return [bed_box(bed) for bed in self.sheet.get("bed", [])]


def bed_box(bed: dict[str, Any]) -> Polygon:
    """Return a bed's rectangle on its sheet."""
    (x, y), (width, height) = bed["corner"], bed["size"]
    return shapely.box(x, y, x + width, y + height)


def is_back(file: str) -> bool:
    """Whether a file is named as one of the turned-over face."""
    return _BACK.search(file) is not None


def bed_number(file: str) -> int | None:
    """Return the number of the bed that a file is named for."""
    match = _BED.search(file)
    return int(match[1]) if match else None


def printed_view(layout: Layout, index: int) -> View:
    """Return what a print of the sheet at `index` shows: neither register holes nor rectangles for a machine."""
    view = view_of(layout, index, "", None)
    bare = {key: entry for key, entry in view.sheet.items() if key not in ("register", "bed")}
    return replace(view, sheet=bare)


def view_of(layout: Layout, index: int, file: str, drawn: Drawn | None) -> View:
    """Return what a file of the sheet at `index` must show; raises ValueError for a bed that is not listed."""
    sheet = layout.raw["sheets"][index]
    number, back = bed_number(file), is_back(file)
    bed = None
    if number is not None:
        bed = next((bed for bed in sheet.get("bed", []) if bed["number"] == number), None)
        if bed is None:
            raise ValueError(f"the layout lists no bed {number}")
    outline = bed_box(bed) if bed else layout.outline(index)
    size = tuple(bed["size"]) if bed else tuple(sheet["size"])
    bare = View(index=index, sheet=sheet, back=back, bed=bed, size=size, outline=outline, shown=())
    shown = tuple(
        Shown(
            entry=entry,
            piece=layout.pieces[entry["piece"]],
            own=layout.piece_shape(entry["piece"]),
            shape=bare.shape_to_file(shape),
            drawn=drawn.parts.get(layout.pieces[entry["piece"]]["part"]) if drawn else None,
            common_kerf_mm=drawn.kerf_mm if drawn else 0.0,
        )
        for entry, shape in zip(sheet["placed"], layout.placed(index), strict=True)
        if entry["piece"] in layout.pieces and (bed is None or entry["piece"] in bed["pieces"])
    )
    return View(
        index=index,
        sheet=sheet,
        back=back,
        bed=bed,
        size=size,
        outline=bare.shape_to_file(outline),
        shown=shown,
    )
