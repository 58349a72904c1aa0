"""Parts: what is built, area for area, and every refusal with its words."""

import math
import re
from dataclasses import replace

import pytest
from hypothesis import given
from shapely import Point, box
from shapely.affinity import rotate, translate
from shapely.ops import unary_union

from foamcut.errors import Refused
from foamcut.flat.build import build_part, check_fits
from foamcut.flat.drawn import (
    Cutout,
    Disc,
    Doubling,
    DrawnPart,
    Grain,
    Hand,
    JointLine,
    KeepClear,
    Label,
    Place,
)
from foamcut.flat.part import Part
from foamcut.flat.tolerances import CHORD_MM
from tests.strategies import (
    KEY,
    cutout,
    drawn_parts,
    hole,
    mark,
    panel,
    readings,
    rectangle,
    slot,
    sound_parts,
    tab,
)


def built(drawn: DrawnPart) -> Part:
    (part,), _ = build_part(drawn)
    return part


def refusals(drawn: DrawnPart) -> dict[str, str]:
    with pytest.raises(Refused) as caught:
        build_part(drawn)
    return {r.key.removeprefix(f"{KEY}."): r.text for r in caught.value.refusals}


def test_a_plain_part_keeps_what_was_said_of_it():
    place = Place(key=f"{KEY}.place", at=(0, 0, 0), x=(1, 0, 0), y=(0, 0, 1))
    part = built(panel(count=3, grain=Grain.X, place=place, label=Label(key="l", at=(5, 5))))
    assert (part.name, part.count, part.grain, part.hand) == ("panel", 3, Grain.X, Hand.NONE)
    assert (part.length_mm, part.width_mm, part.outline.area) == (100, 50, 5000)
    assert part.can_be_ruled
    assert (part.place, part.label) == (place, Label(key="l", at=(5, 5)))


def test_a_slot_is_as_wide_as_what_goes_in_and_its_fit():
    part = built(panel(slots=(slot(0, (50, 25), 30, thickness=3.0, fit=0.2),)))
    (found,) = part.slots
    assert (found.length_mm, found.width_mm) == (30.2, 3.2)
    assert found.outline.bounds == pytest.approx((34.9, 23.4, 65.1, 26.6))
    assert part.outline.area == pytest.approx(5000 - 30.2 * 3.2)


def test_a_turned_slot_lies_along_y():
    part = built(panel(slots=(slot(0, (50, 25), 30, 90.0),)))
    assert part.slots[0].outline.bounds == pytest.approx((47.4, 9.9, 52.6, 40.1))


@pytest.mark.parametrize(
    ("at", "bounds"),
    [
        ((50, 50), (0, 0, 100, 55)),
        ((50, 0), (0, -5, 100, 50)),
        ((0, 25), (-5, 0, 100, 50)),
        ((100, 25), (0, 0, 105, 50)),
        ((50, 50.009), (0, 0, 100, 55)),
        ((10, 50), (0, 0, 100, 55)),
    ],
)
def test_a_tab_stands_out_square_by_the_thickness_it_goes_into(at, bounds):
    part = built(panel(tabs=(tab(0, at, 20),)))
    assert part.outline.bounds == bounds
    assert part.outline.area == pytest.approx(5100)
    assert part.tabs[0].outline.area == pytest.approx(100)


def test_a_tab_over_a_reading_on_a_straight_edge_is_taken():
    """The reading at 50, 0 makes no corner, so the root lies on one edge."""
    part = built(panel(readings((0, 0), (50, 0), (100, 0), (100, 50), (0, 50)), tabs=(tab(0, (50, 0), 20),)))
    assert part.outline.area == pytest.approx(5100)


def test_tabs_on_a_slope_stand_square():
    part = built(panel(readings((0, 0), (30, 40), (0, 40)), tabs=(tab(0, (15, 20), 10, thickness=3.0),)))
    assert part.outline.area == pytest.approx(600 + 30)
    assert (12 + 2.4, 16 - 1.8) in part.tabs[0].outline.rings()[0]


def test_overlapping_cutouts_are_one_keyhole():
    part = built(panel(cutouts=(hole(0, (50, 25), 20), hole(1, (50, 37), 10))))
    assert len(part.outline.polygon.interiors) == 1
    assert len(part.outline.circles) == 2


