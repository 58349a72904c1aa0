"""Words broken into the lines of a printed book, in the letters that its font has."""

from collections.abc import Iterator

from foamcut.draw.metrics import drawable, text_width_mm
from foamcut.write.book_words import readable


def printed(text: str) -> str:
    """The text as it is printed, `?` for letters that the font lacks."""
    return drawable(readable(text))


def lines(text: str, size_mm: float, width_mm: float) -> tuple[str, ...]:
    """The text in lines no wider than the width, parted at blanks, a longer word anywhere; at least one line.

    A single letter stays where it is wider than that.
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
    start, used = 0, 0.0
    for i, letter in enumerate(word):
        width = text_width_mm(letter, size_mm)
        if used + width > width_mm and i > start:
            yield word[start:i]
            start, used = i, 0.0
        used += width
    yield word[start:]
