"""The kerf: where the tool runs so that what falls out has its true size, and what a file says of it.

Kerf is the full width of what the tool removes, mm.  The middle of the tool runs along the drawn lines:
half the kerf outside outlines, half of it inside openings.
"""

from collections.abc import Iterable

from foamcut.flat.offset import moved
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.nest.values import Placed
from foamcut.units import decimal_text

TRUE_EDGES = "the lines are the true edges, no kerf is in them"
_HALVES = "half of it outside outlines and inside openings"
_ONCE = "do not set it again on the machine"


def tool_path(placed: Placed) -> tuple[Outline, ...]:
    """A placed piece's outline with its kerf; openings that the tool is too wide for are gone from it.

    Several where the piece touches itself; none never, since the outline only grows.
    """
    kerf_mm = placed.piece.flat.kerf_mm
    if not kerf_mm:
        return (placed.outline,)
    # the piece is moved before it is placed: copies are alike, and moved once
    grown = moved(placed.piece.flat.outline, kerf_mm / 2)
    return tuple(outline.placed(placed.placement) for outline in grown)


def openings_lost(placed: Placed) -> int:
    """How many openings of a piece the kerf leaves no room for."""
    left = sum(len(outline.rings()) - 1 for outline in tool_path(placed))
    return max(0, len(placed.outline.rings()) - 1 - left)


def kerf_words(parts: Iterable[Part]) -> str:
    """What a machine's file says of the kerf in it: how wide, for which parts if unlike, and not twice."""
    names: dict[float, list[str]] = {}
    for part in parts:
        known = names.setdefault(part.kerf_mm, [])
        if part.name not in known:
            known.append(part.name)
    if not any(names):
        return (
            "no kerf is in this file: its lines are the true edges; what the tool removes is set in the "
            "design or on the machine, never in both"
        )
    if len(names) == 1:
        (kerf_mm,) = names
        return f"kerf {_mm(kerf_mm)} (full width) is in this file, {_HALVES}: {_ONCE}"
    widest_first = sorted(names.items(), reverse=True)
    each = "; ".join(f"{_mm(kerf_mm)}: {', '.join(of)}" for kerf_mm, of in widest_first)
    return f"kerf (full width) is in this file, {_HALVES}: {each}; {_ONCE}"


def _mm(kerf_mm: float) -> str:
    return f"{decimal_text(kerf_mm, 3)} mm" if kerf_mm else "none"
