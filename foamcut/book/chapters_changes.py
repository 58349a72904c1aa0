"""What was built otherwise than drawn, the revisions, the licence, and how a print is checked."""

from collections.abc import Iterator

from foamcut.book.facts import Facts
from foamcut.book.values import Block, Chapter, Grid, Listing, Words
from foamcut.draw.keypage import NO_LICENCE
from foamcut.draw.words import revision_words


def changes_chapter(facts: Facts) -> Chapter:
    """As built beside as drawn, and the table of revisions."""
    blocks: list[Block] = []
    if facts.built:
        blocks.append(
            Grid(
                caption=(
                    "Built otherwise than drawn; the parts and numbers of this pack are those of what"
                    " was built"
                ),
                head=("Value", "Drawn", "Built", "Why", "When"),
                rows=tuple((one.key, one.drawn, one.built, one.why, one.date) for one in facts.built),
            )
        )
    else:
        blocks.append(Words(text="Nothing is entered as built otherwise than drawn."))
    blocks.append(Words(text=_ENTER))
    if facts.revisions:
        blocks.append(
            Grid(
                caption="Revisions",
                head=("Revision", "Date", "What changed"),
                rows=tuple((one.letter, one.date, one.what) for one in facts.revisions),
            )
        )
    else:
        blocks.append(Words(text="The design lists no revisions."))
    return Chapter(id="changes", heading="As built, and revisions", blocks=tuple(blocks))


_ENTER = (
    "What you build otherwise you write down while you remember it: which number, what it was,"
    " what it is now,"
    " why, and the day. Entered under [[built]] in design.toml it stands here and in every drawing."
)


def licence_chapter(facts: Facts) -> Chapter:
    """Under which licence, by whom, and how to see that a pack or a print of it is whole."""
    title = facts.title
    blocks: list[Block] = [
        Words(text=f"Licence: {title.licence}." if title.licence else f"Licence: {NO_LICENCE}."),
        Words(text=f"Plan: {revision_words(title)}. Maker: {title.maker or 'not stated'}."),
        Words(text=f"Made by foamcut {title.version} from design.toml, which is in the pack."),
        Words(text="To see that a pack is whole, and a print true:"),
        Listing(items=tuple(_proofs())),
    ]
    return Chapter(id="licence", heading="Licence, maker, and how to check a copy", blocks=tuple(blocks))


def _proofs() -> Iterator[str]:
    yield (
        "foamcut verify and the name of the folder or archive says whether every file is there and unchanged."
    )
    yield (
        "On every page of templates, gauges, marking-out and full-size sheets the 100 mm bar has to measure"
        " 100 mm, 99.5 to 100.5; the 4 in bar 4 in."
    )
    yield "Over joined pages the check line has to measure what is written on it."
    yield "Name and revision have to be the same on all pages. Give away the whole folder, not single pages."
