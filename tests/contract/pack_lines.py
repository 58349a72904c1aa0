"""What every drawing of a sheet must show in any format: layers of the table, lines of the layout."""

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import shapely
from pack_design import Design
from pack_geometry import CHORD_MM, READ_MM, Track, farthest_mm, match_rings, vertices
from pack_layout import Layout, placed_outlines
from pack_report import Report
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
# What this version of the program can draw; the rest comes with folds, bevels and joints.
DRAWN_SO_FAR = ("SHEET", "MARK", "MARK_BACK", "LETTERING", "OPENING", "THROUGH", "NOTES")
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


def check_layer_names(report: Report, file: str, names: Sequence[str], what: str) -> None:
    """Only layers of the table, in its order, each once; those that every sheet has are there."""
    for name in names:
        report.expect(name in LAYERS, file, f"{what} {name!r} is not in the table of layers")
        report.expect(
            name not in LAYERS or name in DRAWN_SO_FAR, file, f"{what} {name!r} comes with a later version"
        )
    known = [LAYERS.index(name) for name in names if name in LAYERS]
    report.expect(
        known == sorted(set(known)), file, f"{what}s do not stand in the order of the table: {list(names)}"
    )
    for name in ALWAYS:
        report.expect(name in names, file, f"{what} {name} is missing")


def check_sheet_lines(
    report: Report,
    file: str,
    layout: Layout,
    index: int,
    tracks: Mapping[str, Sequence[Track]],
    allowance: Allowance,
) -> None:
    """SHEET is the outline, THROUGH the outsides, OPENING the holes, one line each; marks lie on pieces."""
    for layer in CLOSED:
        for track in tracks.get(layer, ()):
            x, y = track.points[0]
            report.expect(
                track.closed, file, f"{layer}: the line that starts at ({x:.3f}, {y:.3f}) is not closed"
            )
    outside, holes = placed_outlines(layout, index)
    outline = layout.outline(index)
    names = [entry["piece"] for entry in layout.raw["sheets"][index]["placed"]]
    hole_names = [
        f"hole of piece {name}"
        for name, shape in zip(names, layout.placed(index), strict=True)
        for _ in shape.interiors
    ]
    wanted = (
        (
            "SHEET",
            [outline.exterior, *outline.interiors],
            ["the board's edge", *["a void"] * len(outline.interiors)],
        ),
        ("THROUGH", outside, [f"outline of piece {name}" for name in names]),
        ("OPENING", holes, hole_names),
    )
    for layer, rings, labels in wanted:
        _check_rings(report, file, layer, rings, labels, tracks.get(layer, ()), allowance)
    _check_marks(report, file, layout.placed(index), tracks)
    _check_room_for_notes(report, file, layout.raw["sheets"][index]["size"][0], tracks.get("NOTES", ()))


def _check_rings(
    report: Report,
    file: str,
    layer: str,
    wanted: Sequence[LinearRing],
    labels: Sequence[str],
    tracks: Sequence[Track],
    allowance: Allowance,
) -> None:
    drawn = [track.area() for track in tracks if len(track.points) >= 4]
    report.expect(
        len(drawn) == len(tracks), file, f"{layer}: {len(tracks) - len(drawn)} lines enclose nothing"
    )
    missing, spare = match_rings(wanted, drawn, on_mm=allowance.on_mm, off_mm=allowance.off_mm)
    for index, label in enumerate(labels):
        report.expect(index not in missing, file, f"{layer}: {label} is not drawn as in the layout")
    for index in spare:
        box = ", ".join(f"{value:.3f}" for value in drawn[index].bounds)
        report.expect(False, file, f"{layer}: the closed line in the box {box} is no line of the layout")


def _check_marks(
    report: Report, file: str, shapes: list[Polygon], tracks: Mapping[str, Sequence[Track]]
) -> None:
    """Marks are trimmed to their part: none leaves the pieces (holes are waste, a mark may cross them)."""
    filled = shapely.union_all([Polygon(shape.exterior).buffer(MARK_OUTSIDE_MM) for shape in shapes])
    for layer in ("MARK", "MARK_BACK", "LETTERING"):  # the lines among the lettering are arrows
        for track in tracks.get(layer, ()):
            line = track.line()
            x, y = track.points[0]
            report.expect(
                filled.covers(line),
                file,
                f"{layer}: the line that starts at ({x:.3f}, {y:.3f}) leaves its piece",
            )


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


def squeezed(text: str) -> str:
    """Leave out white space: readers part words as they like."""
    return "".join(text.split())


def says(text: str, name: str) -> bool:
    """Tell whether a name stands in a text read out of a drawing.

    White space does not count. A letter that the font lacks is printed as '?'; readers drop accents that are
    set on one letter more than once.
    """
    found = unicodedata.normalize("NFC", squeezed(text))
    pattern = ""
    for letter in unicodedata.normalize("NFC", squeezed(name)):
        if unicodedata.combining(letter):
            pattern += f"{re.escape(letter)}?"
        elif letter.isascii():
            pattern += re.escape(letter)
        else:
            pattern += rf"(?:{re.escape(letter)}|\?)"
    return re.search(pattern, found) is not None


def written(length_mm: float, text: str, unit: str = "") -> bool:
    """Tell whether a length stands in a text, with this unit behind, to the decimals with which it is written."""
    for number in re.findall(rf"(?<![0-9.])([0-9]+(?:\.[0-9]+)?)\s*{unit}", text.replace(",", ".")):
        decimals = len(number.partition(".")[2])
        if abs(float(number) - length_mm) <= 0.5 * 10**-decimals + 1e-9:
            return True
    return False


def check_words(
    report: Report, file: str, where: str, text: str, design: Design, *, ascii_only: bool = False
) -> None:
    """Plan name and revision stand there; no word that promises more than a plan can."""
    found = squeezed(text)
    names = [name for name in (design.name, design.title) if name]
    if not ascii_only or any(name.isascii() for name in names):
        report.expect(any(says(text, name) for name in names), file, f"{where}: the plan's name is not on it")
    if design.revision and (design.revision.isascii() or not ascii_only):
        report.expect(says(text, design.revision), file, f"{where}: the revision is not on it")
    promise = "s" + "afe"
    if promise not in design.text.lower():
        report.expect(promise not in found.lower(), file, f"{where}: a word promises what no plan can")


def check_notes(
    report: Report,
    file: str,
    layout: Layout,
    index: int,
    notes: str,
    design: Design | None,
    *,
    ascii_only: bool,
) -> None:
    """The notes of a sheet: plan, revision, measured thickness, the bar's length, cuts that serve two pieces."""
    stock = layout.stocks[layout.raw["sheets"][index]["stock"]]
    report.expect(
        written(stock["thickness"], notes, "mm"),
        file,
        f"NOTES: the thickness of {stock['thickness']} mm is not told",
    )
    report.expect("100" in notes, file, "NOTES: no text names the 100 mm of the bar")
    if stock["gap"] == 0 or stock["margin"] == 0:
        told = "onecut,twoedges" in squeezed(notes).lower()
        report.expect(told, file, "NOTES: gap or margin is 0 and 'one cut, two edges' is not said")
    if design is not None:
        check_words(report, file, "NOTES", notes, design, ascii_only=ascii_only)
