"""What is carried, site, balance, wiring and what was weighed: every key as read, defaults, each refusal."""

import pytest

from foamcut.design.design import read_design
from foamcut.flight.values import (
    Aboard,
    Carried,
    Packs,
    Setup,
    Site,
    Target,
    Weighed,
    WeighedPart,
    Wiring,
    Wishes,
)

from .making import GOOD, changed, read, refused

PLANE = (
    GOOD.split("[parts.side]")[0]
    + """
[surface.wing]
role = "wing"
stock = "board"
at = [40, 9]
span = "2 * half_span"
root_chord = 34
tip_chord = 27
tip_back = 1

[body.hull]
stock = "board"
width = "62 mm"
side = "0, 2, 12; 144, 2, 12"

[motor.hull]
ahead = "30 mm"
firewall = { stock = "ply", width = "50 mm" }
propeller = { diameter = "8 in" }
"""
)
BATTERY = """
[[aboard]]
name = "battery"
kind = "battery"
mass = "182 g"
size = "105 x 34 x 24 mm"
at = [22, 5]
out = "-4 mm"
slides = [20, 26]
may_sit = [[22, 5], [50, "30 mm"]]
cells = 3
capacity = "2200 mAh"
current_limit = "55 A"
feeds = "speed control"
lead = "100 mm"
"""
CONTROL = """
[[aboard]]
name = "speed control"
kind = "speed_control"
at = [42, 8]
out = 9
mirrored = true
current_limit = "30 A"
cut_off = "3.2 V"
feeds = "motor.hull"
"""
REST = """
[site]
altitude = "350 m"
temperature = "-5 degC"

[balance]
target = { mac = "30 %" }
load_factor = 4
paint = "60 g/m2"
glue = "6.7 g/m"

[wiring]
packs = "apart"
joined = false

[weighed]
model = { mass = "812 g", along = 48 }
parts = { "wing-skin" = "24 g", "Höcker" = "1/2 oz" }
"""
WHOLE = PLANE + BATTERY + CONTROL + REST


def test_every_key_is_read():
    """Lengths come out in mm, everything else in the unit of its name; sketch measures are times six."""
    assert read(WHOLE).setup == Setup(
        aboard=(
            Aboard(
                key="aboard[0]",
                name="battery",
                kind=Carried.BATTERY,
                at=(132, 30),
                mass_g=182,
                size_mm=(105, 34, 24),
                out_mm=-4,
                slides_mm=(120, 156),
                may_sit=((132, 30), (300, 30)),
                cells=3,
                capacity_mah=2200,
                current_limit_a=55,
                feeds="speed control",
                lead_mm=100,
            ),
            Aboard(
                key="aboard[1]",
                name="speed control",
                kind=Carried.SPEED_CONTROL,
                at=(252, 48),
                out_mm=54,
                mirrored=True,
                current_limit_a=30,
                cut_off_v=3.2,
                feeds="motor.hull",
            ),
        ),
        site=Site(altitude_m=350, temperature_c=-5),
        wishes=Wishes(
            target=Target(key="balance.target", mean_chord_share=0.3),
            load_factor=4,
            paint_g_m2=60,
            glue_g_m=6.7,
        ),
        wiring=Wiring(packs=Packs.APART, joined=False),
        weighed=Weighed(
            model_mass_g=812,
            model_along_mm=288,
            parts=(
                WeighedPart(key="weighed.parts.wing-skin", name="wing-skin", mass_g=24),
                WeighedPart(key='weighed.parts."Höcker"', name="Höcker", mass_g=14.1747615625),
            ),
        ),
    )


def test_what_is_left_out_is_none():
    """Nothing is filled in at reading."""
    assert read(PLANE).setup == Setup()
    assert read(GOOD + "[site]\n[balance]\n[wiring]\n[weighed]\n").setup == Setup()


