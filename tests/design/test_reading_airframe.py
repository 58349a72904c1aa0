"""Surfaces, bodies, motors, servos and dowels as they are read: every key, defaults, each refusal."""

import math

import pytest

from foamcut.airframe.values import (
    Body,
    BodyBuild,
    Build,
    Control,
    Corners,
    Dowel,
    Firewall,
    Former,
    Inputs,
    Joiner,
    Material,
    Motor,
    Nacelle,
    Nose,
    OverSpar,
    Propeller,
    Role,
    Run,
    Servo,
    SideReading,
    Spar,
    Station,
    Surface,
    TrailingEdge,
)
from foamcut.errors import Refused
from foamcut.flat.drawn import Doubling

from .airframe_text import AIRFRAME
from .making import GOOD, changed, read, refused

USUAL = {"fit_mm": 0.2, "kerf_mm": 0.1}
# the board's margin is 4 mm, the others' the 3 mm of a knife: 2 x that off each side (arithmetic)
BOARD = Material(name="board", thickness_mm=5, boards_mm=((692, 492), (492, 342)), **USUAL)
PLY = Material(name="ply", thickness_mm=1.5, boards_mm=((294, 194),), **USUAL)
CARD = Material(name="card", thickness_mm=0.4, boards_mm=((291, 204),), **USUAL)
HEAD = GOOD.split("[parts.side]")[0]
WING = """
[surface.wing]
role = "wing"
stock = "board"
at = [40, 9]
span = 180
root_chord = 30
"""
FOLDED = (
    WING.replace('stock =', 'build = "folded"\nstock =')
    + 'spar = { layers = 2, width = "25 mm", behind_leading_edge = "36 mm" }\n'
)
BODY = """
[body.fuselage]
stock = "board"
width = 10
side = [[0, 0, 8], [90, 1, 9]]
"""
MOTOR = """
[motor.nose]
ahead = "15 mm"
firewall = { stock = "ply", width = "35 mm" }
propeller = { diameter = "9 in" }
"""
SERVO = """
[[servo]]
drives = "rudder"
on = "fuselage.deck"
at = [60, 0]
size = "23 x 12 mm"
"""
DOWEL = """
[[dowel]]
on = "fuselage"
at = [[36, 7]]
diameter = "6 mm"
"""


def inputs(text: str = AIRFRAME) -> Inputs:
    return read(text).airframe


def of(*tables: str) -> str:
    """A design of these tables."""
    return HEAD + "".join(tables)


def surface(keys: str = "", table: str = WING) -> Surface:
    """The only surface of a design, with keys added."""
    return inputs(of(table, keys)).surfaces[0]


def test_a_folded_wing_with_all_its_keys():
    """Bare numbers are times 6 (arithmetic), true sizes stand; the balance is a share."""
    assert inputs().surfaces[0] == Surface(
        key="surface.wing",
        name="wing",
        role=Role.WING,
        build=Build.FOLDED,
        material=BOARD,
        at=(240, 54),
        stations=(
            Station(key="surface.wing", out_mm=0, back_mm=0, chord_mm=204, dihedral_deg=2),
            Station(key="surface.wing", out_mm=552, back_mm=6, chord_mm=162),
        ),
        angle_deg=1,
        over_spar=OverSpar.BENT,
        nose=Nose.TWO_SKINS,
        nose_height_mm=10,
        nose_band_mm=10.5,
        trailing_edge=TrailingEdge.SINGLE,
        trim_mm=4,
        closest_bend=9,
        balance=0.27,
        patches=CARD,
        spar=Spar(
            key="surface.wing.spar",
            material=CARD,
            layers=3,
            width_mm=25,
            behind_mm=36,
            run=Run.FOLLOW,
            tip_layers=2,
            tip_width_mm=18,
        ),
        joiner=Joiner(key="surface.wing.joiner", material=PLY, count=1, length_mm=160),
        controls=(
            Control(
                key="surface.wing.aileron",
                word="aileron",
                from_mm=276,
                to_mm=528,
                chord_mm=48,
                throw_deg=20,
                horn=PLY,
            ),
        ),
    )


