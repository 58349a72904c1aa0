"""The verdict on one part of which there are two versions."""

from dataclasses import replace

import pytest

from foamcut.compare.parts import compared_parts, unrelated
from foamcut.compare.values import Verdict
from foamcut.flat.build import build_part
from foamcut.flat.drawn import Doubling, Face, Grain, Hand, KeepClear, Label, Place
from tests.compare.versions import built, hold, plate, verdict
from tests.strategies import KEY, cutout, fold, hole, mark, panel, readings, rectangle, slot, tab

PLACE = Place(key=KEY, at=(100.0, 0.0, 0.0), x=(1.0, 0.0, 0.0), y=(0.0, 0.0, 1.0))


def test_a_part_against_itself_is_kept():
    part = plate(slots=(slot(0, (60.0, 40.0), 20.0),), cutouts=(hole(0, (150.0, 40.0), 12.0),))
    found = verdict(part, part)
    assert (found.verdict, found.reason, found.added) == (Verdict.KEEP, "It is the same.", ())


def test_edges_within_half_a_millimetre_agree_and_the_reason_says_by_how_much():
    found = verdict(plate(), plate(300.4))
    assert found.verdict is Verdict.KEEP
    assert found.reason == "Its edges differ by up to 0.4 mm."
    assert verdict(plate(300.8), plate(300.2)).verdict is Verdict.TRIM


def test_label_place_and_joint_lines_do_not_matter_and_are_told():
    old = plate(label=Label(key=KEY, at=(50.0, 40.0)), place=PLACE)
    new = plate(label=Label(key=KEY, at=(150.0, 40.0)), place=replace(PLACE, at=(112.0, 0.0, 0.0)))
    found = verdict(old, new)
    assert found.verdict is Verdict.KEEP
    assert "label stands elsewhere" in found.reason
    assert "12 mm from where it stood" in found.reason


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"thickness_mm": 4.8}, "Its board is 4.8 mm thick, it was 5 mm."),
        ({"stock": "ply"}, "It is cut from ply, it was from board."),
        ({"grain": Grain.X}, "Its x has to lie along the grain."),
    ],
)
def test_another_board_is_cut_again_whatever_the_shape(change, words):
    found = verdict(plate(), plate(**change))
    assert (found.verdict, found.reason) == (Verdict.CUT_AGAIN, words)


def test_a_thickness_that_a_caliper_cannot_tell_apart_is_kept():
    assert verdict(plate(), plate(thickness_mm=5.1)).verdict is Verdict.KEEP


def test_the_other_face_matters_where_something_is_drawn():
    line = (mark(0, "line", (50.0, 0.0), (50.0, 80.0)),)
    outer = (mark(0, "line", (50.0, 0.0), (50.0, 80.0), face=Face.OUTER),)
    assert verdict(plate(), plate(face=Face.OUTER)).verdict is Verdict.KEEP
    assert verdict(plate(marks=line), plate(marks=outer, face=Face.OUTER)).verdict is Verdict.CUT_AGAIN


# ---- trim ---------------------------------------------------------------------------------------------


def test_a_shorter_part_is_trimmed_and_told_where():
    found = verdict(plate(300.0, place=PLACE), plate(294.0, place=PLACE))
    assert found.verdict is Verdict.TRIM
    assert found.reason == "Cut 6 mm off at the rear end, at x = 294 mm."
    assert found.added == ()


def test_lengths_for_a_ruler_in_inches():
    found = verdict(plate(304.8), plate(298.45), "in")
    assert "cut 1/4 in (6.4 mm) off" in found.reason.lower()


def test_a_part_that_is_shorter_at_its_front_end_is_moved_before_it_is_trimmed():
    old = plate(300.0, slots=(slot(0, (260.0, 40.0), 20.0),), place=PLACE)
    new = plate(280.0, slots=(slot(0, (240.0, 40.0), 20.0),), place=PLACE)
    found = verdict(old, new)
    assert (found.verdict, found.shift) == (Verdict.TRIM, (-20.0, 0.0))
    assert "Cut 20 mm off at the front end" in found.reason


def test_an_opening_that_grows_is_cut_larger_and_one_that_is_new_is_cut():
    one = plate(cutouts=(cutout(0, rectangle(40.0, 30.0), (100.0, 20.0)),))
    larger = plate(cutouts=(cutout(0, rectangle(44.0, 30.0), (100.0, 20.0)),))
    found = verdict(one, larger)
    assert found.verdict is Verdict.TRIM
    assert found.reason == "Cut the opening at x = 122, y = 35 mm larger, by up to 4 mm."
    assert "Cut the opening at x = 120, y = 35 mm." in verdict(plate(), one).reason
    smaller = verdict(larger, one)
    assert smaller.verdict is Verdict.CUT_AGAIN
    assert smaller.reason == "The opening that was at x = 122, y = 35 mm is smaller or elsewhere."


