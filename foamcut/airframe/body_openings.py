"""Openings that a body asks for: cooling air, pushrods, straps, servos, dowels.

Places on the side view (x aft, z up), or on a strip (u along its paper, v across); mm.
"""

from collections.abc import Iterable

from foamcut.airframe.body_holes import ROUND_MM, Hole, box_points
from foamcut.airframe.body_profile import Profile
from foamcut.airframe.body_stands import inside
from foamcut.airframe.body_unroll import Strip
from foamcut.airframe.body_view import View
from foamcut.airframe.values import Inputs, Servo
from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

#: the opening for a pushrod, along and up (common practice, no source)
PUSHROD_MM = (25.0, 4.0)
#: a slot for a strap, along and across (common practice, no source)
STRAP_MM = (20.0, 3.0)
#: an air outlet is as large as so many inlets (common practice, no source); an inlet is so long
OUT_TO_IN, INLET_LONG_MM = 2.0, 12.0
#: an opening for air that would come out lower is refused
LOWEST_VENT_MM = 5.0


def side_openings(view: View, inputs: Inputs) -> list[Hole]:
    """Everything cut through both sides, in the order in which it is told of."""
    body = view.body
    holes = [
        Hole(
            key=f"{dowel.key}.at[{i}]",
            words="the hole of a dowel",
            middle=at,
            diameter_mm=dowel.diameter_mm,
            label=f"dowel {decimal_text(dowel.diameter_mm, 1)}",
        )
        for dowel in inputs.dowels
        if dowel.on == body.name
        for i, at in enumerate(dowel.at)
    ]
    for servo in servos_in(view, inputs, "side"):
        holes.append(_servo_hole(servo, box_points(servo.at, servo.size_mm)))
    holes += _cooling(view)
    for i, at in enumerate(body.pushrods_mm):
        points = box_points(at, PUSHROD_MM)
        holes.append(
            Hole(
                key=f"{body.key}.pushrods[{i}]",
                words="the opening of a pushrod",
                points=points,
                label="pushrod",
            )
        )
    return holes


def _servo_hole(servo: Servo, points: tuple[Point, ...]) -> Hole:
    return Hole(key=servo.key, words="the servo's opening", points=points, label="servo")


def _cooling(view: View) -> list[Hole]:
    """The inlet and the outlet, at half the height inside and no higher than there is room."""
    words = {"in": "the air inlet", "out": "the air outlet"}
    return [
        Hole(key=f"{view.body.key}.cooling.{word}", words=words[word], points=points, label=f"air {word}")
        for word, points, _ in _vents(view)
    ]


def cooling_advice(view: View) -> list[Finding]:
    """Openings for air that are lower than was asked for, because the side has no more room there."""
    asked = {"in": view.body.cooling_in_mm, "out": view.body.cooling_out_mm}
    found = []
    for word, _, high in _vents(view):
        wanted = asked[word]
        if wanted is None or high >= wanted[1]:
            continue
        mm = f"{decimal_text(high, 1)} mm"
        found.append(
            Finding(
                code="body-panel",
                level=Level.NOTE,
                where=f"{view.body.key}.cooling.{word}",
                text=f"the opening for air at {decimal_text(wanted[0], 1)} mm along is cut {mm} high, as much"
                f" as the side has room for, not {decimal_text(wanted[1], 1)} mm",
                value=mm,
                mend="move it to where the body is higher, or ask for less",
            )
        )
    return found


def _vents(view: View) -> list[tuple[str, tuple[tuple[float, float], ...], float]]:
    """The word, the corners and the height of each opening for air; the outlet has twice the inlet's area."""
    body, found = view.body, []
    area = None
    if body.cooling_in_mm is not None:
        at, wanted = body.cooling_in_mm
        middle, high = _room(view, at, INLET_LONG_MM, wanted)
        area = OUT_TO_IN * INLET_LONG_MM * high
        found.append(("in", box_points((at, middle), (INLET_LONG_MM, high)), high))
    if body.cooling_out_mm is not None:
        at, wanted = body.cooling_out_mm
        long = OUT_TO_IN * INLET_LONG_MM if area is None else max(area / wanted, INLET_LONG_MM)
        middle, high = _room(view, at, long, wanted)
        found.append(("out", box_points((at, middle), (long, high)), high))
    return found


