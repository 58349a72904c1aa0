"""Slips in what is carried, in site, target and weighing: a report that names them, or a refusal by key.

Every report is also looked at as those of random designs are: finite numbers, ranges the right way round, words
for a builder.
"""

import re
from dataclasses import dataclass

import pytest

from foamcut.errors import Refused
from foamcut.plan.balancing import balance
from tests.fuzz.attempt_balance import attempt_balance

_HEAD = """format = 1

[plan]
name = "sea-lavender"

[sketch]
units = "mm"
scale = 1

[stock.board]
material = "paper-faced foam board"
thickness = "5 mm"
sheets = [ { size = "1000 x 700 mm", mass = "226 g" } ]
"""
_BODY = """
[body.hull]
stock = "board"
width = "60 mm"
side = "0, 0, 80; 700, 0, 80"
formers = [ { at = 40 }, { at = 140 } ]
"""
_WING = """
[surface.wing]
role = "wing"
stock = "board"
at = [200, 72]
span = 1000
root_chord = 180
dihedral = 5
"""
_TAIL = """
[surface.tail]
role = "stabiliser"
stock = "board"
at = [720, 60]
span = 360
root_chord = 100
"""


def carried(**keys: str) -> str:
    rows = {"name": '"pack"', "kind": '"battery"', "at": "[90, 40]", "mass": '"100 g"'} | keys
    return "\n[[aboard]]\n" + "".join(f"{key} = {value}\n" for key, value in rows.items() if value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """`design` goes in; a finding of `code` whose place and words match `words`, or a refusal, comes out."""

    name: str
    design: str
    words: str
    code: str = ""  # empty: it is refused


ALL = _HEAD + _BODY + _WING + _TAIL
SLIPS = (
    Slip(
        name="no mass",
        design=ALL + carried(mass=""),
        code="mass-missing",
        words=r'aboard\[0\].mass: no mass of "pack"',
    ),
    Slip(
        name="outside the body",
        design=ALL + carried(at="[900, 40]", size='"80 x 30 x 20 mm"'),
        code="outside-body",
        words="200 mm behind",
    ),
    Slip(
        name="wider than the body",
        design=ALL + carried(size='"60 x 90 x 20 mm"'),
        code="aboard-room",
        words="90 mm wide; between the sides there are 50 mm",
    ),
    Slip(
        name="larger than the model",
        design=ALL + carried(size='"4000 x 4000 x 4000 mm"'),
        code="outside-body",
        words="stands out 1910 mm before",
    ),
    Slip(
        name="slides through a former",
        design=ALL + carried(size='"50 x 30 x 20 mm"', slides="[70, 300]"),
        code="slides-through",
        words="former",
    ),
    Slip(
        name="a tonne",
        design=ALL + carried(mass='"1000 kg"'),
        code="wing-loading",
        words="1000[0-9]{3} g",
    ),
    Slip(
        name="no tail, no sweep",
        design=_HEAD + _WING,
        code="no-tail",
        words="no stabiliser, and the wing is hardly swept",
    ),
    Slip(name="no aeroplane", design=_HEAD + _BODY, code="no-wing", words="there is no wing"),
    Slip(
        name="a wing of no area",
        design=_HEAD + _WING.replace("1000", '"2.2 mm"').replace("180", '"0.2 mm"'),
        words="less than can be cut",
    ),
    Slip(
        name="weighed a gram",
        design=ALL + '\n[weighed]\nmodel = { mass = "1 g" }\n',
        code="weighed-differs",
        words="on the scales the model is 1 g",
    ),
    Slip(
        name="weighed with a balance far off",
        design=ALL + carried() + '\n[weighed]\nmodel = { mass = "400 g", along = 3000 }\n',
        code="weighed-differs",
        words="balances at 3000 mm",
    ),
    Slip(
        name="cold and high",
        design=ALL + carried() + '\n[site]\naltitude = "9000 m"\ntemperature = "-60 degC"\n',
        code="balance-target",
        words="mm",
    ),
    Slip(
        name="six that may sit at twenty places each",
        design=ALL
        + "".join(
            carried(name=f'"pack {i}"', may_sit=str([[60 + 3 * j, 40] for j in range(20)])) for i in range(6)
        ),
        code="balance-places",
        words="113379904|[0-9]{6,} ways",
    ),
    Slip(
        name="feeds what feeds it",
        design=ALL + carried(feeds='"second"') + carried(name='"second"', feeds='"pack"'),
        words=r'aboard\[1\].feeds: "pack" is of kind "battery"',
    ),
    Slip(
        name="slides past its place",
        design=ALL + carried(slides="[100, 120]"),
        words=r"aboard\[0\].slides: .* does not hold its place",
    ),
    Slip(name="too many places", design=ALL + carried(may_sit=str([[90, 40]] * 21)), words="at most 20"),
    Slip(name="weightless", design=ALL + carried(mass='"0 g"'), words=r"aboard\[0\].mass: .*above 0"),
    Slip(
        name="higher than any hill", design=ALL + '\n[site]\naltitude = "12000 m"\n', words="site.altitude: "
    ),
    Slip(name="a load of 21", design=ALL + "\n[balance]\nload_factor = 21\n", words="from 1 to 20"),
    Slip(
        name="a target off the wing",
        design=ALL + "\n[balance]\ntarget = { along = 20 }\n",
        words="balance.target.along: .*off the mean chord",
    ),
)


@pytest.mark.parametrize("slip", SLIPS, ids=lambda one: one.name)
def test_a_slip_is_named_or_refused(slip: Slip) -> None:
    """common practice, no source: whoever slips is told where, what is wrong and what to do."""
    answer = attempt_balance(slip.design.encode())
    assert answer.faults == ()
    assert answer.refused is not bool(slip.code)
    if answer.balanced is None:
        with pytest.raises(Refused) as told:
            balance(slip.design.encode(), "design.toml")
        words = [f"{one.key}: {one.text}" for one in told.value.refusals]
    else:
        found = [one for one in answer.balanced.report.findings if one.code == slip.code]
        words = [f"{one.where}: {one.text}" for one in found]
        assert all(one.mend for one in found)
    assert any(re.search(slip.words, one) for one in words), "\n".join(words)


def test_names_are_their_own() -> None:
    assert len({slip.name for slip in SLIPS}) == len(SLIPS)
