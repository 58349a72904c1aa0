"""What pieces weigh and where they lie."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
import trimesh

from foamcut.airframe.airframe import airframe_parts
from foamcut.airframe.model import assembled
from foamcut.flat.build import build_part
from foamcut.flat.drawn import Hand
from foamcut.flat.outline import Outline
from foamcut.flat.way import Piece, Role
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.values import Cut, Model, WeighedPart
from foamcut.flight.weights_lie import bits_of, lies
from foamcut.flight.weights_pieces import piece_items
from foamcut.flight.weights_stock import areal, row_of
from tests.airframe import box_body
from tests.flight.weights_sample import BOARD, G_MM2, design_model, model_of, place, stock
from tests.fuzz.random_airframes import random_airframe
from tests.strategies import fold, panel, rectangle

TWIN, GLIDER, WING = "cordgrass-2.toml", "thrift-1.toml", "sea-blite-3.toml"


def part_of(shape=None, *, folds=(), **more):
    parts = build_part(panel(shape or rectangle(100.0, 60.0), folds=folds, **more))[0]
    return parts[0]


def items_of(model, *weighed):
    return piece_items(model, weighed)[0]


def codes(model, *weighed):
    return [one.code for one in piece_items(model, weighed)[1]]


def test_a_flat_part_lies_with_its_middle_half_a_board_behind_its_drawn_face():
    """Arithmetic: x aft, y right, so that the drawn face looks up and the board lies under it."""
    (item,) = items_of(model_of([part_of(place=place((500.0, 20.0, 80.0)))]))
    assert item.mass_g == pytest.approx(6000 * G_MM2) == pytest.approx(2.4)
    assert (item.low_g, item.high_g) == (item.mass_g, item.mass_g)
    assert item.at == pytest.approx((550, 50, 77.5))
    assert item.spread_mm2 == pytest.approx((100**2 / 12, 60**2 / 12, 5**2 / 12))


def test_a_part_turned_on_the_model_spreads_along_the_axes_of_the_model():
    """Arithmetic: up the model runs the part's x, 100 long; aft its y, turned by the sine and cosine."""
    way = (0.6, -0.8, 0.0)
    (item,) = items_of(model_of([part_of(place=place(x=(0.0, 0.0, 1.0), y=way))]))
    out = np.cross((0, 0, 1), way)
    assert item.at == pytest.approx(np.array((0, 0, 50)) + 30 * np.array(way) - 2.5 * out)
    wide, thick = 60**2 / 12, 25 / 12
    assert item.spread_mm2 == pytest.approx(
        (0.36 * wide + 0.64 * thick, 0.64 * wide + 0.36 * thick, 100**2 / 12)
    )


def test_a_folded_part_lies_where_its_panels_do():
    """Arithmetic: an angle of 60 and 40 by 60, whose drawn paper turns up square at x = 60.

    The groove is on the drawn face, so that the paper behind turns, 5 mm lower: the flap of 40 stands up from
    there with its drawn face forward, at x 57.5 in the middle of its board, from z -5 up to 35.
    """
    one = part_of(folds=[fold(0, "groove", (60.0, 60.0), (60.0, 0.0), 90.0)], place=place((0.0, 0.0, 0.0)))
    model = model_of([one])
    (item,) = items_of(model)
    flap = model.standing[0].boards[1]
    assert flap.box.round(6).tolist() == [[55, 0, -5], [60, 60, 35]]
    assert item.mass_g == pytest.approx(2.4)
    assert item.at == pytest.approx((0.6 * 30 + 0.4 * 57.5, 30, 0.6 * -2.5 + 0.4 * 15))


