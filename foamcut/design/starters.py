"""Designs to begin with: commented, and they pass as they stand.

The texts stand beside this file, one for each ruler, because round numbers of one are odd ones of the other.
"""

import json
import re
from enum import Enum
from importlib import resources

from foamcut.design.printable import text_fault
from foamcut.design.structure import MAX_NAME_LETTERS


class Starter(Enum):
    """What there is to begin with."""

    TRAINER = "trainer"
    TWIN = "twin"
    GLIDER = "glider"
    FLYING_WING = "flying-wing"
    BOX = "box"


UNITS = ("mm", "in")

_NAME_LINE = re.compile(r'^name = "[a-z-]+"', re.MULTILINE)


def starter(name: str, units: str, file_stem: str) -> str:
    """The text of a design to begin with.

    Parameters
    ----------
    name
        A value of `Starter`.
    units
        What the ruler reads: ``mm`` or ``in``.
    file_stem
        Name of the file to be written, without its ending: the plan is called so, if a plan may be.

    Raises
    ------
    ValueError
        There is no such starter: whoever asks must have checked.
    """
    if units not in UNITS:
        raise ValueError(f"no starter in {units!r}")
    file = resources.files("foamcut.design") / "starters" / f"{Starter(name).value}-{units}.toml"
    text = file.read_text(encoding="utf-8")
    stem = file_stem.strip()
    if not stem or text_fault(stem, MAX_NAME_LETTERS):
        return text
    # a basic string of TOML is written as one of JSON
    line = f"name = {json.dumps(stem, ensure_ascii=False)}"
    return _NAME_LINE.sub(lambda _: line, text, count=1)