def test_a_tab_that_is_no_longer_there_is_cut_off():
    assert verdict(plate(tabs=(tab(0, (100.0, 80.0), 20.0),)), plate()).verdict is Verdict.TRIM


# ---- cut again ----------------------------------------------------------------------------------------


def test_a_slot_that_is_moved_is_told_by_how_much():
    old, new = (plate(slots=(slot(0, (x, 40.0), 20.0),)) for x in (100.0, 103.0))
    found = verdict(old, new)
    assert found.verdict is Verdict.CUT_AGAIN
    assert found.reason == "The slot at x = 103, y = 40 mm is moved by 3 mm."


def test_a_slot_that_is_no_longer_there_is_told():
    found = verdict(plate(slots=(slot(0, (100.0, 40.0), 20.0),)), plate())
    assert found.reason == "The opening that was at x = 100, y = 40 mm is smaller or elsewhere."


def test_a_slot_that_moves_less_than_edges_may_is_still_seen():
    old, new = (plate(slots=(slot(0, (x, 40.0), 20.0),)) for x in (100.0, 100.4))
    assert verdict(old, new).verdict is Verdict.CUT_AGAIN
    assert verdict(old, plate(slots=(slot(0, (100.2, 40.0), 20.0),))).verdict is Verdict.KEEP


def test_slots_are_matched_where_they_lie_when_one_is_put_in_before_them():
    old = plate(slots=(slot(0, (200.0, 40.0), 20.0),))
    new = plate(slots=(slot(0, (100.0, 40.0), 20.0), slot(1, (200.0, 40.0), 20.0)))
    found = verdict(old, new)
    assert found.verdict is Verdict.TRIM
    assert "the opening at x = 100, y = 40 mm" in found.reason


@pytest.mark.parametrize(
    ("after", "words"),
    [
        (fold(0, "score", (104.0, 0.0), (104.0, 80.0)), "is off by 4 mm"),
        (fold(0, "score", (100.0, 0.0), (100.0, 80.0), 45.0), "is worked otherwise"),
        (fold(0, "hinge", (100.0, 0.0), (100.0, 80.0), 0.0), "is worked otherwise"),
    ],
)
def test_a_fold_that_is_moved_or_worked_otherwise(after, words):
    old = plate(folds=(fold(0, "score", (100.0, 0.0), (100.0, 80.0)),))
    found = verdict(old, plate(folds=(after,)))
    assert found.verdict is Verdict.CUT_AGAIN
    assert words in found.reason


def test_a_fold_that_is_new_or_gone_bars_the_old_part():
    folded = plate(folds=(fold(0, "score", (100.0, 0.0), (100.0, 80.0)),))
    assert "is new" in verdict(plate(), folded).reason
    assert "is gone" in verdict(folded, plate()).reason


def test_a_bevel_that_differs_bars_the_old_part():
    corners = [(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0)]

    def bevelled(angle: float):
        return built(panel(readings((0.0, 0.0, {"bevel_deg": angle}), *corners[1:])))

    assert verdict(bevelled(30.0), bevelled(30.5)).verdict is Verdict.KEEP
    assert "a bevel differs" in verdict(bevelled(30.0), bevelled(40.0)).reason.lower()
    assert "a bevel is new" in verdict(built(panel(readings(*corners))), bevelled(30.0)).reason.lower()


def test_lines_of_marks_that_are_moved_bar_the_part_and_the_reason_says_what_may_be_done():
    old, new = (plate(marks=(mark(0, "line", (x, 0.0), (x, 80.0), text="former 2"),)) for x in (100.0, 103.0))
    found = verdict(old, new)
    assert found.verdict is Verdict.CUT_AGAIN
    assert 'The mark "former 2" is moved by 3 mm' in found.reason
    assert "draw the new ones instead of cutting" in found.reason


def test_marks_that_hold_nothing_are_drawn_anew():
    def with_balance(ratio: float):
        return plate(marks=(mark(0, "balance", (50.0, 40.0), (250.0, 40.0), ratio=ratio),))

    found = verdict(with_balance(0.27), with_balance(0.29))
    assert found.verdict is Verdict.KEEP
    assert "anew, it is moved by 4 mm" in found.reason


def test_new_and_old_lines_are_drawn_and_crossed_out():
    marked = plate(marks=(mark(0, "line", (50.0, 0.0), (50.0, 80.0), text="skid"),))
    assert 'Draw the new mark "skid".' in verdict(plate(), marked).reason
    assert 'Cross out the mark "skid".' in verdict(marked, plate()).reason


# ---- extend -------------------------------------------------------------------------------------------


