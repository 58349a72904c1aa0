"""The saddle of a body: what its sides give up to the wing, cut to the wing as it is generated.

The side view, mm: x aft, z up.  A side has a thickness, over which the wing changes a little: both its
faces are cleared.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely import Polygon

from foamcut.airframe.body_profile import UNIT_WORDS, Profile, height_at
from foamcut.airframe.planform import panel_beside
from foamcut.airframe.section import section_at
from foamcut.airframe.values import Body, Build, Inputs, Role, Surface
from foamcut.errors import Refusal, Refused
from foamcut.findings import Finding, Level
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

#: room before and behind the wing
CLEAR_MM = 1.0
#: the least of a side that has to be left at a saddle (common practice, no source)
_LEAST_SIDE_MM = 12.0
#: a gap between side and wing that tape does not close
_GAP_MM = 0.5
#: a body this wide, as a share of its length, is told of with what follows of it (common practice, no source)
_WIDE = 0.3
#: beyond any body
_FAR_MM = 1.0e5


@dataclass(frozen=True, slots=True, kw_only=True)
class Saddle:
    """What a wing takes out of the sides: open upwards, or for a low wing downwards.

    `line` is the saddle's edge, from front to rear, clearance included; `inner_line` the one that nothing
    inside the body may pass, the middle of the wing counted.
    """

    surface: Surface
    upwards: bool
    line: tuple[Point, ...]
    inner_line: tuple[Point, ...]

    @property
    def span(self) -> tuple[float, float]:
        """From where to where along the model the side is open."""
        return self.line[0][0], self.line[-1][0]

    @property
    def region(self) -> Polygon:
        """All that is taken out."""
        far = _FAR_MM if self.upwards else -_FAR_MM
        first, last = self.span
        return Polygon([(first, far), *self.line, (last, far)])

    def limit(self, x0: float, x1: float) -> float | None:
        """z up to which (a low wing: from which) plates between two places may stand; None: no wing."""
        return extreme(self.inner_line, x0, x1, low=self.upwards)


def extreme(line: Sequence[Point], x0: float, x1: float, *, low: bool) -> float | None:
    """The lowest or highest z of a line between two places; None when they miss it."""
    a, b = max(x0, line[0][0]), min(x1, line[-1][0])
    if a >= b:
        return None
    heights = [height_at(line, a), height_at(line, b), *(z for x, z in line if a <= x <= b)]
    return min(heights) if low else max(heights)


def outline_beside(surface: Surface, y_mm: float) -> Polygon:
    """The outline of a surface so far from the centre plane, (x, z).

    Raises
    ------
    Refused
        The surface has no section there.
    """
    panel, s = panel_beside(surface, y_mm)
    if surface.build is Build.FLAT:
        t = surface.material.thickness_mm
        lead, trail = panel.leading(s), panel.trailing(s)
        outline: Sequence[Point] = ((lead, 0.0), (trail, 0.0), (trail, t), (lead, t))
    else:
        try:
            outline = section_at(surface, panel, s).outline
        except ValueError:
            text = (
                f'beside the body, {decimal_text(y_mm)} mm out, "{surface.name}" has no section that can be'
                " folded: mend it first"
            )
            raise Refused([Refusal(key=surface.key, text=text)]) from None
    leans = panel.up[1] / panel.out[1]  # stay at the same distance from the centre plane
    points = [panel.point(c, s - n * leans, n) for c, n in outline]
    return Polygon([(x, z) for x, _, z in points])


def swept_beside(surface: Surface, y0_mm: float, y1_mm: float) -> shapely.Geometry:
    """All that the outline of a surface passes from one distance from the centre plane to another, (x, z).

    Its corners run along straight lines from one section to the other, as those of a ruled skin do.

    Raises
    ------
    Refused
        The surface has no section there.
    """
    ends = [outline_beside(surface, y) for y in (y0_mm, y1_mm)]
    first, last = (shapely.get_coordinates(one.exterior).tolist() for one in ends)
    passed = []
    if len(first) == len(last):
        for (a, b), (c, d) in zip(pairwise(first), pairwise(last), strict=True):
            passed.append(shapely.MultiPoint([a, b, c, d]).convex_hull)
    return shapely.union_all([*(shapely.make_valid(one) for one in ends), *passed])


@dataclass(frozen=True, slots=True, kw_only=True)
class Seated:
    """The saddles of a body, and what is said of them."""

    saddles: tuple[Saddle, ...] = ()
    refusals: tuple[Refusal, ...] = ()
    findings: tuple[Finding, ...] = ()

    def limits(self, x0: float, x1: float) -> tuple[float | None, float | None]:
        """The lowest z that a high wing leaves between two places, the highest that a low wing reaches."""
        found: dict[bool, list[float]] = {True: [], False: []}
        for saddle in self.saddles:
            limit = saddle.limit(x0, x1)
            if limit is not None:
                found[saddle.upwards].append(limit)
        return min(found[True], default=None), max(found[False], default=None)

    def floor_open(self, x0: float, x1: float) -> bool:
        """Whether a low wing takes all the floor's place between two places."""
        return any(s.span[0] <= x0 and x1 <= s.span[1] for s in self.saddles if not s.upwards)


