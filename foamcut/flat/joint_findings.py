"""What the builder is told of a part that is joined."""

from collections.abc import Sequence

from foamcut.findings import Finding, Level
from foamcut.flat.doublers import Line, Patch
from foamcut.flat.drawn import Doubling, Face
from foamcut.flat.fitting import Fitting, nanometres, size_text, what_holds_it
from foamcut.flat.joint_reach import marks_beside
from foamcut.flat.joint_refusals import at_text
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.flat.turning import grain_limits
from foamcut.units import decimal_text

#: overlaps of doublers to each side, in thicknesses of the board (common practice, no source)
LEAST_OVERLAP, MOST_OVERLAP = 8, 12


def joined(
    part: Part,
    fitting: Fitting,
    lines: Sequence[Line],
    sections: int,
    doublers: Sequence[tuple[str, Patch]],
    *,
    fits: bool,
) -> Finding:
    """Why a part is joined, where, and by what."""
    size = size_text(part.length_mm, part.width_mm)
    why = f"fits no sheet of stock {fitting.stock.name}"
    if fits:
        why = "lies whole, and may be joined" if part.may_join else "is joined because the design says so"
    where = " and ".join(at_text(line, mirror_image=part.mirror_image) for line in lines)
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
    """That a free turn would let a joined part lie whole; nothing when it would not, or the grain bars it."""
    barred = fitting.askew or grain_limits(part, stock)
    turn = None if barred else fitting.free_turn(part.outline)
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


def short_overlap(part: Part, doubling: Doubling) -> tuple[Finding, ...]:
    """An overlap of fewer thicknesses of the part's board than builders give."""
    thicknesses = doubling.overlap_mm / part.thickness_mm
    least = LEAST_OVERLAP * part.thickness_mm
    if nanometres(doubling.overlap_mm) >= nanometres(least):
        return ()
    most = MOST_OVERLAP * part.thickness_mm
    return (
        Finding(
            code="joint-short",
            level=Level.WARNING,
            where=f"{doubling.key}.overlap",
            text=(
                f"doublers of {part.name} overlap its joints by {decimal_text(doubling.overlap_mm)} mm to a "
                f"side, {decimal_text(thicknesses)} thicknesses of the board"
            ),
            value=f"{decimal_text(doubling.overlap_mm)} mm",
            range=(
                f"{LEAST_OVERLAP} to {MOST_OVERLAP} thicknesses, "
                f"{decimal_text(least)} to {decimal_text(most)} mm"
            ),
            source="common practice, no source",
            mend="make the overlap longer",
        ),
    )


def short_reach(part: Part, doubling: Doubling, line: Line, reach: float, key: str) -> tuple[Finding, ...]:
    """Doublers that clear marks keep from reaching the whole overlap along most of a line, mm."""
    if nanometres(reach) >= nanometres(doubling.overlap_mm):
        return ()
    marks = ", ".join(marks_beside(part, line, doubling))
    where = at_text(line, mirror_image=part.mirror_image)
    overlap = f"{decimal_text(doubling.overlap_mm)} mm"
    return (
        Finding(
            code="joint-short",
            level=Level.WARNING,
            where=key,
            text=(
                f"doublers of {part.name} over the joint at {where} reach {decimal_text(reach)} mm to a side "
                f"along most of it, instead of {overlap}, as they keep off {marks}"
            ),
            value=f"{decimal_text(reach)} mm",
            range=f"{overlap}, the overlap",
            mend="move the joint or the marks, or take clear = true out of them",
        ),
    )


def outside(part: Part, doubling: Doubling) -> tuple[Finding, ...]:
    """That doublers, which are glued on the drawn face, will stand out of the model."""
    if part.face is not Face.OUTER:
        return ()
    proud = decimal_text(doubling.thickness_mm)
    return (
        Finding(
            code="doubler-outside",
            level=Level.NOTE,
            where=part.key,
            text=(
                f"doublers go on the drawn face, and of {part.name} that is the outer one: they stand "
                f"{proud} mm proud on the outside"
            ),
            value=f"{proud} mm",
            mend="draw the inner face of the part, or give its doubler a thin stock",
        ),
    )


def _size(patch: Patch) -> str:
    x0, y0, x1, y1 = patch.outline.bounds
    return f"({size_text(x1 - x0, y1 - y0)})"
