"""A drawing for each step: what is there already, and what it adds."""

from collections.abc import Sequence

from foamcut.book.facts import Facts
from foamcut.book.step import Step
from foamcut.book.step_flat import Lying, flat_picture, lying_on
from foamcut.book.step_sheets import measured_picture, sheets_picture
from foamcut.book.step_things import OF_STEP, thing_meshes
from foamcut.book.steps_ground import Ground
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_words import listed
from foamcut.draw.picture import Picture
from foamcut.draw.view_picture import StepViews
from foamcut.flat.drawn import Hand
from foamcut.flat.part import Part
from foamcut.flat.way import Role

#: steps whose work lies flat on the bench: what they add is drawn as it is cut
_FLAT = ("joints", "doublers", "skin", "sheet", "panels", "fold", "slots")
#: steps whose work lies on a lower skin before it is closed: that skin is drawn open, as it lies on the bench
_ON_SKIN = ("spar", "joiner", "firewall", "leads", "lengths")
#: marks that show where leads run
_WAYS = ("wire way", "motor wires", "servo")
#: parts drawn on one picture at most: more would be too small to be told apart
_MOST = 12


def step_pictures(steps: Sequence[Step], facts: Facts) -> dict[str, Picture]:
    """A picture of what each step works on, by the step's id; none where there is nothing to show."""
    drawing = _Drawing(facts)
    found = {}
    for step in steps:
        picture = drawing.picture(step)
        if picture is not None:
            found[step.id] = picture
    return found


