"""Numbers of a part as drawn, by their keys, that no part can have; nothing here needs the outline.

mm, degrees.
"""

import math
from collections.abc import Sequence

from foamcut.errors import Refusal
from foamcut.flat.drawn import Doubling, DrawnPart, Face, KeepClear, Place, Reading, Readings, Shape
from foamcut.flat.part import Slot
from foamcut.flat.tolerances import FARTHEST_MM, SAME_POINT_MM
from foamcut.flat.trace import length_text, numbers_refused, sizes_refused
from foamcut.units import decimal_text

#: unit vectors of a place may be this far from length 1 and a right angle
_SQUARE = 1e-6


def part_numbers_refused(drawn: DrawnPart) -> list[Refusal]:
    """What is wrong with a part's numbers, its place, its joints' and doublers' and its tool's."""
    refusals = sizes_refused(f"{drawn.key}.stock", {"thickness": drawn.thickness_mm})
    if drawn.count < 1:
        text = f"a count of {drawn.count} cuts nothing; give 1 or more, or take the part out"
        refusals.append(Refusal(key=f"{drawn.key}.count", text=text))
    return [
        *refusals,
        *_place(drawn.place),
        *_either(drawn),
        *_bevelled_cutouts(drawn),
        *(refusal for joint in drawn.joint_lines for refusal in _joint(joint.key, joint.x_mm, joint.y_mm)),
        *(refusal for keep in drawn.keep_clear for refusal in _keep_clear(keep)),
        *_doubling(drawn.doubling),
        *_kerf(drawn),
    ]


def kerf_refused(slots: Sequence[Slot], kerf_mm: float) -> list[Refusal]:
    """Slots that the tool's own width takes up; `kerf_mm` is a kerf that was not refused."""
    return [
        Refusal(
            key=slot.key,
            text=f"the slot comes out {length_text(min(slot.width_mm, slot.length_mm))} wide, and the kerf of"
            f" {length_text(kerf_mm)} leaves nothing inside it to cut round; take a finer tool, or raise the"
            " fit",
        )
        for slot in slots
        if kerf_mm > 0 and min(slot.width_mm, slot.length_mm) - kerf_mm <= SAME_POINT_MM
    ]


def _place(place: Place | None) -> list[Refusal]:
    """The directions of a place are of length 1 and square to each other."""
    if place is None:
        return []
    refusals = numbers_refused(f"{place.key}.at", "point", place.at)
    for name, vector in (("x", place.x), ("y", place.y)):
        if not abs(math.hypot(*vector) - 1) <= _SQUARE:
            text = f"{name} is no direction of length 1; name a direction or give one that is not 0"
            refusals.append(Refusal(key=f"{place.key}.{name}", text=text))
    lean = math.fsum(a * b for a, b in zip(place.x, place.y, strict=True))
    if not refusals and abs(lean) > _SQUARE:
        angle = decimal_text(math.degrees(math.acos(max(-1.0, min(1.0, lean)))), 3)
        text = f"x and y of the part stand at {angle} degrees to each other; they have to be square"
        refusals.append(Refusal(key=f"{place.key}.y", text=text))
    return refusals


def _either(drawn: DrawnPart) -> list[Refusal]:
    """A part that may be turned over has no face that a fold or a bevel could be cut from."""
    if drawn.face is not Face.EITHER:
        return []
    worked = []
    if drawn.folds:
        worked.append("folds")
    if any(_is_bevelled(row) for row in _rows(drawn.shape)):
        worked.append("bevels")
    if not worked:
        return []
    text = (
        f'{" and ".join(worked)} are cut from one face, but face = "either" lets the part be turned over;'
        ' set face to "inner" or "outer"'
    )
    return [Refusal(key=f"{drawn.key}.face", text=text)]


def _bevelled_cutouts(drawn: DrawnPart) -> list[Refusal]:
    text = "the edge of a cutout cannot be bevelled; leave the bevel out, and slope the hole by hand"
    return [
        Refusal(key=row.key, text=text)
        for cutout in drawn.cutouts
        for row in _rows(cutout.shape)
        if _is_bevelled(row)
    ]


def _joint(key: str, x_mm: float | None, y_mm: float | None) -> list[Refusal]:
    if (x_mm is None) == (y_mm is None):
        return [Refusal(key=key, text="a joint line lies at one x or at one y; give just one of them")]
    at = x_mm if x_mm is not None else y_mm
    return numbers_refused(key, "place of the joint line", (at or 0.0,))


def _keep_clear(keep: KeepClear) -> list[Refusal]:
    if keep.x_mm is None and keep.y_mm is None:
        text = "nothing is said to be kept clear; give a range of x, of y or of both"
        return [Refusal(key=keep.key, text=text)]
    refusals = []
    for name, found in (("x", keep.x_mm), ("y", keep.y_mm)):
        if found is None:
            continue
        beyond = numbers_refused(f"{keep.key}.{name}", "range", found)
        if not beyond and not found[0] < found[1]:
            text = (
                f"the range from {decimal_text(found[0], 6)} to {decimal_text(found[1], 6)} mm keeps nothing"
                " clear; give the lower number first and the higher one second"
            )
            beyond = [Refusal(key=f"{keep.key}.{name}", text=text)]
        refusals += beyond
    return refusals


def _doubling(doubling: Doubling | None) -> list[Refusal]:
    if doubling is None:
        return []
    key, overlap, taper = doubling.key, doubling.overlap_mm, doubling.taper_mm
    refusals = [
        *sizes_refused(f"{key}.stock", {"thickness of the doubler": doubling.thickness_mm}),
        *sizes_refused(f"{key}.overlap", {"overlap": overlap}),
    ]
    if not 0 <= doubling.inset_mm <= FARTHEST_MM:
        text = f"an inset of {decimal_text(doubling.inset_mm, 6)} mm is out of range; it is 0 or more"
        refusals.append(Refusal(key=f"{key}.inset", text=text))
    if not taper >= 0:
        text = f"a taper of {decimal_text(taper, 6)} mm is out of range; it is 0 or more"
        refusals.append(Refusal(key=f"{key}.taper", text=text))
    elif overlap > 0 and not taper <= overlap:
        text = (
            f"a taper of {length_text(taper)} is longer than the overlap of {length_text(overlap)}; make it"
            " shorter, or the overlap longer"
        )
        refusals.append(Refusal(key=f"{key}.taper", text=text))
    return refusals


def _kerf(drawn: DrawnPart) -> list[Refusal]:
    if 0 <= drawn.kerf_mm <= FARTHEST_MM:
        return []
    text = (
        f"a kerf of {decimal_text(drawn.kerf_mm, 6)} mm is out of range; it is the full width of what the"
        " tool takes away, 0 or more"
    )
    return [Refusal(key="cutting.kerf", text=text)]


def _rows(shape: Shape) -> tuple[Reading, ...]:
    return shape.points if isinstance(shape, Readings) else ()


def _is_bevelled(row: Reading) -> bool:
    return row.bevel_deg is not None or row.bevel_back_deg is not None
