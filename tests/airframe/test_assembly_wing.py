"""Wings on saddles and propellers beside board, put together by hand and planted with faults.

Every amount is arithmetic: the number by which something was moved.
"""

import math

import numpy as np
import pytest

from foamcut.airframe import assembly
from foamcut.airframe.fit_discs import disc_findings
from foamcut.airframe.made import Shell
from foamcut.airframe.meets import Disc
from foamcut.airframe.model import assembled
from foamcut.airframe.values import Build, Inputs, Material, Role, Station, Surface
from foamcut.findings import Level
from foamcut.flat.drawn import Hand
from tests.airframe.box_body import AFT, INSIDE, RIGHT, UP, T, box_with, built, drawn
from tests.strategies import readings, rectangle

BOARD = Material(name="board", thickness_mm=T, boards_mm=((694.0, 494.0),), fit_mm=0.2)
CHORD, HALF_SPAN, ANGLE = 120.0, 300.0, 2.0
NOSE = (30.0, 60.0)  # underside of the wing's nose at the root, x and z


def inputs() -> Inputs:
    stations = tuple(
        Station(key=f"s{i}", out_mm=out, back_mm=0.0, chord_mm=CHORD)
        for i, out in enumerate((0.0, HALF_SPAN))
    )
    wing = Surface(
        key="surface.wing", name="wing", role=Role.WING, build=Build.FOLDED, material=BOARD,
        at=NOSE, stations=stations, angle_deg=ANGLE,
    )  # fmt: skip
    return Inputs(surfaces=(wing,))


def wing_shell(*, higher: float = 0.0, turned: float = 0.0) -> Shell:
    """Lower skin flat, a nose 20 mm high, the upper skin straight to the trailing edge, feathered there."""
    outer = np.array([(CHORD, 0), (80, 0), (40, 0), (0, 0), (0, 20), (40, 18), (80, 12), (CHORD, 5)], float)
    inner = np.array([(CHORD, 5), (80, 5), (40, 5), (5, 5), (5, 15), (40, 13), (80, 7), (CHORD, 5)], float)
    a = math.radians(ANGLE + turned)

    def placed(section: np.ndarray) -> np.ndarray:
        c, n = section.T
        x = NOSE[0] + c * math.cos(a) + n * math.sin(a)
        z = NOSE[1] + higher - c * math.sin(a) + n * math.cos(a)
        ys = np.array([0.0, 100.0, HALF_SPAN])
        return np.stack([np.stack([x, np.full_like(x, y), z], axis=1) for y in ys], axis=1)

    return Shell(part="wing-skin", outer=placed(outer), inner=placed(inner))


def low(x: float) -> float:
    """z of the wing's lower paper, by hand."""
    return NOSE[1] - (x - NOSE[0]) * math.tan(math.radians(ANGLE))


def parts(**more):
    """A side cut along the wing's lower paper and higher before it, and the wing's skin."""
    x0, x1 = NOSE[0], NOSE[0] + CHORD * math.cos(math.radians(ANGLE))
    outline = readings((0, 0), (200, 0), (200, 50), (x1, low(x1)), (x0, low(x0)), (x0 - 1, 75), (0, 75))
    side = drawn("side", outline, (0.0, INSIDE, 0.0), AFT, UP, pair=Hand.RIGHT)
    skin = drawn(
        "wing-skin", rectangle(270.0, 300.0), (NOSE[0], 0.0, NOSE[1] + T), AFT, RIGHT, pair=Hand.RIGHT
    )
    return built([side, skin])


def findings(shell: Shell):
    return assembly.fit_findings(parts(), (shell,), inputs())


def test_a_wing_on_its_saddle_fits():
    assert findings(wing_shell()) == ()


@pytest.mark.parametrize(("higher", "words"), [(2.0, "is 2 mm off"), (-1.2, "goes 1.2 mm into")])
def test_a_wing_off_its_saddle_is_told_with_the_gap(higher, words):
    """Raised by 2 mm it hangs 2 mm x cos 2 deg = 2.00 mm over the saddle; told once for both sides."""
    (saddle,) = [f for f in findings(wing_shell(higher=higher)) if f.code == "fit-saddle"]
    assert saddle.where == "parts.side"
    assert words in saddle.text


