"""Words of a book made fit for every reader: no letters that a page forbids or that turn others round."""

import unicodedata
from functools import lru_cache

#: kinds of letters that are left out (Unicode, general categories): control, format, halves of pairs,
#: private, unassigned
_LEFT_OUT = frozenset({"Cc", "Cf", "Cs", "Co", "Cn"})
#: format letters that scripts and signs put together of several are written with: non-joiner, joiner
_KEPT = "\u200c\u200d"
_MARKS = frozenset({"Mn", "Me", "Mc"})
#: marks that may stand on one letter; scripts in use have up to four
_MOST_MARKS = 4


@lru_cache(maxsize=4096)
def readable(text: str) -> str:
    """The text in one line, composed (NFC), white space as single blanks.

    What no page may hold is left out, and so is what reverses the letters after it.  A mark without a letter
    to stand on gets a blank.
    """
    line = " ".join(text.split())
    if line.isascii() and line.isprintable():
        return line
    kept: list[str] = []
    marks = 0
    for letter in unicodedata.normalize("NFC", line):
        kind = unicodedata.category(letter)
        if kind in _LEFT_OUT and letter not in _KEPT:
            continue
        marks = marks + 1 if kind in _MARKS else 0
        if marks <= _MOST_MARKS:
            kept.append(letter)
    if kept and unicodedata.category(kept[0]) in _MARKS:
        kept.insert(0, "\u00a0")
    return "".join(kept)
