"""Numbers and advice on the strength of a wing, as a builder reads them."""

import re
from dataclasses import replace

import pytest

from foamcut.airframe.flat_surface import flat_surface_parts
from foamcut.airframe.values import Build, Inputs, Surface
from foamcut.findings import Level
from foamcut.flat.build import build_part
from foamcut.flat.joint import ways
from foamcut.flat.stock import SheetSize
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Group
from foamcut.flight.lift_values import GRAVITY_M_S2
from foamcut.flight.strength_joiner import Plate, joiner_stress_mpa, plates, reach_of
from foamcut.flight.strength_tape import has_tape, tape_pull_n, tape_width_mm
from foamcut.flight.values import Cut, Model
from foamcut.flight.weights_stock import areal
from tests.airframe.folded_wings import PLY, joiner, made_of, wing
from tests.airframe.section_surfaces import BOARD, spar, stations, surface
from tests.flight.strength_sample import (
    STOCKS,
    bare_model,
    figures_of,
    finding,
    lifting,
    load_on,
    stock,
    wing_of,
)

TAPE = ("strapping tape, glass fibre",)


def joined(**more) -> Surface:
    return wing(((0.0, 0.0, 204.0), (552.0, 6.0, 162.0)), 2.0, **{"joiner": joiner()} | more)


def flat(dihedral: float = 0.0, half: float = 500.0) -> Surface:
    rows = tuple(
        replace(one, dihedral_deg=dihedral) for one in stations((0.0, 0.0, 200.0), (half, 0.0, 200.0))
    )
    return surface(build=Build.FLAT, spar=None, stations=rows)


def test_numbers_of_a_joined_wing():
    found = figures_of(bare_model(joined()))
    names = [one.name for one in found.numbers]

    assert names == [
        "load_factor", "root_moment", "tape_pull", "joiner_stress", "joiner_margin", "joiner_reach",
        "wing_stress", "wing_margin", "tip_deflection",
    ]  # fmt: skip
    for one in found.numbers:
        assert one.group is Group.STRENGTH
        assert one.source
        assert all(row in ASSUMED for row in one.assumed)
        assert one.low is None or one.low <= one.value + 1e-9
        assert one.high is None or one.value <= one.high + 1e-9


def test_the_root_moment_lies_between_that_of_ellipse_and_of_chords():
    """n W b / (3 pi) and, for a taper, the chords' own moment.  Check: arithmetic."""
    one, lift = joined(), 4 * 0.8 * GRAVITY_M_S2
    found = figures_of(bare_model(one)).value("root_moment")
    ends = [load_on(one, lift, elliptic_share=share).moment_n_mm(0.0) / 1000 for share in (0.0, 1.0)]
    assert found == pytest.approx(sum(ends) / 2)
    assert ends[1] == pytest.approx(lift * 1.104 / (3 * 3.141592653589793))


def test_the_load_factor_of_the_design_is_taken_and_not_assumed():
    given = figures_of(bare_model(joined()), factor=6.0)
    usual = figures_of(bare_model(joined()))
    assert given.numbers[0].assumed == ()
    assert usual.numbers[0].assumed == ("load_factor",)
    assert given.value("root_moment") == pytest.approx(1.5 * (usual.value("root_moment") or 0))
    assert given.value("wing_margin") == pytest.approx((usual.value("wing_margin") or 0) / 1.5)


def test_several_wings_share_the_lift_by_their_areas():
    one = joined()
    other = lifting(replace(one, key="surface.lower", name="lower"), area_m2=0.1)
    alone = figures_of(bare_model(one)).value("root_moment")
    shared = figures_of(bare_model(one), others=(other,)).value("root_moment")
    assert alone is not None
    assert shared == pytest.approx(alone * 2 / 3)


def test_a_joiner_by_hand():
    """M / (2 b h^2 / 6).  Check: arithmetic (bending of plates on edge)."""
    first = (Plate(thickness_mm=2.0, height_mm=10.0), Plate(thickness_mm=2.0, height_mm=10.0))
    assert joiner_stress_mpa(first, 4000.0) == pytest.approx(4000.0 / (2 * 2 * 100 / 6))
    assert joiner_stress_mpa((), 4000.0) is None


