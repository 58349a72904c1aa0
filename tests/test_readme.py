"""The README is true: every command in it is run, its example design is cut, its links lead somewhere."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", README, re.DOTALL)


def commands(language: str = "sh") -> list[str]:
    return [line for block in blocks(language) for line in block.splitlines() if line.strip()]


def run(words: list[str], cwd: Path, **environment: str) -> subprocess.CompletedProcess:
    done = subprocess.run(
        words, cwd=cwd, capture_output=True, text=True, check=False, env={**os.environ, **environment}
    )
    assert done.returncode == 0, f"{words}: {done.stdout[-2000:]}{done.stderr[-2000:]}"
    return done


def test_the_job_comes_first_and_then_two_commands():
    paragraphs = [p for p in README.split("\n\n") if p.strip()]
    assert paragraphs[0].startswith("# ")
    assert len(paragraphs[1].split()) > 50
    assert blocks("sh")[0].split("\n")[:2] == ["make demo", "make test"]


def test_every_foamcut_command_runs_in_turn(tmp_path):
    ours = [line.split() for line in commands() if line.startswith("foamcut ")]
    assert {words[1] for words in ours} >= {"new", "check", "cut"}
    for words in ours:
        run([sys.executable, "-m", *words], tmp_path)


def test_every_other_command_is_one_that_a_test_runs():
    known = {"make demo", "make test", "python -m venv .venv"}
    for line in commands() + commands("bat"):
        assert (
            line.startswith(("foamcut ", ".venv/bin/", ".venv\\Scripts\\")) or line in known
        ), f"no test runs {line!r}"


def test_the_example_design_can_be_cut(tmp_path):
    (tmp_path / "example.toml").write_text(blocks("toml")[0], encoding="utf-8")
    run([sys.executable, "-m", "foamcut", "cut", "example.toml"], tmp_path)


@pytest.mark.parametrize("fragment", range(1, 4))
def test_the_keys_shown_for_folds_and_joints_can_be_cut(tmp_path, fragment):
    """Each fragment is keys of one part: it is put into a part that has room for them."""
    start = blocks("toml")[0]
    head = start[: start.index("[parts.")]
    pair = 'pair = "right"\n' if "hand" in blocks("toml")[fragment] else ""
    part = f"[parts.long]\nstock = \"board\"\n{pair}rectangle = [150, 30]\n"
    true_size = "wrap" in blocks("toml")[fragment]
    room = part if pair else part.replace("[150, 30]", '["200 mm", "280 mm"]' if true_size else "[40, 20]")
    (tmp_path / "long.toml").write_text(head + room + blocks("toml")[fragment], encoding="utf-8")
    run([sys.executable, "-m", "foamcut", "cut", "long.toml"], tmp_path)


def test_the_aeroplane_shown_can_be_cut(tmp_path):
    start = blocks("toml")[0]
    shown = start[: start.index("[parts.")] + blocks("toml")[4]
    (tmp_path / "shown.toml").write_text(shown, encoding="utf-8")
    run([sys.executable, "-m", "foamcut", "cut", "shown.toml"], tmp_path)
    assert (tmp_path / "output" / "shown" / "model.glb").is_file()


def test_the_aeroplane_shown_can_be_weighed_with_what_is_aboard(tmp_path):
    """Everything that the fragment on weight and balance gives is used, and its battery has room."""
    start = blocks("toml")[0]
    shown = start[: start.index("[parts.")] + blocks("toml")[4] + blocks("toml")[5]
    (tmp_path / "shown.toml").write_text(shown, encoding="utf-8")
    done = run([sys.executable, "-m", "foamcut", "balance", "shown.toml"], tmp_path)
    assert "battery's middle for that balance" in done.stdout
    assert "aboard[0].slides" not in done.stderr and "aboard[0].size" not in done.stderr


def test_what_is_built_otherwise_can_be_cut(tmp_path):
    text = blocks("toml")[0] + blocks("toml")[6]
    (tmp_path / "example.toml").write_text(text, encoding="utf-8")
    done = run([sys.executable, "-m", "foamcut", "check", "example.toml"], tmp_path)
    assert "length is 41, drawn 40: the board was longer" in done.stderr


def test_options_and_commands_in_the_table_exist(tmp_path):
    for name, options in re.findall(r"^\| `foamcut (\w+) ?(.*?)` \|", README, re.MULTILINE):
        shown = run([sys.executable, "-m", "foamcut", name, "-h"], tmp_path).stdout
        for option in re.findall(r"--[a-z-]+", options):
            assert option in shown, f"foamcut {name} has no {option}"


def test_links_and_pictures_are_there():
    for target in re.findall(r"\]\((?!http)([^)#]+)\)", README):
        assert (ROOT / target).is_file(), target


@pytest.mark.outside_tools
def test_a_fresh_copy_with_an_empty_home_follows_the_readme(tmp_path):
    """Only Python, make and a package index: the demo, and the lines for a plain virtual environment."""
    copy, home = tmp_path / "copy", tmp_path / "home"
    home.mkdir()
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT, capture_output=True, text=True, check=True,
    ).stdout.split("\0")  # fmt: skip
    for name in filter(None, listed):
        if (ROOT / name).is_file():
            (copy / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(ROOT / name, copy / name)
    run(["make", "demo"], copy, HOME=str(home))
    assert (copy / "output" / "glasswort-1" / "manifest.json").is_file()
    assert run(["make", "-n", "test"], copy, HOME=str(home)).stdout
    shutil.rmtree(copy / ".venv")
    for line in commands():
        if line.startswith((".venv/bin/", "python -m venv")):
            run(line.replace("python -m venv", f"{sys.executable} -m venv").split(), copy, HOME=str(home))
