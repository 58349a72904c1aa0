"""Random aeroplanes with all that a balance needs, as tables of a design: what is carried, site, wiring.

Most numbers are those of models; some are what a slip of the hand leaves: masses of a tonne, things larger
than the body, places in front of the nose.  Invented proportions.
"""

from collections.abc import Callable
from random import Random
from typing import Any

from tests.fuzz.random_airframes import random_airframe
from tests.fuzz.written import Mm, Size, Tables, measured, tables_of

KINDS = (
    "battery", "battery", "speed_control", "speed_control", "receiver", "servo", "wire", "gear", "paint", "ballast",
    "other", "motor",
)  # fmt: skip
_FEEDS = ("battery", "speed_control")
_LEADS = ("battery", "speed_control", "receiver", "servo")


def random_loads(seed: int) -> Tables:
    """The tables of a design: an aeroplane of any layout, and all that it carries."""
    rng = Random(seed)
    tables = tables_of(random_airframe(rng.randrange(10**6))[0])
    if rng.random() < 0.8:
        tables["stock"]["board"]["sheets"] = [{"size": Size((4900.0, 4900.0)), "mass": "8200 g"}]
    if rng.random() < 0.75:  # quicker than a folded one, and seldom refused
        _flat_wing(rng, tables)
    for _ in range(rng.choice((0, 0, 1, 1, 2))):
        rng.choice(LAYOUTS)(rng, tables)
    nasty = rng.choice((0.0, 0.0, 0.05, 0.3))
    _powered(rng, tables, nasty)
    if rng.random() < 0.6:
        tables["servo"] = [_servo(rng, tables)] if tables["body"].get("hull", {}).get("deck") else []
    count = rng.choice((0, 1, 3, 5, 5, 8, 8, 30 if nasty else 6))
    names = [f"thing {i}" if rng.random() < 0.9 else f'ding "{i}" µ {"x" * 60}' for i in range(count)]
    kinds = [rng.choice(KINDS) for _ in range(count)]
    if tables["motor"]:
        kinds = [one if one != "motor" else "other" for one in kinds]
    for name, kind in zip(names, kinds, strict=True):
        tables["aboard"].append(_thing(rng, tables, nasty, name, kind, names, kinds))
    _rest(rng, tables, nasty)
    return tables


# ---- layouts


def _flat_wing(_: Random, tables: Tables) -> None:
    """A wing of one board: it has room for any proportions."""
    for wing in tables["surface"].values():
        if wing["role"] == "wing":
            wing["build"] = "flat"
            for key in ("over_spar", "nose", "nose_height", "trailing_edge", "patches", "spar", "joiner"):
                wing.pop(key, None)
    tables["motor"] = {name: one for name, one in tables["motor"].items() if one["on"] == "hull"}


def _plain_body(_: Random, tables: Tables) -> None:
    """A body that nothing meets: no formers, deck or hatch."""
    for body in tables["body"].values():
        for key in ("formers", "deck", "hatch", "nose_doubler"):
            body.pop(key, None)


def _without(*names: str) -> Callable[[Random, Tables], None]:
    def leave_out(_: Random, tables: Tables) -> None:
        for name in names:
            tables["surface"].pop(name, None)
            tables["motor"] = {key: one for key, one in tables["motor"].items() if one["on"] != name}

    return leave_out


def _no_body(_: Random, tables: Tables) -> None:
    tables["body"] = {}
    tables["motor"] = {}


def _fin_only(rng: Random, tables: Tables) -> None:
    _no_body(rng, tables)
    tables["sketch"]["scale"] = 1
    _without("wing", "tail")(rng, tables)


def _foreplane(rng: Random, tables: Tables) -> None:
    _no_body(rng, tables)
    if "tail" in tables["surface"]:
        tables["surface"]["tail"]["at"] = [Mm(rng.uniform(-50, 60)), Mm(rng.uniform(20, 60))]


def _two_wings(rng: Random, tables: Tables) -> None:
    _flat_wing(rng, tables)
    _no_body(rng, tables)
    wing = tables["surface"].get("wing")
    if wing:
        x, z = wing["at"]
        upper = {key: one for key, one in wing.items() if key not in ("aileron", "elevon")}
        upper["at"] = [Mm(x.mm + rng.uniform(-80, 400)), Mm(z.mm + rng.choice((0.0, 120.0, 200.0)))]
        tables["surface"]["upper"] = upper


def _two_fins(rng: Random, tables: Tables) -> None:
    fin = tables["surface"].get("fin")
    if fin:
        x, z = fin["at"]
        tables["surface"]["fin2"] = {**fin, "at": [Mm(x.mm + rng.uniform(-300, 50)), Mm(z.mm - 60)]}


