"""What can go wrong because of what the user wrote or has on disk.

    FoamcutError            the user can mend it; the command line prints it, exit code 1
    |-- Refused             the design cannot be built: every refusal of the step that found any
    `-- PackError           a folder or file is in the way, or the disk refused

`ValueError` and `TypeError` are bugs of ours.
"""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """One thing that must be changed before work can go on.

    `key` names the place in the design (``parts.side.slots[2].at``), empty for the file as a whole;
    `text` says what is wrong and what to do; `line` counts from 1, None until the design file's
    reader has looked it up.
    """

    key: str
    text: str
    line: int | None = None


class FoamcutError(Exception):
    """Something the user can mend."""


class Refused(FoamcutError):
    """The design cannot be built; `refusals` holds all that the step found.

    `places` says what the places in them are measured in; empty where the sketch is at full size.
    """

    def __init__(self, refusals: Iterable[Refusal], *, later_steps: bool = False, places: str = "") -> None:
        #: each once: two ways through a design may meet the same fault
        self.refusals = tuple(dict.fromkeys(refusals))
        #: True when later steps have not been looked at
        self.later_steps = later_steps
        self.places = places
        super().__init__("; ".join(f"{r.key}: {r.text}" for r in self.refusals))


class PackError(FoamcutError):
    """The output folder cannot be written, or something that is not ours is in the way."""
