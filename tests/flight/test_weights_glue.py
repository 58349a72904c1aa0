"""How long glued edges are; what glue, tape and paint weigh and where they lie."""

from dataclasses import replace

import numpy as np
import pytest

from foamcut.airframe.values import Body, Dowel, Inputs, Material
from foamcut.flat.drawn import Face
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.values import Wishes
from foamcut.flight.weights_contact import contacts
from foamcut.flight.weights_cover import paint_items, tape_item
from foamcut.flight.weights_glue import glue_item, glued_lines
from foamcut.flight.weights_lines import Stretches, line
from tests.airframe import box_body
from tests.airframe.box_body import AFT, RIGHT, UP, drawn
from tests.flight import power_sample
from tests.flight.weights_sample import design_model, model_of
from tests.strategies import fold, readings, rectangle

T = 5.0
NAMED = Inputs(bodies=(), dowels=())


def lengths(*parts):
    """The glued length of each part's edges against the others, by name."""
    model = model_of(box_body.built(parts))
    found = contacts(model.standing, lambda one, other: True)
    return {one.part.name: lines.length_mm for one, lines in zip(model.standing, found, strict=True)}


def floor(name="floor", at=(0.0, 0.0, 0.0), size=(200.0, 100.0), **more):
    """Level, drawn face up at the height of `at`."""
    return drawn(name, rectangle(*size), at, AFT, RIGHT, **more)


def test_a_wall_on_a_floor_is_glued_along_its_foot():
    """Arithmetic: a wall of 80 by 40 stands across the middle of the floor; one bead, 80 long."""
    wall = drawn("wall", rectangle(80.0, 40.0), (100.0, 10.0, 0.0), RIGHT, UP)
    found = lengths(floor(), wall)
    assert found["wall"] == pytest.approx(80, abs=6)
    assert found["floor"] == 0


def test_two_boards_that_meet_at_a_corner_are_glued_once():
    """Arithmetic: a wall that stands beside the floor, its foot level with the floor's lower face: 200."""
    wall = drawn("wall", rectangle(200.0, 40.0), (0.0, -T, -T), AFT, UP)
    found = lengths(floor(), wall)
    assert found["floor"] == pytest.approx(200, abs=6)
    assert found["wall"] == 0


def test_a_strip_takes_one_bead_along_each_of_its_faces():
    """Arithmetic: half a bead along each long edge, 200; at each end half a bead of 20."""
    strip = floor("strip", at=(0.0, 40.0, T), size=(200.0, 20.0))
    assert lengths(floor(), strip)["strip"] == pytest.approx(200 + 20, abs=6)
    lid = floor("lid", at=(0.0, 0.0, 2 * T))
    found = lengths(floor(), strip, lid)
    assert found["strip"] == pytest.approx(2 * (200 + 20), abs=12)
    assert found["floor"] == found["lid"] == 0


def test_strips_of_one_size_on_each_other_are_glued_once_at_each_face():
    """Arithmetic: two strips between two boards have three faces that are glued: 3 x 220."""
    strips = [floor(f"strip-{i}", at=(0.0, 40.0, (i + 1) * T), size=(200.0, 20.0)) for i in range(2)]
    found = lengths(floor(), *strips, floor("lid", at=(0.0, 0.0, 3 * T)))
    assert sum(found.values()) == pytest.approx(3 * 220, abs=18)


def test_halves_that_meet_edge_to_edge_are_glued_once():
    """Arithmetic: two boards of 200 end to end, 100 wide."""
    found = lengths(floor(), floor("rear", at=(200.0, 0.0, 0.0)))
    assert sum(found.values()) == pytest.approx(100, abs=6)


def test_what_stands_off_is_not_glued():
    wall = drawn("wall", rectangle(80.0, 40.0), (100.0, 10.0, 3.0), RIGHT, UP)
    assert set(lengths(floor(), wall).values()) == {0.0}


def test_a_whole_box_is_glued_where_its_boards_meet():
    """Arithmetic: floor and deck along both sides, 4 x 200; each former along two sides, floor and deck.

    A former is 50 wide and 70 high; two tabs of 20 a former, glued on both faces, 4 x 20; the fit of their
    slots keeps the edge beside each tab off the side.
    """
    model = model_of(box_body.box_with())
    by_hand = 4 * 200 + 2 * (2 * 50 + 2 * (70 - 20)) + 2 * 4 * 20
    assert glued_lines(model).length_mm == pytest.approx(by_hand, rel=0.04)