def _odd_wing(rng: Random, tables: Tables) -> None:
    """Panels, sweep, taper and dihedral far from what is usual."""
    _flat_wing(rng, tables)
    _plain_body(rng, tables)
    wing = tables["surface"].get("wing")
    if wing is None:
        return
    half, root = rng.choice((40.0, 150.0, 500.0, 1500.0)), rng.choice((60.0, 200.0, 600.0))
    taper, panels = rng.choice((0.05, 0.3, 1.0, 3.0)), rng.randint(1, 4)
    back, rise = half * rng.choice((-1.0, 0.0, 0.3, 1.0)), rng.choice((-40.0, -5.0, 0.0, 5.0, 20.0, 40.0))
    wing["stations"] = [
        {
            "out": Mm(half * i / panels),
            "back": Mm(back * i / panels),
            "chord": Mm(root * (1 + (taper - 1) * i / panels)),
            "dihedral": rise * rng.choice((1.0, 1.0, -1.0)),
        }
        for i in range(panels + 1)
    ]
    wing["angle"] = rng.choice((-45.0, -3.0, 0.0, 3.0, 45.0))
    for word in ("aileron", "elevon"):
        wing.pop(word, None)
    if rng.random() < 0.5 and panels == 1:
        wing["elevon"] = {
            "from": Mm(half * 0.3),
            "to": Mm(half * 0.9),
            "chord": Mm(root * taper * 0.2),
            "throw": 20,
        }


def _other_scale(rng: Random, tables: Tables) -> None:
    tables["sketch"]["scale"] = rng.choice((0.1, 0.3, 0.7, 1.5, 3, 8))


def _tail_near(rng: Random, tables: Tables) -> None:
    """A stabiliser or fin that lies in, or just behind, the wing."""
    _no_body(rng, tables)
    wing = tables["surface"].get("wing")
    for name in ("tail", "fin"):
        if wing and name in tables["surface"]:
            x, z = wing["at"]
            tables["surface"][name]["at"] = [
                Mm(x.mm + rng.uniform(-50, 300)),
                Mm(z.mm + rng.choice((0.0, 0.0, 30.0))),
            ]


LAYOUTS: tuple[Callable[[Random, Tables], None], ...] = (
    _flat_wing, _without("tail"), _without("fin"), _without("tail", "fin"), _without("wing"), _no_body, _fin_only,
    _foreplane, _two_wings, _two_fins, _odd_wing, _odd_wing, _odd_wing, _other_scale, _tail_near,
)  # fmt: skip


# ---- what is carried


def _powered(rng: Random, tables: Tables, nasty: float) -> None:
    for motor in tables["motor"].values():
        if motor["on"] == "hull":
            motor["firewall"]["width"] = Mm(tables["body"]["hull"]["width"].mm, true=True)
        motor["mass"] = _some(rng, 0.8, lambda: _mass(rng, nasty))
        motor["power"] = _some(rng, 0.7, lambda: measured(_wide(rng, nasty, 30, 400, -1, 5), "W"))
        motor["speed_constant"] = _some(
            rng, 0.7, lambda: measured(_wide(rng, nasty, 500, 2500, 0, 5), "rpm/V")
        )
        motor["current_limit"] = _some(rng, 0.5, lambda: measured(_wide(rng, nasty, 5, 40, -1, 4), "A"))
        disc = motor["propeller"]["diameter"].mm
        motor["propeller"] |= {
            "pitch": _some(rng, 0.8, lambda disc=disc: Mm(round(disc * rng.uniform(0.2, 1.3), 1), true=True)),
            "blades": rng.choice((None, 1, 2, 3, 8)),
            "mass": _some(rng, 0.5, lambda: _mass(rng, nasty)),
            "turns": rng.choice(
                (None, "inwards", "outwards") if motor["on"] == "wing" else (None, "right", "left")
            ),
        }


def _servo(rng: Random, tables: Tables) -> Tables:
    body = tables["body"]["hull"]
    begins, ends = body["deck"]["top"][0].mm + 22, body["formers"][-1]["at"].mm - 22
    return {
        "drives": rng.choice(("rudder", "elevator", "aileron")),
        "on": rng.choice(("hull.deck", "hull.deck", "hull.floor")),
        "at": [Mm(round(rng.uniform(begins, ends), 1)), Mm(rng.choice((0.0, 5.0, -5.0)))],
        "size": Size((23.0, 12.0)),
        "mass": rng.choice((None, "9 g")),
        "lead": rng.choice((None, Mm(150.0, true=True))),
    }


def _some(rng: Random, chance: float, made: Callable[[], Any]) -> Any:
    return made() if rng.random() < chance else None


def _wide(rng: Random, nasty: float, low: float, high: float, least: float, most: float) -> float:
    """Mostly from low to high; sometimes any power of ten from `least` to `most`."""
    value = 10 ** rng.uniform(least, most) if rng.random() < nasty else rng.uniform(low, high)
    return round(value, 4)


def _mass(rng: Random, nasty: float) -> str:
    return measured(max(_wide(rng, nasty, 5, 150, -3, 6), 0.001), "g")


