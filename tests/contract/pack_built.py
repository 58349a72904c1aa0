"""The tables of a design as it was built: each value of [[built]] takes the place of the drawn one."""

import json
import re
import tomllib
from typing import Any

_STEP = re.compile(r'\.?(?:([A-Za-z0-9_-]+)|("(?:[^"\\]|\\.)*")|\[([0-9]+)\])')


def path_of(key: str) -> list[str | int]:
    """Return the steps of a key: aboard[3].mass, parts."left wing".outline; raises ValueError on an odd one."""
    steps: list[str | int] = []
    at = 0
    while at < len(key):
        match = _STEP.match(key, at)
        if match is None:
            raise ValueError(f"{key!r} is no key")
        bare, quoted, index = match.groups()
        steps.append(int(index) if index else json.loads(quoted) if quoted else bare)
        at = match.end()
    return steps


def built_table(text: str) -> dict[str, Any]:
    """Return a design's tables with what was built in them; raises what tomllib raises, KeyError, ValueError."""
    table = tomllib.loads(text)
    for entry in table.get("built", []):
        steps = path_of(entry["key"].strip())
        if len(steps) == 1 and steps[0] in table.get("sizes", {}):
            steps = ["sizes", *steps]
        here: Any = table
        for step in steps[:-1]:
            here = here.setdefault(step, {}) if isinstance(here, dict) else here[step]
        here[steps[-1]] = entry["value"]
    return table
