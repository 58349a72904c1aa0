"""Where neighbouring skins of a folded surface are joined: patches inside, tape outside.

mm; c, s and n are those of the panel.
"""

import itertools
import math
from collections.abc import Iterator
from dataclasses import replace

from foamcut.airframe.folded_controls import hinged
from foamcut.airframe.folded_flat import FlatSkin
from foamcut.airframe.folded_piece import Piece
from foamcut.airframe.made import Made
from foamcut.airframe.planform import Panel
from foamcut.airframe.section import Section, section_at
from foamcut.airframe.skin_outline import thinned
from foamcut.airframe.skin_spans import MOST_ERROR_MM, Layout
from foamcut.airframe.skin_stock import thin_stock
from foamcut.airframe.values import Inputs, Material, Role, Surface
from foamcut.findings import Finding, Level
from foamcut.flat.drawn import DrawnMark, DrawnPart, Face, Hand, Place, Reading, Readings
from foamcut.flat.outline import Point
from foamcut.flat.placement import rounded
from foamcut.units import decimal_text

#: how far a patch reaches to each side of a joint, and between it and the spar (common practice, no source)
REACH_MM, OFF_SPAR_MM = 30.0, 1.0
#: the least width of a patch, and the room over it that glue takes
_LEAST_MM, _GLUE_MM = 10.0, 0.3
#: tape over a joint, to each side
_TAPE_MM = 12.0
_WORDS = ("front", "rear")


def joint_made(surface: Surface, inputs: Inputs, layout: Layout) -> Made:
    """The patches of every joint along the span, and what is said of it."""
    thin = thin_stock(surface, inputs)
    parts: list[DrawnPart] = []
    findings: list[Finding] = []
    for number, (before, after) in enumerate(zip(layout.skins, layout.skins[1:], strict=False), 1):
        spans = [one.piece.last_mm - one.piece.first_mm for one in (before, after)]
        reach = min(REACH_MM, *(span / 2 - OFF_SPAR_MM for span in spans))
        patches = _patches(surface, (before.piece, after.piece), number, reach)
        bent = before.piece.panel is not after.piece.panel and bool(after.piece.first_tilt_deg)
        made = [] if bent else list(patches)
        parts += made
        findings.append(
            replace(
                _said(surface, before.piece.last_mm, made, why=_why(layout, before, after), bent=bent),
                mend="" if made or bent else _mend(surface, thin),
            )
        )
    return Made(parts=tuple(parts), findings=tuple(findings))


def patch_stock(surface: Surface) -> Material | None:
    """Thin stock for the patches: that given, or the joiner's."""
    if surface.patches is not None:
        return surface.patches
    return surface.joiner.material if surface.joiner is not None else None


def _patches(surface: Surface, pieces: tuple[Piece, Piece], number: int, reach: float) -> Iterator[DrawnPart]:
    stock = patch_stock(surface)
    if stock is None:
        return
    before, after = (one.panel for one in pieces)
    s = pieces[0].last_mm
    ends = [s - reach, s, s + reach]
    rooms = [
        _rooms(surface, panel, one, stock.thickness_mm)
        for panel, one in zip((before, before, after), ends, strict=True)
    ]
    for which, word in enumerate(_WORDS):
        low = [room[which][0] for room in rooms]
        high = [room[which][1] for room in rooms]
        if min(b - a for a, b in zip(low, high, strict=True)) < _LEAST_MM:
            continue
        rear, front = (thinned(list(zip(line, ends, strict=True))) for line in (high, low))
        corners = [front[0], *rear, *reversed(front[1:])]
        key = f"{surface.key}.patch[{2 * number - 2 + which}]"
        yield DrawnPart(
            key=key,
            name=f"{surface.name}-patch-{number}-{word}",
            stock=stock.name,
            thickness_mm=stock.thickness_mm,
            shape=Readings(
                key=f"{key}.outline",
                points=tuple(
                    Reading(key=f"{key}.outline[{i}]", at=(rounded(c - low[0]), rounded(one - ends[0])))
                    for i, (c, one) in enumerate(corners)
                ),
            ),
            pair=Hand.NONE if surface.role is Role.FIN else Hand.RIGHT,
            face=Face.EITHER,
            place=Place(
                key=surface.key,
                at=before.point(low[0], ends[0], surface.material.thickness_mm + stock.thickness_mm),
                x=before.aft,
                y=before.out,
            ),
            kerf_mm=stock.kerf_mm,
        )


