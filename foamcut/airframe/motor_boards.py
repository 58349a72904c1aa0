"""A board that stands fore and aft beside a wing motor, with the wing cut out of its rear.  mm.

Drawn x aft, y up, as seen from the centre plane; (0, 0) is at the spar's front face, on the propeller's line.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely import Polygon

from foamcut.airframe.body_holes import Hole, box_points
from foamcut.airframe.body_words import word_marks
from foamcut.airframe.made import Made
from foamcut.airframe.motor_seat import WingSeat
from foamcut.airframe.section import section_at
from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.flat.drawn import Cutout, DrawnMark, DrawnPart, Face, Hand, Place, Reading, Readings, Rectangle
from foamcut.flat.outline import Point
from foamcut.flat.placement import rounded
from foamcut.flat.shape import outline_of
from foamcut.flat.tolerances import CHORD_MM, ROUNDING_MM
from foamcut.units import decimal_text
from foamcut.units import mm_text as _mm

#: between a board and the skin that it goes round, and how much of it is left there; common practice, no
#: source
CLEAR_MM, LEFT_MM = 0.5, 4.0
#: the opening for wires, along as far as there is room, and high, and what is left round it; common
#: practice, no source
_WIRES_MM, _ROUND_WIRES_MM = ((20.0, 16.0, 12.0), 8.0), 4.0
#: beyond any board
_FAR_MM = 1e4


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A board beside a motor: s of its inner face, its rear end at c, its outline before the wing is cut out.

    `rim` runs from the rear lower corner round the front to the rear upper one, (c, n, whether smooth).
    """

    key: str
    name: str
    s_mm: float
    rear_mm: float
    rim: tuple[tuple[float, float, bool], ...]
    face: Face


def board_made(seat: WingSeat, board: Board, *, wires_mm: float | None = None) -> Made:
    """A board with the wing cut out of its rear, and an opening for wires before `wires_mm`, a c."""
    mouth = _mouth(seat, board)
    if not mouth:
        return Made(refusals=(_no_section(seat, board),))
    rim = outline_of(_readings(seat, board, board.rim)).polygon
    taken = Polygon([_on(seat, p) for p in mouth])
    inside = shapely.box(-_FAR_MM, -_FAR_MM, _on(seat, (board.rear_mm, 0.0))[0], _FAR_MM).intersection(
        rim.buffer(-LEFT_MM)
    )
    over = taken.difference(inside.union(_rear_band(seat, board))).area
    if over > 1e-3:
        return Made(refusals=(_no_room(seat, board),))
    around = (*board.rim, *((c, n, False) for c, n in reversed(mouth)))
    left = rim.difference(taken)
    opening = None if wires_mm is None else _wire_cut(seat, board, left, wires_mm)
    part = DrawnPart(
        key=board.key,
        name=board.name,
        stock=seat.surface.material.name,
        thickness_mm=seat.surface.material.thickness_mm,
        shape=_readings(seat, board, around),
        pair=Hand.RIGHT,
        face=board.face,
        cutouts=(opening,) if opening is not None else (),
        marks=(*_marks(seat, board), *_wire_words(seat, board, left, opening)),
        place=Place(
            key=board.key,
            at=seat.panel.point(seat.rear_mm, board.s_mm, seat.axis_mm),
            x=seat.panel.aft,
            y=seat.panel.up,
        ),
        kerf_mm=seat.surface.material.kerf_mm,
    )
    return Made(parts=(part,))


def _rear_band(seat: WingSeat, board: Board) -> Polygon:
    """Where the wing leaves the board at its rear, so that nothing has to be left behind it."""
    x = _on(seat, (board.rear_mm, 0.0))[0]
    half = seat.height_mm / 2 - LEFT_MM
    return shapely.box(x - LEFT_MM - 1.0, 0.0 - half, x + 1.0, half)


def _mouth(seat: WingSeat, board: Board) -> tuple[Point, ...]:
    """What the section takes, from the rear below round its nose to the rear above.

    Of a tapered wing the sections at both faces of the board.  Empty when a section crosses itself.
    """
    t = seat.surface.material.thickness_mm
    sections = [
        Polygon(section_at(seat.surface, seat.panel, s).outline) for s in (board.s_mm, board.s_mm + t)
    ]
    if not all(section.is_valid for section in sections):
        return ()
    before = shapely.box(-_FAR_MM, -_FAR_MM, board.rear_mm + 10 * CLEAR_MM, _FAR_MM)
    clear = CLEAR_MM + 2 * CHORD_MM  # simplified before and after, each by no more than that
    around = (
        shapely.union_all(sections)
        .intersection(before)
        .simplify(CHORD_MM)
        .buffer(clear, join_style="mitre", mitre_limit=2.0)
    )
    front, low, _, high = around.bounds
    cut = around.intersection(shapely.box(front - 1.0, low - 1.0, board.rear_mm, high + 1.0))
    if not isinstance(cut, Polygon):
        return ()
    ring = list(shapely.get_coordinates(cut.normalize().exterior.simplify(CHORD_MM)))[:-1]
    points = [(float(c), float(n)) for c, n in ring]
    at_rear = [i for i, (c, _) in enumerate(points) if abs(c - board.rear_mm) <= ROUNDING_MM]
    start = min(at_rear, key=lambda i: points[i][1])
    turned = [*points[start:], *points[:start]]
    if abs(turned[1][0] - board.rear_mm) <= ROUNDING_MM:
        turned = [turned[0], *reversed(turned[1:])]
    return tuple(turned)


