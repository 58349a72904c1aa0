"""The shape of a folded surface's skins on the model: both papers as grids of points.

mm; made in the coordinates of the panel, (c, s, n), and put into model axes.
"""

import numpy as np

from foamcut.airframe.flat_controls import Hinged
from foamcut.airframe.folded_controls import open_spans
from foamcut.airframe.folded_piece import Papers, Piece
from foamcut.airframe.made import Shell
from foamcut.airframe.values import Nose, TrailingEdge

#: over so little of the span the upper skin's rear edge steps back to a hinge line
_STEP_MM = 0.01


def shell_of(name: str, piece: Piece, *, lower: bool, upper: bool) -> Shell:
    """Both papers from the lower skin's trailing edge round the nose to the upper one's."""
    papers: list[Papers] = []
    if lower:
        papers.append(_columns(piece, piece.lower))
    if lower and upper and piece.surface.nose is Nose.SCORED:
        bend = _columns(piece, piece.nose)
        papers.append(Papers(outer=bend.outer[1:-1], inner=bend.inner[1:-1]))
    if upper:
        papers.append(_cut_back(piece, _columns(piece, piece.upper)))
    outer, inner = (
        piece.panel.points(np.concatenate(several))
        for several in ([one.outer for one in papers], [one.inner for one in papers])
    )
    return Shell(part=name, outer=outer, inner=inner)


def _spans(piece: Piece) -> tuple[tuple[float, float, Hinged], ...]:
    """Over which stretches the upper skin is cut back to a hinge line."""
    return open_spans(piece) if piece.surface.trailing_edge is TrailingEdge.BEVELLED else ()


def _places(piece: Piece) -> list[float]:
    """s of the columns: those of the rulings, and two where the rear edge steps."""
    first, last = piece.first_mm, piece.last_mm
    steps = [
        place
        for low, high, _ in _spans(piece)
        for place in (low - _STEP_MM, low, high, high + _STEP_MM)
        if first < place < last
    ]
    return sorted({*piece.places, *steps})


def _columns(piece: Piece, papers: Papers) -> Papers:
    """Papers with columns between their rulings, which run straight there."""
    before, at = np.array(piece.places), np.array(_places(piece))
    i = np.clip(np.searchsorted(before, at, side="right") - 1, 0, len(before) - 2)
    share = ((at - before[i]) / (before[i + 1] - before[i]))[None, :, None]
    outer, inner = (
        paper[:, i] * (1 - share) + paper[:, i + 1] * share for paper in (papers.outer, papers.inner)
    )
    return Papers(outer=outer, inner=inner)


def _cut_back(piece: Piece, papers: Papers) -> Papers:
    """An upper skin that ends at the hinge lines of controls: what would lie behind is drawn in to them."""
    outer, inner = papers.outer.copy(), papers.inner.copy()
    for j, s in enumerate(_places(piece)):
        for low, high, one in _spans(piece):
            if low <= s <= high:
                for paper in (outer, inner):
                    paper[:, j] = _up_to(paper[:, j], one.hinge(s))
    return Papers(outer=outer, inner=inner)


def _up_to(line: np.ndarray, c: float) -> np.ndarray:
    """A line (n, 3) whose points behind a place are moved to where it passes that place."""
    end = [float(np.interp(c, line[:, 0], line[:, k])) for k in range(3)]
    return np.where((line[:, 0] > c)[:, None], np.array(end), line)
