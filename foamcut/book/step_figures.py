"""A drawing for each step: what is there already, and what it adds."""

from collections.abc import Sequence

from foamcut.book.facts import Facts
from foamcut.book.step import Step
from foamcut.draw.picture import Picture


def step_pictures(steps: Sequence[Step], facts: Facts) -> dict[str, Picture]:
    """A picture of the model as each step leaves it, by the step's id; none where it adds nothing."""
    return {}
