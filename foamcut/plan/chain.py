"""The chain: a design looked over, weighed, and made into the files of a pack."""

from collections.abc import Iterator, Sequence
from functools import partial

from foamcut import __version__
from foamcut.draw.part import remember
from foamcut.files import File, manifest_bytes
from foamcut.findings import Finding, Level
from foamcut.flight.figures import Report
from foamcut.flight.values import Model
from foamcut.plan.aside import Aside
from foamcut.plan.balancing import balance_of
from foamcut.plan.checking import Ready, begun, finished
from foamcut.plan.lettering import asked_of, letterings
from foamcut.plan.outcome import Listener
from foamcut.plan.pieces import Offers
from foamcut.plan.products import BUILDING, CUTTING, MARKING, MODEL, made
from foamcut.plan.values import Options, Pack, Plan
from foamcut.plan.words import summary
from foamcut.units import decimal_text


def cut(data: bytes, file_name: str, options: Options, *, listener: Listener = lambda _: None) -> Pack:
    """Make every file of the pack.

    Raises
    ------
    Refused
        As `check`; or there is no part of a name in `Options.only`.
    RuntimeError
        A layout does not pass the verifier: a bug of ours.
    """
    return packed(planned(data, file_name, options, listener=listener))


def packed(plan: Plan, more: Sequence[File] = ()) -> Pack:
    """The files of a plan and some more, and what to say of them."""
    here, beside = (CUTTING, MARKING) if plan.only else ((*CUTTING, *MODEL), (*MARKING, *BUILDING))
    with Aside(partial(made, beside, plan), alone=not plan.options.beside) as others:
        files = [*more, *made(here, plan), *others.result()]
    manifest = manifest_bytes(files, program=__version__, design=plan.design_facts())
    indexes = [index for _, index in plan.templates]
    pages = {index.file: len(document.pages) for document, index in plan.templates}
    return Pack(
        design=plan.design,
        sha256=plan.sha256,
        parts=plan.parts,
        findings=plan.findings,
        files=(*files, File(name="manifest.json", data=manifest)),
        summary=(
            *summary(plan.laid, plan.design.plan, plan.chosen, indexes),
            *plan.set_up,
            *_weighed_otherwise(plan),
        ),
        layouts=plan.layouts,
        joints=plan.joints,
        pages={"full-size.pdf": len(plan.drawings), **pages},
    )


def planned(data: bytes, file_name: str, options: Options, *, listener: Listener = lambda _: None) -> Plan:
    """Everything that the products are made from.

    Raises
    ------
    Refused, RuntimeError
        As `cut`.
    """
    only = options.only
    start = begun(data, file_name, only)
    asked = asked_of(start) if options.beside else ()
    with Aside(partial(letterings, asked), alone=not asked) as words:
        found = finished(start, seed=options.seed, pace=options.pace, listener=listener)
        remember(asked, words.result())
    listener("weighing the design")
    model, balance = _weighed(found) if not only else (None, None)
    return Plan(
        design=found.design,
        sha256=found.sha256,
        parts=found.parts,
        shells=found.shells,
        findings=(*found.findings, *_doubtful(balance)),
        model=model,
        balance=balance,
        data=data,
        options=options,
        chosen=found.chosen,
        laid=found.laid,
        only=tuple(part.name for part in found.parts) if only else (),
        listener=listener,
    )


def _weighed(found: Ready) -> tuple[Model | None, Report | None]:
    """The balance of an aeroplane whose parts are cut in the chosen ways; none of anything else."""
    if not found.design.airframe.surfaces:
        return None, None
    return balance_of(found.design, found.parts, found.shells, found.chosen)


def _doubtful(balance: Report | None) -> tuple[Finding, ...]:
    """What stands beside the findings of the parts: notes are left to `foamcut balance` and its file."""
    return tuple(one for one in balance.findings if one.level is not Level.NOTE) if balance else ()


def _weighed_otherwise(plan: Plan) -> Iterator[str]:
    """Where parts are cut in other ways than `foamcut balance` takes, and the mass differs: that it does."""
    if plan.balance is None or not any(plan.laid.ways):
        return
    usual = Offers(plan.parts, plan.design.stocks).usual
    _, first = balance_of(plan.design, plan.parts, plan.shells, usual)
    here, there = (sum(item.mass_g for item in one.items) for one in (plan.balance, first))
    if decimal_text(here) != decimal_text(there):
        yield (
            f"as cut here it weighs {decimal_text(here)} g; `foamcut balance` says {decimal_text(there)} g,"
            " since joints are placed elsewhere to save a board"
        )
