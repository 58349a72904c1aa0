"""Skins as cut against their shapes on the model, measured anew: lengths of their edges, area, thickness.

Tags: arithmetic (board that is folded keeps its lengths and its area), common practice (a section over the
spar is as thick as its strips and two skins).  mm.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely
from shapely import Polygon

from foamcut.airframe.made import Shell
from foamcut.airframe.values import Inputs, Nose, OverSpar, Surface, TrailingEdge
from foamcut.findings import Finding
from foamcut.flat.drawn import Hand
from foamcut.flat.part import Part

#: edges glued together may differ by so much, and areas by this share
MOST_MM, MOST_SHARE = 0.5, 0.01
#: where an outline turns by more, two of a skin's four edges meet
_CORNER_DEG = 45.0
#: steps that bevels leave at a nose are smaller
_STEP_MM = 1.0
#: points of a round nose are no farther off its circle
_ROUND_MM = 0.001


def skin_faults(
    parts: Sequence[Part], shells: Sequence[Shell], inputs: Inputs, findings: Sequence[Finding]
) -> Iterator[str]:
    """Everything in which a folded skin differs from its shape."""
    by_name = {part.name: part for part in parts}
    for surface in inputs.surfaces:
        for shell in shells:
            if not shell.part.startswith(f"{surface.name}-skin"):
                continue
            part = by_name.get(f"{shell.part}-{Hand.RIGHT.value}") or by_name[shell.part]
            whole = not surface.controls
            yield from (f"{part.name}: {fault}" for fault in _one(part, shell, surface, whole=whole))
        yield from _thickness(surface, shells, findings)


def _one(part: Part, shell: Shell, surface: Surface, *, whole: bool) -> Iterator[str]:
    ring = shapely.get_coordinates(shapely.geometry.polygon.orient(part.outline.polygon).exterior)[:-1]
    alone = "-upper" in part.name
    lower = None
    if not alone:
        lower = _on_board(part, shell)
        yield from _lower(ring, lower, whole=whole)
    if "-lower" in part.name:
        return
    if not whole and surface.trailing_edge is TrailingEdge.BEVELLED:
        return  # its rear edge may be a hinge line
    upper = _upper(shell, surface, alone=alone)
    if alone:
        first, last = np.zeros(2), ring[(int(np.linalg.norm(ring, axis=1).argmin()) + 1) % len(ring)]
    else:
        first, last = lower[0][1], lower[1][1]
    chain = _chain(ring, first, last)
    corners = [i for i in range(1, len(chain) - 1) if _turn(chain[i - 1 : i + 2]) > _CORNER_DEG]
    if len(corners) != 2:
        yield f"the upper skin has {len(corners)} corners at its rear, not 2"
        return
    tip, root = corners
    rear, ends = chain[tip : root + 1], (chain[: tip + 1], chain[root:])
    ended = _leans(shell)
    yield from _compare("trailing edge of the upper skin", _length(rear), _length(upper[-1]), ended)
    bands = [0.0 if alone else _band(shell, surface, column, len(upper)) for column in (0, -1)]
    for what, line, column in (("tip", ends[0], -1), ("root", ends[1], 0)):
        trim = surface.trim_mm / math.sin(_between(line, rear, at_start=what == "root"))
        model = _length(upper[:, column]) + trim + bands[column]
        yield from _compare(f"{what} edge of the upper skin", _length(line), model, ended)
    if whole and not alone:
        band = sum(bands) / 2 * _length(lower[:, 1])
        area = _area(upper) + _area(np.stack([shell.outer[0], shell.outer[1]])) + band
        area += surface.trim_mm * _length(rear)
        flat = Polygon(ring).area
        if abs(flat - area) > MOST_SHARE * area:
            yield f"{flat:.0f} mm2 flat, {area:.0f} mm2 on the model"


def _on_board(part: Part, shell: Shell) -> np.ndarray:
    """The lower skin's corners on the board, (2, 2, 2): root and tip, rear and nose."""
    assert part.place is not None
    frame = np.array([part.place.x, part.place.y]).T
    papers = [
        (paper[:2][:, [0, -1]] - np.array(part.place.at)) @ frame for paper in (shell.outer, shell.inner)
    ]
    farther = np.where(
        (np.arange(2) == 0)[None, :],
        np.minimum(papers[0][..., 1], papers[1][..., 1]),
        np.maximum(papers[0][..., 1], papers[1][..., 1]),
    )
    outer = papers[0][..., 1] == farther
    return np.where(outer[..., None], papers[0], papers[1]).transpose(1, 0, 2)


def _lower(ring: np.ndarray, lower: np.ndarray, *, whole: bool) -> Iterator[str]:
    """The corners of the lower skin lie on its outline; controls may take those at the rear."""
    for end, word in enumerate(("root", "tip")):
        for which, where in enumerate(("trailing edge", "nose")):
            if which == 0 and not whole:
                continue
            off = shapely.LinearRing(ring).distance(shapely.Point(lower[end, which]))
            if off > MOST_MM:
                yield f"the {where} at the {word} of the lower skin is {off:.2f} mm off its outline"


def _upper(shell: Shell, surface: Surface, *, alone: bool) -> np.ndarray:
    """The lines of the upper skin that keep their length: the paper at creases, else the board's middle."""
    start = 0 if alone else _upper_start(shell, surface)
    outer, inner = shell.outer[start:], shell.inner[start:]
    if surface.over_spar is OverSpar.CREASED:
        return outer
    middle = (outer + inner) / 2
    way = outer[-1] - outer[-2]
    way /= np.linalg.norm(way, axis=1, keepdims=True)
    along = ((outer[-1] - middle[-2]) * way).sum(axis=1, keepdims=True)
    middle[-1] = middle[-2] + along * way
    return middle


