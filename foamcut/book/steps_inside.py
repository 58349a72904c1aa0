"""What lies inside an open body, before it is shut: servos, leads, pushrods, things under the deck.  mm."""

from collections.abc import Iterator, Sequence

from foamcut.airframe.body_profile import Profile
from foamcut.airframe.values import Body, Servo
from foamcut.book.step import Step, Tie
from foamcut.book.steps_body import PLATES, SHELL
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import listed, off_middle, titled
from foamcut.flight.values import Aboard, Carried

#: a notch that lets a lead with its plug pass (common practice, no source)
_NOTCH_MM = 10.0
_WITHOUT_LEAD = (Carried.BALLAST, Carried.OTHER)
SERVO_FIRST = (
    "Before an arm goes onto a servo, plug the servo into the receiver with the stick in the middle, or into"
    " a servo tester, so that it stands in its middle; then put the arm on square to the pushrod and screw"
    " it down."
)


def inside_things(body: Body, things: Sequence[Aboard]) -> tuple[Aboard, ...]:
    """What sits under the deck of a body: it cannot be reached when the deck is on."""
    if body.deck_mm is None:
        return ()
    low, high = body.deck_mm
    return tuple(
        one
        for one in things
        if one.kind
        in (Carried.SERVO, Carried.RECEIVER, Carried.SPEED_CONTROL, Carried.BATTERY, Carried.BALLAST)
        + ((Carried.OTHER,) if one.size_mm is not None else ())
        and low <= one.at[0] <= high
        and abs(one.out_mm) < body.width_mm / 2
        and _within(body, one.at[0], one.at[1])
    )


def _within(body: Body, along: float, up: float) -> bool:
    profile = Profile(body=body)
    return profile.bottom(along) < up < profile.top(along)


def inside_step(
    ground: Ground,
    making: Making,
    body: Body,
    servos: Sequence[Servo],
    things: Sequence[Aboard],
    lost: Sequence[str],
) -> Step:
    """What is fitted and led while the body is open; `lost` are words about controls without a servo."""
    ruler = ground.ruler
    does: list[str] = []
    for one in things:
        does.append(
            f"{titled(one.name)}: it sits under the deck, its middle {ruler(one.at[0])} behind the nose,"
            f" {ruler.up(one.at[1])}, {off_middle(one.out_mm, ruler)}. Fix it there now"
            f"{'' if one.kind in _WITHOUT_LEAD else ', with its lead led forwards'}: nobody reaches it later."
        )
    for servo in servos:
        along, across = servo.at
        panel = servo.on[1] or "panel"
        long, wide = servo.size_mm
        place = f"{ruler(across)} up" if panel == "side" else off_middle(across, ruler)
        lead = (
            f" Its lead, {ruler(servo.lead_mm)} long with its extension, goes forwards."
            if servo.lead_mm
            else ""
        )
        arm = (
            "inside the body, since its pushrod runs there"
            if body.pushrods_mm
            else "outside, where its pushrod runs"
        )
        now = ", while the deck is still off" if panel == "deck" else ""
        does.append(
            f"{servo.drives.capitalize()} servo: in the opening of the {panel}, {ruler.pair(long, wide)}, its"
            f" middle {ruler(along)} behind the nose, {place}. Glue two strips of scrap beside the opening"
            f" inside, and screw the servo to them{now}; its arm is {arm}.{lead}"
        )
    moved = bool(servos) or any(one.kind is Carried.SERVO for one in things)
    if moved:
        does.append(SERVO_FIRST)
        does.append(
            "Lay every servo lead through the openings of the formers to where the receiver sits, tape it to"
            " a side, and try each servo before the body is shut."
        )
        does += _in_the_way(ground, body, servos, things)
    does += lost
    for at in body.pushrods_mm:
        does.append(
            f"Pushrods: they leave through the opening in each side {ruler(at[0])} behind the nose,"
            f" {ruler(at[1])} up. Put them, or the tubes in which they run, in now, straight from servo arm"
            " to opening, and hold them in the middle with a scrap of board so that they do not bow."
        )
    if body.straps_mm:
        does.append(
            "Battery strap: thread it through the slots in the floor"
            f" {listed(ruler(x) for x in body.straps_mm)} behind the nose, from inside out and back in, rough"
            " side towards the battery."
        )
    return Step(
        id=ground.id("inside", body),
        heading=f"Fit what lies inside {ground.the(body)}",
        does=tuple(does),
        checks=(
            *(
                ("Every servo moves its pushrod over the whole way without binding.",)
                if moved or lost or body.pushrods_mm
                else ()
            ),
            *(("Every lead reaches the receiver with a hand's width to spare.",) if moved else ()),
            "Nothing lies loose under the deck.",
        ),
        after=making.ties((Tie.GLUED, ground.id("box", body))),
        shows=names((*ground.of(body, *SHELL), *ground.of(body, Kind.FLOOR, *PLATES))),
        tools=(
            *(("small screwdriver", "receiver or servo tester") if moved else ()),
            "tape",
            *(("pushrod wire or tubes",) if moved or lost or body.pushrods_mm else ()),
        ),
    )


def _in_the_way(
    ground: Ground, body: Body, servos: Sequence[Servo], things: Sequence[Aboard]
) -> Iterator[str]:
    """Formers without an opening on the way of leads forwards, and of pushrods to their horns."""
    places = [one.at[0] for one in servos] + [one.at[0] for one in things if one.kind is Carried.SERVO]
    receivers = [one.at[0] for one in ground.facts.setup.of(Carried.RECEIVER)]
    low = min([*receivers, *places])
    ends = [x for x, _ in body.pushrods_mm]
    named = {part.name: ground.named(part) for part in ground.of(body, Kind.FORMER)}
    shut = [
        (stand, named[f"{body.name}-{stand.word}"])
        for stand in ground.views[body.name].stands
        if stand.opening_mm is None and f"{body.name}-{stand.word}" in named
    ]
    leads = [words for stand, words in shut if low < stand.front_mm < max(places)]
    if leads:
        yield (
            f"{listed(leads)} {'has' if len(leads) == 1 else 'have'} no opening: cut a notch of"
            f" {ground.ruler(_NOTCH_MM)} by {ground.ruler(_NOTCH_MM)} into an upper corner for the leads,"
            " under the deck."
        )
    rods = [words for stand, words in shut if ends and min(places) < stand.front_mm < max(ends)]
    if rods:
        yield (f"Make a hole for each pushrod through {listed(rods)}, in line from servo arm to opening.")


def moved_inside(ground: Ground, body: Body) -> bool:
    """Whether a servo sits in a panel of a body, or under its deck."""
    inside = inside_things(body, ground.facts.setup.aboard)
    return any(one.on[0] == body.name for one in ground.facts.inputs.servos) or any(
        one.kind is Carried.SERVO for one in inside
    )
