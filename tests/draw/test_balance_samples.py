"""Pictures of the balance of every sample and of every starter: drawn whole, read with ease."""

from pathlib import Path

import pytest

from foamcut.draw.balance_pictures import balance_pictures
from foamcut.draw.picture import Picture
from foamcut.plan.balancing import balance
from tests.draw.balance_checks import look_over, words
from tests.draw.balance_reports import title

ROOT = Path(__file__).resolve().parents[2]
DESIGNS = sorted([*ROOT.glob("sample_designs/*.toml"), *ROOT.glob("foamcut/design/starters/*.toml")])


def pictures_of(data: bytes, name: str) -> dict[str, Picture]:
    found = balance(data, name)
    plan = found.design.plan
    head = title(plan.units, plan.name, plan.title)
    return {one.name: one for one in balance_pictures(found.report, found.model, found.design.setup, head)}


@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.name)
def test_pictures_of_designs_that_are_shipped(path):
    several = pictures_of(path.read_bytes(), path.name)
    assert "balance-weights" in several
    for picture in several.values():
        look_over(picture)
    if "[surface.wing]" in path.read_text("utf-8"):
        assert "balance-speeds" in several
        told = words(several["balance-side"])
        assert "mean chord of the wing" in told
        assert "neutral point" in told


def test_thirty_things_with_names_of_all_scripts_in_one_body():
    """The glider sample with thirty loggers of long names in its nose, some in pairs, some that slide."""
    path = ROOT / "sample_designs" / "thrift-1.toml"
    names = ("tide gauge logger " * 11, "潮汐記録器" * 40, "مسجل المد " * 20, "записывающий прибор " * 10)
    extra = "".join(
        f'\n[[aboard]]\nname = "{i} {names[i % 4].strip()[:190]}"\nkind = "other"\nmass = "{i + 1} g"\n'
        f'at = ["{100 + i} mm", "25 mm"]\nsize = "6 x 6 x 5 mm"\n'
        + ("mirrored = true\nout = '20 mm'\n" if i % 3 == 0 else "")
        + (f'slides = ["{90 + i} mm", "{120 + i} mm"]\n' if i % 10 == 1 else "")
        for i in range(30)
    )
    several = pictures_of(path.read_bytes() + extra.encode(), path.name)
    assert list(several) == ["balance-side", "balance-speeds", "balance-weights"]
    for picture in several.values():
        look_over(picture)
    told = words(several["balance-side"])
    assert all(f" {i} " in told for i in range(1, 36))
