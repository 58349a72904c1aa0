"""What to buy, what is carried, what has to be at hand."""

from collections.abc import Iterator
from decimal import Decimal, InvalidOperation

from foamcut.book.chapters_carried import carried_grids
from foamcut.book.chapters_words import (
    counted,
    length_words,
    listed,
    motors_count,
    sizes_words,
    thickness_words,
    thicknesses,
)
from foamcut.book.facts import Bought, Facts
from foamcut.book.values import Block, Chapter, Grid, Listing, Words
from foamcut.flight.values import Carried
from foamcut.nest.values import Kind


def shopping_chapter(facts: Facts) -> Chapter:
    """Sheets and hardware with their costs, what is carried, and the bench."""
    blocks: list[Block] = []
    if facts.bought:
        blocks.append(_bought(facts))
    carried = carried_grids(facts)
    if total := _total(facts.bought):
        rest = "; what is carried is not in it" if carried else ""
        blocks.append(Words(text=f"{total}{rest}."))
    if notes := tuple(_notes(facts)):
        blocks.append(Listing(items=notes))
    blocks += carried
    blocks.append(Words(text="What every bench needs besides:"))
    blocks.append(Listing(items=tuple(_bench(facts))))
    return Chapter(id="shopping", heading="What to buy and have at hand", blocks=tuple(blocks))


def _bought(facts: Facts) -> Grid:
    deep = thicknesses(facts)
    materials = {layout.stock.name: layout.stock.material for layout in facts.layouts}
    rows = []
    for row in facts.bought:
        is_sheet = row.kind == "sheet" and row.name in deep
        thick = f", {thickness_words(deep[row.name], facts.units)} thick" if is_sheet else ""
        numbers = (row.needed, row.on_hand, row.to_buy, row.spare)
        stuff = f": {materials[row.name]}" if is_sheet and materials.get(row.name) else ""
        rows.append((f"{row.name}{stuff}{thick}", row.size, *map(str, numbers), row.cost or "-"))
    return Grid(
        caption=(
            "To buy: spare ones come on top of those to buy; costs are for whole packs where they are"
            " sold in packs"
        ),
        head=("What", "Size", "Needed", "Maker has", "To buy", "Spare", "Cost"),
        rows=tuple(rows),
        figures=(2, 3, 4, 5, 6),
    )


def _total(bought: tuple[Bought, ...]) -> str:
    """The sum of all costs, where they are in one currency."""
    parted = [row.cost.partition(" ") for row in bought if row.cost]
    currencies = {currency for _, _, currency in parted}
    if len(parted) < 2 or len(currencies) != 1:
        return ""
    try:
        total = sum((Decimal(number) for number, _, _ in parted), Decimal(0))
    except InvalidOperation:
        return ""
    lacking = ", where a price is known" if len(parted) < len(bought) else ""
    return f"In all {total} {currencies.pop()}".rstrip() + lacking


def _notes(facts: Facts) -> Iterator[str]:
    """What somebody has to know who does not have the maker's shelf; how good the layout is."""
    for layout in facts.layouts:
        name = layout.stock.name
        offcuts = [
            f"sheet {sheet.number} is one of {sizes_words((sheet.width_mm, sheet.height_mm), facts.units)}"
            for sheet in layout.sheets
            if sheet.kind is Kind.OFFCUT
        ]
        if offcuts:
            yield (
                f"{name}: the maker uses offcuts: {listed(offcuts)}. Any piece of the same board"
                " as large will do;"
                " without one buy a sheet more."
            )
        held = [str(sheet.number) for sheet in layout.sheets if sheet.kind is Kind.ON_HAND]
        if held:
            yield (
                f"{name}: the maker had sheet {listed(held)} on the shelf and does not buy it;"
                " if you have none, buy as many more."
            )
        yield f"{name}, whether fewer sheets would do: {layout.bound.reason}."
        for sheet in layout.sheets:
            if sheet.left is not None:
                size = sizes_words((sheet.left.width_mm, sheet.left.height_mm), facts.units)
                yield f"{name}: sheet {sheet.number} keeps {size} in one piece: put it by for repairs."


def _bench(facts: Facts) -> Iterator[str]:
    longest = max((max(part.length_mm, part.width_mm) for part in facts.parts), default=0.0)
    yield (f"a steel rule, best as long as the longest part, {length_words(longest, facts.units)}; a square")
    yield "a knife with many fresh blades, and a mat or scrap board to cut on"
    yield "pencil, pins, masking tape, weights, and a flat table as large as the largest part"
    yield "glue that your board bears, tried on scrap; sanding block; callipers for the board"
    materials = {layout.stock.material for layout in facts.layouts}
    if any("ply" in one for one in (*materials, *thicknesses(facts))):
        yield "a fine saw and a file for plywood, and epoxy or another glue that holds it"
    yield from _dowels(facts)
    if facts.report is None:
        return
    yield "scales that read to a gram, and something to balance the model on: two fingers, or a stand"
    folded = any(len(part.folds) > 0 for part in facts.parts)
    if folded or facts.report.throws:
        yield "tape for hinges, for folds and for the belly"
    if facts.inputs.servos or facts.setup.of(Carried.SERVO):
        yield (
            "servo screws and arms, pushrods of wire, and connectors, where the list above does not have them"
        )
        yield "transmitter that goes with the receiver"
    if motors_count(facts):
        yield "screws and washers for the motors, a screwdriver, soldering iron, connectors and shrink tube"
    if facts.setup.of(Carried.BATTERY):
        yield "a charger for this kind of battery, and a strap to hold it in the model"


def _dowels(facts: Facts) -> Iterator[str]:
    """Round wood that goes through bodies: how thick, how many, how long."""
    if any("dowel" in row.name.casefold() for row in facts.bought):
        return
    widths = {body.name: body.width_mm for body in facts.inputs.bodies}
    for one in facts.inputs.dowels:
        if one.on in widths and one.at:
            long = length_words(widths[one.on] + 2 * one.proud_mm, facts.units)
            pieces = counted(len(one.at), "piece")
            thick = length_words(one.diameter_mm, facts.units)
            yield f"hardwood dowel, {thick} thick: {pieces}, each {long} long, through {one.on}"
