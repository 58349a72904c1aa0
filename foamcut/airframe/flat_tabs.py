"""How a fin stands on what carries it: its lower edge, its tabs.

mm; c and s of the fin's panel: aft from the root's leading edge, up from the root.
"""

import shapely
from shapely import Polygon

from foamcut.airframe.flat_base import Base, base_of
from foamcut.airframe.flat_sheet import Sheet
from foamcut.airframe.meets import TabInto
from foamcut.airframe.planform import panels
from foamcut.airframe.values import Inputs, Surface
from foamcut.findings import Finding, Level
from foamcut.flat.drawn import DrawnSlot, DrawnTab
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

#: a tab takes this share of a straight stretch of root, from a least to a most (common practice, no source)
_SHARE, _LEAST_MM, _MOST_MM = 0.4, 12.0, 50.0
#: a stretch longer than this has two tabs (common practice, no source)
_TWO_MM = 180.0
#: a root higher or lower than this over its base is told of
_OFF_MM = 0.5
_FAR_MM = 1.0e5


def trimmed_root(fin: Surface, shape: Polygon, base: Base) -> Polygon:
    """A fin with its lower edge along what carries it; `shape` reaches below it."""
    (x, z), line = fin.at, base.line
    first, last = line[0], line[-1]
    above = [(first[0] - _FAR_MM, first[1]), *line, (last[0] + _FAR_MM, last[1])]
    corners = [(px - x, pz - z) for px, pz in above]
    region = Polygon([*corners, (_FAR_MM * 2, _FAR_MM), (-_FAR_MM * 2, _FAR_MM)])
    pieces = shapely.get_parts(shape.intersection(region))
    return max((one for one in pieces if isinstance(one, Polygon)), key=lambda one: one.area)


def tabs_of(fin: Surface, base: Base, shape: Polygon) -> tuple[TabInto, ...]:
    """The tabs of a fin along its lower edge, whose middles lie where `along_mm` says on that edge.

    One in each straight stretch of root that lies on the board, two where it is long.
    """
    x = fin.at[0]
    found: list[TabInto] = []
    for stretch in _stretches(fin, base, shape):
        (c0, _), (c1, _) = stretch
        long = c1 - c0
        count = 2 if long > _TWO_MM else 1
        length = min(_SHARE * long / count, _MOST_MM)
        if length < _LEAST_MM:
            continue
        for i in range(count):
            middle = x + c0 + long * (2 * i + 1) / (2 * count)
            found.append(
                TabInto(key=f"{fin.key}.tabs[{len(found)}]", along_mm=middle, length_mm=round(length, 3))
            )
    return tuple(found)


def _stretches(fin: Surface, base: Base, shape: Polygon) -> list[tuple[Point, Point]]:
    """The straight stretches of a fin's lower edge that lie on the board of its base, front to rear."""
    x, z = fin.at
    found = []
    for x0, x1 in base.spans:
        edge = shapely.LineString([(x0 - x, base.top(x0) - z), (x1 - x, base.top(x1) - z)])
        lying = shape.boundary.intersection(edge.buffer(1e-4, cap_style="flat"))
        if lying.is_empty:
            continue
        c0, _, c1, _ = lying.bounds
        if c1 - c0 > _LEAST_MM:
            found.append(((c0, base.top(x + c0) - z), (c1, base.top(x + c1) - z)))
    return found


def drawn_tabs(sheet: Sheet, base: Base, tabs: tuple[TabInto, ...]) -> tuple[DrawnTab, ...]:
    """The tabs on the fin as drawn."""
    x, z = sheet.surface.at
    return tuple(
        DrawnTab(
            key=tab.key,
            at=sheet.drawn(tab.along_mm - x, base.top(tab.along_mm) - z),
            length_mm=tab.length_mm,
            into=base.into.name,
            into_thickness_mm=base.into.thickness_mm,
        )
        for tab in tabs
    )


def slots_for(sheet: Sheet, fin: Surface, base: Base, tabs: tuple[TabInto, ...]) -> tuple[DrawnSlot, ...]:
    """The slots in a stabiliser for the tabs of a fin that stands on it."""
    panel = panels(sheet.surface)[0]
    middles = [panel.place((tab.along_mm, 0.0, base.top(tab.along_mm)))[0] for tab in tabs]
    return tuple(
        DrawnSlot(
            key=f"{tab.key}.slot",
            at=sheet.drawn(c, 0.0),
            length_mm=tab.length_mm,
            takes=fin.material.name,
            takes_thickness_mm=fin.material.thickness_mm,
            fit_mm=fin.material.fit_mm,
        )
        for tab, c in zip(tabs, middles, strict=True)
    )


def root_findings(fin: Surface, inputs: Inputs, tabs: tuple[TabInto, ...]) -> tuple[Finding, ...]:
    """What is said of the root of a fin: nothing under it, no room for a tab, shaped to its base."""
    base = base_of(fin, inputs)
    if base is None or not tabs:
        under = "no deck and no stabiliser lies" if base is None else f"{base.words} leaves no room for a tab"
        return (
            Finding(
                code="fin-root",
                level=Level.WARNING,
                where=fin.key,
                text=f'under the root of "{fin.name}" {under}: it has no tab, and is glued on as it is',
                source="geometry of the numbers given",
                mend="let the deck reach under it, or put its root on the deck or the stabiliser",
            ),
        )
    off = max(abs(base.top(x) - fin.at[1]) for x in (fin.at[0], fin.at[0] + fin.stations[0].chord_mm))
    if off <= _OFF_MM:
        return ()
    return (
        Finding(
            code="fin-root",
            level=Level.NOTE,
            where=f"{fin.key}.at",
            text=f'the root of "{fin.name}" lies up to {decimal_text(off)} mm off {base.words}: its lower'
            " edge is drawn along it",
            value=f"{decimal_text(off)} mm",
            source="geometry of the numbers given",
            mend="nothing has to be done; the height of the fin is still measured from its root as drawn",
        ),
    )
