"""Hostile airframes: numbers, words and tables that a builder's slip may leave in surfaces, bodies and motors."""

import re
from dataclasses import dataclass

_STATIONS = 'span = "600 mm"\nroot_chord = "180 mm"\ntip_chord = "150 mm"\n'

AIRFRAME = f"""format = 1

[plan]
name = "glasswort"

[sketch]
units = "mm"
scale = 1

[stock.board]
material = "paper-faced foam board"
thickness = "5 mm"
sheets = [ {{ size = "1000 x 700 mm" }} ]

[stock.ply]
material = "birch plywood"
thickness = "1.5 mm"
sheets = [ {{ size = "300 x 200 mm" }} ]

[surface.wing]
role = "wing"
build = "folded"
stock = "board"
at = [150, 50]
{_STATIONS}spar = {{ layers = 2, width = "20 mm", behind_leading_edge = "40 mm" }}

[body.hull]
stock = "board"
width = "60 mm"
side = "0, 10, 50; 60, 0, 70; 600, 20, 60"
formers = [ {{ at = 40 }}, {{ at = 130 }} ]
hatch = [40, 130]

[motor.hull]
ahead = "30 mm"
firewall = {{ stock = "ply", width = "60 mm" }}
propeller = {{ diameter = "180 mm" }}

[[servo]]
drives = "rudder"
on = "hull.floor"
at = [400, 0]
size = "23 x 12 mm"
"""

_FORMERS = "formers = [ { at = 40 }, { at = 130 } ]"
_SIDE = '"0, 10, 50; 60, 0, 70; 600, 20, 60"'


@dataclass(frozen=True, slots=True, kw_only=True)
class HostileAirframe:
    """One slip: `text` is the design, `words` an expression in "key: text" of some refusal; none: it builds."""

    name: str
    text: str
    words: str | None


def _slip(name: str, words: str | None, *changes: tuple[str, str], more: str = "") -> HostileAirframe:
    text = AIRFRAME
    for old, new in changes:
        if old not in text:
            raise ValueError(f"{name}: {old!r} is not in the design")
        text = text.replace(old, new)
    return HostileAirframe(name=name, text=text + more, words=words)


def _table(kind: str, name: str) -> str:
    found = re.search(rf"^\[{kind}\..*?\n(?=\n)", AIRFRAME, re.MULTILINE | re.DOTALL)
    if not found:
        raise ValueError(kind)
    return "\n" + re.sub(r"^\[.*\]", f"[{kind}.{name}]", found.group())


def _listed(*rows: str) -> tuple[str, str]:
    return _STATIONS, "stations = [ " + ", ".join(f"{{ {row} }}" for row in rows) + " ]\n"


def _many(count: int, step: float, more: str = "") -> tuple[str, str]:
    return _listed(*(f"out = {i * step:.4f}, chord = 180{more}" for i in range(count)))


def _formers(count: int) -> tuple[str, str]:
    return _FORMERS, "formers = [ " + ", ".join(f"{{ at = {40 + i} }}" for i in range(count)) + " ]"


def _readings(count: int) -> tuple[str, str]:
    return _SIDE, '"' + "; ".join(f"{600 * i / (count - 1):.3f}, 0, 70" for i in range(count)) + '"'


def _board(thickness: str) -> tuple[str, str]:
    return 'thickness = "5 mm"', f'thickness = "{thickness}"'


_TIP = "out = 300, chord = 150"
_THING = '\n[[aboard]]\nname = "{0}"\nkind = "{1}"\nat = [100, 30]\n'
_BATTERY = _THING.format("pack", "battery")
_BALANCE = "\n[balance]\ntarget = {{ {} }}\n"

