"""Which skins a folded surface is made of: one sheet or two skins, whole or in stretches along the span.

mm.  What fits on a board is judged by the flat pattern.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely import Polygon

from foamcut.airframe.folded_flat import FlatSkin, laid_flat
from foamcut.airframe.folded_piece import Piece
from foamcut.airframe.motors import skin_slots
from foamcut.airframe.planform import Panel, panels
from foamcut.airframe.skin_holes import openings
from foamcut.airframe.skin_marks import saddles
from foamcut.airframe.skin_outline import Corner, lower_corners, sheet_corners, upper_corners
from foamcut.airframe.values import Inputs, Nose, Surface
from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.flat.drawn import Turns
from foamcut.units import decimal_text

#: joints of a skin keep so far off controls, slots, openings and the body: a patch lies there (common
#: practice, no source)
KEEP_MM = 35.0
#: the shortest stretch of skin (common practice, no source)
SHORTEST_MM = 80.0
#: joints lie at full and half centimetres
_GRID_MM = 5.0
#: no panel is cut in more stretches
_MOST = 8
#: boards are as large as their skins within this
_SAME_MM = 0.01


@dataclass(frozen=True, kw_only=True, eq=False)
class Layout:
    """The skins of a surface from the root out; `two`: lower and upper are parts of their own."""

    skins: tuple[FlatSkin, ...]
    two: bool
    findings: tuple[Finding, ...] = ()
    refusals: tuple[Refusal, ...] = ()

    @property
    def joints(self) -> tuple[float, ...]:
        """s of the joints between neighbouring skins."""
        return tuple(one.piece.last_mm for one in self.skins[:-1])


def laid_out(surface: Surface, inputs: Inputs) -> Layout:
    """The fewest skins that fit: one sheet if it fits, else two skins, else stretches of either.

    Of a round nose, which is board itself, the sheet is not parted.
    """
    several = panels(surface)
    given = surface.nose is Nose.TWO_SKINS
    parted = given or surface.nose is not Nose.SCORED
    ways = [(False, 1, False), (True, 1, False)]
    ways += [(two, _MOST, through) for through in (False, True) for two in (False, True)]
    for two, most, through in ways:
        if (given and not two) or (two and not parted):
            continue
        taken = _taken(surface, inputs, through=through)
        found = [_stretches(surface, taken, panel, two=two, most=most) for panel in several]
        skins = [one for panel in found if panel is not None for one in panel]
        if all(panel is not None for panel in found):
            return Layout(
                skins=tuple(skins), two=two, findings=_two(surface, skins) if two and not given else ()
            )
    whole = tuple(
        laid_flat(_piece(surface, panel, panel.first.out_mm, panel.last.out_mm)) for panel in several
    )
    return Layout(skins=whole, two=given, refusals=(_refused(surface, whole, two=parted),))


def _piece(surface: Surface, panel: Panel, first: float, last: float) -> Piece:
    return Piece(surface=surface, panel=panel, first_mm=first, last_mm=last)


def _stretches(
    surface: Surface, taken: Sequence[tuple[float, float]], panel: Panel, *, two: bool, most: int
) -> list[FlatSkin] | None:
    boards = surface.material.boards_mm
    for count in range(1, most + 1):
        cuts = _cuts(taken, panel, count)
        if cuts is None:
            continue
        ends = [panel.first.out_mm, *cuts, panel.last.out_mm]
        skins = [laid_flat(_piece(surface, panel, a, b)) for a, b in itertools.pairwise(ends)]
        if all(turns_on(shape, boards) is not None for one in skins for shape in _shapes(one, two=two)):
            return skins
    return None


def _shapes(flat: FlatSkin, *, two: bool) -> tuple[list[Corner], ...]:
    return (lower_corners(flat), upper_corners(flat)) if two else (sheet_corners(flat),)


def turns_on(corners: Sequence[Corner], boards: Sequence[tuple[float, float]]) -> Turns | None:
    """How a skin has to be turned to lie on one of some boards; None: it lies on none."""
    shape = Polygon([one.at for one in corners])
    x0, y0, x1, y1 = shape.bounds
    if not boards or _lies((x1 - x0, y1 - y0), boards):
        return Turns.QUARTER
    ring = shapely.get_coordinates(shapely.minimum_rotated_rectangle(shape).exterior)
    sizes = (math.dist(ring[0], ring[1]), math.dist(ring[1], ring[2]))
    return Turns.ANY if _lies(sizes, boards) else None


def _lies(size: tuple[float, float], boards: Sequence[tuple[float, float]]) -> bool:
    short, long = sorted(size)
    return any(short <= min(one) + _SAME_MM and long <= max(one) + _SAME_MM for one in boards)


def _cuts(taken: Sequence[tuple[float, float]], panel: Panel, count: int) -> list[float] | None:
    """Where to part a panel in so many stretches, near to equal; None: no places are free."""
    first, last = panel.first.out_mm, panel.last.out_mm
    cuts: list[float] = []
    for i in range(1, count):
        even = first + (last - first) * i / count
        low = (cuts[-1] if cuts else first) + SHORTEST_MM
        high = last - (count - i) * SHORTEST_MM
        places = [_GRID_MM * k for k in range(math.ceil(low / _GRID_MM), math.floor(high / _GRID_MM) + 1)]
        free = [s for s in places if not any(a < s < b for a, b in taken)]
        if not free:
            return None
        cuts.append(min(free, key=lambda s: (abs(s - even), s)))
    return cuts


def _taken(surface: Surface, inputs: Inputs, *, through: bool) -> list[tuple[float, float]]:
    """Stretches of the span in which a skin is not joined; `through`: it may be, within a control."""
    spans = [(one.from_mm, one.to_mm) for one in surface.controls]
    if through:
        spans = [(s, s) for span in spans for s in span]
    spans += [
        (one.s_mm - one.length_mm / 2, one.s_mm + one.length_mm / 2) for one in skin_slots(surface, inputs)
    ]
    spans += [
        (one.s_mm - one.size_mm[1] / 2, one.s_mm + one.size_mm[1] / 2) for one in openings(surface, inputs)
    ]
    spans += [(0.0, half) for half, _ in saddles(surface, inputs)]
    return [(a - KEEP_MM, b + KEEP_MM) for a, b in spans]


def _size_words(corners: Sequence[Corner]) -> str:
    x0, y0, x1, y1 = Polygon([one.at for one in corners]).bounds
    return f"{decimal_text(x1 - x0)} x {decimal_text(y1 - y0)} mm"


def _two(surface: Surface, skins: Sequence[FlatSkin]) -> tuple[Finding, ...]:
    sizes = _size_words(sheet_corners(skins[0]))
    return (
        Finding(
            code="skin-two",
            level=Level.NOTE,
            where=f"{surface.key}.nose",
            text=f"one sheet for both skins would be {sizes} and lies on no board: lower and upper skin are"
            " parts of their own, taped together round the nose",
            value=sizes,
            mend="take a larger board, or leave it",
        ),
    )


def _refused(surface: Surface, skins: Sequence[FlatSkin], *, two: bool) -> Refusal:
    sizes = "; ".join(_size_words(sheet_corners(one)) for one in skins)
    boards = ", ".join(f"{decimal_text(w)} x {decimal_text(h)}" for w, h in surface.material.boards_mm)
    more = "" if two else ', or part the skins, nose = "two skins"'
    text = (
        f"the skin of {sizes} lies on no board ({boards} mm usable), whole or joined at places free of"
        f" slots and openings: take a larger board, or make it smaller{more}"
    )
    return Refusal(key=surface.key, text=text)
