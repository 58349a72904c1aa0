"""Parts and marks for the tests of drawings."""

from dataclasses import dataclass, replace

from shapely import LineString, Polygon

from foamcut.draw.values import Title
from foamcut.flat.drawn import Face, Grain, Hand, Place, Turns
from foamcut.flat.joint import Piece
from foamcut.flat.marks import MarkLines, MarkText
from foamcut.flat.outline import Outline, straight
from foamcut.flat.part import Part, Slot
from foamcut.flat.placement import Placement
from foamcut.flat.stock import Stock
from foamcut.nest.values import Bound, Kind, Layout, Placed, Sheet

TITLE = Title(
    name="cordgrass-2",
    title="Twin that carries plot marker sticks over the salt marsh",
    revision="A",
    maker="Salt-marsh station workshop",
    licence="",
    scale_text="1:6",
    tool="knife",
    sketch_unit="mm",
    sketch_scale=6.0,
    version="0.1.0",
)
ON_THE_RIGHT = Place(key="parts.side.place", at=(0, 0, 0), x=(1, 0, 0), y=(0, 0, 1))


@dataclass(frozen=True, slots=True, kw_only=True)
class LineMark:
    """A straight mark with a word at its middle."""

    ends: tuple[tuple[float, float], tuple[float, float]]
    text: str = ""
    face: Face = Face.INNER
    key: str = "parts.side.marks[0]"
    handed: bool = False

    def trimmed(self, region: Polygon) -> "LineMark | None":
        return self if region.intersects(LineString(self.ends)) else None

    def mirrored(self) -> "LineMark":
        (x0, y0), (x1, y1) = self.ends
        return replace(self, ends=((x0, -y0), (x1, -y1)))

    def drawn(self) -> MarkLines:
        (x0, y0), (x1, y1) = self.ends
        words = (MarkText(at=((x0 + x1) / 2 + 4, (y0 + y1) / 2), text=self.text),) if self.text else ()
        return MarkLines(runs=(straight(self.ends),), texts=words, prick_points=self.ends)


def slot(
    x: float, y: float, length: float, turn: float = 0.0, takes: str = "ply", width: float = 1.7
) -> Slot:
    """A slot with its middle at (x, y); turn 0 or 90."""
    a, b = (length / 2, width / 2) if turn == 0 else (width / 2, length / 2)
    outline = Outline.rectangle(x - a, y - b, x + a, y + b)
    return Slot(
        key="slots[0]",
        at=(x, y),
        length_mm=length,
        width_mm=width,
        turn_deg=turn,
        takes=takes,
        outline=outline,
    )


def part(outline: Outline, name: str = "side", slots: tuple[Slot, ...] = (), **more) -> Part:
    """A part with the slots cut out of the outline."""
    values = {
        "key": f"parts.{name}",
        "stock": "board",
        "thickness_mm": 5.0,
        "count": 1,
        "hand": Hand.NONE,
        "face": Face.INNER,
        "grain": Grain.ANY,
        "turns": Turns.QUARTER,
    } | more
    (cut,) = outline.minus(*(s.outline for s in slots)) if slots else (outline,)
    return Part(name=name, outline=cut, slots=slots, **values)


def side(**more) -> Part:
    """A fuselage side, 864 mm long: slots for formers, a window, marks on both faces, a place."""
    points = [(0, 12), (48, 0), (384, 12), (864, 36), (864, 66), (600, 84), (384, 84), (24, 84), (0, 24)]
    (body,) = Outline.of_points(points).minus(Outline.circle(500, 50, 14))
    slots = (slot(60, 45, 40, 90, "board", 5.2), slot(228, 50, 40, 90, "ply"), slot(456, 50, 30, 0, "ply"))
    marks = (
        LineMark(ends=((276, 8.14), (276, 84)), text="F2"),
        LineMark(ends=((150, 40), (190, 40)), text="CG", face=Face.OUTER),
    )
    return part(body, **{"slots": slots, "marks": marks, "place": ON_THE_RIGHT} | more)


BOARD = Stock(
    key="stock.board",
    name="board",
    material="paper-faced foam board",
    thickness_mm=5.0,
    margin_mm=3.0,
    gap_mm=2.0,
)
PLY = Stock(
    key="stock.ply", name="ply", material="birch plywood", thickness_mm=1.5, margin_mm=3.0, gap_mm=2.0
)


def pair(**more) -> tuple[Part, Part]:
    """Two fuselage sides, mirror images of each other."""
    right = side(**{"name": "side-right", "key": "parts.side", "hand": Hand.RIGHT} | more)
    left = replace(
        right,
        name="side-left",
        hand=Hand.LEFT,
        outline=right.outline.mirrored(),
        slots=tuple(
            replace(s, at=(s.at[0], -s.at[1]), outline=s.outline.mirrored(), turn_deg=-s.turn_deg)
            for s in right.slots
        ),
        marks=tuple(mark.mirrored() for mark in right.marks),
        place=right.place.mirrored() if right.place else None,
    )
    return right, left


def layout(
    *placed: tuple[Part, Placement], stock: Stock = BOARD, size: tuple[float, float] = (1000, 700)
) -> Layout:
    """One sheet with parts placed by hand."""
    pieces = []
    for i, (each, placement) in enumerate(placed):
        piece = Piece.whole(each)
        outline = each.outline.placed(placement)
        pieces.append(
            Placed(id=f"{each.name}-{i}", copy=1, piece=piece, placement=placement, outline=outline)
        )
    sheet = Sheet(
        stock=stock.name,
        number=1,
        kind=Kind.NEW,
        source=f"{stock.key}.sheets[0]",
        width_mm=size[0],
        height_mm=size[1],
        outline=Outline.rectangle(0, 0, *size),
        placed=tuple(pieces),
    )
    bound = Bound(
        stock=stock.name, new=1, at_least=1, cost=None, cost_at_least=None, proven=True, reason="one board"
    )
    return Layout(stock=stock, sheets=(sheet,), bound=bound)
