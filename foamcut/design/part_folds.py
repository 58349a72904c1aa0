"""Folds as drawn: each kind with the keys that belong to it, and what it does when they are left out."""

import math

from foamcut.design.foreign import Belongings, refuse_foreign
from foamcut.design.keys import key_of
from foamcut.design.part_tables import FoldTable
from foamcut.design.reader import Reader
from foamcut.design.setting import Setting
from foamcut.design.stocks import DrawnStock
from foamcut.design.structure import Path
from foamcut.flat.drawn import DrawnFold, FoldAt, FoldKind, Side

#: keys that belong to each kind of fold, beside from, to and side: those it must have, those it may have
FOLD_KEYS: Belongings = {
    "score": (("turn",), ()),
    "groove": (("turn",), ("groove_extra",)),
    "wrap": ((), ("turn", "lands", "fold_at")),
    "roll": (("turn", "radius"), ("every",)),
    "hinge": ((), ("turn", "bevel")),
}
#: turn where it may be left out, degrees
USUAL_TURN_DEG = {"wrap": 90.0, "hinge": 0.0}


def read_fold(table: FoldTable, path: Path, board: DrawnStock, setting: Setting, reader: Reader) -> DrawnFold:
    """A fold in a part that is cut from `board`; without its kind it counts as a score."""
    if table.kind:
        refuse_foreign(table, "fold", table.kind, FOLD_KEYS, path, setting.gone, reader)
    lands = setting.stock(table, path, "lands", reader)
    thickness_mm = (lands or board).thickness_mm
    every_mm = reader.mm(table, path, "every")
    radius_mm = reader.mm(table, path, "radius")
    return DrawnFold(
        key=key_of(path),
        kind=FoldKind(table.kind or "score"),
        start=reader.at(table, path, "from"),
        end=reader.at(table, path, "to"),
        turn_deg=reader.angle(table, path, "turn", USUAL_TURN_DEG.get(table.kind or "", math.nan)),
        side=Side(table.side or "up"),
        groove_extra_deg=reader.angle(table, path, "groove_extra"),
        lands_thickness_mm=thickness_mm if table.kind == "wrap" else None,
        fold_at=FoldAt(table.fold_at or "far"),
        radius_mm=None if table.radius is None else radius_mm,
        every_mm=None if table.every is None else every_mm,
        bevel_deg=reader.angle(table, path, "bevel"),
    )
