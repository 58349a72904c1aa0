"""Damages to balance.json and its pictures."""

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

from breakage import Collection, NotApplicableError, edit_text, load, store
from pack_balance import BALANCE
from pack_balance_pictures import SIDE, SPEEDS, WEIGHTS

BREAKAGES = Collection()


def _document(folder: Path) -> Any:
    if not (folder / BALANCE).exists():
        raise NotApplicableError("no balance")
    return load(folder, BALANCE)


def _changed(folder: Path, change: Callable[[Any], None]) -> None:
    document = _document(folder)
    change(document)
    store(folder, document, BALANCE)


def _number(document: Any, name: str) -> dict[str, Any]:
    return next(one for one in document["numbers"] if one["name"] == name)


def _placed(document: Any) -> dict[str, Any]:
    return max((one for one in document["items"] if one["at"] is not None), key=lambda one: one["mass_g"])


@BREAKAGES.add("a balance of another version", r"balance.json: version is 2")
def _version(folder: Path) -> None:
    _changed(folder, lambda document: document.update(version=2))


@BREAKAGES.add("a balance of another design", r"balance.json: design: is not that of layout.json")
def _design(folder: Path) -> None:
    _changed(folder, lambda document: document["design"].update(revision="Z9"))


@BREAKAGES.add("an all-up mass 0.1 % off", r"balance.json: mass_all_up is .*, the things weigh")
def _mass(folder: Path) -> None:
    document = _document(folder)
    one = _number(document, "mass_all_up")
    one.update(value=round(one["value"] * 1.001, 2), low=None, high=None)
    store(folder, document, BALANCE)


@BREAKAGES.add("a centre of gravity 0.05 mm off", r"balance.json: cg_along is .*, the things have it at")
def _along(folder: Path) -> None:
    document = _document(folder)
    one = _number(document, "cg_along")
    one.update(value=round(one["value"] + 0.05, 3), low=None, high=None)
    store(folder, document, BALANCE)


@BREAKAGES.add("a centre of gravity on the other side", r"balance.json: cg_out is .*, the things have it at")
def _out(folder: Path) -> None:
    document = _document(folder)
    one = _number(document, "cg_out")
    one.update(value=one["value"] + 1, low=None, high=None)
    store(folder, document, BALANCE)


@BREAKAGES.add("a thing moved by 10 mm", r"balance.json: cg_along is .*, the things have it at")
def _moved(folder: Path) -> None:
    document = _document(folder)
    one = _placed(document)
    one["at"] = [one["at"][0] + 10, *one["at"][1:]]
    store(folder, document, BALANCE)


@BREAKAGES.add("a thing left out", r"balance.json: mass_all_up is .*, the things weigh")
def _lost(folder: Path) -> None:
    _changed(folder, lambda document: document["items"].remove(_placed(document)))


@BREAKAGES.add("a number left out", r"balance.json: the number mass_all_up is not there")
def _number_lost(folder: Path) -> None:
    _changed(folder, lambda document: document["numbers"].remove(_number(document, "mass_all_up")))


@BREAKAGES.add("a number twice", r"balance.json: number cg_along stands 2 times")
def _twice(folder: Path) -> None:
    _changed(folder, lambda document: document["numbers"].append(_number(document, "cg_along")))


@BREAKAGES.add("a number outside its range", r"balance.json: number cg_along: .* is not from")
def _range(folder: Path) -> None:
    document = _document(folder)
    one = _number(document, "cg_along")
    one["low"] = one["value"] + 1
    store(folder, document, BALANCE)


@BREAKAGES.add("a number without its source", r"balance.json: numbers\[0\]\.source .*not a text that says")
def _source(folder: Path) -> None:
    _changed(folder, lambda document: document["numbers"][0].update(source=""))


@BREAKAGES.add("rows of usual values for a flag", r"balance.json: numbers\[0\]\.assumed .*not true or false")
def _assumed(folder: Path) -> None:
    _changed(folder, lambda document: document["numbers"][0].update(assumed=["servo"]))


@BREAKAGES.add("a number of seven digits", r"balance.json: number 1\.234567 has more than 6 digits")
def _digits(folder: Path) -> None:
    _written(folder, "1.234567")


@BREAKAGES.add("a number with an exponent", r"balance.json: number 1e2 is written with an exponent")
def _exponent(folder: Path) -> None:
    _written(folder, "1e2")


@BREAKAGES.add("no number for a number", r"balance.json: NaN is no JSON number")
def _nan(folder: Path) -> None:
    _written(folder, "NaN")


