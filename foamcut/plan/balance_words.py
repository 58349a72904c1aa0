"""The balance of a design on a screen: aligned columns, in the units of its sketch, sources when asked for.

Values stay in the units of `foamcut.flight.figures.Number`; `foamcut.flight.amounts` turns them into inches,
ounces and miles an hour.
"""

import textwrap
from collections.abc import Iterator, Sequence
from itertools import groupby

from foamcut.flight.amounts import amount, assumed_names, unit_word
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Group, Number, Report
from foamcut.units import decimal_text

#: places of the table of places that are shown; all stand in the pack
_MOST_PLACES = 8
_FROM_TO = (
    "from-to: what usual values (*) and the kind of section leave open; given masses are taken as given"
)
#: letters in a line of what is assumed
_WIDE = 100
#: what a builder asks first, so that it goes on one screen; the rest is shown with the sources
# fmt: off
SHOWN_FIRST = frozenset(
    [
        "mass_all_up", "mass_airframe", "cg_along", "cg_mean_chord", "balance_target_along",
        "battery_along_target", "wing_area", "wing_span", "wing_aspect_ratio", "mean_chord",
        "mean_chord_leading", "tail_area_share", "fin_area_share", "neutral_point_lattice",
        "neutral_point_formula", "static_margin", "tail_volume", "fin_volume", "spiral_parameter",
        "roll_authority", "elevator_at_stall", "wing_loading", "cube_loading", "stall_speed",
        "approach_speed", "flight_speed", "thrust_total", "thrust_to_weight", "power_per_mass",
        "pitch_speed_ratio", "current_total", "flight_time", "control_speed", "load_factor",
        "wing_margin", "joiner_margin", "tip_deflection",
    ]
)
# fmt: on


def screen(report: Report, before: Report | None, units: str, *, verbose: bool) -> str:
    """All that is said of a balance but its findings, for people whose ruler reads `units` (mm or in).

    `before`: the balance of the design as it stands, where `report` is that of a changed one.
    """
    lines = [*_numbers(report, before, units, verbose=verbose)]
    if lines:
        lines += ["", _FROM_TO]
    if report.throws:
        lines += ["", *_throws(report, before, units)]
    if len(report.places) > 1 and not before:
        lines += ["", *_places(report, units)]
    if verbose:
        lines += ["", *_items(report, units)]
    if names := assumed_names(report.numbers, report):
        lines += ["", *_assumed(names, verbose=verbose)]
    return "\n".join(lines) + "\n"


def _numbers(report: Report, before: Report | None, units: str, *, verbose: bool) -> Iterator[str]:
    """The numbers under their headings; `before`: those of the design as it stands, in their own column."""
    known = {number.name for number in report.numbers}
    gone = [] if before is None else [one for one in before.numbers if one.name not in known]
    order = {group: i for i, group in enumerate(dict.fromkeys(one.group for one in report.numbers))}
    shown = [
        one
        for one in (*report.numbers, *gone)
        if one.group is not Group.THROWS and (verbose or one.name in SHOWN_FIRST)
    ]
    several = sorted(shown, key=lambda one: order.get(one.group, len(order)))
    heads = ("", "as it is", "changed", "", "from-to") if before else ("", "", "", "from-to")
    rows = {one.name: _row(one, report, before, units) for one in several}
    widths = [max(map(len, column)) for column in zip(heads, *rows.values(), strict=True)]
    for i, (group, members) in enumerate(groupby(several, key=lambda one: one.group)):
        if i:
            yield ""
        yield _line((group.value.upper(), *heads[1:]), widths, indent=0) if not i else group.value.upper()
        for one in members:
            yield _line(rows[one.name], widths, indent=2)
            if verbose:
                yield from _sources(one)


def _row(one: Number, report: Report, before: Report | None, units: str) -> tuple[str, ...]:
    def written(number: Number | None) -> str:
        if number is None:
            return "- "
        return amount(number.value, number.unit, units) + ("*" if number.assumed else " ")

    now = report.number(one.name)
    bounds = ""
    if now is not None and now.low is not None and now.high is not None and now.low != now.high:
        bounds = f"{amount(now.low, one.unit, units)} to {amount(now.high, one.unit, units)}"
    columns = [written(before.number(one.name))] if before else []
    return (one.title, *columns, written(now), unit_word(one.unit, units), bounds)


def _line(cells: Sequence[str], widths: Sequence[int], *, indent: int) -> str:
    """Titles and units to the left, values to the right; the last column is as long as it is."""
    title, *values, unit, bounds = cells
    middle = "  ".join(f"{value:>{width}}" for value, width in zip(values, widths[1:-2], strict=True))
    return (
        f"{' ' * indent}{title:<{widths[0] + 2 - indent}}  {middle} {unit:<{widths[-2]}}  {bounds}".rstrip()
    )


