"""How large and how many: what of an airframe is beyond every model, and so a slip of the hand.

Generators reckon with places that lie nearer than these, and what they make is put together piece against
piece, which takes a time that grows with the square of its count.
"""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from foamcut.airframe.values import Body, Build, Inputs, Motor, Surface
from foamcut.errors import Refusal
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

#: chords, half spans, widths, propellers (common practice, no source)
MOST_MM = 5000.0
#: places on the side view, from the nose
FARTHEST_MM = 10_000.0
#: a shorter panel has no room for what joins it to the next (common practice, no source)
SHORTEST_FOLDED_MM, SHORTEST_FLAT_MM = 10.0, 1.0
#: formers of all bodies, stations of all surfaces
MOST_IN_ALL = 200

Measure = tuple[str, str, float]


def limit_refusals(inputs: Inputs) -> tuple[Refusal, ...]:
    """All sizes, places and counts beyond the limits."""
    return (
        *(one for surface in inputs.surfaces for one in _surface(surface)),
        *(one for body in inputs.bodies for one in _body(body)),
        *(one for motor in inputs.motors for one in _motor(motor)),
        *(one for servo in inputs.servos for one in _place(f"{servo.key}.at", servo.at)),
        *(
            one
            for dowel in inputs.dowels
            for i, at in enumerate(dowel.at)
            for one in _place(f"{dowel.key}.at[{i}]", at)
        ),
        *_in_all(inputs),
    )


def _surface(surface: Surface) -> Iterator[Refusal]:
    yield from _place(f"{surface.key}.at", surface.at)
    measures = [
        *((one.key, "the chord", one.chord_mm) for one in surface.stations),
        *((one.key, "the way back of the leading edge", abs(one.back_mm)) for one in surface.stations),
        *((one.key, "the way out to the tip", one.out_mm) for one in surface.stations),
    ]
    for what in dict.fromkeys(what for _, what, _ in measures):
        yield from _too_large([max((one for one in measures if one[1] == what), key=_size)])
    yield from _too_short(surface)


def _size(measure: Measure) -> float:
    return measure[2] if measure[2] == measure[2] else 0.0  # what was refused is no number


def _too_short(surface: Surface) -> Iterator[Refusal]:
    """The shortest panel, where it is too short; what lies the wrong way round is refused elsewhere."""
    folded = surface.build is Build.FOLDED
    least = SHORTEST_FOLDED_MM if folded else SHORTEST_FLAT_MM
    lengths = [(b.out_mm - a.out_mm, b.key) for a, b in pairwise(surface.stations)]
    short = [one for one in lengths if 0 < one[0] < least]
    if not short:
        return
    length, key = min(short, key=lambda one: round(one[0], 6))
    kind = "folded" if folded else "flat"
    if key == surface.key:
        text = (
            f"from root to tip it is {decimal_text(length, 3)} mm; a {kind} surface has {decimal_text(least)}"
            " mm or more: check the number, its unit and the scale"
        )
    else:
        text = (
            f"lies {decimal_text(length, 3)} mm farther out than the station before it; between two stations"
            f" a {kind} surface has {decimal_text(least)} mm or more: set them farther apart, or take one out"
        )
    yield Refusal(key=key, text=text)


def _body(body: Body) -> Iterator[Refusal]:
    yield from _too_large([(f"{body.key}.width", "the width", body.width_mm)])
    for one in body.side:
        for place in ((one.along_mm, one.bottom_mm), (one.along_mm, one.top_mm)):
            yield from _place(one.key, place)


def _motor(motor: Motor) -> Iterator[Refusal]:
    if motor.at_mm is not None:
        yield from _place(f"{motor.key}.at", motor.at_mm)
    wall, nacelle = motor.firewall, motor.nacelle
    measures = [
        (f"{motor.key}.ahead", "the way ahead", motor.ahead_mm),
        (f"{motor.key}.out", "the way out", motor.out_mm or 0.0),
        (f"{motor.key}.clearance", "the clearance", motor.clearance_mm or 0.0),
        (f"{motor.propeller.key}.diameter", "the diameter", motor.propeller.diameter_mm),
        (f"{wall.key}.width", "the width", wall.width_mm),
        (f"{wall.key}.height", "the height", wall.height_mm or 0.0),
        (f"{wall.key}.screws", "the circle of screws", wall.screws_mm or 0.0),
    ]
    if nacelle is not None:
        measures.append((f"{nacelle.key}.width", "the width", nacelle.width_mm))
        measures.append((f"{nacelle.key}.length", "the length", nacelle.length_mm))
    yield from _too_large(measures)


def _too_large(measures: Iterable[Measure]) -> Iterator[Refusal]:
    for key, what, mm in measures:
        if mm > MOST_MM:
            yield Refusal(
                key=key,
                text=f"{what} comes to {decimal_text(mm)} mm; at most {MOST_MM:,.0f} mm are read: check the"
                " number, its unit and the scale",
            )


def _place(key: str, at: Point) -> Iterator[Refusal]:
    far = [mm for mm in at if abs(mm) > FARTHEST_MM]
    if far:
        yield Refusal(
            key=key,
            text=f"{decimal_text(far[0])} mm is farther than {FARTHEST_MM:,.0f} mm from the nose: check the"
            " number, its unit and the scale",
        )


def _in_all(inputs: Inputs) -> Iterator[Refusal]:
    formers = sum(len(one.formers) for one in inputs.bodies)
    if formers > MOST_IN_ALL:
        yield Refusal(
            key="body", text=f"its bodies have {formers:,} formers in all; at most {MOST_IN_ALL} are read"
        )
    stations = sum(len(one.stations) for one in inputs.surfaces)
    if stations > MOST_IN_ALL:
        yield Refusal(
            key="surface",
            text=f"its surfaces have {stations:,} stations in all; at most {MOST_IN_ALL} are read",
        )
