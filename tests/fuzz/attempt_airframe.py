"""One attempt on the airframe: a random aeroplane goes in, parts that fit, advice or refusals come out.

Everything that a builder must never meet is a fault, in words: an exception, a generated part that cannot be
cut, numbers that are none, skins that differ from their shape on the model.
"""

import math
import re
import traceback
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from foamcut.airframe.airframe import airframe_parts
from foamcut.airframe.assembly import fit_findings
from foamcut.airframe.made import Made
from foamcut.airframe.values import Inputs
from foamcut.errors import Refusal, Refused
from foamcut.findings import Finding, Level
from foamcut.flat.build import build_part, check_fits
from foamcut.flat.drawn import Hand
from foamcut.flat.folded_check import fold_findings
from foamcut.flat.part import Part
from tests.fuzz.flat_skins import skin_faults
from tests.fuzz.random_airframes import random_airframe

_LEAKS = re.compile(r"Traceback|object at 0x|\b(nan|inf|None|TypeError|ValueError|KeyError|IndexError)\b")
#: hands may differ by rounding alone, mm
_ALIKE_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What became of one aeroplane; `faults` are empty when every promise held."""

    refusals: tuple[Refusal, ...] = ()
    findings: tuple[Finding, ...] = ()
    faults: tuple[str, ...] = ()

    @property
    def named(self) -> tuple[Finding, ...]:
        """Findings that name something which does not fit, or is a warning."""
        return tuple(
            one for one in self.findings if one.code.startswith("fit-") or one.level is not Level.NOTE
        )


def attempt_airframe(seed: int) -> Outcome:
    """Generate, cut and put together the aeroplane of a seed, and look at all of it."""
    try:
        return attempt_inputs(random_airframe(seed)[0])
    except Exception as err:
        last = traceback.extract_tb(err.__traceback__)[-1]
        where = f"{last.filename.rsplit('/', 1)[-1]}:{last.lineno}"
        return Outcome(faults=(f"{type(err).__name__} at {where}: {str(err)[:300]}",))


def attempt_inputs(inputs: Inputs) -> Outcome:
    """The same for given inputs; what is raised is raised."""
    made = airframe_parts(inputs)
    if made.refusals:
        return Outcome(refusals=made.refusals, faults=tuple(_word_faults(made.refusals)))
    parts: list[Part] = []
    findings: list[Finding] = [*made.findings]
    faults: list[str] = []
    for drawn in made.parts:
        try:
            several, found = build_part(drawn)
        except Refused as refused:
            faults.append(f"{drawn.name} cannot be cut: {str(refused)[:300]}")
            continue
        parts += several
        findings += (one for one in found if one.code != "roll-tight")  # a round nose is always one
    if faults:
        return Outcome(faults=tuple(faults))
    bent = {shell.part for shell in made.shells}
    findings += check_fits(parts)
    for part in parts:
        if part.folds and part.name.removesuffix(f"-{part.hand.value}") not in bent:
            findings += fold_findings(part)
    faults += [*_number_faults(parts, made), *_hand_faults(parts)]
    if not faults:
        findings += fit_findings(parts, made.shells, inputs)
        faults += skin_faults(parts, made.shells, inputs, findings)
    return Outcome(findings=tuple(findings), faults=(*faults, *_finding_faults(findings)))


def _word_faults(refusals: Sequence[Refusal]) -> Iterator[str]:
    if len(set(refusals)) != len(refusals):
        yield "the same refusal twice"
    for one in refusals:
        if _LEAKS.search(one.text) or not one.text.strip() or len(one.text) > 1000 or not one.key:
            yield f"words that are not for a builder: {one.key}: {one.text[:300]}"


def _finding_faults(findings: Sequence[Finding]) -> Iterator[str]:
    for one in findings:
        if _LEAKS.search(f"{one.text} {one.value}") or not one.text.strip() or not one.where:
            yield f"words that are not for a builder: {one.where}: {one.text[:300]}"


def _number_faults(parts: Sequence[Part], made: Made) -> Iterator[str]:
    """Names given twice, coordinates that are no numbers, material that is no polygon."""
    names = [part.name for part in parts]
    if len(set(names)) != len(names):
        yield f"names given twice: {sorted({one for one in names if names.count(one) > 1})}"
    for part in parts:
        polygon = part.outline.polygon
        if not (
            polygon.is_valid and polygon.area > 0 and np.isfinite(shapely.get_coordinates(polygon)).all()
        ):
            yield f"{part.name}: not an outline"
        if part.place is None:
            yield f"{part.name}: without a place"
        elif not np.isfinite([*part.place.at, *part.place.x, *part.place.y]).all():
            yield f"{part.name}: placed at no number"
    drawn = {one.name for one in made.parts}
    for shell in made.shells:
        if shell.part not in drawn:
            yield f"{shell.part}: a shape without a part"
        if shell.outer.shape != shell.inner.shape or not np.isfinite([shell.outer, shell.inner]).all():
            yield f"{shell.part}: no shape"


def _hand_faults(parts: Sequence[Part]) -> Iterator[str]:
    """Left hands that are not the mirror image of right ones on the model (arithmetic: y -> -y)."""
    left = {part.name.removesuffix("-left"): part for part in parts if part.hand is Hand.LEFT}
    for right in parts:
        if right.hand is not Hand.RIGHT:
            continue
        other = left.get(right.name.removesuffix("-right"))
        if other is None:
            yield f"{right.name}: without its other hand"
            continue
        image = shapely.transform(other.outline.polygon, lambda xy: xy * [1, -1])
        apart = right.outline.polygon.symmetric_difference(image).area
        if apart > _ALIKE_MM * right.outline.polygon.length:
            yield f"{right.name}: {apart:.3f} mm2 apart from its other hand"
        ring = shapely.get_coordinates(right.outline.polygon.exterior)
        off = np.abs(_on_model(right, ring) * [1, -1, 1] - _on_model(other, ring * [1, -1])).max()
        if not off <= _ALIKE_MM:
            yield f"{right.name}: {off:.3f} mm off the mirror image of its other hand"


def _on_model(part: Part, points: np.ndarray) -> np.ndarray:
    if part.place is None:
        return np.full((len(points), 3), math.nan)
    return np.array(part.place.at) + points @ np.array([part.place.x, part.place.y])
