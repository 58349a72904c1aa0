"""From a shape as drawn to its outline, mm: readings, rectangle, circle, trapezoid."""

import math

from foamcut.errors import Refusal
from foamcut.flat.drawn import Disc, Grain, Readings, Rectangle, Shape, Trapezoid
from foamcut.flat.outline import Outline, chord_count
from foamcut.flat.placement import rounded
from foamcut.flat.readings import traced
from foamcut.flat.tolerances import SMALLEST_AREA_MM2
from foamcut.flat.trace import (
    Trace,
    numbers_refused,
    refuse,
    sizes_refused,
    too_many_refused,
    too_small_refused,
)


def outline_of(shape: Shape, mirrored: Grain = Grain.ANY) -> Outline:
    """The outline of a shape; with `mirrored`, the shape is one half and that axis the mirror.

    Smooth points lie on a natural cubic spline over chord length; when every point is smooth the
    curve is closed without a corner (periodic).  Straight-line points in a row lose the ones between.

    Raises
    ------
    Refused
        The shape cannot be cut, with every reason found.
    """
    return trace(shape, mirrored).outline


def trace(shape: Shape, mirrored: Grain = Grain.ANY, *, smallest_mm2: float = SMALLEST_AREA_MM2) -> Trace:
    """`outline_of` with the straight edges and named points; shapes below `smallest_mm2` are refused."""
    if isinstance(shape, Readings):
        return traced(shape, mirrored, smallest_mm2)
    if mirrored is not Grain.ANY:
        text = 'only an outline by its points can be mirrored; take "mirrored" out, or draw half as points'
        refuse([Refusal(key=shape.key, text=text)])
    if isinstance(shape, Disc):
        return _disc(shape, smallest_mm2)
    return _corners(shape, smallest_mm2)


def _disc(shape: Disc, smallest_mm2: float) -> Trace:
    refuse(sizes_refused(shape.key, {"diameter": shape.diameter_mm}))
    refuse(too_many_refused(shape.key, chord_count(shape.diameter_mm / 2, 2 * math.pi)))
    outline = Outline.circle(0.0, 0.0, shape.diameter_mm / 2)
    refuse(too_small_refused(shape.key, outline, smallest_mm2))
    return Trace(outline=outline, straight=())


def _corners(shape: Rectangle | Trapezoid, smallest_mm2: float) -> Trace:
    if isinstance(shape, Rectangle):
        refuse(sizes_refused(shape.key, {"width": shape.width_mm, "height": shape.height_mm}))
        w, h = shape.width_mm, shape.height_mm
        points = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]
    else:
        sizes = {"bottom": shape.bottom_mm, "top": shape.top_mm, "height": shape.height_mm}
        shift, h = shape.shift_mm, shape.height_mm
        refuse([*sizes_refused(shape.key, sizes), *numbers_refused(shape.key, "shift", (shift,))])
        points = [(0.0, 0.0), (shape.bottom_mm, 0.0), (shift + shape.top_mm, h), (shift, h)]
    points = [(rounded(x), rounded(y)) for x, y in points]
    outline = Outline.of_points(points)
    refuse(too_small_refused(shape.key, outline, smallest_mm2))
    return Trace(outline=outline, straight=tuple(zip(points, [*points[1:], points[0]], strict=True)))
