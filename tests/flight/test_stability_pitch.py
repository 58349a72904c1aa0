"""Whether the elevator can hold the wing at its highest lift: the moments, and the mends."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from foamcut.airframe.values import Build, Role
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.lattice_flow import flow_through
from foamcut.flight.lattice_grid import lattice
from foamcut.flight.stability import stability_figures
from foamcut.flight.stability_pitch import Case, cases, pitch_model
from foamcut.flight.stability_tail import tail_of
from tests.flight.stability_sample import LIFT, control, loaded, neutral, plan, surface, trainer


def model_of(found, np_m=0.29, slope=4.1):
    model = pitch_model(found, tail_of(found), neutral(np_m, slope))
    assert model is not None
    return model


def told(found, along=255.0, np_m=0.29, lift=LIFT, slope=4.1):
    figures = stability_figures(found, loaded(along), neutral(np_m, slope), lift)
    number = next((one for one in figures.numbers if one.name == "elevator_at_stall"), None)
    return number, next((one for one in figures.findings if one.code == "elevator-power"), None)


def plain(throw=20.0, angle=0.0):
    """A flat wing of 1000 x 200 and a stabiliser of 360 x 110, whose elevator is the rear quarter of it all."""
    wing = surface("wing", Role.WING, (0, 0), [(0, 0, 200, 0), (500, 0, 200, 0)], angle=angle)
    moves = [control("tail", "elevator", 0, 180, 27.5, throw)]
    tail = surface("tail", Role.STABILISER, (620, 50), [(0, 0, 110, 0), (180, 0, 110, 0)], controls=moves)
    return plan(wing, tail)


def test_the_elevator_holds_the_moments_written_out_by_hand():
    """arithmetic: moments about the balance with the slope of D. Raymer, the downwash 2 CL / (pi AR) of
    lifting-line theory and Glauert's flap; the deflection found by bisection over the forces, not by our formula."""
    cl, along, effect, slope = 0.7, 0.030, 0.75, 4.1
    s, c, ar, st, lt = 0.2, 0.2, 5.0, 0.0396, 0.6475 - 0.030
    at = 0.36**2 / 0.0396
    a_t = 2 * math.pi * at / (2 + math.sqrt(at**2 + 4))
    p = math.acos(2 * 0.25 - 1)
    tau = 1 - (p - math.sin(p)) / math.pi

    def moment(deflection_up):
        wing_angle = cl / slope
        tail_angle = wing_angle - 2 * cl / (math.pi * ar)
        tail_lift = a_t * (tail_angle - tau * effect * deflection_up)
        return cl * (along - 0.050) * s - tail_lift * lt * st + 0.0 * s * c

    needed = brentq(moment, -1.0, 1.0)
    model = model_of(plain(20.0), slope=slope)
    found = model.at(Case(cl, along, 0.0, 0.0, effect))
    assert found.share == pytest.approx(needed / math.radians(20), rel=1e-6)
    assert not found.at_limit


def test_the_section_of_a_folded_wing_asks_for_more_elevator():
    model = model_of(plain())
    flat = model.at(Case(0.7, 0.05, 0.0, 0.0, 0.75))
    folded = model.at(Case(0.7, 0.05, -0.05, 0.0, 0.75))
    assert folded.hold - flat.hold == pytest.approx(0.05 * 0.2 * 0.2)  # cm x chord x area, m3
    assert folded.full == flat.full


def test_a_stabiliser_bears_no_more_than_its_own_highest_lift():
    far = model_of(plain(60.0)).at(Case(0.7, 0.03, 0.0, 0.0, 1.0))
    assert far.at_limit
    level_and_limit = far.full / (0.0396 * (0.6475 - 0.03))
    near = model_of(plain(1.0)).at(Case(0.7, 0.03, 0.0, 0.0, 1.0))
    assert not near.at_limit
    assert level_and_limit == pytest.approx(ASSUMED["cl_max_flat"].value + _level(0.7), rel=1e-9)


def _level(cl):
    at = 0.36**2 / 0.0396
    a_t = 2 * math.pi * at / (2 + math.sqrt(at**2 + 4))
    return a_t * (cl / 4.1 - 2 * cl / (math.pi * 5))


