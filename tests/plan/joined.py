"""Hand-made joined parts: a strip in two sections with a doubler, from the same stock or another."""

from dataclasses import replace

from foamcut.flat.joint import Joint, Piece, Role, Way
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.plan.pieces import Chosen
from tests.nest.making import part, rectangle


def strip(name: str = "strip", length: float = 900.0, width: float = 60.0, count: int = 1) -> Part:
    """A strip longer than the boards of the tests."""
    return part(name, rectangle(length, width), count)


def in_two(whole: Part, at: float = 500.0, *, doubler_stock: str = "board") -> Way:
    """Cut at one x, with one doubler of 100 mm over it."""
    x0, y0, x1, y1 = whole.outline.bounds
    boxes = {
        "section-1": (Role.SECTION, (x0, y0, at, y1), whole.stock),
        "section-2": (Role.SECTION, (at, y0, x1, y1), whole.stock),
        "doubler-a": (Role.DOUBLER, (at - 50, y0 + 5, at + 50, y1 - 5), doubler_stock),
    }
    pieces = tuple(
        Piece(
            part=whole,
            role=role,
            suffix=suffix,
            flat=replace(whole, name=f"{whole.name}-{suffix}", stock=stock, outline=Outline.rectangle(*box)),
        )
        for suffix, (role, box, stock) in boxes.items()
    )
    return Way(pieces=pieces, joints=(Joint(x_mm=at, letters=("A",), length_mm=x1 - x0),))


def whole(one: Part) -> Chosen:
    """The part in one piece."""
    return Chosen(part=one, way=Way(pieces=(Piece.whole(one),)))


def joined(one: Part, **how: object) -> Chosen:
    """The part in two sections."""
    return Chosen(part=one, way=in_two(one, **how))
