"""``foamcut new --ask``: what is asked, what is shown, what is written, and what is left behind."""

import re
import signal
import subprocess
import sys
import time
import tomllib
from pathlib import Path

import pytest

from tests.test_cli import foamcut
from tests.thorough import EVERY

#: Enter for every question of any starter
ENTERS = "\n" * 20


def new(cwd: Path, answers: str, *words: str) -> subprocess.CompletedProcess:
    return foamcut("new", "mine.toml", "--ask", *words, cwd=cwd, stdin=answers)


@pytest.mark.parametrize("starter", ["trainer", *(["twin", "glider", "flying-wing"] * EVERY), "box"])
def test_enter_for_every_question_writes_the_starter_as_it_stands(tmp_path, starter):
    """So many questions, no more than fifteen; what is asked for is shown in mm and inches."""
    done = new(tmp_path, ENTERS, "--starter", starter)
    assert done.returncode == 0, done.stderr
    assert done.stdout == ""
    asked = re.findall(r"\[([^\]]+)\]: ", done.stderr)
    assert 5 <= len(asked) <= 15
    assert asked[:2] == ["mm", {"glider": "8", "box": "4"}.get(starter, "6")]
    plain = tmp_path / "plain"
    plain.mkdir()
    assert foamcut("new", "mine.toml", "--starter", starter, cwd=plain).returncode == 0
    assert (tmp_path / "mine.toml").read_bytes() == (plain / "mine.toml").read_bytes()
    assert (tmp_path / "foamcut.schema.json").exists()
    assert "5 mm (0.197 in)" in done.stderr
    assert re.search(r"pieces; |no findings", done.stderr)  # it is looked over at once


def test_each_answer_is_shown_at_full_size_and_written_as_typed(tmp_path):
    """200 on the sketch times 5 is 1,000 mm, 39 3/8 in (arithmetic: 1000 / 25.4 = 39.37, to a 32nd)."""
    answers = "mm\n5\n4.8 mm\n30 x 20 in\n200\n40\n2 * t + 150 mm\n" + ENTERS
    done = new(tmp_path, answers, "--starter", "trainer")
    assert "200 mm on the sketch x 5 = 1000 mm (~39 3/8 in)" in done.stderr
    assert "4.8 mm (0.189 in)" in done.stderr
    assert "762 mm (30 in) x 508 mm (20 in)" in done.stderr
    assert ": 159.6 mm (~6 9/32 in)\n" in done.stderr.replace(":   ", ": ")
    design = tomllib.loads((tmp_path / "mine.toml").read_text(encoding="utf-8"))
    assert design["sketch"]["scale"] == 5
    assert (design["sizes"]["t"], design["sizes"]["span"]) == ("4.8 mm", 200)
    assert design["sizes"]["tip_chord"] == "2 * t + 150 mm"
    # mass and price were those of another board
    assert design["stock"]["board"]["sheets"] == [{"size": "30 x 20 in"}]
    assert design["plan"]["name"] == "mine"


def test_the_ruler_is_not_asked_for_when_it_is_given(tmp_path):
    """Inches begin with round inches."""
    done = new(tmp_path, ENTERS, "--units", "in")
    assert "what the ruler" not in done.stderr
    assert "[3/16 in]: " in done.stderr and "4 1/2 in on the sketch x 8 = 914.4 mm (36 in)" in done.stderr


def test_a_wrong_answer_is_asked_for_again_with_the_reason(tmp_path):
    """Until it is right; nothing of it gets into the design."""
    answers = 'cm\nmm\n0\n6\n5\n5 mm\n700\n700 x 500 mm\n-3\nspan + 1\n3,5\n90 "\n160\n' + ENTERS
    done = new(tmp_path, answers, "--starter", "twin")
    assert done.returncode == 0, done.stderr
    for reason in (
        "cm: write mm or in",
        'no unit. Write "5 mm" for a true size',
        '"700" is not 2 numbers with x between',
        "-18 mm is not above 0",
        '"3,5" has a comma',
        "marks for inches and feet are not read",
        '"span" hangs on this number itself; write a number',
    ):
        assert reason in done.stderr, reason
    design = tomllib.loads((tmp_path / "mine.toml").read_text(encoding="utf-8"))
    assert (design["sketch"]["scale"], design["sizes"]["t"], design["sizes"]["span"]) == (6, "5 mm", 160)


def test_numbers_that_do_not_go_together_are_told_at_once(tmp_path):
    """The design is written, with what has to be mended in it."""
    answers = "mm\n\n\n\n\n\n\n\n\n\n\n25 mm\n" + ENTERS
    done = new(tmp_path, answers, "--starter", "trainer")
    assert done.returncode == 1
    assert re.search(r"mine\.toml:\d+: body\.fuselage\.width: 25 mm outside less", done.stderr)
    assert "mend them in the file" in done.stderr
    assert (tmp_path / "mine.toml").exists()


@pytest.mark.parametrize("answers", ["", "mm\n", "mm\n6\n5 mm\n", "mm\n6\nwrong\n"])
def test_the_end_of_the_input_leaves_nothing_behind(tmp_path, answers):
    """Whichever question it comes at."""
    done = new(tmp_path, answers)
    assert done.returncode == 1
    assert "nothing is written" in done.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(sys.platform == "win32", reason="Ctrl-C is sent another way there")
def test_ctrl_c_leaves_nothing_behind(tmp_path):
    """And ends with the exit code of an interrupt."""
    program = subprocess.Popen(
        [sys.executable, "-m", "foamcut", "new", "mine.toml", "--ask"],
        cwd=tmp_path, stdin=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    assert program.stdin and program.stderr
    program.stdin.write("mm\n6\n")
    program.stdin.flush()
    said = ""
    while "thickness" not in said:
        said += program.stderr.read(1)
    time.sleep(0.2)
    program.send_signal(signal.SIGINT)
    said += program.communicate(timeout=30)[1]
    assert program.returncode == 130
    assert "nothing is written" in said and "Traceback" not in said
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_there_is_told_before_anything_is_asked(tmp_path):
    """Nobody measures for nothing."""
    (tmp_path / "mine.toml").write_text("mine")
    done = new(tmp_path, ENTERS)
    assert done.returncode == 1
    assert "is there already" in done.stderr and "]: " not in done.stderr
    assert (tmp_path / "mine.toml").read_text() == "mine"


def test_letters_that_are_no_text_are_an_answer_like_any_other(tmp_path):
    """Bytes that are no UTF-8 are refused as a number and asked for again."""
    done = subprocess.run(
        [sys.executable, "-m", "foamcut", "new", "mine.toml", "--ask", "--starter", "box"],
        cwd=tmp_path, capture_output=True, input=b"mm\n\xff\xfe\n\x1b[2J\n6\n" + b"\n" * 9, check=False,
    )  # fmt: skip
    assert done.returncode == 0
    assert b"\x1b" not in done.stderr
    assert b"1 mm on the sketch is 6 mm" in done.stderr
