"""The chapters of the book but the steps."""

from foamcut.book.chapters_assumed import assumed_chapter
from foamcut.book.chapters_cautions import cautions_chapter
from foamcut.book.chapters_changes import changes_chapter, licence_chapter
from foamcut.book.chapters_checks import checks_chapter
from foamcut.book.chapters_lines import lines_chapter
from foamcut.book.chapters_pack import pack_chapter
from foamcut.book.chapters_parts import parts_chapter
from foamcut.book.chapters_setup import set_up_chapter
from foamcut.book.chapters_shopping import shopping_chapter
from foamcut.book.chapters_what import what_chapter
from foamcut.book.chapters_wiring import wiring_chapter
from foamcut.book.facts import Facts
from foamcut.book.values import Chapter


def front_chapters(facts: Facts) -> tuple[Chapter, ...]:
    """What stands before the steps: what it is, cautions, what to buy, every part, how drawings are read."""
    return (
        what_chapter(facts),
        pack_chapter(facts),
        cautions_chapter(facts),
        shopping_chapter(facts),
        parts_chapter(facts),
        lines_chapter(facts),
    )


def back_chapters(facts: Facts) -> tuple[Chapter, ...]:
    """What stands behind the steps: wiring, set-up, checks before the first flight, assumptions, changes."""
    several = (
        wiring_chapter(facts),
        set_up_chapter(facts),
        checks_chapter(facts),
        assumed_chapter(facts),
        changes_chapter(facts),
        licence_chapter(facts),
    )
    return tuple(chapter for chapter in several if chapter is not None)
