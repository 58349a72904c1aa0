"""Folds every part and looks it over: panels that pass through each other, edges that should meet and do not.

mm.  Facets of a roll count as board of full thickness, but not against the panels that the roll joins.  The
bare paper of a strip is not board: it neither clashes nor has edges to meet.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from foamcut.findings import Finding, Level
from foamcut.flat.drawn import FoldKind
from foamcut.flat.folded_body import Body
from foamcut.flat.folded_clash import Clash, clash
from foamcut.flat.folded_gap import Gap, widest_gap
from foamcut.flat.folds import Fold
from foamcut.flat.panels import Folded, fold_up
from foamcut.flat.part import Part
from foamcut.flat.tolerances import CLASH_MM, MEETS_MM, PANELS_LEAN_DEG
from foamcut.flat.trace import place_text
from foamcut.units import decimal_text

#: beyond this a corner is too sharp for a mitre that can be cut, degrees between the drawn faces
_SHARPEST_DEG = 140.0

#: the ends of the boards beside a strip are cut square: its paper lies on them when it has turned so far
_SQUARE_DEG = 90.0
#: a turn that would close a corner and differs by less is not worth a word
_TURN_TOLD_DEG = 0.1


def fold_findings(part: Part) -> tuple[Finding, ...]:
    """Advice on the folded shape of a part; none for a part without folds.

    Panels may go into each other by `CLASH_MM` and edges that should meet may be `MEETS_MM` apart.
    `foamcut.flat.folded_clash` and `foamcut.flat.folded_gap` say how both are measured.
    """
    if not part.folds:
        return ()
    folded = fold_up(part)
    clashes: list[tuple[Clash, Body, Body]] = []
    gaps: list[Finding] = []
    bodies = [Body(part=part, panel=panel) for panel in folded.panels if panel.of_strip is None]
    for a, b in combinations(bodies, 2):
        if a.of_one_roll(b):
            continue
        found = clash(a, b)
        if found is not None and found.depth_mm > CLASH_MM:
            clashes.append((found, a, b))
        elif _may_meet(a, b) and (gap := widest_gap(a, b, bodies)):
            gaps.append(_apart(a, b, gap))
    told = [_clashing(a, b, found) for found, a, b in _deepest(clashes)]
    return (*_ring_open(folded), *told, *gaps, *_open_wraps(part), *_square_ends(part))


def _is_facet(body: Body) -> bool:
    return body.panel.of_roll is not None


def _may_meet(a: Body, b: Body) -> bool:
    """Whether two panels may have edges that a builder means to meet: no fold joins them already."""
    return not _is_facet(a) and not _is_facet(b) and not a.shared_folds(b)


def _deepest(clashes: Sequence[tuple[Clash, Body, Body]]) -> Iterator[tuple[Clash, Body, Body]]:
    """Of all facets of a roll that meet one thing only the deepest clash."""
    best: dict[tuple[object, object], tuple[Clash, Body, Body]] = {}
    for found, a, b in clashes:
        names = tuple(body.name if _is_facet(body) else id(body) for body in (a, b))
        key = names[0], names[1]
        if key not in best or found.depth_mm > best[key][0].depth_mm:
            best[key] = found, a, b
    yield from best.values()


def _clashing(a: Body, b: Body, found: Clash) -> Finding:
    shared = a.shared_folds(b)
    places = " and ".join(place_text(body.on_flat(found.middle)) for body in (a, b))
    depth = decimal_text(found.depth_mm, 2)
    return Finding(
        code="panels-clash",
        level=Level.WARNING,
        where=a.part.folds[shared[0]].key if shared else a.part.key,
        text=f"folded up, {a.name} and {b.name} pass through each other by {depth} mm, at {places} of the"
        " flat part",
        value=f"{depth} mm",
        range=f"up to {decimal_text(CLASH_MM, 2)} mm",
        mend=_fold_mend(a.part.folds[shared[0]]) if shared else _edge_mend(a, b, found),
    )


def _fold_mend(fold: Fold) -> str:
    """What would let the two panels beside a fold turn."""
    if fold.kind is FoldKind.WRAP:
        return "lift out a strip as wide as the board that lands there is thick: leave `lands` out"
    if fold.kind is FoldKind.STRIP:
        return "make `band` wider, or turn the strip less"
    return "turn the fold less, or away from where the panels meet"


def _edge_mend(a: Body, b: Body, found: Clash) -> str:
    """What would let two panels meet that no fold joins."""
    shorten = f"or end one of them {decimal_text(found.depth_mm, 2)} mm sooner"
    lean = a.lean_deg(b)
    if not PANELS_LEAN_DEG <= lean <= _SHARPEST_DEG or _is_facet(a) or _is_facet(b):
        return f"turn one of them less, {shorten}"
    words = {body: "bevel" if body.faces(other) else "bevel_back" for body, other in ((a, b), (b, a))}
    half = decimal_text(lean / 2, 2)
    one, other = words[a], words[b]
    both = (
        f"`{one} {half}`"
        if one == other
        else f"`{one} {half}` on the first and `{other} {half}` on the other"
    )
    return f"where they should meet, bevel both edges by half of what is folded there ({both}), {shorten}"


def _apart(a: Body, b: Body, gap: Gap) -> Finding:
    width = decimal_text(gap.gap_mm, 2)
    places = " and ".join(place_text(place) for place in (gap.one, gap.other))
    text = f"folded up, the edges of {a.name} and {b.name}, at {places} of the flat part, "
    if gap.line_only:
        text += f"touch along a line only: on the other face they are {width} mm apart"
    elif gap.gapes:
        text += f"gape: they are up to {width} mm apart"
    else:
        text += f"come close and do not meet: they are {width} mm apart"
    return Finding(
        code="panels-apart",
        level=Level.WARNING,
        where=a.part.key,
        text=text,
        value=f"{width} mm",
        range=f"up to {decimal_text(MEETS_MM, 2)} mm",
        mend=_gap_mend(a.part, gap),
    )


def _gap_mend(part: Part, gap: Gap) -> str:
    """What would bring two edges together."""
    if not gap.gapes:
        return "make one of the panels longer or wider by what is missing, or leave the gap if it is meant"
    slant = "give the edges another slant, or leave the gap if it is meant"
    if gap.closing is None:
        return f"look at `turn` of the folds between them, {slant}"
    turns = [
        f"`turn = {decimal_text(turn, 1)}` for {part.folds[i].key.rsplit('.', 1)[-1]}"
        for i, turn in zip(*gap.closing, strict=True)
        if abs(turn - part.folds[i].turn_deg) >= _TURN_TOLD_DEG and part.folds[i].kind is FoldKind.GROOVE
    ]
    return f"close the corner ({' and '.join(turns)}), {slant}" if turns else slant


def _ring_open(folded: Folded) -> Iterator[Finding]:
    if round(folded.open_mm, 6) > MEETS_MM:
        gap = decimal_text(folded.open_mm, 2)
        yield Finding(
            code="panels-apart",
            level=Level.WARNING,
            where=folded.part.key,
            text="the folds go round a hole and cannot all be folded: the board on the two sides of one would"
            f" come to lie up to {gap} mm apart",
            value=f"{gap} mm",
            range=f"up to {decimal_text(MEETS_MM, 2)} mm",
            mend="cut the board through at one place of the ring, or let the turns bring it back",
        )


def _square_ends(part: Part) -> Iterator[Finding]:
    """Edges of strips that turn beyond the square end of the board there, which stands in the paper's way."""
    for fold in part.folds:
        if fold.kind is not FoldKind.STRIP:
            continue
        reach = min(part.thickness_mm, fold.band_mm[1] - fold.band_mm[0])
        turns = {fold.turn_deg: "turn"}
        turns.setdefault(fold.far_turn_deg or 0.0, "far_turn")
        for turn, key in turns.items():
            deep = reach * math.sin(math.radians(turn - _SQUARE_DEG))
            if round(deep, 6) <= CLASH_MM:
                continue
            depth = decimal_text(deep, 2)
            yield Finding(
                code="panels-clash",
                level=Level.WARNING,
                where=f"{fold.key}.{key}",
                text=f"the paper of the strip turns by {decimal_text(turn, 1)} degrees about a board that"
                f" ends square: {depth} mm of that end stand in its way",
                value=f"{depth} mm",
                range=f"up to {decimal_text(CLASH_MM, 2)} mm",
                mend="turn that edge by 90 degrees at most, and the other one by the rest",
            )


def _open_wraps(part: Part) -> Iterator[Finding]:
    """Strips lifted out that are wider than the panel that lands in them, which is of this board."""
    for fold in part.folds:
        width = fold.band_mm[1] - fold.band_mm[0]
        gap = round(width - part.thickness_mm, 6)
        if fold.kind is FoldKind.WRAP and gap > MEETS_MM:
            yield Finding(
                code="panels-apart",
                level=Level.WARNING,
                where=fold.key,
                text=f"the strip lifted out is {decimal_text(width, 2)} mm wide, the board that lands in it"
                f" {decimal_text(part.thickness_mm, 2)} mm thick: {decimal_text(gap, 2)} mm stay open",
                value=f"{decimal_text(gap, 2)} mm",
                range=f"up to {decimal_text(MEETS_MM, 2)} mm",
                mend="leave `lands` out where this part's own panel lands there, or line that panel",
            )
