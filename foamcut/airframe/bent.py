"""An upper skin that is bent over a spar without scores: a natural spline held by the spar's two edges.

mm, radians; c aft, n up.  The spline is that of the inner paper, so that it touches both edges; the outer
paper lies a thickness outside it everywhere.  At its ends, where the full board ends, it is not bent.  A thin
batten takes this shape between its pins; that board does is common practice, no source.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.airframe.section_nose import Anchor
from foamcut.airframe.section_skin import Skin, creased_skin, feather, moved
from foamcut.flat.outline import Point
from foamcut.flat.spline import Span, spline
from foamcut.flat.tolerances import CHORD_MM

#: the slope at the nose is settled when a round changes it by no more, and after so many at the latest
_SETTLED_RAD, _MOST_ROUNDS = 1e-11, 40
#: where the bevel begins is settled when it is this near, mm, and after so many steps at the latest
_SETTLED_MM, _MOST_STEPS = 1e-9, 60
#: a bevel that ends farther off is none, mm
_NEAR_MM = 1e-3
#: points and weights of Gauss and Legendre of order five on -1 to 1 (Abramowitz and Stegun, table 25.4)
_GAUSS = (
    (0.0, 0.568888888888889),
    (-0.538469310105683, 0.478628670499366),
    (0.538469310105683, 0.478628670499366),
    (-0.906179845938664, 0.236926885056189),
    (0.906179845938664, 0.236926885056189),
)
#: parts of a span that its length is summed over
_PARTS = 8
#: fewest chords of a span: the rear one ends on the bevel, whose outer paper is drawn as one line
_FEWEST = 32


@dataclass(frozen=True, slots=True, kw_only=True)
class Bent:
    """The inner paper as spans: nose to front edge, over the spar, to where the lower skin is met."""

    spans: tuple[Span, ...]
    end: Point  # of the outer paper
    thickness: float

    @property
    def front(self) -> float:
        """Slope at the nose, up."""
        return _slope(self.spans[0], 0.0)

    @property
    def rear(self) -> float:
        """Slope at the rear, down."""
        return 0.0 - _slope(self.spans[-1], 1.0)


def bent_line(start: Anchor, edges: tuple[Point, Point], end: Point, thickness: float) -> Bent:
    """The inner paper from the nose over the spar's upper edges.

    Where it begins hangs on its slope there, and where it ends on the slope there: both are found in turn
    from those of three flats.  A start that moves with its slope moves along the paper, which hardly changes
    the slope, so that few rounds are enough.

    Raises
    ------
    ValueError
        A spar's edge is too near to an end for the skin to pass over it.
    """
    skin = creased_skin(start, edges, end, thickness)
    held = edges if edges[0] != edges[1] else edges[:1]
    front, length = skin.front, skin.inner[-1][0] - edges[1][0]
    bent = Bent(spans=(), end=end, thickness=thickness)
    for _ in range(_MOST_ROUNDS):
        first = moved(start.at, front, 0.0 - start.below_mm)
        bent, length = _ended((first, *held), end, thickness, length)
        if abs(bent.front - front) <= _SETTLED_RAD:
            break
        front = bent.front
    return bent


def _ended(held: Sequence[Point], end: Point, thickness: float, guess: float) -> tuple[Bent, float]:
    """The spline through points and on to where the board's bevel begins, and how far behind them that is.

    The farther it ends the less steeply, and the longer is the bevel, which has to end with the outer paper.
    Method: secants, and halves of what is left where they lead out of it.

    Raises
    ------
    ValueError
        Between the last point and the end there is no room for a bevel, which is longer than a thickness.
    """
    edge = held[-1]
    behind = end[0] - edge[0]
    if behind <= thickness:
        raise ValueError(f"no room for board of {thickness} in {behind}")
    low, high, length = 0.0, behind, guess
    before: tuple[float, float] | None = None
    for _ in range(_MOST_STEPS):
        last = (edge[0] + length, end[1])
        bent = Bent(spans=spline((*held, last)), end=end, thickness=thickness)
        rise = math.sin(bent.rear)
        over = length + thickness / rise - behind if rise > 0 else behind
        if abs(over) <= _SETTLED_MM:
            break
        low, high = (low, length) if over > 0 else (length, high)
        if low >= high or (before and length == before[0]):
            break
        slope = (over - before[1]) / (length - before[0]) if before else 1 + thickness / (edge[1] - end[1])
        before = length, over
        length = length - over / slope if slope > 0 else low
        if not low < length < high:
            length = (low + high) / 2
    if abs(over) > _NEAR_MM:
        raise ValueError(f"a bevel of board of {thickness} ends {over} off")
    return bent, length


def _heading(span: Span, share: float) -> Point:
    """The derivative over chord length at a share of a span."""
    a, b, h = 1 - share, share, span.length
    x, y = (
        (span.end[i] - span.start[i]) / h
        + ((1 - 3 * a * a) * span.bend_start[i] + (3 * b * b - 1) * span.bend_end[i]) * h / 6
        for i in (0, 1)
    )
    return x, y


def _slope(span: Span, share: float) -> float:
    x, y = _heading(span, share)
    return math.atan2(y, x)


def chord_counts(bent: Bent) -> tuple[int, ...]:
    """How many chords each span takes, so that either paper is `CHORD_MM` off at most.

    The outer paper is as much longer as the board is thick over the radius; half the tolerance leaves room.
    """
    return tuple(max(_FEWEST, span.chord_count(CHORD_MM / 2)) for span in bent.spans)


def bent_skin(bent: Bent, counts: Sequence[int]) -> Skin:
    """The papers in chords, so many to each span."""
    places = [(span, i / count) for span, count in zip(bent.spans, counts, strict=True) for i in range(count)]
    inner = [span.at(share) for span, share in places]
    outer = [
        moved(at, _slope(span, share), bent.thickness)
        for at, (span, share) in zip(inner, places, strict=True)
    ]
    return Skin(
        outer=(*outer, bent.end),
        inner=(*inner, feather(bent.end, bent.rear, bent.thickness)),
        front=bent.front,
        rear=bent.rear,
        corners=(),
        stops_mm=_stops(bent),
        lift_mm=lift_mm(bent),
        least_radius_mm=least_radius_mm(bent, counts),
    )


def _stops(bent: Bent) -> tuple[float, float, float]:
    """How far the spar's edges and the end lie along the middle of the board.

    A line beside a bent one is longer than it by the distance times the angle turned.
    """
    lengths = [
        _length(span) + bent.thickness / 2 * (_slope(span, 0.0) - _slope(span, 1.0)) for span in bent.spans
    ]
    over = lengths[1] if len(lengths) > 2 else 0.0
    straight = bent.thickness / math.tan(bent.rear) if bent.thickness else 0.0
    return lengths[0], lengths[0] + over, lengths[0] + over + lengths[-1] + straight


def _length(span: Span) -> float:
    half = 0.5 / _PARTS
    return sum(
        weight * half * span.length * math.hypot(*_heading(span, (2 * i + 1 + at) * half))
        for i in range(_PARTS)
        for at, weight in _GAUSS
    )


def lift_mm(bent: Bent) -> float:
    """How far the inner paper stands off the spar's top between its edges, at most."""
    if len(bent.spans) < 3:
        return 0.0
    top = bent.spans[1].start[1]
    return max((top, *_level(bent.spans[1]))) - top


