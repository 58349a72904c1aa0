"""Offcuts with holes: nothing is laid over a void.

A scrap of 300 x 200 mm with a void from x = 100 to 180 mm: beside it, less a margin of 3 mm, 94 and 114 mm stay, so
that each side takes one part of 90 x 180 mm and a third goes on a new board (arithmetic).
"""

import json

import pytest
from shapely import box
from shapely.geometry import shape

from foamcut.errors import Refused
from foamcut.plan.chain import cut
from foamcut.plan.checking import check
from foamcut.plan.values import Options

DESIGN = """
format = 1
[plan]
name = "reed-1"
[sketch]
units = "mm"
scale = 1
[stock.board]
material = "paper-faced foam board"
thickness = "5 mm"
margin = "3 mm"
gap = "2 mm"
sheets = [ { size = "700 x 500 mm" } ]
offcuts = [ { size = "300 x 200 mm", voids = [ { outline = "VOID" } ] } ]
[parts.panel]
stock = "board"
rectangle = [90, 180]
count = 3
"""
VOID = "100 mm, 50 mm; 180 mm, 50 mm; 180 mm, 150 mm; 100 mm, 150 mm"


def test_nothing_is_laid_over_a_void():
    pack = cut(DESIGN.replace("VOID", VOID).encode(), "reed-1.toml", Options())
    (layout,) = [json.loads(file.data) for file in pack.files if file.name == "layout.json"]
    scrap, board = layout["sheets"]
    assert (scrap["kind"], len(scrap["placed"]), len(scrap["outline"]), len(board["placed"])) == ("offcut", 2, 2, 1)
    for one in scrap["placed"]:
        placed = shape({"type": "Polygon", "coordinates": one["polygon"]})
        assert placed.distance(box(100, 50, 180, 150)) >= 3 - 0.001


@pytest.mark.parametrize("void", ["100 mm, -50 mm; 180 mm, 50 mm; 100 mm, 150 mm", VOID.replace("180", "400")])
def test_a_void_beyond_the_edge_leaves_the_offcut_out(void: str):
    checked = check(DESIGN.replace("VOID", void).encode(), "reed-1.toml")
    assert [f.code for f in checked.findings if f.where == "stock.board.offcuts[0]"] == ["offcut-outline"]
    assert {sheet.kind.value for sheet in checked.layouts[0].sheets} == {"new"}


def test_a_void_without_units_is_refused():
    with pytest.raises(Refused) as caught:
        check(DESIGN.replace("VOID", "10, 10; 20, 10; 20, 20").encode(), "reed-1.toml")
    assert {refusal.key for refusal in caught.value.refusals} >= {"stock.board.offcuts[0].voids[0].outline[0][0]"}
