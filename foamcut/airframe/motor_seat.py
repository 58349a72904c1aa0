"""Where a motor sits: on the front face of a wing's spar, or on the front of a body.

mm.  On the wing everything is in the panel's (c, s, n); the firewall stands square to the chord, its rear
face on the spar's front face.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from foamcut.airframe.body_profile import Profile
from foamcut.airframe.meets import Disc
from foamcut.airframe.motor_thrust import thrust_of
from foamcut.airframe.planform import Panel, Vector, panel_beside
from foamcut.airframe.section import Section, section_at, spar_in
from foamcut.airframe.section_refusals import section_refusals
from foamcut.airframe.section_spar import spar_front
from foamcut.airframe.values import Body, Build, Inputs, Motor, Role, Surface

#: how far a firewall stands out above and below the skins when its height is not given (common practice, no
#: source)
PROUD_MM = 12.0
#: rounds of setting the axis over its place in plan: each leaves a thousandth of the error before
_ROUNDS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class WingSeat:
    """A wing motor of the right half: its panel, s of its axis, the section there.

    `axis_mm` is n of the axis, the middle of the section at the spar; `rear_mm` and `front_mm` are c of the
    firewall's faces, `height_mm` its height, its middle on the axis.
    """

    motor: Motor
    surface: Surface
    panel: Panel
    s_mm: float
    section: Section
    axis_mm: float
    height_mm: float

    @property
    def rear_mm(self) -> float:
        """c of the firewall's rear face: where the spar's front face is foremost behind it."""
        return min(self._spar_mm)

    @property
    def gap_mm(self) -> float:
        """Between firewall and spar at one edge, when the spar runs along a swept leading edge."""
        return max(self._spar_mm) - self.rear_mm

    @property
    def _spar_mm(self) -> tuple[float, float]:
        low, high = (spar_front(self.surface, self.panel, s) for s in self.across_mm)
        return low, high

    @property
    def front_mm(self) -> float:
        """c of the firewall's front face."""
        return self.rear_mm - self.motor.firewall.material.thickness_mm

    @property
    def rearmost_mm(self) -> float:
        """c of the leading edge where it is rearmost before the firewall."""
        return max(self.panel.leading(s) for s in self.across_mm)

    @property
    def thick_mm(self) -> float:
        """Height of the section at the spar, over both skins."""
        return 2 * self.axis_mm

    @property
    def across_mm(self) -> tuple[float, float]:
        """s of the firewall's inner and outer edge."""
        half = self.motor.firewall.width_mm / 2
        return self.s_mm - half, self.s_mm + half

    @property
    def shaft_mm(self) -> float:
        """From the firewall's front face to the disc, along the shaft."""
        return self.front_mm - self.section.leading_mm + self.motor.ahead_mm

    @property
    def disc_mm(self) -> float:
        """c of the middle of the disc."""
        return self.front_mm - thrust_of(self.motor).ahead(self.shaft_mm)

    @property
    def slope_deg(self) -> float:
        """How much the upper skin rises over the firewall."""
        return _slope(self.section.upper_inner, (self.front_mm + self.rear_mm) / 2)


def _slope(paper: tuple[tuple[float, float], ...], c: float) -> float:
    for (c0, n0), (c1, n1) in pairwise(paper):
        if c0 <= c < c1:
            return math.degrees(math.atan2(n1 - n0, c1 - c0))
    return 0.0


def wing_seat(motor: Motor, inputs: Inputs) -> WingSeat | None:
    """Where a wing motor sits; None without a place, a folded wing, a spar or a section."""
    surface = inputs.surface(motor.on)
    if surface is None or surface.role is Role.FIN or surface.build is not Build.FOLDED:
        return None
    return _seat(motor, surface)


@lru_cache(maxsize=8)
def _seat(motor: Motor, surface: Surface) -> WingSeat | None:
    """Kept, because slots, openings, discs and parts all ask for it and a bent section takes its time."""
    if motor.out_mm is None or surface.spar is None or section_refusals(surface):
        return None
    panel, s = panel_beside(surface, motor.out_mm)
    for _ in range(_ROUNDS):
        panel, s = _over(surface, panel, s, _axis(surface, panel, s), motor.out_mm)
    try:
        section = section_at(surface, panel, s)
    except ValueError:
        return None
    axis = _axis(surface, panel, s)
    given = motor.firewall.height_mm
    height = 2 * (axis + PROUD_MM) if given is None else given
    return WingSeat(
        motor=motor, surface=surface, panel=panel, s_mm=s, section=section, axis_mm=axis, height_mm=height
    )


