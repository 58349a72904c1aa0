"""An open strip instance against its published best density."""

import pytest

from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from tests.nest.making import laid, part, stock

#: the instance *fu* of the collection of the EURO special interest group on cutting and packing (ESICUP)
_FU = (
    [(0, 0), (10, 0), (10, 10), (0, 10)],
    [(0, 0), (10, 0), (10, 10), (0, 10)],
    [(0, 0), (14, 0), (14, 9), (0, 9)],
    [(0, 0), (14, 0), (7, 7)],
    [(0, 9), (0, 0), (14, 9)],
    [(0, 0), (14, 0), (14, 14), (0, 14)],
    [(0, 0), (10, 4), (10, 9), (0, 9)],
    [(0, 0), (5, 0), (5, 9), (0, 9)],
    [(0, 0), (14, 0), (14, 14)],
    [(0, 0), (10, 0), (10, 10), (0, 14)],
    [(0, 8), (4, 0), (8, 8)],
    [(0, 0), (14, 0), (7, 12)],
)
_HEIGHT = 38.0038
#: *Published*: Gardeyn, Vanden Berghe, Wauters, "An open-source heuristic to reboot 2D nesting research", 2025,
#: record solutions; the figure as it is quoted beside the data
_RECORD = 0.924


def _parts(scale: float) -> list[Part]:
    return [
        part(f"p{i}", Outline.of_points([(x * scale, y * scale) for x, y in points]))
        for i, points in enumerate(_FU)
    ]


@pytest.mark.parametrize(("density", "boards"), [(0.80, 1), (_RECORD + 0.006, 2)])
def test_a_strip_up_to_the_published_density(density: float, boards: int) -> None:
    """On one sheet at a density that is no feat, never on one at more than the best that was published."""
    scale = 10.0
    parts = _parts(scale)
    length = sum(one.outline.area for one in parts) / (_HEIGHT * scale * density)
    assert laid(stock((length, _HEIGHT * scale)), *parts, steps=800).bound.new == boards
