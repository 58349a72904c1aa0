"""A drawing reduced or enlarged, with names beside its points and a bar drawn to its scale.

mm on the page; a block's origin is its upper left corner.  Scales are those of ISO 5455: 1, 2, 5 and their
tens, to either side.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from foamcut.draw.flow import Block, frame
from foamcut.draw.marking_labels import Box, Labels
from foamcut.draw.values import Line, Stroke, Text
from foamcut.flat.outline import Point, Segment, straight
from foamcut.units import MM_PER, decimal_text, inch_text

#: scales, the largest first: mm on the page for one of the sheet
SCALES = tuple(
    Fraction(*pair)
    for pair in ((5, 1), (2, 1), (1, 1), (1, 2), (1, 5), (1, 10), (1, 20), (1, 50), (1, 100), (1, 200))
)
#: names without room after which no longer every one is tried
MOST_LOST = 100
_TENTH = 10
#: room round a drawing for its numbers, mm
PAD_MM = 7.0
#: numbers beside a drawing that is narrower than its room go out so far at its right, mm
_BESIDE_MM = 20.0
#: below it for the bar and its words, mm
BAR_ROOM_MM = 8.0
_TEXT_MM = 2.5
_BAR_UP_MM = 3.2
_TICK_MM = 1.2
#: a bar is as long as this at most on the page, mm, or as this share of its room
_LONGEST_BAR_MM = 40.0
_BAR_SHARE = 0.25


def scale_words(scale: Fraction) -> str:
    """The scale as it is written: ``1:5``, ``2:1`` (ISO 5455)."""
    return f"{scale.numerator}:{scale.denominator}"


def largest_scale(width_mm: float, height_mm: float, room: tuple[float, float]) -> Fraction:
    """The largest scale at which a drawing with its numbers fits a room on the page, mm."""
    across, up = room[0] - 2 * PAD_MM, room[1] - 2 * PAD_MM - BAR_ROOM_MM
    fit = (s for s in SCALES if width_mm * s <= across and height_mm * s <= up)
    return next(fit, SCALES[-1])


class Small:
    """What lies in a box of the sheet, as large as a room on the page allows."""

    def __init__(
        self, strokes: Sequence[Stroke], box: Box, room: tuple[float, float], most: Fraction = SCALES[0]
    ) -> None:
        """`most`: the scale is no larger, though there be room."""
        self.box = box
        width, height = box[2] - box[0], box[3] - box[1]
        self.scale = min(most, largest_scale(width, height, room))
        self._room = room
        self._ratio = float(self.scale)
        self._width = min(room[0], width * self._ratio + 2 * PAD_MM + _BESIDE_MM)
        self._height = height * self._ratio + 2 * PAD_MM
        self._strokes = [self._scaled(stroke) for stroke in strokes]
        self._texts: list[Text] = []
        self._labels = Labels((0.0, -self._height, self._width, 0.0), self._strokes)

    def on_page(self, at: Point) -> Point:
        """Where a point of the sheet lies, from the drawing's upper left corner, its room included."""
        x, y = at[0] - self.box[0], at[1] - self.box[1]
        return PAD_MM + x * self._ratio, PAD_MM + y * self._ratio - self._height

    def name(
        self, points: Iterable[tuple[str, Point]], height_mm: float, *, inside: bool = False
    ) -> list[str]:
        """Put names beside points, in their order; those that found no room are given back.

        `inside`: a name may stand on its point.  Where many find no room, every tenth is tried from then on.
        """
        places = [(name, self.on_page(at)) for name, at in points]
        lost: list[str] = []
        if not inside:
            for _, at in places:
                self._labels.keep_free(at)
        for i, (name, at) in enumerate(places):
            if len(lost) >= MOST_LOST and i % _TENTH:
                lost.append(name)
                continue
            found = self._labels.place(name, at, height_mm, inside=inside)
            if found is None:
                lost.append(name)
                continue
            self._texts.append(found[0])
            self._strokes += found[1]
        return lost

    def frame(self, box: Box, name: str, height_mm: float) -> None:
        """Frame a box of the sheet that is drawn larger elsewhere, with its name at a corner."""
        (x0, y0), (x1, y1) = self.on_page(box[:2]), self.on_page(box[2:])
        self._strokes.append(frame(x0, y0, x1, y1, Line.DIMENSION))
        for corner in ((x1, y1), (x0, y1), (x1, y0), (x0, y0)):
            if found := self._labels.place(name, corner, height_mm):
                self._texts.append(found[0])
                self._strokes += found[1]
                return

    def block(self, unit: str) -> Block:
        """The drawing with its bar."""
        longest = min(_LONGEST_BAR_MM, _BAR_SHARE * self._room[0])
        at = 0.0, _BAR_UP_MM - BAR_ROOM_MM - self._height
        strokes, texts = scale_bar(at, self.scale, unit, longest)
        return Block(
            height_mm=self._height + BAR_ROOM_MM,
            strokes=(*self._strokes, *strokes),
            texts=(*self._texts, *texts),
        )

    def _scaled(self, stroke: Stroke) -> Stroke:
        segments = tuple(
            Segment(self.on_page(s.start), self.on_page(s.end), s.bulge) for s in stroke.segments
        )
        return replace(stroke, segments=segments)


def scale_bar(at: Point, scale: Fraction, unit: str, longest_mm: float) -> tuple[list[Stroke], list[Text]]:
    """A bar of a round length drawn to scale from its left end, in five parts, and the scale beside it."""
    length = _bar_length(scale, unit, longest_mm)
    drawn = float(length * scale)
    x, y = at
    strokes = [Stroke(line=Line.DIMENSION, segments=straight([(x, y), (x + drawn, y)]))]
    for i in range(6):
        tick = _TICK_MM * (1.6 if i in (0, 5) else 1.0)
        place = x + drawn * i / 5
        strokes.append(Stroke(line=Line.DIMENSION, segments=straight([(place, y), (place, y + tick)])))
    words = f"{inch_text(float(length)) if unit == 'in' else decimal_text(float(length))} {unit}"
    after = x + drawn + 2.0
    text = f"{words}, scale {scale_words(scale)}"
    return strokes, [Text(line=Line.DIMENSION, at=(after, y - 1.0), text=text, height_mm=_TEXT_MM)]


def _bar_length(scale: Fraction, unit: str, longest_mm: float) -> Fraction:
    """The longest of 1, 2, 5 and their tens of a unit, or its half or quarter, that is short enough, mm."""
    one = MM_PER[unit]
    lengths = [one / 4, one / 2, *(one * step * 10**power for power in range(4) for step in (1, 2, 5))]
    fit = [length for length in lengths if length * scale <= Fraction(longest_mm)]
    return fit[-1] if fit else lengths[0]
