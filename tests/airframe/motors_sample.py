"""The twin that carries plot marker sticks over a salt marsh, as far as its motors ask.  mm."""

from dataclasses import replace
from typing import Any

from foamcut.airframe.values import (
    Body,
    Firewall,
    Inputs,
    Material,
    Motor,
    Nacelle,
    Propeller,
    SideReading,
    Station,
    Surface,
)
from tests.airframe.section_surfaces import BOARD, surface

INCH = 25.4
PLY = Material(name="ply", thickness_mm=1.5, boards_mm=((294.0, 194.0),), fit_mm=0.2)
PLY3 = replace(PLY, name="ply3", thickness_mm=3.0)
WING, NOSE = "motor.wing", "motor.nose"


def wing(dihedral: float = 2.0, back: float = 6.0, tip: float = 162.0, **changed: Any) -> Surface:
    """Half span 552 mm, root chord 204 mm."""
    key = "surface.wing.stations"
    rows = (
        Station(key=f"{key}[0]", out_mm=0.0, back_mm=0.0, chord_mm=204.0, dihedral_deg=dihedral),
        Station(key=f"{key}[1]", out_mm=552.0, back_mm=back, chord_mm=tip),
    )
    return surface(**{"stations": rows, "angle_deg": 1.0, "nose_height_mm": 10.0} | changed)


def body(width: float = 62.0, **changed: Any) -> Body:
    """A body whose front is 60 mm high."""
    rows = ((0.0, 12.0, 72.0), (48.0, 0.0, 84.0), (384.0, 12.0, 84.0), (864.0, 36.0, 66.0))
    side = tuple(
        SideReading(key=f"body.fuselage.side[{i}]", along_mm=x, bottom_mm=low, top_mm=high)
        for i, (x, low, high) in enumerate(rows)
    )
    values: dict[str, Any] = {
        "key": "body.fuselage",
        "name": "fuselage",
        "material": BOARD,
        "width_mm": width,
        "side": side,
    }
    return Body(**values | changed)


def propeller(inches: float, key: str = WING) -> Propeller:
    return Propeller(key=f"{key}.propeller", diameter_mm=inches * INCH)


def firewall(key: str = WING, **changed: Any) -> Firewall:
    values: dict[str, Any] = {"material": PLY, "width_mm": 45.0, "screws_mm": 25.0}
    return Firewall(key=f"{key}.firewall", **values | changed)


def nacelle(width: float = 55.0, length: float = 66.0) -> Nacelle:
    return Nacelle(key=f"{WING}.nacelle", width_mm=width, length_mm=length)


def on_wing(**changed: Any) -> Motor:
    values: dict[str, Any] = {
        "key": WING,
        "name": "wing",
        "on": "wing",
        "on_wing": True,
        "ahead_mm": 40.0,
        "firewall": firewall(),
        "propeller": propeller(8),
        "out_mm": 162.0,
        "nacelle": nacelle(),
    }
    return Motor(**values | changed)


def in_nose(**changed: Any) -> Motor:
    values: dict[str, Any] = {
        "key": NOSE,
        "name": "nose",
        "on": "fuselage",
        "on_wing": False,
        "ahead_mm": 40.0,
        "firewall": firewall(NOSE, material=PLY3, width_mm=62.0),
        "propeller": propeller(8, NOSE),
    }
    return Motor(**values | changed)


def twin(*motors: Motor, **changed: Any) -> Inputs:
    values: dict[str, Any] = {"surfaces": (wing(),), "bodies": (body(),), "motors": motors or (on_wing(),)}
    return Inputs(**values | changed)
