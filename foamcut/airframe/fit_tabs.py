"""Tabs in their slots on the model, both ways: measured from the parts as cut, where their places put them.

mm; model axes: x aft, y right, z up.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, Polygon

from foamcut.findings import Finding, Level
from foamcut.flat.assembled import Standing
from foamcut.flat.folded_body import Body
from foamcut.flat.part import Slot, Tab
from foamcut.units import decimal_text

#: what a builder's eye and the foam give way
OFF_MM = 0.5
#: a tab of a board's thickness that leans more binds in its slot: over 5 mm it is 0.3 mm, more than the fit
_LEAN_DEG = 3.0
#: a part that passes a slot's middle within this was meant for it
_NEAR_MM = 15.0
#: lengths that differ by a rounding are equal
_SAME_MM = 0.05


@dataclass(frozen=True, kw_only=True, eq=False)
class _Spot:
    """The middle of a tab, or of the board that a slot is cut through, and unit vectors.

    `along` is the way of its length, `through` the way a tab points or the way through a slotted board,
    `across` the way of its thickness or width.
    """

    owner: int
    middle: np.ndarray
    along: np.ndarray
    through: np.ndarray

    @property
    def across(self) -> np.ndarray:
        return np.cross(self.along, self.through)


@dataclass(frozen=True, kw_only=True, eq=False)
class TabMiss:
    """Two parts, by index, of which a tab of one misses the other's slot, and where."""

    owners: frozenset[int]
    middle: np.ndarray
    reach_mm: float


def tab_findings(model: Sequence[Standing]) -> tuple[list[Finding], list[TabMiss]]:
    """Every tab without a slot where it stands, every slot with nothing in it; and where tabs miss.

    What is told of one hand of a pair is not told of the other.
    """
    tabs = [(_tab_spot(i, one, tab), tab) for i, one in enumerate(model) for tab in one.part.tabs]
    slots = [(_slot_spot(i, one, slot), slot) for i, one in enumerate(model) for slot in one.part.slots]
    findings: list[Finding] = []
    misses: list[TabMiss] = []
    taken: set[int] = set()
    for spot, tab in tabs:
        near = _nearest(model, spot, tab, slots)
        if near is None:
            findings.append(_no_slot(model, spot, tab))
            continue
        taken.add(near)
        other, slot = slots[near]
        fault = _fault(model, spot, tab, other, slot)
        if fault:
            findings.append(_told(tab.key, fault))
            owners = frozenset((spot.owner, other.owner))
            misses.append(TabMiss(owners=owners, middle=spot.middle, reach_mm=tab.length_mm))
    for i, (spot, slot) in enumerate(slots):
        if i not in taken and not slot.open:
            findings += _empty(model, spot, slot)
    return list({finding.where: finding for finding in reversed(findings)}.values())[::-1], misses


def _tab_spot(owner: int, one: Standing, tab: Tab) -> _Spot:
    middle = tab.outline.polygon.centroid
    board = one.board_of(middle.x, middle.y)
    out = np.array([middle.x - tab.at[0], middle.y - tab.at[1]])
    out /= np.linalg.norm(out)
    return _Spot(
        owner=owner,
        middle=_inside(board, (middle.x, middle.y)),
        along=board.matrix[:3, :2] @ np.array([-out[1], out[0]]),
        through=board.matrix[:3, :2] @ out,
    )


def _slot_spot(owner: int, one: Standing, slot: Slot) -> _Spot:
    board = one.board_of(*slot.at)
    turn = math.radians(slot.turn_deg)
    return _Spot(
        owner=owner,
        middle=_inside(board, slot.at),
        along=board.matrix[:3, :2] @ np.array([math.cos(turn), math.sin(turn)]),
        through=board.matrix[:3, 2],
    )


def _inside(board: Body, at: tuple[float, float]) -> np.ndarray:
    """A place of the flat part, half way through its board, in space."""
    return np.array(board.panel.pose.point(*at, -board.part.thickness_mm / 2))


def _nearest(
    model: Sequence[Standing], spot: _Spot, tab: Tab, slots: Sequence[tuple[_Spot, Slot]]
) -> int | None:
    """The slot of the right stocks whose middle is nearest, within the tab's length."""
    own = model[spot.owner].part.stock
    found = [
        (round(float(np.linalg.norm(other.middle - spot.middle)), 6), i)
        for i, (other, slot) in enumerate(slots)
        if other.owner != spot.owner and model[other.owner].part.stock == tab.into and slot.takes == own
    ]
    off, i = min(found, default=(math.inf, -1))
    return i if off <= max(_NEAR_MM, tab.length_mm) else None