def lowest_mm(bent: Bent) -> float:
    """The least n of the inner paper before the spar: a steep rear may press it down there."""
    return min((bent.spans[0].start[1], *_level(bent.spans[0])))


def _level(span: Span) -> tuple[float, ...]:
    """n where a span lies level; its slope is a quadratic of the share."""
    first, last = span.bend_start[1], span.bend_end[1]
    a, b = 3 * (last - first), 3 * first
    c = 6 * (span.end[1] - span.start[1]) / span.length**2 - 2 * first - last
    rest = b * b - a * c
    if rest < 0:
        return ()
    # the sum that does not cancel, for both roots
    far = -b - math.sqrt(rest) if b > 0 else -b + math.sqrt(rest)
    shares = (*((far / a,) if a else ()), *((c / far,) if far else ()))
    return tuple(span.at(share)[1] for share in shares if 0 < share < 1)


def least_radius_mm(bent: Bent, counts: Sequence[int]) -> float:
    """The least radius of the inner paper, looked for at the ends of the chords."""
    most = max(
        _bend(span, i / count)
        for span, count in zip(bent.spans, counts, strict=True)
        for i in range(count + 1)
    )
    return 1 / most if most else math.inf


def _bend(span: Span, share: float) -> float:
    x, y = _heading(span, share)
    bx, by = ((1 - share) * a + share * b for a, b in zip(span.bend_start, span.bend_end, strict=True))
    return abs(x * by - y * bx) / math.hypot(x, y) ** 3


def most(counts: Sequence[Sequence[int]]) -> tuple[int, ...]:
    """The most of each span, and a tenth more: sections of one surface have as many points each."""
    return tuple(math.ceil(1.1 * max(column)) for column in zip(*counts, strict=True))
