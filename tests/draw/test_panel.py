"""The panel of a folded part that its arrows hold for."""

from dataclasses import replace

import pytest

from foamcut.draw.panel import home_panel
from foamcut.flat.drawn import FoldKind, Side
from foamcut.flat.outline import Outline
from tests.draw.folded_parts import drawn_fold, folded, plate


def test_the_panel_that_holds_the_corner_of_the_drawing():
    assert home_panel(plate(FoldKind.GROOVE)).bounds[0] == 0.0
    moved = replace(plate(FoldKind.GROOVE), folds=(), outline=Outline.rectangle(40, 0, 90, 30))
    assert home_panel(moved) == moved.outline.polygon


@pytest.mark.parametrize("kind", [FoldKind.GROOVE, FoldKind.SCORE])
def test_a_piece_at_the_far_end_finds_the_panel_that_goes_on_from_that_of_the_whole(kind):
    """A fold that leans comes to lie over the corner of the drawing, so the other panel is nearer to it."""
    fold = drawn_fold(kind, (-12.0, -1.0), (8.0, 161.0), 90.0, Side.UP)
    whole = folded(Outline.rectangle(-150, 0, 150, 160), fold)
    piece = replace(whole, outline=Outline.rectangle(-150, 110, 150, 160))
    assert home_panel(whole).bounds[2] == home_panel(piece).bounds[2] == 150.0
