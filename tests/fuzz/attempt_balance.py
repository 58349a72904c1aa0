"""One attempt on the balance: a design goes in, a report or refusals come out, and all promises are looked at.

Everything that a builder must never meet is a fault, in words: an exception, a warning of numpy, a number that
is none or lies outside its own range, sums that are not those of the things listed, words with an exponent.
"""

import json
import math
import re
import time
import traceback
import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from xml.etree import ElementTree

from foamcut.draw.balance_pictures import balance_pictures
from foamcut.draw.values import Title
from foamcut.errors import Refused
from foamcut.findings import CODES
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Report
from foamcut.plan.balancing import Balanced, balance
from foamcut.plan.set_up import set_up_words
from foamcut.write import balance_json, picture_svg

#: put together here, so that this file does not hold the word itself
_CLEARANCE = "sa" + "fe"
LEAKS = re.compile(
    r"Traceback|object at 0x|\b(nan|inf|infinity|None|NoneType|TypeError|ValueError|KeyError|IndexError)\b"
    rf"|\d[eE][+-]?\d|(?<![\w.-])-0(\.0+)?(?![\w.])|{_CLEARANCE}",
)
UNITS = frozenset(
    [
        "",
        "g",
        "mm",
        "deg",
        "%",
        "dm2",
        "m/s",
        "N",
        "W",
        "A",
        "V",
        "min",
        "kg m2",
        "MPa",
        "N m",
        "g/dm2",
        "kg/m3",
        "rpm",
        "Wh",
        "W/kg",
    ]
)
#: seconds of one processor that a balance may take
SECONDS = 3.0
#: the centre of gravity against a sum of our own, mm
_SUM_MM = 0.01
_NAME = re.compile(r"[a-z][a-z0-9_]*")


@dataclass(frozen=True, kw_only=True)
class Weighed:
    """What became of one design; `faults` are empty when every promise held."""

    balanced: Balanced | None = None
    refused: bool = False
    faults: tuple[str, ...] = ()


def attempt_balance(data: bytes, name: str = "design.toml", **options: object) -> Weighed:
    """Balance a design and look at all that comes out; warnings count as exceptions."""
    began = time.process_time()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            found = balance(data, name, **options)  # type: ignore[arg-type]
            took = time.process_time() - began
            faults = tuple(_faults(found))
    except Refused as refused:
        words = [f"{one.key}: {one.text}" for one in refused.refusals]
        bad = [f"words that are not for a builder: {one[:300]}" for one in words if _odd_refusal(one)]
        if not words:
            bad.append("refused without a word")
        return Weighed(refused=True, faults=tuple(bad))
    except Exception as err:
        frames = traceback.extract_tb(err.__traceback__)
        ours = [one for one in frames if "/foamcut/" in one.filename] or list(frames)
        where = f"{ours[-1].filename.rsplit('/', 1)[-1]}:{ours[-1].lineno}"
        return Weighed(faults=(f"{type(err).__name__} at {where}: {str(err)[:300]}",))
    if took > SECONDS:
        faults += (f"took {took:.1f} s",)
    return Weighed(balanced=found, faults=faults)


def _odd_refusal(words: str) -> bool:
    """Names and values of the builder stand in quotes, and may be anything."""
    bare = re.sub(r'"[^"]*"', '""', words)
    return bool(re.search(r"Traceback|object at 0x|\b(None|NoneType|\w+Error)\b", bare)) or len(words) > 1500


def _faults(found: Balanced) -> Iterator[str]:
    report = found.report
    yield from _number_faults(report)
    yield from _item_faults(report)
    yield from _place_faults(report)
    yield from _finding_faults(found)
    yield from _screen_faults(found)
    yield from _set_up_faults(found)
    yield from _json_faults(found)
    yield from _picture_faults(found)


