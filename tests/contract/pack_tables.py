"""Checks of manifest.json, shopping.csv and the names of a pack's files."""

import csv
import hashlib
import io
import re
from collections import Counter
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

from pack_design import Design, Stock, size_mm
from pack_layout import Layout
from pack_report import Report
from pack_schema import MANIFEST, read_json

MANIFEST_FILE = "manifest.json"
SHOPPING = "shopping.csv"
HEADER = "kind,name,size,needed,on_hand,to_buy,spare,packs,sold_in,price,cost,currency"
COLUMNS = HEADER.split(",")
RESERVED = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])\Z")


def check_manifest(report: Report, folder: Path) -> dict[str, Any] | None:
    """Check the manifest's form and that every listed file is there, byte for byte."""
    file = MANIFEST_FILE
    manifest, spelling = read_json((folder / file).read_bytes())
    report.expect(not spelling, file, "; ".join(spelling[:5]))
    wrong: list[str] = []
    MANIFEST(manifest, "", wrong.append)
    for text in wrong:
        report.expect(False, file, text)
    if wrong:
        return None
    names = [entry["name"] for entry in manifest["files"]]
    report.expect(names == sorted(names), file, "files are not sorted by name")
    for name, count in Counter(names).items():
        report.expect(count == 1, file, f"{name} is listed {count} times")
    report.expect(file not in names, file, "lists itself")
    for entry in manifest["files"]:
        name = entry["name"]
        inside = not re.search(r"\\|^/|(^|/)\.|//|:", name)
        if not report.expect(inside, file, f"{name!r} is no plain name inside the pack"):
            continue
        path = folder / name
        if not report.expect(
            path.is_file() and not path.is_symlink(), file, f"{name} is listed and not there"
        ):
            continue
        data = path.read_bytes()
        report.expect(
            len(data) == entry["bytes"], file, f"{name} has {len(data)} bytes, {entry['bytes']} are listed"
        )
        report.expect(
            hashlib.sha256(data).hexdigest() == entry["sha256"],
            file,
            f"{name} has not the SHA-256 that is listed",
        )
    return manifest


def check_identity(
    report: Report, folder: Path, manifest: dict[str, Any], layout: Layout, design: Design
) -> None:
    """The design's SHA-256, name and revision and the program's version are the same everywhere."""
    digest = hashlib.sha256((folder / "design.toml").read_bytes()).hexdigest()
    for file, stated in ((MANIFEST_FILE, manifest["design"]), ("layout.json", layout.raw["design"])):
        report.expect(stated["sha256"] == digest, file, "design: the SHA-256 is not that of design.toml")
        report.expect(
            stated["name"] == design.name, file, f"design: name is {stated['name']!r}, not {design.name!r}"
        )
        report.expect(
            stated["revision"] == (design.revision or ""),
            file,
            f"design: revision is not {design.revision!r}",
        )
    report.expect(
        manifest["foamcut"] == layout.raw["made_by"]["foamcut"],
        MANIFEST_FILE,
        "foamcut: not the version in layout.json",
    )


def file_stem_fault(stem: str, name: str) -> str | None:
    """Tell what is wrong with a file name made from a user's name."""
    if not re.fullmatch(r"[a-z0-9-]{1,40}", stem):
        return f"{stem!r} is not made of at most 40 lower-case letters, digits and '-'"
    if RESERVED.match(stem):
        return f"{stem!r} is a reserved name"
    digits = hashlib.sha256(name.encode("utf-8")).hexdigest()[:6]
    if stem != name and digits not in stem:
        return f"{stem!r} changes the name {name!r} without 6 digits of its SHA-256"
    return None


