"""Which parts may be turned over on their sheet."""

from dataclasses import replace

from foamcut.flat.drawn import Face
from foamcut.flat.outline import Outline
from foamcut.nest.turning import flips
from tests.draw.drawn_parts import part
from tests.nest.test_register import worked


def test_only_a_part_of_which_either_face_serves_is_turned_over():
    plate = part(Outline.rectangle(0, 0, 50, 50))
    assert flips(plate) == (False,)
    assert flips(replace(plate, face=Face.EITHER)) == (False, True)


def test_a_part_that_is_cut_on_one_face_is_not_turned_over():
    """A fold or a bevel cut on the other face would fold and slope the other way."""
    assert flips(replace(worked(Outline.rectangle(0, 0, 50, 50)), face=Face.EITHER)) == (False,)
