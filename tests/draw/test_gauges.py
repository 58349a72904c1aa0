"""Gauges: those that a design has a use for, each told of, nothing over anything else."""

import math
import re
from dataclasses import replace

import pytest
import shapely
from shapely.affinity import rotate

from foamcut.airframe.planform import panel_at
from foamcut.airframe.values import Inputs
from foamcut.draw.flow import width_mm
from foamcut.draw.gauges import gauges_document
from foamcut.draw.gauges_angles import incidence
from foamcut.draw.gauges_balance import balance_places, behind
from foamcut.draw.gauges_fit import FITS, taken_stocks
from foamcut.draw.gauges_throw import GRIP_MM, swing_of
from foamcut.draw.gauges_wing import leans, props
from foamcut.draw.paper import PAPERS
from foamcut.flat.outline import Outline
from foamcut.flight.controls_shape import hung
from foamcut.write import pdf
from tests.draw.balance_checks import NAMES
from tests.draw.balance_reports import FIN, NOSE_MOTOR, TAIL, WING, title
from tests.draw.drawn_parts import part, slot
from tests.draw.gauge_samples import SAMPLES, control, renamed, sample, stock, wing
from tests.draw.page_checks import crowded, outside, words

A4 = width_mm(PAPERS["a4"])
BOARDS = (stock(),)
BOARD_MM = 5.0


def document(inputs=None, parts=(), stocks=BOARDS, units="mm", paper="a4", report=None, named=None):
    found = gauges_document(named or title(units), units, parts, stocks, inputs, report, paper=PAPERS[paper])
    assert found is not None
    return found


def headings(found):
    """What each gauge is, in their order; a heading that goes on is joined."""
    lines = []
    for page in found.pages:
        above = None
        for text in sorted(page.texts, key=lambda text: -text.at[1]):
            if text.height_mm == 3.5 and text.at[1] < page.height_mm - 20:
                if above is not None and above - text.at[1] < 5.5:
                    lines[-1] += f" {text.text}"
                else:
                    lines.append(text.text)
                above = text.at[1]
    return lines


def look_over(found):
    for page in found.pages:
        assert crowded(page.texts) == []
        assert outside(page) == []
        for stroke in page.strokes:
            for segment in stroke.segments:
                assert 9.5 <= segment.start[0] <= page.width_mm - 9.5
                assert 9.5 <= segment.start[1] <= page.height_mm - 9.5


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", SAMPLES)
def test_pages_of_the_samples_can_be_read(name, paper):
    given = sample(name)
    found = document(
        given.inputs, given.parts, given.stocks, given.units, paper, given.report, named=given.title
    )
    look_over(found)
    assert pdf.render(found) == pdf.render(found)
    assert {page.width_mm for page in found.pages} == {PAPERS[paper].width_mm}


def test_the_twin_has_every_gauge_it_can_use():
    given = sample("cordgrass-2")
    found = document(given.inputs, given.parts, given.stocks, given.units, "a4", given.report)
    assert headings(found) == [
        'Thickness of "board"',
        'Thickness of "ply"',
        'Fit gauge, "board"',
        'Fit gauge, "ply"',
        'Bevel card, "wing" at the root',
        'Dihedral prop, "wing"',
        'Angle of "wing"',
        'Balance, "wing"',
        'Throw gauge, aileron of "wing"',
        'Throw gauge, elevator of "tail"',
        'Throw gauge, rudder of "fin"',
    ]


def test_what_is_no_aeroplane_and_has_no_slots_has_its_thickness_alone():
    found = document(None, (part(Outline.rectangle(0, 0, 90, 60)),))
    assert headings(found) == ['Thickness of "board"']


def test_without_stock_there_is_nothing():
    assert gauges_document(title(), "mm", (), ()) is None


def test_a_flat_wing_without_controls_has_no_joint_and_no_throw_gauge():
    found = document(Inputs(surfaces=(wing((500.0, 0.0)),)))
    assert headings(found) == ['Thickness of "board"', 'Balance, "wing"']


