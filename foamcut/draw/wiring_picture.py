"""Wiring drawn as boxes and wires: packs, speed controls, motors, receiver and servos, seen from above.

mm on the picture, the nose at the top.  How things are wired is common practice, no source; the maker's word
comes first.
"""

from collections.abc import Iterator

from foamcut.draw.balance_words import width_mm
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.draw.wiring_picture_canvas import EDGE_MM, SMALL_MM, WIDTH_MM, Canvas
from foamcut.draw.wiring_picture_drive import drive
from foamcut.draw.wiring_picture_parts import Scheme, schemes
from foamcut.draw.wiring_picture_radio import radio
from foamcut.draw.wiring_picture_words import notes, told
from foamcut.flight.values import Model, Setup

#: room for words above a receiver at the top, mm
_ABOVE_MM = 4.0


def wiring_pictures(model: Model | None, setup: Setup, units: str) -> tuple[Picture, ...]:
    """The wiring of a model: one picture for up to two motors or none, else one for every motor or pair.

    `units` are those of the sketch's ruler, mm or in.  Empty where nothing is wired.
    """
    if model is None:
        return ()
    found = schemes(model, setup, units)
    return tuple(_picture(one, i, len(found)) for i, one in enumerate(found, 1))


def _picture(scheme: Scheme, number: int, count: int) -> Picture:
    canvas = Canvas(WIDTH_MM)
    low = drive(canvas, scheme) if scheme.columns else -EDGE_MM - _ABOVE_MM
    if scheme.receiver is not None:
        low = radio(canvas, scheme, scheme.receiver, low)
    low = _key(canvas, scheme, low - 5.0)
    for words in notes(scheme):
        low = canvas.paragraph(words, (EDGE_MM, low - 0.8), WIDTH_MM - 2 * EDGE_MM)
    name = "wiring" if count == 1 else f"wiring-{number}"
    heading = "Wiring" if count == 1 else f"Wiring, {number} of {count}"
    return canvas.picture(name, heading, told(scheme), low - EDGE_MM)


def _key(canvas: Canvas, scheme: Scheme, top: float) -> float:
    """What each wire is, in a row; y of its base line."""
    base = top - 2.5
    x = EDGE_MM
    for ink, words in _meanings(scheme):
        canvas.shapes.append(Shape(ink=ink, points=((x, base + 1.0), (x + 10.0, base + 1.0))))
        canvas.words(words, (x + 11.5, base), 40.0)
        x += 11.5 + width_mm(words, SMALL_MM) + 6.0
    return base - 1.0


def _meanings(scheme: Scheme) -> Iterator[tuple[Ink, str]]:
    yield Ink.PLUS, "plus, red: thick"
    yield Ink.MINUS, "minus, black: thinner"
    if scheme.receiver is not None:
        yield Ink.SIGNAL, "signal: thin, dashed"
    if scheme.columns:
        yield Ink.EDGE, "motor wire"
