"""Small designs for tests: one that is in order, and ways to change it."""

import pytest

from foamcut.design.design import Design, read_design
from foamcut.errors import Refused

GOOD = '''format = 1

[plan]
name = "samphire"

[sketch]
units = "mm"
scale = 6

[sizes]
half_span = 92

[stock.board]
material = "foam board"
thickness = "5 mm"
sheets = [ { size = "700 x 500 mm" } ]

[stock.ply]
material = "plywood"
thickness = "1.5 mm"

[parts.side]
stock = "board"
outline = """
  0, 0
  8, 0
  8, 4
"""
'''


def changed(old: str, new: str, text: str = GOOD) -> str:
    """The text with one passage replaced, which must be there."""
    assert old in text
    return text.replace(old, new, 1)


def with_keys(keys: str, text: str = GOOD) -> str:
    """The text with keys added to its last part."""
    return f"{text}{keys}\n"


def part(keys: str) -> str:
    """A design whose only part has these keys beside its stock."""
    return GOOD.split("[parts.side]")[0] + f'[parts.side]\nstock = "board"\n{keys}\n'


def read(text: str) -> Design:
    """The design of a text."""
    return read_design(text.encode(), "design.toml")


def refused(text: str) -> dict[str, str]:
    """The refusals of a text by key; there must be some, each with a line within the file."""
    with pytest.raises(Refused) as caught:
        read(text)
    refusals = caught.value.refusals
    lines = [r.line for r in refusals if r.line is not None]
    assert lines == sorted(lines)
    assert all(1 <= line <= text.count("\n") + 1 for line in lines)
    assert len({(r.key, r.text) for r in refusals}) == len(refusals)
    return {r.key: r.text for r in refusals}
