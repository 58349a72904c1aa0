"""Shapes and parts for property tests, nasty ones included, and short ways to write them by hand."""

import math
from typing import Any

from hypothesis import strategies as st

from foamcut.flat.drawn import (
    Cutout,
    Disc,
    DrawnFold,
    DrawnMark,
    DrawnPart,
    DrawnSlot,
    DrawnTab,
    Face,
    FoldAt,
    FoldKind,
    Grain,
    Hand,
    Label,
    Reading,
    Readings,
    Rectangle,
    Shape,
    Side,
    Trapezoid,
)
from foamcut.flat.outline import Point

KEY = "parts.panel"


def readings(*rows: tuple[Any, ...]) -> Readings:
    """Rows of x, y and, for some, a dict of what is said of the point."""
    points = tuple(
        Reading(key=f"{KEY}.outline[{i}]", at=(row[0], row[1]), **(row[2] if len(row) > 2 else {}))
        for i, row in enumerate(rows)
    )
    return Readings(key=f"{KEY}.outline", points=points)


def rectangle(width: float, height: float) -> Rectangle:
    return Rectangle(key=f"{KEY}.rectangle", width_mm=width, height_mm=height)


def cutout(i: int, shape: Shape, at: Point = (0.0, 0.0), turn: float = 0.0) -> Cutout:
    return Cutout(key=f"{KEY}.cutouts[{i}]", shape=shape, at=at, turn_deg=turn)


def hole(i: int, at: Point, diameter: float) -> Cutout:
    return cutout(i, Disc(key=f"{KEY}.cutouts[{i}].circle", diameter_mm=diameter), at)


def slot(
    i: int,
    at: Point,
    length: float,
    turn: float = 0.0,
    *,
    thickness: float = 5.0,
    fit: float = 0.2,
    open_end: bool = False,
    takes: str = "board",
) -> DrawnSlot:
    return DrawnSlot(
        key=f"{KEY}.slots[{i}]",
        at=at,
        length_mm=length,
        takes=takes,
        takes_thickness_mm=thickness,
        fit_mm=fit,
        turn_deg=turn,
        open=open_end,
    )


def tab(i: int, at: Point, length: float, *, thickness: float = 5.0, into: str = "board") -> DrawnTab:
    return DrawnTab(key=f"{KEY}.tabs[{i}]", at=at, length_mm=length, into=into, into_thickness_mm=thickness)


def mark(i: int, kind: str, *points: Point, **more: Any) -> DrawnMark:
    face = more.pop("face", Face.INNER)
    return DrawnMark(key=f"{KEY}.marks[{i}]", kind=kind, face=face, points=points, **more)


def fold(i: int, kind: str, start: Point, end: Point, turn: float = 90.0, **more: Any) -> DrawnFold:
    return DrawnFold(
        key=f"{KEY}.folds[{i}]", kind=FoldKind(kind), start=start, end=end, turn_deg=turn, **more
    )


def panel(shape: Shape | None = None, **more: Any) -> DrawnPart:
    """A part of 5 mm board, 100 x 50 mm unless another shape is given."""
    values: dict[str, Any] = {
        "key": KEY,
        "name": "panel",
        "stock": "board",
        "thickness_mm": 5.0,
        "shape": shape or rectangle(100.0, 50.0),
    }
    return DrawnPart(**(values | more))


#: lengths a builder may type, and those that break things: tiny, huge, just off a round number
lengths = st.one_of(
    st.sampled_from([0.0005, 0.0011, 0.3, 1.0, 1.0000001, 24.9999995, 25.4, 80.0, 699.999]),
    st.floats(0.001, 2000.0),
)
coordinates = st.one_of(
    st.integers(-40, 40).map(float),
    st.floats(-300.0, 300.0),
    st.sampled_from([0.0, -0.0, 1e-7, 4e-4, 10.0000005, 1 / 3, 1e6, -1e6, math.nan, math.inf, 1e300]),
)
near_coordinates = st.one_of(st.integers(-20, 120).map(float), st.floats(-20.0, 120.0))
points = st.tuples(near_coordinates, near_coordinates)
any_points = st.tuples(coordinates, coordinates)


