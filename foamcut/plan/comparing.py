"""Two versions of a design: what to keep, trim, extend and cut again, and the sheets for what is cut."""

import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from foamcut.compare.numbers import Row, numbers_beside
from foamcut.compare.parts import compared_parts, unrelated
from foamcut.compare.values import Compared, Verdict
from foamcut.compare.words import revision_line
from foamcut.design.adopting import adopted
from foamcut.design.built import built_findings
from foamcut.design.design import Design, read_design
from foamcut.draw.overlay import overlay_pictures
from foamcut.errors import Refusal, Refused
from foamcut.files import File
from foamcut.flat.part import Part
from foamcut.flight.amounts import amount, unit_word
from foamcut.flight.figures import Report
from foamcut.plan.balance_words import SHOWN_FIRST
from foamcut.plan.balancing import balance_of
from foamcut.plan.building import built
from foamcut.plan.chain import packed
from foamcut.plan.checking import cut_findings, laid_parts, with_stocks_of
from foamcut.plan.outcome import Listener, Outcome
from foamcut.plan.pieces import Offers
from foamcut.plan.values import Options, Pack, Plan
from foamcut.plan.wording import columns
from foamcut.write import picture_svg
from foamcut.write.balance_json import significant


@dataclass(frozen=True, kw_only=True)
class Version:
    """One version: what it was read from, its parts, its balance (None for what is no aeroplane)."""

    data: bytes
    design: Design
    parts: tuple[Part, ...]
    report: Report | None

    @property
    def words(self) -> str:
        """Name and revision."""
        return f"{self.design.plan.name} {self.design.plan.revision}".strip()


@dataclass(frozen=True, kw_only=True)
class Comparison(Outcome):
    """What comes of an old and a new version; as an outcome it is that of the new one."""

    old: Version
    new: Version
    compared: tuple[Compared, ...]

    @property
    def added(self) -> tuple[Part, ...]:
        """What is cut: parts, and pieces that are glued to parts of the old version."""
        return tuple(part for one in self.compared for part in one.added)

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        """The numbers of both balances."""
        return numbers_beside(self.old.report, self.new.report)

    @property
    def changed(self) -> tuple[tuple[str, str, str], ...]:
        """Numbers of the design that are typed otherwise, as (key, before, after)."""
        before, after = (
            {row.key: row.typed for row in version.design.sizes_table} for version in (self.old, self.new)
        )
        keys = dict.fromkeys((*before, *after))
        return tuple(
            (key, before.get(key, ""), after.get(key, ""))
            for key in keys
            if before.get(key) != after.get(key) and not key.startswith(("built", "revision"))
        )

    @property
    def revision_line(self) -> str:
        """One line for the list of revisions."""
        return revision_line(self.compared, self.changed)

    def result(self) -> dict[str, object]:
        """What `compare --json` gives."""
        return {
            "parts": [
                {
                    "name": one.name,
                    "verdict": one.verdict.value,
                    "reason": one.reason,
                    "cut": [part.name for part in one.added],
                }
                for one in self.compared
            ],
            "numbers": [
                {
                    "name": row.name,
                    "unit": row.unit,
                    "before": _written(row.before),
                    "after": _written(row.after),
                }
                for row in self.rows
                if row.differs
            ],
            "changed": [{"key": key, "before": was, "after": now} for key, was, now in self.changed],
            "revision": self.revision_line,
        }

    def screen(self) -> str:
        """Verdicts, most work first, the balance before and after, and the line for the revisions."""
        order = (*(v for v in Verdict if v is not Verdict.KEEP), Verdict.KEEP)
        blocks = [f"{self.old.words} -> {self.new.words}: {self.counts}\n"]
        for verdict in order:
            reasons: dict[str, list[str]] = {}
            for one in self.compared:
                if one.verdict is verdict:
                    reasons.setdefault(one.reason, []).append(one.name)
            if reasons:
                lines = (f"  {', '.join(names)}: {reason}\n" for reason, names in reasons.items())
                blocks.append(f"{verdict.value.upper()}\n{''.join(lines)}")
        if numbers := tuple(self._numbers()):
            blocks.append(columns([("BALANCE", "before", "after", ""), *numbers], right=(1, 2)))
        blocks.append(f"for the revision table: {self.revision_line}\n")
        return "\n".join(blocks)

    @property
    def counts(self) -> str:
        """How many parts are kept, trimmed and so on, in words."""
        found = {v: sum(one.verdict is v for one in self.compared) for v in Verdict}
        return ", ".join(f"{n} {v.value}" for v, n in found.items() if n)

    def _numbers(self) -> Iterator[tuple[str, str, str, str]]:
        """The numbers that `balance` shows at first, where both versions are not written the same."""
        units = self.design.plan.units
        for row in self.rows:
            before, after = (
                "-" if value is None else amount(value, row.unit, units) for value in (row.before, row.after)
            )
            if before != after and row.name in SHOWN_FIRST:
                yield f"  {row.title}", before, after, unit_word(row.unit, units)


