"""Seams of spar strips that are extended: off that of the skin, off each other, off joiners and motors.

mm, a strip's coordinates: y out along its front edge.
"""

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from foamcut.airframe.spar_strips import APART_WIDTHS
from foamcut.compare.placed import Ruler, end_words
from foamcut.compare.seam import Seam
from foamcut.flat.clipping import run_points
from foamcut.flat.part import Part

#: strips are joined at full and half centimetres, and what is left is so many widths long at least
_GRID_MM, _SHORTEST_WIDTHS = 5.0, 2.0
_STRIP = re.compile(r"(?P<surface>surface\..+)\.spar\.strip\[(?P<row>\d+)\]")


def is_strip(part: Part) -> bool:
    """Whether a part is a strip of a spar."""
    return _STRIP.fullmatch(part.key) is not None


def strip_seam(
    old: Part, seam: Seam, before: Sequence[Part], after: Sequence[Part], ruler: Ruler
) -> Seam | str:
    """The seam of a strip, so far inside that of the skin as its layer says; a text why there is none."""
    if seam.axis != 1:
        return "more than a strip at its end is added"
    width = old.length_mm
    back = APART_WIDTHS * width * (1 + _layers_before(old, before, seam))
    at = math.floor(round(abs(seam.old_end) - back, 6) / _GRID_MM) * _GRID_MM
    if at - _start(old, seam) < _SHORTEST_WIDTHS * width:
        far = ruler.length(APART_WIDTHS * width)
        return f"it is too short for a seam {far} off those of the skin and of the other strips"
    for word, low, high in _stands(old, after):
        if low - width < at < high + width:
            return f"{word} stands where its seam would lie, off those of the skin and of the other strips"
    return replace(seam, at_mm=seam.side * at)


def strip_words(new: Part, seam: Seam, ruler: Ruler) -> str:
    """What is done to extend a strip."""
    return (
        f"it is {ruler.length(seam.longer_mm)} longer at {end_words(new, seam.axis, seam.side)}: cut the old"
        f" one off at {ruler.line(new, seam.axis, seam.at_mm)} ({ruler.length(seam.cut_back_mm)} off its end)"
        f" and glue the added piece of {ruler.length(seam.added_mm)} against it; so its seam lies away from"
        " those of the skin and of the other strips, which hold it; do so while the skin is open: in one that"
        " is glued shut nobody reaches the strips, and skin and strips are cut again"
    )


def _layers_before(strip: Part, several: Sequence[Part], seam: Seam) -> int:
    """How many strips of lower rows of the same half end at about the same place."""
    own = _STRIP.fullmatch(strip.key)
    if own is None:
        return 0
    rows = set()
    for one in several:
        other = _STRIP.fullmatch(one.key)
        if other is None or other["surface"] != own["surface"] or one.hand is not strip.hand:
            continue
        ends = (one.outline.bounds[3 if seam.side > 0 else 1], seam.old_end)
        if int(other["row"]) < int(own["row"]) and abs(ends[0] - ends[1]) < APART_WIDTHS * strip.length_mm:
            rows.add(int(other["row"]))
    return len(rows)


def _start(strip: Part, seam: Seam) -> float:
    return abs(strip.outline.bounds[1 if seam.side > 0 else 3])


def _stands(strip: Part, after: Sequence[Part]) -> Iterator[tuple[str, float, float]]:
    """Joiners and motors of the strip's half, as distances along it from its root end."""
    own = _STRIP.fullmatch(strip.key)
    surface = own["surface"] if own else ""
    for one in after:
        if one.key.startswith(f"{surface}.joiner["):
            yield "a joiner", -math.inf, max(abs(one.outline.bounds[0]), abs(one.outline.bounds[2]))
        if one.key == surface and one.hand is strip.hand:
            things = [(slot.key, list(slot.outline.rings()[0])) for slot in one.slots]
            things += [
                (mark.key, [at for run in mark.drawn().runs for at in run_points(run)]) for mark in one.marks
            ]
            for key, points in things:
                if points and "motor" in key.split("."):
                    places = [_along(strip, one, at) for at in points]
                    yield "a motor", min(places), max(places)


def _along(strip: Part, skin: Part, at: tuple[float, float]) -> float:
    """How far along a strip a point of its skin lies."""
    if strip.place is None or skin.place is None:
        return abs(at[1])
    whole = [
        start + at[0] * x + at[1] * y - root
        for start, x, y, root in zip(skin.place.at, skin.place.x, skin.place.y, strip.place.at, strict=True)
    ]
    return abs(sum(a * b for a, b in zip(whole, strip.place.y, strict=True)))
