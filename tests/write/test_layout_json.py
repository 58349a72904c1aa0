"""layout.json: keys that are there only when there is something to say, and the records of pieces."""

import json
from dataclasses import replace

from foamcut.nest.search import lay
from foamcut.nest.values import Layout, Left, Pace
from foamcut.plan.pieces import joints_of, joints_table, wanted_of
from foamcut.write.layout_json import Made, render
from tests.nest.making import part, rectangle, stock
from tests.plan.joined import joined, strip, whole

MADE = Made(program="0", seed=1, name="samphire", revision="A", sha256="0" * 64)
CHOSEN = (joined(strip()), whole(part("rib", rectangle(80, 60), 2)))
PARTS = [one.part for one in CHOSEN]
LEFT = Left(corner=(100.5, 0.0), width_mm=412.0, height_mm=300.0)
BOARD = stock((700, 500), margin=3, gap=2)


def document(layout: Layout, made: Made = MADE) -> dict:
    files = {("board", sheet.number): (f"sheets/board-{sheet.number}.dxf",) for sheet in layout.sheets}
    return json.loads(render(made, PARTS, [layout], files, (), joints_table(joints_of(CHOSEN))))


def test_register_and_bed_stand_only_where_there_are_any():
    plain = lay(wanted_of(CHOSEN, BOARD), BOARD, seed=1, pace=Pace(steps=2))
    assert all(not {"register", "bed"} & set(sheet) for sheet in document(plain)["sheets"])
    sheet = replace(plain.sheets[0], register=((10.5, 490.0), (690.0, 10.0)))
    (record,) = document(replace(plain, sheets=(sheet,)))["sheets"]
    assert record["register"] == [[10.5, 490], [690, 10]]


def test_what_is_left_in_one_piece_stands_where_it_is_known():
    plain = lay(wanted_of(CHOSEN, BOARD), BOARD, seed=1, pace=Pace(steps=2))
    bare, told = (replace(plain.sheets[0], left=left) for left in (None, LEFT))
    first, second = document(replace(plain, sheets=(bare, replace(told, number=2))))["sheets"]
    assert "left" not in first
    assert second["left"] == {"corner": [100.5, 0], "size": [412, 300]}


def test_how_the_search_ended_is_told():
    plain = lay(wanted_of(CHOSEN, BOARD), BOARD, seed=1, pace=Pace(steps=2))
    assert document(plain)["made_by"] == {"foamcut": "0", "seed": 1, "squeezed": False}
    made = replace(MADE, squeezed=True, stopped_early=True)
    assert document(plain, made)["made_by"] == {
        "foamcut": "0",
        "seed": 1,
        "squeezed": True,
        "stopped_early": True,
    }


def test_a_bed_is_told_with_its_corner_size_and_pieces():
    layout = lay(wanted_of(CHOSEN, BOARD), BOARD, seed=1, pace=Pace(steps=2), bed_mm=(200, 150))
    (record,) = document(layout)["sheets"]
    assert {piece for bed in record["bed"] for piece in bed["pieces"]} == {"rib-1", "rib-2", "strip-1-doubler-a"}
    for bed, of in zip(record["bed"], layout.sheets[0].beds, strict=True):
        assert set(bed) == {"number", "corner", "size", "pieces"}
        assert bed["corner"] == list(of.corner) and bed["size"] == [of.width_mm, of.height_mm]


def test_pieces_name_their_part_and_themselves_and_parts_stay_whole():
    found = document(lay(wanted_of(CHOSEN, BOARD), BOARD, seed=1, pace=Pace(steps=2)))
    assert {(p["id"], p["part"], p["name"], p["role"], p["copy"]) for p in found["pieces"]} == {
        ("strip-1-section-1", "strip", "strip-section-1", "section", 1),
        ("strip-1-section-2", "strip", "strip-section-2", "section", 1),
        ("strip-1-doubler-a", "strip", "strip-doubler-a", "doubler", 1),
        ("rib-1", "rib", "rib", "whole", 1),
        ("rib-2", "rib", "rib", "whole", 2),
    }
    assert [p["name"] for p in found["parts"]] == ["strip", "rib"]
    assert found["parts"][0]["polygon"] == [[[0, 0], [900, 0], [900, 60], [0, 60], [0, 0]]]
    assert found["joints"] == [{"part": "strip", "axis": "x", "at": 500, "doublers": ["A"], "length": 900}]