def _number_faults(report: Report) -> Iterator[str]:
    names = [one.name for one in report.numbers]
    if len(set(names)) != len(names):
        yield f"numbers given twice: {sorted({one for one in names if names.count(one) > 1})}"
    for one in report.numbers:
        if not _NAME.fullmatch(one.name):
            yield f"{one.name!r} is no name of a number"
        if one.unit not in UNITS:
            yield f"{one.name}: unit {one.unit!r}"
        bounds = [bound for bound in (one.low, one.high) if bound is not None]
        if not all(math.isfinite(value) for value in (one.value, *bounds)):
            yield f"{one.name}: {one.value} from {one.low} to {one.high}"
            continue
        slack = 1e-9 * max(1.0, abs(one.value))
        if one.low is not None and one.low > one.value + slack:
            yield f"{one.name}: {one.value!r} lies below {one.low!r}"
        if one.high is not None and one.high < one.value - slack:
            yield f"{one.name}: {one.value!r} lies above {one.high!r}"
        if not one.title.strip() or not one.source.strip():
            yield f"{one.name}: without a title or a source"
        if unknown := [row for row in one.assumed if row not in ASSUMED]:
            yield f"{one.name}: assumed {unknown}"
        for words in (one.title, one.usual, one.source):
            if LEAKS.search(re.sub(r'"[^"]*"', '""', words)):
                yield f"{one.name}: words that are not for a builder: {words[:200]}"


def _item_faults(report: Report) -> Iterator[str]:
    """Masses and places, and the centre of gravity as an exact sum (arithmetic: moments over masses)."""
    for one in report.items:
        numbers = [one.mass_g, one.low_g, one.high_g, *one.spread_mm2, *(one.at or ())]
        if not all(map(math.isfinite, numbers)):
            yield f"{one.name}: {numbers}"
            return
        if min(one.spread_mm2) < 0:
            yield f"{one.name}: spread {one.spread_mm2}"
        if not one.low_g - 1e-9 <= one.mass_g <= one.high_g + 1e-9:
            yield f"{one.name}: {one.mass_g} g lies outside {one.low_g} to {one.high_g}"
    mass = sum((Fraction(one.mass_g) for one in report.items), Fraction())
    told = report.number("mass_all_up")
    if (told is not None) != bool(report.items):
        yield "an all-up weight without things, or things without one"
    if told is not None and abs(told.value - float(mass)) > 1e-6 * max(1.0, float(mass)):
        yield f"all-up weight {told.value} g, the things weigh {float(mass)} g"
    placed = [(Fraction(one.mass_g), one.at) for one in report.items if one.at is not None]
    weight = sum((one for one, _ in placed), Fraction())
    if report.loaded is None:
        if weight > Fraction(1, 10**6):
            yield "things with places and no balance"
        return
    for axis, at in enumerate(report.loaded.at):
        own = sum((one * Fraction(place[axis]) for one, place in placed), Fraction()) / weight
        if abs(at - float(own)) > _SUM_MM:
            yield f"centre of gravity {at} mm on axis {axis}, by our own sum {float(own)} mm"
    turning = [one.value for one in report.numbers if one.name.startswith("inertia_")]
    if turning and min(turning) < 0:
        yield f"moments of inertia {turning}"


def _place_faults(report: Report) -> Iterator[str]:
    for row in report.places:
        numbers = [row.along_mm, *(value for _, *at in row.moved for value in at)]
        numbers += [one for one in (row.mean_chord_share, row.lead_mm, row.wire_g) if one is not None]
        if not all(map(math.isfinite, numbers)):
            yield f"a place of {row.moved}: {numbers}"
    if report.places:
        if sum(row.is_drawn for row in report.places) != 1 or not report.places[0].is_drawn:
            yield "not one place as drawn, first"
        if sum(row.is_best for row in report.places) > 1:
            yield "several best places"
        drawn = report.places[0]
        if report.loaded and abs(drawn.along_mm - report.loaded.at[0]) > _SUM_MM:
            yield f"as drawn it balances at {drawn.along_mm} mm in the table and {report.loaded.at[0]} mm beside"
    for throw in report.throws:
        if not all(map(math.isfinite, (throw.deg, throw.mm, throw.chord_mm))) or throw.mm < 0:
            yield f"throw of {throw.key}: {throw.mm} mm"


