"""What is wrong with the numbers of a body by themselves, and what is out of the ordinary.  mm."""

import math
from itertools import pairwise

from foamcut.airframe.body_advice import model_advice
from foamcut.airframe.body_profile import UNIT_WORDS, Profile
from foamcut.airframe.body_view import View
from foamcut.airframe.values import Body, Inputs
from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.flat.tolerances import ON_EDGE_MM
from foamcut.units import decimal_text
from foamcut.units import mm_text as _mm

#: the least width between the innermost boards
_LEAST_INSIDE_MM = 10.0
#: the most of its length that a body is wide (common practice, no source: a tenth to a fifth is usual)
_WIDEST = 0.6
#: the shortest span of a deck, a hatch or nose doublers
_SHORTEST_MM = 10.0
#: plates farther apart than this want a note (common practice, no source: 80 to 150 mm)
_APART_MM = 150.0
#: an opening in the top longer than this wants a note
_OPEN_MM = 20.0
#: so near its ends something has to stand under a hatch
_RESTS_MM = 15.0


def numbers_refused(body: Body) -> list[Refusal]:
    """What cannot be looked at any further: the side, the width, the spans."""
    found = _side(body)
    if not found:
        found = [*_spans(body), *_clash(body)]
    return [*_width(body), *found]


def _side(body: Body) -> list[Refusal]:
    if len(body.side) < 2:
        return [Refusal(key=f"{body.key}.side", text="a side needs two readings or more: nose and tail")]
    found = []
    for one in body.side:
        if not all(math.isfinite(v) for v in (one.along_mm, one.bottom_mm, one.top_mm)):
            found.append(Refusal(key=one.key, text="a number of this reading is no number; mend it"))
        elif one.bottom_mm > one.top_mm:
            text = f"the bottom at {_mm(one.bottom_mm)} lies over the top at {_mm(one.top_mm)}: swap them"
            found.append(Refusal(key=one.key, text=text))
    for before, after in pairwise(body.side):
        if not after.along_mm - before.along_mm > ON_EDGE_MM:
            text = (
                f"the reading at {_mm(after.along_mm)} along does not lie behind the one before it, at"
                f" {_mm(before.along_mm)}: put them in order from nose to tail, each place once"
            )
            found.append(Refusal(key=after.key, text=text))
    for one in body.side[1:-1]:
        if one.top_mm - one.bottom_mm < ON_EDGE_MM:
            text = "bottom and top meet here, in the middle of the body: give it height"
            found.append(Refusal(key=one.key, text=text))
    return found


def _width(body: Body) -> list[Refusal]:
    share = Profile(body=body).slender if body.side else 0.0
    if share > _WIDEST:
        text = (
            f"{_mm(body.width_mm)} at full size is {decimal_text(share, 2)} times as wide as the body is long"
            f" ({body.key}.side), more than {decimal_text(_WIDEST, 1)}: {UNIT_WORDS}"
        )
        return [Refusal(key=f"{body.key}.width", text=text)]
    boards = 2 if body.nose_doubler_mm is None else 4
    t = body.material.thickness_mm
    inside = body.width_mm - boards * t
    if inside >= _LEAST_INSIDE_MM:
        return []
    more = " and nose doublers" if boards == 4 else ""
    text = (
        f"{_mm(body.width_mm)} outside less {boards} boards of {decimal_text(t, 2)} mm (sides{more}) leaves"
        f" {_mm(inside)} inside, less than {_mm(_LEAST_INSIDE_MM)}: make it at least"
        f" {_mm(boards * t + _LEAST_INSIDE_MM)}"
    )
    return [Refusal(key=f"{body.key}.width", text=text)]


def _spans(body: Body) -> list[Refusal]:
    first, last = body.side[0].along_mm, body.side[-1].along_mm
    found = []
    for word, span in _named(body):
        key = f"{body.key}.{word}"
        if not span[1] - span[0] >= _SHORTEST_MM:
            text = (
                f"it goes from {_mm(span[0])} to {_mm(span[1])} along: the second has to lie at least"
                f" {_mm(_SHORTEST_MM)} behind the first"
            )
            found.append(Refusal(key=key, text=text))
        elif span[0] < first - ON_EDGE_MM or span[1] > last + ON_EDGE_MM:
            past = max(first - span[0], span[1] - last)
            text = (
                f"it goes from {_mm(span[0])} to {_mm(span[1])} along, {_mm(past)} past the body, which"
                " goes from"
                f" {_mm(first)} to {_mm(last)} ({body.key}.side): make it shorter"
            )
            found.append(Refusal(key=key, text=text))
    return found


