"""Keys as one text: ``parts."left wing".outline[3]`` names one place in a design and can be taken apart."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from functools import lru_cache

_BARE = re.compile(r"[A-Za-z0-9_-]+", re.ASCII)
_STEP = re.compile(
    r'\.?(?:(?P<quoted>"(?:[^"\\]|\\.)*+")|\[(?P<index>[0-9]{1,9})\]|(?P<bare>[^.\["]++[^.\[]*+))', re.DOTALL
)


def key_of(path: Sequence[str | int]) -> str:
    """Return a path of names and indexes (from 0) as one text; names that TOML would quote are quoted."""
    key = ""
    for step in path:
        if isinstance(step, int):
            key += f"[{step}]"
        else:
            key += ("." if key else "") + _word(step)
    return key


def path_of(key: str) -> tuple[str | int, ...]:
    """Return the path of a key; the inverse of key_of. What is no key ends the path early."""
    path: list[str | int] = []
    at = 0
    while at < len(key) and (step := _STEP.match(key, at)):
        if step["index"]:
            path.append(int(step["index"]))
        elif step["bare"]:
            path.append(step["bare"])
        else:
            try:
                path.append(str(json.loads(step["quoted"])))
            except ValueError:
                break
        at = step.end()
    return tuple(path)


@lru_cache(maxsize=4096)
def _word(name: str) -> str:
    return name if _BARE.fullmatch(name) else _quoted(name)


def _quoted(name: str) -> str:
    """Quote a name; letters that a terminal would act on are written as escapes."""
    letters = (c if c.isprintable() and c not in '"\\' else json.dumps(c)[1:-1] for c in name)
    return '"' + "".join(letters) + '"'
