"""Paint, scales, battery, balance.  mm, g."""

from collections.abc import Iterator

from foamcut.airframe.values import Surface
from foamcut.book.step import Step, Tie
from foamcut.book.steps_balance import balance_step, battery_step
from foamcut.book.steps_body import SHELL
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_motors import motor_count
from foamcut.book.steps_reach import batteries_under
from foamcut.book.steps_skins import SKINS
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import listed, off_middle, titled
from foamcut.book.values import Grid
from foamcut.flight.values import Carried
from foamcut.units import decimal_text

#: what a finished model may weigh, as a share of what was worked out (common practice, no source)
_HEAVY = 1.1


def finish_steps(ground: Ground, making: Making) -> Iterator[Step]:
    """From paint to balance."""
    yield _paint(ground, making)
    wings = [one for one in ground.facts.inputs.surfaces if making.has(ground.id("saddle", one))]
    for wing in wings:
        yield _wing_on(ground, making, wing)
    if ground.facts.inputs.surfaces:
        yield _weigh(ground, making)
        if batteries := ground.facts.setup.of(Carried.BATTERY):
            yield battery_step(ground, batteries)
        yield balance_step(ground, making)


def _paint(ground: Ground, making: Making) -> Step:
    wishes = ground.facts.setup.wishes
    plane = bool(ground.facts.inputs.surfaces)
    does = [
        "Close bare edges of foam with tape or a thin coat of white glue first: water lifts the paper from"
        " the foam there.",
        "Paint with water-based paint, in thin coats, both faces of a board alike: a board painted on one"
        " side curls. Try paint and varnish on a scrap, spray paint above all, since many eat foam.",
    ]
    if plane:
        does.append(
            "Leave hinges, the V of the balance and openings for air free. Make the underside another colour"
            " than the top, so that you can tell in the air how it lies."
        )
        if wishes.paint_g_m2:
            does.append(
                f"The weight was worked out with {decimal_text(wishes.paint_g_m2)} g of paint on each square"
                " metre: weigh a scrap of known size before and after, to see whether yours is heavier."
            )
        does.append("Write your name and what the rules of your place ask for on the outside.")
    ties = [
        (Tie.GLUED if step.adds else Tie.CHECKED, step.id)
        for step in making.steps
        if step.id not in ("measure", "cut")
    ]
    return Step(
        id="paint",
        heading="Paint",
        does=tuple(does),
        cautions=("Paint fumes: work outdoors or with windows open, away from flames.",),
        checks=(
            "Nothing is warped: each half of the wing lies flat on the table as before, and the tail is"
            " straight.",
        )
        if plane
        else ("Nothing is warped.",),
        after=tuple(_last(ties, making)),
        tools=("water-based paint or varnish", "soft brush", "tape"),
    )


def _last(ties: list[tuple[Tie, str]], making: Making) -> Iterator[tuple[Tie, str]]:
    """Of ties those to steps that no other step waits for."""
    waited = {other for step in making.steps for _, other in step.after}
    return (tie for tie in ties if tie[1] not in waited)


def _wing_on(ground: Ground, making: Making, wing: Surface) -> Step:
    """How the wing stays in its saddle."""
    bodies = [
        body
        for body in ground.facts.inputs.bodies
        if any(one.surface.key == wing.key for one in ground.views[body.name].seats.saddles)
    ]
    dowels = any(one.on == body.name for body in bodies for one in ground.facts.inputs.dowels)
    on = listed(ground.the(body) for body in bodies)
    bands = [one for one in ground.facts.bought if "band" in one.name.casefold()]
    does = [
        f"Set {ground.the(wing)} in the saddle of {on}, on the lines that you drew when you tried it."
        + (
            " Let its leads hang into the body first, plug them in, and see that none is pinched."
            if making.has(ground.id("leads", wing))
            else ""
        ),
    ]
    under = batteries_under(ground, wing)
    if dowels:
        words = f" ({listed(f'{one.needed} of {one.name}' for one in bands)})" if bands else ""
        does.append(
            f"Hold it with rubber bands from the front dowels to the rear ones{words}: the first ones"
            " straight, the last two crossed. Lay a strip of tape over leading and trailing edge where the"
            " bands press."
        )
    elif under:
        does.append(
            "There are no dowels for rubber bands, and the battery lies under the wing: hold the wing with"
            " strips of glass-fibre tape, above and below, that come off again; do not glue it."
        )
    else:
        does.append(
            "There are no dowels for rubber bands: tape the wing to the body all round with glass-fibre"
            " tape, above and below, or glue it in when everything under it has been tried, since nothing"
            " under it is reached then."
        )
    servos = making.ties((Tie.CHECKED, "servos"), (Tie.CHECKED, "horns"))
    return Step(
        id=ground.id("fix", wing),
        heading=f"Fix {ground.the(wing)} to {on}",
        does=tuple(does),
        checks=(
            "It cannot be shifted or rocked by hand.",
            "Both wing tips are as far from the rear of the body as before.",
        ),
        after=(
            (Tie.CHECKED, ground.id("saddle", wing)),
            (Tie.CHECKED, "paint"),
            *(((Tie.SHUT_IN, "battery"),) if under else ()),
            *servos,
        ),
        adds=names(ground.of(wing, *SKINS, Kind.PANEL)),
        shows=names(
            [part for body in bodies for part in ground.of(body, *SHELL, Kind.DECK, Kind.HATCH, Kind.FLOOR)]
        ),
        tools=("rubber bands",) if dowels else ("glass-fibre tape",),
    )


