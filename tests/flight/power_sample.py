"""A wing, a fin and a weight by hand, and things aboard: what lift and power ask for.  SI where it says so."""

from dataclasses import replace
from typing import Any

from foamcut.airframe.motors import with_places
from foamcut.airframe.values import Build, Control, Inputs, Propeller, Role, Station, Surface
from foamcut.flight.figures import Loaded
from foamcut.flight.planform import Cross, Lifting, Planform
from foamcut.flight.values import Aboard, Carried, Model, Setup
from tests.airframe.motors_sample import in_nose, on_wing, twin
from tests.airframe.section_surfaces import BOARD

MM = 0.001


def flat(name: str, role: Role, chords: tuple[float, float], span: float, **changed: Any) -> Surface:
    """A flat surface, mm: span is that of one half, or the height of a fin."""
    rows = (
        Station(key=f"surface.{name}.stations[0]", out_mm=0.0, back_mm=0.0, chord_mm=chords[0]),
        Station(key=f"surface.{name}.stations[1]", out_mm=span, back_mm=0.0, chord_mm=chords[1]),
    )
    values: dict[str, Any] = {
        "key": f"surface.{name}", "name": name, "role": role, "build": Build.FLAT, "material": BOARD,
        "at": (0.0, 0.0), "stations": rows,
    }  # fmt: skip
    return Surface(**values | changed)


def lifting(surface: Surface, **changed: Any) -> Lifting:
    """A surface of straight taper without dihedral, by the textbook formulas."""
    first, last = surface.stations
    sides = 1 if surface.role is Role.FIN else 2
    span, root, tip = sides * last.out_mm * MM, first.chord_mm * MM, last.chord_mm * MM
    area = span * (root + tip) / 2
    taper = tip / root
    mean = 2 / 3 * root * (1 + taper + taper**2) / (1 + taper)
    share = (1 + 2 * taper) / (3 * (1 + taper))
    values: dict[str, Any] = {
        "surface": surface, "area_m2": area, "span_m": span, "aspect_ratio": span**2 / area,
        "mean_chord_m": mean, "leading_m": (surface.at[0] + share * last.back_mm) * MM,
        "out_m": share * last.out_mm * MM, "up_m": surface.at[1] * MM,
        "crosses": tuple(
            Cross(
                leading_m=((surface.at[0] + one.back_mm) * MM, one.out_mm * MM, 0.0),
                chord_m=one.chord_mm * MM, angle_deg=0.0,
            )
            for one in surface.stations
        ),
    }  # fmt: skip
    return Lifting(**values | changed)


def wing(
    half: float = 500.0, chord: float = 200.0, build: Build = Build.FOLDED, back: float = 0.0
) -> Lifting:
    """A plank of a wing, 0.2 m2 as it stands."""
    surface = flat("wing", Role.WING, (chord, chord), half, build=build)
    stations = (surface.stations[0], replace(surface.stations[1], back_mm=back))
    return lifting(replace(surface, stations=stations))


def rudder(throw: float = 25.0, chord: float = 40.0, span: float = 150.0) -> Control:
    return Control(
        key="surface.fin.rudder", word="rudder", from_mm=0.0, to_mm=span, chord_mm=chord, throw_deg=throw
    )


def fin(throw: float = 25.0, chord: float = 100.0, height: float = 150.0, at: float = 700.0) -> Lifting:
    """A rectangular fin with a rudder over its whole height, two fifths deep."""
    controls = (rudder(throw, 0.4 * chord, height),) if throw else ()
    return lifting(flat("fin", Role.FIN, (chord, chord), height, at=(at, 50.0), controls=controls))


def plan(*fins: Lifting, main: Lifting | None = None) -> Planform:
    return Planform(wing=main or wing(), tail=None, fins=fins or (fin(),))


def loaded(mass: float = 800.0, spread: float = 0.1, along: float = 300.0) -> Loaded:
    return Loaded(
        mass_g=mass, low_g=mass * (1 - spread), high_g=mass * (1 + spread), at=(along, 0.0, 40.0),
        along_low_mm=along, along_high_mm=along, target_mm=along, inertia_kg_m2=(0.01, 0.01, 0.02),
    )  # fmt: skip


def propeller(
    key: str = "motor.wing", inches: float = 8, pitch: float | None = 4, **changed: Any
) -> Propeller:
    return Propeller(
        key=f"{key}.propeller", diameter_mm=inches * 25.4,
        pitch_mm=None if pitch is None else pitch * 25.4, **changed,
    )  # fmt: skip


def pair(**changed: Any) -> Inputs:
    """The twin with two motors on its wing."""
    return with_places(twin(on_wing(**{"propeller": propeller()} | changed)))[0]


def single(**changed: Any) -> Inputs:
    """The same model with one motor in its nose."""
    return with_places(twin(in_nose(**{"propeller": propeller("motor.nose")} | changed)))[0]


def model(inputs: Inputs) -> Model:
    return Model(inputs=inputs, cuts=(), standing=(), stocks={})


def aboard(kind: Carried, index: int = 0, **changed: Any) -> Aboard:
    values: dict[str, Any] = {
        "key": f"aboard[{index}]", "name": kind.value, "kind": kind, "at": (150.0, 30.0),
    }  # fmt: skip
    return Aboard(**values | changed)


def battery(index: int = 0, **changed: Any) -> Aboard:
    """Three cells, 2200 mAh, 55 A."""
    values = {"cells": 3, "capacity_mah": 2200.0, "current_limit_a": 55.0}
    return aboard(Carried.BATTERY, index, **values | changed)


def control(index: int = 1, **changed: Any) -> Aboard:
    return aboard(Carried.SPEED_CONTROL, index, **{"current_limit_a": 30.0} | changed)


def setup(*things: Aboard, **changed: Any) -> Setup:
    return Setup(aboard=things, **changed)
