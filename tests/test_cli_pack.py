"""Packs at the command line: verify, one ZIP file, some parts alone."""

import json
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.hostile.program import run, tree

SAMPLE = Path(__file__).parent.parent / "sample_designs" / "jar-tray.toml"


@pytest.fixture()
def design(tmp_path: Path) -> Path:
    return Path(shutil.copy(SAMPLE, tmp_path))


def test_verify_says_in_one_line_what_a_pack_is(sample_packs: dict[str, Path]) -> None:
    for name, folder in sample_packs.items():
        done = run("verify", folder)
        assert (done.code, done.err) == (0, "")
        assert done.out.startswith(f"{name}, revision ")
        assert done.out.endswith("; whole\n")
        assert done.out.count("\n") == 1


def test_verify_as_json(sample_packs: dict[str, Path], tmp_path: Path) -> None:
    folder = Path(shutil.copytree(sample_packs["jar-tray"], tmp_path / "pack"))
    document = run("verify", folder, "--json").document
    assert (document["command"], document["ok"]) == ("verify", True)
    assert document["design"]["name"] == "jar-tray"
    assert document["result"] == {"whole": True, "faults": []}
    (folder / "shopping.csv").unlink()
    done = run("verify", folder, "--json")
    assert done.code == 1
    assert done.document["result"] == {
        "whole": False,
        "faults": [{"file": "shopping.csv", "text": "is missing"}],
    }


@pytest.mark.parametrize("name", ["nothing", "empty", "design.toml"])
def test_verify_of_what_is_no_pack(tmp_path: Path, name: str) -> None:
    (tmp_path / "empty").mkdir()
    shutil.copy(SAMPLE, tmp_path / "design.toml")
    done = run("verify", tmp_path / name)
    assert done.code == 1
    assert done.err.strip()
    assert "Traceback" not in done.err


def test_links_in_a_pack_are_not_followed(sample_packs: dict[str, Path], tmp_path: Path) -> None:
    folder = Path(shutil.copytree(sample_packs["jar-tray"], tmp_path / "pack"))
    (folder / "shopping.csv").rename(tmp_path / "elsewhere.csv")
    (folder / "shopping.csv").symlink_to(tmp_path / "elsewhere.csv")
    assert "shopping.csv: is missing" in run("verify", folder).err


def test_a_zip_file_holds_the_pack_and_can_be_unpacked(design: Path, tmp_path: Path) -> None:
    """Read back by Python's own command, from the folder's neighbour; the same bytes each time."""
    folder = tmp_path / "packs" / "tray"
    done = run("cut", design, "--out", folder, "--zip")
    assert done.code == 0
    path = tmp_path / "packs" / "tray.zip"
    assert f"written to {folder} and {path}" in done.err
    first = path.read_bytes()
    subprocess.run(["python3", "-m", "zipfile", "-e", path, tmp_path / "out"], check=True)
    assert tree(tmp_path / "out" / "tray") == tree(folder)
    assert run("verify", path).out == run("verify", folder).out
    assert run("cut", design, "--out", folder, "--zip", "--json").document["result"]["zip"] == str(path)
    assert path.read_bytes() == first


def test_another_file_in_the_place_of_the_zip_file_is_left_alone(design: Path, tmp_path: Path) -> None:
    (tmp_path / "tray.zip").write_bytes(b"mine")
    done = run("cut", design, "--out", tmp_path / "tray", "--zip")
    assert done.code == 1
    assert "no pack of ours" in done.err
    assert (tmp_path / "tray.zip").read_bytes() == b"mine"
    assert not (tmp_path / "tray").exists()


def test_some_parts_alone(design: Path, tmp_path: Path) -> None:
    """Only these are laid, on scraps and boards at hand first; the pack is whole and says what it holds."""
    folder = tmp_path / "some"
    done = run("cut", design, "--only", "end-wall, floor", "--out", folder)
    assert done.code == 0, done.err
    layout = json.loads((folder / "layout.json").read_bytes())
    assert sorted(layout["only"]) == sorted(part["name"] for part in layout["parts"])
    assert {part["name"] for part in layout["parts"]} == {"end-wall", "floor"}
    assert layout["sheets"][0]["kind"] in ("offcut", "on_hand") or layout["bound"][0]["new"]
    assert run("verify", folder).out.endswith("; whole\n")
    assert not (folder / "book.html").exists()


def test_a_part_that_is_not_there_is_refused_with_the_nearest(design: Path, tmp_path: Path) -> None:
    done = run("cut", design, "--only", "flor,end-wall", "--out", tmp_path / "some")
    assert done.code == 1
    assert 'there is no part "flor"; did you mean "floor"?' in done.err
    assert not (tmp_path / "some").exists()
    assert run("cut", design, "--only", " , ").code == 2
    done = run("cut", design, "--only", f"\u202e{'w' * 5000}", "--out", tmp_path / "some")
    assert done.code == 1
    assert 'there is no part "\\u202ewww' in done.err
    assert len(done.err) < 300


def test_the_pack_of_all_parts_is_not_replaced_by_that_of_some(design: Path, tmp_path: Path) -> None:
    folder = tmp_path / "all"
    assert run("cut", design, "--out", folder).code == 0
    before = tree(folder)
    done = run("cut", design, "--only", "floor", "--out", folder)
    assert done.code == 1
    assert "holds the pack of all parts" in done.err
    assert tree(folder) == before