def _weigh(ground: Ground, making: Making) -> Step:
    report, ruler = ground.facts.report, ground.ruler
    loaded = report.loaded if report else None
    does = [
        "Put everything that flies with it in its place (the table says what was counted and"
        f" where){', the propellers beside it,' if motor_count(ground) else ''} and weigh it all."
    ]
    does += [
        f"{titled(one.name)}: fix it to the floor with straps of plywood before you weigh, its middle"
        f" {ruler(one.at[0])} behind the nose and {ruler.up(one.at[1])}."
        for one in ground.facts.setup.of(Carried.GEAR)
    ]
    checks = ["The weight is written down."]
    if loaded is not None:
        does.append(
            f"The design says {ruler.mass(loaded.mass_g)} ready to fly ({ruler.mass(loaded.low_g)} to"
            f" {ruler.mass(loaded.high_g)})."
        )
        checks.insert(
            0,
            f"It weighs no more than {ruler.mass(loaded.mass_g * _HEAVY)}: else find out what is heavy before"
            " you fly it.",
        )
    does += [
        'Write it into the design file, [weighed] model = { mass = "... g" }, and have the balance worked out'
        " again: speeds and loads follow it.",
        "In many places rules begin at a certain weight, 250 g for one. Ask the authority of your place what"
        " holds for this model before you fly it.",
    ]
    return Step(
        id="weigh",
        heading="Weigh it",
        does=tuple(does),
        checks=tuple(checks),
        after=((Tie.CHECKED, "paint"), *making.starting(Tie.CHECKED, "fix")),
        tools=("kitchen scales",),
        blocks=_aboard(ground),
    )


def _built_in(ground: Ground) -> Iterator[tuple[str, str, str, str, str]]:
    """Motors, propellers, and servos in openings, of which the design gives no place aboard."""
    report, inputs, ruler = ground.facts.report, ground.facts.inputs, ground.ruler
    keyed = [(f"motor of {one.on}", one.key) for one in inputs.motors]
    keyed += [(f"propeller of {one.on}", one.propeller.key) for one in inputs.motors]
    keyed += [(f"{one.drives} servo", one.key) for one in inputs.servos]
    for name, key in keyed:
        items = [one for one in (report.items if report else ()) if one.key == key and one.at is not None]
        if not items or items[0].at is None:
            continue
        along, out, up = items[0].at
        both = len(items) > 1
        yield (
            f"{len(items)} x {name}" if both else name,
            ruler.mass(items[0].mass_g),
            ruler(along) if along > -0.05 else f"{ruler(-along)} before it",
            ruler.up(up),
            f"{ruler(abs(out))} on each side" if both else off_middle(out, ruler),
        )


def _aboard(ground: Ground) -> tuple[Grid, ...]:
    """What is carried, and where its middle lies."""
    ruler = ground.ruler
    rows = list(_built_in(ground))
    for one in ground.facts.setup.aboard:
        mass = ruler.mass(one.mass_g) if one.mass_g is not None else "not weighed"
        out = f"{ruler(abs(one.out_mm))} on each side" if one.mirrored else off_middle(one.out_mm, ruler)
        count = f"{one.count} x {one.name}" if one.count > 1 else one.name
        rows.append((count, mass, ruler(one.at[0]), ruler.up(one.at[1]), out))
    if not rows:
        return ()
    return (
        Grid(
            caption="What is aboard, and where its middle lies",
            head=("thing", "each weighs", "behind the nose", "height", "out"),
            rows=tuple(rows),
        ),
    )
