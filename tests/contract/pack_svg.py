"""Checks of the SVG files: structure with ElementTree, geometry read by svgelements (96 px to the inch)."""

import io
import math
import re
import xml.etree.ElementTree as ET
from functools import lru_cache

import numpy as np
import svgelements
from pack_design import Design
from pack_geometry import Drawing, Text, Track
from pack_layout import Layout
from pack_lines import (
    CLOSED,
    EXACT,
    NOTES_FROM_MM,
    TEXTED,
    Allowance,
    check_layer_names,
    check_sheet_lines,
    has_bar,
)
from pack_report import Report
from pack_view import View
from pack_words import check_notes

# CSS Values and Units: 1in = 2.54cm = 96px.
MM_PER_PX = 25.4 / 96
_SVG = "{http://www.w3.org/2000/svg}"
SHAPES = {"path", "line", "polyline", "polygon", "circle", "rect", "ellipse"}
ALLOWED = SHAPES | {"svg", "g", "title", "desc", "text", "tspan"}
# The reader keeps 96 px / 25.4 mm as 3.7795296, 5.4e-7 off: 2.7 micrometres on the largest sheet of 5 m.
_READER_ERROR = 6e-7


def check_svg(
    report: Report, file: str, data: bytes, layout: Layout, view: View, design: Design | None
) -> Drawing | None:
    """Check one SVG file against what it must show; return its lines and lettering for further checks."""
    text = data.decode("utf-8")
    if not report.expect("<!DOCTYPE" not in text and "<!ENTITY" not in text, file, "has a document type"):
        return None
    root = ET.fromstring(text)
    report.expect(root.tag == f"{_SVG}svg", file, f"the root is {root.tag}, not svg")
    sheet_width, sheet_height = view.size
    _check_frame(report, file, root, sheet_width, sheet_height)
    groups = [child.get("id", "") for child in root if child.tag == f"{_SVG}g"]
    check_layer_names(report, file, groups, "group", back=view.back)
    _check_elements(report, file, root)
    _check_texts(report, file, root, sheet_width)
    tracks = {
        name: [
            Track(points=track.points * (1, -1) + (0, sheet_height), closed=track.closed) for track in found
        ]
        for name, found in read_groups(data).items()
    }
    for name in groups:
        filled = bool(tracks.get(name)) or root.find(f"{_SVG}g[@id='{name}']//{_SVG}text") is not None
        report.expect(filled, file, f"group {name} has no lines and must be absent")
    extra = _READER_ERROR * max(sheet_width, sheet_height)
    check_sheet_lines(
        report,
        file,
        view,
        tracks,
        Allowance(on_mm=EXACT.on_mm + extra, off_mm=EXACT.off_mm + extra),
        kerf=True,
    )
    report.expect(
        has_bar(tracks.get("NOTES", ()), 100.0), file, "NOTES: no line of 100 mm to check the scale by"
    )
    notes = " ".join(" ".join(text.itertext()) for text in root.iterfind(f"{_SVG}g[@id='NOTES']//{_SVG}text"))
    check_notes(report, file, layout, view, notes, design, ascii_only=False)
    return Drawing(tracks=tracks, texts=_lettering(root, sheet_height))


def _lettering(root: ET.Element, height_mm: float) -> list[Text]:
    texts = []
    for element in root.iterfind(f"{_SVG}g[@id='LETTERING']//{_SVG}text"):
        at = float(element.get("x", "nan")), height_mm - float(element.get("y", "nan"))
        texts.append(Text(words="".join(element.itertext()), at=at))
    return texts


def _check_frame(report: Report, file: str, root: ET.Element, width_mm: float, height_mm: float) -> None:
    """Physical size and viewBox agree, so that one unit of the drawing is 1 mm; the sheet lies inside."""
    sizes = []
    for name in ("width", "height"):
        match = re.fullmatch(r"([0-9]+(?:\.[0-9]+)?)mm", root.get(name, ""))
        report.expect(match is not None, file, f"{name} is {root.get(name)!r}, not a number of mm")
        sizes.append(float(match[1]) if match else math.nan)
    box = [float(value) for value in root.get("viewBox", "").replace(",", " ").split()]
    report.expect(
        len(box) == 4 and box[:2] == [0, 0] and box[2:] == sizes,
        file,
        f"viewBox {root.get('viewBox')!r} is not {root.get('width')} x {root.get('height')}",
    )
    report.expect(
        sizes[0] >= width_mm, file, f"the sheet of {width_mm} mm is wider than the drawing ({sizes[0]} mm)"
    )
    report.expect(
        sizes[1] >= height_mm, file, f"the sheet of {height_mm} mm is higher than the drawing ({sizes[1]} mm)"
    )