def _named(body: Body) -> list[tuple[str, tuple[float, float]]]:
    spans = (("deck", body.deck_mm), ("hatch", body.hatch_mm), ("nose_doubler", body.nose_doubler_mm))
    return [(word, span) for word, span in spans if span is not None]


def _clash(body: Body) -> list[Refusal]:
    if body.deck_mm is None or body.hatch_mm is None:
        return []
    both = min(body.deck_mm[1], body.hatch_mm[1]) - max(body.deck_mm[0], body.hatch_mm[0])
    if both <= ON_EDGE_MM:
        return []
    text = (
        f"the hatch from {_mm(body.hatch_mm[0])} to {_mm(body.hatch_mm[1])} along overlaps the deck from"
        f" {_mm(body.deck_mm[0])} to {_mm(body.deck_mm[1])} ({body.key}.deck) by {_mm(both)}: make one"
        " shorter"
    )
    return [Refusal(key=f"{body.key}.hatch", text=text)]


def advice(view: View) -> list[Finding]:
    """Plates far apart, and places where nothing closes the top."""
    return [*_far_apart(view), *_open_top(view), *_loose_hatch(view)]


def _far_apart(view: View) -> list[Finding]:
    profile = view.profile
    places = [profile.front_mm, *(stand.front_mm for stand in view.stands), profile.rear_mm]
    gap, a, b = max((b - a, a, b) for a, b in pairwise(places))
    if gap <= _APART_MM:
        return []
    return [
        Finding(
            code="body-panel",
            level=Level.NOTE,
            where=f"{view.body.key}.formers",
            text=f"no former stands between {_mm(a)} and {_mm(b)} along; sides so long give way between"
            " the fingers",
            value=_mm(gap),
            range=f"80 to {_mm(_APART_MM)}",
            source="common practice, no source",
            mend="put a former between them",
        )
    ]


def _open_top(view: View) -> list[Finding]:
    profile = view.profile
    spans = [*profile.covers, *(saddle.span for saddle in view.seats.saddles if saddle.upwards)]
    at, gaps = profile.front_mm, []
    for first, last in [*sorted(spans), (profile.rear_mm, profile.rear_mm)]:
        if first - at > _OPEN_MM:
            gaps.append((at, first))
        at = max(at, last)
    if not gaps:
        return []
    where = ", ".join(f"{decimal_text(a, 1)} to {decimal_text(b, 1)}" for a, b in gaps)
    return [
        Finding(
            code="body-panel",
            level=Level.NOTE,
            where=view.body.key,
            text=f'nothing closes "{view.body.name}" from above at {where} mm along',
            source="arithmetic",
            mend="make deck or hatch longer, or close it with a part of your own",
        )
    ]


def _loose_hatch(view: View) -> list[Finding]:
    """Ends of the hatch under which nothing stands: it lies between the sides and would fall in."""
    if view.hatch is None:
        return []
    loose = []
    for x, first, last in (
        (view.hatch.front_mm, view.hatch.front_mm, view.hatch.front_mm + _RESTS_MM),
        (view.hatch.rear_mm, view.hatch.rear_mm - _RESTS_MM, view.hatch.rear_mm),
    ):
        stands = any(stand.rear_mm > first and stand.front_mm < last for stand in view.stands)
        if not stands and not view.profile.doubled(x):
            loose.append(x)
    if not loose:
        return []
    where = " and ".join(_mm(x) for x in loose)
    return [
        Finding(
            code="body-panel",
            level=Level.NOTE,
            where=f"{view.body.key}.hatch",
            text=f"at {where} along no former and no nose doubler stands under the end of the hatch",
            source="arithmetic",
            mend="glue strips of board to the sides for it to rest on, or let it end over a former",
        )
    ]


def servo_advice(view: View, inputs: Inputs) -> list[Finding]:
    """Servos in a side: left and right are cut alike.  With the first body what is said once a model."""
    said = model_advice(inputs) if inputs.bodies and view.body is inputs.bodies[0] else []
    return said + [
        Finding(
            code="servo-place",
            level=Level.NOTE,
            where=servo.key,
            text=f'the opening of the {servo.drives} servo is cut in both sides of "{view.body.name}"',
            mend="glue what is cut out back into the side that has no servo",
        )
        for servo in inputs.servos
        if servo.on == (view.body.name, "side")
    ]
