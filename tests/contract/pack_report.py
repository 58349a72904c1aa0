"""Counting checks and collecting faults: every fault of a pack is found, not only the first."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing wrong in one file of a pack."""

    file: str
    text: str

    def __str__(self) -> str:
        return f"{self.file}: {self.text}"


class Report:
    """The checks made so far and the faults found."""

    def __init__(self) -> None:
        self.checks = 0
        self.faults: list[Fault] = []

    def expect(self, holds: bool, file: str, text: str) -> bool:
        """Count one check; note the fault `text` when it does not hold; give back whether it held."""
        self.checks += 1
        if not holds:
            fault = Fault(file=file, text=text)
            if fault not in self.faults:
                self.faults.append(fault)
        return bool(holds)

    @contextmanager
    def section(self, file: str, what: str) -> Iterator[None]:
        """Turn anything that a damaged file makes the check stumble over into a fault."""
        try:
            yield
        except RecursionError:
            self.expect(False, file, f"{what} cannot be read: nested too deep")
        except Exception as err:
            self.expect(False, file, f"{what} cannot be read: {type(err).__name__}: {str(err)[:200]}")
