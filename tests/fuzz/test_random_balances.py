"""Random aeroplanes weighed and balanced: a report whose every number holds, or a refusal; no exception.

`python -m tests.fuzz.run --only balances` tries them by the thousand; a test run takes few.
"""

import copy
import dataclasses
from typing import Any

import pytest

from foamcut.flight.figures import Number
from tests.fuzz import attempt_balance
from tests.fuzz.attempt_balance import Weighed
from tests.fuzz.balance_alike import RELATIONS, in_inches, related, what_if_as_typed
from tests.fuzz.random_loads import KINDS, random_loads
from tests.fuzz.run import attempt_load
from tests.fuzz.written import Mm, text_of
from tests.thorough import EVERY

#: what about 5 seconds of one core are enough for
SEEDS = range(15 if EVERY else 8)
#: seeds whose designs are balanced, quickly, and to which nearly all relations apply
SOUND = (9, 11)


def test_random_loads_are_balanced_or_told_why_not() -> None:
    answers = {seed: attempt_load(seed) for seed in SEEDS}
    assert {seed: one.faults for seed, one in answers.items() if one.faults} == {}
    refused = sum(one.refused for one in answers.values())
    assert refused < len(answers) / 2, "numbers that are nonsense try nothing but refusals"


def test_the_same_seed_gives_the_same_design() -> None:
    several = [text_of(random_loads(seed)) for seed in range(20)]
    assert several == [text_of(random_loads(seed)) for seed in range(20)]
    assert len(set(several)) == 20


def test_random_loads_use_the_keys_of_what_is_carried() -> None:
    """What never turns up in a random design is not tried by it."""
    several = [random_loads(seed) for seed in range(150)]
    things = [thing for tables in several for thing in tables["aboard"]]
    assert {thing["kind"] for thing in things} == set(KINDS)
    used = {key for thing in things for key, value in thing.items() if value is not None}
    assert used == {
        "name", "kind", "mass", "size", "at", "out", "mirrored", "slides", "may_sit", "cells", "capacity",
        "current_limit", "cut_off", "feeds", "lead",
    }  # fmt: skip
    assert max(len(tables["aboard"]) for tables in several) == 30
    assert all(any(word in tables for tables in several) for word in ("site", "balance", "wiring", "weighed"))


@pytest.mark.parametrize("seed", SOUND)
@pytest.mark.parametrize("relation", RELATIONS, ids=lambda one: one.__name__)
def test_numbers_follow_what_is_changed(relation: Any, seed: int) -> None:
    assert related(relation, random_loads(seed)).faults == ()


@pytest.mark.parametrize("seed", SOUND)
def test_units_and_changes_to_what_stands_there_change_nothing(seed: int) -> None:
    for one in (in_inches(random_loads(seed)), what_if_as_typed(random_loads(seed))):
        assert one.tried
        assert one.faults == ()


def test_most_relations_apply_to_the_designs_taken() -> None:
    """A relation that says nothing of any of them would test nothing."""
    tried = [relation for relation in RELATIONS if any(relation(random_loads(seed)) for seed in SOUND)]
    assert len(tried) >= len(RELATIONS) - 1


def balanced() -> Weighed:
    found = attempt_balance.attempt_balance(text_of(random_loads(SOUND[0])).encode())
    assert found.balanced
    return found


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"value": float("nan")}, "nan"),
        ({"low": 1.0, "value": 0.5, "high": 2.0}, "lies below"),
        ({"unit": "furlong"}, "furlong"),
        ({"name": "mass_all_up"}, "given twice"),
        ({"source": "1e+06 grains"}, "words that are not for a builder"),
        ({"assumed": ("moon",)}, "moon"),
    ],
)
def test_numbers_that_do_not_hold_are_told(values: dict[str, Any], words: str) -> None:
    """A look at a report that sees nothing wrong in any would test nothing."""
    found = balanced().balanced
    assert found
    report = found.report
    assert list(attempt_balance._number_faults(report)) == []
    one: Number = dataclasses.replace(report.numbers[-1], **values)
    wrong = dataclasses.replace(report, numbers=(*report.numbers[:-1], one))
    assert any(words in fault for fault in attempt_balance._number_faults(wrong))


def test_a_balance_that_is_not_that_of_its_things_is_told() -> None:
    """arithmetic: sum of moments over sum of masses, exactly."""
    found = balanced().balanced
    assert found
    report = found.report
    assert list(attempt_balance._item_faults(report)) == []
    i = next(i for i, item in enumerate(report.items) if item.at and item.mass_g > 1)
    heavier = dataclasses.replace(report.items[i], mass_g=report.items[i].mass_g + 5, high_g=1e6)
    wrong = dataclasses.replace(report, items=(*report.items[:i], heavier, *report.items[i + 1 :]))
    told = " ".join(attempt_balance._item_faults(wrong))
    assert "the things weigh" in told and "centre of gravity" in told


def test_an_exception_and_a_relation_that_does_not_hold_are_faults(monkeypatch: pytest.MonkeyPatch) -> None:
    def not_so(tables: Any) -> Any:
        tables["aboard"].append({"name": "brick", "kind": "other", "mass": "300 g", "at": [Mm(0.0), Mm(0.0)]})
        return tables, lambda before, after: iter(
            ["heavier"] if after.number("mass_all_up").value > before.number("mass_all_up").value else []
        )

    assert related(not_so, copy.deepcopy(random_loads(SOUND[0]))).faults == ("not_so: heavier",)

    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("a mass of nothing")

    monkeypatch.setattr(attempt_balance, "balance", broken)
    (fault,) = attempt_balance.attempt_balance(b"").faults
    assert fault.startswith("ZeroDivisionError at ")