def test_folds_that_are_closed_are_glued_and_hinges_taped():
    """Arithmetic: a groove of 100 across; a hinge of 100 across."""
    parts = box_body.built(
        [
            floor(folds=(fold(0, "groove", (60.0, 100.0), (60.0, 0.0), 90.0),)),
            floor("flap", at=(500.0, 0.0, 0.0), folds=(fold(0, "hinge", (150.0, 0.0), (150.0, 100.0), 0.0),)),
        ]
    )
    model = model_of(parts)
    assert glued_lines(model).length_mm == pytest.approx(100)
    tape = tape_item(model)
    assert tape.mass_g == pytest.approx(0.1 * ASSUMED["tape"].value) and tape.assumed == ("tape",)
    assert tape.at == pytest.approx((650, 50, -T / 2))
    assert tape.spread_mm2 == pytest.approx((0, 100**2 / 12, 0), rel=0.02)


def test_a_fold_that_is_drawn_past_the_board_is_glued_on_the_board():
    part = floor(folds=(fold(0, "groove", (60.0, 130.0), (60.0, -30.0), 90.0),))
    assert glued_lines(model_of(box_body.built([part]))).length_mm == pytest.approx(100)


def test_glue_is_as_long_as_its_lines_and_lies_where_they_do():
    """Arithmetic: 80 mm of glue at 6.7 g/m, or as the design gives it; at the foot of the wall."""
    wall = drawn("wall", rectangle(80.0, 40.0), (100.0, 10.0, 0.0), RIGHT, UP)
    model = model_of(box_body.built([floor(), wall]))
    metres = glued_lines(model).length_mm / 1000
    usual, given = glue_item(model, Wishes()), glue_item(model, Wishes(glue_g_m=10.0))
    row = ASSUMED["glue"]
    assert [usual.mass_g, usual.low_g, usual.high_g] == pytest.approx(
        [metres * row.value, metres * row.low, metres * row.high]
    )
    assert given.mass_g == given.low_g == given.high_g == pytest.approx(metres * 10)
    assert usual.assumed == ("glue",) and given.assumed == ()
    assert usual.at == pytest.approx((100 - T / 2, 50, 0), abs=3)
    assert usual.spread_mm2[1] == pytest.approx(80**2 / 12, rel=0.1)


def test_a_hatch_and_a_banded_wing_are_not_glued():
    """Of a sample: the same parts under other names are glued where they touch."""
    model = design_model("cordgrass-2.toml")
    plain = Inputs(surfaces=model.inputs.surfaces)
    banded = glued_lines(model).length_mm
    glued = glued_lines(type(model)(inputs=plain, cuts=model.cuts, standing=model.standing,
                                    stocks=model.stocks)).length_mm  # fmt: skip
    # the hatch between the sides, twice 168, and the saddle on both sides, about 200 each
    assert 500 < glued - banded < 1100


def test_the_glue_of_a_twin_is_what_its_sizes_say():
    """Arithmetic on the sizes of the sample: half a span 552, body 864 long, deck 408, nose doublers 168 x 73.

    Each half: nose, two grooves, rear edge of the skin, three faces of two strips.  Floor and deck on both
    sides; of four formers about 0.2 m each; nose doublers half of what goes round them; then joints, motor
    mounts, horns, of which about 2.5 m are left to the tolerance.
    """
    halves = 2 * 552 * (1 + 2 + 1 + 3)
    body = 2 * 864 + 2 * 408 + 4 * 200 + 2 * (168 + 73)
    by_hand = halves + body
    assert by_hand < glued_lines(design_model("cordgrass-2.toml")).length_mm < by_hand + 4000


def test_nothing_is_glued_taped_or_painted_on_a_model_of_nothing():
    model = model_of([])
    assert glue_item(model, Wishes(glue_g_m=5.0)) is None
    assert tape_item(model) is None
    assert paint_items(model, Wishes(paint_g_m2=60.0)) == ()


