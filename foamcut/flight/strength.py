"""Bending of the wing at the load factor: spar, paper skins, joiner.  mm and MPa inside, moments N m outside.

How it is worked out is said in `foamcut.flight.strength_load` (lift along the span), `strength_section` and
`strength_wing` (the section as a beam) and `strength_joiner` (across the root).  Stabilisers and fins are
not judged, nor lift downwards, landings, twist and shear.
"""

from collections.abc import Iterator

from foamcut.airframe.section_refusals import section_refusals
from foamcut.airframe.values import Role
from foamcut.findings import Finding
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Figures, Group, Loaded, Number
from foamcut.flight.lift_values import GRAVITY_M_S2
from foamcut.flight.planform import Planform
from foamcut.flight.strength_advice import (
    WANTED,
    Loading,
    bending_finding,
    not_counted,
    soft_finding,
    where_words,
)
from foamcut.flight.strength_joiner import joiner_margin, joiner_stress_mpa, plates, reach_of
from foamcut.flight.strength_load import Load
from foamcut.flight.strength_places import joints_of
from foamcut.flight.strength_root import DEPTHS, SHARE, gaps, joiner_finding, short_finding, tape_findings
from foamcut.flight.strength_stuff import ROWS, Kind, Level
from foamcut.flight.strength_tape import tape_pull_n
from foamcut.flight.strength_wing import Wing, Worst, at_spot, tip_deflection_mm, worst
from foamcut.flight.values import Model, Setup
from foamcut.units import mm_text

_LOAD_SOURCE = (
    "lift by the mean of ellipse and chords (O. Schrenk, NACA TM 948, 1940); relief by the wing's own mass is"
    " not taken off; upward load only"
)
_BEAM_SOURCE = (
    "papers of skins and strips as a beam, foam by its modulus; wrinkling of paper by Hoff and Mautner, 1945"
    " (from memory); openings, torsion and landings are not looked at"
)
_MARGIN_USUAL = f"{WANTED} or more: 14 CFR 23.2230, for full size"


def strength_figures(model: Model, setup: Setup, plan: Planform, now: Loaded) -> Figures:
    """Root moment, stresses with their margin, joiner length and height, and advice on the first wing.

    Several wings share the lift by their areas; a stabiliser is taken to carry none.  Empty where there is
    nothing to carry, or where the wing has no sections that can be built.
    """
    wing = _wing(model, setup, plan, now)
    if wing is None:
        return Figures()
    loading = _loading(setup)
    least = worst(wing)
    numbers = [*_loads(wing, loading, now), *_root_numbers(wing, loading)]
    if least is not None:
        numbers += _bending_numbers(wing, least, loading)
    return Figures(numbers=tuple(numbers), findings=tuple(_findings(wing, model, least, loading)))


def _loading(setup: Setup) -> Loading:
    given = setup.wishes.load_factor
    return Loading(
        factor=ASSUMED["load_factor"].value if given is None else given,
        key="" if given is None else f"{setup.wishes.key}.load_factor",
    )


def _wing(model: Model, setup: Setup, plan: Planform, now: Loaded) -> Wing | None:
    surface = plan.wing.surface
    wings = [plan.wing, *(one for one in plan.others if one.surface.role is Role.WING)]
    area = sum(one.area_m2 for one in wings)
    share = plan.wing.area_m2 / area if area > 0 else 1.0
    factor = _loading(setup).factor
    load = Load(
        lift_n=share * factor * now.mass_g / 1000 * GRAVITY_M_S2,
        stations=tuple((one.out_mm, one.chord_mm) for one in surface.stations),
    )
    if load.half_mm <= 0 or load.area_mm2 <= 0 or load.lift_n <= 0 or section_refusals(surface):
        return None
    joined = surface.joiner is not None and bool(plates(surface))
    return Wing(
        surface=surface,
        load=load,
        stocks=model.stocks,
        joints=joints_of(model, surface),
        from_mm=surface.joiner.length_mm / 2 if surface.joiner is not None and joined else 0.0,
        mass_g=now.mass_g,
        glue_g_mm=(ASSUMED["glue"].value if setup.wishes.glue_g_m is None else setup.wishes.glue_g_m) / 1000,
        inputs=model.inputs,
    )


def _loads(wing: Wing, loading: Loading, now: Loaded) -> Iterator[Number]:
    row, taken = ASSUMED["load_factor"], loading.assumed
    yield Number(
        name="load_factor",
        title="load factor that the wing is to bear",
        value=loading.factor,
        unit="",
        group=Group.STRENGTH,
        low=None if loading.key else row.low,
        high=None if loading.key else row.high,
        source=row.source if taken else "the design",
        assumed=taken,
    )
    moment = wing.load.moment_n_mm(0.0) / 1000
    yield Number(
        name="root_moment",
        title="bending moment at the root",
        value=moment,
        unit="N m",
        group=Group.STRENGTH,
        low=moment * now.low_g / now.mass_g,
        high=moment * now.high_g / now.mass_g,
        source=_LOAD_SOURCE,
        assumed=taken,
    )


