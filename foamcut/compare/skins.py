"""Patches over the seam of a folded skin: thin, inside, beside the spar, where the closed skin leaves room.

mm, the skin's flat pattern: x aft along the chord on the lower side, y out along the span.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from shapely import LineString

from foamcut.airframe.skin_joints import OFF_SPAR_MM, REACH_MM
from foamcut.compare.doubled import Patching, line_of
from foamcut.compare.placed import lines_of
from foamcut.compare.seam import Seam
from foamcut.flat.doublers import Patch, patches, room_for_doublers
from foamcut.flat.drawn import Doubling, Grain, KeepClear
from foamcut.flat.part import Part
from foamcut.flat.tolerances import ROUNDING_MM

#: room over a patch that glue takes (as at the joints of skins)
_GLUE_MM = 0.3
#: thin stock is at most this share of the board
_THIN_SHARE = 0.5


def is_skin(part: Part) -> bool:
    """Whether a part is the skin of a folded surface, or one of its two skins."""
    return part.key.startswith("surface.") and part.key.count(".") == 1 and not part.may_be_joined


def patching_of(skin: Part, others: Iterable[Part]) -> Patching | None:
    """Patches of the thinnest stock of the design; None: it has none that is thin."""
    thin = [one for one in others if one.thickness_mm <= _THIN_SHARE * skin.thickness_mm + ROUNDING_MM]
    if not thin:
        return None
    one = min(thin, key=lambda part: (part.thickness_mm, part.stock))
    doubling = Doubling(
        key=f"{skin.key}.doubler",
        stock=one.stock,
        thickness_mm=one.thickness_mm,
        overlap_mm=REACH_MM,
        inset_mm=OFF_SPAR_MM,
        taper_mm=0.0,
    )
    return Patching(doubling=doubling, kerf_mm=one.kerf_mm, grain=Grain.ANY)


def skin_patches(skin: Part, seam: Seam, patching: Patching, others: Sequence[Part]) -> tuple[Patch, ...]:
    """Patches on the lower side before and behind the spar; none where there is no room or no spar.

    Inside a closed skin the height is that of the spar's strips there, falls to the nose, and behind the spar
    straight to the trailing edge, where the upper board's outer paper meets the lower one's inner paper.
    """
    spar = _spar(skin, seam, patching.doubling.overlap_mm)
    strips = [
        one for one in others if one.key.startswith(f"{skin.key}.spar.strip[") and one.hand is skin.hand
    ]
    height = sum(one.thickness_mm for one in strips if _runs_by(one, seam))
    need = patching.doubling.thickness_mm + _GLUE_MM
    if spar is None or height <= need:
        return ()
    front, rear = spar
    along = line_of(seam).stretches(skin.outline.polygon)
    first, last = min(a for a, _ in along), max(b for _, b in along)
    nose = max((x for x in _folds_at(skin, seam) if x < front), default=first)
    low = nose + (front - nose) * need / height
    high = rear + (last - rear) * (height - need) / (height + skin.thickness_mm)
    far = max(abs(one) for one in skin.outline.bounds) + 1.0
    off = OFF_SPAR_MM
    barred = ((-far, low), (front - off, rear + off), (high, far))
    clear = tuple(KeepClear(key=skin.key, x_mm=one) for one in barred if one[0] < one[1])
    kept = replace(skin, keep_clear=(*skin.keep_clear, *clear))
    room = room_for_doublers(kept, patching.doubling)
    return tuple(patches(line_of(seam), skin.outline.polygon, room, patching.doubling))


def _spar(skin: Part, seam: Seam, overlap_mm: float) -> tuple[float, float] | None:
    """x from where to where the spar lies near the seam."""
    near = line_of(seam).box(-overlap_mm, overlap_mm, *_reach(skin))
    xs: list[float] = []
    for mark in skin.marks:
        if mark.key.startswith(f"{skin.key}.spar["):
            line = lines_of(mark.drawn().runs).intersection(near)
            xs += [] if line.is_empty else [line.bounds[0], line.bounds[2]]
    return (min(xs), max(xs)) if xs else None


def _folds_at(skin: Part, seam: Seam) -> list[float]:
    """x of the folds that cross the seam, of a bend the end that lies farther aft."""
    across = LineString([line_of(seam).point(0.0, at) for at in _reach(skin)])
    found = []
    for fold in skin.folds:
        line = lines_of(fold.fold or fold.cut_runs()).intersection(across)
        if not line.is_empty:
            found.append(float(line.bounds[2]))
    return found


def _reach(skin: Part) -> tuple[float, float]:
    return skin.outline.bounds[0] - 1.0, skin.outline.bounds[2] + 1.0


def _runs_by(strip: Part, seam: Seam) -> bool:
    """Whether a strip runs on to about the seam; strips are drawn along the span like skins."""
    end = strip.outline.bounds[3] if seam.side > 0 else strip.outline.bounds[1]
    return (end - seam.at_mm) * seam.side >= -strip.length_mm
