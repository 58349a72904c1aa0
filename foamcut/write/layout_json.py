"""layout.json: every sheet, piece and placement in numbers, for other programs.

mm, origin at the sheet's lower left.  Numbers have at most six decimals, no exponent and no -0.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from foamcut.draw.templates import TemplateIndex
from foamcut.flat.drawn import Place
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.tolerances import PLACES
from foamcut.nest.values import Bed, Bound, Layout, Left, Placed, Sheet

Json = object


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """What made the layout and from what: version, seed, and the design's name, revision and SHA-256.

    `squeezed`: the search went on by the clock, so that the same bytes need not come out again.
    `stopped_early`: somebody stopped it.  `only` and `added`: the parts that are laid where these are not
    all of the design, and those among them that are pieces to be glued to older parts.
    """

    program: str
    seed: int
    name: str
    revision: str
    sha256: str
    squeezed: bool = False
    stopped_early: bool = False
    only: tuple[str, ...] = ()
    added: tuple[str, ...] = ()


def render(
    made: Made,
    parts: Sequence[Part],
    layouts: Sequence[Layout],
    files: Mapping[tuple[str, int], Sequence[str]],
    templates: Sequence[TemplateIndex],
    joints: Sequence[Mapping[str, object]] = (),
) -> bytes:
    """The document.

    `files` gives the names of each sheet's files by stock and number; `joints` are records.
    """
    document: dict[str, Json] = {
        "format": "foamcut-layout",
        "version": 1,
        "units": "mm",
        "made_by": _made_by(made),
        "design": {"name": made.name, "revision": made.revision, "sha256": made.sha256},
        **({"only": list(made.only), "added": list(made.added)} if made.only else {}),
        "stocks": [_stock(layout) for layout in layouts],
        "parts": [_part(part) for part in parts],
        "pieces": [_piece(placed) for layout in layouts for s in layout.sheets for placed in s.placed],
        "sheets": [
            _sheet(sheet, files[sheet.stock, sheet.number]) for layout in layouts for sheet in layout.sheets
        ],
        "bound": [bound_record(layout.bound) for layout in layouts],
        "joints": [dict(joint) for joint in joints],
        "templates": [_templates(index) for index in templates],
    }
    rows = [f' "{key}": {_lines(value)}' for key, value in document.items()]
    return ("{\n" + ",\n".join(rows) + "\n}\n").encode()


def _made_by(made: Made) -> dict[str, Json]:
    record: dict[str, Json] = {"foamcut": made.program, "seed": made.seed, "squeezed": made.squeezed}
    return {**record, "stopped_early": True} if made.stopped_early else record


def _stock(layout: Layout) -> Json:
    stock = layout.stock
    grain = "none" if stock.grain.value == "any" else stock.grain.value
    return {
        "name": stock.name,
        "thickness": stock.thickness_mm,
        "margin": stock.margin_mm,
        "gap": stock.gap_mm,
        "grain": grain,
    }


def _part(part: Part) -> Json:
    return {
        "name": part.name,
        "stock": part.stock,
        "count": part.count,
        "hand": part.hand.value,
        "face": part.face.value,
        "grain": part.grain.value,
        "turns": part.turns.value,
        "polygon": _polygon(part.outline),
        "pose": _pose(part.place),
    }


def _pose(place: Place | None) -> Json:
    """Where the part's (0, 0) sits on the model and where its x and y run; null without a place."""
    if place is None:
        return None
    return {"at": _numbers(place.at), "x": _numbers(place.x), "y": _numbers(place.y)}


def _numbers(values: Sequence[float]) -> Json:
    return [float(value) for value in values]


def _piece(placed: Placed) -> Json:
    return {
        "id": placed.id,
        "name": placed.piece.flat.name,
        "part": placed.piece.part.name,
        "copy": placed.copy,
        "role": placed.piece.role.value,
        "polygon": _polygon(placed.piece.outline),
    }


def _sheet(sheet: Sheet, files: Sequence[str]) -> Json:
    """A sheet; register holes, rectangles for the bed and what is left in one piece where there are any."""
    record: dict[str, Json] = {
        "stock": sheet.stock,
        "number": sheet.number,
        "kind": sheet.kind.value,
        "size": [sheet.width_mm, sheet.height_mm],
        "outline": _polygon(sheet.outline),
        "files": list(files),
    }
    if sheet.register:
        record["register"] = [list(at) for at in sheet.register]
    if sheet.beds:
        record["bed"] = [_bed(bed) for bed in sheet.beds]
    if sheet.left:
        record["left"] = _left(sheet.left)
    return {**record, "placed": [_placed(placed) for placed in sheet.placed]}


def _bed(bed: Bed) -> Json:
    return {
        "number": bed.number,
        "corner": list(bed.corner),
        "size": [bed.width_mm, bed.height_mm],
        "pieces": list(bed.pieces),
    }


def _left(left: Left) -> Json:
    return {"corner": list(left.corner), "size": [left.width_mm, left.height_mm]}


def _placed(placed: Placed) -> Json:
    return {
        "piece": placed.id,
        "x": placed.placement.x_mm,
        "y": placed.placement.y_mm,
        "turn_deg": placed.placement.turn_deg,
        "flipped": placed.placement.flipped,
        "polygon": _polygon(placed.outline),
    }


def bound_record(bound: Bound) -> dict[str, Json]:
    """How few new boards there can be, as a record."""
    return {
        "stock": bound.stock,
        "new": bound.new,
        "at_least": bound.at_least,
        "cost": None if bound.cost is None else float(bound.cost),
        "cost_at_least": None if bound.cost_at_least is None else float(bound.cost_at_least),
        "proven": bound.proven,
        "reason": bound.reason,
    }


def _templates(index: TemplateIndex) -> Json:
    return {
        "file": index.file,
        "paper": index.paper,
        "tiles": [
            {
                "page": tile.page,
                "of": tile.of,
                "name": tile.name,
                "row": tile.row,
                "column": tile.column,
                "window": list(tile.window),
                "corner": list(tile.corner),
                "turned": tile.turned,
            }
            for tile in index.tiles
        ],
        "ruled": [{"page": ruled.page, "name": ruled.name} for ruled in index.ruled],
        "same_as": [{"name": same.name, "printed_as": same.printed_as} for same in index.same_as],
    }


def _polygon(outline: Outline) -> Json:
    return [[list(point) for point in ring] for ring in outline.rings()]


def _lines(value: Json) -> str:
    """A list of records with one record a line; anything else on one line."""
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return "[\n  " + ",\n  ".join(text(record) for record in value) + "\n ]"
    return text(value)


def text(value: Json) -> str:
    """JSON on one line, numbers as the module says (the library's own would write 1e-06)."""
    if isinstance(value, float):
        number = f"{value:.{PLACES}f}".rstrip("0").rstrip(".")
        return "0" if number == "-0" else number
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(key)}: {text(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(text, value)) + "]"
    return json.dumps(value)
