"""Are the halves of a model alike: every part on the centre plane, or with a counterpart beyond it.

mm; model axes: x aft, y right, z up.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from foamcut.findings import Finding, Level
from foamcut.flat.assembled import Standing
from foamcut.units import decimal_text

#: two parts are of one area when they differ by less than this share of it
AREA = 1e-6
#: and lie mirrored when the middles of their boards do within this, mm
PLACE_MM = 0.01
#: a part so close to the other side is the counterpart of another, however unlike
_NEAR_MM = 30.0
#: a part across the centre plane may have the middle of its board so far off it: an opening on one side
_ACROSS_MM = 0.5


@dataclass(frozen=True, kw_only=True, eq=False)
class _Weight:
    """A part's board: its area and the middle of it in space."""

    name: str
    key: str
    stock: str
    area: float
    middle: np.ndarray
    across: bool  # stands on both sides of the centre plane

    @property
    def on_plane(self) -> bool:
        return abs(float(self.middle[1])) <= (_ACROSS_MM if self.across else PLACE_MM)


def halves_findings(model: Sequence[Standing]) -> Iterator[Finding]:
    """Each part that has no like counterpart on the other side; nothing of parts cut more than once.

    Where every part has one, the middle of all boards lies on the centre plane.
    """
    weights = [_weight(one) for one in model if one.part.count == 1]
    alone = [one for one in weights if not one.on_plane and not any(_alike(one, other) for other in weights)]
    told: set[str] = set()
    for one in alone:
        if one.across:
            # a fin's horn stands out to one side
            yield from () if one.key.endswith(".horn") else [_lopsided(one)]
        elif one.name not in told:
            off, other = _nearest(one, alone)
            told.update({other.name} if other else ())
            yield _told(one, off, other)


def _weight(one: Standing) -> _Weight:
    middle, area = np.zeros(3), 0.0
    for board in one.boards:
        polygon = board.panel.outline.polygon
        at = polygon.centroid
        place = board.panel.pose.point(at.x, at.y, -one.part.thickness_mm / 2)
        middle += polygon.area * np.array(place)
        area += polygon.area
    return _Weight(
        name=one.part.name,
        key=one.part.key,
        stock=one.part.stock,
        area=area,
        middle=middle / area,
        across=bool(one.box[0, 1] < -PLACE_MM and one.box[1, 1] > PLACE_MM),
    )


def _off(one: _Weight, other: _Weight) -> float:
    """How far the middle of a part is off the mirror image of another's."""
    return float(np.linalg.norm(other.middle - one.middle * np.array([1.0, -1.0, 1.0])))


def _alike(one: _Weight, other: _Weight) -> bool:
    same = abs(one.area - other.area) <= AREA * one.area and one.stock == other.stock
    return same and _off(one, other) <= PLACE_MM


def _nearest(one: _Weight, alone: Sequence[_Weight]) -> tuple[float, _Weight | None]:
    """The part without a counterpart that lies nearest to where this one's should be, and how far off."""
    found = [
        (round(_off(one, other), 6), i)
        for i, other in enumerate(alone)
        if not other.across and other.stock == one.stock and other.middle[1] * one.middle[1] < 0
    ]
    off, i = min(found, default=(_NEAR_MM, -1))
    return (off, alone[i]) if off < _NEAR_MM else (off, None)


def _lopsided(one: _Weight) -> Finding:
    value = f"{decimal_text(abs(float(one.middle[1])), 2)} mm"
    hand = "right" if one.middle[1] > 0 else "left"
    return Finding(
        code="fit-halves",
        level=Level.NOTE,
        where=one.key,
        text=f"the halves of {one.name} are not alike: the middle of its board lies {value} {hand} of the"
        " centre plane",
        value=value,
        mend="leave it if it is meant; else mend the outline, an opening or the place",
    )


def _told(one: _Weight, off: float, other: _Weight | None) -> Finding:
    if other is None:
        where = f"{decimal_text(abs(one.middle[1]))} mm {'right' if one.middle[1] > 0 else 'left'}"
        text, value = f"{one.name}, {where} of the centre plane, has no counterpart on the other side", ""
    elif abs(one.area - other.area) > AREA * one.area:
        value = f"{decimal_text(abs(one.area - other.area), 1)} mm2"
        text = f"{one.name} and {other.name} differ by {value} of board"
    else:
        value = f"{decimal_text(off, 2)} mm"
        text = f"{one.name} and {other.name} do not lie mirrored: they are {value} off"
    return Finding(
        code="fit-halves",
        level=Level.WARNING,
        where=one.key,
        text=text,
        value=value,
        mend='draw one and let `pair = "right"` make the other, or mend the place',
    )
