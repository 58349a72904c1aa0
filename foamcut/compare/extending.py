"""Whether a part can be made longer with a piece at its end, and which pieces are cut for it.

mm, the new part's coordinates.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from shapely import Polygon

from foamcut.compare.details import Both, Differences
from foamcut.compare.doubled import Patching, over_seam, pieces, reach_beyond, usual
from foamcut.compare.outlines import Laid, farthest, largest
from foamcut.compare.placed import Ruler, end_words, listed
from foamcut.compare.seam import Seam, piece_beyond, seam_of
from foamcut.compare.skins import is_skin, patching_of, skin_patches
from foamcut.compare.stands import stands_there, too_near
from foamcut.compare.strips import is_strip, strip_seam, strip_words
from foamcut.flat.doublers import Patch
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.tolerances import EDGES_AGREE_MM

#: doublers reach so many thicknesses onto the added piece at least (common practice, no source)
_LEAST_REACH = 2.0


@dataclass(frozen=True, eq=False)
class Extended:
    """What is cut to extend a part and how; `refused` says why it cannot be, empty where more
    than a strip at one end is added; nothing is cut then.

    `off_mm`: so far the old one's edges lie off those of the new one.
    """

    added: tuple[Part, ...] = ()
    words: str = ""
    refused: str = ""
    differences: Differences = field(default_factory=Differences)
    off_mm: float = 0.0


@dataclass(frozen=True, eq=False)
class Extending:
    """A part of two versions, with all the parts of both."""

    old: Part
    new: Part
    before: Sequence[Part]
    after: Sequence[Part]
    ruler: Ruler

    def by(self, held: Laid) -> Extended:
        """The part extended, the old one lying on the new one as `held` says."""
        seam = seam_of(held)
        if seam is None or seam.longer_mm < self._least_mm:
            return Extended()
        if is_strip(self.new):
            found = strip_seam(self.old, seam, self.before, self.after, self.ruler)
            if isinstance(found, str):
                return Extended(refused=f"it cannot be extended: {found}")
            seam = found
        beyond = piece_beyond(held.new, seam)
        region = _within(held, seam)
        if beyond is None or region is None:
            return Extended()
        differences = Both(self.old, self.new, held.shift, region, self.ruler).differences()
        if differences.wrong or differences.drawn:
            return Extended(differences=differences)
        outline = self.new.outline.within(seam.beyond(held.new))[0]
        return replace(self._at(seam, outline, differences), off_mm=_off(held, seam))

    @property
    def _least_mm(self) -> float:
        """What is added at least; less cannot be held by a doubler."""
        return 0.0 if is_strip(self.new) else _LEAST_REACH * self.new.thickness_mm

    def _at(self, seam: Seam, beyond: Outline, differences: Differences) -> Extended:
        count = min(self.old.count, self.new.count)
        if is_strip(self.new):
            added = pieces(self.new, beyond, (), usual(self.new), count)
            return Extended(added, strip_words(self.new, seam, self.ruler), differences=differences)
        patching, patches, refused = self._patched(seam)
        if refused:
            return Extended(refused=f"it cannot be extended: {refused}")
        added = pieces(self.new, beyond, patches, patching, count)
        return Extended(added, self._words(seam, patches, patching), differences=differences)

    def _patched(self, seam: Seam) -> tuple[Patching, tuple[Patch, ...], str]:
        new, patching = self.new, usual(self.new)
        if is_skin(new):
            thin = patching_of(new, self.after)
            refused = "" if seam.axis == 1 else "a folded skin grows along its span alone"
            refused = refused or self._stands(seam, thin or patching)
            if refused or thin is None:
                return thin or patching, (), refused
            return thin, skin_patches(new, seam, thin, self.after), ""
        if not new.may_be_joined:
            return patching, (), "it has to be one piece"
        overlap = patching.doubling.overlap_mm
        refused = self._stands(seam, patching)
        near = () if refused else tuple(too_near(new, seam, overlap, self.ruler))
        if near:
            where = self.ruler.line(new, seam.axis, seam.at_mm)
            refused = f"at the seam, {where}, doublers would meet {listed(near)}"
        if refused:
            return patching, (), refused
        patches, refusals = over_seam(new, seam, patching)
        reach = reach_beyond(patches, seam)
        if reach < _LEAST_REACH * new.thickness_mm:
            refused = (
                f"the piece to be added, {self.ruler.length(seam.added_mm)}, is too narrow to be glued on"
            )
        elif refusals:
            refused = refusals[0].text
        return patching, patches, refused

    def _stands(self, seam: Seam, patching: Patching) -> str:
        there = tuple(dict.fromkeys(stands_there(self.new, seam, patching.doubling.overlap_mm)))
        if not there:
            return ""
        where = self.ruler.line(self.new, seam.axis, seam.at_mm)
        return f"{listed(there)} stands at the seam, {where}, or beyond it"

    def _words(self, seam: Seam, patches: Sequence[Patch], patching: Patching) -> str:
        new, ruler = self.new, self.ruler
        text = f"it is {ruler.length(seam.longer_mm)} longer at {end_words(new, seam.axis, seam.side)}: "
        where = f"at {ruler.line(new, seam.axis, seam.at_mm)}"
        if seam.cut_back_mm > EDGES_AGREE_MM:
            off = ruler.length(seam.cut_back_mm)
            text += (
                f"cut the old one off straight {where} ({off} off its end) and glue the added piece on there"
            )
        else:
            text += f"glue the added piece on {where}"
        if patches:
            several = "doublers" if len(patches) > 1 else "doubler"
            text += f" with {len(patches)} {several} of {patching.doubling.stock} over the seam"
        if is_skin(new):
            inside = ", inside" if patches else ", a strip of card inside"
            text += f"{inside}, before it is closed, and tape outside"
        return text


def _within(held: Laid, seam: Seam) -> Polygon | None:
    """What both have on the old one's side of the seam; the largest piece where there are several."""
    return largest(held.old.intersection(held.new).intersection(seam.within(held.new)))


def _off(held: Laid, seam: Seam) -> float:
    """How far the edges of both lie off each other on the old one's side, mm."""
    there = seam.within(held.new).buffer(-2 * EDGES_AGREE_MM, join_style="mitre")
    old, new = (one.boundary for one in (held.old, held.new))
    return max(farthest(old.intersection(there), new), farthest(new.intersection(there), old))
