"""Checks of the DXF files: group codes are read here, geometry by GDAL (pyogrio)."""

import re
import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
import pyogrio
import shapely
from pack_design import Design
from pack_geometry import Drawing, Text, Track
from pack_layout import Layout
from pack_lines import (
    CLOSED,
    EXACT,
    LAYERS,
    NOTES_FROM_MM,
    TEXTED,
    check_layer_names,
    check_sheet_lines,
    has_bar,
)
from pack_report import Report
from pack_view import View
from pack_words import check_notes

# Published group codes: 4 is millimetres; AC1015 is release 2000, AC1009 release 12 (which carries no unit).
HEADER = {"$ACADVER": "AC1015", "$INSUNITS": "4", "$MEASUREMENT": "1"}
KINDS = {
    False: {"LINE", "LWPOLYLINE", "CIRCLE", "ARC", "TEXT"},
    True: {"LINE", "POLYLINE", "CIRCLE", "ARC", "TEXT"},
}
_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]{1,6})?\Z")
_NOUGHT = re.compile(r"-0(\.0*)?\Z")
_REAL_CODES = frozenset((*range(10, 60), *range(140, 150), *range(210, 240), *range(1010, 1060)))

Pair = tuple[int, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entity:
    """One entity: its type, and its group codes with those of its vertices behind them."""

    kind: str
    pairs: tuple[Pair, ...]
    vertices: tuple[tuple[Pair, ...], ...] = ()

    def value(self, code: int, default: str = "") -> str:
        """Return the first value of a group code."""
        return next((value for at, value in self.pairs if at == code), default)

    @property
    def layer(self) -> str:
        """Return the layer's name."""
        return self.value(8, "0")

    def points(self) -> list[tuple[float, float]]:
        """Return the vertices of a polyline as they stand in the file."""
        if self.kind == "POLYLINE":
            flat = [pair for vertex in self.vertices for pair in vertex if pair[0] in (10, 20)]
        else:
            flat = [pair for pair in self.pairs if pair[0] in (10, 20)]
        along = [float(value) for code, value in flat if code == 10]
        across = [float(value) for code, value in flat if code == 20]
        return list(zip(along, across, strict=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class Dxf:
    """A DXF file's header variables, layer table and entities."""

    header: dict[str, str]
    layers: tuple[str, ...]
    entities: tuple[Entity, ...]


def read_pairs(data: bytes) -> list[Pair]:
    """Split into group code and value; raises ValueError where that is not possible."""
    lines = data.decode("cp1252").splitlines()
    if len(lines) % 2:
        raise ValueError("an odd number of lines: a group code without its value")
    return [(int(code), value.strip()) for code, value in zip(lines[::2], lines[1::2], strict=True)]


@lru_cache(maxsize=64)
def read_dxf(data: bytes) -> Dxf:
    """Read sections, header, layers and entities; raises ValueError on a broken file."""
    sections: dict[str, list[Pair]] = {}
    current: list[Pair] | None = None
    pairs = read_pairs(data)
    for at, (code, value) in enumerate(pairs):
        if (code, value) == (0, "SECTION"):
            current = sections.setdefault(pairs[at + 1][1], [])
        elif (code, value) == (0, "ENDSEC"):
            current = None
        elif current is not None:
            current.append((code, value))
    if (0, "EOF") not in pairs[-1:] or "ENTITIES" not in sections:
        raise ValueError("no section ENTITIES or no end of file")
    header: dict[str, str] = {}
    name = ""
    for code, value in sections.get("HEADER", []):
        if code == 9:
            name = value
        elif name:
            header.setdefault(name, value)
    tables = _split(sections.get("TABLES", []))
    layers = [dict(reversed(pairs)).get(2, "") for kind, pairs in tables if kind == "LAYER"]
    return Dxf(header=header, layers=tuple(layers), entities=tuple(_entities(sections["ENTITIES"])))


def _split(pairs: Sequence[Pair]) -> list[tuple[str, list[Pair]]]:
    items: list[tuple[str, list[Pair]]] = []
    for code, value in pairs:
        if code == 0:
            items.append((value, []))
        elif items:
            items[-1][1].append((code, value))
    return items


def _entities(pairs: Sequence[Pair]) -> list[Entity]:
    found: list[Entity] = []
    for kind, own in _split(pairs):
        if kind == "VERTEX" and found:
            last = found[-1]
            found[-1] = Entity(kind=last.kind, pairs=last.pairs, vertices=(*last.vertices, tuple(own)))
        elif kind != "SEQEND":
            found.append(Entity(kind=kind, pairs=tuple(own)))
    return found


def read_tracks(path: Path) -> dict[str, list[tuple[shapely.Geometry, str]]]:
    """Read a DXF with GDAL: per layer, in the file's order, geometry and text."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.1", "DXF_ENCODING": "UTF-8"})
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        meta, _, shapes, fields = pyogrio.raw.read(path, encoding="utf-8")
    columns = dict(zip(meta["fields"].tolist(), fields, strict=True))
    found: dict[str, list[tuple[shapely.Geometry, str]]] = {}
    for layer, text, shape in zip(columns["Layer"], columns["Text"], shapely.from_wkb(shapes), strict=True):
        found.setdefault(layer, []).append((shapely.force_2d(shape), text or ""))
    return found


def check_dxf(
    report: Report, file: str, path: Path, layout: Layout, view: View, design: Design | None
) -> Drawing:
    """Check one DXF file against what it must show; return its lines and lettering for further checks."""
    release_12 = file.endswith("-mm.dxf")
    data = path.read_bytes()
    dxf = read_dxf(data)
    _check_header(report, file, dxf, release_12)
    _check_numbers(report, file, data)
    _check_layers(report, file, dxf, view)
    _check_entities(report, file, dxf, release_12)
    _check_texts(report, file, dxf, view.size[0])
    geometry = read_tracks(path)
    count = sum(len(found) for found in geometry.values())
    report.expect(
        count == len(dxf.entities), file, f"the other reader finds {count} entities of {len(dxf.entities)}"
    )
    tracks = tracks_of(dxf, geometry)
    check_sheet_lines(report, file, view, tracks, EXACT, kerf=True)
    report.expect(
        has_bar(tracks.get("NOTES", ()), 100.0), file, "NOTES: no line of 100 mm to check the scale by"
    )
    notes = " ".join(entity.value(1) for entity in dxf.entities if entity.layer == "NOTES")
    check_notes(report, file, layout, view, notes, design, ascii_only=True)
    return Drawing(tracks=tracks, texts=_lettering(dxf))


def _lettering(dxf: Dxf) -> list[Text]:
    texts = []
    for entity in dxf.entities:
        if entity.kind == "TEXT" and entity.layer == "LETTERING":
            x, y = (float(entity.value(code) or entity.value(code - 1, "nan")) for code in (11, 21))
            texts.append(Text(words=entity.value(1), at=(x, y)))
    return texts


def _check_header(report: Report, file: str, dxf: Dxf, release_12: bool) -> None:
    wanted = {"$ACADVER": "AC1009"} if release_12 else HEADER
    for name, value in wanted.items():
        found = dxf.header.get(name)
        report.expect(found == value, file, f"header {name} is {found}, not {value}")
    if release_12:
        unit = dxf.header.get("$INSUNITS", "4")
        report.expect(unit == "4", file, f"header $INSUNITS is {unit}, not 4")


def _check_numbers(report: Report, file: str, data: bytes) -> None:
    """Every real number of the entities is plain; nowhere in the file one that is none."""
    section, wrong = "", []
    pairs = read_pairs(data)
    for at, (code, value) in enumerate(pairs):
        if (code, value) == (0, "SECTION"):
            section = pairs[at + 1][1]
        if code not in _REAL_CODES:
            continue
        bad = section == "ENTITIES" and (not _NUMBER.match(value) or _NOUGHT.match(value))
        if bad or "nan" in value.lower() or "inf" in value.lower():
            wrong.append(value)
    report.expect(not wrong, file, f"numbers not plain with at most 6 decimals: {', '.join(wrong[:5])}")


def _check_layers(report: Report, file: str, dxf: Dxf, view: View) -> None:
    order = list(dict.fromkeys(entity.layer for entity in dxf.entities))
    check_layer_names(report, file, order, "layer", back=view.back)
    runs = [
        layer
        for at, layer in enumerate(e.layer for e in dxf.entities)
        if at == 0 or dxf.entities[at - 1].layer != layer
    ]
    report.expect(len(runs) == len(order), file, f"entities of one layer do not stand together: {runs[:20]}")
    listed = [name for name in dxf.layers if name not in ("0", "Defpoints", "DEFPOINTS")]
    for name in listed:
        report.expect(name in LAYERS, file, f"layer table: {name!r} is not in the table of layers")
        report.expect(
            name not in LAYERS or name in order, file, f"layer table: {name} has no lines and must be absent"
        )
    for name in order:
        report.expect(name in dxf.layers, file, f"layer {name} has no entry in the layer table")


def _check_entities(report: Report, file: str, dxf: Dxf, release_12: bool) -> None:
    labels = [entity for entity in dxf.entities if entity.layer == "LETTERING"]
    report.expect(
        not labels or any(entity.kind == "TEXT" for entity in labels),
        file,
        "layer LETTERING: lines and no text",
    )
    for entity in dxf.entities:
        report.expect(
            entity.kind in KINDS[release_12],
            file,
            f"layer {entity.layer}: entity {entity.kind} has no place in a cut file",
        )
        texted = entity.kind == "TEXT"
        report.expect(
            not texted or entity.layer in TEXTED, file, f"layer {entity.layer}: text on a layer of lines"
        )
        report.expect(
            entity.value(67, "0") == "0", file, f"layer {entity.layer}: {entity.kind} outside model space"
        )
        if entity.kind in ("LWPOLYLINE", "POLYLINE") and entity.layer in CLOSED:
            points = entity.points()
            x, y = points[0] if points else (0.0, 0.0)
            closed = int(entity.value(70, "0")) & 1
            report.expect(
                bool(closed), file, f"{entity.layer}: polyline at ({x:.3f}, {y:.3f}) lacks the closed flag"
            )
            report.expect(
                len(points) < 2 or points[0] != points[-1],
                file,
                f"{entity.layer}: polyline at ({x:.3f}, {y:.3f}) says its first point again at the end",
            )


def _check_texts(report: Report, file: str, dxf: Dxf, width_mm: float) -> None:
    for entity in dxf.entities:
        if entity.kind != "TEXT":
            continue
        text = entity.value(1)
        plain = text.isascii() and text.isprintable() and "\\U+" not in text
        report.expect(plain, file, f"{entity.layer}: text {ascii(text)[:60]} is not plain ASCII")
        report.expect(bool(text.strip()), file, f"{entity.layer}: an empty text")
        if entity.layer == "NOTES":
            lefts = [float(value) for code, value in entity.pairs if code in (10, 11)]
            from_left = entity.value(72, "0") in ("0", "3", "5")
            report.expect(
                from_left and min(lefts[:1]) >= width_mm + NOTES_FROM_MM - 1e-3,
                file,
                f"NOTES: text {text[:40]!r} is not wholly to the right of {width_mm + NOTES_FROM_MM}",
            )


def tracks_of(dxf: Dxf, geometry: dict[str, list[tuple[shapely.Geometry, str]]]) -> dict[str, list[Track]]:
    """Put together GDAL's points and the closed flags of the file, entity by entity within a layer."""
    tracks: dict[str, list[Track]] = {}
    for layer, found in geometry.items():
        entities = [entity for entity in dxf.entities if entity.layer == layer]
        for entity, (shape, _) in zip(entities, found, strict=False):
            if entity.kind == "TEXT" or shape.geom_type == "Point":
                continue
            points = np.asarray(shapely.get_coordinates(shape))
            closed = entity.kind == "CIRCLE" or (
                entity.kind in ("LWPOLYLINE", "POLYLINE") and bool(int(entity.value(70, "0")) & 1)
            )
            tracks.setdefault(layer, []).append(Track(points=points, closed=closed))
    return tracks