def _place(rng: Random, tables: Tables, nasty: float) -> list[Mm]:
    if tables["body"] and rng.random() > nasty:
        side = tables["body"]["hull"]["side"]
        return [Mm(round(side[-1][0].mm * rng.uniform(0.05, 0.95), 1)), Mm(round(rng.uniform(15, 60), 1))]
    return [Mm(round(rng.uniform(-300, 1500), 1)), Mm(round(rng.uniform(-200, 300), 1))]


def _thing(
    rng: Random, tables: Tables, nasty: float, name: str, kind: str, names: list[str], kinds: list[str]
) -> Tables:
    at = _place(rng, tables, nasty)
    mirrored = rng.random() < 0.15
    thing: Tables = {
        "name": name,
        "kind": kind,
        "mass": _some(rng, 0.85, lambda: _mass(rng, nasty)),
        "size": _some(rng, 0.7, lambda: Size(tuple(_wide(rng, nasty, 8, 90, 0, 3.6) for _ in range(3)))),
        "at": at,
        "out": Mm(round(rng.uniform(1, 25), 1))
        if mirrored
        else rng.choice((None, Mm(8.0), Mm(-8.0), Mm(-300.0))),
        "mirrored": True if mirrored else None,
    }
    if rng.random() < 0.3:
        ahead, behind = rng.choice((0.0, 1.0, 30.0, 300.0)), rng.choice((0.0, 20.0, 200.0))
        thing["slides"] = [Mm(at[0].mm - ahead), Mm(at[0].mm + behind + (0.0 if ahead + behind else 1.0))]
    if rng.random() < 0.25:
        count = rng.choice((1, 2, 3, 20))
        thing["may_sit"] = [_place(rng, tables, nasty) for _ in range(count)]
    if kind == "battery":
        thing["cells"] = _some(
            rng, 0.85, lambda: rng.randint(1, 14) if rng.random() < nasty else rng.randint(2, 4)
        )
        thing["capacity"] = _some(rng, 0.85, lambda: measured(_wide(rng, nasty, 500, 3000, 0, 6), "mAh"))
    if kind == "speed_control":
        thing["cut_off"] = _some(rng, 0.5, lambda: measured(round(rng.uniform(2.5, 4.5), 2), "V"))
    if kind in ("battery", "speed_control", "motor"):
        thing["current_limit"] = _some(rng, 0.7, lambda: measured(_wide(rng, nasty, 10, 60, -2, 4), "A"))
    if kind in _LEADS:
        thing["lead"] = _some(rng, 0.6, lambda: Mm(_wide(rng, nasty, 50, 400, 0, 3.9), true=True))
    if kind in _FEEDS:
        due = ("motor", "speed_control") if kind == "battery" else ("motor",)
        known = [f"motor.{one}" for one in tables["motor"]]
        known += [one for one, what in zip(names, kinds, strict=True) if what in due and one != name]
        if known and rng.random() < 0.75:
            thing["feeds"] = rng.choice(known)
    return thing


def _rest(rng: Random, tables: Tables, nasty: float) -> None:
    """Site, targets, wiring, what was weighed, dowels."""
    if rng.random() < 0.5:
        tables["site"] = {
            "altitude": _some(rng, 0.7, lambda: measured(rng.choice((-500, 0, 350, 2000, 9000)), "m")),
            "temperature": _some(rng, 0.7, lambda: measured(rng.choice((-60, -5, 15, 35, 60)), "degC")),
        }
    if rng.random() < 0.7:
        has_wing = "wing" in tables["surface"]
        mac = f"{rng.choice((0, 20, 25, 30, 40, 100))} %"
        tables["balance"] = {
            "target": rng.choice((None, {"mac": mac} if has_wing else None)),
            "load_factor": rng.choice((None, 1, 4, 6, 20)),
            "paint": rng.choice((None, None, "0 g/m2", "60 g/m2", "5000 g/m2")),
            "glue": rng.choice((None, None, "0 g/m", "6.7 g/m", "100 g/m")),
        }
    if rng.random() < 0.4:
        tables["wiring"] = {
            "packs": rng.choice((None, "together", "apart")),
            "joined": rng.choice((None, True, False)),
        }
    if rng.random() < 0.2:
        tables["weighed"] = {
            "model": {
                "mass": _mass(rng, nasty) if rng.random() < 0.3 else measured(rng.randint(300, 2000), "g"),
                "along": _some(rng, 0.6, lambda: Mm(rng.uniform(100, 500))),
            },
            "parts": rng.choice((None, None, {"hull-side": "12 g"})) if tables["body"] else None,
        }
    if tables["body"] and rng.random() < 0.3:
        x = tables["body"]["hull"]["side"][-1][0].mm
        tables["dowel"] = [
            {
                "on": "hull",
                "at": [[Mm(x * 0.45), Mm(20.0)]],
                "diameter": Mm(6.0, true=True),
                "proud": Mm(12.0, true=True),
            }
        ]
