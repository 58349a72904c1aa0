"""Where along a wing it is judged, and what bears there: skins, strips of the spar, patches, doublers.

mm; s out from the root along the panels.  Joints are found on the parts as they are cut and as they stand.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from foamcut.airframe.planform import Panel, panel_at, panel_beside, panels
from foamcut.airframe.section_spar import spar_steps
from foamcut.airframe.values import Build, Surface
from foamcut.flat.assembled import Standing
from foamcut.flat.drawn import Hand
from foamcut.flat.way import Role
from foamcut.flight.values import Model

#: the half span is looked at in so many steps at least
STEPS = 16
#: ends nearer to each other than this are one joint: strips of panels at an angle end a little apart
_NEAR_MM = 8.0
#: so far beside a joint or the end of a strip it is over
_BESIDE_MM = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """A plate glued on the inner face of a lower skin, or a doubler of a flat wing, where boards are joined.

    `from_mm` and `to_mm` along the chord, aft of the root's leading edge; `stock` is the name of its sheet.
    """

    from_mm: float
    to_mm: float
    thickness_mm: float
    stock: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SkinJoint:
    """A place where the skin, or the board of a flat wing, is cut through, and what is glued over it."""

    s_mm: float
    patches: tuple[Patch, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Joints:
    """Joints of a wing's right half: `skin`; `strips` are (s, layer) with layer 1 the lowest.

    `breaks` are places between panels at an angle, where skin and spar both end; the root is not among them.
    """

    skin: tuple[SkinJoint, ...] = ()
    strips: tuple[tuple[float, int], ...] = ()
    breaks: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place that is judged: `layers` are the strips that run through, `skin` the joint of the skin there.

    `words` say where it is.
    """

    panel: Panel
    s_mm: float
    layers: tuple[int, ...]
    skin: SkinJoint | None = None
    words: str = ""


def joints_of(model: Model, surface: Surface, ends: Sequence[float] | None = None) -> Joints:
    """The joints of a wing as its parts are cut and stand; what is not among them runs through.

    `ends` are s of the joints between the skins of a folded wing; None: as the skins stand.
    """
    several = panels(surface)
    breaks = tuple(one.first.out_mm for one in several[1:] if abs(one.first_tilt_deg) > 1e-9)
    if surface.build is Build.FLAT:
        return Joints(skin=tuple(_board_joints(model, surface, breaks)), breaks=breaks)
    standing = [one for one in model.standing if _right(one)]
    patches = [one for one in standing if _named(one, f"{surface.name}-patch")]
    if ends is None:
        skins = [_reach(surface, one) for one in standing if _named(one, f"{surface.name}-skin")]
        ends = sorted({round(high, 3) for _, high in skins})[:-1]
    skin = [
        SkinJoint(s_mm=s, patches=tuple(_patches(surface, patches, s)))
        for s in _apart(ends)
        if not _near(s, breaks)
    ]
    return Joints(skin=tuple(skin), strips=tuple(_strip_joints(surface, standing, breaks)), breaks=breaks)


def _right(one: Standing) -> bool:
    return one.part.hand is not Hand.LEFT and one.part.place is not None


def _named(one: Standing, stem: str) -> bool:
    name = one.pair_name
    return name == stem or name.startswith(f"{stem}-")


def _near(s: float, others: tuple[float, ...] | list[float]) -> bool:
    return any(abs(s - other) <= _NEAR_MM for other in others)


def _apart(ends: Sequence[float]) -> Iterator[float]:
    """Of ends close together the first."""
    last = None
    for one in ends:
        if last is None or one - last > _NEAR_MM:
            yield one
            last = one


def _reach(surface: Surface, one: Standing) -> tuple[float, float]:
    """s of both ends of a skin, by the box that it stands in."""
    low, high = (panel_beside(surface, float(y))[1] for y in one.box[:, 1])
    return low, high


def _corners(surface: Surface, one: Standing) -> np.ndarray:
    """The corners of a flat part's drawn face in the coordinates of the panel under it, (n, 3): c, s, n."""
    place = one.part.place
    assert place is not None
    panel = panel_beside(surface, place.at[1])[0]
    rings = np.array(one.part.outline.rings()[0])
    points = np.array(place.at) + rings @ np.array([place.x, place.y])
    return np.array([panel.place((float(x), float(y), float(z))) for x, y, z in points])


