"""Which face is drawn: a box of six panels, each with a mark of its own, looked at from outside.

Model axes: x aft, y to the right wing, z up.  Every panel is drawn on its outer face, so x cross y of
its place points out of the box.  Each panel has one spot whose place on the model is known beforehand.
"""

import pytest

from foamcut.flat.build import build_part
from foamcut.flat.drawn import Face, Hand, Place
from foamcut.flat.part import Part
from tests.strategies import KEY, mark, panel, rectangle

# the box: 200 mm long (x 0 to 200), 80 wide (y -40 to 40), 60 high (z 0 to 60)
LONG, WIDE, HIGH = 200.0, 80.0, 60.0

#: name: size of the panel; place of its (0, 0), its x and y on the model; the way out; a spot on the
#: panel and where a person who looks at the finished box finds it
PANELS = {
    "right side": ((LONG, HIGH), (200, 40, 0), (-1, 0, 0), (0, 0, 1), (0, 1, 0), (190, 5), (10, 40, 5)),
    "left side": ((LONG, HIGH), (0, -40, 0), (1, 0, 0), (0, 0, 1), (0, -1, 0), (10, 5), (10, -40, 5)),
    "top": ((LONG, WIDE), (0, -40, 60), (1, 0, 0), (0, 1, 0), (0, 0, 1), (20, 70), (20, 30, 60)),
    "bottom": ((LONG, WIDE), (0, 40, 0), (1, 0, 0), (0, -1, 0), (0, 0, -1), (30, 20), (30, 20, 0)),
    "nose": ((WIDE, HIGH), (0, 40, 0), (0, -1, 0), (0, 0, 1), (-1, 0, 0), (15, 50), (0, 25, 50)),
    "tail": ((WIDE, HIGH), (200, -40, 0), (0, 1, 0), (0, 0, 1), (1, 0, 0), (60, 40), (200, 20, 40)),
}


def on_model(place: Place, point):
    return tuple(a + point[0] * x + point[1] * y for a, x, y in zip(place.at, place.x, place.y, strict=True))


def out_of_face(place: Place):
    (ax, ay, az), (bx, by, bz) = place.x, place.y
    return ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx


def placed(name: str, pair: Hand = Hand.NONE) -> tuple[Part, ...]:
    size, at, x, y, _, spot, _ = PANELS[name]
    return build_part(
        panel(
            rectangle(*size),
            face=Face.OUTER,
            pair=pair,
            place=Place(key=f"{KEY}.place", at=at, x=x, y=y),
            marks=(mark(0, "circle", spot, diameter_mm=4.0, text=name, face=Face.OUTER),),
        )
    )[0]


@pytest.mark.parametrize("name", PANELS)
def test_each_mark_is_found_where_it_is_seen_from_outside(name):
    (part,) = placed(name)
    assert out_of_face(part.place) == PANELS[name][4]
    assert on_model(part.place, part.marks[0].drawn().prick_points[0]) == PANELS[name][6]


@pytest.mark.parametrize("name", PANELS)
def test_the_panel_covers_its_side_of_the_box(name):
    (part,) = placed(name)
    corners = [on_model(part.place, point) for point in part.outline.rings()[0][:-1]]
    assert len(set(corners)) == 4
    for x, y, z in corners:
        assert x in (0, 200) and y in (-40, 40) and z in (0, 60)
    flat = [axis for axis in range(3) if len({corner[axis] for corner in corners}) == 1]
    assert [abs(PANELS[name][4][axis]) for axis in flat] == [1]


@pytest.mark.parametrize("hand", [Hand.RIGHT, Hand.LEFT])
def test_the_other_side_of_a_pair_is_its_image_at_the_centre_plane(hand):
    """Either side drawn gives the other: same spot, y turned over, and still seen from outside."""
    name = f"{hand.value} side"
    right, left = placed(name, hand)
    assert (right.hand, left.hand) == (Hand.RIGHT, Hand.LEFT)
    assert out_of_face(right.place) == (0, 1, 0)
    assert out_of_face(left.place) == (0, -1, 0)
    spots = [on_model(part.place, part.marks[0].drawn().prick_points[0]) for part in (right, left)]
    assert spots == [(10, 40, 5), (10, -40, 5)]
    corners = [{on_model(p.place, q) for q in p.outline.rings()[0]} for p in (right, left)]
    assert {(x, -y, z) for x, y, z in corners[0]} == corners[1]


def test_arrows_point_to_the_nose_and_up():
    (side,) = placed("right side")
    assert side.place.fore() == (1, 0)
    assert side.place.up() == (0, 1)
    (top,) = placed("top")
    assert top.place.fore() == (-1, 0)
    assert top.place.up() == (0, 0)
