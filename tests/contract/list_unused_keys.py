"""List every key of the design file, and every word of an outline, that no sample or test design uses.

    python tests/contract/list_unused_keys.py [DESIGN.toml ...]

Without arguments: the samples, the starters and the test design.  Exit code 1 when a key is unused.
"""

import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from foamcut.design.key_kinds import Holds, Kind, Table, keys_of
from foamcut.design.outline_table import WORDS
from foamcut.design.schema import DesignTable

OUTLINES = (Kind.OUTLINE, Kind.TRUE_OUTLINE)
ROOT = Path(__file__).resolve().parents[2]


def designs() -> list[Path]:
    """All designs that count, in order."""
    folders = (ROOT / "sample_designs", ROOT / "foamcut" / "design" / "starters", ROOT / "tests" / "design")
    return [path for folder in folders for path in sorted(folder.glob("*.toml"))]


def known_keys(model: type[Table] = DesignTable, at: str = "") -> Iterator[str]:
    """Every key that the models have, such as ``stock.*.sheets[].size``."""
    for key in keys_of(model).values():
        here = f"{at}.{key.word}".lstrip(".")
        yield here
        if key.of and key.of.kind in OUTLINES:
            yield from (f"{here} {word}" for word in WORDS)
        if key.table:
            inside = {Holds.ONE: "", Holds.LIST: "[]", Holds.NAMED: ".*"}
            yield from known_keys(key.table, here + inside[key.holds or Holds.ONE])


def used_keys(data: dict[str, Any], model: type[Table] = DesignTable, at: str = "") -> Iterator[str]:
    """Every key that a design uses."""
    for word, value in data.items():
        key = keys_of(model).get(word)
        if key is None:
            continue
        here = f"{at}.{word}".lstrip(".")
        yield here
        if key.of and key.of.kind in OUTLINES and isinstance(value, str):
            said = value.replace("\n", " ").split()
            yield from (f"{here} {w}" for w in WORDS if w in said)
        if key.table and key.holds is Holds.ONE:
            yield from used_keys(value, key.table, here)
        elif key.table and isinstance(value, str):
            continue  # a word instead of tables
        elif key.table and key.holds is Holds.LIST:
            for one in value:
                yield from used_keys(one, key.table, f"{here}[]")
        elif key.table:
            for one in value.values():
                yield from used_keys(one, key.table, f"{here}.*")


def unused(paths: list[Path]) -> list[str]:
    """Keys that none of the designs uses, in the order of the models.

    Words of outlines count once, wherever they stand: in a part, a cutout or an offcut.
    """
    used = {key for path in paths for key in used_keys(tomllib.loads(path.read_text(encoding="utf-8")))}
    said = {key.split(" ")[1] for key in used if " " in key}
    missing = []
    for key in known_keys():
        place, _, word = key.partition(" ")
        if (word and word not in said) or (not word and place not in used):
            missing.append(key)
    return missing


def main(arguments: list[str]) -> int:
    """Print what is unused, and how much there is."""
    paths = [Path(argument) for argument in arguments] or designs()
    missing = unused(paths)
    for key in missing:
        print(f"unused: {key}")
    total = len({key.partition(" ")[0] for key in known_keys()})
    print(f"{total} keys and {len(WORDS)} words of outlines, {len(missing)} unused in {len(paths)} designs")
    return 1 if missing else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
