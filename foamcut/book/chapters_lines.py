"""How the drawings are read: kinds of line with a sample of each, faces, hands, arrows, numbers."""

from collections.abc import Iterator

from foamcut.book.facts import Facts
from foamcut.book.values import Chapter, Grid, Listing
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.draw.styles import EXTRA_WIDE_MM, STYLES, WIDE_MM, Style
from foamcut.draw.values import Line
from foamcut.flat.drawn import Face, Hand
from foamcut.flat.way import Role

#: a sample of a line, mm
_LONG_MM, _HIGH_MM = 34.0, 4.0
#: lines of the views of the whole model
_OF_THE_MODEL = (Line.EDGE, Line.CREASE, Line.CENTRE, Line.SWEPT)
#: the pen of black bars is so wide
_PEN_MM = 0.25


def lines_chapter(facts: Facts) -> Chapter:
    """The legend, and what is written on every part."""
    several = [
        line
        for line in Line
        if line is not Line.LETTERING
        and (facts.standing or line not in _OF_THE_MODEL)
        and (facts.inputs.motors or line is not Line.SWEPT)
    ]
    grid = Grid(
        caption="Kinds of line; in the files each has a colour too, but style and letter say as much",
        head=("Letter", "What it means"),
        rows=tuple((STYLES[line].letter, STYLES[line].words) for line in several),
        pictures=tuple(_sample(line) for line in several),
    )
    return Chapter(
        id="lines",
        heading="How to read the drawings",
        blocks=(grid, Listing(items=tuple(_conventions(facts)))),
    )


def _sample(line: Line) -> Picture:
    """A stretch of a line as it is drawn, its width and dashes true."""
    style = STYLES[line]
    return Picture(
        name=f"line-{style.letter.lower()}",
        heading=style.letter,
        told=f"line {style.letter}: {style.words}",
        width_mm=_LONG_MM,
        height_mm=_HIGH_MM,
        shapes=tuple(_strokes(style)),
        texts=(),
    )


def _strokes(style: Style) -> Iterator[Shape]:
    """Each dash as a shape of its own: pens of pictures have other dashes."""
    level = _HIGH_MM / 2
    for start, end in _dashes(style):
        if style.width_mm >= EXTRA_WIDE_MM:
            high, inset = (style.width_mm - _PEN_MM) / 2, _PEN_MM / 2
            low, top = level - high, level + high
            corners = ((start + inset, low), (end - inset, low), (end - inset, top), (start + inset, top))
            yield Shape(ink=Ink.SOLID, points=corners, closed=True)
        else:
            ink = Ink.EDGE if style.width_mm >= WIDE_MM else Ink.CREASE
            yield Shape(ink=ink, points=((start, level), (end, level)))


def _dashes(style: Style) -> Iterator[tuple[float, float]]:
    """From where to where each dash of a sample goes, mm."""
    at, end = 1.0, _LONG_MM - 1.0
    if not style.dashes_mm:
        yield at, end
        return
    while at < end:
        for i, length in enumerate(style.dashes_mm):
            if i % 2 == 0 and at < end:
                yield at, min(at + length, end)
            at += length


def _conventions(facts: Facts) -> Iterator[str]:
    yield (
        "A part is drawn as it lies on the sheet, with the face up that is named on it. Do not"
        " turn it over to"
        " save room" + (", unless it says either face up." if _any(facts, Face.EITHER) else ".")
    )
    if _any(facts, Face.INNER) or _any(facts, Face.OUTER):
        yield "The inner face ends up inside the model, the outer face is seen when it is finished."
    if any(part.hand is not Hand.NONE for part in facts.parts):
        yield (
            "A right hand part and a left hand part are mirror images. Right is the right side of"
            " somebody who"
            " looks towards the nose from the tail. Cut each from its own drawing, or turn the drawing over."
        )
    if facts.standing:
        yield "FRONT and UP on a part point to the nose and upwards on the model."
    yield (
        "The number before a name is the same in this book, on the sheets, on the templates and in"
        " the tables."
    )
    yield "Small circles on a line are pricked through: the line belongs on the face that lies down."
    if any(part.folds for part in facts.parts):
        yield (
            "Towards you and away from you, of a fold, are seen on the face that lies up. One paper stays"
            " whole: it is the hinge."
        )
    if any(cut.piece.role is Role.DOUBLER for cut in facts.cuts):
        yield (
            "A letter in an outline on two sections is that of the doubler which is glued over the"
            " joint there."
        )
    yield "Written sizes govern: where a print and a number differ, the number is right."
    if facts.units == "in":
        yield "~ before inches says that they are rounded to the nearest thirty-second."


def _any(facts: Facts, face: Face) -> bool:
    return any(part.face is face for part in facts.parts)
