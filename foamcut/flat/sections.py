"""Sections: a part cut along its joint lines, each section a part of its own with what lies on it.

The part's coordinates, mm.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

import shapely
from shapely import Point as ShapelyPoint
from shapely import Polygon, box

from foamcut.flat.marks import Mark
from foamcut.flat.outline import Outline, Point
from foamcut.flat.part import Part
from foamcut.flat.tolerances import ROUNDING_MM

#: cells reach this far over the part, so that its own edges are not cut again
_OVER_MM = 1.0


def section_outlines(outline: Outline, xs_mm: Sequence[float], ys_mm: Sequence[float]) -> tuple[Outline, ...]:
    """What the lines leave of an outline, each piece that hangs together, by lowest x, then lowest y."""
    x0, y0, x1, y1 = outline.bounds
    found: list[Outline] = []
    for left, right in pairwise((x0 - _OVER_MM, *sorted(xs_mm), x1 + _OVER_MM)):
        for low, high in pairwise((y0 - _OVER_MM, *sorted(ys_mm), y1 + _OVER_MM)):
            found += outline.within(box(left, low, right, high))
    return tuple(sorted(found, key=lambda o: o.bounds))


def section_part(part: Part, outline: Outline, number: int, *, labelled: bool) -> Part:
    """A section as a part: what lies on it, what crosses it trimmed to it; joint marks are not on it yet."""
    region = outline.polygon
    shapely.prepare(region)
    return replace(
        part,
        name=f"{part.name}-section-{number}",
        outline=outline,
        slots=tuple(slot for slot in part.slots if _meets(slot.outline, region)),
        tabs=tuple(tab for tab in part.tabs if _shares(tab.outline, region)),
        marks=trimmed_marks(part.marks, region),
        label=part.label if labelled else None,
        named=tuple((name, at) for name, at in part.named if _lies_in(at, region)),
        folds=tuple(filter(None, (fold.trimmed(region) for fold in part.folds))),
        bevels=tuple(filter(None, (bevel.trimmed(region) for bevel in part.bevels))),
        joint_lines=(),
        keep_clear=(),
    )


def label_section(part: Part, outlines: Sequence[Outline]) -> int | None:
    """The index of the section that holds the builder's place for the label; of two the first."""
    if part.label is None:
        return None
    at = part.label.at
    return next((i for i, outline in enumerate(outlines) if _lies_in(at, outline.polygon)), None)


def trimmed_marks(marks: Iterable[Mark], region: Polygon) -> tuple[Mark, ...]:
    """What lies of the marks in a region."""
    return tuple(left for mark in marks if (left := mark.trimmed(region)) is not None)


def _lies_in(at: Point, region: Polygon) -> bool:
    return bool(region.distance(ShapelyPoint(at)) <= ROUNDING_MM)


def _meets(slot: Outline, region: Polygon) -> bool:
    """Whether a slot is cut in a section: it shares its edge with it."""
    return bool(region.distance(slot.polygon) <= ROUNDING_MM)


def _shares(tab: Outline, region: Polygon) -> bool:
    return bool(region.intersection(tab.polygon).area > tab.area / 2)
