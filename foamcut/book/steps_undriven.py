"""Controls of the tail that no servo in an opening drives: their pushrods go in before the deck.  mm."""

from collections.abc import Iterator

from foamcut.airframe.values import Body, Control, Surface
from foamcut.book.steps_ground import Ground
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_words import listed, titled
from foamcut.flight.values import Aboard, Carried


def undriven(ground: Ground) -> tuple[tuple[Surface, Control], ...]:
    """Controls of stabilisers and fins for which the design has no servo in an opening of a panel."""
    driven = {one.drives for one in ground.facts.inputs.servos}
    return tuple(
        (surface, control)
        for surface in ground.tail_surfaces
        for control in surface.controls
        if control.word not in driven
    )


def own_servo(ground: Ground, control: Control) -> Aboard | None:
    """The servo aboard that is called after a control; None when there is none."""
    for one in ground.facts.setup.of(Carried.SERVO):
        if control.word in one.name.casefold():
            return one
    return None


def undriven_words(ground: Ground, body: Body) -> Iterator[str]:
    """What has to be led through a body for such controls while it is open."""
    ruler = ground.ruler
    stands = {one.part.key: one for one in ground.facts.standing}
    for surface, control in undriven(ground):
        servo = own_servo(ground, control)
        start = "where its servo will sit"
        if servo is not None:
            start = f"the {servo.name}, {ruler(servo.at[0])} behind the nose,"
        horns = [
            stands[part.key]
            for part in ground.of(None, Kind.HORN)
            if part.key.startswith(f"{control.key}.") and part.key in stands
        ]
        text = (
            f"{titled(control.word)} of {ground.the(surface)}: the design cuts no way for its pushrod. While"
            f" the body is open, lead the pushrod, or a tube for it, from {start} to"
            f" the {'horn' if len(horns) == 1 else 'horns'} of the {control.word}"
        )
        end = None
        if horns:
            low, high = horns[0].box
            end = float(low[0] + high[0]) / 2
            out = abs(float(low[1] + high[1])) / 2
            text += f", about {ruler(end)} behind the nose"
            if out > body.width_mm / 2:
                text += f" and {ruler(out)} out{' on each side' if len(horns) > 1 else ''}"
        text += ", and cut the opening through which it leaves the body."
        if servo is not None and end is not None:
            shut = _shut_between(ground, body, servo.at[0], end)
            if shut:
                text += f" It needs a hole in line through {listed(shut)}."
        yield text


def _shut_between(ground: Ground, body: Body, one: float, other: float) -> list[str]:
    """Formers without an opening between two places along."""
    named = {part.name: ground.named(part) for part in ground.of(body, Kind.FORMER)}
    low, high = sorted((one, other))
    return [
        named[f"{body.name}-{stand.word}"]
        for stand in ground.views[body.name].stands
        if stand.opening_mm is None and low < stand.front_mm < high and f"{body.name}-{stand.word}" in named
    ]
