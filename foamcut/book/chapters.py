"""The chapters of the book but the steps."""

from foamcut.book.facts import Facts
from foamcut.book.values import Chapter


def front_chapters(facts: Facts) -> tuple[Chapter, ...]:
    """What stands before the steps: what it is, cautions, what to buy, every part."""
    return ()


def back_chapters(facts: Facts) -> tuple[Chapter, ...]:
    """What stands behind the steps: wiring, set-up, checks before the first flight, assumptions, changes."""
    return ()