def test_plates_are_those_that_are_cut():
    """Between the skins there are two strips of 5 mm; behind the spar the skin falls already."""
    made = plates(joined())
    assert [one.thickness_mm for one in made] == [2.0, 2.0]
    assert all(8.0 < one.height_mm <= 10.01 for one in made)
    reach = reach_of(joined())
    assert reach is not None
    assert (reach.reach_mm, reach.depth_mm) == (80.0, 20.0)
    assert plates(wing()) == ()
    assert reach_of(wing()) is None


def test_a_weak_joiner_asks_for_tape_under_the_gap():
    bare, taped = (figures_of(bare_model(joined(), hardware=words)) for words in ((), TAPE))
    found = finding(bare, "joiner-stress")
    assert found.level is Level.WARNING
    assert found.where == "surface.wing.joiner"
    assert "put it under [[hardware]]" in found.mend
    assert finding(taped, "joiner-stress").level is Level.NOTE

    width = float(re.search(r"(\d+) mm wide in all", found.mend).group(1))
    pull = bare.value("tape_pull")
    assert pull is not None
    assert 1.5 * pull <= width * ASSUMED["strapping_tape"].value < 1.5 * pull + 5 * 20 + 19 * 20


def grown(mass_g: float, before: Surface, after: Surface) -> float:
    """The mass of a model whose wing is built otherwise: its boards as they are cut, two beads along a strip."""
    assert before.spar is not None
    assert after.spar is not None
    glue_m = 4 * (after.spar.layers - before.spar.layers) * after.half_span_mm / 1000

    def boards_g(one: Surface) -> float:
        found = 0.0
        for drawn in made_of(one).parts:
            for part in build_part(drawn)[0]:
                known = areal(STOCKS[part.stock])
                assert known is not None
                found += part.count * part.outline.area * known.g_mm2
        return found

    return mass_g + boards_g(after) - boards_g(before) + glue_m * ASSUMED["glue"].value


def test_what_a_finding_on_a_joiner_offers_holds_when_it_is_done():
    """The higher spar that is offered gives the margin that is named, what it weighs carried as well."""
    found = finding(figures_of(bare_model(joined()), 600.0), "joiner-stress")
    layers, margin = re.search(
        r"a spar (one|\d) layers? higher, whose joiner has margin ([\d.]+)", found.mend
    ).groups()
    higher = joined(spar=spar(material=wing().material, layers=2 + (1 if layers == "one" else int(layers))))
    heavy = grown(600.0, joined(), higher)
    assert figures_of(bare_model(higher), heavy).value("joiner_margin") == pytest.approx(
        float(margin), abs=0.01
    )
    assert float(margin) >= 1.5


def test_what_a_finding_on_bending_offers_holds_when_it_is_done():
    """One layer more, and a wider spar, give the margins that are named, what they weigh carried as well."""
    found = finding(figures_of(bare_model(joined()), 1150.0), "wing-bending")
    margin = float(re.search(r"one layer higher gives margin ([\d.]+)", found.mend).group(1))
    higher = joined(spar=spar(material=wing().material, layers=3))
    heavy = grown(1150.0, joined(), higher)
    assert figures_of(bare_model(higher), heavy).value("wing_margin") == pytest.approx(margin, abs=0.01)
    assert figures_of(bare_model(higher), 1150.0).value("wing_margin") > margin + 0.03

    wider, margin = map(
        float, re.search(r"spar ([\d.]+) mm wider gives margin ([\d.]+)", found.mend).groups()
    )
    broad = joined(spar=spar(material=wing().material, width_mm=25.0 + wider))
    heavy = grown(1150.0, joined(), broad)
    assert figures_of(bare_model(broad), heavy).value("wing_margin") == pytest.approx(margin, abs=0.01)


