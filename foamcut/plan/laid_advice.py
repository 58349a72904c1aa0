"""Findings that only laid boards show: stocks left over, the kerf, the bed."""

from collections.abc import Iterable, Iterator, Sequence

from foamcut.design.design import Design
from foamcut.findings import Finding, Level
from foamcut.flat.kerf_narrows import narrow_places
from foamcut.flat.part import Part
from foamcut.flat.trace import place_text
from foamcut.nest.rooms import stock_findings
from foamcut.nest.values import Layout
from foamcut.plan.hand import hand_names
from foamcut.plan.pieces import Chosen
from foamcut.units import decimal_text

#: names in one finding
_MOST_LISTED = 12


def laid_findings(design: Design, layouts: Sequence[Layout], chosen: Sequence[Chosen]) -> Iterator[Finding]:
    """What the layouts show: stocks that nothing is cut from, kerf, bed; and the laser's caution."""
    used = {layout.stock.name for layout in layouts}
    for stock in design.stocks:
        if stock.name in used:
            yield from stock_findings(stock)
        else:
            yield Finding(
                code="stock-unused", level=Level.NOTE, where=stock.key, text="no part is cut from this stock"
            )
    for layout in layouts:
        yield from _kerf_findings(layout)
    yield from _narrow_findings(layouts)
    if design.plan.bed_mm:
        yield from _bed_findings(layouts, design.plan.bed_mm, chosen)
    if design.plan.tool.value == "laser":
        yield Finding(
            code="laser-foam",
            level=Level.WARNING,
            where="cutting.tool",
            text="many workshops forbid laser cutting of foam of any kind: polystyrene burns and gives off "
            "styrene, PVC-faced board gives off hydrogen chloride",
            mend="find out what the board is, ask whoever runs the machine, follow local rules; "
            "a knife is the usual tool",
        )


def _narrow_findings(layouts: Sequence[Layout]) -> Iterator[Finding]:
    """Notches and holes that the tool is too wide for: no file for a machine has them."""
    for flat in (flat for layout in layouts for flat in _flats(layout)):
        places = narrow_places(flat.outline, flat.kerf_mm)
        if places:
            where = "; ".join(place_text(at) for at in places[:_MOST_LISTED])
            kerf = decimal_text(flat.kerf_mm, 3)
            yield Finding(
                code="kerf-fills",
                level=Level.WARNING,
                where=flat.key,
                text=f"{flat.name} is narrower at {where} than the kerf of {kerf} mm, which closes it in the"
                " machine's files",
                value=f"kerf {kerf} mm",
                mend="cut it by hand, make it wider, or leave it out",
            )


def _flats(layout: Layout) -> tuple[Part, ...]:
    """What is cut from a stock, each once."""
    flats = {placed.piece.flat.name: placed.piece.flat for sheet in layout.sheets for placed in sheet.placed}
    return tuple(flats.values())


def _kerf_findings(layout: Layout) -> Iterator[Finding]:
    """A kerf that the gap or the margin leaves no room for: half of it runs outside each piece."""
    stock = layout.stock
    flats = _flats(layout)
    wide = {flat.name: flat.kerf_mm for flat in flats if flat.kerf_mm > stock.gap_mm}
    if wide:
        kerf = decimal_text(max(wide.values()), 2)
        yield Finding(
            code="kerf-gap",
            level=Level.WARNING,
            where=f"{stock.key}.gap",
            text=f"the cuts of neighbours run into each other: {_listed(wide)}",
            value=f"kerf {kerf} mm",
            range=f"gap {decimal_text(stock.gap_mm, 2)} mm",
            mend=f"make the gap of stock {stock.name} at least {kerf} mm",
        )
    out = {flat.name: flat.kerf_mm / 2 for flat in flats if flat.kerf_mm / 2 > stock.margin_mm}
    if out:
        half = decimal_text(max(out.values()), 2)
        yield Finding(
            code="kerf-gap",
            level=Level.WARNING,
            where=f"{stock.key}.margin",
            text=f"cuts run over the edge of the sheet: {_listed(out)}",
            value=f"half the kerf {half} mm",
            range=f"margin {decimal_text(stock.margin_mm, 2)} mm",
            mend=f"make the margin of stock {stock.name} at least {half} mm",
        )


def _bed_findings(
    layouts: Sequence[Layout], bed_mm: tuple[float, float], chosen: Sequence[Chosen]
) -> Iterator[Finding]:
    """What the machine does not do: pieces beyond its bed, and cuts behind pieces on a rectangle."""
    bed = " x ".join(decimal_text(v, 2) for v in bed_mm)
    if names := hand_names(layouts, bed_mm, chosen):
        yield Finding(
            code="beyond-bed",
            level=Level.NOTE,
            where="cutting.bed",
            text=f"to be cut by hand: {', '.join(names)}",
            range=f"bed {bed} mm",
            mend="cut them from the sheet with a knife, or with a machine whose bed holds them",
        )
    behind = {
        placed.piece.flat.name: None
        for layout in layouts
        for sheet in layout.sheets
        for bed_rectangle in sheet.beds
        for placed in sheet.placed
        if placed.id in bed_rectangle.pieces and placed.piece.flat.worked_behind
    }
    if behind:
        yield Finding(
            code="back-beyond-bed",
            level=Level.NOTE,
            where="cutting.bed",
            text=f"cut on the face behind too, and lying on a rectangle for the bed: {_listed(behind)}",
            mend="do those cuts by hand, from the back drawing of the sheet",
        )


def _listed(names: Iterable[str]) -> str:
    """Names with commas, the first few when they are many."""
    several = list(names)
    more = f" and {len(several) - _MOST_LISTED} more" if len(several) > _MOST_LISTED else ""
    return ", ".join(several[:_MOST_LISTED]) + more
