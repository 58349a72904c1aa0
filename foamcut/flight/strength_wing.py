"""The wing as a beam: stiffness and stress all along, the place where its margin is least, how far it bends.

mm, N, MPa.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import pairwise

from foamcut.airframe.folded_controls import hinged
from foamcut.airframe.planform import Panel
from foamcut.airframe.section import Section, section_at
from foamcut.airframe.section_spar import spar_front, spar_slope, strip_width
from foamcut.airframe.values import Build, Inputs, Material, Surface
from foamcut.flat.outline import Point
from foamcut.flat.stock import Stock
from foamcut.flight.strength_load import Load
from foamcut.flight.strength_places import Joints, Patch, Spot, spots
from foamcut.flight.strength_section import Band, Beam, Stress, sheet_bands, up_to
from foamcut.flight.strength_stuff import Kind, Level, kind_of


@dataclass(frozen=True, kw_only=True, eq=False)
class Wing:
    """A wing under a load.  `boards`: of how many boards on each other a flat wing is made.

    `from_mm` is where the joiner of both halves ends: there the spar and the skins bear all; 0 without one.
    `mass_g` is that of the model, `glue_g_mm` of a bead: what a change weighs is carried as well.
    """

    surface: Surface
    load: Load
    stocks: Mapping[str, Stock]
    joints: Joints = field(default_factory=Joints)
    from_mm: float = 0.0
    boards: int = 1
    mass_g: float = 0.0
    glue_g_mm: float = 0.0
    inputs: Inputs = field(default_factory=Inputs)

    @property
    def kind(self) -> Kind:
        """What its skins are made of."""
        return kind_of(self.surface.material, self.stocks)

    @property
    def spar_kind(self) -> Kind | None:
        """What its spar is made of; None without one."""
        spar = self.surface.spar if self.surface.build is Build.FOLDED else None
        return kind_of(spar.material, self.stocks) if spar is not None else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Worst:
    """The place where the margin is least: its moment and stress."""

    spot: Spot
    moment_n_mm: float
    stress: Stress


def beam_at(wing: Wing, spot: Spot, level: Level) -> Beam | None:
    """The section at a place as a beam; None where nothing there bears.

    At a joint of the skin the lower one is pulled apart and not counted, the upper one is pressed together;
    a flat board is not counted at all there, but what is glued over it.  Strips of a swept spar count by the
    cube of the cosine of their sweep (a fibre at an angle, from memory).  Openings in skins, slots of motor
    mounts, tape and glue are left out.
    """
    if wing.surface.build is Build.FLAT:
        return Beam.of(_flat_bands(wing, spot, level))
    return Beam.of(_folded_bands(wing, spot, level))


def _flat_bands(wing: Wing, spot: Spot, level: Level) -> list[Band]:
    t = wing.surface.material.thickness_mm
    whole = range(wing.boards)
    if spot.skin is not None and wing.boards == 1:
        return [band for patch in spot.skin.patches for band in _patch_bands(wing, patch, level, 0.0)]
    if spot.skin is not None:  # boards glued under it have their joints elsewhere
        whole = range(1, wing.boards)
    leading, trailing = spot.panel.leading(spot.s_mm), _rear(wing.surface, spot)
    return [
        band
        for i in whole
        for band in sheet_bands(
            ((leading, i * t), (trailing, i * t)),
            ((leading, (i + 1) * t), (trailing, (i + 1) * t)),
            t,
            wing.kind,
            level,
        )
    ]


def _folded_bands(wing: Wing, spot: Spot, level: Level) -> list[Band]:
    surface, s = wing.surface, spot.s_mm
    section, t = _section(surface, spot.panel, s), surface.material.thickness_mm
    rear = _rear(surface, spot)
    upper = (up_to(section.upper_outer, rear), up_to(section.upper_inner, rear))
    found = sheet_bands(*upper, t, wing.kind, level)
    if spot.skin is None:
        low, high = section.lower_mm[0], min(section.lower_mm[1], rear)
        found += sheet_bands(((low, 0.0), (high, 0.0)), ((low, t), (high, t)), t, wing.kind, level)
    else:
        for patch in spot.skin.patches:
            found += _patch_bands(wing, patch, level, t)
    return [*found, *_strip_bands(wing, spot, level)]


@lru_cache(maxsize=256)
def _section(surface: Surface, panel: Panel, s: float) -> Section:
    """Kept, because a bent section takes its time and every level of the rows asks for it."""
    return section_at(surface, panel, s)


def _strip_bands(wing: Wing, spot: Spot, level: Level) -> Iterator[Band]:
    surface, spar = wing.surface, wing.surface.spar
    if spar is None:
        return
    foot, each = surface.material.thickness_mm, spar.material.thickness_mm
    slope = spar_slope(surface, spot.panel)
    front = spar_front(surface, spot.panel, spot.s_mm)
    rear = front + strip_width(surface, spot.s_mm) / (1 + slope * slope) ** 1.5
    kind = kind_of(spar.material, wing.stocks)
    for layer in spot.layers:
        low, high = foot + (layer - 1) * each, foot + layer * each
        yield from sheet_bands(((front, low), (rear, low)), ((front, high), (rear, high)), each, kind, level)


def _patch_bands(wing: Wing, patch: Patch, level: Level, foot: float) -> list[Band]:
    low, high = foot, foot + patch.thickness_mm
    sheet = Material(name=patch.stock, thickness_mm=patch.thickness_mm, boards_mm=(), fit_mm=0.0)
    lines: tuple[tuple[Point, Point], tuple[Point, Point]] = (
        ((patch.from_mm, low), (patch.to_mm, low)),
        ((patch.from_mm, high), (patch.to_mm, high)),
    )
    return sheet_bands(*lines, patch.thickness_mm, kind_of(sheet, wing.stocks), level)


def _rear(surface: Surface, spot: Spot) -> float:
    """c where what bears ends: the trailing edge, or a hinge line."""
    rear = spot.panel.trailing(spot.s_mm)
    for control in surface.controls:
        if control.from_mm <= spot.s_mm <= control.to_mm:
            rear = min(rear, hinged(spot.panel, control).hinge(spot.s_mm))
    return rear


def worst(wing: Wing, level: Level = Level.USUAL) -> Worst | None:
    """The place where the margin is least, nearest to the root of those alike; None: nothing bears."""
    least: Worst | None = None
    for spot in spots(wing.surface, wing.joints, wing.from_mm):
        made = at_spot(wing, spot, level)
        if made is None:
            continue
        if least is None or round(made.stress.margin, 6) < round(least.stress.margin, 6):
            least = made
    return least


def at_spot(wing: Wing, spot: Spot, level: Level) -> Worst | None:
    """Moment and stress at one place; None where nothing bears or nothing is borne."""
    beam, moment = beam_at(wing, spot, level), wing.load.moment_n_mm(spot.s_mm)
    stress = beam.worst(moment) if beam is not None else None
    return Worst(spot=spot, moment_n_mm=moment, stress=stress) if stress is not None else None


def tip_deflection_mm(wing: Wing, level: Level = Level.USUAL) -> float | None:
    """How far the tip bends up under the load, the root held; None where nothing bears somewhere.

    Method: the sum of moment over stiffness times the way to the tip, by Simpson's rule between places,
    stiffness straight between them; small angles.  Joints, the joiner, shear of the foam and its creep under
    a lasting load are left out: it bends more than this.
    """
    tip = wing.surface.half_span_mm
    along = [one for one in spots(wing.surface, Joints(), 0.0) if not one.words]
    end = replace(along[-1], s_mm=tip, panel=along[-1].panel)
    found = [(one.s_mm, beam_at(wing, one, level)) for one in (*along, end)]
    rows = [(s, beam.stiffness_n_mm2) for s, beam in found if beam is not None]
    if len(rows) < len(found):
        return None
    total = 0.0
    for (a, stiff_a), (b, stiff_b) in pairwise(rows):
        at = ((a, stiff_a, 1.0), ((a + b) / 2, (stiff_a + stiff_b) / 2, 4.0), (b, stiff_b, 1.0))
        total += (b - a) / 6 * sum(k * wing.load.moment_n_mm(s) * (tip - s) / stiff for s, stiff, k in at)
    return total