def _finding_faults(found: Balanced) -> Iterator[str]:
    for one in found.report.findings:
        if one.code not in CODES:
            yield f"code {one.code}"
        if not one.text.strip() or not one.where.strip():
            yield f"{one.code}: without a text or a place"
        for words in (one.text, one.value, one.range, one.source, one.mend):
            bare = re.sub(r'"[^"]*"', '""', words)
            if LEAKS.search(bare) or len(words) > 1500:
                yield f"{one.code}: words that are not for a builder: {words[:300]}"
    several = [(one.code, one.where, one.text) for one in found.report.findings]
    for row in sorted({row for row in several if several.count(row) > 1}):
        yield f"{row[0]} at {row[1]} told twice"


def _screen_faults(found: Balanced) -> Iterator[str]:
    for verbose in (False, True):
        shown = found.screen(verbose=verbose)
        for line in shown.splitlines():
            if LEAKS.search(re.sub(r'"[^"]*"', '""', line)):
                yield f"on the screen: {line[:200]}"
            if line != line.rstrip():
                yield f"spaces at the end of a line: {line[:200]!r}"
        yield from _ragged(found, shown)


def _set_up_faults(found: Balanced) -> Iterator[str]:
    for line in set_up_words(found.report, found.model, found.design.plan.units):
        if LEAKS.search(re.sub(r'"[^"]*"', '""', line)):
            yield f"set up: {line[:200]}"


def _ragged(found: Balanced, shown: str) -> Iterator[str]:
    """Numbers of the report whose last digits do not stand below each other."""
    titles = {one.title: one for one in found.report.numbers}
    ends: dict[int, str] = {}
    for line in shown.splitlines():
        match = re.match(r"  (\S.*?)  +(\S+)", line)
        if line.startswith(("THROWS", "PLACES", "THINGS")):
            break
        if match and match[1] in titles and found.before is None:
            ends.setdefault(len(line[: match.end()].rstrip("*")), line)
    if len(ends) > 1:
        yield f"ragged on the screen: {list(ends.values())[:2]}"


def _no_constant(name: str) -> None:
    raise ValueError(f"{name} is no JSON")


def _json_faults(found: Balanced) -> Iterator[str]:
    table = found.findings_table()
    text = balance_json.render(found.report, found.design_facts(), table).decode()
    read = json.loads(text, parse_constant=_no_constant)
    made = balance_json.document(found.report, found.design_facts(), table)
    if read != json.loads(json.dumps(made, allow_nan=False)):
        yield "balance.json reads back as something else"
    numbers = re.findall(r"(?<=[:,\[] )-?\d[\d.eE+-]*", re.sub(r'"(\\.|[^"\\])*"', '""', text))
    if odd := [one for one in numbers if re.search(r"[eE]", one) or re.fullmatch(r"-0(\.0*)?", one)]:
        yield f"balance.json has the numbers {odd[:3]}"


def _picture_faults(found: Balanced) -> Iterator[str]:
    plan = found.design.plan
    title = Title(
        name=plan.name,
        title=plan.title,
        revision=plan.revision,
        maker=plan.maker,
        licence=plan.licence,
        scale_text="1:1",
        tool=plan.tool.value,
        sketch_unit=plan.units,
        sketch_scale=plan.scale,
        version="0",
    )
    for picture in balance_pictures(found.report, found.model, found.design.setup, title):
        data = picture_svg.render(picture)
        root = ElementTree.fromstring(data)
        for node in root.iter():
            for key, value in node.attrib.items():
                if key != "font-family" and re.search(r"\b(nan|inf)\b|\d[eE][+-]\d", value):
                    yield f"a picture has {key}={value[:80]}"
            if node.text and LEAKS.search(re.sub(r'"[^"]*"', '""', node.text)):
                yield f"a picture says {node.text[:100]!r}"