def check_sheet_files(report: Report, layout: Layout) -> None:
    """Sheet, turned-over face and each bed have one SVG and a DXF of one or both releases.

    They are named <stock>-<number>, <stock>-<number>-back, <stock>-<number>-bed-<k>.
    """
    file = "layout.json"
    for sheet in layout.raw["sheets"]:
        where = f"sheet {sheet['stock']}-{sheet['number']}"
        endings: dict[str, list[str]] = {"": []}
        for name in sheet["files"]:
            match = re.fullmatch(
                rf"sheets/(.+?)-{sheet['number']}(|-back|-bed-[1-9][0-9]*)(\.svg|\.dxf|-mm\.dxf)", name
            )
            if report.expect(match is not None, file, f"{where}: file {name!r} is not named as the sheet"):
                endings.setdefault(match[2], []).append(match[3])
                fault = file_stem_fault(match[1], sheet["stock"])
                report.expect(fault is None, file, f"{where}: file name {fault}")
        for face, found in endings.items():
            what = f"{where}{face}"
            report.expect(
                found.count(".svg") == 1, file, f"{what}: {found.count('.svg')} SVG files, one is due"
            )
            releases = [ending for ending in found if ending != ".svg"]
            report.expect(
                bool(releases) and len(set(releases)) == len(releases),
                file,
                f"{what}: its DXF files are {releases}",
            )


def check_shopping(report: Report, data: bytes, layout: Layout | None, design: Design | None) -> None:
    """RFC 4180: CRLF at every line's end, equally many fields; then the sums."""
    file = SHOPPING
    text = data.decode("utf-8")
    report.expect(not text.startswith("\ufeff"), file, "begins with a byte-order mark")
    report.expect(text.endswith("\r\n"), file, "does not end with CRLF")
    bare = re.sub(r'"(?:[^"]|"")*"', "", text).replace("\r\n", "")
    report.expect("\n" not in bare and "\r" not in bare, file, "a line does not end with CRLF")
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    if not report.expect(rows[:1] == [COLUMNS], file, f"the first line is not {','.join(COLUMNS)}"):
        return
    for number, row in enumerate(rows[1:], start=2):
        for cell in row:
            report.expect(
                cell[:1] not in tuple("=+-@\t\r"),
                file,
                f"line {number}: cell {cell[:30]!r} may run as a formula",
            )
        if report.expect(
            len(row) == len(COLUMNS), file, f"line {number}: {len(row)} fields, {len(COLUMNS)} are due"
        ):
            with report.section(file, f"line {number}"):
                _check_row(report, number, dict(zip(COLUMNS, row, strict=True)), design)
    full = [dict(zip(COLUMNS, row, strict=True)) for row in rows[1:] if len(row) == len(COLUMNS)]
    if layout is not None and design is not None:
        with report.section(file, "boards"):
            for stock in design.stocks:
                _check_stock(report, [row for row in full if row["kind"] == "sheet"], layout, stock)
        with report.section(file, "hardware"):
            bought = [] if "only" in layout.raw else design.hardware
            _check_hardware(report, [row for row in full if row["kind"] == "hardware"], bought)


