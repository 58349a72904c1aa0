"""Damages to layout.json, manifest.json, shopping.csv and design.toml."""

import csv
import io
import itertools
import re
from pathlib import Path
from typing import Any

import shapely
from breakage import Collection, NotApplicableError, edit_text, load, store
from pack_geometry import polygon, ring_faults

BREAKAGES = Collection()
_PLACED = '"placed"'


def _placed(document: dict[str, Any]) -> list[dict[str, Any]]:
    return [entry for sheet in document["sheets"] for entry in sheet["placed"]]


def _part_of(document: dict[str, Any], piece: str) -> dict[str, Any]:
    name = next(entry["part"] for entry in document["pieces"] if entry["id"] == piece)
    return next(part for part in document["parts"] if part["name"] == name)


def _move(entry: dict[str, Any], dx: float, dy: float) -> None:
    entry["x"], entry["y"] = entry["x"] + dx, entry["y"] + dy
    entry["polygon"] = [[[x + dx, y + dy] for x, y in ring] for ring in entry["polygon"]]


@BREAKAGES.add("a piece moved 0.01 mm into a neighbour's gap", r"layout.json: .*mm apart, gap")
def _gap(folder: Path) -> None:
    document = load(folder)
    best = None
    for sheet in document["sheets"]:
        shapes = [polygon(entry["polygon"]) for entry in sheet["placed"]]
        for (first, a), (second, b) in itertools.permutations(zip(sheet["placed"], shapes, strict=True), 2):
            line = shapely.shortest_line(a, b)
            if best is None or line.length < best[0]:
                gap = next(stock["gap"] for stock in document["stocks"] if stock["name"] == sheet["stock"])
                best = (line.length, line, first, second, gap)
    if best is None or best[0] == 0:
        raise NotApplicableError("no two pieces on a sheet with room between them")
    length, line, entry, _, gap = best
    step = length - gap + 0.01
    (x0, y0), (x1, y1) = line.coords
    _move(entry, (x1 - x0) / length * step, (y1 - y0) / length * step)
    store(folder, document)


@BREAKAGES.add("a piece moved into the margin", r"layout.json: .*does not keep the margin")
def _margin(folder: Path) -> None:
    document = load(folder)
    sheet = document["sheets"][0]
    margin = next(stock["margin"] for stock in document["stocks"] if stock["name"] == sheet["stock"])
    entry = min(sheet["placed"], key=lambda entry: entry["polygon"][0][0][0])
    _move(entry, margin - 0.01 - entry["polygon"][0][0][0], 0.0)
    store(folder, document)


@BREAKAGES.add("a piece placed twice", r"layout.json: piece .* is placed 2 times")
def _twice(folder: Path) -> None:
    document = load(folder)
    placed = document["sheets"][0]["placed"]
    placed.append(placed[0])
    store(folder, document)


@BREAKAGES.add("a piece left out of the sheets", r"layout.json: piece .* is not placed")
def _left_out(folder: Path) -> None:
    document = load(folder)
    document["sheets"][0]["placed"].pop()
    store(folder, document)


@BREAKAGES.add("a copy lost from pieces and sheets alike", r"layout.json: part .*(copies are|do not rebuild)")
def _copy_lost(folder: Path) -> None:
    document = load(folder)
    lost = document["sheets"][0]["placed"].pop()["piece"]
    document["pieces"] = [piece for piece in document["pieces"] if piece["id"] != lost]
    store(folder, document)


@BREAKAGES.add("a whole part of the design lost", r"layout.json: part .* of the design is missing")
def _part_lost(folder: Path) -> None:
    document = load(folder)
    name = document["parts"].pop()["name"]
    lost = {piece["id"] for piece in document["pieces"] if piece["part"] == name}
    document["pieces"] = [piece for piece in document["pieces"] if piece["part"] != name]
    for sheet in document["sheets"]:
        sheet["placed"] = [entry for entry in sheet["placed"] if entry["piece"] not in lost]
    store(folder, document)


@BREAKAGES.add("a piece turned over whose face is not either", r"layout.json: .*turned over, its face is")
def _flipped(folder: Path) -> None:
    document = load(folder)
    for entry in _placed(document):
        if not entry["flipped"] and _part_of(document, entry["piece"])["face"] != "either":
            entry["flipped"] = True
            store(folder, document)
            return
    raise NotApplicableError("every part may be turned over")


@BREAKAGES.add("a turn that the part does not allow", r"layout.json: .*a turn of .* degrees is not allowed")
def _turn_forbidden(folder: Path) -> None:
    document = load(folder)
    for entry in _placed(document):
        if _part_of(document, entry["piece"])["turns"] != "any":
            entry["turn_deg"] = (entry["turn_deg"] + 45) % 360
            store(folder, document)
            return
    raise NotApplicableError("every part may be turned at will")


