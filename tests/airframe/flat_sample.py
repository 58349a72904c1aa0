"""The tail of a twin that carries plot marker sticks over a salt marsh, and other surfaces of flat board.  mm."""

from typing import Any

from foamcut.airframe.airframe import airframe_parts
from foamcut.airframe.flat_surface import flat_surface_parts
from foamcut.airframe.made import Made
from foamcut.airframe.values import Build, Control, Inputs, Material, Role, Station, Surface
from foamcut.flat.build import build_part
from foamcut.flat.part import Part
from tests.airframe.body_sample import BOARD, PLY, body, stations

T = 5.0


def control(surface: str, word: str, *numbers: float, horn: Material | None = PLY) -> Control:
    """From, to, chord, throw."""
    first, last, chord, throw = numbers
    return Control(
        key=f"surface.{surface}.{word}", word=word, from_mm=first, to_mm=last, chord_mm=chord,
        throw_deg=throw, horn=horn,
    )  # fmt: skip


ELEVATOR = control("tail", "elevator", 6.0, 102.0, 24.0, 20.0)
RUDDER = control("fin", "rudder", 6.0, 90.0, 30.0, 25.0)


def rows(name: str, *several: tuple[float, float, float, float]) -> tuple[Station, ...]:
    """Out, back, chord, dihedral."""
    return stations(f"surface.{name}", *several)


def surface(name: str, role: Role, **more: Any) -> Surface:
    values = {"material": BOARD, "build": Build.FLAT} | more
    return Surface(key=f"surface.{name}", name=name, role=role, **values)


def tail(**more: Any) -> Surface:
    values: dict[str, Any] = {
        "at": (768.0, 54.0),
        "stations": rows("tail", (0.0, 0.0, 84.0, 0.0), (108.0, 9.0, 66.0, 0.0)),
        "controls": (ELEVATOR,),
    } | more
    return surface("tail", Role.STABILISER, **values)


def fin(**more: Any) -> Surface:
    values: dict[str, Any] = {
        "at": (756.0, 72.0),
        "stations": rows("fin", (0.0, 0.0, 96.0, 0.0), (96.0, 30.0, 60.0, 0.0)),
        "controls": (RUDDER,),
    } | more
    return surface("fin", Role.FIN, **values)


def flat_wing(**more: Any) -> Surface:
    values: dict[str, Any] = {
        "at": (240.0, 80.0),
        "stations": rows(
            "wing", (0.0, 0.0, 204.0, 0.0), (300.0, 10.0, 190.0, 6.0), (500.0, 30.0, 140.0, 0.0)
        ),
    } | more
    return surface("wing", Role.WING, **values)


def model(*surfaces: Surface, **more: Any) -> Inputs:
    """The surfaces on the twin's fuselage."""
    return Inputs(surfaces=surfaces, **{"bodies": (body(),)} | more)


def alone(*surfaces: Surface, **more: Any) -> Inputs:
    """The surfaces without a body."""
    return Inputs(surfaces=surfaces, **more)


def made_of(one: Surface, inputs: Inputs | None = None) -> Made:
    return flat_surface_parts(one, inputs or alone(one))


def cut(one: Surface, inputs: Inputs | None = None) -> dict[str, Part]:
    """Every part of a surface as cut, by its name; nothing may have been refused."""
    made = made_of(one, inputs)
    assert made.refusals == ()
    return {part.name: part for drawn in made.parts for part in build_part(drawn)[0]}


def whole(inputs: Inputs) -> tuple[Made, list[Part]]:
    """Everything of a model, and its parts as cut."""
    made = airframe_parts(inputs)
    assert made.refusals == ()
    return made, [part for drawn in made.parts for part in build_part(drawn)[0]]


def refused(one: Surface, inputs: Inputs | None = None) -> dict[str, str]:
    return {refusal.key: refusal.text for refusal in made_of(one, inputs).refusals}


def told(one: Surface, inputs: Inputs | None = None) -> dict[str, str]:
    """Findings: texts by where."""
    return {finding.where: finding.text for finding in made_of(one, inputs).findings}
