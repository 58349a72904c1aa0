"""Motor mounts: where motors sit, their firewalls, cheeks and nacelles, and what their propellers sweep."""

from foamcut.airframe.made import Made
from foamcut.airframe.meets import Disc, SkinOpening, SkinSlot
from foamcut.airframe.values import Inputs, Motor, Surface


def with_places(inputs: Inputs) -> tuple[Inputs, Made]:
    """The inputs with every motor's `out_mm` (wing) or `at_mm` (nose) worked out, and what is said of it."""
    return inputs, Made()


def motor_parts(motor: Motor, inputs: Inputs) -> Made:
    """Every part of a motor mount."""
    return Made()


def skin_slots(surface: Surface, inputs: Inputs) -> tuple[SkinSlot, ...]:
    """The slots that firewalls need in a folded surface, of its right half."""
    return ()


def skin_openings(surface: Surface, inputs: Inputs) -> tuple[SkinOpening, ...]:
    """The openings for wires that motors need in a folded surface, of its right half."""
    return ()


def discs(inputs: Inputs) -> tuple[Disc, ...]:
    """What the propellers sweep, both of a pair."""
    return ()
