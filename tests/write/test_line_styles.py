"""The table of line styles."""

import pytest

from foamcut.draw.styles import (
    EXTRA_WIDE_MM,
    NARROW_MM,
    PALETTE,
    STYLES,
    VIEW_LINES,
    WIDE_MM,
    Dashes,
    contrast_on_white,
    luminance,
)
from foamcut.draw.values import LAYERS, Line
from foamcut.write.dxf import BLACK_INDEX, nearest_index

CUT = [line for line, style in STYLES.items() if style.cut]


def test_every_kind_of_line_has_a_style():
    assert list(STYLES) == list(Line)


def test_letters_are_one_or_two_capitals_and_no_two_are_alike():
    letters = [style.letter for style in STYLES.values()]
    assert len(set(letters)) == len(letters)
    assert all(letter.isascii() and letter.isupper() and len(letter) <= 2 for letter in letters)


def test_three_widths_in_the_ratio_four_to_two_to_one():
    """Ratio and series of widths: ISO 128-2 (from memory); the series steps by the root of 2, rounded."""
    assert pytest.approx(4, rel=0.03) == EXTRA_WIDE_MM / NARROW_MM
    assert pytest.approx(2, rel=0.03) == WIDE_MM / NARROW_MM
    assert {style.width_mm for style in STYLES.values()} == {NARROW_MM, WIDE_MM, EXTRA_WIDE_MM}


def test_lines_that_are_cut_are_wide_or_wider_and_all_others_narrow():
    wider = {line for line, style in STYLES.items() if style.width_mm > NARROW_MM}
    assert wider - set(VIEW_LINES) == set(CUT)
    assert set(CUT) == {line for line in LAYERS[LAYERS.index(Line.HALF) :] if line is not Line.NOTES}
    assert [line for line in CUT if STYLES[line].width_mm == EXTRA_WIDE_MM] == [Line.THROUGH]


def test_no_two_lines_of_a_part_look_alike_without_their_colour():
    """Kinds differ in dashes or width; words and frames have no line among the lines of a part."""
    words = (Line.LETTERING, Line.NOTES, Line.FRAME, Line.DIMENSION)
    for kinds in ([line for line in Line if line not in (*words, *VIEW_LINES)], VIEW_LINES):
        looks: dict[tuple[Dashes, float], list[Line]] = {}
        for line in kinds:
            looks.setdefault((STYLES[line].dashes, STYLES[line].width_mm), []).append(line)
        assert all(len(group) == 1 for group in looks.values()), looks
    assert STYLES[Line.DIMENSION].dashes is not STYLES[Line.RULER].dashes


def test_only_what_comes_back_to_its_start_is_closed():
    closed = {line for line, style in STYLES.items() if style.closed}
    assert closed == {Line.SHEET, Line.OPENING, Line.THROUGH}


def test_a_colour_of_a_cut_line_stands_on_no_other_line():
    """Views of the model are black all over: no line of a sheet is with them on a page."""
    cut = {STYLES[line].colour for line in CUT}
    assert not cut & {style.colour for line, style in STYLES.items() if line not in (*CUT, *VIEW_LINES)}
    assert not set(VIEW_LINES) & set(LAYERS)


def test_the_darkest_colours_go_to_the_lines_that_are_cut():
    cut = [contrast_on_white(STYLES[line].colour) for line in CUT]
    read = [style for line, style in STYLES.items() if line not in (*CUT, *VIEW_LINES)]
    others = [contrast_on_white(style.colour) for style in read]
    assert min(cut) > max(others)
    assert contrast_on_white(STYLES[Line.THROUGH].colour) == max(cut)
    # no darker colour of the palette was left lying
    used = {style.colour for style in STYLES.values()}
    unused = [contrast_on_white(colour) for colour in PALETTE if colour not in used]
    assert max(unused) < min(others)


def test_words_and_lines_stand_out_from_white_paper():
    """WCAG 2.2, success criteria 1.4.3 (text, 4.5:1) and 1.4.11 (graphics, 3:1)."""
    assert all(contrast_on_white(style.colour) >= 3 for style in STYLES.values())
    for line in (Line.LETTERING, Line.NOTES, Line.DIMENSION, Line.RULER):
        assert contrast_on_white(STYLES[line].colour) >= 4.5


def test_luminance_of_black_white_and_green():
    """The coefficient of green is its luminance."""
    assert luminance((0, 0, 0)) == 0
    assert luminance((255, 255, 255)) == pytest.approx(1)
    assert luminance((0, 255, 0)) == pytest.approx(0.7152)
    assert contrast_on_white((0, 0, 0)) == pytest.approx(21)
    assert contrast_on_white((255, 255, 255)) == pytest.approx(1)


def test_dashes_grow_with_the_width():
    half, mark = STYLES[Line.HALF], STYLES[Line.MARK_BACK]
    assert half.dashes is mark.dashes is Dashes.DASHED
    assert half.dashes_mm == (4.2, 1.05)
    assert mark.dashes_mm == (2.16, 0.54)
    assert STYLES[Line.THROUGH].dashes_mm == ()


def test_drawn_and_empty_lengths_come_in_pairs():
    assert all(len(dashes.value) % 2 == 0 for dashes in Dashes if dashes is not Dashes.CONTINUOUS)


def test_colour_numbers_are_the_nearest_and_differ_where_colours_do():
    colours = {style.colour for style in STYLES.values()}
    numbers = {colour: nearest_index(colour) for colour in colours}
    assert numbers[(0, 0, 0)] == BLACK_INDEX
    assert len(set(numbers.values())) == len(colours)
    assert nearest_index((255, 0, 0)) == 1
    assert nearest_index((0, 0, 254)) == 5
    assert BLACK_INDEX not in {nearest_index((1, 1, 1)), nearest_index((255, 255, 255))}