def _bending_numbers(wing: Wing, least: Worst, loading: Loading) -> Iterator[Number]:
    rows = (*loading.assumed, *_rows(wing))
    stresses, margins = [], []
    for level in (Level.LOW, Level.HIGH):
        made = at_spot(wing, least.spot, level)
        stresses.append(abs((made or least).stress.stress_mpa))
        margins.append((made or least).stress.margin)
    stress = least.stress
    how = "pressed" if stress.stress_mpa > 0 else "pulled"
    limit = "wrinkling" if stress.wrinkles else "strength"
    yield Number(
        name="wing_stress",
        title=f"greatest stress in the {stress.stuff.word} of the wing, {how}, {where_words(least.spot)}",
        value=abs(stress.stress_mpa),
        unit="MPa",
        group=Group.STRENGTH,
        low=min(stresses),
        high=max(stresses),
        source=_BEAM_SOURCE,
        assumed=rows,
    )
    yield Number(
        name="wing_margin",
        title=f"margin of the wing's {stress.stuff.word}: {limit} over stress",
        value=stress.margin,
        unit="",
        group=Group.STRENGTH,
        low=min(*margins, stress.margin),
        high=max(*margins, stress.margin),
        usual=_MARGIN_USUAL,
        source=_BEAM_SOURCE,
        assumed=rows,
    )
    bent = {level: tip_deflection_mm(wing, level) for level in Level}
    usual = bent[Level.USUAL]
    if usual is not None:
        yield Number(
            name="tip_deflection",
            title=f"rise of the tip by bending at load factor {loading.factor:g}",
            value=usual,
            unit="mm",
            group=Group.STRENGTH,
            low=bent[Level.HIGH],
            high=bent[Level.LOW],
            source=_BEAM_SOURCE + "; joints, shear and creep of the foam are left out",
            assumed=rows,
        )


def _root_numbers(wing: Wing, loading: Loading) -> Iterator[Number]:
    """Joiner and tape over the gap between the halves, where there is one."""
    surface, moment = wing.surface, wing.load.moment_n_mm(0.0)
    if plates(surface) or 0.0 in gaps(wing):
        yield Number(
            name="tape_pull",
            title="pull of tape under the root, when it alone carries the wing",
            value=tape_pull_n(wing, 0.0),
            unit="N",
            group=Group.STRENGTH,
            source="root moment over the height of the wing at the spar",
            assumed=loading.assumed,
        )
    stress = joiner_stress_mpa(plates(surface), moment)
    reach = reach_of(surface)
    if stress is None or reach is None:
        return
    height = mm_text(min(one.height_mm for one in plates(surface)))
    source = "plates on edge carry the whole root moment, skins and tape none; spar's and skins' own sizes"
    yield Number(
        name="joiner_stress",
        title=f"bending stress in the joiner alone, {height} high",
        value=stress,
        unit="MPa",
        group=Group.STRENGTH,
        source=source,
        assumed=loading.assumed,
    )
    margins = {level: joiner_margin(surface, wing.stocks, moment, level) for level in Level}
    usual = margins[Level.USUAL]
    if usual is not None:
        yield Number(
            name="joiner_margin",
            title="margin of the joiner alone: strength over stress",
            value=usual,
            unit="",
            group=Group.STRENGTH,
            low=margins[Level.LOW],
            high=margins[Level.HIGH],
            usual=_MARGIN_USUAL,
            source=source,
            assumed=(*loading.assumed, "plywood_strength"),
        )
    yield Number(
        name="joiner_reach",
        title="reach of the joiner into each half, share of the half span",
        value=100 * reach.share,
        unit="%",
        group=Group.STRENGTH,
        usual=f"{100 * SHARE:g} %, or {DEPTHS:g} depths of the wing: common practice, opinions differ",
        source="the sizes given",
    )


def _findings(wing: Wing, model: Model, least: Worst | None, loading: Loading) -> Iterator[Finding]:
    yield from not_counted(wing)
    several = [bending_finding(wing, least, loading)] if least is not None else []
    several += [soft_finding(wing, tip_deflection_mm(wing), loading)]
    several += [joiner_finding(wing, model.hardware, loading), short_finding(wing)]
    yield from (one for one in several if one is not None)
    yield from tape_findings(wing, model.inputs, model.hardware, loading)


def _rows(wing: Wing) -> tuple[str, ...]:
    """The rows of usual values that went into the section."""
    kinds: list[Kind] = [wing.kind, *([wing.spar_kind] if wing.spar_kind else [])]
    return tuple(dict.fromkeys(row for kind in kinds for row in ROWS[kind]))