@BREAKAGES.add("a turn that its polygon does not follow", r"layout.json: .*polygon does not follow from")
def _turn_wrong(folder: Path) -> None:
    document = load(folder)
    entry = _placed(document)[0]
    entry["turn_deg"] = (entry["turn_deg"] + 180) % 360
    store(folder, document)


@BREAKAGES.add("a placed polygon 0.0001 mm off its x", r"layout.json: .*polygon does not follow from")
def _x_off(folder: Path) -> None:
    document = load(folder)
    _placed(document)[-1]["x"] += 0.0001
    store(folder, document)


@BREAKAGES.add("a hole that runs counter-clockwise", r"layout.json: .*hole and does not run clockwise")
def _hole(folder: Path) -> None:
    document = load(folder)
    for part in document["parts"]:
        if len(part["polygon"]) > 1:
            part["polygon"][1].reverse()
            store(folder, document)
            return
    raise NotApplicableError("no part has a hole")


@BREAKAGES.add("an outside that runs clockwise", r"layout.json: .*outside and does not run counter-clockwise")
def _outside(folder: Path) -> None:
    document = load(folder)
    _placed(document)[0]["polygon"][0].reverse()
    store(folder, document)


@BREAKAGES.add("a ring that is not closed", r"layout.json: .*is not closed")
def _open_ring(folder: Path) -> None:
    document = load(folder)
    document["pieces"][0]["polygon"][0].pop()
    store(folder, document)


@BREAKAGES.add("a ring that starts at another point", r"layout.json: .*its lowest x then lowest y is")
def _start(folder: Path) -> None:
    document = load(folder)
    ring = document["parts"][0]["polygon"][0]
    document["parts"][0]["polygon"][0] = [*ring[1:], ring[1]]
    store(folder, document)


@BREAKAGES.add("an outline that crosses itself", r"layout.json: .*not a valid polygon")
def _crossing(folder: Path) -> None:
    """Throw a corner over to the far side of the part, one that leaves the ring's start and sense as they were."""
    document = load(folder)
    for part in document["parts"]:
        ring = part["polygon"][0]
        middle = polygon([ring]).centroid
        for at in range(1, len(ring) - 1):
            x, y = ring[at]
            thrown = [*ring[:at], [3 * middle.x - 2 * x, 3 * middle.y - 2 * y], *ring[at + 1 :]]
            if not polygon([thrown]).is_valid and not ring_faults(thrown, outside=True):
                part["polygon"][0] = thrown
                store(folder, document)
                return
    raise NotApplicableError("no corner can be thrown over")


def _number_as(folder: Path, write: str) -> None:
    """Write the first number of `placed` again in another way."""
    path = folder / "layout.json"
    text = path.read_text("utf-8")
    at = text.index(_PLACED)
    match = re.compile(r'("x"\s*:\s*)(-?[0-9.]+)').search(text, at)
    assert match is not None
    path.write_text(text[: match.start(2)] + write.format(float(match[2])) + text[match.end(2) :], "utf-8")


@BREAKAGES.add("a number with an exponent", r"layout.json: number .* is written with an exponent")
def _exponent(folder: Path) -> None:
    _number_as(folder, "{:.12e}")


@BREAKAGES.add("a number with 7 decimals", r"layout.json: number .* has more than 6 decimals")
def _decimals(folder: Path) -> None:
    _number_as(folder, "{:.7f}")


@BREAKAGES.add("minus nought", r"layout.json: number -0.* is minus nought")
def _minus_nought(folder: Path) -> None:
    _number_as(folder, "-0.0")


@BREAKAGES.add("a key that the format does not have", r"layout.json: .*unknown key 'colour'")
def _unknown_key(folder: Path) -> None:
    document = load(folder)
    document["parts"][0]["colour"] = "red"
    store(folder, document)


@BREAKAGES.add("a key missing", r"layout.json: .*lacks the key 'reason'")
def _missing_key(folder: Path) -> None:
    document = load(folder)
    del document["bound"][0]["reason"]
    store(folder, document)


@BREAKAGES.add("a hand that is no mirror image", r"layout.json: .*is not its mirror image")
def _hand(folder: Path) -> None:
    document = load(folder)
    for part in document["parts"]:
        if part["hand"] == "left":
            part["polygon"] = [[[x + 0.01, y] for x, y in ring] for ring in part["polygon"]]
            store(folder, document)
            return
    raise NotApplicableError("no pair")


@BREAKAGES.add("'proven' where the bound is lower than the boards bought", r"layout.json: .*proven is")
def _proven(folder: Path) -> None:
    document = load(folder)
    entry = document["bound"][0]
    entry["proven"] = not entry["proven"]
    store(folder, document)


@BREAKAGES.add("one new board more than the sheets show", r"layout.json: bound of .*: new is")
def _new(folder: Path) -> None:
    document = load(folder)
    document["bound"][0]["new"] += 1
    store(folder, document)


