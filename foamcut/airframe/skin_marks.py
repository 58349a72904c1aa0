"""The marks on a folded surface's skins, each on its right face.

mm, on the flat pattern of `foamcut.airframe.folded_flat`; the inner face is the drawn one.
"""

import math
from collections.abc import Iterable, Iterator

import numpy as np

from foamcut.airframe.body_wing import seated
from foamcut.airframe.folded_controls import open_spans
from foamcut.airframe.folded_flat import FlatSkin, band_mm, front_c
from foamcut.airframe.motors import skin_marks
from foamcut.airframe.planform import mean_chord, panel_beside, panels
from foamcut.airframe.section import spar_in
from foamcut.airframe.skin_holes import openings, wells
from foamcut.airframe.values import Inputs, Nose, Role, Surface, TrailingEdge
from foamcut.flat.drawn import DrawnMark, Face
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

#: how far tape reaches over each skin at an edge (common practice, no source)
_TAPE_MM = 12.0
#: from the side of the body to the balance V: a finger's place; without a body this share of the half span
_FINGER_MM, _FINGER_SHARE = 10.0, 0.15
#: marks stay so far off the ends of a skin
_END_MM = 1.0
#: the words about the root stand this far from it
_ROOT_MM = 8.0


def _line(
    key: str, points: tuple[Point, ...], text: str, face: Face = Face.INNER, *, clear: bool = False
) -> DrawnMark:
    return DrawnMark(key=key, kind="line", face=face, points=points, text=text, clear=clear)


def lower_marks(flat: FlatSkin, inputs: Inputs, key: str) -> tuple[DrawnMark, ...]:
    """The marks of a lower skin."""
    return (
        *_spar(flat, key),
        *_joiner(flat, key),
        *_wires(flat, inputs, key),
        *_words(flat, inputs, key),
        *_motors(flat, inputs, key),
        *_opened(flat, inputs, key, upper=False),
        *_root(flat, key),
        *(_bodies(flat, inputs, key, upper=False)),
        *_balance(flat, inputs, key),
        *_tapes(flat, key),
    )


def upper_marks(flat: FlatSkin, inputs: Inputs, key: str) -> tuple[DrawnMark, ...]:
    """The marks of an upper skin."""
    return (
        *_ends(flat, key),
        *_opened(flat, inputs, key, upper=True),
        *_bodies(flat, inputs, key, upper=True),
    )


def _along(flat: FlatSkin) -> tuple[float, float]:
    return flat.piece.first_mm, flat.piece.last_mm


def _spar(flat: FlatSkin, key: str) -> Iterator[DrawnMark]:
    surface, panel = flat.piece.surface, flat.piece.panel
    for i, text in ((0, "spar, front face: strips before closing"), (1, "spar, rear face")):
        points = tuple(flat.lower_at(spar_in(surface, panel, s)[i], s) for s in _along(flat))
        yield _line(f"{key}.spar[{i}]", points, text)


def _joiner(flat: FlatSkin, key: str) -> Iterator[DrawnMark]:
    surface, panel = flat.piece.surface, flat.piece.panel
    joiner = surface.joiner
    if joiner is None or surface.role is Role.FIN or flat.piece.first_mm > 0:
        return
    out = min(joiner.length_mm / 2, flat.piece.last_mm - _END_MM)
    ply = joiner.material.thickness_mm
    for i in range(joiner.count):
        c = spar_in(surface, panel, 0.0)[i] + (ply if i else -ply)
        words = "joiner, before closing"
        yield _line(f"{key}.joiner[{i}]", (flat.lower_at(c, 0.0), flat.lower_at(c, out)), words)


def _wires(flat: FlatSkin, inputs: Inputs, key: str) -> Iterator[DrawnMark]:
    """From each servo along the spar to the root, its lead's way."""
    surface, piece = flat.piece.surface, flat.piece
    for i, well in enumerate(wells(surface, inputs)):
        end = well.s_mm - well.servo.size_mm[1] / 2
        low, high = piece.first_mm, min(end, piece.last_mm)
        if high - low <= _END_MM:
            continue
        behind = well.c_mm - spar_in(surface, well.panel, well.s_mm)[1]
        points = tuple(flat.lower_at(spar_in(surface, piece.panel, s)[1] + behind, s) for s in (low, high))
        yield _line(f"{key}.wires[{i}]", points, "wire way, before closing")


def _words(flat: FlatSkin, inputs: Inputs, key: str) -> Iterator[DrawnMark]:
    """What each opening is for, beside it."""
    for i, one in enumerate(openings(flat.piece.surface, inputs)):
        if one.upper or not one.text or not flat.piece.holds(one.s_mm):
            continue
        c = one.c_mm + one.size_mm[0] / 2 + _END_MM
        ends = (one.s_mm - one.size_mm[1] / 2, one.s_mm + one.size_mm[1] / 2)
        yield _line(f"{key}.opening[{i}]", tuple(flat.lower_at(c, s) for s in ends), one.text)


