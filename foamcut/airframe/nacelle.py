"""Boards that stand fore and aft beside a wing motor: cheeks that hold the firewall, and nacelle sides.

mm.  Each stands square to the span and straddles the nose of the wing: its rear is open round the section.
Drawn x aft, y up, as seen from the centre plane; (0, 0) is at the spar's front face, on the propeller's line.
What each of them stands against is told by `foamcut.airframe.motor_widths`.  The length of a nacelle counts
from the front face of the spar, on which the firewall stands.
"""

import math

from foamcut.airframe.made import Made
from foamcut.airframe.motor_boards import CLEAR_MM, Board, board_made, leading, wire_cut_findings
from foamcut.airframe.motor_checks import disc_rear, foremost
from foamcut.airframe.motor_seat import WingSeat
from foamcut.airframe.motor_widths import Stand, gap_findings, width_refusals, widths
from foamcut.airframe.values import Nacelle
from foamcut.errors import Refusal
from foamcut.flat.drawn import Face
from foamcut.units import mm_text as _mm

#: how far cheeks go before the nose of the wing, what a blade keeps off them, and what of a nacelle would be
#: struck by it; common practice, no source
BEFORE_MM, BLADE_MM, STRUCK_MM = 10.0, 5.0, 1.0
#: how much higher than the nose of the wing the front of a cheek is, above and below; how far a nacelle goes
#: before the nose at least
_FRONT_MM, _LEAST_MM = 8.0, 8.0
#: the front of a nacelle, as a share of its height
_BLUNT = 0.5
#: points of its rounding between side and front, as shares of a quarter turn
_ROUND = (0.25, 0.5, 0.75)


def side_boards(seat: WingSeat) -> Made:
    """The cheeks and the sides of a nacelle, where there are; each a pair with that of the other wing."""
    motor, stands, t = seat.motor, widths(seat), seat.surface.material.thickness_mm
    made = []
    if stands.cheeks is not None:
        rear = stands.cheeks.rear_mm
        made += [
            board_made(
                seat, _board(seat, motor.key, f"cheek-{word}", s, rear, _cheek_rim(seat, s, rear), face)
            )
            for word, s, face in _both(seat.s_mm, stands.cheeks.apart_mm / 2, t)
        ]
    if motor.nacelle is not None and stands.sides is not None:
        made.append(_nacelle(seat, motor.nacelle, stands.sides))
    return Made.of(made)


def _both(s: float, inside: float, t: float) -> tuple[tuple[str, float, Face], ...]:
    """The inner board, seen from the centre plane on its outside, and the outer one on its inside."""
    return ("inner", s - inside - t, Face.OUTER), ("outer", s + inside, Face.INNER)


def _board(
    seat: WingSeat,
    key: str,
    word: str,
    s: float,
    rear: float,
    rim: tuple[tuple[float, float, bool], ...],
    face: Face,
) -> Board:
    name = f"motor-{seat.motor.name}-{word}"
    return Board(key=key, name=name, s_mm=s, rear_mm=rear, rim=rim, face=face)


def _cheek_rim(seat: WingSeat, s: float, rear: float) -> tuple[tuple[float, float, bool], ...]:
    """As high as the firewall at the rear, lower before the nose of the wing."""
    low, high = seat.axis_mm - seat.height_mm / 2, seat.axis_mm + seat.height_mm / 2
    front = _cheek_front(seat, s)
    foot, head = max(low, 0.0 - _FRONT_MM), min(high, seat.section.nose_height_mm + _FRONT_MM)
    return (
        (rear, low, False),
        (front, foot, False),
        (front, head, False),
        (rear, high, False),
    )


def _cheek_front(seat: WingSeat, s: float) -> float:
    """c of the front of a cheek."""
    return max(leading(seat, s) - BEFORE_MM, disc_rear(seat) + BLADE_MM)


def _free_before(seat: WingSeat, s: float) -> float:
    """c before which a side of a nacelle has neither the wing nor a cheek beside it."""
    stands, t = widths(seat), seat.surface.material.thickness_mm
    if stands.cheeks is None or stands.gap_mm:
        return leading(seat, s) - CLEAR_MM
    cheek = s + t if s < seat.s_mm else s - t
    return min(_cheek_front(seat, cheek), leading(seat, s) - CLEAR_MM)


def _nacelle(seat: WingSeat, nacelle: Nacelle, stand: Stand) -> Made:
    """Both sides, or why they cannot be."""
    t = seat.surface.material.thickness_mm
    if refusals := (*width_refusals(seat), *_length_refusals(seat, nacelle)):
        return Made(refusals=refusals)
    made = Made.of(
        board_made(
            seat,
            _board(
                seat,
                nacelle.key,
                f"nacelle-{word}",
                s,
                stand.rear_mm,
                _nacelle_rim(seat, nacelle, s, stand.rear_mm),
                face,
            ),
            wires_mm=_free_before(seat, s),
        )
        for word, s, face in _both(seat.s_mm, stand.apart_mm / 2, t)
    )
    said = (*gap_findings(seat), *wire_cut_findings(nacelle.key, made.parts))
    return Made.of((made, Made(findings=said)))


def _length_refusals(seat: WingSeat, nacelle: Nacelle) -> tuple[Refusal, ...]:
    """Struck by the propeller, or short of the nose of the wing.

    A blade that only comes near is told of with the assembled model.
    """
    most = seat.rear_mm - disc_rear(seat) - STRUCK_MM
    least = seat.rear_mm - foremost(seat) + _LEAST_MM
    if nacelle.length_mm >= most:
        gap = most + STRUCK_MM - nacelle.length_mm
        near = f"ends {_mm(gap)} behind" if gap > 0 else f"reaches {_mm(-gap)} into"
        text = (
            f"the nacelle, {_mm(nacelle.length_mm)} long from the spar forwards, {near} the propeller, which"
            f" would strike it: make it at most {_mm(most + STRUCK_MM - BLADE_MM)} long, so that a blade"
            f" keeps {_mm(BLADE_MM)} off"
        )
    elif nacelle.length_mm < least:
        text = (
            f"the nacelle is {_mm(nacelle.length_mm)} long from the spar forwards, and the nose of the wing"
            f" is {_mm(least - _LEAST_MM)} before it: make it {_mm(least)} or longer, or leave it out"
        )
    else:
        return ()
    return (Refusal(key=f"{nacelle.key}.length", text=text),)


def _nacelle_rim(
    seat: WingSeat, nacelle: Nacelle, s: float, rear: float
) -> tuple[tuple[float, float, bool], ...]:
    """Straight beside the wing, then round to a blunt front: points of a quarter of an ellipse."""
    front = seat.rear_mm - nacelle.length_mm
    begins, half = leading(seat, s) - CLEAR_MM, seat.height_mm / 2
    blunt, run = half * _BLUNT, begins - front
    turns = [math.radians(90 * share) for share in _ROUND]
    upper = [(begins - run * math.sin(turn), blunt + (half - blunt) * math.cos(turn), True) for turn in turns]
    upper = [(begins, half, False), *upper, (front, blunt, False)]
    if begins < rear:
        upper.insert(0, (rear, half, False))
    lower = [(c, 0.0 - n, smooth) for c, n, smooth in upper]
    around = [*lower, *reversed(upper)]
    return tuple((c, seat.axis_mm + n, smooth) for c, n, smooth in around)
