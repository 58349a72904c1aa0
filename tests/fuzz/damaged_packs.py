"""Packs damaged on the way: bytes flipped in the archive, documents tampered with and hashed anew.

`attempt_verify(seed)` gives a damaged pack to the look-over; whatever comes of it must be words.
"""

import hashlib
import io
import json
import random
import traceback
import warnings
import zipfile
from collections.abc import Callable
from functools import cache
from typing import Any

from foamcut.compare.archive import archive_bytes
from foamcut.compare.pack import PackRead
from foamcut.errors import PackError
from foamcut.nest.values import Pace
from foamcut.plan.chain import cut
from foamcut.plan.values import Options
from foamcut.plan.verifying import design_of, is_pack, verified
from tests.fuzz.attempt_packs import REFUSAL_LEAKS, Told
from tests.fuzz.mutate import mutated
from tests.fuzz.random_designs import random_design
from tests.hostile.airframes import AIRFRAME

#: a random design that builds, with parts in sections, both hands and a bed
_SEED = 35
_ODD: tuple[Any, ...] = (
    None, True, False, 0, -1, 1.5, 1e308, -1e308, 10**400, float("nan"), float("inf"), "", "x", "../../evil", "\u202e",
    "w" * 5000, [], [[]], [[[]]], {}, {"a": 1}, [None], [0, 0], [[0, 0], [1, 0]], {"name": []}, "-0", "1e9",
)  # fmt: skip

Files = dict[str, bytes]


@cache
def packs() -> tuple[Files, ...]:
    """Whole packs by name of file."""
    designs = [AIRFRAME.encode(), random_design(_SEED, 2).encode()]
    options = Options(pace=Pace(steps=1))
    return tuple({one.name: one.data for one in cut(data, "design.toml", options).files} for data in designs)


def _paths(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    found = [path] if path else []
    rows = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, one in rows:
        found += _paths(one, (*path, key))
    return found


def _tampered(chance: random.Random, files: Files) -> Files:
    """A document with some values replaced, taken out or told twice, and the manifest made to agree."""
    name = chance.choice(("layout.json", "layout.json", "layout.json", "balance.json", "manifest.json"))
    if name not in files:
        name = "layout.json"
    document = json.loads(files[name])
    for _ in range(chance.choice((1, 1, 1, 2, 5))):
        path = chance.choice(_shallow(chance, _paths(document)))
        holder = document
        for step in path[:-1]:
            holder = holder[step]
        kind = chance.randrange(4)
        if kind == 0:
            del holder[path[-1]]
        elif kind == 1 and isinstance(holder, list):
            holder.insert(path[-1], holder[path[-1]])
        elif kind == 2 and isinstance(holder[path[-1]], int | float):
            holder[path[-1]] = holder[path[-1]] * chance.choice((2, -1, 1.001, 0)) + chance.choice(
                (0, 1, 0.3)
            )
        else:
            holder[path[-1]] = chance.choice(_ODD)
    return _hashed({**files, name: json.dumps(document).encode()}, name)


def _shallow(chance: random.Random, paths: list[tuple[Any, ...]]) -> list[tuple[Any, ...]]:
    """Paths no deeper than some depth: most of all lead to single coordinates."""
    most = chance.choice((1, 2, 3, 4, 9))
    return [path for path in paths if len(path) <= most]


def _hashed(files: Files, changed: str) -> Files:
    """The manifest tells of the changed file as it is now."""
    if changed == "manifest.json":
        return files
    manifest = json.loads(files["manifest.json"])
    for row in manifest["files"]:
        if row["name"] == changed:
            data = files[changed]
            row["bytes"], row["sha256"] = len(data), hashlib.sha256(data).hexdigest()
    return {**files, "manifest.json": json.dumps(manifest).encode()}


def _another_design(chance: random.Random, files: Files) -> Files:
    """The design in the pack is damaged and all documents say that it is the one."""
    data = mutated(files["design.toml"], chance.randrange(10**6))
    was, now = (hashlib.sha256(one).hexdigest().encode() for one in (files["design.toml"], data))
    names = ("layout.json", "balance.json", "manifest.json")
    told = {name: files[name].replace(was, now) for name in names if name in files}
    files = {**files, "design.toml": data, **told}
    for name in ("design.toml", "layout.json", "balance.json"):
        files = _hashed(files, name) if name in files else files
    return files


def _lost(chance: random.Random, files: Files) -> Files:
    """Files missing, changed, swapped, or more of them."""
    names = sorted(files)
    one, other = chance.sample(names, 2)
    return chance.choice(
        (
            {name: data for name, data in files.items() if name != one},
            {**files, one: files[other]},
            {**files, one: b""},
            {**files, one: mutated(files[one], chance.randrange(10**6))},
            {**files, "sheets/extra.dxf": b"0\nEOF\n", "notes.txt": b"the builder's own"},
            {**files, ".replacing.json": b"{}"},
        )
    )


_WAYS: tuple[Callable[[random.Random, Files], Files], ...] = (
    _tampered,
    _tampered,
    _tampered,
    _another_design,
    _lost,
)


def damaged(seed: int) -> Files | bytes:
    """A pack of files by name, or one ZIP file, damaged."""
    chance = random.Random(seed)
    files = chance.choice(packs())
    if chance.random() < 0.7:
        files = chance.choice(_WAYS)(chance, files)
        return archive_bytes(files, "pack") if chance.random() < 0.2 else files
    few = {name: data for name, data in files.items() if name.endswith((".json", ".toml"))}
    archive = archive_bytes(few, "pack") if chance.random() < 0.5 else _squeezed(few)
    for _ in range(chance.choice((1, 1, 3, 20))):
        # the list at the end says what is in it, so most harm is done there
        low = 0 if chance.random() < 0.4 else max(0, len(archive) - 700)
        at = chance.randrange(low, len(archive))
        archive = archive[:at] + bytes([chance.randrange(256)]) + archive[at + 1 :]
    if chance.random() < 0.2:
        archive = archive[: chance.randrange(len(archive))]
    return archive


def _squeezed(files: Files) -> bytes:
    """As another program may have packed it."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(zipfile.ZipInfo(f"pack/{name}"), data)
    return out.getvalue()


def attempt_verify(seed: int) -> Told:
    """Look a damaged pack over; warnings count as exceptions."""
    pack = damaged(seed)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            if isinstance(pack, bytes):
                is_pack(pack)
            read = verified(pack, "pack.zip")
            design_of(pack, "pack.zip")
    except PackError as err:
        return Told(refused=True, faults=tuple(_word_faults(str(err))))
    except Exception as err:
        frames = traceback.extract_tb(err.__traceback__)
        where = ", ".join(f"{frame.filename.rsplit('/', 1)[-1]}:{frame.lineno}" for frame in frames[-3:])
        return Told(refused=False, faults=(f"{type(err).__name__} at {where}: {str(err)[:300]}",))
    return Told(refused=not read.whole, faults=tuple(_read_faults(read)))


def _read_faults(read: PackRead) -> list[str]:
    found = [one for fault in read.faults for one in _word_faults(f"{fault.file}: {fault.text}")]
    return found + _word_faults(read.sentence)


def _word_faults(text: str) -> list[str]:
    if REFUSAL_LEAKS.search(text) or not text.strip() or len(text) > 1500 or not text.isprintable():
        return [f"words that are not for a builder: {text[:300]!r}"]
    return []