def _motors(flat: FlatSkin, inputs: Inputs, key: str) -> Iterator[DrawnMark]:
    surface, piece = flat.piece.surface, flat.piece
    for i, motor in enumerate(inputs.motors):
        if not motor.on_wing or motor.on != surface.name or motor.out_mm is None:
            continue
        panel, s = panel_beside(surface, motor.out_mm)
        if panel.index != piece.panel.index or not piece.holds(s):
            continue
        yield _line(f"{key}.motor[{i}]", _across(flat, s), f"{motor.name}: axis")


def _opened(flat: FlatSkin, inputs: Inputs, key: str, *, upper: bool) -> Iterator[DrawnMark]:
    """What is opened for motors: lines that begin and end where a skin does."""
    piece, word = flat.piece, "upper" if upper else "lower"
    back = front_c(piece) - piece.panel.leading(piece.first_mm)
    for name, line, text in skin_marks(piece.surface, inputs):
        if not all(piece.holds(s) for _, s in line):
            continue
        points = []
        for c, s in line:
            first = np.interp(s, piece.rails[0, :, 1], piece.middle[0, :, 0])
            begin = float(first) if upper else piece.panel.leading(s) + back
            points.append((flat.upper_at if upper else flat.lower_at)(max(c, begin), s))
        yield _line(f"{key}.{word}.{name}", tuple(points), text)


def _across(flat: FlatSkin, s: float) -> tuple[Point, Point]:
    """From the leading to the trailing edge of the lower skin."""
    panel = flat.piece.panel
    return flat.lower_at(panel.leading(s), s), flat.lower_at(panel.trailing(s), s)


def tip_heights(surface: Surface) -> tuple[float, float]:
    """How high the tip stands with both halves alike, and the other tip with one half's root flat.

    Angles at the root: the sum of each panel's length times the sine of its dihedral, for the second one
    raised by that of the root.
    """
    several = panels(surface)
    angles = [math.radians(one.first.dihedral_deg) for one in several]
    return (
        sum(one.length_mm * math.sin(g) for one, g in zip(several, angles, strict=True)),
        sum(one.length_mm * math.sin(g + angles[0]) for one, g in zip(several, angles, strict=True)),
    )


def _root(flat: FlatSkin, key: str) -> Iterator[DrawnMark]:
    """The angle of the root and how high the tip is propped."""
    piece = flat.piece
    for end, tilt, s in ((0, piece.first_tilt_deg, piece.first_mm), (1, -piece.last_tilt_deg, piece.last_mm)):
        if not tilt:
            continue
        how = "bevelled" if piece.bevelled(end) else "sanded"
        text = f"edge {how} {decimal_text(abs(tilt), 2)} deg"
        if s == 0:
            tip, propped = tip_heights(piece.surface)
            text += (
                f"; tips {decimal_text(tip)} mm up, or one half flat and the other tip"
                f" {decimal_text(propped)} mm up"
            )
        at = s + (_ROOT_MM if end == 0 else -_ROOT_MM)
        yield _line(f"{key}.end[{end}]", _across(flat, at), text)


def _bodies(flat: FlatSkin, inputs: Inputs, key: str, *, upper: bool) -> Iterator[DrawnMark]:
    """Where the edges of bodies lie, outside, on the skin that lies in the saddle."""
    surface, piece = flat.piece.surface, flat.piece
    for i, (half, upwards) in enumerate(saddles(surface, inputs)):
        panel, s = panel_beside(surface, half)
        if panel.index != piece.panel.index or not piece.holds(s):
            continue
        if not upper:
            yield _line(f"{key}.body_inside[{i}]", _across(flat, s), "side of the body")
        if upwards is upper:
            continue
        points = _over(flat, s) if upper else _across(flat, s)
        yield _line(f"{key}.body[{i}]", points, "saddle", Face.OUTER)


def _over(flat: FlatSkin, s: float) -> tuple[Point, ...]:
    """From the nose to the trailing edge of the upper skin, along its rulings."""
    panel = flat.piece.panel
    count = 24
    lead, trail = panel.leading(s), panel.trailing(s)
    return tuple(flat.upper_at(lead + (trail - lead) * (0.05 + 0.9 * i / count), s) for i in range(count + 1))


def saddles(surface: Surface, inputs: Inputs) -> tuple[tuple[float, bool], ...]:
    """Half the width of every body that the surface lies on, and whether its saddle is open upwards."""
    if surface.role is not Role.WING:
        return ()
    return tuple(
        (body.width_mm / 2, one.upwards)
        for body in inputs.bodies
        for one in seated(body, inputs).saddles
        if one.surface == surface
    )


