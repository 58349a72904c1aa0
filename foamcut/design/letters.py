"""A design file before it is TOML: bytes become letters, and what no reader of TOML should get is refused.

Knows encodings, line ends, control characters, and where brackets and texts begin and end; no keys or values.
"""

from __future__ import annotations

import codecs
import re
from bisect import bisect_right
from typing import NamedTuple, NoReturn

MAX_BYTES = 2_000_000
MAX_NESTING = 50
MAX_DIGITS_IN_A_ROW = 1000
SAVE_AS_UTF8 = 'save it as UTF-8 (most editors: "save as", then "encoding")'


class TextFault(NamedTuple):
    """One refusal of the first step: line from 1 or None, key or nothing, what is wrong and what to do."""

    line: int | None
    key: str
    text: str


class TextErrors(Exception):
    """The bytes are no design; ``refusals`` holds every fault found, by line."""

    def __init__(self, refusals: tuple[TextFault, ...]) -> None:
        super().__init__("; ".join(f"{fault.line or '-'}: {fault.text}" for fault in refusals))
        self.refusals = refusals


_MARKS = (  # the longer ones first: the mark of UTF-32 begins with that of UTF-16
    (codecs.BOM_UTF32_LE, "UTF-32"),
    (codecs.BOM_UTF32_BE, "UTF-32"),
    (codecs.BOM_UTF16_LE, "UTF-16"),
    (codecs.BOM_UTF16_BE, "UTF-16"),
)
_MAX_BAD_LINES = 20


def decoded(data: bytes) -> str:
    """Return the letters of a file with line feeds only and without a byte-order mark.

    Raises TextErrors for a file that is too large, empty, not UTF-8, or has the line ends of old Macintoshes.
    """
    if len(data) > MAX_BYTES:
        _stop(f"the file has {len(data):,} bytes, over {MAX_BYTES:,} (2 MB); take out what is not needed")
    for mark, name in _MARKS:
        if data.startswith(mark):
            _stop(f"the file is {name}; {SAVE_AS_UTF8}")
    if _looks_like_utf16(data):
        _stop(f"the file is UTF-16; {SAVE_AS_UTF8}")
    data = data.removeprefix(codecs.BOM_UTF8)
    try:
        text = data.decode()
    except UnicodeDecodeError:
        raise TextErrors(tuple(_bad_lines(data))) from None
    text = text.replace("\r\n", "\n")
    if "\r" in text and "\n" not in text:
        _stop("the lines end with carriage returns alone; save the file with Unix or Windows line ends", 1)
    if not text.strip():
        _stop('the file is empty; "foamcut new FILE" writes one to begin with')
    return text


def _stop(text: str, line: int | None = None) -> NoReturn:
    raise TextErrors((TextFault(line, "", text),))


def _looks_like_utf16(data: bytes) -> bool:
    """UTF-16 without a mark: every other byte of western text is 0."""
    head = data[:400]
    return len(head) >= 4 and max(head[::2].count(0), head[1::2].count(0)) > len(head) * 0.35


def _bad_lines(data: bytes) -> list[TextFault]:
    faults: list[TextFault] = []
    for number, line in enumerate(data.split(b"\n"), 1):
        try:
            line.decode()
        except UnicodeDecodeError as err:
            byte = f"byte {err.start + 1} of the line ({line[err.start]:02X} hexadecimal) is not UTF-8"
            faults.append(TextFault(number, "", f"{byte}; {SAVE_AS_UTF8}"))
        if len(faults) == _MAX_BAD_LINES:
            break
    return faults


_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")


def letter_faults(text: str) -> list[TextFault]:
    """Return the control characters that TOML forbids everywhere, one refusal a line."""
    if not _CONTROL.search(text):
        return []
    faults = []
    for number, line in enumerate(text.split("\n"), 1):
        if found := _CONTROL.search(line):
            name = "a carriage return" if found[0] == "\r" else f"a control character (U+{ord(found[0]):04X})"
            faults.append(TextFault(number, "", f"{name} in column {found.start() + 1}; take it out"))
    return faults


# Every alternative matches in one go and never gives back (possessive): the time grows with the length only.
_KEY_STEP = r"""(?:[A-Za-z0-9_-]++|"(?:[^"\\\n]|\\[^\n])*+"|'[^'\n]*+')[ \t]*+\.[ \t]*+"""
_TOKEN = re.compile(
    rf"(?P<dotted>(?:{_KEY_STEP}){{{MAX_NESTING},}}+)"
    r'|(?P<long>"""(?:\\.|[^\\"]|"(?!""))*+(?:"{3,5}|\Z)'
    r"|'''(?:[^']|'(?!''))*+(?:'{3,5}|\Z))"
    r'|(?P<short>"(?:\\[^\n]|[^"\\\n])*+"?'
    r"|'[^'\n]*+'?)"
    r"|(?P<comment>\#[^\n]*+)"
    r"|(?P<word>[A-Za-z0-9_+-]++)"
    r"|(?P<open>[\[{])|(?P<close>[\]}])",
    re.DOTALL | re.ASCII,
)


