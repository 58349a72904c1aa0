"""What every maker of steps asks: the parts by what they are, their names and numbers, ids.  mm."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from foamcut.airframe.body_view import View, view_of
from foamcut.airframe.values import Body, Build, Motor, Role, Surface
from foamcut.book.facts import Facts
from foamcut.book.steps_kinds import Kind, Known, Owner, known_parts, pair_name
from foamcut.book.steps_words import Ruler, listed
from foamcut.flat.drawn import Hand
from foamcut.flat.part import Part
from foamcut.flat.way import Piece
from foamcut.flat.way import Role as PieceRole

#: a name that may stand in an id
_PLAIN = re.compile(r"(?!(?:surface|body|motor|part)-\d+$)[a-z0-9]+(?:-[a-z0-9]+)*")
_LONGEST_ID = 40
#: so many parts are named one by one
_FEW = 4
#: a name that reads as a word in a sentence
_WORD = re.compile(r"[a-z]{2,20}")
#: a surface of half the span of a V this steep steers like a V tail (common practice, no source)
V_TAIL_DEG = 15.0


@dataclass(frozen=True, kw_only=True, eq=False)
class Ground:
    """The facts of a design, sorted for the makers of steps."""

    facts: Facts

    @cached_property
    def ruler(self) -> Ruler:
        """Lengths in the units of the sketch."""
        return Ruler(self.facts.units)

    @cached_property
    def known(self) -> tuple[Known, ...]:
        """Every part and what it is."""
        return known_parts(self.facts.parts, self.facts.inputs)

    @cached_property
    def pieces(self) -> dict[str, list[Piece]]:
        """The pieces of each part by its name."""
        found: dict[str, list[Piece]] = {}
        for cut in self.facts.cuts:
            found.setdefault(cut.piece.part.name, []).append(cut.piece)
        return found

    @cached_property
    def views(self) -> dict[str, View]:
        """The side view of each body by its name."""
        return {body.name: view_of(body, self.facts.inputs) for body in self.facts.inputs.bodies}

    @cached_property
    def slugs(self) -> dict[str, str]:
        """What surfaces, bodies, motors and drawn parts are called in an id, by their keys."""
        found: dict[str, str] = {}
        inputs = self.facts.inputs
        kinds: tuple[tuple[str, Sequence[Owner]], ...] = (
            ("surface", inputs.surfaces),
            ("body", inputs.bodies),
            ("motor", inputs.motors),
        )
        for word, owners in kinds:
            for i, one in enumerate(owners):
                found[one.key] = _slug(one.name, f"{word}-{i + 1}")
        for i, part in enumerate(self.facts.parts):
            found[f"part {part.name}"] = _slug(part.name, f"part-{i + 1}")
        return found

    def id(self, word: str, owner: Owner | Part) -> str:
        """The id of a step about a surface, a body, a motor or a part."""
        key = f"part {owner.name}" if isinstance(owner, Part) else owner.key
        return f"{word}-{self.slugs[key]}"

    def the(self, owner: Surface | Body) -> str:
        """A surface or body in a sentence: by its name, with what it is where the name is no plain word."""
        if _WORD.fullmatch(owner.name):
            return f"the {owner.name}"
        word = owner.role.value if isinstance(owner, Surface) else "body"
        return f'the {word} "{owner.name}"'

    def of(self, owner: Owner | None, *kinds: Kind) -> tuple[Part, ...]:
        """The parts of an owner (None: of all) that are of some kinds, in their order."""
        return tuple(
            one.part
            for one in self.known
            if one.kind in kinds and (owner is None or (one.owner is not None and one.owner.key == owner.key))
        )

    def numbered(self, owner: Owner, *kinds: Kind) -> tuple[tuple[int, Part], ...]:
        """The same with the number in each part's word."""
        return tuple(
            (one.number, one.part)
            for one in self.known
            if one.kind in kinds and one.owner is not None and one.owner.key == owner.key
        )

    def numbers(self, part: Part) -> tuple[int, ...]:
        """The numbers of a part's pieces."""
        names = [piece.flat.name for piece in self.pieces.get(part.name, [])] or [part.name]
        return tuple(self.facts.numbers[name] for name in names if name in self.facts.numbers)

    def named(self, part: Part) -> str:
        """A part by name, with the numbers that are written on its pieces."""
        numbers = ", ".join(str(number) for number in self.numbers(part))
        times = f"; {part.count} pieces" if part.count > 1 else ""
        return f"{part.name} ({numbers}{times})" if numbers else part.name

    def all_named(self, parts: Sequence[Part]) -> str:
        """Several parts in a sentence; where there are many, both hands of a pair under one name."""
        if len(parts) <= _FEW:
            return listed(self.named(part) for part in parts)
        pairs: dict[str, list[Part]] = {}
        for part in parts:
            pairs.setdefault(pair_name(part), []).append(part)
        return listed(self._both(name, both) for name, both in pairs.items())

    def _both(self, name: str, both: Sequence[Part]) -> str:
        """Both hands of a pair under one name."""
        if len(both) != 2 or any(part.hand is Hand.NONE for part in both):
            return listed(self.named(part) for part in both)
        hands = listed(part.hand.value for part in both)
        numbers = ", ".join(str(number) for part in both for number in self.numbers(part))
        times = f"; {both[0].count} pieces of each" if both[0].count > 1 else ""
        return f"{name} {hands} ({numbers}{times})"

    def piece_named(self, piece: Piece) -> str:
        """A piece by what it is of its part, with its number."""
        number = self.facts.numbers.get(piece.flat.name)
        word = "piece" if piece.role is PieceRole.WHOLE else piece.suffix.replace("-", " ")
        if piece.role is PieceRole.DOUBLER:
            word = f"doubler {piece.suffix.rsplit('-', 1)[-1].upper()}"
        return f"{word} ({number})" if number is not None else word

    @cached_property
    def bodies(self) -> tuple[Part, ...]:
        """The outside of every body."""
        return self.of(None, Kind.SIDE, Kind.TROUGH, Kind.FLOOR, Kind.DECK, Kind.HATCH)

    @cached_property
    def folded(self) -> tuple[Surface, ...]:
        """Surfaces folded over a spar."""
        return tuple(one for one in self.facts.inputs.surfaces if one.build is Build.FOLDED)

    @cached_property
    def flat(self) -> tuple[Surface, ...]:
        """Surfaces of flat board."""
        return tuple(one for one in self.facts.inputs.surfaces if one.build is Build.FLAT)

    def seated_on(self, surface: Surface) -> Body | None:
        """The body in whose saddle a wing lies; None when there is none."""
        for body in self.facts.inputs.bodies:
            if any(one.surface.key == surface.key for one in self.views[body.name].seats.saddles):
                return body
        return None

    def enclosed(self, body: Body) -> tuple[Surface, ...]:
        """Tail surfaces that the sides of a body must be put on round, since their slots are closed."""
        tail = self.views[body.name].tail
        keys = {finding.where for finding in tail.findings}
        return tuple(slot.surface for slot in tail.slots if not slot.open and slot.surface.key in keys)

    @cached_property
    def tail_surfaces(self) -> tuple[Surface, ...]:
        """Stabilisers, then fins."""
        several = self.facts.inputs.surfaces
        return tuple(one for role in (Role.STABILISER, Role.FIN) for one in several if one.role is role)

    @cached_property
    def v_tail(self) -> Surface | None:
        """A stabiliser in a V with which one also steers; None when there is none."""
        for one in self.tail_surfaces:
            if one.role is Role.STABILISER and abs(one.stations[0].dihedral_deg) >= V_TAIL_DEG:
                return one
        return None

    def nose_motors(self) -> tuple[Motor, ...]:
        """Motors in the nose of a body."""
        return tuple(one for one in self.facts.inputs.motors if not one.on_wing)

    def wing_motors(self, surface: Surface | None = None) -> tuple[Motor, ...]:
        """Pairs of motors on a surface (None: on any)."""
        return tuple(
            one
            for one in self.facts.inputs.motors
            if one.on_wing and (surface is None or one.on == surface.name)
        )

    def halves(self, parts: Sequence[Part]) -> tuple[Part, ...]:
        """Of pairs the right hand alone, and every part that is no pair."""
        return tuple(part for part in parts if part.hand is not Hand.LEFT)

    @cached_property
    def tool(self) -> str:
        """Knife, plotter or laser."""
        return self.facts.title.tool


def names(parts: Sequence[Part]) -> tuple[str, ...]:
    """The names of parts, each once."""
    return tuple(dict.fromkeys(part.name for part in parts))


def _slug(name: str, otherwise: str) -> str:
    return name if _PLAIN.fullmatch(name) and len(name) <= _LONGEST_ID else otherwise
