"""Pictures of what each step adds."""

import pytest
from shapely import LineString, Polygon, box

from foamcut.draw.balance_words import PLAIN_MM
from foamcut.draw.picture import PENS, Ink, Picture
from foamcut.draw.view_picture import StepViews, areas
from foamcut.draw.views import FRONT, SIDE
from tests.draw.balance_checks import box_of, of
from tests.draw.view_solids import block, meshes_of

BODY = block("body", (0, 0, 0), (400, 60, 60))
INSIDE = block("inside", (100, 10, 10), (200, 50, 50))
FIN = block("fin", (350, 28, 60), (400, 32, 160))


def picture(views: StepViews, shown, added=()) -> Picture:
    return views.picture("step-1", "Step 1", "What it adds", shown, added)


def inside_its_field(one: Picture) -> bool:
    field = box(0, 0, one.width_mm, one.height_mm)
    widest = max(pen.width_mm for pen in PENS.values())
    return all(field.buffer(-widest / 2).contains(LineString(shape.points)) for shape in one.shapes)


def test_what_is_added_is_filled_and_thick_the_rest_thin():
    one = picture(StepViews([BODY, INSIDE, FIN]), ["body"], ["fin"])
    (filled,) = of(one, Ink.ADDED)
    assert filled.closed
    thick = Polygon(of(one, Ink.ADDED)[0].points).buffer(0.5)
    assert all(thick.covers(LineString(shape.points)) for shape in of(one, Ink.EDGE))
    assert of(one, Ink.CREASE)
    assert of(one, Ink.HIDDEN) == []
    assert inside_its_field(one)


def test_what_is_added_inside_is_dashed_and_can_be_found():
    one = picture(StepViews([BODY, INSIDE, FIN]), ["body"], ["inside"])
    assert of(one, Ink.ADDED) == of(one, Ink.EDGE) == []
    points = [point for shape in of(one, Ink.HIDDEN) for point in shape.points]
    assert len(points) >= 7
    assert inside_its_field(one)


def test_with_nothing_added_all_edges_are_thick():
    one = picture(StepViews([BODY, FIN]), ["body", "fin"])
    assert len(of(one, Ink.EDGE)) >= 2
    assert of(one, Ink.ADDED) == []


@pytest.mark.parametrize("box_mm", [(170.0, 110.0), (60.0, 200.0), (30.0, 20.0)])
def test_pictures_fit_their_box_and_use_it(box_mm):
    one = picture(StepViews([BODY, FIN], box_mm=box_mm), ["body"], ["fin"])
    assert one.width_mm == box_mm[0]
    assert one.height_mm <= box_mm[1] + 15.1
    xs = [x for shape in of(one, Ink.CREASE) + of(one, Ink.EDGE) for x, _ in shape.points]
    ys = [y for shape in of(one, Ink.CREASE) + of(one, Ink.EDGE) for _, y in shape.points]
    filled = (max(xs) - min(xs)) / (box_mm[0] - 6), (max(ys) - min(ys)) / (box_mm[1] - 6)
    assert max(filled) == pytest.approx(1, abs=0.01)
    assert inside_its_field(one)


def test_nothing_is_drawn_larger_than_it_is():
    peg = block("peg", (0, 0, 0), (20, 4, 4))
    one = picture(StepViews([peg], look=SIDE), [], ["peg"])
    xs = [x for shape in of(one, Ink.EDGE) for x, _ in shape.points]
    assert max(xs) - min(xs) == pytest.approx(20)


def test_parts_without_a_place_are_left_out_and_told_of():
    views = StepViews([BODY])
    assert views.draws(["cover", "body"])
    assert not views.draws(["cover"])
    one = picture(views, [], ["cover"])
    assert one.shapes == ()
    assert "nothing to draw" in one.texts[0].text
    assert picture(StepViews([]), ["cover"]).shapes == ()
    both = picture(views, ["body"], ["cover"])
    assert of(both, Ink.EDGE) == []
    assert of(both, Ink.CREASE)


def test_the_arrow_points_to_the_nose_and_lies_on_nothing():
    for look, shown in ((SIDE, True), (FRONT, False)):
        one = picture(StepViews([BODY, FIN], look=look), ["body"], ["fin"])
        assert [text.text for text in one.texts] == (["nose"] if shown else [])
        if shown:
            (shaft,), (head,) = of(one, Ink.AXIS), of(one, Ink.SOLID)
            assert head.points[0][0] < shaft.points[0][0]
            words = box_of(one.texts[0]).buffer(PLAIN_MM / 4)
            drawn = [s for s in one.shapes if s.ink in (Ink.CREASE, Ink.EDGE)]
            assert not any(LineString(s.points).intersects(words) for s in drawn)


def test_rings_with_holes_become_rings_that_cover_the_same():
    outer = ((0, 0), (30, 0), (30, 30), (0, 30))
    holes = (((5, 5), (5, 10), (10, 10), (10, 5)), ((20, 20), (20, 25), (25, 25), (25, 20)))
    other = ((40, 0), (50, 0), (50, 10))
    joined = list(areas((outer, holes[0], holes[1], other)))
    assert len(joined) == 2
    pairs = zip(joined[0], (*joined[0][1:], joined[0][0]), strict=True)
    assert sum(a[0] * b[1] - a[1] * b[0] for a, b in pairs) / 2 == pytest.approx(900 - 50)


@pytest.mark.parametrize("name", ["cordgrass-2", "glasswort-1", "thrift-1", "sea-blite-3", "samphire-1"])
def test_every_part_of_a_sample_can_be_seen_or_found(name):
    meshes = meshes_of(name)
    views = StepViews(meshes)
    names = [one.name for one in meshes]
    for part in names:
        one = picture(views, names, [part])
        assert of(one, Ink.EDGE) or of(one, Ink.HIDDEN) or of(one, Ink.ADDED), part
        assert inside_its_field(one)


def test_the_same_steps_give_the_same_picture_whatever_was_drawn_before():
    meshes = meshes_of("samphire-1")
    fresh = picture(StepViews(meshes), ["hull"], ["deck"])
    used = StepViews(meshes)
    picture(used, ["deck"], ["hull"])
    assert picture(used, ["hull"], ["deck"]) == fresh
