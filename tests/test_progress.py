"""Progress is shown on a terminal once the work takes over a second, and never in a pipe."""

import os
import pty
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent
CODE = """
import sys, time
from foamcut import cli
cli.QUIET_S = 0.0
with cli._progress(quiet=False) as listen:
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