def test_stations_stand_instead_of_span_and_chords():
    """Each has its own key; a dihedral that is left out is that of the panel before it."""
    key = "surface.plank.stations"
    assert inputs().surfaces[1].stations == (
        Station(key=f"{key}[0]", out_mm=0, back_mm=0, chord_mm=180, dihedral_deg=0),
        Station(key=f"{key}[1]", out_mm=240, back_mm=12, chord_mm=168, dihedral_deg=6),
        Station(key=f"{key}[2]", out_mm=360, back_mm=36, chord_mm=20, dihedral_deg=6),
    )
    (control,) = inputs().surfaces[1].controls
    assert (control.word, control.from_mm, control.to_mm) == ("elevon", 30, 300)
    assert control.chord_mm == pytest.approx(0.2 * 204)  # arithmetic


def test_a_span_is_from_tip_to_tip_and_that_of_a_fin_its_height():
    """Half of 36 x 6 is 108 out, a fin of 16 x 6 is 96 high (arithmetic)."""
    _, _, tail, fin = inputs().surfaces
    assert tail.half_span_mm == 108 and fin.half_span_mm == 96
    assert (tail.build, tail.role, fin.role) == (Build.FLAT, Role.STABILISER, Role.FIN)
    assert [one.chord_mm for one in tail.stations] == [84, 84]
    assert [one.back_mm for one in fin.stations] == [0, 24]


def test_a_tip_height_is_a_dihedral():
    """A half of 600 mm at 3 degrees has its tip 31.4 mm up: with the other half flat on the table it stands
    63 mm up (published: the trade's b/2 x sin(2 g), rounded)."""
    wing = surface('tip_height = "31.4 mm"', WING.replace("180", "200"))
    rise = wing.stations[0].dihedral_deg
    assert rise == pytest.approx(3, abs=0.005)
    assert 600 * math.sin(math.radians(2 * rise)) == pytest.approx(63, abs=0.5)


def test_what_is_left_out_of_a_surface():
    """No dihedral, no angle, a flat board; a folded one is creased, stripped and bevelled."""
    assert surface() == Surface(
        key="surface.wing",
        name="wing",
        role=Role.WING,
        build=Build.FLAT,
        material=Material(name="board", thickness_mm=5, boards_mm=((694, 494),), fit_mm=0.2),
        at=(240, 54),
        stations=(
            Station(key="surface.wing", out_mm=0, back_mm=0, chord_mm=180),
            Station(key="surface.wing", out_mm=540, back_mm=0, chord_mm=180),
        ),
    )
    folded = surface(table=FOLDED)
    assert (folded.over_spar, folded.nose) == (OverSpar.CREASED, Nose.STRIPPED)
    assert (folded.trailing_edge, folded.nose_height_mm, folded.nose_band_mm) == (TrailingEdge.BEVELLED, None, None)
    assert (folded.trim_mm, folded.closest_bend, folded.balance) == (3, 8, 0.25)
    spar = folded.spar
    assert spar is not None
    assert (spar.material.name, spar.run, spar.tip_layers, spar.tip_width_mm) == ("board", Run.SQUARE, None, None)


