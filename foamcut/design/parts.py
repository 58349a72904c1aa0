"""Parts as the design draws them: every number resolved, every name looked up, shapes not yet built."""

from collections.abc import Iterable, Mapping
from typing import TypeVar

from foamcut.design.joining import read_doubling, read_joint_lines, read_keep_clear
from foamcut.design.keys import key_of
from foamcut.design.part_folds import read_fold
from foamcut.design.part_marks import read_mark
from foamcut.design.part_tables import DoublerTable, LabelTable, PartTable, SlotTable, TabTable
from foamcut.design.places import read_place
from foamcut.design.reader import NOT_READ, Reader
from foamcut.design.setting import Setting
from foamcut.design.shapes import read_cutout, read_mirrored, read_shape
from foamcut.design.stocks import NO_STOCK
from foamcut.design.structure import Path
from foamcut.flat.drawn import DrawnPart, DrawnSlot, DrawnTab, Face, Grain, Hand, Label, Readings, Turns

_Table = TypeVar("_Table")

MAX_PIECES = 5_000
MAX_POINTS_OF_PART = 20_000
MAX_POINTS = 200_000


def read_parts(tables: Mapping[str, PartTable], setting: Setting, reader: Reader) -> tuple[DrawnPart, ...]:
    """Every part in the order of the file."""
    parts = tuple(_part(name, table, setting, reader) for name, table in tables.items())
    _refuse_too_many(parts, reader)
    _refuse_alike(parts, reader)
    return parts


def _part(name: str, table: PartTable, setting: Setting, reader: Reader) -> DrawnPart:
    path: Path = ("parts", name)
    fit_mm, kerf_mm = setting.cutting.fit_mm, setting.cutting.kerf_mm
    if table.cutting:
        fit_mm = reader.mm(table.cutting, (*path, "cutting"), "fit", fit_mm)
        kerf_mm = reader.mm(table.cutting, (*path, "cutting"), "kerf", kerf_mm)
    if table.may_join and table.joints == "none":
        text = 'may_join = true lets the part be cut in two, and joints = "none" forbids it; keep one of them'
        reader.refuse((*path, "may_join"), text)
    stock = setting.stock(table, path, "stock", reader) or NO_STOCK
    pair, face = Hand(table.pair or "none"), Face(table.face or "inner")
    return DrawnPart(
        key=key_of(path),
        name=name,
        stock=stock.name,
        thickness_mm=stock.thickness_mm,
        shape=read_shape(table, path, reader),
        mirrored=read_mirrored(table, path, reader),
        count=reader.count(table, path, "count", 1),
        pair=pair,
        face=face,
        grain=Grain(table.grain or "any"),
        turns=Turns(table.turns or "quarter"),
        cutouts=tuple(read_cutout(one, (*path, "cutouts", i), reader) for i, one in _each(table.cutouts)),
        slots=tuple(
            _slot(one, (*path, "slots", i), fit_mm, setting, reader) for i, one in _each(table.slots)
        ),
        tabs=tuple(_tab(one, (*path, "tabs", i), setting, reader) for i, one in _each(table.tabs)),
        folds=tuple(
            read_fold(one, (*path, "folds", i), stock, setting, reader) for i, one in _each(table.folds)
        ),
        marks=tuple(
            read_mark(one, (*path, "marks", i), face, setting.gone, reader) for i, one in _each(table.marks)
        ),
        label=_label(table.label, (*path, "label"), reader) if table.label else None,
        place=read_place(table.place, (*path, "place"), reader) if table.place else None,
        joint_lines=read_joint_lines(table, path, pair, reader),
        may_be_joined=table.joints != "none",
        may_join=bool(table.may_join),
        keep_clear=tuple(
            read_keep_clear(one, (*path, "keep_clear", i), reader) for i, one in _each(table.keep_clear)
        ),
        doubling=read_doubling(table.doubler or DoublerTable(), (*path, "doubler"), stock, setting, reader),
        kerf_mm=kerf_mm,
    )


def _each(tables: list[_Table] | None) -> Iterable[tuple[int, _Table]]:
    """Each table of a list with its place in it; nothing when the list is left out."""
    return enumerate(tables or ())


def _slot(table: SlotTable, path: Path, fit_mm: float, setting: Setting, reader: Reader) -> DrawnSlot:
    takes = setting.stock(table, path, "takes", reader) or NO_STOCK
    return DrawnSlot(
        key=key_of(path),
        at=reader.at(table, path, "at"),
        length_mm=reader.mm(table, path, "length"),
        takes=takes.name,
        takes_thickness_mm=takes.thickness_mm,
        fit_mm=fit_mm,
        turn_deg=reader.angle(table, path, "turn"),
        open=bool(table.open),
    )


def _tab(table: TabTable, path: Path, setting: Setting, reader: Reader) -> DrawnTab:
    into = setting.stock(table, path, "into", reader) or NO_STOCK
    return DrawnTab(
        key=key_of(path),
        at=reader.at(table, path, "at"),
        length_mm=reader.mm(table, path, "length"),
        into=into.name,
        into_thickness_mm=into.thickness_mm,
    )


def _label(table: LabelTable, path: Path, reader: Reader) -> Label:
    return Label(
        key=key_of(path),
        at=reader.at(table, path, "at", NOT_READ),
        turn_deg=reader.angle(table, path, "turn"),
    )


def _points_in(part: DrawnPart) -> int:
    shapes = (part.shape, *(cutout.shape for cutout in part.cutouts))
    return sum(len(shape.points) if isinstance(shape, Readings) else 4 for shape in shapes)


def _refuse_too_many(parts: tuple[DrawnPart, ...], reader: Reader) -> None:
    pieces = sum(part.count * (1 if part.pair is Hand.NONE else 2) for part in parts)
    if pieces > MAX_PIECES:
        reader.refuse(("parts",), f"{pieces:,} pieces are wanted; at most {MAX_PIECES:,} are read")
    points = [_points_in(part) for part in parts]
    for part, count in zip(parts, points, strict=True):
        if count > MAX_POINTS_OF_PART:
            reader.refuse(
                ("parts", part.name), f"has {count:,} points; at most {MAX_POINTS_OF_PART:,} are read"
            )
    if sum(points) > MAX_POINTS:
        reader.refuse(("parts",), f"have {sum(points):,} points; at most {MAX_POINTS:,} are read in all")


def _refuse_alike(parts: tuple[DrawnPart, ...], reader: Reader) -> None:
    """Refuse two parts that would be called the same: those of a pair are called ``-right`` and ``-left``."""
    owners: dict[str, str] = {part.name: part.name for part in parts if part.pair is Hand.NONE}
    for part in parts:
        if part.pair is Hand.NONE:
            continue
        for name in (f"{part.name}-right", f"{part.name}-left"):
            other = owners.setdefault(name, part.name)
            if other != part.name:
                reader.refuse(
                    ("parts", other),
                    f'"{name}" is also a hand of the pair "{part.name}"; choose another name',
                )