def version(data: bytes, name: str) -> Version:
    """A design of a file's name, built and weighed.

    Raises
    ------
    Refused
        It cannot be built.
    """
    design = read_design(data, name)
    made = built(design, looked_over=False)
    offers = Offers(made.parts, design.stocks)
    if offers.refusals:
        raise Refused(design.with_lines(offers.refusals), places=design.plan.places)
    report = None
    if design.airframe.surfaces:
        _, report = balance_of(design, made.parts, made.shells, offers.usual)
    return Version(data=data, design=design, parts=made.parts, report=report)


def compared(old: Version, new: Version) -> Comparison:
    """Hold two versions against each other.

    Raises
    ------
    Refused
        They have no part in common.
    """
    if reason := unrelated(old.parts, new.parts):
        raise Refused([Refusal(key="", text=f"{reason}; give two versions of one design")])
    return Comparison(
        design=new.design,
        sha256=hashlib.sha256(new.data).hexdigest(),
        parts=new.parts,
        findings=tuple(built_findings(new.design.built)),
        old=old,
        new=new,
        compared=compared_parts(old.parts, new.parts, new.design.plan.units),
    )


def remade(comparison: Comparison, options: Options, *, listener: Listener = lambda _: None) -> Pack | None:
    """The sheets and templates of what is cut, offcuts first, with both versions drawn over each other.

    None when nothing is cut.

    Raises
    ------
    Refused
        A piece finds no room.
    """
    added = comparison.added
    if not added:
        return None
    design = with_stocks_of(comparison.design, added)
    chosen, laid = laid_parts(
        design, Offers(added, design.stocks), seed=options.seed, pace=options.pace, listener=listener
    )
    known = {part.name for part in comparison.parts}
    names = tuple(part.name for part in added)
    plan = Plan(
        design=design,
        sha256=comparison.sha256,
        parts=added,
        findings=(*comparison.findings, *cut_findings(design, chosen, laid)),
        data=comparison.new.data,
        options=options,
        chosen=chosen,
        laid=laid,
        only=names,
        added=tuple(name for name in names if name not in known),
        listener=listener,
    )
    return packed(plan, more=_told(comparison))


def _told(comparison: Comparison) -> tuple[File, ...]:
    """What stands in the pack of a comparison besides: its verdicts, and the drawings."""
    head = {
        "format": "foamcut-comparison",
        "version": 1,
        "old": _facts(comparison.old),
        "new": _facts(comparison.new),
    }
    document = json.dumps({**head, **comparison.result()}, indent=1, ensure_ascii=False)
    pictures = overlay_pictures(comparison.compared, comparison.design.plan.units)
    return (
        File(name="comparison.json", data=f"{document}\n".encode()),
        *(File(name=f"{one.name}.svg", data=picture_svg.render(one)) for one in pictures),
    )


def _written(value: float | None) -> float | None:
    """A number to the digits that `balance.json` has of it."""
    return None if value is None else significant(value)


def _facts(version: Version) -> dict[str, str]:
    plan = version.design.plan
    return {
        "name": plan.name,
        "revision": plan.revision,
        "sha256": hashlib.sha256(version.data).hexdigest(),
    }


def next_revision(comparison: Comparison, date: str) -> bytes:
    """The new version with what was built drawn in, as its next revision of a day (year-month-day).

    Raises
    ------
    Refused
        A value cannot be drawn in.
    """
    design = comparison.design
    try:
        return adopted(comparison.new.data, design.built, date, comparison.revision_line)
    except ValueError as err:
        raise Refused([Refusal(key="built", text=f"{err}; write it into the design by hand")]) from None
