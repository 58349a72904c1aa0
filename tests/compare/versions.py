"""Two versions of parts made by hand, and what every verdict must keep to, by shapely alone."""

from collections.abc import Sequence
from typing import Any

from shapely.affinity import translate

from foamcut.compare.parts import compared_parts
from foamcut.compare.values import Compared, Verdict
from foamcut.flat.build import build_part
from foamcut.flat.drawn import DrawnPart
from foamcut.flat.part import Part
from foamcut.flat.tolerances import EDGES_AGREE_MM
from tests.strategies import panel, rectangle

#: mitred corners of what is grown by the tolerance lie farther off
TOLERANCE_MM = 2 * EDGES_AGREE_MM


def built(drawn: DrawnPart) -> Part:
    parts, _ = build_part(drawn)
    return parts[0]


def plate(width: float = 300.0, height: float = 80.0, **more: Any) -> Part:
    """An oblong plate of 5 mm board."""
    return built(panel(rectangle(width, height), **more))


def verdict(old: Part, new: Part, units: str = "mm") -> Compared:
    (found,) = compared_parts([old], [new], units)
    hold([found])
    return found


def hold(compared: Sequence[Compared]) -> None:
    """All that is promised of verdicts.

    arithmetic: union and difference of polygons, and their buffers, by shapely.
    """
    for one in compared:
        assert one.reason.endswith(".") and one.reason[0] == one.reason[0].upper()
        assert len({part.name for part in one.added}) == len(one.added)
        if one.old is None or one.new is None:
            assert one.verdict in (Verdict.NEW, Verdict.GONE)
            assert one.added == ((one.new,) if one.new else ())
            continue
        old, new = translate(one.old.outline.polygon, *one.shift), one.new.outline.polygon
        if one.verdict in (Verdict.KEEP, Verdict.TRIM):
            assert new.difference(old.buffer(TOLERANCE_MM)).is_empty
        if one.verdict is Verdict.KEEP:
            assert old.difference(new.buffer(TOLERANCE_MM)).is_empty
        if one.verdict is Verdict.TRIM:
            assert not old.difference(new.buffer(EDGES_AGREE_MM * 0.99)).is_empty
        if one.verdict is Verdict.CUT_AGAIN:
            assert one.added == (one.new,)
        if one.verdict is Verdict.EXTEND:
            _extended(one, old, new)


def _extended(one: Compared, old: Any, new: Any) -> None:
    strip, *others = one.added
    assert strip.name == f"{one.name}-added" and strip.stock == one.new.stock
    piece = strip.outline.polygon
    assert piece.difference(new.buffer(1e-6)).area < 1e-6
    whole = old.union(piece)
    assert new.difference(whole.buffer(TOLERANCE_MM)).is_empty
    # what of the old one lies beyond the seam is cut off; none of it lies beyond the new one either
    assert whole.difference(new.buffer(TOLERANCE_MM)).is_empty
    for doubler in (part for part in others if "-doubler-" in part.name):
        patch = doubler.outline.polygon
        assert patch.difference(new.buffer(1e-6)).area < 1e-6
        assert patch.intersection(piece).area > 0 and patch.difference(piece).area > 0
