"""The drawing of a rectangle that is knifed off a sheet and laid on a machine's bed.

Origin at the rectangle's lower left corner, mm; everything else as in the sheet's own drawing.
"""

from collections.abc import Mapping
from dataclasses import replace

from foamcut.draw.notes import NO_JOINTS, Facts
from foamcut.draw.sheet import draw_sheet
from foamcut.draw.values import Drawing, Title
from foamcut.flat.joint import Joint
from foamcut.flat.outline import Outline
from foamcut.flat.placement import Placement, rounded
from foamcut.nest.values import Bed, Layout, Placed, Sheet


def bed_drawing(
    sheet: Sheet,
    bed: Bed,
    layout: Layout,
    title: Title,
    numbers: Mapping[str, int],
    thicknesses: Mapping[str, float],
    *,
    joints: Mapping[str, tuple[Joint, ...]] = NO_JOINTS,
) -> Drawing:
    """One rectangle of a sheet for the machine, with the pieces that lie in it alone.

    Arguments as for `sheet.sheet_drawing`.
    """
    rectangle = replace(
        sheet,
        width_mm=bed.width_mm,
        height_mm=bed.height_mm,
        outline=Outline.rectangle(0.0, 0.0, bed.width_mm, bed.height_mm),
        placed=tuple(_moved(placed, bed) for placed in sheet.placed if placed.id in bed.pieces),
        register=(),
        beds=(),
    )
    facts = Facts(
        sheet=rectangle,
        layout=layout,
        title=title,
        numbers=numbers,
        thicknesses=thicknesses,
        joints=joints,
        machine=True,
        bed=bed,
    )
    return draw_sheet(facts, f"{sheet.stock} {sheet.number} bed {bed.number}")


def _moved(placed: Placed, bed: Bed) -> Placed:
    x, y = bed.corner
    placement = replace(
        placed.placement, x_mm=rounded(placed.placement.x_mm - x), y_mm=rounded(placed.placement.y_mm - y)
    )
    return replace(placed, placement=placement, outline=placed.outline.placed(Placement(x_mm=-x, y_mm=-y)))
