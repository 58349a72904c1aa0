"""The side view of the model with its balance: what is aboard, numbers below on the same scale.

mm on the picture.  Words stand beside and below the view, never in it: what is aboard has numbers, each above
its thing with a line down to it, and a list below.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from foamcut.draw.balance_frame import EDGE_MM, Scale, Sheet, axis, closed, dot, headed, spread, steps, ticks
from foamcut.draw.balance_key import key, section_words
from foamcut.draw.balance_model import Thing, model_shapes, things_of, wing_sections
from foamcut.draw.balance_rows import WORDS_MM, Row, reaches, rows
from foamcut.draw.balance_words import (
    PITCH_MM,
    PLAIN_MM,
    broken,
    column,
    length_words,
    mass_words,
    shortened,
    width_mm,
    words_at,
)
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.draw.values import Align, Text, Title
from foamcut.flat.outline import Point
from foamcut.flight.figures import Report
from foamcut.flight.values import Model, Setup
from foamcut.units import MM_PER_INCH, decimal_text

NAME = "balance-side"
_WIDTH_MM = 280.0
#: from the words at the left to the view, and from the view's ends to the scale's
_GAP_MM, _END_MM = 5.0, 4.0
#: the view is so high at most, and its place at least
_HIGHEST_MM, _LEAST_MM = 140.0, 14.0
#: so many things have numbers, which stand so far apart at least
_MOST, _APART_MM = 36, 5.0
_RAIL_MM = 11.0
_ROW_GAP_MM = 2.4
_COLUMNS, _COLUMN_GAP_MM, _NUMBER_MM = 3, 6.0, 6.0
#: signs on the view stand so far apart
_SIGN_MM = 5.2


def side_picture(report: Report, model: Model, setup: Setup, title: Title) -> Picture | None:
    """The side view; None where nothing of the model has a place."""
    outlines, things = model_shapes(model), things_of(report, model.inputs, setup)
    if not outlines and not things and not report.loaded:
        return None
    units, numbered = title.sketch_unit, _numbered(things)
    sheet = headed(_WIDTH_MM, title, "side view with the balance")
    rail = sheet.y
    sheet.y -= _RAIL_MM if numbered else 0.0
    view = _view(outlines, things, reaches(report, model, setup), report, sheet.y)
    several = rows(report, model, setup, view.scale, units)
    sheet.shapes += [view.shown(shape) for shape in outlines]
    sheet.shapes += _boxes(view, things)
    _rail(sheet, view, numbered, rail)
    sheet.y -= max(view.high_mm, _LEAST_MM) + 3.0
    _bar(sheet, view, units)
    _rows(sheet, view, several)
    _axis(sheet, view, units)
    key(sheet, [shape.ink for shape in sheet.shapes], dots=bool(numbered))
    _list(sheet, numbered, things, units)
    section_words(sheet, [(words, view.shown(shape)) for words, shape in wing_sections(model.inputs)])
    closed(sheet)
    told = "The model from the side, what is aboard by numbers, and where it balances, all on one scale."
    if report.loaded:
        mass, along = mass_words(report.loaded.mass_g, units), length_words(report.loaded.at[0], units)
        told += f" It weighs {mass} and balances at {along} along."
    return sheet.finished(NAME, "Balance, side view", told)


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """Where the view lies: the scale along, what is highest and lowest of the model, the view's top."""

    scale: Scale
    highest: float
    lowest: float
    top: float

    @property
    def high_mm(self) -> float:
        """Height of the view on the picture."""
        return (self.highest - self.lowest) * self.scale.mm_per

    def at(self, point: Point) -> Point:
        """A point of the model on the picture."""
        return self.scale.at(point[0]), self.top - (self.highest - point[1]) * self.scale.mm_per

    def shown(self, shape: Shape) -> Shape:
        """A shape of the model on the picture."""
        return Shape(ink=shape.ink, points=tuple(map(self.at, shape.points)), closed=shape.closed)