def test_a_cutout_is_turned_then_moved():
    part = built(panel(cutouts=(cutout(0, rectangle(20, 5), (50, 10), 90.0),)))
    x0, y0, x1, y1 = part.outline.polygon.interiors[0].bounds
    assert (x0, y0, x1, y1) == (45, 10, 50, 30)


def test_an_open_slot_runs_out_of_the_edge_or_into_a_cutout():
    part = built(
        panel(
            slots=(slot(0, (30, 50), 20, 90.0, open_end=True), slot(1, (70, 25), 20, open_end=True)),
            cutouts=(hole(0, (80, 25), 16),),
        )
    )
    assert len(part.outline.polygon.interiors) == 1
    assert part.outline.bounds == (0, 0, 100, 50)
    assert part.slots[0].open


def test_marks_are_trimmed_to_the_part_and_its_holes():
    part = built(panel(cutouts=(hole(0, (50, 25), 20),), marks=(mark(0, "line", (-10, 25), (110, 25)),)))
    runs = part.marks[0].drawn().runs
    assert [(run[0].start, run[-1].end) for run in runs] == [((0, 25), (40, 25)), ((60, 25), (100, 25))]


def test_a_pair_is_the_drawing_and_its_mirror_image():
    drawn = panel(
        pair=Hand.LEFT,
        slots=(slot(0, (20, 10), 12, 30.0),),
        tabs=(tab(0, (50, 50), 20),),
        marks=(mark(0, "line", (10, 5), (90, 45), text="F2"),),
        label=Label(key=f"{KEY}.label", at=(60, 20), turn_deg=15.0),
        place=Place(key=f"{KEY}.place", at=(1, -26, 3), x=(1, 0, 0), y=(0, 0, 1)),
        mirrored=Grain.ANY,
    )
    (right, left), _ = build_part(drawn)
    assert (right.name, right.hand, left.name, left.hand) == (
        "panel-right",
        Hand.RIGHT,
        "panel-left",
        Hand.LEFT,
    )
    assert left.outline.bounds == (0, 0, 100, 55)
    assert right.outline == left.outline.mirrored()
    assert (right.slots[0].at, right.slots[0].turn_deg) == ((20, -10), -30.0)
    assert right.slots[0].outline == left.slots[0].outline.mirrored()
    assert (right.tabs[0].at, right.label.at, right.label.turn_deg) == ((50, -50), (60, -20), -15.0)
    assert right.place.at == (1, 26, 3)
    text = right.marks[0].drawn().texts[0]
    assert text.turn_deg == pytest.approx(-left.marks[0].drawn().texts[0].turn_deg)


def test_the_hand_drawn_may_be_the_right_one():
    (right, left), _ = build_part(panel(pair=Hand.RIGHT))
    assert right.outline.bounds == (0, 0, 100, 50)
    assert left.outline.bounds == (0, -50, 100, 0)


