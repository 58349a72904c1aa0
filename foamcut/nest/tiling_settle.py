"""Moves pieces that nearly fill a board until none overlaps another by more than is allowed, and checks it.

Method: each pair of sides that face each other and touch is a half plane for how the two pieces lie; sweeps
project on those that are broken (projection on convex sets; Bregman 1965, from memory).  mm.
"""

import math
from collections.abc import Sequence

import shapely
from shapely import Polygon, STRtree, affinity, box

from foamcut.nest.tiling_nodes import Spot
from foamcut.nest.tiling_shapes import Corner, Point

#: how deep a piece may lie in another one or outside its room: less than the tolerance for placed pieces
MOST_MM = 0.0008
#: sides that face each other and are no farther apart touch
_NEAR_MM = 0.03
#: a bit of common edge that is shorter says nothing
_SHORT_MM = 0.1
#: two corners that meet are parted by an edge that leaves the other corner this far (sine) off
_APART = 0.02
#: sweeps, and overlaps that they aim at one after another: the least that can be had, then what is allowed
_SWEEPS = 150
_AIMS_MM = (0.0, 0.0002, 0.0004, 0.0005, 0.0006, 0.0007)
#: what may be left over the aim
_ENOUGH_MM = 0.00005

Room = tuple[float, float, float, float]

Contact = tuple[int, int, float, float, float]


def settled(spots: Sequence[Spot], room: Room) -> list[Point]:
    """Where each spot's lower left box corner ends up."""
    places = [[s.x, s.y] for s in spots]
    contacts = [
        c
        for a in range(len(spots))
        for b in range(a + 1, len(spots))
        for c in _contacts(a, b, spots[a], spots[b])
    ]
    for allowed in _AIMS_MM:
        for _ in range(_SWEEPS):
            worst = max(_part(places, contacts, allowed), _keep_in(places, spots, room, allowed))
            if worst <= _ENOUGH_MM:
                return [(x, y) for x, y in places]
    return [(x, y) for x, y in places]


def _part(places: list[list[float]], contacts: Sequence[Contact], allowed: float) -> float:
    """Move each two pieces apart that overlap by more than is allowed; by how much more at worst."""
    worst = 0.0
    for a, b, nx, ny, least in contacts:
        one, other = places[a], places[b]
        short = least - allowed - nx * (other[0] - one[0]) - ny * (other[1] - one[1])
        if short > 0:
            worst = max(worst, short)
            other[0] += nx * short / 2
            other[1] += ny * short / 2
            one[0] -= nx * short / 2
            one[1] -= ny * short / 2
    return worst


def _keep_in(places: list[list[float]], spots: Sequence[Spot], room: Room, allowed: float) -> float:
    """Move each piece into the room, but for what is allowed; by how much at worst."""
    worst = 0.0
    for place, spot in zip(places, spots, strict=True):
        for axis, extent in ((0, spot.shape.width), (1, spot.shape.height)):
            low, high = room[axis] - allowed, room[axis + 2] + allowed - extent
            if low > high:
                low = high = (low + high) / 2
            moved = min(max(place[axis], low), high)
            worst = max(worst, abs(moved - place[axis]))
            place[axis] = moved
    return worst


def _contacts(a: int, b: int, one: Spot, other: Spot) -> list[Contact]:
    """Half planes n (place of b - place of a) >= least, of the sides of two pieces that touch."""
    dx, dy = other.x - one.x, other.y - one.y
    if dx > one.shape.width + _NEAR_MM or dy > one.shape.height + _NEAR_MM:
        return []
    if -dx > other.shape.width + _NEAR_MM or -dy > other.shape.height + _NEAR_MM:
        return []
    found = []
    for p, (ux, uy) in one.shape.sides:
        for q, (vx, vy) in other.shape.sides:
            if ux * vx + uy * vy > -0.99:
                continue
            nx, ny = uy, -ux
            for along in _shared((p, (ux, uy)), (q, (vx, vy)), (dx, dy)):
                # the point of the other side there, and how far it is outside this one
                step = (along - (q.x + dx - p.x) * ux - (q.y + dy - p.y) * uy) / (ux * vx + uy * vy)
                x, y = q.x + step * vx, q.y + step * vy
                least = nx * (p.x - x) + ny * (p.y - y)
                if abs(nx * dx + ny * dy - least) <= _NEAR_MM:
                    found.append((a, b, nx, ny, least))
    for c in one.shape.corners:
        for d in other.shape.corners:
            x, y = c.x - d.x, c.y - d.y
            if max(abs(x - dx), abs(y - dy)) <= _NEAR_MM and c.angle < math.pi > d.angle:
                margin, nx, ny = max(_between(c, d), _between(d, c, -1.0))
                if margin > _APART:
                    found.append((a, b, nx, ny, nx * x + ny * y))
    return found


def _between(c: Corner, d: Corner, sign: float = 1.0) -> tuple[float, float, float]:
    """How clear of an edge of corner c the corner d lies, and the edge's way out, times `sign`."""
    found = []
    for way in (c.out - math.pi / 2, c.out + c.angle + math.pi / 2):
        nx, ny = math.cos(way), math.sin(way)
        ends = [nx * math.cos(e) + ny * math.sin(e) for e in (d.out, d.out + d.angle)]
        found.append((min(ends), sign * nx, sign * ny))
    return max(found)


def _shared(side: tuple[Corner, Point], facing: tuple[Corner, Point], moved: Point) -> tuple[float, ...]:
    """From where to where on a side the facing one runs along it; nothing when that is hardly a bit."""
    p, (ux, uy) = side
    q, (vx, vy) = facing
    start = (q.x + moved[0] - p.x) * ux + (q.y + moved[1] - p.y) * uy
    end = start + q.length * (ux * vx + uy * vy)
    low, high = max(0.0, min(start, end)), min(p.length, max(start, end))
    return (low, high) if high - low > min(_SHORT_MM, p.length / 2, q.length / 2) else ()


def lies_well(polygons: Sequence[Polygon], room: Room) -> bool:
    """Whether no polygon goes deeper than `MOST_MM` into another one or out of the room."""
    if not all(shapely.covers(box(*room).buffer(MOST_MM, join_style="mitre"), p) for p in polygons):
        return False
    shrunk = [p.buffer(-MOST_MM, join_style="mitre") for p in polygons]
    pairs = STRtree(polygons).query(shrunk, predicate="intersects")
    return all(i == j for i, j in pairs.T)


def placed(polygon: Polygon, turn_deg: float, flipped: bool, x: float, y: float) -> Polygon:
    """A polygon mirrored, turned about (0, 0), then moved."""
    if flipped:
        polygon = affinity.scale(polygon, 1, -1, origin=(0, 0))
    turned = affinity.rotate(polygon, turn_deg, origin=(0, 0)) if turn_deg else polygon
    return affinity.translate(turned, x, y)