def lattice_moment(found, along_m, turned, strips=24, rows=16):
    """Moment about a place per dynamic pressure, nose up, m3, of angles of incidence given at every point.

    `turned` is called with (x, y) of control points; right half and its image.
    """
    grid = lattice(found.all_level, strips=strips, rows=rows)
    seen = np.array([turned(x, y) for x, y, _ in grid.points])
    strength = np.linalg.solve(flow_through(grid), -grid.normals[:, 2] * seen)
    inner, outer = grid.nodes[grid.inner], grid.nodes[grid.outer]
    lift = 4 * strength * (outer[:, 1] - inner[:, 1])
    return float(lift @ (along_m - (inner[:, 0] + outer[:, 0]) / 2))


def test_an_elevator_does_about_what_a_vortex_lattice_gives():
    """arithmetic, against a lattice: an elevator of a quarter of the chord on the whole stabiliser, 1 radian up, flap
    effect 1; within a twentieth (the stabiliser there feels the wing, and its lift lies farther aft)."""
    found = plain(1.0)
    lattice_says = lattice_moment(found, 0.079, lambda x, y: -1.0 if x > 0.62 + 0.75 * 0.11 else 0.0)
    ours = model_of(found).at(Case(0.0, 0.079, 0.0, 0.0, 1.0)).full / math.radians(1.0)
    assert ours == pytest.approx(lattice_says, rel=0.05)


def test_elevons_do_about_what_a_vortex_lattice_gives():
    """arithmetic, against a lattice: elevons of a quarter of the chord over the outer half of a swept wing."""
    rows = [(0, 0, 200, 0), (300, 150, 200, 0), (600, 300, 200, 0)]
    moves = [control("wing", "elevon", 300, 600, 50, 1.0)]
    found = plan(surface("wing", Role.WING, (0, 0), rows, controls=moves))

    def up(x, y):
        return -1.0 if y > 0.3 and x - 0.5 * y > 0.15 else 0.0

    whole = lattice_moment(found, 0.0, lambda x, y: 1.0)
    grid = lattice(found.all_level, strips=24, rows=16)
    strength = np.linalg.solve(flow_through(grid), -grid.normals[:, 2])
    lift = 4 * float((strength * (grid.nodes[grid.outer] - grid.nodes[grid.inner])[:, 1]).sum())
    np_m, slope = -whole / lift, lift / found.wing.area_m2
    along = np_m - 0.02
    ours = model_of(found, np_m, slope).at(Case(0.0, along, 0.0, 0.0, 1.0)).full / math.radians(1.0)
    assert ours == pytest.approx(lattice_moment(found, along, up), rel=0.06)


# ---- numbers and advice


def test_a_sound_trainer_has_elevator_to_spare():
    number, finding = told(trainer())
    assert number.unit == "%"
    assert 20 < number.value < 70
    assert number.low < number.value < number.high
    assert finding is None
    assert set(number.assumed) == {
        "cl_max_folded", "section_moment", "section_zero_lift", "flap_effect", "cl_max_flat",
    }  # fmt: skip


def test_the_farther_forward_it_balances_the_more_elevator_it_takes():
    shares = [told(trainer(), along)[0].value for along in (270, 255, 240, 225, 200)]
    assert shares == sorted(shares)
    assert shares[-1] > 100


def test_every_mend_of_a_weak_elevator_mends():
    """Each way that is told is tried: the share falls to 100 % and not far below."""
    _, finding = told(trainer(elevator=6), 240)
    throw = int(finding.mend.split("a throw of ")[1].split(" deg")[0])
    aft = int(finding.mend.split("the balance ")[1].split(" mm")[0])
    assert finding.where == "surface.tail.elevator"
    assert 90 < told(trainer(elevator=throw), 240)[0].value <= 100
    assert told(trainer(elevator=throw - 1), 240)[0].value > 100
    assert 90 < told(trainer(elevator=6), 240 + aft)[0].value <= 100
    assert told(trainer(elevator=6), 240 + aft - 1)[0].value > 100


def test_a_stabiliser_at_its_limit_is_to_be_larger():
    found = trainer(tail_share=0.5, elevator=35)
    _, finding = told(found, 215)
    assert "before it stalls itself" in finding.text
    more = int(finding.mend.split("a stabiliser ")[1].split(" %")[0])
    model = model_of(found)
    case = cases(found, loaded(215), LIFT)[0]
    assert 0.95 < model.at(case, size=1 + more / 100).share <= 1
    assert model.at(case, size=1 + (more - 1) / 100).share > 1