def test_a_strip_at_one_end_is_added_with_its_doubler():
    old, new = (plate(length, slots=(slot(0, (60.0, 40.0), 20.0),), place=PLACE) for length in (300.0, 360.0))
    found = verdict(old, new)
    assert found.verdict is Verdict.EXTEND
    assert [part.name for part in found.added] == ["panel-added", "panel-added-doubler-a"]
    strip, doubler = found.added
    assert strip.outline.bounds == (300.0, 0.0, 360.0, 80.0)
    # usual doublers reach 10 thicknesses to each side and keep one thickness off edges
    assert doubler.outline.bounds == (250.0, 5.0, 350.0, 75.0)
    assert "60 mm longer at the rear end" in found.reason
    assert "glue the added piece on at x = 300 mm with 1 doubler of board" in found.reason


def test_a_strip_at_the_front_end_is_found_by_moving_the_old_part():
    old = plate(300.0, slots=(slot(0, (240.0, 40.0), 20.0),))
    new = plate(340.0, slots=(slot(0, (280.0, 40.0), 20.0),))
    found = verdict(old, new)
    assert (found.verdict, found.shift) == (Verdict.EXTEND, (40.0, 0.0))
    assert found.added[0].outline.bounds == (0.0, 0.0, 40.0, 80.0)


def test_folds_and_marks_go_on_in_the_strip():
    def version(length: float):
        return plate(
            length,
            folds=(fold(0, "score", (0.0, 40.0), (length, 40.0)),),
            marks=(mark(0, "line", (0.0, 20.0), (length, 20.0), text="spar"),),
        )

    found = verdict(version(300.0), version(360.0))
    assert found.verdict is Verdict.EXTEND
    strip = found.added[0]
    (line,) = strip.folds[0].cut_runs()
    assert (line[0].start[0], line[-1].end[0]) == (300.0, 360.0)
    # the doublers lie on either side of the fold
    assert sum("-doubler-" in part.name for part in found.added) == 2


def test_what_stood_at_the_old_end_is_crossed_out():
    old, new = (
        plate(length, marks=(mark(0, "line", (length - 10.0, 0.0), (length - 10.0, 80.0), text="tail"),))
        for length in (300.0, 360.0)
    )
    found = verdict(old, new)
    assert found.verdict is Verdict.EXTEND
    assert 'cross out the mark "tail"' in found.reason


@pytest.mark.parametrize(
    ("more", "words", "beyond"),
    [
        ({"slots": (slot(1, (280.0, 40.0), 10.0),)}, "doublers would meet a slot at x = 280 mm", ()),
        ({"cutouts": (hole(0, (270.0, 40.0), 12.0),)}, "doublers would meet the cutout at 270, 40", ()),
        ({"keep_clear": (KeepClear(key=f"{KEY}.keep_clear[0]", x_mm=(260.0, 310.0)),)}, "a place that is kept", ()),
        ({"folds": (fold(0, "score", (290.0, 0.0), (290.0, 80.0)),)}, "doublers would meet a fold", ()),
        ({"folds": (fold(0, "hinge", (320.0, 0.0), (320.0, 80.0), 0.0),)}, "a hinge stands at the seam", ("folds",)),
        ({"marks": (mark(0, "line", (330.0, 0.0), (330.0, 80.0), text="motor"),)}, "a motor stands at the seam", ("marks",)),
        ({"marks": (mark(0, "line", (200.0, 20.0), (340.0, 20.0), text="joiner"),)}, "a joiner stands at", ()),
        (
            {"marks": (mark(0, "tape", (100.0, 60.0), (330.0, 60.0), width_mm=12.0, text="hinge tape"),)},
            "a hinge stands at the seam",
            (),
        ),
        ({"may_be_joined": False}, "it has to be one piece", ()),
    ],
)  # fmt: skip
def test_a_part_is_not_extended_where_something_stands_at_the_seam(more, words, beyond):
    # a slot says which end is which; what lies beyond the old part is on the new one alone
    own = (slot(0, (60.0, 40.0), 20.0),)
    new = plate(360.0, **{**more, "slots": own + more.get("slots", ())})
    before = {key: several for key, several in more.items() if key not in ("slots", *beyond)}
    old = plate(300.0, **before, slots=own + more.get("slots", ()))
    found = verdict(old, new)
    assert found.verdict is Verdict.CUT_AGAIN
    assert words in found.reason


def test_a_strip_too_narrow_for_a_doubler_is_not_added():
    found = verdict(plate(300.0), plate(311.0))
    assert found.verdict is Verdict.CUT_AGAIN
    assert "too narrow to be glued on" in found.reason
    assert verdict(plate(300.0), plate(304.0)).reason == "It is 4 mm longer at the end of highest x."


