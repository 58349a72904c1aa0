"""Formers, front plate and end plate as parts, drawn on their rear face: x to the right, y up.  mm."""

from collections.abc import Iterable, Mapping

import shapely

from foamcut.airframe.body_holes import Hole, Laying, Panel, box_points, cuts_of, ring_readings
from foamcut.airframe.body_openings import servos_in
from foamcut.airframe.body_stands import Stand
from foamcut.airframe.body_view import View
from foamcut.airframe.made import Made
from foamcut.airframe.values import Inputs
from foamcut.flat.drawn import DrawnMark, DrawnPart, DrawnTab, Face, Place

#: a plate wider and higher than this has its middle marked
_MARKED_MM = 12.0


def plate_parts(view: View, inputs: Inputs, tabs: Mapping[str, float]) -> Made:
    """Every plate; `tabs` are the lengths of the tabs of those that have some, by their word."""
    return Made.of(_plate(view, inputs, stand, tabs.get(stand.word)) for stand in view.stands)


def _plate(view: View, inputs: Inputs, stand: Stand, tab: float | None) -> Made:
    body = view.body
    key = stand.key if stand.word.startswith("former") else f"{body.key}.{stand.word}"
    half, high = stand.width_mm / 2, stand.height_mm
    corners = [(-half, 0.0), (half, 0.0), (half, high), (-half, high)]
    panel = Panel(words=stand.word.replace("-", " "), shape=shapely.box(-half, 0.0, half, high))
    for hole in _holes(view, inputs, stand):
        panel.lay(hole)
    cuts = cuts_of(panel.holes, Laying(), "plate")
    part = DrawnPart(
        key=key,
        name=f"{body.name}-{stand.word}",
        stock=stand.material.name,
        thickness_mm=stand.material.thickness_mm,
        shape=ring_readings(key, corners),
        face=Face.EITHER,
        cutouts=cuts.cutouts,
        slots=cuts.slots,
        tabs=_tabs(view, stand, key, tab),
        marks=_marks(stand, key),
        kerf_mm=stand.material.kerf_mm,
        place=Place(key=key, at=(stand.rear_mm, 0.0, stand.foot_mm), x=(0.0, 1.0, 0.0), y=(0.0, 0.0, 1.0)),
    )
    return Made(parts=(part,), refusals=tuple(panel.refusals))


def _tabs(view: View, stand: Stand, key: str, length: float | None) -> tuple[DrawnTab, ...]:
    """A tab at half height on each side."""
    if length is None:
        return ()
    return tuple(
        DrawnTab(
            key=f"{key}.tabs[{i}]",
            at=(side * stand.width_mm / 2, stand.height_mm / 2),
            length_mm=length,
            into=view.body.material.name,
            into_thickness_mm=view.thickness_mm,
        )
        for i, side in enumerate((-1.0, 1.0))
    )


def _holes(view: View, inputs: Inputs, stand: Stand) -> Iterable[Hole]:
    """Its opening, and those of servos; a servo in a former stands at `at[1]` up, on the middle."""
    if stand.opening_mm is not None:
        points = box_points((0.0, stand.height_mm / 2), stand.opening_mm)
        yield Hole(key=f"{stand.key}.opening", words="the opening", points=points)
    for servo in servos_in(view, inputs, stand.word):
        points = box_points((0.0, servo.at[1] - stand.foot_mm), servo.size_mm)
        yield Hole(key=servo.key, words="the servo's opening", points=points)


def _marks(stand: Stand, key: str) -> tuple[DrawnMark, ...]:
    """The centre line."""
    if min(stand.width_mm, stand.height_mm) < _MARKED_MM:
        return ()
    return (
        DrawnMark(
            key=f"{key}.middle",
            kind="line",
            face=Face.INNER,
            points=((0.0, 0.0), (0.0, stand.height_mm)),
            text="",
        ),
    )
