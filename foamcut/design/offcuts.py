"""Outlines of offcuts: those with a fault stay in the stock, and nothing is laid on them."""

from collections.abc import Iterable

from shapely import Polygon

from foamcut.design.stocks import DrawnOffcut, DrawnStock
from foamcut.errors import Refusal, Refused
from foamcut.flat.drawn import Grain, Readings
from foamcut.flat.outline import Outline, Point
from foamcut.flat.placement import Placement
from foamcut.flat.shape import outline_of
from foamcut.flat.stock import Offcut, Stock


def with_offcuts(stocks: Iterable[DrawnStock]) -> tuple[Stock, ...]:
    """The stocks with the outlines of their offcuts.

    Raises
    ------
    Refused
        For every offcut whose rows are no outline at all.
    """
    refusals: list[Refusal] = []
    built = []
    for stock in stocks:
        offcuts = []
        for drawn in stock.offcuts:
            try:
                offcuts.append(Offcut(key=drawn.key, outline=_outline(drawn), count=drawn.count))
            except Refused as err:
                refusals.extend(err.refusals)
        built.append(
            Stock(
                key=stock.key,
                name=stock.name,
                material=stock.material,
                thickness_mm=stock.thickness_mm,
                margin_mm=stock.margin_mm,
                gap_mm=stock.gap_mm,
                grain=stock.grain,
                sheets=stock.sheets,
                offcuts=tuple(offcuts),
                spare=stock.spare,
            )
        )
    if refusals:
        raise Refused(refusals)
    return tuple(built)


def _outline(drawn: DrawnOffcut) -> Outline:
    """The outline of a scrap, moved so that its box starts at (0, 0).

    One with a fault stays where it was drawn, so that the fault names places of the design.
    """
    try:
        outline = _with_voids(outline_of(drawn.shape, Grain.ANY), drawn)
        if outline.fault():
            return outline
    except Refused:
        faulty = _faulty(drawn)
        if faulty is None:
            raise
        return faulty
    x0, y0, _, _ = outline.bounds
    return outline.placed(Placement(x_mm=-x0, y_mm=-y0))


def _with_voids(outline: Outline, drawn: DrawnOffcut) -> Outline:
    """The outline less its voids; with a fault when they reach its edge or each other."""
    voids = [outline_of(void, Grain.ANY) for void in drawn.voids]
    if not voids:
        return outline
    rings = [void.polygon.exterior for void in voids]
    holed = Outline(Polygon(outline.polygon.exterior, rings))
    return holed if holed.fault() else outline.minus(*voids)[0]


def _faulty(drawn: DrawnOffcut) -> Outline | None:
    """The straight outline through all points given, if it crosses itself or has no area; else None."""
    if not isinstance(drawn.shape, Readings):
        return None
    points = [at for row in drawn.shape.points for at in (row.at, row.through) if at is not None]
    if len(points) < 3:
        return None
    outline = Outline.of_points(_with_one_more(points))
    return outline if not outline.polygon.is_empty and outline.fault() else None


def _with_one_more(points: list[Point]) -> list[Point]:
    """A point more on the first side: four corners in any order might be taken for a rectangle."""
    (x0, y0), (x1, y1) = points[:2]
    return [points[0], (x0 + 0.4 * (x1 - x0), y0 + 0.4 * (y1 - y0)), *points[1:]]
