"""A pack is written whole or not at all, whichever call to the disk goes wrong, and however.

Every call that changes the disk is struck in turn: a full disk, a read error, Ctrl-C, termination, a kill.
"""

import json
import os
import shutil
import signal
from pathlib import Path

import pytest

from foamcut.errors import PackError
from foamcut.files import INCOMING, MANIFEST, REPLACING, File, manifest_bytes, save_pack
from tests.hostile.designs import GOOD
from tests.hostile.faults import Disk, disk_full, failing_disk, interrupt, io_error, kill, terminate
from tests.hostile.program import run, tree

FOREIGN = "sheets/notes of my own.txt"
needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="a process is killed here")


@pytest.fixture(autouse=True)
def no_waiting_for_the_disk(monkeypatch):
    """Syncs are counted and struck like every other call, but no real disk is waited for."""
    monkeypatch.setattr(os, "fsync", lambda _: None)


@pytest.fixture(autouse=True)
def ctrl_c_is_heard():
    """Test runners that work in several processes let theirs ignore it."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


def pack(letter: str, sheets: int) -> list[File]:
    """A small pack; two of unlike letter or number share some names and differ in some."""
    files = [File(name="layout.json", data=(letter * 900).encode()), File(name="design.toml", data=b"")]
    files += [File(name=f"sheets/board-{n}.dxf", data=f"{letter}{n}".encode() * 400) for n in range(1, sheets + 1)]
    files.append(File(name=f"only-{letter}.pdf", data=letter.encode()))
    facts = {"name": "glasswort", "revision": letter, "sha256": "0" * 64}
    return [*files, File(name=MANIFEST, data=manifest_bytes(files, program="0", design=facts))]


OLD, NEW, NEXT = pack("a", 3), pack("b", 2), pack("c", 1)


def as_tree(files: list[File]) -> dict[str, bytes | None]:
    found: dict[str, bytes | None] = {f.name: f.data for f in files}
    return {**found, "sheets": None, FOREIGN: b"keep me"}


def with_old_pack(folder: Path) -> Path:
    folder.mkdir(parents=True)
    save_pack(folder, OLD)
    (folder / FOREIGN).write_bytes(b"keep me")
    return folder


def without_hidden(found: dict[str, bytes | None]) -> dict[str, bytes | None]:
    return {name: data for name, data in found.items() if not name.startswith((INCOMING, REPLACING))}


def counted_calls(tmp_path: Path) -> list[str]:
    folder = with_old_pack(tmp_path / "counted")
    with failing_disk(Disk(None, disk_full)) as disk:
        save_pack(folder, NEW)
    assert tree(folder) == as_tree(NEW)
    return disk.calls


def check_state(folder: Path) -> str:
    """What is in the folder: the old pack, the new one, or a half that can be finished; nothing else will do."""
    found = tree(folder)
    seen = without_hidden(found)
    if not (folder / REPLACING).exists():
        assert seen in (as_tree(OLD), as_tree(NEW))
        return "old" if seen == as_tree(OLD) else "new"
    todo = json.loads((folder / REPLACING).read_bytes())
    for file in NEW:
        staged = found.get(f"{INCOMING}/{file.name}")
        assert (staged if staged is not None else seen.get(file.name)) == file.data, file.name
    assert set(todo["files"]) == {f.name for f in NEW}
    assert seen[FOREIGN] == b"keep me"
    return "between"


def check_mended(folder: Path) -> None:
    """The next write finishes or clears, and leaves its own pack and nothing hidden."""
    save_pack(folder, NEXT)
    assert tree(folder) == as_tree(NEXT)


def test_every_kind_of_call_is_struck(tmp_path):
    calls = counted_calls(tmp_path)
    kinds = {c.split()[0] for c in calls}
    assert kinds == {"mkdir", "open", "write", "flush", "fsync", "replace", "unlink", "rmdir"}
    assert sum(c == "replace" for c in calls) == len(NEW) + 1


@pytest.mark.parametrize("lasting", [False, True], ids=["once", "from then on"])
@pytest.mark.parametrize("strike", [disk_full, io_error])
def test_a_disk_that_refuses(tmp_path, strike, lasting):
    """An error of the disk is told as ours; the old pack is whole until the new one can be finished."""
    states = []
    for at in range(len(counted_calls(tmp_path))):
        folder = with_old_pack(tmp_path / f"{at}")
        with failing_disk(Disk(at, strike, lasting=lasting)) as disk:
            try:
                save_pack(folder, NEW)
            except PackError as err:
                told = str(err)
            else:
                told = ""
        state = check_state(folder)
        states.append(state)
        if told:
            assert ("as it is" in told or "as it was" in told) == (state == "old"), f"{disk.calls[at]}: {told}"
        else:
            assert state == "new", f"{disk.calls[at]} failed and nobody was told"
        check_mended(folder)
    assert {"old", "between"} <= set(states)


def test_a_ctrl_c_leaves_one_pack_or_the_other(tmp_path):
    """An interrupt before the renaming leaves the old pack without leftovers, one within waits until it is done."""
    states = []
    for at in range(len(counted_calls(tmp_path))):
        folder = with_old_pack(tmp_path / f"{at}")
        with failing_disk(Disk(at, interrupt)), pytest.raises(KeyboardInterrupt):
            save_pack(folder, NEW)
        assert tree(folder) in (as_tree(OLD), as_tree(NEW))
        states.append(check_state(folder))
        check_mended(folder)
    assert states == sorted(states, reverse=True)
    assert set(states) == {"old", "new"}


def test_the_first_pack_of_a_folder(tmp_path):
    """Where there was no pack there is none afterwards, or the new one can be finished."""
    with failing_disk(Disk(None, disk_full)) as disk:
        save_pack(tmp_path / "whole", NEW)
    for at in range(len(disk.calls)):
        folder = tmp_path / f"{at}"
        told = False
        with failing_disk(Disk(at, disk_full)):
            try:
                save_pack(folder, NEW)
            except PackError:
                told = True
        if not (folder / REPLACING).exists():
            seen = without_hidden(tree(folder)) if folder.exists() else {}
            whole = {k: v for k, v in as_tree(NEW).items() if k != FOREIGN}
            assert seen == ({} if told else whole)
        save_pack(folder, NEXT)
        assert tree(folder) == {k: v for k, v in as_tree(NEXT).items() if k != FOREIGN}


def dies(folder: Path, at: int, strike) -> int:
    """Save in a process of its own that dies at a call; the signal that ended it."""
    child = os.fork()
    if not child:
        try:
            signal.signal(signal.SIGTERM, signal.SIG_DFL)
            with failing_disk(Disk(at, strike)):
                save_pack(folder, NEW)
        finally:
            os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


@needs_fork
@pytest.mark.parametrize("strike", [kill, terminate])
def test_a_process_that_dies(tmp_path, strike):
    """Nothing is cleared up by a process that is gone; the next write still finds its way."""
    states = []
    for at in range(len(counted_calls(tmp_path))):
        folder = with_old_pack(tmp_path / f"{at}")
        assert dies(folder, at, strike) in (-signal.SIGKILL, -signal.SIGTERM)
        state = check_state(folder)
        assert strike is kill or state != "between", "termination waits until the renaming is done"
        states.append(state)
        check_mended(folder)
    assert {"old", "new"} <= set(states)


@needs_fork
def test_a_process_that_dies_while_it_mends(tmp_path):
    """Mending may itself be cut short, again and again."""
    calls = counted_calls(tmp_path)
    middle = [at for at, call in enumerate(calls) if call == "replace"][2]
    folder = with_old_pack(tmp_path / "twice")
    dies(folder, middle, kill)
    half = tmp_path / "half"
    shutil.copytree(folder, half)
    assert check_state(half) == "between"
    at = 0
    while dies(folder, at, kill):
        check_state(folder)
        shutil.rmtree(folder)
        shutil.copytree(half, folder)
        at += 1
    assert at > len(NEW)
    assert tree(folder) == as_tree(NEW)
    check_mended(folder)


@pytest.mark.parametrize("name", ["layout.json", "sheets/board-2.dxf", "sheets", MANIFEST, INCOMING + "/x"])
def test_what_is_not_ours_is_never_touched(tmp_path, name):
    """A foreign file where one of ours should go is a refusal, and everything stays as it is."""
    folder = tmp_path / "out"
    path = folder / name
    path.parent.mkdir(parents=True)
    path.write_bytes(b"mine")
    before = tree(folder)
    with pytest.raises(PackError):
        save_pack(folder, NEW)
    assert tree(folder) == before


@pytest.mark.parametrize("name", ["layout.json", "sheets/board-1.dxf"])
def test_a_folder_where_a_file_should_go_is_refused(tmp_path, name):
    folder = tmp_path / "out"
    (folder / name / "mine").mkdir(parents=True)
    before = tree(folder)
    with pytest.raises(PackError):
        save_pack(folder, NEW)
    assert tree(folder) == before


@pytest.mark.parametrize(
    "todo",
    [
        b"",
        b"{",
        b"[]",
        b"mine",
        b"[" * 100_000,
        b'{"format": "foamcut-replacing", "files": ["../evil"], "remove": []}',
        b'{"format": "foamcut-replacing", "files": [], "remove": ["../evil"]}',
        b'{"format": "foamcut-replacing", "files": [], "remove": ["sheets/../../evil"]}',
        b'{"format": "foamcut-replacing", "files": [], "remove": ["/evil"]}',
        b'{"format": "foamcut-replacing", "files": "abc", "remove": 7}',
        b'{"format": "foamcut-replacing"}',
        b'{"format": "foamcut-replacing", "files": ["nowhere.pdf"], "remove": []}',
    ],
)
def test_a_list_of_renames_that_is_damaged_or_forged(tmp_path, todo):
    """Neither the old pack nor anything outside is lost to a list that somebody else wrote."""
    folder = with_old_pack(tmp_path / "out")
    (tmp_path / "evil").write_bytes(b"mine")
    (folder / REPLACING).write_bytes(todo)
    before = tree(tmp_path)
    with pytest.raises(PackError):
        save_pack(folder, NEW)
    assert tree(tmp_path) == before


@pytest.mark.parametrize(
    "rows",
    [
        '"../evil"',
        '{"name": "../evil"}',
        '{"name": "/evil"}',
        '{"name": "sheets/a/b"}',
        '{"name": 7}',
        '{"name": ".hidden"}',
        "[]",
        "7",
    ],
)
def test_a_manifest_that_is_forged(tmp_path, rows):
    """A manifest cannot have files removed that a pack never has."""
    folder = tmp_path / "out"
    folder.mkdir()
    (tmp_path / "evil").write_bytes(b"mine")
    (folder / MANIFEST).write_text(f'{{"format": "foamcut-manifest", "version": 1, "files": [{rows}]}}')
    before = tree(tmp_path)
    with pytest.raises(PackError):
        save_pack(folder, NEW)
    assert tree(tmp_path) == before


def test_files_that_the_builder_added_stay(tmp_path):
    """A file of the builder's own in a folder of the pack outlives every pack."""
    folder = with_old_pack(tmp_path / "out")
    (folder / "photo.jpg").write_bytes(b"photo")
    save_pack(folder, NEXT)
    assert (folder / "photo.jpg").read_bytes() == b"photo"
    assert (folder / FOREIGN).read_bytes() == b"keep me"
    assert not (folder / "only-a.pdf").exists()
    assert not (folder / "sheets/board-3.dxf").exists()


def test_a_whole_cut_on_a_disk_that_is_full(tmp_path):
    """The command says so in words, exits with 1 and leaves the old pack; with room again, the same cut is done."""
    folder, design = tmp_path / "out", tmp_path / "design.toml"
    design.write_text(GOOD)
    assert run("cut", design, "--out", folder).code == 0
    old = tree(folder)
    design.write_text(GOOD.replace("[60, 40]", "[70, 50]"))
    with failing_disk(Disk(None, disk_full)) as disk:
        assert run("cut", design, "--out", tmp_path / "counted").code == 0
    new = tree(tmp_path / "counted")
    staged = disk.calls.index("replace")
    for at in range(0, staged, 8):
        with failing_disk(Disk(at, disk_full)):
            answer = run("cut", design, "--out", folder, "--json")
        assert answer.code == 1
        assert "no space left" in answer.document["refusals"][0]["text"]
        assert tree(folder) == old
    with failing_disk(Disk(staged // 2, interrupt)):
        assert run("cut", design, "--out", folder).code == 130
    assert tree(folder) == old
    assert run("cut", design, "--out", folder).code == 0
    assert tree(folder) == new