def test_no_balance_is_told_that_leaves_no_margin():
    """The neutral point 12 mm behind: nothing farther aft is offered."""
    _, finding = told(trainer(elevator=6), 240, np_m=0.252)
    assert "balance" not in finding.mend


def test_the_worst_case_is_the_highest_lift_the_balance_forward_and_the_weakest_flap():
    found = trainer()
    likely, best, worst = cases(found, loaded(255), LIFT)
    assert (likely.cl, best.cl, worst.cl) == (1.1, 1.0, 1.25)
    assert worst.along_m < likely.along_m < best.along_m
    assert worst.section_moment < likely.section_moment < best.section_moment
    model = model_of(found)
    others = [
        likely._replace(cl=worst.cl), likely._replace(along_m=worst.along_m),
        likely._replace(section_moment=worst.section_moment), likely._replace(flap_effect=worst.flap_effect),
        likely._replace(zero_lift_rad=worst.zero_lift_rad),
    ]  # fmt: skip
    assert all(model.at(one).share > model.at(likely).share for one in others)


def test_the_range_is_the_root_of_the_sum_of_squares_of_each_value_alone():
    """arithmetic: five shares worked out one by one; all at their worst at once lie far outside."""
    found = trainer()
    likely, best, worst = cases(found, loaded(255), LIFT)
    model = model_of(found)
    share = model.at(likely).share
    over = [model.at(likely._replace(**{name: getattr(worst, name)})).share - share for name in Case._fields]
    under = [share - model.at(likely._replace(**{name: getattr(best, name)})).share for name in Case._fields]
    number, _ = told(found)
    assert min(over + under) > 0
    assert number.high == pytest.approx(100 * (share + math.sqrt(sum(one * one for one in over))))
    assert number.low == pytest.approx(100 * max(share - math.sqrt(sum(one * one for one in under)), 0.0))
    assert 100 * model.at(worst).share > number.high + 20
    assert "root of the sum of squares" in number.source


def test_the_least_is_not_shown_below_0_where_the_likely_share_is_above():
    number, _ = told(trainer(), 275)
    assert number.low == 0.0
    assert number.value > 0


def test_a_deeper_elevator_and_a_longer_arm_are_told_by_how_much_and_mend():
    """Where there is no room for the balance and the throw is not enough, the stabiliser itself is left."""
    seen = set()
    for elevator, along in ((35, 205), (27, 220), (12, 232), (20, 222)):
        found = trainer(elevator=elevator, tail_share=0.5)
        _, finding = told(found, along, np_m=(along + 2) / 1000)
        model = model_of(found, (along + 2) / 1000)
        case = cases(found, loaded(along), LIFT)[0]
        for words in finding.mend.split(", or "):
            if words.endswith("% larger"):
                share = model.at(case, size=1 + int(words.split()[2]) / 100).share
            elif " and " in words:
                both = [int(one) for one in words.split() if one.isdigit()]
                share = model.at(case, size=1 + both[0] / 100, back_m=both[1] / 1000).share
                assert model.at(case, size=1.5).share > 1
            elif words.endswith("mm farther back"):
                assert int(words.split()[-4]) <= 300
                share = model.at(case, back_m=int(words.split()[-4]) / 1000).share
            elif "deeper" in words:
                share = model.deeper(1 + int(words.split()[1]) / 100).at(case).share
            else:
                assert words.startswith("a throw of ")
                share = model.at(case, throw=int(words.split()[3]) / elevator).share
            assert 0.94 < share <= 1
            seen.add("deeper" if "deeper" in words else "both" if " and " in words else words.split()[-1])
    assert seen >= {"deeper", "larger", "back", "degrees"}


def test_where_no_way_is_enough_the_nearest_is_told_and_how_much_it_gives():
    found = trainer(elevator=5, tail_share=0.1)
    _, finding = told(found, 215, np_m=0.217)
    assert finding.mend.startswith("the nearest: ")
    given = int(finding.mend.split(", ")[-1].split(" %")[0])
    case = cases(found, loaded(215), LIFT)[0]
    model = model_of(found, 0.217)
    share = model.at(case).share
    most = [
        model.at(case, size=1.5, back_m=0.3).share,
        model.at(case, throw=7.0).share,
        model.deeper(1.5).at(case).share,
    ]
    assert given == math.floor(100 * (share - min(most)) / (share - 1))
    assert given < 100


