"""Which numbers a fold may have, and what its board bears: looked at before any line is drawn.

mm, degrees.
"""

import math
from itertools import pairwise

from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.flat.drawn import DrawnFold, FoldKind, Side
from foamcut.flat.fold_table import roll_gaps, table
from foamcut.flat.folds import Fold
from foamcut.flat.tolerances import CLOSEST_CUTS_MM, FARTHEST_MM, MOST_ROLL_LINES, ON_EDGE_MM, SAME_POINT_MM
from foamcut.flat.trace import length_text, numbers_refused, place_text, sizes_refused
from foamcut.units import decimal_text

#: a hinge's bevel: beyond this the slope runs out too thin to hold paper (common practice, no source)
_STEEPEST_DEG = 80.0
#: how far the panel of a hinge swings away from its bevel: back to back with the other
_BACK_TO_BACK_DEG = -180.0
#: a roll closes into a tube at a full turn
_FULL_TURN_DEG = 360.0
#: a roll of a smaller outer radius, in board thicknesses, creases in most boards (from memory)
_TIGHTEST = 3.0


def fold_numbers_refused(drawn: DrawnFold, thickness_mm: float) -> list[Refusal]:
    """What is wrong with a fold's numbers, by their keys."""
    refusals = [
        *numbers_refused(f"{drawn.key}.from", "point", drawn.start),
        *numbers_refused(f"{drawn.key}.to", "point", drawn.end),
    ]
    if not refusals and math.dist(drawn.start, drawn.end) <= ON_EDGE_MM:
        text = (
            f"the fold starts and ends at {place_text(drawn.start)}, which gives it no direction;"
            " draw it from one edge of the part to the other"
        )
        refusals.append(Refusal(key=f"{drawn.key}.to", text=text))
    turn = _turn_refused(drawn)
    if turn:
        refusals.append(Refusal(key=f"{drawn.key}.turn", text=turn))
    if drawn.kind is FoldKind.GROOVE:
        refusals += _groove_refused(drawn)
    elif drawn.kind is FoldKind.WRAP and drawn.lands_thickness_mm is not None:
        sizes = {"thickness of the panel that lands": drawn.lands_thickness_mm}
        refusals += sizes_refused(f"{drawn.key}.lands", sizes)
    elif drawn.kind is FoldKind.STRIP:
        refusals += _strip_refused(drawn)
    elif drawn.kind is FoldKind.ROLL:
        refusals += _roll_refused(drawn, thickness_mm, turns=not turn)
    elif drawn.kind is FoldKind.HINGE and not 0 <= drawn.bevel_deg <= _STEEPEST_DEG:
        text = (
            f"a bevel of {_degrees(drawn.bevel_deg)} is out of range; a hinge's bevel goes from 0 to"
            f" {_degrees(_STEEPEST_DEG)}"
        )
        refusals.append(Refusal(key=f"{drawn.key}.bevel", text=text))
    return refusals or _endless(drawn, thickness_mm) or _too_close(drawn, thickness_mm)


def _too_close(drawn: DrawnFold, thickness_mm: float) -> list[Refusal]:
    """Cuts of one fold so close that they are one cut."""
    lines = table(drawn, thickness_mm)
    places = sorted((*lines.half, *lines.groove, *lines.lift, *lines.bevel))
    closest = min((b - a for a, b in pairwise(places)), default=CLOSEST_CUTS_MM)
    if closest >= CLOSEST_CUTS_MM:
        return []
    mend = {
        FoldKind.GROOVE: "leave the fold out where the board bends by itself, or make it a score",
        FoldKind.WRAP: "give the stock that lands there its thickness",
        FoldKind.ROLL: "make radius or turn larger",
        FoldKind.STRIP: "make band wider, or take a score",
    }.get(drawn.kind, "give it no bevel, or more of it")
    text = (
        f"two cuts of this {drawn.kind.value} would lie {length_text(closest)} apart, less than the"
        f" {decimal_text(CLOSEST_CUTS_MM, 1)} mm that can be cut: {mend}"
    )
    return [Refusal(key=drawn.key, text=text)]


def _endless(drawn: DrawnFold, thickness_mm: float) -> list[Refusal]:
    low, high = table(drawn, thickness_mm).band
    if high - low <= FARTHEST_MM:
        return []
    cause = "band" if drawn.kind is FoldKind.STRIP else "turn"
    text = (
        f"the {drawn.kind.value} takes {length_text(high - low)} of the board, more than"
        f" {decimal_text(FARTHEST_MM)} mm; make its {cause} smaller"
    )
    return [Refusal(key=f"{drawn.key}.{cause}", text=text)]


def tight_roll(fold: Fold) -> tuple[Finding, ...]:
    """Advice on a roll tighter than most boards take."""
    tightest = _TIGHTEST * fold.thickness_mm
    if fold.kind is not FoldKind.ROLL or fold.radius_mm is None or fold.radius_mm >= tightest:
        return ()
    radius = length_text(fold.radius_mm)
    return (
        Finding(
            code="roll-tight",
            level=Level.WARNING,
            where=f"{fold.key}.radius",
            text=f"the roll's outer radius of {radius} is below 3 thicknesses of the board, where most boards"
            " crease",
            value=radius,
            range=f"at least {length_text(tightest)}",
            source="from memory",
            mend="try it on an offcut first; make the radius larger or the lines closer, or peel the paper"
            " of the cut face off",
        ),
    )


