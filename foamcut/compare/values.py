"""What comes of holding two versions of a part against each other."""

from dataclasses import dataclass
from enum import Enum

from foamcut.flat.part import Part


class Verdict(Enum):
    """What to do with a part that was cut of the old version."""

    KEEP = "keep"
    TRIM = "trim"  # the new one lies inside the old one, and its marks agree
    EXTEND = "extend"  # the old one lies inside the new one, its marks agree, the rest is a strip at an end
    CUT_AGAIN = "cut again"
    NEW = "new"
    GONE = "gone"


@dataclass(frozen=True, kw_only=True, eq=False)
class Compared:
    """A part of one or both versions.

    `reason` says why in a sentence.  `added` are the parts to cut for it: the new part, or of one that is
    extended the piece that is added with its patches; empty where nothing is cut.  `shift` is how far the
    old part is moved in the new one's coordinates to lie on it, mm.
    """

    name: str
    verdict: Verdict
    reason: str
    old: Part | None
    new: Part | None
    added: tuple[Part, ...] = ()
    shift: tuple[float, float] = (0.0, 0.0)
