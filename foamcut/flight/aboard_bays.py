"""The inside of a body as room for what is carried: floor, cover and sides, and what stands in the way.

Taken from the same side view that the body's parts are cut from.  Model axes, mm.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache

import shapely

from foamcut.airframe.body_checks import numbers_refused
from foamcut.airframe.body_profile import Profile
from foamcut.airframe.body_stands import BELOW_EDGE_MM, ROUND_OPENING_MM, Stand, inside
from foamcut.airframe.body_view import View, view_of
from foamcut.airframe.body_wing import outline_beside
from foamcut.airframe.motor_seat import nose_seat
from foamcut.airframe.values import Body, Dowel, Inputs
from foamcut.errors import Refused
from foamcut.flat.outline import Point
from foamcut.flight.aboard_boxes import FIT_MM, Box, overlap


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A board across a body: its faces along, from foot to head, an opening (wide, high) in its middle."""

    key: str
    words: str
    x: tuple[float, float]
    z: tuple[float, float]
    width_mm: float
    opening_mm: tuple[float, float] | None = None
    may_open: bool = False

    @property
    def middle_mm(self) -> float:
        """Half way up."""
        return (self.z[0] + self.z[1]) / 2

    def needs(self, box: Box) -> tuple[float, float]:
        """Width and height of an opening in its middle that a box goes through."""
        wide = 2 * max(abs(y) for y in box.y)
        return wide, 2 * max(abs(z - self.middle_mm) for z in box.z)

    @property
    def most_mm(self) -> tuple[float, float]:
        """Width and height of the largest opening that leaves enough of the plate round it."""
        return self.width_mm - 2 * ROUND_OPENING_MM, self.z[1] - self.z[0] - 2 * ROUND_OPENING_MM

    def meets(self, box: Box) -> bool:
        """Whether a box goes through its board."""
        across = (-self.width_mm / 2, self.width_mm / 2)
        if min(overlap(box.x, self.x), overlap(box.y, across), overlap(box.z, self.z)) <= FIT_MM:
            return False
        if self.opening_mm is None:
            return True
        need = self.needs(box)
        return any(size - room > 2 * FIT_MM for size, room in zip(need, self.opening_mm, strict=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class Rod:
    """A dowel across a body, from side to side."""

    key: str
    at: Point
    diameter_mm: float

    def reach(self, box: Box) -> tuple[float, float] | None:
        """From where to where along it stands at a box's height; None: it passes over or under it."""
        radius = self.diameter_mm / 2 - FIT_MM
        off = max(box.z[0] - self.at[1], self.at[1] - box.z[1], 0.0)
        if off >= radius:
            return None
        half = (radius**2 - off**2) ** 0.5
        return self.at[0] - half, self.at[0] + half

    def meets(self, box: Box) -> bool:
        """Whether a box meets it."""
        reach = self.reach(box)
        return reach is not None and overlap(reach, box.x) > 0


@dataclass(frozen=True, kw_only=True)
class Bay:
    """A body with room inside, and what stands in it."""

    view: View
    plates: tuple[Plate, ...]
    rods: tuple[Rod, ...]

    @property
    def body(self) -> Body:
        """The body."""
        return self.view.body

    @property
    def profile(self) -> Profile:
        """Its side view."""
        return self.view.profile

    @cached_property
    def ends(self) -> tuple[float, float]:
        """From where to where along it goes."""
        return self.profile.front_mm, self.profile.rear_mm

    def height(self, x: tuple[float, float]) -> tuple[float, float]:
        """z of the floor's inside and of what covers it over a stretch; where it is open, of the upper edge.

        Of a stretch beyond the body as at its ends.
        """
        low, high = (min(max(one, self.ends[0]), self.ends[1]) for one in x)
        foot, head = inside(self.profile, self.view.seats, low, high)
        tops = [self.profile.top(one) for one in (low, high)]
        tops += [one.top_mm for one in self.body.side if low < one.along_mm < high]
        open_mm = min(tops) - BELOW_EDGE_MM  # what `inside` says where nothing covers it
        return foot, head + BELOW_EDGE_MM if head >= open_mm - 1e-9 else head

    def width(self, box: Box) -> float:
        """Between the innermost boards beside a box, nose doublers counted."""
        boards, doubler = 2, self.view.doubler
        if doubler is not None:
            seen = shapely.box(box.x[0], box.z[0], box.x[1], box.z[1])
            boards = 4 if doubler.intersection(seen).area > FIT_MM**2 else 2
        return self.body.width_mm - boards * self.profile.thickness_mm

    def clashes(self, box: Box) -> Iterator[Plate | Rod]:
        """The plates and dowels that a box goes through."""
        yield from (one for one in self.plates if one.meets(box))
        yield from (one for one in self.rods if one.meets(box))

    def in_wing(self, box: Box) -> bool:
        """Whether a box lies wholly within the section of a wing that the body carries."""
        seen, out = shapely.box(box.x[0], box.z[0], box.x[1], box.z[1]), abs(box.y[0] + box.y[1]) / 2
        for saddle in self.view.seats.saddles:
            try:
                outline = outline_beside(saddle.surface, out)
            except Refused:
                continue
            if outline.buffer(FIT_MM).contains(seen):
                return True
        return False


@lru_cache(maxsize=4)
def bays(inputs: Inputs) -> tuple[Bay, ...]:
    """The insides of all bodies whose numbers can be looked at; kept, because every place asks for them."""
    found = []
    for body in inputs.bodies:
        if numbers_refused(body):
            continue
        view = view_of(body, inputs)
        plates = (*(_plate(stand, body) for stand in view.stands), *_firewalls(body, inputs), *_tails(view))
        rods = tuple(_rods([one for one in inputs.dowels if one.on == body.name]))
        found.append(Bay(view=view, plates=plates, rods=rods))
    return tuple(found)


def _plate(stand: Stand, body: Body) -> Plate:
    former = stand.word.startswith("former")
    words = {"nose": "the front plate", "tail": "the end plate"}
    return Plate(
        key=stand.key if former else body.key,
        words="the former" if former else words.get(stand.word, stand.word),
        x=(stand.front_mm, stand.rear_mm),
        z=(stand.foot_mm, stand.head_mm),
        width_mm=stand.width_mm,
        opening_mm=stand.opening_mm,
        may_open=former,
    )


def _firewalls(body: Body, inputs: Inputs) -> Iterator[Plate]:
    """The firewall of a nose motor; what stands before it stands in the motor's place."""
    for motor in inputs.motors:
        seat = None if motor.on_wing or motor.on != body.name else nose_seat(motor, inputs)
        if seat is not None:
            yield Plate(
                key=motor.firewall.key,
                words="the firewall",
                x=(seat.front_mm, seat.rear_mm),
                z=(seat.foot_mm, seat.head_mm),
                width_mm=seat.motor.firewall.width_mm,
            )


def _tails(view: View) -> Iterator[Plate]:
    """Stabilisers that go through the body, as boxes about what they take."""
    for slot in view.tail.slots:
        if slot.inside.is_empty:
            continue
        x0, z0, x1, z1 = slot.inside.bounds
        yield Plate(
            key=slot.surface.key,
            words=f'the surface "{slot.surface.name}"',
            x=(x0, x1),
            z=(z0, z1),
            width_mm=view.body.width_mm,
        )


def _rods(dowels: list[Dowel]) -> Iterator[Rod]:
    for dowel in dowels:
        for i, at in enumerate(dowel.at):
            yield Rod(key=f"{dowel.key}.at[{i}]", at=at, diameter_mm=dowel.diameter_mm)
