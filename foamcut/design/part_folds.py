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
    "strip": (("turn", "band"), ("far_turn",)),
}
#: turn where it may be left out, degrees
USUAL_TURN_DEG = {"wrap": 90.0, "hinge": 0.0}
#: cuts of a roll are no closer: a blade breaks out what is thinner
LEAST_EVERY_MM = 0.5


def read_fold(table: FoldTable, path: Path, board: DrawnStock, setting: Setting, reader: Reader) -> DrawnFold:
    """A fold in a part that is cut from `board`; without its kind it counts as a score."""
    if table.kind:
        refuse_foreign(table, "fold", table.kind, FOLD_KEYS, path, setting.gone, reader)
    lands = setting.stock(table, path, "lands", reader)
    fold = DrawnFold(
        key=key_of(path),
        kind=FoldKind(table.kind or "score"),
        start=reader.at(table, path, "from"),
        end=reader.at(table, path, "to"),
        turn_deg=reader.angle(table, path, "turn", USUAL_TURN_DEG.get(table.kind or "", math.nan)),
        side=Side(table.side or "up"),
        groove_extra_deg=reader.angle(table, path, "groove_extra"),
        lands_thickness_mm=(lands or board).thickness_mm if table.kind == "wrap" else None,
        fold_at=FoldAt(table.fold_at or "far"),
        radius_mm=_length(table, path, "radius", reader),
        every_mm=_length(table, path, "every", reader),
        bevel_deg=reader.angle(table, path, "bevel"),
        band_mm=_length(table, path, "band", reader),
        far_turn_deg=None if table.far_turn is None else reader.angle(table, path, "far_turn"),
    )
    if fold.every_mm is not None and fold.every_mm < LEAST_EVERY_MM:
        reader.refuse(
            (*path, "every"),
            f"{fold.every_mm:g} mm is less than {LEAST_EVERY_MM:g} mm; cuts so close fall into one; "
            "write a larger number",
        )
    return fold


def _length(table: FoldTable, path: Path, word: str, reader: Reader) -> float | None:
    return None if getattr(table, word) is None else reader.mm(table, path, word)
