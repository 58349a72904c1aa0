"""balance.json, read back by the json of the standard library."""

import json
import math
import re
from dataclasses import replace

import pytest

from foamcut.flight.figures import Throw
from foamcut.write.balance_json import document, render, significant
from tests.draw.balance_reports import ITEMS, NUMBERS, report

DESIGN = {"name": "curlew-4", "revision": "C", "sha256": "0" * 64}
FINDINGS = [
    {
        "code": "balance-off",
        "level": "warning",
        "where": "aboard[0].at",
        "line": 12,
        "text": "the balance lies 12 mm “behind” the target",
        "value": "300 mm",
        "range": "",
        "source": "",
        "mend": "battery 40 mm forward",
    }
]


def read(**changed: object) -> dict:
    return json.loads(render(replace(report(), **changed), DESIGN, FINDINGS))


def test_the_keys_are_those_of_the_contract():
    said = read()
    assert [said["format"], said["version"], said["design"]] == ["foamcut-balance", 1, DESIGN]
    assert list(said)[:4] == ["format", "version", "design", "numbers"]
    assert all(
        list(one) == ["name", "value", "unit", "low", "high", "source", "assumed"] for one in said["numbers"]
    )
    assert all(list(one) == ["name", "mass_g", "at"] for one in said["items"])
    assert said["findings"] == FINDINGS


def test_what_is_written_is_what_the_document_says():
    assert read() == json.loads(json.dumps(document(report(), DESIGN, FINDINGS)))


def test_numbers_have_their_values_their_bounds_and_whether_something_was_assumed():
    known, bare = replace(NUMBERS[0], assumed=("servo",)), replace(NUMBERS[1], low=None, high=None)
    first, second = read(numbers=(known, bare))["numbers"]
    assert first["assumed"] is True
    assert (first["value"], first["low"], first["high"]) == (331.0, 322.0, 340.0)
    assert second["assumed"] is False
    assert (second["low"], second["high"]) == (None, None)


def test_things_without_a_place_have_none():
    items = read()["items"]
    assert [one["name"] for one in items] == [one.name for one in ITEMS]
    assert [one["at"] is None for one in items] == [one.at is None for one in ITEMS]


def test_the_mass_is_the_sum_of_the_things():
    """Sums of the written numbers against those of the report (arithmetic)."""
    found = report()
    assert found.loaded is not None
    items = read()["items"]
    assert sum(one["mass_g"] for one in items) == pytest.approx(found.loaded.mass_g, rel=1e-5)
    placed = [one for one in items if one["at"]]
    along = sum(one["mass_g"] * one["at"][0] for one in placed) / sum(one["mass_g"] for one in placed)
    assert along == pytest.approx(found.loaded.at[0], abs=0.01)


def test_places_and_throws_are_told_besides():
    throw = Throw(
        key="surface.wing.aileron", surface="wing", word="aileron", deg=20.0, mm=16.4, chord_mm=48.0
    )
    said = read(throws=(throw,))
    assert said["throws"] == [{"surface": "wing", "word": "aileron", "deg": 20, "mm": 16.4, "chord_mm": 48}]
    drawn, best = said["places"]
    assert (drawn["is_drawn"], drawn["is_best"], drawn["lead_mm"]) == (True, False, None)
    assert best["moved"][0] == {"name": "battery", "along": 168, "up": 20}
    assert best["lead_mm"] == 400


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (0.0, "0"),
        (-0.0, "0"),
        (1 / 3, "0.333333"),
        (123456.789, "123457"),
        (1e21 / 3, "333333000000000000000"),
        (1.23456789e-5, "0.0000123457"),
        (-1e-15, "0"),
        (-2.5, "-2.5"),
        (1e6, "1000000"),
    ],
)
def test_numbers_are_written_with_six_digits_and_no_exponent(value, written):
    data = render(replace(report(), numbers=(replace(NUMBERS[0], value=value),)), DESIGN, []).decode()
    assert f'"value": {written},' in data


def test_no_number_has_an_exponent_or_more_than_six_digits():
    text = render(report(), DESIGN, []).decode()
    bare = re.sub(r'"(?:[^"\\]|\\.)*"', '""', text)
    found = re.findall(r"-?[0-9][0-9.eE+-]*", bare)
    assert len(found) > 50
    for number in found:
        assert re.fullmatch(r"-?(0|[1-9][0-9]*)(\.[0-9]+)?", number)
        assert len(number.lstrip("-0.").replace(".", "").rstrip("0")) <= 6
        assert number != "-0"


def test_a_bound_that_is_not_finite_is_not_known():
    (one,) = read(numbers=(replace(NUMBERS[0], low=-math.inf, high=math.nan),))["numbers"]
    assert (one["low"], one["high"]) == (None, None)


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_a_value_that_is_not_finite_is_refused(bad):
    with pytest.raises(ValueError, match="not a number that can be written"):
        read(numbers=(replace(NUMBERS[0], value=bad),))


def test_the_same_report_gives_the_same_bytes():
    assert render(report(), DESIGN, FINDINGS) == render(report(), DESIGN, FINDINGS)


def test_rounding_twice_changes_nothing():
    for value in (1 / 3, 2 / 3 * 1e9, -7.0000005e-9, 99999.95):
        assert significant(significant(value)) == significant(value)
