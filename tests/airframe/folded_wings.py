"""Folded wings of the salt-marsh station for tests, and their parts as cut.  mm, degrees."""

from dataclasses import replace
from typing import Any

import numpy as np

from foamcut.airframe.folded_piece import Piece
from foamcut.airframe.folded_surface import folded_surface_parts
from foamcut.airframe.made import Made
from foamcut.airframe.model import assembled
from foamcut.airframe.planform import panels
from foamcut.airframe.values import Body, Control, Inputs, Joiner, Material, Station, Surface
from foamcut.flat.build import build_part
from foamcut.flat.part import Part
from tests.airframe import body_sample
from tests.airframe.section_surfaces import BOARD, KEY, spar, stations, surface

USABLE = replace(BOARD, boards_mm=((694.0, 494.0),))
PLY = Material(name="ply", thickness_mm=2.0, boards_mm=((294.0, 194.0),), fit_mm=0.1)
CARD = Material(name="card", thickness_mm=1.0, boards_mm=((294.0, 194.0),), fit_mm=0.1)
STRAIGHT = ((0.0, 0.0, 204.0), (552.0, 0.0, 204.0))
TWIN = ((0.0, 0.0, 204.0), (552.0, 6.0, 162.0))


def raised(rows: tuple[tuple[float, float, float], ...], *dihedral: float) -> tuple[Station, ...]:
    made = stations(*rows)
    angles = (*dihedral, *([dihedral[-1]] * (len(made) - len(dihedral))))
    return tuple(replace(one, dihedral_deg=g) for one, g in zip(made, angles, strict=True))


def wing(rows: tuple[tuple[float, float, float], ...] = TWIN, *dihedral: float, **more: Any) -> Surface:
    values: dict[str, Any] = {
        "material": USABLE,
        "stations": raised(rows, *(dihedral or (0.0,))),
        "spar": spar(material=USABLE),
    }
    return surface(**values | more)


def aileron(**more: Any) -> Control:
    values: dict[str, Any] = {
        "key": f"{KEY}.aileron", "word": "aileron", "from_mm": 276.0, "to_mm": 528.0, "chord_mm": 48.0,
        "throw_deg": 20.0, "horn": None,
    }  # fmt: skip
    return Control(**values | more)


def joiner(**more: Any) -> Joiner:
    values: dict[str, Any] = {"key": f"{KEY}.joiner", "material": PLY, "count": 2, "length_mm": 160.0}
    return Joiner(**values | more)


def made_of(one: Surface, **more: Any) -> Made:
    return folded_surface_parts(one, Inputs(surfaces=(one,), **more))


def piece_of(one: Surface) -> Piece:
    panel = panels(one)[0]
    return Piece(surface=one, panel=panel, first_mm=panel.first.out_mm, last_mm=panel.last.out_mm)


def built(made: Made) -> dict[str, Part]:
    """Every part as cut, by its name; nothing may have been refused."""
    assert made.refusals == ()
    return {part.name: part for drawn in made.parts for part in build_part(drawn)[0]}


def corners_on_model(made: Made, part: Part) -> np.ndarray:
    """The corners of both faces of every folded panel as it stands on the model, (n, 3)."""
    found = []
    for board in assembled([part], made.shells)[0].boards:
        ring = np.array(board.panel.outline.rings()[0])
        for z in (0.0, -part.thickness_mm):
            rows = np.column_stack([ring, np.full(len(ring), z), np.ones(len(ring))])
            found.append((rows @ board.matrix.T)[:, :3])
    return np.concatenate(found)


def largest_miss(made: Made, part: Part, rows: slice = slice(None)) -> float:
    """How far the corners of the computed outer paper lie off the nearest corner of the folded part."""
    corners = corners_on_model(made, part)
    (shell,) = [one for one in made.shells if part.name.startswith(one.part)]
    ends = shell.outer[rows][:, [0, -1]].reshape(-1, 3)
    return max(float(np.linalg.norm(corners - at, axis=1).min()) for at in ends)


def place_of(part: Part, x: float = 0.0, y: float = 0.0) -> np.ndarray:
    assert part.place is not None
    return np.array(part.place.at) + x * np.array(part.place.x) + y * np.array(part.place.y)


def size(part: Part) -> tuple[float, float]:
    x0, y0, x1, y1 = part.outline.bounds
    return x1 - x0, y1 - y0


def boxed(**more: Any) -> Body:
    """A plain body, its bottom and its top straight over the wing."""
    return body_sample.plain(body_sample.STRAIGHT, **more)
