"""The overview: three views of the model with its main sizes, what it weighs and where it balances.

The first page is on the paper that everybody prints on, the second on the next larger one.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, product

from foamcut.airframe.model import Mesh
from foamcut.airframe.motors import discs
from foamcut.airframe.values import Inputs
from foamcut.draw.flow import Block, beside
from foamcut.draw.overview_facts import FACTS_MM, PARTS_MM, board_list, facts_blocks, parts_block
from foamcut.draw.overview_lines import Drawn, counted, dimension_lines, drawn_lines, reach_mm
from foamcut.draw.overview_marks import Marks, marks
from foamcut.draw.overview_room import Rectangle, Room
from foamcut.draw.overview_sizes import Size, main_sizes
from foamcut.draw.overview_title import TITLE_MM, scale_bar, title_block
from foamcut.draw.overview_views import Arrangement, Box, Placed, Side, Three, arranged, three_views
from foamcut.draw.paper import PAPERS, PRINTER_MARGIN_MM, Paper
from foamcut.draw.values import Document, Page, Title
from foamcut.draw.words import revision_words
from foamcut.flat.part import Part
from foamcut.flight.figures import Report
from foamcut.flight.values import Model

#: reductions of ISO 5455, and true size for what is small
SCALES = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000)
#: white between two things on a page, mm
_GAP_MM = 5.0
#: how views are tried on a page at each scale: arrangement, and whether the page lies on its long side
_TRIED = ((Arrangement.UPRIGHT, True), (Arrangement.FOLDED, False), (Arrangement.FOLDED, True))
_MOST_COLUMNS = 6


@dataclass(frozen=True, kw_only=True, eq=False)
class _Told:
    """All that a page is made from."""

    title: Title
    units: str
    inputs: Inputs | None
    report: Report | None
    parts: tuple[Part, ...]
    date: str
    drawn_words: str = ""  # which parts have no place and are not drawn
    three: Three | None = None
    sizes: tuple[Size, ...] = ()


def overview_document(
    title: Title,
    units: str,
    meshes: Sequence[Mesh],
    model: Model | None,
    report: Report | None,
    parts: Sequence[Part],
    revision_date: str,
) -> Document | None:
    """The overview of a design: an aeroplane, or anything whose parts have places; else its parts alone.

    `units` are those of the sketch's ruler, mm or in; `meshes` are the parts that have a place.  `model` and
    `report` are None for what is no aeroplane.  `revision_date` is empty when none is known.  None when there
    is nothing to show.
    """
    meshes = [mesh for mesh in meshes if len(mesh.triangles)]
    if not meshes and not parts:
        return None
    inputs = None if model is None else model.inputs
    found = () if inputs is None else discs(inputs)
    told = _Told(
        title=title,
        units=units,
        inputs=inputs,
        report=report,
        parts=tuple(parts),
        date=revision_date,
        drawn_words=_missing_words(meshes, parts),
        three=three_views(meshes, found) if meshes else None,
        sizes=main_sizes(meshes, inputs, found, report) if meshes else (),
    )
    papers = [PAPERS[name] for name in (("letter", "tabloid") if units == "in" else ("a4", "a3"))]
    pages = _parts_pages(told, papers[0]) if told.three is None else _view_pages(told, told.three, papers)
    return Document(
        title=f"{revision_words(title)}: overview",
        author=title.maker,
        subject=title.title,
        pages=tuple(pages),
    )


def _missing_words(meshes: Sequence[Mesh], parts: Sequence[Part]) -> str:
    drawn = {mesh.name for mesh in meshes}
    missing = [name for name in dict.fromkeys(part.name for part in parts) if name not in drawn]
    if not missing:
        return ""
    if len(missing) == 1:
        return "One part is not drawn: the design does not say where it sits."
    return f"{len(missing)} parts are not drawn: the design does not say where they sit."


def _view_pages(told: _Told, three: Three, papers: Sequence[Paper]) -> list[Page]:
    return [
        _view_page(told, three, paper, f"{number}/{len(papers)}") for number, paper in enumerate(papers, 1)
    ]


@dataclass(frozen=True, kw_only=True, eq=False)
class _Sheet:
    """Views and sizes on a page where they have room, and what is left of it."""

    size: tuple[float, float]
    scale: int
    views: tuple[Placed, ...]
    over: Block  # sizes and marks
    room: Room
    blocks: tuple[Block, ...]


def _view_page(told: _Told, three: Three, paper: Paper, sheet: str) -> Page:
    """The page with the largest scale at which everything has room."""
    boards = board_list(((part.stock, part.thickness_mm) for part in told.parts), told.units)
    facts = facts_blocks(told.inputs, told.report, told.units, told.title, told.drawn_words, boards)
    tries = ((scale, arrangement, lying) for scale in SCALES for arrangement, lying in _TRIED)
    found = None
    for scale, arrangement, lying in tries:
        found = _sheet(told, three, paper.size(lying=lying), scale, arrangement, facts)
        if found:
            break
    if found is None:  # the facts alone fill the page: they go
        found = _sheet(told, three, paper.size(lying=True), SCALES[-1], Arrangement.UPRIGHT, ())
    assert found is not None, "at the smallest scale the views have room on any paper"
    return _page(told, paper, sheet, found)


def _sheet(
    told: _Told,
    three: Three,
    size: tuple[float, float],
    scale: int,
    arrangement: Arrangement,
    facts: Sequence[Block],
) -> _Sheet | None:
    """The views at a scale with sizes, facts and bar; None where they find no room."""
    views = arranged(three, arrangement, scale, _gaps(told.sizes, arrangement))
    low, high = PRINTER_MARGIN_MM, size[1] - PRINTER_MARGIN_MM
    right = size[0] - PRINTER_MARGIN_MM
    bottom = low + TITLE_MM[1] + _GAP_MM
    if not _has_room([placed.box for placed in views.values()], right - low, high - bottom):
        return None
    drawn, over = _over(told, views, arrangement)
    boxes = [*(placed.box for placed in views.values()), *drawn.boxes, *over.boxes]
    if not _has_room(boxes, right - low, high - bottom):
        return None
    # beside the facts if there is room; in the middle of what is left, or at an edge where facts need more
    x0, y0, x1, y1 = _hull(boxes)
    spare = max(0.0, right - low - FACTS_MM - _GAP_MM - (x1 - x0)) / 2
    for aside, share in product((spare, 0.0, right - low - (x1 - x0)), (0.5, 0.0, 1.0)):
        across = low - x0 + aside
        upwards = bottom - y0 + (high - bottom - (y1 - y0)) * share
        room = Room((low, low, right, high), _GAP_MM)
        room.take(Rectangle(right - TITLE_MM[0], low, right, low + TITLE_MM[1]))
        for a, b, c, d in boxes:
            room.take(Rectangle(a + across, b + upwards, c + across, d + upwards))
        blocks = _beside(room, facts, scale, told.units)
        if blocks is not None:
            break
    else:
        return None
    return _Sheet(
        size=size,
        scale=scale,
        views=tuple(placed.moved(across, upwards) for placed in views.values()),
        over=Block(
            height_mm=0.0,
            strokes=(*drawn.strokes, *over.strokes),
            texts=(*drawn.texts, *over.texts),
            shades=over.shades,
        ).moved(across, upwards),
        room=room,
        blocks=blocks,
    )


def _beside(room: Room, facts: Sequence[Block], scale: int, units: str) -> tuple[Block, ...] | None:
    """The facts and a bar of the scale where they have room; None where one of them has none."""
    wide, bar = scale_bar(scale, units)
    placed = []
    for across, block, from_top in (*((FACTS_MM, one, True) for one in facts), (wide, bar, False)):
        corner = room.place(across, block.height_mm, from_top=from_top)
        if corner is None:
            return None
        placed.append(block.moved(*corner))
    return tuple(placed)


def _over(told: _Told, views: Mapping[str, Placed], arrangement: Arrangement) -> tuple[Drawn, Marks]:
    """Sizes and marks of placed views."""
    lines = drawn_lines(told.sizes, views, arrangement, told.units, told.title)
    over = marks(views, told.inputs, told.report, told.units, told.title, lines)
    drawn = dimension_lines(told.sizes, views, arrangement, told.units, told.title, over.boxes)
    return drawn, over


def _gaps(sizes: Sequence[Size], arrangement: Arrangement) -> tuple[float, float]:
    """White between the views, wide enough for the sizes that are written there: across, upwards."""
    if arrangement is Arrangement.UPRIGHT:
        across, upwards = ("side", Side.LEFT), ("above", Side.BELOW)
    else:
        across, upwards = ("above", Side.LEFT), ("side", Side.ABOVE)
    several = [reach_mm(counted(sizes, arrangement, view, side)) for view, side in (across, upwards)]
    return several[0] + _GAP_MM, several[1] + _GAP_MM


def _has_room(boxes: Sequence[Box], wide: float, high: float) -> bool:
    x0, y0, x1, y1 = _hull(boxes)
    return x1 - x0 <= wide and y1 - y0 <= high


def _hull(boxes: Iterable[Box]) -> Box:
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def _page(told: _Told, paper: Paper, sheet: str, found: _Sheet) -> Page:
    """Everything on the page; the list of parts where there is room for it."""
    wide, high = found.size
    corner = wide - PRINTER_MARGIN_MM - TITLE_MM[0], PRINTER_MARGIN_MM + TITLE_MM[1]
    block = title_block(told.title, f"1:{found.scale}", sheet, told.date, "overview: three views")
    blocks = [*found.blocks, block.moved(*corner)]
    for columns in range(1, _MOST_COLUMNS + 1) if told.parts else ():
        across, parts = parts_block(told.parts, columns)
        place = found.room.place(across, parts.height_mm, from_top=True)
        if place is not None:
            blocks.append(parts.moved(*place))
            break
    whole = beside(*((0.0, block) for block in blocks))
    views = chain.from_iterable(placed.strokes() for placed in found.views)
    return Page(
        width_mm=wide,
        height_mm=high,
        label=sheet.partition("/")[0],
        bookmark=f"three views on {paper.words}",
        shades=found.over.shades,
        strokes=(*views, *found.over.strokes, *whole.strokes),
        texts=(*found.over.texts, *whole.texts),
    )


def _parts_pages(told: _Told, paper: Paper) -> list[Page]:
    """The parts alone, on as many pages as they need."""
    wide, high = paper.size(lying=True)
    columns = int((wide - 2 * PRINTER_MARGIN_MM) // PARTS_MM)
    room = high - 2 * PRINTER_MARGIN_MM - TITLE_MM[1] - _GAP_MM
    names = list(dict.fromkeys(part.name for part in told.parts))
    most = len(names)
    while parts_block(_named(told.parts, names[:most]), columns)[1].height_mm > room:
        most -= columns
    several = [names[i : i + most] for i in range(0, len(names), most)]
    pages = []
    for number, own in enumerate(several, 1):
        sheet = f"{number}/{len(several)}"
        corner = wide - PRINTER_MARGIN_MM - TITLE_MM[0], PRINTER_MARGIN_MM + TITLE_MM[1]
        title = title_block(told.title, "", sheet, told.date, "list of parts", projected=False).moved(*corner)
        parts = parts_block(_named(told.parts, own), columns)[1]
        whole = beside((0.0, title), (0.0, parts.moved(PRINTER_MARGIN_MM, high - PRINTER_MARGIN_MM)))
        pages.append(
            Page(
                width_mm=wide,
                height_mm=high,
                label=f"{number}",
                bookmark="" if number > 1 else f"list of parts on {paper.words}",
                strokes=whole.strokes,
                texts=whole.texts,
            )
        )
    return pages


def _named(parts: Sequence[Part], names: Sequence[str]) -> tuple[Part, ...]:
    wanted = frozenset(names)
    return tuple(part for part in parts if part.name in wanted)
