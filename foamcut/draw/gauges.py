"""Gauges to print at true size: what is held to boards, slots, control surfaces and joints while one builds.

mm.  Each tells what it is for and how to hold it; a design has those that it has a use for.
"""

from collections.abc import Iterator, Sequence

from foamcut.airframe.values import Inputs
from foamcut.draw.flow import Block, page_of, paragraph, room_mm, stacked, width_mm
from foamcut.draw.gauges_angles import incidence_gauges, thrust_gauges
from foamcut.draw.gauges_balance import balance_gauges
from foamcut.draw.gauges_fit import fit_gauges, thickness_gauges
from foamcut.draw.gauges_throw import throw_gauges
from foamcut.draw.gauges_wing import lean_gauges, prop_gauges
from foamcut.draw.paper import PAPERS, Paper
from foamcut.draw.values import Document, Title
from foamcut.draw.words import revision_words, wrapped
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.flight.figures import Report

_INTRO = (
    "Print at 100 %, measure the bar below with a steel rule, and only then use what stands here. Glue cards"
    " onto"
    " thin cardboard and cut them along the middle of their wide lines; narrow lines are read, not cut, but"
    " for the"
    " slots of fit gauges."
)
_TEXT_MM = 2.5


def gauges_document(
    title: Title,
    units: str,
    parts: Sequence[Part],
    stocks: Sequence[Stock],
    inputs: Inputs | None = None,
    report: Report | None = None,
    paper: Paper = PAPERS["a4"],
) -> Document | None:
    """The gauges of a design, upright pages on A4 or Letter.

    `units` are those of the sketch's ruler, mm or in.  `stocks` are those that parts are cut from and that go
    into slots; `inputs` and `report` are None for what is no aeroplane.  None when there is no stock at all.
    """
    if not stocks:
        return None
    wide = width_mm(paper)
    blocks = [paragraph(wrapped(_INTRO, _TEXT_MM, wide), _TEXT_MM, pitch=1.7)]
    blocks += _gauges(title, units, parts, stocks, inputs, report, wide)
    pages = stacked(blocks, room_mm(paper))
    return Document(
        title=f"{revision_words(title)}: gauges",
        author=title.maker,
        subject=title.title,
        pages=tuple(
            page_of(
                [blocks[i] for i in page],
                paper,
                title,
                heading="Gauges",
                label=f"gauges {number}",
                number=number,
                total=len(pages),
                bookmark="Gauges" if number == 1 else f"Gauges, page {number}",
            )
            for number, page in enumerate(pages, 1)
        ),
    )


def _gauges(
    title: Title,
    units: str,
    parts: Sequence[Part],
    stocks: Sequence[Stock],
    inputs: Inputs | None,
    report: Report | None,
    wide: float,
) -> Iterator[Block]:
    """All gauges in the order in which one comes to need them."""
    yield from thickness_gauges(stocks, units, wide)
    yield from fit_gauges(parts, stocks, title.tool, units, wide)
    if inputs is None:
        return
    yield from lean_gauges(inputs, parts, units, wide)
    yield from prop_gauges(inputs, units, wide)
    yield from incidence_gauges(inputs, wide)
    yield from thrust_gauges(inputs, units, wide)
    yield from balance_gauges(inputs, report, units, wide)
    yield from throw_gauges(inputs, units, wide)