def test_a_body_with_all_its_keys():
    """Readings are a table like an outline: rows, comments, `;`, sums; the doubler has its own stock."""
    key = "body.fuselage"
    assert inputs().bodies[0] == Body(
        key=key,
        name="fuselage",
        material=BOARD,
        width_mm=62,
        side=(
            SideReading(key=f"{key}.side[0]", along_mm=0, bottom_mm=12, top_mm=24),
            SideReading(key=f"{key}.side[1]", along_mm=48, bottom_mm=0, top_mm=84),
            SideReading(key=f"{key}.side[2]", along_mm=384, bottom_mm=12, top_mm=84),
            SideReading(key=f"{key}.side[3]", along_mm=864, bottom_mm=36, top_mm=66),
        ),
        corners=Corners.MITRED,
        build=BodyBuild.TROUGH,
        formers=(
            Former(key=f"{key}.formers[0]", at_mm=60),
            Former(key=f"{key}.formers[1]", at_mm=228, opening_mm=(42, 30), material=PLY),
        ),
        deck_mm=(456, 864),
        hatch_mm=(60, 228),
        nose_doubler_mm=(0, 228),
        straps_mm=(114, 162),
        cooling_in_mm=(24, 48),
        cooling_out_mm=(600, 36),
        pushrods_mm=((720, 60), (732, 48)),
        keep_clear_mm=((240, 444), (600, 660)),
        doubling=Doubling(
            key=f"{key}.doubler", stock="card", thickness_mm=0.4, overlap_mm=60, inset_mm=6, taper_mm=20
        ),
    )


def test_what_is_left_out_of_a_body():
    """A box with butt corners and nothing in it; readings may be a list of triples."""
    assert inputs().bodies[1] == Body(
        key="body.pod",
        name="pod",
        material=CARD,
        width_mm=48,
        side=(
            SideReading(key="body.pod.side[0]", along_mm=0, bottom_mm=6, top_mm=18),
            SideReading(key="body.pod.side[1]", along_mm=180, bottom_mm=1, top_mm=24),
        ),
    )


def test_motors_on_a_wing_and_in_a_nose():
    """8 in are 203.2 mm (arithmetic); what is left out stays open for the generators."""
    wing, middle, nose = inputs().motors
    assert wing == Motor(
        key="motor.wing",
        name="wing",
        on="wing",
        on_wing=True,
        ahead_mm=40,
        firewall=Firewall(
            key="motor.wing.firewall", material=PLY, width_mm=45, height_mm=40, screws_mm=19
        ),
        propeller=Propeller(
            key="motor.wing.propeller", diameter_mm=203.2, pitch_mm=101.6, blades=2, turns="inwards", mass_g=9
        ),
        out_mm=162,
        outwards_deg=1,
        down_deg=2,
        nacelle=Nacelle(key="motor.wing.nacelle", width_mm=50, length_mm=72),
        mass_g=52,
        power_w=180,
        speed_constant_rpm_v=1100,
        current_limit_a=20,
    )
    assert (middle.on, middle.on_wing, middle.out_mm, middle.clearance_mm) == ("plank", True, None, 25)
    assert middle.firewall == Firewall(key="motor.middle.firewall", material=PLY, width_mm=45)
    assert middle.propeller == Propeller(key="motor.middle.propeller", diameter_mm=150)
    assert (nose.on, nose.on_wing, nose.at_mm, nose.right_deg, nose.down_deg) == ("pod", False, (0, 12), 2, 3)
    assert (nose.propeller.blades, nose.propeller.turns, nose.mass_g) == (3, "right", None)


@pytest.mark.parametrize(
    ("motor", "on"),
    [
        (MOTOR, "fuselage"),
        (MOTOR + "out = 20\n", "wing"),
        (MOTOR + 'clearance = "20 mm"\n', "wing"),
        (MOTOR + 'on = "wing"\n', "wing"),
        (MOTOR.replace("nose", "wing"), "wing"),
        (MOTOR.replace("nose", "fuselage"), "fuselage"),
    ],
)
def test_what_a_motor_sits_on(motor: str, on: str):
    """What `on` says; what is called like it; with a place out the first wing, else the first body."""
    (found,) = inputs(of(WING, BODY, motor)).motors
    assert (found.on, found.on_wing) == (on, on == "wing")


