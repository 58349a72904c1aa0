"""Whole designs: the balance against a sum of its own, and mistakes put into a starter with what is told of them."""

import re
from functools import cache
from pathlib import Path

import numpy as np
import pytest

import foamcut
from foamcut.flight.figures import Report
from foamcut.plan.balancing import balance

STARTERS = Path(foamcut.__file__).parent / "design" / "starters"
SAMPLES = Path(__file__).parents[2] / "sample_designs"
CODES = {
    "balance-target", "balance-mark", "balance-side", "balance-places", "mass-no-place", "outside-body",
    "aboard-room", "aboard-through", "slides-through", "slides-place", "aboard-opening", "aboard-size",
}  # fmt: skip


@cache
def report_of(*changes: tuple[str, str]) -> Report:
    """The balance of the twin among the starters, keys of its battery (or `target`) given anew."""
    text = (STARTERS / "twin-mm.toml").read_text(encoding="utf-8")
    before, head, rest = text.partition('[[aboard]]\nname = "battery"\n')
    table, end, after = rest.partition("\n\n")
    for key, value in changes:
        line = f"{key} = {value}" if value else ""
        if key == "target":
            after, count = re.subn(r"(?m)^target = .*$", line, after)
        else:
            table, count = re.subn(rf"(?m)^{key} = .*$", line, table)
        if not count:
            table += f"\n{line}"
    return balance((before + head + table + end + after).encode(), "twin.toml").report


def told(*changes: tuple[str, str]) -> dict[str, str]:
    """What is to be done, by code, of findings of weight, balance and room."""
    return {one.code: one.mend for one in report_of(*changes).findings if one.code in CODES}


@pytest.mark.parametrize("name", ["twin-mm", "trainer-in", "glider-mm", "flying-wing-in"])
def test_starters_balance_where_they_shall(name: str) -> None:
    """No finding of balance or room; the centre within 0.01 mm of an independent sum (numpy)."""
    report = balance((STARTERS / f"{name}.toml").read_bytes(), f"{name}.toml").report
    assert [one for one in report.findings if one.code in CODES] == []
    known = [(one.mass_g, one.at) for one in report.items if one.at is not None]
    masses, at = np.array([mass for mass, _ in known]), np.array([place for _, place in known])
    assert report.loaded is not None
    assert np.allclose(report.loaded.at, masses @ at / masses.sum(), atol=0.01, rtol=0)


def test_the_samples_that_fly_have_room_for_what_they_carry() -> None:
    for path in sorted(SAMPLES.glob("*.toml")):
        if path.stem in ("cordgrass-2", "glasswort-1", "sea-blite-3", "thrift-1"):
            report = balance(path.read_bytes(), path.name).report
            assert [one.code for one in report.findings if one.code in CODES] == [], path.stem


@pytest.mark.parametrize(
    ("change", "code", "mend"),
    [
        (("slides", "[10, 40]"), "slides-through", r"^slides from [\d.]+ to [\d.]+ mm is free$"),
        (("at", '["0.55 * wing_at", "7 mm"]'), "aboard-room", r"mm higher, its middle at [\d.]+ mm up$"),
        (("size", '"105 x 34 x 90 mm"'), "aboard-room", r"^a body [\d.]+ mm higher there"),
        (("size", '"105 x 50 x 24 mm"'), "aboard-room", "^turned on its side, 24 wide and 50 high"),
        (("size", '"220 x 34 x 24 mm"'), "aboard-through", "^no place along is free"),
        (("out", '"8 mm"'), "aboard-room", "^4 mm to the left$"),
        (("size", ""), "aboard-size", "^give its size"),
        (("mass", '"400 g"'), "balance-target", r"mm back, to .* which is [\d.]+ mm beyond .* g at the tail"),
        (("mass", '"60 g"'), "balance-target", r"^no place on the model for battery .* g at the nose \(0 mm along"),
        (("target", '{ mac = "29 %" }'), "balance-target", r"^battery [\d.]+ mm back, to [\d.]+ mm along$"),
    ],
)
def test_a_mistake_is_told_with_what_mends_it(change: tuple[str, str], code: str, mend: str) -> None:
    found = told(change)
    assert list(found) == [code]
    assert re.search(mend, found[code]), found[code]


def test_the_mend_put_into_the_file_mends_it() -> None:
    """The battery moved to where it is told, the balance lies within 0.1 mm (its text is so fine)."""
    wish = ("target", '{ mac = "29 %" }')
    along = re.findall(r"to ([\d.]+) mm along", told(wish)["balance-target"])[0]
    after = report_of(wish, ("at", f'["{along} mm", "0.3 * height"]'))
    assert [one for one in after.findings if one.code in CODES] == []
    assert after.loaded is not None
    assert after.loaded.target_mm is not None
    assert abs(after.loaded.at[0] - after.loaded.target_mm) < 0.1


def test_the_same_again() -> None:
    text = (STARTERS / "twin-mm.toml").read_bytes()
    assert balance(text, "a.toml").report.places == balance(text, "a.toml").report.places
