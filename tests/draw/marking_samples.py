"""Sheets of the sample designs, laid with few steps, and pieces rebuilt from the table of the marking-out sheet."""

import csv
import io
import math
import re
from fractions import Fraction
from functools import cache
from itertools import groupby
from pathlib import Path

from shapely import Point, Polygon

from foamcut.draw.values import Title
from foamcut.nest.values import Layout, Pace
from foamcut.plan.checking import ready
from foamcut.plan.pieces import numbers_of

ROOT = Path(__file__).resolve().parents[2]
DESIGNS = [
    *sorted(ROOT.glob("sample_designs/*.toml")),
    ROOT / "tests" / "design" / "drawn-trainer-in.toml",
    ROOT / "tests" / "design" / "rolled-cowl.toml",
]
MM_PER = {"mm": Fraction(1), "in": Fraction(254, 10)}
ARC = re.compile(
    r"c\d+ of (?P<ring>[a-z]+(?: \d+)?)(?:, [^,]+)??, arc (?P<start>\d+) to (?P<end>\d+), radius (?P<radius>.+),"
    r" turning (?P<side>left|right)"
)
CIRCLE = re.compile(r"c\d+ of (?P<ring>[a-z]+(?: \d+)?)(?:, [^,]+)??, circle, diameter (?P<diameter>.+)")
CORNER = re.compile(r"(?P<number>\d+) of (?P<ring>[a-z]+(?: \d+)?)(?:, .*)?")
RINGS = ("outline", "opening", "slot")


@cache
def sample(path: Path) -> tuple[tuple[Layout, ...], Title, dict[str, int], str]:
    """Layouts, title, numbers and unit of a design."""
    found = ready(path.read_bytes(), path.name, seed=1, pace=Pace(steps=1), listener=lambda _: None)
    plan = found.design.plan
    title = Title(
        name=plan.name,
        title=plan.title,
        revision=plan.revision,
        maker=plan.maker,
        licence=plan.licence,
        scale_text="1:6",
        tool="knife",
        sketch_unit=plan.units,
        sketch_scale=plan.scale,
        version="0.1.0",
    )
    return found.laid.layouts, title, numbers_of(found.chosen), "in" if plan.units == "in" else "mm"


def rebuilt(data: bytes) -> dict[tuple[str, int, str], Polygon]:
    """Every piece of a table of distances by stock, sheet and name, made from nothing but the table."""
    rows = list(csv.DictReader(io.StringIO(data.decode("utf-8"), newline="")))
    pieces = groupby(rows, key=lambda row: (row["stock"], int(row["sheet"]), row["piece"]))
    return {key: _piece(list(of)) for key, of in pieces}


def _place(row: dict[str, str]) -> tuple[float, float]:
    mm = MM_PER[row["unit"]]
    return float(Fraction(row["from_left"]) * mm), float(Fraction(row["from_bottom"]) * mm)


def _mm(words: str) -> float:
    return float(re.search(r"([\d.]+) mm", words).group(1))


def _piece(rows: list[dict[str, str]]) -> Polygon:
    corners: dict[str, list[tuple[str, tuple[float, float]]]] = {}
    arcs: dict[tuple[str, str, str], tuple[tuple[float, float], float, bool]] = {}
    circles: dict[str, Polygon] = {}
    for row in rows:
        point = row["point"]
        if arc := ARC.fullmatch(point):
            key = arc["ring"], arc["start"], arc["end"]
            arcs[key] = _place(row), _mm(arc["radius"]), arc["side"] == "left"
        elif circle := CIRCLE.fullmatch(point):
            circles[circle["ring"]] = Point(*_place(row)).buffer(_mm(circle["diameter"]) / 2, quad_segs=64)
        else:
            corner = CORNER.fullmatch(point)
            corners.setdefault(corner["ring"], []).append((corner["number"], _place(row)))
    rings = {
        name: Polygon(_points(name, found, arcs))
        for name, found in corners.items()
        if name.split()[0] in RINGS
    }
    rings |= {name: found for name, found in circles.items() if name.split()[0] in RINGS}
    outline = rings.pop("outline")
    holes = [list(ring.exterior.coords) for ring in rings.values()]
    return Polygon(outline.exterior.coords, holes)


def _points(name, found, arcs) -> list[tuple[float, float]]:
    points = []
    for i, (number, at) in enumerate(found):
        points.append(at)
        following, to = found[(i + 1) % len(found)]
        if (name, number, following) in arcs:
            points += _arc(at, to, *arcs[name, number, following])
    return points


def _arc(start, end, centre, radius, left) -> list[tuple[float, float]]:
    a, b = (math.atan2(y - centre[1], x - centre[0]) for x, y in (start, end))
    swept = (b - a) % (2 * math.pi) if left else -((a - b) % (2 * math.pi))
    steps = [a + swept * i / 64 for i in range(65)]
    return [(centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in steps]
