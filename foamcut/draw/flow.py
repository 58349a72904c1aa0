"""Blocks of lines and words, stacked on pages with a head and a foot.

mm.  A block's origin is its upper left corner, so that its y run from 0 down to -height.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from foamcut.draw.furniture import caution_line, level_bar
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.paper import PRINTER_MARGIN_MM, Paper
from foamcut.draw.values import Align, Line, Page, Shade, Stroke, Text, Title
from foamcut.draw.words import fitted
from foamcut.flat.outline import Point, Segment, straight

#: height of the head and the foot of a page, gap to the blocks included, mm
HEAD_MM = 10.0
FOOT_MM = 14.0
#: between blocks, mm
GAP_MM = 6.0
_SMALL_MM = 2.5
_PLAIN_MM = 3.5
_BAR_UP_MM = 4.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Lines and words of a known height, kept on one page."""

    height_mm: float
    strokes: tuple[Stroke, ...] = ()
    texts: tuple[Text, ...] = ()
    shades: tuple[Shade, ...] = ()
    gap_mm: float = GAP_MM  # to the block below

    def moved(self, x: float, y: float) -> "Block":
        """The block with its origin at a point."""
        if not x and not y:
            return self
        return replace(
            self,
            strokes=tuple(moved(stroke, x, y) for stroke in self.strokes),
            texts=tuple(_moved_text(text, x, y) for text in self.texts),
            shades=tuple(replace(s, points=tuple((a + x, b + y) for a, b in s.points)) for s in self.shades),
        )


def moved(stroke: Stroke, x: float, y: float) -> Stroke:
    """The stroke with every point moved."""
    segments = tuple(
        Segment((s.start[0] + x, s.start[1] + y), (s.end[0] + x, s.end[1] + y), s.bulge)
        for s in stroke.segments
    )
    return Stroke(line=stroke.line, segments=segments, closed=stroke.closed, piece=stroke.piece)


def _moved_text(text: Text, x: float, y: float) -> Text:
    # every field by its name: pages of tables are moved text by text, and `replace` takes its time
    return Text(
        line=text.line,
        at=(text.at[0] + x, text.at[1] + y),
        text=text.text,
        height_mm=text.height_mm,
        turn_deg=text.turn_deg,
        align=text.align,
        piece=text.piece,
        pivot=text.pivot,
    )


def beside(*placed: tuple[float, Block]) -> Block:
    """Blocks side by side, each with its origin at an x, as one."""
    blocks = [block.moved(x, 0) for x, block in placed]
    return Block(
        height_mm=max(block.height_mm for block in blocks),
        strokes=tuple(stroke for block in blocks for stroke in block.strokes),
        texts=tuple(text for block in blocks for text in block.texts),
        shades=tuple(shade for block in blocks for shade in block.shades),
    )


def below(*blocks: Block, gap_mm: float = 0.0) -> Block:
    """Blocks under one another as one, which stays on one page."""
    done: list[Block] = []
    y = 0.0
    for block in blocks:
        done.append(block.moved(0, -y))
        y += block.height_mm + gap_mm
    return replace(beside(*((0.0, block) for block in done)), height_mm=y - gap_mm)


def paragraph(
    lines: Iterable[str], height_mm: float = _SMALL_MM, *, heading: str = "", pitch: float = 1.9
) -> Block:
    """Lines of words under an optional heading."""
    texts: list[Text] = []
    y = 0.0
    if heading:
        y -= _PLAIN_MM
        texts.append(Text(line=Line.FRAME, at=(0.0, y), text=heading, height_mm=_PLAIN_MM))
        y -= 1.2
    for words in lines:
        y -= height_mm * (pitch if texts else 1.0)
        texts.append(Text(line=Line.FRAME, at=(0.0, y), text=words, height_mm=height_mm))
    return Block(height_mm=-y + height_mm * 0.4, texts=tuple(texts))


