"""Ctrl-C while a search runs."""

import contextlib
import os
import signal
import sys
import threading
from collections.abc import Callable
from types import FrameType
from typing import Any


class Interrupts:
    """Within the block, the first Ctrl-C while a search runs asks it to end; any other ends the command.

    A search runs from its first words of progress to the first words of what comes after it.
    """

    def __init__(self) -> None:
        self.is_stopped = False
        self._is_searching = False
        self._before: Any = None

    def __enter__(self) -> "Interrupts":
        # where somebody has switched Ctrl-C off, as a shell does for work in the background, it stays off
        usual = signal.getsignal(signal.SIGINT) is signal.default_int_handler
        if usual and threading.current_thread() is threading.main_thread():
            self._before = signal.signal(signal.SIGINT, self._struck)
        return self

    def __exit__(self, *_: object) -> None:
        if self._before is not None:
            signal.signal(signal.SIGINT, self._before)

    def listening(self, listener: Callable[[str], None]) -> Callable[[str], None]:
        """The listener, listened to as well."""
        from foamcut.plan.progress import Searching

        def listen(words: str) -> None:
            self._is_searching = isinstance(words, Searching)
            listener(words)

        return listen

    def _struck(self, _number: int, _frame: FrameType | None) -> None:
        if self.is_stopped or not self._is_searching:
            raise KeyboardInterrupt
        self.is_stopped = True
        words = "keeping the best so far, the pack is being made; Ctrl-C again stops without a pack"
        # straight to the terminal: sys.stderr may be in the midst of a line of progress
        with contextlib.suppress(OSError, ValueError):
            os.write(sys.stderr.fileno(), f"\r{words}\n".encode())
