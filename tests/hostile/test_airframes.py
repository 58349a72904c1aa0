"""Slips in the keys of an airframe: parts, or refusals by key and word with their line, never an exception."""

import re

import pytest

from foamcut.design.design import read_design
from foamcut.errors import Refused
from foamcut.plan.building import built
from tests.hostile.airframes import SLIPS, HostileAirframe

_LEAKS = re.compile(r"Traceback|object at 0x|\b(None|TypeError|ValueError|KeyError|IndexError|NoneType)\b")


@pytest.mark.parametrize("slip", SLIPS, ids=lambda s: s.name)
def test_a_slip_is_told_by_line_and_word(slip: HostileAirframe) -> None:
    """common practice, no source: whoever slips is told where, what is wrong and what to do."""
    if slip.words is None:
        assert built(read_design(slip.text.encode(), "design.toml")).parts
        return
    with pytest.raises(Refused) as told:
        built(read_design(slip.text.encode(), "design.toml"))
    refusals = told.value.refusals
    words = [f"{one.key}: {one.text}" for one in refusals]
    assert any(re.search(slip.words, one) for one in words), "\n".join(words)
    for one in refusals:
        assert one.line is not None and 1 <= one.line <= slip.text.count("\n") + 1
        assert not _LEAKS.search(one.text) and len(one.text) < 1000


def test_names_are_their_own() -> None:
    assert len({slip.name for slip in SLIPS}) == len(SLIPS)
