"""What boards are made of as a beam feels it: stiffness and what stress is borne.  MPa, mm.

Numbers are those of the table of usual values; a stock that has no row there is not counted.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from foamcut.airframe.values import Material
from foamcut.flat.stock import Stock
from foamcut.flight.assumed import ASSUMED


class Level(Enum):
    """Which end of every row is taken: as usual, the weakest and softest, the strongest and stiffest."""

    USUAL = "value"
    LOW = "low"
    HIGH = "high"

    def of(self, row: str) -> float:
        """The number of a row."""
        return float(getattr(ASSUMED[row], self.value))


class Kind(Enum):
    """Kinds of sheet that can be counted."""

    PAPERED = "papered"  # foam between two papers
    FOAM = "foam"
    PLYWOOD = "plywood"
    CARD = "card"
    UNKNOWN = "unknown"


#: words of a stock's material, the first that is found says its kind
_WORDS = (
    ("paper removed", Kind.FOAM),
    ("without paper", Kind.FOAM),
    ("no paper", Kind.FOAM),
    ("plywood", Kind.PLYWOOD),
    ("ply", Kind.PLYWOOD),
    ("balsa", Kind.UNKNOWN),
    ("paper", Kind.PAPERED),
    ("foam board", Kind.PAPERED),
    ("foamboard", Kind.PAPERED),
    ("foam core", Kind.PAPERED),
    ("polystyrene", Kind.FOAM),
    ("foam", Kind.FOAM),
    ("eps", Kind.FOAM),
    ("xps", Kind.FOAM),
    ("card", Kind.CARD),
)


def kind_of(material: Material, stocks: Mapping[str, Stock]) -> Kind:
    """What a stock is made of, by the words of its material; of a stock that is not listed, by its name."""
    stock = stocks.get(material.name)
    words = (stock.material if stock is not None else material.name).lower()
    return next((kind for word, kind in _WORDS if word in words), Kind.UNKNOWN)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stuff:
    """`bears_mpa` in compression and tension alike; `wrinkles_mpa`: compression at which it wrinkles.

    Papers bear more in tension than in compression; there is no row for that, so both are taken alike.
    """

    word: str
    modulus_mpa: float
    bears_mpa: float
    wrinkles_mpa: float = math.inf

    def limit_mpa(self, *, pressed: bool) -> float:
        """What it bears pressed or pulled."""
        return min(self.bears_mpa, self.wrinkles_mpa) if pressed else self.bears_mpa


def wrinkling_mpa(face_mpa: float, core_mpa: float, shear_mpa: float) -> float:
    """Compression at which the face of a sandwich wrinkles: half the cube root of the three moduli's product.

    Source: N. J. Hoff and S. E. Mautner, The buckling of sandwich-type panels, Journal of the Aeronautical
    Sciences, 1945, from memory; for thick cores and faces that are flat to begin with, hence the half.
    """
    return 0.5 * math.cbrt(face_mpa * core_mpa * shear_mpa)


def paper(level: Level) -> Stuff:
    """The liner paper on its core."""
    modulus = level.of("paper_modulus")
    wrinkles = wrinkling_mpa(modulus, level.of("core_modulus"), level.of("core_shear"))
    return Stuff(
        word="paper", modulus_mpa=modulus, bears_mpa=level.of("paper_strength"), wrinkles_mpa=wrinkles
    )


def core(level: Level) -> Stuff:
    """Foam between papers: it gives way after them."""
    return Stuff(word="core", modulus_mpa=level.of("core_modulus"), bears_mpa=math.inf)


def solid(kind: Kind, level: Level) -> Stuff | None:
    """A sheet that is one stuff all through; None for papered board and what has no row."""
    rows = _SOLID.get(kind)
    if rows is None:
        return None
    word, modulus, bears = rows
    return Stuff(word=word, modulus_mpa=level.of(modulus), bears_mpa=level.of(bears))


_SOLID = {
    Kind.FOAM: ("foam", "core_modulus", "foam_strength"),
    Kind.PLYWOOD: ("plywood", "plywood_modulus", "plywood_strength"),
    Kind.CARD: ("card", "paper_modulus", "paper_strength"),
}
#: the rows that go into each kind
ROWS = {
    Kind.PAPERED: ("paper_modulus", "paper_thickness", "paper_strength", "core_modulus", "core_shear"),
    Kind.FOAM: ("core_modulus", "foam_strength"),
    Kind.PLYWOOD: ("plywood_modulus", "plywood_strength"),
    Kind.CARD: ("paper_modulus", "paper_strength"),
    Kind.UNKNOWN: (),
}
