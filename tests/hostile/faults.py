"""A disk that fails: every call of `foamcut.files` that changes the disk is counted, and one of them goes wrong."""

import errno
import os
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Any
from unittest import mock

Strike = Callable[[], None]


def disk_full() -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def io_error() -> None:
    raise OSError(errno.EIO, os.strerror(errno.EIO))


def interrupt() -> None:
    """Ctrl-C, as the system delivers it."""
    signal.raise_signal(signal.SIGINT)


def terminate() -> None:
    signal.raise_signal(signal.SIGTERM)


def kill() -> None:
    """What nobody can hold back: the process is gone within the call."""
    os.kill(os.getpid(), signal.SIGKILL)


class Disk:
    """Counts calls that change the disk; from call `at` on (or at that call only) something strikes first.

    A write that is struck has half of its bytes on the disk.
    """

    def __init__(self, at: int | None, strike: Strike, *, lasting: bool = False) -> None:
        self.at, self.strike, self.lasting = at, strike, lasting
        self.calls: list[str] = []

    def count(self, name: str) -> None:
        number = len(self.calls)
        self.calls.append(name)
        if self.at is not None and (number == self.at or (self.lasting and number > self.at)):
            self.strike()

    def wrapped(self, name: str, call: Callable[..., Any]) -> Callable[..., Any]:
        def counted(*arguments: Any, **named: Any) -> Any:
            self.count(name)
            return call(*arguments, **named)

        return counted

    def opened(self, path: Path, mode: str = "r", *arguments: Any, **named: Any) -> Any:
        if "w" not in mode and "x" not in mode and "a" not in mode:
            return _OPEN(path, mode, *arguments, **named)
        self.count(f"open {path.name}")
        return _Writer(self, path.name, _OPEN(path, mode, *arguments, **named))


_OPEN = Path.open


class _Writer:
    """An open file whose writes and flushes are counted."""

    def __init__(self, disk: Disk, name: str, file: IO[bytes]) -> None:
        self._disk, self._name, self._file = disk, name, file

    def __enter__(self) -> "_Writer":
        return self

    def __exit__(self, *_: object) -> None:
        self._file.close()

    def write(self, data: bytes) -> int:
        half = len(data) // 2
        self._file.write(data[:half])
        self._file.flush()
        self._disk.count(f"write {self._name}")
        self._file.write(data[half:])
        return len(data)

    def flush(self) -> None:
        self._disk.count(f"flush {self._name}")
        self._file.flush()

    def fileno(self) -> int:
        return self._file.fileno()


@contextmanager
def failing_disk(disk: Disk) -> Iterator[Disk]:
    """Inside the block the disk counts, and strikes."""
    with (
        mock.patch.object(os, "replace", disk.wrapped("replace", os.replace)),
        mock.patch.object(os, "fsync", disk.wrapped("fsync", os.fsync)),
        mock.patch.object(Path, "mkdir", disk.wrapped("mkdir", Path.mkdir)),
        mock.patch.object(Path, "unlink", disk.wrapped("unlink", Path.unlink)),
        mock.patch.object(Path, "rmdir", disk.wrapped("rmdir", Path.rmdir)),
        mock.patch.object(Path, "open", lambda path, *a, **n: disk.opened(path, *a, **n)),
    ):
        yield disk
