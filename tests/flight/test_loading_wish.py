"""The target held against the neutral point: what is told of it, and that no two findings pull apart."""

import re
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamcut.airframe.values import Inputs, Surface
from foamcut.findings import Finding, Level
from foamcut.flight.figures import Report
from foamcut.flight.loading_target import mean_chord_mm
from foamcut.flight.neutral import neutral_of
from foamcut.flight.neutral_margin import LEAST, MOST, NOSE_HEAVY, balance_range_m, margin_at
from foamcut.flight.planform import Planform
from foamcut.flight.report import report
from foamcut.flight.values import Aboard, Carried, Setup, Target, Wishes
from tests.airframe.body_sample import plain
from tests.airframe.flat_sample import fin, flat_wing, tail
from tests.flight.lattice_sample import plan as plan_of
from tests.flight.loading_sample import battery, model, share

ORDINARY = (flat_wing(), tail(), fin())
CANARD = (flat_wing(at=(560.0, 80.0)), tail(at=(60.0, 54.0)), fin())


@cache
def plan_and_points(surfaces: tuple[Surface, ...]) -> tuple[Planform, tuple[float, ...]]:
    plan = plan_of(*surfaces)
    return plan, neutral_of(plan).points_m


def place(surfaces: tuple[Surface, ...], margin: float) -> float:
    """Where along the margin to the lattice's neutral point is that, mm."""
    plan, points = plan_and_points(surfaces)
    return 1000 * (points[0] - margin * plan.wing.mean_chord_m)


def told(
    target: Target | float, balance_mm: float, surfaces: tuple[Surface, ...] = ORDINARY, **more: Any
) -> Report:
    """A model whose balance lies there: a battery of 180 g and 400 g of all else."""
    if isinstance(target, float):
        target = Target(key="balance.target", along_mm=place(surfaces, target))
    at = 200.0
    pack = battery((at, 40.0), size_mm=None, **more)
    rest = (580 * balance_mm - 180 * at) / 400
    block = Aboard(key="aboard[1]", name="block", kind=Carried.OTHER, at=(rest, 40.0), mass_g=400.0)
    radio = Aboard(key="aboard[2]", name="ear", kind=Carried.RECEIVER, at=(balance_mm, 40.0), mass_g=1e-6)
    built = model(Inputs(surfaces=surfaces, bodies=(plain(),)))
    return report(built, Setup(aboard=(pack, block, radio), wishes=Wishes(target=target)))


def of(found: Report, code: str) -> Finding | None:
    several = [one for one in found.findings if one.code == code]
    assert len(several) <= 1, several
    return several[0] if several else None


def ways(found: Report) -> list[str]:
    """Every way in which the balance, or what is moved for it, shall go, by the words of both findings."""
    words = [one.mend for code in ("balance-target", "static-margin") if (one := of(found, code))]
    several = re.findall(r"mm (?:farther )?(back|forward)\b|at the (nose|tail) \(", " ".join(words))
    return ["forward" if way == "forward" or end == "nose" else "back" for way, end in several]


@pytest.mark.parametrize("surfaces", [ORDINARY, CANARD])
@pytest.mark.parametrize(
    ("margin", "level", "word"),
    [
        (-0.10, Level.WARNING, "behind the neutral point"),
        (0.02, Level.WARNING, "which is little"),
        (0.049, Level.WARNING, "which is little"),
        (0.0501, None, ""),
        (0.10, None, ""),
        (0.2499, None, ""),
        (0.26, Level.NOTE, "heavy in the nose"),
    ],
)
def test_the_target_is_judged_by_its_margin(
    surfaces: tuple[Surface, ...], margin: float, level: Level | None, word: str
) -> None:
    found = of(told(margin, place(surfaces, 0.1), surfaces), "balance-wish")
    assert (found.level if found else None) is level
    if found:
        assert found.where == "balance.target"
        assert word in found.text
        assert f"static margin {100 * margin:.1f}".rstrip("0").rstrip(".") in found.value


@pytest.mark.parametrize("surfaces", [ORDINARY, CANARD])
@pytest.mark.parametrize("margin", [-0.3, -0.02, 0.03, 0.3, 0.6])
def test_the_target_that_is_told_is_right(surfaces: tuple[Surface, ...], margin: float) -> None:
    """Put in as it is written, it is told of no more, and its place along is the one that is told."""
    balance_mm = place(surfaces, 0.1)
    found = of(told(margin, balance_mm, surfaces), "balance-wish")
    assert found
    mac = re.search(r'^target = \{ mac = "([\d.]+) %" \}, ([\d.]+) mm along', found.mend)
    along = re.search(r'^target = \{ along = "([\d.]+) mm" \}', found.mend)
    assert (mac is None) is not (along is None)
    if mac:
        again = share(float(mac[1]) / 100)
        leading, chord = mean_chord_mm(plan_and_points(surfaces)[0])
        assert leading + float(mac[1]) / 100 * chord == pytest.approx(float(mac[2]), abs=0.06)
    else:
        assert along
        again = Target(key="balance.target", along_mm=float(along[1]))
    assert of(told(again, balance_mm, surfaces), "balance-wish") is None