class _Drawing:
    """What all pictures of a design share."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.ground = Ground(facts=facts)
        self.parts = {part.name: part for part in facts.parts}
        self.things = thing_meshes(facts) if facts.meshes else ()
        self.views = StepViews((*facts.meshes, *self.things)) if facts.meshes else None

    def picture(self, step: Step) -> Picture | None:
        """The picture of a step; None when there is nothing to show."""
        if step.id == "cut":
            return self._sheets(step)
        if step.id == "label":
            return self._hands(step)
        if step.id == "measure":
            return measured_picture(self._name(step), step.heading)
        if step.id.split("-", 1)[0] in _FLAT:
            return self._flat(step)
        if step.id.split("-", 1)[0] in _ON_SKIN and (picture := self._on_skin(step)):
            return picture
        return self._model(step)

    def _name(self, step: Step) -> str:
        return f"step-{step.id}"

    def _sheets(self, step: Step) -> Picture | None:
        sheets = [sheet for layout in self.facts.layouts for sheet in layout.sheets]
        if not sheets:
            return None
        told = (
            "Every sheet seen from above, small, with the outline of each piece and its number:"
            f" {listed(f'{sheet.stock} {sheet.number} with {len(sheet.placed)} pieces' for sheet in sheets)}."
        )
        return sheets_picture(self._name(step), step.heading, told, sheets, dict(self.facts.numbers))

    def _hands(self, step: Step) -> Picture | None:
        """The first pair beside each other."""
        right = next((part for part in self.facts.parts if part.hand is Hand.RIGHT), None)
        if right is None:
            return None
        left = next((p for p in self.facts.parts if p.hand is Hand.LEFT and p.key == right.key), None)
        if left is None:
            return None
        several = [Lying(part=part, label=self.ground.named(part)) for part in (left, right)]
        told = (
            f"{left.name} on the left and {right.name} on the right, both with the drawn face up: each is the"
            " mirror image of the other."
        )
        return flat_picture(self._name(step), step.heading, told, several)

    def _flat(self, step: Step) -> Picture | None:
        names = step.adds or step.shows
        parts = [self.parts[name] for name in names if name in self.parts]
        if not parts:
            return None
        if step.id == "joints":
            several = [self._joined(part) for part in parts]
        elif step.id.startswith("doublers"):
            several = self._doubled(step, parts)
        else:
            lettered = step.id.startswith(("fold-", "skin-"))
            several = [
                Lying(part=part, label=self.ground.named(part), lettered=lettered)
                for part in _by_side(_few(parts))
            ]
        what = listed(one.label for one in several)
        told = f"Seen from above as they lie on the bench, drawn face up: {what}."
        if any(one.over for one in several):
            told += (
                " What is glued on is filled, the joint lies under its middle."
                if step.id == "joints"
                else " What is glued on is filled."
            )
        elif any(part.folds for part in parts):
            told += " Foam that is taken out for folds is filled, lines where the board turns are dashed."
        return flat_picture(self._name(step), step.heading, told, several)

    def _on_skin(self, step: Step) -> Picture | None:
        """Lower skins with what is glued on them, each thing on the skin of its hand; None without any."""
        skins = [
            one.part
            for one in self.ground.known
            if one.kind in (Kind.SKIN, Kind.LOWER) and one.part.name in step.shows
        ]
        things = [self.parts[name] for name in step.adds if name in self.parts]
        if not skins or any(one.place is None for one in (*skins, *things)):
            return None
        several = []
        for skin in _by_side(skins):
            mine = [one for one in things if one.hand in (skin.hand, Hand.NONE)]
            if step.id.startswith("joiner"):
                mine = [one for one in mine if skin.hand is not Hand.LEFT]
            several.append(
                Lying(
                    part=skin,
                    label=self.ground.named(skin),
                    on_it=tuple(ring for one in mine if (ring := lying_on(skin, one))),
                    bold=_WAYS if step.id.startswith("leads") else (),
                )
            )
        what = listed(one.label for one in several)
        told = f"Seen from above, opened flat, inner face up, the nose fold above the lower skin: {what}."
        if things:
            told += f" Filled on them: {self.ground.all_named(things)}."
        elif step.id.startswith("leads"):
            told += " The ways of the leads are drawn as dashed lines, from each opening to the root."
        return flat_picture(self._name(step), step.heading, told, several)

    def _joined(self, part: Part) -> Lying:
        pieces = self.ground.pieces.get(part.name, [])
        sections = [piece.flat for piece in pieces if piece.role is Role.SECTION]
        doublers = tuple(piece.flat for piece in pieces if piece.role is Role.DOUBLER)
        return Lying(
            part=sections[0], label=self.ground.named(part), over=doublers, beside=tuple(sections[1:])
        )

    def _doubled(self, step: Step, doublers: Sequence[Part]) -> list[Lying]:
        """Each doubler on its side, where both are drawn in the same coordinates; else by itself."""
        found = []
        sides = {self.parts[name].hand: self.parts[name] for name in step.shows if name in self.parts}
        for one in doublers:
            side = sides.get(one.hand)
            label = self.ground.named(one)
            if side is None or one.place is None or side.place is None or one.place.x != side.place.x:
                found.append(Lying(part=one, label=label, filled=True))
            else:
                found.append(Lying(part=side, label=label, over=(one,)))
        return found

    def _model(self, step: Step) -> Picture | None:
        if self.views is None:
            return None
        kinds = OF_STEP.get(step.id) or OF_STEP.get(step.id.split("-", 1)[0], ())
        things = [mesh.name for mesh in self.things if mesh.stock in kinds]
        if step.id == "servos":
            slugs = [self.ground.slugs[body.key] for body in self.facts.inputs.bodies if body.deck_mm]
            things = [name for name in things if not any(self._in_body(name, slug) for slug in slugs)]
        if step.id.startswith(("inside", "dowels")):
            body = step.id.split("-", 1)[1]
            things = [name for name in things if "dowel" in kinds or self._in_body(name, body)]
        if not self.views.draws([*step.adds, *step.shows]):
            return None
        stocks = {mesh.stock for mesh in self.things if mesh.name in things}
        told = self._told(step, [kind for kind in kinds if kind in stocks])
        shown = [name for name in step.shows if name not in step.adds]
        return self.views.picture(self._name(step), step.heading, told, shown, [*step.adds, *things])

    def _in_body(self, name: str, slug: str) -> bool:
        """Whether a thing lies within the outline of the body of an id, seen from above."""
        body = next((one for one in self.facts.inputs.bodies if self.ground.slugs[one.key] == slug), None)
        mesh = next(mesh for mesh in self.things if mesh.name == name)
        if body is None:
            return False
        low, high = mesh.vertices.min(axis=0), mesh.vertices.max(axis=0)
        deck = body.deck_mm or (body.side[0].along_mm, body.side[-1].along_mm)
        middle = (low[0] + high[0]) / 2
        return bool(deck[0] <= middle <= deck[1] and abs((low[1] + high[1]) / 2) < body.width_mm / 2)

    def _told(self, step: Step, kinds: Sequence[str]) -> str:
        """What the picture shows, for who cannot see it."""
        words = {"motor": "the motors", "control": "the speed controls", "servo": "the servos",
                 "receiver": "the receiver", "battery": "the battery", "dowel": "the dowels",
                 "load": "what else is carried"}  # fmt: skip
        added = [self.ground.named(self.parts[name]) for name in step.adds if name in self.parts]
        added += [words[kind] for kind in kinds]
        there = [
            self.ground.named(self.parts[name])
            for name in step.shows
            if name in self.parts and name not in step.adds
        ]
        text = "Seen from the left, from before and above, the nose on the left."
        if added:
            text += f" Filled, in thick lines: {listed(added)}."
            if there:
                text += f" There already, in thin lines: {listed(there)}."
        elif there:
            text += f" It shows {listed(there)}."
        return text


def _by_side(parts: Sequence[Part]) -> list[Part]:
    """Of a pair that lies across the picture, as a wing from above, the left hand first."""
    found = list(parts)
    for i in range(len(found) - 1):
        one, other = found[i], found[i + 1]
        if (
            one.key == other.key
            and one.hand is Hand.RIGHT
            and other.hand is Hand.LEFT
            and one.width_mm > one.length_mm
        ):
            found[i], found[i + 1] = other, one
    return found


def _few(parts: Sequence[Part]) -> list[Part]:
    """Parts without the left hands of pairs where there are too many."""
    if len(parts) <= _MOST:
        return list(parts)
    return [part for part in parts if part.hand is not Hand.LEFT][:_MOST]