def _throws(report: Report, before: Report | None, units: str) -> Iterator[str]:
    """Every control surface in a line: each way, at the trailing edge, at its widest."""
    old = {(one.surface, one.word): one for one in before.throws} if before else {}
    yield "THROWS, each way, at the trailing edge where it is widest"
    for one in report.throws:
        here = f"{amount(one.mm, 'mm', units)} {unit_word('mm', units)}, {one.deg:g} deg"
        was = old.get((one.surface, one.word))
        said = f" (as it is {amount(was.mm, 'mm', units)}, {was.deg:g} deg)" if was and was != one else ""
        yield f"  {one.word} of {one.surface}: {here}{said}"


def _sources(one: Number) -> Iterator[str]:
    if one.usual:
        yield from _wrapped(f"usual: {one.usual}", "      ")
    yield from _wrapped(f"by: {one.source}", "      ")


def _places(report: Report, units: str) -> Iterator[str]:
    """The table of places of what may be moved, as drawn first."""
    names = list(dict.fromkeys(name for row in report.places for name, _, _ in row.moved))
    mm, g = unit_word("mm", units), unit_word("g", units)
    heads = [f"{name} at, {mm}" for name in names] + [f"balance, {mm}", "mean chord, %"]
    with_leads = any(row.lead_mm is not None for row in report.places)
    heads += [f"leads, {mm}", f"wire, {g}"] if with_leads else []
    rows = []
    for row in report.places[:_MOST_PLACES]:
        at = {name: f"{amount(x, 'mm', units)} / {amount(z, 'mm', units)}" for name, x, z in row.moved}
        share = "-" if row.mean_chord_share is None else decimal_text(100 * row.mean_chord_share, 1)
        cells = [at.get(name, "-") for name in names] + [amount(row.along_mm, "mm", units), share]
        if with_leads:
            cells += [
                "-" if row.lead_mm is None else amount(row.lead_mm, "mm", units),
                "-" if row.wire_g is None else amount(row.wire_g, "g", units),
            ]
        word = ("as drawn" if row.is_drawn else "") + (" nearest to the target" if row.is_best else "")
        rows.append((*cells, word.strip()))
    widths = [max(map(len, column)) for column in zip((*heads, ""), *rows, strict=True)]
    yield "PLACES, along / up" + (
        "; leads: all that is wired from there, its wire stands in no weight" * with_leads
    )
    for *values, word in ((*heads, ""), *rows):
        row_text = "  ".join(f"{cell:>{width}}" for cell, width in zip(values, widths, strict=False))
        yield f"  {row_text}  {word}".rstrip()
    if len(report.places) > _MOST_PLACES:
        yield f"  and {len(report.places) - _MOST_PLACES} more, in balance.json of the pack"


def _items(report: Report, units: str) -> Iterator[str]:
    """Every thing that was weighed, like ones together, the heaviest first."""
    mm, g = unit_word("mm", units), unit_word("g", units)
    yield f"THINGS ({g}; along, out, up in {mm})"
    several = sorted(report.items, key=lambda item: (-round(item.mass_g, 3), item.name))
    sources = {source: f"({i})" for i, source in enumerate(dict.fromkeys(one.source for one in several), 1)}
    rows = []
    for item in several:
        at = ("-", "-", "-") if item.at is None else tuple(amount(one, "mm", units) for one in item.at)
        rows.append((item.name, amount(item.mass_g, "g", units), *at, sources[item.source]))
    if not rows:
        return
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for name, *numbers, source in rows:
        cells = "  ".join(f"{v:>{w}}" for v, w in zip(numbers, widths[1:5], strict=True))
        yield f"  {name:<{widths[0]}}  {cells}  {source}"
    for source, number in sources.items():
        yield from _wrapped(f"{number} {source}", "  ")


def _assumed(names: Sequence[str], *, verbose: bool) -> Iterator[str]:
    """What was taken from the table of usual values, in a paragraph, or with sources in a line each."""
    rows = [ASSUMED[name] for name in names]
    said = [f"{row.what} {f'{row.value:g} {row.unit}'.strip()}" for row in rows]
    if verbose:
        yield "* ASSUMED, since the design does not say: usual value (from-to); its source"
        for words, row in zip(said, rows, strict=True):
            yield from _wrapped(f"{words} ({row.low:g} to {row.high:g}); {row.source}", "  ")
    else:
        yield "* ASSUMED, since the design does not say (-v: from-to and source)"
        yield from textwrap.wrap("; ".join(said), _WIDE, initial_indent="  ", subsequent_indent="  ")


def _wrapped(words: str, indent: str) -> list[str]:
    """Words in lines, those after the first set in deeper."""
    return textwrap.wrap(words, _WIDE, initial_indent=indent, subsequent_indent=f"{indent}    ")
