"""The steps of the build in an order in which each can be done."""

from foamcut.book.facts import Facts
from foamcut.book.step import Step


def build_steps(facts: Facts) -> tuple[Step, ...]:
    """Every step that this design asks for, each after all that it waits for."""
    return ()
