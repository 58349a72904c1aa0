"""Things that are bought and carried, as boxes and discs on the model, so that a step can show them.  mm."""

import math
from collections.abc import Iterator

import numpy as np

from foamcut.airframe.model import Mesh
from foamcut.airframe.motors import discs
from foamcut.airframe.planform import panel_beside
from foamcut.airframe.values import Servo
from foamcut.book.facts import Facts
from foamcut.flight.values import Aboard, Carried

#: corners and faces of a box; a servo is about as deep as it is long (common practice, no source)
_CORNERS = np.array([[x, y, z] for x in (-0.5, 0.5) for y in (-0.5, 0.5) for z in (-0.5, 0.5)])
_FACES = np.array(
    [
        [0, 1, 3], [0, 3, 2], [4, 6, 7], [4, 7, 5], [0, 4, 5], [0, 5, 1],
        [2, 3, 7], [2, 7, 6], [0, 2, 6], [0, 6, 4], [1, 5, 7], [1, 7, 3],
    ]
)  # fmt: skip
#: a motor as a short drum before its firewall: its diameter as a share of the propeller's (no source)
_DRUM_SHARE, _DRUM_LONG_MM, _SIDES = 0.14, 22.0, 16

#: kinds of things by the step that fits them
OF_STEP = {
    "motors": ("motor", "control"),
    "bench": ("motor", "control"),
    "servos": ("servo", "receiver", "load"),
    "battery": ("battery",),
    "inside": ("servo", "receiver", "control", "battery", "load"),
    "dowels": ("dowel",),
}


def thing_meshes(facts: Facts) -> tuple[Mesh, ...]:
    """Boxes of what is aboard and drums of motors; `stock` says of what kind each is."""
    found: list[Mesh] = []
    for one in facts.setup.aboard:
        kind = {
            Carried.BATTERY: "battery",
            Carried.SPEED_CONTROL: "control",
            Carried.RECEIVER: "receiver",
            Carried.SERVO: "servo",
            Carried.MOTOR: "motor",
            Carried.BALLAST: "load",
            Carried.OTHER: "load",
        }.get(one.kind)
        if kind is not None and one.size_mm is not None:
            found += (_box(f"{one.key}[{i}]", kind, at, one.size_mm) for i, at in enumerate(_places(one)))
    for servo in facts.inputs.servos:
        found += _servo(servo, facts)
    for i, disc in enumerate(discs(facts.inputs)):
        size = disc.diameter_mm * _DRUM_SHARE / 2, _DRUM_LONG_MM
        found.append(_drum(f"motor[{i}]", "motor", disc.middle, disc.forwards, size))
    for dowel in facts.inputs.dowels:
        body = next((one for one in facts.inputs.bodies if one.name == dowel.on), None)
        if body is None:
            continue
        long = body.width_mm + 2 * dowel.proud_mm
        for i, (x, z) in enumerate(dowel.at):
            end = (x, long / 2, z)
            found.append(
                _drum(f"{dowel.key}[{i}]", "dowel", end, (0.0, 1.0, 0.0), (dowel.diameter_mm / 2, long))
            )
    return tuple(found)


def _places(one: Aboard) -> list[tuple[float, float, float]]:
    sides = (1.0, -1.0) if one.mirrored else (1.0,)
    return [(one.at[0], side * one.out_mm, one.at[1]) for side in sides]


def _servo(servo: Servo, facts: Facts) -> Iterator[Mesh]:
    """Its box: half its depth to each side of the panel that it sits in; in a surface one in each half."""
    long, wide = servo.size_mm
    surface = facts.inputs.surface(servo.on[0])
    if surface is not None:
        panel, s = panel_beside(surface, abs(servo.at[1]))
        z = panel.point(0.0, s, 0.0)[2]
        for i, side in enumerate((1.0, -1.0)):
            yield _box(
                f"{servo.key}[{i}]", "servo", (servo.at[0], side * abs(servo.at[1]), z), (long, wide, long)
            )
        return
    body = next((one for one in facts.inputs.bodies if one.name == servo.on[0]), None)
    if body is None:
        return
    along, other = servo.at
    tops = [(one.along_mm, one.top_mm, one.bottom_mm) for one in body.side]
    xs = [one[0] for one in tops]
    top = float(np.interp(along, xs, [one[1] for one in tops]))
    bottom = float(np.interp(along, xs, [one[2] for one in tops]))
    half = body.width_mm / 2
    if servo.on[1] == "side":
        for i, side in enumerate((1.0, -1.0)):
            yield _box(f"{servo.key}[{i}]", "servo", (along, side * half, other), (long, long, wide))
    else:
        z = bottom if servo.on[1] == "floor" else top
        yield _box(f"{servo.key}[0]", "servo", (along, other, z), (long, wide, long))


def _box(key: str, kind: str, at: tuple[float, float, float], size: tuple[float, float, float]) -> Mesh:
    vertices = np.round(_CORNERS * np.array(size) + np.array(at), 6)
    return Mesh(name=f"thing {key}", stock=kind, vertices=vertices, triangles=_FACES)


def _drum(
    key: str,
    kind: str,
    end: tuple[float, float, float],
    forwards: tuple[float, float, float],
    size: tuple[float, float],
) -> Mesh:
    """A drum of a radius and length behind the middle of its front end."""
    way, (radius, long) = np.array(forwards), size
    across = np.cross(way, np.array([0.0, 0.0, 1.0]))
    across = across / max(float(np.linalg.norm(across)), 1e-9)
    up = np.cross(across, way)
    turns = [2 * math.pi * i / _SIDES for i in range(_SIDES)]
    ring = np.array([radius * (math.cos(a) * across + math.sin(a) * up) for a in turns])
    front = np.array(end)
    vertices = np.concatenate([ring + front, ring + front - long * way, [front, front - long * way]])
    n = _SIDES
    faces = []
    for i in range(n):
        j = (i + 1) % n
        faces += [[i, j, 2 * n], [n + j, n + i, 2 * n + 1], [i, n + i, n + j], [i, n + j, j]]
    triangles = np.array(faces)
    return Mesh(
        name=f"thing {key}",
        stock=kind,
        vertices=np.round(vertices, 6),
        triangles=_outwards(vertices, triangles),
    )


def _outwards(vertices: np.ndarray, triangles: np.ndarray) -> np.ndarray:
    """The triangles seen counter-clockwise from outside."""
    corner = vertices[triangles]
    volume = np.einsum("ij,ij->", corner[:, 0], np.cross(corner[:, 1], corner[:, 2]))
    return triangles if volume > 0 else triangles[:, ::-1]
