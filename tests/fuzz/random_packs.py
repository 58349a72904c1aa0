"""Designs for the whole pack: random and damaged ones in texts that want to be markup, and values as built.

`random_pack(seed)` gives the same bytes for the same seed.
"""

import datetime
import json
import random
import re
import tomllib
from collections.abc import Iterator
from typing import Any

from tests.fuzz.mutate import near_number
from tests.fuzz.random_designs import random_design
from tests.fuzz.random_loads import random_loads
from tests.fuzz.sources import carrying
from tests.fuzz.written import text_of

#: texts that a page, a drawing or a table must show as they are
TEXTS = (
    "<script>alert(1)</script>",
    "</title></style></script><b onclick='x()'>bold</b>",
    'a" onload="x()" b="',
    "{{ 7 * 7 }} {% for x in y %} {# z #}",
    "&lt;not &amp; one&gt; &#60; &nbsp;",
    "]]> <!-- --> <![CDATA[ <?xml ?>",
    "=1+1 @SUM(A1) -2 +3",
    "\\u003c %s %d {0} ${x} `y` \\n",
    "<para><font color='red' size='90'>red</font><br/><img src='file:///etc/hostname'/>",
    "מישור חוף rechts-nach-links ABC",
    "جناح 12 مم",
    "葦原一号機 の 翼",
    "щит №7 «камыш»",
    "e\u0301\u0301\u0301 ñ ﬁ \u200b\u00ad\u00a0|",
    "wing " * 40,
    "w" * 200,
    "'single' \"double\" ’curly’ -- …",
)
#: the same for names of parts, in which fewer letters may stand
NAMES = (
    "rib-2", "ребро", "肋", "ضلع", "צלע-א", "r" * 200, "rib " * 30 + "x", "e\u0301rib", "rib-left-left", "rib-section-1",
    "Rib-doubler-a", "NaN", "none", "RIB", "ﬁn", "rib_1", "9", "1e9", "true", "con", "ß" * 60, "ไม้อัด", "पसली", "肋-" * 60,
    "rib 2 of 3",
)  # fmt: skip
_MARKED = re.compile(rb'^(name|title|maker|licence|what|why|material) = "[^"\n]*"', re.MULTILINE)
_PART = re.compile(rb'^\[parts\.("[^"\n]+"|[\w-]+)\]', re.MULTILINE)


def random_pack(seed: int) -> bytes:
    """A design as bytes: parts drawn by hand, an aeroplane in mm or inches, or a sample with another number."""
    chance = random.Random(seed)
    kind = seed % 4
    if kind == 0:
        data = random_design(seed).encode()
    elif kind < 3:
        tables, units = random_loads(seed), ("mm", "in")[kind - 1]
        tables["sketch"]["units"] = units
        data = text_of(tables, units).encode()
    else:
        originals = carrying()
        data = near_number(chance, originals[seed // 4 % len(originals)])
    if chance.random() < 0.6:
        data = dressed(chance, data)
    if chance.random() < 0.4:
        data += "".join(built_entries(chance, data)).encode()
    return data


def dressed(chance: random.Random, data: bytes) -> bytes:
    """A design whose texts and names of parts want to be something else; its keys and numbers are kept."""

    def text(found: re.Match[bytes]) -> bytes:
        # names of things are asked for elsewhere in the design: those of `[plan]` alone are short
        if chance.random() < 0.5 or found[1] in (b"name", b"material"):
            return found[0]
        return found[1] + b" = " + _quoted(chance.choice(TEXTS))

    names = iter(chance.sample(NAMES, len(NAMES)))

    def part(found: re.Match[bytes]) -> bytes:
        return b"[parts." + _quoted(next(names, "rib")) + b"]" if chance.random() < 0.5 else found[0]

    data = _PART.sub(part, _MARKED.sub(text, data))
    has = {key for key in (b"title", b"maker", b"licence") if re.search(rb"^%s = " % key, data, re.MULTILINE)}
    more = b"".join(
        key + b" = " + _quoted(chance.choice(TEXTS)) + b"\n"
        for key in (b"title", b"maker", b"licence")
        if key not in has
    )
    things = "".join(
        f"\n[[hardware]]\nname = {json.dumps(one, ensure_ascii=False)}\ncount = 1\n"
        for one in chance.sample(TEXTS, chance.randrange(3))
    )
    return data.replace(b"[plan]\n", b"[plan]\n" + more, 1) + things.encode()


def built_entries(chance: random.Random, data: bytes) -> Iterator[str]:
    """``[[built]]`` entries for some numbers of a design, a little off what is drawn."""
    try:
        tables = tomllib.loads(data.decode())
    except (UnicodeDecodeError, tomllib.TOMLDecodeError):
        return
    found = list(_numbers(tables, ()))
    for path, value in chance.sample(found, min(len(found), chance.choice((1, 1, 3)))):
        key = ".".join(
            one if re.fullmatch(r"[A-Za-z0-9_-]+(\[\d+\])*", one) else json.dumps(one) for one in path
        )
        day = datetime.date(2031, chance.randint(1, 12), chance.randint(1, 28))
        off = value * chance.choice((1, 1.001, 1.01, 0.99, 1.1))
        words = str(round(off)) if isinstance(value, int) else f"{off:.6f}"
        why = json.dumps(chance.choice(TEXTS), ensure_ascii=False)
        yield (
            f"\n[[built]]\nkey = {json.dumps(key, ensure_ascii=False)}\nvalue = {words}\nwhy = {why}\ndate = {day}\n"
        )


def _numbers(value: Any, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], int | float]]:
    if isinstance(value, dict):
        for key, one in value.items():
            if not path and key in ("format", "built", "revision", "cutting"):
                continue
            yield from _numbers(one, (*path, key))
    elif isinstance(value, list) and path:
        for i, one in enumerate(value):
            if isinstance(one, dict):  # one of several numbers has no key of its own
                yield from _numbers(one, (*path[:-1], f"{path[-1]}[{i}]"))
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield path, value


def _quoted(text: str) -> bytes:
    return json.dumps(text, ensure_ascii=False).encode()