def test_a_flat_wing_has_no_moment_of_its_section():
    found = plain()
    assert all(
        case.section_moment == 0 and case.zero_lift_rad == 0 for case in cases(found, loaded(50), LIFT)
    )


def test_elevons_are_asked_where_there_is_no_tail():
    rows = [(0, 0, 250, 0), (600, 350, 150, 0)]
    moves = [control("wing", "elevon", 200, 590, 40, 20)]
    found = plan(surface("wing", Role.WING, (100, 50), rows, build=Build.FOLDED, controls=moves))
    number, finding = told(found, 290, np_m=0.305)
    assert "elevons" in number.title
    assert 0 < number.value < 100
    assert finding is None
    little = plan(
        surface(
            "wing", Role.WING, (100, 50), rows, build=Build.FOLDED, controls=[replace(moves[0], throw_deg=6)]
        )
    )
    _, finding = told(little, 290, np_m=0.305)
    throw = int(finding.mend.split("a throw of ")[1].split(" deg")[0])
    mended = replace(moves[0], throw_deg=throw)
    again = plan(surface("wing", Role.WING, (100, 50), rows, build=Build.FOLDED, controls=[mended]))
    assert told(again, 290, np_m=0.305)[0].value <= 100


def test_a_balance_behind_the_neutral_point_has_no_number():
    assert told(trainer(), 285)[0] is not None
    assert told(trainer(), 290)[0] is None


def test_without_an_elevator_or_with_two_wings_there_is_no_number():
    assert told(trainer(elevator=None))[0] is None
    two = trainer()
    assert told(replace(two, others=(two.wing,)))[0] is None


def test_an_elevator_that_does_not_move_has_no_share():
    number, finding = told(trainer(elevator=0.0))
    assert number is None or math.isfinite(number.value)
    assert finding is None or finding.mend


def test_the_controls_of_a_v_tail_lift_by_the_cosine_of_its_rise():
    """arithmetic: normal force of the flaps times cos of the rise; the board's own highest lift times cos."""
    wing = trainer().wing.surface
    moves = [control("tail", "elevator", 0, 200, 30, 5)]
    rows = [(0, 0, 120, 35), (200, 0, 120, 0)]
    vee = plan(wing, surface("tail", Role.STABILISER, (760, 60), rows, controls=moves))
    board, cos = 2 * 0.2 * 0.12, math.cos(math.radians(35))
    arm = 0.790 - 0.255
    case = Case(0.0, 0.255, 0.0, math.radians(2.0), 1.0)  # the tail meets the air level
    ar = vee.tail.aspect_ratio
    slope = 2 * math.pi * ar / (2 + math.sqrt(ar**2 + 4))
    p = math.acos(2 * 0.25 - 1)
    turned = (1 - (p - math.sin(p)) / math.pi) * math.radians(5)
    found = model_of(vee).at(case)
    assert found.full == pytest.approx(slope * turned * board * cos * arm, rel=1e-6)
    far = model_of(
        plan(
            wing,
            surface("tail", Role.STABILISER, (760, 60), rows, controls=[replace(moves[0], throw_deg=80)]),
        )
    )
    assert far.at(case).full == pytest.approx(ASSUMED["cl_max_flat"].value * board * cos * arm, rel=1e-6)


def test_elevons_that_reach_over_part_of_a_strip_count_in_part():
    """No jump where a control's end passes from one strip of the lattice to the next."""
    rows = [(0, 0, 250, 0), (600, 350, 150, 0)]

    def full(first):
        moves = [control("wing", "elevon", first, 590, 40, 20)]
        found = plan(surface("wing", Role.WING, (100, 50), rows, controls=moves))
        return model_of(found, 0.305).at(Case(0.0, 0.290, 0.0, 0.0, 1.0)).full

    several = [full(first) for first in range(200, 260, 2)]
    steps = np.diff(several)
    assert steps.max() < 0
    assert steps.min() > 2 * steps.max()
