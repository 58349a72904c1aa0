"""All faults of a text that is no TOML: tomllib's first one, and those behind it that the syntax tree finds.

tomllib stops at its first fault. Behind it the tree's faulty lines are looked at one by one, because a tree
stumbles on after a first fault; keys given twice come from the tree with both lines.
"""

from __future__ import annotations

import re
import tomllib

from foamcut.design.keys import key_of
from foamcut.design.letters import Shape, TextFault
from foamcut.design.lines import KeyLines
from foamcut.design.slips import NOT_CLOSED, READING_OUTSIDE, explain

_PLACE = re.compile(r"\s*\(at (?:line (?P<line>\d+), column \d+|end of document)\)$")
_STATEMENT = re.compile(r"\s*(?:\[+\s*[A-Za-z_\"']|[\w.\"'-]+\s*=)", re.ASCII)
# where a list is open its items look like headings: one stands at the line's beginning, alone
_SURE_STATEMENT = re.compile(r"\[{1,2}[^\[\],=]+\]{1,2}\s*(?:#.*)?$|\s*[\w.\"'-]+\s*=", re.ASCII)
_MAX_OTHERS = 100
_MAX_LOOKED_AT = 5000  # lines: each costs a reading of its own
_LONG_LINE = 10_000  # letters: such a line is not looked at on its own


def syntax_faults(text: str, message: str, shape: Shape, lines: KeyLines) -> list[TextFault]:
    """Return every fault of a text that tomllib refuses with ``message``: that one, and those behind it."""
    all_lines = text.split("\n")
    place = _PLACE.search(message)
    message = message[: place.start()] if place else message
    at = int(place["line"]) if place and place["line"] else len(text.rstrip().split("\n"))
    at = min(at, len(all_lines))
    at_end = not (place and place["line"])
    if shape.open_text_line and shape.open_text_line <= at:
        words = "three quotes open a text here that is never closed; write three quotes behind it"
        return [TextFault(shape.open_text_line, "", words)]
    left_open = _left_open_behind(all_lines, at, shape)
    told = {at, *(fault.line for fault in left_open)}
    if message.startswith("Cannot"):
        others = [*_others(all_lines, at, told, shape, lines), *left_open]
        return [*(_clashes(lines) or [TextFault(at, "", explain(all_lines[at - 1], message))]), *others]
    if at_end and (opened := shape.open_at_end()):
        return [TextFault(opened[-1], "", _NEVER_CLOSED)]
    if opener := _left_open(all_lines[at - 1], message, at, shape):
        return [TextFault(opener, "", _not_closed_before(at))]
    faults = [TextFault(at, "", explain(all_lines[at - 1], message))]
    faults += _others(all_lines, at, told, shape, lines)
    faults += left_open
    if any(fault.line and all_lines[fault.line - 1].lstrip().startswith("[") for fault in faults):
        return faults  # below a broken heading keys fall into the table before and seem to be there twice
    return [*faults, *_clashes(lines)]


def _clashes(lines: KeyLines) -> list[TextFault]:
    """Return the keys given twice; where a whole table is, its heading stands for the keys in it."""
    tables = {path: second for path, _, second in lines.clashes}
    return [
        TextFault(second, key_of(path), f"is given in line {first} already; keep one of the two")
        for path, first, second in lines.clashes
        if not any(first < tables.get(path[:end], 0) <= second for end in range(1, len(path)))
    ]


def _others(
    all_lines: list[str], at: int, told_lines: set[int | None], shape: Shape, lines: KeyLines
) -> list[TextFault]:
    """Return the faults in lines behind ``at``.

    Of stray readings, which come in heaps, one is enough; so is the first line of a list told already.
    """
    told_lines = set(told_lines)
    faults: list[TextFault] = []
    told = explain(all_lines[at - 1], "")
    behind = _behind_text(all_lines, at)
    for number in lines.faulty_lines()[:_MAX_LOOKED_AT]:
        if number < behind or number > len(all_lines) or shape.in_long_text(number):
            continue
        line, opened = all_lines[number - 1], shape.open_brackets(number)
        if told_lines.isdisjoint(opened) and (message := _fault_alone(line, inside=bool(opened))):
            told_lines.add(number)
            words = explain(line, message)
            if not (words.startswith(READING_OUTSIDE) and READING_OUTSIDE in told):
                faults.append(TextFault(number, "", words))
            told += words
        if len(faults) == _MAX_OTHERS:
            break
    return faults


_NEVER_CLOSED = "the bracket opened here is never closed; close it"


def _not_closed_before(line: int) -> str:
    return f"the bracket opened here is not closed before line {line}; close it"


def _left_open_behind(all_lines: list[str], at: int, shape: Shape) -> list[TextFault]:
    """Return the first list or table behind ``at`` that is not closed where the next statement begins."""
    for number, line in enumerate(all_lines[at:], at + 1):
        opened = shape.open_brackets(number)
        if opened and opened[0] > at and _SURE_STATEMENT.match(line) and not shape.in_long_text(number):
            return [TextFault(opened[-1], "", _not_closed_before(number))]
    opened = shape.open_at_end()
    return [TextFault(opened[-1], "", _NEVER_CLOSED)] if opened and opened[0] > at else []


def _left_open(line: str, message: str, at: int, shape: Shape) -> int | None:
    """Return the line of a bracket that was to be closed before the line that tomllib stumbled over."""
    opened = shape.open_brackets(at)
    if opened and opened[-1] < at and (message.startswith("Unclosed") or _STATEMENT.match(line)):
        return opened[-1]
    return None


def _behind_text(all_lines: list[str], at: int) -> int:
    """Return the line from which on faults are looked for behind line ``at``.

    Behind a text that is not closed the lines up to the next statement were meant to be in it.
    """
    number = at + 1
    if explain(all_lines[at - 1], _fault_alone(all_lines[at - 1], inside=False)).startswith(NOT_CLOSED):
        while number <= len(all_lines) and not _STATEMENT.match(all_lines[number - 1]):
            number += 1
    return number


def _fault_alone(line: str, *, inside: bool) -> str:
    """Return what tomllib says of a line on its own, or nothing; ``inside`` a list it is tried as an item."""
    if len(line) > _LONG_LINE or not line.strip(" \t[]{},\"'" if inside else " \t\"'"):
        return ""
    try:
        tomllib.loads(f"x = [\n{line}\n]" if inside else line)
    except tomllib.TOMLDecodeError as err:
        message = _PLACE.sub("", str(err))
        if message.startswith("Unterminated") and ('"""' in line or "'''" in line):
            return ""  # a text begins here and goes on
        unfinished = ("Unclosed",) if inside else ("Unclosed", "Invalid value")
        return "" if message.startswith(unfinished) and line.rstrip().endswith(("[", ",")) else message
    except (ValueError, RecursionError):
        return ""
    return ""
