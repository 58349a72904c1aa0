"""Slips of the pen in TOML, explained: a faulty line and tomllib's message in, what to write instead out."""

from __future__ import annotations

import re
from typing import NamedTuple

from foamcut.design.literals import quoted


class _Slip(NamedTuple):
    pattern: re.Pattern[str]
    words: str  # {1} stands for the first group, which is shown in quotes


def _slip(pattern: str, words: str) -> _Slip:
    return _Slip(re.compile(pattern, re.ASCII), words)


_NAME = r"""(?:[\w-]+|"[^"]*"|'[^']*')"""
_KEY = rf"^\s*{_NAME}(?:\s*\.\s*{_NAME})*+"
_UNIT = r"(?:mm|cm|m|in|ft|deg|g|kg|oz|lb|%)"
_BARE = r"(?:^|[=,\[{]\s*)"  # where a value begins

READING_OUTSIDE = "a reading stands outside a text"

# Tried in order on the line without its texts in quotes and its comment; the first that fits is shown.
_SLIPS = (
    _slip("[“”„‟«»‘’]", 'curly quotes are not read; write straight ones: "text"'),
    _slip("[\u00a0\u2000-\u200f\u202f\u2060\ufeff]", "there is a special space; type an ordinary one"),
    _slip(r"^\s*(//|/\*|--|;|%)", "a comment begins with #, not with {1}"),
    _slip(
        r"^\s*(-?[\d.][\d./ ]*[, \t]\s*-?[\d.].*)$",
        READING_OUTSIDE + ': {1}; three quotes are missing above, or too many',
    ),
    _slip(r"^\s*\[\[[^\]]*\](?!\])", 'the heading of a list ends with two brackets: "[[name]]"'),
    _slip(r"^\s*\[\s*\]+", 'the heading has no name; write "[name]"'),
    _slip(r"^\s*\[{1,2}[^\]=]*$", 'the heading is not closed; write "]" behind its name'),
    _slip(
        r"^\s*\[{1,2}\s*[\w.-]+[ \t]+[^\]=]*\]",
        'a name with a space stands in quotes: [parts."left wing"]',
    ),
    _slip(r"=.*\S[ \t]*(//|/\*|--|;)[ \t]*[^\s#]", "a comment begins with #, not with {1}"),
    _slip(
        r"\[[^\[\]{}=]*,\s*([A-Za-z_][\w-]*)\s*=",
        "a list before {1} is not closed; write ] behind its last number",
    ),
    _slip(r"=\s*\(", "a list stands in square brackets: [1, 2]; a sum stands in quotes"),
    _slip(_KEY + r"\s*(:=|:)", 'write "=" between a key and its value, not {1}'),
    _slip(_KEY + r"\s*(==+|=>|=\s*=)", 'write one "=" between a key and its value'),
    _slip(_KEY + r"\s*=\s*$", "there is no value behind =; write one, or take the line out"),
    _slip(r"^\s*=", "there is no key before =; write one"),
    _slip(r"^\s*([A-Za-z]\w*(?:[ \t]+\w+)+)\s*=", "a key is one word; write _ for the spaces in {1}"),
    _slip(_BARE + r"(True|TRUE|False|FALSE|yes|no|Yes|No|on|off)\b", "{1} is no value; write true or false"),
    _slip(
        rf"=\s*(-?\d+,\d+)(?:\s*{_UNIT})?\s*(?=$|[,}}])",
        "{1} has a comma; the decimal sign is a full stop",
    ),
    _slip(_BARE + rf"([-\d./ ]*\d\s*{_UNIT})(?!\w)", "a number with a unit stands in quotes: write {1}"),
    _slip(
        _BARE + r"(-?\d+[ \t]+\d+/\d+|-?\d+[ \t]*/[ \t]*\d+)",
        "a fraction stands in quotes, as all sums do: write {1}",
    ),
    _slip(_BARE + r"(-?\.\d+)", "{1} lacks the 0 before its full stop"),
    _slip(_BARE + r"(-?\d+\.)(?!\d)", "{1} lacks a digit behind its full stop"),
    _slip(_BARE + r"(-?0\d+)", "{1} begins with a 0 too many"),
    _slip(r"\{[^}]*,\s*\}", "the last comma before } is one too many; take it out"),
    _slip(r"^[^\[\]]*\{[^}]*$", "a table in { } stands on one line; close it on the line it begins in"),
    _slip(r"\d\s+-?[\d.]", "there is a comma missing between two numbers"),
    _slip(r"[}\]]\s*[{\[]", "there is a comma missing between two items"),
    _slip(r"\w\s*(;)$", "the ; at the end is not wanted; take it out"),
    _slip(r"^\s*[\w-]+\s*$", 'a key needs a value: "key = value"'),
    _slip(
        r"^\s*([A-Za-z][\w-]*)[ \t]+(?:-?[\d.]|[A-Za-z]|\"\"|\[)[^=]*$",
        'there is no "=" behind {1}; write "key = value"',
    ),
    _slip(
        _BARE + r"((?!(?:true|false|inf|nan)\b)[A-Za-z_][\w +*/().-]*?)\s*(?=$|[,\]}])",
        "a text or a sum stands in quotes: write {1}",
    ),
)

