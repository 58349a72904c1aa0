"""Where parts sit on the model: directions in words or numbers, made exactly square.

Model axes: x aft from the nose, y to the right wing, z up.
"""

import math

from foamcut.design.keys import key_of
from foamcut.design.literals import near
from foamcut.design.measures import describe
from foamcut.design.part_tables import PlaceTable
from foamcut.design.reader import Reader
from foamcut.design.structure import Path
from foamcut.flat.drawn import Place

Vector = tuple[float, float, float]

DIRECTIONS: dict[str, Vector] = {
    "aft": (1.0, 0.0, 0.0),
    "fore": (-1.0, 0.0, 0.0),
    "up": (0.0, 0.0, 1.0),
    "down": (0.0, 0.0, -1.0),
    "right": (0.0, 1.0, 0.0),
    "left": (0.0, -1.0, 0.0),
}

#: x and y of a part may be this far from square as typed: what three decimals of a direction leave open
SQUARE_DEG = 0.1


def read_place(table: PlaceTable, path: Path, reader: Reader) -> Place | None:
    """The place of a part; y is made exactly square to x.  None when something is refused."""
    along, up = reader.at(table, path, "at")
    out = reader.mm(table, path, "out", 0.0)
    x = _direction(table.x, (*path, "x"), reader)
    y = _direction(table.y, (*path, "y"), reader)
    if x is None or y is None:
        return None
    lean = math.degrees(math.asin(max(-1.0, min(1.0, _dot(x, y)))))
    if abs(lean) > SQUARE_DEG:
        reader.refuse(
            (*path, "y"),
            f"x and y are {90 - lean:.1f} degrees apart; they must be square to each other",
        )
        return None
    square = _unit(tuple(b - _dot(x, y) * a for a, b in zip(x, y, strict=True)))
    return Place(key=key_of(path), at=(along, out, up), x=x, y=square)


def _direction(raw: object, path: Path, reader: Reader) -> Vector | None:
    if raw is None:  # told as missing before
        return None
    if isinstance(raw, str):
        found = DIRECTIONS.get(raw.strip())
        if found is None:
            choices = ", ".join(f'"{word}"' for word in DIRECTIONS)
            reader.refuse(
                path, f"{describe(raw)} is none of {choices}{near(raw, DIRECTIONS) or '; write one of them'}"
            )
        return found
    if not isinstance(raw, list) or len(raw) != 3:
        what = f"a list of {len(raw)}" if isinstance(raw, list) else describe(raw)
        reader.refuse(path, f'{what} where a direction is due; write "aft" or [aft, right, up]')
        return None
    numbers = tuple(reader.plain(one, (*path, i)) for i, one in enumerate(raw))
    length = math.hypot(*numbers)
    if length < 1e-9:
        reader.refuse(path, "[0, 0, 0] is no direction; write [1, 0, 0] for aft, [0, 0, 1] for up")
    return _unit(numbers) if length >= 1e-9 else None


def _unit(vector: tuple[float, ...]) -> Vector:
    length = math.hypot(*vector)
    x, y, z = (part / length + 0.0 for part in vector)
    return x, y, z


def _dot(a: Vector, b: Vector) -> float:
    return math.fsum(p * q for p, q in zip(a, b, strict=True))
