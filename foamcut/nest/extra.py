"""The optional solver of strip packing (`spyrrow`), run in a child process and waited for by nobody.

The child gets one job as a line of JSON, answers with another and ends.  It is killed when its time is long
over or nobody wants its answer; it ends by itself when we do, as its standard input then closes.  It is in
a process group of its own, so that Ctrl-C at the terminal does not reach it.  Whatever it does or says,
nothing worse comes of it than no answer.  What it answers is not trusted: the caller has it verified.
"""

import contextlib
import importlib.util
import json
import math
import subprocess
import sys
import threading
from collections.abc import Sequence
from dataclasses import dataclass
from typing import IO, Any

from shapely import Polygon

from foamcut.flat.placement import Placement

#: the package that the child needs
PACKAGE = "spyrrow"
#: what pieces are made larger by, mm: the solver counts in single precision, 24 bits, so that a place within
#: 4 m is off by up to 0.00025 mm
GROWN_MM = 0.002
#: what the strip is higher by on either side, mm, so that a piece of its very height is not held for too high
_SLACK_MM = 0.0003
#: seconds after which the child is killed, beyond those it was given
_GRACE_S = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StripItem:
    """A shape to be laid `count` times, turned by one of `turns_deg` (None: any angle); holes are filled."""

    polygon: Polygon
    count: int
    turns_deg: tuple[float, ...] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A laid strip: its length, mm, and for each item, in their order, the placement of each copy.

    All shapes lie in x from 0 to the length and in y from 0 to the height, within 0.0005 mm.
    """

    length_mm: float
    placements: tuple[tuple[Placement, ...], ...]


def is_there() -> bool:
    """Whether the optional solver is installed."""
    try:
        return importlib.util.find_spec(PACKAGE) is not None
    except (ImportError, ValueError):
        return False


class Job:
    """One strip being laid by the child; `poll` it, or `stop` it."""

    def __init__(self, child: "subprocess.Popen[bytes] | None", items: Sequence[StripItem]) -> None:
        self._child, self._items = child, items
        self._answer: bytes = b""
        self._timer: threading.Timer | None = None
        self._reader: threading.Thread | None = None

    @classmethod
    def start(cls, items: Sequence[StripItem], *, height_mm: float, seconds: int, seed: int) -> "Job":
        """Begin to lay items on a strip of this height, whole seconds long; where it cannot, it is over."""
        grown = [_grown(item.polygon) for item in items]
        if not items or None in grown or not is_there() or any(item.turns_deg == () for item in items):
            return cls(None, items)
        job = {
            "height": height_mm + 2 * (GROWN_MM + _SLACK_MM),
            "seconds": max(1, int(seconds)),
            "seed": seed,
            "items": [
                {"shape": shape, "count": item.count, "turns": item.turns_deg and list(item.turns_deg)}
                for shape, item in zip(grown, items, strict=True)
            ],
        }
        try:
            child = subprocess.Popen(
                [sys.executable, "-m", "foamcut.nest.extra_child"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                **_apart(),
            )
        except OSError:
            return cls(None, items)
        started = cls(child, items)
        started._begin(json.dumps(job).encode() + b"\n", max(1, int(seconds)) + _GRACE_S)
        return started

    @property
    def is_over(self) -> bool:
        """Whether there is no more to wait for."""
        return self._reader is None or not self._reader.is_alive()

    def poll(self) -> Strip | None:
        """The strip, once it is laid; None before, and for ever where nothing came of it."""
        if not self.is_over:
            return None
        answer, self._answer = self._answer, b""
        self.stop()
        return _strip(answer, self._items) if answer else None

    def stop(self) -> None:
        """Kill the child, if it runs, and forget what it said."""
        if self._timer:
            self._timer.cancel()
        if self._child:
            with contextlib.suppress(OSError):
                self._child.kill()
        if self._reader:
            self._reader.join()
        self._child, self._reader, self._timer, self._answer = None, None, None, b""

    def _begin(self, job: bytes, seconds: float) -> None:
        child = self._child
        if child is None or child.stdin is None or child.stdout is None:
            return
        self._timer = threading.Timer(seconds, child.kill)
        self._timer.daemon = True
        self._timer.start()
        self._reader = threading.Thread(target=self._talk, args=(child, job), daemon=True)
        self._reader.start()

    def _talk(self, child: "subprocess.Popen[bytes]", job: bytes) -> None:
        """Send the job and wait for the answer; the child's input stays open for as long as we want it."""
        source, sink = child.stdout, child.stdin
        answer = b""
        with contextlib.suppress(OSError, ValueError):
            _send(sink, job)
            answer = source.readline() if source else b""
        with contextlib.suppress(OSError):
            child.kill()
        code = child.wait()
        for end in (source, sink):
            with contextlib.suppress(OSError):
                if end:
                    end.close()
        # an answer that was cut short has no end of line
        self._answer = answer if answer.endswith(b"\n") and code is not None else b""


def _send(sink: IO[bytes] | None, job: bytes) -> None:
    if sink:
        sink.write(job)
        sink.flush()


def _apart() -> dict[str, Any]:
    """How a process is started that the terminal's Ctrl-C does not reach."""
    if sys.platform == "win32":
        return {"creationflags": subprocess.CREATE_NEW_PROCESS_GROUP}
    return {"start_new_session": True}


def _grown(polygon: Polygon) -> list[tuple[float, float]] | None:
    """The outer ring, a hair larger, open; None where there is no single one."""
    filled = Polygon(polygon.exterior).buffer(GROWN_MM, join_style="mitre", mitre_limit=5.0)
    if not isinstance(filled, Polygon) or filled.is_empty or not filled.is_valid:
        return None
    return [(float(x), float(y)) for x, y in filled.exterior.coords[:-1]]


def _strip(answer: bytes, items: Sequence[StripItem]) -> Strip | None:
    """What the child answered, if it is an answer to what was asked."""
    try:
        told = json.loads(answer)
        placed: list[list[Placement]] = [[] for _ in items]
        for index, turn, x, y in told["placed"]:
            placed[index].append(_placement(turn, x, y, items[index]))
        length = float(told["length"]) - 2 * GROWN_MM
    except (ValueError, TypeError, KeyError, IndexError, RecursionError):
        return None
    counts_are_right = [len(own) for own in placed] == [item.count for item in items]
    if not (math.isfinite(length) and counts_are_right):
        return None
    return Strip(length_mm=length, placements=tuple(tuple(own) for own in placed))


def _placement(turn: float, x: float, y: float, item: StripItem) -> Placement:
    """The placement, its turn the very one that was allowed and not its single-precision neighbour.

    Raises
    ------
    ValueError
        A number is none, or the turn is none of those allowed.
    """
    if not all(math.isfinite(value) for value in (turn, x, y)):
        raise ValueError("not a number")
    if item.turns_deg is not None:
        near = min(item.turns_deg, key=lambda own: _between(own, turn))
        if _between(near, turn) > 0.001:
            raise ValueError("a turn that is not allowed")
        turn = near
    # the strip was grown as the pieces were, by a rim all round
    return Placement(x_mm=x - GROWN_MM, y_mm=y - GROWN_MM - _SLACK_MM, turn_deg=float(turn % 360) % 360)


def _between(a: float, b: float) -> float:
    """Degrees between two directions."""
    return abs((a - b + 180) % 360 - 180)
