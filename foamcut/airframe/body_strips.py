"""Floor, deck and hatch as parts, drawn on their inner face along their whole outer paper.  mm."""

from collections.abc import Sequence

import shapely
from shapely import Polygon

from foamcut.airframe.body_holes import Bar, Hole, Laying, Panel, cuts_of
from foamcut.airframe.body_openings import servo_holes, strap_holes
from foamcut.airframe.body_side import MITRE_DEG
from foamcut.airframe.body_unroll import Strip
from foamcut.airframe.body_view import View
from foamcut.airframe.body_words import word_marks
from foamcut.airframe.flat_surface import root_tabs
from foamcut.airframe.made import Made
from foamcut.airframe.values import Corners, Inputs, Role
from foamcut.flat.drawn import DrawnMark, DrawnPart, Face, KeepClear, Reading, Readings

#: half the width of hinge tape (common practice, no source)
_TAPE_MM = 12.0


def floor_parts(view: View, inputs: Inputs) -> Made:
    """The floor, in several strips where a low wing parts it."""
    many = len(view.floors) > 1
    made = []
    for i, strip in enumerate(view.floors):
        panel = floor_panel(view, strip, "the floor")
        for hole in (*strap_holes(view, strip, i), *servo_holes(view, inputs, strip, "floor")):
            panel.lay(hole)
        word = f"floor-{i + 1}" if many else "floor"
        made.append(_part(view, strip, word, f"{view.body.key}.side", panel))
    return Made.of(made)


def deck_part(view: View, inputs: Inputs) -> Made:
    """The deck, with slots for the tabs of fins and the places of what sits on it."""
    strip = view.deck
    if strip is None:
        return Made()
    panel = floor_panel(view, strip, "the deck")
    for surface in inputs.surfaces:
        if surface.role is not Role.FIN:
            continue
        for tab in root_tabs(surface, inputs):
            if not strip.front_mm <= tab.along_mm <= strip.rear_mm:
                continue
            hole = Hole(
                key=tab.key,
                words=f'the slot for a tab of "{surface.name}"',
                middle=(strip.along(tab.along_mm), 0.0),
                length_mm=tab.length_mm,
                takes=surface.material,
                fit_mm=surface.material.fit_mm,
                reaches_in=False,
                label="fin",
            )
            panel.lay(hole)
    for hole in servo_holes(view, inputs, strip, "deck"):
        panel.lay(hole)
    return _part(view, strip, "deck", f"{view.body.key}.deck", panel, _sitting(view, strip))


def hatch_part(view: View, inputs: Inputs) -> Made:
    """The hatch: a lid between the sides, hinged with tape along its front edge."""
    strip = view.hatch
    if strip is None:
        return Made()
    panel = floor_panel(view, strip, "the hatch")
    for hole in servo_holes(view, inputs, strip, "hatch"):
        panel.lay(hole)
    key = f"{view.body.key}.hatch"
    tape = DrawnMark(
        key=f"{key}.tape",
        kind="line",
        face=Face.OUTER,
        points=((_TAPE_MM, -strip.width_mm / 2), (_TAPE_MM, strip.width_mm / 2)),
        text="hinge tape",
    )
    long = strip.length_mm > 2 * _TAPE_MM
    return _part(view, strip, "hatch", key, panel, (tape,) if long else ())


def floor_panel(view: View, strip: Strip, words: str) -> Panel:
    """The strip between the sides, barred where it folds and where plates and doublers stand on it."""
    body, t = view.body, view.thickness_mm
    half = min(strip.width_mm, body.width_mm - 2 * t) / 2
    length = strip.length_mm
    panel = Panel(words=words, shape=shapely.box(0.0, -half, length, half))
    for turn in strip.turns:
        if turn.folded:
            u, off = turn.u_mm, turn.half_band_mm
            shape: Polygon = shapely.box(u - off - 1.0, -half, u + off + 1.0, half)
            panel.bars.append(Bar(key=f"{body.key}.side", words="a fold", shape=shape, always=True))
    for stand in view.stands:
        a, b = strip.along(stand.front_mm), strip.along(stand.rear_mm)
        if b > a:
            shape = shapely.box(a, -half, b, half)
            panel.bars.append(Bar(key=stand.key, words=stand.word.replace("-", " "), shape=shape))
    span = body.nose_doubler_mm
    if span is not None:
        a, b = strip.along(span[0]), strip.along(span[1])
        for low, high in ((-half, t - half), (half - t, half)):
            if b > a:
                shape = shapely.box(a, low, b, high)
                panel.bars.append(Bar(key=f"{body.key}.nose_doubler", words="a nose doubler", shape=shape))
    return panel


