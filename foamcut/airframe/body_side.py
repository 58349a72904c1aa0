"""The sides of a body: their holes, slots and marks on the side view, and the part that is cut.

mm.  A side is drawn on its inner face, x aft and y up: the right one.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.airframe.body_holes import (
    ROUND_MM,
    Bar,
    Hole,
    Laying,
    Panel,
    cuts_of,
    ring_points,
    ring_readings,
)
from foamcut.airframe.body_openings import side_openings
from foamcut.airframe.body_stands import Stand
from foamcut.airframe.body_unroll import offset_line
from foamcut.airframe.body_view import View, whole_side
from foamcut.airframe.body_wing import Saddle
from foamcut.airframe.body_words import word_lines
from foamcut.airframe.values import BodyBuild, Corners, Inputs
from foamcut.flat.drawn import DrawnMark, DrawnPart, Face, Hand, KeepClear, Place, Readings
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

#: a tab's length: a third of the plate's height between these (common practice, no source)
_SHORTEST_TAB_MM, _LONGEST_TAB_MM = 15.0, 25.0
#: the strip of belly tape, from the lower edge up (common practice, no source)
BELLY_TAPE_MM = 18.0
#: how far under a saddle's edge the line of its tape is drawn
_SADDLE_TAPE_MM = 6.0
#: a saddle's edge that leans more than this is told of: on 5 mm board half a millimetre
_LEANS_DEG = 5.0
#: glue beside a plate, which joint doublers keep off
_GLUE_MM = 1.0
#: a mark that shows less of itself is left out
_SHOWN_MM = 3.0
#: what stands beside the slot of a stabiliser
TAIL_WORD = "tail"
#: a line this close to another is told by it
_TOLD_MM = 0.05
#: a shorter rest of an edge is bevelled with what lies under a deck; less under a deck than this is not
_SHORT_MM, _BARE_MM = 10.0, 1.0
#: a mitred corner is bevelled by half a right angle
MITRE_DEG = 45.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SideCuts:
    """The panel of a side with its holes, and the tab of each plate that has one: its length by its word."""

    panel: Panel
    tabs: dict[str, float]


def side_cuts(view: View, inputs: Inputs) -> SideCuts:
    """All holes of the sides; what has no room is refused in the panel."""
    body = view.body
    panel = Panel(words=f'the side of "{body.name}"', shape=view.side)
    panel.bars = [Bar(key=f"{body.key}.side", words="the floor, the deck or the hatch", shape=view.boards())]
    for slot in view.tail.slots:
        if slot.open:
            shape = slot.shape.buffer(ROUND_MM)
            panel.bars.append(Bar(key=slot.surface.key, words=slot.surface.name, shape=shape, always=True))
            continue
        points = tuple(ring_points(slot.shape))
        panel.lay(
            Hole(
                key=slot.surface.key,
                words=f'the slot for "{slot.surface.name}"',
                points=points,
                label=TAIL_WORD,
            )
        )
    tabs = {}
    for stand in view.stands:
        hole = _tab_hole(view, stand)
        if hole is not None and not panel.problem(hole):
            panel.holes.append(hole)
            tabs[stand.word] = hole.length_mm
    for stand in view.stands:
        front, foot, rear, head = stand.front_mm, stand.foot_mm, stand.rear_mm, stand.head_mm
        words = stand.word.replace("-", " ")
        panel.bars.append(Bar(key=stand.key, words=words, shape=shapely.box(front, foot, rear, head)))
    for hole in side_openings(view, inputs):
        panel.lay(hole)
    return SideCuts(panel=panel, tabs=tabs)


def _tab_hole(view: View, stand: Stand) -> Hole | None:
    """The slot for a plate's tab; None where there is none: beside a nose doubler, in a low plate."""
    length = min(_LONGEST_TAB_MM, max(_SHORTEST_TAB_MM, round(stand.height_mm / 3)))
    if stand.doubled or stand.height_mm < length + 2 * ROUND_MM + 1.0:
        return None
    return Hole(
        key=stand.key,
        words=f"the slot for {stand.word}",
        middle=stand.middle,
        length_mm=length,
        turn_deg=90.0,
        takes=stand.material,
        fit_mm=stand.material.fit_mm,
        reaches_in=False,
    )


