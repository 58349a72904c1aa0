"""Hostile designs: files under `designs/`, and those that are too large or too odd to lie there.

A file says itself what is expected of it, in comments:

    #!builds            the whole file is a good design, however odd
    #!either            a pack or refusals, both are good answers
    #!finding CODE      with builds: this finding is there
    #! REGEX            at the end of a line: this line is refused, in words that match
    #!any REGEX         some refusal matches, whatever its line

Without `#!any`, exactly the lines marked are refused.  Expressions are searched without regard to case in
"key: text" of a refusal.
"""

import re
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

FOLDER = Path(__file__).parent / "designs"

_MARK = re.compile(r"#!(builds|either|finding|any|)(?: (.*\S))?\s*$")


class Outcome(Enum):
    """What the program may answer."""

    BUILDS = "builds"
    REFUSED = "refused"
    EITHER = "either"


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """A refusal that is due: its line, None for any or for none, and an expression that its words match."""

    line: int | None
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Hostile:
    """One hostile design: what is in the file and what is to come of it."""

    name: str
    data: bytes
    outcome: Outcome
    expected: tuple[Expected, ...] = ()
    findings: tuple[str, ...] = ()

    @property
    def only_these_lines(self) -> bool:
        """Whether no other line may be refused."""
        return bool(self.expected) and all(e.line is not None for e in self.expected)


def of_file(path: Path) -> Hostile:
    """A hostile design from its file."""
    data = path.read_bytes()
    outcome, expected, findings = Outcome.REFUSED, [], []
    for number, line in enumerate(data.decode().splitlines(), 1):
        if not (found := _MARK.search(line)):
            continue
        kind, words = found.group(1), found.group(2) or ""
        if kind in ("builds", "either"):
            outcome = Outcome(kind)
        elif kind == "finding":
            findings.append(words)
        else:
            expected.append(Expected(line=None if kind == "any" else number, words=words))
    if (outcome is Outcome.REFUSED) != bool(expected):
        raise ValueError(f"{path}: says nothing of what is expected, or says both")
    return Hostile(
        name=path.stem, data=data, outcome=outcome, expected=tuple(expected), findings=tuple(findings)
    )


HEAD = """format = 1

[plan]
name = "glasswort"
revision = "A"

[sketch]
units = "mm"
scale = 1

"""
STOCK = """[stock.board]
material = "paper-faced foam board"
thickness = "5 mm"
margin = "3 mm"
gap = "2 mm"
sheets = [ { size = "300 x 200 mm" } ]

"""
RIB = """[parts.rib]
stock = "board"
rectangle = [60, 40]
"""
GOOD = HEAD + STOCK + RIB


def _refused(name: str, data: str | bytes, *words: str, at: str = "") -> Hostile:
    """A design that is refused; with `at` in the line that holds this text."""
    data = data.encode() if isinstance(data, str) else data
    line = data[: data.index(at.encode())].count(b"\n") + 1 if at else None
    return Hostile(
        name=name,
        data=data,
        outcome=Outcome.REFUSED,
        expected=tuple(Expected(line=line, words=w) for w in words),
    )


def _builds(name: str, data: str | bytes) -> Hostile:
    return Hostile(
        name=name, data=data.encode() if isinstance(data, str) else data, outcome=Outcome.BUILDS
    )


def _either(name: str, data: str | bytes) -> Hostile:
    return Hostile(
        name=name, data=data.encode() if isinstance(data, str) else data, outcome=Outcome.EITHER
    )


def _rib(shape: str) -> str:
    return HEAD + STOCK + f'[parts.rib]\nstock = "board"\n{shape}\n'


def _width(text: str) -> str:
    return _rib(f"rectangle = [{text}, 40]")


_FOLD = 'kind = "groove", from = [20, -1], to = [20, 41], turn = 90'


