"""Words beside the openings of a body, and the outline of its doublers on its sides."""

import pytest
from shapely import LineString, Polygon

from foamcut.airframe.motors import motor_parts
from foamcut.flat.build import build_part
from foamcut.flat.drawn import Face
from tests.airframe import motors_sample
from tests.airframe.body_sample import body, built, tail, trough, twin, wing


def test_every_opening_has_its_word_on_a_line_beside_it():
    """common practice, no source: a word by its hole; arithmetic: the line lies on the part, 1 mm off it."""
    one = body(pushrods_mm=((690.0, 48.0),), straps_mm=(114.0, 162.0))
    parts = built(twin(one, surfaces=(wing(), tail(at=(750.0, 54.0)))))
    for hand in ("right", "left"):
        found = words(parts[f"fuselage-side-{hand}"])
        assert sorted(found) == ["air in", "air out", "dowel 6", "dowel 6", "pushrod", "tail"]
    assert sorted(words(parts["fuselage-floor"])) == ["strap"] * 4
    assert words(parts["fuselage-deck"]) == ["servo"]


def words(part):
    """The words at openings; each line lies on the part, off every other line, and 1 mm from an opening."""
    lines = [
        (mark, LineString([mark.runs[0][0].start, *(piece.end for piece in mark.runs[0])]))
        for mark in part.marks
        if mark.face is Face.INNER
    ]
    found = []
    for mark, line in lines:
        if "-words[" not in mark.key and line.length != pytest.approx(6.0):
            continue
        assert part.outline.polygon.buffer(-0.9).contains(line), mark.text
        assert min(part.outline.polygon.boundary.distance(line), 1.0) == pytest.approx(1.0)
        holes = [Polygon(ring) for ring in part.outline.rings()[1:]]
        holes += [slot.outline.polygon for slot in part.slots]
        assert min(hole.distance(line) for hole in holes) == pytest.approx(1.0, abs=0.02), mark.text
        assert min(other.distance(line) for _, other in lines if other is not line) > 0.9
        found.append(mark.text)
    return found


def test_a_side_has_the_outline_of_its_doubler():
    """arithmetic: from 20 to 228 along, its lower edge the line of the floor, 1 mm under the edge above."""
    part = built(twin(body(nose_doubler_mm=(20.0, 228.0))))["fuselage-side-right"]
    runs = [run for mark in part.marks if "nose_doubler" in mark.key for run in mark.runs]
    points = [p for run in runs for p in (run[0].start, *(piece.end for piece in run))]
    assert min(x for x, _ in points) == pytest.approx(20.0)
    assert max(x for x, _ in points) == pytest.approx(228.0)
    assert max(z for _, z in points) == pytest.approx(83.0)
    assert sum(mark.text == "doubler" for mark in part.marks) == 1
    sheet = built(twin(trough()))["fuselage-trough"]
    assert sum(mark.text == "doubler" for mark in sheet.marks) == 2


def test_the_wires_of_a_nacelle_have_their_word():
    inputs = motors_sample.twin(motors_sample.on_wing())
    made = motor_parts(inputs.motors[0], inputs)
    boards = [part for one in made.parts for part in build_part(one)[0] if part.outline.rings()[1:]]
    boards = [part for part in boards if "nacelle" in part.name]
    assert len(boards) == 4
    for part in boards:
        (word,) = [mark for mark in part.marks if mark.text == "wires"]
        assert word.face is part.face
        ends = LineString([word.runs[0][0].start, word.runs[0][-1].end])
        assert part.outline.polygon.contains(ends)
