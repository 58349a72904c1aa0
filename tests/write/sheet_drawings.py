"""Drawings and pages for the tests of the writers."""

from foamcut.draw.values import Align, Document, Drawing, Line, Page, Shade, Stroke, Text, Window
from foamcut.flat.outline import Point, Segment, straight

WIDTH_MM, HEIGHT_MM = 300.0, 200.0


def ring(*points: Point) -> tuple[Segment, ...]:
    """Straight lines through the points and back to the first."""
    return straight([*points, points[0]])


def rectangle(x0: float, y0: float, x1: float, y1: float) -> tuple[Segment, ...]:
    return ring((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def circle(x: float, y: float, radius: float) -> tuple[Segment, ...]:
    return (Segment((x - radius, y), (x + radius, y), 1.0), Segment((x + radius, y), (x - radius, y), 1.0))


def sheet() -> Drawing:
    """A board of 300 x 200 mm with a square of 100 mm, a hole, marks that bend both ways, and notes."""
    return Drawing(
        name="board-1",
        width_mm=WIDTH_MM,
        height_mm=HEIGHT_MM,
        strokes=(
            # not in the order of the layers: writers sort them
            Stroke(
                line=Line.THROUGH, segments=rectangle(10, 10, 110, 110), closed=True, piece="glasswort-1"
            ),
            Stroke(line=Line.SHEET, segments=rectangle(0, 0, WIDTH_MM, HEIGHT_MM), closed=True),
            Stroke(line=Line.OPENING, segments=circle(60, 60, 20), closed=True, piece="glasswort-1"),
            Stroke(line=Line.MARK_BACK, segments=(Segment((20, 20), (40, 20), 0.5),)),
            Stroke(line=Line.MARK, segments=(Segment((20, 30), (40, 30), -0.5),)),
            Stroke(line=Line.NOTES, segments=straight([(320, 10), (420, 10)])),
        ),
        texts=(
            Text(
                line=Line.LETTERING,
                at=(90, 60),
                text="Größe 2½ Ω",
                height_mm=3,
                turn_deg=90,
                align=Align.MIDDLE,
            ),
            Text(line=Line.NOTES, at=(320, 15), text="100 mm", height_mm=3),
        ),
    )


def pages() -> Document:
    """A key page, a tile and a turned tile of the sheet, and an empty last page."""
    drawing = sheet()
    key = Page(
        width_mm=210,
        height_mm=297,
        label="key",
        bookmark="Key page – ключ",
        shades=(Shade(points=((150, 50), (180, 50), (180, 80)), grey=0.8),),
        strokes=(Stroke(line=Line.RULER, segments=straight([(20, 40), (120, 40)])),),
        texts=(Text(line=Line.NOTES, at=(20, 250), text="Seelavendel ключ ΩÅ", height_mm=5),),
    )
    tile = Page(
        width_mm=210,
        height_mm=297,
        label="A1",
        bookmark="Tile A1",
        level=1,
        windows=(
            Window(view=(0, 0, 190, 190), corner=(10, 50), strokes=drawing.strokes, texts=drawing.texts),
        ),
        strokes=(Stroke(line=Line.TRIM, segments=rectangle(10, 50, 200, 240), closed=True),),
    )
    turned = Page(
        width_mm=215.9,
        height_mm=279.4,
        label="A2",
        bookmark="Tile A2",
        level=1,
        windows=(
            Window(
                view=(5, 5, 115, 155),
                corner=(20, 30),
                strokes=drawing.strokes,
                texts=drawing.texts,
                turned=True,
            ),
        ),
    )
    return Document(
        title="Cordgrass – Größe 2",
        author="Salt-marsh station workshop",
        subject="templates at full size",
        pages=(key, tile, turned, Page(width_mm=5080, height_mm=300, label="long")),
    )
