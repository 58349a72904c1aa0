"""What is built, what it was drawn for, and what is in the pack."""

from collections.abc import Iterator

import numpy as np

from foamcut.book.chapters_carried import pack_words, propeller_words
from foamcut.book.chapters_words import (
    counted,
    length_words,
    listed,
    motors_count,
    number_words,
    set_words,
    thickness_words,
    thicknesses,
    value_words,
)
from foamcut.book.facts import Facts
from foamcut.book.steps_begin import OFF_MM
from foamcut.book.values import Block, Chapter, Turning, Words
from foamcut.draw.view_picture import StepViews
from foamcut.draw.views import ANGLED
from foamcut.draw.words import revision_words
from foamcut.flight.figures import Report
from foamcut.flight.values import Carried
from foamcut.nest.values import Kind

#: room for the picture of the model, mm
_STILL_MM = (170.0, 110.0)


def what_chapter(facts: Facts) -> Chapter:
    """What it is, the scale and the boards it was drawn for, how it looks."""
    blocks: list[Block] = [Words(text=" ".join(_sentences(facts)))]
    blocks += [Words(text=_scale(facts)), Words(text=_boards(facts)), Words(text=_revision(facts))]
    if facts.meshes:
        blocks.append(_model(facts))
    return Chapter(id="what", heading="What this is", blocks=tuple(blocks))


def _model(facts: Facts) -> Turning:
    """The model, to be turned, and as it looks from the left and before."""
    names = [mesh.name for mesh in facts.meshes]
    heading = f"{facts.title.title or facts.title.name}, put together"
    lacking = sum(part.place is None for part in facts.parts)
    without = f"; {counted(lacking, 'part')} without a place on it not shown" if lacking else ""
    told = f"The model from the left, before and above: {counted(len(names), 'part')}{without}."
    still = StepViews(facts.meshes, look=ANGLED, box_mm=_STILL_MM).picture("model", heading, told, names)
    return Turning(meshes=facts.meshes, still=still, caption=f"The model put together{without}")


def _sentences(facts: Facts) -> Iterator[str]:
    """One paragraph: what it is, how large, how heavy, what drives it, what it is cut from."""
    title, report = facts.title, facts.report
    yield f"{(title.title or title.name).rstrip('.')}."
    yield f"The plan is called {title.name}{f', by {title.maker}' if title.maker else ''}."
    if report is not None:
        yield from _size(report, facts)
        yield from _weight(report, facts)
        yield from _balance(report, facts)
        yield _drive(facts)
        if report.throws:
            yield f"It is steered by {listed(dict.fromkeys(_control(one.word) for one in report.throws))}."
    else:
        if length := _length_mm(facts):
            yield f"What has a place on the model is {length_words(length, facts.units)} long together."
        yield "The design has no wing: the pack has its parts and sheets, and no weight or balance."
    yield _cut_from(facts)


def _control(word: str) -> str:
    """Controls that come in twos as several."""
    return f"{word}s" if word in ("aileron", "elevon") else word


def _size(report: Report, facts: Facts) -> Iterator[str]:
    span, length = report.number("wing_span"), _length_mm(facts)
    said = []
    if span is not None:
        said.append(f"spans {length_words(span.value, facts.units)} from tip to tip")
    if length:
        rest = ", propellers not counted" if motors_count(facts) else ""
        said.append(f"is {length_words(length, facts.units)} long{rest}")
    if said:
        yield f"It {listed(said)}."


def _length_mm(facts: Facts) -> float:
    """From the foremost to the rearmost point of the parts that stand on the model."""
    if not facts.standing:
        return 0.0
    boxes = np.array([one.box for one in facts.standing])
    return float(boxes[:, 1, 0].max() - boxes[:, 0, 0].min())


def _weight(report: Report, facts: Facts) -> Iterator[str]:
    mass, bare = report.number("mass_all_up"), report.number("mass_airframe")
    area, load = report.number("wing_area"), report.number("wing_loading")
    if mass is not None:
        frame = "" if bare is None else number_words(bare, facts.units, bounds=False)
        frame = f", of which {frame} are the bare airframe" if frame else ""
        yield f"It weighs about {number_words(mass, facts.units)} ready to fly{frame}."
    if area is not None and load is not None:
        sizes = number_words(area, facts.units, bounds=False)
        yield f"The wing has {sizes}, so that it carries {number_words(load, facts.units, bounds=False)}."


