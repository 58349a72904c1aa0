"""Marks as drawn: each kind with the keys that belong to it."""

from collections.abc import Container

from foamcut.design.foreign import Belongings, refuse_foreign
from foamcut.design.keys import key_of
from foamcut.design.part_tables import MarkTable
from foamcut.design.reader import Reader
from foamcut.design.structure import Path
from foamcut.flat.drawn import DrawnMark, Face

#: keys that belong to each kind of mark, beside text, face and clear; all of them are needed
MARK_KEYS: Belongings = {
    "line": ((), ()),
    "balance": (("from", "to"), ()),
    "circle": (("at",), ()),
    "tape": (("width",), ()),
}
#: marks that must be seen when the model is glued
SEEN_MARKS = ("balance", "tape")


def read_mark(
    table: MarkTable, path: Path, part_face: Face, gone: Container[Path], reader: Reader
) -> DrawnMark:
    """A mark; without a kind when none or several are given."""
    kinds = [word for word in MARK_KEYS if getattr(table, word) is not None]
    kind = kinds[0] if len(kinds) == 1 else ""  # none or several: told as such before
    if kind:
        refuse_foreign(table, "mark", kind, MARK_KEYS, path, gone, reader)
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
        clear=bool(table.clear),
    )


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
