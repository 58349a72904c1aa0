"""What the overview tells besides its views: weight, wing, balance, throws, and which parts there are.

mm; a block's origin is its upper left corner.
"""

from collections.abc import Iterable, Iterator, Sequence

from foamcut.airframe.planform import panels
from foamcut.airframe.values import Inputs
from foamcut.draw.balance_words import (
    broken,
    from_to_words,
    length_words,
    mass_words,
    masses_words,
    shortened,
)
from foamcut.draw.flow import Block
from foamcut.draw.marking_rule import RULES
from foamcut.draw.values import Align, Line, Text, Title
from foamcut.flat.part import Part
from foamcut.flight.amounts import amount, unit_word
from foamcut.flight.figures import Report
from foamcut.units import decimal_text, inch_text

_TEXT_MM, _HEADING_MM, _PITCH_MM = 2.5, 3.0, 4.2
#: width of the facts, and where their values begin
FACTS_MM, _VALUE_X_MM = 88.0, 27.0
#: columns of the list of parts: width, and where the count ends
PARTS_MM, _COUNT_MM = 66.0, 6.0
_GOVERN = (
    "Sizes are in {unit} at full size, in brackets as the ruler reads them on the sketch (scale {scale})."
)
_CLOSING = (
    "Weight, balance and loading are estimates. Have someone experienced look the model over, and follow the "
    "rules of your place."
)


def facts_blocks(
    inputs: Inputs | None,
    report: Report | None,
    units: str,
    title: Title,
    more: str = "",
    boards: str = "",
) -> tuple[Block, ...]:
    """Names and values below one another under headings, then what holds of all sizes, and `more`.

    `boards` are the stocks that the parts are cut from, with their thickness.
    """
    govern = _GOVERN.format(unit="inches" if units == "in" else "mm", scale=title.scale_text)
    words = [govern, *([more] if more else []), *([_CLOSING] if report is not None else [])]
    groups = list(_groups(inputs, report, units))
    if boards and groups:
        groups[0][1].append(("drawn for", boards))
    elif boards:
        words.append(f"Drawn for {boards}.")
    return (*(_rows(*group) for group in groups), *map(_words, words))


def _rows(heading: str, rows: Sequence[tuple[str, str]]) -> Block:
    y = -_HEADING_MM
    texts = [_text(heading, (0.0, y), _HEADING_MM)]
    for name, value in rows:
        texts.append(_text(shortened(name, _VALUE_X_MM - 4.0), (2.0, y - _PITCH_MM)))
        for line in broken(value, FACTS_MM - _VALUE_X_MM):
            y -= _PITCH_MM
            texts.append(_text(line, (_VALUE_X_MM, y)))
    return Block(height_mm=0.8 - y, texts=tuple(texts))


def _words(words: str) -> Block:
    lines = broken(words, FACTS_MM)
    texts = [_text(line, (0.0, -_TEXT_MM - i * _PITCH_MM)) for i, line in enumerate(lines)]
    return Block(height_mm=len(lines) * _PITCH_MM - 0.9, texts=tuple(texts))


def _groups(
    inputs: Inputs | None, report: Report | None, units: str
) -> Iterator[tuple[str, list[tuple[str, str]]]]:
    if report is None or inputs is None:
        return
    weight = list(_weight(report, units))
    if weight:
        yield "Weight and wing", weight
    balance = list(_balance(inputs, report, units))
    if balance:
        yield "Balance: the round mark", balance
    throws = [
        (
            throw.word if one_word(report, throw.word) else f"{throw.surface} {throw.word}",
            f"{decimal_text(throw.deg)} deg, {ruled(throw.mm, units)} each way",
        )
        for throw in report.throws
    ]
    if throws:
        yield "Throws", throws


def board_list(stocks: Iterable[tuple[str, float]], units: str) -> str:
    """Each stock with its thickness, once, as the sketch's ruler reads it: "board 5 mm, ply 1.5 mm"."""
    several = [
        f"{name} {inch_text(mm)} in" if units == "in" else f"{name} {decimal_text(mm, 2)} mm"
        for name, mm in dict(stocks).items()
    ]
    return ", ".join(several)


def ruled(mm: float, units: str) -> str:
    """A length that is measured on the model, as its ruler reads it: mm, or the nearest 1/32 in."""
    return f"{RULES['in'].read(mm).text} in" if units == "in" else length_words(mm, units)


def one_word(report: Report, word: str) -> bool:
    """Whether only one surface has controls of that word."""
    return sum(throw.word == word for throw in report.throws) == 1


def _weight(report: Report, units: str) -> Iterator[tuple[str, str]]:
    if report.loaded is not None:
        loaded = report.loaded
        words = mass_words(loaded.mass_g, units)
        if mass_words(loaded.low_g, units) != mass_words(loaded.high_g, units):
            words += f" ({masses_words(loaded.low_g, loaded.high_g, units)})"
        yield "weight", words
    rows = (("wing area", "wing_area"), ("wing loading", "wing_loading"))
    for name, key in rows:
        number = report.number(key)
        if number is not None:
            yield name, f"{amount(number.value, number.unit, units)} {unit_word(number.unit, units)}"


def _balance(inputs: Inputs, report: Report, units: str) -> Iterator[tuple[str, str]]:
    loaded = report.loaded
    if loaded is None or inputs.wing is None:
        return
    if loaded.target_mm is not None:
        root = panels(inputs.wing)[0].point(inputs.wing.stations[0].back_mm, 0.0, 0.0)[0]
        behind = loaded.target_mm - root
        where = "behind" if behind >= 0 else "before"
        words = f"{ruled(abs(behind), units)} {where} the leading edge"
        yield "shall lie", f"{words} (root), {ruled(loaded.target_mm, units)} from the nose"
    front, back = report.number("balance_front"), report.number("balance_back")
    if front is not None and back is not None:
        yield "may lie (bar)", f"{from_to_words(front.value, back.value, units)} from the nose"
    yield "lies as drawn", f"{length_words(loaded.at[0], units)} from the nose"


def parts_block(parts: Sequence[Part], columns: int) -> tuple[float, Block]:
    """Name and count of every part, in columns of equal height; and how wide that is."""
    counts: dict[str, int] = {}
    for part in parts:
        counts[part.name] = counts.get(part.name, 0) + part.count
    rows = list(counts.items())
    high = -(-len(rows) // columns)
    texts = [_text("Parts", (0.0, -_HEADING_MM), _HEADING_MM)]
    for i, (name, count) in enumerate(rows):
        x, y = (i // high) * PARTS_MM, -_HEADING_MM - _PITCH_MM - (i % high) * _PITCH_MM
        texts.append(
            Text(
                line=Line.FRAME, at=(x + _COUNT_MM, y), text=f"{count}", height_mm=_TEXT_MM, align=Align.RIGHT
            )
        )
        texts.append(_text(shortened(name, PARTS_MM - _COUNT_MM - 5.0), (x + _COUNT_MM + 2.0, y)))
    return columns * PARTS_MM, Block(height_mm=_HEADING_MM + (high + 0.3) * _PITCH_MM, texts=tuple(texts))


def _text(words: str, at: tuple[float, float], height_mm: float = _TEXT_MM) -> Text:
    return Text(line=Line.FRAME, at=at, text=words, height_mm=height_mm)
