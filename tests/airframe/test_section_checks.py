"""What is refused of sections, and what is said of them."""

import math
from dataclasses import replace

import pytest
from hypothesis import given

from foamcut.airframe.bent import bent_skin
from foamcut.airframe.planform import panels
from foamcut.airframe.section import bent_at
from foamcut.airframe.section_findings import section_findings, skin_findings
from foamcut.airframe.section_refusals import section_refusals
from foamcut.airframe.values import Build, Nose, OverSpar, Run, TrailingEdge
from tests.airframe.section_surfaces import board, section, spar, stations, surface, surfaces

BENT = OverSpar.BENT


def refused(**changed):
    return [(one.key, one.text) for one in section_refusals(surface(**changed))]


def test_a_wing_of_the_usual_kind_is_not_refused():
    for nose in Nose:
        for over in OverSpar:
            assert section_refusals(surface(nose=nose, over_spar=over)) == ()


def test_a_folded_surface_needs_a_spar_and_a_flat_one_none():
    assert [key for key, _ in refused(spar=None)] == ["surface.wing"]
    assert refused(spar=None, build=Build.FLAT) == []


@pytest.mark.parametrize("tip", [0, 3])
def test_the_tip_has_no_more_layers_than_the_root(tip):
    ((key, text),) = refused(spar=spar(tip_layers=tip))
    assert key == "surface.wing.spar.tip_layers"
    assert "from 1 to 2" in text


def test_a_spar_that_leaves_through_the_nose_names_station_and_amount():
    """arithmetic: swept by 40 mm, a front face 36 mm back lies 4 mm before the edge; the skin takes 5."""
    swept = stations((0.0, 0.0, 204.0), (552.0, 40.0, 162.0))
    ((key, text),) = refused(stations=swept)
    assert key == "surface.wing.spar.behind_leading_edge"
    assert "at the tip, 552 mm out," in text
    assert "4 mm before the leading edge" in text
    assert "move the spar back by 9 mm" in text
    assert 'run = "follow"' in text
    assert section_refusals(surface(stations=swept, spar=spar(behind_mm=70.0))) == ()
    assert section_refusals(surface(stations=swept, spar=spar(run=Run.FOLLOW))) == ()


def test_a_spar_that_leaves_through_the_trailing_edge_names_station_and_amount():
    """arithmetic: 150 + 25 mm, under a trailing edge at 168 mm: 7 mm behind it, and the skin takes 5."""
    found = dict(refused(spar=spar(behind_mm=150.0)))
    assert "552 mm out" in found["surface.wing.spar"]
    assert "7 mm behind the trailing edge" in found["surface.wing.spar"]
    assert "by 12 mm" in found["surface.wing.spar"]


def test_a_single_trailing_edge_leaves_the_spar_less_room():
    """arithmetic: the upper skin ends 40 mm sooner, at 128 mm; 110 + 25 is 7 mm too much."""
    found = dict(refused(spar=spar(behind_mm=110.0), trailing_edge=TrailingEdge.SINGLE))
    assert "7 mm behind the line where the upper skin ends" in found["surface.wing.spar"]
    assert section_refusals(surface(spar=spar(behind_mm=110.0), nose=Nose.OPENED)) == ()


def test_a_nose_is_no_higher_than_the_section():
    """arithmetic: two strips and two skins are 20 mm; at the tip one strip is left: 15 mm."""
    assert refused(nose_height_mm=20.0) == []
    ((key, text),) = refused(nose_height_mm=20.1)
    assert key == "surface.wing.nose_height"
    assert "at the root" in text
    ((_, text),) = refused(nose_height_mm=16.0, spar=spar(tip_layers=1))
    assert "552 mm out" in text
    assert "15 mm or less" in text


@pytest.mark.parametrize(("nose", "least"), [(Nose.STRIPPED, "9.81"), (Nose.SCORED, "10")])
def test_a_nose_is_as_high_as_its_boards(nose, least):
    ((key, text),) = refused(nose=nose, nose_height_mm=9.0)
    assert key == "surface.wing.nose_height"
    assert f"give {least} mm or more" in text
    assert refused(nose=nose, nose_height_mm=float(least)) == []
    assert refused(nose=nose, nose_height_mm=float(least) - 0.011)
    assert refused(nose=Nose.OPENED, nose_height_mm=9.0) == []