def test_slots_name_what_they_take_and_what_they_are_cut_of():
    plate = Outline.rectangle(0, 0, 90, 60)
    one = part(plate, "one", slots=(slot(30, 30, 20),))
    other = replace(part(plate, "other", slots=(slot(30, 30, 20),)), stock="card")
    taken = taken_stocks((one, other), (stock("board"), stock("ply", 1.5)))
    assert [(each.stock.name, each.into) for each in taken] == [("ply", ("board", "card"))]
    said = words(document(None, (one, other), (stock("board"), stock("ply", 1.5))).pages[0]).replace(
        "\n", " "
    )
    assert 'Fit gauge, "ply"' in said and 'a scrap of "board" and on one of "card"' in said
    assert '[cutting] fit = "0.2 mm"' in said


def test_no_slot_of_the_gauge_is_narrower_than_can_be_cut():
    thin = stock("paper", 0.4)
    plate = part(Outline.rectangle(0, 0, 90, 60), slots=(replace(slot(30, 30, 20), takes="paper"),))
    said = words(document(None, (plate,), (stock(), thin)).pages[0]).split("\n")
    assert "-0.2" not in said and "-0.1" in said and f"{FITS[-1] / 10}" in said


def test_the_fit_now_is_told():
    """A fit between two of the gauge has no box, and is told all the same."""
    odd = replace(slot(30, 30, 20), fit_mm=0.25)
    plate = part(Outline.rectangle(0, 0, 90, 60), slots=(odd,))
    said = words(document(None, (plate,), (stock(), stock("ply", 1.5))).pages[0]).replace("\n", " ")
    assert "cut with 0.25 mm now." in said
    boxed = part(Outline.rectangle(0, 0, 90, 60), slots=(replace(odd, fit_mm=0.2),))
    said = words(document(None, (boxed,), (stock(), stock("ply", 1.5))).pages[0]).replace("\n", " ")
    assert "cut with 0.2 mm now (in a box)." in said


def test_props_of_panels_that_rise_one_after_another():
    """Root: each panel by its own dihedral and that of the other half; bend: the outer panel alone."""
    root, bend = props(wing((300.0, 3.0), (200.0, 8.0)))
    assert root.height_mm == pytest.approx(300 * math.sin(math.radians(6)) + 200 * math.sin(math.radians(11)))
    assert root.marked_mm == pytest.approx(300 * math.sin(math.radians(3)) + 200 * math.sin(math.radians(8)))
    assert bend.height_mm == pytest.approx(200 * math.sin(math.radians(5)))
    assert root.formula == "300 x sin(6 deg) + 200 x sin(11 deg)"
    assert [round(one.deg, 9) for one in leans(wing((300.0, 3.0), (200.0, 8.0)))] == [3.0, 2.5]


def test_hanging_tips_are_propped_upside_down():
    (prop,) = props(wing((500.0, -4.0)))
    assert prop.height_mm == pytest.approx(500 * math.sin(math.radians(8)))
    assert "upside down" in prop.what and prop.formula == "500 x sin(8 deg)"
    (lean,) = leans(wing((500.0, -4.0)))
    assert lean.deg == -4.0


def test_a_gull_wing_with_level_tips_has_no_prop_at_all_of_no_height():
    bent = wing((250.0, 5.0), (250.0, -15.0))
    assert all(prop.height_mm >= 1.0 for prop in props(bent))
    look_over(document(Inputs(surfaces=(bent,))))


def test_a_prop_higher_than_the_page_is_cut_in_two():
    long = wing((900.0, 8.0))
    (prop,) = props(long)
    assert prop.height_mm == pytest.approx(248.07, abs=0.01)
    found = document(Inputs(surfaces=(long,)))
    look_over(found)
    said = "\n".join(words(page) for page in found.pages)
    assert "A of 2" in said and "B of 2" in said and "248.1 mm" in said


def test_fins_have_no_prop_and_no_bevel_card():
    assert props(FIN) == () and leans(FIN) == ()


