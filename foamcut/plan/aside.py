"""Work that goes on in a process of its own, beside this one, where the system can give it one.

What comes out is the same either way: the work is a function of values, made before this process went on.
"""

import multiprocessing
import signal
import threading
from collections.abc import Callable
from multiprocessing.connection import Connection
from types import TracebackType
from typing import Generic, TypeVar

_Result = TypeVar("_Result")


class Aside(Generic[_Result]):
    """A function that is begun beside this process, or is called when its result is asked for.

    Leaving the block ends a process that still goes on.  With `alone` none is started.
    """

    def __init__(self, work: Callable[[], _Result], *, alone: bool = False) -> None:
        self._work = work
        self._process: multiprocessing.process.BaseProcess | None = None
        self._from: Connection | None = None
        if alone or not _can_fork():
            return
        context = multiprocessing.get_context("fork")
        receiver, sender = context.Pipe(duplex=False)
        try:
            process = context.Process(target=_child, args=(work, sender), daemon=True)
            process.start()
        except OSError:  # no room for another process
            receiver.close()
        else:
            self._process, self._from = process, receiver
        finally:
            sender.close()

    def __enter__(self) -> "Aside[_Result]":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._from is not None:
            self._from.close()
        if self._process is not None:
            self._process.terminate()
            self._process.join()
            self._process = None

    def result(self) -> _Result:
        """What the function gives; what it raises is raised here."""
        if self._from is not None:
            try:
                is_done, found = self._from.recv()
            except (EOFError, OSError):
                pass  # the process is gone, for want of memory perhaps: done here then
            else:
                if is_done:
                    return found
        return self._work()


def _can_fork() -> bool:
    """Whether a copy of this process can be had: not where the system has none, nor beside threads."""
    return "fork" in multiprocessing.get_all_start_methods() and threading.active_count() == 1


def _child(work: Callable[[], object], sender: Connection) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # whoever started it hears Ctrl-C, and ends it
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    try:
        answer = True, work()
    except Exception:
        answer = False, None  # it fails again where it can be told
    sender.send(answer)
    sender.close()
