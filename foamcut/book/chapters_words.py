"""Words that several chapters share: sizes, places and numbers in the units of the sketch, names of parts."""

from collections.abc import Iterable, Sequence

from foamcut.book.facts import Facts
from foamcut.draw.marking_rule import Rule
from foamcut.draw.words import sketch_measure
from foamcut.flight.amounts import amount, unit_word
from foamcut.flight.figures import Number
from foamcut.flight.values import Carried
from foamcut.nest.values import Layout
from foamcut.units import MM_PER, decimal_text, inch_text

#: what something is set with where the sketch is in inches
_RULE = Rule("in", MM_PER["in"] / 32)


def ruler_text(mm: float, units: str) -> str:
    """A length as the ruler reads it, without its unit: mm to a tenth, inches as a fraction."""
    return inch_text(mm) if units == "in" else decimal_text(mm)


def length_words(mm: float, units: str) -> str:
    """A length: mm, or inches with the mm beside them."""
    if units == "in":
        return f"{inch_text(mm)} in ({decimal_text(mm)} mm)"
    return f"{decimal_text(mm)} mm"


def set_words(mm: float, units: str) -> str:
    """A length to be set with a ruler: mm to a tenth, or the nearest thirty-second of an inch and the mm."""
    if units != "in":
        return length_words(mm, units)
    return f"{_RULE.read(mm).text} in ({decimal_text(mm)} mm)"


def thickness_words(mm: float, units: str) -> str:
    """The thickness of a board, to a hundredth of a millimetre."""
    if units == "in":
        return f"{inch_text(mm)} in ({decimal_text(mm, 2)} mm)"
    return f"{decimal_text(mm, 2)} mm"


def sizes_words(sizes_mm: Sequence[float], units: str) -> str:
    """Sizes with a cross between them, in the order given."""
    mm = " x ".join(map(decimal_text, sizes_mm))
    if units == "in":
        return f"{' x '.join(map(inch_text, sizes_mm))} in ({mm} mm)"
    return f"{mm} mm"


def sizes_cell(sizes_mm: Sequence[float], units: str) -> str:
    """The same for a column whose head says the units."""
    return sizes_words(sizes_mm, units).removesuffix(" mm").replace(" in (", " (").replace(" mm)", ")")


def value_words(value: float, unit: str, units: str) -> str:
    """A number of the balance with its unit."""
    return f"{amount(value, unit, units)} {unit_word(unit, units)}".rstrip()


def between_words(low: float | None, high: float | None, unit: str, units: str) -> str:
    """From the lowest to the highest, with the unit; empty where they are not known or read the same."""
    if low is None or high is None:
        return ""
    ends = [amount(value, unit, units) for value in (low, high)]
    return "" if ends[0] == ends[1] else f"{ends[0]} to {ends[1]} {unit_word(unit, units)}".rstrip()


def number_words(number: Number, units: str, *, bounds: bool = True) -> str:
    """A number with its unit, and from where to where it may lie."""
    words = value_words(number.value, number.unit, units)
    between = between_words(number.low, number.high, number.unit, units) if bounds else ""
    return f"{words} ({between})" if between else words


def span_cell(low_mm: float, high_mm: float, facts: Facts) -> str:
    """From where to where along or up, and what the sketch's ruler reads: ``228 to 233 (38 to 38.83)``.

    The head of the column says the units, see `span_head`.
    """
    sketch = _sketch(low_mm, high_mm, facts)
    return f"{_full(low_mm, high_mm, facts)}{sketch and f' ({sketch})'}"


def span_head(name: str, facts: Facts) -> str:
    """The head of a column of `span_cell` or `out_cell`."""
    return f"{name}, {_unit(facts)}{' (sketch)' if facts.title.sketch_scale != 1 else ''}"


#: which side of the centre plane: of a part of the middle, and of one of a pair, seen from its own hand
SIDES, OWN_SIDES = ("left", "right"), ("to the other side", "to its side")


