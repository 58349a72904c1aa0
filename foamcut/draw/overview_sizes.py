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
from foamcut.draw.views_edges import dotted
from foamcut.draw.words import sketch_measure
from foamcut.flight.figures import Report
from foamcut.units import MM_PER_INCH, decimal_text, inch_text

#: sizes smaller than this are not drawn, mm
_LEAST_MM = 0.5
_LOW: Vector = (0.0, 0.0, -1.0)
_AFT: Vector = (1.0, 0.0, 0.0)
_FORE: Vector = (-1.0, 0.0, 0.0)


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
    true_mm: float | None = None  # what is written where it lies at a slant; None: what is seen

    @property
    def mm(self) -> float:
        """The size at full scale."""
        seen = abs(self.last[self.axis] - self.first[self.axis])
        return seen if self.true_mm is None else self.true_mm

    def side(self, arrangement: Arrangement) -> Side:
        """Where it is written."""
        return self.upright if arrangement is Arrangement.UPRIGHT else self.folded

    def words(self, units: str, title: Title) -> str:
        """Its name and how long it is."""
        return f"{self.name} {size_words(self.mm, units, title)}"


def size_words(mm: float, units: str, title: Title) -> str:
    """A size at full scale, and in brackets on the sketch; both in the units of the sketch's ruler."""
    if units == "in":
        measure = sketch_measure(mm, title).rpartition(" ")[0]
        if "." in measure:  # no fraction of its ruler
            measure = decimal_text(mm / MM_PER_INCH / title.sketch_scale, 2)
        return f"{inch_text(mm)} ({measure})"
    return f"{decimal_text(mm)} ({decimal_text(mm / title.sketch_scale)})"


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


def _whole(meshes: Sequence[Mesh], across: str) -> Iterator[Size]:
    yield _over_all(meshes, across, Axis.ACROSS, "front", _LOW, (Side.BELOW, Side.LEFT))
    yield _over_all(meshes, "length", Axis.ALONG, "side", _LOW, (Side.BELOW, Side.BELOW))
    yield _over_all(meshes, "height", Axis.UP, "side", _AFT, (Side.RIGHT, Side.RIGHT))


def _over_all(
    meshes: Sequence[Mesh], name: str, axis: Axis, view: str, towards: Vector, sides: tuple[Side, Side]
) -> Size:
    """From end to end along an axis; of points that lie as far out, those farthest `towards` the value."""
    points = np.concatenate([mesh.vertices for mesh in meshes])
    nearer = np.round(dotted(points, towards), 3)
    ends: list[Vector] = []
    for sign in (-1.0, 1.0):
        out = np.round(sign * points[:, axis], 3)
        x, y, z = points[int(np.lexsort((nearer, out))[-1])].tolist()
        ends.append((x, y, z))
    return Size(
        name=name, axis=axis, view=view, first=ends[0], last=ends[1], upright=sides[0], folded=sides[1]
    )


def _chords(wing: Surface) -> Iterator[Size]:
    several = panels(wing)
    first, last = wing.stations[0], wing.stations[-1]
    root = [several[0].point(c, first.out_mm, 0.0) for c in (first.back_mm, first.back_mm + first.chord_mm)]
    tip = [several[-1].point(c, last.out_mm, 0.0) for c in (last.back_mm, last.back_mm + last.chord_mm)]
    rows = (
        ("root", "side", root, first.chord_mm, Side.ABOVE),
        ("tip", "above", tip, last.chord_mm, Side.LEFT),
    )
    for name, view, ends, mm, upright in rows:
        yield Size(
            name=name,
            axis=Axis.ALONG,
            view=view,
            first=ends[0],
            last=ends[1],
            upright=upright,
            folded=Side.ABOVE,
            true_mm=mm,
        )


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
        yield _over_all(own, "body", Axis.ACROSS, "above", _FORE, (Side.BELOW, Side.LEFT))
        yield _over_all(own, "body", Axis.UP, "side", _FORE, (Side.LEFT, Side.LEFT))


def _motors(discs: Sequence[Disc]) -> Iterator[Size]:
    """How far apart the motors of each pair are."""
    known: set[str] = set()
    for disc in discs:
        pair = [one.middle for one in discs if one.key == disc.key]
        if len(pair) == 2 and disc.key not in known:
            known.add(disc.key)
            yield Size(
                name="motors",
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
        yield Size(
            name="balance",
            axis=Axis.ALONG,
            view="side",
            first=root,
            last=target,
            upright=Side.BELOW,
            folded=Side.BELOW,
        )
