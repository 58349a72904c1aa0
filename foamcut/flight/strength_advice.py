"""Advice on the strength of a wing: what does not bear, and what would, worked out again with the change."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from foamcut.airframe.section_spar import spar_of, spar_steps
from foamcut.airframe.values import Build, Spar, Surface
from foamcut.findings import Finding, Level
from foamcut.flight.strength_built import rebuilt
from foamcut.flight.strength_changed import boards_g, changed, heavier
from foamcut.flight.strength_places import STEPS, Spot, spots
from foamcut.flight.strength_stuff import Kind
from foamcut.flight.strength_stuff import Level as Rows
from foamcut.flight.strength_tape import tape_pull_n, tape_width_mm, tape_words
from foamcut.flight.strength_wing import Wing, Worst, at_spot, tip_deflection_mm, worst
from foamcut.units import decimal_text, mm_text

#: what is borne over the greatest load expected: 14 CFR 23.2230 (read as quoted), for full size
WANTED = 1.5
WANTED_SOURCE = "ultimate over limit load, 14 CFR 23.2230, for full size"
#: a tip that bends up by more of the half span is told of (common practice, no source)
SOFT = 0.2
#: so many strips more are tried, and spars so many times as wide
MORE, _WIDER = (1, 2, 3), (1.25, 1.5, 2.0, 2.5, 3.0)
_GRID_MM = 10.0
#: what helps by less of what is lacking is not told
_LEAST_SHARE = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Loading:
    """The load factor that is asked for, and the key that gives it, empty where it is assumed."""

    factor: float
    key: str

    @property
    def assumed(self) -> tuple[str, ...]:
        """The row of usual values that it comes from."""
        return () if self.key else ("load_factor",)


def where_words(spot: Spot) -> str:
    """Where along the wing a place is."""
    return spot.words + ("at the root" if spot.s_mm == 0 else f"{decimal_text(spot.s_mm)} mm out")


def margin_text(value: float) -> str:
    """A margin, rounded down."""
    return decimal_text(math.floor(value * 100 + 1e-6) / 100, 2)


def value_text(margin: float) -> str:
    """A margin that is not enough, which is never told as 0."""
    return "under 0.01" if margin < 0.01 else margin_text(margin)


def factor_words(borne: float) -> str:
    """Which load factor is borne, which is never told as 0."""
    return "less than load factor 0.1" if borne < 0.1 else f"about load factor {decimal_text(borne)}"


def _lighter(wing: Wing, loading: Loading, share: float) -> str:
    """The model that the wing as it is would carry, at the share of its load; nothing without its mass."""
    most_g = math.floor(wing.mass_g * share)
    if wing.mass_g <= 0:
        return "a lighter model"
    what = f"of {most_g} g at most" if most_g >= 1 else "of less than 1 g"
    return (
        f"as it is this wing suits a model {what} at load factor {decimal_text(loading.factor)}, not one of"
        f" {decimal_text(wing.mass_g, 0)} g: look whether that mass is meant"
    )


def bending_finding(wing: Wing, found: Worst, loading: Loading) -> Finding | None:
    """What is said of a wing whose margin is less than wanted."""
    margin = found.stress.margin
    if margin >= WANTED:
        return None
    borne = loading.factor * margin
    strongest = at_spot(wing, found.spot, Rows.HIGH)
    hopeless = strongest is not None and strongest.stress.margin * loading.factor < 1
    level = Level.STOP if hopeless else Level.WARNING if margin < 1 else Level.NOTE
    how = "pressed" if found.stress.stress_mpa > 0 else "pulled"
    if found.stress.wrinkles:
        how = "pressed until it wrinkles"
    surface = wing.surface
    spar = surface.spar if surface.build is Build.FOLDED else None
    return Finding(
        code="wing-bending",
        level=level,
        where=spar.key if spar is not None else surface.key,
        text=f"{where_words(found.spot)} the {found.stress.stuff.word} of the wing has"
        f" {decimal_text(abs(found.stress.stress_mpa))} MPa at load factor {decimal_text(loading.factor)} and"
        f" bears about {decimal_text(found.stress.limit_mpa)} MPa {how}:"
        f" {factor_words(borne)} is borne",
        value=f"margin {value_text(margin)}",
        range=f"{decimal_text(WANTED)} or more",
        source=WANTED_SOURCE,
        mend=_mend(wing, found, borne) or _lighter(wing, loading, margin / WANTED),
    )


def _mend(wing: Wing, found: Worst, borne: float) -> str:
    flat = wing.surface.build is Build.FLAT
    ways = list(_two_boards(wing)) if flat else _stronger(wing, found)
    if found.spot.skin is not None and not flat:
        ways.insert(0, tape_words(tape_width_mm(tape_pull_n(wing, found.spot.s_mm), WANTED), "joint"))
    lighter = f"or hold turns and pull-outs under load factor {decimal_text(math.floor(borne * 10) / 10)}"
    return ", or ".join(ways[:3]) + (f"; {lighter}" if ways else lighter.removeprefix("or ")) * (borne > 1)


def _stronger(wing: Wing, found: Worst) -> list[str]:
    """More strips, a wider spar: the first of each that is enough, else the best and how far it helps."""
    ways = list(_spars(wing, found))
    enough = [f"{words} margin {margin_text(margin)}" for margin, words in ways if margin >= WANTED]
    if enough or not ways:
        return enough
    margin, words = max(ways, key=lambda way: round(way[0], 6))
    percent = math.floor(round(100 * _share_of(margin, found), 3))
    return [f"{words} only margin {margin_text(margin)}, {percent} % of what is lacking"]


def _share_of(margin: float, found: Worst) -> float:
    """How much of what is lacking a margin makes up for."""
    return (margin - found.stress.margin) / (WANTED - found.stress.margin)


def _spars(wing: Wing, found: Worst) -> Iterator[tuple[float, str]]:
    """Margins, and the spars that give them."""
    spar = spar_of(wing.surface)
    more = [replace(spar, layers=spar.layers + count) for count in MORE]
    for one, margin in _first_enough(wing, more, found):
        count = one.layers - spar.layers
        words = "one layer" if count == 1 else f"{count} layers"
        yield margin, f"a spar {words} higher gives"
    wider = [replace(spar, width_mm=5.0 * math.ceil(spar.width_mm * by / 5.0)) for by in _WIDER]
    for one, margin in _first_enough(wing, wider, found):
        apart = one.width_mm - spar.width_mm
        yield margin, f"a spar {mm_text(apart)} wider gives"


def _first_enough(wing: Wing, several: list[Spar], found: Worst) -> Iterator[tuple[Spar, float]]:
    """The first spar that gives the margin that is wanted; where none does, the last that can be built.

    Whether it may be enough is asked at the place that is worst now, then of the whole wing roughly, before
    the wing is built anew, which takes its time.
    """
    last: Spar | None = None
    near = 0.0
    for one in several:
        tried = changed(wing, replace(wing.surface, spar=one))
        if tried is None:
            break
        last, near = one, _margin_near(tried, found.spot)
        if near < WANTED or _margin_of(wing, one, roughly=True) < WANTED:
            continue
        if (margin := _margin_of(wing, one)) >= WANTED:
            yield one, margin
            return
    if last is None or _share_of(near, found) < _LEAST_SHARE:
        return
    margin = _margin_of(wing, last, roughly=True)
    if _share_of(margin, found) >= _LEAST_SHARE:
        yield last, margin


def _margin_of(wing: Wing, spar: Spar, *, roughly: bool = False) -> float:
    """The margin of the wing rebuilt with another spar; 0 where it cannot be."""
    made = rebuilt(wing, replace(wing.surface, spar=spar), roughly=roughly)
    found = worst(made) if made is not None else None
    return found.stress.margin if found is not None else 0.0


def _margin_near(wing: Wing, spot: Spot) -> float:
    """The margin at a place, with the strips that the changed spar has there."""
    steps = spar_steps(wing.surface)
    layers = tuple(layer for end, layer in steps if spot.s_mm < end or end >= wing.surface.half_span_mm)
    made = at_spot(wing, replace(spot, layers=layers), Rows.USUAL)
    return made.stress.margin if made is not None else 0.0


def _two_boards(wing: Wing) -> Iterator[str]:
    """A second board glued under the inner part of a flat wing, as far out as it is needed."""
    for boards in (2, 3):
        loaded = heavier(wing, boards_g(wing, boards - 1))
        made = worst(replace(loaded, boards=wing.boards + boards - 1))
        if made is None or (made.stress.margin < WANTED and boards == 2):
            continue
        out = _needed_out(loaded)
        words, give = ("a second board", "gives") if boards == 2 else ("two more boards", "give")
        yield (
            f"{words} of the whole chord glued under it, joints elsewhere, to {mm_text(out, 0)} out from the"
            f" root, {give} margin {margin_text(made.stress.margin)}"
        )
        return


def _needed_out(wing: Wing) -> float:
    """How far out the margin is less than wanted, in full cm."""
    far = 0.0
    for spot in spots(wing.surface, wing.joints, wing.from_mm):
        made = at_spot(wing, spot, Rows.USUAL)
        if made is not None and made.stress.margin < WANTED:
            far = spot.s_mm
    step = wing.surface.half_span_mm / STEPS
    return min(_GRID_MM * math.ceil((far + step) / _GRID_MM), wing.surface.half_span_mm)


def soft_finding(wing: Wing, bent_mm: float | None, loading: Loading) -> Finding | None:
    """What is said of a wing whose tip bends up far: it twists and flutters sooner, and turns less well."""
    surface = wing.surface
    most = SOFT * surface.half_span_mm
    if bent_mm is None or bent_mm <= most:
        return None
    ways = list(_stiffer(wing, most))
    return Finding(
        code="wing-bending",
        level=Level.WARNING if bent_mm > 2 * most else Level.NOTE,
        where=surface.spar.key if surface.spar and surface.build is Build.FOLDED else surface.key,
        text=f"at load factor {decimal_text(loading.factor)} the tip bends up by"
        f" {_bent_words(surface, bent_mm)}"
        + (": more than this reckoning is made for" if bent_mm > 2 * most else ""),
        value=mm_text(bent_mm, 0) if bent_mm <= surface.half_span_mm else "more than the half span",
        range=f"up to {mm_text(most, 0)}, {decimal_text(100 * SOFT, 0)} % of the half span",
        source="common practice, no source",
        mend=", or ".join(ways) or _otherwise(wing, loading, most / bent_mm),
    )


def _bent_words(surface: Surface, bent_mm: float) -> str:
    """How far a tip bends up; no number where it would be none of a wing."""
    if bent_mm > surface.half_span_mm:
        return "more than the whole half span"
    percent = decimal_text(100 * bent_mm / surface.half_span_mm, 0)
    return f"about {mm_text(bent_mm, 0)}, {percent} % of the half span"


def _otherwise(wing: Wing, loading: Loading, share: float) -> str:
    """What is stiffer than more of the same: papered board, a folded wing; else a smaller load."""
    ways = ["papered board"] if wing.kind is not Kind.PAPERED else []
    ways += ["a folded wing over a spar"] if wing.surface.build is Build.FLAT else []
    factor = math.floor(10 * share * loading.factor) / 10
    if not ways and factor > 1:
        return f"hold turns and pull-outs under load factor {decimal_text(factor)}"
    return ", or ".join(ways) or _lighter(wing, loading, share)


def _stiffer(wing: Wing, most_mm: float) -> Iterator[str]:
    """The first change that bends no farther."""
    if wing.surface.build is Build.FLAT:
        bent = tip_deflection_mm(replace(heavier(wing, boards_g(wing, 1)), boards=wing.boards + 1))
        if bent is not None and bent <= most_mm:
            yield f"a second board glued under it all along bends it up by {mm_text(bent, 0)}"
        return
    spar = spar_of(wing.surface)
    for more in MORE:
        surface = replace(wing.surface, spar=replace(spar, layers=spar.layers + more))
        if not _bends_within(changed(wing, surface), most_mm):
            continue
        tried = rebuilt(wing, surface, roughly=True)
        bent = None if tried is None else tip_deflection_mm(tried)
        if bent is not None and bent <= most_mm:
            words = "one layer" if more == 1 else f"{more} layers"
            yield f"a spar {words} higher bends up by {mm_text(bent, 0)}"
            return


def _bends_within(wing: Wing | None, most_mm: float) -> bool:
    bent = None if wing is None else tip_deflection_mm(wing)
    return bent is not None and bent <= most_mm


def not_counted(wing: Wing) -> Iterator[Finding]:
    """Sheets whose stiffness no row of the table gives: they are left out of the sums."""
    surface = wing.surface
    told: list[str] = []
    for kind, material, key in (
        (wing.kind, surface.material, f"{surface.key}.stock"),
        (wing.spar_kind, surface.spar.material if surface.spar else None, f"{surface.key}.spar"),
    ):
        if kind is Kind.UNKNOWN and material is not None and material.name not in told:
            told.append(material.name)
            yield Finding(
                code="wing-bending",
                level=Level.NOTE,
                where=key,
                text=f'how stiff and strong "{material.name}" is, is not known here: it is not counted in the'
                " strength of the wing",
                mend="name its material as paper-faced foam board, foam or plywood if it is one of these, or"
                " load the wing with bags of sand, upside down and held at the root, before it flies",
            )
