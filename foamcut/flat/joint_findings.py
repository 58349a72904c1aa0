"""What the builder is told of a part that is joined."""

from collections.abc import Sequence

from foamcut.findings import Finding, Level
from foamcut.flat.doublers import Line, Patch
from foamcut.flat.fitting import Fitting, size_text, what_holds_it
from foamcut.flat.joint_refusals import at_text
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.units import decimal_text


def joined(
    part: Part,
    fitting: Fitting,
    lines: Sequence[Line],
    sections: int,
    doublers: Sequence[tuple[str, Patch]],
    *,
    needed: bool,
) -> Finding:
    """Why a part is joined, where, and by what."""
    size = size_text(part.length_mm, part.width_mm)
    why = f"fits no sheet of stock {fitting.stock.name}" if needed else "is joined because the design says so"
    where = " and ".join(at_text(line) for line in lines)
    patches = ", ".join(f"{letter} {_size(patch)}" for letter, patch in doublers)
    text = (
        f"{part.name}, {size}, {why}: cut at {where} into {sections} sections, "
        f"joined by doubler{'s' * (len(doublers) != 1)} {patches}"
    )
    return Finding(
        code="joined",
        level=Level.NOTE,
        where=part.key,
        text=text,
        value=size,
        range=f"at most {fitting.largest_text}",
    )


def whole_at_an_angle(part: Part, stock: Stock, fitting: Fitting) -> tuple[Finding, ...]:
    """That a free turn would let a joined part lie whole; nothing when it would not."""
    turn = None if fitting.askew else fitting.free_turn(part.outline)
    if turn is None:
        return ()
    return (
        Finding(
            code="whole-at-an-angle",
            level=Level.NOTE,
            where=part.key,
            text=f"turned by {decimal_text(turn)} degrees, {part.name} would lie whole on a sheet",
            value=f"{decimal_text(turn)} degrees",
            mend=f"to have it whole: {what_holds_it(part, stock)}",
        ),
    )


def unneeded(part: Part, key: str) -> Finding:
    """A joint of a part that would lie whole."""
    return Finding(
        code="joint-unneeded",
        level=Level.NOTE,
        where=key,
        text=f"{part.name} would lie whole on a sheet, and is cut in two because the design says so",
        mend="to cut it whole, take the joints out",
    )


def not_staggered(part: Part, apart_mm: float, doubler_mm: float) -> Finding:
    """Joints of left and right that lie closer than a doubler."""
    return Finding(
        code="joints-not-staggered",
        level=Level.WARNING,
        where=part.key,
        text=(
            f"joints of the left and the right hand of {part.name} are {decimal_text(apart_mm)} mm apart, "
            f"less than a doubler of {decimal_text(doubler_mm)} mm: two joints beside each other are weak"
        ),
        value=f"{decimal_text(apart_mm)} mm",
        range=f"at least {decimal_text(doubler_mm)} mm",
        source="common practice, no source",
        mend="move a joint, make room for it, or shorten the overlap",
    )


def _size(patch: Patch) -> str:
    x0, y0, x1, y1 = patch.outline.bounds
    return f"({size_text(x1 - x0, y1 - y0)})"
