"""Sizes, places and lists in words; samples of lines."""

from dataclasses import replace

import pytest

from foamcut.book.chapters_lines import lines_chapter
from foamcut.book.chapters_words import (
    OWN_SIDES,
    between_words,
    listed,
    out_cell,
    part_labels,
    set_words,
    sheets_words,
    sizes_cell,
    sizes_words,
    span_cell,
    span_head,
    thickness_words,
)
from foamcut.draw.styles import STYLES
from foamcut.draw.values import Line
from tests.book.chapter_facts import TWIN, blocks, by_hand, facts_of, plate

MM = by_hand(plate(40, 20))
INCH = replace(MM, units="in", title=replace(MM.title, sketch_unit="in", sketch_scale=8.0))
FULL = replace(MM, title=replace(MM.title, sketch_scale=1.0))


def test_places_out():
    """To the right, to the left, to each side, or from one to the other."""
    assert out_cell(14.0, 14.0, MM) == "14 right (2.33)"
    assert out_cell(-17.0, -17.0, MM) == "17 left (2.83)"
    assert out_cell(26.0, 31.0, MM) == "26 to 31 right (4.33 to 5.17)"
    assert out_cell(-31.0, -26.0, MM) == "26 to 31 left (4.33 to 5.17)"
    assert out_cell(-31.0, 31.0, FULL) == "31 to each side"
    assert out_cell(-21.5, 2.5, FULL) == "from 21.5 left to 2.5 right"
    assert out_cell(26.0, 31.0, FULL, OWN_SIDES) == "26 to 31 to its side"
    assert out_cell(-31.0, -26.0, FULL, OWN_SIDES) == "26 to 31 to the other side"
    assert out_cell(0.0, 0.0, FULL) == "0 to each side"


def test_heads_of_columns_say_unit_and_sketch():
    """A cell has numbers alone."""
    assert span_cell(228.0, 233.0, MM) == "228 to 233 (38 to 38.83)"
    assert span_head("Along", MM) == "Along, mm (sketch)"
    assert span_cell(228.6, 228.6, INCH) == "9 (1 1/8)"
    assert span_head("Along", INCH) == "Along, in (sketch)"
    assert span_cell(228.6, 233.3625, INCH) == "9 to 9 3/16 (1 1/8 to 1.148)"
    assert span_head("Up", FULL) == "Up, mm"
    assert span_cell(10.0, 12.5, FULL) == "10 to 12.5"


def test_sizes():
    """mm, or inches with the mm beside them."""
    assert sizes_words((864.0, 84.04), "mm") == "864 x 84 mm"
    assert sizes_words((508.0, 4.7625), "in") == "20 x 3/16 in (508 x 4.8 mm)"
    assert sizes_cell((864.0, 84.04), "mm") == "864 x 84"
    assert sizes_cell((508.0, 4.7625), "in") == "20 x 3/16 (508 x 4.8)"
    assert thickness_words(4.7625, "in") == "3/16 in (4.76 mm)"
    assert thickness_words(5.04, "mm") == "5.04 mm"


@pytest.mark.parametrize(
    ("mm", "words"),
    [
        (10.36, "13/32 in (10.4 mm)"),
        (25.4, "1 in (25.4 mm)"),
        (54.8, "2 5/32 in (54.8 mm)"),
        (0.0, "0 in (0 mm)"),
    ],
)
def test_what_is_set_with_a_ruler(mm, words):
    """Arithmetic: the nearest thirty-second of 25.4 mm."""
    assert set_words(mm, "in") == words


def test_ranges_that_read_the_same_are_none():
    """A range says something or is not told."""
    assert between_words(833.2, 837.4, "g", "mm") == "833 to 837 g"
    assert between_words(833.2, 833.4, "g", "mm") == ""
    assert between_words(None, 3.0, "g", "mm") == ""


def test_lists():
    """Commas, and "and" before the last."""
    assert listed([]) == ""
    assert listed(["a"]) == "a"
    assert listed(["a", "b"]) == "a and b"
    assert listed(["a", "b", "c"]) == "a, b and c"
    assert sheets_words([("board", 3), ("board", 1), ("ply", 1)]) == "board 1 and 3, ply 1"
    assert sheets_words([("board", 3), ("board", 1), ("ply", 1)], "board") == "1 and 3, ply 1"
    assert sheets_words([]) == ""


def test_numbers_of_joined_parts():
    """A part in pieces has the numbers of its pieces."""
    labels = part_labels(facts_of(TWIN))
    assert labels["wing-skin-right"] == "1"
    assert labels["fuselage-side-right"] == "16 to 18"


def test_samples_of_lines_are_drawn_as_the_table_has_them():
    """Dashes and gaps of each sample are those of its style, and every kind looks unlike every other."""
    (grid, *_) = blocks(lines_chapter(facts_of(TWIN)))
    letters = {style.letter: style for style in STYLES.values()}
    looks = set()

    for (letter, words), picture in zip(grid.rows, grid.pictures, strict=True):
        style = letters[letter]
        assert words == style.words
        assert letter in picture.told
        ends = [(min(p[0] for p in s.points), max(p[0] for p in s.points)) for s in picture.shapes]
        if style.dashes_mm:
            drawn, empty = style.dashes_mm[0::2], style.dashes_mm[1::2]
            for i, (start, end) in enumerate(ends[:-1]):
                assert end - start == pytest.approx(drawn[i % len(drawn)])
                assert ends[i + 1][0] - end == pytest.approx(empty[i % len(empty)])
        else:
            assert len(ends) == 1
        assert all(0 < start < end < picture.width_mm for start, end in ends)
        if style.cut:
            looks.add((style.width_mm, style.dashes))
    assert len(looks) == sum(style.cut for style in STYLES.values())
    assert len(grid.rows) == len(Line) - 1


def test_lines_of_the_model_are_left_out_without_one():
    """A tray has no views of the whole."""
    (grid, *_) = blocks(lines_chapter(by_hand(plate(40, 20))))
    assert not [row for row in grid.rows if row[0] in ("E", "CL", "SW")]
