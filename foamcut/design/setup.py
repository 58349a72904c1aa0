"""Weight, balance and flight as the design gives them: what is carried, site, target, wiring, weighed."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from itertools import pairwise

from foamcut.airframe.planform import mean_chord
from foamcut.airframe.values import Inputs, Surface
from foamcut.design.aboard import read_aboard
from foamcut.design.airframe_limits import FARTHEST_MM, MOST_MM
from foamcut.design.key_kinds import Range
from foamcut.design.keys import key_of
from foamcut.design.literals import quoted
from foamcut.design.measures import describe
from foamcut.design.quantities import Quantity
from foamcut.design.reader import Reader
from foamcut.design.schema import DesignTable
from foamcut.design.setting import Setting
from foamcut.design.setup_tables import (
    BalanceTable,
    SiteTable,
    WeighedModelTable,
    WeighedTable,
    WiringTable,
)
from foamcut.design.structure import Path, name_fault
from foamcut.errors import Refusal
from foamcut.flight.values import Aboard, Packs, Setup, Site, Target, Weighed, WeighedPart, Wiring, Wishes
from foamcut.units import decimal_text, mm_text

MOST_WEIGHED = 1000  # parts


def read_setup(tables: DesignTable, motors: tuple[str, ...], setting: Setting, reader: Reader) -> Setup:
    """All that flight takes besides the airframe; `motors` are the names of the [motor.*] in the file."""
    setup = Setup(
        aboard=read_aboard(tables.aboard or (), motors, setting, reader),
        site=_site(tables.site or SiteTable(), reader),
        wishes=_wishes(tables.balance or BalanceTable(), reader),
        wiring=_wiring(tables.wiring or WiringTable()),
        weighed=_weighed(tables.weighed or WeighedTable(), reader),
    )
    reader.refusals.extend(one for thing in setup.aboard for one in _too_far(thing))
    return setup


def _site(table: SiteTable, reader: Reader) -> Site:
    return Site(
        altitude_m=reader.mm(table, ("site",), "altitude", 0.0) / 1000,
        temperature_c=reader.measured(table, ("site",), "temperature"),
    )


def _wishes(table: BalanceTable, reader: Reader) -> Wishes:
    path, here = ("balance",), ("balance", "target")
    target = table.target
    wanted = None
    if target is not None and target.mac is not None:
        wanted = Target(key=key_of(here), mean_chord_share=reader.ratio(target, here, "mac"))
    elif target is not None:
        wanted = Target(key=key_of(here), along_mm=reader.optional_mm(target, here, "along"))
    return Wishes(
        target=wanted,
        load_factor=reader.number(table, path, "load_factor"),
        paint_g_m2=reader.measured(table, path, "paint"),
        glue_g_m=reader.measured(table, path, "glue"),
    )


def _wiring(table: WiringTable) -> Wiring:
    return Wiring(packs=Packs(table.packs) if table.packs else None, joined=table.joined)


def _weighed(table: WeighedTable, reader: Reader) -> Weighed:
    model, path = table.model or WeighedModelTable(), ("weighed", "model")
    return Weighed(
        model_mass_g=reader.measured(model, path, "mass"),
        model_along_mm=reader.optional_mm(model, path, "along"),
        parts=tuple(_weighed_parts(table, reader)),
    )


def _weighed_parts(table: WeighedTable, reader: Reader) -> Iterator[WeighedPart]:
    """Parts by the names that they will have: those that are generated are known when they are built."""
    path, several = ("weighed", "parts"), table.parts or {}
    if len(several) > MOST_WEIGHED:
        reader.refuse(path, f"has {len(several):,} parts; at most {MOST_WEIGHED:,} are read")
        return
    for name, raw in several.items():
        here = (*path, name)
        if fault := name_fault(name):
            reader.refuse(here, fault)
        elif isinstance(raw, dict | list):
            reader.refuse(here, f'{describe(raw)} where a mass is due; write {quoted(name)} = "24 g"')
        elif mass := reader.quantity(raw, here, Quantity.MASS, Range.ABOVE_0):
            yield WeighedPart(key=key_of(here), name=name, mass_g=mass)


def _too_far(thing: Aboard) -> Iterator[Refusal]:
    """What lies or is farther than any model reaches, and so a slip of the hand."""
    measures = [
        *((f"{thing.key}.at", mm, FARTHEST_MM) for mm in thing.at),
        (f"{thing.key}.out", thing.out_mm, MOST_MM),
        *((f"{thing.key}.slides", mm, FARTHEST_MM) for mm in thing.slides_mm or ()),
        *((f"{thing.key}.may_sit[{i}]", mm, FARTHEST_MM) for i, at in enumerate(thing.may_sit) for mm in at),
        *((f"{thing.key}.size", mm, MOST_MM) for mm in thing.size_mm or ()),
        (f"{thing.key}.lead", thing.lead_mm or 0.0, FARTHEST_MM),
    ]
    told: set[str] = set()
    for key, mm, most in measures:
        if abs(mm) > most and key not in told:
            told.add(key)
            yield Refusal(
                key=key,
                text=f"{decimal_text(mm)} mm is more than {most:,.0f} mm: check the number, its unit and"
                " the scale",
            )


def with_balance_mark(
    inputs: Inputs, tables: DesignTable, target: Target | None, gone: Collection[Path], reader: Reader
) -> Inputs:
    """The airframe with the wing's balance mark at the target, where the wing does not say it itself.

    A place along becomes a share of the mean chord as if the wing lay level: at an angle of 3 degrees the
    mark is 0.14 % of its way aft of the root off.
    """
    wing = inputs.wing
    if target is None:
        return inputs
    if wing is None:
        if target.mean_chord_share is not None and not any(path[0] == "surface" for path in gone):
            word = ("balance", "target", "mac")
            reader.refuse(word, "there is no wing whose mean chord it could be a share of; write along")
        return inputs
    share = target.mean_chord_share
    own = (tables.surface or {})[wing.name].balance is not None
    if target.along_mm is not None:
        share = None if own else _share(wing, target.along_mm, reader)
    if own or share is None or share != share:
        return inputs
    marked = replace(wing, balance=share)
    return replace(inputs, surfaces=tuple(marked if one is wing else one for one in inputs.surfaces))


def _share(wing: Surface, along_mm: float, reader: Reader) -> float | None:
    """A place along as a share of the mean chord; None when it lies off it or the wing was refused."""
    outs = [station.out_mm for station in wing.stations]
    if len(outs) < 2 or not all(a < b for a, b in pairwise(outs)):
        return None
    mean = mean_chord(wing)
    leading = wing.at[0] + mean.leading_mm
    share = (along_mm - leading) / mean.chord_mm
    if share < 0 or share > 1:
        reader.refuse(
            ("balance", "target", "along"),
            f"{mm_text(along_mm)} lies off the mean chord of {quoted(wing.name)}, {mm_text(leading)} to"
            f" {mm_text(leading + mean.chord_mm)} along; write a place on it, or say where its mark is drawn:"
            f" {wing.key}.balance",
        )
        return None
    return share
