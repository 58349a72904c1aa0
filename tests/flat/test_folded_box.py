"""A box with unlike marks, folded from one sheet, against the same box of separately placed panels.

Model axes: x aft, y to the right wing, z up.  The floor is drawn on its inner face, seen from above, so that
what is drawn comes to lie inside; the box of separate panels is drawn on its outer faces.  Each panel has one
spot whose place on the finished box is known beforehand, seen from outside.
"""

import numpy as np
import pytest
import shapely

from foamcut.flat.build import build_part
from foamcut.flat.drawn import Face, Hand, Place, Side
from foamcut.flat.folded_check import fold_findings
from foamcut.flat.panels import Folded, fold_up
from foamcut.flat.part import Part
from foamcut.flat.solids import solid
from tests.flat.test_faces import HIGH, LONG, PANELS, WIDE, on_model, out_of_face, placed
from tests.strategies import KEY, fold, mark, panel, readings

T = 5.0

#: where the floor's (0, 0) sits; its inner face lies a board's thickness above the box's bottom
FLOOR = Place(key=f"{KEY}.place", at=(0.0, -WIDE / 2, T), x=(1.0, 0.0, 0.0), y=(0.0, 1.0, 0.0))
#: the same seen from below on the outer face: x still aft, y to the left
FLOOR_BELOW = Place(key=f"{KEY}.place", at=(0.0, WIDE / 2, 0.0), x=(1.0, 0.0, 0.0), y=(0.0, -1.0, 0.0))

#: name: the spot on the sheet (inner face up, floor from 0, 0, right side above it); None: no such panel
SPOTS = {
    "right side": (10.0, WIDE + 5.0),
    "left side": (10.0, -5.0),
    "top": (20.0, WIDE + HIGH + 10.0),  # hangs on the right side
    "bottom": (30.0, 60.0),
    "nose": (-50.0, 65.0),
    "tail": (LONG + 40.0, 60.0),
}


def box(side: Side = Side.UP) -> Part:
    """The box from one sheet; `side` down: drawn on the outer face, the cut one behind (y mirrored)."""
    b = {"bevel_deg" if side is Side.UP else "bevel_back_deg": 45.0}
    rows = [
        (0, 0, b), (0, -HIGH, b), (LONG, -HIGH, b), (LONG, 0, b),
        (LONG + HIGH, 0, b), (LONG + HIGH, WIDE, b), (LONG, WIDE, b),
        (LONG, WIDE + HIGH, b), (LONG, WIDE + HIGH + WIDE, b), (0, WIDE + HIGH + WIDE, b), (0, WIDE + HIGH, b),
        (0, WIDE, b), (-HIGH, WIDE, b), (-HIGH, 0, b),
    ]  # fmt: skip
    folds = [  # the panel that hangs on the floor lies to the left of its line
        ((LONG, 0.0), (0.0, 0.0)),
        ((LONG, WIDE), (LONG, 0.0)),
        ((0.0, WIDE), (LONG, WIDE)),
        ((0.0, 0.0), (0.0, WIDE)),
        ((0.0, WIDE + HIGH), (LONG, WIDE + HIGH)),
    ]
    spots = dict(SPOTS)
    if side is Side.DOWN:
        rows = [(x, WIDE - y, said) for x, y, said in rows[::-1]]
        folds = [((bx, WIDE - by), (ax, WIDE - ay)) for (ax, ay), (bx, by) in folds]
        spots = {name: (x, WIDE - y) for name, (x, y) in spots.items()}
    # a mark for the face behind is drawn too: it is pricked through
    face = Face.INNER if side is Side.UP else Face.OUTER
    drawn = panel(
        readings(*rows),
        face=face,
        folds=tuple(fold(i, "groove", *ends, 90.0, side=side) for i, ends in enumerate(folds)),
        marks=tuple(
            mark(i, "circle", spot, diameter_mm=4.0, text=name, face=Face.OUTER)
            for i, (name, spot) in enumerate(spots.items())
        ),
        place=FLOOR if side is Side.UP else FLOOR_BELOW,
    )
    return build_part(drawn)[0][0]


