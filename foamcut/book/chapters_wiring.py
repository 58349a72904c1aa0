"""What is plugged into what, and how long every lead is.

How leads are laid is common practice, no source; the maker's word comes first.
"""

from collections.abc import Iterator

from foamcut.book.chapters_words import motors_count, set_words
from foamcut.book.facts import Facts
from foamcut.book.values import Block, Caution, Chapter, Figure, Grid, Listing, Words
from foamcut.draw.wiring_picture import wiring_pictures
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.values import Carried, Packs
from foamcut.flight.wiring_list import Lead, leads

_OFF = "Propellers stay off while you wire and try. "
_POLES = (
    "Red is plus: a battery that is plugged in the wrong way round, or two bare wires that touch, can burn"
    " within seconds. Cover every joint with shrink tube before the next one is bared, and never cut both"
    " wires of a battery at once."
)


def wiring_chapter(facts: Facts) -> Chapter | None:
    """Pictures, the table of leads and how they are laid; None where nothing is wired."""
    found = leads(facts.model, facts.setup) if facts.model else ()
    pictures = wiring_pictures(facts.model, facts.setup, facts.units)
    if not (found or pictures):
        return None
    blocks: list[Block] = [
        Caution(text=f"{_OFF if motors_count(facts) else ''}{_POLES}"),
        *(Figure(picture=picture, caption=picture.heading) for picture in pictures),
        *((_table(found, facts), Words(text=_how_long(facts))) if found else ()),
        Listing(items=tuple(_laid(facts))),
    ]
    return Chapter(id="wiring", heading="Wiring", blocks=tuple(blocks))


def _table(found: tuple[Lead, ...], facts: Facts) -> Grid:
    return Grid(
        caption="Every lead: how far it has to reach, along, across and up, and how long it is by the design",
        head=("From", "To", "How many", "What it is", "Way", "At least", "By the design"),
        rows=tuple(
            (
                lead.start,
                lead.end,
                str(lead.count),
                lead.strands.value,
                set_words(lead.way_mm, facts.units),
                set_words(lead.needed_mm, facts.units),
                "-" if lead.given_mm is None else set_words(lead.given_mm, facts.units),
            )
            for lead in found
        ),
        figures=(2, 4, 5, 6),
    )


def _how_long(facts: Facts) -> str:
    slack = set_words(ASSUMED["lead_slack"].value, facts.units)
    return (
        f"At least is the way and {slack} to spare. Lay a string where the lead will run and measure it"
        " before you cut a wire; what is too long is folded once and tied, what is too short strains its"
        " plug."
    )


def _laid(facts: Facts) -> Iterator[str]:
    """How leads are laid, and what goes with several motors."""
    surfaces = {surface.name for surface in facts.inputs.surfaces}
    inside = [one.on[0] for one in facts.inputs.servos] + [one.on for one in facts.inputs.motors]
    for name in dict.fromkeys(one for one in inside if one in surfaces):
        yield (
            f"Draw the leads that run inside {name} through it before it is closed, and leave a thread in"
            " beside them."
        )
    yield "Keep leads off pushrods and hinges, tie them every hand's breadth, and mark both ends alike."
    if facts.setup.of(Carried.RECEIVER):
        yield "Keep the aerial of the receiver where its maker wants it, off wires that carry much current."
    if facts.setup.of(Carried.BATTERY) and not (facts.setup.of(Carried.SPEED_CONTROL) or motors_count(facts)):
        yield (
            "The battery feeds receiver and servos straight: look whether all of them bear the voltage of the"
            " full battery, or put a voltage regulator between."
        )
    if facts.setup.of(Carried.SPEED_CONTROL) and motors_count(facts):
        yield (
            "Leave battery leads as short as they can be, and lengthen those to the motor instead. Two of the"
            " three motor wires changed over turn the motor the other way."
        )
    if sum(one.count for one in facts.setup.of(Carried.SPEED_CONTROL)) > 1:
        yield from _several(facts)


def _several(facts: Facts) -> Iterator[str]:
    """What holds of more than one speed control."""
    wiring = facts.setup.wiring
    yield "One lead in the shape of a Y gives all speed controls the same signal; set them up alike."
    if wiring.joined is False:
        yield (
            "The receiver is fed by one speed control alone: the red wire of the others is taken out of its"
            " plug and covered."
        )
    elif wiring.joined:
        yield (
            "The design joins the receiver supplies of the speed controls. Ask their maker whether they bear"
            " that; else take the red wire of all but one out of its plug and cover it."
        )
    else:
        yield (
            "Where speed controls feed the receiver too, take the red wire of all but one out of its plug and"
            " cover it, unless their maker says otherwise."
        )
    if sum(one.count for one in facts.setup.of(Carried.BATTERY)) > 1:
        if wiring.packs is Packs.TOGETHER:
            yield "The packs feed all motors together: none stops before the others."
        elif wiring.packs is Packs.APART:
            yield "Each motor has a pack of its own: charge and change them together: none shall stop first."
