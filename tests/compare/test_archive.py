"""A pack in one ZIP file: the same bytes from the same files, and nothing that leads out or swells is read."""

import io
import stat
import struct
import warnings
import zipfile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.compare import archive
from foamcut.compare.archive import archive_bytes, archive_files, is_archive
from foamcut.errors import PackError

NAMES = st.from_regex(r"[a-z0-9][a-z0-9-]{0,20}(/[a-z0-9-]{1,10})?\.(svg|json|toml)", fullmatch=True)


@given(st.dictionaries(NAMES, st.binary(max_size=300), min_size=1, max_size=8))
def test_what_is_put_in_comes_out(files: dict[str, bytes]) -> None:
    data = archive_bytes(files, "marsh-tern")
    assert is_archive(data)
    assert archive_files(data, "x.zip") == files
    backwards = dict(reversed(list(files.items())))
    assert archive_bytes(backwards, "marsh-tern") == data


def zipped(*entries: tuple[str | zipfile.ZipInfo, bytes], method: int = zipfile.ZIP_STORED) -> bytes:
    out = io.BytesIO()
    with warnings.catch_warnings(), zipfile.ZipFile(out, "w", method) as made:
        warnings.simplefilter("ignore")  # of names that are there twice
        for name, data in entries:
            made.writestr(name, data)
    return out.getvalue()


def refused(data: bytes) -> str:
    with pytest.raises(PackError) as caught:
        archive_files(data, "x.zip")
    text = str(caught.value)
    assert text.startswith("x.zip: ")
    assert text.isprintable()
    return text


@pytest.mark.parametrize(
    "name",
    [
        "/etc/passwd",
        "../up.svg",
        "a/../../up.svg",
        "a/./b.svg",
        "a//b.svg",
        "C:\\up.svg",
        "C:/up.svg",
        "a\\b.svg",
    ],
)
def test_names_that_lead_out_are_refused(name: str) -> None:
    entry = zipfile.ZipInfo("x")
    entry.filename = name
    text = refused(zipped(("manifest.json", b"{}"), (entry, b"x")))
    assert "leads out" in text or "no name inside a folder" in text


def test_letters_that_do_not_print_are_refused_and_not_shown() -> None:
    assert "do not print" in refused(zipped(("a\x1b[31m.svg", b"x")))


def test_links_locks_and_doubles_are_refused() -> None:
    link = zipfile.ZipInfo("design.toml")
    link.external_attr = (stat.S_IFLNK | 0o777) << 16
    assert "is a link" in refused(zipped((link, b"/etc/passwd")))
    assert "twice" in refused(zipped(("a.svg", b"1"), ("a.svg", b"2")))
    locked = bytearray(zipped(("a.svg", b"1")))
    for at in (6, locked.index(b"PK\x01\x02") + 8):
        locked[at] |= 1
    assert "password" in refused(bytes(locked))


def test_what_swells_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(archive, "MAX_BYTES", 100_000)
    data = zipped(("a.svg", bytes(200_000)), method=zipfile.ZIP_DEFLATED)
    assert len(data) < 1_000
    assert "swell" in refused(data)


def test_a_length_that_lies_is_refused() -> None:
    """The entry says 10 bytes, its stream holds many more: no more than those ten and one are ever read."""
    data = bytearray(zipped(("a.svg", bytes(200_000)), method=zipfile.ZIP_DEFLATED))
    directory = data.index(b"PK\x01\x02")
    for at in (22, directory + 24):
        data[at : at + 4] = struct.pack("<I", 10)
    refused(bytes(data))


def test_too_many_files_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(archive, "MAX_FILES", 3)
    assert "at most 3" in refused(zipped(*((f"{i}.svg", b"") for i in range(4))))


@given(st.data())
def test_any_damage_gives_files_or_a_refusal(data: st.DataObject) -> None:
    """Bytes changed, cut off or put in anywhere: an answer, never another exception."""
    whole = bytearray(archive_bytes({"manifest.json": b"{}" * 20, "sheets/board-1.svg": b"<svg/>"}, "tern"))
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(whole) - 1))
        match data.draw(st.sampled_from(["set", "cut", "put"])):
            case "set":
                whole[at] = data.draw(st.integers(0, 255))
            case "cut":
                del whole[at : at + data.draw(st.integers(1, 30))]
            case _:
                whole[at:at] = data.draw(st.binary(max_size=20))
        if not whole:
            return
    try:
        found = archive_files(bytes(whole), "x.zip")
    except PackError:
        return
    assert all(isinstance(one, bytes) for one in found.values())


def test_other_files_are_no_archive() -> None:
    assert "neither" in refused(b"")
    assert "neither" in refused(b"hello")
