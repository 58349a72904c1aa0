"""Bodies as they are generated, put together: the whole check of many random ones finds nothing.

The random aeroplanes are those of the fuzz tests; their wings are left out, so that bodies stand alone.
"""

import time
from collections import Counter
from dataclasses import replace

import pytest

from foamcut.airframe.airframe import airframe_parts
from foamcut.airframe.assembly import fit_findings
from foamcut.airframe.made import Made
from foamcut.airframe.model import model_meshes
from foamcut.airframe.values import BodyBuild, Corners, Inputs
from foamcut.flat.build import build_part
from foamcut.flat.part import Part
from tests.fuzz.random_airframes import random_airframe

SEEDS = range(40)


def hull(seed: int, corners: Corners, build: BodyBuild) -> tuple[Made, list[Part], Inputs]:
    body = replace(random_airframe(seed)[0].bodies[0], corners=corners, build=build)
    if build is BodyBuild.TROUGH:  # is folded along straight lines
        first, last = body.side[0], body.side[-1]
        slope = (last.bottom_mm - first.bottom_mm) / (last.along_mm - first.along_mm)
        side = (
            replace(r, bottom_mm=first.bottom_mm + slope * (r.along_mm - first.along_mm)) for r in body.side
        )
        body = replace(body, side=tuple(side))
    inputs = Inputs(bodies=(body,))
    made = airframe_parts(inputs)
    parts = [] if made.refusals else [part for one in made.parts for part in build_part(one)[0]]
    return made, parts, inputs


@pytest.mark.parametrize(
    ("corners", "build"),
    [*((corners, BodyBuild.BOX) for corners in Corners), (Corners.WRAPPED, BodyBuild.TROUGH)],
)
def test_no_body_has_a_fit_finding(corners, build):
    """Every box and trough that is not refused fits within 0.5 mm, whichever way its corners are made."""
    kinds: Counter[str] = Counter()
    for seed in SEEDS:
        made, parts, inputs = hull(seed, corners, build)
        if made.refusals:
            kinds["refused"] += 1
            continue
        kinds["built"] += 1
        found = fit_findings(parts, made.shells, inputs)
        assert found == (), (seed, [finding.text for finding in found])
    assert kinds["built"] > len(SEEDS) / 2, kinds


def test_every_part_of_a_body_is_on_the_model():
    for seed in SEEDS:
        made, parts, _ = hull(seed, Corners.WRAPPED, BodyBuild.BOX)
        assert [mesh.name for mesh in model_meshes(parts, made.shells)] == [part.name for part in parts]


def test_the_check_of_a_body_is_quick():
    """A twin of 40 parts has a second and a half; a body of ten or so may take a quarter of a second."""
    made, parts, inputs = hull(1, Corners.BUTT, BodyBuild.BOX)
    assert len(parts) > 8
    times = []
    for _ in range(3):
        start = time.process_time()
        fit_findings(parts, made.shells, inputs)
        times.append(time.process_time() - start)
    assert min(times) < 0.25


def test_a_generated_former_that_is_moved_is_told():
    """Two millimetres aft its tabs are 2 mm off their slots; as generated they are not."""
    made, parts, inputs = hull(1, Corners.BUTT, BodyBuild.BOX)
    former = next(part for part in parts if "former" in part.name and part.tabs and part.place)
    x, y, z = former.place.at
    moved = replace(former, place=replace(former.place, at=(x + 2.0, y, z)))
    several = fit_findings([moved if part is former else part for part in parts], made.shells, inputs)
    assert {f.code for f in several if former.name in f.text} >= {"fit-tab"}
    assert all("2 mm off each other (2 mm aft)" in f.text for f in several if f.code == "fit-tab")
