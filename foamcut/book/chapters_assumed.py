"""What the numbers stand on: usual values that were taken, ranges, and what was found about the design."""

from collections.abc import Iterator

from foamcut.book.chapters_words import between_words, number_words
from foamcut.book.facts import Facts
from foamcut.book.values import Block, Chapter, Grid, Listing, Words
from foamcut.findings import CLOSING_WORDS
from foamcut.flight.amounts import amount, assumed_names, unit_word
from foamcut.flight.assumed import ASSUMED, Assumed


def assumed_chapter(facts: Facts) -> Chapter | None:
    """Usual values with range and source, what they leave open, findings; None where there is none of it."""
    within = [*_assumed(facts), *_ranges(facts), *_found(facts)]
    if not within:
        return None
    blocks: tuple[Block, ...] = (
        Words(text="The numbers of this book are worked out, not measured. Here is what they stand on."),
    )
    return Chapter(
        id="assumed", heading="What was assumed, and what was found", blocks=blocks, within=tuple(within)
    )


def _assumed(facts: Facts) -> Iterator[Chapter]:
    report = facts.report
    names = assumed_names(report.numbers, report) if report else ()
    if not names:
        return
    grid = Grid(
        caption="Taken from a table of usual values, since the design does not say",
        head=("Row", "What", "Taken as", "From-to", "Source"),
        rows=tuple((str(i), *_row(ASSUMED[name], facts.units)) for i, name in enumerate(names, 1)),
        figures=(0,),
    )
    words = Words(
        text="Measure what you can and write it into design.toml: weigh a board,"
        " the battery, the motors. Then"
        " the row falls away and the numbers come nearer to your model."
    )
    yield Chapter(id="assumed-values", heading="Usual values that went in", blocks=(words, grid))


def _row(one: Assumed, units: str) -> tuple[str, str, str, str]:
    """A usual value; mm and g are turned into the units of the sketch, all else stays."""
    if units == "in" and one.unit in ("mm", "g"):
        numbers = [amount(value, one.unit, units) for value in (one.value, one.low, one.high)]
        unit = unit_word(one.unit, units)
    else:
        numbers, unit = [f"{value:g}" for value in (one.value, one.low, one.high)], one.unit
    return one.what, f"{numbers[0]} {unit}".rstrip(), f"{numbers[1]} to {numbers[2]}", one.source


def _ranges(facts: Facts) -> Iterator[Chapter]:
    """Every number that has a range."""
    report = facts.report
    if report is None:
        return
    rows = []
    places = {name: str(i) for i, name in enumerate(assumed_names(report.numbers, report), 1)}
    for one in report.numbers:
        between = between_words(one.low, one.high, one.unit, facts.units)
        if between:
            stands = ", ".join(places[name] for name in sorted(one.assumed, key=list(places).index))
            rows.append((one.title, number_words(one, facts.units, bounds=False), between, stands or "-"))
    if rows:
        grid = Grid(
            caption="Numbers that are not sure, and the rows above that they stand on",
            head=("Number", "Worked out as", "From-to", "Stands on row"),
            rows=tuple(rows),
        )
        yield Chapter(id="assumed-ranges", heading="What they leave open", blocks=(grid,))


def _found(facts: Facts) -> Iterator[Chapter]:
    """What was found about the design; closing words alone are no finding."""
    found = list(words for words in facts.findings if words != CLOSING_WORDS)
    for one in facts.report.findings if facts.report else ():
        mend = f"; {one.mend}" if one.mend else ""
        if (words := f"{one.level.value}: {one.where}: {one.text}{mend}") not in found:
            found.append(words)
    if found:
        blocks = (
            Words(text="Before the colon stands how grave it is, behind it where in the design it is."),
            Listing(items=tuple(found)),
            Words(text=CLOSING_WORDS),
        )
        yield Chapter(id="assumed-findings", heading="What was found about the design", blocks=blocks)