def test_servos_and_dowels():
    """A servo lies in a panel of a body, or in a surface; dowels share one diameter."""
    first, second = inputs().servos
    assert first == Servo(
        key="servo[0]",
        drives="rudder",
        on=("fuselage", "deck"),
        at=(672, 0),
        size_mm=(23, 12),
        mass_g=9,
        lead_mm=250,
    )
    assert (second.on, second.mass_g, second.lead_mm) == (("wing", ""), None, None)
    assert inputs().dowels == (
        Dowel(key="dowel[0]", on="fuselage", at=((216, 42), (468, 42)), diameter_mm=6, proud_mm=12),
    )
    assert inputs(of(BODY, DOWEL)).dowels[0].proud_mm == 0


def test_boards_are_the_largest_first_whatever_their_order():
    """Alike large ones stay in the order of the file; offcuts are none."""
    sheets = '[ { size = "300 x 200 mm" }, { size = "600 x 400 mm" }, { size = "400 x 600 mm" } ]'
    text = changed('[ { size = "700 x 500 mm" } ]', f'{sheets}\noffcuts = [ {{ size = "900 x 900 mm" }} ]')
    text = text.split("[parts.side]")[0] + WING
    assert inputs(text).surfaces[0].material.boards_mm == ((594, 394), (394, 594), (294, 194))


def test_a_design_of_drawn_parts_has_no_airframe():
    """And one of surfaces alone needs no drawn parts."""
    assert not inputs(GOOD)
    assert read(of(WING)).parts == ()


def test_every_number_is_a_row_to_tick_off():
    """A builder ticks off each number against the sketch: typed, factor, full size."""
    rows = {row.key: row for row in read(AIRFRAME).sizes_table}
    assert (rows["surface.wing.span"].factor, rows["surface.wing.span"].mm) == ("sum", 1104)
    assert (rows["surface.wing.spar.width"].factor, rows["surface.wing.spar.width"].mm) == ("true size", 25)
    assert (rows["body.fuselage.side[1][2]"].typed, rows["body.fuselage.side[1][2]"].mm) == ("14", 84)
    assert rows["surface.plank.stations[2].chord"].typed == "20 mm * scale / 6"
    assert rows["surface.wing.dihedral"].unit == "deg" and rows["motor.wing.mass"].unit == "g"
    assert rows["dowel[0].at[1][0]"].mm == 468 and rows["servo[0].size[1]"].mm == 12
    for key in ("stations[1].out", "elevon.chord"):
        assert f"surface.plank.{key}" in rows


