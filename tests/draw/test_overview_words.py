"""Nothing written on the overview of a starter lies over anything else that is written."""

from itertools import combinations

import pytest
import shapely

from foamcut.airframe.model import model_meshes
from foamcut.design.design import read_design
from foamcut.design.starters import starter
from foamcut.draw.overview import overview_document
from foamcut.draw.words import text_box
from foamcut.plan.balancing import balance_of
from foamcut.plan.building import built
from foamcut.plan.pieces import Offers
from foamcut.plan.values import title_of


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("name", ["trainer", "twin", "glider", "flying-wing"])
def test_no_words_lie_over_others(name, units):
    design = read_design(starter(name, units, "first").encode(), "first.toml")
    made = built(design, looked_over=False)
    model, report = balance_of(design, made.parts, made.shells, Offers(made.parts, design.stocks).usual)
    meshes = model_meshes(made.parts, made.shells)
    document = overview_document(title_of(design), units, meshes, model, report, made.parts, "")
    assert document is not None
    for page in document.pages:
        boxes = [(text.text, text_box(text)) for text in page.texts if text.text.strip()]
        boxes = [
            (words, box if isinstance(box, shapely.Geometry) else shapely.box(*box)) for words, box in boxes
        ]
        for (one, a), (other, b) in combinations(boxes, 2):
            assert a.intersection(b).area < 0.1, f"{one!r} over {other!r}"
