"""Whether the joints of the two hands of a pair lie apart, when both ways to cut them are known."""

from dataclasses import replace

from foamcut.flat.drawn import Doubling
from foamcut.flat.fitting import nanometres
from foamcut.flat.joint_findings import not_staggered
from foamcut.flat.part import Part
from foamcut.flat.way import Way

#: what is said of joints of left and right that are too close
_TOO_CLOSE = "joints-not-staggered"


def compared(right: tuple[Part, Way], left: tuple[Part, Way]) -> tuple[Way, Way]:
    """The ways of the right-hand and the left-hand part, the left one with what there is to say of both.

    What either says so far of joints that are too close was said of other ways, and is left out.
    """
    part, way = left
    ways = [
        replace(one, findings=tuple(f for f in one.findings if f.code != _TOO_CLOSE))
        for one in (right[1], way)
    ]
    apart = _least_apart_nm(right[1], way)
    doubling = part.doubling or Doubling.usual(f"{part.key}.doubler", part.stock, part.thickness_mm)
    doubler_mm = 2 * doubling.overlap_mm
    if apart is not None and apart < nanometres(doubler_mm):
        said = not_staggered(part, apart / 1e6, doubler_mm)
        ways[1] = replace(ways[1], findings=(*ways[1].findings, said))
    return ways[0], ways[1]


def _least_apart_nm(right: Way, left: Way) -> int | None:
    """The least distance between lines along each other; None when there are none.  One hand has y for -y."""
    xs = [
        abs(nanometres(a.x_mm) - nanometres(b.x_mm))
        for a in right.joints
        for b in left.joints
        if a.x_mm is not None and b.x_mm is not None
    ]
    ys = [
        abs(nanometres(a.y_mm) + nanometres(b.y_mm))
        for a in right.joints
        for b in left.joints
        if a.y_mm is not None and b.y_mm is not None
    ]
    return min((*xs, *ys), default=None)
