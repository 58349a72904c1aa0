"""What the drawings of a sheet are called."""

import hashlib
import re
from collections.abc import Sequence

from foamcut.files import stem_of
from foamcut.nest.values import Sheet

FOLDER = "sheets"


def drawing_stems(sheet: Sheet, stem: str) -> tuple[str, ...]:
    """The drawings of a sheet without their endings: the sheet, its back if that is cut, its rectangles."""
    name = f"{FOLDER}/{stem}-{sheet.number}"
    back = (f"{name}-back",) if sheet.worked_behind else ()
    return (name, *back, *(f"{name}-bed-{bed.number}" for bed in sheet.beds))


def stems_of(stocks: Sequence[str]) -> dict[str, str]:
    """A stem for each stock, such that no sheet of one is called like a rectangle of another.

    >>> stems_of(["board", "board-1-bed"])
    {'board': 'board', 'board-1-bed': 'board-1-bed-b920ad'}
    """
    stems = {name: stem_of(name) for name in stocks}
    plain = set(stems.values())
    for name, stem in stems.items():
        rectangle = re.fullmatch(r"(.+)-\d+-bed", stem)
        if rectangle and rectangle[1] in plain:
            stems[name] = f"{stem}-{hashlib.sha256(name.encode()).hexdigest()[:6]}"
    return stems
