"""Weight, balance and flight numbers of a design, before anything is laid on a board or cut."""

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from foamcut.airframe.made import Shell
from foamcut.airframe.model import assembled
from foamcut.airframe.motors import with_places
from foamcut.design.built import built_findings
from foamcut.design.design import Design, read_design
from foamcut.design.literals import near
from foamcut.errors import Refusal, Refused
from foamcut.flat.part import Part
from foamcut.flight.figures import Report
from foamcut.flight.report import report
from foamcut.flight.values import Cut, Model
from foamcut.plan.balance_words import screen
from foamcut.plan.building import built
from foamcut.plan.outcome import Listener, Outcome
from foamcut.plan.pieces import Chosen, Offers
from foamcut.write import balance_json


@dataclass(frozen=True, kw_only=True)
class Balanced(Outcome):
    """What `balance` found; `before` is the same of the design as it stands, where a change was tried."""

    report: Report
    model: Model
    before: "Balanced | None" = None

    def result(self) -> dict[str, object]:
        """What stands in `balance.json`, as a record; of a change also the numbers `before` it."""
        found = balance_json.document(self.report, self.design_facts(), self.findings_table())
        return {**found, "before": self.before.result()["numbers"]} if self.before else found

    def findings_lines(self, path: str) -> list[str]:
        """As in `Outcome`; of a change, which findings are new, and which are gone with it."""
        lines = super().findings_lines(path)
        if self.before is None:
            return lines
        old, now = self.before.findings, self.findings
        was, here = ({(one.code, one.where) for one in several} for several in (old, now))
        marked = [
            line if (one.code, one.where) in was else f"{line} (new with the change)"
            for line, one in zip(lines, now, strict=False)
        ]
        gone = (f"gone with the change: {one.text}" for one in old if (one.code, one.where) not in here)
        return [*marked, *gone, *lines[len(now) :]]

    def screen(self, *, verbose: bool) -> str:
        """All numbers, aligned, in the units of the design; with their sources and every weight if wanted."""
        before = self.before.report if self.before else None
        return screen(self.report, before, self.design.plan.units, verbose=verbose)


def balance(
    data: bytes,
    file_name: str,
    *,
    changes: Sequence[tuple[str, str]] = (),
    listener: Listener = lambda _: None,
) -> Balanced:
    """Weight, balance and flight numbers; with `changes` (name of a number, text) those of both designs.

    Raises
    ------
    Refused
        The design, or the changed one, cannot be built; all refusals of the first step that has any.
    """
    listener("weighing the design")
    found = _balanced(data, read_design(data, file_name))
    if not changes:
        return found
    listener("weighing the changed design")
    changed = _balanced(data, read_design(data, file_name, changes=changes))
    return replace(changed, before=found)


def _balanced(data: bytes, design: Design) -> Balanced:
    made = built(design, looked_over=False)
    refuse_unknown_weighed(design, made.parts)
    offers = Offers(made.parts, design.stocks)
    if offers.refusals:
        raise Refused(design.with_lines(offers.refusals), places=design.plan.places)
    model, found = balance_of(design, made.parts, made.shells, offers.usual)
    return Balanced(
        design=design,
        sha256=hashlib.sha256(data).hexdigest(),
        parts=made.parts,
        findings=(*built_findings(design.built), *found.findings),
        report=found,
        model=model,
    )


def balance_of(
    design: Design, parts: Sequence[Part], shells: Sequence[Shell], chosen: Iterable[Chosen]
) -> tuple[Model, Report]:
    """What is built of a design when its parts are cut in the chosen ways, and its balance."""
    model = Model(
        inputs=with_places(design.airframe)[0],
        cuts=tuple(Cut(piece=piece, count=one.part.count) for one in chosen for piece in one.way.pieces),
        standing=assembled(parts, shells),
        stocks={stock.name: stock for stock in design.stocks},
        hardware=tuple(one.name for one in design.hardware),
    )
    return model, report(model, design.setup)


def refuse_unknown_weighed(design: Design, parts: Sequence[Part]) -> None:
    """Refuse masses of parts that the design does not have.

    Raises
    ------
    Refused
        For every such name.
    """
    known = dict.fromkeys(name for part in parts for name in (part.name, both_hands(part)))
    refusals = []
    for one in design.setup.weighed.parts:
        if one.name not in known:
            hint = near(one.name, known) or "; the names stand on every sheet and in `foamcut check --json`"
            refusals.append(Refusal(key=one.key, text=f'there is no part "{one.name}"{hint}'))
    if refusals:
        raise Refused(design.with_lines(refusals))


def both_hands(part: Part) -> str:
    """What both hands of a part are called together."""
    return part.name.removesuffix(f"-{part.hand.value}")