def test_a_mark_that_is_the_target_is_named_as_such() -> None:
    """25 % of a wing behind its stabiliser lies behind the neutral point."""
    marked = (replace(CANARD[0], balance=0.25), *CANARD[1:])
    setup = Setup(aboard=(battery(size_mm=None),))
    found = of(report(model(Inputs(surfaces=marked, bodies=(plain(),))), setup), "balance-wish")
    assert found
    assert found.where == "surface.wing.balance"
    assert found.text.startswith("the balance mark on the wing")


@pytest.mark.parametrize("surfaces", [ORDINARY, CANARD])
def test_nothing_is_moved_towards_a_target_that_is_not_stable(surfaces: tuple[Surface, ...]) -> None:
    """A usual balance stays; another is brought to the nearest usual place and it is said so; the number stays."""
    for margin in (0.07, 0.10, 0.14):
        assert of(told(-0.05, place(surfaces, margin), surfaces), "balance-target") is None
    ahead = told(-0.05, place(surfaces, 0.22), surfaces)
    plan, points = plan_and_points(surfaces)
    front = 1000 * balance_range_m(plan.wing, points)[0]
    finding = of(ahead, "balance-target")
    assert finding
    assert "the nearest usual place: its target is not usual" in finding.text
    assert ahead.loaded and ahead.loaded.target_mm == pytest.approx(place(surfaces, -0.05))
    to = re.findall(r"to ([\d.]+) mm along", finding.mend)
    assert (float(to[0]) - 200) * 180 / 580 + ahead.loaded.at[0] == pytest.approx(front, abs=0.25)
    wished = ahead.number("battery_along_target")
    assert wished and (wished.value - 200) * 180 / 580 + ahead.loaded.at[0] == pytest.approx(
        place(surfaces, -0.05), abs=0.01
    )


def test_as_drawn_is_named_where_it_is_usual() -> None:
    found = of(told(-0.05, place(ORDINARY, 0.10)), "balance-wish")
    assert found and "there the balance lies as drawn" in found.mend
    ahead = of(told(-0.05, place(ORDINARY, 0.20)), "balance-wish")
    assert ahead and "as drawn" not in ahead.mend


def test_a_heavy_nose_that_is_wished_is_told_once() -> None:
    """Balance and target both 30 % ahead: a note on the target, none on the balance."""
    found = told(0.30, place(ORDINARY, 0.30))
    codes = [
        one.code for one in found.findings if one.code in ("balance-wish", "balance-target", "static-margin")
    ]
    assert codes == ["balance-wish"]


def test_the_margin_where_the_balance_is_brought_is_told() -> None:
    found = of(told(0.10, place(ORDINARY, -0.10)), "static-margin")
    assert found and found.level is Level.WARNING
    assert re.fullmatch(
        r"at [\d.]+ mm along, where the advice on its target brings it, it has 10 %", found.mend
    )


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from([ORDINARY, CANARD]),
    st.floats(-0.6, 0.8),
    st.floats(-0.6, 0.8),
    st.none() | st.just((150.0, 260.0)),
)
def test_no_two_findings_pull_apart(
    surfaces: tuple[Surface, ...], wished: float, lies: float, slides: tuple[float, float] | None
) -> None:
    """All moves go one way, and none towards a margin under the least."""
    found = told(wished, place(surfaces, lies), surfaces, slides_mm=slides)
    several = ways(found)
    assert len(set(several)) <= 1, (several, found.findings)
    plan, points = plan_and_points(surfaces)
    now = found.loaded
    assert now
    margin = margin_at(plan.wing, points, now.at[0])
    if margin < LEAST:
        assert set(several) == {"forward"}
    if "back" in several:
        assert margin > LEAST


def test_usual_places_are_usual_by_the_lattice_whatever_the_formula_says() -> None:
    """arithmetic: the more forward point, but none more than 10 % before the first."""
    plan, _ = plan_and_points(ORDINARY)
    chord = plan.wing.mean_chord_m
    for other in (0.2, 0.28, 0.30, 0.5):
        front, back = balance_range_m(plan.wing, (0.30, other))
        assert LEAST - 1e-9 <= (0.30 - back) / chord <= MOST + 1e-9
        assert MOST - 1e-9 <= (0.30 - front) / chord <= NOSE_HEAVY + 1e-9