def test_a_box_body_lies_as_drawn_and_its_pair_on_both_sides():
    """Arithmetic: 200 long, 60 wide, 80 high outside; the sides outermost, floor below, deck above."""
    parts = box_body.box_with()
    items = {item.name: item for item in items_of(model_of(parts))}
    middle = box_body.INSIDE + box_body.T / 2
    # of a side two slots are cut out, at 52.5 and 152.5
    cut = sum(slot.outline.area for slot in parts[0].slots)
    along = (200 * 80 * 100 - cut * 102.5) / (200 * 80 - cut)
    assert items["side-right"].at == pytest.approx((along, middle, 40))
    assert items["side-left"].at == pytest.approx((along, -middle, 40))
    assert items["floor"].at == pytest.approx((100, 0, 2.5))
    assert items["deck"].at == pytest.approx((100, 0, 77.5))
    assert items["former-1"].at == pytest.approx((52.5, 0, 40))
    assert items["floor"].mass_g == pytest.approx(200 * 50 * G_MM2)


@pytest.mark.parametrize("name", [TWIN, GLIDER, WING])
def test_nothing_of_a_piece_is_lost_or_counted_twice(name):
    model = design_model(name)
    for cut in model.cuts:
        bits = bits_of(cut.piece, model.stands(cut.piece.part.name))
        assert sum(bit.shape.area for bit in bits) == pytest.approx(cut.piece.outline.area, rel=1e-7)


@pytest.mark.parametrize("name", [TWIN, GLIDER, WING])
def test_masses_are_those_of_another_program(name):
    """trimesh: the volume of each polygon drawn out to its thickness, by the mass of its sheet by volume."""
    model = design_model(name)
    expected = 0.0
    for cut in model.cuts:
        sheet = model.stocks[cut.piece.flat.stock]
        size = sheet.sheets[0]
        dense = size.mass_g / (size.width_mm * size.height_mm * sheet.thickness_mm)
        body = trimesh.creation.extrude_polygon(cut.piece.outline.polygon, sheet.thickness_mm)
        expected += abs(body.volume) * dense * cut.count
    assert sum(item.mass_g for item in items_of(model)) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("name", [TWIN, GLIDER, WING])
def test_unfolded_parts_lie_where_another_program_finds_their_bodies(name):
    """trimesh: the middle and the inertia of each closed body on the model; bevels are none of ours."""
    model = design_model(name)
    looked_at = 0
    for cut in model.cuts:
        stands = model.stands(cut.piece.part.name)
        if cut.piece.role is not Role.WHOLE or len(stands.bodies) > 1 or stands.bent or cut.piece.part.bevels:
            continue
        (lie,) = lies([bits_of(cut.piece, stands)])
        body = trimesh.Trimesh(*stands.triangles, process=False)
        assert lie.at == pytest.approx(body.center_mass.tolist(), abs=1e-3), cut.piece.flat.name
        inertia = np.diag(body.moment_inertia) / body.volume
        spread = np.array(lie.spread_mm2)
        assert spread.sum() - spread == pytest.approx(inertia, rel=1e-4, abs=1e-3)
        looked_at += 1
    assert looked_at > 10


@pytest.mark.parametrize("name", [TWIN, GLIDER, WING, "glasswort-1.toml"])
def test_skins_lie_as_their_outer_paper_does_for_another_program(name):
    """trimesh: the middle of the outer paper of the closed skin, half a board farther in or out at most.

    The 3 mm that are left to be trimmed at the rear, openings and the board's thickness make the rest.
    """
    model = design_model(name)
    skins = [cut for cut in model.cuts if "-skin-" in cut.piece.part.name]
    assert len(skins) == 2
    for cut in skins:
        stands = model.stands(cut.piece.part.name)
        (lie,) = lies([bits_of(cut.piece, stands)])
        assert np.abs(np.array(lie.at) - paper_middle(stands)).max() < 1.0


def paper_middle(stands):
    """trimesh: the middle of the outer paper by its area."""
    points = stands.bent.grid.outer
    index = np.arange(points.shape[0] * points.shape[1]).reshape(points.shape[:2])
    a, b, c, d = (i.ravel() for i in (index[:-1, :-1], index[1:, :-1], index[1:, 1:], index[:-1, 1:]))
    faces = np.concatenate([np.column_stack([a, b, c]), np.column_stack([a, c, d])])
    return trimesh.Trimesh(points.reshape(-1, 3), faces, process=False).centroid