@pytest.mark.parametrize("throw", [5.0, 20.0, 45.0, 55.0])
@pytest.mark.parametrize("chord", [12.0, 40.0, 150.0])
def test_throw_cards_hold_the_fixed_part_and_stop_the_control(chord, throw):
    """The cut-out takes the board at rest and anywhere between full throws, and nothing two degrees beyond."""
    surface = wing((500.0, 0.0), controls=(control(chord=chord, throw=throw),))
    swing = swing_of(hung(surface)[0], A4)
    assert swing is not None
    # of the control what lies behind its bevel
    t = swing.thickness_mm
    board = shapely.box(2 * t, -t, swing.reach_mm, 0.0).buffer(-0.02)
    for turn in (-throw, -throw / 2, 0.0, throw / 2, throw):
        assert swing.hole.contains(rotate(board, turn, origin=(0, 0))), turn
    for turn in (-throw - 2, throw + 2):
        assert not swing.hole.contains(rotate(board, turn, origin=(0, 0)))
    fixed = swing.hole.intersection(shapely.box(-GRIP_MM, -50, -0.3, 50))
    assert fixed.bounds[3] - fixed.bounds[1] == pytest.approx(BOARD_MM + 0.4, abs=0.01)
    look_over(document(Inputs(surfaces=(surface,))))


@pytest.mark.parametrize(("chord", "throw"), [(40.0, 0.0), (2.0, 20.0), (40.0, 90.0)])
def test_controls_that_do_not_move_have_no_card(chord, throw):
    surface = wing((500.0, 0.0), controls=(control(chord=chord, throw=throw),))
    assert swing_of(hung(surface)[0], A4) is None
    assert not [line for line in headings(document(Inputs(surfaces=(surface,)))) if "Throw" in line]


def test_a_control_too_deep_for_the_page_tells_the_throw_that_the_card_shows():
    surface = wing((500.0, 0.0), chord=400.0, controls=(control(chord=180.0, throw=20.0),))
    swing = swing_of(hung(surface)[0], A4)
    assert swing is not None and swing.reach_mm < 180
    assert swing.throw_mm == pytest.approx(swing.reach_mm * math.sin(math.radians(20)))
    found = document(Inputs(surfaces=(surface,)))
    look_over(found)
    assert any("too small" in words(page) for page in found.pages)


def test_balance_is_told_along_the_chord_from_each_leading_edge():
    """A place at the balance's distance behind the leading edge lies where along the model it shall lie."""
    given = sample("glasswort-1")
    assert given.inputs is not None and given.report is not None and given.report.loaded is not None
    surface = given.inputs.wing
    places = balance_places(given.inputs, given.report)
    assert [one.where for one in places] == ["root", "where the V is", "a third out"]
    for one in places:
        panel = panel_at(surface, one.out_mm)
        x, _, _ = panel.point(panel.leading(one.out_mm) + one.behind_mm, one.out_mm, 0.0)
        assert x == pytest.approx(given.report.loaded.target_mm, abs=1e-9)
    front = given.report.number("balance_front").value
    assert places[0].range_mm[0] == pytest.approx(behind(surface, 0.0, front))


def test_without_a_report_the_balance_is_the_mark_of_the_wing():
    (root, *_) = balance_places(Inputs(surfaces=(wing((500.0, 0.0)),)), None)
    assert root.behind_mm == pytest.approx(0.25 * 200) and root.range_mm is None


def test_a_wing_far_behind_its_balance_has_no_strip_and_tells_so():
    swept = wing((500.0, 0.0))
    stations = (swept.stations[0], replace(swept.stations[1], back_mm=900.0))
    found = document(Inputs(surfaces=(replace(swept, stations=stations),)))
    look_over(found)
    said = words(found.pages[0])
    assert "before it" in said.replace("\n", " ") or "measure it" in said


def test_the_wing_is_told_against_the_tail_or_the_base_line():
    tail = replace(TAIL, angle_deg=-1.0)
    assert incidence(Inputs(surfaces=(WING, tail))) == (3.0, tail)
    assert incidence(Inputs(surfaces=(WING,))) == (2.0, None)
    steep = replace(tail.stations[0], dihedral_deg=35.0)
    v_tail = replace(tail, stations=(steep, tail.stations[1]))
    assert incidence(Inputs(surfaces=(WING, v_tail))) == (2.0, None)
    assert incidence(Inputs(surfaces=(FIN,))) is None


