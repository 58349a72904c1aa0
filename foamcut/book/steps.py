"""The steps of the build in an order in which each can be done."""

from foamcut.book.facts import Facts
from foamcut.book.step import Step
from foamcut.book.steps_begin import begin_steps
from foamcut.book.steps_body import box_steps, panel_steps
from foamcut.book.steps_close import close_steps
from foamcut.book.steps_field import field_steps
from foamcut.book.steps_finish import finish_steps
from foamcut.book.steps_ground import Ground
from foamcut.book.steps_hand import hand_steps
from foamcut.book.steps_motors import motor_steps
from foamcut.book.steps_servos import servo_steps
from foamcut.book.steps_sheets import hinge_steps, sheet_steps
from foamcut.book.steps_shut import saddle_steps, shut_steps
from foamcut.book.steps_skins import skin_steps
from foamcut.book.steps_sort import Making, in_order
from foamcut.book.steps_spar import spar_steps
from foamcut.book.steps_tail import tail_steps


def build_steps(facts: Facts) -> tuple[Step, ...]:
    """Every step that this design asks for, each after all that it waits for.

    Raises
    ------
    ValueError
        Steps wait for one another, or for one that is not there: a maker of steps is wrong.
    """
    return in_order(made_steps(facts))


def made_steps(facts: Facts) -> tuple[Step, ...]:
    """The same as they are made, not sorted yet."""
    ground, making = Ground(facts=facts), Making()
    bodies = facts.inputs.bodies
    making.add(begin_steps(ground, making))
    for surface in ground.folded:
        making.add(skin_steps(ground, making, surface))
    making.add(sheet_steps(ground, making))
    for body in bodies:
        making.add(panel_steps(ground, making, body))
    for surface in ground.folded:
        making.add(spar_steps(ground, making, surface))
        making.add(close_steps(ground, making, surface))
    for body in bodies:
        making.add(box_steps(ground, making, body))
    making.add(saddle_steps(ground, making))
    for body in bodies:
        making.add(shut_steps(ground, making, body))
    for more in (tail_steps, hinge_steps, motor_steps, servo_steps, hand_steps, finish_steps, field_steps):
        making.add(more(ground, making))
    return tuple(making.steps)