def _written(folder: Path, token: str) -> None:
    """Put a token in the place of the first value of the numbers."""
    value = _document(folder)["numbers"][0]["value"]
    edit_text(folder, BALANCE, f'"value": {json.dumps(value)},', f'"value": {token},')


@BREAKAGES.add("an item of two numbers for a place", r"balance.json: items\[[0-9]+\]\.at has 2 entries")
def _flat(folder: Path) -> None:
    def change(document: Any) -> None:
        one = _placed(document)
        one["at"] = one["at"][:2]

    _changed(folder, change)


@BREAKAGES.add("a way to place things that balances elsewhere", r"balance.json: places\[1\]: balances at")
def _way(folder: Path) -> None:
    document = _document(folder)
    if len(document.get("places", ())) < 2:
        raise NotApplicableError("nothing may be moved")
    document["places"][1]["along"] += 1
    store(folder, document, BALANCE)


@BREAKAGES.add("two ways as drawn", r"balance.json: places: 2 ways are those drawn")
def _two_drawn(folder: Path) -> None:
    document = _document(folder)
    if len(document.get("places", ())) < 2:
        raise NotApplicableError("nothing may be moved")
    document["places"][1]["is_drawn"] = True
    store(folder, document, BALANCE)


@BREAKAGES.add("a throw that its angle does not give", r"balance.json: throw of .* are due")
def _throw(folder: Path) -> None:
    document = _document(folder)
    if not document.get("throws"):
        raise NotApplicableError("no throws")
    document["throws"][0]["mm"] += 0.5
    store(folder, document, BALANCE)


@BREAKAGES.add("a finding of no level", r"balance.json: findings\[0\]\.level is 'severe'")
def _level(folder: Path) -> None:
    document = _document(folder)
    if not document["findings"]:
        raise NotApplicableError("no findings")
    document["findings"][0]["level"] = "severe"
    store(folder, document, BALANCE)


@BREAKAGES.add("a picture left out", r"balance-weights.svg: is missing")
def _picture_lost(folder: Path) -> None:
    _document(folder)
    (folder / WEIGHTS).unlink()


@BREAKAGES.add("a picture that loads something", r"balance-side.svg: has a .*image")
def _loads(folder: Path) -> None:
    _pictured(folder, "</svg>", '<image href="x.png" /></svg>')


@BREAKAGES.add("a picture of another size", r"balance-side.svg: its width and height are not")
def _size(folder: Path) -> None:
    _pictured(folder, 'viewBox="0 0 ', 'viewBox="0 0 1')


@BREAKAGES.add("a picture that promises too much", r"balance-side.svg: does not say that these are estimates")
def _promise(folder: Path) -> None:
    _pictured(folder, "Estimates from", "Results of")


@BREAKAGES.add("a line that runs out of its picture", r"balance-side.svg: a line runs out of the picture")
def _line(folder: Path) -> None:
    _pictured(folder, 'd="M', 'd="M-5 5 L')


@BREAKAGES.add("a text outside its picture", r"balance-side.svg: a text stands outside the picture")
def _text(folder: Path) -> None:
    _pictured(folder, '<text x="', '<text x="99')


@BREAKAGES.add("a side view with another balance", r"balance-side.svg: does not say that cg_along")
def _other_balance(folder: Path) -> None:
    _retold(folder, SIDE, "mm|in")


@BREAKAGES.add("bars with another sum", r"balance-weights.svg: does not say that mass_all_up")
def _other_mass(folder: Path) -> None:
    _retold(folder, WEIGHTS, "g|oz")


@BREAKAGES.add("a bar of another speed", r"balance-speeds.svg: does not say that stall_speed")
def _other_speed(folder: Path) -> None:
    _retold(folder, SPEEDS, "m/s")


def _retold(folder: Path, name: str, units: str) -> None:
    """Say another number wherever one of these units stands behind it."""
    _document(folder)
    words = (folder / name).read_text("utf-8")
    (folder / name).write_text(re.sub(rf"[0-9.]+ ({units})\b", r"0.3 \1", words), "utf-8")


@BREAKAGES.add("a picture that is no SVG", r"balance-side.svg: the picture cannot be read")
def _torn(folder: Path) -> None:
    _pictured(folder, "</svg>", "")


def _pictured(folder: Path, old: str, new: str) -> None:
    if not (folder / SIDE).exists():
        raise NotApplicableError("no side view")
    edit_text(folder, SIDE, old, new)