def test_what_grows_all_round_is_cut_again():
    found = verdict(plate(), plate(340.0, 90.0))
    assert found.verdict is Verdict.CUT_AGAIN
    assert (
        found.reason
        == "It is 40 mm longer at the end of highest x, and its other edges are off by up to 10 mm."
    )


def test_what_grows_at_both_sides_is_told_of_both():
    old, new = (
        built(panel(readings((0.0, -y), (200.0, -y), (200.0, y), (0.0, y)), place=PLACE))
        for y in (30.0, 31.0)
    )
    # it may be laid so that one side agrees
    found = verdict(old, new)
    assert found.verdict is Verdict.CUT_AGAIN
    assert found.reason == "It is 1 mm longer at the upper end and 1 mm longer at the lower end."


def test_what_lacks_board_in_the_middle_of_an_edge_is_told_where():
    notched = built(
        panel(readings((0.0, 0.0), (300.0, 0.0), (300.0, 80.0), (160.0, 80.0), (160.0, 70.0), (140.0, 70.0),
                       (140.0, 80.0), (0.0, 80.0)))
    )  # fmt: skip
    found = verdict(notched, plate())
    assert found.reason == "The old one lacks up to 10 mm of board near x = 150, y = 75.3 mm."


def test_a_taper_that_opens_along_the_whole_edge_is_no_strip():
    def wing(tip: float):
        return built(panel(readings((0.0, 0.0), (200.0, 0.0), (tip, 500.0), (0.0, 500.0))))

    assert verdict(wing(120.0), wing(140.0)).verdict is Verdict.CUT_AGAIN


def test_a_doubler_of_its_own_stock_is_kept():
    doubling = Doubling(
        key=f"{KEY}.doubler", stock="ply", thickness_mm=1.5, overlap_mm=30.0, inset_mm=2.0, taper_mm=0.0
    )
    found = verdict(plate(300.0, doubling=doubling), plate(360.0, doubling=doubling))
    _, doubler = found.added
    assert (doubler.stock, doubler.thickness_mm) == ("ply", 1.5)
    assert doubler.outline.bounds == (270.0, 2.0, 330.0, 78.0)


# ---- counts, hands, names -----------------------------------------------------------------------------


def test_more_copies_are_cut_and_fewer_are_left_over():
    found = verdict(plate(count=2), plate(count=3))
    assert found.verdict is Verdict.KEEP
    (one,) = found.added
    assert (one.name, one.count) == ("panel", 1)
    assert "cut 1 more" in found.reason
    fewer = verdict(plate(count=3), plate(count=2))
    assert (fewer.verdict, fewer.added) == (Verdict.KEEP, ())
    assert "1 left over" in fewer.reason


def test_of_copies_that_are_extended_as_many_strips_are_cut_as_there_are():
    found = verdict(plate(300.0, count=2), plate(360.0, count=3))
    assert [(part.name, part.count) for part in found.added] == [
        ("panel-added", 2),
        ("panel-added-doubler-a", 2),
        ("panel", 1),
    ]


def test_hands_of_a_pair_are_apart_and_mirror_images():
    def pair(length: float):
        slots = (slot(0, (60.0, 20.0), 20.0),)
        return build_part(panel(rectangle(length, 80.0), name="side", pair=Hand.RIGHT, slots=slots))[0]

    found = compared_parts(pair(300.0), pair(360.0))
    hold(found)
    assert [one.verdict for one in found] == [Verdict.EXTEND] * 2
    right, left = (one.added for one in found)
    for a, b in zip(right, left, strict=True):
        assert a.outline.mirrored().polygon.equals(b.outline.polygon)
    assert found[0].reason == found[1].reason


def test_a_part_with_a_new_name_does_for_the_one_of_its_shape():
    old, new = plate(name="rib"), plate(name="rib-2")
    (found,) = compared_parts([old], [new])
    assert (found.verdict, found.name, found.old) == (Verdict.KEEP, "rib-2", old)
    assert "It was called rib, write the new name on it" in found.reason


def test_new_and_gone_parts_and_their_order():
    kept = plate(name="kept")
    found = compared_parts([plate(200.0, name="a"), kept], [plate(120.0, name="b"), kept])
    assert [(one.name, one.verdict) for one in found] == [
        ("b", Verdict.NEW),
        ("kept", Verdict.KEEP),
        ("a", Verdict.GONE),
    ]
    hold(found)


def test_unrelated_designs_are_told():
    assert unrelated([plate(name="a")], [plate(name="a")]) == ""
    assert "none of the 1 parts" in unrelated([plate(name="a")], [plate(name="b")])
    assert unrelated([], [plate()]) == "the old design has no parts"
    assert unrelated([plate()], []) == "the new design has no parts"
    assert compared_parts([], []) == ()
