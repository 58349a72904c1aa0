"""What is said of the pieces of joined parts: which of how many, what they are glued to, how long it gets."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from foamcut.draw.values import Title
from foamcut.draw.words import facts_words, mm_and_inch
from foamcut.flat.drawn import Place
from foamcut.flat.joint import Joint, Piece, Role
from foamcut.flat.joint_mark import JointMark
from foamcut.flat.part import Part

#: how a joint is glued; said where joints are told
GLUING = (
    "To glue a joint: butt the sections on a flat table, drawn faces up, so that lines and edges run on from"
    " one to the other; a steel rule over both has to read the length told here.",
    "Lay the doubler letter to letter into the outline drawn on both sections, its drawn face up: ticks meet"
    " ticks, the second one at one end shows which end is which, those at its sides lie on the joint.",
    "Weights on it until the glue is dry; then measure the length again.",
)
#: a direction lies along an axis of the model when so much of it does: within 15 degrees
_ALONG = 0.966


def piece_roles(pieces: Iterable[Piece]) -> dict[str, str]:
    """By the name of a piece, what it is: ``section 1 of 2 of side-right``, ``doubler A of side-right``.

    `pieces` are those of all chosen ways, each once or more; whole parts are left out.
    """
    by_name = {piece.flat.name: piece for piece in pieces if piece.role is not Role.WHOLE}
    sections = _sections(by_name.values())
    roles = {}
    for name, piece in by_name.items():
        parent, which = piece.part.name, piece.suffix.rpartition("-")[2]
        if piece.role is Role.SECTION:
            roles[name] = f"section {which} of {len(sections[parent])} of {parent}"
        else:
            roles[name] = f"doubler {_letter(piece) or which.upper()} of {parent}"
    return roles


def _letter(piece: Piece) -> str:
    """The letter that is drawn on a doubler; empty where none is."""
    return next((mark.letter for mark in piece.flat.marks if isinstance(mark, JointMark)), "")


def joint_words(joints: Sequence[Joint]) -> str:
    """The lengths over assembled joints, each once: ``864 mm (34 1/64 in) over the joint (doubler A)``."""
    alike: dict[str, list[Joint]] = {}
    for joint in joints:
        alike.setdefault(mm_and_inch(joint.length_mm), []).append(joint)
    return ", ".join(f"{length} over {_named(of)}" for length, of in alike.items())


def measuring_words(joints: Sequence[Joint], place: Place | None) -> str:
    """The same with the way in which each length is measured: ``over all, along x of the drawing``.

    An edge of the part may be shorter than that, or run askew; `place` is the part's on the model.
    """
    ways = []
    for axis in (0, 1):
        over = [joint for joint in joints if (joint.x_mm is None) == (axis == 1)]
        if over:
            way = f"along {'xy'[axis]} of the drawing{_on_the_model(place, axis)}"
            ways.append(f"{joint_words(over)}, measured over all, from end to end, {way}")
    return "; ".join(ways)


def _on_the_model(place: Place | None, axis: int) -> str:
    """Which way that is on the model, where the part runs along one of its axes."""
    if not place:
        return ""
    direction = (place.x, place.y)[axis]
    for along, words in enumerate((", nose to tail", ", across the model", ", up the model")):
        if abs(direction[along]) > _ALONG:
            return words
    return ""


def _named(joints: Sequence[Joint]) -> str:
    count = "the joint" if len(joints) == 1 else f"{len(joints)} joints"
    letters = list(dict.fromkeys(letter for joint in joints for letter in joint.letters))
    if not letters:
        return count
    return f"{count} (doubler{'s' * (len(letters) > 1)} {', '.join(letters)})"


def _sections(pieces: Iterable[Piece]) -> dict[str, set[str]]:
    """Names of the sections of each part by its name."""
    found: dict[str, set[str]] = {}
    for piece in pieces:
        if piece.role is Role.SECTION:
            found.setdefault(piece.part.name, set()).add(piece.flat.name)
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What is told of pieces by their names: what each is, how long its part is once glued.

    `joints` are sentences, one for each part that is joined; `doublers` are names.
    """

    roles: Mapping[str, str] = field(default_factory=dict)
    glued: Mapping[str, str] = field(default_factory=dict)
    joints: tuple[str, ...] = ()
    doublers: frozenset[str] = frozenset()

    @classmethod
    def of(cls, pieces: Iterable[Piece], joints: Mapping[str, tuple[Joint, ...]]) -> "Told":
        """From the pieces of all chosen ways, and the joints of each part by its name."""
        every = tuple(pieces)
        sections = _sections(every)
        places = {piece.part.name: piece.part.place for piece in every}
        glued = {
            name: f"glued: {parent} {joint_words(joints[parent])}"
            for parent, names in sections.items()
            if joints.get(parent)
            for name in names
        }
        sentences = [
            f"{parent} is cut in {len(names)}: {measuring_words(joints[parent], places[parent])}"
            for parent, names in sections.items()
            if joints.get(parent)
        ]
        doublers = frozenset(piece.flat.name for piece in every if piece.role is Role.DOUBLER)
        return cls(roles=piece_roles(every), glued=glued, joints=tuple(sentences), doublers=doublers)

    def role(self, part: Part) -> str:
        """What a piece is of its part; empty for a whole one."""
        return self.roles.get(part.name, "")

    def of_piece(self, part: Part) -> tuple[str, ...]:
        """What a piece is of its part, and how long that is once glued; nothing of a whole one."""
        return tuple(words for words in (self.role(part), self.glued.get(part.name, "")) if words)

    def facts(self, part: Part, title: Title, number: int, left_out: Sequence[str]) -> tuple[str, ...]:
        """What must be read beside name, count and face; `left_out` found no room on the piece."""
        role = self.role(part)
        _, *facts = facts_words(part, title, number, left_out, role=role)
        return (*self.of_piece(part), *facts[1 if role else 0 :])
