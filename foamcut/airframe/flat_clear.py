"""Where controls may begin and end: clear of bodies, of fins and rudders, of the deck, of each other.

mm, degrees.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from foamcut.airframe.body_profile import Profile
from foamcut.airframe.flat_base import base_of
from foamcut.airframe.flat_controls import GAP_MM, MARGIN_DEG, Gap, Hinged, gaps
from foamcut.airframe.flat_sheet import Sheet, sheets
from foamcut.airframe.values import Build, Control, Inputs, Role, Surface
from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.units import decimal_text

#: the least that has to be left of a control along the span
LEAST_MM = 20.0
#: the share of the chord that a control usually takes (common practice, no source)
USUAL_SHARE = (0.15, 0.50)

Span = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cleared:
    """The controls of a surface as cut, and what was said of their places."""

    controls: tuple[Hinged, ...] = ()
    findings: tuple[Finding, ...] = ()
    refusals: tuple[Refusal, ...] = ()

    def of(self, sheet: Sheet) -> tuple[Hinged, ...]:
        """Those on one sheet, from its inner end out."""
        return tuple(one for one in self.controls if sheet.holds((one.from_mm + one.to_mm) / 2))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Limit:
    """From where out a control may begin, and why."""

    from_mm: float
    words: str


def cleared(surface: Surface, inputs: Inputs) -> Cleared:
    """The controls of a surface whose own numbers have been looked at, each begun where it swings freely."""
    made: list[Hinged] = []
    findings: list[Finding] = []
    refusals: list[Refusal] = []
    several = sheets(surface)
    behind = -math.inf
    for control in sorted(surface.controls, key=lambda one: (one.from_mm, one.key)):
        sheet = next(one for one in several if one.holds((control.from_mm + control.to_mm) / 2))
        limit = max(_limits(sheet, control, inputs, behind), key=lambda one: one.from_mm)
        first = max(control.from_mm, limit.from_mm)
        last = control.to_mm
        if sheet.tilts_deg[1] != 0:
            joint = _over_joint(sheet, control, -sheet.tilts_deg[1])
            last = min(last, sheet.stations_mm[-1] - GAP_MM - joint)
        if last - first < LEAST_MM:
            refusals.append(_no_room(control, limit, last - first))
            continue
        one = hinged(sheet, control, first, last)
        made.append(one)
        behind = last + GAP_MM
        findings += [*_moved(one, limit), *_out_of_the_ordinary(sheet, one)]
    for sheet in several:
        own = [one for one in made if sheet.holds((one.from_mm + one.to_mm) / 2)]
        findings += [_strip_off(gap, own) for gap in gaps(sheet, own, inner_end(sheet, inputs)) if gap.strip]
    return Cleared(controls=tuple(made), findings=tuple(findings), refusals=tuple(refusals))


def hinged(sheet: Sheet, control: Control, first: float, last: float) -> Hinged:
    """A control with its hinge line as drawn, begun and ended elsewhere on that line."""
    drawn = [sheet.trailing(s) - control.chord_mm for s in (control.from_mm, control.to_mm)]
    line = Hinged(
        control=control,
        from_mm=control.from_mm,
        to_mm=control.to_mm,
        hinge_mm=(drawn[0], drawn[1]),
    )
    return Hinged(control=control, from_mm=first, to_mm=last, hinge_mm=(line.hinge(first), line.hinge(last)))


def inner_end(sheet: Sheet, inputs: Inputs) -> float:
    """s of the inner end of a sheet; of a fin that of its base behind the root, where it stands on one."""
    base = base_of(sheet.surface, inputs) if sheet.fin else None
    if base is None:
        return sheet.ends_mm[0]
    x, z = sheet.surface.at
    return base.top(x + sheet.surface.stations[0].chord_mm) - z


def _limits(sheet: Sheet, control: Control, inputs: Inputs, behind: float) -> Iterator[_Limit]:
    yield _Limit(from_mm=behind, words="the control before it and the end gap")
    if sheet.fin:
        yield from _over_base(sheet, control, inputs)
        return
    if sheet.stations_mm[0] == 0 or sheet.tilts_deg[0] != 0:
        reach = sheet.stations_mm[0] + GAP_MM / 2 + _over_joint(sheet, control, sheet.tilts_deg[0])
        yield _Limit(from_mm=reach, words="the joint that its panel begins with, both ways of its throw")
    if sheet.stations_mm[0] == 0:
        yield from _beside_bodies(sheet, control, inputs)
        yield from _beside_fins(sheet, control, inputs)


def _over_joint(sheet: Sheet, control: Control, lean_deg: float) -> float:
    """How far off a joint that leans a control ends, so that it swings without passing the joint's plane.

    At a height n over the panel the plane has come n tan(lean) nearer; up the control reaches as high as it
    swings over its board, down as low as it swings.
    """
    swing = control.chord_mm * math.sin(math.radians(control.throw_deg))
    height = swing + sheet.thickness_mm if lean_deg > 0 else swing
    return height * math.tan(math.radians(abs(lean_deg)))


def _over_base(sheet: Sheet, control: Control, inputs: Inputs) -> Iterator[_Limit]:
    base = base_of(sheet.surface, inputs)
    if base is None:
        yield _Limit(from_mm=sheet.ends_mm[0], words="the root")
        return
    x, z = sheet.surface.at
    rear = x + sheet.trailing(control.from_mm)
    yield _Limit(
        from_mm=base.highest(rear - control.chord_mm, rear) - z + GAP_MM,
        words=f"{base.words} and the end gap",
    )


def _beside_bodies(sheet: Sheet, control: Control, inputs: Inputs) -> Iterator[_Limit]:
    for body in inputs.bodies:
        half, profile = body.width_mm / 2, Profile(body=body)
        xs, zs = _swept(sheet, control, half)
        x0, x1 = max(xs[0], profile.front_mm), min(xs[1], profile.rear_mm)
        if x0 >= x1 or half >= sheet.stations_mm[-1]:
            continue
        tops = max(profile.top(x0), profile.top(x1))
        bottoms = min(profile.bottom(x0), profile.bottom(x1))
        if zs[0] < tops and bottoms < zs[1]:
            words = f'half the width of "{body.name}", {decimal_text(half)} mm, and the end gap'
            yield _Limit(from_mm=half / sheet.panels[0].out[1] + GAP_MM, words=words)


def _beside_fins(sheet: Sheet, control: Control, inputs: Inputs) -> Iterator[_Limit]:
    xs, zs = _swept(sheet, control, control.from_mm)
    for fin in inputs.surfaces:
        if fin.role is not Role.FIN or fin.build is not Build.FLAT:
            continue
        (x, z), high = fin.at, fin.at[1] + fin.half_span_mm
        base = base_of(fin, inputs)
        low = z if base is None else min(base.top(x), base.top(x + fin.stations[0].chord_mm))
        half = fin.material.thickness_mm / 2 + GAP_MM
        if _meet(xs, (x, x + fin.stations[0].chord_mm)) and _meet(zs, (low, high)):
            yield _Limit(from_mm=half, words=f'the board of "{fin.name}" and the end gap')
        for rudder in fin.controls:
            swing = rudder.chord_mm * math.sin(math.radians(rudder.throw_deg))
            tail = x + sheets(fin)[0].trailing(rudder.from_mm)
            if _meet(xs, (tail - rudder.chord_mm, tail)) and _meet(
                zs, (z + rudder.from_mm, z + rudder.to_mm)
            ):
                words = f'what the {rudder.word} of "{fin.name}" swings, and the end gap'
                yield _Limit(from_mm=half + swing, words=words)


def _swept(sheet: Sheet, control: Control, s_mm: float) -> tuple[Span, Span]:
    """From where to where along the model, and up, a control reaches at a place along the span."""
    panel, t = sheet.panels[0], sheet.thickness_mm
    s = min(max(s_mm, control.from_mm), control.to_mm)
    rear = sheet.trailing(s)
    swing = control.chord_mm * math.sin(math.radians(control.throw_deg))
    corners = [
        panel.point(c, s_mm, n)
        for c, n in (
            (rear - control.chord_mm, 0.0),
            (rear - control.chord_mm, t),
            (rear, -swing),
            (rear, t + swing),
        )
    ]
    xs, zs = [x for x, _, _ in corners], [z for _, _, z in corners]
    return (min(xs), max(xs)), (min(zs), max(zs))


def _meet(one: Span, other: Span) -> bool:
    return one[0] < other[1] and other[0] < one[1]


def _no_room(control: Control, limit: _Limit, left: float) -> Refusal:
    text = (
        f"the {control.word} has to begin {decimal_text(limit.from_mm)} mm out, past {limit.words}, which"
        f" leaves {decimal_text(max(left, 0.0))} mm of it; {decimal_text(LEAST_MM)} mm is the least: let it"
        " reach farther out"
    )
    return Refusal(key=f"{control.key}.to", text=text)


def _moved(one: Hinged, limit: _Limit) -> Iterator[Finding]:
    control = one.control
    if one.from_mm - control.from_mm <= GAP_MM:  # an end gap is no news
        return
    yield Finding(
        code="control-place",
        level=Level.NOTE,
        where=f"{control.key}.from",
        text=f"the {control.word} begins {decimal_text(one.from_mm)} mm out instead of"
        f" {decimal_text(control.from_mm)} mm, to clear {limit.words}; what lies before it stays fixed",
        value=f"{decimal_text(control.from_mm)} mm",
        range=f"at least {decimal_text(one.from_mm)} mm",
        source="geometry of the numbers given",
        mend="let it begin there, or move what is in its way",
    )


def _out_of_the_ordinary(sheet: Sheet, one: Hinged) -> Iterator[Finding]:
    control, middle = one.control, (one.from_mm + one.to_mm) / 2
    chord = sheet.trailing(middle) - sheet.leading(middle)
    share = (sheet.trailing(middle) - one.hinge(middle)) / chord
    low, high = USUAL_SHARE
    if not low <= share <= high:
        yield Finding(
            code="control-place",
            level=Level.WARNING,
            where=f"{control.key}.chord",
            text=f"the {control.word} takes {decimal_text(100 * share)} % of the chord at its middle",
            value=f"{decimal_text(100 * share)} %",
            range=f"{decimal_text(100 * low)} to {decimal_text(100 * high)} %",
            source="common practice, no source",
            mend="make its chord smaller or larger",
        )
    if one.bevel_deg < control.throw_deg + MARGIN_DEG / 2:
        yield Finding(
            code="control-place",
            level=Level.WARNING,
            where=f"{control.key}.throw",
            text=f"the bevel of the {control.word} is {decimal_text(one.bevel_deg)} degrees, which lets it"
            f" swing no farther to that side; the throw is {decimal_text(control.throw_deg)} degrees",
            value=f"{decimal_text(control.throw_deg)} degrees",
            range=f"up to {decimal_text(one.bevel_deg - MARGIN_DEG)} degrees",
            source="geometry; the largest bevel is common practice, no source",
            mend="make the throw smaller, or bevel the fixed edge too",
        )


def _strip_off(gap: Gap, controls: Sequence[Hinged]) -> Finding:
    one = next(one for one in controls if one.control.key == gap.key)
    control, end = one.control, "inner" if gap.to_mm <= one.from_mm else "outer"
    return Finding(
        code="control-place",
        level=Level.NOTE,
        where=gap.key,
        text=f"what would be left beyond the {end} end of the {control.word} is narrower than two thicknesses"
        " of the board, and is cut away behind the hinge line",
        range="at least two thicknesses and the end gap",
        source="common practice, no source",
        mend="let the control reach the end, or end it farther off",
    )
