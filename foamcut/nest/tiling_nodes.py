"""What lies around each point where corners meet on a board, and which wedges are free there.

mm and radians.  At a free wedge of less than half a turn some piece has a corner with one edge along the
wedge's first side, and it or another one has an edge along its second: what fills a board is found there.
"""

import math
from dataclasses import dataclass, field

import shapely
from shapely import box
from shapely.geometry.base import BaseGeometry

from foamcut.nest.tiling_shapes import SLACK_MM, Corner, Point, Shape

_TURN = 2 * math.pi
#: free room that is nowhere wider than twice this is rounding between two pieces
_THREAD_MM = 0.002
#: added to what directions may be off: rounding of floats
_EXACT = 1e-9


@dataclass(slots=True)
class Node:
    """A point, and what is taken around it: from a direction, through an angle, with a doubt."""

    x: float
    y: float
    taken: list[tuple[float, float, float]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Wedge:
    """A free wedge at a node, from direction `out` through `angle`, less than half a turn."""

    node: int
    out: float
    angle: float
    doubt: float


@dataclass(frozen=True, slots=True)
class Spot:
    """A shape with its lower left box corner at a point."""

    shape: Shape
    x: float
    y: float


def turn_between(a: float, b: float) -> float:
    """How far two directions are apart, 0 to half a turn."""
    apart = abs(a - b) % _TURN
    return min(apart, _TURN - apart)


class Board:
    """An upright room with pieces in it; pieces come and go in turn."""

    def __init__(self, room: tuple[float, float, float, float]) -> None:
        self.room = room
        self.spots: list[Spot] = []
        self.nodes: list[Node] = []
        self._steps: list[tuple[int, list[int]]] = []
        self._free_room: list[BaseGeometry] = [box(*room)]
        x0, y0, x1, y1 = room
        for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1)):
            self._node(x, y)

    def put(self, spot: Spot) -> list[int]:
        """Lay a piece down; the nodes that it touches."""
        before = len(self.nodes)
        touched = []
        for corner in spot.shape.corners:
            index = self._node(spot.x + corner.x, spot.y + corner.y)
            self.nodes[index].taken.append((corner.out, corner.angle, corner.doubt))
            touched.append(index)
        for index, node in enumerate(self.nodes[:before]):
            if index not in touched:
                side = _side(spot, node.x, node.y)
                if side is not None:
                    node.taken.append(side)
                    touched.append(index)
        self.spots.append(spot)
        lain = shapely.polygons([(x + spot.x, y + spot.y) for x, y in spot.shape.points])
        self._free_room.append(shapely.difference(self._free_room[-1], lain))
        self._steps.append((before, touched))
        return touched

    def lift(self) -> None:
        """Take the last piece up again."""
        before, touched = self._steps.pop()
        for index in touched:
            self.nodes[index].taken.pop()
        del self.nodes[before:]
        self._free_room.pop()
        self.spots.pop()

    def pockets(self) -> list[tuple[float, float]]:
        """The areas of the parts into which the free room falls, and how far each may be off."""
        parts = shapely.get_parts(shapely.buffer(self._free_room[-1], -_THREAD_MM, join_style="mitre"))
        round_them = shapely.length(parts)
        areas = shapely.area(parts) + _THREAD_MM * round_them
        return [(float(a), 2 * _THREAD_MM * float(r)) for a, r in zip(areas, round_them, strict=True)]

    def wedges(self, index: int) -> list[Wedge]:
        """The free wedges of less than half a turn at a node."""
        return [w for w in self._free(index) if w.angle < math.pi - w.doubt]

    def run(self, wedge: Wedge) -> float | None:
        """How long the first side of a wedge is up to the next wedge; None: pieces may go beyond."""
        here = self.nodes[wedge.node]
        cos, sin = math.cos(wedge.out), math.sin(wedge.out)
        ahead = []
        for index, node in enumerate(self.nodes):
            dx, dy = node.x - here.x, node.y - here.y
            along = dx * cos + dy * sin
            if along > SLACK_MM and abs(dy * cos - dx * sin) <= SLACK_MM + wedge.doubt * along / 8:
                ahead.append((along, index))
        for along, index in sorted(ahead):
            for free in self._free(index):
                if turn_between(free.out + free.angle, wedge.out + math.pi) <= free.doubt + wedge.doubt:
                    if free.angle < math.pi - free.doubt:
                        return along
                    if free.angle > math.pi + free.doubt:
                        return None
                    break
            else:
                return None
        return None

    def common(self, spot: Spot) -> int:
        """How many corners of a spot would come to lie on nodes."""
        near = 0
        for c in spot.shape.corners:
            x, y = spot.x + c.x, spot.y + c.y
            near += any(abs(n.x - x) <= SLACK_MM and abs(n.y - y) <= SLACK_MM for n in self.nodes)
        return near

    def _free(self, index: int) -> list[Wedge]:
        taken = sorted(self.nodes[index].taken)
        found = []
        end, doubt = taken[0][0] + taken[0][1], taken[0][2]
        for start, angle, own in [*taken[1:], (taken[0][0] + _TURN, 0.0, taken[0][2])]:
            gap = start - end
            if gap > doubt + own + _EXACT:
                found.append(Wedge(index, end % _TURN, gap, doubt + own + _EXACT))
            if start + angle > end:
                end, doubt = start + angle, own
        return found

    def _node(self, x: float, y: float) -> int:
        """The node at a point, made if there is none."""
        for index, node in enumerate(self.nodes):
            if abs(node.x - x) <= SLACK_MM and abs(node.y - y) <= SLACK_MM:
                return index
        node = Node(x, y)
        x0, y0, x1, y1 = self.room
        walls = (x1 - x, y1 - y, x - x0, y - y0)
        for quarter, off in enumerate(walls):
            if off <= SLACK_MM:
                start = (quarter - 1) % 4 * math.pi / 2
                node.taken.append((start, math.pi, 0.0))
        for spot in self.spots:
            side = _side(spot, x, y)
            if side is not None:
                node.taken.append(side)
        self.nodes.append(node)
        return len(self.nodes) - 1


def _side(spot: Spot, x: float, y: float) -> tuple[float, float, float] | None:
    """What a piece takes around a point inside one of its sides."""
    x, y = x - spot.x, y - spot.y
    shape = spot.shape
    if not (-SLACK_MM <= x <= shape.width + SLACK_MM and -SLACK_MM <= y <= shape.height + SLACK_MM):
        return None
    for k, (c, after) in enumerate(shape.sides):
        dx, dy = x - c.x, y - c.y
        along = dx * after[0] + dy * after[1]
        if abs(dx * after[1] - dy * after[0]) <= SLACK_MM and 0 < along < c.length:
            return c.out, math.pi, shape.corners[k].doubt
    return None


def against(wedge: Wedge, corner: Corner, *, first: bool) -> bool:
    """Whether a corner fits a wedge with an edge along its first side, or else along its second."""
    doubt = wedge.doubt + corner.doubt
    if corner.angle > wedge.angle + doubt:
        return False
    if first:
        return turn_between(corner.out, wedge.out) <= doubt
    return turn_between(corner.out + corner.angle, wedge.out + wedge.angle) <= doubt


def at_corner(shape: Shape, corner: Corner, point: Point) -> Spot:
    """The shape with its corner at a point."""
    return Spot(shape, point[0] - corner.x, point[1] - corner.y)