@st.composite
def _said(draw: st.DrawFn) -> dict[str, Any]:
    """What may stand behind a point, most often nothing."""
    said: dict[str, Any] = {}
    kind = draw(st.sampled_from(["", "", "", "round", "smooth", "through", "both"]))
    if kind in ("round", "both"):
        said["round_mm"] = draw(st.one_of(st.floats(0.01, 30.0), st.sampled_from([-1.0, 0.0, 5.0, math.nan])))
    if kind in ("smooth", "both") and draw(st.booleans()):
        said["smooth"] = True
    if kind == "through":
        said["through"] = draw(points)
    if draw(st.integers(0, 9)) == 0:
        said["name"] = draw(st.sampled_from(["nose", "tail"]))
    return said


@st.composite
def scribbles(draw: st.DrawFn) -> Readings:
    """Any readings: most of them cross themselves, repeat points or are no numbers."""
    at = draw(st.sampled_from([points, points, any_points]))
    rows = draw(st.lists(st.tuples(at, _said()), min_size=0, max_size=9))
    return readings(*((x, y, said) for (x, y), said in rows))


@st.composite
def star_shapes(draw: st.DrawFn, said: bool = True) -> Readings:
    """Points round a centre at rising angles: they never cross; some lie almost on one line."""
    count = draw(st.integers(3, 12))
    shares = draw(st.lists(st.floats(0.05, 1.0), min_size=count, max_size=count))
    start = draw(st.floats(0.0, 360.0))
    reach = draw(st.lists(st.one_of(st.just(50.0), st.floats(8.0, 120.0)), min_size=count, max_size=count))
    rows = []
    turn = 0.0
    for share, r in zip(shares, reach, strict=True):
        turn += 360.0 * share / sum(shares)
        angle = math.radians(start + turn)
        extra = draw(st.sampled_from([{}, {}, {"round_mm": 2.0}, {"smooth": True}])) if said else {}
        rows.append((r * math.cos(angle), r * math.sin(angle), extra))
    return readings(*rows)


slivers = st.builds(rectangle, st.floats(5.0, 1000.0), st.sampled_from([0.21, 0.3, 0.9999999, 1.0, 2.5]))
plain_shapes = st.one_of(
    st.builds(rectangle, lengths, lengths),
    slivers,
    st.builds(lambda d: Disc(key=f"{KEY}.circle", diameter_mm=d), lengths),
    st.builds(
        lambda b, t, h, s: Trapezoid(key=f"{KEY}.trapezoid", bottom_mm=b, top_mm=t, height_mm=h, shift_mm=s),
        lengths,
        lengths,
        lengths,
        st.floats(-100, 100),
    ),
)
shapes = st.one_of(plain_shapes, star_shapes(), scribbles())


@st.composite
def drawn_parts(draw: st.DrawFn) -> DrawnPart:
    """Parts with anything on them: touching holes, slots that leave, tabs off the edge, stray marks."""
    fits = st.sampled_from([-1.0, -0.3, 0.0, 0.2, 3.0, 3.1])
    turns = st.sampled_from([0.0, 90.0, 180.0, -90.0, 45.0, 12.345, 1e-9, 720.0])
    cutouts = [
        cutout(i, draw(plain_shapes), draw(points), draw(turns)) for i in range(draw(st.integers(0, 2)))
    ]
    if draw(st.booleans()):  # two circles that touch, overlap a little, or leave a thin web
        x, y = draw(points)
        apart = draw(st.sampled_from([9.9, 10.0, 10.0000004, 10.5]))
        cutouts += [hole(len(cutouts), (x, y), 10.0), hole(len(cutouts) + 1, (x + apart, y), 10.0)]
    slots = [
        slot(
            i,
            draw(points),
            draw(st.floats(0.5, 80.0)),
            draw(turns),
            fit=draw(fits),
            open_end=draw(st.booleans()),
        )
        for i in range(draw(st.integers(0, 3)))
    ]
    tabs = [tab(i, draw(points), draw(st.floats(0.5, 40.0))) for i in range(draw(st.integers(0, 1)))]
    if draw(st.booleans()):
        tabs.append(tab(len(tabs), (draw(st.floats(0.0, 100.0)), 0.0), draw(st.floats(0.5, 40.0))))
    kinds = st.sampled_from(["line", "balance", "circle", "tape"])
    marks = [
        mark(i, draw(kinds), draw(points), draw(points), ratio=0.3, diameter_mm=8.0, width_mm=6.0, text="F2")
        for i in range(draw(st.integers(0, 2)))
    ]
    plate = st.just(rectangle(100.0, 50.0))
    shape = draw(st.one_of(plate, plate, shapes))
    halves = st.sampled_from([Grain.ANY, Grain.ANY, Grain.ANY, Grain.X, Grain.Y])
    return panel(
        shape,
        mirrored=draw(halves),
        pair=draw(st.sampled_from(list(Hand))),
        cutouts=tuple(cutouts),
        slots=tuple(slots),
        tabs=tuple(tabs),
        marks=tuple(marks),
        label=draw(st.one_of(st.none(), st.builds(lambda at: Label(key=f"{KEY}.label", at=at), points))),
    )


