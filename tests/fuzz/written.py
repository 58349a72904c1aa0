"""Aeroplanes as tables of a design, and such tables as the text of a design file, in mm or in inches."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from foamcut.airframe.values import Body, Build, Control, Inputs, Motor, Role, Surface

Tables = dict[str, Any]

#: tables that stand by name under another, and tables that stand in a list
_NAMED, _LISTED = ("stock", "surface", "body", "motor"), ("servo", "dowel", "aboard")
_MM_PER_INCH = 25.4


@dataclass(frozen=True, slots=True)
class Mm:
    """A length that is read off the sketch; `true`: it is written with its unit."""

    mm: float
    true: bool = False


@dataclass(frozen=True, slots=True)
class Size:
    """Several lengths with x between and a unit."""

    mm: tuple[float, ...]


def text_of(tables: Mapping[str, Any], units: str = "mm") -> str:
    """The design file; a sketch of scale 1 unless the tables say otherwise."""
    lines = ["format = 1"]
    for name, table in tables.items():
        if name in _NAMED:
            for inner, rows in table.items():
                lines += ["", f"[{name}.{inner}]", *_rows(rows, units)]
        elif name in _LISTED:
            for rows in table:
                lines += ["", f"[[{name}]]", *_rows(rows, units)]
        else:
            lines += ["", f"[{name}]", *_rows(table, units)]
    return "\n".join(lines) + "\n"


def _rows(table: Mapping[str, Any], units: str) -> Iterator[str]:
    for key, value in table.items():
        if value is not None:
            yield f"{key} = {_value(value, units)}"


def _value(value: Any, units: str) -> str:
    if isinstance(value, Mm):
        number = _number(value.mm if units == "mm" else value.mm / _MM_PER_INCH)
        return f'"{number} {units}"' if value.true else number
    if isinstance(value, Size):
        several = [one if units == "mm" else one / _MM_PER_INCH for one in value.mm]
        return f'"{" x ".join(map(_number, several))} {units}"'
    if isinstance(value, Mapping):
        rows = (f"{_key(key)} = {_value(one, units)}" for key, one in value.items() if one is not None)
        return "{ " + ", ".join(rows) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_value(one, units) for one in value) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False)
    return _number(value)


def _key(key: str) -> str:
    return key if key.isidentifier() else json.dumps(key)


def _number(value: float) -> str:
    """Digits without an exponent, as a design has them."""
    text = f"{value:.10f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text


def measured(value: float, unit: str) -> str:
    """A mass, a current and so on."""
    return f"{_number(value)} {unit}"


def tables_of(inputs: Inputs) -> Tables:
    """The tables of an aeroplane that is given as values; stocks come from the materials it names."""
    return {
        "plan": {"name": "reed-bunting"},
        "sketch": {"units": "mm", "scale": 1},
        "stock": _stocks(inputs),
        "surface": {one.name: _surface(one) for one in inputs.surfaces},
        "body": {one.name: _body(one) for one in inputs.bodies},
        "motor": {one.name: _motor(one) for one in inputs.motors},
        "servo": [],
        "dowel": [],
        "aboard": [],
    }


def _stocks(inputs: Inputs) -> Tables:
    board = next(iter((*inputs.bodies, *inputs.surfaces))).material
    large = Size(tuple(one + 6.0 for one in board.boards_mm[0]))
    return {
        "board": {
            "material": "paper-faced foam board",
            "thickness": Mm(board.thickness_mm, true=True),
            "sheets": [{"size": large, "mass": "158 g"}],
        },
        "ply": {
            "material": "birch plywood",
            "thickness": Mm(1.5, true=True),
            "sheets": [{"size": Size((300.0, 200.0)), "mass": "61 g"}],
        },
        "card": {
            "material": "card",
            "thickness": Mm(0.8, true=True),
            "sheets": [{"size": Size((420.0, 297.0))}],
        },
    }


def _surface(one: Surface) -> Tables:
    spar, joiner = one.spar, one.joiner
    made: Tables = {
        "role": one.role.value,
        "build": one.build.value,
        "stock": one.material.name,
        "at": [Mm(one.at[0]), Mm(one.at[1])],
        "angle": one.angle_deg if one.role is not Role.FIN else None,
        "stations": [
            {
                "out": Mm(station.out_mm),
                "back": Mm(station.back_mm),
                "chord": Mm(station.chord_mm),
                "dihedral": station.dihedral_deg if one.role is not Role.FIN else None,
            }
            for station in one.stations
        ],
        **{control.word: _control(control) for control in one.controls},
    }
    if one.build is Build.FOLDED and spar is not None:
        made |= {
            "over_spar": one.over_spar.value,
            "nose": one.nose.value,
            "nose_height": None if one.nose_height_mm is None else Mm(one.nose_height_mm, true=True),
            "trailing_edge": one.trailing_edge.value,
            "patches": one.patches.name if one.patches else None,
            "spar": {
                "layers": spar.layers,
                "width": Mm(spar.width_mm, true=True),
                "behind_leading_edge": Mm(spar.behind_mm, true=True),
                "run": spar.run.value,
                "tip_layers": spar.tip_layers,
            },
        }
    if joiner is not None:
        made["joiner"] = {
            "stock": joiner.material.name,
            "count": joiner.count,
            "length": Mm(joiner.length_mm, true=True),
        }
    return made


def _control(one: Control) -> Tables:
    return {
        "from": Mm(one.from_mm),
        "to": Mm(one.to_mm),
        "chord": Mm(one.chord_mm),
        "throw": one.throw_deg,
        "horn": one.horn.name if one.horn else None,
    }


def _pair(several: tuple[float, ...] | None) -> list[Mm] | None:
    return None if several is None else [Mm(one) for one in several]


def _body(one: Body) -> Tables:
    return {
        "stock": one.material.name,
        "width": Mm(one.width_mm),
        "side": [[Mm(row.along_mm), Mm(row.bottom_mm), Mm(row.top_mm)] for row in one.side],
        "corners": one.corners.value,
        "build": one.build.value,
        "formers": [{"at": Mm(former.at_mm), "opening": _pair(former.opening_mm)} for former in one.formers],
        "deck": None if one.deck_mm is None else {"top": _pair(one.deck_mm)},
        "hatch": _pair(one.hatch_mm),
        "nose_doubler": _pair(one.nose_doubler_mm),
    }


def _motor(one: Motor) -> Tables:
    lean = {"outwards": one.outwards_deg} if one.on_wing else {"right": one.right_deg}
    return {
        "on": one.on,
        "ahead": Mm(one.ahead_mm, true=True),
        "clearance": None if one.clearance_mm is None else Mm(one.clearance_mm, true=True),
        "firewall": {
            "stock": one.firewall.material.name,
            "width": Mm(one.firewall.width_mm, true=True),
        },
        "propeller": {"diameter": Mm(one.propeller.diameter_mm, true=True)},
        "thrust": {**lean, "down": one.down_deg},
    }