def test_thrust_cards_name_the_way_and_what_goes_under():
    motor = replace(NOSE_MOTOR, right_deg=-2.0, down_deg=3.0)
    found = document(Inputs(surfaces=(WING,), motors=(motor,)))
    assert [line for line in headings(found) if "Thrust" in line] == [
        'Thrust line, motor "nose", left',
        'Thrust line, motor "nose", down',
    ]
    said = " ".join(" ".join(words(page).split("\n")) for page in found.pages)
    assert re.search(r"2 deg left, by washers of 0\.87 mm under the right screws", said)
    assert re.search(r"3 deg down, by washers of 1\.31 mm under the upper screws", said)
    look_over(found)
    only_down = replace(NOSE_MOTOR, down_deg=3.0)
    found = document(Inputs(surfaces=(WING,), motors=(only_down,)))
    said = " ".join(" ".join(words(page).split("\n")) for page in found.pages)
    assert "under the upper screws" in said


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("name", NAMES)
def test_long_and_strange_names_overflow_nothing(name, units):
    given = sample("glasswort-1")
    stocks = tuple(replace(one, name=name) for one in given.stocks[:1])
    plate = part(Outline.rectangle(0, 0, 90, 60), name, slots=(replace(slot(30, 30, 20), takes=name),))
    inputs = renamed(given.inputs, name)
    found = document(inputs, (plate,), stocks, units, "letter", given.report, named=title(units, name=name))
    look_over(found)
    assert pdf.render(found).startswith(b"%PDF")


def test_inch_designs_read_inches():
    given = sample("glasswort-1")
    found = document(given.inputs, given.parts, given.stocks, "in", "letter", given.report)
    said = " ".join(" ".join(words(page).split("\n")) for page in found.pages)
    assert "4 31/32 in (126.3 mm)" in said  # the prop
    assert "white, in" in said and "0.189" in said


def test_inch_designs_tell_thin_lengths_and_sums_in_inches():
    given = sample("glasswort-1")
    motors = tuple(replace(motor, right_deg=2.0, down_deg=3.0) for motor in given.inputs.motors)
    inputs = replace(given.inputs, motors=motors)
    found = document(inputs, given.parts, given.stocks, "in", "letter", given.report)
    said = " ".join(" ".join(words(page).split("\n")) for page in found.pages)
    assert "3/16 in (4.76 mm) thick by the design" in said and 'thickness = "0.188 in"' in said
    assert "The plan is cut with 0.008 in (0.2 mm) now" in said
    assert re.search(r"by washers of 0\.0\d+ in \(0\.\d+ mm\)", said)
    assert re.search(r"Height: ~?\d+[ \d/]* x sin\([\d.]+ deg\) = 4 31/32 in \(126\.3 mm\)\.", said)


def test_the_card_of_a_rudder_is_read_from_above():
    """The left paper of a fin stays whole: seen from above, nose left, it is the lower edge, the board above it."""
    rudder = replace(control("rudder", throw=30.0), from_mm=10.0, to_mm=110.0)
    surface = replace(FIN, controls=(rudder,))
    swing = swing_of(hung(surface)[0], A4)
    assert swing is not None and swing.side == 1
    assert swing.fixed.bounds[1::2] == pytest.approx((0.0, BOARD_MM))
    said = document(Inputs(surfaces=(surface,))).pages
    where = {text.text: text.at[1] for page in said for text in page.texts if text.text.endswith(" 30 deg")}
    assert where["right 30 deg"] > where["left 30 deg"]


@pytest.mark.parametrize("thickness", [0.3, 1.5, 5.0, 10.0, 20.0])
def test_lines_for_boards_of_any_thickness(thickness):
    plate = part(Outline.rectangle(0, 0, 90, 60), slots=(replace(slot(30, 30, 20), takes="board"),))
    found = document(None, (plate,), (stock("board", thickness),))
    look_over(found)
    assert f"{thickness:.1f}" in words(found.pages[0]).split("\n")


def test_machines_are_told_of():
    plate = part(Outline.rectangle(0, 0, 90, 60), slots=(slot(30, 30, 20),))
    ply = (stock(), stock("ply", 1.5))
    laser = document(None, (plate,), ply, named=replace(title(), tool="laser"))
    assert "kerf" in words(laser.pages[0])
    assert "kerf" not in words(document(None, (plate,), ply).pages[0])
