"""Random bodies: parts that can be cut and that fit, or refusals; never an error."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from foamcut.airframe.assembly import fit_findings
from foamcut.airframe.body import body_parts
from foamcut.airframe.values import BodyBuild, Corners
from foamcut.flat.build import build_part, check_fits
from tests.airframe.body_sample import PLY, bare, dowels, former, plain, servo, tail, wing
from tests.fuzz.random_airframes import random_airframe


@st.composite
def bodies(draw):
    """A body of two to six readings with some of everything, and what it carries."""
    number = lambda low, high: round(draw(st.floats(low, high)), 2)  # noqa: E731
    maybe = lambda value: value if draw(st.booleans()) else None  # noqa: E731
    straight, slope, middle = draw(st.booleans()), number(-0.05, 0.05), number(25, 45)
    rows, x = [], 0.0
    for _ in range(draw(st.integers(2, 6))):
        low = slope * x if straight else middle - number(4, 45)
        rows.append((x, low, max(low, middle + number(4, 60))))
        x = round(x + number(8, 350), 2)
    long = rows[-1][0]
    spans = sorted(number(0, long) for _ in range(4))
    one = plain(
        tuple(rows),
        width_mm=number(20, 120),
        corners=draw(st.sampled_from(Corners)),
        build=BodyBuild.TROUGH if straight and draw(st.booleans()) else BodyBuild.BOX,
        formers=tuple(
            former(i, number(0, long), material=maybe(PLY)) for i in range(draw(st.integers(0, 3)))
        ),
        hatch_mm=maybe((spans[0], spans[1])),
        deck_mm=maybe((spans[2], spans[3])),
        nose_doubler_mm=maybe((0.0, number(0, long))),
        straps_mm=maybe((number(0, long),)) or (),
        cooling_in_mm=maybe((number(0, long), number(2, 15))),
        pushrods_mm=maybe(((number(0, long), middle),)) or (),
    )
    surfaces = [
        maybe(wing(at=(number(-100, long), number(-20, 100)), angle_deg=number(-3, 5))),
        maybe(tail(at=(number(-50, long), number(-20, 100)))),
    ]
    return bare(
        one,
        surfaces=tuple(surface for surface in surfaces if surface is not None),
        dowels=maybe(dowels((number(0, long), middle))) or (),
        servos=maybe(
            (
                servo(
                    draw(st.sampled_from(["side", "floor", "deck", "hatch", "former-1"])),
                    (number(0, long), 0.0),
                ),
            )
        )
        or (),
    )


@given(bodies())
def test_every_body_gives_parts_that_can_be_cut_or_says_why_not(inputs):
    made = body_parts(inputs.bodies[0], inputs)
    assert made.parts or made.refusals
    assert all(refusal.key and refusal.text for refusal in made.refusals)
    if not made.refusals:
        for part in made.parts:
            build_part(part)


@given(st.integers(0, 10**6), st.sampled_from(Corners))
def test_bodies_of_random_aeroplanes_fit(seed, corners):
    """arithmetic in space: former against side, tab in slot, part against part."""
    inputs, _ = random_airframe(seed)
    one = replace(inputs.bodies[0], corners=corners)
    inputs = bare(one, surfaces=tuple(s for s in inputs.surfaces if s.name == "tail"))
    made = body_parts(one, inputs)
    if made.refusals:
        return
    parts = [part for drawn in made.parts for part in build_part(drawn)[0]]
    assert check_fits(parts) == ()
    assert fit_findings(parts, made.shells, bare(one)) == ()