def _rooms(surface: Surface, panel: Panel, s: float, thickness: float) -> tuple[Point, Point]:
    """c from where to where a patch has room on the lower skin, before the spar and behind it."""
    section = section_at(surface, panel, s)
    front, rear, _ = section.spar
    least = section.thickness_mm + thickness + _GLUE_MM
    start = max(section.lower_mm[0], _reaches(section, least, front, ahead=True))
    end = min(_reaches(section, least, rear, ahead=False), section.trailing_mm)
    for control in surface.controls:
        if control.from_mm - REACH_MM <= s <= control.to_mm + REACH_MM:
            end = min(end, hinged(panel, control).hinge(s) - OFF_SPAR_MM)
    return (start + OFF_SPAR_MM, front - OFF_SPAR_MM), (rear + OFF_SPAR_MM, end)


def _reaches(section: Section, height: float, spar: float, *, ahead: bool) -> float:
    """c nearest to the nose, or to the rear, where the inner paper of the upper skin is so high."""
    points = section.upper_inner if ahead else tuple(reversed(section.upper_inner))
    if points[0][1] >= height:
        return points[0][0]
    for (c0, n0), (c1, n1) in itertools.pairwise(points):
        if n0 < height <= n1:
            return c0 + (c1 - c0) * (height - n0) / (n1 - n0)
    return spar


def _why(layout: Layout, before: FlatSkin, after: FlatSkin) -> str:
    """Why a panel that its boards would take in fewer stretches is joined; empty: they would not."""
    panel = before.piece.panel
    if after.piece.panel is not panel:
        return ""
    for one in layout.parted:
        if one.panel is panel:
            pieces = "one piece" if one.count == 1 else f"{one.count} pieces"
            return (
                f": in {pieces} its flat pattern would be {decimal_text(one.error_mm, 2)} mm off its shape on"
                f" the model, more than {decimal_text(MOST_ERROR_MM)} mm"
            )
    return ""


def _said(surface: Surface, s: float, patches: list[DrawnPart], *, why: str, bent: bool) -> Finding:
    names = " and ".join(one.name for one in patches)
    if bent:
        how = "the panels stand at an angle there: tape outside, and a filled glue joint"
    elif patches:
        how = f"inside {names} over the joint, tape outside"
    elif patch_stock(surface) is None:
        how = "tape outside alone: there is no thin stock for patches"
    else:
        how = "tape outside alone: inside there is no room for a patch"
    return Finding(
        code="skin-joined",
        level=Level.NOTE,
        where=surface.key,
        text=f'the skin of "{surface.name}" is joined {decimal_text(s)} mm out{why}; {how}',
        value=f"{decimal_text(s)} mm",
    )


def _mend(surface: Surface, thin: Material | None) -> str:
    """What to do at a joint without patches; `thin` is a thin stock that the design has."""
    card = "or glue a strip of card inside"
    stock = patch_stock(surface)
    if stock is not None:
        return f'name a stock thinner than {decimal_text(stock.thickness_mm)} mm in "patches", {card}'
    if thin is not None:
        return f'patches = "{thin.name}", {card}'
    return f'give the design a thin stock and name it, patches = "ply", {card}'


def joint_marks(flat: FlatSkin, key: str, ends: tuple[bool, bool], *, upper: bool) -> Iterator[DrawnMark]:
    """Tape over the ends at which a skin is joined, outside; `ends` says which are."""
    piece = flat.piece
    for which, joined in enumerate(ends):
        if not joined:
            continue
        inwards = _TAPE_MM / 2 if which == 0 else -_TAPE_MM / 2
        points: tuple[Point, ...]
        if upper:
            line = flat.upper[:, 0 if which == 0 else -1]
            beyond = flat.upper[:, 1 if which == 0 else -2]
            steps = [b - a for a, b in zip(line, beyond, strict=True)]
            moved = [a + step * abs(inwards) / math.hypot(*step) for a, step in zip(line, steps, strict=True)]
            points = tuple((float(x), float(y)) for x, y in moved)
        else:
            s = piece.lower_end(which) + inwards
            points = tuple(flat.lower_at(c, s) for c in (piece.panel.leading(s), piece.panel.trailing(s)))
        yield DrawnMark(
            key=f"{key}.joint[{which}]", kind="tape", face=Face.OUTER, points=points,
            width_mm=_TAPE_MM, text="tape over the joint",
        )  # fmt: skip
