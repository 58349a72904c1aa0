"""What keeps a motor mount from being built is said with its numbers and what to do."""

from dataclasses import replace

import pytest

from foamcut.airframe.motors import motor_parts, skin_slots, with_places
from foamcut.airframe.values import Build, Former, Joiner, Role, Station
from tests.airframe.motors_sample import NOSE, PLY, body, firewall, in_nose, nacelle, on_wing, twin, wing
from tests.airframe.section_surfaces import spar


def refused(inputs):
    placed, said = with_places(inputs)
    made = [motor_parts(motor, placed) for motor in placed.motors]
    return {r.key: r.text for one in (said, *made) for r in one.refusals}


def three_panels():
    key = "surface.wing.stations"
    rows = ((0.0, 204.0, 2.0), (170.0, 190.0, 6.0), (552.0, 162.0, 0.0))
    return wing(
        stations=tuple(
            Station(key=f"{key}[{i}]", out_mm=out, back_mm=0.0, chord_mm=chord, dihedral_deg=turn)
            for i, (out, chord, turn) in enumerate(rows)
        )
    )


JOINER = Joiner(key="surface.wing.joiner", material=PLY, count=2, length_mm=320.0)
NEAR = twin(
    on_wing(firewall=firewall(material=replace(PLY, thickness_mm=7.0))),
    surfaces=(wing(back=0.0, spar=spar(behind_mm=14.0)),),
)
CASES = [
    ("both", twin(on_wing(clearance_mm=20.0)), "motor.wing.clearance", ("29.4 mm", "152.6 mm")),
    ("no body", twin(on_wing(out_mm=None), bodies=()), "motor.wing.out", ("no body",)),
    ("no wing", twin(on_wing(on="canard")), "motor.wing", ('"canard"', "no surface")),
    ("a fin", twin(surfaces=(wing(role=Role.FIN),)), "motor.wing", ("is a fin",)),
    ("flat", twin(surfaces=(wing(build=Build.FLAT),)), "motor.wing", ("needs a folded wing",)),
    ("no spar", twin(surfaces=(wing(spar=None),)), "motor.wing", ("surface.wing.spar",)),
    (
        "low",
        twin(on_wing(firewall=firewall(height_mm=25.0))),
        "motor.wing.firewall.height",
        ("25 mm", "30 mm"),
    ),
    ("wide", twin(on_wing(out_mm=50.0)), "motor.wing.firewall.width", ("62 mm wide", "38 mm")),
    (
        "inside the body",
        twin(on_wing(out_mm=162.0), bodies=(body(372.0),)),
        "motor.wing.firewall.width",
        ("372 mm wide (body.fuselage.width)", "its side is 186 mm out", "a width without a unit"),
    ),
    ("tip", twin(on_wing(out_mm=530.0)), "motor.wing.out", ("beyond the tip",)),
    ("station", twin(surfaces=(three_panels(),)), "motor.wing.out", ("170 mm", "surface.wing.stations[1]")),
    (
        "joiner",
        twin(surfaces=(wing(joiner=JOINER),)),
        "motor.wing.out",
        ("160 mm out", "surface.wing.joiner"),
    ),
    ("nose of wing", NEAR, "motor.wing.firewall", ("1 mm too near",)),
    ("ahead", twin(on_wing(ahead_mm=6.0, nacelle=None)), "motor.wing.ahead", ("farther ahead",)),
    ("turned", twin(on_wing(outwards_deg=20.0)), "motor.wing.thrust.outwards", ("20 degrees", "15")),
    (
        "narrow",
        twin(on_wing(nacelle=nacelle(34.0))),
        "motor.wing.nacelle.width",
        ("5.5 mm on each side", "35 mm or wider", "44 mm or narrower"),
    ),
    (
        "narrow holes",
        twin(on_wing(nacelle=nacelle(36.0), firewall=firewall(screws_mm=32.0))),
        "motor.wing.nacelle.width",
        ("free width, which is 26 mm", "larger nacelle"),
    ),
    (
        "long",
        twin(on_wing(nacelle=nacelle(length=73.5))),
        "motor.wing.nacelle.length",
        ("0.7 mm behind", "at most 69.2 mm"),
    ),
    ("struck", twin(on_wing(nacelle=nacelle(length=76.0))), "motor.wing.nacelle.length", ("1.8 mm into",)),
    ("short", twin(on_wing(nacelle=nacelle(length=36.0))), "motor.wing.nacelle.length", ("or longer",)),
    ("circle", twin(on_wing(firewall=firewall(screws_mm=14.0))), "motor.wing.firewall.screws", ("15 mm",)),
    ("holes", twin(on_wing(firewall=firewall(screws_mm=45.0))), "motor.wing.firewall.width", ("35 mm",)),
    ("no such body", twin(in_nose(on="boom")), "motor.nose", ('"boom"',)),
    ("off the body", twin(in_nose(at_mm=(-20.0, 40.0))), "motor.nose.at", ("-20 mm", "864 mm")),
    (
        "too narrow",
        twin(in_nose(firewall=firewall(NOSE))),
        "motor.nose.firewall.width",
        ("52 mm apart", "62 mm"),
    ),
    ("too wide", twin(in_nose(at_mm=(30.0, 45.0))), "motor.nose.firewall.width", ("52 mm wide",)),
]


@pytest.mark.parametrize(("inputs", "key", "words"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_a_mount_that_cannot_be_built_is_refused_where_it_is_typed(inputs, key, words):
    """Each slip on its key, with the numbers that tell what to do (arithmetic)."""
    found = refused(inputs)
    assert key in found
    for word in words:
        assert word in found[key]


def test_the_numbers_that_a_refusal_gives_are_taken():
    """arithmetic: the disc is 36 + 40 mm before the spar, less 1.76 mm of sweep; 1 mm off is struck."""
    assert not refused(twin(on_wing(nacelle=nacelle(length=69.2))))
    assert not refused(twin(on_wing(nacelle=nacelle(length=73.2))))
    assert refused(twin(on_wing(nacelle=nacelle(length=73.3))))
    assert not refused(twin(on_wing(nacelle=nacelle(width=35.0))))
    assert not refused(twin(on_wing(firewall=firewall(height_mm=30.0))))


def test_a_firewall_inside_the_body_stands_in_no_former():
    """arithmetic: a former from 26 to 31 mm along, the plate from 28.5 to 30."""
    standing = body(formers=(Former(key="body.fuselage.formers[0]", at_mm=26.0),))
    motor = in_nose(at_mm=(30.0, 45.0), firewall=firewall(NOSE, width_mm=52.0))
    assert "formers[0]" in refused(twin(motor, bodies=(standing,)))["motor.nose.at"]
    assert not refused(twin(motor))


def test_a_firewall_inside_the_body_goes_between_floor_and_upper_edge():
    """arithmetic: 90 mm high where the body is 73.5 mm."""
    motor = in_nose(at_mm=(30.0, 42.0), firewall=firewall(NOSE, width_mm=52.0, height_mm=90.0))
    assert "inside of the body" in refused(twin(motor))["motor.nose.firewall.height"]


def test_what_is_refused_asks_for_no_slot():
    """A slot beyond the tip would be refused a second time, with the skin."""
    for inputs in (twin(on_wing(out_mm=530.0)), twin(replace(on_wing(), out_mm=None))):
        assert skin_slots(inputs.surfaces[0], inputs) == ()
