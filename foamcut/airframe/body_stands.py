"""The plates that stand across a body: formers, the front plate and the end plate; which heights they fill.

mm.  A plate stands upright and square to x, its foot on the floor's inside, its top under what covers it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.airframe.body_profile import Profile
from foamcut.airframe.body_tail import Tails, TailSlot
from foamcut.airframe.body_wing import Seated
from foamcut.airframe.values import Body, Inputs, Material
from foamcut.errors import Refusal
from foamcut.flat.outline import Point
from foamcut.flat.tolerances import ROUNDING_MM
from foamcut.units import mm_text as _mm

#: an open plate ends this far under the upper edge of the sides
BELOW_EDGE_MM = 1.0
#: the least height of a plate, the rear that gets an end plate, the least left round an opening
LEAST_MM, ENDS_MM, ROUND_OPENING_MM = 8.0, 15.0, 4.0
#: a nose lower than this inside needs no plate
_LOW_NOSE_MM = 3.0
#: a doubler that lies beside less of a plate is not beside it, mm2
_BESIDE_MM2 = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """A plate: its front face at `front_mm`, from `foot_mm` up to `head_mm`, `width_mm` across.

    `doubled`: a nose doubler lies beside it.
    """

    key: str
    word: str  # former-1, nose, tail
    material: Material
    front_mm: float
    foot_mm: float
    head_mm: float
    width_mm: float
    doubled: bool
    opening_mm: tuple[float, float] | None = None

    @property
    def rear_mm(self) -> float:
        """Where its rear face is."""
        return self.front_mm + self.material.thickness_mm

    @property
    def height_mm(self) -> float:
        """From foot to head."""
        return self.head_mm - self.foot_mm

    @property
    def middle(self) -> Point:
        """Its middle on the side view."""
        return (self.front_mm + self.rear_mm) / 2, (self.foot_mm + self.head_mm) / 2

    @property
    def marked(self) -> str:
        """What its place is called on the sides."""
        return f"F{self.word.removeprefix('former-')}" if self.word.startswith("former") else self.word


@dataclass(frozen=True, slots=True, kw_only=True)
class Stood:
    """The plates of a body from the nose to the tail, and what cannot stand."""

    stands: tuple[Stand, ...] = ()
    refusals: tuple[Refusal, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Inside:
    """What plates stand against: the side view, the wings in it, the outline of the nose doublers."""

    profile: Profile
    seats: Seated
    doubler: Polygon | None


def stood(body: Body, inputs: Inputs, view: Inside, tail: Tails) -> Stood:
    """All plates of a body; a nose motor's firewall stands where the front plate would."""
    profile = view.profile
    t = body.material.thickness_mm
    refusals: list[Refusal] = []
    stands: list[Stand] = []
    for i, former in enumerate(body.formers):
        one = _stand(former.key, f"former-{i + 1}", former.material or body.material, former.at_mm, view)
        one = replace(one, opening_mm=former.opening_mm)
        refusals += _refused(one, body)
        stands.append(one)
    has_motor = any(motor.on == body.name and not motor.on_wing for motor in inputs.motors)
    nose = _stand(body.key, "nose", body.material, profile.front_mm, view)
    ends = [] if has_motor or nose.height_mm < _LOW_NOSE_MM else [nose]
    if profile.top(profile.rear_mm) - profile.bottom(profile.rear_mm) > ENDS_MM:
        ends.append(_stand(body.key, "tail", body.material, profile.rear_mm - t, view))
    for end in ends:
        one = _under_slots(end, tail)
        if one.height_mm >= _LOW_NOSE_MM and not any(_meet(one, stand) for stand in stands):
            stands.append(one)
    stands.sort(key=lambda stand: (stand.front_mm, stand.key))
    refusals += _met(stands)
    refusals += [
        _in_tail(stand, slot.surface.key, slot.surface.name)
        for stand in stands
        for slot in tail.slots
        if _passed(stand, slot) is not None
    ]
    return Stood(stands=tuple(stands), refusals=tuple(refusals))


def _under_slots(stand: Stand, tail: Tails) -> Stand:
    """An end plate that ends under what passes through the body there."""
    feet = [there.bounds[1] for slot in tail.slots if (there := _passed(stand, slot)) is not None]
    return replace(stand, head_mm=min([stand.head_mm, *feet]))


def _passed(stand: Stand, slot: TailSlot) -> BaseGeometry | None:
    """What of a plate's side view lies in a slot; None when next to nothing does."""
    if stand.height_mm <= 0:
        return None
    plate = shapely.box(stand.front_mm, stand.foot_mm, stand.rear_mm, stand.head_mm)
    there = shapely.union_all([slot.shape, slot.inside]).intersection(plate)
    return there if there.area > _BESIDE_MM2 else None


def _stand(key: str, word: str, material: Material, front: float, view: Inside) -> Stand:
    rear = front + material.thickness_mm
    body, doubler = view.profile.body, view.doubler
    foot, head = inside(view.profile, view.seats, front, rear)
    box = shapely.box(front, foot, rear, max(head, foot))
    doubled = doubler is not None and bool(doubler.intersection(box).area > _BESIDE_MM2)
    width = body.width_mm - (4 if doubled else 2) * body.material.thickness_mm
    return Stand(
        key=key,
        word=word,
        material=material,
        front_mm=front,
        foot_mm=foot,
        head_mm=head,
        width_mm=width,
        doubled=doubled,
    )