@pytest.mark.parametrize(
    ("text", "key", "words"),
    [
        (of(WING, "chrod = 3"), "surface.wing.chrod", "unknown key"),
        (of(WING.replace("root_chord", "root_cord")), "surface.wing.root_cord", 'did you mean "root_chord"?'),
        (of(BODY, "fromers = [ { at = 3 } ]"), "body.fuselage.fromers", 'did you mean "formers"?'),
        (of(BODY, MOTOR.replace("turns", "x"), "aead = 3"), "motor.nose.aead", 'did you mean "ahead"?'),
        (of(BODY, SERVO, "drive = 3"), "servo[0].drive", 'did you mean "drives"?'),
        (of(WING).replace("[surface.wing]", "[surfaces.wing]"), "surfaces", 'did you mean "surface"?'),
        (of(WING).replace("[surface.wing]", "[surface]"), "surface.role", "write [surface.role] and its keys below"),
        (of(WING, '[surface."a/b"]'), 'surface."a/b"', 'has "/" in it; write letters, digits, - and _'),
        (of(WING, "[body]"), "body", "has no body; add a table [body.name]"),
        (of(WING, BODY.replace("fuselage", "wing")), "body.wing", "a surface has the same name; choose another"),
        (of(WING.replace("board", "bord")), "surface.wing.stock", 'no stock "bord"; did you mean "board"?'),
        (of(WING.replace("wing\"", "wnig\"")), "surface.wing.role", 'did you mean "wing"?'),
        (of(WING.replace("span = 180", "")), "surface.wing.span", "is missing; add it, or give stations instead"),
        (of(WING.replace("at = [40, 9]", "")), "surface.wing.at", "is missing; add it: leading edge of the root"),
        (of(WING, "root_chord = 0").replace("root_chord = 30\n", ""), "surface.wing.root_chord", "not above 0"),
        (of(WING, "stations = [ { out = 0, chord = 3 }, { out = 9, chord = 3 } ]"), "surface.wing.stations",
         "stands beside span, root_chord; keep either the stations or those"),
        (of(WING, "dihedral = 2\ntip_height = 3"), "surface.wing.tip_height", "stands beside dihedral; keep one"),
        (of(WING, "tip_height = 80"), "surface.wing.tip_height",
         "480 mm is more than 45 degrees over half a span of 540 mm; write a lower tip"),
        (of(WING, "dihedral = 50"), "surface.wing.dihedral", "50 is not from -45 to 45 degrees"),
        (of(WING, 'balance = "120 %"'), "surface.wing.balance", "not from 0 to 1"),
        (of(WING, "closest_bend = 0"), "surface.wing.closest_bend", "not above 0"),
        (of(WING, 'nose_height = "3 mm"'), "surface.wing.nose_height", "belongs to a folded surface; take it out, or"),
        (of(FOLDED, "nose_height = 3"), "surface.wing.nose_height", '3 has no unit. Write "3 mm" for a true size'),
        (of(FOLDED.split("spar")[0]), "surface.wing.spar", "is missing; a folded surface needs one: spar = { layers"),
        (of(FOLDED, 'nose = "striped"'), "surface.wing.nose", 'did you mean "stripped"?'),
        (of(FOLDED.replace("layers = 2", "layers = 0")), "surface.wing.spar.layers", "0"),
        (of(FOLDED.replace("layers = 2", "layers = 21")), "surface.wing.spar.layers", "21 is too many; at most 20"),
        (of(FOLDED.replace('"25 mm"', "25")), "surface.wing.spar.width", "25 has no unit"),
        (of(FOLDED.replace("layers = 2", "layers = 2, tip_layers = 3")), "surface.wing.spar.tip_layers",
         "3 are more than the 2 at the root; write fewer"),
        (of(FOLDED.replace('layers = 2, ', "")), "surface.wing.spar.layers", "is missing; add it: how many strips"),
        (of(WING, "elevator = { from = 1, to = 2, chord = 3, throw = 20 }"), "surface.wing.elevator",
         "a wing has no elevator; it has aileron or elevon"),
        (of(WING, "aileron = { from = 5, to = 2, chord = 3, throw = 20 }"), "surface.wing.aileron.to",
         "12 mm does not lie farther out than `from`, 30 mm"),
        (of(WING, "aileron = { from = 1, to = 2, chord = 0, throw = 20 }"), "surface.wing.aileron.chord", "not above 0"),
        (of(WING, "aileron = { from = 1, to = 2, chord = 3, throw = 0 }"), "surface.wing.aileron.throw", "not above 0"),
        (of(WING, "aileron = { from = 1, to = 2, chord = 3 }"), "surface.wing.aileron.throw", "is missing; add it"),
        (of(WING, "aileron = { from = 1, to = 2, chord = 3, throw = 20, horn = 'pli' }"),
         "surface.wing.aileron.horn", 'there is no stock "pli"; did you mean "ply"?'),
        (of(WING.replace('"wing"', '"fin"'), "angle = 1"), "surface.wing.angle", "a fin stands upright"),
        (of(FOLDED.replace('"wing"', '"fin"')), "surface.wing.build", 'a fin is cut from flat board; write build = "flat"'),
        (of(BODY.replace("[0, 0, 8]", "[0, 8, 8]")), "body.fuselage.side[0]",
         "the top, 48 mm, does not lie above the bottom, 48 mm"),
        (of(BODY.replace("[90,", "[0,")), "body.fuselage.side[1]", "0 mm along does not lie aft of the reading before it, 0 mm"),
        (of(BODY.replace("[0, 0, 8]", "[0, 8]")), "body.fuselage.side[0]", "has 2 numbers where three are due"),
        (of(BODY.replace("[[0, 0, 8], [90, 1, 9]]", "[[0, 0, 8]]")), "body.fuselage.side", "has 1 readings; a side view needs two"),
        (of(BODY.replace("[[0, 0, 8], [90, 1, 9]]", "7")), "body.fuselage.side", "7 where readings are due"),
        (of(BODY.replace("[[0, 0, 8], [90, 1, 9]]", '"0, 0, 8; 9, 1"')), "body.fuselage.side[1]", "has 2 numbers where three"),
        (of(BODY.replace("[[0, 0, 8], [90, 1, 9]]", '"0, 0, 8; 9, 1, hihg"')), "body.fuselage.side[1][2]", "hihg"),
        (of(BODY, "hatch = [9, 3]"), "body.fuselage.hatch", "the higher number stands first"),
        (of(BODY, "deck = { top = [9, 9] }"), "body.fuselage.deck.top", "nothing lies between the two"),
        (of(BODY, "straps = 3"), "body.fuselage.straps", "3 where a list is due; write [19, 27]"),
        (of(BODY, "straps = []"), "body.fuselage.straps", "an empty list where a list is due"),
        (of(BODY, f"straps = {list(range(201))}"), "body.fuselage.straps", "has 201 entries; at most 200 are read"),
        (of(BODY, "pushrods = [3, 4]"), "body.fuselage.pushrods[0]", "3 where two lengths are due"),
        (of(BODY, "keep_clear = [3, 4]"), "body.fuselage.keep_clear[0]", "3 where two lengths are due"),
        (of(BODY, "cooling = { in = [4, 0] }"), "body.fuselage.cooling.in[1]", "not above 0"),
        (of(BODY, "formers = [ { at = 4, opening = 3 } ]"), "body.fuselage.formers[0].opening", "write [7, 5]"),
        (of(BODY, "formers = [ { opening = [3, 3] } ]"), "body.fuselage.formers[0].at", "is missing; add it: where along"),
        (of(BODY, "doubler = { taper = '60 mm' }"), "body.fuselage.doubler.taper", "longer than the overlap of 50 mm"),
        (of(MOTOR, WING), "motor.nose", "sits on nothing; write on ="),
        (of(BODY, MOTOR, 'on = "fuselag"'), "motor.nose.on", 'no wing or body "fuselag"; did you mean "fuselage"?'),
        (of(BODY, WING, MOTOR, 'on = "wing"\nat = [0, 3]'), "motor.nose.at", "belongs to a motor in the nose"),
        (of(BODY, MOTOR, 'on = "fuselage"\nout = 9'), "motor.nose.out", "belongs to a motor on a wing"),
        (of(BODY, MOTOR, "thrust = { outwards = 2 }"), "motor.nose.thrust.outwards", "belongs to a motor on a wing"),
        (of(BODY, WING, MOTOR, "out = 9\nthrust = { right = 2 }"), "motor.nose.thrust.right", "in the nose"),
        (of(BODY, MOTOR.replace("firewall", "firewal")), "motor.nose.firewall", "is missing; add it: the plate"),
        (of(BODY, MOTOR.replace("propeller", "props")), "motor.nose.propeller", "is missing; add it: its propeller"),
        (of(BODY, MOTOR.replace('"15 mm"', "15")), "motor.nose.ahead", "15 has no unit"),
        (of(BODY, MOTOR.replace('"9 in" }', '"9 in", turns = "inward" }')), "motor.nose.propeller.turns", 'did you mean "inwards"?'),
        (of(BODY, SERVO.replace("fuselage", "fuselag")), "servo[0].on", 'no body or surface "fuselag"; did you mean'),
        (of(BODY, SERVO.replace(".deck", "")), "servo[0].on", 'a body has several panels; write one of "fuselage.side"'),
        (of(BODY, SERVO.replace(".deck", ".lid")), "servo[0].on", '"lid" is no panel of a body; write one of'),
        (of(WING, SERVO.replace("fuselage.deck", "wing.deck")), "servo[0].on", "a surface has no panels to choose from"),
        (of(BODY, SERVO.replace("12 mm", "12")), "servo[0].size", "12"),
        (of(BODY, DOWEL.replace("fuselage", "fusel")), "dowel[0].on", 'no body "fusel"; did you mean "fuselage"?'),
        (of(BODY, DOWEL.replace("[[36, 7]]", "[36, 7]")), "dowel[0].at[0]", "36 where two lengths are due"),
        (of(BODY, DOWEL.replace('"6 mm"', "6")), "dowel[0].diameter", "6 has no unit"),
        (of(BODY, DOWEL.replace("[[dowel]]", "[dowel]")), "dowel", "write [[dowel]]"),
        (of(BODY, *[DOWEL] * 101), "dowel", "has 101 entries; at most 100 are read"),
        (of(*[WING.replace(".wing", f".w{i}") for i in range(51)]), "surface", "has 51 tables; at most 20 are read"),
        (of(), "parts", "is missing; add a table [parts.name], [surface.name] or [body.name]"),
        (of(WING, "[[built]]\npart = 'side'"), "built[0].part", "unknown key; known here are key, value, why, date"),
    ],
)  # fmt: skip
def test_each_fault_is_told(text: str, key: str, words: str):
    """The refusal names the key, what was found and what to do."""
    assert words in refused(text)[key]


