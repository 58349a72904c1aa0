"""Lengths, places and ends of a part in words, and shapes of the old version moved onto the new one."""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely import LineString, Polygon
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from foamcut.flat.clipping import Run, run_points
from foamcut.flat.outline import Point
from foamcut.flat.part import Part
from foamcut.units import decimal_text, inch_text

Shift = tuple[float, float]

#: a direction of the model counts as fore, out or up when it leans no farther from it (cosine of 45 degrees)
_LEANS = 0.7
#: half of a surface may reach over the centre plane by so much of its reach across
_OVER_CENTRE = 0.2


@dataclass(frozen=True, slots=True)
class Ruler:
    """Lengths in words for people whose ruler reads `units`, mm or in."""

    units: str = "mm"

    def length(self, mm: float) -> str:
        """A length with its unit; in inches with the mm beside it."""
        metric = f"{decimal_text(mm)} mm"
        return f"{inch_text(mm)} in ({metric})" if self.units == "in" else metric

    def place(self, part: Part, at: Point) -> str:
        """A point of a part as the drawing has it, mm."""
        x, y = drawn_at(part, at)
        if self.units == "in":
            return f"x = {inch_text(x)} in, y = {inch_text(y)} in"
        return f"x = {decimal_text(x)}, y = {decimal_text(y)} mm"

    def line(self, part: Part, axis: int, at: float) -> str:
        """A line at one x (axis 0) or y (axis 1) of a part as the drawing has it."""
        if part.mirror_image and axis == 1:
            at = 0.0 - at
        return f"{'xy'[axis]} = {self.length(at)}"


def drawn_at(part: Part, at: Point) -> Point:
    """A point of a part in the drawing of the hand that is drawn."""
    return (at[0], 0.0 - at[1]) if part.mirror_image else at


def end_words(part: Part, axis: int, side: int) -> str:
    """What the end of a part towards higher (side 1) or lower (side -1) x or y is called."""
    place = part.place
    if place is not None:
        x, y, z = (side * one for one in (place.x, place.y)[axis])
        left, right = _across(part)
        is_half = min(abs(left), abs(right)) <= _OVER_CENTRE * (right - left) or left * right > 0
        outwards = -y if left + right < 0 else y
        if abs(x) >= _LEANS:
            return "the rear end" if x > 0 else "the front end"
        if abs(y) >= _LEANS and is_half and part.key.startswith("surface."):
            return "the tip end" if outwards > 0 else "the root end"
        if abs(y) >= _LEANS:
            return "the right end" if y > 0 else "the left end"
        if abs(z) >= _LEANS:
            return "the upper end" if z > 0 else "the lower end"
    drawn = -side if part.mirror_image and axis == 1 else side
    return f"the end of {'highest' if drawn > 0 else 'lowest'} {'xy'[axis]}"


def _across(part: Part) -> tuple[float, float]:
    """From where to where a part's box reaches across the model, mm to the right."""
    if part.place is None:
        return 0.0, 0.0
    x0, y0, x1, y1 = part.outline.bounds
    place = part.place
    several = [place.at[1] + x * place.x[1] + y * place.y[1] for x in (x0, x1) for y in (y0, y1)]
    return min(several), max(several)


def moved(shape: Polygon, shift: Shift) -> Polygon:
    """A shape moved; as it is where it is not."""
    if shift == (0.0, 0.0):
        return shape
    found: Polygon = translate(shape, *shift)
    return found


def lines_of(runs: Sequence[Run], shift: Shift = (0.0, 0.0)) -> BaseGeometry:
    """Runs as lines of chords, moved."""
    x, y = shift
    lines = [LineString([(a + x, b + y) for a, b in run_points(run)]) for run in runs]
    return shapely.MultiLineString(lines) if len(lines) != 1 else lines[0]


def listed(several: Sequence[str], most: int = 3) -> str:
    """Phrases with commas between them, those after the first few as a number."""
    kept = list(dict.fromkeys(several))
    more = len(kept) - most
    text = ", ".join(kept[:most])
    return f"{text} and {more} more" if more > 0 else text
