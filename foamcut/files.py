"""The one place that opens, names and saves files.

A pack is written whole or not at all.  All bytes are in memory before the first is written.  They go
into a hidden folder inside the target and are synced; up to then any error, full disk or interrupt
leaves the old pack as it was.  A list of what is to be renamed and removed is then put in place (from
here on the new pack counts), interrupts are held back, and the files are renamed.  When even that is
cut short, the next write finishes the list before it begins.

Only files that a manifest of ours names are ever replaced or removed.
"""

import contextlib
import hashlib
import json
import os
import re
import signal
import threading
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeGuard

from foamcut.errors import PackError

MANIFEST = "manifest.json"
#: what is being renamed and removed; there only while that goes on
REPLACING = ".replacing.json"
#: the hidden folder that a new pack is written into
INCOMING = ".foamcut-incoming"
#: in the hidden folder: the names that are written into it, so that nothing else is ever removed from it
_STAGED = "staged.json"

_LONGEST_STEM = 40
_RESERVED = re.compile(r"con|prn|aux|nul|com[0-9]|lpt[0-9]")
_OURS = re.compile(r"(?:[a-z0-9][a-z0-9._-]*/)?[a-z0-9][a-z0-9._-]*")


@dataclass(frozen=True, slots=True, kw_only=True)
class File:
    """A file of a pack: its name with ``/`` between folder and file, and its bytes."""

    name: str
    data: bytes

    def __post_init__(self) -> None:
        if not _is_ours(self.name):
            raise ValueError(f"not a name for a file of a pack: {self.name!r}")


def stem_of(name: str) -> str:
    """A file name's stem from a name that a user gave.

    Lower-case ASCII letters, digits and ``-``, at most 40 characters, never a name that an operating
    system keeps for itself.  When anything had to be changed, six hex digits of the name's SHA-256 are
    added, so that unlike names give unlike stems.

    >>> stem_of("cordgrass-2"), stem_of("Sea Lavender")
    ('cordgrass-2', 'sea-lavender-dbc882')
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    stem = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")
    if stem and stem == name and len(stem) <= _LONGEST_STEM and not _RESERVED.fullmatch(stem):
        return stem
    digits = hashlib.sha256(name.encode("utf-8", "surrogatepass")).hexdigest()[:6]
    return f"{stem[: _LONGEST_STEM - 7].strip('-') or 'x'}-{digits}"


def read_design(path: Path, *, limit: int) -> bytes:
    """The bytes of a design file, at most one more than `limit`, so that the reader can refuse it.

    Raises
    ------
    PackError
        It is not there or cannot be read.
    """
    try:
        with path.open("rb") as source:
            return source.read(limit + 1)
    except OSError as err:
        raise PackError(f"{path}: cannot be read: {_words(err)}") from err


def read_pack(path: Path, *, limit: int, most: int) -> dict[str, bytes] | bytes:
    """The files of a pack's folder by name, ``/`` between folder and file; of any other file its bytes.

    Links are left out: they may lead anywhere.  `limit` bytes in all are read, `most` files.

    Raises
    ------
    PackError
        It is not there, cannot be read, or holds more than a pack can.
    """
    try:
        if not path.is_dir():
            if path.stat().st_size > limit:
                raise PackError(f"{path}: is over {limit // 1024 // 1024} MiB; a pack is smaller")
            return path.read_bytes()
        files: dict[str, bytes] = {}
        for found in sorted(_inside(path)):
            files[found.relative_to(path).as_posix()] = found.read_bytes()
            limit -= len(files[found.relative_to(path).as_posix()])
            if len(files) > most or limit < 0:
                raise PackError(f"{path}: holds more than a pack can; give the folder of one pack")
    except OSError as err:
        raise PackError(f"{path}: cannot be read: {_words(err)}") from err
    return files


def _inside(folder: Path) -> Iterator[Path]:
    """The files of a folder and of those in it that may be a pack's; the sign of a half replaced pack too."""
    for found in folder.iterdir():
        if found.is_symlink() or (found.name.startswith(".") and found.name != REPLACING):
            continue
        if found.is_dir():
            yield from (one for one in found.iterdir() if one.is_file() and not one.is_symlink())
        elif found.is_file():
            yield found


def holds(path: Path, data: bytes) -> bool:
    """Whether a file has just these bytes; one that cannot be read has not."""
    try:
        return path.read_bytes() == data
    except OSError:
        return False