def seated(body: Body, inputs: Inputs) -> Seated:
    """The saddles for every wing over or under the body."""
    saddles: list[Saddle] = []
    refusals: list[Refusal] = []
    findings: list[Finding] = []
    for surface in inputs.surfaces:
        if surface.role is not Role.WING:
            continue
        try:
            found = _seat(body, surface)
        except Refused as refused:
            refusals += refused.refusals
            continue
        if isinstance(found, Refusal):
            if not any(_touches(other, surface) for other in inputs.bodies if other is not body):
                refusals.append(found)
        elif found is not None:
            saddles.append(found)
            refusals += _left(body, found)
            findings += _gaps(body, found)
    return Seated(saddles=tuple(saddles), refusals=tuple(refusals), findings=tuple(findings))


def _touches(body: Body, surface: Surface) -> bool:
    return isinstance(_seat(body, surface), Saddle)


def _seat(body: Body, surface: Surface) -> Saddle | Refusal | None:
    """The saddle; a refusal when the wing lies off the body; None when the body ends before it."""
    profile = Profile(body=body)
    half, t = body.width_mm / 2, body.material.thickness_mm
    if surface.half_span_mm <= half:
        text = (
            f'"{surface.name}" reaches {decimal_text(surface.half_span_mm, 1)} mm out and "{body.name}" is'
            f" {decimal_text(body.width_mm, 1)} mm wide: a wing has to reach beyond the body"
        )
        return Refusal(key=surface.key, text=text)
    beside = swept_beside(surface, half - t, half)
    first, _, last, _ = beside.bounds
    if last <= profile.front_mm or first >= profile.rear_mm:
        return None
    whole = shapely.union_all([beside, swept_beside(surface, 0.0, half - t)])
    lower, upper = _edge(beside, low=True), _edge(beside, low=False)
    middle = (max(first, profile.front_mm) + min(last, profile.rear_mm)) / 2
    wing_z = (height_at(lower, middle) + height_at(upper, middle)) / 2
    upwards = 2 * wing_z >= profile.bottom(middle) + profile.top(middle)
    line, edge = (lower, profile.top_line) if upwards else (upper, profile.bottom_line)
    gaps = [gap if upwards else -gap for gap in _differences(line, edge, profile)]
    if min(gaps) > 0:
        where = "above" if upwards else "below"
        text = (
            f'"{surface.name}" lies {decimal_text(min(gaps), 1)} mm {where} the sides of "{body.name}" all'
            f" along its chord ({body.key}.side): move the wing, or make the body"
            f" {'higher' if upwards else 'deeper'}"
        )
        if profile.slender > _WIDE:
            text += f"; the body is {decimal_text(body.width_mm, 1)} mm wide ({body.key}.width): {UNIT_WORDS}"
        return Refusal(key=surface.key, text=text)
    inner = _edge(whole, low=upwards)
    return Saddle(
        surface=surface,
        upwards=upwards,
        line=_longer(line, low=upwards),
        inner_line=_longer(inner, low=upwards),
    )