def side_part(view: View, cuts: SideCuts) -> DrawnPart:
    """The right-hand side of a box body."""
    body, t = view.body, view.thickness_mm
    key = f"{body.key}.side"
    laying = Laying()
    made = cuts_of(cuts.panel.holes, laying, "side")
    return DrawnPart(
        key=key,
        name=f"{body.name}-side",
        stock=body.material.name,
        thickness_mm=t,
        shape=_outline(view, key),
        pair=Hand.RIGHT,
        face=Face.INNER,
        cutouts=made.cutouts,
        slots=made.slots,
        marks=side_marks(view, cuts.panel, laying, "side"),
        keep_clear=side_clear(view, laying),
        doubling=body.doubling,
        kerf_mm=body.material.kerf_mm,
        place=Place(key=key, at=(0.0, body.width_mm / 2 - t, 0.0), x=(1.0, 0.0, 0.0), y=(0.0, 0.0, 1.0)),
    )


def _outline(view: View, key: str) -> Readings:
    """The outline; of mitred corners the edges along floor and deck are bevelled."""
    points = ring_points(view.side)
    if view.body.corners is not Corners.MITRED:
        return ring_readings(key, points)
    return bevelled_ring(key, points, [strip.line for strip in view.strips if strip is not view.hatch])


def bevelled_ring(key: str, points: Sequence[Point], lines: Sequence[Sequence[Point]]) -> Readings:
    """A ring as an outline, its edges that lie on lines bevelled for a mitre."""
    along = shapely.union_all([LineString(line).buffer(0.001) for line in lines])
    points = _with_ends(points, [end for line in lines for end in (line[0], line[-1])], along)
    shape = ring_readings(key, points)
    rows = []
    for row, after in zip(shape.points, [*points[1:], points[0]], strict=True):
        edge = LineString([row.at, after])
        covered = edge.intersection(along).length
        mitred = covered > _BARE_MM and edge.length - covered < _SHORT_MM
        rows.append(replace(row, bevel_deg=MITRE_DEG) if mitred else row)
    return Readings(key=key, points=tuple(rows))


def _with_ends(points: Sequence[Point], ends: Iterable[Point], along: BaseGeometry) -> list[Point]:
    """A ring with the ends of lines let into its edges; where a line ends just short of a corner, not."""
    found = list(points)
    for x, z in ends:
        at = shapely.Point(x, z)
        for i, (a, b) in enumerate(zip(found, [*found[1:], found[0]], strict=True)):
            if at.distance(LineString([a, b])) > 1e-5:
                continue
            free = [end for end in (a, b) if not along.covers(_towards((x, z), end))]
            rest = min((math.dist((x, z), end) for end in free), default=0.0)
            if rest >= _SHORT_MM and min(math.dist((x, z), a), math.dist((x, z), b)) > _BARE_MM:
                found.insert(i + 1, (round(x, 6), round(z, 6)))
                break
    return found


def _towards(start: Point, end: Point) -> shapely.Point:
    """A place a little way from one point to another."""
    share = min(_BARE_MM / 2 / max(math.dist(start, end), _BARE_MM), 1.0)
    return shapely.Point(start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))


def side_marks(view: View, panel: Panel, laying: Laying, what: str) -> tuple[DrawnMark, ...]:
    """What is drawn on a side: where floor, deck, doubler and plates come, tape, saddle, and words."""
    body = view.body
    inner: list[tuple[str, str, Sequence[Point]]] = []
    outer: list[tuple[str, str, Sequence[Point]]] = []
    mitred = view.body.corners is Corners.MITRED and view.body.build is BodyBuild.BOX
    for strip in view.strips:
        if mitred and strip is not view.hatch:
            continue  # the line of its bevel says it
        word = "hatch" if strip is view.hatch else "deck" if strip.over else "floor"
        inner.append(
            (f"{body.key}.{word}", f"{word}, inside", offset_line(strip.line, strip.thickness_mm, strip.over))
        )
    for stand in view.stands:
        line = [(stand.front_mm, stand.foot_mm), (stand.front_mm, stand.head_mm)]
        inner.append((stand.key, stand.marked, line))
    outer.append((f"{body.key}.side", "belly tape up to here", _raised(view)))
    for saddle in view.seats.saddles:
        down = -_SADDLE_TAPE_MM if saddle.upwards else _SADDLE_TAPE_MM
        line = [(x, z + down) for x, z in saddle.line]
        outer.append((saddle.surface.key, _saddle_words(saddle), line))
        first, last = saddle.span
        x = first + (last - first) / 4
        far = view.side.bounds[1] if saddle.upwards else view.side.bounds[3]
        inner.append(
            (
                f"{saddle.surface.key}.quarter",
                f"{saddle.surface.name}, quarter chord",
                [(x, far), (x, line[0][1])],
            )
        )
    inner += _doubler_lines(view)
    holes = [*panel.holes, *_open_slots(view)]
    taken = [LineString(points) for _, _, points in inner]
    inner += [(hole.key, hole.label, line) for hole, line in word_lines(view.side, holes, taken)]
    marks: list[DrawnMark] = []
    for face, lines in ((Face.INNER, inner), (Face.OUTER, outer)):
        for key, text, points in lines:
            if shows(points, view.side):
                marks.append(
                    _line(f"{key}.{what}-mark[{len(marks)}]", face, [laying.at(p) for p in points], text)
                )
    return tuple(marks)


