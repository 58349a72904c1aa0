"""Small maps of a tiled part or sheet: its outline, the grid, which tile is which.

The map lies as the drawing lies on its pages.  Blank cells, which have no page, are struck out.
"""

import math
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from foamcut.draw.flow import Block, frame
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.tiles import Box, Cell, Tiling
from foamcut.draw.values import Align, Line, Shade, Stroke, Text
from foamcut.flat.outline import straight

#: grey of the tile that a map stands on: dark enough to be seen, light enough to read on
_SHADE = 0.75
#: grey of material under names
_MATERIAL = 0.87
#: outlines on a map are simplified by this much on paper, mm
_SIMPLE_MM = 0.1
_LABEL_MM = 2.5
#: an outer cell is not drawn smaller than this share of its size, so that its name can be read
_LEAST_CELL = 0.4
#: of the material's longer side, shown around it
_RIM = 0.03


def tile_map(
    area: MultiPolygon,
    tiling: Tiling,
    width_mm: float,
    height_mm: float,
    *,
    shaded: Cell | None = None,
    named: bool = False,
) -> Block:
    """The map as large as fits, at the left and top of its field.

    Parameters
    ----------
    area
        Material in the drawing's coordinates.
    shaded
        The tile to be filled grey.
    named
        Whether tiles carry their row and column; material is filled then, without its outline.
    """
    across, upwards = _edges(area, tiling)
    x0, y0, x1, y1 = across[0], upwards[0], across[-1], upwards[-1]
    factor = min(width_mm / (x1 - x0), height_mm / (y1 - y0))

    def on_map(points: np.ndarray) -> np.ndarray:
        return np.column_stack([(points[:, 0] - x0) * factor, (points[:, 1] - y1) * factor])

    def box_on_map(box: Box) -> Box:
        (a, b), (c, d) = on_map(np.array([box[:2], box[2:]]))
        return float(a), float(b), float(c), float(d)

    outline = shapely.transform(_laid(area, tiling), on_map).simplify(_SIMPLE_MM)
    shapes = shapely.get_parts(outline)
    alone = tiling.columns == 1
    rings = [ring for shape in shapes for ring in (shape.exterior, *shape.interiors)]
    strokes = [] if named else [_ring(ring) for ring in rings]
    texts: list[Text] = []
    for row in range(tiling.rows):
        level = tiling.rows - 1 - row
        for column in range(tiling.columns):
            left, right = across[column : column + 2]
            low, high = upwards[level : level + 2]
            a, b, c, d = box_on_map((left, low, right, high))
            strokes.append(frame(a, b, c, d))
            if not tiling.printed(row, column):
                strokes.append(Stroke(line=Line.FRAME, segments=straight([(a, b), (c, d)])))
            elif named:
                texts.append(_name(tile_name(row, column), (a, b, c, d), beside=alone))
    shades = _filled(shapes) if named else []
    if shaded:
        level = tiling.rows - 1 - shaded.row
        core = across[shaded.column], upwards[level], across[shaded.column + 1], upwards[level + 1]
        shades.append(_shade(box_on_map(core)))
    height = (y1 - y0) * factor
    return Block(height_mm=height, strokes=tuple(strokes), texts=tuple(texts), shades=tuple(shades))


def least_cell_mm(area: MultiPolygon, tiling: Tiling, width_mm: float, height_mm: float) -> float:
    """The smaller side of the smallest cell on such a map; a single column takes its names beside it."""
    across, upwards = _edges(area, tiling)
    factor = min(width_mm / (across[-1] - across[0]), height_mm / (upwards[-1] - upwards[0]))
    columns = [right - left for left, right in pairwise(across)] if tiling.columns > 1 else []
    rows = [high - low for low, high in pairwise(upwards)] if tiling.rows > 1 else []
    return factor * min([*columns, *rows], default=math.inf)


def row_letter(row: int) -> str:
    """A, B ... Z, AA, AB ...; row 0 is the top one."""
    letters = ""
    number = row + 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def tile_name(row: int, column: int) -> str:
    """Row letter and column number: A1 is the upper left tile."""
    return f"{row_letter(row)}{column + 1}"


def _laid(area: MultiPolygon, tiling: Tiling) -> MultiPolygon:
    return shapely.transform(area, lambda points: np.array([tiling.laid(x, y) for x, y in points]))


def _edges(area: MultiPolygon, tiling: Tiling) -> tuple[list[float], list[float]]:
    """Edges of the cells in laid coordinates, the outer ones drawn in to the material."""
    x0, y0, x1, y1 = _laid(area, tiling).bounds
    rim = _RIM * max(x1 - x0, y1 - y0)
    across, upwards = list(tiling.across), list(tiling.upwards)
    for edges, low, high in ((across, x0, x1), (upwards, y0, y1)):
        inner = edges[1] if len(edges) > 2 else math.inf, edges[-2] if len(edges) > 2 else -math.inf
        least = _LEAST_CELL * (edges[1] - edges[0])
        edges[0] = max(edges[0], min(low - rim, inner[0] - least))
        edges[-1] = min(edges[-1], max(high + rim, inner[1] + least))
    return across, upwards


def _name(name: str, cell: Box, *, beside: bool) -> Text:
    """In the middle of its cell, smaller in a small one; with `beside` to the right of a narrow cell."""
    x0, y0, x1, y1 = cell
    wide, high = text_width_mm(name, _LABEL_MM), _LABEL_MM
    if beside and x1 - x0 < wide + 1.2:
        at = x1 + 1.0, (y0 + y1 - high) / 2
        return Text(line=Line.FRAME, at=at, text=name, height_mm=_LABEL_MM)
    height = _LABEL_MM * max(0.3, min(1.0, (x1 - x0 - 1.2) / wide, (y1 - y0 - 1.2) / high))
    at = (x0 + x1) / 2, (y0 + y1 - height) / 2
    return Text(line=Line.FRAME, at=at, text=name, height_mm=height, align=Align.MIDDLE)


def _filled(shapes: NDArray[np.object_]) -> list[Shade]:
    """Material in light grey, so that names on it can be read; holes are white again."""
    rings = [(shape.exterior, _MATERIAL) for shape in shapes]
    rings += [(hole, 1.0) for shape in shapes for hole in shape.interiors]
    return [Shade(points=tuple((x, y) for x, y in ring.coords[:-1]), grey=grey) for ring, grey in rings]


def _ring(ring: shapely.LinearRing) -> Stroke:
    return Stroke(line=Line.DIMENSION, segments=straight([(x, y) for x, y in ring.coords]), closed=True)


def _shade(box: Box) -> Shade:
    x0, y0, x1, y1 = box
    return Shade(points=((x0, y0), (x1, y0), (x1, y1), (x0, y1)), grey=_SHADE)
