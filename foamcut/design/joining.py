"""Where a part may be cut in two, and what is glued over the joint."""

from foamcut.design.keys import key_of
from foamcut.design.part_tables import DoublerTable, JointTable, KeepClearTable, PartTable
from foamcut.design.reader import Reader
from foamcut.design.setting import Setting
from foamcut.design.stocks import DrawnStock
from foamcut.design.structure import Path
from foamcut.flat.drawn import Doubling, Hand, JointLine, KeepClear

# a doubler in thicknesses of the board that it joins (common practice, no source)
OVERLAP_IN_THICKNESSES = 10
INSET_IN_THICKNESSES = 1


def read_joint_lines(table: PartTable, path: Path, pair: Hand, reader: Reader) -> tuple[JointLine, ...]:
    """The builder's joint lines; none where the program is to place them, or may not."""
    several = table.joints if isinstance(table.joints, list) else ()
    return tuple(_joint_line(one, (*path, "joints", i), pair, reader) for i, one in enumerate(several))


def _joint_line(table: JointTable, path: Path, pair: Hand, reader: Reader) -> JointLine:
    if table.hand and pair is Hand.NONE:
        reader.refuse(
            (*path, "hand"),
            "the part is no pair, so that it has no hands; take this key out, or make it a pair",
        )
    return JointLine(
        key=key_of(path),
        x_mm=None if table.x is None else reader.mm(table, path, "x"),
        y_mm=None if table.y is None else reader.mm(table, path, "y"),
        hand=Hand(table.hand or "none"),
    )


def read_keep_clear(table: KeepClearTable, path: Path, reader: Reader) -> KeepClear:
    """Ranges that no joint line or doubler lies in."""
    return KeepClear(key=key_of(path), x_mm=reader.span(table, path, "x"), y_mm=reader.span(table, path, "y"))


def read_doubling(
    table: DoublerTable, path: Path, board: DrawnStock, setting: Setting, reader: Reader
) -> Doubling:
    """What is glued over the joints of a part that is cut from `board`, with what is usual for the rest."""
    thickness_mm = board.thickness_mm
    stock = board if table.stock is None else setting.stock(table, path, "stock", reader) or board
    overlap_mm = reader.mm(table, path, "overlap", OVERLAP_IN_THICKNESSES * thickness_mm)
    taper_mm = reader.mm(table, path, "taper", overlap_mm / 2)
    if taper_mm > overlap_mm:
        reader.refuse(
            (*path, "taper"),
            f"{taper_mm:g} mm is longer than the overlap of {overlap_mm:g} mm; "
            "the ends would run in beyond the joint; write a shorter taper",
        )
    return Doubling(
        key=key_of(path),
        stock=stock.name,
        thickness_mm=stock.thickness_mm,
        overlap_mm=overlap_mm,
        inset_mm=reader.mm(table, path, "inset", INSET_IN_THICKNESSES * thickness_mm),
        taper_mm=taper_mm,
    )