def _room(view: View, at: float, long: float, wanted: float) -> tuple[float, float]:
    """The middle between floor and cover at a place along, and the height that an opening has there."""
    foot, head = inside(view.profile, view.seats, at - long / 2, at + long / 2)
    free = head - foot - 4 * ROUND_MM  # twice what has to stay: edges slope
    return (foot + head) / 2, min(wanted, free) if free >= LOWEST_VENT_MM else wanted


def strap_holes(view: View, strip: Strip, which: int) -> list[Hole]:
    """The two slots of each strap in one strip of the floor, as far apart as the inside is wide."""
    found = []
    for i, at in enumerate(view.body.straps_mm):
        if floor_at(view, at) != which:
            continue
        edge = Profile(body=view.body).inside_width(at) / 2 - ROUND_MM - STRAP_MM[1] / 2
        for word, v in (("left", -edge), ("right", edge)):
            points = box_points((strip.along(at), v), STRAP_MM)
            found.append(
                Hole(
                    key=f"{view.body.key}.straps[{i}]",
                    words=f"the {word} slot of the strap",
                    points=points,
                    label="strap",
                )
            )
    return found


def floor_at(view: View, x_mm: float) -> int:
    """The index of the strip of the floor at a place, or of the one nearest to it."""
    off = [max(one.front_mm - x_mm, x_mm - one.rear_mm, 0.0) for one in view.floors]
    return off.index(min(off))


def servo_holes(view: View, inputs: Inputs, strip: Strip, word: str) -> list[Hole]:
    """The openings of servos in a strip."""
    found = []
    for servo in servos_in(view, inputs, word):
        if word == "floor" and view.floors[floor_at(view, servo.at[0])] is not strip:
            continue
        at = strip.along(servo.at[0]), strip.across(servo.at[1])
        found.append(_servo_hole(servo, box_points(at, servo.size_mm)))
    return found


def servos_in(view: View, inputs: Inputs, word: str) -> Iterable[Servo]:
    """The servos in a panel of the body."""
    return [servo for servo in inputs.servos if servo.on == (view.body.name, word)]


def panel_words(view: View) -> list[str]:
    """Every panel of the body that a servo may sit in."""
    words = ["side", "floor"]
    words += [word for word, one in (("deck", view.deck), ("hatch", view.hatch)) if one is not None]
    return words + [f"former-{i + 1}" for i in range(len(view.body.formers))]


def servos_refused(view: View, inputs: Inputs) -> list[Refusal]:
    """Servos in panels that the body does not have."""
    words = panel_words(view)
    return [
        Refusal(
            key=f"{servo.key}.on",
            text=f'"{view.body.name}" has no panel "{servo.on[1]}"; it has {", ".join(words)}: write for'
            " example"
            f' "{view.body.name}.{words[0]}"',
        )
        for servo in inputs.servos
        if servo.on[0] == view.body.name and servo.on[1] not in words
    ]


def strap_refused(view: View) -> list[Refusal]:
    """Straps where the inside is too narrow for two slots."""
    found = []
    for i, at in enumerate(view.body.straps_mm):
        need = 2 * (ROUND_MM + STRAP_MM[1]) + ROUND_MM
        room = view.profile.inside_width(at)
        if room < need:
            text = (
                f"the inside is {decimal_text(room, 1)} mm wide at {decimal_text(at, 1)} mm along, and the"
                " two slots"
                f" of a strap need {decimal_text(need, 1)} mm: leave it out, or make the body wider"
            )
            found.append(Refusal(key=f"{view.body.key}.straps[{i}]", text=text))
    return found