def test_every_number_is_a_row_to_tick_off():
    """Each number that was typed has its row, with its unit."""
    rows = {row.key: (row.typed, row.mm, row.unit) for row in read(WHOLE).sizes_table}
    assert rows["aboard[0].size[2]"] == ("105 x 34 x 24 mm", 24, "mm")
    assert rows["aboard[0].may_sit[1][1]"] == ("30 mm", 30, "mm")
    assert rows["aboard[0].capacity"] == ("2200 mAh", None, "mAh")
    assert rows["aboard[0].cells"] == ("3", None, "")
    assert rows["site.altitude"] == ("350 m", 350_000, "mm")
    assert rows["site.temperature"] == ("-5 degC", None, "degC")
    assert rows["balance.target.mac"] == ("30 %", None, "")
    assert rows["balance.load_factor"] == ("4", None, "")
    assert rows["balance.paint"] == ("60 g/m2", None, "g/m2")
    assert rows["weighed.parts.wing-skin"] == ("24 g", None, "g")
    numbers = sum(
        WHOLE.count(f"\n{word} =") for word in ("altitude", "load_factor", "paint", "glue", "cells")
    )
    assert numbers == 5


@pytest.mark.parametrize(
    ("typed", "metres"), [("9000 m", 9000), ("-400 m", -400), ("29500 ft", 8991.6), ("0 m", 0)]
)
def test_high_and_low_ground(typed: str, metres: float):
    """Altitude alone goes beyond the 1e6 mm of other lengths."""
    assert read(changed("350 m", typed, WHOLE)).setup.site.altitude_m == pytest.approx(metres)


@pytest.mark.parametrize(
    ("old", "new", "key", "words"),
    [
        ('altitude = "350 m"', "altitude = 350", "site.altitude", '350 has no unit; write "350 m"'),
        ("350 m", "9001 m", "site.altitude", "9001 m is not from -500 m to 9,000 m above the sea"),
        ("350 m", "-501 m", "site.altitude", "-501 m is not from"),
        ("350 m", "99999999 m", "site.altitude", "is not from"),
        ("-5 degC", "-61 degC", "site.temperature", "-61 degC is not from -60 to 60 degC"),
        ("-5 degC", "77 F", "site.temperature", 'write "25 degC"'),
        ('mac = "30 %"', 'mac = "30 %", along = 48', "balance.target", "has mac and along; keep one of them"),
        ('mac = "30 %"', "", "balance.target", "none of mac, along is given; add one"),
        ('mac = "30 %"', 'mac = "130 %"', "balance.target.mac", "1.3 is not from 0 to 1"),
        ('mac = "30 %"', "along = 39", "balance.target.along", "234 mm lies off the mean chord of \"wing\""),
        ("load_factor = 4", "load_factor = 0.5", "balance.load_factor", "0.5 is not from 1 to 20"),
        ("load_factor = 4", "load_factor = 21", "balance.load_factor", "21 is not from 1 to 20"),
        ("load_factor = 4", 'load_factor = "4"', "balance.load_factor", "where a bare number is due"),
        ("load_factor = 4", "load_factor = true", "balance.load_factor", "true where a number is due"),
        ('"60 g/m2"', '"0.2 oz/ft2"', "balance.paint", 'write "61.03 g/m2"'),
        ('"60 g/m2"', '"-60 g/m2"', "balance.paint", "-60 is less than 0"),
        ('"6.7 g/m"', "6.7", "balance.glue", '6.7 has no unit; write "6.7 g/m"'),
        ('"apart"', '"alone"', "wiring.packs", 'none of "together", "apart"'),
        ("joined = false", 'joined = "no"', "wiring.joined", "true or false is due"),
        ('mass = "812 g", ', "", "weighed.model.mass", "is missing; add it: what it weighs"),
        ('"24 g"', "24", 'weighed.parts.wing-skin', '24 has no unit; write "24 g"'),
        ('"24 g"', '{ mass = "24 g" }', "weighed.parts.wing-skin", "a table where a mass is due; write"),
        ('"24 g"', '"0 g"', "weighed.parts.wing-skin", "0 is not above 0"),
        ('"wing-skin"', '"wing/skin"', 'weighed.parts."wing/skin"', 'has "/" in it'),
        ('{ "wing-skin" = "24 g", "Höcker" = "1/2 oz" }', '"24 g"', "weighed.parts", "a table of masses is due"),
        ('kind = "battery"', 'kind = "batery"', "aboard[0].kind", 'did you mean "battery"?'),
        ('kind = "battery"\n', "", "aboard[0].kind", "is missing; add it: what it is"),
        ("at = [22, 5]\n", "", "aboard[0].at", "is missing; add it: its middle"),
        ('name = "battery"', 'weight = "3 g"\nname = "battery"', "aboard[0].weight", 'write mass = "182 g"'),
        ('"105 x 34 x 24 mm"', '"105 x 34 mm"', "aboard[0].size", "is not 3 numbers with x between"),
        ('"105 x 34 x 24 mm"', '"105 x 34 x 24"', "aboard[0].size", "has no unit behind its last number"),
        ('"105 x 34 x 24 mm"', '"105 x 34 x 0 mm"', "aboard[0].size", "has a number that is not above 0"),
        ("slides = [20, 26]", "slides = [23, 26]", "aboard[0].slides", "does not hold its place, 132 mm along"),
        ("slides = [20, 26]", "slides = [26, 20]", "aboard[0].slides", "the higher number stands first"),
        ('[[22, 5], [50, "30 mm"]]', "[]", "aboard[0].may_sit", "an empty list where a list is due"),
        ('[[22, 5], [50, "30 mm"]]', "[" + "[1, 2], " * 21 + "]", "aboard[0].may_sit", "has 21 places; at most 20"),
        ("cells = 3", "cells = 15", "aboard[0].cells", "at most 14 are read"),
        ("cells = 3", "cells = 0", "aboard[0].cells", "less than 1"),
        ('"2200 mAh"', '"2.2 Ah"', "aboard[0].capacity", 'write "2200 mAh"'),
        ('"55 A"', '"25 C"', "aboard[0].current_limit", 'a multiple of the capacity; write "55 A", or less'),
        ('"55 A"', '"0 A"', "aboard[0].current_limit", "0 is not above 0"),
        ('"3.2 V"', '"9.6 V"', "aboard[1].cut_off", "9.6 V is more than one cell has; divide it"),
        ('lead = "100 mm"', "lead = 100", "aboard[0].lead", "100 has no unit"),
        ('feeds = "speed control"', 'feeds = "speed contrl"', "aboard[0].feeds", 'did you mean "speed control"?'),
        ('feeds = "speed control"', 'feeds = "battery"', "aboard[0].feeds", "is this thing itself"),
        ('feeds = "motor.hull"', 'feeds = "motor.wing"', "aboard[1].feeds", 'no motor "motor.wing"; did you mean "motor.hull"?'),
        ('feeds = "motor.hull"', 'feeds = "battery"', "aboard[1].feeds", '"battery" is of kind "battery"; write the name of a motor'),
        ("out = 9\n", "", "aboard[1].mirrored", "needs `out`"),
        ("out = 9\n", "out = -9\n", "aboard[1].out", "-54 mm is not above 0"),
        ("out = 9\n", "out = 900\n", "aboard[1].out", "5400 mm is more than 5,000 mm"),
        ("at = [22, 5]", "at = [22, 5000]", "aboard[0].at", "30000 mm is more than 10,000 mm"),
        ('kind = "battery"', 'kind = "motor"', "aboard[0].kind", "the motors of this design are [motor.hull]; write its mass there"),
        ('name = "speed control"', 'name = "battery"', "aboard[1].name", '"battery" is called aboard[0] already'),
        ('name = "battery"', 'name = "motor.hull"', "aboard[0].name", "is a motor of its own"),
    ],
)  # fmt: skip
def test_each_slip_is_told(old: str, new: str, key: str, words: str):
    """The refusal names the key, what was found, and what to do."""
    found = refused(changed(old, new, WHOLE))
    assert any(word in found[key] for word in words.split("|"))


