"""Rows below the side view: mean chord, target, balance, neutral points, what slides; all on one scale.

mm; places along are those of the model, x of the picture comes from the scale.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from foamcut.draw.balance_frame import (
    Scale,
    balance_symbol,
    box,
    diamond_symbol,
    square_symbol,
    triangle_symbol,
    whisker,
)
from foamcut.draw.balance_words import from_to_words, length_words, share_words, shortened
from foamcut.draw.picture import Ink, Shape
from foamcut.flat.outline import Point
from foamcut.flight.figures import Loaded, Number, PlaceRow, Report
from foamcut.flight.planform import Planform, planform
from foamcut.flight.values import Aboard, Model, Setup
from foamcut.units import decimal_text

#: the words of a row are so wide at most
WORDS_MM = 66.0
#: so many rows for things that slide
_MOST_SLIDING = 6
_BAR_MM = 1.4
_ARROW_MM = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row: words for the left, shapes about y = 0.

    `guide` is the place on the model (along, up) from which a line comes down to the row, `sign` what stands
    there, about (0, 0).
    """

    lines: tuple[str, ...]
    shapes: tuple[Shape, ...]
    guide: Point | None = None
    sign: tuple[Shape, ...] = ()


def reaches(report: Report, model: Model, setup: Setup) -> list[float]:
    """Places along that rows show, so that the scale holds them."""
    found: list[float | None] = [one.value for one in _neutral(report)]
    if report.loaded:
        found += [report.loaded.at[0], report.loaded.target_mm]
    for one in setup.aboard:
        found += [one.at[0], *(one.slides_mm or ()), *(x for x, _ in one.may_sit)]
    found += [along for row in report.places for _, along, _ in row.moved]
    return [place for place in found if place is not None]


def rows(report: Report, model: Model, setup: Setup, scale: Scale, units: str) -> list[Row]:
    """The rows from above down; only what is known."""
    plan = planform(model.inputs)
    found = [] if plan is None else [_chord(plan, scale, units)]
    if report.loaded:
        found += _usual(report, plan, scale, units)
        found += _target(report.loaded, plan, scale, units)
        found.append(_balance(report.loaded, plan, scale, units))
        found += _behind(report.loaded, plan, scale, units)
    found += [_neutral_row(one, i, plan, scale, units) for i, one in enumerate(_neutral(report))]
    return [*found, *_sliding(report, setup, scale, units)]


def _neutral(report: Report) -> list[Number]:
    """Neutral points among the numbers: places along, mm."""
    return [one for one in report.numbers if one.unit == "mm" and one.name.startswith("neutral")]


def _chord_ends(plan: Planform) -> tuple[float, float]:
    front = 1000 * plan.wing.leading_m
    return front, front + 1000 * plan.wing.mean_chord_m


def _share(plan: Planform | None, along: float) -> float | None:
    if plan is None or plan.wing.mean_chord_m <= 0:
        return None
    front, rear = _chord_ends(plan)
    return (along - front) / (rear - front)


def _chord(plan: Planform, scale: Scale, units: str) -> Row:
    front, rear = _chord_ends(plan)
    shapes = [box(Ink.BAR, scale.at(front), -_BAR_MM, scale.at(rear), _BAR_MM)]
    for tenth in range(1, 10):
        x = scale.at(front + (rear - front) * tenth / 10)
        up = _BAR_MM if tenth == 5 else _BAR_MM / 2
        shapes.append(Shape(ink=Ink.AXIS, points=((x, -_BAR_MM), (x, up))))
    words = f"{length_words(rear - front, units)}, from {length_words(front, units)}; a tick each 10 %"
    return Row(lines=("mean chord of the wing", words), shapes=tuple(shapes))


def _usual(report: Report, plan: Planform | None, scale: Scale, units: str) -> Iterator[Row]:
    """The usual range of the balance, where the report has one."""
    front, back = report.number("balance_front"), report.number("balance_back")
    if front is None or back is None:
        return
    shares = [_share(plan, one.value) for one in (front, back)]
    words = [from_to_words(front.value, back.value, units)]
    if shares[0] is not None and shares[1] is not None:
        words.append(f"{decimal_text(100 * shares[0])} to {share_words(shares[1])}")
    bar = box(Ink.PART_BAR, scale.at(front.value), -_BAR_MM, scale.at(back.value), _BAR_MM)
    yield Row(lines=("usual range of the balance", _joined(*words)), shapes=(bar,))


def _target(now: Loaded, plan: Planform | None, scale: Scale, units: str) -> Iterator[Row]:
    if now.target_mm is None:
        return
    said = _joined(length_words(now.target_mm, units), share_words(_share(plan, now.target_mm)))
    yield Row(
        lines=("where the balance shall lie", said),
        shapes=tuple(diamond_symbol((scale.at(now.target_mm), 0.0))),
    )


