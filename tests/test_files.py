"""Saving packs and naming files.  What happens when the disk refuses stands in tests/hostile."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.errors import PackError
from foamcut.files import INCOMING, MANIFEST, REPLACING, File, manifest_bytes, save_new, save_pack, stem_of

DESIGN = {"name": "cordgrass-2", "revision": "A", "sha256": "0" * 64}


def pack(**texts: str) -> list[File]:
    files = [File(name=name.replace("__", "/"), data=text.encode()) for name, text in texts.items()]
    return [*files, File(name=MANIFEST, data=manifest_bytes(files, program="0", design=DESIGN))]


def tree(folder) -> dict[str, bytes]:
    return {
        str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()
    }


def test_a_pack_replaces_the_one_before_and_leaves_nothing_else(tmp_path):
    save_pack(tmp_path, pack(a="1", sheets__board="2", sheets__ply="3"))
    save_pack(tmp_path, pack(a="4", b="5"))
    assert sorted(tree(tmp_path)) == ["a", "b", MANIFEST]
    assert not (tmp_path / "sheets").exists()
    assert tree(tmp_path)["a"] == b"4"


def test_a_file_that_no_manifest_names_is_left_alone(tmp_path):
    save_pack(tmp_path, pack(a="1", sheets__board="2"))
    (tmp_path / "notes").write_text("mine")
    (tmp_path / "sheets" / "mine").write_text("mine")
    save_pack(tmp_path, pack(a="2"))
    assert tree(tmp_path)["notes"] == b"mine"
    assert (tmp_path / "sheets" / "mine").read_bytes() == b"mine"


@pytest.mark.parametrize("name", ["a", "sheets/board", "manifest.json"])
def test_a_foreign_file_in_the_way_is_refused_and_kept(tmp_path, name):
    target = tmp_path / name
    target.parent.mkdir(exist_ok=True)
    target.write_text('{"format": "another"}')
    before = tree(tmp_path)
    with pytest.raises(PackError, match=r"in the way|not a manifest of ours"):
        save_pack(tmp_path, pack(a="1", sheets__board="2"))
    assert tree(tmp_path) == before


def test_a_link_inside_the_folder_is_not_followed(tmp_path):
    outside = tmp_path / "outside"
    outside.mkdir()
    folder = tmp_path / "pack"
    folder.mkdir()
    (folder / "sheets").symlink_to(outside, target_is_directory=True)
    with pytest.raises(PackError, match="is a link"):
        save_pack(folder, pack(sheets__board="2"))
    assert not list(outside.iterdir())


def test_a_manifest_cannot_name_files_outside(tmp_path):
    victim = tmp_path / "victim"
    victim.write_text("mine")
    folder = tmp_path / "pack"
    folder.mkdir()
    (folder / MANIFEST).write_text(json.dumps({"format": "foamcut-manifest", "files": [{"name": "../victim"}]}))
    with pytest.raises(PackError, match="not a manifest of ours"):
        save_pack(folder, pack(a="1"))
    assert victim.read_text() == "mine"


def test_an_interrupted_replacing_is_finished_first(tmp_path):
    save_pack(tmp_path, pack(a="old", gone="old"))
    incoming = tmp_path / INCOMING
    incoming.mkdir()
    newer = pack(a="new", b="new")
    for file in newer[1:]:  # `a` was renamed already
        (incoming / file.name).write_bytes(file.data)
    (incoming / "staged.json").write_text(json.dumps({"files": [f.name for f in newer]}))
    todo = {"format": "foamcut-replacing", "files": [f.name for f in newer], "remove": ["gone"]}
    (tmp_path / REPLACING).write_text(json.dumps(todo))
    save_pack(tmp_path, newer)
    assert tree(tmp_path) == {f.name: f.data for f in newer}


def test_save_new_never_overwrites(tmp_path):
    save_new(tmp_path / "x.toml", b"1")
    with pytest.raises(PackError, match="is there already"):
        save_new(tmp_path / "x.toml", b"2")
    assert (tmp_path / "x.toml").read_bytes() == b"1"
    assert [p.name for p in tmp_path.iterdir()] == ["x.toml"]


@pytest.mark.parametrize("name", ["board", "cordgrass-2", "a" * 40])
def test_a_name_that_needs_no_change_stays(name):
    assert stem_of(name) == name


@pytest.mark.parametrize("name", ["Board", "con", "COM1", "..", "", "../../x", "a" * 41, "ply 1.5", "-a", "леска"])
def test_a_changed_name_says_so_by_its_digits(name):
    stem = stem_of(name)
    assert stem != name
    assert len(stem.rsplit("-", 1)[1]) == 6


@given(st.text(max_size=60), st.text(max_size=60))
def test_stems_are_plain_and_unlike_names_give_unlike_stems(one, other):
    stem = stem_of(one)
    assert 0 < len(stem) <= 40
    assert set(stem) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert stem[0] != "-"
    assert stem[-1] != "-"
    if one != other:
        assert stem != stem_of(other)
