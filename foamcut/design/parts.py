"""Parts as the design draws them: every number resolved, every name looked up, shapes not yet built."""

import math
from collections.abc import Collection, Container, Mapping
from dataclasses import dataclass

from foamcut.design.keys import key_of
from foamcut.design.outline_table import read_outline
from foamcut.design.places import read_place
from foamcut.design.reader import NOT_READ, Reader
from foamcut.design.schema import (
    CutoutTable,
    LabelTable,
    MarkTable,
    PartTable,
    Range,
    SlotTable,
    TabTable,
    TrapezoidTable,
    keys_of,
)
from foamcut.design.stocks import Cutting, DrawnStock, refuse_kerf, stock_named
from foamcut.design.structure import Path
from foamcut.flat.drawn import (
    Cutout,
    Disc,
    DrawnMark,
    DrawnPart,
    DrawnSlot,
    DrawnTab,
    Face,
    Grain,
    Hand,
    Label,
    Readings,
    Rectangle,
    Shape,
    Trapezoid,
    Turns,
)

MAX_PIECES = 5_000
MAX_POINTS_OF_PART = 20_000
MAX_POINTS = 200_000

#: keys that belong to each kind of mark, beside text and face; all of them are needed
MARK_KEYS: dict[str, tuple[str, ...]] = {
    "line": (),
    "balance": ("from", "to"),
    "circle": ("at",),
    "tape": ("width",),
}
#: marks that must be seen when the model is glued
SEEN_MARKS = ("balance", "tape")


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What parts are read against: stocks, all their names in the file, and [cutting].

    The names are None where the table of stocks is itself at fault, so that they cannot be known.
    """

    stocks: Mapping[str, DrawnStock]
    stock_names: Collection[str] | None
    cutting: Cutting
    #: paths of what was refused before, so that nothing is said of what is missing there
    gone: Container[Path]


def read_parts(tables: Mapping[str, PartTable], setting: Setting, reader: Reader) -> tuple[DrawnPart, ...]:
    """Every part in the order of the file."""
    parts = tuple(_part(name, table, setting, reader) for name, table in tables.items())
    _refuse_too_many(parts, reader)
    _refuse_alike(parts, reader)
    return parts


def _part(name: str, table: PartTable, setting: Setting, reader: Reader) -> DrawnPart:
    path: Path = ("parts", name)
    fit_mm = setting.cutting.fit_mm
    if table.cutting:
        refuse_kerf(table.cutting, (*path, "cutting"), reader)
        fit_mm = reader.mm(table.cutting, (*path, "cutting"), "fit", fit_mm)
    if table.may_join:
        reader.refuse((*path, "may_join"), '"true" comes with a later version; write false for now')
    stock = stock_named(
        reader.name(table, path, "stock"), (*path, "stock"), setting.stocks, setting.stock_names, reader
    )
    face = Face(table.face or "inner")
    return DrawnPart(
        key=key_of(path),
        name=name,
        stock=stock.name if stock else "",
        thickness_mm=stock.thickness_mm if stock else math.nan,
        shape=_shape(table, path, reader),
        mirrored=_mirrored(table, path, reader),
        count=reader.count(table, path, "count", 1),
        pair=Hand(table.pair or "none"),
        face=face,
        grain=Grain(table.grain or "any"),
        turns=Turns(table.turns or "quarter"),
        cutouts=tuple(
            _cutout(one, (*path, "cutouts", i), reader) for i, one in enumerate(table.cutouts or ())
        ),
        slots=tuple(
            _slot(one, (*path, "slots", i), fit_mm, setting, reader)
            for i, one in enumerate(table.slots or ())
        ),
        tabs=tuple(_tab(one, (*path, "tabs", i), setting, reader) for i, one in enumerate(table.tabs or ())),
        marks=tuple(
            _mark(one, (*path, "marks", i), face, setting, reader) for i, one in enumerate(table.marks or ())
        ),
        label=_label(table.label, (*path, "label"), reader) if table.label else None,
        place=read_place(table.place, (*path, "place"), reader) if table.place else None,
    )


def _shape(table: PartTable | CutoutTable, path: Path, reader: Reader) -> Shape:
    """The shape given; where several are given, which was told before, all are read for their numbers."""
    shapes: list[Shape] = []
    if table.outline is not None:
        shapes.append(read_outline(table.outline, (*path, "outline"), reader))
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


def _mirrored(table: PartTable | CutoutTable, path: Path, reader: Reader) -> Grain:
    whole = next((w for w in ("rectangle", "circle", "trapezoid") if getattr(table, w) is not None), None)
    if table.mirrored and whole:
        reader.refuse((*path, "mirrored"), f"only an outline is mirrored, not a {whole}; take this key out")
    return Grain(table.mirrored or "any")


def _cutout(table: CutoutTable, path: Path, reader: Reader) -> Cutout:
    return Cutout(
        key=key_of(path),
        shape=_shape(table, path, reader),
        mirrored=_mirrored(table, path, reader),
        turn_deg=reader.angle(table, path, "turn"),
        at=reader.at(table, path, "at", (0.0, 0.0)),
    )


def _slot(table: SlotTable, path: Path, fit_mm: float, setting: Setting, reader: Reader) -> DrawnSlot:
    takes = stock_named(
        reader.name(table, path, "takes"), (*path, "takes"), setting.stocks, setting.stock_names, reader
    )
    return DrawnSlot(
        key=key_of(path),
        at=reader.at(table, path, "at"),
        length_mm=reader.mm(table, path, "length"),
        takes=takes.name if takes else "",
        takes_thickness_mm=takes.thickness_mm if takes else math.nan,
        fit_mm=fit_mm,
        turn_deg=reader.angle(table, path, "turn"),
        open=bool(table.open),
    )


def _tab(table: TabTable, path: Path, setting: Setting, reader: Reader) -> DrawnTab:
    into = stock_named(
        reader.name(table, path, "into"), (*path, "into"), setting.stocks, setting.stock_names, reader
    )
    return DrawnTab(
        key=key_of(path),
        at=reader.at(table, path, "at"),
        length_mm=reader.mm(table, path, "length"),
        into=into.name if into else "",
        into_thickness_mm=into.thickness_mm if into else math.nan,
    )


def _mark(table: MarkTable, path: Path, part_face: Face, setting: Setting, reader: Reader) -> DrawnMark:
    kinds = [word for word in MARK_KEYS if getattr(table, word) is not None]
    kind = kinds[0] if len(kinds) == 1 else ""  # none or several: told as such before
    if kind:
        _refuse_foreign(table, kind, path, setting.gone, reader)
    points: tuple[tuple[float, float], ...] = ()
    if kind in ("line", "tape"):
        points = reader.points(getattr(table, kind), (*path, kind))
    elif kind == "balance":
        points = reader.at(table, path, "from"), reader.at(table, path, "to")
    elif kind == "circle":
        points = (reader.at(table, path, "at"),)
    return DrawnMark(
        key=key_of(path),
        kind=kind,
        face=_mark_face(table, kind, path, part_face, reader),
        points=points,
        text=reader.name(table, path, "text"),
        ratio=reader.ratio(table, path, "balance") if kind == "balance" else None,
        diameter_mm=reader.mm(table, path, "circle") if kind == "circle" else None,
        width_mm=reader.mm(table, path, "width") if kind == "tape" else None,
    )


def _refuse_foreign(table: MarkTable, kind: str, path: Path, gone: Container[Path], reader: Reader) -> None:
    """Refuse keys that belong to another kind of mark, and missing ones of this kind."""
    for word in ("from", "to", "at", "width"):
        given = getattr(table, keys_of(MarkTable)[word].attribute) is not None
        due = word in MARK_KEYS[kind]
        if given and not due:
            owner = next(k for k, words in MARK_KEYS.items() if word in words)
            reader.refuse((*path, word), f'belongs to a mark "{owner}", not to "{kind}"; take it out')
        if due and not given and (*path, word) not in gone:
            description = keys_of(MarkTable)[word].description.split(": ")[-1].rstrip(".")
            reader.refuse((*path, word), f'is missing; a mark "{kind}" needs it: {description}')


def _mark_face(table: MarkTable, kind: str, path: Path, part_face: Face, reader: Reader) -> Face:
    if part_face is Face.EITHER:
        if table.face:
            reader.refuse(
                (*path, "face"),
                'the part\'s face is "either", so that it has no inner and outer; '
                "take this key out, and the mark is on the drawn face",
            )
        return Face.EITHER
    return Face(table.face or ("outer" if kind in SEEN_MARKS else "inner"))


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
