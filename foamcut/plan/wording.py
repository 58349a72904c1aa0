"""Counts and tables in words."""

from collections.abc import Collection, Sequence


def counted(number: int, word: str) -> str:
    """``1 board``, ``2 boards``."""
    return f"{number} {word}{'s' * (number != 1)}"


def columns(rows: Sequence[Sequence[str]], right: Collection[int] = ()) -> str:
    """Rows of words in columns two blanks apart; those of the indexes in `right` end under each other."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    lines = (
        "  ".join(
            f"{word:>{width}}" if i in right else f"{word:<{width}}"
            for i, (word, width) in enumerate(zip(row, widths, strict=True))
        )
        for row in rows
    )
    return "".join(f"{line.rstrip()}\n" for line in lines)
