"""The program run within the test's own process, as from a command line, and folders seen as values."""

import contextlib
import io
import json
import signal
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest import mock

from foamcut.cli import run as run_command

#: seconds after which a run counts as hung
PATIENCE_S = 120


class Hung(BaseException):
    """The program took far too long; no `except Exception` may swallow it."""


@contextlib.contextmanager
def patience(seconds: int) -> Iterator[None]:
    """Raise `Hung` when the block takes longer; without effect where the system has no alarm."""
    if not hasattr(signal, "SIGALRM"):
        yield
        return

    def late(*_: object) -> None:
        raise Hung(f"no answer after {seconds} s")

    before = signal.signal(signal.SIGALRM, late)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """What a run said: exit code, and the words of both streams."""

    code: int
    out: str
    err: str

    @property
    def document(self) -> dict[str, Any]:
        """The one JSON document on standard output.

        Raises
        ------
        ValueError
            There is none, there is more, or it holds NaN, which JSON does not have.
        """
        return json.loads(self.out, parse_constant=_no_constant)


def _no_constant(name: str) -> None:
    raise ValueError(f"{name} is no JSON")


def run(*arguments: str | Path) -> Run:
    """Run the program with the arguments; anything but an exit comes through as it is.

    Raises
    ------
    Hung
        There is no answer after `PATIENCE_S`.
    """
    out, err = io.StringIO(), io.StringIO()
    with (
        mock.patch.object(sys, "argv", ["foamcut", *map(str, arguments)]),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
        patience(PATIENCE_S),
    ):
        code = run_command()
    if not isinstance(code, int):
        raise TypeError(f"exit code {code!r}")
    return Run(code=code, out=out.getvalue(), err=err.getvalue())


def tree(folder: Path) -> dict[str, bytes | None]:
    """Everything below a folder, hidden files too: bytes of files, None for folders."""
    return {
        path.relative_to(folder).as_posix(): None if path.is_dir() else path.read_bytes()
        for path in sorted(folder.rglob("*"))
    }
