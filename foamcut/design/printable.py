"""Which texts can stand on one line of a sheet, a table or a terminal."""

import unicodedata

from foamcut.design.literals import quoted

MAX_TEXT_LETTERS = 1000
_TURNS = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff"


def text_fault(text: str, most: int) -> str | None:
    """Why a line of text cannot be printed; None when it can."""
    if len(text) > most:
        return f"has {len(text):,} letters; shorten it to {most} or fewer"
    bad = next((c for c in text if _is_control(c)), None)
    if bad is not None:
        return f"has {quoted(bad)} in it, which cannot be printed; write it in one line of plain letters"
    return None


def _is_control(letter: str) -> bool:
    """Whether it is an order to a terminal or page, no letter: controls, line breaks, turns of direction."""
    return unicodedata.category(letter) in ("Cc", "Cs", "Co", "Zl", "Zp") or letter in _TURNS
