"""Sheets for the tests of machines' drawings: folds and bevels of both faces, turned, with a kerf."""

from dataclasses import replace

from foamcut.flat.build import build_part
from foamcut.flat.drawn import DrawnFold, Face, FoldKind, Side
from foamcut.flat.part import Part
from foamcut.flat.placement import Placement
from foamcut.nest.register import with_register
from foamcut.nest.values import Layout, Sheet
from tests.draw.drawn_parts import layout
from tests.strategies import hole, mark, panel, readings, rectangle, slot

NUMBERS = {"tray": 1, "wing": 2, "horn": 3}
THICKNESSES = {"board": 5.0}


def fold(i: int, kind: FoldKind, x: float, side: Side = Side.UP, turn: float = 90.0) -> DrawnFold:
    return DrawnFold(
        key=f"parts.panel.folds[{i}]",
        kind=kind,
        start=(x, -5.0),
        end=(x, 200.0),
        turn_deg=turn,
        side=side,
    )


def built(**more) -> Part:
    ((part,), _) = build_part(panel(**more))
    return part


def tray(kerf: float = 0.2) -> Part:
    """280 x 120 mm: a groove on the drawn face, a score and a wrap on the other, marks on both."""
    return built(
        shape=rectangle(280, 120),
        name="tray",
        kerf_mm=kerf,
        folds=(
            fold(0, FoldKind.GROOVE, 60),
            fold(1, FoldKind.SCORE, 140, Side.DOWN, 30.0),
            fold(2, FoldKind.WRAP, 220, Side.DOWN),
        ),
        cutouts=(hole(0, (30, 60), 30),),
        slots=(slot(0, (180, 60), 40),),
        marks=(
            mark(0, "line", (100.0, 0.0), (100.0, 120.0), text="F2"),
            mark(1, "line", (10.0, 20.0), (130.0, 20.0), text="belly tape", face=Face.OUTER),
        ),
    )


def wing(kerf: float = 0.2) -> Part:
    """A panel of which one edge is bevelled from behind, one from the drawn face."""
    shape = readings((0, 0, {"bevel_back_deg": 45.0}), (200, 0), (180, 80), (0, 80, {"bevel_deg": 30.0}))
    return built(shape=shape, name="wing", count=2, kerf_mm=kerf)


def both_faces(kerf: float = 0.2, *, register: bool = True) -> Layout:
    """A sheet of 400 x 380 mm that is worked on both faces."""
    each = layout(
        (tray(kerf), Placement(x_mm=10, y_mm=10)),
        (wing(kerf), Placement(x_mm=120, y_mm=160, turn_deg=90.0)),
        (wing(kerf), Placement(x_mm=150, y_mm=250)),
        (built(shape=rectangle(30, 12), name="horn"), Placement(x_mm=320, y_mm=20)),
        size=(400, 380),
    )
    return with_register(each) if register else each


def with_sheet(each: Layout, **changes) -> tuple[Sheet, Layout]:
    """The first sheet changed, and the layout with it."""
    sheet = replace(each.sheets[0], **changes)
    return sheet, replace(each, sheets=(sheet,))
