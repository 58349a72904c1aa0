"""The model's surfaces: closed, of the board's own volume, where the places say (trimesh reads them)."""

import math

import numpy as np
import pytest
import trimesh

from foamcut.airframe.made import Shell
from foamcut.airframe.model import Mesh, model_meshes
from foamcut.flat.build import build_part
from foamcut.flat.drawn import Hand
from tests.airframe.box_body import AFT, HEIGHT, INSIDE, LENGTH, RIGHT, UP, T, box_with, built, drawn
from tests.strategies import fold, hole, panel, readings, rectangle


def read(mesh: Mesh) -> trimesh.Trimesh:
    return trimesh.Trimesh(mesh.vertices, mesh.triangles, process=False)


def by_name(parts, shells=()) -> dict[str, trimesh.Trimesh]:
    return {mesh.name: read(mesh) for mesh in model_meshes(parts, shells)}


def test_every_part_of_a_box_is_closed_and_as_large_as_its_board():
    """Volume = area x thickness (arithmetic), also with slots and tabs; surfaces look outwards."""
    parts = box_with()
    meshes = by_name(parts)
    assert list(meshes) == [part.name for part in parts]
    for part in parts:
        mesh = meshes[part.name]
        assert mesh.is_watertight and mesh.is_winding_consistent
        assert mesh.volume == pytest.approx(part.outline.polygon.area * T, rel=1e-9)


def test_boards_lie_behind_their_drawn_faces():
    """arithmetic: the inner faces are drawn, so that the sides stand from 25 to 30 mm off the middle."""
    meshes = by_name(box_with())
    assert meshes["side-right"].bounds == pytest.approx(
        np.array([[0, INSIDE, 0], [LENGTH, INSIDE + T, HEIGHT]])
    )
    assert meshes["side-left"].bounds == pytest.approx(
        np.array([[0, -INSIDE - T, 0], [LENGTH, -INSIDE, HEIGHT]])
    )
    assert meshes["floor"].bounds[:, 2] == pytest.approx([0, T])
    assert meshes["deck"].bounds[:, 2] == pytest.approx([HEIGHT - T, HEIGHT])


def test_a_folded_part_stands_folded_and_closed():
    """A trough of a 60 mm floor and 40 mm walls on its outer paper is 60 wide and 40 high (arithmetic)."""
    shape = readings((0, -70), (300, -70), (300, 70), (0, 70))
    folds = (
        fold(0, "groove", (0.0, 30.0), (300.0, 30.0)),
        fold(1, "groove", (300.0, -30.0), (0.0, -30.0)),
    )
    (mesh,) = by_name(built([drawn("trough", shape, (0.0, 0.0, T), AFT, RIGHT, folds=folds)])).values()
    assert mesh.bounds == pytest.approx(np.array([[0, -30, 0], [300, 30, 40]]))
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(300 * (60 * T + 2 * (40 - T) * T))


def cylinder(radius: float, *, feather: bool = False) -> Shell:
    """A quarter of a tube about the y axis, out from y = 10 to 110; the inner paper T inside it."""
    turn = np.radians(np.linspace(0, 90, 46))
    y = np.linspace(10.0, 110.0, 5)
    thick = np.where(np.arange(46) == 45, 0.0, T) if feather else np.full(46, T)

    def paper(r: np.ndarray) -> np.ndarray:
        round_it = np.column_stack([r * np.cos(turn), np.zeros(46), r * np.sin(turn)])
        return round_it[:, None, :] + np.array([0.0, 1.0, 0.0]) * y[None, :, None]

    return Shell(part="skin", outer=paper(np.full(46, radius)), inner=paper(radius - thick))


def skin(**more):
    shape = rectangle(100.0, 90.0)
    return built([drawn("skin", shape, (0.0, 10.0, 0.0), RIGHT, UP, pair=Hand.RIGHT, **more)])


@pytest.mark.parametrize("feather", [False, True])
def test_a_bent_skin_has_the_shape_of_its_shell_on_both_sides(feather):
    """arithmetic: a quarter tube of outer radius R holds pi (R^2 - (R - t)^2) / 4 a millimetre."""
    radius = 60.0
    meshes = by_name(skin(), [cylinder(radius, feather=feather)])
    full = math.pi * (radius**2 - (radius - T) ** 2) / 4 * 100.0
    for mesh in meshes.values():
        assert mesh.is_watertight and mesh.volume > 0
        assert mesh.volume == pytest.approx(full, rel=0.001 if not feather else 0.02)
    right, left = meshes["skin-right"], meshes["skin-left"]
    assert right.bounds[:, 1] == pytest.approx([10.0, 110.0])
    assert left.bounds[:, 1] == pytest.approx([-110.0, -10.0])


def test_an_opening_is_cut_through_a_bent_skin():
    """A hole where the flat panel lies against the shell takes pi d^2 / 4 x t of it (arithmetic)."""
    flat = np.array([[[0.0, y, z] for y in (10.0, 110.0)] for z in (0.0, 90.0)])
    parts = skin(cutouts=(hole(0, (50.0, 45.0), 20.0),))
    # the drawn face (x right, y up) looks aft, so that the board lies before it
    shell = Shell(part="skin", outer=flat - [T, 0, 0], inner=flat)
    for mesh in by_name(parts, [shell]).values():
        assert mesh.is_watertight
        assert mesh.volume == pytest.approx(T * (9000.0 - math.pi * 100.0), rel=1e-4)


def test_a_part_without_a_place_is_left_out():
    assert model_meshes(build_part(panel())[0], ()) == ()


@pytest.mark.parametrize("ys", [(-20.0, 20.0), (-20.0, 0.0, 20.0)], ids=["strip", "sheet"])
def test_an_opening_of_a_bent_board_lies_where_the_board_bends_to(ys):
    """A board of 5 mm, its middle bent round a quarter circle of 100 mm: a hole a third of the way along it lies
    30 degrees round, whatever the flat part says (arithmetic); nothing of the hole's rim is left in the board."""
    turns = np.radians(np.linspace(0.0, 90.0, 91))

    def paper(radius: float) -> np.ndarray:
        x, z = radius * np.sin(turns), 100.0 - radius * np.cos(turns)
        return np.stack([np.stack([x, np.full_like(x, y), z], axis=1) for y in ys], axis=1)

    long = 100.0 * math.pi / 2
    shape = readings((0, -20), (long, -20), (long, 20), (0, 20))
    strip = drawn("strip", shape, (0.0, 0.0, T / 2), AFT, RIGHT, cutouts=(hole(0, (long / 3, 0.0), 12.0),))
    shell = Shell(part="strip", outer=paper(100.0 + T / 2), inner=paper(100.0 - T / 2))
    (mesh,) = by_name(built([strip]), [shell]).values()
    assert mesh.is_watertight
    whole = math.pi / 4 * ((100.0 + T / 2) ** 2 - (100.0 - T / 2) ** 2) * 40.0
    assert mesh.volume == pytest.approx(whole - math.pi * 36.0 * T, rel=0.002)
    turn = math.radians(30.0)
    middle = np.array([100.0 * math.sin(turn), 0.0, 100.0 - 100.0 * math.cos(turn)])
    assert np.linalg.norm(mesh.vertices - middle, axis=1).min() == pytest.approx(
        math.hypot(6.0, T / 2), abs=0.3
    )