class Shape:
    """Where brackets and long texts of a TOML text begin and end, found without reading its values."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._line_starts = [0, *(found.end() for found in re.finditer("\n", text))]
        self._brackets: list[tuple[int, bool]] = []  # offset, opens?
        self._long_words: list[tuple[int, int]] = []
        self._long_texts: list[tuple[int, int]] = []  # first and last line
        self._open_at: list[tuple[int, ...]] | None = None
        self._open_end: tuple[int, ...] = ()
        self.faults: list[TextFault] = []
        self.too_deep = False
        self.open_text_line: int | None = None  # of a text in three quotes that is never closed
        self._scan()

    def line_at(self, offset: int) -> int:
        """Return the line (from 1) of a letter."""
        return bisect_right(self._line_starts, offset)

    def open_brackets(self, line: int) -> tuple[int, ...]:
        """Return the lines of the brackets that are still open where a line begins, the outermost first."""
        if self._open_at is None:
            self._open_at = self._open_by_line()
        return self._open_at[min(line, len(self._open_at)) - 1]

    def open_at_end(self) -> tuple[int, ...]:
        """Return the lines of the brackets that are never closed, the outermost first."""
        self.open_brackets(1)
        return self._open_end

    def _open_by_line(self) -> list[tuple[int, ...]]:
        """Return, line by line, the lines of brackets open at its beginning; a heading ends with its line."""
        opened: list[int] = []
        by_line: list[tuple[int, ...]] = []
        brackets = iter([*self._brackets, (len(self._text) + 1, False)])
        offset, opens = next(brackets)
        for start in self._line_starts:
            while offset < start:
                if opened and self._in_heading(opened[0], offset):
                    opened.clear()
                if opens:
                    opened.append(offset)
                elif opened:
                    opened.pop()
                offset, opens = next(brackets)
            if opened and self._in_heading(opened[0], start):
                opened.clear()
            lines = tuple(map(self.line_at, opened))
            by_line.append(by_line[-1] if by_line and by_line[-1] == lines else lines)
        while offset < len(self._text):
            if opens:
                opened.append(offset)
            elif opened:
                opened.pop()
            offset, opens = next(brackets)
        in_heading = opened and self._begins_line(opened[0])
        self._open_end = () if in_heading else tuple(map(self.line_at, opened))
        return by_line

    def in_long_text(self, line: int) -> bool:
        """Whether a line begins inside a text in three quotes."""
        index = bisect_right(self._long_texts, (line, 0)) - 1
        return index >= 0 and self._long_texts[index][0] < line <= self._long_texts[index][1]

    def mended(self) -> str:
        """Return the text with spaces for control characters and 0 for endless numbers, line for line."""
        pieces, at = [], 0
        for start, end in self._long_words:
            pieces += [self._text[at:start], "0"]
            at = end
        return _CONTROL.sub(" ", "".join([*pieces, self._text[at:]]))

    def _in_heading(self, opener: int, offset: int) -> bool:
        """Whether an outermost bracket begins a heading that was left open on a line before ``offset``."""
        return self.line_at(opener) < self.line_at(offset) and self._begins_line(opener)

    def _begins_line(self, offset: int) -> bool:
        return not self._text[self._line_starts[self.line_at(offset) - 1] : offset].strip()

    def _scan(self) -> None:
        depth = opener = 0
        for token in _TOKEN.finditer(self._text):
            kind = token.lastgroup
            if kind == "open":
                if depth and self._in_heading(opener, token.start()):
                    depth = 0
                opener = opener if depth else token.start()
                depth += 1
                self._brackets.append((token.start(), True))
                if depth > MAX_NESTING:
                    self._nested(token.start(), "brackets nest")
                    return
            elif kind == "close":
                depth = max(depth - 1, 0)
                self._brackets.append((token.start(), False))
            elif kind == "dotted":
                self._nested(token.start(), "dotted names go")
                return
            elif kind == "word":
                self._word(token)
            elif kind == "long":
                self._long_texts.append((self.line_at(token.start()), self.line_at(token.end())))
                if len(token[0]) < 6 or not token[0].endswith(token[0][:3]):
                    self.open_text_line = self.line_at(token.start())

    def _nested(self, offset: int, what: str) -> None:
        text = f"{what} over {MAX_NESTING} deep; close what was left open before, or write it flatter"
        self.faults.append(TextFault(self.line_at(offset), "", text))
        self.too_deep = True

    def _word(self, token: re.Match[str]) -> None:
        if len(token[0]) <= MAX_DIGITS_IN_A_ROW:
            return
        digits = sum(map(str.isdigit, token[0]))
        if digits > MAX_DIGITS_IN_A_ROW:
            text = f"{digits:,} digits in a row; write a shorter number"
            self.faults.append(TextFault(self.line_at(token.start()), "", text))
            self._long_words.append(token.span())
