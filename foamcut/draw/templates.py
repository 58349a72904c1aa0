"""Templates to print at home: key pages, parts to rule on the board, tiles; and the index of it all.

Pure composition: what tiles show stands in `shown`, how pages are bound in `sheaf`, what each looks like in
`keypage`, `ruled` and `tilepage`, how a drawing is divided in `tiles`.
"""

from collections.abc import Mapping, Sequence

from foamcut.draw.flow import room_mm, width_mm
from foamcut.draw.grouped import grouped
from foamcut.draw.keypage import Listed
from foamcut.draw.paper import PAPERS
from foamcut.draw.part import left_out
from foamcut.draw.pieces import Told
from foamcut.draw.ruled import can_be_ruled, ruled_rows
from foamcut.draw.sheaf import Sheaf
from foamcut.draw.shown import shown_part, shown_sheets
from foamcut.draw.template_index import Ruled, SameAs, TemplateIndex, Tile
from foamcut.draw.tilepage import CORNER, board_words, rooms
from foamcut.draw.values import Document, Drawing, Title
from foamcut.draw.words import count_words, face_words, revision_words
from foamcut.flat.drawn import Hand
from foamcut.flat.joint import Joint
from foamcut.flat.part import Part
from foamcut.nest.values import Layout

__all__ = ["Ruled", "SameAs", "TemplateIndex", "Tile", "same_as", "template_document"]

#: mirror images are the same when they differ by less area than this, mm2: a hundredth of the least part
_SAME_MM2 = 0.01


def template_document(
    parts: Sequence[Part],
    layouts: Sequence[Layout],
    title: Title,
    paper: str,
    *,
    by: str,
    every_part: bool,
    sheet_drawings: Sequence[Drawing],
    numbers: Mapping[str, int] | None = None,
    thicknesses: Mapping[str, float] | None = None,
    summary: Sequence[str] = (),
    findings: Sequence[str] = (),
    joints: Mapping[str, tuple[Joint, ...]] | None = None,
) -> tuple[Document, TemplateIndex]:
    """All pages for one paper, and their index.

    Parameters
    ----------
    parts
        The pieces of all chosen ways as parts of their own (`Piece.flat`), each once.
    layouts
        All of them: what a piece is of its part is read off those that are placed.
    paper
        A name in `PAPERS`.
    by
        "part": each part by itself; "sheet": the sheets with all that lies on them.
    every_part
        Tile also the parts that ruler and pencil do.
    sheet_drawings
        One for each sheet of the layouts, in their order, made for templates.
    numbers
        Each piece's number by its name; counted from 1 in the order of the parts when left out.
    thicknesses
        Of each stock by its name, mm; those of the layouts when left out.
    summary
        Sentences for the first page: what to buy.
    findings
        What the program has to say of the design; told on the key pages.
    joints
        Of each part that is joined by the part's name.

    Raises
    ------
    ValueError
        `by` or `paper` is unknown: a bug in the caller.
    """
    if by not in ("part", "sheet") or paper not in PAPERS:
        raise ValueError(f"templates by {by!r} on {paper!r}")
    size = PAPERS[paper]
    numbers = numbers or {part.name: i for i, part in enumerate(parts, 1)}
    thicknesses = thicknesses or {layout.stock.name: layout.stock.thickness_mm for layout in layouts}
    placed = [each.piece for layout in layouts for sheet in layout.sheets for each in sheet.placed]
    told = Told.of(placed, joints or {})
    same = same_as(parts) if by == "part" else ()
    by_name = {part.name: part for part in parts}
    others = {each.printed_as: by_name[each.name] for each in same}
    hidden = {each.name for each in same}
    printed = [part for part in parts if part.name not in hidden] if by == "part" else []

    def whole(part: Part) -> bool:
        # a doubler's outline, ticks and ends are right when it is stuck on whole
        return every_part or part.name in told.doublers

    ruled = [p for p in printed if can_be_ruled(p, width_mm(size)) and not whole(p)]
    tiled = [part for part in printed if part not in ruled]
    rows = ruled_rows(
        [(part, others.get(part.name)) for part in ruled],
        title,
        numbers=numbers,
        thicknesses=thicknesses,
        width_mm=width_mm(size),
        height_mm=room_mm(size),
        told=told,
    )
    shown = [shown_part(p, title, size, numbers, others.get(p.name), thicknesses, told) for p in tiled]
    if by == "sheet":
        shown = shown_sheets(layouts, sheet_drawings, size, title.sketch_unit)
    alone, groups = grouped(shown, rooms(size)[0], CORNER)
    sheaf = Sheaf(
        title=title,
        paper=size,
        ruled=tuple(rows),
        alone=alone,
        groups=groups,
        same=same,
        listed=tuple(_listed(part, title, numbers[part.name], thicknesses, told) for part in parts),
        boards=tuple(board_words(stock, mm, title.sketch_unit) for stock, mm in _boards(parts)),
        joints=told.joints,
        summary=tuple(summary),
        findings=tuple(findings),
    )
    pages, index = sheaf.bound()
    document = Document(
        title=f"{revision_words(title)}: templates on {size.words}",
        author=title.maker,
        subject=title.title,
        pages=pages,
    )
    return document, index


def same_as(parts: Sequence[Part]) -> tuple[SameAs, ...]:
    """The second of each mirrored pair whose template is the first one's, turned over.

    That is so when the outlines are mirror images and no mark would read wrong on the other hand.
    """
    found: list[SameAs] = []
    for i, part in enumerate(parts):
        first = next((other for other in parts[:i] if _is_other_hand(part, other)), None)
        if first:
            found.append(SameAs(name=part.name, printed_as=first.name))
    return tuple(found)


def _is_other_hand(part: Part, other: Part) -> bool:
    if part.key != other.key or {part.hand, other.hand} != {Hand.LEFT, Hand.RIGHT}:
        return False
    if any(mark.handed for mark in (*part.marks, *other.marks)):
        return False
    mirrored = part.outline.mirrored().polygon
    return bool(mirrored.symmetric_difference(other.outline.polygon).area < _SAME_MM2)


def _boards(parts: Sequence[Part]) -> tuple[tuple[str, float], ...]:
    """Every stock that is used, with its thickness, in the order of the parts."""
    return tuple(dict.fromkeys((part.stock, part.thickness_mm) for part in parts))


def _listed(
    part: Part, title: Title, number: int, thicknesses: Mapping[str, float], told: Told
) -> tuple[str, Listed]:
    """A part's line in the list, its page still to be told."""
    lost = left_out(part, title, number=number, thicknesses=thicknesses, role=told.role(part)).told()
    board = board_words(part.stock, part.thickness_mm, title.sketch_unit)
    facts = (
        f"{count_words(part)}, {face_words(part)}, {board}",
        *told.facts(part, title, number, lost),
    )
    return part.name, Listed(heading=f"{number}  {part.name}", facts=facts, where="")
