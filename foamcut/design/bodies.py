"""Bodies, dowels and servos as the design gives them."""

from collections.abc import Collection
from itertools import pairwise

from foamcut.airframe.values import Body, BodyBuild, Corners, Dowel, Former, Servo, SideReading
from foamcut.design.airframe_tables import BodyTable, DowelTable, FormerTable, ServoTable
from foamcut.design.joining import read_doubling
from foamcut.design.keys import key_of
from foamcut.design.lines import rows_with_lines
from foamcut.design.literals import near, quoted
from foamcut.design.materials import Materials
from foamcut.design.measures import describe
from foamcut.design.outline_table import columns_of
from foamcut.design.reader import Reader
from foamcut.design.stocks import NO_STOCK
from foamcut.design.structure import Path
from foamcut.units import mm_text as _mm

#: words of the panels of a body that a servo may lie in
PANELS = ("side", "deck", "floor", "hatch")


def read_body(name: str, table: BodyTable, materials: Materials, reader: Reader) -> Body:
    """A body, with what is usual for what is left out."""
    path: Path = ("body", name)
    stock = materials.setting.stock(table, path, "stock", reader) or NO_STOCK
    material = materials.of(stock)
    cooling, doubler = table.cooling, table.doubler
    here = (*path, "cooling")
    return Body(
        key=key_of(path),
        name=name,
        material=material,
        width_mm=reader.mm(table, path, "width"),
        side=_side(table.side, (*path, "side"), reader) if table.side is not None else (),
        corners=Corners(table.corners or "butt"),
        build=BodyBuild(table.build or "box"),
        formers=tuple(
            _former(one, (*path, "formers", i), materials, reader)
            for i, one in enumerate(table.formers or ())
        ),
        deck_mm=reader.span(table.deck, (*path, "deck"), "top") if table.deck else None,
        hatch_mm=reader.span(table, path, "hatch"),
        nose_doubler_mm=reader.span(table, path, "nose_doubler"),
        straps_mm=reader.lengths(table.straps, (*path, "straps")),
        cooling_in_mm=reader.opening(cooling, here, "in") if cooling else None,
        cooling_out_mm=reader.opening(cooling, here, "out") if cooling else None,
        pushrods_mm=reader.places(table.pushrods, (*path, "pushrods")),
        keep_clear_mm=reader.spans(table.keep_clear, (*path, "keep_clear")),
        doubling=read_doubling(doubler, (*path, "doubler"), stock, materials.setting, reader)
        if doubler
        else None,
    )


def _side(raw: object, path: Path, reader: Reader) -> tuple[SideReading, ...]:
    """Readings along, bottom, top; told when they do not go aft one after another, or have no height."""
    rows: list[list[object]] = []
    if isinstance(raw, str):
        rows = [list(columns_of(row)) for row, _ in rows_with_lines(raw)]
    elif isinstance(raw, list) and all(isinstance(row, list) for row in raw):
        rows = raw
    else:
        reader.refuse(
            path, f'{describe(raw)} where readings are due; write a row "along, bottom, top" for each'
        )
        return ()
    if not 2 <= len(rows) <= 1000:
        reader.refuse(path, f"has {len(rows)} readings; a side view needs two or more, and at most 1,000")
        return ()
    readings = [found for i, row in enumerate(rows) if (found := _reading(row, (*path, i), reader))]
    for i, (a, b) in enumerate(pairwise(readings), start=1):
        if b.along_mm <= a.along_mm:
            reader.refuse(
                (*path, i),
                f"{_mm(b.along_mm, 2)} along does not lie aft of the reading before it, {_mm(a.along_mm, 2)};"
                " write them from the nose aft",
            )
    return tuple(readings)


def _reading(row: list[object], path: Path, reader: Reader) -> SideReading | None:
    if len(row) != 3 or any(one == "" for one in row):
        reader.refuse(path, f"has {len(row)} numbers where three are due; write along, bottom, top")
        return None
    along, bottom, top = (reader.length(one, (*path, i)) for i, one in enumerate(row))
    if bottom >= top:
        reader.refuse(
            path,
            f"the top, {_mm(top, 2)}, does not lie above the bottom, {_mm(bottom, 2)};"
            " write along, bottom, top",
        )
    return SideReading(key=key_of(path), along_mm=along, bottom_mm=bottom, top_mm=top)


def _former(table: FormerTable, path: Path, materials: Materials, reader: Reader) -> Former:
    return Former(
        key=key_of(path),
        at_mm=reader.mm(table, path, "at"),
        opening_mm=reader.opening(table, path, "opening"),
        material=materials.named(table, path, "stock") if table.stock else None,
    )


def read_dowel(table: DowelTable, path: Path, bodies: Collection[str], reader: Reader) -> Dowel:
    """Dowels of one size through a body."""
    on = reader.name(table, path, "on")
    _known(on, (*path, "on"), bodies, "body", reader)
    return Dowel(
        key=key_of(path),
        on=on,
        at=reader.places(table.at, (*path, "at")),
        diameter_mm=reader.mm(table, path, "diameter"),
        proud_mm=reader.mm(table, path, "proud", 0.0),
    )


def read_servo(
    table: ServoTable, path: Path, bodies: Collection[str], surfaces: Collection[str], reader: Reader
) -> Servo:
    """A servo in a panel of a body, or in a surface."""
    name, _, panel = reader.name(table, path, "on").partition(".")
    here = (*path, "on")
    if name:
        _known(name, here, [*bodies, *surfaces], "body or surface", reader)
    former = panel.startswith("former-") and panel.removeprefix("former-").isdigit()
    if name in bodies and panel not in PANELS and not former:
        choices = ", ".join(f'"{name}.{word}"' for word in (*PANELS, "former-1"))
        fault = f"{quoted(panel)} is no panel of a body" if panel else "a body has several panels"
        reader.refuse(here, f"{fault}; write one of {choices}")
    if name in surfaces and panel:
        reader.refuse(here, f"a surface has no panels to choose from; write {quoted(name)} alone")
    return Servo(
        key=key_of(path),
        drives=reader.name(table, path, "drives"),
        on=(name, panel),
        at=reader.at(table, path, "at"),
        size_mm=reader.size(table, path, "size"),
        mass_g=reader.measured(table, path, "mass"),
        lead_mm=None if table.lead is None else reader.mm(table, path, "lead"),
    )


def _known(name: str, path: Path, names: Collection[str], what: str, reader: Reader) -> None:
    if name and name not in names:
        hint = near(name, names) or (f"; known are {', '.join(names)}" if names else "")
        reader.refuse(path, f"there is no {what} {quoted(name)}{hint}")