def _view(
    outlines: Sequence[Shape], things: Sequence[Thing], along: Sequence[float], report: Report, top: float
) -> _View:
    """The largest view of all points that the width and the most height leave; a tall model in the middle."""
    points = [point for shape in outlines for point in shape.points]
    for thing in things:
        points += thing.corners(thing.at)
        points += thing.corners(thing.should_be) if thing.should_be else ()
    if report.loaded:
        points.append((report.loaded.at[0], report.loaded.at[2]))
    ups = [z for _, z in points] or [0.0]
    every = [*(x for x, _ in points), *along]
    left = EDGE_MM + WORDS_MM + _GAP_MM + _END_MM
    right = _WIDTH_MM - EDGE_MM - _END_MM
    middle = (min(every) + max(every)) / 2
    high = max(ups) - min(ups)
    half = max(max(every) - min(every), 50.0, high * (right - left) / _HIGHEST_MM) / 2
    scale = Scale(low=middle - half, high=middle + half, left=left, right=right)
    return _View(scale=scale, highest=max(ups), lowest=min(ups), top=top)


def _boxes(view: _View, things: Sequence[Thing]) -> Iterator[Shape]:
    """What is aboard, the larger first, so that the smaller show over them; dashed where it should be."""
    drawn = [thing for thing in things if thing.size_mm]
    for thing in sorted(drawn, key=lambda one: (-_area(one), one.key)):
        yield view.shown(Shape(ink=Ink.THING, points=thing.corners(thing.at), closed=True))
    for thing in drawn:
        if thing.should_be:
            yield view.shown(Shape(ink=Ink.MOVED, points=thing.corners(thing.should_be), closed=True))


def _area(thing: Thing) -> float:
    long, high = thing.size_mm or (0.0, 0.0)
    return round(long * high, 3)


def _numbered(things: Sequence[Thing]) -> list[Thing]:
    """Those that get a number: all, or the heaviest; from the nose aft."""
    heaviest = sorted(range(len(things)), key=lambda i: (-round(things[i].all_g, 3), i))[:_MOST]
    return [things[i] for i in sorted(heaviest)]


def _rail(sheet: Sheet, view: _View, numbered: Sequence[Thing], top: float) -> None:
    """The numbers in a row above the view, a line from each down to its thing."""
    places = [view.at(thing.at) for thing in numbered]
    ends = view.scale.left - _END_MM, view.scale.right + _END_MM
    for i, (x, place) in enumerate(
        zip(spread([x for x, _ in places], _APART_MM, *ends), places, strict=True)
    ):
        sheet.texts.append(words_at((x, top - PLAIN_MM), str(i + 1), align=Align.MIDDLE))
        line = ((x, top - PLAIN_MM - 0.8), (x, top - PLAIN_MM - 1.8), (place[0], view.top + 1.0), place)
        sheet.shapes.append(Shape(ink=Ink.LEADER, points=line))
        sheet.shapes.append(dot(place))


def _unit_mm(units: str) -> float:
    return MM_PER_INCH if units == "in" else 1.0


def _bar(sheet: Sheet, view: _View, units: str) -> None:
    """A bar of a round length, in the room to the left of the view, and what it is long."""
    unit = _unit_mm(units)
    length = steps(WORDS_MM / view.scale.mm_per / unit, 2)
    x, y, long = sheet.left, sheet.y + 4.0, length * unit * view.scale.mm_per
    runs = [((x, y), (x + long, y)), *(((end, y - 1.0), (end, y + 1.0)) for end in (x, x + long))]
    sheet.shapes += [Shape(ink=Ink.AXIS, points=run) for run in runs]
    words = f"{decimal_text(length, 3)} {units} of the model"
    sheet.texts.append(words_at((x, y + 1.8), shortened(words, WORDS_MM)))


