"""The chain: read a design, build its parts, choose how they are cut, lay them, make the products."""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from foamcut import __version__
from foamcut.airframe.made import Shell
from foamcut.design.built import built_findings
from foamcut.design.design import Design, read_design
from foamcut.design.literals import near
from foamcut.errors import Refusal, Refused
from foamcut.files import File, manifest_bytes
from foamcut.findings import Finding, Level
from foamcut.flat.part import Part
from foamcut.flight.figures import Report
from foamcut.flight.values import Model
from foamcut.nest.leftover import with_left
from foamcut.nest.register import with_register
from foamcut.nest.together import lay_all
from foamcut.nest.values import Laid, Pace, Progress, Wanted
from foamcut.nest.verify import faults
from foamcut.plan.balancing import balance_of, both_hands, refuse_unknown_weighed
from foamcut.plan.building import built
from foamcut.plan.laid_advice import laid_findings
from foamcut.plan.outcome import Listener
from foamcut.plan.pieces import Chosen, Offers
from foamcut.plan.products import CUTTING, PRODUCTS
from foamcut.plan.progress import searching
from foamcut.plan.saving import saving_findings
from foamcut.plan.values import Checked, Options, Pack, Plan
from foamcut.plan.words import summary
from foamcut.units import MM_PER, decimal_text


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ready:
    """A design whose parts have found room."""

    design: Design
    sha256: str
    parts: tuple[Part, ...]
    shells: tuple[Shell, ...]
    chosen: tuple[Chosen, ...]
    laid: Laid
    findings: tuple[Finding, ...]


def check(data: bytes, file_name: str, *, listener: Listener = lambda _: None) -> Checked:
    """Look a design over, up to whether its parts find room.

    Raises
    ------
    Refused
        The design cannot be built; all refusals of the first step that has any.
    """
    ready = _ready(data, file_name, seed=1, pace=Pace(steps=1), listener=listener)
    return Checked(
        design=ready.design,
        sha256=ready.sha256,
        parts=ready.parts,
        findings=ready.findings,
        chosen=ready.chosen,
        layouts=ready.laid.layouts,
    )


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


def packed(plan: Plan) -> Pack:
    """The files of a plan, and what to say of them."""
    files: list[File] = []
    for words, product in PRODUCTS if not plan.only else CUTTING:
        plan.listener(words)
        files += product(plan)
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
    ready = _ready(data, file_name, seed=options.seed, pace=options.pace, only=only, listener=listener)
    listener("weighing the design")
    model, balance = _weighed(ready) if not only else (None, None)
    return Plan(
        design=ready.design,
        sha256=ready.sha256,
        parts=ready.parts,
        shells=ready.shells,
        findings=(*ready.findings, *_doubtful(balance)),
        model=model,
        balance=balance,
        data=data,
        options=options,
        chosen=ready.chosen,
        laid=ready.laid,
        only=tuple(part.name for part in ready.parts) if only else (),
        listener=listener,
    )


def _weighed(ready: _Ready) -> tuple[Model | None, Report | None]:
    """The balance of an aeroplane whose parts are cut in the chosen ways; none of anything else."""
    if not ready.design.airframe.surfaces:
        return None, None
    return balance_of(ready.design, ready.parts, ready.shells, ready.chosen)


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


def _ready(
    data: bytes,
    file_name: str,
    *,
    seed: int,
    pace: Pace,
    only: Sequence[str] = (),
    listener: Listener,
) -> _Ready:
    design = read_design(data, file_name)
    model = built(design, looked_over=not only)
    refuse_unknown_weighed(design, model.parts)
    parts = chosen_parts(model.parts, only)
    if only:
        design = with_stocks_of(design, parts)
    chosen, laid = laid_parts(design, parts, seed=seed, pace=pace, listener=listener)
    found = (
        *built_findings(design.built),
        *model.findings,
        *cut_findings(design, chosen, laid),
    )
    return _Ready(
        design=design,
        sha256=hashlib.sha256(data).hexdigest(),
        parts=parts,
        shells=model.shells,
        chosen=chosen,
        laid=laid,
        findings=tuple(dict.fromkeys(found)),
    )


def cut_findings(design: Design, chosen: Sequence[Chosen], laid: Laid) -> tuple[Finding, ...]:
    """Advice on the ways that parts are cut, and on where they lie."""
    return (
        *(finding for one in chosen for finding in one.way.findings),
        *saving_findings(laid.savings, chosen, design.plan.currency),
        *laid_findings(design, laid.layouts, chosen),
    )


def with_stocks_of(design: Design, parts: Sequence[Part]) -> Design:
    """The design with the stocks that some parts are cut from, and no boards to spare."""
    doublers = {part.doubling.stock for part in parts if part.doubling}
    needed = {part.stock for part in parts} | doublers
    return replace(design, stocks=tuple(replace(s, spare=0) for s in design.stocks if s.name in needed))


def chosen_parts(parts: Sequence[Part], only: Sequence[str]) -> tuple[Part, ...]:
    """The parts of these names, both hands of a pair by the name of the pair; all where none is named.

    Raises
    ------
    Refused
        With every name that no part has.
    """
    if not only:
        return tuple(parts)
    known = dict.fromkeys(name for part in parts for name in (part.name, both_hands(part)))
    unknown = [name for name in only if name not in known]
    if unknown:
        hints = (near(name, known) or "; the names stand on every sheet" for name in unknown)
        texts = (f'there is no part "{name}"{hint}' for name, hint in zip(unknown, hints, strict=True))
        raise Refused([Refusal(key="--only", text=text) for text in texts])
    return tuple(part for part in parts if part.name in only or both_hands(part) in only)


def laid_parts(
    design: Design, parts: Sequence[Part], *, seed: int, pace: Pace, listener: Listener
) -> tuple[tuple[Chosen, ...], Laid]:
    """Choose how parts are cut, lay the pieces of each stock on its sheets, have the layouts verified.

    What cannot be joined and what finds no room is refused together.
    """
    offers = Offers(parts, design.stocks)
    bed_mm = design.plan.bed_mm
    try:
        laid = lay_all(
            offers.wanted,
            design.stocks,
            seed=seed,
            pace=pace,
            listener=partial(_tell, listener),
            bed_mm=bed_mm,
            more_ways=offers.more_ways,
        )
        chosen, found = offers.settled(laid)
    except Refused as err:
        raise _with_lines(design, (*offers.refusals, *err.refusals)) from None
    if offers.refusals:
        raise _with_lines(design, offers.refusals)
    step_mm = float(MM_PER["in"]) / 16 if design.plan.units == "in" else 1.0
    layouts = tuple(with_left(with_register(layout), step_mm) for layout in found)
    wanted = [Wanted(part=one.part, ways=(one.way,)) for one in chosen]
    if wrong := faults(layouts, wanted, bed_mm=bed_mm):
        raise RuntimeError("the layout does not pass its verifier: " + "; ".join(wrong[:5]))
    return chosen, replace(laid, layouts=layouts)


def _tell(listener: Listener, progress: Progress) -> None:
    listener(searching(progress))


def _with_lines(design: Design, refusals: Sequence[Refusal]) -> Refused:
    return Refused(design.with_lines(refusals), places=design.plan.places)
