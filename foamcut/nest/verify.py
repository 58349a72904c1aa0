"""Checks layouts from nothing but their values; shares no code with the search.

Everything is worked out again with shapely, mm.  A fault is a sentence for whoever keeps the program: a
layout with a fault is never written.
"""

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence

import shapely
from shapely import Polygon, STRtree, affinity

from foamcut.flat.drawn import Face, Grain, Turns
from foamcut.flat.joint import Piece
from foamcut.flat.part import Part
from foamcut.flat.placement import Placement
from foamcut.flat.stock import Stock
from foamcut.flat.tolerances import PLACED_MM
from foamcut.nest.values import Kind, Layout, Sheet, Wanted
from foamcut.nest.verify_left import REGISTER_MM, bound_faults, left_faults, one_left

#: a placed corner may be this far from where its placement says: two roundings to the nanometre
_SAME_PLACE_MM = 5e-6
#: suffix, stock, outline
_Piece = tuple[str, str, bytes]
_ORDER = (Kind.OFFCUT, Kind.ON_HAND, Kind.NEW)


def faults(
    layouts: Iterable[Layout], wanted: Sequence[Wanted], *, bed_mm: tuple[float, float] | None = None
) -> tuple[str, ...]:
    """Everything that is wrong with the layouts of `wanted`, empty when nothing is.

    Every copy is placed once, all copies of a part the same way; each placed polygon is its piece moved; it
    lies within the sheet's outline less the margin and the gap away from all others, each within `PLACED_MM`;
    turns, flips and grains are kept; no more sheets are used than there are; sheets are numbered from 1 in
    order; the bound counts them and their prices.  Rectangles for the bed, register holes and what is left:
    see `_beds`, `_register` and `left_faults`.
    """
    found: list[str] = []
    layouts = tuple(layouts)
    found.extend(_copies(layouts, wanted))
    for layout in layouts:
        found.extend(_numbering(layout))
        found.extend(_sources(layout))
        found.extend(bound_faults(layout))
        found.extend(one_left(layout))
        for sheet in layout.sheets:
            where = f"sheet {sheet.stock} {sheet.number}"
            found.extend(f"{where}: {fault}" for fault in _sheet(sheet, layout.stock))
            found.extend(f"{where}: {fault}" for fault in _beds(sheet, layout.stock, bed_mm))
            found.extend(f"{where}: {fault}" for fault in _register(sheet, layout.stock))
            found.extend(f"{where}: {fault}" for fault in left_faults(sheet, layout.stock))
    return tuple(found)


def _copies(layouts: Sequence[Layout], wanted: Sequence[Wanted]) -> Iterator[str]:
    """Every copy is there in all pieces of one of its ways, wherever they lie; all copies in the same way."""
    ids: Counter[str] = Counter()
    on: dict[tuple[str, int], Counter[_Piece]] = defaultdict(Counter)
    for layout in layouts:
        for one in (one for sheet in layout.sheets for one in sheet.placed):
            ids[one.id] += 1
            on[one.piece.part.name, one.copy][_piece(one.piece)] += 1
            if one.piece.flat.stock != layout.stock.name:
                yield f"{one.id} is of stock {one.piece.flat.stock} and lies on {layout.stock.name}"
    yield from (f"the id {name} is there {count} times" for name, count in sorted(ids.items()) if count > 1)
    for want in wanted:
        ways = [Counter(_piece(piece) for piece in way.pieces) for way in want.ways]
        name = want.part.name
        copies = [on.pop((name, copy), Counter()) for copy in range(1, want.part.count + 1)]
        for number, copy in enumerate(copies, 1):
            if copy not in ways:
                there = ", ".join(sorted(suffix or "the whole" for suffix, *_ in copy.elements()))
                yield f"{name} copy {number} is not placed once: there is {there or 'nothing'} of it"
        if any(copy != copies[0] for copy in copies if copy in ways and copies[0] in ways):
            yield f"the copies of {name} are not all cut the same way"
    for name, number in sorted(on):
        yield f"{name} copy {number} is placed and not wanted"


def _piece(piece: Piece) -> _Piece:
    return piece.suffix, piece.flat.stock, piece.outline.polygon.wkb


def _numbering(layout: Layout) -> Iterator[str]:
    numbers = [sheet.number for sheet in layout.sheets]
    if numbers != list(range(1, len(numbers) + 1)):
        yield f"sheets of {layout.stock.name} are numbered {numbers}"
    kinds = [_ORDER.index(sheet.kind) for sheet in layout.sheets]
    if kinds != sorted(kinds):
        yield f"sheets of {layout.stock.name} are not in the order offcuts, on hand, new"
    for sheet in layout.sheets:
        if sheet.stock != layout.stock.name:
            yield f"sheet {sheet.number} of {layout.stock.name} says that it is of {sheet.stock}"
        if not sheet.placed:
            yield f"sheet {sheet.number} of {layout.stock.name} carries nothing"


