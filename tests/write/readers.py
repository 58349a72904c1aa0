"""Reading files back with libraries other than those that wrote them; all in mm, y up."""

import io
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pyogrio
import pypdfium2
import pypdfium2.raw as pdfium
import shapely
import svgelements

from tests.write.sheet_drawings import HEIGHT_MM

MM_PER_PX = 25.4 / 96
MM_PER_POINT = 25.4 / 72


def dxf_lines(data: bytes, folder: Path) -> dict[str, list[shapely.Geometry]]:
    """Layer by layer what GDAL finds in a DXF file, arcs in steps of 0.1 degrees."""
    file = folder / "sheet.dxf"
    file.write_bytes(data)
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.1"})
    meta, _, shapes, fields = pyogrio.raw.read(file)
    columns = dict(zip(meta["fields"].tolist(), fields, strict=True))
    found: dict[str, list[shapely.Geometry]] = {}
    for layer, shape in zip(columns["Layer"], shapely.from_wkb(shapes), strict=True):
        found.setdefault(layer, []).append(shapely.force_2d(shape))
    return found


def svg_lines(data: bytes) -> dict[str, list[np.ndarray]]:
    """Group by group the points of its lines on a sheet of the usual height."""
    found: dict[str, list[np.ndarray]] = {}
    for group in svgelements.SVG.parse(io.BytesIO(data), ppi=96, reify=True):
        if isinstance(group, svgelements.Group):
            for element in group.select(lambda e: isinstance(e, svgelements.Path)):
                points = [
                    (p.x, p.y)
                    for segment in element
                    if not isinstance(segment, svgelements.Move)
                    for p in (segment.point(t / 200) for t in range(201))
                ]
                found.setdefault(group.id, []).append(
                    np.array(points) * MM_PER_PX * (1, -1) + (0, HEIGHT_MM)
                )
    return found


def pdf_paths(data: bytes, page: int = 0) -> Iterator[np.ndarray]:
    """Points of each path on a page as pdfium has them, mm from the lower left corner."""
    document = pypdfium2.PdfDocument(data)
    for item in document[page].get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
        matrix = item.get_matrix()
        points = []
        for index in range(pdfium.FPDFPath_CountSegments(item)):
            segment = pdfium.FPDFPath_GetPathSegment(item, index)
            x, y = pdfium.c_float(), pdfium.c_float()
            pdfium.FPDFPathSegment_GetPoint(segment, x, y)
            points.append(matrix.on_point(x.value, y.value))
        yield np.array(points) * MM_PER_POINT
