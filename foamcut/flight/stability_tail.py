"""Tail volumes: how much stabiliser and fin there is for the wing.  SI.

Arms run from the quarter point of the wing's mean chord to that of the stabiliser or fin.  The volume of the
stabiliser is by the wing's mean chord, that of the fin by its span.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

from foamcut.airframe.values import Surface
from foamcut.findings import Finding, Level
from foamcut.flight.controls_shape import board_mm2
from foamcut.flight.figures import Figures, Group, Number
from foamcut.flight.neutral_margin import DRELA
from foamcut.flight.planform import Lifting, Planform
from foamcut.flight.stability_reach import MOST_GROWTH, most_back_mm, nearest, ways
from foamcut.units import decimal_text, mm_text

#: a stabiliser that rises more is a V tail (judgement)
_VEE_DEG = 20.0
#: volumes of well-behaved light aeroplanes (Drela)
TAIL_VOLUME, FIN_VOLUME = (0.30, 0.60), (0.02, 0.05)
#: the volume of a fin to begin with, well inside the range (judgement)
_NEW_FIN = 0.03
#: what lies above this share of the lower end is worth a note and no more (judgement)
NEARLY = 0.8
#: so many times the upper end is told (judgement)
_MUCH = 1.5
_M2 = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Tail:
    """What stabiliser and fins do: areas that count for pitch and yaw, arms from the wing's quarter point.

    An arm is negative ahead of the wing.  `lean` is the cosine of the rise of a V tail, 1 of any other.
    """

    pitch_m2: float
    pitch_arm_m: float
    yaw_m2: float
    yaw_arm_m: float
    vee: bool
    lean: float


def is_vee(lifting: Lifting | None) -> bool:
    """Whether a stabiliser is a V tail: a panel rises or droops by more than 20 degrees."""
    return lifting is not None and any(
        abs(one.dihedral_deg) > _VEE_DEG for one in lifting.surface.stations[:-1]
    )


def tail_of(plan: Planform) -> Tail:
    """Areas and arms of stabiliser and fins; of a V tail cos2 of its rise for pitch, sin2 for yaw.

    Source of cos2 and sin2: P. E. Purser, J. P. Campbell, NACA report 823, 1945, from memory.  Limits: no
    interference, fins in undisturbed air.
    """
    tail, wing = plan.tail, plan.wing.quarter_m
    pitch = yaw = moment = 0.0
    lean = 1.0
    if tail is not None:
        pitch = tail.area_m2
        if is_vee(tail):
            level, upright = _vee_areas(tail.surface)
            pitch, yaw, moment = level, upright, upright * (tail.quarter_m - wing)
            board = board_mm2(tail.surface) * _M2
            lean = math.sqrt(level / board) if board > 0 else 1.0
    for fin in plan.fins:
        yaw += fin.area_m2
        moment += fin.area_m2 * (fin.quarter_m - wing)
    return Tail(
        pitch_m2=pitch,
        pitch_arm_m=0.0 if tail is None else tail.quarter_m - wing,
        yaw_m2=yaw,
        yaw_arm_m=moment / yaw if yaw > 0 else 0.0,
        vee=is_vee(tail),
        lean=lean,
    )


def _vee_areas(surface: Surface) -> tuple[float, float]:
    """Board of both halves times cos2 and sin2 of its rise, panel by panel."""
    level = upright = 0.0
    for a, b in pairwise(surface.stations):
        board = (a.chord_mm + b.chord_mm) * (b.out_mm - a.out_mm) * _M2
        rise = math.radians(a.dihedral_deg)
        level += board * math.cos(rise) ** 2
        upright += board * math.sin(rise) ** 2
    return level, upright


def tail_volume(plan: Planform, tail: Tail) -> float | None:
    """Area times arm of the stabiliser over area times mean chord of the wing; None without either."""
    room = plan.wing.area_m2 * plan.wing.mean_chord_m
    return tail.pitch_m2 * tail.pitch_arm_m / room if tail.pitch_m2 > 0 and room > 0 else None


def fin_volume(plan: Planform, tail: Tail) -> float | None:
    """Area times arm of all fins over area times **span** of the wing; None without either."""
    room = plan.wing.area_m2 * plan.wing.span_m
    return tail.yaw_m2 * tail.yaw_arm_m / room if tail.yaw_m2 > 0 and room > 0 else None


def volume_figures(plan: Planform, tail: Tail) -> Figures:
    """Both volumes and arms, with advice on sizes.

    A foreplane and the fin of an aeroplane without a tail are told and not judged: no range is known.  With a
    foreplane a fin behind the wing's quarter point is judged.
    """
    numbers: list[Number] = []
    findings: list[Finding | None] = []
    volume, fin = tail_volume(plan, tail), fin_volume(plan, tail)
    if volume is not None:
        usual = "" if plan.foreplane else f"{TAIL_VOLUME[0]:.2f} to {TAIL_VOLUME[1]:.2f} ({DRELA})"
        source = "area x arm / (wing area x mean chord)" + (
            "; V tail: area x cos2 of its rise" if tail.vee else ""
        )
        name = "foreplane, negative as it lies ahead" if plan.foreplane else "stabiliser"
        numbers += _pair("tail", name, volume, tail.pitch_arm_m, usual, source)
        if not plan.foreplane:
            findings.append(_tail_advice(plan, tail, volume))
    if fin is not None:
        usual = f"{FIN_VOLUME[0]:.2f} to {FIN_VOLUME[1]:.2f} ({DRELA})" if _judged(plan, tail) else ""
        source = "area x arm / (wing area x span)" + ("; V tail: area x sin2 of its rise" if tail.vee else "")
        numbers += _pair("fin", "fin", fin, tail.yaw_arm_m, usual, source)
        if _judged(plan, tail):
            findings.append(_fin_advice(plan, tail, fin))
    elif tail.yaw_m2 <= 0:
        findings.append(_no_fin(plan, tail))
    return Figures(numbers=tuple(numbers), findings=tuple(one for one in findings if one is not None))


def _judged(plan: Planform, tail: Tail) -> bool:
    return plan.tail is not None and (not plan.foreplane or tail.yaw_arm_m > 0)


def _pair(name: str, title: str, volume: float, arm_m: float, usual: str, source: str) -> list[Number]:
    return [
        Number(
            name=f"{name}_volume",
            title=f"volume of the {title}",
            value=volume,
            unit="",
            group=Group.STABILITY,
            usual=usual,
            source=source,
        ),
        Number(
            name=f"{name}_arm",
            title=f"arm of the {title}, from the wing's quarter point",
            value=1000 * arm_m,
            unit="mm",
            group=Group.STABILITY,
            source="geometry, quarter points of the mean chords",
        ),
    ]


def _tail_advice(plan: Planform, tail: Tail, volume: float) -> Finding | None:
    assert plan.tail is not None
    room = plan.wing.area_m2 * plan.wing.mean_chord_m
    words = _advice(plan, "stabiliser", TAIL_VOLUME, tail.pitch_m2, tail.pitch_arm_m, room)
    if words is None:
        return None
    level, text, mend = words
    return Finding(
        code="tail-volume",
        level=level,
        where=plan.tail.surface.key,
        text=text,
        value=decimal_text(volume, 3),
        range=f"{TAIL_VOLUME[0]:.2f} to {TAIL_VOLUME[1]:.2f}",
        source=DRELA,
        mend=mend,
    )


def _fin_advice(plan: Planform, tail: Tail, volume: float) -> Finding | None:
    where = plan.fins[0].surface.key if plan.fins else plan.tail.surface.key if plan.tail else ""
    name = "fin" if len(plan.fins) == 1 else "fins" if plan.fins else "V tail"
    room = plan.wing.area_m2 * plan.wing.span_m
    words = _advice(plan, name, FIN_VOLUME, tail.yaw_m2, tail.yaw_arm_m, room)
    if words is None:
        return None
    level, text, mend = words
    return Finding(
        code="fin-volume",
        level=level,
        where=where,
        text=text,
        value=decimal_text(volume, 4),
        range=f"{FIN_VOLUME[0]:.2f} to {FIN_VOLUME[1]:.2f}",
        source=DRELA,
        mend=mend,
    )


def _advice(
    plan: Planform, name: str, usual: tuple[float, float], area: float, arm: float, room: float
) -> tuple[Level, str, str] | None:
    """Level, text and mend of one that is small or large."""
    low, high = usual
    volume = area * arm / room
    verb = "are" if name == "fins" else "is"
    if round(volume, 4) < low:
        mend = _enlarged(plan, name, low, area, arm, room)
        if arm <= 0:
            text = f"the {name} {verb} {mm_text(-1000 * arm, 0)} ahead of the wing's quarter point"
            return Level.WARNING, text, mend
        text = (
            f"the {name} {verb} small for the wing: volume {decimal_text(volume, 4 if low < 0.1 else 3)},"
            f" {low:g} and more is usual"
        )
        return Level.WARNING if volume < NEARLY * low else Level.NOTE, text, mend
    if round(volume, 4) > round(_MUCH * high, 4):
        less = _up(100 * (1 - high / volume))
        text = (
            f"the {name} {verb} large for the wing: volume {decimal_text(volume, 4 if low < 0.1 else 3)},"
            f" up to {high:g} is usual"
        )
        return Level.NOTE, text, f"{name} {less} % smaller would do, with less weight at the tail"
    return None


def _enlarged(plan: Planform, name: str, low: float, area: float, arm: float, room: float) -> str:
    """What brings a volume to the low end of its range; else the most that helps."""

    def volume(size: float, back: float) -> float:
        return area * size * (arm + back) / room

    found = list(ways(name, plan, lambda size, back: round(volume(size, back), 9) >= low))
    if found:
        return ", or ".join(found)
    most = volume(MOST_GROWTH, most_back_mm(plan) / 1000)
    return nearest(name, plan, (most - volume(1.0, 0.0)) / (low - volume(1.0, 0.0)))


def _up(value: float) -> int:
    """The next whole number, for what has to be reached."""
    return math.ceil(round(value, 3))


def _no_fin(plan: Planform, tail: Tail) -> Finding:
    """Nothing upright behind the centre of gravity."""
    mend = "fins as far back as they can stand, at the tips or the tail"
    room = plan.wing.area_m2 * plan.wing.span_m
    if plan.tail is not None and plan.tail.quarter_m > plan.wing.quarter_m:
        area = _NEW_FIN * room / (plan.tail.quarter_m - plan.wing.quarter_m)
        mend = f"a fin of {decimal_text(100 * area, 1)} dm2 over the stabiliser, rudder and all"
    return Finding(
        code="fin-volume",
        level=Level.WARNING,
        where=plan.wing.surface.key,
        text="there is no fin: nothing turns the nose back into the wind",
        value="0",
        range=f"{FIN_VOLUME[0]:.2f} to {FIN_VOLUME[1]:.2f}" if _judged(plan, tail) else "",
        source=DRELA if _judged(plan, tail) else "",
        mend=mend,
    )
