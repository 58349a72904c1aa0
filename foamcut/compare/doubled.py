"""The doublers over the seam of a part that is extended, and the pieces to be cut for it.

mm, the new part's coordinates.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from foamcut.compare.seam import Seam
from foamcut.errors import Refusal
from foamcut.flat.doublers import Line, Patch, letters
from foamcut.flat.drawn import Doubling, Grain, Hand
from foamcut.flat.fitting import nanometres
from foamcut.flat.joinery import Joinery
from foamcut.flat.joint_lines import Lines
from foamcut.flat.joint_mark import Glued
from foamcut.flat.line_search import NO_COST
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.sections import section_part
from foamcut.flat.stock import SheetSize, Stock
from foamcut.flat.tolerances import SAME_POINT_MM

#: what an added piece is called after its part's name
ADDED = "added"
#: doublers are looked for as if sheets were so large: what is too large for a sheet is joined when it is laid
_LARGE_MM = 100_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Patching:
    """Which stock doublers over a seam are cut from, and how they lie."""

    doubling: Doubling
    kerf_mm: float
    grain: Grain


def usual(part: Part) -> Patching:
    """The part's own doubling, else the usual one of its board."""
    doubling = part.doubling or Doubling.usual(f"{part.key}.doubler", part.stock, part.thickness_mm)
    return Patching(doubling=doubling, kerf_mm=part.kerf_mm, grain=part.grain)


def over_seam(part: Part, seam: Seam, patching: Patching) -> tuple[tuple[Patch, ...], tuple[Refusal, ...]]:
    """The doublers over the seam of a part, and why there are none that hold it."""
    doubling = patching.doubling
    size = SheetSize(key="", width_mm=_LARGE_MM, height_mm=_LARGE_MM)
    stock = Stock(
        key="",
        name=doubling.stock,
        material="",
        thickness_mm=doubling.thickness_mm,
        margin_mm=0.0,
        gap_mm=0.0,
        sheets=(size,),
    )
    at = (nanometres(seam.at_mm),)
    lines = Lines(NO_COST, at, ()) if seam.axis == 0 else Lines(NO_COST, (), at)
    doubled = Joinery(part, doubling, stock).doubled(lines)
    return tuple(patch for row in doubled.doublers for patch in row), doubled.refusals


def reach_beyond(patches: Sequence[Patch], seam: Seam) -> float:
    """How far the doublers reach onto the added piece at least, mm; 0 without any."""
    ends = (patch.outline.bounds[seam.axis + 2 if seam.side > 0 else seam.axis] for patch in patches)
    return min(((end - seam.at_mm) * seam.side for end in ends), default=0.0)


def pieces(
    part: Part, beyond: Outline, patches: Sequence[Patch], patching: Patching, count: int
) -> tuple[Part, ...]:
    """The added piece with what lies on it, and the doublers, each as a part of its own."""
    flush = patching.doubling.inset_mm <= SAME_POINT_MM
    marks = [
        Glued.of(part.key, part.face, letter, patch, flipped=part.hand is Hand.LEFT, flush=flush)
        for letter, patch in zip(letters(len(patches)), patches, strict=True)
    ]
    name = f"{part.name}-{ADDED}"
    own = (glued.on_section(beyond.polygon) for glued in marks)
    added = replace(section_part(part, beyond, 1, labelled=False), name=name, count=count)
    added = replace(added, marks=(*added.marks, *(mark for mark in own if mark is not None)))
    return (added, *(_doubler(part, name, glued, patching, count) for glued in marks))


def line_of(seam: Seam) -> Line:
    """A seam as a joint line."""
    return Line(seam.axis, seam.at_mm)


def _doubler(part: Part, name: str, glued: Glued, patching: Patching, count: int) -> Part:
    return replace(
        part,
        name=f"{name}-doubler-{glued.letter.lower()}",
        stock=patching.doubling.stock,
        thickness_mm=patching.doubling.thickness_mm,
        grain=patching.grain,
        kerf_mm=patching.kerf_mm,
        count=count,
        outline=glued.patch.outline,
        marks=(glued.on_doubler(),),
        slots=(),
        tabs=(),
        label=None,
        named=(),
        folds=(),
        bevels=(),
        joint_lines=(),
        keep_clear=(),
        doubling=None,
    )
