"""Which skins a folded surface is made of: one sheet or two skins, whole or in stretches along the span.

mm.  What fits on a board is judged by the flat pattern.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from shapely import Polygon

from foamcut.airframe.folded_flat import FlatSkin, laid_flat
from foamcut.airframe.folded_piece import Piece
from foamcut.airframe.planform import Panel, panels
from foamcut.airframe.skin_boards import all_lie
from foamcut.airframe.skin_cuts import Spans, even_cuts, step_cuts, taken_spans
from foamcut.airframe.skin_outline import Corner, sheet_corners
from foamcut.airframe.values import Inputs, Nose, OverSpar, Surface
from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.units import decimal_text

#: a flat pattern may be so far off the model
MOST_ERROR_MM = 0.5
#: no panel is cut in more stretches, and in so many more than its boards ask for to lie flat
_MOST, _FURTHER = 8, 2
#: a bent skin is no more shorter than a creased one
_NEAR_MM = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Parted:
    """A panel parted further than boards ask for: from so many stretches, so far off the model."""

    panel: Panel
    count: int
    error_mm: float


@dataclass(frozen=True, kw_only=True, eq=False)
class Layout:
    """The skins of a surface from the root out; `two`: lower and upper are parts of their own.

    `parted` are the panels that are parted so that they lie flat.
    """

    skins: tuple[FlatSkin, ...]
    two: bool
    parted: tuple[Parted, ...] = ()
    findings: tuple[Finding, ...] = ()
    refusals: tuple[Refusal, ...] = ()

    @property
    def joints(self) -> tuple[float, ...]:
        """s of the joints between neighbouring skins."""
        return tuple(one.piece.last_mm for one in self.skins[:-1])


def laid_out(surface: Surface, inputs: Inputs) -> Layout:
    """The fewest skins that fit: one sheet if it fits, else two skins, else stretches of either.

    Of a round nose, which is board itself, the sheet is not parted.  What fits is parted further where its
    flat pattern would be too far off the model.
    """
    several = panels(surface)
    given = surface.nose is Nose.TWO_SKINS
    parted = given or surface.nose is not Nose.SCORED
    ways = [(False, 1, False), (True, 1, False)]
    ways += [(two, _MOST, through) for through in (False, True) for two in (False, True)]
    for two, most, through in ways:
        if (given and not two) or (two and not parted):
            continue
        taken = taken_spans(surface, inputs, through=through)
        found = [_stretches(surface, taken, panel, two=two, most=most) for panel in several]
        if any(panel is None for panel in found):
            continue
        skins: list[FlatSkin] = []
        further: list[Parted] = []
        for panel, one in zip(several, found, strict=True):
            wide = one or []
            closer = _closer(surface, inputs, panel, wide, two=two)
            skins += closer
            if closer is not wide:
                error = max(skin.error_mm for skin in wide)
                further.append(Parted(panel=panel, count=len(wide), error_mm=error))
        return Layout(
            skins=tuple(skins),
            two=two,
            parted=tuple(further),
            findings=_two(surface, skins) if two and not given else (),
        )
    whole = tuple(
        laid_flat(_piece(surface, panel, panel.first.out_mm, panel.last.out_mm)) for panel in several
    )
    return Layout(skins=whole, two=given, refusals=(_refused(surface, whole, two=parted),))


def _stretches(
    surface: Surface, taken: Spans, panel: Panel, *, two: bool, most: int
) -> list[FlatSkin] | None:
    """The fewest stretches of a panel that lie on a board."""
    for count in range(1, most + 1):
        cuts = even_cuts(taken, panel, count)
        if cuts is None or not _may_lie(surface, panel, cuts, two=two):
            continue
        skins = _cut(surface, panel, cuts)
        if all_lie(skins, surface.material.boards_mm, two=two):
            return skins
    return None


def _may_lie(surface: Surface, panel: Panel, cuts: Sequence[float], *, two: bool) -> bool:
    """Whether bent skins may lie on a board, told by creased ones, which take a tenth of the time."""
    if surface.over_spar is OverSpar.CREASED:
        return True
    boards = tuple((w + _NEAR_MM, h + _NEAR_MM) for w, h in surface.material.boards_mm)
    return all_lie(_cut(replace(surface, over_spar=OverSpar.CREASED), panel, cuts), boards, two=two)


def _closer(
    surface: Surface, inputs: Inputs, panel: Panel, skins: list[FlatSkin], *, two: bool
) -> list[FlatSkin]:
    """The same, or parted further where strips end or in more stretches, so that it lies flat."""
    if max(one.error_mm for one in skins) <= MOST_ERROR_MM:
        return skins
    steps = step_cuts(surface, inputs, panel)
    taken = taken_spans(surface, inputs, through=False)
    for count in range(len(skins), len(skins) + _FURTHER + 1):
        for at in (steps, ()):
            if len(at) >= count:
                continue
            cuts = even_cuts(taken, panel, count, at)
            if cuts is None:
                continue
            parted = _cut(surface, panel, cuts)
            if max(one.error_mm for one in parted) <= MOST_ERROR_MM and all_lie(
                parted, surface.material.boards_mm, two=two
            ):
                return parted
    return skins


def _cut(surface: Surface, panel: Panel, cuts: Sequence[float]) -> list[FlatSkin]:
    ends = [panel.first.out_mm, *cuts, panel.last.out_mm]
    return [laid_flat(_piece(surface, panel, a, b)) for a, b in pairwise(ends)]


def _piece(surface: Surface, panel: Panel, first: float, last: float) -> Piece:
    return Piece(surface=surface, panel=panel, first_mm=first, last_mm=last)


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
