"""Throw gauges: a card for each control surface that is pushed over the trailing edge and stops the throw.

mm, degrees.  A card's section has the hinge at (0, 0), x aft, y up; of a fin it is seen from above, y to the
right, so that its print can be read while it is used.  Its cut-out
holds what is fixed ahead of the hinge, and behind it what the control sweeps from full throw to full throw.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely import Polygon
from shapely.affinity import rotate, scale, translate

from foamcut.airframe.flat_controls import Hinged
from foamcut.airframe.planform import panel_at
from foamcut.airframe.section import section_at
from foamcut.airframe.values import Build, Inputs, Role
from foamcut.draw.balance_words import shortened
from foamcut.draw.flow import Block
from foamcut.draw.gauges_cards import (
    Card,
    angle_words,
    cut_edge,
    fine,
    gauge,
    length_words,
    name_words,
    shifted,
    text,
)
from foamcut.draw.values import Align, Line, Stroke, Text
from foamcut.flat.outline import Point
from foamcut.flight.controls_shape import Hung, hung
from foamcut.units import decimal_text

#: how far the card grips ahead of the hinge, room round what is fixed, and past the trailing edge, mm
GRIP_MM, _LOOSE_MM, _PAST_MM = 25.0, 0.2, 2.0
#: of the card: above and below the cut-out, and behind it with the words there, mm
_ARM_MM, _BACK_MM = 11.0, 31.0
#: the highest card, mm, and the largest throw that a card shows, degrees: as far as bevels go
_HIGHEST_MM, _MOST_DEG = 200.0, 60.0
_STEP_DEG = 5
#: words of full throw stand at least so far off those of the other side, each, mm
_LEVEL_MM = 3.6
_TICKS_MM = {True: 6.0, False: 2.5}
_ARC_DEG = 0.5
#: what lies before the hinge, and what behind it
_HALVES = shapely.box(-1e4, -1e4, 0.0, 1e4), shapely.box(0.0, -1e4, 1e4, 1e4)


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """A control and what is fixed ahead of it, in section at its middle, the hinge at (0, 0).

    `side` is 1 where the board lies above the hinge on the card, -1 where below.  `reach_mm`
    is the radius at which the card shows the throw: the control's depth where it is deepest, or less where
    the page is too small.
    """

    hung: Hung
    fixed: Polygon
    thickness_mm: float
    side: int
    reach_mm: float

    @property
    def throw_deg(self) -> float:
        """To each side."""
        return self.hung.control.throw_deg

    @property
    def bevel_deg(self) -> float:
        """Of the board at the hinge, from square."""
        control = self.hung.control
        ends = control.from_mm, control.to_mm
        return Hinged(control=control, from_mm=ends[0], to_mm=ends[1], hinge_mm=(0.0, 0.0)).bevel_deg

    @property
    def throw_mm(self) -> float:
        """How far from neutral the control's paper is at the reach: reach x sin(throw)."""
        return self.reach_mm * math.sin(math.radians(self.throw_deg))

    @property
    def hole(self) -> Polygon:
        """What is cut out: the fixed section, the sector of the paper at the hinge, the board beside it."""
        out, limit = self.reach_mm + _PAST_MM, self.throw_deg
        fixed = self.fixed.buffer(_LOOSE_MM, join_style="mitre").intersection(_HALVES[0])
        sector = Polygon([(0.0, 0.0), *_arc(out, 0.0, -limit, limit)])
        whole = shapely.union_all([fixed, sector, self._board(out)])
        return max(shapely.get_parts(whole), key=lambda one: round(one.area, 6))

    def _board(self, out: float) -> Polygon:
        """What the board sweeps on its own side of the hinge, from rest to full throw."""
        body = self.side * self.thickness_mm
        # its bevel is steeper than the throw, so that nothing of it goes ahead of the hinge
        bevelled = min(self.thickness_mm * math.tan(math.radians(self.bevel_deg)), out / 2)
        rest = [(0.0, 0.0), (out, 0.0), (out, body), (0.0, body)]
        corner = _arc(math.hypot(bevelled, body), math.degrees(math.atan2(body, bevelled)), 0.0, self._full)
        moved = Polygon([(0.0, 0.0), (out, 0.0), (out, body), (bevelled, body)])
        swept = [Polygon(rest), rotate(moved, self._full, origin=(0, 0)), Polygon([(0.0, 0.0), *corner])]
        return shapely.union_all(swept).intersection(_HALVES[1])

    @property
    def _full(self) -> float:
        """The throw to the side on which the board lies, degrees."""
        return self.side * self.throw_deg


