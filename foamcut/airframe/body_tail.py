"""Where a stabiliser goes through the sides of a body, or sits on its deck.  The side view, mm."""

from dataclasses import dataclass

import shapely
from shapely import Polygon
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from foamcut.airframe.body_holes import ROUND_MM
from foamcut.airframe.body_profile import Profile
from foamcut.airframe.body_wing import outline_beside, swept_beside
from foamcut.airframe.planform import panel_beside
from foamcut.airframe.values import Body, Build, Inputs, Role, Surface
from foamcut.errors import Refusal, Refused
from foamcut.findings import Finding, Level
from foamcut.units import decimal_text

#: how much longer than the chord a slot is (common practice, no source)
LONGER_MM = 0.5
#: a surface this close above the edge of the sides sits on it
_SITS_MM = 0.5
#: a slot with less board than this behind it is open, else a sliver is left; what stays of a side between an
#: open slot and the underside of a deck (common practice, no source)
SLIVER_MM, _UNDER_DECK_MM = 15.0, 1.0
#: beyond any body
_FAR_MM = 1.0e5


@dataclass(frozen=True, slots=True, kw_only=True)
class TailSlot:
    """The slot of a surface through both sides; `open`: it runs out at the rear of the body.

    `inside` is all that the surface takes between the sides.
    """

    surface: Surface
    shape: Polygon
    inside: BaseGeometry
    open: bool

    @property
    def span(self) -> tuple[float, float]:
        """From where to where along the model."""
        x0, _, x1, _ = self.shape.bounds
        return x0, x1


@dataclass(frozen=True, slots=True, kw_only=True)
class Sitting:
    """A surface that sits on the body: from where to where along the model at the side."""

    surface: Surface
    span: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tails:
    """The slots of a body for its tail, what sits on it, and what is said of them."""

    slots: tuple[TailSlot, ...] = ()
    sitting: tuple[Sitting, ...] = ()
    refusals: tuple[Refusal, ...] = ()
    findings: tuple[Finding, ...] = ()


def tails(body: Body, inputs: Inputs) -> Tails:
    """Slots for every stabiliser that passes the body."""
    slots: list[TailSlot] = []
    sitting: list[Sitting] = []
    refusals: list[Refusal] = []
    findings: list[Finding] = []
    for surface in inputs.surfaces:
        if surface.role is not Role.STABILISER or surface.half_span_mm <= body.width_mm / 2:
            continue
        try:
            found = _through(body, surface)
        except Refused as refused:
            refusals += refused.refusals
            continue
        if isinstance(found, TailSlot):
            slots.append(found)
            findings += _entry(body, found)
            refusals += _open_refused(body, found)
        elif found is not None:
            sitting.append(found)
    return Tails(
        slots=tuple(slots), sitting=tuple(sitting), refusals=tuple(refusals), findings=tuple(findings)
    )


def _through(body: Body, surface: Surface) -> TailSlot | Sitting | None:
    """None when the surface lies before, behind or under the body."""
    profile = Profile(body=body)
    half, t = body.width_mm / 2, body.material.thickness_mm
    shape = shapely.union_all([_slot_beside(surface, y) for y in (half - t, half)]).convex_hull
    bare = shapely.union_all([outline_beside(surface, y) for y in (half - t, half)])
    x0, _, x1, _ = bare.bounds
    a, b = max(x0, profile.front_mm), min(x1, profile.rear_mm)
    if a >= b:
        return None
    corners = [(x, z) for x, z in shapely.get_coordinates(bare).tolist() if a <= x <= b]
    if all(z >= profile.top(x) - _SITS_MM for x, z in corners):
        return Sitting(surface=surface, span=(a, b))
    if all(z <= profile.bottom(x) + _SITS_MM for x, z in corners):
        return None
    is_open = profile.rear_mm - x1 - LONGER_MM / 2 < SLIVER_MM
    if is_open:
        panel, _ = panel_beside(surface, half)
        shape = shapely.union_all([shape, translate(shape, _FAR_MM * panel.aft[0], _FAR_MM * panel.aft[2])])
        shape = shape.convex_hull
    inside = swept_beside(surface, 0.0, half)
    return TailSlot(surface=surface, shape=shape, inside=inside, open=is_open)


def _slot_beside(surface: Surface, y_mm: float) -> Polygon:
    """The outline of a surface beside the centre plane, longer and thicker by what a slot needs."""
    fit = max(surface.material.fit_mm, 0.0)
    if surface.build is not Build.FLAT:
        return outline_beside(surface, y_mm).buffer(max(fit, LONGER_MM) / 2, join_style="mitre")
    panel, s = panel_beside(surface, y_mm)
    t, more = surface.material.thickness_mm, surface.material.fit_mm / 2
    c0, c1 = panel.leading(s) - LONGER_MM / 2, panel.trailing(s) + LONGER_MM / 2
    leans = panel.up[1] / panel.out[1]
    corners = [(c0, -more), (c1, -more), (c1, t + more), (c0, t + more)]
    points = [panel.point(c, s - n * leans, n) for c, n in corners]
    return Polygon([(x, z) for x, _, z in points])


def _entry(body: Body, slot: TailSlot) -> list[Finding]:
    """A closed slot through which the root of a surface in one piece does not pass."""
    half = body.width_mm / 2
    root = slot.surface.stations[0].chord_mm
    panel, s = panel_beside(slot.surface, half - body.material.thickness_mm)
    room = panel.chord(s) + LONGER_MM
    if slot.open or root <= room + 0.01:
        return []
    value = f"{decimal_text(root - room, 1)} mm"
    behind = Profile(body=body).rear_mm - slot.span[1] + LONGER_MM / 2
    return [
        Finding(
            code="body-panel",
            level=Level.NOTE,
            where=slot.surface.key,
            text=f'the slot for "{slot.surface.name}" in the sides of "{body.name}" is closed, and its'
            " root is"
            f" {value} longer than the slot: in one piece it cannot be slid in",
            value=value,
            source="arithmetic",
            mend="put the sides on round it when the body is glued up, or make the body"
            f" {decimal_text(behind, 1)} mm shorter ({body.key}.side), so that it ends at its trailing edge",
        )
    ]


def _open_refused(body: Body, slot: TailSlot) -> list[Refusal]:
    """An open slot that leaves too little of the side above or below it."""
    if not slot.open:
        return []
    profile = Profile(body=body)
    x0, x1 = max(slot.span[0], profile.front_mm), profile.rear_mm
    corners = [(x, z) for x, z in shapely.get_coordinates(slot.shape).tolist() if x <= x1]
    edge = shapely.box(x0, -_FAR_MM, x1, _FAR_MM)
    corners += shapely.get_coordinates(slot.shape.intersection(edge)).tolist()
    above = min(profile.top(x) - z for x, z in corners)
    below = min(z - profile.bottom(x) for x, z in corners)
    t = body.material.thickness_mm
    found = []
    decked = any(span[1] > x0 for span in profile.covers)
    over = t + _UNDER_DECK_MM if decked else ROUND_MM
    for room, need, word in ((above, over, "above"), (below, ROUND_MM + t, "below")):
        if room < need:
            text = (
                f'the slot for "{slot.surface.name}" leaves {decimal_text(max(room, 0.0), 1)} mm of the'
                " side of"
                f' "{body.name}" {word} it ({body.key}.side), less than {decimal_text(need, 1)} mm: move'
                " it, or"
                " make the body higher there"
            )
            found.append(Refusal(key=slot.surface.key, text=text))
    return found
