"""The parts of a design, drawn and generated: built, looked over one by one, then put together."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from foamcut.airframe.airframe import airframe_parts
from foamcut.airframe.assembly import fit_findings
from foamcut.airframe.made import Made, Shell
from foamcut.design.design import Design
from foamcut.errors import Refusal, Refused
from foamcut.findings import Finding, Level
from foamcut.flat.build import build_part, check_fits
from foamcut.flat.drawn import DrawnPart, Hand
from foamcut.flat.folded_check import fold_findings
from foamcut.flat.part import Part
from foamcut.plan.advice import letter_findings, place_findings


@dataclass(frozen=True, kw_only=True)
class Built:
    """Every part of a design, the shapes of its bent skins, and advice."""

    parts: tuple[Part, ...]
    shells: tuple[Shell, ...]
    findings: tuple[Finding, ...]


def built(design: Design, *, looked_over: bool = True) -> Built:
    """Build every part; refusals of all parts at once.  Advice on how they fit only when `looked_over`.

    Raises
    ------
    Refused
        Parts cannot be generated or built, or two are called the same.
    """
    made = airframe_parts(design.airframe) if design.airframe else Made()
    refusals = [*made.refusals, *_alike(design.parts, made.parts)]
    parts: list[Part] = []
    findings: list[Finding] = [*made.findings]
    generated = {part.name for part in made.parts}
    for drawn in (*design.parts, *made.parts):
        try:
            several, found = build_part(drawn)
        except Refused as err:
            refusals += _named(drawn, err.refusals) if drawn.name in generated else err.refusals
        else:
            parts += several
            findings += map(_usual, found) if drawn.name in generated else found
    if refusals:
        lines = design.with_lines(refusals)
        raise Refused(lines, later_steps=True, places=design.plan.places)
    if not looked_over:
        return Built(parts=tuple(parts), shells=made.shells, findings=())
    found = (
        *findings,
        *check_fits(parts),
        *_folded(parts, made.shells),
        *place_findings(parts),
        *(fit_findings(parts, made.shells, design.airframe) if design.airframe else ()),
        *letter_findings(design),
    )
    return Built(parts=tuple(parts), shells=made.shells, findings=found)


def _named(drawn: DrawnPart, refusals: Iterable[Refusal]) -> Iterator[Refusal]:
    """What is refused of a generated part, with its name: the design has none for it."""
    for refusal in refusals:
        yield replace(refusal, text=f'of the part "{drawn.name}": {refusal.text}')


def _usual(finding: Finding) -> Finding:
    """A round nose is scored over as much as it is high, which is how it is made (common practice)."""
    return replace(finding, level=Level.NOTE) if finding.code == "roll-tight" else finding


def _alike(drawn: Sequence[DrawnPart], generated: Sequence[DrawnPart]) -> Iterator[Refusal]:
    """Generated parts that are called like another part."""
    owners = {name: part for part in drawn for name in _names(part)}
    for part in generated:
        for name in _names(part):
            other = owners.setdefault(name, part)
            if other is not part:
                text = f'"{name}" is also the name of a part made from {part.key}; choose another name'
                yield Refusal(key=other.key, text=text)


def _names(part: DrawnPart) -> tuple[str, ...]:
    hands = (Hand.NONE,) if part.pair is Hand.NONE else (Hand.RIGHT, Hand.LEFT)
    return tuple(part.name if hand is Hand.NONE else f"{part.name}-{hand.value}" for hand in hands)


def _folded(parts: Sequence[Part], shells: Sequence[Shell]) -> Iterator[Finding]:
    """Advice on folded shapes; a part with a shell bends too, and is looked at where it is generated."""
    bent = {shell.part for shell in shells}
    for part in parts:
        if part.folds and part.name.removesuffix(f"-{part.hand.value}") not in bent:
            yield from fold_findings(part)