def inside(profile: Profile, seats: Seated, x0: float, x1: float) -> tuple[float, float]:
    """z of the foot and of the head of what stands between two places along the body.

    The highest of the floor; the lowest of deck, hatch, wing, or 1 mm under the upper edge.
    """
    places = _places(profile, x0, x1)
    foot = max(profile.floor(x) for x in places)
    head = min(profile.top(x) for x in places) - BELOW_EDGE_MM
    for span in profile.covers:
        first, last = _leaning(profile, span)
        a, b = max(x0, first), min(x1, last)
        if b - a > ROUNDING_MM:
            head = min(head, *(profile.under_cover(x) for x in _places(profile, a, b)))
    high, low = seats.limits(x0, x1)
    if high is not None:
        head = min(head, high)
    if low is not None:
        foot = low if seats.floor_open(x0, x1) else max(foot, low)
    return foot, head


def _leaning(profile: Profile, span: tuple[float, float]) -> tuple[float, float]:
    """From where to where a cover reaches with its lower edges: its ends are square to its slope."""
    t, (a, b) = profile.thickness_mm, span
    ends = []
    for x, step in ((a, 0.01), (b, -0.01)):
        slope = math.atan2((profile.top(x + step) - profile.top(x)) / step, 1.0)
        ends.append(t * math.sin(slope))
    return min(a, a + ends[0]), max(b, b + ends[1])


def _places(profile: Profile, x0: float, x1: float) -> list[float]:
    """Both places, and every reading near them from which the board's thickness reaches there."""
    near = [one.along_mm for one in profile.body.side if x0 < one.along_mm < x1]
    return [x0, *near, x1]


def _refused(stand: Stand, body: Body) -> list[Refusal]:
    """A former off the body, too low, or with too large an opening."""
    profile = Profile(body=body)
    word, found = stand.word.replace("-", " "), []
    if not profile.front_mm <= stand.front_mm or stand.rear_mm > profile.rear_mm:
        text = (
            f"{word} stands from {_mm(stand.front_mm)} to {_mm(stand.rear_mm)} along, off the body, which"
            " goes"
            f" from {_mm(profile.front_mm)} to {_mm(profile.rear_mm)} ({body.key}.side): move it"
        )
        return [Refusal(key=stand.key, text=text)]
    for end in body.nose_doubler_mm or ():
        if stand.front_mm + ROUNDING_MM < end < stand.rear_mm - ROUNDING_MM:
            text = (
                f"{word} stands from {_mm(stand.front_mm)} to {_mm(stand.rear_mm)} along, and the nose"
                " doublers"
                f" end at {_mm(end)} ({body.key}.nose_doubler), in the middle of it: move one by"
                f" {_mm(min(end - stand.front_mm, stand.rear_mm - end))}"
            )
            found.append(Refusal(key=stand.key, text=text))
    if body.nose_doubler_mm is not None:
        beyond = body.nose_doubler_mm[1] - stand.rear_mm
        least = 2 * body.material.thickness_mm  # a doubler runs out, and may end lower than the former does
        if -ROUNDING_MM <= beyond < least:
            text = (
                f"{word} stands up to {_mm(stand.rear_mm)} along, and the nose doublers end only"
                f" {_mm(max(beyond, 0.0))} behind it ({body.key}.nose_doubler), where they run out: let them"
                f" go on for {_mm(least)}, or end before the former"
            )
            found.append(Refusal(key=stand.key, text=text))
    if stand.height_mm < LEAST_MM:
        text = (
            f"{word} at {_mm(stand.front_mm)} along would be {_mm(max(stand.height_mm, 0.0))} high between"
            " the"
            f" floor's inside at {_mm(stand.foot_mm)} and {_mm(stand.head_mm)}, less than {_mm(LEAST_MM)}"
            f" ({body.key}.side): move it to where the body is higher"
        )
        found.append(Refusal(key=stand.key, text=text))
    elif stand.opening_mm is not None:
        wide, high = stand.opening_mm
        for size, room, name in ((wide, stand.width_mm, "wide"), (high, stand.height_mm, "high")):
            if (room - size) / 2 < ROUND_OPENING_MM:
                text = (
                    f"an opening {_mm(size)} {name} leaves {_mm(max((room - size) / 2, 0.0))} at each side of"
                    f" {word}, which is {_mm(room)} {name}; {_mm(ROUND_OPENING_MM)} has to stay: make it at"
                    f" most {_mm(max(room - 2 * ROUND_OPENING_MM, 0.0))}"
                )
                found.append(Refusal(key=f"{stand.key}.opening", text=text))
    return found


def _met(stands: Sequence[Stand]) -> list[Refusal]:
    """Plates in one place."""
    found = []
    for i, one in enumerate(stands):
        for other in stands[i + 1 :]:
            if _meet(one, other):
                text = (
                    f"{other.word} stands at {_mm(other.front_mm)} along, inside {one.word} ({one.key}),"
                    " which goes"
                    f" from {_mm(one.front_mm)} to {_mm(one.rear_mm)}: move one"
                )
                found.append(Refusal(key=other.key, text=text))
    return found


def _meet(one: Stand, other: Stand) -> bool:
    return min(one.rear_mm, other.rear_mm) - max(one.front_mm, other.front_mm) > ROUNDING_MM


def _in_tail(stand: Stand, key: str, name: str) -> Refusal:
    text = (
        f'{stand.word.replace("-", " ")} at {_mm(stand.front_mm)} along stands where "{name}" goes through'
        " the"
        f" body ({key}): move one"
    )
    return Refusal(key=stand.key, text=text)
