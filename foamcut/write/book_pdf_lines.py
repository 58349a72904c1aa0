"""Words broken into the lines of a printed book, in the letters that its font has."""

import re
from collections.abc import Iterator
from functools import lru_cache

from foamcut.draw.metrics import drawable, text_width_mm
from foamcut.write.book_words import readable

#: what is kept together in a long word, its hyphens included
_CHUNK = re.compile(r"[^-_/.]+[-_/.]*|[-_/.]+")


@lru_cache(maxsize=4096)
def printed(text: str) -> str:
    """The text as it is printed, `?` for letters that the font lacks."""
    return drawable(readable(text))


def lines(text: str, size_mm: float, width_mm: float) -> tuple[str, ...]:
    """The text in lines no wider than the width, parted at blanks; at least one line.

    A longer word is parted at its hyphens or anywhere.  A single letter stays where it is wider than that.
    """
    done: list[str] = []
    used = 0.0
    blank = text_width_mm(" ", size_mm)
    for word in printed(text).split(" "):
        width = text_width_mm(word, size_mm)
        if done and used + blank + width <= width_mm:
            done[-1] += f" {word}"
            used += blank + width
            continue
        pieces = [word] if width <= width_mm else list(_broken(word, size_mm, width_mm))
        done += pieces
        used = text_width_mm(pieces[-1], size_mm)
    return tuple(done)


def _broken(word: str, size_mm: float, width_mm: float) -> Iterator[str]:
    """Pieces no wider than the width, parted behind a hyphen or the like where that goes."""
    line, used = "", 0.0
    for chunk in _CHUNK.findall(word):
        width = text_width_mm(chunk, size_mm)
        for piece in (chunk,) if width <= width_mm else chunk:
            width = text_width_mm(piece, size_mm)
            if line and used + width > width_mm:
                yield line
                line, used = "", 0.0
            line += piece
            used += width
    yield line