def throw_gauges(inputs: Inputs, units: str, width_mm: float) -> Iterator[Block]:
    """A card for every control surface that moves."""
    for surface in inputs.surfaces:
        for one in hung(surface):
            swing = swing_of(one, width_mm)
            if swing is not None:
                yield _gauge(swing, units, width_mm)


def swing_of(one: Hung, width_mm: float) -> Swing | None:
    """The section of a control; None where it does not move, or has no depth to show it on."""
    throw, depth = one.control.throw_deg, one.widest_mm
    if not 0.5 <= throw <= _MOST_DEG or depth < 5.0:
        return None
    surface, t = one.surface, one.surface.material.thickness_mm
    room = (_HIGHEST_MM - 2 * _ARM_MM - t) / 2 / math.sin(math.radians(throw)) - _PAST_MM
    reach = min(depth, room, width_mm - GRIP_MM - _PAST_MM - _BACK_MM)
    side = 1 if surface.build is Build.FOLDED else -1
    hinge_n = 0.0 if side > 0 else t
    fixed = translate(_section(one), yoff=-hinge_n)
    if surface.role is Role.FIN:
        # a section of a fin has its left side up: seen from above with the nose at the left that is its right
        side, fixed = -side, scale(fixed, yfact=-1.0, origin=(0, 0))
    return Swing(hung=one, fixed=fixed, thickness_mm=t, side=side, reach_mm=reach)


def _section(one: Hung) -> Polygon:
    """What is fixed ahead of the hinge at the control's middle, c from the hinge, n from the lower paper."""
    surface = one.surface
    s = (one.control.from_mm + one.control.to_mm) / 2
    panel, hinge = panel_at(surface, s), one.hinge(s)
    t = surface.material.thickness_mm
    front = shapely.box(-GRIP_MM - 10.0, -t, 0.0, 1e4)
    try:
        whole = translate(Polygon(section_at(surface, panel, s).outline), xoff=-hinge)
        cut = shapely.intersection(shapely.make_valid(whole), front)
    except ValueError:  # a section that cannot be built
        cut = Polygon()
    if not isinstance(cut, Polygon) or cut.is_empty or cut.bounds[2] < -1.0:
        return shapely.box(-GRIP_MM, 0.0, 0.0, t)
    return cut


def _arc(radius: float, at_deg: float, first_deg: float, last_deg: float) -> list[Point]:
    """Points of an arc, from `first_deg` to `last_deg` beyond a direction."""
    steps = max(2, math.ceil(abs(last_deg - first_deg) / _ARC_DEG))
    return [_polar(radius, at_deg + first_deg + (last_deg - first_deg) * i / steps) for i in range(steps + 1)]


def _polar(radius: float, deg: float) -> Point:
    return radius * math.cos(math.radians(deg)), radius * math.sin(math.radians(deg))


def _gauge(swing: Swing, units: str, width_mm: float) -> Block:
    one = swing.hung
    word, named = one.control.word, name_words(one.surface.name)
    ways = _ways(swing)
    deg, depth = decimal_text(swing.throw_deg, 2), one.widest_mm
    mm = depth * math.sin(math.radians(swing.throw_deg))
    sentences = [
        f"For the throw of the {word}: {deg} deg to each side, {length_words(mm, units)} at its trailing edge"
        f" where it is deepest, {length_words(depth, units)} behind the hinge line. Push the cut-out over the"
        " trailing edge from behind, in the middle of the control, until the card grips what is fixed before"
        " the hinge, and hold it square to the hinge line.",
        f"At full throw the control just touches the edge of the cut-out, {ways[0]} and {ways[1]}; with the"
        " stick in the middle it points at 0.",
    ]
    if one.surface.role is Role.FIN:
        sentences.append("It is read from above, the print up.")
    if one.count == 2:
        sentences.append("The card serves both halves: turn it over for the other one.")
    if swing.reach_mm < depth - 0.05:
        sentences.append(
            "The page is too small for all of its depth: the card shows the throw"
            f" {length_words(swing.reach_mm, units)}"
            f" behind the hinge line, where it is {length_words(swing.throw_mm, units)}."
        )
    return gauge(f"Throw gauge, {word} of {named}", sentences, _card(swing, units), width_mm)


