"""The sheets that pieces may be laid on, and the room that each leaves inside its margin.

Whole *units*: `UNITS` to the nanometre.  An exact fit leaves a room without area, which clipping would drop,
so every room is made `SLACK` units larger all round and every place found is rounded back to nanometres.
"""

from dataclasses import dataclass
from fractions import Fraction

import pyclipper
from shapely import Polygon

from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.flat.outline import Outline
from foamcut.flat.stock import Offcut, SheetSize, Stock
from foamcut.nest.values import Kind
from foamcut.units import decimal_text

UNITS = 64
#: less than half a nanometre, so that rounding takes it away again
SLACK = 24
NM_PER_MM = 1_000_000
#: an offcut of more corners is laid out on one a little smaller with fewer
_MOST_CORNERS = 60
#: and when it is to be exact
_MOST_EXACT = 250

Path = list[tuple[int, int]]
Paths = list[Path]


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A kind of sheet: where it comes from, how many there are (None: as many as are bought), what one costs.

    `usable` is what lies inside the margin: x0, y0, x1, y1 in whole nm when it is an upright rectangle,
    else None and `region` holds its rings, in units, with the slack.  `size` is the index of the size.
    """

    kind: Kind
    key: str
    outline: Outline
    width_mm: float
    height_mm: float
    count: int | None
    price: Fraction
    size: int
    usable: tuple[int, int, int, int] | None
    region: tuple[tuple[tuple[int, int], ...], ...]
    usable_area: int

    @property
    def room_mm(self) -> tuple[float, float]:
        """Width and height of the box of what lies inside the margin, mm."""
        if self.usable:
            x0, y0, x1, y1 = self.usable
            return (x1 - x0) / NM_PER_MM, (y1 - y0) / NM_PER_MM
        xs = [x for ring in self.region for x, _ in ring]
        ys = [y for ring in self.region for _, y in ring]
        scale = UNITS * NM_PER_MM
        return (max(xs) - min(xs)) / scale, (max(ys) - min(ys)) / scale


def nanometres(mm: float) -> int:
    """A length in whole nanometres."""
    return round(mm * NM_PER_MM)


def sources(stock: Stock, *, exact: bool = False) -> tuple[Source, ...]:
    """Sheets in the order in which they are used: offcuts, boards on hand, new boards of every size.

    Sizes and offcuts without room inside the margin are left out, as are offcuts with a faulty outline.
    `exact`: offcuts keep their many corners.
    """
    most = _MOST_EXACT if exact else _MOST_CORNERS
    found = [
        _source(stock, Kind.OFFCUT, offcut.key, offcut.outline, offcut.count, Fraction(0), -1, most)
        for offcut in stock.offcuts
    ]
    priced = stock.has_prices
    for kind in (Kind.ON_HAND, Kind.NEW):
        for i, size in enumerate(stock.sheets):
            count = size.on_hand if kind is Kind.ON_HAND else None
            price = Fraction(size.price or 0) if priced and kind is Kind.NEW else Fraction(0)
            board = Outline.rectangle(0, 0, size.width_mm, size.height_mm)
            if count != 0:
                found.append(_source(stock, kind, size.key, board, count, price, i))
    return tuple(source for source in found if source is not None)


def stock_findings(stock: Stock) -> tuple[Finding, ...]:
    """Advice about what lies on the shelf: offcuts with a faulty outline, or without room in their margin."""
    found = (_offcut_finding(stock, offcut) for offcut in stock.offcuts)
    return tuple(finding for finding in found if finding is not None)


def _offcut_finding(stock: Stock, offcut: Offcut) -> Finding | None:
    if fault := offcut.outline.fault():
        return Finding(
            code="offcut-outline",
            level=Level.WARNING,
            where=offcut.key,
            text=f"the outline of this offcut bounds no board, and it is not used: {fault}",
            mend="measure its corners again and give them in order around it, or leave the offcut out",
        )
    if _source(stock, Kind.OFFCUT, offcut.key, offcut.outline, offcut.count, Fraction(0), -1) is not None:
        return None
    return Finding(
        code="offcut-no-room",
        level=Level.NOTE,
        where=offcut.key,
        text="this offcut has no room inside its margin and is not used",
        value="{} x {} mm".format(*(decimal_text(v) for v in offcut.outline.bounds[2:])),
        range=f"margin {decimal_text(stock.margin_mm, 2)} mm",
        mend="leave the offcut out, or make the margin smaller",
    )


def stock_refusals(stock: Stock) -> list[Refusal]:
    """Sizes without room inside the margin, and a stock with nothing to lay a part on."""
    refusals = [
        Refusal(key=size.key, text=_no_room(stock, size))
        for size in stock.sheets
        if min(nanometres(size.width_mm), nanometres(size.height_mm)) <= 2 * nanometres(stock.margin_mm)
    ]
    faulty = [(offcut.key, fault) for offcut in stock.offcuts if (fault := offcut.outline.fault())]
    if not stock.sheets and faulty and len(faulty) == len(stock.offcuts):
        refusals.extend(
            Refusal(
                key=key,
                text=f"the outline of this offcut bounds no board: {fault}; there is nothing else to lay "
                "parts on: give its corners in order around it, or add a size that can be bought",
            )
            for key, fault in faulty
        )
    if not stock.sheets and not stock.offcuts:
        refusals.append(
            Refusal(key=stock.key, text="there is no sheet to lay parts on; add a size that can be bought")
        )
    return refusals


def _no_room(stock: Stock, size: SheetSize) -> str:
    return (
        f"a margin of {decimal_text(stock.margin_mm, 2)} mm leaves no room on a sheet of "
        f"{decimal_text(size.width_mm)} x {decimal_text(size.height_mm)} mm; "
        f"make the margin of stock {stock.name} smaller, or the size larger"
    )


def _source(
    stock: Stock,
    kind: Kind,
    key: str,
    outline: Outline,
    count: int | None,
    price: Fraction,
    size: int,
    most_corners: int = _MOST_CORNERS,
) -> Source | None:
    if outline.fault():
        return None
    x0, y0, x1, y1 = (nanometres(v) for v in outline.bounds)
    margin = nanometres(stock.margin_mm)
    usable = (x0 + margin, y0 + margin, x1 - margin, y1 - margin) if _is_upright(outline) else None
    region: Paths = []
    if usable:
        area = (usable[2] - usable[0]) * (usable[3] - usable[1])
        if usable[0] >= usable[2] or usable[1] >= usable[3]:
            return None
    else:
        region = _inside(outline.polygon, margin, most_corners)
        area = round(sum(pyclipper.Area(path) for path in region) / UNITS**2)
        # what is left of a line-like offcut is the slack alone
        if area <= 0 or not _inside(outline.polygon, margin + 1, most_corners):
            return None
    return Source(
        kind=kind, key=key, outline=outline, width_mm=outline.bounds[2], height_mm=outline.bounds[3],
        count=count, price=price, size=size, usable=usable,
        region=tuple(tuple((x, y) for x, y in path) for path in region), usable_area=area,
    )  # fmt: skip


def _is_upright(outline: Outline) -> bool:
    x0, y0, x1, y1 = outline.bounds
    rings = outline.rings()
    corners = {(x0, y0), (x1, y0), (x1, y1), (x0, y1)}
    return len(rings) == 1 and len(rings[0]) == 5 and set(rings[0]) == corners


def _inside(polygon: Polygon, margin_nm: int, most_corners: int) -> Paths:
    """The polygon less `margin_nm` along every edge and void, with the slack, units."""
    rings = unit_rings(_fewer_corners(polygon, most_corners))
    return offset(rings, SLACK - margin_nm * UNITS)


def _fewer_corners(polygon: Polygon, most: int) -> Polygon:
    """The polygon, or one that lies inside it, off by at most twice the tolerance that was needed."""
    for tolerance in (0.02, 0.05, 0.1, 0.2, 0.4):
        if _corners(polygon) <= most:
            break
        smaller = polygon.buffer(-tolerance, join_style="mitre").simplify(tolerance)
        if isinstance(smaller, Polygon) and not smaller.is_empty and polygon.covers(smaller):
            polygon = smaller
    return polygon


def _corners(polygon: Polygon) -> int:
    return sum(len(ring.coords) - 1 for ring in (polygon.exterior, *polygon.interiors))


def unit_rings(polygon: Polygon) -> Paths:
    """The rings in units, open; outer counter-clockwise, holes clockwise."""
    rings = []
    for i, ring in enumerate((polygon.exterior, *polygon.interiors)):
        path = [(nanometres(x) * UNITS, nanometres(y) * UNITS) for x, y in list(ring.coords)[:-1]]
        if pyclipper.Orientation(path) != (i == 0):
            path.reverse()
        rings.append(path)
    return rings


def offset(rings: Paths, delta: int, *, rounded: bool = False) -> Paths:
    """Rings grown (or shrunk) by `delta` units.

    Corners are mitred, sharp ones cut square, so that it is never too little; `rounded`: arcs by chords
    inside them, never too much.  Method: Clipper's offset, joins miter (limit 2) and round.
    """
    if not delta:
        return rings
    offsetter = pyclipper.PyclipperOffset(2.0, max(1.0, abs(delta) / 1000))
    join = pyclipper.JT_ROUND if rounded else pyclipper.JT_MITER
    offsetter.AddPaths(rings, join, pyclipper.ET_CLOSEDPOLYGON)
    return [[(x, y) for x, y in path] for path in offsetter.Execute(delta)]
