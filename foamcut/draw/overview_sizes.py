"""The main sizes of a model: between which points, on which view, and what is written.

Points are on the model, mm.  What is written is the size at full scale and, in brackets, what the sketch's
ruler reads for it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from foamcut.airframe.meets import Disc
from foamcut.airframe.model import Mesh
from foamcut.airframe.planform import panels
from foamcut.airframe.values import Inputs, Role, Surface
from foamcut.draw.overview_views import Arrangement, Side
from foamcut.draw.values import Title
from foamcut.draw.views import Vector
from foamcut.draw.words import sketch_measure
from foamcut.flight.figures import Report
from foamcut.units import decimal_text, inch_text

#: sizes smaller than this are not drawn, mm
_LEAST_MM = 0.5


class Axis(IntEnum):
    """An axis of the model."""

    ALONG = 0
    ACROSS = 1
    UP = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A size along an axis, between two points: on which view, and on which side of it when arranged."""

    name: str
    axis: Axis
    view: str
    first: Vector
    last: Vector
    upright: Side
    folded: Side

    @property
    def mm(self) -> float:
        """The size at full scale."""
        return abs(self.last[self.axis] - self.first[self.axis])

    def side(self, arrangement: Arrangement) -> Side:
        """Where it is written."""
        return self.upright if arrangement is Arrangement.UPRIGHT else self.folded

    def words(self, units: str, title: Title) -> str:
        """Its name and how long it is."""
        return f"{self.name} {size_words(self.mm, units, title)}"


def size_words(mm: float, units: str, title: Title) -> str:
    """A size at full scale, and in brackets on the sketch; both in the units of the sketch's ruler."""
    full = inch_text(mm) if units == "in" else decimal_text(mm)
    return f"{full} ({sketch_measure(mm, title).rpartition(' ')[0]})"


def main_sizes(
    meshes: Sequence[Mesh], inputs: Inputs | None, discs: Sequence[Disc], report: Report | None
) -> tuple[Size, ...]:
    """Every main size once, those of the whole model first."""
    wing = None if inputs is None else inputs.wing
    found = list(_whole(meshes, "width" if wing is None else "span"))
    if inputs is not None:
        found += _tail(inputs)
        found += _body(meshes, inputs)
        found += _motors(discs)
    if wing is not None:
        found += _chords(wing)
        found += _balance(wing, report)
    return tuple(one for one in found if one.mm >= _LEAST_MM)


def extents(meshes: Sequence[Mesh]) -> tuple[Vector, Vector]:
    """The lowest and the highest place along each axis."""
    points = np.concatenate([mesh.vertices for mesh in meshes])
    low, high = (np.round(ends, 4).tolist() for ends in (points.min(axis=0), points.max(axis=0)))
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def _whole(meshes: Sequence[Mesh], across: str) -> Iterator[Size]:
    low, high = extents(meshes)
    rows = (
        (across, Axis.ACROSS, "above", Side.ABOVE, Side.RIGHT),
        ("length", Axis.ALONG, "side", Side.BELOW, Side.BELOW),
        ("height", Axis.UP, "side", Side.RIGHT, Side.RIGHT),
    )
    for name, axis, view, upright, folded in rows:
        ends = [_outermost(meshes, axis, end) for end in (low[axis], high[axis])]
        yield Size(
            name=name, axis=axis, view=view, first=ends[0], last=ends[1], upright=upright, folded=folded
        )


def _outermost(meshes: Sequence[Mesh], axis: int, place: float) -> Vector:
    """The first point of the model that lies there along an axis."""
    points = np.concatenate([mesh.vertices for mesh in meshes])
    x, y, z = points[int(np.argmin(np.round(np.abs(points[:, axis] - place), 3)))].tolist()
    return x, y, z


def _chords(wing: Surface) -> Iterator[Size]:
    several = panels(wing)
    first, last = wing.stations[0], wing.stations[-1]
    root = [several[0].point(c, first.out_mm, 0.0) for c in (first.back_mm, first.back_mm + first.chord_mm)]
    tip = [several[-1].point(c, last.out_mm, 0.0) for c in (last.back_mm, last.back_mm + last.chord_mm)]
    yield _along("root chord", "side", root[0], root[1], Side.ABOVE, Side.ABOVE)
    yield _along("tip chord", "above", tip[0], tip[1], Side.LEFT, Side.ABOVE)


def _along(name: str, view: str, first: Vector, last: Vector, upright: Side, folded: Side) -> Size:
    return Size(name=name, axis=Axis.ALONG, view=view, first=first, last=last, upright=upright, folded=folded)


def _tail(inputs: Inputs) -> Iterator[Size]:
    """The span of the first stabiliser."""
    for tail in inputs.surfaces:
        if tail.role is Role.STABILISER:
            station, panel = tail.stations[-1], panels(tail)[-1]
            x, y, z = panel.point(station.back_mm, station.out_mm, 0.0)
            yield Size(
                name="tail span",
                axis=Axis.ACROSS,
                view="above",
                first=(x, -y, z),
                last=(x, y, z),
                upright=Side.ABOVE,
                folded=Side.RIGHT,
            )
            return


def _body(meshes: Sequence[Mesh], inputs: Inputs) -> Iterator[Size]:
    """Width and height of the first body."""
    for body in inputs.bodies[:1]:
        own = [mesh for mesh in meshes if mesh.name.startswith(f"{body.name}-")]
        if not own:
            return
        low, high = extents(own)
        rows = (
            ("body width", Axis.ACROSS, "front", Side.BELOW, Side.LEFT),
            ("body height", Axis.UP, "side", Side.LEFT, Side.LEFT),
        )
        for name, axis, view, upright, folded in rows:
            ends = [_outermost(own, axis, end) for end in (low[axis], high[axis])]
            yield Size(
                name=name, axis=axis, view=view, first=ends[0], last=ends[1], upright=upright, folded=folded
            )


def _motors(discs: Sequence[Disc]) -> Iterator[Size]:
    """How far apart the motors of each pair are."""
    known: set[str] = set()
    for disc in discs:
        pair = [one.middle for one in discs if one.key == disc.key]
        if len(pair) == 2 and disc.key not in known:
            known.add(disc.key)
            yield Size(
                name="motors apart",
                axis=Axis.ACROSS,
                view="front",
                first=pair[0],
                last=pair[1],
                upright=Side.BELOW,
                folded=Side.LEFT,
            )


def _balance(wing: Surface, report: Report | None) -> Iterator[Size]:
    """From the leading edge at the root to where the balance shall lie."""
    loaded = None if report is None else report.loaded
    if loaded is not None and loaded.target_mm is not None:
        root = panels(wing)[0].point(wing.stations[0].back_mm, 0.0, 0.0)
        target = loaded.target_mm, 0.0, loaded.at[2]
        yield _along("balance", "side", root, target, Side.BELOW, Side.BELOW)
