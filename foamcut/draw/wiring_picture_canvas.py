"""Boxes, wires and words of a wiring picture.

mm; while it is made y runs down from 0 at the top of the picture into the negative.  Wires run level or
upright.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from foamcut.draw.balance_words import PLAIN_MM, broken, shortened, width_mm, words_at
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.draw.values import Align, Text
from foamcut.draw.wiring_picture_parts import Node
from foamcut.flat.outline import Point

#: width of a picture, and white at its edges, mm
WIDTH_MM, EDGE_MM = 170.0, 3.0
#: heights of letters, and from line to line, mm
SMALL_MM, PITCH_MM = 2.0, 3.4
#: between the wires of a lead, mm
APART_MM = 1.5
#: the wires of leads, from the left as one goes along
POWER = (Ink.PLUS, Ink.MINUS)
SERVO = (Ink.SIGNAL, Ink.PLUS, Ink.MINUS)
MOTOR = (Ink.EDGE, Ink.EDGE, Ink.EDGE)


@dataclass(frozen=True, slots=True)
class Box:
    """A box: its left, its top, its width and height."""

    x: float
    top: float
    wide: float
    high: float

    @property
    def middle(self) -> float:
        """x of its middle."""
        return self.x + self.wide / 2

    @property
    def level(self) -> float:
        """y of its middle."""
        return self.top - self.high / 2

    @property
    def right(self) -> float:
        """x of its right side."""
        return self.x + self.wide

    @property
    def foot(self) -> float:
        """y of its lower side."""
        return self.top - self.high


@dataclass
class Canvas:
    """What is drawn so far."""

    width_mm: float
    shapes: list[Shape] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)

    def box(
        self, at: Box, lines: Sequence[str], *, given: bool = True, count: int = 1, small: bool = False
    ) -> Box:
        """A box with centred lines of words; dashed where the design lacks it; a second edge for several."""
        if count > 1:
            self._rectangle(replace_box(at, 1.2), Ink.THING)
        self._rectangle(at, Ink.THING if given else Ink.BOARD)
        if not given:
            self._rectangle(at, Ink.HIDDEN)
        pitch = min(PITCH_MM, (at.high - 1.0) / max(len(lines), 1))
        level = at.level + (len(lines) - 1) * pitch / 2
        for i, words in enumerate(lines):
            first = i == 0 and not small
            height = PLAIN_MM if first and width_mm(words, PLAIN_MM) <= at.wide - 2.0 else SMALL_MM
            shown = shortened(words, at.wide - 2.0, height)
            self.texts.append(
                words_at((at.middle, level - i * pitch - height / 2), shown, height, Align.MIDDLE)
            )
        return at

    def _rectangle(self, at: Box, ink: Ink) -> None:
        corners = ((at.x, at.foot), (at.right, at.foot), (at.right, at.top), (at.x, at.top))
        self.shapes.append(Shape(ink=ink, points=corners, closed=True))

    def lead(self, path: Sequence[Point], inks: Sequence[Ink]) -> tuple[tuple[Point, ...], ...]:
        """Wires side by side along a path of level and upright stretches; where each runs."""
        made = []
        for i, ink in enumerate(inks):
            points = beside(path, ((len(inks) - 1) / 2 - i) * APART_MM)
            self.shapes.append(Shape(ink=ink, points=points))
            made.append(points)
        return tuple(made)

    def words(
        self, words: str, at: Point, room_mm: float, align: Align = Align.LEFT, height_mm: float = SMALL_MM
    ) -> None:
        """A line of words, cut off where it is wider than the room."""
        if words:
            self.texts.append(words_at(at, shortened(words, room_mm, height_mm), height_mm, align))

    def paragraph(self, words: str, at: Point, room_mm: float, height_mm: float = SMALL_MM) -> float:
        """Words in lines below `at`; y of the lowest base line."""
        level = at[1]
        for line in broken(words, room_mm, height_mm):
            level -= PITCH_MM
            self.texts.append(words_at((at[0], level), line, height_mm))
        return level

    def level_lead(self, left: Box, right: Box, level: float, *, plug: bool = False) -> None:
        """A lead of plus and minus between two boxes, plus above, with their signs; a plug in its middle."""
        self.lead([(left.right, level), (right.x, level)], POWER)
        for x in (left.right + 2.5, right.x - 2.5):
            self.words("+", (x, level + APART_MM / 2 + 0.9), 5.0, Align.MIDDLE, 2.5)
            self.words("\u2212", (x, level - APART_MM / 2 - 3.0), 5.0, Align.MIDDLE, 2.5)
        if plug:
            self.plug(((left.right + right.x) / 2, level), level=True)

    def plug(self, at: Point, *, level: bool) -> None:
        """A plug on a lead of plus and minus, and its word."""
        long, across = (2.4, 4.6) if level else (4.6, 2.4)
        self._rectangle(Box(at[0] - long / 2, at[1] + across / 2, long, across), Ink.SYMBOL)
        half = (0.0, across / 2) if level else (long / 2, 0.0)
        self.shapes.append(
            Shape(
                ink=Ink.SYMBOL,
                points=((at[0] - half[0], at[1] - half[1]), (at[0] + half[0], at[1] + half[1])),
            )
        )
        if level:
            self.words("plug", (at[0], at[1] + across / 2 + 1.0), 10.0, Align.MIDDLE)
        else:
            self.words("plug", (at[0] - long / 2 - 1.2, at[1] - SMALL_MM / 2), 10.0, Align.RIGHT)

    def picture(self, name: str, heading: str, told: str, low: float) -> Picture:
        """The picture, `low` the lowest y that anything reaches to."""
        high = round(-low, 3)
        return Picture(
            name=name,
            heading=heading,
            told=told,
            width_mm=self.width_mm,
            height_mm=high,
            shapes=tuple(shape.moved(0.0, high) for shape in self.shapes),
            texts=tuple(replace(text, at=(text.at[0], text.at[1] + high)) for text in self.texts),
        )


def replace_box(at: Box, off: float) -> Box:
    """A box moved to the right and up."""
    return Box(at.x + off, at.top + off, at.wide, at.high)


def beside(path: Sequence[Point], off_mm: float) -> tuple[Point, ...]:
    """A path of level and upright stretches moved to its left, its corners where the moved stretches meet."""
    turns = [_left(a, b) for a, b in pairwise(path)]
    made = []
    for i, (x, y) in enumerate(path):
        first, second = turns[max(i - 1, 0)], turns[min(i, len(turns) - 1)]
        dx, dy = (first[0] + second[0], first[1] + second[1]) if first != second else first
        made.append((round(x + off_mm * dx, 6), round(y + off_mm * dy, 6)))
    return tuple(made)


def _left(a: Point, b: Point) -> Point:
    """The direction square to a level or upright stretch, on its left."""
    if abs(b[0] - a[0]) >= abs(b[1] - a[1]):
        return 0.0, 1.0 if b[0] > a[0] else -1.0
    return (-1.0 if b[1] > a[1] else 1.0), 0.0


def node_lines(node: Node, side: str = "") -> list[str]:
    """What stands in the box of a thing: its name, how many there are, more of it."""
    name = f"{node.name}, {side}" if side else node.name
    several = (f"{node.count} of them",) if node.count > 1 else ()
    return [name, *several, *node.more, *(() if node.given else ("not in the design",))]
