"""One way to damage a pack, and what the breakages share."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any


class NotApplicableError(Exception):
    """The pack has nothing of the kind that this breakage damages."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Breakage:
    """A named damage and the pattern that one of the faults found ("file: text") must match."""

    name: str
    finds: str
    damage: Callable[[Path], None]
    on_manifest: bool = False


class Collection(list[Breakage]):
    """Breakages in the order in which they are written down."""

    def add(
        self, name: str, finds: str, *, on_manifest: bool = False
    ) -> Callable[[Callable[[Path], None]], Callable[[Path], None]]:
        """Register the decorated function as a breakage."""

        def register(damage: Callable[[Path], None]) -> Callable[[Path], None]:
            self.append(Breakage(name=name, finds=finds, damage=damage, on_manifest=on_manifest))
            return damage

        return register


def load(folder: Path, name: str = "layout.json") -> Any:
    """Read a JSON file of the pack."""
    return json.loads((folder / name).read_text("utf-8"))


def store(folder: Path, document: Any, name: str = "layout.json") -> None:
    """Write a JSON file of the pack with plain numbers of at most 6 decimals, as a good one has them."""
    (folder / name).write_text(_dump(document), "utf-8")


def _dump(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ",".join(f"{json.dumps(key)}:{_dump(entry)}" for key, entry in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ",".join(map(_dump, value)) + "]"
    if isinstance(value, float):
        plain = f"{value:.6f}".rstrip("0").rstrip(".")
        return "0" if plain in ("-0", "") else plain
    return json.dumps(value, ensure_ascii=False)


def edit_text(folder: Path, name: str, old: str, new: str) -> None:
    """Replace the first `old` in a text file byte for byte, or say that it is not there."""
    path = folder / name
    data = path.read_bytes()
    if old.encode() not in data:
        raise NotApplicableError(f"{name} has no {old!r}")
    path.write_bytes(data.replace(old.encode(), new.encode(), 1))
