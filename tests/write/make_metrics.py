"""Writes the table of `foamcut/draw/advances.py` anew from the font: `python tests/write/make_metrics.py`.

Uses fontTools, which comes with no other part of the project: install it for this one run.
"""

import unicodedata
from pathlib import Path

from fontTools.ttLib import TTFont

ROOT = Path(__file__).parents[2]
FONT = ROOT / "foamcut" / "write" / "fonts" / "DejaVuSans.ttf"
TABLE = ROOT / "foamcut" / "draw" / "advances.py"

# Scripts that are written from left to right, one letter after the other: what needs joined letters
# or runs from the right cannot be set by putting glyphs side by side, and counts as missing.
RANGES = ((0x20, 0x58F), (0x1E00, 0x1FFF), (0x2000, 0x2BFF))
HEAD = '''"""Advance widths of the font's letters, in units of its em; written by tests/write/make_metrics.py.

A line is a code point (hexadecimal) and the advances of the letters from there on, `12*1401` being
twelve letters of the same width; a line that begins with `+` goes on where the one before it ended.
"""

# fmt: off
'''


def wanted(code: int) -> bool:
    """Leave out what is no letter of its own or is set from right to left."""
    letter = chr(code)
    other = unicodedata.category(letter) in {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
    from_right = unicodedata.bidirectional(letter) in {"R", "AL"}
    return any(a <= code <= b for a, b in RANGES) and not other and not from_right


def runs(font: TTFont) -> list[tuple[int, list[int]]]:
    """Code point and advances of each unbroken run of letters."""
    names, widths = font.getBestCmap(), font["hmtx"]
    found: list[tuple[int, list[int]]] = []
    for code in sorted(filter(wanted, names)):
        if not found or found[-1][0] + len(found[-1][1]) != code:
            found.append((code, []))
        found[-1][1].append(widths[names[code]][0])
    return found


def words(advances: list[int]) -> list[str]:
    """Advances with repeats drawn together."""
    texts: list[list[int]] = []
    for advance in advances:
        if texts and texts[-1][1] == advance:
            texts[-1][0] += 1
        else:
            texts.append([1, advance])
    return [f"{count}*{advance}" if count > 1 else f"{advance}" for count, advance in texts]


def table(font: TTFont) -> str:
    """The module's text."""
    lines = []
    for code, advances in runs(font):
        line = f"{code:04X}"
        for word in words(advances):
            if len(line) + 1 + len(word) > 106:
                lines.append(line)
                line = ""
            line += f" {word}" if line else f"+ {word}"
        lines.append(line)
    constants = (
        f"UNITS_PER_EM = {font['head'].unitsPerEm}\n"
        f"#: height of the letter H; the font's OS/2 table is too old to state one\n"
        f"CAP_HEIGHT = {font['glyf'][font.getBestCmap()[ord('H')]].yMax}\n"
        f"#: how far the letter g reaches below the baseline\n"
        f"DESCENT = {-font['glyf'][font.getBestCmap()[ord('g')]].yMin}\n"
    )
    return f'{HEAD}{constants}\nADVANCES = """\n' + "\n".join(lines) + '\n"""\n'


if __name__ == "__main__":
    TABLE.write_text(table(TTFont(FONT)), encoding="utf-8")
