"""What a board keeps in one piece stands in the notes beside it, and nowhere where it is not so."""

from dataclasses import replace

from foamcut.draw.bed_sheet import bed_drawing
from foamcut.draw.sheet import sheet_drawing
from foamcut.draw.values import Drawing, Line
from foamcut.flat.outline import Outline
from foamcut.flat.placement import Placement
from foamcut.nest.leftover import with_left
from foamcut.nest.values import Bed
from tests.draw.drawn_parts import TITLE, layout, part
from tests.draw.page_checks import crowded

RIB = part(Outline.rectangle(0, 0, 40, 30), "rib")
TOLD = "left in one piece: 953 x 700 mm (~37 17/32 x ~27 9/16 in), lower left corner at 47, 0 mm"


def notes(drawing: Drawing) -> str:
    return " ".join(text.text for text in drawing.texts if text.line is Line.NOTES)


def test_it_is_told_where_it_is_known_and_over_no_other_note():
    """A rib of 40 mm, 5 mm from the edge, gap 2: from x = 47 on (arithmetic)."""
    plain = layout((RIB, Placement(x_mm=5, y_mm=5)))
    told = with_left(plain)
    drawings = [
        sheet_drawing(each.sheets[0], each, TITLE, {"rib": 1}, {"board": 5.0}) for each in (plain, told)
    ]
    assert "left in one piece" not in notes(drawings[0])
    assert TOLD in notes(drawings[1])
    assert not crowded(tuple(text for text in drawings[1].texts if text.line is Line.NOTES))


def test_the_drawing_of_a_bed_does_not_tell_it():
    told = with_left(layout((RIB, Placement(x_mm=5, y_mm=5))))
    bed = Bed(number=1, corner=(3.0, 3.0), width_mm=100.0, height_mm=80.0, pieces=("rib-0",))
    sheet = replace(told.sheets[0], beds=(bed,))
    drawing = bed_drawing(sheet, bed, told, TITLE, {"rib": 1}, {"board": 5.0})
    assert "left in one piece" not in notes(drawing)