SLIPS = (
    _slip("as-it-stands", None),
    _slip("letters-of-other-scripts", None, ("[surface.wing]", '[surface."Flügel 2"]')),
    _slip("name-with-a-stroke", 'has "/" in it', ("[surface.wing]", '[surface."a/wing"]')),
    _slip("name-of-41-letters", "shorten it to 40", ("[surface.wing]", f"[surface.{'w' * 41}]")),
    _slip("body-called-as-a-surface", "a surface has the same name", ("[surface.wing]", "[surface.hull]")),
    _slip("part-called-as-a-former", "is also the name of a part made",
          more='\n[parts.hull-former-1]\nstock = "board"\nrectangle = [20, 20]\n'),
    _slip("span-nought", "surface.wing.span: 0 mm is not above 0", ('span = "600 mm"', "span = 0")),
    _slip("span-negative", "span: -600 mm is not above 0", ('span = "600 mm"', "span = -600")),
    _slip("span-of-a-hair", "from root to tip it is 0.005 mm", ('span = "600 mm"', 'span = "0.01 mm"')),
    _slip("span-of-a-street", "the way out to the tip comes to 150000 mm", ('span = "600 mm"', 'span = "300000 mm"')),
    _slip("scale-of-a-map", "farther than 10,000 mm from the nose", ("scale = 1", "scale = 1000")),
    _slip("chord-of-a-hangar", "the chord comes to 18000 mm", ('root_chord = "180 mm"', 'root_chord = "18000 mm"')),
    _slip("sweep-of-a-field", "leading edge comes to 9000 mm", (_STATIONS, _STATIONS + "tip_back = 9000\n")),
    _slip("chord-of-a-hair", "the rear face of the spar lies", ('tip_chord = "150 mm"', 'tip_chord = "0.1 mm"')),
    _slip("stations-a-nanometre-apart", r"stations\[2\]: lies 0 mm farther out",
          _listed("out = 0, chord = 180", "out = 150, chord = 180", 'out = "150.0000001 mm", chord = 180', _TIP)),
    _slip("stations-nearly-one", r"stations\[2\]: lies 6 mm farther out .* folded surface has 10 mm",
          _listed("out = 0, chord = 180", "out = 150, chord = 180", "out = 156, chord = 180", _TIP)),
    _slip("stations-inwards", "does not lie farther out", _listed("out = 0, chord = 180", _TIP, "out = 9, chord = 9")),
    _slip("station-alone", "fewer than two", _listed("out = 0, chord = 180")),
    _slip("stations-101", "has 101 entries; at most 100", _many(101, 10.0)),
    _slip("skin-that-jumps", "surface.wing", _listed(
        "out = 0, chord = 180", "out = 10, back = 900, chord = 180", "out = 20, back = -900, chord = 180", _TIP)),
    _slip("stations-201-in-all", "have 300 stations in all; at most 200", _many(100, 11.0),
          more="".join(_table("surface", f"w{i}").replace(*_many(100, 11.0)) for i in range(2))),
    _slip("surfaces-21", "has 21 tables; at most 20", more="".join(_table("surface", f"w{i}") for i in range(20))),
    _slip("bodies-11", "has 11 tables; at most 10", more="".join(_table("body", f"b{i}") for i in range(10))),
    _slip("motors-11", "has 11 tables; at most 10", more="".join(_table("motor", f"m{i}") for i in range(10))),
    _slip("dihedral-of-46-degrees", "not from -45 to 45", (_STATIONS, _STATIONS + "dihedral = 46\n")),
    _slip("angle-that-is-no-number", "nan is no number", (_STATIONS, _STATIONS + "angle = nan\n")),
    _slip("tip-higher-than-the-span", "more than 45 degrees", (_STATIONS, _STATIONS + "tip_height = 299\n")),
    _slip("layers-20", "rises from the nose at", ("layers = 2", "layers = 20")),
    _slip("layers-21", "at most 20 are read", ("layers = 2", "layers = 21")),
    _slip("layers-more-at-the-tip", "are more than the 2 at the root", ("layers = 2", "layers = 2, tip_layers = 3")),
    _slip("board-of-paper", "the sides are too thin to carry it", _board("0.3 mm")),
    _slip("board-of-a-beam", "the nose takes|less 2 boards", _board("40 mm")),
    _slip("aileron-over-a-station", r"across a station \(150 mm\)",
          _listed("out = 0, chord = 180", "out = 150, chord = 180", _TIP),
          ("[body.hull]", "aileron = { from = 60, to = 290, chord = 30, throw = 20 }\n\n[body.hull]")),
    _slip("aileron-backwards", "does not lie farther out than `from`",
          ("[body.hull]", "aileron = { from = 60, to = 40, chord = 30, throw = 20 }\n\n[body.hull]")),
    _slip("folded-keys-of-a-flat-wing", "belongs to a folded surface", ('build = "folded"', 'build = "flat"')),
    _slip("motor-on-a-flat-wing", "a wing motor needs a folded wing", ('on = "hull.floor"', 'on = "hull.side"'),
          ('build = "folded"', 'build = "flat"'),
          ('spar = { layers = 2, width = "20 mm", behind_leading_edge = "40 mm" }\n', ""),
          ("[motor.hull]", '[motor.hull]\non = "wing"\nout = 150')),
    _slip("motors-in-one-place", r"motor.two.out: the mount comes .* too near to that of \"one\"",
          more="".join(f'[motor.{n}]\non = "wing"\nout = 150\nahead = "60 mm"\nfirewall = {{ stock = "ply", width = "45 mm" }}\n'
                       'propeller = { diameter = "120 mm" }\n' for n in ("one", "two"))),
    _slip("motor-on-nothing", "there is no wing or body", ("[motor.hull]", '[motor.hull]\non = "hall"')),
    _slip("propeller-of-a-mill", "diameter comes to 18000 mm", ('diameter = "180 mm"', 'diameter = "18000 mm"')),
    _slip("former-twice", "inside former-1", (_FORMERS, "formers = [ { at = 40 }, { at = 40 } ]")),
    _slip("former-behind-the-tail", "former", (_FORMERS, "formers = [ { at = 40 }, { at = 5000 } ]")),
    _slip("formers-101", "has 101 entries; at most 100", _formers(101)),
    _slip("readings-1001", "at most 1,000", _readings(1001)),
    _slip("readings-backwards", "does not lie aft", (_SIDE, '"0, 0, 50; 600, 0, 50; 300, 0, 50"')),
    _slip("readings-upside-down", "does not lie above the bottom", (_SIDE, '"0, 50, 0; 600, 0, 50"')),
    _slip("side-of-a-needle", "nothing is left of the side|10 mm high", (_SIDE, '"0, 0, 0.0001; 600, 0, 0.0001"')),
    _slip("body-narrower-than-its-boards", "body.hull.width", ('width = "60 mm"\nside', 'width = "4 mm"\nside')),
    _slip("hatch-of-nothing", "nothing lies between the two", ("hatch = [40, 130]", "hatch = [40, 40]")),
    _slip("servo-on-former-99", 'no panel "former-99"', ("hull.floor", "hull.former-99")),
    _slip("servo-on-a-roof", '"roof" is no panel', ("hull.floor", "hull.roof")),
    _slip("servo-off-its-panel", "the servo's opening", ("at = [400, 0]", "at = [400, 90]")),
    _slip("things-aboard", None, more=_BATTERY + 'mass = "182 g"\ncells = 3\nfeeds = "motor.hull"\n'),
    _slip("things-of-one-name", r"aboard\[1\].name: .* is called aboard\[0\] already", more=_BATTERY * 2),
    _slip("things-201", "has 201 entries; at most 200", more="".join(_THING.format(i, "other") for i in range(201))),
    _slip("thing-of-many-places", "has 100 places; at most 20", more=_BATTERY + f"may_sit = [{'[1, 2], ' * 100}]\n"),
    _slip("thing-beyond-the-sea", "is more than 10,000 mm", more=_BATTERY.replace("100, 30", "100, 30000")),
    _slip("thing-nowhere", "nan is no number", more=_BATTERY.replace("100, 30", "nan, inf")),
    _slip("thing-that-is-none", "aboard.0.: 3 where a table is due", ("format = 1\n", "format = 1\naboard = [3]\n")),
    _slip("battery-for-itself", "is this thing itself", more=_BATTERY + 'feeds = "pack"\n'),
    _slip("battery-for-a-ghost", "there is no motor or speed control", more=_BATTERY + 'feeds = "motor."\n'),
    _slip("battery-for-a-letter", "cannot be printed", more=_BATTERY + 'feeds = "motor.\\u0000"\n'),
    _slip("controls-in-a-ring", 'is of kind "speed_control"; write the name of a motor',
          more=_THING.format("a", "speed_control") + 'feeds = "b"\n' + _THING.format("b", "speed_control") + 'feeds = "a"\n'),
    _slip("battery-of-a-ship", "over 1e6", more=_BATTERY + 'capacity = "99999999 mAh"\n'),
    _slip("battery-in-ampere-hours", 'write "2200 mAh"', more=_BATTERY + 'capacity = "2.2 Ah"\n'),
    _slip("battery-of-half-a-cell", "2.5 where a whole number is due", more=_BATTERY + "cells = 2.5\n"),
    _slip("size-of-a-thing-in-feet", None, more=_BATTERY + 'size = "1/4 ft x 1 in x 20 mm"\n'),
    _slip("slide-elsewhere", "does not hold its place", more=_BATTERY + "slides = [200, 300]\n"),
    _slip("motor-twice", "the motors of this design are .motor.hull.", more=_THING.format("m", "motor")),
    _slip("receiver-with-cells", "belongs to a thing of kind", more=_THING.format("r", "receiver") + "cells = 3\n"),
    _slip("mirrored-on-the-middle", "needs `out`", more=_BATTERY + "mirrored = true\n"),
    _slip("site-on-the-moon", "is not from -500 m to 9,000 m", more='\n[site]\naltitude = "384400000 m"\n'),
    _slip("site-in-the-oven", "is not from -60 to 60 degC", more='\n[site]\ntemperature = "220 degC"\n'),
    _slip("target-of-nothing", "none of mac, along is given", more=_BALANCE.format("")),
    _slip("target-off-the-wing", "lies off the mean chord", more=_BALANCE.format("along = -1e3")),
    _slip("target-on-the-wing", None, more=_BALANCE.format("along = 200")),
    _slip("target-of-a-wing-turned-over", "does not lie farther out",
          _listed("out = 0, chord = 180", "out = 0, chord = 180"), more=_BALANCE.format("along = 200")),
    _slip("load-of-nan", "nan is no number", more="\n[balance]\nload_factor = nan\n"),
    _slip("paint-by-the-ounce", 'write "61.03 g/m2"', more='\n[balance]\npaint = "0.2 oz/ft2"\n'),
    _slip("weighed-without-a-name", "the name is empty", more='\n[weighed]\nparts = { "" = "2 g" }\n'),
    _slip("weighed-names-of-a-mile", "has 300 letters", more=f"\n[weighed]\nparts = {{ {'p' * 300} = '2 g' }}\n"),
    _slip("inches-for-millimetres", "surface.wing|body.hull", ('units = "mm"', 'units = "in"')),
)  # fmt: skip
