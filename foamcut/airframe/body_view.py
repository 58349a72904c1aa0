"""A body as it is seen from the side before any part is drawn: what stands, lies and passes where.

The side view, mm: x aft, z up.  Every part of the body is cut from this.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.airframe.body_blunt import blunted
from foamcut.airframe.body_holes import ring_points
from foamcut.airframe.body_profile import Profile
from foamcut.airframe.body_stands import Inside, Stand, stood
from foamcut.airframe.body_tail import Tails, tails
from foamcut.airframe.body_unroll import Strip, part_of_line
from foamcut.airframe.body_wing import Seated, seated
from foamcut.airframe.values import Body, Corners, Inputs
from foamcut.errors import Refusal
from foamcut.units import decimal_text

#: how much shorter and narrower than its place a hatch is (common practice, no source)
HATCH_SHORTER_MM, HATCH_NARROWER_MM = 1.0, 0.5
#: how far the nose doublers stay under what covers them
DOUBLER_BELOW_MM = 1.0
#: a strip shorter than this is left out
_SHORTEST_MM = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """The side view of a body.

    `side` is the outline of a side with saddles and open slots taken out, `doubler` that of a nose doubler;
    `floors` are the strips of the floor, more than one where a low wing parts it.
    """

    body: Body
    profile: Profile
    seats: Seated
    tail: Tails
    stands: tuple[Stand, ...]
    side: Polygon
    floors: tuple[Strip, ...]
    deck: Strip | None
    hatch: Strip | None
    doubler: Polygon | None
    refusals: tuple[Refusal, ...] = ()

    @property
    def thickness_mm(self) -> float:
        """That of the body's board."""
        return self.body.material.thickness_mm

    @property
    def strips(self) -> tuple[Strip, ...]:
        """Floors, deck and hatch."""
        return (*self.floors, *(one for one in (self.deck, self.hatch) if one is not None))

    def boards(self) -> BaseGeometry:
        """What floor, deck and hatch take on the side view."""
        return shapely.union_all([lying(strip) for strip in self.strips])


def lying(strip: Strip, more_mm: float = 0.0) -> BaseGeometry:
    """What a strip takes on the side view inside the body, and more behind its inner face."""
    by = strip.thickness_mm + more_mm
    return LineString(strip.line).buffer(by, cap_style="flat", join_style="mitre", mitre_limit=2.0)


def view_of(body: Body, inputs: Inputs) -> View:
    """Everything on the side view; the body's own numbers have been looked at."""
    profile = Profile(body=body)
    seats, tail = seated(body, inputs), tails(body, inputs)
    refusals = [*seats.refusals, *tail.refusals]
    side, refused = _side(body, profile, seats, tail)
    refusals += refused
    wide = body.width_mm - (2 * body.material.thickness_mm if body.corners is Corners.BUTT else 0.0)
    floors = tuple(
        _strip(profile, a, b, over=False, wide=wide)
        for a, b in _without(_room(profile), [s.span for s in seats.saddles if not s.upwards])
        if b - a > _SHORTEST_MM
    )
    deck, found = _cover(body, profile, seats, "deck", body.deck_mm, wide)
    refusals += found
    narrow = body.width_mm - 2 * body.material.thickness_mm - HATCH_NARROWER_MM
    span = body.hatch_mm
    less = HATCH_SHORTER_MM / 2
    lid = None if span is None else (span[0] + less, span[1] - less)
    hatch, found = _cover(body, profile, seats, "hatch", lid, narrow)
    refusals += found
    if not floors:
        text = (
            f"nowhere is the body {decimal_text(2 * body.material.thickness_mm, 1)} mm high with room for"
            " a floor:"
            " check bottom and top of the side"
        )
        refusals.append(Refusal(key=f"{body.key}.side", text=text))
    for i, floor in enumerate(floors):
        refusals += floor.refusals(f"{body.key}.side", "the floor" if len(floors) == 1 else f"floor {i + 1}")
    view = View(
        body=body,
        profile=profile,
        seats=seats,
        tail=tail,
        stands=(),
        side=side,
        floors=floors,
        deck=deck,
        hatch=hatch,
        doubler=None,
    )
    doubler, found = _doubler(view)
    within = Inside(profile=profile, seats=seats, doubler=doubler)
    standing = stood(body, inputs, within, tail)
    refusals += [*found, *standing.refusals]
    return replace(view, doubler=doubler, stands=standing.stands, refusals=tuple(refusals))


def whole_side(profile: Profile) -> Polygon:
    """The side before anything is taken out of it."""
    return Polygon([*profile.bottom_line, *reversed(profile.top_line)])


