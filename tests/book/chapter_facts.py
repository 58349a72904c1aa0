"""Facts for the tests of chapters: samples with a quick layout, and small ones made by hand."""

from dataclasses import replace
from functools import cache
from pathlib import Path

from foamcut.airframe.values import Inputs
from foamcut.book.facts import Facts
from foamcut.book.values import Block, Caution, Chapter, Figure, Grid, Listing, Turning, Words
from foamcut.design.starters import starter
from foamcut.flat.joint import Piece
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flight.values import Cut, Setup
from foamcut.nest.values import Pace
from foamcut.plan.book_facts import book_facts
from foamcut.plan.chain import planned
from foamcut.plan.values import Options
from tests.draw.drawn_parts import TITLE, part

SAMPLES = Path(__file__).parent.parent.parent / "sample_designs"
TWIN, GLIDER, WING, TRAY, BOAT = "cordgrass-2", "thrift-1", "sea-blite-3", "jar-tray", "samphire-1"
INCHES = "trainer in inches"
ALL = (TWIN, GLIDER, WING, TRAY, BOAT, INCHES)


@cache
def facts_of(name: str) -> Facts:
    """A sample or the starter in inches, laid in one step."""
    if name == INCHES:
        data, file = starter("trainer", "in", "trainer").encode(), "trainer.toml"
    else:
        data, file = (SAMPLES / f"{name}.toml").read_bytes(), f"{name}.toml"
    return book_facts(planned(data, file, Options(pace=Pace(steps=1))))


def plate(width: float, height: float, name: str = "plate", **more) -> Part:
    """A rectangle of board, its lower left corner at (0, 0)."""
    return part(Outline.rectangle(0, 0, width, height), name, **more)


def by_hand(*parts: Part, **changed) -> Facts:
    """Facts of parts that nobody has laid; `changed` are fields of it."""
    pieces = [Piece.whole(part) for part in parts]
    facts = Facts(
        title=TITLE,
        units="mm",
        parts=parts,
        cuts=tuple(Cut(piece=piece, count=piece.part.count) for piece in pieces),
        numbers={part.name: i for i, part in enumerate(parts, 1)},
        joints={},
        layouts=(),
        inputs=Inputs(),
        setup=Setup(),
    )
    return replace(facts, **changed)


def blocks(*chapters: Chapter) -> list[Block]:
    """All blocks in the order in which they are read."""
    found: list[Block] = []
    for chapter in chapters:
        found += chapter.blocks
        found += blocks(*chapter.within)
    return found


def texts(*chapters: Chapter) -> list[str]:
    """Every text that is read, headings and cells too."""
    found = [chapter.heading for one in chapters for chapter in (one, *one.within)]
    for block in blocks(*chapters):
        match block:
            case Words(text=text) | Caution(text=text):
                found.append(text)
            case Listing(items=items):
                found += items
            case Grid():
                found += [block.caption, *block.head, *(cell for row in block.rows for cell in row)]
            case Figure():
                found += [block.caption, block.picture.heading, block.picture.told]
            case Turning():
                found += [block.caption, block.still.heading, block.still.told]
    return found


def grid(chapters: tuple[Chapter, ...], caption: str) -> Grid:
    """The table whose caption begins so."""
    return next(one for one in blocks(*chapters) if isinstance(one, Grid) and one.caption.startswith(caption))