def _axis(sheet: Sheet, view: _View, units: str) -> None:
    """Places along, from the nose: below the rows, where no line comes down."""
    unit = _unit_mm(units)
    low, high = view.scale.low / unit, view.scale.high / unit
    marks = [(value * unit, decimal_text(value, 3)) for value in ticks(low, high, steps(high - low, 12))]
    shapes, texts = axis(view.scale, sheet.y, marks)
    sheet.shapes += shapes
    sheet.texts += texts
    words = f"{units} along, aft from the nose"
    sheet.texts.append(words_at((sheet.left, sheet.y - 2.4 - PLAIN_MM), words))
    sheet.y -= 2.4 + PITCH_MM + _ROW_GAP_MM


def _rows(sheet: Sheet, view: _View, several: Sequence[Row]) -> None:
    """Every row below the one before; lines from the model come down to those that have one."""
    guides: list[Shape] = []
    signs: list[Shape] = []
    stand: list[Point] = []
    shapes: list[Shape] = []
    for row in several:
        rule = sheet.y + _ROW_GAP_MM / 2
        sheet.shapes.append(Shape(ink=Ink.LEADER, points=((sheet.left, rule), (sheet.right, rule))))
        lines = [line for words in row.lines for line in broken(words, WORDS_MM)]
        high = len(lines) * PITCH_MM
        sheet.texts += column(lines, sheet.left, sheet.y)
        middle = sheet.y - high / 2
        shapes += [shape.moved(0.0, middle) for shape in row.shapes]
        if row.guide:
            x, y = view.at(row.guide)
            if row.sign:
                y = _apart((x, y), stand)
                stand.append((x, y))
            guides.append(Shape(ink=Ink.GUIDE, points=((x, y), (x, middle))))
            signs += [shape.moved(x, y) for shape in row.sign]
        sheet.y -= high + _ROW_GAP_MM
    sheet.shapes += [*guides, *shapes, *signs]


def _apart(at: Point, others: Sequence[Point]) -> float:
    """How high a sign stands that would lie over another: over or under it, on its own line."""
    x, y = at
    for other_x, other_y in others:
        if abs(x - other_x) < _SIGN_MM and abs(y - other_y) < _SIGN_MM:
            y = other_y + _SIGN_MM if round(y - other_y, 3) > 0 else other_y - _SIGN_MM
    return y


def _list(sheet: Sheet, numbered: Sequence[Thing], things: Sequence[Thing], units: str) -> None:
    """What the numbers stand for, in columns, with what each weighs."""
    if not numbered:
        return
    sheet.y -= 1.0
    sheet.line("Aboard, from the nose aft:")
    wide = (sheet.right - sheet.left - (_COLUMNS - 1) * _COLUMN_GAP_MM) / _COLUMNS
    high = -(-len(numbered) // _COLUMNS)
    for i, thing in enumerate(numbered):
        x, y = sheet.left + i // high * (wide + _COLUMN_GAP_MM), sheet.y - i % high * PITCH_MM - PLAIN_MM
        sheet.texts += _entry(i + 1, thing, (x, y), wide, units)
    sheet.y -= high * PITCH_MM
    if left := len(things) - len(numbered):
        mass = sum(one.all_g for one in things) - sum(one.all_g for one in numbered)
        sheet.line(f"and {left} more without a number, {mass_words(mass, units)} together")


def _entry(number: int, thing: Thing, at: Point, wide: float, units: str) -> list[Text]:
    x, y = at
    many = f"{thing.count} x " if thing.count > 1 else ""
    mass = "weight not known" if thing.mass_g is None else f"{many}{mass_words(thing.mass_g, units)}"
    room = wide - _NUMBER_MM - 3.0 - width_mm(mass)
    return [
        words_at((x + _NUMBER_MM - 1.5, y), str(number), align=Align.RIGHT),
        words_at((x + _NUMBER_MM, y), shortened(thing.name, room)),
        words_at((x + wide, y), mass, align=Align.RIGHT),
    ]
