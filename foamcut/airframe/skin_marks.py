"""The marks on a folded surface's skins, each on its right face.

mm, on the flat pattern of `foamcut.airframe.folded_flat`; the inner face is the drawn one.
"""

import math
from collections.abc import Iterator

import numpy as np

from foamcut.airframe.folded_flat import FlatSkin, front_c
from foamcut.airframe.motors import skin_marks
from foamcut.airframe.planform import panel_beside, panels
from foamcut.airframe.section import spar_in
from foamcut.airframe.skin_body_marks import balance_marks, body_marks
from foamcut.airframe.skin_edge_marks import close_marks, rear_marks, tape_marks
from foamcut.airframe.skin_holes import openings, wells
from foamcut.airframe.skin_lines import across_lower, along_span, line_mark
from foamcut.airframe.values import Inputs, Role, Surface
from foamcut.flat.drawn import DrawnMark
from foamcut.units import decimal_text

#: marks stay so far off the ends of a skin
_END_MM = 1.0
#: the words about the root stand this far from it
_ROOT_MM = 8.0


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
        *(body_marks(flat, inputs, key, upper=False)),
        *balance_marks(flat, inputs, key),
        *tape_marks(flat, key),
        *close_marks(flat, key),
    )


def upper_marks(flat: FlatSkin, inputs: Inputs, key: str) -> tuple[DrawnMark, ...]:
    """The marks of an upper skin."""
    return (
        *rear_marks(flat, key),
        *_opened(flat, inputs, key, upper=True),
        *body_marks(flat, inputs, key, upper=True),
    )


def _spar(flat: FlatSkin, key: str) -> Iterator[DrawnMark]:
    surface, panel = flat.piece.surface, flat.piece.panel
    for i, text in ((0, "spar, front face: strips before closing"), (1, "spar, rear face")):
        points = tuple(flat.lower_at(spar_in(surface, panel, s)[i], s) for s in along_span(flat))
        yield line_mark(f"{key}.spar[{i}]", points, text)


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
        yield line_mark(f"{key}.joiner[{i}]", (flat.lower_at(c, 0.0), flat.lower_at(c, out)), words)


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
        yield line_mark(f"{key}.wires[{i}]", points, "wire way, before closing")


def _words(flat: FlatSkin, inputs: Inputs, key: str) -> Iterator[DrawnMark]:
    """What each opening is for, beside it."""
    for i, one in enumerate(openings(flat.piece.surface, inputs)):
        if one.upper or not one.text or not flat.piece.holds(one.s_mm):
            continue
        c = one.c_mm + one.size_mm[0] / 2 + _END_MM
        ends = (one.s_mm - one.size_mm[1] / 2, one.s_mm + one.size_mm[1] / 2)
        yield line_mark(f"{key}.opening[{i}]", tuple(flat.lower_at(c, s) for s in ends), one.text)


def _motors(flat: FlatSkin, inputs: Inputs, key: str) -> Iterator[DrawnMark]:
    surface, piece = flat.piece.surface, flat.piece
    for i, motor in enumerate(inputs.motors):
        if not motor.on_wing or motor.on != surface.name or motor.out_mm is None:
            continue
        panel, s = panel_beside(surface, motor.out_mm)
        if panel.index != piece.panel.index or not piece.holds(s):
            continue
        yield line_mark(f"{key}.motor[{i}]", across_lower(flat, s), "motor axis")


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
        yield line_mark(f"{key}.{word}.{name}", tuple(points), text)


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
            text += f"; tips {decimal_text(abs(tip))} mm {'up' if tip > 0 else 'down'}"
            if propped > 0:
                text += f", or one half flat and the other tip {decimal_text(propped)} mm up"
        at = s + (_ROOT_MM if end == 0 else -_ROOT_MM)
        yield line_mark(f"{key}.end[{end}]", across_lower(flat, at), text)