def test_a_steep_skin_is_refused():
    found = dict(refused(spar=spar(behind_mm=16.0)))
    assert "rises from the nose at" in found["surface.wing.spar.behind_leading_edge"]
    found = dict(refused(spar=spar(behind_mm=110.0, layers=5)))
    assert "falls behind the spar at" in found["surface.wing.spar"]


def test_a_bent_skin_that_is_pressed_into_the_lower_one_is_to_be_creased():
    """A long front and a short, steep rear: the spline dips below the lower skin's inner face before it."""
    short = {
        "spar": spar(behind_mm=85.0, layers=1, width_mm=40.0),
        "stations": stations((0.0, 0.0, 140.0), (552.0, 0.0, 140.0)),
    }
    assert refused(**short) == []
    ((key, text),) = refused(**short, over_spar=BENT)
    assert key == "surface.wing.over_spar"
    assert "into the lower skin before it: crease it" in text
    # below its inner face, n = 5, as looked for at the ends of many chords
    skin = bent_skin(bent_at(surface(**short), panels(surface(**short))[0], 0.0), (400, 1, 1))
    assert f"comes {math.ceil(500 - 100 * min(n for _, n in skin.inner)) / 100} mm" in text


def test_a_bent_skin_that_goes_down_from_the_nose_is_to_be_creased():
    """A nose as high as the section: level where it is creased, below level where the rear pulls it down."""
    high = {"nose_height_mm": 20.0, "spar": spar(behind_mm=60.0)}
    assert refused(**high) == []
    ((key, text),) = refused(**high, over_spar=BENT)
    assert key == "surface.wing.over_spar"
    assert "goes down from the nose at" in text


def test_every_kind_is_told_at_once_and_each_once():
    keys = [key for key, _ in refused(spar=spar(behind_mm=2.0, width_mm=170.0), nose_height_mm=30.0)]
    assert keys == ["surface.wing.nose_height", "surface.wing.spar.behind_leading_edge", "surface.wing.spar"]


def test_a_creased_wing_of_even_height_has_no_finding():
    assert skin_findings(surface()) == ()
    assert skin_findings(surface(build=Build.FLAT, spar=None)) == ()


def test_a_bent_skin_that_lifts_off_its_spar_is_to_be_creased():
    made = surface(over_spar=BENT, spar=spar(width_mm=60.0))
    found = [one for one in skin_findings(made) if one.code == "skin-bend"]
    assert found
    assert section(made, 552.0).lift_mm > 1.0
    assert found[0].mend == 'crease it: over_spar = "creased"'
    assert found[0].value == f"{section(made, 552.0).lift_mm:.2f} mm"


def test_a_bend_is_as_tight_as_is_allowed():
    """memory: an inner radius of 8 thicknesses; settable."""
    made = surface(over_spar=BENT)
    radius = section(made).least_radius_mm
    assert radius > 40.0
    tighter = replace(made, closest_bend=radius / 5.0 + 0.1)
    assert [one.code for one in section_findings(tighter, section(tighter))].count("skin-bend") == 1
    easier = replace(made, closest_bend=radius / 5.0 - 0.1)
    assert "skin-bend" not in [one.code for one in section_findings(easier, section(easier))]


def test_a_bent_skin_half_a_millimetre_off_makes_another_section():
    made = surface(over_spar=BENT)
    lift = section(made).lift_mm
    assert 0.5 < lift < 1.0
    (found,) = section_findings(made, section(made))
    assert found.code == "skin-section"
    assert found.value == f"{lift:.2f} mm"


def test_where_a_strip_ends_the_skin_is_a_strip_off_the_next():
    """arithmetic: the top strip of 3 mm ends, the skin runs on straight: 3 mm."""
    (found,) = skin_findings(surface(spar=spar(layers=3, tip_layers=2, material=board(3.0))))
    assert (found.code, found.value, found.where) == ("skin-section", "3 mm", "surface.wing.spar.tip_layers")
    assert "276 mm out" in found.text


@given(made=surfaces())
def test_findings_never_fail_where_nothing_is_refused(made):
    refusals = section_refusals(made)
    assert len({one.key + one.text for one in refusals}) == len(refusals)
    if not refusals:
        assert all(one.value and one.mend for one in skin_findings(made))
