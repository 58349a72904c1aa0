"""What a design leaves out, or lets weigh much, is said once: things aboard, masses, places, paint."""

import re
from typing import Any

import pytest

from foamcut.airframe.values import Inputs
from foamcut.findings import Finding, Level
from foamcut.flight.figures import Item, Report, Sort
from foamcut.flight.loading import loading_figures
from foamcut.flight.loading_lost import lost_findings
from foamcut.flight.report import report
from foamcut.flight.values import Aboard, Carried, Setup, Target, Weighed, Wishes
from foamcut.units import decimal_text
from tests.airframe.body_sample import plain
from tests.airframe.flat_sample import fin, flat_wing, tail
from tests.airframe.motors_sample import in_nose
from tests.flight.loading_sample import battery, item, items_of, model, now_of, plank, setup, share

STILL = (flat_wing(), tail(controls=()), fin(controls=()))
STEERED = (flat_wing(), tail(), fin())
TAIL_HEAVY = Target(key="balance.target", along_mm=200.0)


def thing(kind: Carried, along: float = 600.0, mass: float = 200.0) -> Aboard:
    return Aboard(key=f"aboard.{kind.value}", name=kind.value, kind=kind, at=(along, 40.0), mass_g=mass)


def of(found: Report, code: str) -> list[Finding]:
    return [one for one in found.findings if one.code == code]


@pytest.mark.parametrize(
    ("surfaces", "motors", "aboard", "words"),
    [
        (STILL, (in_nose(),), (thing(Carried.OTHER),), "no battery is given"),
        (STEERED, (in_nose(),), (thing(Carried.RECEIVER),), "no battery is given"),
        (STEERED, (in_nose(),), (thing(Carried.OTHER),), "no battery, no receiver and no servos are given"),
        (STEERED, (), (thing(Carried.BALLAST),), "no receiver and no servos are given"),
        (STEERED, (in_nose(),), (thing(Carried.BATTERY),), "no receiver and no servos are given"),
        (STEERED, (), (thing(Carried.MOTOR), thing(Carried.SERVO)), "no battery is given"),
        (STEERED, (in_nose(),), (thing(Carried.BATTERY), thing(Carried.SERVO)), ""),
        (STEERED, (), (thing(Carried.RECEIVER),), ""),
        (STILL, (), (thing(Carried.BALLAST),), ""),
    ],
)
def test_what_is_left_out_is_said_once(surfaces: Any, motors: Any, aboard: Any, words: str) -> None:
    """As a note; the balance and its margin are no warning then, and are one otherwise."""
    built = model(Inputs(surfaces=surfaces, bodies=(plain(),), motors=motors))
    found = report(built, Setup(aboard=aboard, wishes=Wishes(target=TAIL_HEAVY)))
    several = of(found, "bare-model")
    levels = {one.level for code in ("balance-target", "static-margin") for one in of(found, code)}
    if not words:
        assert several == []
        assert levels == {Level.WARNING}
        return
    assert [one.level for one in several] == [Level.NOTE]
    assert several[0].where == "aboard"
    assert several[0].text.startswith(f"{words}: weight and balance are those of the bare model")
    assert levels == {Level.NOTE}
    assert of(found, "static-margin") == []


def test_with_nothing_aboard_at_all_it_is_no_worse() -> None:
    """Neither motor nor controls: what there is hangs on parts that were weighed."""
    block = item(300, 400.0)
    now = now_of((block,), setup(), plank())
    found = loading_figures((block,), now, (), model(), setup(), plank()).findings
    assert {one.code: one.level for one in found} == {"bare-model": Level.NOTE, "balance-target": Level.NOTE}
    assert found[0].text.startswith("nothing that is carried is given")


def test_what_the_nose_does_is_worked_out() -> None:
    """Arithmetic: 100 g at 0 mm bring 300 g from 400 mm to 300 mm."""
    block = item(300, 400.0)
    now = now_of((block,), setup(), plank())
    found = loading_figures((block,), now, (), model(), setup(), plank()).findings
    assert "100 g at the nose move the balance 100 mm forward" in found[0].mend


def test_a_model_whose_balance_was_measured_is_whole() -> None:
    block = item(300, 400.0)
    one = setup(weighed=Weighed(model_mass_g=300.0, model_along_mm=400.0))
    found = loading_figures((block,), now_of((block,), one, plank()), (), model(), one, plank()).findings
    assert [(one.code, one.level) for one in found] == [("balance-target", Level.WARNING)]


def test_what_is_no_aeroplane_carries_nothing() -> None:
    block = item(300, 400.0)
    found = loading_figures((block,), now_of((block,), setup(), None), (), model(Inputs()), setup(), None)
    assert found.findings == ()


@pytest.mark.parametrize(("mirrored", "start"), [(False, '"battery" was'), (True, 'each "battery" was')])
def test_a_battery_that_was_not_weighed_is_told(mirrored: bool, start: str) -> None:
    """Arithmetic: 3 x 3.7 V x 2.2 Ah x 7.5 g/Wh = 183.2 g, 6 to 9 g/Wh: 146.5 to 219.8 g."""
    pack = battery(
        mass=None, cells=3, capacity_mah=2200.0, mirrored=mirrored, out_mm=90.0 if mirrored else 0.0
    )
    [found] = of(report(model(), Setup(aboard=(pack, thing(Carried.OTHER)))), "mass-assumed")
    assert (found.level, found.where) == (Level.NOTE, "aboard[0].mass")
    assert found.text.startswith(f"{start} not weighed: 183 g are taken")
    assert (found.value, found.range) == ("183 g", "147 to 220 g")
    assert re.search(r"10 g of it move the balance [\d.]+ mm forward", found.mend)


