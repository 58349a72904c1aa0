"""Random designs told of: marking out, overview, book, gauges; and two versions held against each other.

`python -m tests.fuzz.run --only packs` and `--only pairs` (or damaged-packs) try them by the thousand; a test run takes few.
"""

import dataclasses
import tomllib

import pytest

from foamcut.compare.values import Verdict
from foamcut.files import File
from foamcut.plan.comparing import compared, version
from tests.fuzz import attempt_packs, random_pairs
from tests.fuzz.attempt_packs import attempt_pack, file_faults
from tests.fuzz.damaged_packs import attempt_verify
from tests.fuzz.random_packs import TEXTS, random_pack
from tests.fuzz.random_pairs import attempt_pair, random_pair, verdict_faults
from tests.hostile.designs import GOOD
from tests.thorough import EVERY

#: what some 6 seconds of one core each are enough for
PACKS = range(24) if EVERY else (0, 2, 5, 11)  # one of each kind that is built
PAIRS = range(24 if EVERY else 4)
VERIFIED = range(300 if EVERY else 30)


def test_random_designs_are_told_of_or_refused() -> None:
    answers = {seed: attempt_pack(random_pack(seed)) for seed in PACKS}
    assert {seed: one.faults for seed, one in answers.items() if one.faults} == {}
    assert sum(one.refused for one in answers.values()) <= len(answers) / 2


def test_random_versions_are_held_against_each_other_or_refused() -> None:
    answers = {seed: attempt_pair(seed) for seed in PAIRS}
    assert {seed: one.faults for seed, one in answers.items() if one.faults} == {}
    assert sum(one.refused for one in answers.values()) <= len(answers) / 2


def test_damaged_packs_are_told_in_words() -> None:
    answers = {seed: attempt_verify(seed) for seed in VERIFIED}
    assert {seed: one.faults for seed, one in answers.items() if one.faults} == {}
    assert len(answers) / 2 < sum(one.refused for one in answers.values()) < len(answers)


def test_the_same_seed_gives_the_same_design_and_pair() -> None:
    several = [(random_pack(seed), random_pair(seed)) for seed in range(12)]
    assert several == [(random_pack(seed), random_pair(seed)) for seed in range(12)]
    assert len({one for one, _ in several}) == 12


def test_random_designs_use_what_a_pack_must_show() -> None:
    """What never turns up in a random design is not tried by it."""
    designs = []
    for seed in range(80):
        try:
            designs.append(tomllib.loads(random_pack(seed).decode()))
        except tomllib.TOMLDecodeError:
            continue
    assert {one["sketch"]["units"] for one in designs} == {"mm", "in"}
    told = {one["plan"].get(key) for one in designs for key in ("title", "maker", "licence")}
    assert len(told & set(TEXTS)) > len(TEXTS) // 2
    assert sum("built" in one for one in designs) > 15
    assert any(not name.isascii() for one in designs for name in one.get("parts", {}))


def page(body: str) -> list[File]:
    text = f"<!DOCTYPE html><html lang='en'><head><title>a</title></head><body>{body}</body></html>"
    return [File(name="book.html", data=text.encode())]


@pytest.mark.parametrize(
    ("file", "words"),
    [
        (page("<b onclick='x()'>a</b>"), "onclick"),
        (page("<blink>a</blink>"), "blink"),
        (page("<a href='#b'>a</a>"), "not there"),
        (page("<img src='https://marsh.invalid/a.png'>"), "fetches"),
        (page("<p id='a'></p><p id='a'></p>"), "twice"),
        (page("<svg><g></svg>"), "no XML"),
        (page("<svg><g transform='scale(nan)'/></svg>"), "a number that is none"),
        ([File(name="a.svg", data=b"<svg><g></svg>")], "no XML"),
        ([File(name="a.csv", data=b"piece,left\r\n=1+1,2\r\n")], "a formula"),
        ([File(name="a.csv", data=b"piece,left\r\nrib\r\n")], "unlike length"),
        ([File(name="a.pdf", data=b"no pages")], "cannot be read"),
        ([File(name="a.glb", data=b"")], "is empty"),
    ],
)
def test_files_that_are_wrong_are_told(file: list[File], words: str) -> None:
    """A look at files that sees nothing wrong in any would test nothing."""
    assert any(words in fault for fault in file_faults(file))


def test_an_exception_is_a_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("a board of nothing")

    monkeypatch.setattr(attempt_packs, "planned", broken)
    (fault,) = attempt_pack(GOOD.encode()).faults
    assert fault.startswith("planning: ZeroDivisionError at ")
    monkeypatch.setattr(random_pairs, "version", broken)
    (fault,) = attempt_pair(0).faults
    assert fault.startswith("ZeroDivisionError at ")


def test_verdicts_that_are_wrong_are_told() -> None:
    """The same parts of another size, called kept, trimmed or gone."""
    small, large = (
        version(GOOD.replace("[60, 40]", size).encode(), "rib.toml") for size in ("[60, 40]", "[90, 60]")
    )
    for old, new in ((small, large), (large, small)):
        found = compared(old, new)
        assert list(verdict_faults(found)) == []
        (one,) = found.compared
        wrong = [
            dataclasses.replace(one, verdict=verdict, added=())
            for verdict in Verdict
            if verdict is not one.verdict and not (verdict is Verdict.TRIM and old is large)
        ]
        for other in wrong:
            assert list(verdict_faults(dataclasses.replace(found, compared=(other,))))
    assert list(verdict_faults(dataclasses.replace(found, compared=())))