def _balance(report: Report, facts: Facts) -> Iterator[str]:
    now, wing = report.loaded, facts.inputs.wing
    if now is None or wing is None:
        return
    target = now.at[0] if now.target_mm is None else now.target_mm
    place = set_words(target - wing.at[0], facts.units)
    yield f"It has to balance {place} behind the wing's leading edge at the root."


def _drive(facts: Facts) -> str:
    """The motors with their propellers, and what feeds them."""
    motors, drawn = facts.inputs.motors, facts.setup.of(Carried.MOTOR)
    count = motors_count(facts)
    if not count:
        return "It has no motor."
    sentence = f"It is driven by {counted(count, 'electric motor')}"
    powers = list(dict.fromkeys(motor.power_w for motor in motors if motor.power_w is not None))
    if len(powers) == 1 and not drawn:
        sentence += f" of {value_words(powers[0], 'W', facts.units)}{' each' if count > 1 else ''}"
    discs = dict.fromkeys(propeller_words(motor.propeller) for motor in motors)
    if discs:
        with_them = "propellers" if count > 1 else "a propeller"
        sentence += f" with {with_them} of {listed(discs)}"
    packs = [words for one in facts.setup.of(Carried.BATTERY) if (words := pack_words(one))]
    if packs:
        sentence += f", fed by a battery of {listed(packs)}"
    return f"{sentence}."


def _cut_from(facts: Facts) -> str:
    """How many sheets, and how many of them are bought."""
    said = []
    for layout in facts.layouts:
        new = sum(sheet.kind is Kind.NEW for sheet in layout.sheets)
        shelf = len(layout.sheets) - new
        words = f"{counted(len(layout.sheets), 'sheet')} of {layout.stock.name}"
        if shelf:
            words += f" ({f'{new} of them bought, ' if new else ''}{shelf} the maker had on the shelf)"
        said.append(words)
    pieces = sum(cut.count for cut in facts.cuts)
    kerf = f" that takes away {thickness_words(facts.kerf_mm, facts.units)}" if facts.kerf_mm else ""
    tool = f"; it is drawn for a {facts.title.tool}{kerf}"
    return f"Its {counted(pieces, 'piece')} are cut from {listed(said)}{tool}." if said else ""


def _scale(facts: Facts) -> str:
    title = facts.title
    unit = "inches" if title.sketch_unit == "in" else "millimetres"
    if title.sketch_scale == 1:
        return (
            f"The sketch was drawn at full size and measured in {unit}: every size in this book is a"
            " true one."
        )
    return (
        f"The sketch was drawn at {title.scale_text} and measured in {unit}. Every size in this book is a"
        ' full size, unless "sketch" stands before it: that is what a ruler reads on the sketch.'
    )


def _boards(facts: Facts) -> str:
    """What it was drawn for: the thickness that everything hangs on."""
    materials = {layout.stock.name: layout.stock.material for layout in facts.layouts}
    boards = [
        f"{name} {thickness_words(thickness, facts.units)} thick"
        + (f" ({materials[name]})" if materials.get(name) else "")
        for name, thickness in thicknesses(facts).items()
    ]
    fits = dict.fromkeys(slot.fit_mm for part in facts.parts for slot in part.slots)
    wider = ""
    if any(fits):
        several = listed(thickness_words(fit, facts.units) for fit in sorted(fits))
        wider = f" Slots are cut {several} wider and longer than what goes in."
    elif fits:
        wider = " Slots are cut exactly as wide as what goes in is thick."
    return (
        f"It was drawn for {listed(boards)}. Measure yours before you cut, at four places, with both papers:"
        f" every slot and every fold hangs on the thickness, whatever the label says.{wider} Where a board"
        f" differs by more than {thickness_words(OFF_MM, facts.units)}, write its thickness into design.toml,"
        " have the pack made again, and cut from that one."
    )


def _revision(facts: Facts) -> str:
    """The revision, with its day where it is listed."""
    title = facts.title
    if not title.revision:
        return (
            "The plan states no revision. Compare all its pages with each other before you use them together."
        )
    day = next((one.date for one in facts.revisions if one.letter == title.revision), "")
    dated = f" of {day}" if day else ""
    return (
        f"This is {revision_words(title)}{dated}. The revision stands on every page and sheet: do"
        " not mix pages"
        " of different ones."
    )