def _open_slots(view: View) -> list[Hole]:
    """What open slots take of the sides, to have their word beside them."""
    whole = whole_side(view.profile)
    return [
        Hole(key=slot.surface.key, words=slot.surface.name, points=tuple(ring_points(there)), label=TAIL_WORD)
        for slot in view.tail.slots
        if slot.open and isinstance(there := slot.shape.intersection(whole), Polygon)
    ]


def _doubler_lines(view: View) -> list[tuple[str, str, Sequence[Point]]]:
    """The outline of the nose doubler where no line of the floor tells it already; words on the longest."""
    if view.doubler is None:
        return []
    told = [
        LineString(offset_line(strip.line, strip.thickness_mm, strip.over)).buffer(_TOLD_MM)
        for strip in view.floors
    ]
    ring = ring_points(view.doubler)
    left = LineString([*ring, ring[0]]).difference(shapely.union_all(told))
    lines = [one for one in shapely.get_parts(shapely.line_merge(left)) if one.length > _SHOWN_MM]
    longest = max((line.length for line in lines), default=0.0)
    return [
        (
            f"{view.body.key}.nose_doubler",
            "doubler" if line.length == longest else "",
            [(x, z) for x, z in shapely.get_coordinates(line).tolist()],
        )
        for line in lines
    ]


def _saddle_words(saddle: Saddle) -> str:
    """Where tape goes, and by how much the edge leans where a wing with dihedral lies on it."""
    rise = saddle.surface.stations[0].dihedral_deg
    words = f"{saddle.surface.name}: packing tape over the edge"
    return f"{words}, sloped {decimal_text(rise, 1)} deg" if abs(rise) > _LEANS_DEG else words


def _line(key: str, face: Face, points: Sequence[Point], text: str) -> DrawnMark:
    return DrawnMark(key=key, kind="line", face=face, points=tuple(points), text=text)


def _raised(view: View) -> list[Point]:
    """The upper edge of the belly tape."""
    return [(x, z + BELLY_TAPE_MM) for x, z in view.profile.bottom_line]


def shows(points: Sequence[Point], shape: Polygon) -> bool:
    """Whether enough of a line lies well inside a shape."""
    return bool(LineString(points).intersection(shape.buffer(-0.5)).length > _SHOWN_MM)


def side_clear(view: View, laying: Laying) -> tuple[KeepClear, ...]:
    """Where no joint of a side lies: at saddles, open slots, plates, hatch corners, and as the body says."""
    body, spans = view.body, []
    spans += [(saddle.surface.key, saddle.span) for saddle in view.seats.saddles]
    spans += [(slot.surface.key, slot.span) for slot in view.tail.slots if slot.open]
    spans += [(one.key, (one.front_mm - _GLUE_MM, one.rear_mm + _GLUE_MM)) for one in view.stands]
    if body.hatch_mm is not None:
        spans += [(f"{body.key}.hatch", (x - _GLUE_MM, x + _GLUE_MM)) for x in body.hatch_mm]
    if body.nose_doubler_mm is not None:
        spans.append((f"{body.key}.nose_doubler", body.nose_doubler_mm))
    spans += [(f"{body.key}.keep_clear[{i}]", span) for i, span in enumerate(body.keep_clear_mm)]
    x0, z0, x1, z1 = view.side.bounds
    found = []
    for key, (a, b) in spans:
        corners = [laying.at((x, z)) for x in (max(a, x0), min(b, x1)) for z in (z0, z1)]
        xs = [x for x, _ in corners]
        if a < x1 and b > x0:
            found.append(KeepClear(key=key, x_mm=(min(xs), max(xs))))
    return tuple(found)