def bytes_that_are_no_text() -> list[Hostile]:
    """Encodings other than UTF-8, and files that are no text at all."""
    cafe = GOOD.replace("glasswort", "glasswört")
    return [
        _refused("utf-16-le-with-mark", b"\xff\xfe" + GOOD.encode("utf-16-le"), "utf-?8"),
        _refused("utf-16-be-with-mark", b"\xfe\xff" + GOOD.encode("utf-16-be"), "utf-?8"),
        _refused("utf-16-le", GOOD.encode("utf-16-le"), "utf-?8|null|nul|control|character|byte"),
        _refused("utf-32", GOOD.encode("utf-32"), "utf-?8|null|nul|control|character|byte"),
        _refused("latin-1", cafe.encode("latin-1"), "utf-?8", at="name ="),
        _refused("overlong-utf-8", GOOD.encode().replace(b"glasswort", b"glass\xc0\xafwort"), "utf-?8"),
        _refused("surrogate-in-utf-8", GOOD.encode().replace(b"glasswort", b"\xed\xa0\x80"), "utf-?8"),
        _refused("cut-in-a-letter", GOOD.encode() + b"# \xe2\x82", "utf-?8"),
        _refused("null-byte", GOOD.encode().replace(b"glasswort", b"glass\0wort"), "."),
        _refused("only-null-bytes", b"\0" * 4096, "."),
        _refused("escape-byte", GOOD.encode().replace(b"glasswort", b"glass\x1b[2Jwort"), ".", at="name ="),
        _refused("picture", b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 8, "."),
        _refused("archive", b"PK\x03\x04" + bytes(range(255, -1, -1)) * 8, "."),
        _refused("all-bytes", bytes(range(256)), "."),
        _refused("empty", b"", "."),
        _refused("only-blanks", b" \n\t\n   \n", "."),
        _refused("only-a-byte-order-mark", b"\xef\xbb\xbf", "."),
        _refused("two-byte-order-marks", b"\xef\xbb\xbf\xef\xbb\xbf" + GOOD.encode(), "."),
        _refused("lone-carriage-returns", GOOD.replace("\n", "\r").encode(), "."),
        _refused("form-feed", GOOD.replace("\n\n", "\n\f\n").encode(), "."),
        _builds("byte-order-mark", b"\xef\xbb\xbf" + GOOD.encode()),
        _builds("windows-line-ends", GOOD.replace("\n", "\r\n").encode()),
        _builds(
            "windows-line-ends-in-readings",
            _rib('outline = """\n  0, 0\n  60, 0  round 3\n  60, 40\n"""').replace("\n", "\r\n").encode(),
        ),
        _builds("no-last-line-end", GOOD.rstrip("\n").encode()),
        _builds("tabs-and-trailing-blanks", GOOD.replace(" = ", "\t=\t").replace("\n", " \t\n").encode()),
    ]


