"""Packs of the samples keep the outside contract, and the checks find every damage done to one."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from check_pack import check_pack
from pack_breakages import (
    BALANCE,
    CUTTING,
    MODEL,
    PARTIAL,
    READ,
    WORKED,
    rewrite_manifest,
    run_breakages,
)

ROOT = Path(__file__).resolve().parents[2]


def _cut(name: str, out: Path, *options: str) -> Path:
    """Run the program on a design as a builder does, and give back the pack's folder."""
    return _run("cut", str(ROOT / name), "--out", str(out), *options, out=out)


def _run(*words: str, out: Path) -> Path:
    done = subprocess.run(
        [sys.executable, "-m", "foamcut", *words],
        cwd=ROOT,
        capture_output=True,
        text=True,
        env=os.environ | {"NO_COLOR": "1"},
    )
    assert done.returncode == 0, done.stderr
    return out


@pytest.mark.parametrize(
    ("name", "options"),
    [
        ("sample_designs/glasswort-1.toml", ("--paper", "tabloid", "--dxf", "r12")),
        ("sample_designs/jar-tray.toml", ("--templates", "sheet")),
        ("sample_designs/cordgrass-2.toml", ()),
        ("sample_designs/sea-blite-3.toml", ()),
        ("sample_designs/samphire-1.toml", ("--dxf", "r12")),
    ],
    ids=str,
)
def test_a_samples_pack_has_no_fault(name: str, options: tuple[str, ...], tmp_path: Path) -> None:
    pack = _cut(name, tmp_path / "pack", *options)
    report = check_pack(pack, every_part="--every-part" in options)
    assert [str(fault) for fault in report.faults] == []
    assert report.checks > 1000


def test_every_damage_to_a_good_pack_is_found(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """At least 20 ways apply, and none is missed."""
    pack = _cut("sample_designs/jar-tray.toml", tmp_path / "pack")
    verdict = run_breakages(pack, CUTTING)
    assert verdict == 0, capsys.readouterr().out


def test_every_damage_to_folds_joints_and_what_a_machine_reads_is_found(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A pack in which every layer, face, joint and bed stands once: none of the ways is missed."""
    pack = _cut("tests/contract/marsh-shed.toml", tmp_path / "pack")
    verdict = run_breakages(pack, WORKED, fewest=len(WORKED))
    assert verdict == 0, capsys.readouterr().out


@pytest.fixture(scope="module")
def punt(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A pack most of whose parts the program made."""
    return _cut("tests/contract/marsh-punt.toml", tmp_path_factory.mktemp("punt") / "pack")


def test_parts_that_the_program_made_are_checked_too(punt: Path) -> None:
    report = check_pack(punt)
    assert [str(fault) for fault in report.faults] == []
    assert report.checks > 1000


def test_every_damage_to_poses_and_the_model_is_found(punt: Path, capsys: pytest.CaptureFixture[str]) -> None:
    verdict = run_breakages(punt, MODEL, fewest=len(MODEL))
    assert verdict == 0, capsys.readouterr().out


def test_every_damage_to_the_balance_and_what_people_read_is_found(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A pack of an aeroplane with values that were built otherwise than drawn, and with revisions."""
    pack = _cut("tests/contract/marsh-tern.toml", tmp_path / "pack")
    assert (pack / "balance.json").is_file()
    due = (*BALANCE, *READ)
    verdict = run_breakages(pack, due, fewest=len(due))
    assert verdict == 0, capsys.readouterr().out


def test_some_parts_cut_again_make_a_pack_without_a_fault(tmp_path: Path) -> None:
    """A pair and a part of it: what tells of the whole model is not there."""
    pack = _cut("tests/contract/marsh-tern.toml", tmp_path / "pack", "--only", "wing-panel,hull-former-1")
    assert [str(fault) for fault in check_pack(pack).faults] == []
    assert not (pack / "book.html").exists()


def test_every_damage_to_the_pack_of_a_comparison_is_found(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    old = ROOT / "tests/contract/marsh-tern.toml"
    new = tmp_path / "new.toml"
    text = old.read_text("utf-8")
    assert "span = 110" in text
    new.write_text(text.replace("span = 110", "span = 116"), "utf-8")
    pack = _run("compare", str(old), str(new), "--out", str(tmp_path / "pack"), out=tmp_path / "pack")
    verdict = run_breakages(pack, PARTIAL, fewest=len(PARTIAL))
    assert verdict == 0, capsys.readouterr().out


@pytest.mark.parametrize(
    "name",
    [
        "a groove with one of its edges left out",
        "a groove 0.05 mm too wide",
        "a groove all of whose edges lie a board off",
        "a fold towards you called one away",
        "an end tick of 4 mm",
        "a bevel left out",
        "a bevel 0.05 mm too deep",
    ],
)
def test_lines_that_no_word_of_the_design_tells_of_are_found_missing(
    name: str, punt: Path, tmp_path: Path
) -> None:
    """What the design cannot say of a part that the program made, the other format of its sheet does."""
    (breakage,) = [one for one in WORKED if one.name == name]
    copy = tmp_path / "pack"
    shutil.copytree(punt, copy)
    breakage.damage(copy)
    rewrite_manifest(copy)
    faults = [str(fault) for fault in check_pack(copy, until="of the lines of").faults]
    assert any("of the lines of" in fault for fault in faults), faults