def _axis(surface: Surface, panel: Panel, s: float) -> float:
    """n of the middle of the section at the spar: of strips and two skins."""
    return (spar_in(surface, panel, s)[2] + surface.material.thickness_mm) / 2


def _over(surface: Surface, panel: Panel, s: float, axis: float, y: float) -> tuple[Panel, float]:
    """The panel and s where a point at the axis' height lies over a distance from the centre plane."""
    s += (y - panel.point(0.0, s, axis)[1]) / panel.out[1]
    if s <= panel.last.out_mm or panel.last is surface.stations[-1]:
        return panel, s
    return panel_beside(surface, y - axis * panel.up[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class NoseSeat:
    """A nose motor: its firewall's rear face at x `rear_mm`, its axis at z `axis_mm`.

    `on_front`: it stands on the front edges of the sides, else between them.  It goes from `foot_mm` up to
    `head_mm`; `sides_mm` is between the inside faces of the sides.
    """

    motor: Motor
    body: Body
    rear_mm: float
    axis_mm: float
    foot_mm: float
    head_mm: float
    on_front: bool
    sides_mm: float

    @property
    def front_mm(self) -> float:
        """x of the firewall's front face."""
        return self.rear_mm - self.motor.firewall.material.thickness_mm

    @property
    def middle(self) -> Vector:
        """The middle of the disc."""
        return self.front_mm - thrust_of(self.motor).ahead(self.motor.ahead_mm), 0.0, self.axis_mm


def body_named(name: str, inputs: Inputs) -> Body | None:
    """The body of a name; None when there is none."""
    return next((body for body in inputs.bodies if body.name == name), None)


def nose_seat(motor: Motor, inputs: Inputs) -> NoseSeat | None:
    """Where a nose motor sits; None without its body.

    Without a height the firewall covers the front of the body, or what is free between floor and deck, and
    its axis may lie off its middle; with one its middle is on the axis.
    """
    body = body_named(motor.on, inputs)
    if body is None:
        return None
    profile = Profile(body=body)
    x, z = front_middle(body) if motor.at_mm is None else motor.at_mm
    on_front = x <= profile.front_mm
    if motor.firewall.height_mm is not None:
        foot, head = z - motor.firewall.height_mm / 2, z + motor.firewall.height_mm / 2
    elif on_front:
        foot, head = profile.bottom(profile.front_mm), profile.top(profile.front_mm)
    else:
        foot, head = profile.inside_height(x)
    return NoseSeat(
        motor=motor,
        body=body,
        rear_mm=x,
        axis_mm=z,
        foot_mm=foot,
        head_mm=head,
        on_front=on_front,
        sides_mm=profile.inside_width(x),
    )


def front_middle(body: Body) -> tuple[float, float]:
    """x and z of the middle of a body's front."""
    first = body.side[0]
    return first.along_mm, (first.bottom_mm + first.top_mm) / 2


def discs_of(motor: Motor, inputs: Inputs) -> tuple[Disc, ...]:
    """The disc of a nose motor, or those of a pair, right before left; none where it has no seat."""
    if not motor.on_wing:
        nose = nose_seat(motor, inputs)
        if nose is None:
            return ()
        forwards = thrust_of(motor).forwards((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
        return (_disc(motor, motor.name, nose.middle, forwards),)
    seat = wing_seat(motor, inputs)
    if seat is None:
        return ()
    panel = seat.panel
    middle = panel.point(seat.disc_mm, seat.s_mm, seat.axis_mm)
    forwards = thrust_of(motor).forwards(panel.aft, panel.out, panel.up)
    return (
        _disc(motor, f"{motor.name}-right", middle, forwards),
        _disc(motor, f"{motor.name}-left", _mirrored(middle), _mirrored(forwards)),
    )


def _disc(motor: Motor, name: str, middle: Vector, forwards: Vector) -> Disc:
    return Disc(
        key=motor.propeller.key,
        name=name,
        middle=middle,
        forwards=forwards,
        diameter_mm=motor.propeller.diameter_mm,
        clearance_mm=motor.clearance_mm,
    )


def _mirrored(vector: Vector) -> Vector:
    return vector[0], 0.0 - vector[1], vector[2]
