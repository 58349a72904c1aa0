"""The fuselage of a twin that carries plot marker sticks over a salt marsh, and what it carries.  mm."""

from typing import Any

import numpy as np

from foamcut.airframe.body import body_parts
from foamcut.airframe.made import Made
from foamcut.airframe.values import (
    Body,
    BodyBuild,
    Build,
    Dowel,
    Former,
    Inputs,
    Material,
    Role,
    Servo,
    SideReading,
    Spar,
    Station,
    Surface,
)
from foamcut.flat.build import build_part
from foamcut.flat.panels import Folded, Pose, fold_up
from foamcut.flat.part import Part

T, WIDTH = 5.0, 62.0
BOARD = Material(name="board", thickness_mm=T, boards_mm=((694.0, 494.0),), fit_mm=0.2)
PLY = Material(name="ply", thickness_mm=1.5, boards_mm=((294.0, 194.0),), fit_mm=0.2)
READINGS = ((0.0, 12.0, 24.0), (48.0, 0.0, 84.0), (384.0, 12.0, 84.0), (864.0, 36.0, 66.0))
STRAIGHT = ((0.0, 0.0, 24.0), (48.0, 0.0, 84.0), (384.0, 0.0, 84.0), (864.0, 0.0, 66.0))
KEY = "body.fuselage"


def side(*readings: tuple[float, float, float]) -> tuple[SideReading, ...]:
    return tuple(
        SideReading(key=f"{KEY}.side[{i}]", along_mm=x, bottom_mm=low, top_mm=top)
        for i, (x, low, top) in enumerate(readings)
    )


def former(i: int, at: float, **more: Any) -> Former:
    return Former(key=f"{KEY}.formers[{i}]", at_mm=at, **more)


def body(readings: tuple[tuple[float, float, float], ...] = READINGS, **more: Any) -> Body:
    values: dict[str, Any] = {
        "material": BOARD,
        "width_mm": WIDTH,
        "formers": (former(0, 60.0), former(1, 228.0, opening_mm=(42.0, 30.0)), former(2, 456.0)),
        "deck_mm": (456.0, 864.0),
        "hatch_mm": (60.0, 228.0),
        "nose_doubler_mm": (0.0, 228.0),
        "straps_mm": (114.0, 162.0),
        "cooling_in_mm": (24.0, 12.0),
        "cooling_out_mm": (600.0, 18.0),
    } | more
    return Body(key=KEY, name="fuselage", side=side(*readings), **values)


def plain(readings: tuple[tuple[float, float, float], ...] = READINGS, **more: Any) -> Body:
    """A body without anything that is not asked for."""
    values: dict[str, Any] = {
        "formers": (), "deck_mm": None, "hatch_mm": None, "nose_doubler_mm": None, "straps_mm": (),
        "cooling_in_mm": None, "cooling_out_mm": None,
    }  # fmt: skip
    return body(readings, **values | more)


def trough(**more: Any) -> Body:
    return body(STRAIGHT, build=BodyBuild.TROUGH, **more)


def stations(key: str, *rows: tuple[float, float, float, float]) -> tuple[Station, ...]:
    return tuple(
        Station(key=f"{key}.stations[{i}]", out_mm=out, back_mm=back, chord_mm=chord, dihedral_deg=rise)
        for i, (out, back, chord, rise) in enumerate(rows)
    )


def wing(**more: Any) -> Surface:
    key = "surface.wing"
    values: dict[str, Any] = {
        "at": (240.0, 54.0),
        "angle_deg": 1.0,
        "build": Build.FOLDED,
        "nose_height_mm": 10.0,
        "stations": stations(key, (0.0, 0.0, 204.0, 2.0), (552.0, 6.0, 162.0, 0.0)),
        "spar": Spar(key=f"{key}.spar", material=BOARD, layers=2, width_mm=25.0, behind_mm=36.0),
    } | more
    return Surface(key=key, name="wing", role=Role.WING, material=BOARD, **values)


def tail(**more: Any) -> Surface:
    key = "surface.tail"
    values: dict[str, Any] = {
        "at": (768.0, 54.0),
        "stations": stations(key, (0.0, 0.0, 84.0, 0.0), (216.0, 6.0, 66.0, 0.0)),
    } | more
    return Surface(key=key, name="tail", role=Role.STABILISER, build=Build.FLAT, material=BOARD, **values)


def dowels(*at: tuple[float, float]) -> tuple[Dowel, ...]:
    return (Dowel(key="dowel[0]", on="fuselage", at=at, diameter_mm=6.0, proud_mm=12.0),)


def servo(word: str, at: tuple[float, float]) -> Servo:
    return Servo(key="servo[0]", drives="rudder", on=("fuselage", word), at=at, size_mm=(23.0, 12.0))


def twin(one: Body | None = None, **more: Any) -> Inputs:
    values: dict[str, Any] = {
        "surfaces": (wing(), tail()),
        "dowels": dowels((216.0, 42.0), (468.0, 42.0)),
        "servos": (servo("deck", (672.0, 0.0)),),
    } | more
    return Inputs(bodies=(one or body(),), **values)


def bare(one: Body, **more: Any) -> Inputs:
    return Inputs(bodies=(one,), **more)


def made_of(inputs: Inputs) -> Made:
    return body_parts(inputs.bodies[0], inputs)


def built(inputs: Inputs) -> dict[str, Part]:
    """Every part as cut, by its name; nothing may have been refused."""
    made = made_of(inputs)
    assert made.refusals == ()
    return {part.name: part for drawn in made.parts for part in build_part(drawn)[0]}


def refusals(inputs: Inputs) -> dict[str, str]:
    """What is refused: texts by key."""
    return {refusal.key: refusal.text for refusal in made_of(inputs).refusals}


def folded(part: Part) -> tuple[Folded, np.ndarray]:
    """A part folded up, and the (4, 4) matrix of where it sits on the model."""
    place = part.place
    assert place is not None
    return fold_up(part), Pose(at=place.at, x=place.x, y=place.y).matrix


def on_model(part: Part, points: Any, behind_mm: float = 0.0) -> np.ndarray:
    """Points (x, y) of a part without folds on the model; `behind_mm` under the drawn face."""
    _, matrix = folded(part)
    rows = [(x, y, -behind_mm, 1.0) for x, y in points]
    return (np.array(rows) @ matrix.T)[:, :3]
