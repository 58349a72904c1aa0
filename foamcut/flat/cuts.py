"""Cutouts and slots: where they lie, whether they may lie there, and what is left of the part.

mm.  A cut is checked by itself first; then all together, so that what would divide the part, or leave
nothing of it, is refused with its place.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon, STRtree
from shapely.errors import GEOSException

from foamcut.errors import Refusal, Refused
from foamcut.flat.drawn import Cutout, DrawnSlot
from foamcut.flat.outline import Outline, Point
from foamcut.flat.part import Slot
from foamcut.flat.placement import Placement
from foamcut.flat.shape import trace
from foamcut.flat.tolerances import (
    HIGHEST_FIT_MM,
    LOWEST_FIT_MM,
    NARROWEST_SLOT_MM,
    SAME_POINT_MM,
)
from foamcut.flat.trace import length_text, numbers_refused, place_text, sizes_refused
from foamcut.units import decimal_text

#: cuts looked at in one go, and how many that one meets are told of
_CHUNK, _MOST_MET = 256, 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """A cutout or slot in its place; an open one may run out of the part."""

    key: str
    outline: Outline
    is_slot: bool
    open: bool = False

    @property
    def at_key(self) -> str:
        """The key that moves it."""
        return f"{self.key}.at"

    @property
    def word(self) -> str:
        """What it is called in a refusal."""
        return self.key.rsplit(".", 1)[-1]


def turned(turn_deg: float, at: Point) -> Placement:
    """A turn about (0, 0), any number of degrees, then a move."""
    turn = turn_deg % 360.0
    return Placement(x_mm=at[0], y_mm=at[1], turn_deg=0.0 if turn >= 360.0 else turn)


def cutout_cut(cutout: Cutout) -> Cut:
    """A cutout in its place.

    Raises
    ------
    Refused
        Its shape or its numbers cannot be cut.
    """
    refusals = [
        *numbers_refused(f"{cutout.key}.at", "point", cutout.at),
        *numbers_refused(f"{cutout.key}.turn", "turn", (cutout.turn_deg,)),
    ]
    try:
        found = trace(cutout.shape, cutout.mirrored, smallest_mm2=NARROWEST_SLOT_MM**2).outline
    except Refused as refused:
        raise Refused([*refusals, *refused.refusals]) from refused
    if refusals:
        raise Refused(refusals)
    outline = found.placed(turned(cutout.turn_deg, cutout.at))
    return Cut(key=cutout.key, outline=outline, is_slot=False)


def slot_of(slot: DrawnSlot) -> Slot:
    """A slot as cut: `length` and the thickness of what goes in, each with the fit, about `at`, turned.

    Raises
    ------
    Refused
        A number is out of range, or the slot comes out too narrow to be cut.
    """
    refusals = [
        *numbers_refused(f"{slot.key}.at", "point", slot.at),
        *numbers_refused(f"{slot.key}.turn", "turn", (slot.turn_deg,)),
        *sizes_refused(f"{slot.key}.length", {"length": slot.length_mm}),
        *sizes_refused(f"{slot.key}.takes", {f'thickness of "{slot.takes}"': slot.takes_thickness_mm}),
    ]
    if not LOWEST_FIT_MM <= slot.fit_mm <= HIGHEST_FIT_MM:
        text = (
            f"a fit of {decimal_text(slot.fit_mm, 3)} mm is out of range; it goes from"
            f" {decimal_text(LOWEST_FIT_MM)} to {decimal_text(HIGHEST_FIT_MM)} mm"
        )
        refusals.append(Refusal(key=slot.key, text=text))
    width, length = slot.takes_thickness_mm + slot.fit_mm, slot.length_mm + slot.fit_mm
    if not refusals and min(width, length) <= NARROWEST_SLOT_MM:
        text = (
            f"with a fit of {decimal_text(slot.fit_mm, 3)} mm the slot comes out {length_text(length)} by"
            f" {length_text(width)}; both have to stay above {decimal_text(NARROWEST_SLOT_MM)} mm: raise the"
            " fit or the size"
        )
        refusals.append(Refusal(key=slot.key, text=text))
    if refusals:
        raise Refused(refusals)
    outline = Outline.rectangle(-length / 2, -width / 2, length / 2, width / 2)
    return Slot(
        key=slot.key,
        at=slot.at,
        length_mm=length,
        width_mm=width,
        turn_deg=slot.turn_deg,
        takes=slot.takes,
        outline=outline.placed(turned(slot.turn_deg, slot.at)),
        fit_mm=slot.fit_mm,
        open=slot.open,
    )


def cut_out(body: Outline, cuts: Sequence[Cut], key: str) -> tuple[Outline, list[Refusal]]:
    """The part without its cuts, and what was refused; the outline is only of use when nothing was."""
    if not cuts:
        return body, []
    try:
        refusals = [*_out_of_body(body, cuts), *_in_each_others_way(body, cuts)]
        if refusals:
            return body, refusals
        return _left(body, cuts, key)
    except GEOSException:
        text = "its cuts lie so close to each other or to the edge that they cannot be told apart; move them"
        return body, [Refusal(key=key, text=text)]


def _out_of_body(body: Outline, cuts: Sequence[Cut]) -> list[Refusal]:
    polygon = body.polygon
    shapely.prepare(polygon)
    refusals = []
    for cut in cuts:
        hole = cut.outline.polygon
        if shapely.contains_properly(polygon, hole):
            continue
        if polygon.intersection(hole).area <= NARROWEST_SLOT_MM**2 / 4:
            text = f"{cut.word} lies outside the part; move it inwards"
        elif cut.open:
            continue
        else:
            text = f"{cut.word} {_how_far_out(polygon, hole)}; move it inwards, or "
            text += "set open = true" if cut.is_slot else "draw it as a notch in the outline"
        refusals.append(Refusal(key=cut.at_key, text=text))
    return refusals


def _how_far_out(body: Polygon, hole: Polygon) -> str:
    corners = shapely.points(shapely.get_coordinates(hole.exterior))
    off = shapely.distance(body, corners)
    farthest = int(off.argmax())
    at = corners[farthest]
    if off[farthest] <= SAME_POINT_MM:
        across = hole.difference(body)
        if across.area <= SAME_POINT_MM:
            return "touches the edge of the part"
        at = across.representative_point()
        return f"runs across an edge of the part at {place_text((at.x, at.y))}"
    return f"runs {length_text(float(off[farthest]))} out of the part at {place_text((at.x, at.y))}"


def _in_each_others_way(body: Outline, cuts: Sequence[Cut]) -> list[Refusal]:
    """Slots that meet other cuts, cutouts that touch in a point, open slots that open nowhere."""
    polygons = [cut.outline.polygon for cut in cuts]
    refusals: dict[str, Refusal] = {}
    opened: set[int] = set()
    for i, j in _meeting(polygons):
        opened.update((i, j))
        refusal = _pair_refused(cuts[i], cuts[j])
        if refusal is not None:
            refusals.setdefault(refusal.key, refusal)
    for i, cut in enumerate(cuts):
        if cut.open and i not in opened and shapely.contains_properly(body.polygon, polygons[i]):
            text = f"open = true, but {cut.word} lies wholly inside; leave open out, or move it to the edge"
            refusals[f"{cut.key}.open"] = Refusal(key=f"{cut.key}.open", text=text)
    return list(refusals.values())


def _pair_refused(a: Cut, b: Cut) -> Refusal | None:
    """Why two cuts that meet may not; None when they may."""
    if a.is_slot and b.is_slot:
        return Refusal(key=b.at_key, text=f"{b.word} and {a.word} meet; move one of them")
    if a.is_slot or b.is_slot:
        return _slot_refused(*((a, b) if a.is_slot else (b, a)))
    shared = a.outline.polygon.intersection(b.outline.polygon)
    if shared.length > SAME_POINT_MM:
        return None
    x, y = shapely.get_coordinates(shared)[0].tolist()
    text = (
        f"{b.word} only touches {a.word} at {place_text((x, y))}; let them overlap, or leave material between"
    )
    return Refusal(key=b.at_key, text=text)


def _slot_refused(slot: Cut, cutout: Cut) -> Refusal | None:
    if cutout.outline.polygon.covers(slot.outline.polygon):
        text = f"{slot.word} lies wholly in {cutout.word}, where nothing is left; move it"
    elif not slot.open:
        text = f"{slot.word} meets {cutout.word}; move it, or set open = true to let it in"
    else:
        return None
    return Refusal(key=slot.at_key, text=text)


def _meeting(polygons: Sequence[Polygon]) -> Iterator[tuple[int, int]]:
    """Pairs that meet, i < j, by j; of each j the first few, so that a pile of cuts stays quick."""
    tree = STRtree(polygons)
    for start in range(0, len(polygons), _CHUNK):
        seconds, firsts = tree.query(polygons[start : start + _CHUNK], predicate="intersects")
        order = np.lexsort((firsts, seconds))
        met = dict.fromkeys(range(start, start + _CHUNK), 0)
        for j, i in zip((seconds[order] + start).tolist(), firsts[order].tolist(), strict=True):
            if i < j and met[j] < _MOST_MET:
                met[j] += 1
                yield i, j


def _left(body: Outline, cuts: Sequence[Cut], key: str) -> tuple[Outline, list[Refusal]]:
    """What is left, if that is one piece that hangs together by more than a point."""
    pieces = body.minus(*(cut.outline for cut in cuts))
    if not pieces:
        return body, [Refusal(key=key, text="its cuts leave nothing of the part; make them smaller")]
    if len(pieces) > 1:
        return body, [_divided(body, cuts)]
    (left,) = pieces
    if fault := left.fault():
        text = f"with its cuts the part cannot be cut: {fault}; move the cut there"
        return body, [Refusal(key=key, text=text)]
    at = _hangs_by_a_point(left)
    if at is not None:
        text = f"two cuts, or a cut and the edge, meet in a point at {place_text(at)}; move one of them"
        return body, [Refusal(key=key, text=text)]
    return left, []


def _divided(body: Outline, cuts: Sequence[Cut]) -> Refusal:
    """The refusal for the cut that, added to those before it, divides the part."""
    low, high = 0, len(cuts)  # the first `low` cuts leave one piece, the first `high` do not
    while high - low > 1:
        middle = (low + high) // 2
        whole = len(body.minus(*(cut.outline for cut in cuts[:middle]))) <= 1
        low, high = (middle, high) if whole else (low, middle)
    pieces = body.minus(*(cut.outline for cut in cuts[:high]))
    smallest = min(pieces, key=lambda piece: piece.area)
    at = smallest.polygon.representative_point()
    cut = cuts[high - 1]
    text = (
        f"{cut.word} divides the part into {len(pieces)} pieces; the smallest,"
        f" {decimal_text(smallest.area, 2)} mm2 at {place_text((at.x, at.y))}, would fall off: move or"
        " shorten it"
    )
    return Refusal(key=cut.at_key, text=text)


def _hangs_by_a_point(outline: Outline) -> Point | None:
    """Where two rings of the outline come as close as two points that are one; None where they do not."""
    rings = [outline.polygon.exterior, *outline.polygon.interiors]
    tree = STRtree(rings)
    firsts, seconds = tree.query(rings, predicate="dwithin", distance=SAME_POINT_MM)
    pairs = sorted((i, j) for i, j in zip(firsts.tolist(), seconds.tolist(), strict=True) if i < j)
    if not pairs:
        return None
    line = shapely.shortest_line(rings[pairs[0][0]], rings[pairs[0][1]])
    x, y = shapely.get_coordinates(line)[0].tolist()
    return x, y