def test_levels_rise_with_the_load():
    def level(mass_g: float) -> Level | None:
        several = figures_of(bare_model(joined()), mass_g).findings
        return next((one.level for one in several if one.code == "wing-bending"), None)

    assert [level(mass) for mass in (500.0, 1200.0, 2500.0, 40000.0)] == [
        None, Level.NOTE, Level.WARNING, Level.STOP,
    ]  # fmt: skip


def test_a_light_wing_with_a_good_joiner_is_left_in_peace():
    strong = joined(
        spar=spar(material=wing().material, layers=3), joiner=joiner(material=replace(PLY, thickness_mm=3.0))
    )
    assert figures_of(bare_model(strong), 450.0).findings == ()


def test_a_joiner_that_reaches_too_little_is_told_by_how_much():
    found = finding(figures_of(bare_model(joined(joiner=joiner(length_mm=60.0))), 300.0), "joiner-short")
    assert found.level is Level.WARNING
    assert found.where == "surface.wing.joiner.length"
    longer = float(re.match(r"([\d.]+) mm longer", found.mend).group(1))
    mended = figures_of(bare_model(joined(joiner=joiner(length_mm=60.0 + longer))), 300.0)
    assert [one for one in mended.findings if one.code == "joiner-short"] == []


def test_a_joiner_long_enough_by_one_school_and_nearly_by_the_other_is_left_in_peace():
    """80 mm of a half span of 552 mm, four depths of the wing."""
    assert [one for one in figures_of(bare_model(joined())).findings if one.code == "joiner-short"] == []


def test_halves_without_a_joiner_hang_on_tape():
    found = finding(figures_of(bare_model(wing())), "joiner-stress")
    pull = figures_of(bare_model(wing())).value("tape_pull")
    assert pull is not None
    assert f"{pull:.0f} N" == found.value
    # the moment over the height from the tape to the middle of the upper skin over the spar: 17.5 mm
    moment = figures_of(bare_model(wing())).value("root_moment")
    assert moment is not None
    assert pull == pytest.approx(1000 * moment / 17.5)


def test_panels_at_an_angle_are_told_of_with_their_own_pull():
    rows = ((0.0, 0.0, 204.0), (300.0, 0.0, 204.0), (700.0, 10.0, 150.0))
    bent = wing(rows, 3.0, 10.0, joiner=joiner(length_mm=220.0, material=replace(PLY, thickness_mm=4.0)))
    several = [one for one in figures_of(bare_model(bent), 900.0).findings if one.where == "surface.wing"]
    assert [one.code for one in several] == ["joiner-stress"]
    assert "300 mm out" in several[0].text


def test_a_flat_wing_across_the_middle_has_no_gap():
    found = figures_of(bare_model(flat()))
    assert found.value("tape_pull") is None
    assert [one for one in found.findings if one.code == "joiner-stress"] == []


def test_flat_halves_at_an_angle_have_a_gap():
    found = finding(figures_of(bare_model(flat(4.0))), "joiner-stress")
    assert found.where == "surface.wing"
    assert found.level is Level.WARNING


def test_a_soft_flat_wing_is_told_of_and_a_second_board_mends_it():
    found = [one for one in figures_of(bare_model(flat(half=600.0))).findings if one.code == "wing-bending"]
    assert [one.where for one in found] == ["surface.wing", "surface.wing"]
    assert "two more boards" in found[0].mend
    bent = float(re.search(r"bends it up by (\d+) mm", found[1].mend).group(1))
    assert bent < 0.2 * 600


def flat_model(one: Surface) -> Model:
    """A flat wing longer than its board, cut as it would be."""
    board = replace(
        stock("board", "paper-faced foam board", 5.0),
        sheets=(SheetSize(key="stock.board.sheets[0]", width_mm=700.0, height_mm=500.0),),
    )
    made = flat_surface_parts(one, Inputs(surfaces=(one,)))
    parts = [part for drawn in made.parts for part in build_part(drawn)[0]]
    cuts = tuple(Cut(piece=piece, count=1) for part in parts for piece in ways(part, board)[0].pieces)
    return replace(bare_model(one, cuts=cuts), stocks={**STOCKS, "board": board})


