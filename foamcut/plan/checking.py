"""A design looked over: read, its parts built, ways chosen, laid on sheets.

Nothing here draws or writes: `check` needs no more than this.
"""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from foamcut.airframe.made import Shell
from foamcut.design.built import built_findings
from foamcut.design.design import Design, read_design
from foamcut.design.literals import near, quoted
from foamcut.errors import Refusal, Refused
from foamcut.findings import Finding, Level
from foamcut.flat.part import Part
from foamcut.nest.leftover import with_left
from foamcut.nest.register import with_register
from foamcut.nest.together import lay_all
from foamcut.nest.values import Laid, Layout, Pace, Progress, Wanted
from foamcut.nest.verify import faults
from foamcut.plan.balancing import both_hands, refuse_unknown_weighed
from foamcut.plan.building import built
from foamcut.plan.laid_advice import laid_findings
from foamcut.plan.outcome import Listener, Outcome
from foamcut.plan.pieces import Chosen, Offers, joints_of, joints_table
from foamcut.plan.progress import searching
from foamcut.plan.saving import saving_findings
from foamcut.plan.wording import columns, counted
from foamcut.units import MM_PER, decimal_text, inch_text


@dataclass(frozen=True, kw_only=True)
class Checked(Outcome):
    """What `check` found."""

    layouts: tuple[Layout, ...]
    chosen: tuple[Chosen, ...]

    def stops(self, *, strict: bool) -> bool:
        """Whether a finding stops the work."""
        levels = {Level.STOP, Level.WARNING} if strict else {Level.STOP}
        return any(finding.level in levels for finding in self.findings)

    @property
    def verdict(self) -> str:
        """One line: what the design holds and what was found."""
        pieces = sum(len(sheet.placed) for layout in self.layouts for sheet in layout.sheets)
        found = {level: sum(f.level is level for f in self.findings) for level in Level}
        words = ", ".join(f"{n} {level.value}{'s' * (n != 1)}" for level, n in found.items() if n)
        holds = f"{counted(len(self.parts), 'part')}, {counted(pieces, 'piece')}"
        return f"{self.design.plan.name}: {holds}; {words or 'no findings'}"

    def joints_table(self) -> list[dict[str, object]]:
        """The joints of all parts as records."""
        return joints_table(joints_of(self.chosen))

    def parts_table(self) -> list[dict[str, object]]:
        """The parts as records."""
        return [
            {
                "name": part.name,
                "stock": part.stock,
                "count": part.count,
                "hand": part.hand.value,
                "face": part.face.value,
                "length_mm": round(part.length_mm, 3),
                "width_mm": round(part.width_mm, 3),
            }
            for part in self.parts
        ]

    def sizes_table(self) -> list[dict[str, object]]:
        """Every length as typed and at full size."""
        rows = self.design.sizes_table
        return [{"key": row.key, "typed": row.typed, "mm": row.mm} for row in rows if row.mm is not None]

    def sizes_text(self) -> str:
        """Every number, lengths at full size too, as a table to tick off against the sketch."""
        rows = self.design.sizes_table
        head: tuple[str, ...] = ("key", "as typed", "times", "mm", "inches")
        lines: list[tuple[str, ...]] = [
            (row.key, row.typed, row.factor, *(("-", "-") if row.mm is None else _both(row.mm)))
            for row in rows
        ]
        if any(row.drawn for row in rows):
            head = (*head, "drawn")
            lines = [(*line, row.drawn) for line, row in zip(lines, rows, strict=True)]
        return columns([head, *lines], right=(3, 4))


def _both(mm: float) -> tuple[str, str]:
    return decimal_text(mm, 3), inch_text(mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """A design whose parts are built, and the ways to cut them."""

    design: Design
    sha256: str
    parts: tuple[Part, ...]
    shells: tuple[Shell, ...]
    findings: tuple[Finding, ...]
    offers: Offers


@dataclass(frozen=True, slots=True, kw_only=True)
class Ready:
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
    found = ready(data, file_name, seed=1, pace=Pace(steps=1), listener=listener)
    return Checked(
        design=found.design,
        sha256=found.sha256,
        parts=found.parts,
        findings=found.findings,
        chosen=found.chosen,
        layouts=found.laid.layouts,
    )


def ready(data: bytes, file_name: str, *, seed: int, pace: Pace, listener: Listener) -> Ready:
    """A design read, its parts built and laid.

    Raises
    ------
    Refused
        As `check`.
    """
    return finished(begun(data, file_name), seed=seed, pace=pace, listener=listener)


def begun(data: bytes, file_name: str, only: Sequence[str] = ()) -> Begun:
    """A design read and its parts built, with the ways to cut them; `only` those of these names.

    Raises
    ------
    Refused
        As `check`, up to whether parts find room; or there is no part of a name in `only`.
    """
    design = read_design(data, file_name)
    model = built(design, looked_over=not only)
    refuse_unknown_weighed(design, model.parts)
    parts = chosen_parts(model.parts, only)
    if only:
        design = with_stocks_of(design, parts)
    return Begun(
        design=design,
        sha256=hashlib.sha256(data).hexdigest(),
        parts=parts,
        shells=model.shells,
        findings=(*built_findings(design.built), *model.findings),
        offers=Offers(parts, design.stocks),
    )


def finished(begun: Begun, *, seed: int, pace: Pace, listener: Listener) -> Ready:
    """What was begun, laid on sheets.

    Raises
    ------
    Refused
        Parts cannot be joined, or find no room.
    """
    chosen, laid = laid_parts(begun.design, begun.offers, seed=seed, pace=pace, listener=listener)
    return Ready(
        design=begun.design,
        sha256=begun.sha256,
        parts=begun.parts,
        shells=begun.shells,
        chosen=chosen,
        laid=laid,
        findings=tuple(dict.fromkeys((*begun.findings, *cut_findings(begun.design, chosen, laid)))),
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
        texts = (f"there is no part {quoted(name)}{hint}" for name, hint in zip(unknown, hints, strict=True))
        raise Refused([Refusal(key="--only", text=text) for text in texts])
    return tuple(part for part in parts if part.name in only or both_hands(part) in only)


def laid_parts(
    design: Design, offers: Offers, *, seed: int, pace: Pace, listener: Listener
) -> tuple[tuple[Chosen, ...], Laid]:
    """Choose how parts are cut, lay the pieces of each stock on its sheets, have the layouts verified.

    What cannot be joined and what finds no room is refused together.
    """
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