def _sources(layout: Layout) -> Iterator[str]:
    stock = layout.stock
    sizes = {size.key: size for size in stock.sheets}
    offcuts = {offcut.key: offcut for offcut in stock.offcuts}
    used = Counter((sheet.kind, sheet.source) for sheet in layout.sheets)
    for kind, source in sorted(used, key=lambda key: (_ORDER.index(key[0]), key[1])):
        count = used[kind, source]
        known = offcuts if kind is Kind.OFFCUT else sizes
        if source not in known:
            yield f"{kind.value} sheet from {source}, which {stock.name} does not have"
        elif kind is Kind.OFFCUT and count > offcuts[source].count:
            yield f"{source} is used {count} times, there are {offcuts[source].count}"
        elif kind is Kind.ON_HAND and count > sizes[source].on_hand:
            yield f"{source} is taken from the shelf {count} times, there are {sizes[source].on_hand}"
    for sheet in layout.sheets:
        if sheet.kind is Kind.OFFCUT and sheet.source in offcuts:
            due = offcuts[sheet.source].outline.polygon
        elif sheet.kind is not Kind.OFFCUT and sheet.source in sizes:
            due = shapely.box(0, 0, sizes[sheet.source].width_mm, sizes[sheet.source].height_mm)
        else:
            continue
        if not _same(sheet.outline.polygon, due) or not _box_is(sheet):
            yield f"sheet {sheet.stock} {sheet.number} is not of the size of {sheet.source}"


def _box_is(sheet: Sheet) -> bool:
    box = sheet.outline.polygon.bounds
    due = (0.0, 0.0, sheet.width_mm, sheet.height_mm)
    return all(abs(a - b) <= _SAME_PLACE_MM for a, b in zip(box, due, strict=True))


def _sheet(sheet: Sheet, stock: Stock) -> Iterator[str]:
    polygons = [one.outline.polygon for one in sheet.placed]
    for one, polygon in zip(sheet.placed, polygons, strict=True):
        if not _same_rings(polygon, _moved(one.piece.outline.polygon, one.placement)):
            yield f"{one.id}: its polygon is not its piece at its placement"
        yield from (f"{one.id}: {fault}" for fault in _way_round(one.placement, one.piece.flat, stock))
        inside = _inside(polygon, sheet.outline.polygon, stock.margin_mm)
        yield from (f"{one.id}: {fault}" for fault in inside)
    yield from _apart([one.id for one in sheet.placed], polygons, stock.gap_mm)


def _beds(sheet: Sheet, stock: Stock, bed_mm: tuple[float, float] | None) -> Iterator[str]:
    """Rectangles are no larger than the bed, on the sheet less its margin, off each other and off all pieces
    but their own, which lie inside.
    """
    if not sheet.beds:
        return
    if [bed.number for bed in sheet.beds] != list(range(1, len(sheet.beds) + 1)):
        yield f"its bed rectangles are numbered {[bed.number for bed in sheet.beds]}"
    names = [f"bed rectangle {bed.number}" for bed in sheet.beds]
    boxes = [
        shapely.box(*bed.corner, bed.corner[0] + bed.width_mm, bed.corner[1] + bed.height_mm)
        for bed in sheet.beds
    ]
    yield from _apart(names, boxes, stock.gap_mm)
    owner: dict[str, str] = {}
    for name, box, bed in zip(names, boxes, sheet.beds, strict=True):
        sides = zip((bed.width_mm, bed.height_mm), bed_mm or (0.0, 0.0), strict=True)
        if any(side > room + PLACED_MM for side, room in sides):
            yield f"{name} is larger than the bed, {bed_mm}"
        yield from (f"{name}: {fault}" for fault in _inside(box, sheet.outline.polygon, stock.margin_mm))
        for piece in bed.pieces:
            if piece in owner:
                yield f"{piece} is on {owner[piece]} and on {name}"
            owner[piece] = name
    placed = {one.id: one.outline.polygon for one in sheet.placed}
    yield from (f"{owner[piece]} names {piece}, which is not there" for piece in owner if piece not in placed)
    for name, box in zip(names, boxes, strict=True):
        grown = box.buffer(PLACED_MM, join_style="mitre")
        for piece, polygon in placed.items():
            if owner.get(piece) == name:
                if not grown.covers(polygon):
                    yield f"{piece} is not wholly on its {name}"
            elif owner.get(piece) is None:
                yield from _apart((name, piece), (box, polygon), stock.gap_mm)