def test_no_glue_is_told_of_a_single_board():
    assert glue_item(model_of(box_body.built([floor()])), Wishes()) is None


# ---- paint


def test_paint_covers_one_face_of_a_body_and_both_of_a_flat_surface():
    """Arithmetic: 200 x 100, 60 g/m2: 1.2 g a face; formers and strips (either face) have none."""
    shown = floor(face=Face.INNER)
    tail = floor("tail", at=(600.0, 0.0, 0.0), face=Face.OUTER)
    strip = floor("strip", at=(0.0, 0.0, 50.0), face=Face.EITHER)
    model = model_of(box_body.built([shown, tail, strip]))
    (paint,) = paint_items(model, Wishes(paint_g_m2=60.0))
    assert paint.mass_g == pytest.approx(3 * 0.02 * 60)
    assert paint.at == pytest.approx(((100 + 2 * 700) / 3, 50, -T / 2))
    assert paint_items(model, Wishes()) == ()
    assert paint_items(model, Wishes(paint_g_m2=0.0)) == ()


def test_a_folded_part_drawn_on_its_outside_shows_one_face():
    folded = floor(face=Face.OUTER, folds=(fold(0, "groove", (60.0, 100.0), (60.0, 0.0), 90.0),))
    (paint,) = paint_items(model_of(box_body.built([folded])), Wishes(paint_g_m2=60.0))
    assert paint.mass_g == pytest.approx(0.02 * 60)


def test_boards_of_a_motor_mount_show_one_face():
    """One hand of a pair is drawn on its outside, the other on its inside; within is the motor."""
    motors = power_sample.pair().motors
    cheek = replace(floor(face=Face.OUTER), key=f"{motors[0].key}.nacelle")
    model = model_of(box_body.built([cheek]), inputs=Inputs(motors=motors))
    (paint,) = paint_items(model, Wishes(paint_g_m2=60.0))
    assert paint.mass_g == pytest.approx(0.02 * 60)


def test_a_nose_doubler_is_inside():
    material = Material(name="board", thickness_mm=T, boards_mm=(), fit_mm=0.0)
    hull = Body(key="body.hull", name="hull", material=material, width_mm=60.0, side=())
    model = model_of(box_body.built([floor("hull-doubler")]), inputs=Inputs(bodies=(hull,)))
    assert paint_items(model, Wishes(paint_g_m2=60.0)) == ()


def test_paint_on_a_part_without_a_place_counts_for_the_weight():
    part = floor()
    part = type(part)(**{name: getattr(part, name) for name in part.__slots__} | {"place": None})
    (paint,) = paint_items(model_of(box_body.built([part])), Wishes(paint_g_m2=60.0))
    assert paint.at is None and paint.mass_g == pytest.approx(1.2)


# ---- lines


def test_a_line_is_parted_into_stretches_that_sum_to_it():
    """Arithmetic: an L of 30 and 40; a point has no length."""
    found = line([(0, 0), (30, 0), (30, 40)])
    assert found.length_mm == pytest.approx(70) and len(found.lengths) == 7
    assert found.middles[0].tolist() == pytest.approx([5, 0])
    assert line([(1, 2), (1, 2)]).length_mm == 0
    endless = line([(0, 0), (1e6, 0)])
    assert endless.length_mm == pytest.approx(1e6) and len(endless.lengths) == 2000
    assert Stretches.of(()).length_mm == 0


def test_what_has_no_length_has_no_middle():
    with pytest.raises(ValueError, match="no middle"):
        Stretches(np.zeros((0, 3)), np.zeros(0)).middle()


def test_dowels_alone_make_no_wing_banded():
    """No wing in the inputs: every touching pair is glued."""
    wall = drawn("wall", readings((0, 0), (80, 0), (80, 40), (0, 40)), (100.0, 10.0, 0.0), RIGHT, UP)
    dowel = Dowel(key="dowel[0]", on="hull", at=((1.0, 1.0),), diameter_mm=6.0, proud_mm=12.0)
    parts = box_body.built([floor(), wall])
    with_dowel = glued_lines(model_of(parts, inputs=Inputs(dowels=(dowel,))))
    assert with_dowel.length_mm == glued_lines(model_of(parts, inputs=NAMED)).length_mm > 0
