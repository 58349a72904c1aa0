"""What is said of a folded wing whose halves no joiner holds; against common practice."""

import re
from dataclasses import replace

import pytest

from foamcut.airframe.values import Role, Run
from tests.airframe.folded_wings import PLY, STRAIGHT, TWIN, USABLE, aileron, joiner, made_of, wing
from tests.airframe.section_surfaces import spar

SWEPT = ((0.0, 0.0, 240.0), (496.0, 208.0, 160.0))
SLIGHT = ((0.0, 0.0, 240.0), (496.0, 30.0, 200.0))


def apart(made):
    return [found for found in made.findings if found.code == "halves-apart"]


def test_halves_without_a_joiner_are_told_and_the_joiner_that_is_given_fits():
    """Common practice, no source: a joiner goes 60 to 150 mm into each half."""
    one = wing(TWIN, 2.0, controls=(aileron(horn=PLY),))
    (finding,) = apart(made_of(one))
    stock, length = re.search(r'joiner = \{ stock = "(\w+)", length = "(\d+) mm" \}', finding.mend).groups()
    assert stock == PLY.name
    assert 120.0 <= float(length) <= 300.0
    assert "one piece" not in finding.mend  # not across an angle
    with_it = made_of(replace(one, joiner=joiner(length_mm=float(length))))
    assert not with_it.refusals
    assert not [found for found in with_it.findings if found.code in ("halves-apart", "joiner-off")]


def test_a_straight_spar_may_be_carried_across():
    (finding,) = apart(made_of(wing(STRAIGHT)))
    assert "carry the spar across in one piece" in finding.mend
    assert 'with a stock "ply", 2 mm thick' in finding.mend  # the design has none


@pytest.mark.parametrize(("rows", "behind", "square"), [(SWEPT, 48.0, False), (SLIGHT, 70.0, True)])
def test_across_swept_spars_a_plate_is_glued_or_they_run_square_where_they_can(rows, behind, square):
    """Arithmetic: 48 mm aft of the root's nose lies ahead of a tip 208 mm back, 70 mm behind one 30 mm back."""
    own = spar(material=USABLE, run=Run.FOLLOW, behind_mm=behind, width_mm=20.0)
    (finding,) = apart(made_of(wing(rows, spar=own)))
    assert "no straight joiner" in finding.text
    assert "glue a plate" in finding.mend
    assert ('run = "square"' in finding.mend) is square
    turned = made_of(wing(rows, spar=replace(own, run=Run.SQUARE), joiner=joiner()))
    assert bool(turned.refusals) is not square


def test_a_fin_and_a_joined_wing_are_not_told():
    fin = wing(((0.0, 0.0, 150.0), (200.0, 0.0, 150.0)), role=Role.FIN, name="fin")
    assert not apart(made_of(fin))
    assert not apart(made_of(wing(STRAIGHT, joiner=joiner())))