def _side(body: Body, profile: Profile, seats: Seated, tail: Tails) -> tuple[Polygon, list[Refusal]]:
    whole = whole_side(profile)
    taken = [saddle.region for saddle in seats.saddles]
    taken += [slot.shape for slot in tail.slots if slot.open]
    left = whole.difference(shapely.union_all(taken)) if taken else whole
    parts = [part for part in shapely.get_parts(left) if isinstance(part, Polygon) and part.area > 1.0]
    if len(parts) == 1 and not parts[0].interiors:
        return Polygon(ring_points(parts[0])), []
    names = [saddle.surface for saddle in seats.saddles] + [slot.surface for slot in tail.slots if slot.open]
    text = (
        f'the places of {", ".join(one.key for one in names)} part the side of "{body.name}"'
        if parts
        else f'nothing is left of the side of "{body.name}"'
    )
    refusal = Refusal(key=f"{body.key}.side", text=f"{text}: move them apart, or make the body deeper")
    return whole, [refusal]


def _room(profile: Profile) -> tuple[float, float]:
    """From where to where a floor has room: about the highest place, two boards high or more."""
    need = 2 * profile.thickness_mm
    xs = [one.along_mm for one in profile.body.side]
    heights = [one.top_mm - one.bottom_mm for one in profile.body.side]
    best = heights.index(max(heights))
    if heights[best] <= need:
        return xs[best], xs[best]
    first, last = xs[0], xs[-1]
    for i in range(best, 0, -1):
        if heights[i - 1] < need:
            first = _crossing(xs[i - 1], xs[i], heights[i - 1], heights[i], need)
            break
    for i in range(best, len(xs) - 1):
        if heights[i + 1] < need:
            last = _crossing(xs[i], xs[i + 1], heights[i], heights[i + 1], need)
            break
    return first, last


def _crossing(x0: float, x1: float, h0: float, h1: float, need: float) -> float:
    return x0 + (x1 - x0) * (need - h0) / (h1 - h0)


def _without(span: tuple[float, float], taken: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """What is left of a span."""
    left = [span]
    for a, b in taken:
        left = [
            piece
            for first, last in left
            for piece in ((first, min(last, a)), (max(first, b), last))
            if piece[1] > piece[0]
        ]
    return left


def _strip(profile: Profile, a: float, b: float, *, over: bool, wide: float) -> Strip:
    line = part_of_line(profile.top_line if over else profile.bottom_line, a, b)
    return Strip(line=line, over=over, thickness_mm=profile.thickness_mm, width_mm=wide)


def _cover(
    body: Body, profile: Profile, seats: Seated, word: str, span: tuple[float, float] | None, wide: float
) -> tuple[Strip | None, list[Refusal]]:
    """The deck or the hatch, and why it cannot lie there."""
    if span is None:
        return None, []
    key = f"{body.key}.{word}"
    refusals = []
    for saddle in seats.saddles:
        both = min(span[1], saddle.span[1]) - max(span[0], saddle.span[0])
        if saddle.upwards and both > 0.01:
            text = (
                f"the {word} goes from {decimal_text(span[0], 1)} to {decimal_text(span[1], 1)} mm along and"
                f' overlaps the wing "{saddle.surface.name}" ({saddle.surface.key}), which takes'
                f" {decimal_text(saddle.span[0], 1)} to {decimal_text(saddle.span[1], 1)} mm, by"
                f" {decimal_text(both, 1)} mm: make it shorter, or move the wing"
            )
            refusals.append(Refusal(key=key, text=text))
    first, last = _room(profile)
    a, b = max(span[0], first), min(span[1], last)
    if b - a <= _SHORTEST_MM:
        text = f"the {word} would be {decimal_text(max(b - a, 0.0), 1)} mm long where the body is high enough"
        return None, [*refusals, Refusal(key=key, text=f"{text}; make it longer, or leave it out")]
    strip = _strip(profile, a, b, over=True, wide=wide)
    return strip, [*refusals, *strip.refusals(key, f"the {word}")]


def _doubler(view: View) -> tuple[Polygon | None, list[Refusal]]:
    """The outline of a nose doubler: the side's inside over its span, 1 mm under what covers it.

    Where it would be thinner than two boards it ends, and a sharp end is cut off.
    """
    span = view.body.nose_doubler_mm
    if span is None:
        return None, []
    side, profile = view.side, view.profile
    inside = side.intersection(shapely.box(span[0], side.bounds[1], span[1], side.bounds[3]))
    covers = [lying(one, DOUBLER_BELOW_MM) for one in (view.deck, view.hatch) if one is not None]
    edge = Strip(line=profile.top_line, over=True, thickness_mm=DOUBLER_BELOW_MM, width_mm=0.0)
    inside = inside.difference(
        shapely.union_all([*(lying(one) for one in view.floors), *covers, lying(edge)])
    )
    inside = blunted(inside, view.thickness_mm)
    parts = [part for part in shapely.get_parts(inside) if isinstance(part, Polygon) and not part.interiors]
    best = max(parts, key=lambda part: round(part.area, 3), default=None)
    if best is None or best.area < 100.0:
        text = (
            f"the nose doublers from {decimal_text(span[0], 1)} to {decimal_text(span[1], 1)} mm along"
            " have no room"
            " inside the body there: make them longer, or leave them out"
        )
        return None, [Refusal(key=f"{view.body.key}.nose_doubler", text=text)]
    return Polygon(ring_points(best)), []
