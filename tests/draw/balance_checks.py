"""What must hold of every picture of the balance, and names that builders may give."""

from shapely import LineString, Polygon, STRtree, box

from foamcut.draw.balance_frame import CLOSING, EDGE_MM
from foamcut.draw.balance_words import width_mm
from foamcut.draw.metrics import DESCENT_PER_CAP
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.draw.values import Align, Text

# scripts with wide, joined, stacked and turned letters; a builder's name may be any of them
NAMES = (
    "W" * 200,
    "very long name of a thing aboard " * 6,
    "潮汐測量用電池" * 20,
    "بطارية الطائرة " * 12,
    "z" + "\u0301\u0302\u0303" * 40,
    "\u202ereversed\u202c battery",
    "🔋" * 60,
    "l\u200bi\u200bn\u200be\nbreak\ttab",
    "i",
)


def box_of(text: Text) -> Polygon:
    """The room of a line of words, the letters that the font lacks an em wide."""
    width = width_mm(text.text, text.height_mm)
    left = text.at[0] - {Align.LEFT: 0.0, Align.MIDDLE: width / 2, Align.RIGHT: width}[text.align]
    low = text.at[1] - DESCENT_PER_CAP * text.height_mm
    return box(left, low, left + width, text.at[1] + text.height_mm)


def crowded(picture: Picture) -> list[tuple[str, str]]:
    boxes = [box_of(text).buffer(-0.05) for text in picture.texts]
    pairs = STRtree(boxes).query(boxes, predicate="intersects").T
    return [(picture.texts[i].text, picture.texts[j].text) for i, j in sorted(map(tuple, pairs)) if i < j]


def cut_off(picture: Picture) -> list[str]:
    field = box(0, 0, picture.width_mm, picture.height_mm)
    inner = field.buffer(1.0 - EDGE_MM, join_style="mitre")
    return [text.text for text in picture.texts if not inner.contains(box_of(text))]


def crossed(picture: Picture) -> list[str]:
    """Words that a line or an area runs through."""
    shapes = [
        Polygon(s.points) if s.closed and len(set(s.points)) > 2 else LineString(s.points)
        for s in picture.shapes
    ]
    tree = STRtree(shapes)
    return [
        text.text
        for text in picture.texts
        if len(tree.query(box_of(text).buffer(-0.35), predicate="intersects"))
    ]


def look_over(picture: Picture) -> None:
    assert crowded(picture) == []
    assert cut_off(picture) == []
    assert crossed(picture) == []
    field = box(0, 0, picture.width_mm, picture.height_mm)
    assert all(field.contains(LineString(shape.points)) for shape in picture.shapes)
    assert all(text.text.strip() for text in picture.texts)
    assert words(picture).endswith(CLOSING)


def words(picture: Picture) -> str:
    """All words of a picture from its top down; lines that go on are joined."""
    return " ".join(text.text for text in picture.texts)


def of(picture: Picture, ink: Ink) -> list[Shape]:
    return [shape for shape in picture.shapes if shape.ink is ink]


def tick_at(picture: Picture, mark: str) -> float:
    """Where a number of the scale stands; numbers of things stand elsewhere."""
    level = min(t.at[1] for t in picture.texts if t.text == "0")
    return next(t.at[0] for t in picture.texts if t.text == mark and t.at[1] == level)