def _part(
    view: View, strip: Strip, word: str, key: str, panel: Panel, more: Sequence[DrawnMark] = ()
) -> Made:
    body = view.body
    lid = strip is view.hatch
    mitred, wrapped = (body.corners is kind and not lid for kind in (Corners.MITRED, Corners.WRAPPED))
    cuts = cuts_of(panel.holes, Laying(), word)
    marks = [*strip.bend_marks(f"{key}.{word}"), *_stations(view, strip, f"{key}.{word}"), *more]
    marks += word_marks(panel.shape, panel.holes, marks, word)
    if wrapped:
        marks += _lifted(view, strip, f"{key}.{word}")
    part = DrawnPart(
        key=key,
        name=f"{body.name}-{word}",
        stock=body.material.name,
        thickness_mm=strip.thickness_mm,
        shape=_shape(strip, f"{key}.{word}", MITRE_DEG if mitred else None),
        face=Face.INNER,
        cutouts=cuts.cutouts,
        slots=cuts.slots,
        marks=tuple(marks),
        folds=strip.folds(f"{key}.{word}"),
        keep_clear=_clear(view, strip),
        doubling=body.doubling,
        kerf_mm=body.material.kerf_mm,
        place=strip.place(key),
    )
    t = strip.thickness_mm
    shells = strip.shell(part.name, narrower_mm=t if mitred else 0.0, lifted_mm=t if wrapped else 0.0)
    return Made(parts=(part,), shells=shells, refusals=tuple(panel.refusals))


def _shape(strip: Strip, key: str, bevel: float | None) -> Readings:
    """A rectangle as long as the outer paper; of mitred corners its long edges are bevelled."""
    half, length = strip.width_mm / 2, strip.length_mm
    corners = ((0.0, -half), (length, -half), (length, half), (0.0, half))
    rows = (
        Reading(key=f"{key}.outline[{i}]", at=at, bevel_deg=bevel if i % 2 == 0 else None)
        for i, at in enumerate(corners)
    )
    return Readings(key=key, points=tuple(rows))


def _stations(view: View, strip: Strip, key: str) -> list[DrawnMark]:
    """Lines where plates stand, and the middle."""
    half, found = strip.width_mm / 2, []
    for i, stand in enumerate(view.stands):
        u = strip.along(stand.front_mm)
        if 1.0 < u < strip.length_mm - 1.0 and strip.front_mm < stand.front_mm < strip.rear_mm:
            found.append(_across(f"{key}.station[{i}]", u, half, stand.marked))
    return found


def _across(key: str, u: float, half: float, text: str, face: Face = Face.INNER) -> DrawnMark:
    return DrawnMark(key=key, kind="line", face=face, points=((u, -half), (u, half)), text=text)


def _lifted(view: View, strip: Strip, key: str) -> list[DrawnMark]:
    """Lines up to which the foam is lifted off the outer paper, on which the sides then stand."""
    v, length = strip.width_mm / 2 - view.thickness_mm, strip.length_mm
    return [
        DrawnMark(
            key=f"{key}.lift[{i}]",
            kind="line",
            face=Face.INNER,
            points=((0.0, side * v), (length, side * v)),
            text="cut to the outer paper, lift the foam to the edge",
        )
        for i, side in enumerate((-1.0, 1.0))
    ]


def _sitting(view: View, strip: Strip) -> tuple[DrawnMark, ...]:
    """Where what sits on the deck begins and ends."""
    found = []
    for one in view.tail.sitting:
        for i, (x, word) in enumerate(zip(one.span, ("from here", "to here"), strict=True)):
            u = strip.along(x)
            if 1.0 < u < strip.length_mm - 1.0:
                key = f"{one.surface.key}.seat[{i}]"
                found.append(_across(key, u, strip.width_mm / 2, f"{one.surface.name} {word}", Face.OUTER))
    return tuple(found)


def _clear(view: View, strip: Strip) -> tuple[KeepClear, ...]:
    """Where no joint lies: over plates, which stand on the inner face."""
    found = []
    for stand in view.stands:
        a, b = strip.along(stand.front_mm), strip.along(stand.rear_mm)
        if b > a:
            found.append(KeepClear(key=stand.key, x_mm=(a - 1.0, b + 1.0)))
    return tuple(found)
