"""Widths of letters, and letters that the font lacks."""

import io
import string

import pytest
from reportlab.pdfbase.ttfonts import TTFont

from foamcut.draw.metrics import DESCENT_PER_CAP, EM_PER_CAP, drawable, missing_letters, text_width_mm
from foamcut.write.ascii_words import ascii_words
from foamcut.write.fonts import font_bytes

PANGRAMS = (
    string.printable.strip(),
    "Příliš žluťoučký kůň úpěl ďábelské ódy",
    "Ξεσκεπάζω την ψυχοφθόρα βδελυγμία",
    "Съешь же ещё этих мягких французских булок",
    "½ ¼ ¾ ° × ± – — → ← ↑ ↓ ≤ ≥ Ø €",
)


@pytest.fixture(scope="module")
def font():
    return TTFont("widths", io.BytesIO(font_bytes()))


@pytest.mark.parametrize("text", PANGRAMS)
def test_widths_are_those_of_the_font_file(font, text):
    """The library that embeds the font reads the same widths from it, to a thousandth of the em."""
    size_mm = 5 * EM_PER_CAP
    assert text_width_mm(text, 5) == pytest.approx(font.stringWidth(text, size_mm), abs=len(text) * size_mm / 1000)
    assert not missing_letters(text)
    assert drawable(text) == text


def test_every_letter_of_the_table_is_in_the_font(font):
    from foamcut.draw.metrics import _advances

    widths = font.face.charWidths
    wrong = [
        letter
        for letter, advance in _advances().items()
        if ord(letter) not in widths or abs(widths[ord(letter)] - advance * 1000 / 2048) > 1
    ]
    assert not wrong
    assert len(_advances()) > 3000


def test_width_grows_with_height_and_length():
    assert text_width_mm("", 3) == 0
    assert text_width_mm("AA", 3) == pytest.approx(2 * text_width_mm("A", 3))
    assert text_width_mm("A", 6) == pytest.approx(2 * text_width_mm("A", 3))


def test_capitals_are_0_729_em_high_in_this_font():
    assert pytest.approx(0.729, abs=0.001) == 1 / EM_PER_CAP
    assert 0.2 < DESCENT_PER_CAP < 0.4


def test_letters_that_cannot_be_set_are_named_once_in_their_order():
    """Missing glyphs, and scripts whose letters are joined or run from the right."""
    assert missing_letters("Queller 海蓬子 海 سلام") == "海蓬子سلام"
    assert drawable("a海b\tc\n") == "a?b c "


def test_accents_apart_from_their_letter_count_with_it():
    assert drawable("e\u0301") == "é"
    assert missing_letters("e\u0301") == ""


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Größe", "Grosse"),
        ("2½ in", "2 1/2 in"),
        ("45° × 3", "45 deg x 3"),
        ("Ωμέγα", "Omega"),
        ("Чайка", "Chajka"),
        ("“plan”\u00a0–\tB", '"plan" - B'),
        ("海", "?"),
        ("\x07", "?"),
        ("mm²", "mm2"),
        ("Ångström", "Angstrom"),
    ],
)
def test_words_in_ascii(text, expected):
    assert ascii_words(text) == expected


@pytest.mark.parametrize("text", PANGRAMS)
def test_words_in_ascii_are_printable(text):
    words = ascii_words(text)
    assert words.isascii()
    assert words.isprintable()
    assert "?" not in words.replace("?", "", text.count("?"))