@st.composite
def sound_parts(draw: st.DrawFn) -> DrawnPart:
    """Parts that can be cut: a plate of cells, in each at most one cut; tabs on edges, marks across."""
    columns, rows = draw(st.integers(2, 6)), draw(st.integers(1, 3))
    cell = 30.0
    width, height = columns * cell, rows * cell
    rounding = draw(st.sampled_from([None, None, 0.5, 4.0]))
    said = {} if rounding is None else {"round_mm": rounding}
    shape = readings((0.0, 0.0, said), (width, 0.0, said), (width, height, {"name": "far"}), (0.0, height))
    cutouts: list[Cutout] = []
    slots: list[DrawnSlot] = []
    for column in range(columns):
        for row in range(rows):
            at = (column + 0.5) * cell, (row + 0.5) * cell
            kind = draw(st.sampled_from(["none", "hole", "plate", "keyhole", "slot"]))
            turn = draw(st.sampled_from([0.0, 90.0, 30.0, -12.5]))
            if kind == "hole":
                cutouts.append(hole(len(cutouts), at, draw(st.floats(0.5, 20.0))))
            elif kind == "plate":
                cutouts.append(cutout(len(cutouts), rectangle(draw(st.floats(1.0, 10.0)), 6.0), at, turn))
            elif kind == "keyhole":
                cutouts.append(hole(len(cutouts), at, 8.0))
                cutouts.append(hole(len(cutouts), (at[0] + draw(st.floats(1.0, 6.0)), at[1]), 5.0))
            elif kind == "slot":
                length, fit = draw(st.floats(2.0, 18.0)), draw(st.sampled_from([-1.0, 0.0, 0.2, 3.0]))
                slots.append(slot(len(slots), at, length, turn, fit=fit))
    tabs = [tab(0, (width / 2, 0.0), draw(st.floats(1.0, 20.0)))] if draw(st.booleans()) else []
    if draw(st.booleans()):
        tabs.append(tab(len(tabs), (0.0, height / 2), draw(st.floats(1.0, 10.0)), thickness=1.5))
    marks = [mark(0, "line", (-5.0, 3.0), (width + 5.0, height - 3.0), text="F2")]
    return panel(
        shape,
        pair=draw(st.sampled_from(list(Hand))),
        cutouts=tuple(cutouts),
        slots=tuple(slots),
        tabs=tuple(tabs),
        marks=tuple(marks),
    )


@st.composite
def _worked(draw: st.DrawFn) -> tuple[str, float, dict[str, Any]]:
    """A kind of fold that 5 mm board bears, its turn, and what else is said of it; at most 25 mm wide."""
    kind = draw(st.sampled_from(["score", "groove", "wrap", "roll", "hinge", "strip"]))
    if kind == "score":
        return kind, draw(st.floats(1.0, 179.0)), {}
    if kind == "groove":
        extra = draw(st.sampled_from([0.0, 5.0, 20.0]))
        return kind, draw(st.one_of(st.just(90.0), st.floats(1.2, 110.0))), {"groove_extra_deg": extra}
    if kind == "wrap":
        lands = draw(st.sampled_from([None, 3.0, 6.0]))
        return kind, 90.0, {"lands_thickness_mm": lands, "fold_at": draw(st.sampled_from(list(FoldAt)))}
    if kind == "roll":
        every = draw(st.sampled_from([None, 0.7, 4.0]))
        more = {"radius_mm": draw(st.floats(5.0, 15.0)), "every_mm": every}
        return kind, draw(st.floats(5.0, 90.0)), more
    if kind == "strip":
        far = draw(st.sampled_from([None, 90.0, 35.0, 120.0]))
        more = {"band_mm": draw(st.floats(0.5, 25.0)), "far_turn_deg": far}
        return kind, draw(st.one_of(st.just(90.0), st.floats(5.0, 120.0))), more
    bevel = draw(st.sampled_from([0.0, 30.0, 45.0, 70.0]))
    return kind, draw(st.sampled_from([0.0, -90.0, bevel])), {"bevel_deg": bevel}


