"""Every thing that counts for the weight, with its mass and its place on the model.  g and mm."""

import re
from collections.abc import Iterator

from foamcut.findings import Finding, Level
from foamcut.flight.figures import Weighing
from foamcut.flight.values import Carried, Model, Setup
from foamcut.flight.weights_aboard import aboard_things, twice_findings
from foamcut.flight.weights_bought import dowel_items, motor_things, servo_items
from foamcut.flight.weights_cover import paint_items, tape_item
from foamcut.flight.weights_glue import glue_item
from foamcut.flight.weights_missing import assumed_findings, missing_findings
from foamcut.flight.weights_pieces import named, piece_items
from foamcut.flight.weights_scales import scale_items


def weighed(model: Model, setup: Setup) -> Weighing:
    """Pieces, glue, tape, paint, motors, propellers, servos, dowels, all that is carried, in drawn places.

    What was put on the scales goes before what is computed: single parts, then the whole model, whose
    difference to the sum is a thing of its own.  What is assumed is so by `foamcut.flight.assumed` alone;
    what has no mass and no row there is left out and named.  Hardware has no mass in a design.
    """
    pieces, said = piece_items(model, setup.weighed.parts)
    glue, tape = glue_item(model, setup.wishes), tape_item(model)
    motors, no_motors = motor_things(model.inputs, motors_aboard=bool(setup.of(Carried.MOTOR)))
    aboard, no_aboard = aboard_things(setup)
    items = (
        *pieces,
        *((glue,) if glue else ()),
        *((tape,) if tape else ()),
        *paint_items(model, setup.wishes),
        *motors,
        *servo_items(model),
        *dowel_items(model.inputs),
        *aboard,
    )
    over, differs = scale_items(items, setup.weighed)
    findings = (
        *said,
        *missing_findings((*no_motors, *no_aboard), items),
        *assumed_findings(setup.of(Carried.BATTERY), items),
        *twice_findings(setup, model.inputs),
        *differs,
        *_hardware(model, setup),
    )
    return Weighing(items=(*items, *over), findings=findings)


def _hardware(model: Model, setup: Setup) -> Iterator[Finding]:
    """What is bought besides and is not among the things that count, by the words of its name."""
    words = {"tape", "glue"} | ({"dowel"} if model.inputs.dowels else set())
    for one in setup.aboard:
        words |= _words(one.name)
    names = [name for name in dict.fromkeys(model.hardware) if not _words(name) & words]
    if names:
        yield Finding(
            code="hardware-unweighed",
            level=Level.NOTE,
            where="hardware",
            text=(
                f"what is bought besides has no mass in a design and is not weighed: {named(names)}; glue,"
                " tape and the dowels of [[dowel]] are counted"
            ),
            mend='write what weighs some grams under [[aboard]] with kind = "other", its mass and its place',
        )


def _words(name: str) -> set[str]:
    """The words of a name, one and several alike."""
    return {word.removesuffix("s") for word in re.findall(r"[^\W\d_]{3,}", name.casefold())}