def test_batteries_that_were_weighed_or_are_not_known_are_not_assumed() -> None:
    several = (battery(), battery(mass=None, cells=3, key="aboard[1]"))
    assert of(report(model(), Setup(aboard=several)), "mass-assumed") == []


def paint(mass: float, along: float | None, key: str = "balance.paint") -> Item:
    more: dict[str, Any] = {"at": None} if along is None else {}
    return item(mass, along or 0.0, key=key, name="paint", sort=Sort.GLUE, **more)


def paint_of(*several: Item) -> list[Finding]:
    """On 500 g that balance at 290 mm; the mean chord is 200 mm."""
    things = (battery((290.0, 40.0), 500.0, size_mm=None), Aboard(
        key="aboard[1]", name="tin", kind=Carried.PAINT, at=(0.0, 0.0), mass_g=0.0
    ))  # fmt: skip
    items = (*items_of(*things[:1]), *several)
    one = setup(*things)
    found = loading_figures(items, now_of(items, one, plank()), (), model(), one, plank()).findings
    return [one for one in found if one.code == "paint-weight"]


@pytest.mark.parametrize(
    ("mass", "along", "words"),
    [
        (26.0, 290.0, ""),  # 4.9 % of the weight
        (27.0, 290.0, "paint weighs 27 g, 5.1 % of the model, and leaves the balance where it is"),
        (10.0, 390.0, ""),  # 10 x 100 / 510 = 1.96 mm, 0.98 % of the chord
        (10.0, 400.0, "paint weighs 10 g, 2 % of the model, and moves the balance by 2.2 mm back"),
        (10.0, 180.0, "paint weighs 10 g, 2 % of the model, and moves the balance by 2.2 mm forward"),
        (30.0, None, "paint weighs 30 g, 5.7 % of the model"),
    ],
)
def test_paint_that_weighs_much_or_moves_the_balance(mass: float, along: float | None, words: str) -> None:
    """Arithmetic: moments over masses, with and without the paint."""
    found = paint_of(paint(mass, along))
    assert len(found) == bool(words)
    if words:
        assert found[0].text.startswith(words)
        assert (found[0].level, found[0].where) == (Level.NOTE, "balance.paint")
        assert f"takes {decimal_text(mass / 2, 0)} g off" in found[0].mend


def test_paint_that_is_carried_counts_as_well() -> None:
    [found] = paint_of(paint(20.0, 290.0), paint(30.0, 290.0, key="aboard[1]"))
    assert found.where == "aboard[1]"
    assert found.text.startswith("paint weighs 50 g, 9.1 % of the model")


def test_a_place_off_the_body_is_not_told() -> None:
    """Arithmetic: 10 g would have to be moved by 410 x 60 / 10 = 2460 mm; from 160 mm 53.3 mm are left."""
    thing_, rest = battery(mass=10.0, slides_mm=(118.0, 160.0)), item(400, 233.0)
    one = setup(thing_, target=share(0.25))
    items = (*items_of(thing_), rest)
    now = now_of(items, one, plank())
    found = loading_figures(items, now, (), model(), one, plank())
    [told] = [one for one in found.findings if one.code == "balance-target"]
    assert re.match(
        r"no place on the model for battery does it alone; [\d.]+ g at the tail \(864 mm along", told.mend
    )
    assert " to " not in told.mend.split(";")[0]
    wished = found.value("battery_along_target")
    assert wished and wished > 864


@pytest.mark.parametrize(("grams_off", "much"), [(0.30, False), (0.60, True)])
def test_ballast_of_half_the_model_asks_for_another_wing(grams_off: float, much: bool) -> None:
    """Arithmetic: at the nose, 290 mm before the target, that share of the weight times 290 mm of the offset."""
    block = item(400, 290.0 * (1 + grams_off))
    one = setup()
    [told] = [
        one
        for one in loading_figures(
            (block,), now_of((block,), one, plank()), (), model(), one, plank()
        ).findings
        if one.code == "balance-target"
    ]
    assert told.mend.startswith(f"{400 * grams_off:g} g at the nose")
    assert (
        f"{100 * grams_off:g} % of what the model weighs: rather the wing farther back" in told.mend
    ) is much


def test_parts_without_a_place_are_told_once_with_what_they_could_do() -> None:
    """Arithmetic: 40 g of 340 g; at the nose 40 x 300 / 340 = 35.3 mm."""
    part = item(40, 0, at=None, key="parts.scoop", name="scoop", sort=Sort.BOARD)
    items = (item(300, 300.0), part)
    now = now_of(items, setup(), plank())
    [found] = lost_findings(items, now, model(), plank())
    assert (found.code, found.where) == ("mass-no-place", "parts.scoop.place")
    assert (
        '40 g of 340 g have no place and stand in no balance, and no glue is counted there: "scoop"'
        in found.text
    )
    assert "35.3 mm forward" in found.text
    assert found.mend.startswith("give each part a place") and "say where" not in found.mend
    tin = item(60, 0, at=None, key="aboard[0]", name="tin")
    [both] = lost_findings((*items, tin), now, model(), plank())
    assert both.where == "aboard[0]" and both.mend.endswith("; say where it lies (at)")


def test_of_many_parts_without_a_place_some_are_named() -> None:
    several = tuple(item(9, 0, at=None, key=f"parts.p{i}", name=f"p{i}", sort=Sort.BOARD) for i in range(9))
    [found] = lost_findings(several, None, model(), plank())
    assert '"p5" and 3 more' in found.text
    assert found.value == "81 g"
    assert "at the nose" not in found.text
    assert list(lost_findings((), None, model(), None)) == []
