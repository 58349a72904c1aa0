"""The questions whose answers make a starter into the builder's own design, in the order of measuring.

A question stands for one number of the starter's text; its answer takes that number's place, as typed.
Nothing here asks: the command line does, and shows each answer at full size.
"""

import json
import re
import tomllib
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Any

from foamcut.design.arithmetic import SCALE
from foamcut.design.key_kinds import Range
from foamcut.design.measures import read_angle, read_scale, read_size
from foamcut.design.ranges import out_of_range
from foamcut.design.stocks import LONGEST_SHEET_MM
from foamcut.design.sums import SumError, Value, read_length, read_true_length, resolve_sizes
from foamcut.units import MM_PER, decimal_text, inch_text

#: that many questions are asked at most, the one for the ruler counted
MOST_QUESTIONS = 15
MOST_LETTERS = 100  # of an answer
_PLAIN = re.compile(r"-?(0|[1-9][0-9]{0,8})(\.[0-9]{1,9})?", re.ASCII)


class Due(Enum):
    """What a question asks for."""

    SCALE = "how many times full size is larger than the sketch"
    MEASURE = "a measure off the sketch, or a true size with its unit"
    TRUE = "a true size, with its unit"
    BOARD = "width x height of a board"
    ANGLE = "degrees"


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One number to be asked for: its words, the key that it stands under, what stands there now."""

    key: str
    words: str
    due: Due
    range: Range
    default: str


#: key, words, what is due, range
_ASKED: tuple[tuple[str, str, Due, Range], ...] = (
    ("sketch.scale", "Scale: one on the sketch is how many at full size", Due.SCALE, Range.ABOVE_0),
    ("sizes.t", "Board: its thickness, measured at four places", Due.TRUE, Range.ABOVE_0),
    ("stock.board", "Board: width x height as bought", Due.BOARD, Range.ABOVE_0),
    ("sizes.span", "Wing: span from tip to tip", Due.MEASURE, Range.ABOVE_0),
    ("sizes.root_chord", "Wing: chord beside the body", Due.MEASURE, Range.ABOVE_0),
    ("sizes.tip_chord", "Wing: chord at the tip", Due.MEASURE, Range.ABOVE_0),
    ("sizes.tip_back", "Wing: how much farther back its nose lies at the tip", Due.MEASURE, Range.ANY),
    ("surface.wing.dihedral", "Wing: degrees by which each half rises", Due.ANGLE, Range.LEAN),
    ("sizes.wing_at", "Wing: how far its leading edge lies behind the nose", Due.MEASURE, Range.ABOVE_0),
    ("sizes.length", "Body: length from nose to tail", Due.MEASURE, Range.ABOVE_0),
    ("sizes.width", "Body: outside width", Due.MEASURE, Range.ABOVE_0),
    ("sizes.height", "Body: height at the wing", Due.MEASURE, Range.ABOVE_0),
    ("sizes.tail_chord", "Tail: chord of the stabiliser beside the body", Due.MEASURE, Range.ABOVE_0),
    ("sizes.propeller", "Propeller: diameter", Due.TRUE, Range.ABOVE_0),
    ("sizes.long", "Box: length inside", Due.MEASURE, Range.ABOVE_0),
    ("sizes.wide", "Box: width inside", Due.MEASURE, Range.ABOVE_0),
    ("sizes.high", "Box: height", Due.MEASURE, Range.ABOVE_0),
)  # fmt: skip

#: what stands before and behind the number of a key in a starter's text
_PLACES = {
    "sketch.scale": r"(?m)^(scale = )([^#\n]+?)( *(?:#.*)?)$",
    "stock.board": r"(?m)^(sheets = \[ \{ size = )(\"[^\"]*\"[^}]*?)( \} \] *(?:#.*)?)$",
    "surface.wing.dihedral": r"(?m)^(dihedral = )([^#\n]+?)( *(?:#.*)?)$",
}


def _place(key: str) -> re.Pattern[str]:
    name = key.removeprefix("sizes.")
    return re.compile(_PLACES.get(key, rf"(?m)^({name} *= )(\"[^\"]*\"|[^#\n]+?)( *(?:#.*)?)$"))


def questions(text: str) -> tuple[Question, ...]:
    """The questions for a starter: those of its numbers that a builder measures, in order."""
    found = []
    for key, words, due, range_ in _ASKED:
        place = _place(key).search(text)
        if place is None:
            continue
        raw: Any = next(iter(tomllib.loads(f"x = {place[2].split(', mass')[0]}").values()))
        found.append(Question(key=key, words=words, due=due, range=range_, default=str(raw)))
    return tuple(found)


def answered(text: str, question: Question, typed: str) -> tuple[str, str]:
    """The text with the answer in it, and the answer at full size.

    Raises
    ------
    SumError
        The answer cannot stand there; the words say why and what to write.
    """
    typed = " ".join(typed.split())
    if len(typed) > MOST_LETTERS:
        raise SumError(f"{len(typed)} letters are too many for a number; write {MOST_LETTERS} or fewer")
    shown = _shown(tomllib.loads(text), question, typed)
    place = _place(question.key).search(text)
    if place is None:
        raise ValueError(f"no place for {question.key}")
    if typed == question.default:
        return text, shown
    number = typed if _PLAIN.fullmatch(typed) else json.dumps(typed, ensure_ascii=False)
    if question.due is Due.BOARD:
        number = json.dumps(typed, ensure_ascii=False)  # mass and price were those of another board
    behind = place[3].lstrip(" ")
    width = len(place[2]) + len(place[3]) - len(behind) - len(number)
    gap = " " * (1 if question.due is Due.BOARD else max(width, 1)) if behind else ""
    return f"{text[: place.start(2)]}{number}{gap}{behind}{text[place.end() :]}", shown


def _shown(design: dict[str, Any], question: Question, typed: str) -> str:
    """The answer in words, at full size; refused when it is none."""
    units = design["sketch"]["units"]
    scale = Fraction(read_scale(typed if question.due is Due.SCALE else design["sketch"][SCALE]))
    if question.due is Due.SCALE:
        one = decimal_text(float(scale), 4)
        return f"1 {units} on the sketch is {one} {units}"
    if question.due is Due.ANGLE:
        degrees = read_angle(_number(typed))
        return _within(degrees, question.range, "") or f"{decimal_text(degrees, 2)} degrees"
    if question.due is Due.BOARD:
        width, height = read_size(typed)
        if max(width, height) > LONGEST_SHEET_MM:
            raise SumError(
                f"a side of {decimal_text(max(width, height))} mm is over 5,000 mm; check its unit"
            )
        return f"{_both(width)} x {_both(height)}"
    return _length(typed, question, design["sizes"], scale, units)


def _length(typed: str, question: Question, raw: dict[str, Any], scale: Fraction, units: str) -> str:
    name = question.key.removeprefix("sizes.")
    sizes, _ = resolve_sizes(raw, scale, sketch_unit_mm=MM_PER[units])
    known: dict[str, Value] = {other: value for other, value in sizes.items() if not _uses(raw, other, name)}
    for word in re.findall(r"[a-z][a-z0-9_]*", typed):
        if word in sizes and word not in known:
            raise SumError(f'"{word}" hangs on this number itself; write a number')
    read = read_true_length if question.due is Due.TRUE else read_length
    try:
        mm = read(_number(typed), sizes=known, scale=scale, sketch_unit_mm=MM_PER[units])
    except SumError as err:
        raise SumError(str(err).replace("; add it there", f"; known are {', '.join(known)}")) from err
    _within(mm, question.range, " mm")
    is_measure = re.fullmatch(r"[-0-9 ./]+", typed)
    factor = f"{typed} {units} on the sketch x {decimal_text(float(scale), 4)} = " if is_measure else ""
    return f"{factor}{_both(mm)}"


def _uses(raw: dict[str, Any], other: str, name: str) -> bool:
    """Whether a size hangs on another one, or is that: a sum with it would go in a ring."""
    seen, due = set(), [other]
    while due:
        here = due.pop()
        if here == name:
            return True
        if here not in seen and isinstance(raw.get(here), str):
            due += re.findall(r"[a-z][a-z0-9_]*", raw[here])
        seen.add(here)
    return False


def _within(value: float, range_: Range, unit: str) -> str:
    if fault := out_of_range(value, range_, unit):
        raise SumError(fault)
    return ""


def _number(typed: str) -> Any:
    """What a plain number is in TOML; any other text stays one."""
    return json.loads(typed) if _PLAIN.fullmatch(typed) else typed


def _both(mm: float) -> str:
    return f"{decimal_text(mm, 2)} mm ({inch_text(mm)} in)"
