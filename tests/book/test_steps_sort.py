"""Sorting steps: after all that they wait for, ties by their place; a ring or a lost step is told."""

import pytest

from foamcut.book.step import Step, Tie
from foamcut.book.steps_sort import Making, in_order


def step(name: str, *after: str, tie: Tie = Tie.GLUED) -> Step:
    return Step(id=name, heading=name, does=(name,), after=tuple((tie, one) for one in after))


def test_steps_without_ties_stay_as_they_are() -> None:
    assert [one.id for one in in_order([step("b"), step("a"), step("c")])] == ["b", "a", "c"]


def test_a_step_comes_after_what_it_waits_for() -> None:
    steps = [step("a", "c"), step("b"), step("c", "d"), step("d")]
    assert [one.id for one in in_order(steps)] == ["b", "d", "c", "a"]


def test_a_ring_is_told() -> None:
    with pytest.raises(ValueError, match=r"wait for one another: \['a', 'b'\]"):
        in_order([step("a", "b"), step("b", "a"), step("c")])


def test_a_step_that_is_not_there_is_told() -> None:
    with pytest.raises(ValueError, match="'a' waits for steps that are not there"):
        in_order([step("a", "x")])


def test_an_id_given_twice_is_told() -> None:
    with pytest.raises(ValueError, match="twice"):
        in_order([step("a"), step("a")])


def test_two_ties_to_one_step_count_once() -> None:
    both = Step(id="b", heading="b", does=("b",), after=((Tie.GLUED, "a"), (Tie.CHECKED, "a")))
    assert [one.id for one in in_order([both, step("a")])] == ["a", "b"]


def test_makers_wait_only_for_steps_that_there_are() -> None:
    making = Making()
    making.add([step("box-hull"), step("boxes")])
    assert making.ties((Tie.GLUED, "box-hull"), (Tie.CHECKED, "x")) == ((Tie.GLUED, "box-hull"),)
    assert making.starting(Tie.GLUED, "box") == ((Tie.GLUED, "box-hull"),)
