"""Shapes of parts and cutouts as drawn: numbers resolved, outlines not yet built."""

from foamcut.design.key_kinds import Range
from foamcut.design.keys import key_of
from foamcut.design.outline_table import read_outline
from foamcut.design.part_tables import CutoutTable, PartTable, TrapezoidTable
from foamcut.design.reader import Reader
from foamcut.design.structure import Path
from foamcut.flat.drawn import Cutout, Disc, Grain, Readings, Rectangle, Shape, Trapezoid

CUTOUT_IS_SQUARE = "the edges of a cutout are cut square"


def read_shape(table: PartTable | CutoutTable, path: Path, reader: Reader) -> Shape:
    """The shape given; where several are given, which was told before, all are read for their numbers."""
    shapes: list[Shape] = []
    if table.outline is not None:
        square = "" if isinstance(table, PartTable) else CUTOUT_IS_SQUARE
        shapes.append(read_outline(table.outline, (*path, "outline"), reader, square=square))
    if table.rectangle is not None:
        here = (*path, "rectangle")
        width, height = reader.pair(table.rectangle, here, Range.ABOVE_0, "[width, height]")
        shapes.append(Rectangle(key=key_of(here), width_mm=width, height_mm=height))
    if table.circle is not None:
        shapes.append(Disc(key=key_of((*path, "circle")), diameter_mm=reader.mm(table, path, "circle")))
    if table.trapezoid is not None:
        shapes.append(_trapezoid(table.trapezoid, (*path, "trapezoid"), reader))
    return shapes[0] if shapes else Readings(key=key_of((*path, "outline")), points=())


def _trapezoid(table: TrapezoidTable, path: Path, reader: Reader) -> Trapezoid:
    return Trapezoid(
        key=key_of(path),
        bottom_mm=reader.mm(table, path, "bottom"),
        top_mm=reader.mm(table, path, "top"),
        height_mm=reader.mm(table, path, "height"),
        shift_mm=reader.mm(table, path, "shift", 0.0),
    )


def read_mirrored(table: PartTable | CutoutTable, path: Path, reader: Reader) -> Grain:
    """The axis at which an outline is mirrored."""
    whole = next((w for w in ("rectangle", "circle", "trapezoid") if getattr(table, w) is not None), None)
    if table.mirrored and whole:
        reader.refuse((*path, "mirrored"), f"only an outline is mirrored, not a {whole}; take this key out")
    return Grain(table.mirrored or "any")


def read_cutout(table: CutoutTable, path: Path, reader: Reader) -> Cutout:
    """A hole."""
    return Cutout(
        key=key_of(path),
        shape=read_shape(table, path, reader),
        mirrored=read_mirrored(table, path, reader),
        turn_deg=reader.angle(table, path, "turn"),
        at=reader.at(table, path, "at", (0.0, 0.0)),
    )