def _readings(seat: WingSeat, board: Board, points: tuple[tuple[float, float, bool], ...]) -> Readings:
    return Readings(
        key=board.key,
        points=tuple(
            Reading(key=f"{board.key}.outline[{i}]", at=_on(seat, (c, n)), smooth=smooth)
            for i, (c, n, smooth) in enumerate(points)
        ),
    )


def _on(seat: WingSeat, place: Point) -> Point:
    """Where a place of the section lies on a board's drawing."""
    return rounded(place[0] - seat.rear_mm), rounded(place[1] - seat.axis_mm)


def _marks(seat: WingSeat, board: Board) -> tuple[DrawnMark, ...]:
    """The propeller's line, and where the firewall stands."""
    half = seat.height_mm / 2
    key = f"{board.key}.{board.name}"
    ahead = min(c for c, _, _ in board.rim)
    lines = [(_on(seat, (ahead, seat.axis_mm)), _on(seat, (board.rear_mm, seat.axis_mm)), "shaft")]
    if board.rear_mm > seat.front_mm:
        x = _on(seat, (seat.front_mm, 0.0))[0]
        lines.append(((x, 0.0 - half), (x, half), "firewall"))
    return tuple(
        DrawnMark(key=f"{key}.marks[{i}]", kind="line", face=board.face, points=(a, b), text=text)
        for i, (a, b, text) in enumerate(lines)
    )


def _wire_cut(seat: WingSeat, board: Board, left: shapely.Geometry, before: float) -> Cutout | None:
    """An opening for wires before the nose of the wing, or above or below the shaft where that is freer."""
    lengths, high = _WIRES_MM
    front = min(c for c, _, _ in board.rim)
    middle = (front + before) / 2
    free = left.buffer(-_ROUND_WIRES_MM)
    half = seat.height_mm / 4
    for long in lengths:
        for n in (seat.axis_mm, seat.axis_mm - half, seat.axis_mm + half):
            x, y = _on(seat, (middle - long / 2, n - high / 2))
            if middle + long / 2 <= before and free.covers(shapely.box(x, y, x + long, y + high)):
                key = f"{board.key}.{board.name}.wires"
                return Cutout(key=key, shape=Rectangle(key=key, width_mm=long, height_mm=high), at=(x, y))
    return None


def _wire_words(
    seat: WingSeat, board: Board, left: shapely.Geometry, opening: Cutout | None
) -> tuple[DrawnMark, ...]:
    """What the opening is for, beside it."""
    if opening is None or not isinstance(left, Polygon) or not isinstance(opening.shape, Rectangle):
        return ()
    (x, y), wide, high = opening.at, opening.shape.width_mm, opening.shape.height_mm
    middle = x + wide / 2, y + high / 2
    hole = Hole(key=opening.key, words="", points=box_points(middle, (wide, high)), label="wires")
    return word_marks(left, [hole], _marks(seat, board), board.name, board.face)


def leading(seat: WingSeat, s: float) -> float:
    """c of the foremost of the wing's nose along a board."""
    t = seat.surface.material.thickness_mm
    return min(seat.panel.leading(s), seat.panel.leading(s + t))


def wire_cut_findings(key: str, parts: Sequence[DrawnPart]) -> tuple[Finding, ...]:
    """One note on those of the boards that should have an opening for wires and have none."""
    names = [part.name for part in parts if not part.cutouts]
    if not names:
        return ()
    note = Finding(
        code="motor-mount",
        level=Level.NOTE,
        where=key,
        text=f"no room for an opening for wires before the wing in {' and '.join(names)}",
        range=(
            f"{decimal_text(_WIRES_MM[0][-1])} x {decimal_text(_WIRES_MM[1])} mm, {_mm(_ROUND_WIRES_MM)} left"
            " round it"
        ),
        source="common practice, no source",
        mend="make the nacelle longer, or lead the wires into the wing inside it",
    )
    return (note,)


def _no_section(seat: WingSeat, board: Board) -> Refusal:
    text = (
        f'the section of "{seat.surface.name}" cannot be made where {board.name} stands: mend the wing first'
    )
    return Refusal(key=seat.motor.key, text=text)


def _no_room(seat: WingSeat, board: Board) -> Refusal:
    text = (
        f"{board.name} goes round the nose of the wing, and less than {_mm(LEFT_MM)} of it would be left"
        f" there: make the firewall higher than {_mm(seat.height_mm)} ({seat.motor.firewall.key}.height)"
    )
    return Refusal(key=board.key, text=text)
