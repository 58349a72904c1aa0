"""Why parts cannot be laid out at all, in words for the builder."""

from collections.abc import Sequence

from foamcut.errors import Refusal
from foamcut.flat.fitting import what_holds_it
from foamcut.flat.joint import Piece, Role
from foamcut.flat.outline import Outline
from foamcut.flat.stock import Stock
from foamcut.nest.firstfit import MOST_SHEETS
from foamcut.nest.forms import extent_mm
from foamcut.nest.rooms import Source, nanometres
from foamcut.nest.turning import may_lie_askew, roomiest_turn, upright_turns
from foamcut.nest.values import Wanted
from foamcut.units import decimal_text


def contradictions(wanted: Sequence[Wanted], stock: Stock) -> dict[int, Refusal]:
    """For parts that no turn is left for, by their index: grain and turns contradict."""
    found = {}
    for index, want in enumerate(wanted):
        flats = [piece.flat for piece in want.ways[0].pieces]
        flat = next((flat for flat in flats if not upright_turns(flat, stock)), None)
        if flat is not None:
            part = want.part.key
            text = (
                f'{part}.grain = "{flat.grain.value}" and {stock.key}.grain = "{stock.grain.value}" ask for '
                f'a quarter turn, which {part}.turns = "{flat.turns.value}" does not allow; '
                "change one of the grains, or the turns"
            )
            found[index] = Refusal(key=f"{part}.grain", text=text)
    return found


def too_large(piece: Piece, stock: Stock, rooms: Sequence[Source]) -> Refusal:
    """A piece that fits no sheet in the turns it may take."""
    part, outline = piece.flat, piece.outline
    length, width = (decimal_text(v) for v in extent_mm(outline))
    if not rooms:
        return Refusal(key=piece.part.key, text=f"no sheet of stock {stock.name} has room inside its margin")
    largest = max(rooms, key=lambda source: source.usable_area)
    its = "" if piece.role is Role.WHOLE else f"its {piece.suffix} of "
    room = " x ".join(decimal_text(v) for v in largest.room_mm)
    text = (
        f"{its}{length} x {width} mm fits no sheet of stock {stock.name}: "
        f"the largest leaves {room} mm inside its margin; "
    )
    angle = None if may_lie_askew(part, stock) else _free_turn(outline, rooms)
    mend = "make it shorter or add a larger size"
    if angle is not None:
        turn = f"turned by {decimal_text(angle)} degrees"
        text += f"{turn} it would fit: {what_holds_it(part, stock)}; otherwise "
    return Refusal(key=piece.part.key, text=text + mend)


def unplaced(wanted: Sequence[Wanted], left_over: Sequence[int], stock: Stock) -> list[Refusal]:
    """Refusals for parts that found no place on what is on hand, when nothing can be bought."""
    counts: dict[int, int] = {}
    for index in left_over:
        counts[index] = counts.get(index, 0) + 1
    return [
        Refusal(
            key=wanted[index].part.key,
            text=(
                f"what is on hand of stock {stock.name} does not hold {count} of {_all_of(wanted[index])}, "
                "and there is no size that can be bought; add one to its sheets"
            ),
        )
        for index, count in sorted(counts.items())
    ]


def _all_of(want: Wanted) -> str:
    pieces = len(want.ways[0].pieces)
    return f"{want.part.count}" if pieces == 1 else f"its {want.part.count * pieces} pieces"


def too_many(stock: Stock, at_least: int) -> Refusal:
    """More sheets than the program handles: at least so many are needed, or more than `MOST_SHEETS` were."""
    count = f"at least {at_least}" if at_least > MOST_SHEETS else f"more than {MOST_SHEETS}"
    return Refusal(
        key=stock.key,
        text=(
            f"the parts take {count} sheets of stock {stock.name}, and at most {MOST_SHEETS} are laid out "
            "at once; use a larger size, or cut fewer copies at a time"
        ),
    )


def _free_turn(outline: Outline, rooms: Sequence[Source]) -> float | None:
    """The angle at which the piece would fit some upright room, quarter turns first."""
    width, height = extent_mm(outline)
    for source in rooms:
        if source.usable is None:
            continue
        room = source.room_mm
        if _smaller((height, width), room):
            return 90.0
        angle = roomiest_turn(outline, *room)
        if angle is not None:
            return angle
    return None


def _smaller(extent: tuple[float, float], room: tuple[float, float]) -> bool:
    return all(nanometres(e) <= nanometres(r) for e, r in zip(extent, room, strict=True))
