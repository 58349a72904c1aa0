"""A part cut in two with a doubler over the joint, made by hand for the tests of drawings."""

from dataclasses import replace

from foamcut.flat.drawn import Face
from foamcut.flat.joint import Joint, Piece, Role
from foamcut.flat.marks import Mark
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.placement import Placement
from foamcut.nest.values import Layout, Placed
from tests.draw.drawn_parts import LineMark, layout, side

AT_MM = 500.0


def whole() -> Part:
    """A fuselage side of 864 mm, its window off the joint."""
    right = side(name="side-right", key="parts.side", marks=())
    (outline,) = right.outline.minus()
    return replace(right, slots=right.slots[:2], outline=_without_window(outline))


def _without_window(outline: Outline) -> Outline:
    outer = outline.polygon.exterior.coords[:-1]
    return Outline.of_points([(float(x), float(y)) for x, y in outer])


def pieces() -> tuple[Piece, ...]:
    """Two sections and their doubler, a station line that goes on across the joint."""
    part = whole()
    cuts = (Outline.rectangle(-10, -10, AT_MM, 200), Outline.rectangle(AT_MM, -10, 900, 200))
    found = []
    for number, half in enumerate(cuts, 1):
        flat = replace(
            part,
            name=f"side-right-section-{number}",
            outline=_without_window(_common(part.outline, half)),
            slots=(),
            marks=(joint_mark(),),
        )
        found.append(Piece(part=part, role=Role.SECTION, flat=flat, suffix=f"section-{number}"))
    patch = replace(
        part,
        name="side-right-doubler-a",
        outline=Outline.of_points(
            [
                (450, 38),
                (475, 13),
                (525, 13),
                (550, 38),
                (550, 54),
                (525, 79),
                (475, 79),
                (450, 54),
            ]
        ),
        slots=(),
        marks=(joint_mark(),),
    )
    found.append(Piece(part=part, role=Role.DOUBLER, flat=patch, suffix="doubler-a"))
    return tuple(found)


def joint_mark() -> Mark:
    """The joint line with the letter of its doubler."""
    return LineMark(ends=((AT_MM, 20.0), (AT_MM, 70.0)), text="A", face=Face.INNER)


def _common(outline: Outline, region: Outline) -> Outline:
    ring = outline.polygon.intersection(region.polygon).exterior.coords[:-1]
    return Outline.of_points([(float(x), float(y)) for x, y in ring])


def joints() -> dict[str, tuple[Joint, ...]]:
    """One joint, by the name of its part."""
    return {"side-right": (Joint(x_mm=AT_MM, letters=("A",), length_mm=864.0),)}


def laid_out() -> Layout:
    """All pieces on one board."""
    one = layout(size=(700, 500))
    placed = []
    for i, piece in enumerate(pieces()):
        x0, y0, _, _ = piece.outline.bounds
        placement = Placement(x_mm=10 - x0, y_mm=10 + 110 * i - y0)
        outline = piece.outline.placed(placement)
        placed.append(Placed(id=piece.flat.name, copy=1, piece=piece, placement=placement, outline=outline))
    return replace(one, sheets=(replace(one.sheets[0], placed=tuple(placed)),))