def spots_on_model(folded: Folded, height: float) -> dict[str, tuple[float, ...]]:
    """Where each mark comes to lie on the model, on the drawn face or (`height` -t) the one behind."""
    place = folded.part.place
    axes = np.column_stack([place.x, place.y, out_of_face(place)])
    found = {}
    for one in folded.part.marks:
        spot = one.drawn().prick_points[0]
        (home,) = [p for p in folded.panels if p.outline.polygon.distance(shapely.Point(spot)) < 1e-6]
        in_space = np.array(home.pose.point(*spot, height))
        found[one.text] = tuple(np.round(np.array(place.at) + axes @ in_space, 6) + 0.0)
    return found


@pytest.mark.parametrize("side", Side)
def test_the_folded_box_has_its_marks_where_the_placed_panels_have_theirs(side):
    """Seen from outside each spot is where that of the separately placed panel is."""
    folded = fold_up(box(side))
    outer = -T if side is Side.UP else 0.0
    found = spots_on_model(folded, outer)
    for name in PANELS:
        (alone,) = placed(name)
        expected = on_model(alone.place, alone.marks[0].drawn().prick_points[0])
        assert expected == PANELS[name][6]
        assert found[name] == pytest.approx(expected, abs=1e-6), name


@pytest.mark.parametrize("side", Side)
def test_every_drawn_face_looks_the_way_it_should(side):
    """Drawn inside, all drawn faces look into the box; drawn outside, they look as the placed panels do."""
    part = box(side)
    folded = fold_up(part)
    axes = np.column_stack([part.place.x, part.place.y, out_of_face(part.place)])
    spots = {one.text: one.drawn().prick_points[0] for one in part.marks}
    for name, spot in spots.items():
        (home,) = [p for p in folded.panels if p.outline.polygon.distance(shapely.Point(spot)) < 1e-6]
        looks = axes @ np.cross(home.pose.x, home.pose.y)
        outwards = np.array(PANELS[name][4], dtype=float)
        assert looks == pytest.approx(-outwards if side is Side.UP else outwards, abs=1e-9), name


@pytest.mark.parametrize("side", Side)
def test_the_folded_box_fills_its_sides(side):
    """Its solids reach from side to side of the placed box, and nothing in it clashes or gapes."""
    part = box(side)
    place = part.place
    axes = np.column_stack([place.x, place.y, out_of_face(place)])
    corners = np.concatenate(
        [np.asarray(solid(part, p).to_mesh64().vert_properties)[:, :3] for p in fold_up(part).panels]
    )
    on_it = corners @ axes.T + np.array(place.at)
    assert on_it.min(axis=0) == pytest.approx([0.0, -WIDE / 2, 0.0], abs=1e-6)
    assert on_it.max(axis=0) == pytest.approx([LONG, WIDE / 2, HIGH], abs=1e-6)
    assert fold_findings(part) == ()


def test_the_other_hand_folds_to_the_image_at_the_centre_plane():
    """A bent side of a pair: what is at y on the right is at -y on the left, and both are seen from outside."""
    place = Place(key=f"{KEY}.place", at=(0.0, WIDE / 2 - T, 0.0), x=(1.0, 0.0, 0.0), y=(0.0, 0.0, 1.0))
    drawn = panel(
        readings((0, 0), (LONG, 0), (LONG, HIGH), (0, HIGH)),
        pair=Hand.RIGHT,
        face=Face.INNER,
        folds=(fold(0, "groove", (150.0, HIGH + 1), (150.0, -1.0), 30.0),),
        marks=(mark(0, "circle", (180.0, 20.0), diameter_mm=4.0, text="tail end", face=Face.OUTER),),
        place=place,
    )
    right, left = build_part(drawn)[0]
    # the side's inner face looks to the left, where its tail end turns to: 30 mm aft of the fold
    found = [spots_on_model(fold_up(part), -T)["tail end"] for part in (right, left)]
    aft, inwards = 30.0 * np.cos(np.radians(30.0)), 30.0 * np.sin(np.radians(30.0))
    assert found[0] == pytest.approx((150.0 + aft, WIDE / 2 - inwards, 20.0), abs=1e-6)
    assert found[1] == pytest.approx((150.0 + aft, -WIDE / 2 + inwards, 20.0), abs=1e-6)