def _upper_start(shell: Shell, surface: Surface) -> int:
    """Behind the lower skin and the chords of a round nose, which lie on its circle; the last is tangent."""
    if surface.nose is not Nose.SCORED:
        return 2
    aft, up = _frame(shell)
    radius = (surface.nose_height_mm or 2 * surface.material.thickness_mm) / 2
    along = shell.outer[1, -1] - shell.outer[1, 0]
    # ends may lie in leaning planes: along the leading edge the nose is the same everywhere
    frame = np.linalg.inv(np.array([aft, along, up]))
    off = (shell.outer[2:, 0] - shell.outer[1, 0] - radius * up) @ frame
    away = np.abs(np.hypot(off[:, 0], off[:, 2]) - radius) > _ROUND_MM
    return 2 + int(away.argmax()) - 1


def _frame(below: Shell) -> tuple[np.ndarray, np.ndarray]:
    """Aft and up at the root of a shell that has a lower skin, unit vectors."""
    aft = below.outer[0, 0] - below.outer[1, 0]
    up = np.cross(aft, below.outer[0, -1] - below.outer[0, 0])
    return aft / np.linalg.norm(aft), up / np.linalg.norm(up)


def _band(shell: Shell, surface: Surface, column: int, upper: int) -> float:
    """Board between the skins on the flat pattern at an end: of a stripped or of a round nose.

    Stripped: 0.5 mm more than the nose is high (common practice, no source).  Round: the arc square to the
    leading edge, at least that of a bend whose inner paper has no radius (arithmetic).
    """
    t = surface.material.thickness_mm
    if surface.nose is Nose.STRIPPED:
        return (surface.nose_height_mm or 2 * t) + 0.5
    if surface.nose is not Nose.SCORED:
        return 0.0
    along = shell.outer[1, -1] - shell.outer[1, 0]
    along /= np.linalg.norm(along)
    bend = shell.outer[1 : len(shell.outer) - upper + 1, column]
    steps = np.diff(bend, axis=0)
    flat = steps - np.outer(steps @ along, along)
    turned = sum(_turn(np.array([np.zeros(3), a, a + b])) for a, b in pairwise(flat))
    return max(float(np.linalg.norm(flat, axis=1).sum()), t * math.radians(turned))


def _chain(ring: np.ndarray, first: np.ndarray, last: np.ndarray) -> np.ndarray:
    """The outline from the nose's tip counter-clockwise to its root, small steps left out."""
    line = shapely.LineString([*ring, ring[0]])
    length = line.length
    begin, end = (line.project(shapely.Point(at)) for at in (last, first))
    reach = (end - begin) % length
    places = [(line.project(shapely.Point(at)) - begin) % length for at in ring]
    kept = [last]
    for place, at in sorted(zip(places, ring, strict=True), key=lambda one: one[0]):
        if place < reach and min(math.dist(at, kept[-1]), math.dist(at, first)) > _STEP_MM:
            kept.append(at)
    return np.array([*kept, first])


def _leans(shell: Shell) -> float:
    """By how much one paper is longer along the span than the other, where ends are cut aslant."""
    along = shell.outer[-1, -1] - shell.outer[-1, 0]
    apart = (shell.outer[-2] - shell.inner[-2])[[0, -1]] @ (along / np.linalg.norm(along))
    return float(np.abs(apart).sum())


def _compare(what: str, flat: float, model: float, more: float = 0.0) -> Iterator[str]:
    if not abs(flat - model) <= MOST_MM + more:
        yield f"the {what} is {flat:.2f} mm long flat and {model:.2f} mm on the model"


def _thickness(surface: Surface, shells: Sequence[Shell], findings: Sequence[Finding]) -> Iterator[str]:
    """At the root the section is as thick as strips and skins, or a finding says by how much it is not."""
    own = [one for one in shells if one.part.startswith(f"{surface.name}-skin") and "-lower" not in one.part]
    if surface.spar is None or not own or any(f.code in ("skin-bend", "skin-section") for f in findings):
        return
    below = next(one for one in shells if one.part.startswith(f"{surface.name}-skin"))
    up = _frame(below)[1]
    high = float(((own[0].outer[:, 0] - below.outer[0, 0]) @ up).max())
    asked = surface.spar.layers * surface.spar.material.thickness_mm + 2 * surface.material.thickness_mm
    if abs(high - asked) > MOST_MM:
        yield f"{surface.name} is {high:.2f} mm thick at its root, strips and skins {asked:.2f} mm"


def _turn(three: np.ndarray) -> float:
    """How much a line turns at the middle one of three points, degrees."""
    a, b = three[1] - three[0], three[2] - three[1]
    return math.degrees(math.acos(max(-1.0, min(1.0, a @ b / (np.linalg.norm(a) * np.linalg.norm(b))))))


def _between(line: np.ndarray, rear: np.ndarray, *, at_start: bool) -> float:
    a = line[1] - line[0] if at_start else line[-1] - line[-2]
    b = rear[-1] - rear[-2] if at_start else rear[1] - rear[0]
    return math.acos(max(-1.0, min(1.0, float(a @ b / (np.linalg.norm(a) * np.linalg.norm(b))))))


def _length(line: np.ndarray) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(line.tolist()))


def _area(lines: np.ndarray) -> float:
    """Of a ruled surface, (n, m, 3), by two triangles to each cell."""
    a, b, c, d = lines[:-1, :-1], lines[1:, :-1], lines[1:, 1:], lines[:-1, 1:]
    halves = (np.cross(b - a, c - a), np.cross(c - a, d - a))
    return float(sum(np.linalg.norm(one, axis=-1).sum() for one in halves) / 2)