def sizes_beyond_reason() -> list[Hostile]:
    """Files, numbers, nestings and lists beyond the limits, and just within them."""
    filler = "# " + "x" * 97 + "\n"
    limit = 2_000_000
    room = (limit - len(GOOD)) // len(filler)
    chain = "\n".join(f'a{i} = "a{i - 1} + 0.001"' for i in range(1, 3000))
    part_401 = "".join(f'[parts.p{i}]\nstock = "board"\nrectangle = [6, 4]\n' for i in range(401))
    many = "".join(f'[parts.p{i}]\nstock = "board"\n{_short_comb(18_300)}\n' for i in range(11))
    return [
        _refused("over-two-megabytes", GOOD + filler * 21_000, "2 MB|large|bytes|megabyte"),
        _builds("just-under-two-megabytes", GOOD + filler * room),
        _refused("integer-of-5000-digits", _width("9" * 5000), ".", at="rectangle"),
        _refused("hexadecimal-of-5000-digits", _width("0x" + "f" * 5000), ".", at="rectangle"),
        _refused("integer-of-400-digits", _width("9" * 400), ".", at="rectangle"),
        _refused("float-of-5000-digits", _width("1." + "3" * 5000 + "e4000"), ".", at="rectangle"),
        _refused("float-beyond-floats", _width("1e999"), ".", at="rectangle"),
        _refused("format-of-5000-digits", GOOD.replace("format = 1", "format = " + "1" * 5000), ".", at="format"),
        _refused("count-of-5000-digits", _rib("rectangle = [6, 4]\ncount = " + "1" * 5000), ".", at="count"),
        _refused("literal-of-400-digits", _width('"' + "9" * 400 + ' mm"'), ".", at="rectangle"),
        _refused("sum-of-501-letters", _width('"' + ("1 + " * 125 + "1") + '"'), "500", at="rectangle"),
        _refused("sum-of-51-brackets", _width('"' + "(" * 51 + "60" + ")" * 51 + '"'), "50", at="rectangle"),
        _builds("sum-of-50-brackets", _width('"' + "(" * 50 + "60" + ")" * 50 + '"')),
        _refused("lists-10000-deep", _rib("outline = " + "[" * 10_000 + "]" * 10_000), "50|nest|deep"),
        _refused("lists-10000-open", _rib("outline = " + "[" * 10_000), "."),
        _refused("lists-51-deep", _rib("outline = " + "[" * 51 + "]" * 51), "50|nest|deep", at="outline"),
        _refused("tables-2000-deep", _rib("x = " + "{ a = " * 2000 + "1" + " }" * 2000), "50|nest|deep"),
        _refused("dots-5000-deep", GOOD + ".".join(["a"] * 5000) + " = 1\n", "50|nest|deep"),
        _refused("header-5000-deep", GOOD + "[" + ".".join(["a"] * 5000) + "]\n", "50|nest|deep"),
        _either(
            "chain-of-3000-sizes",
            HEAD + "[sizes]\na0 = 1\n" + chain + "\n\n" + STOCK + RIB.replace("60", '"a2999 + 50"'),
        ),
        _refused("name-of-201-letters", GOOD.replace("glasswort", "g" * 201), "200", at="name ="),
        _builds("name-of-200-letters", GOOD.replace("glasswort", "g" * 200)),
        _refused("stock-of-201-letters", GOOD.replace("board]", "b" * 201 + "]"), "200"),
        _refused("part-of-201-letters", GOOD.replace("parts.rib", "parts." + "r" * 201), "200", at="[parts."),
        _refused("hardware-of-201-letters", GOOD + f'[[hardware]]\nname = "{"h" * 201}"\n', "200", at="hhh"),
        _refused("mark-of-201-letters",
                 GOOD + f'marks = [ {{ line = [[9, 0], [9, 9]], text = "{"m" * 201}" }} ]\n', "100|200", at="mmm"),
        _refused("parts-401", HEAD + STOCK + part_401, "400"),
        _refused("points-20001", _rib(_comb(20_001)), "20,000|20000"),
        _refused("points-20001-as-readings", _rib(_comb_readings(20_001)), "20,000|20000"),
        _refused("points-over-200000-in-all", HEAD.replace("scale = 1", "scale = 0.01") + STOCK + many, "200,000|200000"),
        _refused("pieces-over-5000", HEAD + STOCK + "".join(
            f'[parts.p{i}]\nstock = "board"\nrectangle = [6, 4]\ncount = 2000\n' for i in range(3)),
            "5,000|5000"),
        _refused("thousand-unknown-keys", GOOD + "".join(f"k{i} = {i}\n" for i in range(1000)), "k0"),
        _refused("thousand-cutouts-in-one-place", _rib(
            "rectangle = [60, 40]\ncutouts = [" + "{ circle = 5, at = [20, 20] }," * 1000 + "]"), "."),
        _refused("folds-201", _rib(
            "rectangle = [60, 40]\nfolds = [" + f"{{ {_FOLD} }}," * 201 + "]"), "200", at="folds"),
        _refused("two-hundred-folds-in-one-place", _rib(
            "rectangle = [60, 40]\nfolds = [" + f"{{ {_FOLD} }}," * 200 + "]"), "fold"),
        _builds("hundred-scores-side-by-side", _rib("rectangle = [250, 40]\nfolds = [" + "".join(
            f'{{ kind = "score", from = [{x}, -1], to = [{x}, 41], turn = 1 }},' for x in range(20, 120)) + "]")),
        _refused("joints-101", _rib("rectangle = [60, 40]\njoints = [" + "{ x = 30 }," * 101 + "]"), "100", at="joints"),
        _either("hundred-ranges-to-keep-clear", _rib("rectangle = [400, 40]\nkeep_clear = [" + "".join(
            f"{{ x = [{4 * i}, {4 * i + 1}] }}," for i in range(100)) + "]")),
        _refused("line-of-a-megabyte", _rib('outline = "' + "0, 0 " * 200_000 + '"'), "."),
        _refused("word-of-a-megabyte", _rib('outline = "0, 0; 9, 0 ' + "w" * 1_000_000 + '; 9, 9"'), "."),
        _refused("answer-of-a-megabyte", GOOD.replace('"board"', '"' + "b" * 1_000_000 + '"'), "."),
    ]  # fmt: skip


def _comb(points: int) -> str:
    """A long strip with so many points along its edges, as a list."""
    return "outline = [" + ", ".join(f"[{x:.3f}, {y:.3f}]" for x, y in _teeth(points)) + "]"


def _comb_readings(points: int) -> str:
    rows = "\n".join(f"{x:.3f}, {y:.3f}" for x, y in _teeth(points))
    return f'outline = """\n{rows}\n"""'


def _short_comb(points: int) -> str:
    """The same in few bytes: whole numbers, to be made smaller by the scale."""
    rows = [f"{i},{i % 2}" for i in range(points // 2)] + [f"{i},{99 + i % 2}" for i in range(points // 2 - 1, -1, -1)]
    return f'outline = "{";".join(rows)}"'


def _teeth(points: int) -> list[tuple[float, float]]:
    above = points // 2
    below = points - above
    lower = [(100.0 * i / (below - 1), 0.0 if i % 2 else 1.0) for i in range(below)]
    upper = [(100.0 - 100.0 * i / (above - 1), 20.0 if i % 2 else 21.0) for i in range(above)]
    return lower + upper


def all_designs() -> list[Hostile]:
    """Every hostile design, by name.

    Raises
    ------
    ValueError
        Two have one name, or a file says nothing of what is expected.
    """
    found = [of_file(path) for path in FOLDER.glob("*.toml")]
    found += bytes_that_are_no_text() + sizes_beyond_reason()
    by_name = {h.name: h for h in found}
    if len(by_name) != len(found):
        raise ValueError("two hostile designs have one name")
    return [by_name[name] for name in sorted(by_name)]