REFUSED = [
    ({"tabs": (tab(0, (50, 50.5), 20),)}, "tabs[0].at", "is 0.5 mm off the outline; .* nearest at 50, 50 mm"),
    ({"tabs": (tab(0, (95, 50), 20),)}, "tabs[0].length", "runs 5 mm past the end of its straight edge"),
    ({"tabs": (tab(0, (50, 50), 0.0),)}, "tabs[0].length", "the length is 0 mm"),
    ({"tabs": (tab(0, (50, 50), 9, thickness=0.0),)}, "tabs[0].into", 'the thickness of "board" is 0 mm'),
    ({"tabs": (tab(0, (math.nan, 50), 9),)}, "tabs[0].at", "is no number"),
    ({"tabs": (tab(0, (30, 0), 5), tab(1, (34, 0), 5))}, "tabs[1].at", r"meets the one of tabs\[0\]"),
    ({"tabs": (tab(0, (30, 0), 5), tab(1, (35, 0), 5))}, "tabs[1].at", r"meets the one of tabs\[0\]"),
    (
        {"shape": readings((0, 0, {"through": (50, -20)}), (100, 0), (100, 50), (0, 50)), "tabs": (tab(0, (50, -20), 9),)},
        "tabs[0].at",
        "stands on an arc or a smooth edge",
    ),
    (
        {"shape": readings((0, 0), (40, 0), (40, 30), (36, 30), (36, 9), (4, 9), (4, 30), (0, 30)),
         "tabs": (tab(0, (36, 20), 9, thickness=40.0),)},
        "tabs",
        "with its tabs the outline cannot be cut: it crosses itself",
    ),
    ({"cutouts": (hole(0, (0, 0), 5),)}, "cutouts[0].at", "runs 2.5 mm out of the part"),
    ({"cutouts": (hole(0, (10, 25), 20),)}, "cutouts[0].at", "touches the edge of the part"),
    ({"cutouts": (hole(0, (300, 25), 20),)}, "cutouts[0].at", "lies outside the part"),
    ({"cutouts": (hole(0, (50, 25), 0.01),)}, "cutouts[0].circle", "less than can be cut"),
    ({"cutouts": (hole(0, (math.inf, 25), 9),)}, "cutouts[0].at", "is no number"),
    ({"cutouts": (hole(0, (50, 25), 10), hole(1, (60, 25), 10))}, "cutouts[1].at", "only touches .* at 55, 25 mm"),
    (
        {"cutouts": (hole(0, (40, 25), 10), cutout(1, readings((45.0005, 25), (60, 20), (60, 30))))},
        KEY,
        "two cuts, or a cut and the edge, meet in a point at 45",
    ),
    (
        {"cutouts": (cutout(0, rectangle(40, 5), (20, 5)), cutout(1, rectangle(5, 40), (20, 5)),
                     cutout(2, rectangle(5, 40), (55, 5)), cutout(3, rectangle(40, 5), (20, 40)))},
        "cutouts[3].at",
        "divides the part into 2 pieces; the smallest, 900 mm2",
    ),
    ({"slots": (slot(0, (50, 25), 200),)}, "slots[0].at", "runs 50.1 mm out of the part"),
    (
        {"shape": readings((0, 0), (40, 0), (40, 30), (21, 30), (21, 9), (19, 9), (19, 30), (0, 30)),
         "slots": (slot(0, (20, 20), 9),)},
        "slots[0].at",
        "runs across an edge of the part at 20, 20 mm; move it inwards, or set open = true",
    ),
    ({"slots": (slot(0, (200, 5), 9, open_end=True),)}, "slots[0].at", "lies outside the part"),
    ({"slots": (slot(0, (50, 25), 9, open_end=True),)}, "slots[0].open", "lies wholly inside"),
    ({"slots": (slot(0, (50, 25), 60, 90, open_end=True),)}, "slots[0].at", "divides the part into 2 pieces"),
    (
        {"slots": (slot(0, (50, 25), 300, thickness=200.0, open_end=True),)},
        KEY,
        "its cuts leave nothing of the part",
    ),
    ({"slots": (slot(0, (50, 25), 9), slot(1, (55, 25), 9))}, "slots[1].at", r"slots\[1\] and slots\[0\] meet"),
    (
        {"slots": (slot(0, (50, 25), 9),), "cutouts": (hole(0, (58, 25), 10),)},
        "slots[0].at",
        r"slots\[0\] meets cutouts\[0\]; move it, or set open = true",
    ),
    (
        {"slots": (slot(0, (50, 25), 9, open_end=True),), "cutouts": (hole(0, (50, 25), 30),)},
        "slots[0].at",
        r"lies wholly in cutouts\[0\]",
    ),
    ({"slots": (slot(0, (50, 25), 9, fit=3.5),)}, "slots[0]", "a fit of 3.5 mm is out of range; .* -1 to 3 mm"),
    ({"slots": (slot(0, (50, 25), 9, fit=math.nan),)}, "slots[0]", "a fit of nan mm is out of range"),
    ({"slots": (slot(0, (50, 25), 9, thickness=1.2, fit=-1.0),)}, "slots[0]", "comes out 8 mm by 0.2 mm"),
    ({"slots": (slot(0, (50, 25), -1.0),)}, "slots[0].length", "the length is -1 mm"),
    ({"slots": (slot(0, (math.nan, 25), 9),)}, "slots[0].at", "is no number"),
    ({"marks": (mark(0, "line", (200, 0), (300, 0)),)}, "marks[0]", "nothing of this line mark lies on the part; it starts at 200, 0 mm"),
    ({"marks": (mark(0, "line", (5, 5)),)}, "marks[0]", "at least two different points"),
    ({"marks": (mark(0, "line", (5, 5), (math.nan, 5)),)}, "marks[0]", "a point is no number"),
    ({"marks": (mark(0, "circle", (5, 5)),)}, "marks[0]", "the diameter has to be above 0"),
    ({"marks": (mark(0, "circle", (5, 5), (6, 6), diameter_mm=5.0),)}, "marks[0]", "a circle has one point"),
    ({"marks": (mark(0, "tape", (5, 5), (9, 9)),)}, "marks[0]", "the width has to be above 0"),
    ({"marks": (mark(0, "balance", (5, 5), (9, 9), ratio=1.2),)}, "marks[0]", "between 0 % and 100 %"),
    ({"marks": (mark(0, "balance", (5, 5), (5, 5), ratio=0.2),)}, "marks[0]", "two different points"),
    ({"marks": (mark(0, "balance", (-90, 5), (9, 5), ratio=0.2),)}, "marks[0]", "balance point lies off the part"),
    ({"label": Label(key=f"{KEY}.label", at=(-3, 25))}, "label.at", "lies off the part.* by 3 mm"),
    ({"label": Label(key=f"{KEY}.label", at=(math.nan, 25))}, "label.at", "is no number"),
    ({"count": 0}, "count", "a count of 0 cuts nothing"),
    ({"thickness_mm": 0.0}, "stock", "the thickness is 0 mm"),
    (
        {"place": Place(key=f"{KEY}.place", at=(0, 0, 0), x=(1, 0, 0), y=(0.6, 0.8, 0))},
        "place.y",
        "stand at 53.13 degrees to each other; they have to be square",
    ),
    (
        {"place": Place(key=f"{KEY}.place", at=(0, 0, 0), x=(0, 0, 0), y=(0, 1, 0))},
        "place.x",
        "x is no direction of length 1",
    ),
    ({"shape": rectangle(0.0, 5.0)}, "rectangle", "the width is 0 mm"),
    (
        {"shape": rectangle(1000.0, 1000.0),
         "cutouts": tuple(hole(i, (20 + i % 30 * 32, 20 + i // 30 * 32), 25.0) for i in range(400))},
        KEY,
        'part "panel" takes .* more than the 20,000',
    ),
]  # fmt: skip


@pytest.mark.parametrize(
    ("said", "key", "words"), REFUSED, ids=[f"{key}-{words[:24]}" for _, key, words in REFUSED]
)
def test_refusals_name_their_key_and_say_what_is_wrong(said, key, words):
    found = refusals(panel(**said))
    assert key in found, found
    assert re.search(words, found[key]), found


def test_refusals_of_a_part_come_together():
    found = refusals(
        panel(
            cutouts=(hole(0, (0, 0), 5), hole(1, (50, 25), -1.0)),
            slots=(slot(0, (50, 25), 200), slot(1, (20, 20), 5, fit=9.0)),
            marks=(mark(0, "line", (5, 5)), mark(1, "line", (200, 0), (300, 0))),
            label=Label(key=f"{KEY}.label", at=(-3, 25)),
            count=0,
        )
    )
    assert set(found) == {
        "count", "cutouts[0].at", "cutouts[1].circle", "slots[0].at", "slots[1]", "marks[0]", "marks[1]", "label.at",
    }  # fmt: skip


def test_a_narrow_web_is_told_of_with_its_width():
    _, findings = build_part(panel(cutouts=(hole(0, (50, 25), 10), hole(1, (60.4, 25), 10))))
    (finding,) = findings
    assert (finding.code, finding.where, finding.value) == ("narrow-web", f"{KEY}.cutouts[1]", "0.4 mm")
    assert "55.2, 25 mm" in finding.text


def test_a_neck_between_an_open_slot_and_the_edge_is_told_of():
    _, findings = build_part(panel(slots=(slot(0, (3.3, 40), 60, 90.0, open_end=True),)))
    assert [finding.code for finding in findings] == ["narrow-web"]
    assert findings[0].value == ""


@pytest.mark.parametrize("apart", [11.0, 12.0])
def test_a_web_of_a_millimetre_is_wide_enough(apart):
    _, findings = build_part(panel(cutouts=(hole(0, (50, 25), 10), hole(1, (50 + apart, 25), 10))))
    assert findings == ()


def test_sharp_corners_are_no_webs():
    _, findings = build_part(panel(readings((0, 0), (100, 0), (0, 30))))
    assert findings == ()


def test_a_thin_slot_is_told_of():
    _, findings = build_part(panel(slots=(slot(0, (50, 25), 9, thickness=0.4, fit=0.0),)))
    assert [(finding.code, finding.value) for finding in findings] == [("thin-slot", "0.4 mm")]


def test_many_webs_are_counted_after_ten():
    holes = tuple(hole(i, (5 + 4.4 * i, 25), 4.0) for i in range(20))
    _, findings = build_part(panel(cutouts=holes))
    assert len(findings) == 11
    assert "in 9 more places" in findings[-1].text


def test_tabs_and_slots_that_fit_are_not_told_of():
    side = built(panel(name="side", tabs=(tab(0, (50, 50), 20),)))
    base = built(panel(name="base", slots=(slot(0, (50, 25), 20, fit=0.2),)))
    assert check_fits([side, base]) == ()


def test_a_tab_without_a_slot_and_a_slot_without_a_tab_are_told_of():
    side = built(panel(name="side", tabs=(tab(0, (50, 50), 20),)))
    base = built(panel(name="base", slots=(slot(0, (50, 25), 21),)))
    found = check_fits([side, base])
    assert [finding.where for finding in found] == [f"{KEY}.tabs[0]", f"{KEY}.slots[0]"]
    assert all(finding.code == "tab-without-slot" for finding in found)
    ply = replace(base, stock="ply", slots=(replace(base.slots[0], length_mm=20.2),))
    assert len(check_fits([side, ply])) == 2


def test_a_whole_part_may_go_through_a_slot_and_an_open_slot_asks_for_none():
    base = built(panel(slots=(slot(0, (50, 25), 30), slot(1, (10, 50), 20, 90.0, open_end=True))))
    strip = built(panel(rectangle(200.0, 30.0)))
    assert check_fits([base, strip]) == ()


def test_a_pair_is_told_of_once():
    hands, _ = build_part(panel(pair=Hand.RIGHT, tabs=(tab(0, (50, 50), 20),)))
    assert len(check_fits(hands)) == 1


@given(drawn=drawn_parts())
def test_any_drawing_gives_parts_or_refusals(drawn):
    """Never another error, whatever touches, leaves or repeats."""
    try:
        parts, _ = build_part(drawn)
    except Refused as refused:
        assert all(r.key.startswith("parts.") and r.text for r in refused.refusals)
        assert len(set(refused.refusals)) == len(refused.refusals)
    else:
        assert all(part.outline.fault() is None for part in parts)


@given(drawn=sound_parts())
def test_area_is_outline_and_tabs_less_cutouts_and_slots(drawn):
    """Nothing is lost: slots and tabs are reckoned from what was typed, circles by pi r^2."""
    part = build_part(drawn)[0][0]
    plain = build_part(panel(drawn.shape))[0][0].outline.area
    tabs = sum(t.length_mm * t.into_thickness_mm for t in drawn.tabs)
    slots = sum((s.length_mm + s.fit_mm) * (s.takes_thickness_mm + s.fit_mm) for s in drawn.slots)
    cutouts = unary_union([_as_drawn(one) for one in drawn.cutouts]).area
    chords = CHORD_MM * sum(math.pi * c.shape.diameter_mm for c in drawn.cutouts if isinstance(c.shape, Disc))
    assert part.outline.area == pytest.approx(plain + tabs - slots - cutouts, abs=0.01 + chords)


def _as_drawn(one: Cutout):
    """A cutout by shapely's own circles, turns and moves."""
    if isinstance(one.shape, Disc):
        return Point(one.at).buffer(one.shape.diameter_mm / 2, quad_segs=256)
    plate = box(0.0, 0.0, one.shape.width_mm, one.shape.height_mm)
    return translate(rotate(plate, one.turn_deg, origin=(0.0, 0.0)), *one.at)


@given(drawn=sound_parts())
def test_the_mirror_image_of_the_mirror_image_is_the_drawing(drawn):
    """Built from the left-hand drawing, the right hand is the left hand of the right-hand drawing."""
    (right, left), _ = build_part(replace(drawn, pair=Hand.RIGHT))
    assert right.outline == left.outline.mirrored()
    assert [s.outline for s in right.slots] == [s.outline.mirrored() for s in left.slots]
    assert [m.mirrored().mirrored() for m in right.marks] == list(right.marks)
    (again, drawn_left), _ = build_part(replace(drawn, pair=Hand.LEFT))
    assert drawn_left.outline == right.outline
    assert again.outline == left.outline


class TestJoining:
    """What joints, doublers and the tool need of a part goes with it, mirrored for the other hand."""

    LINES = (
        JointLine(key=f"{KEY}.joints[0]", x_mm=40.0, hand=Hand.RIGHT),
        JointLine(key=f"{KEY}.joints[1]", y_mm=20.0, hand=Hand.LEFT),
    )
    KEEP = (KeepClear(key=f"{KEY}.keep_clear[0]", x_mm=(10.0, 20.0), y_mm=(5.0, 30.0)),)
    DOUBLING = Doubling(
        key=f"{KEY}.doubler", stock="ply", thickness_mm=0.8, overlap_mm=30.0, inset_mm=0.0, taper_mm=30.0
    )

    def test_it_goes_with_the_part(self):
        part = built(
            panel(
                joint_lines=self.LINES,
                may_be_joined=False,
                keep_clear=self.KEEP,
                doubling=self.DOUBLING,
                kerf_mm=0.4,
            )
        )
        assert (part.joint_lines, part.keep_clear, part.doubling) == (self.LINES, self.KEEP, self.DOUBLING)
        assert (part.may_be_joined, part.kerf_mm) == (False, 0.4)

    def test_both_hands_keep_all_joint_lines_the_other_mirrored(self):
        drawn = panel(joint_lines=self.LINES, keep_clear=self.KEEP, pair=Hand.RIGHT)
        right, left = build_part(drawn)[0]
        assert right.joint_lines == self.LINES
        assert left.joint_lines == (self.LINES[0], replace(self.LINES[1], y_mm=-20.0))
        assert left.keep_clear == (replace(self.KEEP[0], y_mm=(-30.0, -5.0)),)

    @pytest.mark.parametrize(
        ("more", "key", "text"),
        [
            ({"keep_clear": (KeepClear(key=f"{KEY}.keep_clear[0]", x_mm=(20.0, 20.0)),)}, "keep_clear[0].x",
             "the range from 20 to 20 mm keeps nothing clear; give the lower number first and the higher"),
            ({"keep_clear": (KeepClear(key=f"{KEY}.keep_clear[0]", y_mm=(math.nan, 1.0)),)}, "keep_clear[0].y",
             "the range is no number"),
            ({"keep_clear": (KeepClear(key=f"{KEY}.keep_clear[0]"),)}, "keep_clear[0]",
             "nothing is said to be kept clear; give a range of x, of y or of both"),
            ({"joint_lines": (JointLine(key=f"{KEY}.joints[0]"),)}, "joints[0]", "give just one of them"),
            ({"joint_lines": (JointLine(key=f"{KEY}.joints[0]", x_mm=1.0, y_mm=1.0),)}, "joints[0]",
             "a joint line lies at one x or at one y"),
            ({"joint_lines": (JointLine(key=f"{KEY}.joints[0]", x_mm=math.inf),)}, "joints[0]", "is no number"),
            ({"doubling": replace(DOUBLING, overlap_mm=0.0)}, "doubler.overlap", "the overlap is 0 mm; it has to be"),
            ({"doubling": replace(DOUBLING, inset_mm=-1.0)}, "doubler.inset", "an inset of -1 mm is out of range"),
            ({"doubling": replace(DOUBLING, taper_mm=-1.0)}, "doubler.taper", "a taper of -1 mm is out of range"),
            ({"doubling": replace(DOUBLING, taper_mm=30.5)}, "doubler.taper",
             "a taper of 30.5 mm is longer than the overlap of 30 mm; make it shorter, or the overlap longer"),
            ({"doubling": replace(DOUBLING, thickness_mm=0.0)}, "doubler.stock", "the thickness of the doubler is 0"),
            ({"kerf_mm": 5.2, "slots": (slot(0, (50, 25), 20),)}, "slots[0]",
             "the slot comes out 5.2 mm wide, and the kerf of 5.2 mm leaves nothing inside it to cut round"),
        ],
    )  # fmt: skip
    def test_numbers_that_cannot_be(self, more, key, text):
        assert text in refusals(panel(**more))[key]

    @pytest.mark.parametrize("kerf", [-0.1, math.nan, 1e9])
    def test_a_kerf_that_cannot_be(self, kerf):
        assert (
            "is out of range; it is the full width of what the tool"
            in refusals(panel(kerf_mm=kerf))["cutting.kerf"]
        )

    def test_a_kerf_that_leaves_something_of_a_slot(self):
        assert built(panel(kerf_mm=5.1, slots=(slot(0, (50, 25), 20),))).slots
