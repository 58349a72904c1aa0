"""Designs damaged in small ways: what a slip of the hand, a bad editor or a broken disk leaves.

`mutated(data, seed)` gives the same bytes for the same bytes and seed.
"""

import random
import re
from collections.abc import Callable

Mutation = Callable[[random.Random, bytes], bytes]

_NUMBER = re.compile(rb"(?<![\w.\"-])-?\d+(?:\.\d+)?")
_UNIT = re.compile(rb"(?<=\d) ?(?:mm|cm|in|ft|degC|deg|kg|g/m2|g/m|g|W|V|A|mAh|rpm/V|%)\b|(?<=\d) ?%")
_KEY = re.compile(rb"^\s*([A-Za-z_]+)\s*=|[{,]\s*([a-z_]+)\s*=", re.MULTILINE)
_TOKEN = re.compile(rb"[A-Za-z_]+|\d+(?:\.\d+)?|[^\w\s]")
_TEXT = re.compile(rb'"[^"\n]*"')
_HEADER = re.compile(rb"^\[.*\]", re.MULTILINE)

_ODD_NUMBERS = (
    b"0", b"-1", b"-0.0", b"1e300", b"-1e-300", b"nan", b"inf", b"9" * 40, b"0x7fffffffffffffff", b"0.0001", b"1_000",
    b"99999", b"1e6", b"007", b"1.", b"true", b"2031-04-02", b'"1/0"', b'"1 1/2"', b"[]", b"{}", b'""', b"1000000",
)  # fmt: skip
_ODD_UNITS = (
    b" mm", b" cm", b" in", b" ft", b" m", b" km", b"", b" %", b" g", b' "', b"mm mm", b" deg", b" Mm", b" Ah", b" C", b" W", b" rpm/V",
    b" g/m", b" \xc2\xb0C", b" oz/ft2",
)  # fmt: skip
_ODD_WORDS = (
    b"smooth", b"round 9", b"through 0, 0", b"bevel 45", b"bevel_back 30 deg", b"name a", b"min(", b")", b"scale", b"half_span",
    b"\\u0000", b"\xe2\x80\xae", b"\xff", b"\x00", b"\xef\xbb\xbf", b"../", b"=1+1", b"%s", b"\\", b"'", b"#", b"'''",
)  # fmt: skip


def _somewhere(chance: random.Random, pattern: re.Pattern[bytes], data: bytes) -> re.Match[bytes] | None:
    found = list(pattern.finditer(data))
    return chance.choice(found) if found else None


def _put(data: bytes, start: int, end: int, new: bytes) -> bytes:
    return data[:start] + new + data[end:]


def flip_bit(chance: random.Random, data: bytes) -> bytes:
    at = chance.randrange(len(data))
    return _put(data, at, at + 1, bytes([data[at] ^ 1 << chance.randrange(8)]))


def other_byte(chance: random.Random, data: bytes) -> bytes:
    at = chance.randrange(len(data))
    return _put(data, at, at + 1, bytes([chance.randrange(256)]))


def drop_bytes(chance: random.Random, data: bytes) -> bytes:
    at = chance.randrange(len(data))
    return _put(data, at, at + chance.choice((1, 1, 2, 5, 40)), b"")


def cut_short(chance: random.Random, data: bytes) -> bytes:
    return data[: chance.randrange(len(data))]


def odd_number(chance: random.Random, data: bytes) -> bytes:
    found = _somewhere(chance, _NUMBER, data)
    return _put(data, *found.span(), chance.choice(_ODD_NUMBERS)) if found else data


def near_number(chance: random.Random, data: bytes) -> bytes:
    """Another number of the same kind: these often still build."""
    found = _somewhere(chance, _NUMBER, data)
    if not found:
        return data
    value = float(found.group())
    new = chance.choice((value * 2, value / 2, value + 1, value - 1, -value, value * 10, value * 1.01))
    text = str(round(new)) if b"." not in found.group() else f"{new:.3f}"
    return _put(data, *found.span(), text.encode())


def swap_numbers(chance: random.Random, data: bytes) -> bytes:
    found = list(_NUMBER.finditer(data))
    if len(found) < 2:
        return data
    a, b = sorted(chance.sample(range(len(found)), 2))
    first, second = found[a], found[b]
    middle = data[first.end() : second.start()]
    return data[: first.start()] + second.group() + middle + first.group() + data[second.end() :]


