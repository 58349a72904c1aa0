"""`foamcut balance` as a person uses it: the screen, changes that are tried, JSON, and a clear no."""

import json
import re
from pathlib import Path

import pytest

from tests.test_cli import ROOT, foamcut

TWIN = ROOT / "sample_designs" / "cordgrass-2.toml"


@pytest.fixture(scope="module")
def here(tmp_path_factory):
    return tmp_path_factory.mktemp("balance")


def trainer(here: Path, units: str = "mm") -> Path:
    path = here / f"first-{units}.toml"
    if not path.exists():
        assert foamcut("new", path, "--units", units, cwd=here).returncode == 0
    return path


def test_numbers_go_to_standard_output_and_advice_to_standard_error(here):
    done = foamcut("balance", trainer(here), cwd=here)
    assert done.returncode == 0
    assert "all-up weight" in done.stdout and "static margin" in done.stdout
    assert "Nothing listed is not a clearance" in done.stderr
    assert "not a clearance" not in done.stdout


@pytest.mark.parametrize(("units", "mass", "length"), [("mm", "g", "mm"), ("in", "oz", "in")])
def test_it_speaks_in_the_units_of_the_ruler(here, units, mass, length):
    done = foamcut("balance", trainer(here, units), cwd=here)
    assert re.search(rf"all-up weight +[\d.,]+\*? +{mass}\b", done.stdout)
    assert re.search(rf"mean chord of the wing +[\d.,]+\*? +{length}\b", done.stdout)


def test_a_screen_of_numbers_is_aligned_and_not_wider_than_a_terminal(here):
    lines = foamcut("balance", trainer(here), cwd=here).stdout.splitlines()
    assert max(map(len, lines)) <= 110
    units = [found.start(1) for line in lines if (found := re.match(r"  \S.*?\d[* ] (mm|g/dm2|m/s|A|min)\b", line))]
    assert len(units) > 10
    assert len(set(units)) == 1


def test_sources_and_every_weight_are_shown_when_asked_for(here):
    short = foamcut("balance", trainer(here), cwd=here).stdout
    full = foamcut("balance", trainer(here), "-v", cwd=here).stdout
    assert "by: " not in short
    document = json.loads(foamcut("balance", trainer(here), "--json", cwd=here).stdout)
    numbers = document["result"]["numbers"]
    shown = [one for one in numbers if not one["name"].startswith(("throw_", "low_rate"))]
    assert full.count("by: ") == len(shown)
    for item in document["result"]["items"]:
        assert item["name"] in full


def test_json_is_the_contract_document(here):
    document = json.loads(foamcut("balance", trainer(here), "--json", cwd=here).stdout)
    assert document["command"] == "balance" and document["ok"] is True
    result = document["result"]
    assert (result["format"], result["version"]) == ("foamcut-balance", 1)
    names = [one["name"] for one in result["numbers"]]
    assert len(names) == len(set(names))
    assert all(one["source"] for one in result["numbers"])
    assert result["findings"] == document["findings"]


def test_a_change_is_shown_beside_what_stands_in_the_design(here):
    before = json.loads(foamcut("balance", TWIN, "--json", cwd=here).stdout)["result"]["numbers"]
    words = ("--what-if", "half_span=96", "--what-if", "motor.wing.mass=60 g")
    done = foamcut("balance", TWIN, *words, cwd=here)
    assert done.returncode == 0, done.stderr
    assert "as it is" in done.stdout and "changed" in done.stdout
    span = next(line for line in done.stdout.splitlines() if line.strip().startswith("wing span"))
    old, new = re.findall(r"[\d.]+", span)[:2]
    was = next(one["value"] for one in before if one["name"] == "wing_span")
    assert float(old) == pytest.approx(was, abs=0.1)
    # the panels rise by 2 degrees: their shadow is as long as their cosine says (arithmetic)
    assert float(new) == pytest.approx(float(old) * 96 / 92, rel=2e-4)
    changed = json.loads(foamcut("balance", TWIN, *words, "--json", cwd=here).stdout)["result"]["items"]
    assert [one["mass_g"] for one in changed if one["name"] in ("motor-wing-right", "motor-wing-left")] == [60, 60]


def test_a_change_marks_what_it_brings_and_what_it_takes_away(here):
    """A third of the fin is too small; the design as it stands has no such finding."""
    less = "surface.fin.span=8", "surface.fin.rudder.to=7"
    words = [word for one in less for word in ("--what-if", one)]
    done = foamcut("balance", TWIN, *words, cwd=here)
    assert done.returncode == 0, done.stderr
    new = [line for line in done.stderr.splitlines() if line.endswith("(new with the change)")]
    assert any("fin is small" in line for line in new)
    document = json.loads(foamcut("balance", TWIN, *words, "--json", cwd=here).stdout)
    before = {one["name"]: one["value"] for one in document["result"]["before"]}
    now = {one["name"]: one["value"] for one in document["result"]["numbers"]}
    assert now["fin_volume"] < before["fin_volume"]


@pytest.mark.parametrize(
    ("change", "code", "said"),
    [
        ("half_span", 2, "write a name, ="),
        ("=3", 2, "write a name, ="),
        ("halfspan=96", 1, "half_span"),
        ("half_span=-3", 1, "surface.wing.span: -36 mm is not above 0"),
        ("surface.wing.spam=3", 1, "span"),
        ("surface.tail.span=two", 1, "two"),
    ],
)
def test_a_change_that_cannot_be_tried_is_refused_with_what_to_do(here, change, code, said):
    done = foamcut("balance", TWIN, "--what-if", change, cwd=here)
    assert done.returncode == code
    assert said in done.stderr and "Traceback" not in done.stderr
    assert done.stdout == ""


def test_what_is_no_aeroplane_is_weighed_alone(here):
    path = here / "box.toml"
    assert foamcut("new", path, "--starter", "box", cwd=here).returncode == 0
    done = foamcut("balance", path, cwd=here)
    assert done.returncode == 0
    assert "all-up weight" in done.stdout
    assert "static margin" not in done.stdout and "stall" not in done.stdout
    assert "wing" in done.stderr  # why there are no flight numbers


def test_the_scales_know_no_part_that_the_design_has_not(here):
    text = trainer(here).read_text(encoding="utf-8") + '\n[weighed]\nparts = { "wing-skim" = "24 g" }\n'
    path = here / "weighed.toml"
    path.write_text(text, encoding="utf-8")
    for command in ("balance", "check"):
        done = foamcut(command, path, cwd=here)
        assert done.returncode == 1
        assert 'did you mean "wing-skin"?' in done.stderr


def test_the_pack_holds_what_balance_says(here):
    path = ROOT / "tests" / "contract" / "marsh-tern.toml"
    told = json.loads(foamcut("balance", path, "--json", cwd=here).stdout)["result"]
    assert foamcut("cut", path, "--out", here / "pack", cwd=here).returncode == 0
    kept = json.loads((here / "pack" / "balance.json").read_text(encoding="utf-8"))
    assert kept == told