@BREAKAGES.add("a bound under what the areas need", r"layout.json: .*the areas alone need")
def _bound(folder: Path) -> None:
    document = load(folder)
    entry = max(document["bound"], key=lambda entry: entry["at_least"])
    if entry["at_least"] == 0:
        raise NotApplicableError("no board must be bought")
    entry["at_least"] = 0
    store(folder, document)


@BREAKAGES.add("a sheet of the wrong kind", r"layout.json: .*(on_hand board|on_hand boards)")
def _kind(folder: Path) -> None:
    document = load(folder)
    for sheet in document["sheets"]:
        if sheet["kind"] == "new":
            sheet["kind"] = "on_hand"
            for other in document["sheets"]:
                if other["stock"] == sheet["stock"]:
                    other["kind"] = "on_hand"
            store(folder, document)
            return
    raise NotApplicableError("no new board")


@BREAKAGES.add("sheets that do not count from 1", r"layout.json: .*must count from 1")
def _numbering(folder: Path) -> None:
    document = load(folder)
    document["sheets"][0]["number"] += 1
    store(folder, document)


@BREAKAGES.add("the design changed by a byte", r": design: the SHA-256 is not that of design.toml")
def _design(folder: Path) -> None:
    path = folder / "design.toml"
    path.write_bytes(path.read_bytes() + b"\n")


@BREAKAGES.add("a cost that is not packs x sold_in x price", r"shopping.csv: .*cost is")
def _cost(folder: Path) -> None:
    path = folder / "shopping.csv"
    rows = list(csv.reader(io.StringIO(path.read_text("utf-8"), newline="")))
    at = rows[0].index("cost")
    for row in rows[1:]:
        if row[at]:
            row[at] = f"{float(row[at]) + 0.01:.2f}"
            _store_rows(path, rows)
            return
    raise NotApplicableError("nothing has a price")


def _store_rows(path: Path, rows: list[list[str]]) -> None:
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\r\n").writerows(rows)
    path.write_bytes(text.getvalue().encode())


@BREAKAGES.add("a board more to buy than needed", r"shopping.csv: .*to_buy is")
def _to_buy(folder: Path) -> None:
    path = folder / "shopping.csv"
    rows = list(csv.reader(io.StringIO(path.read_text("utf-8"), newline="")))
    at = rows[0].index("to_buy")
    rows[1][at] = str(int(rows[1][at]) + 1)
    _store_rows(path, rows)


@BREAKAGES.add("a cell that a spreadsheet would run", r"shopping.csv: .*may run as a formula")
def _formula(folder: Path) -> None:
    path = folder / "shopping.csv"
    rows = list(csv.reader(io.StringIO(path.read_text("utf-8"), newline="")))
    rows.append(["hardware", "=1+1", *[""] * (len(rows[0]) - 2)])
    _store_rows(path, rows)


@BREAKAGES.add("lines of the list without carriage return", r"shopping.csv: .*CRLF")
def _line_ends(folder: Path) -> None:
    path = folder / "shopping.csv"
    path.write_bytes(path.read_bytes().replace(b"\r\n", b"\n"))


@BREAKAGES.add(
    "the manifest lacks a file", r"(manifest.json: .*is not listed|not in the manifest)", on_manifest=True
)
def _manifest_lacks(folder: Path) -> None:
    document = load(folder, "manifest.json")
    document["files"] = [entry for entry in document["files"] if not entry["name"].endswith(".svg")]
    store(folder, document, "manifest.json")


@BREAKAGES.add("the manifest has a wrong digest", r"manifest.json: .*has not the SHA-256", on_manifest=True)
def _manifest_digest(folder: Path) -> None:
    document = load(folder, "manifest.json")
    digest = document["files"][0]["sha256"]
    document["files"][0]["sha256"] = ("0" if digest[0] != "0" else "1") + digest[1:]
    store(folder, document, "manifest.json")


@BREAKAGES.add("the manifest is not sorted", r"manifest.json: files are not sorted", on_manifest=True)
def _manifest_order(folder: Path) -> None:
    document = load(folder, "manifest.json")
    document["files"].reverse()
    store(folder, document, "manifest.json")


@BREAKAGES.add("a file cut short", r"manifest.json: .* bytes, .* are listed", on_manifest=True)
def _cut_short(folder: Path) -> None:
    path = folder / "full-size.pdf"
    path.write_bytes(path.read_bytes()[:-20])


@BREAKAGES.add("a listed file taken away", r"manifest.json: .*is listed and not there")
def _taken_away(folder: Path) -> None:
    (folder / "shopping.csv").unlink()


@BREAKAGES.add("a stranger among the sheets", r"sheets/board-99.dxf: .*not in the manifest")
def _stranger(folder: Path) -> None:
    (folder / "sheets" / "board-99.dxf").write_text("0\nEOF\n", "ascii")


@BREAKAGES.add("layout.json is no JSON", r"layout.json: the layout cannot be read")
def _no_json(folder: Path) -> None:
    edit_text(folder, "layout.json", "{", "[")
