"""At which end, hole or edge a part has too much or lacks something, in words.

mm, the new part's coordinates.
"""

from collections.abc import Iterator, Sequence

import shapely
from shapely import Polygon

from foamcut.compare.outlines import Laid, farthest
from foamcut.compare.placed import Ruler, end_words
from foamcut.flat.outline import Point
from foamcut.flat.part import Part, Slot
from foamcut.flat.tolerances import EDGES_AGREE_MM

#: the four ends: axis and side
ENDS = ((1, 1), (1, -1), (0, 1), (0, -1))
#: what differs so near to a slot differs for it
_SLOT_MM = 1.0
#: an end that is off by this share of the largest difference is what is told
_MOSTLY = 0.7
#: so much of the length may be a raked end
_END_SHARE = 0.05


def bound(shape: Polygon, axis: int, side: int) -> float:
    """Where a shape ends towards one side."""
    return float(shape.bounds[axis + 2] if side > 0 else shape.bounds[axis])


def to_cut_off(held: Laid, new: Part, ruler: Ruler) -> Iterator[str]:
    """What is cut off the old part, piece by piece."""
    for piece in held.over:
        yield (
            _off_an_end(piece, held, new, ruler)
            or _hole(piece, held, new, ruler)
            or _edge(piece, held, new, ruler)
        )


def _off_an_end(piece: Polygon, held: Laid, new: Part, ruler: Ruler) -> str:
    """A piece that reaches to the old one's end where the new one ends sooner."""
    for axis, side in ENDS:
        inside, outside = bound(piece, axis, -side), bound(piece, axis, side)
        end = bound(held.new, axis, side)
        off = (outside - end) * side
        if off <= EDGES_AGREE_MM or outside != bound(held.old, axis, side):
            continue
        where = f"off at {end_words(new, axis, side)}"
        if (inside - end) * side >= -EDGES_AGREE_MM:
            return f"cut {ruler.length(off)} {where}, at {ruler.line(new, axis, end)}"
        return f"cut up to {ruler.length(off)} {where}"
    return ""


def _hole(piece: Polygon, held: Laid, new: Part, ruler: Ruler) -> str:
    """A piece out of a hole: a new one, or one that grows."""
    for ring in held.new.interiors:
        hole = Polygon(ring)
        if not hole.buffer(EDGES_AGREE_MM).covers(piece):
            continue
        place = ruler.place(new, _middle(hole))
        before = [Polygon(one) for one in held.old.interiors if Polygon(one).intersects(hole)]
        if not before:
            return f"cut the opening at {place}"
        far = farthest(hole.boundary, shapely.union_all([one.boundary for one in before]))
        return f"cut the opening at {place} larger, by up to {ruler.length(far)}"
    return ""


def _edge(piece: Polygon, held: Laid, new: Part, ruler: Ruler) -> str:
    far = ruler.length(farthest(piece.boundary, held.new.boundary))
    return f"cut up to {far} off the edge near {ruler.place(new, _middle(piece))}"


def off_words(held: Laid, new: Part, ruler: Ruler, told: Sequence[Slot] = ()) -> Iterator[str]:
    """Where the edges of both differ most, for a part that is cut again; without slots that are told of."""
    slots = shapely.union_all([slot.outline.polygon for slot in told]).buffer(_SLOT_MM)
    pieces = [(piece, held.old) for piece in held.lacking] + [(piece, held.new) for piece in held.over]
    fars = [
        (round(farthest(piece.boundary, other.boundary), 3), piece, other is held.old)
        for piece, other in pieces
        if not slots.covers(piece)
    ]
    if not fars:
        return
    far, piece, lacks = max(fars, key=lambda one: one[0])
    length = _length_words(held, new, ruler, far)
    if length:
        yield length
        return
    place = ruler.place(new, _middle(piece))
    holes = (Polygon(ring) for ring in held.old.interiors)
    hole = next((one for one in holes if one.buffer(EDGES_AGREE_MM).covers(piece)), None)
    if lacks and hole is not None:
        yield f"the opening that was at {ruler.place(new, _middle(hole))} is smaller or elsewhere"
    elif lacks:
        yield f"the old one lacks up to {ruler.length(far)} of board near {place}"
    else:
        yield f"the old one has up to {ruler.length(far)} of board too much near {place}"


def _length_words(held: Laid, new: Part, ruler: Ruler, far: float) -> str:
    """What is said of a part that ends elsewhere by about as much as edges are off at most; else empty."""
    grows = {end: (bound(held.new, *end) - bound(held.old, *end)) * end[1] for end in ENDS}
    most = max(ENDS, key=lambda one: round(abs(grows[one]), 3))
    if abs(grows[most]) <= EDGES_AGREE_MM or abs(grows[most]) < _MOSTLY * far:
        return ""
    axis = most[0]
    ends = [end for end in (most, (axis, -most[1])) if abs(grows[end]) > EDGES_AGREE_MM]
    several = []
    for end in ends:
        word = "longer" if grows[end] > 0 else "shorter"
        several.append(f"{ruler.length(abs(grows[end]))} {word} at {end_words(new, *end)}")
    off = _off_between(held, axis)
    elsewhere = f", and its other edges are off by up to {ruler.length(off)}" if off > EDGES_AGREE_MM else ""
    return f"it is {' and '.join(several)}{elsewhere}"


def _off_between(held: Laid, axis: int) -> float:
    """How far edges are off where both have board along an axis, raked ends left out."""
    first = max(bound(one, axis, -1) for one in (held.old, held.new))
    last = min(bound(one, axis, 1) for one in (held.old, held.new))
    inset = _END_SHARE * (last - first)
    x0, y0, x1, y1 = shapely.total_bounds([held.old, held.new]).tolist()
    corners = [x0 - 1.0, y0 - 1.0, x1 + 1.0, y1 + 1.0]
    corners[axis], corners[axis + 2] = first + inset, last - inset
    there = shapely.box(*corners)
    old, new = held.old.boundary, held.new.boundary
    return max(farthest(old.intersection(there), new), farthest(new.intersection(there), old))


def _middle(shape: Polygon) -> Point:
    x0, y0, x1, y1 = shape.bounds
    return (x0 + x1) / 2, (y0 + y1) / 2
