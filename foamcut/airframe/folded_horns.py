"""Horns of controls that are cut out of a lower skin: as those of flat board.  mm."""

from collections.abc import Iterator
from dataclasses import replace

from foamcut.airframe.flat_controls import Hinged
from foamcut.airframe.flat_horns import horn_findings, horn_marks, horn_parts, horn_slots
from foamcut.airframe.flat_sheet import Sheet
from foamcut.airframe.folded_controls import controls_on
from foamcut.airframe.folded_flat import FlatSkin
from foamcut.airframe.made import Made
from foamcut.flat.drawn import DrawnMark, DrawnSlot
from foamcut.flat.outline import Point


def _sheet(flat: FlatSkin) -> Sheet:
    """The lower skin as a flat board."""
    piece = flat.piece
    return Sheet(surface=piece.surface, panels=(piece.panel,), across=False, name=piece.surface.name)


def _moved(flat: FlatSkin, at: Point) -> Point:
    """From where a place is drawn on the board of its whole panel to where it is on a skin."""
    c, s = _sheet(flat).start
    return flat.lower_at(at[0] + c, at[1] + s)


def _held(flat: FlatSkin) -> tuple[Hinged, ...]:
    """The controls whose horn stands on a skin: of one that is joined the skin that has its middle."""
    return tuple(
        one
        for one in controls_on(flat.piece)
        if flat.piece.holds((one.control.from_mm + one.control.to_mm) / 2)
    )


def slots(flat: FlatSkin) -> tuple[DrawnSlot, ...]:
    """The slots of horns in the lower skin."""
    return tuple(
        replace(slot, at=_moved(flat, slot.at))
        for one in _held(flat)
        for slot in horn_slots(_sheet(flat), one)
    )


def marks(flat: FlatSkin) -> tuple[DrawnMark, ...]:
    """Where horns stand that are not cut."""
    return tuple(
        replace(mark, points=tuple(_moved(flat, at) for at in mark.points))
        for one in _held(flat)
        for mark in horn_marks(_sheet(flat), one)
    )


def horns_made(flat: FlatSkin) -> Made:
    """The horns of a skin's controls."""
    made = [(one, name) for one, name in _named(flat)]
    sheet = _sheet(flat)
    return Made(
        parts=tuple(part for one, name in made for part in horn_parts(sheet, one, name)),
        findings=tuple(finding for one, _ in made for finding in horn_findings(sheet, one)),
    )


def _named(flat: FlatSkin) -> Iterator[tuple[Hinged, str]]:
    """Every control and the name of its horn, numbered where a word comes more than once."""
    surface = flat.piece.surface
    for one in _held(flat):
        alike = [other.key for other in surface.controls if other.word == one.control.word]
        number = f"-{alike.index(one.control.key) + 1}" if len(alike) > 1 else ""
        yield one, f"{surface.name}-{one.control.word}-horn{number}"