@st.composite
def folded_parts(draw: st.DrawFn) -> DrawnPart:
    """Parts that fold: a strip of panels, plain or tapered, folds of every kind across it, some leaning.

    Every fold has room; some are drawn past the edges, some cross a hole.
    """
    count = draw(st.integers(1, 4))
    width, height = 70.0 * (count + 1), 50.0
    rise = draw(st.sampled_from([0.0, 0.0, 6.0, 17.3]))
    shape = readings((0.0, 0.0), (width, rise), (width, height), (0.0, height))
    folds: list[DrawnFold] = []
    cutouts: list[Cutout] = []
    for i in range(count):
        x, lean = 70.0 * (i + 1), draw(st.sampled_from([0.0, 0.0, 3.0, -4.7]))
        start, end = (x - lean, -20.0), (x + lean, height + 20.0)
        if draw(st.booleans()):
            start, end = end, start
        kind, turn, more = draw(_worked())
        folds.append(fold(i, kind, start, end, turn, side=draw(st.sampled_from(list(Side))), **more))
        if draw(st.integers(0, 3)) == 0:
            cutouts.append(hole(len(cutouts), (x + draw(st.floats(-8.0, 8.0)), 35.0), 9.0))
    return panel(shape, pair=draw(st.sampled_from(list(Hand))), folds=tuple(folds), cutouts=tuple(cutouts))


@st.composite
def bevelled_shapes(draw: st.DrawFn) -> Readings:
    """Points round a centre, some of their edges bevelled; many are too narrow for it."""
    plain = draw(star_shapes(said=False))
    angles = st.sampled_from([None, None, 15.0, 30.0, 45.0, 60.0])
    rows: list[tuple[Any, ...]] = []
    for row in plain.points:
        said: dict[str, Any] = {"bevel_deg": draw(angles)}
        if said["bevel_deg"] is None:
            said["bevel_back_deg"] = draw(angles)
        if draw(st.integers(0, 3)) == 0:
            said["round_mm"] = draw(st.sampled_from([1.0, 8.0]))
        rows.append((*row.at, said))
    if draw(st.booleans()):
        rows = [(x, -y, said) for x, y, said in rows]
    return readings(*rows)


@st.composite
def hostile_folds(draw: st.DrawFn) -> DrawnPart:
    """Any folds over any shape that can be cut: most stop inside, meet, or have no room."""
    tray = readings((0, 0), (0, -30), (90, -30), (90, 0), (120, 0), (120, 70), (0, 70))
    plate = st.just(rectangle(100.0, 50.0))
    shape = draw(st.one_of(plate, star_shapes(said=False), st.just(tray), st.just(tray)))
    corners = [(0.0, 0.0), (90.0, 0.0), (90.0, 70.0), (0.0, 70.0), (0.0, 50.0), (100.0, 50.0), (100.0, 0.0)]
    places = st.one_of(st.sampled_from(corners), st.sampled_from(corners), points)
    folds = []
    for i in range(draw(st.integers(1, 3))):
        start, end = draw(places), draw(places)
        x, y = draw(points)
        way = draw(st.sampled_from(["up", "across", "over", "over", "any"]))
        if way == "up":
            start, end = (x, -200.0), (x, 200.0)
        elif way == "across":
            start, end = (200.0, y), (-200.0, y)
        elif way == "over" and start != end:  # drawn out past the edges
            far = 200.0 / math.dist(start, end)
            dx, dy = far * (end[0] - start[0]), far * (end[1] - start[1])
            start, end = (start[0] - dx, start[1] - dy), (end[0] + dx, end[1] + dy)
        kind, turn, more = draw(_worked())
        folds.append(fold(i, kind, start, end, turn, side=draw(st.sampled_from(list(Side))), **more))
    slots = [slot(0, draw(points), 12.0, 30.0)] if draw(st.integers(0, 3)) == 0 else []
    cutouts = [hole(0, draw(points), 14.0)] if draw(st.integers(0, 3)) == 0 else []
    return panel(
        shape,
        thickness_mm=draw(st.sampled_from([1.0, 5.0])),
        pair=draw(st.sampled_from(list(Hand))),
        folds=tuple(folds),
        slots=tuple(slots),
        cutouts=tuple(cutouts),
    )