def _fault(model: Sequence[Standing], spot: _Spot, tab: Tab, other: _Spot, slot: Slot) -> str:
    """What is wrong with a tab in the slot nearest to it; empty when it fits."""
    names = f"a tab of {model[spot.owner].part.name} and its slot in {model[other.owner].part.name}"
    leans = max(_lean_deg(spot.through, other.through), _lean_deg(spot.along, other.along))
    if leans > _LEAN_DEG:
        return f"{names} stand {decimal_text(leans)} degrees askew"
    off = float(np.linalg.norm(other.middle - spot.middle))
    if off > OFF_MM:
        return f"{names} are {decimal_text(off, 2)} mm off each other ({_way(spot.middle - other.middle)})"
    lengths = f"{decimal_text(tab.length_mm, 2)} mm long, the slot {decimal_text(slot.length_mm, 2)} mm"
    if not -_SAME_MM <= slot.length_mm - tab.length_mm <= max(slot.fit_mm, 0.0) + OFF_MM:
        return f"{names} differ: the tab is {lengths}"
    thick = model[spot.owner].part.thickness_mm
    if thick > slot.width_mm + max(_SAME_MM, -slot.fit_mm):
        wide = f"{decimal_text(thick, 2)} mm thick, the slot {decimal_text(slot.width_mm, 2)} mm wide"
        return f"{names} differ: the tab is {wide}"
    return ""


def _lean_deg(a: np.ndarray, b: np.ndarray) -> float:
    """The angle between two lines, 0 to 90."""
    return math.degrees(math.acos(min(1.0, abs(float(a @ b)))))


def _way(off: np.ndarray) -> str:
    """In words which way something lies off, the parts of it that count."""
    words = (("aft", "forwards"), ("right", "left"), ("up", "down"))
    told = [
        f"{decimal_text(abs(value), 2)} mm {plus if value > 0 else minus}"
        for value, (plus, minus) in zip(off.tolist(), words, strict=True)
        if abs(value) >= _SAME_MM
    ]
    return ", ".join(told)


def _no_slot(model: Sequence[Standing], spot: _Spot, tab: Tab) -> Finding:
    part = model[spot.owner].part
    return _told(
        tab.key,
        f'on the model no slot for "{part.stock}" in a part of stock "{tab.into}" lies where the tab of'
        f" {part.name} stands, at {_place(spot.middle)}",
    )


def _place(at: np.ndarray) -> str:
    x, y, z = (decimal_text(value) for value in at.tolist())
    return f"({x}, {y}, {z}) mm aft, right, up"


def _told(where: str, text: str) -> Finding:
    return Finding(
        code="fit-tab",
        level=Level.WARNING,
        where=where,
        text=text,
        range=f"up to {decimal_text(OFF_MM)} mm",
        mend="move the tab or the slot, or mend the place of one of the parts",
    )


def _empty(model: Sequence[Standing], spot: _Spot, slot: Slot) -> Iterator[Finding]:
    """What is wrong with a slot that no tab is in: nothing, when a whole part passes it."""
    through = list(_passing(model, spot, slot))
    owner = model[spot.owner].part.name
    if not through:
        yield _told(
            slot.key,
            f'on the model no tab and no part of stock "{slot.takes}" goes into the slot of {owner}, at'
            f" {_place(spot.middle)}",
        )
        return
    off, length, name = min(through)
    if off > OFF_MM:
        yield _told(slot.key, f"{name} passes the slot of {owner} {decimal_text(off, 2)} mm off its middle")
    elif not -_SAME_MM <= slot.length_mm - length <= max(slot.fit_mm, 0.0) + OFF_MM:
        lengths = f"{decimal_text(slot.length_mm, 2)} mm long, the part {decimal_text(length, 2)} mm"
        yield _told(slot.key, f"{name} does not fit the slot of {owner}: the slot is {lengths}")


def _passing(model: Sequence[Standing], spot: _Spot, slot: Slot) -> Iterator[tuple[float, float, str]]:
    """Parts that pass through a slot: how far off its middle, how long they are there, their names."""
    for i, one in enumerate(model):
        if i == spot.owner or one.part.stock != slot.takes:
            continue
        for board in one.boards:
            if _lean_deg(board.matrix[:3, 2], spot.across) > _LEAN_DEG:
                continue
            u, v, w = (board.matrix[:3, :3].T @ (spot.middle - board.matrix[:3, 3])).tolist()
            if abs(w + one.part.thickness_mm / 2) > _NEAR_MM:
                continue
            way = board.matrix[:3, :2].T @ spot.along
            length, beside = _stretch(Polygon(board.panel.outline.rings()[0]), (u, v), way, slot.length_mm)
            if length > 0:
                off = math.hypot(w + one.part.thickness_mm / 2, beside)
                yield round(off, 6), round(length, 6), one.part.name


def _stretch(
    polygon: Polygon, at: tuple[float, float], way: np.ndarray, length: float
) -> tuple[float, float]:
    """How long a part is along a line through a place that it holds, and how far its middle is off it."""
    x0, y0, x1, y1 = polygon.bounds
    reach = length + math.hypot(x1 - x0, y1 - y0)
    ends = [(at[0] + s * reach * way[0], at[1] + s * reach * way[1]) for s in (-1.0, 1.0)]
    for piece in shapely.get_parts(LineString(ends).intersection(polygon)):
        if piece.geom_type == "LineString" and piece.distance(shapely.Point(at)) <= OFF_MM:
            middle = piece.interpolate(0.5, normalized=True)
            return piece.length, math.dist((middle.x, middle.y), at)
    return 0.0, 0.0
