"""What a generated part is: the one place that knows how `foamcut.airframe` names its parts.

A generated part's key begins with that of the surface, body or motor that it belongs to, and its name is the
owner's name (a motor's with ``motor-`` before it) and a word; a part drawn by hand has a key of its own.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from foamcut.airframe.values import Body, Inputs, Motor, Surface
from foamcut.flat.drawn import Hand
from foamcut.flat.part import Part

Owner = Surface | Body | Motor


class Kind(Enum):
    """What a part is for."""

    SKIN = "skin"  # both skins of a folded surface in one sheet
    LOWER = "lower skin"
    UPPER = "upper skin"
    STRIP = "strip of the spar"
    JOINER = "joiner"
    PATCH = "patch"
    PANEL = "flat panel"
    HORN = "horn"
    SIDE = "side"
    TROUGH = "trough"
    FLOOR = "floor"
    DECK = "deck"
    HATCH = "hatch"
    FORMER = "former"
    NOSE = "front plate"
    TAIL = "end plate"
    DOUBLER = "nose doubler"
    FIREWALL = "firewall"
    CHEEK = "cheek"
    NACELLE = "side of a nacelle"
    DRAWN = "drawn by hand"
    UNKNOWN = "generated, and not known here"


#: words of generated parts behind their owner's name, with the number that they may hold
_SURFACE = (
    (r"skin(?:-(?P<n>\d+))?", Kind.SKIN),
    (r"skin-lower(?:-(?P<n>\d+))?", Kind.LOWER),
    (r"skin-upper(?:-(?P<n>\d+))?", Kind.UPPER),
    (r"spar-(?P<n>\d+)", Kind.STRIP),
    (r"joiner-(?:front|rear)", Kind.JOINER),
    (r"patch-(?P<n>\d+)-(?:front|rear)", Kind.PATCH),
    (r"panel(?:-(?P<n>\d+))?", Kind.PANEL),
    (r"(?:aileron|elevator|rudder|elevon)(?:-(?P<n>\d+))?-horn", Kind.HORN),
)
_BODY = (
    (r"side", Kind.SIDE),
    (r"trough", Kind.TROUGH),
    (r"floor(?:-(?P<n>\d+))?", Kind.FLOOR),
    (r"deck", Kind.DECK),
    (r"hatch", Kind.HATCH),
    (r"former-(?P<n>\d+)", Kind.FORMER),
    (r"nose", Kind.NOSE),
    (r"tail", Kind.TAIL),
    (r"doubler", Kind.DOUBLER),
)
_MOTOR = (
    (r"firewall", Kind.FIREWALL),
    (r"cheek-(?:inner|outer)", Kind.CHEEK),
    (r"nacelle-(?:inner|outer)", Kind.NACELLE),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """A part, what it is, and whose; `number` is that in its word, 1 where there is none."""

    part: Part
    kind: Kind
    owner: Owner | None = None
    number: int = 1


def known_parts(parts: Sequence[Part], inputs: Inputs) -> tuple[Known, ...]:
    """What each part is, in their order."""
    owners: tuple[Owner, ...] = (*inputs.surfaces, *inputs.bodies, *inputs.motors)
    return tuple(_known(part, owners) for part in parts)


def pair_name(part: Part) -> str:
    """What both hands of a part are called."""
    return part.name if part.hand is Hand.NONE else part.name.removesuffix(f"-{part.hand.value}")


def _known(part: Part, owners: Sequence[Owner]) -> Known:
    owner = next((one for one in owners if _belongs(part.key, one.key)), None)
    if owner is None:
        return Known(part=part, kind=Kind.DRAWN)
    prefix = f"motor-{owner.name}-" if isinstance(owner, Motor) else f"{owner.name}-"
    word = pair_name(part).removeprefix(prefix)
    table = _SURFACE if isinstance(owner, Surface) else _BODY if isinstance(owner, Body) else _MOTOR
    for pattern, kind in table:
        if found := re.fullmatch(pattern, word):
            number = found.groupdict().get("n")
            return Known(part=part, kind=kind, owner=owner, number=int(number) if number else 1)
    return Known(part=part, kind=Kind.UNKNOWN, owner=owner)


def _belongs(key: str, owner: str) -> bool:
    """Whether a key is that of an owner, or lies below it."""
    return key.startswith(owner) and key[len(owner) : len(owner) + 1] in ("", ".", "[")
