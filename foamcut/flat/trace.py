"""What is known of an outline as drawn, and the refusals that every kind of shape shares."""

from collections.abc import Iterable
from dataclasses import dataclass

from foamcut.errors import Refusal, Refused
from foamcut.flat.drawn import Reading
from foamcut.flat.edges import Edge
from foamcut.flat.outline import Outline, Point
from foamcut.flat.tolerances import FARTHEST_MM, MOST_POINTS
from foamcut.units import decimal_text


@dataclass(frozen=True, slots=True, kw_only=True)
class TracedEdge:
    """One edge of the closed line, or a rounding between two, and how it is sloped; degrees from square.

    `key` is of the row it leaves; a rounding is sloped when both its neighbours are, by the same angle.
    """

    key: str
    edge: Edge
    rounding: bool = False
    bevel_deg: float | None = None
    bevel_back_deg: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """An outline with what is known of how it was drawn: straight edges (end to end) and named points.

    `edges` is the whole line in the order drawn; it is left out when no edge is bevelled.
    """

    outline: Outline
    straight: tuple[tuple[Point, Point], ...]
    named: tuple[tuple[str, Point], ...] = ()
    edges: tuple[TracedEdge, ...] = ()


def place_text(at: Point) -> str:
    """A place in words, to a hundredth of a millimetre."""
    return f"{decimal_text(at[0], 2)}, {decimal_text(at[1], 2)} mm"


def length_text(length_mm: float) -> str:
    """A length in words; digits enough to tell it from nothing."""
    return f"{decimal_text(length_mm, 2 if abs(length_mm) >= 0.01 else 6)} mm"


def row_text(reading: Reading) -> str:
    """How a refusal calls a reading: the end of its key, and its name if it has one."""
    row = reading.key.rsplit(".", 1)[-1]
    return f'{row} "{reading.name}"' if reading.name else row


def sizes_refused(key: str, sizes: dict[str, float]) -> list[Refusal]:
    """Sizes, by their names, that are not above 0 or beyond reason."""
    return [
        Refusal(
            key=key,
            text=f"the {name} is {decimal_text(value, 6)} mm; it has to be above 0 and at most"
            f" {decimal_text(FARTHEST_MM)} mm",
        )
        for name, value in sizes.items()
        if not 0 < value <= FARTHEST_MM
    ]


def numbers_refused(key: str, what: str, numbers: Iterable[float]) -> list[Refusal]:
    """Coordinates that are no numbers or beyond reason."""
    if all(abs(number) <= FARTHEST_MM for number in numbers):  # false for nan
        return []
    return [
        Refusal(
            key=key, text=f"the {what} is no number, or lies beyond {decimal_text(FARTHEST_MM)} mm; mend it"
        )
    ]


def too_many_refused(key: str, count: int) -> list[Refusal]:
    """More points than a part may have."""
    if count <= MOST_POINTS:
        return []
    return [
        Refusal(
            key=key,
            text=f"the outline takes {count:,} points, more than the {MOST_POINTS:,} that a"
            " part may have; draw it with fewer points, or smaller or flatter curves",
        )
    ]


def too_small_refused(key: str, outline: Outline, smallest_mm2: float) -> list[Refusal]:
    """An outline that is too small to be cut."""
    if outline.area >= smallest_mm2:
        return []
    return [
        Refusal(
            key=key,
            text=f"its area is {decimal_text(outline.area, 3)} mm2, less than can be cut"
            f" ({decimal_text(smallest_mm2, 2)} mm2); check the numbers and the sketch's scale",
        )
    ]


def refuse(refusals: Iterable[Refusal]) -> None:
    """Raise what was found, each once: the mirrored half finds everything again."""
    found = tuple(dict.fromkeys(refusals))
    if found:
        raise Refused(found)