def out_cell(low_mm: float, high_mm: float, facts: Facts, sides: tuple[str, str] = SIDES) -> str:
    """From where to where off the centre plane: to one side, to the other, or to both.

    `sides` are the words of the sides where y is below and above 0.  As `span_cell`, without the unit.
    """
    low, high = round(low_mm, 1) + 0.0, round(high_mm, 1) + 0.0
    if low == -high:
        return _aside(high_mm, high_mm, facts, "to each side")
    if low >= 0 or high <= 0:
        near, far = sorted((abs(low_mm), abs(high_mm)))
        return _aside(near, far, facts, sides[low >= 0])
    ends = (_aside(abs(mm), abs(mm), facts, word) for mm, word in zip((low_mm, high_mm), sides, strict=True))
    return "from {} to {}".format(*ends)


def _aside(near_mm: float, far_mm: float, facts: Facts, word: str) -> str:
    sketch = _sketch(near_mm, far_mm, facts)
    return f"{_full(near_mm, far_mm, facts)} {word}{sketch and f' ({sketch})'}"


def _unit(facts: Facts) -> str:
    return "in" if facts.units == "in" else "mm"


def _full(low_mm: float, high_mm: float, facts: Facts) -> str:
    return _both(*(ruler_text(end, facts.units) for end in (low_mm, high_mm)))


def _sketch(low_mm: float, high_mm: float, facts: Facts) -> str:
    """What the sketch's ruler reads; nothing where the sketch is at full size."""
    title = facts.title
    if title.sketch_scale == 1:
        return ""
    unit = "in" if title.sketch_unit == "in" else "mm"
    ends = [sketch_measure(end, title).removesuffix(f" {unit}") for end in (low_mm, high_mm)]
    return _both(*ends)


def _both(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def listed(words: Iterable[str]) -> str:
    """Words with commas between them, "and" before the last.

    >>> listed(["board"]), listed(["board", "ply", "card"])
    ('board', 'board, ply and card')
    """
    several = list(words)
    return " and ".join(filter(None, (", ".join(several[:-1]), *several[-1:])))


def counted(number: int, word: str) -> str:
    """``1 sheet``, ``2 sheets``."""
    return f"{number} {word}{'s' * (number != 1)}"


def part_labels(facts: Facts) -> dict[str, str]:
    """What is written as the number of each part, by its name: that of its piece, or of all its pieces."""
    found: dict[str, list[int]] = {}
    for cut in facts.cuts:
        number = facts.numbers.get(cut.piece.flat.name)
        if number is not None:
            found.setdefault(cut.piece.part.name, []).append(number)
    return {name: _numbers(numbers) for name, numbers in found.items()}


def _numbers(numbers: Sequence[int]) -> str:
    several = sorted(set(numbers))
    whole = several == list(range(several[0], several[-1] + 1))
    if len(several) > 2 and whole:
        return f"{several[0]} to {several[-1]}"
    return ", ".join(map(str, several))


def sheets_of(layouts: Iterable[Layout]) -> dict[str, tuple[tuple[str, int], ...]]:
    """The stock and number of every sheet on which a piece lies, by the name of its flat part."""
    found: dict[str, list[tuple[str, int]]] = {}
    for layout in layouts:
        for sheet in layout.sheets:
            for placed in sheet.placed:
                found.setdefault(placed.piece.flat.name, []).append((sheet.stock, sheet.number))
    return {name: tuple(dict.fromkeys(several)) for name, several in found.items()}


def sheets_words(sheets: Iterable[tuple[str, int]], told: str = "") -> str:
    """Sheets by stock and number: ``board 1 and 2, ply 1``; `told` is a stock whose name is left out."""
    by_stock: dict[str, set[int]] = {}
    for stock, number in sheets:
        by_stock.setdefault(stock, set()).add(number)
    return ", ".join(
        f"{stock if stock != told else ''} {listed(map(str, sorted(numbers)))}".lstrip()
        for stock, numbers in by_stock.items()
    )


def thicknesses(facts: Facts) -> dict[str, float]:
    """The thickness of every stock that something is cut from, mm, in the order of the design."""
    found = {layout.stock.name: layout.stock.thickness_mm for layout in facts.layouts}
    for part in facts.parts:
        found.setdefault(part.stock, part.thickness_mm)
    return found


def motors_count(facts: Facts) -> int:
    """How many motors drive it."""
    drawn = sum(one.count for one in facts.setup.of(Carried.MOTOR))
    return drawn + sum(1 + motor.on_wing for motor in facts.inputs.motors)