@pytest.mark.parametrize("kind", [one for one in Carried if one is not Carried.MOTOR])
def test_keys_of_another_kind(kind: Carried):
    """What a thing of its kind does not have is refused in words; what it has is read."""
    own = {
        Carried.BATTERY: {"cells", "capacity", "current_limit", "feeds", "lead"},
        Carried.SPEED_CONTROL: {"current_limit", "cut_off", "feeds", "lead"},
        Carried.RECEIVER: {"lead"},
        Carried.SERVO: {"lead"},
    }.get(kind, set())
    keys = {
        "cells": "3", "capacity": '"2200 mAh"', "current_limit": '"20 A"', "cut_off": '"3 V"',
        "feeds": '"motor.hull"', "lead": '"90 mm"',
    }  # fmt: skip
    lines = "\n".join(f"{word} = {value}" for word, value in keys.items())
    found = refused(f'{PLANE}\n[[aboard]]\nname = "thing"\nkind = "{kind.value}"\nat = [1, 2]\n{lines}\n')
    assert set(found) == {f"aboard[0].{word}" for word in keys if word not in own}
    for text in found.values():
        assert f'not to "{kind.value}"; take it out' in text


def test_a_motor_without_a_table_of_its_own():
    """Where there is no [motor.name] a motor is carried like anything else, and may be fed."""
    plane = PLANE.split("[motor.hull]")[0]
    motor = (
        '[[aboard]]\nname = "engine"\nkind = "motor"\nmass = "52 g"\nat = [0, 5]\ncurrent_limit = "20 A"\n'
    )
    control = CONTROL.replace("motor.hull", "engine")
    setup = read(plane + motor + control).setup
    assert [(one.kind, one.feeds) for one in setup.aboard] == [
        (Carried.MOTOR, ""),
        (Carried.SPEED_CONTROL, "engine"),
    ]