def _register(sheet: Sheet, stock: Stock) -> Iterator[str]:
    """Two holes or none, on the sheet less its margin, off each other and a gap off every piece."""
    if not sheet.register:
        return
    if len(sheet.register) != 2:
        yield f"it has {len(sheet.register)} register holes"
    holes = [shapely.Point(at).buffer(REGISTER_MM / 2, quad_segs=64) for at in sheet.register]
    names = [f"register hole {i}" for i in range(1, len(holes) + 1)]
    yield from _apart(names, holes, 0.0)
    for name, hole in zip(names, holes, strict=True):
        yield from (f"{name}: {fault}" for fault in _inside(hole, sheet.outline.polygon, stock.margin_mm))
        for one in sheet.placed:
            yield from _apart((name, one.id), (hole, one.outline.polygon), stock.gap_mm)


def _moved(polygon: Polygon, placement: Placement) -> Polygon:
    if placement.flipped:
        polygon = affinity.scale(polygon, 1, -1, origin=(0, 0))
    polygon = affinity.rotate(polygon, placement.turn_deg, origin=(0, 0))
    return affinity.translate(polygon, placement.x_mm, placement.y_mm)


def _inside(polygon: Polygon, outline: Polygon, margin: float) -> Iterator[str]:
    if polygon.difference(outline.buffer(PLACED_MM, join_style="mitre")).area > 0:
        yield "it leaves the sheet"
        return
    distance = polygon.distance(outline.boundary)
    if outline.boundary.intersects(polygon):
        distance = 0.0
    if distance < margin - PLACED_MM:
        yield f"it is {distance:.4f} mm from an edge or void, the margin is {margin} mm"


def _apart(names: Sequence[str], polygons: Sequence[Polygon], gap: float) -> Iterator[str]:
    if not polygons:
        return
    tree = STRtree(list(polygons))
    pairs = tree.query(list(polygons), predicate="dwithin", distance=gap)
    for a, b in sorted((int(i), int(j)) for i, j in pairs.T if i < j):
        distance = polygons[a].distance(polygons[b])
        if distance == 0:
            # touching outlines overlap by a hair when rounded: what counts is how deep
            depth = _depth(polygons[a], polygons[b])
            if gap - PLACED_MM > 0 or depth > PLACED_MM:
                yield f"{names[a]} and {names[b]} overlap or touch"
        elif distance < gap - PLACED_MM:
            yield f"{names[a]} and {names[b]} are {distance:.4f} mm apart, the gap is {gap} mm"


def _depth(a: Polygon, b: Polygon) -> float:
    """About how deep two polygons overlap: a fault when one shrunk by the tolerance still meets the other."""
    shrunk = a.buffer(-PLACED_MM, join_style="mitre")
    meets = not shrunk.is_empty and shrunk.intersects(b)
    return math.inf if meets else 0.0


def _way_round(placement: Placement, part: Part, stock: Stock) -> Iterator[str]:
    if placement.flipped and part.face is not Face.EITHER:
        yield f"it is turned over, and face {part.face.value} must lie up"
    step = {Turns.NONE: 360, Turns.HALF: 180, Turns.QUARTER: 90, Turns.ANY: 0}[part.turns]
    if step and placement.turn_deg % step:
        yield f"it is turned by {placement.turn_deg} degrees, its turns are {part.turns.value}"
    if part.grain is not Grain.ANY and stock.grain is not Grain.ANY:
        # the axis as a line: a vector along it has nothing square to the stock's grain
        x, y = (1.0, 0.0) if part.grain is Grain.X else (0.0, 1.0)
        angle = math.radians(placement.turn_deg)
        across = (
            math.sin(angle) * x + math.cos(angle) * y
            if stock.grain is Grain.X
            else math.cos(angle) * x - math.sin(angle) * y
        )
        if abs(across) > 1e-9:
            yield f"its grain {part.grain.value} does not lie along the stock's, {stock.grain.value}"


def _same(a: Polygon, b: Polygon) -> bool:
    return bool(a.symmetric_difference(b).area <= _SAME_PLACE_MM * max(a.length, b.length))


def _same_rings(a: Polygon, b: Polygon) -> bool:
    """Whether both have the same corners within two roundings, wherever the rings start."""
    if len(a.interiors) != len(b.interiors) or not math.isclose(a.area, b.area, rel_tol=1e-6, abs_tol=1e-3):
        return False
    return bool(shapely.hausdorff_distance(a.boundary, b.boundary) <= _SAME_PLACE_MM)