def square_hinge(fold: Fold) -> tuple[Finding, ...]:
    """Advice on a hinge whose edge is cut square: board meets board as soon as it turns towards the cut."""
    if fold.kind is not FoldKind.HINGE or fold.band_mm[1] - fold.band_mm[0] > SAME_POINT_MM:
        return ()
    return (
        Finding(
            code="hinge-square",
            level=Level.NOTE,
            where=fold.key,
            text="the hinge has no bevel: it swings away from the cut alone",
            range=f"0 to {_degrees(_STEEPEST_DEG)} of bevel",
            mend="give bevel for a control surface, by how many degrees it has to swing towards the cut",
        ),
    )


def _turn_refused(drawn: DrawnFold) -> str:
    """Why a fold cannot turn as far as it says; empty when it can."""
    turn, kind = drawn.turn_deg, drawn.kind
    found = f"a {kind.value} cannot turn through {_degrees(turn)}; "
    if kind is FoldKind.HINGE:
        if not 0 <= drawn.bevel_deg <= _STEEPEST_DEG or _BACK_TO_BACK_DEG < turn <= drawn.bevel_deg:
            return ""
        return (
            found + f"it swings towards its cut face as far as its bevel, {_degrees(drawn.bevel_deg)}, and"
            " away from it to just short of -180 degrees: give more bevel, or less turn"
        )
    if _turns(kind, turn):
        return ""
    found += {
        FoldKind.WRAP: "a wrap is for 90 degrees",
        FoldKind.ROLL: "it goes above 0 and up to 360 degrees",
    }.get(kind, "it goes above 0 and below 180 degrees")
    if turn < 0:
        other = "up" if drawn.side is Side.DOWN else "down"
        again = f"turn = {decimal_text(-turn, 3)}" if _turns(kind, -turn) else "a turn above 0"
        return f'{found}: to fold the other way, write {again} and side = "{other}"'
    return f"{found}: take a groove for another turn" if kind is FoldKind.WRAP else found


def _turns(kind: FoldKind, turn_deg: float) -> bool:
    """Whether a fold that is no hinge can turn so far."""
    if kind is FoldKind.WRAP:
        return turn_deg == 90
    return 0 < turn_deg <= _FULL_TURN_DEG if kind is FoldKind.ROLL else 0 < turn_deg < 180


def _groove_refused(drawn: DrawnFold) -> list[Refusal]:
    extra = drawn.groove_extra_deg
    if not extra >= 0:
        text = (
            f"a groove_extra of {_degrees(extra)} leaves the groove too narrow to fold shut; it is 0 or more"
        )
    elif 0 < drawn.turn_deg < 180 and not drawn.turn_deg + extra < 180:
        text = (
            f"turn and groove_extra make a groove of {_degrees(drawn.turn_deg + extra)}; it has to stay below"
            " 180 degrees: make one of them smaller"
        )
    else:
        return []
    return [Refusal(key=f"{drawn.key}.groove_extra", text=text)]


def _strip_refused(drawn: DrawnFold) -> list[Refusal]:
    if drawn.band_mm is None:
        text = "a strip needs the width of what is lifted out: add band"
        return [Refusal(key=f"{drawn.key}.band", text=text)]
    refusals = sizes_refused(f"{drawn.key}.band", {"band": drawn.band_mm})
    far = drawn.far_turn_deg
    if far is not None and not 0 < far < 180:
        text = (
            f"the far edge of a strip cannot turn through {_degrees(far)}; it goes above 0 and below 180"
            " degrees, to the same side as turn: for one edge alone take a wrap or a score"
        )
        refusals.append(Refusal(key=f"{drawn.key}.far_turn", text=text))
    return refusals


def _roll_refused(drawn: DrawnFold, thickness_mm: float, *, turns: bool) -> list[Refusal]:
    radius = drawn.radius_mm
    if radius is None:
        text = "a roll needs its outer radius: add radius"
        return [Refusal(key=f"{drawn.key}.radius", text=text)]
    refusals = sizes_refused(f"{drawn.key}.radius", {"radius": radius})
    if not refusals and radius < thickness_mm:
        text = (
            f"the outer radius of {length_text(radius)} is less than the board's thickness,"
            f" {length_text(thickness_mm)}, which leaves no inside; make it larger, or take a groove"
        )
        refusals.append(Refusal(key=f"{drawn.key}.radius", text=text))
    if drawn.every_mm is not None:
        every = sizes_refused(f"{drawn.key}.every", {"distance after every": drawn.every_mm})
        if every:
            return [*refusals, *every]
    gap = thickness_mm if drawn.every_mm is None else drawn.every_mm
    if refusals or not turns or not thickness_mm > 0:
        return refusals
    count = roll_gaps(radius * math.radians(drawn.turn_deg), gap) + 1
    if count > MOST_ROLL_LINES:
        text = (
            f"the roll takes {count:,} lines, more than the {MOST_ROLL_LINES:,} that one may have;"
            " make every larger"
        )
        refusals.append(Refusal(key=f"{drawn.key}.every", text=text))
    return refusals


def _degrees(angle: float) -> str:
    return f"{decimal_text(angle, 3)} degrees"