def stacked(blocks: Sequence[Block], room_mm: float) -> tuple[tuple[int, ...], ...]:
    """Which blocks stand on which page, by their index, in their order; each page as full as can be."""
    pages: list[list[int]] = []
    left = 0.0
    for i, block in enumerate(blocks):
        if not pages or block.height_mm > left:
            pages.append([])
            left = room_mm
        pages[-1].append(i)
        left -= block.height_mm + block.gap_mm
    return tuple(tuple(page) for page in pages)


def room_mm(paper: Paper) -> float:
    """Height for blocks on an upright page."""
    return paper.height_mm - 2 * PRINTER_MARGIN_MM - HEAD_MM - FOOT_MM


def width_mm(paper: Paper) -> float:
    """Width for blocks on an upright page."""
    return paper.width_mm - 2 * PRINTER_MARGIN_MM


def page_of(
    blocks: Sequence[Block],
    paper: Paper,
    title: Title,
    *,
    heading: str,
    label: str,
    number: int,
    total: int,
    bookmark: str = "",
    level: int = 0,
) -> Page:
    """An upright page with these blocks, a head, and a foot with the bar to measure."""
    left, top = PRINTER_MARGIN_MM, paper.height_mm - PRINTER_MARGIN_MM
    placed = [_head(paper, title, heading).moved(left, top)]
    y = top - HEAD_MM
    for block in blocks:
        placed.append(block.moved(left, y))
        y -= block.height_mm + block.gap_mm
    placed.append(_foot(paper, title, number, total).moved(left, PRINTER_MARGIN_MM))
    whole = beside(*((0.0, block) for block in placed))
    return Page(
        width_mm=paper.width_mm,
        height_mm=paper.height_mm,
        label=label,
        bookmark=bookmark,
        level=level,
        shades=whole.shades,
        strokes=whole.strokes,
        texts=whole.texts,
    )


def _head(paper: Paper, title: Title, heading: str) -> Block:
    width = width_mm(paper)
    level = -_PLAIN_MM
    left = Text(line=Line.FRAME, at=(0.0, level), text=heading, height_mm=_PLAIN_MM)
    room = width - text_width_mm(heading, _PLAIN_MM) - 6.0
    plan, height = plan_words(title, _PLAIN_MM, room)
    right = Text(line=Line.FRAME, at=(width, level), text=plan, height_mm=height, align=Align.RIGHT)
    return Block(height_mm=HEAD_MM, strokes=(rule(0.0, width, -5.5),), texts=(left, right))


def plan_words(title: Title, height_mm: float, width_mm: float) -> tuple[str, float]:
    """Name and revision of the plan, and their height; each is shortened by itself, none is left out."""
    revision = f", revision {title.revision}" if title.revision else ""
    height = height_mm
    if text_width_mm(title.name + revision, height) > width_mm:
        height = _SMALL_MM
    most = max(width_mm / 2, width_mm - text_width_mm(title.name, height))
    revision, _ = fitted(revision, height, most, height)
    name, _ = fitted(title.name, height, width_mm - text_width_mm(revision, height), height)
    return name + revision, height


def _foot(paper: Paper, title: Title, number: int, total: int) -> Block:
    """Bar, page number and one caution; origin at its lower left corner."""
    width = width_mm(paper)
    strokes, texts = level_bar((0.0, _BAR_UP_MM))
    left = 106.0
    caution, height = fitted(caution_line(title.tool), _SMALL_MM, width)
    return Block(
        height_mm=0.0,
        strokes=strokes,
        texts=(
            *texts,
            Text(line=Line.FRAME, at=(0.0, FOOT_MM - 4.0), text=caution, height_mm=height),
            _small(f"page {number} of {total}", (left, 4.6)),
            _small("print at 100 %, scaling off", (left, 0.6)),
        ),
    )


def _small(text: str, at: Point) -> Text:
    return Text(line=Line.FRAME, at=at, text=text, height_mm=_SMALL_MM)


def rule(x0: float, x1: float, y: float, line: Line = Line.FRAME) -> Stroke:
    """A level line."""
    return Stroke(line=line, segments=straight([(x0, y), (x1, y)]))


def frame(x0: float, y0: float, x1: float, y1: float, line: Line = Line.FRAME) -> Stroke:
    """A box."""
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)]
    return Stroke(line=line, segments=straight(corners), closed=True)
