"""Marks where a folded surface meets its bodies: their edges, and where the model is balanced.

mm, on the flat pattern of `foamcut.airframe.folded_flat`.
"""

from collections.abc import Iterator
from functools import lru_cache

from foamcut.airframe.body_wing import seated
from foamcut.airframe.folded_flat import FlatSkin
from foamcut.airframe.planform import mean_chord, panel_beside
from foamcut.airframe.skin_lines import across_lower, line_mark
from foamcut.airframe.values import Inputs, Role, Surface
from foamcut.flat.drawn import DrawnMark, Face
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

#: from the side of the body to the balance V: a finger's place; without a body this share of the half span
_FINGER_MM, _FINGER_SHARE = 10.0, 0.15


def body_marks(flat: FlatSkin, inputs: Inputs, key: str, *, upper: bool) -> Iterator[DrawnMark]:
    """Where the edges of bodies lie, outside, on the skin that lies in the saddle."""
    surface, piece = flat.piece.surface, flat.piece
    for i, (half, upwards) in enumerate(saddles(surface, inputs)):
        panel, s = panel_beside(surface, half)
        if panel.index != piece.panel.index or not piece.holds(s):
            continue
        if not upper:
            yield line_mark(f"{key}.body_inside[{i}]", across_lower(flat, s), "side of the body")
        if upwards is upper:
            continue
        points = _over(flat, s) if upper else across_lower(flat, s)
        yield line_mark(f"{key}.body[{i}]", points, "saddle", Face.OUTER)


def _over(flat: FlatSkin, s: float) -> tuple[Point, ...]:
    """From the nose to the trailing edge of the upper skin, along its rulings."""
    panel = flat.piece.panel
    count = 24
    lead, trail = panel.leading(s), panel.trailing(s)
    return tuple(flat.upper_at(lead + (trail - lead) * (0.05 + 0.9 * i / count), s) for i in range(count + 1))


@lru_cache(maxsize=8)
def saddles(surface: Surface, inputs: Inputs) -> tuple[tuple[float, bool], ...]:
    """Half the width of every body that the surface lies on, and whether its saddle is open upwards."""
    if surface.role is not Role.WING:
        return ()
    return tuple(
        (body.width_mm / 2, one.upwards)
        for body in inputs.bodies
        for one in seated(body, inputs).saddles
        if one.surface == surface
    )


def balance_marks(flat: FlatSkin, inputs: Inputs, key: str) -> Iterator[DrawnMark]:
    """The V at a finger's place, outside: its tip at the share of the mean chord."""
    surface, panel = flat.piece.surface, flat.piece.panel
    if surface.role is not Role.WING or surface != inputs.wing:
        return
    beside = max((half for half, _ in saddles(surface, inputs)), default=None)
    s = _FINGER_SHARE * surface.half_span_mm
    if beside is not None:
        s = panel_beside(surface, beside)[1] + _FINGER_MM
    mean = mean_chord(surface)
    c = mean.leading_mm + surface.balance * mean.chord_mm
    lead, trail = panel.leading(s), panel.trailing(s)
    if not flat.piece.holds(s) or not lead < c < trail:
        return
    yield DrawnMark(
        key=f"{surface.key}.balance",
        kind="balance",
        face=Face.OUTER,
        points=(flat.lower_at(trail, s), flat.lower_at(lead, s)),
        ratio=(trail - c) / (trail - lead),
        text=f"balance {decimal_text(100 * surface.balance)} % of the mean chord",
    )