def save_new(path: Path, data: bytes, *, replace: bool = False) -> None:
    """Write one new file whole; with `replace` an older one may be replaced.

    Raises
    ------
    PackError
        The file is there already (without `replace`), or the disk refused.
    """
    draft = path.with_name(f".{path.name}.draft")
    try:
        if os.path.lexists(path) and not replace:
            raise PackError(f"{path}: is there already and is left as it is; choose another name")
        path.parent.mkdir(parents=True, exist_ok=True)
        _write(draft, data)
        draft.replace(path)
    except OSError as err:
        raise PackError(f"{path}: cannot be written: {_words(err)}") from err
    finally:
        with contextlib.suppress(OSError):
            draft.unlink(missing_ok=True)


def manifest_bytes(files: Iterable[File], *, program: str, design: dict[str, str]) -> bytes:
    """The manifest of the files: name, length and SHA-256 of each, sorted by name."""
    rows = [
        {"name": f.name, "bytes": len(f.data), "sha256": hashlib.sha256(f.data).hexdigest()}
        for f in sorted(files, key=lambda f: f.name)
    ]
    head = {"format": "foamcut-manifest", "version": 1, "foamcut": program, "design": design}
    document = {**head, "files": rows}
    return (json.dumps(document, indent=1, ensure_ascii=False) + "\n").encode()


def save_pack(folder: Path, files: Sequence[File]) -> None:
    """Put a pack in place of the one that was there; `files` holds its manifest too.

    Raises
    ------
    PackError
        Something that is not ours is in the way, or the disk refused.  The text says whether the old
        pack is whole or the new one is half in place and the next write will finish it.
    """
    names = [f.name for f in files]
    if len(set(names)) != len(names) or MANIFEST not in names:
        raise ValueError("a pack holds each name once, and its manifest")
    try:
        if folder.exists() and not folder.is_dir():
            raise PackError(f"{folder}: is a file; give a folder with --out")
        folder.mkdir(parents=True, exist_ok=True)
        _finish_earlier(folder)
        old = _owned(folder)
        _refuse_in_the_way(folder, names, old)
        with _staged(folder, files):
            _replace(folder, names, [n for n in old if n not in names])
    except OSError as err:
        rest = (
            "the new pack is half in place; the next cut into this folder finishes it"
            if (folder / REPLACING).exists()
            else "what was there before is as it was"
        )
        raise PackError(f"{folder}: cannot be written: {_words(err)}; {rest}") from err


@contextlib.contextmanager
def _staged(folder: Path, files: Sequence[File]) -> Iterator[None]:
    """The files written and synced into the hidden folder; it is gone afterwards unless a replacing began."""
    incoming = folder / INCOMING
    try:
        incoming.mkdir()
        _write(incoming / _STAGED, _json_bytes({"files": [f.name for f in files]}))
        for file in files:
            target = incoming / file.name
            target.parent.mkdir(exist_ok=True)
            _write(target, file.data)
        for place in sorted({(incoming / f.name).parent for f in files}):
            _sync_folder(place)
        yield
    except BaseException:
        if not (folder / REPLACING).exists():
            with contextlib.suppress(OSError):
                _clear_incoming(folder)
        raise


def _replace(folder: Path, names: Sequence[str], remove: Sequence[str]) -> None:
    order = [*(n for n in names if n != MANIFEST), MANIFEST]
    with _interrupts_held_back():
        draft = folder / INCOMING / REPLACING
        _write(draft, _json_bytes({"format": "foamcut-replacing", "files": order, "remove": list(remove)}))
        draft.replace(folder / REPLACING)
        _sync_folder(folder)
        _carry_out(folder, order, remove)


def _carry_out(folder: Path, names: Sequence[str], remove: Sequence[str]) -> None:
    """Rename and remove what the list says; begun again, it goes on where it stopped."""
    incoming = folder / INCOMING
    for name in names:
        if (incoming / name).is_file():
            (folder / name).parent.mkdir(exist_ok=True)
            (incoming / name).replace(folder / name)
        elif not (folder / name).is_file():
            raise PackError(
                f"{folder}: {REPLACING} names {name}, which is nowhere; "
                f"remove {REPLACING} and {INCOMING} by hand"
            )
    for name in remove:
        (folder / name).unlink(missing_ok=True)
        with contextlib.suppress(OSError):  # a folder that still holds something stays
            if "/" in name:
                (folder / name).parent.rmdir()
    _sync_folder(folder)
    (folder / REPLACING).unlink()
    # the new pack is whole: what is left of the hidden folder is cleared by the next write
    with contextlib.suppress(OSError, PackError):
        _clear_incoming(folder)