def test_nothing_follows_from_what_was_refused():
    """A motor or thing that is refused is still known by its name to what feeds it."""
    text = changed("[motor.hull]\nahead", "[motor]\nhull = 3\n[motors.hull]\nahead", WHOLE)
    assert "aboard[1].feeds" not in refused(text)
    text = changed('name = "speed control"', 'nam = "speed control"', WHOLE)
    assert list(refused(text)) == ["aboard[1].name", "aboard[1].nam"]
    text = changed('role = "wing"', 'role = "wings"', WHOLE)
    assert list(refused(text)) == ["surface.wing.role"]
    text = changed("[surface.wing]\n", "[surface]\nwing = 3\n[surface.other]\n", WHOLE)
    assert "balance.target.mac" not in refused(text)


def test_all_slips_at_once_by_line():
    """Slips in several tables are told together."""
    text = WHOLE
    for old, new in (
        ('"55 A"', '"25 C"'),
        ("350 m", "9999 m"),
        ('"6.7 g/m"', "7"),
        ("cells = 3", "cells = 3.5"),
    ):
        text = changed(old, new, text)
    assert list(refused(text)) == [
        "aboard[0].cells",
        "aboard[0].current_limit",
        "site.altitude",
        "balance.glue",
    ]


def test_the_mark_of_the_balance_follows_the_target():
    """The share of the mean chord, unless the wing says where its mark is drawn."""
    (wing,) = read(WHOLE).airframe.surfaces
    assert wing.balance == 0.3
    own = changed('role = "wing"\n', 'role = "wing"\nbalance = "22 %"\n', WHOLE)
    assert read(own).airframe.surfaces[0].balance == 0.22
    off = changed('mac = "30 %"', "along = 39", own)
    assert read(off).setup.wishes.target == Target(key="balance.target", along_mm=234)
    assert read(PLANE).airframe.surfaces[0].balance == 0.25


def test_a_place_along_becomes_a_share():
    """Arithmetic: straight taper, c = 2/3 (a + b - a b / (a + b)), its leading edge at sweep (a + 2 b) / 3 (a + b)."""
    a, b, back = 34 * 6, 27 * 6, 6
    chord = 2 / 3 * (a + b - a * b / (a + b))
    leading = 40 * 6 + back * (a + 2 * b) / (3 * (a + b))
    (wing,) = read(changed('mac = "30 %"', "along = 50", WHOLE)).airframe.surfaces
    assert wing.balance == pytest.approx((300 - leading) / chord, abs=1e-12)


def test_a_share_without_a_wing():
    """A mean chord needs a wing; a place along does not."""
    text = GOOD + '[balance]\ntarget = { mac = "25 %" }\n'
    assert "there is no wing" in refused(text)["balance.target.mac"]
    assert read(changed('mac = "25 %"', "along = 5", text)).setup.wishes.target is not None


def test_too_many_things():
    """The limit is told by name."""
    thing = '[[aboard]]\nname = "n{}"\nkind = "other"\nat = [1, 2]\n'
    text = PLANE + "".join(thing.format(i) for i in range(201))
    assert refused(text) == {"aboard": "has 201 entries; at most 200 are read"}
    parts = ", ".join(f'p{i} = "1 g"' for i in range(1001))
    assert "at most 1,000" in refused(f"{PLANE}[weighed]\nparts = {{ {parts} }}\n")["weighed.parts"]


def test_changes_reach_what_is_carried():
    """What is tried is read like what stands in the file."""
    design = read_design(
        WHOLE.encode(), "design.toml", [("aboard[0].at[0]", "25"), ("aboard[0].mass", "150 g")]
    )
    assert (design.setup.aboard[0].at, design.setup.aboard[0].mass_g) == ((150, 30), 150)