def _balance(now: Loaded, plan: Planform | None, scale: Scale, units: str) -> Row:
    at = scale.at(now.at[0])
    shapes = whisker(scale.at(now.along_low_mm), scale.at(now.along_high_mm), 0.0)
    said = [_joined(length_words(now.at[0], units), share_words(_share(plan, now.at[0])))]
    if between := from_to_words(now.along_low_mm, now.along_high_mm, units):
        said.append(f"{between} for the range of the weights")
    return Row(
        lines=("balance, all in its place as drawn", *said),
        shapes=(*shapes, *balance_symbol((at, 0.0))),
        guide=(now.at[0], now.at[2]),
        sign=tuple(balance_symbol((0.0, 0.0), 2.6)),
    )


def _behind(now: Loaded, plan: Planform | None, scale: Scale, units: str) -> Iterator[Row]:
    """The dimension that is measured on the model: from the leading edge at the root."""
    if plan is None:
        return
    root, _, up = (1000 * one for one in plan.wing.crosses[0].leading_m)
    off = now.at[0] - root
    word = "behind" if off >= 0 else "before"
    x0, x1 = scale.at(root), scale.at(now.at[0])
    shapes = [Shape(ink=Ink.AXIS, points=((x, -_BAR_MM), (x, _BAR_MM))) for x in (x0, x1)]
    if abs(x1 - x0) > 1e-6:
        shapes.append(Shape(ink=Ink.AXIS, points=((x0, 0.0), (x1, 0.0))))
    way = 1 if x1 >= x0 else -1
    if abs(x1 - x0) > 2 * _ARROW_MM:
        shapes += [_arrow((x0, 0.0), way), _arrow((x1, 0.0), -way)]
    yield Row(
        lines=(f"balance {word} the leading edge at the root", length_words(abs(off), units)),
        shapes=tuple(shapes),
        guide=(root, up),
    )


def _arrow(at: Point, way: int) -> Shape:
    """The head of an arrow that ends at a place; `way` 1: its shaft lies to the right."""
    x, y = at
    back = x + way * _ARROW_MM
    return Shape(ink=Ink.SOLID, points=((x, y), (back, y + 0.5), (back, y - 0.5)), closed=True)


def _neutral_row(one: Number, index: int, plan: Planform | None, scale: Scale, units: str) -> Row:
    shapes: list[Shape] = []
    if one.low is not None and one.high is not None:
        shapes += whisker(scale.at(one.low), scale.at(one.high), 0.0)
    said = [_joined(length_words(one.value, units), share_words(_share(plan, one.value)))]
    if between := from_to_words(one.low, one.high, units):
        said.append(between)
    return Row(
        lines=(one.title, *said),
        shapes=(*shapes, *triangle_symbol((scale.at(one.value), 0.0), solid=index == 0)),
        guide=None if index or plan is None else (one.value, 1000 * plan.wing.crosses[0].leading_m[2]),
        sign=tuple(triangle_symbol((0.0, 0.0))),
    )


def _sliding(report: Report, setup: Setup, scale: Scale, units: str) -> list[Row]:
    movable = [one for one in setup.aboard if one.slides_mm or one.may_sit]
    best = next((row for row in report.places if row.is_best), None)
    found = [_slide(one, best, scale, units) for one in movable[:_MOST_SLIDING]]
    if len(movable) > _MOST_SLIDING:
        left = len(movable) - _MOST_SLIDING
        found.append(Row(lines=(f"and {left} more that may be moved",), shapes=()))
    return found


def _slide(one: Aboard, best: PlaceRow | None, scale: Scale, units: str) -> Row:
    shapes: list[Shape] = []
    said = []
    if one.slides_mm:
        low, high = one.slides_mm
        shapes.append(box(Ink.PART_BAR, scale.at(low), -_BAR_MM / 2, scale.at(high), _BAR_MM / 2))
        said.append(f"slides from {from_to_words(low, high, units) or length_words(low, units)}")
    if one.may_sit:
        shapes += [s for x, _ in one.may_sit for s in square_symbol((scale.at(x), 0.0), Ink.SYMBOL)]
        several = ", ".join(length_words(x, units) for x, _ in one.may_sit)
        said.append(f"may sit at {several} (white)")
    shapes += square_symbol((scale.at(one.at[0]), 0.0), Ink.SOLID)
    said.append(f"drawn at {length_words(one.at[0], units)} (black)")
    moved = {} if best is None else {name: along for name, along, _ in best.moved}
    if one.name in moved and abs(moved[one.name] - one.at[0]) > 0.1:
        shapes += square_symbol((scale.at(moved[one.name]), 0.0), Ink.MOVED, 2.3)
        said.append(f"best at {length_words(moved[one.name], units)} (dashed)")
    return Row(lines=(shortened(one.name, WORDS_MM), *said), shapes=tuple(shapes))


def _joined(*words: str) -> str:
    return ", ".join(filter(None, words))