def _check_elements(report: Report, file: str, root: ET.Element) -> None:
    for child in root:
        name = child.tag.removeprefix(_SVG)
        report.expect(name in ("g", "title", "desc"), file, f"<{name}> stands outside the groups of lines")
    for element in root.iter():
        name = element.tag.removeprefix(_SVG) if isinstance(element.tag, str) else str(element.tag)
        report.expect(name in ALLOWED, file, f"<{name}> has no place in a cut file")
        for attribute, value in element.attrib.items():
            plain = attribute.split("}")[-1]
            banned = plain in ("class", "style", "href") or plain.startswith("on")
            report.expect(not banned, file, f"<{name}> has the attribute {plain}")
            report.expect(
                plain != "transform"
                or (name == "text" and re.fullmatch(r"rotate\([-0-9., ]+\)", value) is not None),
                file,
                f"<{name}> has a transform: {value[:40]!r}",
            )
            if name in SHAPES and plain not in ("id", "stroke", "fill"):
                odd = re.search(r"[0-9.][eE][-+]?[0-9]|nan|inf|[0-9](mm|px|pt|in)\b", value)
                report.expect(
                    odd is None,
                    file,
                    f"<{name}> {plain} has an exponent, a unit or no number: {value[:40]!r}",
                )
    for group in root.findall(f"{_SVG}g"):
        layer = group.get("id", "")
        texts = group.findall(f".//{_SVG}text")
        report.expect(not texts or layer in TEXTED, file, f"group {layer}: text among lines")
        for shape in group.iter():
            report.expect(
                layer not in CLOSED or shape.get("fill", group.get("fill")) in ("none",) or shape is group,
                file,
                f"group {layer}: a line is filled",
            )


def _check_texts(report: Report, file: str, root: ET.Element, sheet_width: float) -> None:
    for element in root.iterfind(f"{_SVG}g[@id='NOTES']//{_SVG}text"):
        left = float(element.get("x", "nan"))
        words = "".join(element.itertext())[:40]
        report.expect(
            left >= sheet_width + NOTES_FROM_MM - 1e-3 and element.get("text-anchor", "start") == "start",
            file,
            f"NOTES: text {words!r} is not wholly to the right of {sheet_width + NOTES_FROM_MM}",
        )


@lru_cache(maxsize=64)  # asked for layer after layer
def read_groups(data: bytes) -> dict[str, list[Track]]:
    """Read the drawing with svgelements: per top-level group the lines in mm, y down."""
    document = svgelements.SVG.parse(io.BytesIO(data), ppi=96, reify=True)
    groups: dict[str, list[Track]] = {}
    for child in document:
        if isinstance(child, svgelements.Group):
            found = groups.setdefault(child.id or "", [])
            for element in child.select(lambda item: isinstance(item, svgelements.Shape)):
                path = svgelements.Path(element)
                found += [track for part in path.as_subpaths() if (track := _track(svgelements.Path(part)))]
    return groups


def _track(path: svgelements.Path) -> Track | None:
    points: list[tuple[float, float]] = []
    closed = False
    for segment in path:
        if isinstance(segment, svgelements.Move):
            points.append((segment.end.x, segment.end.y))
        elif isinstance(segment, svgelements.Close):
            closed = True
        elif isinstance(segment, svgelements.Line):
            points.append((segment.end.x, segment.end.y))
        else:
            points += _curve(segment)
    if len(points) < 2:
        return None
    if closed and points[0] != points[-1]:
        points.append(points[0])
    return Track(points=np.asarray(points, dtype=float) * MM_PER_PX, closed=closed)


def _curve(segment: svgelements.PathSegment) -> list[tuple[float, float]]:
    """Sample an arc every 0.1 degrees, another curve 100 times; its first point stands already."""
    steps = 100
    if isinstance(segment, svgelements.Arc):
        steps = max(2, math.ceil(abs(math.degrees(segment.sweep)) / 0.1))
    points = segment.npoint(np.linspace(0.0, 1.0, steps + 1)[1:])
    return [(float(x), float(y)) for x, y in points]