def _ways(swing: Swing) -> tuple[str, str]:
    return ("right", "left") if swing.hung.surface.role is Role.FIN else ("up", "down")


def _card(swing: Swing, units: str) -> Card:
    hole, out = swing.hole, swing.reach_mm + _PAST_MM
    low, high = hole.bounds[1] - _ARM_MM, hole.bounds[3] + _ARM_MM
    sheet = shapely.box(-GRIP_MM, low, out + _BACK_MM, high)
    left = max(shapely.get_parts(sheet.difference(hole)), key=lambda one: round(one.area, 6))
    strokes = [_ring(left)]
    strokes.append(fine((0.0, 0.0), (out, 0.0), line=Line.CENTRE))
    body = swing.side * swing.thickness_mm
    strokes.append(fine((0.0, body), (swing.reach_mm, body), (swing.reach_mm, 0.0), line=Line.DIMENSION))
    strokes += _scale(swing, out)
    texts = [*_limits(swing, out, units), *_names(swing, high)]
    return Card(
        width_mm=GRIP_MM + out + _BACK_MM,
        height_mm=high - low,
        strokes=shifted(strokes, GRIP_MM, -low),
        texts=Block(height_mm=0.0, texts=tuple(texts)).moved(GRIP_MM, -low).texts,
    )


def _ring(polygon: Polygon) -> Stroke:
    points = [(x, y) for x, y in shapely.get_coordinates(polygon.exterior).tolist()]
    return cut_edge(points[:-1])


def _scale(swing: Swing, out: float) -> Iterator[Stroke]:
    """Ticks behind the arc: every 5 degrees, longer ones at rest and at full throw."""
    limit = swing.throw_deg
    steps = range(_STEP_DEG, math.ceil(limit), _STEP_DEG)
    for deg in (0.0, limit, -limit, *(float(sign * step) for step in steps for sign in (1, -1))):
        length = _TICKS_MM[deg in (0.0, limit, -limit)]
        yield fine(_polar(out, deg), _polar(out + length, deg))


def _limits(swing: Swing, out: float, units: str) -> Iterator[Text]:
    """What stands behind the ticks of full throw and of rest."""
    at = out + _TICKS_MM[True] + 1.0
    x, y = _polar(at, swing.throw_deg)
    y = max(y, _LEVEL_MM)
    ways, deg = _ways(swing), decimal_text(swing.throw_deg, 1)
    mm = _short_length(swing.throw_mm, units)
    upper, lower = (f"{way} {deg} deg" for way in ways)
    yield text(upper, (x, y + 1.6))
    yield text(mm, (x, y - 2.4))
    yield text(lower, (x, -y - 1.2))
    yield text(mm, (x, -y - 5.2))
    if y > 6.5:
        yield text("0", (at, -1.25))


def _short_length(mm: float, units: str) -> str:
    return length_words(mm, units).partition(" (")[0]


def _names(swing: Swing, high: float) -> Iterator[Text]:
    """What the card is for, in its upper arm, and what stands in the cut-out where it has room."""
    one = swing.hung
    behind, _ = _polar(swing.reach_mm + _PAST_MM + _TICKS_MM[True], swing.throw_deg)
    room = GRIP_MM + behind - 5.0
    words = shortened(f"{one.control.word} of {one.surface.name}, {angle_words(swing.throw_deg)}", room)
    yield text(words, (3.0 - GRIP_MM, high - 5.5))
    wide = swing.reach_mm * math.sin(math.radians(swing.throw_deg))
    if wide > 12.0 and swing.reach_mm > 30.0:
        y = -4.5 if swing.side > 0 else 2.0
        yield text("cut out", (swing.reach_mm - 2.0, y), height_mm=1.8, align=Align.RIGHT)