STATIONS = WING.split("span")[0] + "stations = [ {} ]\n"


@pytest.mark.parametrize(
    ("stations", "key", "words"),
    [
        ("{ out = 0, chord = 3 }", "", "has fewer than two; give the root, the tip, and any between"),
        ("{ out = 1, chord = 3 }, { out = 9, chord = 3 }", "[0]", "the first station is the root: write out = 0"),
        ("{ out = 0, back = 1, chord = 3 }, { out = 9, chord = 3 }", "[0]", "the first station is the root"),
        ("{ out = 0, chord = 3 }, { out = 9, chord = 3 }, { out = 8, chord = 3 }", "[2].out",
         "48 mm does not lie farther out than the station before it, 54 mm"),
        ("{ out = 0, chord = 3 }, { out = 9 }", "[1].chord", "is missing; add it: chord there"),
        ("{ out = 0, chord = 3 }, { out = -9, chord = 3 }", "[1].out", "0 or more"),
        ("{ chord = 3 }, { out = 9, chord = 3 }", "[0].out", "is missing; add it: from the root"),
    ],
)  # fmt: skip
def test_each_fault_of_stations_is_told(stations: str, key: str, words: str):
    """Stations run from the root out; a fault is told once, and at its own station."""
    told = refused(of(STATIONS.replace("{}", stations)))
    assert list(told) == [f"surface.wing.stations{key}"]
    assert words in told[f"surface.wing.stations{key}"]


def test_a_refused_reading_of_a_side_is_shown_with_its_line():
    """Nobody counts rows: the reading stands before what is wrong with it, the line is its own."""
    text = AIRFRAME.replace("64,    2,      14", "64,    14,      2")
    with pytest.raises(Refused) as caught:
        read(text)
    (refusal,) = caught.value.refusals
    assert refusal.text.startswith("(64, 14, 2): the top, 12 mm, does not lie above the bottom, 84 mm")
    assert text.split("\n")[refusal.line - 1].strip() == "64,    14,      2"


def test_a_refused_size_of_a_board_is_told_alone():
    """Nothing is said of the surfaces that would be cut from it."""
    told = refused(of(WING).replace('size = "700 x 500 mm"', 'size = "700 x 5 mm"'))
    assert list(told) == ["stock.board.sheets[0].size"]
    told = refused(of(WING).replace('thickness = "5 mm"', "thickness = 5"))
    assert list(told) == ["stock.board.thickness"]
