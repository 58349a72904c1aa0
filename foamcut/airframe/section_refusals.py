"""What stands in the way of a folded surface's sections: spar and skin that have no room for each other.

Looked at where every panel begins and ends and where every strip ends.  Between two of these the skin's
height, the spar and both edges are straight lines, so that what has room at both has room between them.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from foamcut.airframe.bent import lowest_mm
from foamcut.airframe.planform import Panel
from foamcut.airframe.section import bent_at, section_places, spar_in, upper_end
from foamcut.airframe.section_nose import Anchor, anchor, nose_height
from foamcut.airframe.section_skin import first_slope, last_slope
from foamcut.airframe.section_spar import spar_of
from foamcut.airframe.values import Build, Nose, OverSpar, Run, Surface, TrailingEdge
from foamcut.errors import Refusal
from foamcut.flat.tolerances import ROUNDING_MM
from foamcut.units import decimal_text

#: a skin that rises or falls more steeply makes no wing, degrees: common practice, no source
STEEPEST_DEG = 40.0
#: a skin that leans by less is level: rounding, degrees
_LEVEL_DEG = 1e-6
#: rounds in which the least height of a nose settles: a higher one makes a flatter skin, which needs more
_ROUNDS = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fault:
    kind: str
    amount: float  # the larger the worse
    key: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """What there is at one place along the span."""

    surface: Surface
    panel: Panel
    s_mm: float

    @property
    def start(self) -> Anchor:
        t, leading = self.surface.material.thickness_mm, self.panel.leading(self.s_mm)
        return anchor(self.surface.nose, leading, nose_height(self.surface), t)

    @property
    def spar(self) -> tuple[float, float, float]:
        return spar_in(self.surface, self.panel, self.s_mm)

    @property
    def end(self) -> float:
        return upper_end(self.surface, self.panel, self.s_mm)

    @property
    def words(self) -> str:
        if self.s_mm == 0:
            return "at the root"
        where = f"{decimal_text(self.s_mm)} mm out"
        return f"at the tip, {where}," if self.s_mm == self.surface.half_span_mm else where


def section_refusals(surface: Surface) -> tuple[Refusal, ...]:
    """All that keeps the sections of a folded surface from being built, each kind where it is worst.

    Of a surface without these `section_at` finds every section.  A flat surface has none.
    """
    if surface.build is Build.FLAT:
        return ()
    if whole := _spar_refusals(surface):
        return whole
    worst: dict[str, _Fault] = {}
    for panel, s in section_places(surface):
        for fault in _faults(_Place(surface=surface, panel=panel, s_mm=s)):
            # a millionth more is rounding: the place nearest to the root is named
            if fault.kind not in worst or fault.amount > worst[fault.kind].amount + ROUNDING_MM:
                worst[fault.kind] = fault
    return tuple(Refusal(key=fault.key, text=fault.text) for fault in worst.values())


def _spar_refusals(surface: Surface) -> tuple[Refusal, ...]:
    spar = surface.spar
    if spar is None:
        text = 'a folded surface needs a spar: give `spar`, or write `build = "flat"`'
        return (Refusal(key=surface.key, text=text),)
    if spar.tip_layers is not None and not 1 <= spar.tip_layers <= spar.layers:
        text = (
            f"the spar has {spar.layers} layers at the root and {spar.tip_layers} at the tip; give the tip"
            f" from 1 to {spar.layers}"
        )
        return (Refusal(key=f"{spar.key}.tip_layers", text=text),)
    return ()


def _faults(place: _Place) -> Iterator[_Fault]:
    high, misses = tuple(_nose_too_high(place)), (*_front(place), *_rear(place))
    yield from (*high, *misses)
    if misses:
        return
    steep = tuple(_steep(place))
    yield from (*steep, *_nose_too_low(place))
    if not high and not steep and place.surface.over_spar is OverSpar.BENT:
        yield from _pressed(place)


def _front(place: _Place) -> Iterator[_Fault]:
    spar, start = spar_of(place.surface), place.start
    leading, front = place.panel.leading(place.s_mm), place.spar[0]
    room, apart = start.at[0] + abs(start.below_mm) - leading, front - leading
    lack = room - apart
    if lack > 0:
        follow = ' or write `run = "follow"`,' if spar.run is Run.SQUARE and place.s_mm > 0 else ""
        yield _Fault(
            kind="front",
            amount=lack,
            key=f"{spar.key}.behind_leading_edge",
            text=f"{place.words} the front face of the spar lies {_apart(apart, 'behind', 'before')} the"
            f" leading edge, and the nose takes {decimal_text(room)} mm: move the spar back by"
            f" {_up(lack)} mm,{follow} or sweep the leading edge less",
        )


def _rear(place: _Place) -> Iterator[_Fault]:
    spar, rear, t = spar_of(place.surface), place.spar[1], place.surface.material.thickness_mm
    lack = rear + t - place.end
    if lack > 0:
        single = place.surface.trailing_edge is TrailingEdge.SINGLE
        line = "the line where the upper skin ends" if single else "the trailing edge"
        yield _Fault(
            kind="rear",
            amount=lack,
            key=spar.key,
            text=f"{place.words} the rear face of the spar lies"
            f" {_apart(place.end - rear, 'before', 'behind')} {line}, and the skin takes {decimal_text(t)} mm"
            f" there: move the spar forwards or make it narrower by {_up(lack)} mm, or make the chord longer",
        )


def _apart(value: float, over: str, under: str) -> str:
    return f"{decimal_text(abs(value))} mm {over if value >= 0 else under}"


def _steep(place: _Place) -> Iterator[_Fault]:
    surface, (front, rear, top) = place.surface, place.spar
    t = surface.material.thickness_mm
    up = math.degrees(first_slope(place.start, (front, top)))
    down = math.degrees(last_slope((place.end, t), (rear, top), t))
    for kind, slope, way, mend in (
        ("up", up, "rises from the nose", "move the spar back, or give it fewer layers"),
        ("down", down, "falls behind the spar", "move the spar forwards, or give it fewer layers"),
    ):
        if slope > STEEPEST_DEG:
            yield _Fault(
                kind=kind,
                amount=slope,
                key=f"{spar_of(surface).key}.behind_leading_edge" if kind == "up" else spar_of(surface).key,
                text=f"{place.words} the upper skin {way} at {decimal_text(slope)} degrees, more than"
                f" {decimal_text(STEEPEST_DEG)}: {mend}",
            )


def _nose_too_high(place: _Place) -> Iterator[_Fault]:
    surface, t = place.surface, place.surface.material.thickness_mm
    height, most = nose_height(surface), place.spar[2] + t
    if surface.nose in (Nose.STRIPPED, Nose.SCORED) and height > most + ROUNDING_MM:
        yield _Fault(
            kind="high",
            amount=height - most,
            key=f"{surface.key}.nose_height",
            text=f"{place.words} the nose is {decimal_text(height)} mm high, and the section over the spar"
            f" {decimal_text(most)} mm: give a nose height of {_down(most)} mm or less, or the spar more"
            " layers",
        )


def _nose_too_low(place: _Place) -> Iterator[_Fault]:
    surface, t = place.surface, place.surface.material.thickness_mm
    height = nose_height(surface)
    if surface.nose not in (Nose.STRIPPED, Nose.SCORED) or height >= _lowest(place, height) - ROUNDING_MM:
        return
    least = height
    for _ in range(_ROUNDS):
        least = _lowest(place, least)
    yield _Fault(
        kind="low",
        amount=least - height,
        key=f"{surface.key}.nose_height",
        text=f"{place.words} the nose is {decimal_text(height, 2)} mm high, where the boards of both skins"
        f" lie on each other: leave `nose_height` out for two boards, {decimal_text(2 * t, 2)} mm, or give"
        f" {_up(least, 2)} mm or more",
    )


def _lowest(place: _Place, height: float) -> float:
    """The least height of a nose over the lower skin, of the slope that a height gives.

    The upper skin's end is cut square, so that it stands on the lower skin at its inner corner.
    """
    surface, (front, _, top) = place.surface, place.spar
    t = surface.material.thickness_mm
    if surface.nose is Nose.SCORED:
        return 2 * t
    start = anchor(surface.nose, place.panel.leading(place.s_mm), height, t)
    return t + t * math.cos(first_slope(start, (front, top)))


def _pressed(place: _Place) -> Iterator[_Fault]:
    """A bent skin that a steep rear presses down before the spar, into the lower skin or ahead."""
    surface, t = place.surface, place.surface.material.thickness_mm
    try:
        bent = bent_at(surface, place.panel, place.s_mm)
    except ValueError:
        yield _Fault(
            kind="pressed",
            amount=math.inf,
            key=f"{surface.key}.over_spar",
            text=f"{place.words} the upper skin finds no line that bends over the spar and ends at the rear:"
            ' crease it, `over_spar = "creased"`',
        )
        return
    deep, down = t - lowest_mm(bent), 0.0 - math.degrees(bent.front)
    if deep > ROUNDING_MM:
        what = f"comes {_up(deep, 2)} mm into the lower skin before it"
    elif down > _LEVEL_DEG:
        what = f"goes down from the nose at {_up(down, 2)} degrees"
    else:
        return
    yield _Fault(
        kind="pressed",
        amount=max(deep, 0.0),
        key=f"{surface.key}.over_spar",
        text=f'{place.words} the upper skin, bent over the spar, {what}: crease it, `over_spar = "creased"`',
    )


def _up(value: float, places: int = 1) -> str:
    """A number that is enough, in decimals."""
    step = 10**places
    return decimal_text(math.ceil(value * step - ROUNDING_MM) / step, places)


def _down(value: float) -> str:
    return decimal_text(math.floor(value * 10 + ROUNDING_MM) / 10)