@pytest.mark.parametrize("seed", [0, 62, 115])
def test_skins_that_are_bent_without_scores_lie_along_their_bend(seed):
    """Random wings of several panels, rolled at the nose or of two skins: 17 mm off where a bend is left out."""
    inputs, _ = random_airframe(seed)
    made = airframe_parts(inputs)
    assert not made.refusals
    parts = [part for one in made.parts for part in build_part(one)[0]]
    skins = [one for one in assembled(parts, made.shells) if one.bent and "-skin-" in one.part.name]
    assert any(one.facets for one in skins)
    for stands in skins:
        bits = bits_of(Piece.whole(stands.part), stands)
        assert sum(bit.shape.area for bit in bits) == pytest.approx(stands.part.outline.area, rel=1e-6)
        (lie,) = lies([bits])
        assert np.abs(np.array(lie.at) - paper_middle(stands)).max() < 4.0, stands.part.name


def test_both_hands_lie_alike():
    model = design_model(TWIN)
    each = dict(zip([cut.piece.flat.name for cut in model.cuts], items_of(model), strict=True))
    for name in ("wing-skin", "wing-spar-2", "motor-wing-cheek-inner"):
        right, left = each[f"{name}-right"], each[f"{name}-left"]
        assert left.at == pytest.approx((right.at[0], -right.at[1], right.at[2]), abs=1e-6)
        assert left.mass_g == pytest.approx(right.mass_g)


def test_sections_lie_as_the_whole_does_and_doublers_on_the_drawn_face():
    model = design_model(TWIN)
    for name, way in (("fuselage-side-right", -1.0), ("fuselage-side-left", 1.0)):
        stands = model.stands(name)
        ours = [cut.piece for cut in model.cuts if cut.piece.part.name == name]
        bits = [bits_of(one, stands) for one in ours]
        sections = [bit for one, several in zip(ours, bits, strict=True)
                    for bit in several if one.role is Role.SECTION]  # fmt: skip
        (whole,), (joined,) = lies([bits_of(Piece.whole(stands.part), stands)]), lies([sections])
        assert joined.at == pytest.approx(whole.at, abs=1e-4)
        (doubler,) = lies([bits[-1]])
        # drawn on its inner face: half of it and half of the side nearer to the middle
        assert doubler.at[1] == pytest.approx(whole.at[1] + way * 5.0)


def test_copies_weigh_together_where_their_part_stands():
    (item,) = items_of(model_of([part_of(count=3, place=place())]))
    assert item.mass_g == pytest.approx(3 * 2.4)
    assert item.name == "3 x panel"


def test_a_part_without_a_place_counts_for_the_weight_alone():
    (item,), findings = piece_items(model_of([part_of(name="scoop", key="parts.scoop", place=None)]), ())
    assert item.at is None and item.mass_g == pytest.approx(2.4)
    assert findings == ()


# ---- stocks


def test_sizes_that_were_weighed_give_their_mean_by_area_and_their_range():
    """Arithmetic: 400 g and 500 g a square metre, the third not weighed."""
    found = areal(stock("board", "foam board", 400.0, None, 500.0))
    assert [found.g_mm2 * 1e6, found.low * 1e6, found.high * 1e6] == pytest.approx([450, 400, 500])
    assert not found.assumed


@pytest.mark.parametrize(
    ("material", "row"),
    [
        ("paper-faced foam board", "foam_board"), ("Foamboard", "foam_board"), ("foam core", "foam_board"),
        ("birch plywood", "plywood"), ("PLY", "plywood"), ("aircraft ply", "plywood"),
        ("poplar plywood", "light_plywood"), ("plywood, poplar", "light_plywood"),
        ("light ply", "light_plywood"), ("EPS sheet", "eps"), ("expanded polystyrene", "eps"),
        ("extruded polystyrene", "xps"), ("XPS", "xps"), ("balsa", "balsa"), ("card", "card"),
        ("expanded polypropylene", None), ("corrugated card", None), ("cardinal felt", None),
        ("multiply coated", None), ("", None),
    ],
)  # fmt: skip
def test_a_material_is_known_by_its_words(material, row):
    assert row_of(material) == row


