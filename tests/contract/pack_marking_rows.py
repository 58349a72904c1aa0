"""Reads marking-out.csv: each row by itself, its fractions in exact arithmetic."""

import csv
import io
import math
import re
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from pack_design import MM, Design
from pack_report import Report

MARKING_ROWS = "marking-out.csv"
HEADER = "stock,sheet,piece,point,from_left,from_bottom,unit,written,rounding_error_mm"
COLUMNS = HEADER.split(",")
#: the finest tick of the rule, in its unit
TICK = {"mm": Fraction(1, 2), "in": Fraction(1, 32)}
ROOM_MM = 0.0005
# An error is written with four decimals.
ERROR_MM = 0.00006
_NUMBER = re.compile(r"(0|[1-9][0-9]*)(\.[0-9]{1,5})?\Z")
_POINT = re.compile(
    r"(c?[1-9][0-9]*) of ((?:outline|opening|slot|fold|mark)(?: [1-9][0-9]*)?)(?:, (.*))?\Z", re.DOTALL
)
_FRACTION = re.compile(r"(?:([0-9]+) )?([0-9]+)/([1-9][0-9]*)\Z")


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One point as the table has it; `at_mm` exactly what is written."""

    line: int
    piece: tuple[str, int, str]  # stock, sheet, piece
    point: str
    name: str
    of: str
    words: str
    at_mm: tuple[Fraction, Fraction]
    tick_mm: Fraction
    error_mm: float
    cells: tuple[str, str]

    @property
    def xy(self) -> np.ndarray:
        """The point in mm."""
        return np.array([float(self.at_mm[0]), float(self.at_mm[1])])

    @property
    def half_mm(self) -> float:
        """Half the finest tick, and the room for the last digit of the layout."""
        return float(self.tick_mm) / 2 + ROOM_MM


def fraction_of(text: str) -> Fraction | None:
    """Return a number as people write it: 12, 12.5, 3/16, 8 17/32; None for anything else, 2/4 too."""
    if re.fullmatch(r"[0-9]+(\.[0-9]*[1-9])?", text):
        return Fraction(text)
    match = _FRACTION.match(text)
    if match is None or int(match[2]) >= int(match[3]) or math.gcd(int(match[2]), int(match[3])) != 1:
        return None
    return int(match[1] or 0) + Fraction(int(match[2]), int(match[3]))


def read_rows(report: Report, data: bytes, design: Design | None) -> list[Row]:
    """Read the table; each cell is checked by itself and against the others of its row."""
    file = MARKING_ROWS
    text = data.decode("utf-8")
    bare = re.sub(r'"(?:[^"]|"")*"', "", text).replace("\r\n", "")
    ends = text.endswith("\r\n") and "\n" not in bare and "\r" not in bare
    report.expect(ends, file, "a line does not end with CRLF")
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    if not report.expect(rows[:1] == [COLUMNS], file, f"the first line is not {HEADER}"):
        return []
    found = []
    for number, cells in enumerate(rows[1:], start=2):
        if report.expect(len(cells) == len(COLUMNS), file, f"line {number}: {len(cells)} fields"):
            row = _row(report, number, dict(zip(COLUMNS, cells, strict=True)), design)
            found += [row] if row else []
    return found


def _row(report: Report, number: int, cells: dict[str, str], design: Design | None) -> Row | None:
    file, where, unit = MARKING_ROWS, f"line {number}", cells["unit"]
    formula = any(cell[:1] in tuple("=+-@\t\r") for cell in cells.values() if cell)
    report.expect(not formula, file, f"{where}: a cell may run as a formula")
    due = design.units if design else unit
    if not report.expect(unit == due and unit in TICK, file, f"{where}: unit {unit!r}, not {due!r}"):
        return None
    match = _POINT.match(cells["point"])
    if not report.expect(match is not None, file, f"{where}: point {cells['point'][:40]!r} is oddly named"):
        return None
    distances = [cells["from_left"], cells["from_bottom"]]
    plain = all(map(_NUMBER.match, distances)) and cells["sheet"].isdigit()
    if not report.expect(plain, file, f"{where}: {distances} and {cells['sheet']!r} are no plain numbers"):
        return None
    values = [Fraction(word) for word in distances]
    written = [fraction_of(word) for word in cells["written"].split(" and ")]
    same = written == values
    report.expect(same, file, f"{where}: written {cells['written']!r} is not {' and '.join(distances)}")
    for value in values:
        ticked = (value / TICK[unit]).denominator == 1
        report.expect(ticked, file, f"{where}: {float(value)} {unit} is on no tick of {TICK[unit]} {unit}")
    error = float(cells["rounding_error_mm"])
    tick_mm = TICK[unit] * MM[unit]
    report.expect(0 <= error <= tick_mm / 2 + ERROR_MM, file, f"{where}: {error} mm is more than half a tick")
    return Row(
        line=number,
        piece=(cells["stock"], int(cells["sheet"]), cells["piece"]),
        point=cells["point"],
        name=match[1],
        of=match[2],
        words=match[3] or "",
        at_mm=(values[0] * MM[unit], values[1] * MM[unit]),
        tick_mm=tick_mm,
        error_mm=error,
        cells=tuple(cells["written"].split(" and ")),
    )
