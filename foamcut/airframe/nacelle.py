"""Boards that stand fore and aft beside a wing motor: cheeks that hold the firewall, and nacelle sides.

mm.  Each stands square to the span and straddles the nose of the wing: its rear is open round the section.
Drawn x aft, y up, as seen from the centre plane; (0, 0) is at the spar's front face, on the propeller's line.
With a nacelle the cheeks stand inside, against the firewall's front face, and the sides outside of them;
without, the cheeks stand against the firewall's side edges.
"""

import math

from foamcut.airframe.made import Made
from foamcut.airframe.motor_boards import CLEAR_MM, Board, board_made, leading
from foamcut.airframe.motor_checks import disc_rear, foremost
from foamcut.airframe.motor_seat import WingSeat
from foamcut.airframe.values import Nacelle
from foamcut.errors import Refusal
from foamcut.flat.drawn import Face
from foamcut.units import decimal_text

#: how far cheeks go before the nose of the wing, what a blade keeps off any board; common practice, no source
BEFORE_MM, BLADE_MM = 10.0, 5.0
#: how much higher than the nose of the wing the front of a cheek is, above and below; how far a nacelle goes
#: before the nose at least
_FRONT_MM, _LEAST_MM = 8.0, 8.0
#: the front of a nacelle, as a share of its height
_BLUNT = 0.5
#: points of its rounding between side and front, as shares of a quarter turn
_ROUND = (0.25, 0.5, 0.75)


def cheeks_apart(seat: WingSeat) -> float:
    """Between the cheeks: the width of the firewall, with a nacelle less by both of them."""
    inside = 0.0 if seat.motor.nacelle is None else 2 * seat.surface.material.thickness_mm
    return seat.motor.firewall.width_mm - inside


def side_boards(seat: WingSeat) -> Made:
    """Both cheeks and, with a nacelle, both its sides; each a pair with that of the other wing."""
    apart, motor, t = cheeks_apart(seat), seat.motor, seat.surface.material.thickness_mm
    rear = seat.rear_mm if motor.nacelle is None else seat.front_mm
    made = [
        board_made(seat, _board(seat, motor.key, f"cheek-{word}", s, rear, _cheek_rim(seat, s, rear), face))
        for word, s, face in _both(seat.s_mm, apart / 2, t)
    ]
    if motor.nacelle is not None:
        made.append(_nacelle(seat, motor.nacelle))
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
    front = max(leading(seat, s) - BEFORE_MM, disc_rear(seat) + BLADE_MM)
    foot, head = max(low, 0.0 - _FRONT_MM), min(high, seat.section.nose_height_mm + _FRONT_MM)
    return (
        (rear, low, False),
        (front, foot, False),
        (front, head, False),
        (rear, high, False),
    )


def _nacelle(seat: WingSeat, nacelle: Nacelle) -> Made:
    """Both sides, or why they cannot be."""
    t = seat.surface.material.thickness_mm
    if refusals := _nacelle_refusals(seat, nacelle):
        return Made(refusals=refusals)
    made = [
        board_made(
            seat,
            _board(
                seat, nacelle.key, f"nacelle-{word}", s, seat.rear_mm, _nacelle_rim(seat, nacelle, s), face
            ),
            wires=True,
        )
        for word, s, face in _both(seat.s_mm, nacelle.width_mm / 2 - t, t)
    ]
    return Made.of(made)


def _nacelle_refusals(seat: WingSeat, nacelle: Nacelle) -> tuple[Refusal, ...]:
    """Too narrow for the firewall, into the propeller, or short of the nose of the wing."""
    found, t = [], seat.surface.material.thickness_mm
    wide = seat.motor.firewall.width_mm
    if nacelle.width_mm < wide + 2 * t:
        text = (
            f"the nacelle is {_mm(nacelle.width_mm)} wide outside; the firewall is {_mm(wide)} wide and"
            f" stands between two boards of {_mm(t)}: make the nacelle {_mm(wide + 2 * t)} or wider, or the"
            f" firewall {_mm(max(nacelle.width_mm - 2 * t, 0.0))} or narrower"
        )
        found.append(Refusal(key=f"{nacelle.key}.width", text=text))
    most = seat.front_mm - disc_rear(seat) - BLADE_MM
    least = seat.front_mm - foremost(seat) + _LEAST_MM
    if nacelle.length_mm > most:
        text = (
            f"the nacelle, {_mm(nacelle.length_mm)} long, comes {_mm(nacelle.length_mm - most)} too near to"
            f" the propeller; a blade keeps {_mm(BLADE_MM)} off any board: make it at most {_mm(most)} long"
        )
        found.append(Refusal(key=f"{nacelle.key}.length", text=text))
    elif nacelle.length_mm < least:
        text = (
            f"the nacelle is {_mm(nacelle.length_mm)} long from the firewall forwards, and the nose of the"
            f" wing is {_mm(least - _LEAST_MM)} before it: make it {_mm(least)} or longer, or leave it out"
        )
        found.append(Refusal(key=f"{nacelle.key}.length", text=text))
    return tuple(found)


def _nacelle_rim(seat: WingSeat, nacelle: Nacelle, s: float) -> tuple[tuple[float, float, bool], ...]:
    """Straight beside the wing, then round to a blunt front: points of a quarter of an ellipse."""
    rear, front = seat.rear_mm, seat.front_mm - nacelle.length_mm
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


def _mm(value: float) -> str:
    return f"{decimal_text(value, 1)} mm"
