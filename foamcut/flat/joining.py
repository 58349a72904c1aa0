"""A part cut along its joint lines: sections, doublers, and the marks that bring them together."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from foamcut.errors import Refusal, Refused
from foamcut.findings import Finding
from foamcut.flat.doublers import Patch, letters
from foamcut.flat.drawn import Doubling, Hand, JointLine
from foamcut.flat.fitting import Fitting, millimetres, nanometres
from foamcut.flat.ground import Ground
from foamcut.flat.joinery import Doubled, Joinery
from foamcut.flat.joint_choice import apart_mm, as_lines, lines_of_hand, mirrored, other, placed_lines
from foamcut.flat.joint_findings import (
    joined,
    not_staggered,
    outside,
    short_overlap,
    short_reach,
    unneeded,
    whole_at_an_angle,
)
from foamcut.flat.joint_lines import Lines
from foamcut.flat.joint_mark import Glued
from foamcut.flat.joint_refusals import builders_lines_refused, line_place, no_lines, with_turn
from foamcut.flat.joint_spread import spread
from foamcut.flat.line_search import MORE_LINES
from foamcut.flat.other_hand import other_hand
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.sections import label_section, section_outlines, section_part
from foamcut.flat.stock import Stock
from foamcut.flat.tolerances import SAME_POINT_MM
from foamcut.flat.way import Joint, Piece, Role, Way

#: rows of lines that the best is looked for among, however many ways are asked for
_LOOKED_AT = 50
#: rows of lines that the further ways are chosen among
_CHOSEN_AMONG = 400


@dataclass(frozen=True, slots=True)
class Joining:
    """A part to be joined, with all that is asked on the way."""

    part: Part
    stock: Stock
    fitting: Fitting
    doubling: Doubling
    doubler_stock: Stock
    fits: bool
    letters_from: int = 0

    @property
    def drawn(self) -> Part:
        """The hand that the builder drew: refusals are told of it, in its coordinates."""
        return other_hand(self.part) if self.part.mirror_image else self.part

    def by_builder(self, own: Sequence[JointLine]) -> tuple[Way, ...]:
        """The one way along the builder's lines."""
        part = self.part
        rising = sorted(own, key=line_place)
        lines = as_lines(own)
        if refusals := self._places_refused(own):
            raise Refused(refusals)
        keys = [line.key for line in rising]
        doubled = Joinery(part, self.doubling, self.doubler_stock).doubled(lines, keys)
        if doubled.refusals:
            raise Refused(self._in_the_drawing(lines, doubled, keys))
        theirs = lines_of_hand(part, other(part.hand)) if part.hand is Hand.LEFT else ()
        said = [unneeded(part, keys[0])] if self.fits and not part.may_join else []
        crowded = self._crowded(lines, as_lines(theirs)) if theirs else ()
        return (self._way(doubled, keys, (*said, *crowded)),)

    def _places_refused(self, own: Sequence[JointLine]) -> list[Refusal]:
        """What is wrong with the builder's lines, told of the hand that is drawn."""
        part = self.drawn
        if self.part.mirror_image:
            own = [line.mirrored() for line in own]
        lines = as_lines(own)
        sections = section_outlines(
            part.outline, [millimetres(x) for x in lines.xs], [millimetres(y) for y in lines.ys]
        )
        ground = Ground.of(part, self.doubling, self.fitting)
        return builders_lines_refused(part, ground, sorted(own, key=line_place), sections)

    def _in_the_drawing(
        self, lines: Lines, doubled: Doubled, keys: Sequence[str] = ()
    ) -> tuple[Refusal, ...]:
        """The refusals of lines that cannot be doubled, told of the hand that is drawn."""
        if not self.part.mirror_image:
            return doubled.refusals
        named = (*keys[: len(lines.xs)], *reversed(keys[len(lines.xs) :]))
        joinery = Joinery(self.drawn, self.doubling, self.doubler_stock)
        return joinery.doubled(mirrored(lines), named).refusals or doubled.refusals

    def by_program(self, most: int) -> tuple[Way, ...]:
        """Ways along the best lines, without those whose joints cannot be doubled."""
        part = self.part
        view = other_hand(part) if part.hand is Hand.LEFT else part
        ground = Ground.of(view, self.doubling, self.fitting)
        joinery = Joinery(part, self.doubling, self.doubler_stock)
        seen = joinery if view is part else Joinery(view, self.doubling, self.doubler_stock)
        wrong: list[Refusal] = []

        def refused(refusal: Refusal) -> Refused:
            return Refused([with_turn(refusal, part, self.stock, self.fitting)])

        def holds(lines: Lines) -> bool:
            return not seen.doubled(lines).refusals

        for extra in range(MORE_LINES + 1):
            rows, others = placed_lines(part, ground, holds, _CHOSEN_AMONG, extra_lines=extra)

            def way(lines: Lines, others: Lines | None = others) -> Way | None:
                doubled = joinery.doubled(lines)
                if doubled.refusals:
                    wrong.extend(() if wrong else self._in_the_drawing(lines, doubled))
                    return None
                return self._way(doubled, (), self._crowded(lines, others) if others else ())

            found = spread(rows, way, most, _LOOKED_AT, apart_from=others, apart_nm=2 * ground.overlap)
            if found:
                return tuple(found)
            if not rows and not wrong:
                raise refused(no_lines(part, Ground.of(self.drawn, self.doubling, self.fitting)))
        raise refused(wrong[0])

    def _crowded(self, lines: Lines, others: Lines) -> tuple[Finding, ...]:
        apart, doubler_mm = apart_mm(lines, others), 2 * self.doubling.overlap_mm
        if apart is None or nanometres(apart) >= nanometres(doubler_mm):
            return ()
        return (not_staggered(self.part, apart, doubler_mm),)

    def _way(self, doubled: Doubled, keys: Sequence[str], findings: Sequence[Finding]) -> Way:
        part = self.part
        rows = _lettered(doubled.doublers, self.letters_from)
        marks = [
            Glued.of(
                keys[i] if keys else part.key,
                part.face,
                letter,
                patch,
                flipped=part.hand is Hand.LEFT,
                flush=self.doubling.inset_mm <= SAME_POINT_MM,
            )
            for i, row in enumerate(rows)
            for letter, patch in row
        ]
        marks.sort(key=lambda glued: (len(glued.letter), glued.letter))
        joints = tuple(
            Joint(
                x_mm=line.at_mm if line.axis == 0 else None,
                y_mm=line.at_mm if line.axis == 1 else None,
                letters=tuple(letter for letter, _ in row),
                length_mm=part.length_mm if line.axis == 0 else part.width_mm,
                placed_by=keys[i] if keys else "",
                mirror_image=part.mirror_image,
            )
            for i, (line, row) in enumerate(zip(doubled.lines, rows, strict=True))
        )
        told = joined(
            part,
            self.fitting,
            doubled.lines,
            len(doubled.sections),
            [(glued.letter, glued.patch) for glued in marks],
            fits=self.fits,
        )
        free = () if self.fits else whole_at_an_angle(part, self.stock, self.fitting)
        return Way(
            pieces=(*self._sections(doubled.sections, marks), *map(self._doubler, marks)),
            joints=joints,
            findings=(told, *free, *findings, *self._weak(doubled, keys)),
        )

    def _weak(self, doubled: Doubled, keys: Sequence[str]) -> list[Finding]:
        """What is to be told of the doublers."""
        part, doubling = self.part, self.doubling
        reaches = zip(doubled.lines, doubled.reaches_mm, keys or [part.key] * len(doubled.lines), strict=True)
        short = (one for line, reach, key in reaches for one in short_reach(part, doubling, line, reach, key))
        return [*short, *short_overlap(part, doubling), *outside(part, doubling)]

    def _sections(self, outlines: Sequence[Outline], marks: Sequence[Glued]) -> list[Piece]:
        part = self.part
        labelled = label_section(part, outlines)
        pieces = []
        for i, outline in enumerate(outlines):
            flat = section_part(part, outline, i + 1, labelled=i == labelled)
            own = (glued.on_section(outline.polygon) for glued in marks)
            flat = replace(flat, marks=(*flat.marks, *(mark for mark in own if mark is not None)))
            pieces.append(Piece(part=part, role=Role.SECTION, flat=flat, suffix=f"section-{i + 1}"))
        return pieces

    def _doubler(self, glued: Glued) -> Piece:
        part = self.part
        suffix = f"doubler-{glued.letter.lower()}"
        flat = replace(
            part,
            name=f"{part.name}-{suffix}",
            stock=self.doubling.stock,
            thickness_mm=self.doubling.thickness_mm,
            outline=glued.patch.outline,
            slots=(),
            tabs=(),
            marks=(glued.on_doubler(),),
            label=None,
            named=(),
            folds=(),
            bevels=(),
            joint_lines=(),
            keep_clear=(),
        )
        return Piece(part=part, role=Role.DOUBLER, flat=flat, suffix=suffix)


def _lettered(rows: Sequence[Sequence[Patch]], start: int) -> list[list[tuple[str, Patch]]]:
    """The doublers of each joint with their letters, the first `start` left out: from lower x on, then y."""
    order = sorted(
        ((i, j) for i, row in enumerate(rows) for j in range(len(row))),
        key=lambda place: rows[place[0]][place[1]].outline.bounds,
    )
    named = dict(zip(order, letters(len(order), start), strict=True))
    return [[(named[i, j], patch) for j, patch in enumerate(row)] for i, row in enumerate(rows)]