def test_a_stock_that_was_not_weighed_is_assumed_and_told_of_once():
    """Arithmetic: kg/m3 x mm is g/m2; 94 x 5 is 470."""
    model = model_of([part_of(place=place())] * 2, (stock("board", "foam board", None),))
    items, (finding,) = piece_items(model, ())
    usual = ASSUMED["foam_board"]
    assert items[0].mass_g == pytest.approx(6000 * usual.value * 5 / 1e6)
    assert items[0].low_g == pytest.approx(6000 * usual.low * 5 / 1e6)
    assert items[0].high_g == pytest.approx(6000 * usual.high * 5 / 1e6)
    assert items[0].assumed == ("foam_board",)
    assert finding.code == "mass-assumed" and finding.where == "stock.board.sheets[0].mass"
    assert finding.value == "470 g/m2" and "310 to 625 g" in finding.mend


def test_a_stock_that_nothing_is_known_of_is_left_out_and_named():
    model = model_of([part_of(place=place())], (stock("board", "expanded polypropylene", None),))
    items, (finding,) = piece_items(model, ())
    assert items == ()
    assert finding.code == "mass-missing" and "0.6 dm2" in finding.text


# ---- what was weighed


def test_a_weighed_part_weighs_what_the_scales_say_each_hand_of_a_pair():
    parts = build_part(panel(rectangle(100.0, 60.0), name="side", pair=Hand.RIGHT, place=place()))[0]
    model = model_of(parts)
    both = WeighedPart(key="weighed.parts.side", name="side", mass_g=7.0)
    one = WeighedPart(key="weighed.parts.side-left", name="side-left", mass_g=9.0)
    assert [item.mass_g for item in items_of(model, both)] == [7.0, 7.0]
    assert [item.mass_g for item in items_of(model, both, one)] == [7.0, 9.0]
    assert [round(item.mass_g, 9) for item in items_of(model, one)] == [2.4, 9.0]
    assert all(item.low_g == item.mass_g == item.high_g for item in items_of(model, both))


def test_pieces_of_a_weighed_part_share_its_mass_as_they_would_weigh():
    model = design_model(TWIN)
    part = WeighedPart(key="weighed.parts.side", name="fuselage-side", mass_g=30.0)
    before, after = items_of(model), items_of(model, part)
    for hand in ("right", "left"):
        ours = [i for i, cut in enumerate(model.cuts) if cut.piece.part.name == f"fuselage-side-{hand}"]
        assert len(ours) == 3
        assert sum(after[i].mass_g for i in ours) == pytest.approx(30.0)
        shares = {round(after[i].mass_g / before[i].mass_g, 9) for i in ours}
        assert len(shares) == 1


def test_a_weighed_part_needs_no_mass_of_its_stock():
    model = model_of([part_of(name="side", count=2, place=place())], (stock("board", "felt", None),))
    part = WeighedPart(key="weighed.parts.side", name="side", mass_g=5.0)
    items, findings = piece_items(model, (part,))
    assert [item.mass_g for item in items] == [10.0] and findings == ()


def test_nothing_cut_weighs_nothing():
    assert piece_items(model_of([]), ()) == ((), ())


def test_what_a_bend_leaves_between_panels_goes_to_the_nearest():
    """A part of which the standing boards hold but a part: the rest lies with the nearest."""
    one = part_of(folds=[fold(0, "groove", (60.0, 60.0), (60.0, 0.0), 90.0)], place=place())
    (stands,) = assembled([one], ())
    flap = stands.boards[1]
    less = replace(flap, panel=replace(flap.panel, outline=Outline(shapely.box(62.0, 0.0, 100.0, 60.0))))
    gaping = replace(stands, boards=(stands.boards[0], less))
    bits = bits_of(Piece.whole(one), gaping)
    assert sum(bit.shape.area for bit in bits) == pytest.approx(6000)
    assert len(bits) == 3 and bits[2].shape.area == pytest.approx(120)
    model = Model(inputs=model_of([]).inputs, cuts=(Cut(piece=Piece.whole(one), count=1),),
                  standing=(gaping,), stocks={"board": BOARD})  # fmt: skip
    assert items_of(model)[0].mass_g == pytest.approx(2.4)
    assert codes(model) == []
