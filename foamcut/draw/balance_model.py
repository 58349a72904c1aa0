"""The model from the side as outlines, and what is aboard as boxes with numbers.

Model axes, mm: points are (x aft from the nose, z up).
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from shapely import Polygon

from foamcut.airframe.body_profile import Profile
from foamcut.airframe.motor_seat import discs_of
from foamcut.airframe.motors import discs
from foamcut.airframe.planform import Panel, panels
from foamcut.airframe.section import section_at
from foamcut.airframe.values import Inputs, Role, Surface
from foamcut.draw.picture import Ink, Shape
from foamcut.flat.assembled import Standing
from foamcut.flat.outline import Point
from foamcut.flight.figures import Item, Report, Sort
from foamcut.flight.values import Aboard, Model, Setup

#: a part drawn by hand is shown where at least this share of it faces the side
_SEEN_SHARE = 0.3
_SAME_MM = 0.1
#: what is stuck to the model everywhere
_SPREAD_OUT = (Sort.BOARD, Sort.GLUE)


def model_shapes(model: Model) -> list[Shape]:
    """Bodies, parts drawn by hand, fins, sections of wing and tail at root and tip, propeller discs."""
    inputs = model.inputs
    shapes = [
        Shape(ink=Ink.MODEL, points=(*line.bottom_line, *reversed(line.top_line)), closed=True)
        for line in (Profile(body=body) for body in inputs.bodies)
        if len(line.bottom_line) > 1
    ]
    shapes += _hand_drawn(model.standing, inputs)
    fins = [one for one in inputs.surfaces if one.role is Role.FIN]
    shapes += [Shape(ink=Ink.MODEL, points=_fin(fin), closed=True) for fin in fins]
    for surface in inputs.surfaces:
        if surface.role is not Role.FIN:
            shapes += _sections(surface)
    return [*shapes, *_discs(inputs)]


def _fin(fin: Surface) -> tuple[Point, ...]:
    several = panels(fin)
    ends = [(several[0], several[0].first), *((panel, panel.last) for panel in several)]
    front = [panel.point(one.back_mm, one.out_mm, 0.0) for panel, one in ends]
    rear = [panel.point(one.back_mm + one.chord_mm, one.out_mm, 0.0) for panel, one in ends]
    return tuple((x, z) for x, _, z in (*front, *reversed(rear)))


def _sections(surface: Surface) -> Iterator[Shape]:
    """The section at the root and, over it, the outline of that at the tip."""
    several = panels(surface)
    yield Shape(ink=Ink.LIFTING, points=_section(surface, several[0], 0.0), closed=True)
    yield Shape(ink=Ink.TIP, points=_section(surface, several[-1], surface.half_span_mm), closed=True)


def wing_sections(inputs: Inputs) -> list[tuple[str, Shape]]:
    """Those of the wing with their words; none without one."""
    if inputs.wing is None:
        return []
    return list(zip(("root", "tip"), _sections(inputs.wing), strict=True))


def _section(surface: Surface, panel: Panel, s_mm: float) -> tuple[Point, ...]:
    try:
        outline = section_at(surface, panel, s_mm).outline
    except ValueError:  # it cannot be built: its chord and board
        front, rear, thick = panel.leading(s_mm), panel.trailing(s_mm), surface.material.thickness_mm
        outline = ((front, 0.0), (rear, 0.0), (rear, thick), (front, thick))
    placed = panel.points(np.array([(c, s_mm, n) for c, n in outline]))
    return tuple((x, z) for x, _, z in placed.tolist())


def _discs(inputs: Inputs) -> Iterator[Shape]:
    """Propeller discs edge on; those of a pair lie over each other."""
    seen: dict[tuple[float, ...], None] = {}
    for disc in discs(inputs):
        forwards, _, up = disc.forwards
        length = math.hypot(forwards, up)
        x, _, z = disc.middle
        if length < _SAME_MM / 100:
            continue
        dx, dz = (0.0 - up) / length * disc.diameter_mm / 2, forwards / length * disc.diameter_mm / 2
        line = (x - dx, z - dz), (x + dx, z + dz)
        key = tuple(round(value, 1) for point in line for value in point)
        if key not in seen:
            seen[key] = None
            yield Shape(ink=Ink.DISC, points=line)


def _hand_drawn(standing: Iterable[Standing], inputs: Inputs) -> Iterator[Shape]:
    """Panels of parts drawn by hand that face the side."""
    names = [one.name for one in inputs.surfaces] + [one.name for one in inputs.bodies]
    names += [f"motor-{one.name}" for one in inputs.motors] + ["servo", "dowel"]
    made = tuple(f"{name}-" for name in names)
    for one in standing:
        if one.part.name.startswith(made):
            continue
        for board in one.boards:
            ring = board.panel.outline.rings()[0]
            flat = np.array([(x, y, 0.0, 1.0) for x, y in ring])
            seen = Polygon((flat @ board.panel.pose.matrix.T)[:, [0, 2]])
            if seen.area > _SEEN_SHARE * Polygon(ring).area:
                yield Shape(ink=Ink.MODEL, points=tuple(seen.exterior.coords)[:-1], closed=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """Something aboard: its middle, its size from the side (long, high), what one of it weighs, how many."""

    key: str
    name: str
    at: Point
    mass_g: float | None
    count: int = 1
    size_mm: tuple[float, float] | None = None
    should_be: Point | None = None  # None: where it is

    @property
    def all_g(self) -> float:
        """What all of it weigh; 0 when that is not known."""
        return self.count * (self.mass_g or 0.0)

    def corners(self, at: Point) -> tuple[Point, ...]:
        """Its box about a middle; a small square where its size is not known."""
        long, high = self.size_mm or (0.0, 0.0)
        (x, z), a, b = at, long / 2, high / 2
        return (x - a, z - b), (x + a, z - b), (x + a, z + b), (x - a, z + b)


def things_of(report: Report, inputs: Inputs, setup: Setup) -> list[Thing]:
    """All that is aboard and has a place, from the nose aft; pairs as one."""
    own = [_aboard(one, report) for one in setup.aboard]
    own += _unweighed(report, inputs)
    known = {one.key: None for one in setup.aboard}
    known[f"{setup.weighed.key}.model"] = None  # no thing: what the scales say more than is counted
    others: dict[tuple[object, ...], list[Item]] = {}
    for item in report.items:
        if item.at is not None and item.sort not in _SPREAD_OUT and item.key not in known:
            place = round(item.at[0], 1), round(item.at[2], 1)
            others.setdefault((item.key, without_hand(item.name), *place), []).append(item)
    found = [
        Thing(
            key=items[0].key,
            name=items[0].name if len(items) == 1 else without_hand(items[0].name),
            at=(items[0].at[0], items[0].at[2]),
            mass_g=items[0].mass_g,
            count=len(items),
        )
        for items in others.values()
        if items[0].at is not None
    ]
    return sorted((*own, *found), key=lambda one: (round(one.at[0], 1), round(one.at[1], 1)))


def _unweighed(report: Report, inputs: Inputs) -> Iterator[Thing]:
    """Motors whose mass is not known, at their propellers."""
    weighed = {item.key for item in report.items}
    for motor in inputs.motors:
        several = discs_of(motor, inputs)
        if motor.key not in weighed and several:
            x, _, z = several[0].middle
            name = f"motor-{motor.name}"
            yield Thing(key=motor.key, name=name, at=(x, z), mass_g=None, count=len(several))


def without_hand(name: str) -> str:
    """The name of a pair."""
    return name.removesuffix("-right").removesuffix("-left")


def _aboard(one: Aboard, report: Report) -> Thing:
    best = next((row for row in report.places if row.is_best), None)
    moved = {} if best is None else {name: (along, up) for name, along, up in best.moved}
    should = moved.get(one.name)
    size = one.size_mm
    return Thing(
        key=one.key,
        name=one.name,
        at=one.at,
        mass_g=next((item.mass_g for item in report.items if item.key == one.key), one.mass_g),
        count=one.count,
        size_mm=None if size is None else (size[0], size[2]),
        should_be=should if should and math.dist(should, one.at) > _SAME_MM else None,
    )
