"""How wide a text is, and which letters the font lacks.

Layout and the writers use the same numbers, those of the font that PDF files carry.  A text's height
is that of a capital letter, mm.
"""

import unicodedata
from functools import cache, lru_cache

from foamcut.draw.advances import ADVANCES, CAP_HEIGHT, DESCENT, UNITS_PER_EM

#: font size (em) in capital heights
EM_PER_CAP = UNITS_PER_EM / CAP_HEIGHT

#: how far letters such as g reach below the baseline, in capital heights
DESCENT_PER_CAP = DESCENT / CAP_HEIGHT

#: that font's name, and what stands in where a viewer has none of it
FONTS = "DejaVu Sans, sans-serif"

#: drawn in place of a letter that the font lacks
SUBSTITUTE = "?"


def drawable(text: str) -> str:
    """The text as it is drawn: accents put together with their letters, `?` for what cannot be drawn.

    White space of any kind becomes a blank.  Every writer of an embedded font draws this.
    """
    advances = _advances()
    composed = unicodedata.normalize("NFC", text)
    blanks = (" " if letter.isspace() else letter for letter in composed)
    return "".join(letter if letter in advances else SUBSTITUTE for letter in blanks)


def missing_letters(text: str) -> str:
    """Letters of the text that cannot be drawn, each once, in their order; empty when there are none.

    They are those that the font lacks, and those of scripts that run from the right or join their letters.
    """
    advances = _advances()
    composed = unicodedata.normalize("NFC", text)
    return "".join(dict.fromkeys(a for a in composed if a not in advances and not a.isspace()))


def text_width_mm(text: str, height_mm: float) -> float:
    """Width of a line of text with capitals `height_mm` high, mm: from its start to where it would go on."""
    return _units(text) / UNITS_PER_EM * EM_PER_CAP * height_mm


@lru_cache(maxsize=16384)
def _units(text: str) -> int:
    advances = _advances()
    # plain letters are drawn as they are
    letters = text if text.isascii() and text.isprintable() else drawable(text)
    return sum(map(advances.__getitem__, letters))


@cache
def _advances() -> dict[str, int]:
    """Advance of every letter, in units of the em."""
    advances: dict[str, int] = {}
    code = 0
    for line in ADVANCES.split("\n"):
        start, *words = line.split(" ")
        if start and start != "+":
            code = int(start, 16)
        for word in words:
            count, _, advance = word.rpartition("*")
            for _ in range(int(count or 1)):
                advances[chr(code)] = int(advance)
                code += 1
    return advances