def _balance(flat: FlatSkin, inputs: Inputs, key: str) -> Iterator[DrawnMark]:
    """The V at a finger's place, outside: its tip at the share of the mean chord."""
    surface, panel = flat.piece.surface, flat.piece.panel
    if surface.role is not Role.WING or surface != inputs.wing:
        return
    beside = max((half for half, _ in saddles(surface, inputs)), default=None)
    s = _FINGER_SHARE * surface.half_span_mm
    if beside is not None:
        s = panel_beside(surface, beside)[1] + _FINGER_MM
    mean = mean_chord(surface)
    c = mean.leading_mm + surface.balance * mean.chord_mm
    lead, trail = panel.leading(s), panel.trailing(s)
    if not flat.piece.holds(s) or not lead < c < trail:
        return
    yield DrawnMark(
        key=f"{surface.key}.balance",
        kind="balance",
        face=Face.OUTER,
        points=(flat.lower_at(trail, s), flat.lower_at(lead, s)),
        ratio=(trail - c) / (trail - lead),
        text=f"balance {decimal_text(100 * surface.balance)} % of the mean chord",
    )


def _tapes(flat: FlatSkin, key: str) -> Iterator[DrawnMark]:
    """Tape along the leading and the trailing edge, outside."""
    piece = flat.piece
    panel, surface = piece.panel, piece.surface
    ux, uy = (float(v) for v in piece.along)
    band = band_mm(piece) if surface.nose is not Nose.TWO_SKINS else 0.0
    start, end = flat.nose_line
    middle = tuple((x - uy * band / 2, y + ux * band / 2) for x, y in (start, end))
    yield DrawnMark(
        key=f"{key}.tape[0]", kind="tape", face=Face.OUTER, points=middle,
        width_mm=2 * _TAPE_MM + band, text="tape round the nose",
    )  # fmt: skip
    if surface.trailing_edge is TrailingEdge.SINGLE:
        return
    for i, (low, high) in enumerate(_beside_controls(flat)):
        points = tuple(flat.lower_at(panel.trailing(s) - _TAPE_MM / 2, s) for s in (low, high))
        yield DrawnMark(
            key=f"{key}.tape[{i + 1}]", kind="tape", face=Face.OUTER, points=points,
            width_mm=_TAPE_MM, text="tape round the edge" if high - low > 80.0 else "tape",
        )  # fmt: skip


def _beside_controls(flat: FlatSkin) -> Iterable[tuple[float, float]]:
    """The stretches of the trailing edge that no control takes, long enough to tape."""
    low, last = _along(flat)
    for first, end, _ in open_spans(flat.piece):
        if first - low > _TAPE_MM:
            yield low, first
        low = end
    if last - low > _TAPE_MM:
        yield low, last


def _ends(flat: FlatSkin, key: str) -> Iterator[DrawnMark]:
    """Where the upper skin is trimmed, and from where it is feathered; not where it ends at a control."""
    piece = flat.piece
    rail = flat.upper[-1]
    way = rail - flat.upper[-2]
    way = way / np.linalg.norm(way, axis=1, keepdims=True)
    feather = rail - way * np.array([[one.bevel_run_mm] for one in piece.sections])
    stretches = (
        [(-math.inf, math.inf)]
        if piece.surface.trailing_edge is TrailingEdge.SINGLE
        else list(_beside_controls(flat))
    )
    longest = max(
        stretches, key=lambda one: min(one[1], piece.last_mm) - max(one[0], piece.first_mm), default=None
    )
    for i, stretch in enumerate(stretches):
        words = ("trim here when it is closed", "feather from here to the edge")
        if stretch != longest:
            words = ("trim", "feather")
        if piece.surface.trim_mm > 0:
            yield _line(f"{key}.trim[{i}]", _part_of(flat, rail, stretch), words[0])
        yield _line(f"{key}.feather[{i}]", _part_of(flat, feather, stretch), words[1])


def _part_of(flat: FlatSkin, line: np.ndarray, stretch: tuple[float, float]) -> tuple[Point, ...]:
    """What of a line along the rear edge lies between two places along the span."""
    out = flat.piece.rails[-1, :, 1]
    low, high = max(stretch[0], float(out[0])), min(stretch[1], float(out[-1]))
    # the ends of the span are those of the edge, which may lean out
    low = float(out[0]) if low <= flat.piece.first_mm else low
    high = float(out[-1]) if high >= flat.piece.last_mm else high
    places = [low, *(float(s) for s in out if low < s < high), high]
    return tuple((float(np.interp(s, out, line[:, 0])), float(np.interp(s, out, line[:, 1]))) for s in places)
