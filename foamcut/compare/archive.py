"""A pack in one ZIP file: written the same from the same files, read back with care.

Nothing is ever unpacked onto a disk: files are read into memory, so many and so long at most.  The format is
that of PKWARE's APPNOTE, by the standard library; entries are stored, not compressed, with one fixed date.
"""

import io
import zipfile
import zlib
from collections.abc import Iterator, Mapping

from foamcut.errors import PackError

#: files of a pack, and their bytes in all, that are read
MAX_FILES = 3000
MAX_BYTES = 256 * 1024 * 1024
#: the earliest day that the format knows
_DATE = (1980, 1, 1, 0, 0, 0)
_PLAIN_FILE = 0o100644 << 16
_LINK, _KIND = 0o120000, 0o170000
#: first bytes of an archive with entries, and of one without
_BEGINS = (b"PK\x03\x04", b"PK\x05\x06")


def is_archive(data: bytes) -> bool:
    """Whether the bytes begin as those of a ZIP file do."""
    return data[:4] in _BEGINS


def archive_bytes(files: Mapping[str, bytes], folder: str) -> bytes:
    """A ZIP file with these files in one folder, sorted by name."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(f"{folder}/{name}", date_time=_DATE)
            entry.create_system, entry.external_attr = 3, _PLAIN_FILE
            archive.writestr(entry, files[name])
    return out.getvalue()


def archive_files(data: bytes, path: str) -> dict[str, bytes]:
    """The files of a ZIP file by name; a folder that holds all of them is taken off.

    `path` is what the archive is called where it is refused.

    Raises
    ------
    PackError
        It cannot be read, a name leads out of the folder, it swells, or a file is damaged: the text says
        which, all entries at once where several are at fault.
    """
    if not is_archive(data):
        raise PackError(f"{path}: is neither the folder of a pack nor a ZIP file")
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            entries = [entry for entry in archive.infolist() if not entry.is_dir()]
            if faults := list(_faults(entries)):
                more = f"; and {len(faults) - 5} more" if len(faults) > 5 else ""
                raise PackError(f"{path}: {'; '.join(faults[:5])}{more}")
            files = dict(_read(archive, entries, path))
    except (zipfile.BadZipFile, zlib.error, NotImplementedError, ValueError, EOFError, OSError) as err:
        raise PackError(f"{path}: is a damaged ZIP file ({err}); get it anew") from None
    return _without_folder(files)


def _faults(entries: list[zipfile.ZipInfo]) -> Iterator[str]:
    if len(entries) > MAX_FILES:
        yield f"holds {len(entries):,} files; a pack has at most {MAX_FILES:,}"
        return
    seen: set[str] = set()
    for entry in entries:
        name = entry.filename
        if fault := _name_fault(name) or _entry_fault(entry):
            yield f"{_shown(name)}: {fault}; this is no pack of ours"
        elif name in seen:
            yield f"{_shown(name)}: is in it twice; this is no pack of ours"
        seen.add(name)
    if sum(entry.file_size for entry in entries) > MAX_BYTES:
        most = MAX_BYTES // 1024 // 1024
        yield f"its files swell to over {most} MiB when they are unpacked; a pack is smaller"


def _name_fault(name: str) -> str:
    steps = name.split("/")
    if name.startswith("/") or "\\" in name or ":" in name:
        return "is no name inside a folder"
    if ".." in steps or "." in steps or "" in steps:
        return "leads out of the folder"
    return "" if name.isprintable() else "has letters that do not print in its name"


def _entry_fault(entry: zipfile.ZipInfo) -> str:
    if entry.flag_bits & 0x1:
        return "is locked with a password"
    return "is a link" if (entry.external_attr >> 16) & _KIND == _LINK else ""


def _shown(name: str) -> str:
    letters = "".join(letter if letter.isprintable() else "?" for letter in name)
    return letters if len(letters) <= 60 else f"{letters[:57]}..."


def _read(archive: zipfile.ZipFile, entries: list[zipfile.ZipInfo], path: str) -> Iterator[tuple[str, bytes]]:
    """Every file, its length held against what the entry says, so that none swells beyond it."""
    for entry in entries:
        with archive.open(entry) as source:
            found = source.read(entry.file_size + 1)
        if len(found) != entry.file_size:
            raise PackError(f"{_shown(entry.filename)}: is of another length than the ZIP file says")
        yield entry.filename, found


def _without_folder(files: dict[str, bytes]) -> dict[str, bytes]:
    tops = {name.partition("/")[0] for name in files}
    if len(tops) == 1 and all("/" in name for name in files):
        return {name.partition("/")[2]: data for name, data in files.items()}
    return files