def test_a_flat_wing_joined_in_the_middle_is_judged_at_its_doubler():
    found = figures_of(flat_model(flat()))
    (number,) = [one for one in found.numbers if one.name == "wing_stress"]
    whole = figures_of(bare_model(flat())).value("wing_stress")
    assert "at a joint of the skin, at the root" in number.title
    assert whole is not None
    assert number.value > whole


def test_stuff_without_a_row_is_named_once_and_not_judged():
    balsa = replace(BOARD, name="balsa")
    found = figures_of(bare_model(surface(material=balsa, spar=spar(material=balsa))))
    said = [one for one in found.findings if one.code == "wing-bending"]
    assert len(said) == 1
    assert "balsa" in said[0].text
    assert found.value("wing_margin") is None
    assert found.value("root_moment") is not None


def test_a_joiner_of_another_stuff_has_a_stress_and_no_margin():
    card = replace(PLY, name="balsa")
    found = figures_of(bare_model(joined(joiner=joiner(material=card))))
    assert found.value("joiner_stress") is not None
    assert found.value("joiner_margin") is None


@pytest.mark.parametrize("mass", [0.0, 1e-6, 1e9])
def test_masses_of_nothing_and_of_a_mountain(mass):
    found = figures_of(bare_model(joined()), mass)
    assert (found.numbers == ()) == (mass == 0.0)
    assert all(one.value == one.value and abs(one.value) < float("inf") for one in found.numbers)


def test_a_wing_that_cannot_be_folded_has_no_numbers():
    """A folded surface without a spar is refused where it is built."""
    assert figures_of(bare_model(surface(spar=None))).numbers == ()


def test_a_joiner_that_one_school_finds_short_is_a_note():
    """100 mm are five depths of the wing and a tenth of its half span."""
    rows = ((0.0, 0.0, 204.0), (1000.0, 0.0, 204.0))
    long = wing(rows, 2.0, joiner=joiner(length_mm=200.0))
    found = finding(figures_of(bare_model(long), 300.0), "joiner-short")
    assert found.level is Level.NOTE
    assert found.mend.startswith("100 mm longer, 300 mm in all")


def test_tape_is_known_by_its_words():
    assert has_tape(("rubber band", "Strapping tape, 19 mm"))
    assert not has_tape(("clear tape", "rubber band"))
    assert tape_width_mm(1.0, 1.5) == 19.0
    assert tape_width_mm(400.0, 1.5) == 30.0
    assert tape_pull_n(wing_of(flat(4.0)), 0.0) == pytest.approx(
        wing_of(flat(4.0)).load.moment_n_mm(0.0) / 5.0
    )


def test_a_folded_papered_wing_under_a_tonne_says_which_model_it_suits():
    """Nothing stiffer is to be had of the same; a model of the mass that is told is borne (done again)."""
    bends, soft = (
        one for one in figures_of(bare_model(joined()), 1e6).findings if one.code == "wing-bending"
    )
    assert bends.level is Level.STOP
    assert bends.value == "margin under 0.01" and "less than load factor 0.1 is borne" in bends.text
    assert "more than the whole half span" in soft.text and "%" not in soft.text
    for one in (bends, soft):
        assert "papered board" not in one.mend and "not one of 1000000 g" in one.mend
    most = [float(re.search(r"of (\d+) g at most", one.mend).group(1)) for one in (bends, soft)]
    assert figures_of(bare_model(joined()), most[0]).value("wing_margin") == pytest.approx(1.5, rel=1e-3)
    assert figures_of(bare_model(joined()), most[1]).value("tip_deflection") <= 0.2 * joined().half_span_mm


def test_a_soft_foam_wing_is_told_of_papered_board():
    foam = replace(BOARD, name="foam")
    soft = figures_of(bare_model(surface(material=foam, spar=spar(material=foam))), 1e4).findings
    assert any(one.mend == "papered board" for one in soft if one.code == "wing-bending")
