"""What a command says on a terminal: lines, one changing line of progress, refusals."""

import contextlib
import re
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from foamcut.errors import FoamcutError

DONE, REFUSED, INTERRUPTED = 0, 1, 130
#: longest wait, seconds, before progress is shown
QUIET_S = 1.0

_NUMBER_OF_MM = re.compile(r"\d mm\b")


@contextlib.contextmanager
def refusals_shown(show: "Callable[[FoamcutError], None]") -> Iterator[None]:
    """What goes wrong inside the block is shown; the block ends there."""
    from foamcut.errors import FoamcutError

    try:
        yield
    except FoamcutError as err:
        show(err)


def say(words: str) -> None:
    """One line to standard error; control characters that a design may hold do not reach the terminal."""
    click.echo("".join(c if c.isprintable() or c == "\n" else "?" for c in words), err=True)


def say_places(words: str, said: Iterable[str]) -> None:
    """What places are measured in, once, where any of the words said holds a number of mm."""
    if words and any(_NUMBER_OF_MM.search(one) for one in said):
        say(words)


@contextlib.contextmanager
def progress(*, quiet: bool) -> "Iterator[Callable[[str], None]]":
    """A listener that shows one changing line on a terminal once the work takes over a second."""
    if quiet or not sys.stderr.isatty():
        yield lambda _: None
        return
    began = shown = time.monotonic()
    width = 0

    def listen(words: str) -> None:
        nonlocal shown, width
        now = time.monotonic()
        if now - began < QUIET_S or now - shown < 0.1:
            return
        line = words[:78]
        sys.stderr.write("\r" + line.ljust(width))
        sys.stderr.flush()
        shown, width = now, len(line)

    try:
        yield listen
    finally:
        if width:
            sys.stderr.write("\r" + " " * width + "\r")
            sys.stderr.flush()
