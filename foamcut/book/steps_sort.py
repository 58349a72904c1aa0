"""Steps put in an order in which each comes after all that it waits for."""

import heapq
from collections.abc import Iterable, Iterator, Sequence

from foamcut.book.step import Step, Tie

Ties = tuple[tuple[Tie, str], ...]


class Making:
    """The steps that are made so far; makers ask it which steps there are to wait for."""

    def __init__(self) -> None:
        self.steps: list[Step] = []

    def add(self, steps: Iterable[Step]) -> None:
        """Take on steps, one after another, so that a later one may ask for an earlier one."""
        for step in steps:
            self.steps.append(step)

    def has(self, step_id: str) -> bool:
        """Whether a step of an id is made already."""
        return any(step.id == step_id for step in self.steps)

    def ties(self, *wanted: tuple[Tie, str]) -> Ties:
        """Of wanted ties those whose step this design has."""
        return tuple(dict.fromkeys(tie for tie in wanted if self.has(tie[1])))

    def starting(self, tie: Tie, *starts: str) -> Ties:
        """Ties to every step whose id is one of these or begins with one of these and a hyphen."""
        return tuple(
            (tie, step.id)
            for step in self.steps
            if any(step.id == start or step.id.startswith(f"{start}-") for start in starts)
        )


def in_order(steps: Sequence[Step]) -> tuple[Step, ...]:
    """The steps sorted by their ties; of several that could come next the first as given.

    Kahn's method (A. B. Kahn, "Topological sorting of large networks", 1962; from memory).

    Raises
    ------
    ValueError
        An id twice, a tie to a step that is not there, or steps that wait for one another.
    """
    index = {step.id: i for i, step in enumerate(steps)}
    if len(index) != len(steps):
        raise ValueError(f"ids given twice: {sorted(_twice(steps))}")
    waits = []
    for step in steps:
        if lost := [other for _, other in step.after if other not in index]:
            raise ValueError(f"step {step.id!r} waits for steps that are not there: {lost}")
        waits.append({index[other] for _, other in step.after})
    before: list[list[int]] = [[] for _ in steps]
    for i, others in enumerate(waits):
        for other in sorted(others):
            before[other].append(i)
    left = [len(others) for others in waits]
    ready = [i for i, count in enumerate(left) if not count]
    heapq.heapify(ready)
    order: list[int] = []
    while ready:
        i = heapq.heappop(ready)
        order.append(i)
        for follower in before[i]:
            left[follower] -= 1
            if not left[follower]:
                heapq.heappush(ready, follower)
    if len(order) < len(steps):
        stuck = [steps[i].id for i, count in enumerate(left) if count]
        raise ValueError(f"steps that wait for one another: {stuck}")
    return tuple(steps[i] for i in order)


def _twice(steps: Sequence[Step]) -> Iterator[str]:
    seen: set[str] = set()
    for step in steps:
        if step.id in seen:
            yield step.id
        seen.add(step.id)
