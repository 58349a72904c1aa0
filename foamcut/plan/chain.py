"""The chain: read a design, build its parts, choose how they are cut, lay them, make the products."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from foamcut import __version__
from foamcut.design.design import Design, read_design
from foamcut.errors import Refusal, Refused
from foamcut.files import File, manifest_bytes
from foamcut.findings import Finding
from foamcut.flat.build import build_part, check_fits
from foamcut.flat.folded_check import fold_findings
from foamcut.flat.part import Part
from foamcut.nest.leftover import with_left
from foamcut.nest.register import with_register
from foamcut.nest.together import lay_all
from foamcut.nest.values import Laid, Pace, Progress, Wanted
from foamcut.nest.verify import faults
from foamcut.plan.advice import laid_findings, letter_findings, place_findings
from foamcut.plan.pieces import Chosen, Offers
from foamcut.plan.products import PRODUCTS
from foamcut.plan.progress import searching
from foamcut.plan.saving import saving_findings
from foamcut.plan.values import Checked, Listener, Options, Pack, Plan
from foamcut.plan.words import summary
from foamcut.units import MM_PER


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ready:
    """A design whose parts have found room."""

    design: Design
    sha256: str
    parts: tuple[Part, ...]
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
        As `check`.
    RuntimeError
        A layout does not pass the verifier: a bug of ours.
    """
    ready = _ready(data, file_name, seed=options.seed, pace=options.pace, listener=listener)
    plan = Plan(
        design=ready.design,
        sha256=ready.sha256,
        parts=ready.parts,
        findings=ready.findings,
        data=data,
        options=options,
        chosen=ready.chosen,
        laid=ready.laid,
        listener=listener,
    )
    files: list[File] = []
    for words, product in PRODUCTS:
        listener(words)
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
        summary=tuple(summary(plan.laid, plan.design.plan, plan.chosen, indexes)),
        layouts=plan.layouts,
        joints=plan.joints,
        pages={"full-size.pdf": len(plan.drawings), **pages},
    )


def _ready(data: bytes, file_name: str, *, seed: int, pace: Pace, listener: Listener) -> _Ready:
    design = read_design(data, file_name)
    parts, findings = _parts(design)
    chosen, laid = _laid(design, parts, seed=seed, pace=pace, listener=listener)
    ways = [finding for one in chosen for finding in one.way.findings]
    found = (
        *findings,
        *ways,
        *saving_findings(laid.savings, chosen, design.plan.currency),
        *laid_findings(design, laid.layouts, chosen),
    )
    return _Ready(
        design=design,
        sha256=hashlib.sha256(data).hexdigest(),
        parts=parts,
        chosen=chosen,
        laid=laid,
        findings=tuple(dict.fromkeys(found)),
    )


def _parts(design: Design) -> tuple[tuple[Part, ...], tuple[Finding, ...]]:
    """Build every part; refusals of all parts at once."""
    parts: list[Part] = []
    findings: list[Finding] = []
    refusals: list[Refusal] = []
    for drawn in design.parts:
        try:
            built, found = build_part(drawn)
        except Refused as err:
            refusals += err.refusals
        else:
            parts += built
            findings += found
    if refusals:
        raise _with_lines(design, refusals, later_steps=True)
    folded = [finding for part in parts if part.folds for finding in fold_findings(part)]
    found = (*findings, *check_fits(parts), *folded, *place_findings(parts))
    return tuple(parts), (*found, *letter_findings(design))


def _laid(
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


def _with_lines(design: Design, refusals: Sequence[Refusal], *, later_steps: bool = False) -> Refused:
    return Refused(design.with_lines(refusals), later_steps=later_steps, places=design.plan.places)