def test_a_wing_at_another_angle_gapes_at_one_end():
    """One degree more over the chord: 120 mm x tan 1 deg = 2.09 mm at the trailing edge, measured 4 mm before."""
    (saddle,) = [f for f in findings(wing_shell(turned=-1.0)) if f.code == "fit-saddle"]
    assert float(saddle.value.split()[0]) == pytest.approx(116.0 * math.tan(math.radians(1.0)), abs=0.1)


def test_a_side_that_reaches_into_the_wing_passes_through_it():
    """Lowered by 4 mm, the wing's lower skin goes 4 mm into both sides."""
    (through,) = [f for f in findings(wing_shell(higher=-4.0)) if f.code == "fit-through"]
    assert "side-" in through.text and "wing-skin-" in through.text
    assert float(through.value.split()[0]) == pytest.approx(4.0, abs=0.05)


def test_bent_halves_that_meet_on_the_centre_plane_do_not_clash():
    assert [f for f in findings(wing_shell()) if f.code == "fit-through"] == []


def disc(x: float, y: float, diameter: float, **more) -> Disc:
    return Disc(
        key="motor.nose", name="nose", middle=(x, y, 40.0), forwards=(-1.0, 0.0, 0.0), diameter_mm=diameter, **more
    )  # fmt: skip


@pytest.mark.parametrize(
    ("ahead", "level", "value"),
    [(6.0, None, ""), (3.0, Level.WARNING, "3 mm"), (0.0, Level.STOP, "0 mm"), (-10.0, Level.STOP, "0 mm")],
)
def test_a_propeller_before_the_nose(ahead, level, value):
    """A disc 6 mm before the body is clear, at 3 mm it is close, from 0 on it strikes."""
    model = assembled(box_with(), ())
    several = list(disc_findings(model, [disc(-ahead, 0.0, 150.0)]))
    if level is None:
        assert several == []
    else:
        assert {f.code for f in several} == {"propeller-close"} and {f.where for f in several} == {
            "motor.nose"
        }
        first = next(f for f in several if "side-right" in f.text)
        assert (first.level, first.value) == (level, value)
        assert not any("side-left" in f.text for f in several)


def test_a_turned_disc_comes_close_at_its_tip():
    """Turned 10 degrees right about its middle 20 mm ahead, a tip 75 mm out lies 20 - 75 sin 10 = 6.98 mm ahead;
    the side ends 30 mm out: there the disc is 20 - 30 tan 10 = 14.7 mm ahead."""
    turn = math.radians(10.0)
    leaning = Disc(
        key="motor.nose", name="nose", middle=(-20.0, 0.0, 40.0),
        forwards=(-math.cos(turn), math.sin(turn), 0.0), diameter_mm=150.0,
    )  # fmt: skip
    assert list(disc_findings(assembled(box_with(), ()), [leaning])) == []
    wide = drawn("plate", rectangle(20.0, 200.0), (-4.0, -100.0, 42.0), AFT, RIGHT)
    (close,) = disc_findings(assembled(box_with(wide), ()), [leaning])
    expected = 20.0 - 75.0 * math.sin(turn) - 4.0
    assert "plate" in close.text
    assert float(close.value.split()[0]) == pytest.approx(expected, abs=0.1)


def test_two_propellers_that_reach_each_other():
    """Discs of 150 mm on axes 140 mm apart overlap; on axes 153 mm apart they pass 3 mm from each other."""
    near = list(disc_findings((), [disc(-50.0, 70.0, 150.0), disc(-50.0, -70.0, 150.0)]))
    assert [f.level for f in near] == [Level.STOP]
    close = list(disc_findings((), [disc(-50.0, 76.5, 150.0), disc(-50.0, -76.5, 150.0)]))
    assert [(f.level, f.value) for f in close] == [(Level.WARNING, "3 mm")]
    assert list(disc_findings((), [disc(-50.0, 78.0, 150.0), disc(-50.0, -78.0, 150.0)])) == []


def test_discs_of_the_motors_are_looked_at(monkeypatch):
    """What the whole check sees of motors is what `discs` gives."""
    monkeypatch.setattr(assembly, "discs", lambda _: (disc(-2.0, 0.0, 100.0),))
    assert {f.code for f in assembly.fit_findings(box_with(), (), Inputs())} == {"propeller-close"}
