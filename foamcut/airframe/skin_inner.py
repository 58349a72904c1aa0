"""How high the inner paper of an upper skin stands.  mm, c and n of the panel."""

import itertools

from foamcut.airframe.section import Section


def inner_height(section: Section, c_mm: float) -> float:
    """n of the upper skin's inner paper at a place along the chord, beyond its ends that of the nearer."""
    points = section.upper_inner
    for (c0, n0), (c1, n1) in itertools.pairwise(points):
        if c0 <= c_mm <= c1 and c1 > c0:
            return n0 + (n1 - n0) * (c_mm - c0) / (c1 - c0)
    return points[0][1] if c_mm < points[0][0] else points[-1][1]