_MAX_LETTERS = 500  # of a line are searched: patterns may take the square of it
NOT_CLOSED = "a text is not closed; write the same quotes at its end as at its beginning"
_OPENED_ALONE = _slip(
    r"""(?<!["'])["']\s*$""", 'a text of several lines begins and ends with three quotes: """'
)
_PLAIN_WORDS = (
    ("Unterminated string", NOT_CLOSED),
    ("Illegal character '\\n'", NOT_CLOSED),
    ('Expected "\'"', NOT_CLOSED),
    ("Unescaped '\\'", "a backslash between \"...\" means something else; write the text between '...'"),
    ("Escaped character", "a code with a backslash names no letter; write the letter itself"),
    ("Invalid hex value", "a code with a backslash lacks digits; write the letter itself"),
    ("Invalid date", "there is no such day or time; write a date as 2031-04-02"),
    ("Unclosed array", "a comma or the closing ] is missing; write it"),
    ("Unclosed inline table", "a comma or the closing } is missing; write it"),
    ("Duplicate inline table key", "a key stands twice between { and }; keep one of the two"),
    ("Expected '='", 'there is no "=" behind the key; write "key = value"'),
    ("Expected newline", "there is something behind the value; write one key a line, and texts in quotes"),
    ("Invalid value", "the value cannot be read; write a number, or a text in quotes"),
    ("Invalid statement", 'this is neither "[heading]" nor "key = value"; write one of them, or # before it'),
    ("Invalid initial character", "a key is missing, or has a sign that needs quotes; write it in quotes"),
    ("Expected ']", 'the heading is not closed; write "]" behind its name'),
    ("Cannot", "this is given above already; keep one of the two"),
)
_NOT_CLOSED_MESSAGES = tuple(begin for begin, words in _PLAIN_WORDS if words is NOT_CLOSED)
_OF_TEXTS = tuple(begin for begin, _ in _PLAIN_WORDS[:6])


def explain(line: str, message: str) -> str:
    """Return what is wrong with a line of a design and what to do.

    ``message`` is tomllib's own; it is shown where neither it nor a slip is known.
    """
    outside = _outside_quotes(line[:_MAX_LETTERS])
    for slip in () if message.startswith(("Cannot", *_OF_TEXTS)) else _SLIPS:
        if found := slip.pattern.search(outside):
            typed = quoted(found[1].strip(), 40) if found.lastindex else ""
            return slip.words.replace("{1}", typed) + _shown(line)
    if message.startswith(_NOT_CLOSED_MESSAGES) and _OPENED_ALONE.pattern.search(outside):
        return NOT_CLOSED + "; " + _OPENED_ALONE.words
    plain = next((words for begin, words in _PLAIN_WORDS if message.startswith(begin)), "")
    return (plain or f"{message or 'this is no TOML'}; mend the line or take it out") + _shown(line)


def _shown(line: str) -> str:
    # without quotes round it: a line that lacks one of its own would seem to have it
    shown = quoted(line.strip(), 60)[1:-1]
    return f". The line: {shown}" if shown else ""


_PIECES = re.compile(r"""(?P<text>"(?:[^"\\]|\\.)*+"|'[^']*+')|(?P<comment>\#.*)|(?P<other>.)""")


def _outside_quotes(line: str) -> str:
    """Return a line with its closed texts as ``""`` and without its comment."""
    pieces = _PIECES.finditer(line)
    return "".join('""' if piece["text"] else piece["other"] or "" for piece in pieces).rstrip(" \t")