def _check_row(report: Report, number: int, row: dict[str, str], design: Design | None) -> None:
    file = SHOPPING
    report.expect(row["kind"] in ("sheet", "hardware"), file, f"line {number}: kind is {row['kind']!r}")
    counts = {}
    for key in ("needed", "on_hand", "to_buy", "spare", "packs", "sold_in"):
        empty_hardware = row["kind"] == "hardware" and row[key] == ""
        if report.expect(
            empty_hardware or re.fullmatch(r"[0-9]+", row[key]) is not None,
            file,
            f"line {number}: {key} is {row[key]!r}, not a whole number",
        ):
            counts[key] = int(row[key] or 0)
    if len(counts) < 6:
        return
    report.expect(
        counts["to_buy"] == max(counts["needed"] - counts["on_hand"], 0),
        file,
        f"line {number}: to_buy is {row['to_buy']}, needed {row['needed']} less on hand {row['on_hand']}",
    )
    if row["kind"] == "sheet":
        bought = counts["to_buy"] + counts["spare"]
        packs = -(-bought // counts["sold_in"]) if counts["sold_in"] else -1
        report.expect(
            counts["packs"] == packs,
            file,
            f"line {number}: packs is {row['packs']}, {bought} boards by {row['sold_in']} make {packs}",
        )
    priced = row["price"] != ""
    report.expect((row["cost"] != "") == priced, file, f"line {number}: only one of price and cost is there")
    if priced and row["cost"]:
        due = counts["packs"] * counts["sold_in"] * Decimal(row["price"])
        report.expect(
            Decimal(row["cost"]) == due,
            file,
            f"line {number}: cost is {row['cost']}, packs x sold_in x price is {due}",
        )
        for key in ("price", "cost"):
            report.expect(
                re.fullmatch(r"[0-9]+\.[0-9]{2}", row[key]) is not None,
                file,
                f"line {number}: {key} {row[key]!r}",
            )
        report.expect(
            design is None or row["currency"] == design.currency,
            file,
            f"line {number}: currency {row['currency']!r}",
        )


def _check_stock(report: Report, rows: list[dict[str, str]], layout: Layout, stock: Stock) -> None:
    """The rows of one stock agree with the sheets of the layout, size by size."""
    file = SHOPPING
    own = [row for row in rows if row["name"] == stock.name]
    sheets = [
        sheet for sheet in layout.raw["sheets"] if sheet["stock"] == stock.name and sheet["kind"] != "offcut"
    ]
    if not sheets:
        return
    report.expect(bool(own), file, f"stock {stock.name}: no line for its boards")
    new = sum(sheet["kind"] == "new" for sheet in sheets)
    spare = 0 if layout.is_partial else stock.spare  # the boards that are over were bought for all parts
    report.expect(
        sum(int(row["to_buy"]) for row in own) == new,
        file,
        f"stock {stock.name}: to_buy is not the {new} new boards",
    )
    report.expect(
        sum(int(row["spare"]) for row in own) == spare,
        file,
        f"stock {stock.name}: spare is not {spare}",
    )
    for sheet in sheets:
        width, height = sheet["size"]
        alike = [row for row in own if _same_size(row["size"], width, height)]
        text = f"stock {stock.name}: {len(alike)} lines for boards of {width:g} x {height:g} mm, one is due"
        if not report.expect(len(alike) == 1, file, text):
            continue
        same = [other["kind"] for other in sheets if other["size"] == sheet["size"]]
        report.expect(
            int(alike[0]["needed"]) == len(same) and int(alike[0]["to_buy"]) == same.count("new"),
            file,
            f"stock {stock.name}: needed {alike[0]['needed']}, to_buy {alike[0]['to_buy']}; the sheets say "
            f"{len(same)} and {same.count('new')}",
        )
        board = next(
            (b for b in stock.boards if b.size_mm and not b.offcut and _close(b.size_mm, width, height)), None
        )
        if board is not None:
            report.expect(int(alike[0]["sold_in"]) == board.sold_in, file, f"stock {stock.name}: sold_in")
            price = alike[0]["price"]
            same_price = (Decimal(price) if price else None) == board.price
            report.expect(
                same_price, file, f"stock {stock.name}: price is {price!r}, the design says {board.price}"
            )


def _close(size: tuple[float, float], width: float, height: float) -> bool:
    return abs(size[0] - width) < 0.01 and abs(size[1] - height) < 0.01


def _same_size(text: str, width: float, height: float) -> bool:
    size = size_mm(text)
    return size is not None and abs(size[0] - width) < 0.06 and abs(size[1] - height) < 0.06


def _check_hardware(report: Report, rows: list[dict[str, str]], hardware: Sequence[Any]) -> None:
    names = [row["name"] for row in rows]
    for item in hardware:
        found = [row for row in rows if row["name"] in (item.name, f"'{item.name}")]
        count = sum(int(row["needed"]) for row in found)
        wanted = sum(other.count for other in hardware if other.name == item.name)
        report.expect(
            count == wanted, SHOPPING, f"hardware {item.name!r}: {count} needed, the design says {wanted}"
        )
    known = [name for item in hardware for name in (item.name, f"'{item.name}")]
    for name in names:
        report.expect(name in known, SHOPPING, f"hardware {name!r} is not in the design")