def _strip_joints(
    surface: Surface, standing: list[Standing], breaks: tuple[float, ...]
) -> Iterator[tuple[float, int]]:
    """Ends of strips that lie neither at the root, at a break, nor where their layer ends."""
    spar = surface.spar
    if spar is None:
        return
    last = {layer: end for end, layer in spar_steps(surface)}
    found: dict[tuple[float, int], None] = {}
    for one in standing:
        if not _named(one, f"{surface.name}-spar"):
            continue
        corners = _corners(surface, one)
        top, thick = float(corners[:, 2].mean()), spar.material.thickness_mm
        layer = round((top - surface.material.thickness_mm) / thick)
        end = round(float(corners[:, 1].max()), 3)
        if layer in last and last[layer] - end > _NEAR_MM and not _near(end, breaks):
            found[end, layer] = None
    yield from sorted(found)


def _patches(surface: Surface, standing: list[Standing], s: float) -> Iterator[Patch]:
    for one in standing:
        corners = _corners(surface, one)
        if not corners[:, 1].min() < s < corners[:, 1].max():
            continue
        yield Patch(
            from_mm=round(float(corners[:, 0].min()), 6),
            to_mm=round(float(corners[:, 0].max()), 6),
            thickness_mm=one.part.thickness_mm,
            stock=one.part.stock,
        )


def _board_joints(model: Model, surface: Surface, breaks: tuple[float, ...]) -> Iterator[SkinJoint]:
    """Joints across the span of a flat wing's boards, with the doublers over them."""
    several = [one.piece for one in model.cuts if one.piece.part.hand is not Hand.LEFT]
    named = [one for one in several if one.part.name.startswith(f"{surface.name}-panel")]
    sections = [one for one in named if one.role is Role.SECTION]
    reaches = sorted(round(_span(one.outline.bounds, one.part.name, surface)[1], 3) for one in sections)
    # a board across the centre plane may be cut on the left alone: both sides count as the weaker one
    ends = sorted({abs(end) for end in reaches[:-1] if end < reaches[-1] - _NEAR_MM})
    for s in _apart(ends):
        if _near(s, breaks):
            continue
        over = []
        for one in named:
            low, high = _span(one.outline.bounds, one.part.name, surface)
            if one.role is Role.DOUBLER and (low < s < high or low < -s < high):
                x0, _, x1, _ = one.outline.bounds
                over.append(
                    Patch(from_mm=x0, to_mm=x1, thickness_mm=one.flat.thickness_mm, stock=one.flat.stock)
                )
        yield SkinJoint(s_mm=s, patches=tuple(over))


def _span(bounds: tuple[float, float, float, float], name: str, surface: Surface) -> tuple[float, float]:
    """s of a piece of a flat board: the board is drawn y out from its own inner end."""
    number = name.removesuffix("-right").rsplit("-", 1)[-1]
    tilted = [0.0, *(one.first.out_mm for one in panels(surface)[1:] if abs(one.first_tilt_deg) > 1e-9)]
    start = tilted[min(int(number), len(tilted)) - 1] if number.isdigit() else 0.0
    return bounds[1] + start, bounds[3] + start


def spots(surface: Surface, joints: Joints, from_mm: float) -> tuple[Spot, ...]:
    """Every place that is judged from a distance out to the tip, in order.

    A grid, stations, ends of strips (the thinner side), joints, and where a joiner ends (`from_mm`).
    """
    tip = surface.half_span_mm
    grid = [tip * i / STEPS for i in range(STEPS)]
    ends = [end + _BESIDE_MM for end, _ in spar_steps(surface)] if surface.spar is not None else []
    stations = [one.out_mm for one in surface.stations]
    plain = sorted({round(s, 6) for s in (from_mm, *grid, *ends, *stations) if from_mm <= s < tip})
    found = [_spot(surface, s) for s in plain]
    for joint in joints.skin:
        if from_mm <= joint.s_mm < tip:
            found.append(_spot(surface, joint.s_mm, skin=joint, words="at a joint of the skin, "))
    for s, layer in joints.strips:
        if from_mm <= s < tip:
            found.append(_spot(surface, s, without=layer, words="at a joint of a strip, "))
    return tuple(sorted(found, key=lambda one: one.s_mm))


def _spot(
    surface: Surface, s: float, *, skin: SkinJoint | None = None, without: int = 0, words: str = ""
) -> Spot:
    panel = panel_at(surface, s)
    tip = surface.half_span_mm
    steps = spar_steps(surface) if surface.spar is not None and surface.build is Build.FOLDED else ()
    layers = tuple(layer for end, layer in steps if (s < end or end >= tip) and layer != without)
    return Spot(panel=panel, s_mm=s, layers=layers, skin=skin, words=words)
