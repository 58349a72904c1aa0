"""Progress is shown on a terminal once the work takes over a second, and never in a pipe."""

import os
import pty
import subprocess
import sys
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from foamcut.nest.values import Progress
from foamcut.plan.progress import searching

ROOT = Path(__file__).parent.parent
CODE = """
import sys, time
from foamcut.cli import saying
saying.QUIET_S = 0.0
with saying.progress(quiet=False) as listen:
    for i in range(3):
        time.sleep(0.12)
        listen(f"board: trying, {i} of 3")
"""


def on_a_terminal(code: str) -> str:
    """What a child writes to a terminal of its own."""
    ours, theirs = pty.openpty()
    child = subprocess.Popen([sys.executable, "-c", code], cwd=ROOT, stderr=theirs, stdout=theirs)
    os.close(theirs)
    seen = b""
    try:
        while chunk := os.read(ours, 4096):
            seen += chunk
    except OSError:  # the child has closed the terminal
        pass
    os.close(ours)
    assert child.wait() == 0
    return seen.decode()


def test_a_terminal_sees_one_line_that_changes_and_goes():
    seen = on_a_terminal(CODE)
    assert "board: trying, 2 of 3" in seen
    assert "\n" not in seen
    assert seen.rsplit("\r", 2)[-2].strip() == ""


def test_a_pipe_sees_nothing():
    done = subprocess.run([sys.executable, "-c", CODE], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stderr == ""
    assert done.stdout == ""


def test_quick_work_is_quiet_on_a_terminal_too():
    assert on_a_terminal(CODE.replace("QUIET_S = 0.0", "QUIET_S = 60.0")) == ""


def told(**more) -> str:
    usual = {"stock": "board", "step": 12, "steps": 400, "boards": 3, "at_least": 2, "doing": "laying pieces"}
    return searching(Progress(**{**usual, **more}))


def test_boards_bound_what_is_tried_and_how_far():
    assert told() == "board: 3 boards so far, at least 2; laying pieces, 12 of 400"
    assert told(boards=2) == "board: 2 boards, no fewer possible; laying pieces, 12 of 400"
    assert told(boards=None) == "board: no layout yet, at least 2; laying pieces, 12 of 400"


def test_seconds_left_while_it_goes_on_by_the_clock():
    """60 less 12 is 48 (arithmetic)."""
    assert told(steps=60, doing="squeezing, fewer boards").endswith("; squeezing, fewer boards, 48 s left")


@given(
    stock=st.text(max_size=90), doing=st.text(max_size=90), boards=st.none() | st.integers(1, 10**6),
    at_least=st.integers(0, 10**6), step=st.integers(0, 10**6), steps=st.integers(0, 10**6),
)  # fmt: skip
def test_a_line_is_no_longer_than_a_narrow_terminal_less_two(**facts):
    """80 columns, as terminals open (common practice, no source)."""
    assert len(told(**facts)) <= 78


def test_long_names_leave_the_numbers_readable():
    line = told(stock="s" * 60, doing="d" * 60)
    assert "3 boards so far, at least 2" in line
    assert line.endswith("12 of 400")
    assert line.startswith("s")
