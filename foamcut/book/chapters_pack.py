"""What is in the pack besides this book, and how to go from it to parts on the bench."""

from collections.abc import Iterator

from foamcut.book.chapters_words import listed
from foamcut.book.facts import Facts
from foamcut.book.values import Block, Chapter, Grid, Listing, Words
from foamcut.flat.drawn import Hand
from foamcut.flat.way import Role


def pack_chapter(facts: Facts) -> Chapter:
    """Which file is for what, and the ways to bring the parts onto the board."""
    blocks: list[Block] = [
        Grid(
            caption="What lies beside this book; where a name is left open, several files begin so",
            head=("File", "What it is for"),
            rows=tuple(_files(facts)),
        ),
        Words(
            text=(
                "There are four ways to bring the parts onto the board. Take the one that you have"
                " the means for:"
            )
        ),
        Listing(items=tuple(_ways(facts))),
        Words(text="Whichever you take, go about it in this order:"),
        Listing(items=tuple(_order(facts)), numbered=True),
    ]
    return Chapter(id="pack", heading="What is in the pack, and how to use it", blocks=tuple(blocks))


def _files(facts: Facts) -> Iterator[tuple[str, str]]:
    yield "book.html, book.pdf", "this book: the first for a screen, the second to print; both say the same"
    yield (
        "templates-...",
        "the parts at full size on pages that a printer at home takes, to join and lay on the board",
    )
    yield "full-size.pdf", "every sheet on one page at full size, for a print shop"
    yield (
        "marking-out.pdf, .csv",
        "distances from one corner of each sheet, for ruler and pencil without any printer",
    )
    yield "sheets/....svg, .dxf", "every sheet at full size for a plotter or laser, or to be looked at"
    whole = (
        "the whole on one page, from three sides, with its main sizes"
        if facts.meshes
        else "all parts at a glance"
    )
    yield "overview.pdf", whole
    yield (
        "gauges.pdf",
        "to print and to cut from scrap: how slots fit, how thick the board is, angles and throws",
    )
    yield "shopping.csv", "what to buy, as a table"
    if facts.inputs and facts.meshes:
        yield "model.glb", "the model put together, for a viewer of such files"
    if facts.report is not None:
        yield "balance.json, balance-....svg", "weight, balance and flight numbers; three pictures of them"
    yield "layout.json", "where every part lies, for other programs"
    yield "design.toml", "the design itself: change a number, and foamcut makes the whole pack anew"
    yield "manifest.json", "the list of all files, by which the pack is checked: foamcut verify and its name"


def _ways(facts: Facts) -> Iterator[str]:
    yield (
        "At home: print the file of templates for your paper at 100 %, scaling off. Measure the 100 mm bar of"
        " the first page before you print the rest. Join the tiles by their letters, lay them on the board,"
        " and prick or cut through."
    )
    yield (
        "At a print shop: one page a sheet from full-size.pdf at 100 %. Measure the bar, lay it on the board."
    )
    yield (
        "With ruler and pencil: marking-out.pdf gives every corner from one corner of the sheet,"
        " each distance"
        " measured from there and never from the last one. Check by the diagonals that stand with it."
    )
    yield (
        "On a plotter or laser: the files of the folder sheets. Outlines there"
        + (
            " are moved out by half of the kerf; do not set it again"
            if facts.kerf_mm
            else " are true sizes, without kerf"
        )
        + ". Ask whoever runs the machine whether it takes your board at all."
    )


def _order(facts: Facts) -> Iterator[str]:
    yield "Measure and weigh a board. Cut the gauges from scrap."
    arrows = " and FRONT and UP" if facts.standing else ""
    hands = ", its hand" if any(part.hand is not Hand.NONE for part in facts.parts) else ""
    yield (
        "Mark out everything on a sheet before you cut anything of it, and write on each piece its"
        f" number{hands}{arrows} while it still lies in the sheet."
    )
    yield (
        "Cut holes, slots and scores first, outlines last: a part that is cut out can no longer be held well."
    )
    joined = dict.fromkeys(cut.piece.part.name for cut in facts.cuts if cut.piece.role is Role.SECTION)
    if joined:
        yield f"Join what is cut in sections before anything else is glued: {listed(joined)}."
    yield "Then build step by step, as this book has it, and tick off what is checked."
    if facts.report is not None:
        yield "Weigh and balance it, set the throws, and go through the checks before the first flight."
