"""The files of sheets, turned-over faces and bed rectangles, and where layout.json lists them."""

import json

import pytest

from foamcut.plan import Options, cut
from tests.plan.test_advice import design

FOLD = 'folds = [ { kind = "groove", from = [10, -1], to = [10, 17], turn = 90, side = "down" } ]'
BRACKET = f'[parts.bracket]\nstock = "board"\nrectangle = [20, 16]\n{FOLD}'


@pytest.mark.parametrize(("dxf", "ending"), [("r2000", ".dxf"), ("r12", "-mm.dxf")])
def test_a_sheet_has_its_own_files_one_pair_for_its_back_and_one_for_each_rectangle(dxf, ending):
    pack = cut(design('bed = "200 x 120 mm"', more=BRACKET), "a.toml", Options(dxf=dxf))
    names = {file.name for file in pack.files if file.name.startswith("sheets/")}
    (sheet,) = json.loads(next(f.data for f in pack.files if f.name == "layout.json"))["sheets"]
    assert len(sheet["bed"]) >= 2
    stems = ["board-1", "board-1-back", *(f"board-1-bed-{bed['number']}" for bed in sheet["bed"])]
    assert sheet["files"] == [f"sheets/{stem}{end}" for stem in stems for end in (ending, ".svg")]
    assert set(sheet["files"]) == names
    assert len(sheet["register"]) == 2


def test_a_sheet_worked_on_one_face_has_no_back_and_no_register():
    pack = cut(design(more=BRACKET.replace("down", "up")), "a.toml", Options())
    assert sorted(f.name for f in pack.files if f.name.startswith("sheets/")) == ["sheets/board-1.dxf", "sheets/board-1.svg"]
    (sheet,) = json.loads(next(f.data for f in pack.files if f.name == "layout.json"))["sheets"]
    assert "register" not in sheet and "bed" not in sheet


def test_templates_and_full_size_pages_stay_true_whatever_the_kerf():
    """The kerf stands in DXF and SVG alone: the other files of both packs differ in nothing."""
    plain, wide = (
        {f.name: f.data for f in cut(design(kerf), "a.toml", Options()).files}
        for kerf in ('kerf = "0 mm"', 'kerf = "1 mm"')
    )
    assert plain["full-size.pdf"] == wide["full-size.pdf"]
    assert plain["templates-a4.pdf"] == wide["templates-a4.pdf"]
    assert plain["sheets/board-1.svg"] != wide["sheets/board-1.svg"]
    layouts = [json.loads(files["layout.json"]) for files in (plain, wide)]
    assert [p["polygon"] for p in layouts[0]["pieces"]] == [p["polygon"] for p in layouts[1]["pieces"]]