def _finish_earlier(folder: Path) -> None:
    """Carry out what an interrupted write left to do, or clear away what it had only staged."""
    if (folder / REPLACING).exists():
        todo = _read_json(folder / REPLACING)
        names, remove = todo.get("files"), todo.get("remove")
        if todo.get("format") != "foamcut-replacing" or not (_all_ours(names) and _all_ours(remove)):
            raise PackError(f"{folder / REPLACING}: is not one of ours; move it away")
        with _interrupts_held_back():
            _refuse_links(folder, [*names, *remove])
            _carry_out(folder, names, remove)
    elif (folder / INCOMING).exists():
        _clear_incoming(folder)


def _clear_incoming(folder: Path) -> None:
    """Remove the hidden folder with what we staged in it, and nothing else."""
    incoming = folder / INCOMING
    if not incoming.exists():
        return
    if incoming.is_symlink():
        raise PackError(f"{incoming}: is a link; move it away")
    names = _staged_names(incoming / _STAGED)
    for name in names:
        (incoming / name).unlink(missing_ok=True)
    (incoming / REPLACING).unlink(missing_ok=True)
    for place in sorted({(incoming / n).parent for n in names} - {incoming}):
        if place.is_dir():
            place.rmdir()
    (incoming / _STAGED).unlink(missing_ok=True)
    try:
        incoming.rmdir()
    except OSError as err:
        raise PackError(f"{incoming}: holds files that are not ours; move it away") from err


def _staged_names(path: Path) -> list[str]:
    """What was to be written; nothing was yet when the list itself is missing or cut short."""
    try:
        names = json.loads(path.read_bytes())["files"]
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return []
    return names if _all_ours(names) else []


def _owned(folder: Path) -> tuple[str, ...]:
    """Names of the files that the manifest in the folder says are ours."""
    path = folder / MANIFEST
    if not path.exists():
        return ()
    document = _read_json(path)
    rows = document.get("files")
    names = [isinstance(r, dict) and r.get("name") for r in rows] if isinstance(rows, list) else None
    if document.get("format") != "foamcut-manifest" or not _all_ours(names):
        raise PackError(f"{path}: is not a manifest of ours; choose another folder with --out")
    return (*names, MANIFEST)


def _refuse_in_the_way(folder: Path, names: Sequence[str], old: Sequence[str]) -> None:
    _refuse_links(folder, [*names, *old])
    foreign = [n for n in names if n not in old and os.path.lexists(folder / n)]
    folders = [n for n in names if n in old and (folder / n).is_dir()]
    blocked = sorted({n.split("/")[0] for n in names if "/" in n and (folder / n.split("/")[0]).is_file()})
    if in_the_way := sorted({*foreign, *folders, *blocked}):
        more = f" and {len(in_the_way) - 5} more" if len(in_the_way) > 5 else ""
        raise PackError(
            f"{folder}: in the way and not from an earlier pack: {', '.join(in_the_way[:5])}{more}; "
            "move them away or choose another folder with --out"
        )


def _refuse_links(folder: Path, names: Sequence[str]) -> None:
    """A link inside the folder would lead a write out of it."""
    inside = {folder / n for n in names} | {(folder / n).parent for n in names} - {folder}
    inside |= {folder / INCOMING, folder / REPLACING}
    if links := sorted(str(p) for p in inside if p.is_symlink()):
        raise PackError(f"{links[0]}: is a link and could lead out of the folder; move it away")


def _is_ours(name: object) -> bool:
    return isinstance(name, str) and len(name) <= 200 and ".." not in name and bool(_OURS.fullmatch(name))


def _all_ours(names: object) -> TypeGuard[list[str]]:
    return isinstance(names, list) and all(_is_ours(name) for name in names)


def _json_bytes(document: object) -> bytes:
    return json.dumps(document).encode()


def _read_json(path: Path) -> dict[str, object]:
    try:
        document = json.loads(path.read_bytes())
    except (ValueError, RecursionError) as err:
        raise PackError(f"{path}: is not one of ours or is damaged; move it away") from err
    return document if isinstance(document, dict) else {}


def _write(path: Path, data: bytes) -> None:
    with path.open("wb") as out:
        out.write(data)
        out.flush()
        os.fsync(out.fileno())


def _sync_folder(folder: Path) -> None:
    """Make renames last; where folders cannot be opened (Windows) the system sees to it."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


@contextlib.contextmanager
def _interrupts_held_back() -> Iterator[None]:
    """Ctrl-C and termination wait until the block is done."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    waiting: list[int] = []
    wanted: list[int] = [signal.SIGINT, signal.SIGTERM]
    before = {s: signal.signal(s, lambda number, _frame: waiting.append(number)) for s in wanted}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
        for number in waiting[:1]:
            signal.raise_signal(number)


def _words(err: OSError) -> str:
    return (err.strerror or str(err)).lower()