def swap_tokens(chance: random.Random, data: bytes) -> bytes:
    found = list(_TOKEN.finditer(data))
    if len(found) < 2:
        return data
    at = chance.randrange(len(found) - 1)
    a, b = found[at], found[at + 1]
    return data[: a.start()] + b.group() + data[a.end() : b.start()] + a.group() + data[b.end() :]


def drop_token(chance: random.Random, data: bytes) -> bytes:
    found = _somewhere(chance, _TOKEN, data)
    return _put(data, *found.span(), b"") if found else data


def other_unit(chance: random.Random, data: bytes) -> bytes:
    found = _somewhere(chance, _UNIT, data)
    return _put(data, *found.span(), chance.choice(_ODD_UNITS)) if found else data


def key_slip(chance: random.Random, data: bytes) -> bytes:
    """A letter of a key dropped, doubled or swapped with the next."""
    found = _somewhere(chance, _KEY, data)
    if not found:
        return data
    which = 1 if found.group(1) else 2
    key = found.group(which)
    at = chance.randrange(len(key))
    slips = (key[:at] + key[at + 1 :], key[: at + 1] + key[at:], key[:at] + key[at : at + 2][::-1] + key[at + 2 :])
    return _put(data, *found.span(which), chance.choice(slips))


def other_key(chance: random.Random, data: bytes) -> bytes:
    found, donor = _somewhere(chance, _KEY, data), _somewhere(chance, _KEY, data)
    if not found or not donor:
        return data
    return _put(data, *found.span(1 if found.group(1) else 2), donor.group(1) or donor.group(2))


def other_text(chance: random.Random, data: bytes) -> bytes:
    found, donor = _somewhere(chance, _TEXT, data), _somewhere(chance, _TEXT, data)
    return _put(data, *found.span(), donor.group()) if found and donor else data


def odd_word(chance: random.Random, data: bytes) -> bytes:
    found = _somewhere(chance, _TOKEN, data)
    return _put(data, found.end(), found.end(), b" " + chance.choice(_ODD_WORDS)) if found else data


def quotes(chance: random.Random, data: bytes) -> bytes:
    """A quote dropped, or a number put in quotes."""
    if chance.random() < 0.5 and (found := _somewhere(chance, _NUMBER, data)):
        return _put(data, *found.span(), b'"' + found.group() + b'"')
    at = [m.start() for m in re.finditer(rb"[\"']", data)]
    return _put(data, (i := chance.choice(at)), i + 1, b"") if at else data


def _lines(change: Callable[[random.Random, list[bytes]], None]) -> Mutation:
    def mutation(chance: random.Random, data: bytes) -> bytes:
        lines = data.splitlines(keepends=True)
        if lines:
            change(chance, lines)
        return b"".join(lines)

    mutation.__name__ = change.__name__.lstrip("_")
    return mutation


def _drop_line(chance: random.Random, lines: list[bytes]) -> None:
    del lines[chance.randrange(len(lines))]


def _double_line(chance: random.Random, lines: list[bytes]) -> None:
    at = chance.randrange(len(lines))
    lines.insert(at, lines[at])


def _move_line(chance: random.Random, lines: list[bytes]) -> None:
    lines.insert(chance.randrange(len(lines)), lines.pop(chance.randrange(len(lines))))


def _drop_block(chance: random.Random, lines: list[bytes]) -> None:
    at = chance.randrange(len(lines))
    del lines[at : at + chance.randint(2, 12)]


def double_table(chance: random.Random, data: bytes) -> bytes:
    found = _somewhere(chance, _HEADER, data)
    return data + b"\n" + found.group() + b"\n" if found else data


def rename_table(chance: random.Random, data: bytes) -> bytes:
    found, donor = _somewhere(chance, _HEADER, data), _somewhere(chance, _HEADER, data)
    return _put(data, *found.span(), donor.group()) if found and donor else data


MUTATIONS: tuple[Mutation, ...] = (
    flip_bit, other_byte, drop_bytes, cut_short, odd_number,
    *(near_number,) * 12,
    swap_numbers, swap_tokens, drop_token, other_unit, key_slip, other_key, other_text, odd_word, quotes,
    _lines(_drop_line), _lines(_double_line), _lines(_move_line), _lines(_drop_block), double_table, rename_table,
)  # fmt: skip


def mutated(data: bytes, seed: int) -> bytes:
    """The design with one to three slips, the same for the same seed."""
    chance = random.Random(seed)
    for _ in range(chance.choice((1, 1, 1, 2, 3))):
        if data:
            data = chance.choice(MUTATIONS)(chance, data)
    return data