def _edge(shape: shapely.Geometry, *, low: bool) -> tuple[Point, ...]:
    """The lowest or highest z of a shape over every x of its corners."""
    rings = [
        shapely.get_coordinates(part.exterior)
        for part in shapely.get_parts(shape)
        if isinstance(part, Polygon)
    ]
    pairs = [pair for ring in rings for pair in pairwise(ring.tolist())]
    points = []
    for x in sorted({corner[0] for a, b in pairs for corner in (a, b)}):
        heights = []
        for (x0, z0), (x1, z1) in pairs:
            if min(x0, x1) <= x <= max(x0, x1):
                heights += [z0, z1] if x0 == x1 else [z0 + (z1 - z0) * (x - x0) / (x1 - x0)]
        points.append((x, min(heights) if low else max(heights)))
    return _thinned(points)


def _thinned(points: Sequence[Point]) -> tuple[Point, ...]:
    """Without points that lie on a straight line with their neighbours, or on one another."""
    kept: list[Point] = []
    for point in points:
        if kept and math.dist(point, kept[-1]) <= 0.001:
            continue
        while len(kept) > 1 and abs(height_at([kept[-2], point], kept[-1][0]) - kept[-1][1]) <= 1e-7:
            kept.pop()
        kept.append(point)
    return tuple(kept)


def _longer(line: Sequence[Point], *, low: bool) -> tuple[Point, ...]:
    """The line with the clearance before and behind it, a blunt end's steep face left inside it."""
    front = _blunt(line, low=low)
    points = list(reversed(_blunt(list(reversed(front)), low=low)))
    (x0, z0), (x1, z1) = points[0], points[-1]
    return _thinned([(x0 - CLEAR_MM, z0), *points, (x1 + CLEAR_MM, z1)])


def _blunt(line: Sequence[Point], *, low: bool) -> list[Point]:
    """A line that begins with a step: its first point is moved square to the step's foot."""
    points = list(line)
    for i in range(1, len(line) - 1):
        (x0, z0), (x, z) = points[0], line[i]
        away = z < z0 if low else z > z0
        if abs(x - x0) > CLEAR_MM or not (away and abs(z - z0) > abs(x - x0)):
            break
        points = [(x0, z), *line[i:]]
    return points


def _differences(line: Sequence[Point], edge: Sequence[Point], profile: Profile) -> list[float]:
    """z of the line less z of the edge at all corners of both, where the body is."""
    first, last = max(line[0][0], profile.front_mm), min(line[-1][0], profile.rear_mm)
    xs = [first, last, *(x for x, _ in (*line, *edge) if first < x < last)]
    return [height_at(line, x) - height_at(edge, x) for x in sorted(xs)]


def _left(body: Body, saddle: Saddle) -> list[Refusal]:
    """A side too low at its saddle."""
    profile = Profile(body=body)
    edge = profile.bottom_line if saddle.upwards else profile.top_line
    gaps = _differences(saddle.line, edge, profile)
    left = min(gaps if saddle.upwards else (-gap for gap in gaps))
    if left >= _LEAST_SIDE_MM:
        return []
    where = "below" if saddle.upwards else "above"
    text = (
        f'{where} the wing "{saddle.surface.name}" {decimal_text(max(left, 0.0), 1)} mm of the side of'
        f' "{body.name}" would be left ({body.key}.side), less than {decimal_text(_LEAST_SIDE_MM)} mm:'
        " move the"
        " wing, or make the body deeper there"
    )
    return [Refusal(key=saddle.surface.key, text=text)]


def _gaps(body: Body, saddle: Saddle) -> list[Finding]:
    """Where the wing leaves the side's edge."""
    profile = Profile(body=body)
    edge = profile.top_line if saddle.upwards else profile.bottom_line
    gaps = _differences(saddle.line, edge, profile)
    worst = max(gaps if saddle.upwards else (-gap for gap in gaps))
    if worst <= _GAP_MM:
        return []
    value = f"{decimal_text(worst, 1)} mm"
    return [
        Finding(
            code="body-panel",
            level=Level.WARNING,
            where=saddle.surface.key,
            text=f'the wing "{saddle.surface.name}" lies up to {value} off the edge of the sides of'
            f' "{body.name}"',
            value=value,
            range=f"at most {decimal_text(_GAP_MM, 1)} mm",
            source="common practice, no source",
            mend="move the wing, or the readings of the side there",
        )
    ]
