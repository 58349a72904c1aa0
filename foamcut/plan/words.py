"""Words for the screen and the first page: boards to buy, what is joined, what is cut by hand, pages."""

from collections.abc import Iterable, Iterator, Sequence

from foamcut.design.design import Plan as PlanFacts
from foamcut.draw.templates import TemplateIndex
from foamcut.flat.joint import Joint
from foamcut.nest.values import Kind, Laid, Layout, Left
from foamcut.plan.hand import hand_words
from foamcut.plan.pieces import Chosen
from foamcut.plan.saving import saving_words
from foamcut.plan.shopping import sheet_rows
from foamcut.plan.wording import counted
from foamcut.units import decimal_text, inch_text
from foamcut.write.table import ShoppingRow


def summary(
    laid: Laid, facts: PlanFacts, chosen: Sequence[Chosen], indexes: Sequence[TemplateIndex]
) -> Iterator[str]:
    """The first lines of the screen: boards, pages, what is ruled on the board, joined, cut by hand."""
    yield from boards_words(laid.layouts, facts)
    yield from left_words(laid.layouts, facts.units)
    for index in indexes:
        yield f"print {counted(index.pages, 'page')} of {index.file} (at 100 %, scaling off)"
    ruled = list(dict.fromkeys(r.name for r in indexes[0].ruled))
    if ruled:
        yield f"ruled straight on the board: {', '.join(ruled)}"
    yield from saving_words(laid.savings, chosen, facts.currency)
    yield from joined_words(chosen, facts.units)
    yield from hand_words(laid.layouts, facts.bed_mm, chosen)


def boards_words(layouts: Iterable[Layout], facts: PlanFacts) -> Iterator[str]:
    """What to buy of each stock, and whether fewer would do."""
    for layout in layouts:
        rows = [row for row in sheet_rows(layout, facts) if row.packs]
        shelf = sum(sheet.kind is not Kind.NEW for sheet in layout.sheets)
        from_shelf = f", {counted(shelf, 'sheet')} from the shelf" if shelf else ""
        bought = " + ".join(map(_bought, rows)) or "none"
        yield f"{layout.stock.name}: buy {bought}{from_shelf}; {layout.bound.reason}"


def left_words(layouts: Iterable[Layout], units: str) -> Iterator[str]:
    """What a new board keeps in one piece, as it is written into the design once the board is cut."""
    for layout in layouts:
        for sheet in layout.sheets:
            if sheet.left:
                size = _left_size(sheet.left, units)
                yield (
                    f"{layout.stock.name}: sheet {sheet.number} keeps a rectangle of {size}; "
                    f'when it is cut, add to offcuts: {{ size = "{size}" }}'
                )


def _left_size(left: Left, units: str) -> str:
    """In inches where a ruler has them, else in mm."""
    sides = left.width_mm, left.height_mm
    inches = [inch_text(side) for side in sides]
    if units == "in" and not any(text.startswith("~") or "." in text for text in inches):
        return f"{inches[0]} x {inches[1]} in"
    return f"{decimal_text(sides[0], 3)} x {decimal_text(sides[1], 3)} mm"


def joined_words(chosen: Iterable[Chosen], units: str) -> Iterator[str]:
    """A line for each part that is cut in sections: ``side-right: cut in 2 at x = 540 mm, doubler A``."""
    for one in chosen:
        joints = one.way.joints
        if joints:
            at = " and ".join(dict.fromkeys(_at(joint, units) for joint in joints))
            letters = [letter for joint in joints for letter in joint.letters]
            doublers = f", doubler{'s' * (len(letters) != 1)} {', '.join(letters)}" if letters else ""
            yield f"{one.part.name}: cut in {one.sections} at {at}{doublers}"


def _at(joint: Joint, units: str) -> str:
    axis, at = ("y", joint.y_mm) if joint.x_mm is None else ("x", joint.x_mm)
    turned = joint.mirror_image and axis == "y"
    number = 0.0 - (at or 0.0) if turned else at or 0.0
    place = f"{axis} = {inch_text(number)} in" if units == "in" else f"{axis} = {decimal_text(number)} mm"
    return f"{place} of the drawing" if turned else place


def _bought(row: ShoppingRow) -> str:
    spare = f" and {row.spare} spare" if row.spare else ""
    packs = f" ({counted(row.packs, 'pack')} of {row.sold_in})" if row.sold_in > 1 else ""
    return f"{row.to_buy}{spare} of {row.size}{packs}"
