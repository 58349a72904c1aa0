"""Nesting against what is known without it: sums of area, packings by construction, a plain maximum clique."""

import math
from fractions import Fraction
from itertools import permutations
from random import Random

import pytest
import shapely

from foamcut.flat.outline import Outline
from foamcut.nest.bound import grown_area
from tests.nest.making import dissection, laid, part, rectangle, stock


@pytest.mark.parametrize(("width", "height", "gap"), [(50, 20, 2.0), (300, 10, 3.0), (7, 7, 0.0)])
def test_a_grown_piece_by_steiners_formula(width: float, height: float, gap: float) -> None:
    """Area of a convex set grown by r: A + L r + pi r^2.

    *Arithmetic*: Steiner's formula (J. Steiner, "Über parallele Flächen", 1840; formula from memory), numbers
    ours.  Half the gap is r; the program may count a little less for the round corners, never more.
    """
    r = gap / 2
    due = width * height + 2 * (width + height) * r + math.pi * r * r
    found = float(grown_area(shapely.box(0, 0, width, height), gap))
    assert due - 0.01 * math.pi * r * r - 1e-9 <= found <= due + 1e-9


@pytest.mark.parametrize(("count", "boards"), [(20, 1), (21, 2), (40, 2), (41, 3)])
def test_boards_for_tiles_that_fill_them(count: int, boards: int) -> None:
    """*Arithmetic*: 20 tiles of 100 x 50 mm fill 500 x 200 mm, so n tiles need n / 20 boards, rounded up."""
    layout = laid(stock((500, 200)), part("tile", rectangle(100, 50), count), steps=60)
    assert (layout.bound.new, layout.bound.at_least) == (boards, math.ceil(Fraction(count, 20)))


@pytest.mark.parametrize(("long", "short"), [(60, 40), (70, 30), (88.9, 12.7), (55.5, 44.5)])
def test_pinwheel(long: float, short: float) -> None:
    """Four a x b rectangles round a square of side a - b take a square of side a + b, and no smaller one does.

    *Arithmetic*: 4 a b + (a - b)^2 = (a + b)^2 (Euclid, Elements II 8, in modern letters; from memory).
    """
    side = round(long + short, 6)
    hub = round(long - short, 6)
    pieces = [part("blade", rectangle(long, short), 4), part("hub", rectangle(hub, hub))]
    full = laid(stock((side, side)), *pieces, steps=400)
    assert (full.bound.new, full.bound.at_least) == (1, 1)
    less = laid(stock((side - 0.01, side)), *pieces, steps=60)
    assert (less.bound.new, less.bound.at_least) == (2, 2)


def test_rectangles_cut_up_at_random_go_back() -> None:
    """*Arithmetic*: the pieces of a dissected rectangle fill it, so one board is the optimum by construction."""
    back = [
        laid(
            stock((297, 210)),
            *(part(f"p{i}", rectangle(*size)) for i, size in enumerate(dissection(Random(n), 297, 210, 7))),
            steps=800,
            seed=n,
        ).bound.new
        == 1
        for n in range(10)
    ]
    assert sum(back) >= 9


def test_two_triangles_are_a_rectangle() -> None:
    """*Arithmetic*: the diagonal halves a rectangle (Euclid, Elements I 34; from memory)."""
    half = Outline.of_points([(0, 0), (127, 0), (0, 63.5)])
    assert laid(stock((127, 63.5)), part("half", half, 2)).bound.new == 1


def test_discs_in_a_row() -> None:
    """*Arithmetic*: n discs of diameter d with gap g in a strip as wide as one need n d + (n - 1) g."""
    gap, diameter = 2.0, 30.0
    for count in (1, 2, 5):
        length = count * diameter + (count - 1) * gap
        disc = part("disc", Outline.circle(0, 0, diameter / 2), count)
        assert laid(stock((length, diameter), gap=gap), disc).bound.new == 1
        assert laid(stock((length, diameter), gap=gap + 0.01), disc).bound.new == (1 if count == 1 else 2)


def test_fewest_boards_against_every_way_of_filling() -> None:
    """*Arithmetic*: strips as high as the board are bins of one dimension; the optimum by trying every order.

    For small numbers the best first-fit over all orders is optimal (some order lists the bins of an optimum
    one after the other).
    """
    for number in range(8):
        rng = Random(number)
        lengths = [rng.randrange(15, 60) for _ in range(7)]
        due = min(_first_fit(order, 100) for order in permutations(lengths))
        strips = [part(f"p{i}", rectangle(length, 70)) for i, length in enumerate(lengths)]
        bound = laid(stock((100, 70)), *strips, steps=400).bound
        assert bound.at_least <= due
        assert bound.new == due


def _first_fit(lengths: tuple[int, ...], room: int) -> int:
    bins: list[int] = []
    for length in lengths:
        for i, used in enumerate(bins):
            if used + length <= room:
                bins[i] += length
                break
        else:
            bins.append(length)
    return len(bins)
