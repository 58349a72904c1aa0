"""Wings, tails and fins put together by hand, their values worked out here and not by the package."""

import math
from itertools import pairwise

from foamcut.airframe.values import Build, Control, Material, Role, Station, Surface
from foamcut.flight.figures import Loaded
from foamcut.flight.lift import Lift
from foamcut.flight.neutral import Neutral
from foamcut.flight.planform import Cross, Lifting, Planform

BOARD = Material(name="board", thickness_mm=5.0, boards_mm=((700.0, 500.0),), fit_mm=0.2)


def surface(name, role, at, rows, *, build=Build.FLAT, angle=0.0, controls=()):
    """`rows`: (out, back, chord, dihedral) in mm and degrees, from the root out."""
    key = f"surface.{name}"
    stations = tuple(
        Station(key=f"{key}.stations[{i}]", out_mm=out, back_mm=back, chord_mm=chord, dihedral_deg=rise)
        for i, (out, back, chord, rise) in enumerate(rows)
    )
    return Surface(
        key=key, name=name, role=role, build=build, material=BOARD, at=at, stations=stations,
        angle_deg=angle, controls=tuple(controls),
    )  # fmt: skip


def control(on, word, first, last, chord, throw):
    return Control(
        key=f"surface.{on}.{word}", word=word, from_mm=first, to_mm=last, chord_mm=chord, throw_deg=throw
    )


def lifting(one: Surface) -> Lifting:
    """The shadow of a surface, in m, by Simpson's rule over each panel (exact for straight taper)."""
    fin = one.role is Role.FIN
    y, z = 0.0, one.at[1]
    area = chord2 = lead = out = up = 0.0
    crosses = []
    for a, b in pairwise(one.stations):
        rise = math.radians(a.dihedral_deg)
        dy = (b.out_mm - a.out_mm) * (0.0 if fin else math.cos(rise))
        dz = (b.out_mm - a.out_mm) * (1.0 if fin else math.sin(rise))
        span = dz if fin else dy
        crosses.append((a, y, z))
        for t, weight in ((0.0, 1 / 6), (0.5, 4 / 6), (1.0, 1 / 6)):
            c = a.chord_mm + t * (b.chord_mm - a.chord_mm)
            x = a.back_mm + t * (b.back_mm - a.back_mm)
            area += weight * span * c
            chord2 += weight * span * c * c
            lead += weight * span * c * x
            out += weight * span * c * (y + t * dy)
            up += weight * span * c * (z + t * dz)
        y, z = y + dy, z + dz
    crosses.append((one.stations[-1], y, z))
    halves = 1 if fin else 2
    span = sum(b.out_mm - a.out_mm for a, b in pairwise(one.stations)) if fin else 2 * y
    return Lifting(
        surface=one,
        area_m2=halves * area / 1e6,
        span_m=span / 1e3,
        aspect_ratio=(span / 1e3) ** 2 / (halves * area / 1e6) if area else 0.0,
        mean_chord_m=chord2 / area / 1e3 if area else 0.0,
        leading_m=(one.at[0] + (lead / area if area else 0.0)) / 1e3,
        out_m=out / area / 1e3 if area else 0.0,
        up_m=up / area / 1e3 if area else 0.0,
        crosses=tuple(
            Cross(
                leading_m=((one.at[0] + s.back_mm) / 1e3, cy / 1e3, cz / 1e3),
                chord_m=s.chord_mm / 1e3,
                angle_deg=one.angle_deg,
            )
            for s, cy, cz in crosses
        ),
    )


def plan(wing, tail=None, *fins, others=()):
    return Planform(
        wing=lifting(wing),
        tail=None if tail is None else lifting(tail),
        fins=tuple(lifting(one) for one in fins),
        others=tuple(lifting(one) for one in others),
    )


def loaded(along, up=60.0, mass=650.0):
    return Loaded(
        mass_g=mass, low_g=mass * 0.95, high_g=mass * 1.05, at=(along, 0.0, up),
        along_low_mm=along - 4, along_high_mm=along + 4, target_mm=None, inertia_kg_m2=(0.02, 0.03, 0.04),
    )  # fmt: skip


def neutral(along_m, slope=4.1):
    return Neutral(lattice_m=along_m, formula_m=along_m, lift_slope=slope + 0.5, wing_slope=slope)


LIFT = Lift(cl_max=(1.1, 1.0, 1.25), stall_m_s=(6.3, 5.9, 6.7), loading_kg_m2=3.6, assumed=("cl_max_folded",))


def trainer(*, dihedral=5.0, ailerons=False, elevator=20.0, tail_share=1.0, rudder=25.0):
    """A trainer of 1 m span with a tail of 40 % of its span; the fin stands on the tail's place."""
    controls = [control("wing", "aileron", 250, 480, 40, 18)] if ailerons else []
    wing = surface(
        "wing", Role.WING, (200, 80), [(0, 0, 200, dihedral), (500, 10, 180, dihedral)],
        build=Build.FOLDED, angle=2.0, controls=controls,
    )  # fmt: skip
    k = math.sqrt(tail_share)
    moves = [control("tail", "elevator", 30 * k, 200 * k, 35 * k, elevator)] if elevator else []
    tail = surface(
        "tail", Role.STABILISER, (760, 60), [(0, 0, 120 * k, 0), (200 * k, 0, 100 * k, 0)], controls=moves
    )
    turns = [control("fin", "rudder", 2, 130, 40, rudder)] if rudder else []
    fin = surface("fin", Role.FIN, (750, 80), [(0, 0, 130, 0), (130, 35, 90, 0)], controls=turns)
    return plan(wing, tail, fin)
