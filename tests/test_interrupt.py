"""Ctrl-C while boards are laid: the first keeps the best so far, the second stops, the old pack stays whole.

Exit code 130 is 128 + SIGINT (common practice of shells, no source); POSIX numbers SIGINT 2 (memory).
"""

import hashlib
import json
import os
import pty
import select
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
#: shows progress at once, so that no time has to be waited for; Ctrl-C is heard also where the tests run in the
#: background, with it switched off
CODE = (
    "import signal; signal.signal(signal.SIGINT, signal.default_int_handler)\n"
    "from foamcut import cli; from foamcut.cli import saying; saying.QUIET_S = 0.0; cli.main()"
)
LONG_S = 120.0
HERE = {**os.environ, "PYTHONPATH": str(ROOT)}
#: seven pieces, on one board as few as can be, and an hour to look for a larger piece left
DESIGN = (
    'format = 1\n[plan]\nname = "marsh-tray"\n[sketch]\nunits = "mm"\nscale = 1\n'
    '[stock.board]\nmaterial = "foam board"\nthickness = "5 mm"\nsheets = [ { size = "700 x 500 mm" } ]\n'
    '[parts.side]\nstock = "board"\ncount = 4\nrectangle = ["210 mm", "130 mm"]\n'
    '[parts.rib]\nstock = "board"\ncount = 3\nrectangle = ["90 mm", "70 mm"]\n'
)


class Cutting:
    """A `cut --squeeze 3600` under way on a terminal of its own."""

    def __init__(self, folder: Path, *words: str) -> None:
        self._ours, theirs = pty.openpty()
        arguments = ["cut", "tray.toml", "--out", "pack", "--squeeze", "3600", *words]
        self.child = subprocess.Popen(
            [sys.executable, "-c", CODE, *arguments],
            cwd=folder, env=HERE, stdout=theirs, stderr=theirs,
        )  # fmt: skip
        os.close(theirs)
        self.seen = ""

    def wait_for(self, words: str) -> None:
        end = time.monotonic() + LONG_S
        while words not in self.seen:
            assert self._read(end), f"{words!r} is not said: {self.seen[-500:]}"

    def interrupt(self) -> None:
        self.child.send_signal(signal.SIGINT)

    def ended(self) -> int:
        end = time.monotonic() + LONG_S
        while self._read(end):
            pass
        return self.child.wait(timeout=LONG_S)

    def close(self) -> None:
        if self.child.poll() is None:
            self.child.kill()
            self.child.wait()
        os.close(self._ours)

    def _read(self, end: float) -> bool:
        ready, _, _ = select.select([self._ours], [], [], max(0.0, end - time.monotonic()))
        try:
            chunk = os.read(self._ours, 4096) if ready else b""
        except OSError:  # the child has closed its terminal
            chunk = b""
        self.seen += chunk.decode(errors="replace")
        return bool(chunk)


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "tray.toml").write_text(DESIGN)
    return tmp_path


@pytest.fixture
def cutting(folder):
    under_way = Cutting(folder)
    yield under_way
    under_way.close()


def is_whole(pack: Path) -> bool:
    """Whether a pack holds what its manifest lists, and nothing else; by SHA-256 (reference library)."""
    rows = json.loads((pack / "manifest.json").read_bytes())["files"]
    told = {row["name"]: row["sha256"] for row in rows}
    there = {
        str(path.relative_to(pack)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in pack.rglob("*")
        if path.is_file() and path.name != "manifest.json"
    }
    return told == there


def test_the_first_keeps_the_best_so_far(folder, cutting):
    cutting.wait_for("squeezing")
    cutting.interrupt()
    assert cutting.ended() == 0, cutting.seen
    assert "keeping the best so far" in cutting.seen
    assert "cut short by Ctrl-C" in cutting.seen
    assert is_whole(folder / "pack")
    layout = json.loads((folder / "pack" / "layout.json").read_bytes())
    assert sum(len(sheet["placed"]) for sheet in layout["sheets"]) == 7


def test_the_second_stops_and_leaves_the_old_pack(folder, cutting):
    old = ["cut", "tray.toml", "--out", "pack", "--seed", "2"]
    subprocess.run(
        [sys.executable, "-m", "foamcut", *old], cwd=folder, env=HERE, capture_output=True, check=True
    )
    before = {path: path.read_bytes() for path in (folder / "pack").rglob("*") if path.is_file()}
    cutting.wait_for("squeezing")
    cutting.interrupt()
    cutting.wait_for("keeping the best so far")
    cutting.interrupt()
    assert cutting.ended() == 130, cutting.seen
    assert "interrupted" in cutting.seen
    assert {path: path.read_bytes() for path in (folder / "pack").rglob("*") if path.is_file()} == before
    assert is_whole(folder / "pack")


LISTENING = """
import os, signal
from foamcut.cli.interrupts import Interrupts
from foamcut.plan.progress import Searching
with Interrupts() as interrupts:
    listen = interrupts.listening(lambda words: None)
    {do}
"""


@pytest.mark.parametrize(
    ("do", "code"),
    [
        ("signal.raise_signal(signal.SIGINT)", 1),
        ("listen(Searching('a')); listen('writing'); signal.raise_signal(signal.SIGINT)", 1),
        ("listen(Searching('a')); [signal.raise_signal(signal.SIGINT) for _ in 'ab']", 1),
        ("listen(Searching('a')); signal.raise_signal(signal.SIGINT); assert interrupts.is_stopped", 0),
    ],
)
def test_only_the_first_while_a_search_runs_is_taken_for_a_wish(do, code):
    done = subprocess.run(
        [sys.executable, "-c", LISTENING.format(do=do)], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert ("KeyboardInterrupt" in done.stderr) == bool(code)
    assert (done.returncode != 0) == bool(code), done.stderr


def test_where_ctrl_c_is_switched_off_it_stays_off():
    """As a shell without job control does for work in the background (memory: POSIX, shell command language)."""
    code = "import signal\nsignal.signal(signal.SIGINT, signal.SIG_IGN)\n" + LISTENING.format(
        do="assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN"
    )
    subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=True)
