"""What is checked before the first flight, to tick off.

Sources: check lists of clubs and trade habit, from memory.  Rules are never told as facts: they differ from
place to place and change.
"""

from collections.abc import Iterator

from foamcut.book.chapters_words import listed, motors_count, number_words, set_words, value_words
from foamcut.book.facts import Facts
from foamcut.book.steps_words import advice, titled
from foamcut.book.values import Block, Caution, Chapter, Listing, Words
from foamcut.draw.balance_words import speed_words
from foamcut.findings import CLOSING_WORDS
from foamcut.flight.figures import Report
from foamcut.flight.values import Carried

#: how each control surface moves when the stick asks for it
_MOVES = {
    "aileron": "Stick to the right: the right aileron goes up and the left one down.",
    "elevator": "Stick towards you: the elevator goes up.",
    "rudder": "Rudder stick to the right: the rudder goes to the right, seen from behind.",
    "elevon": (
        "Stick towards you: both elevons go up. Stick to the right: the right one goes up, the left one down."
    ),
}


def checks_chapter(facts: Facts) -> Chapter | None:
    """Lists to tick off at home, on the field and after the flight; None of what is no aeroplane."""
    report = facts.report
    if report is None:
        return None
    off = ", propellers off" if motors_count(facts) else ""
    lists = (
        ("checks-home", f"At home{off}", tuple(_at_home(report, facts))),
        ("checks-field", "On the field", tuple(_on_field(report, facts))),
        ("checks-after", "After each flight", tuple(_after(facts))),
    )
    within = tuple(
        Chapter(id=name, heading=heading, blocks=(Listing(items=items, ticked=True),))
        for name, heading, items in lists
    )
    blocks: tuple[Block, ...] = (
        Caution(text=CLOSING_WORDS),
        Words(text="What you cannot tick is a reason not to fly today."),
    )
    return Chapter(id="checks", heading="Before the first flight", blocks=blocks, within=within)


def _at_home(report: Report, facts: Facts) -> Iterator[str]:
    mass, now, wing = report.number("mass_all_up"), report.loaded, facts.inputs.wing
    yield _authority(report, facts)
    if mass is not None:
        yield f"Weighed, ready to fly: ______. Worked out: about {number_words(mass, facts.units)}."
    if now is not None and wing is not None:
        target = (now.at[0] if now.target_mm is None else now.target_mm) - wing.at[0]
        yield (
            f"Balanced at {set_words(target, facts.units)} behind the wing's leading edge"
            " at the root,"
            " with everything on board, and rather in front of it than behind; across, neither wing drops."
        )
    yield (
        "Nothing is loose, cracked, warped or half glued; the wing sits square: both of its tips are equally"
        " far from the rear end of the model."
    )
    words = list(dict.fromkeys(one.word for one in report.throws))
    if _is_steered(facts):
        yield from (_MOVES[word] for word in words if word in _MOVES)
    if report.throws:
        several = listed(f"{one.word} {set_words(one.mm, facts.units)}" for one in report.throws)
        yield (
            f"Throws measured, each way: {several}. With the sticks in the middle every surface stands"
            f" {'as it was set' if 'elevon' in words else 'straight'}."
        )
        yield "No hinge binds, no horn or pushrod gives way when a surface is held and the stick is moved."
    if motors_count(facts):
        yield (
            "With the transmitter off or the signal lost the motor stops: tried with propellers off,"
            " by the book of the radio."
        )
        yield "Each motor turns the way that its propeller wants, and stops with the throttle closed."
        if motors_count(facts) > 1:
            yield "The motors start together, come to the same speed and stop together."
    if facts.setup.of(Carried.BATTERY):
        yield (
            "Batteries of model and transmitter charged; that of the model strapped where it"
            " balances, unhurt, not swollen."
        )
    yield "A second person has looked over the model with this list."


def _authority(report: Report, facts: Facts) -> str:
    """The weight that registration hangs on, and whom to ask; no rule."""
    mass = report.number("mass_all_up")
    weighs = f"It weighs about {number_words(mass, facts.units, bounds=False)} ready to fly. " if mass else ""
    return (
        f"{weighs}Whether model or pilot must be registered, insured or marked hangs in most countries on the"
        " weight, and rules change: check your authority, and do what it asks."
    )


def _on_field(report: Report, facts: Facts) -> Iterator[str]:
    yield (
        "You may fly here: the landowner, the club and the authority allow it, and your insurance covers it."
    )
    yield (
        "Nobody is in front of you or below where you will fly; people stand behind you and know what you do."
    )
    yield (
        "The air is calm, the sun is not where you will look, and long soft grass is where it may come down."
    )
    yield "An experienced pilot flies it first, or stands beside you."
    if facts.setup.of(Carried.RECEIVER) or _is_steered(facts):
        yield (
            "Range checked as the maker of the radio says, at the distance that the maker states, somebody"
            " holding the model"
            + (": first with the motor off, then with it running." if motors_count(facts) else ".")
        )
    if report.throws:
        yield "Every control moves the right way, looked at once more from behind the model."
    if motors_count(facts):
        yield (
            "Hands, clothes and people are out of the plane of the propeller before the battery is connected."
        )
        if motors_count(facts) > 1:
            yield "You know what to do when one motor stops: throttle closed at once, land straight ahead."
        time = report.number("flight_time")
        if time is not None:
            shortest = time.value if time.low is None else time.low
            yield (
                f"A timer is set, for the first flight to no more than"
                f" {value_words(shortest / 2, 'min', facts.units)}: half of the shortest time worked out."
            )
        yield "Held fast by a second person and run up, it shakes nothing loose."
        for text, mend in advice(facts.report, "launch"):
            yield f"{titled(text)}{f'; {mend}' if mend else ''}."
    else:
        yield (
            "The first throws are short, level and into the wind, over soft grass, from a place where"
            " it may land."
        )
    stall = report.number("stall_speed")
    if stall is not None:
        yield (
            f"You know that it stalls at about {speed_words(stall.value, facts.units)}: turn wide, keep the"
            " nose down."
        )


def _after(facts: Facts) -> Iterator[str]:
    if facts.setup.of(Carried.BATTERY):
        yield "Battery unplugged first of all, then the transmitter switched off."
        yield (
            "Battery, speed controls and motors felt: none is hot."
            if motors_count(facts)
            else "Battery felt: not hot."
        )
    yield "Looked over for cracks, loose glue, nicks and bent rods."
    yield (
        "Written down: weather, trims, balance, throws, what to change; what was built otherwise goes"
        " into the design."
    )


def _is_steered(facts: Facts) -> bool:
    return bool(facts.inputs.servos or facts.setup.of(Carried.SERVO))
