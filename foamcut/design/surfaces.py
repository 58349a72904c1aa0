"""Surfaces as the design gives them: stations, spar, nose, control surfaces, every number resolved."""

import math
from itertools import pairwise

from foamcut.airframe.values import (
    Build,
    Control,
    Joiner,
    Material,
    Nose,
    OverSpar,
    Role,
    Run,
    Spar,
    Station,
    Surface,
    TrailingEdge,
)
from foamcut.design.airframe_tables import ControlTable, JoinerTable, SparTable, StationTable, SurfaceTable
from foamcut.design.keys import key_of
from foamcut.design.materials import Materials
from foamcut.design.reader import Reader
from foamcut.design.structure import Path
from foamcut.units import mm_text as _mm

#: keys of the short form, which stations replace
_SHORT = ("span", "root_chord", "tip_chord", "tip_back", "dihedral", "tip_height")
#: keys that belong to a surface folded over a spar
_OF_FOLDED = (
    "over_spar", "nose", "nose_height", "nose_band", "trailing_edge", "trim", "closest_bend", "patches",
    "spar",
)  # fmt: skip
#: which control surfaces a role has
_CONTROLS = {
    Role.WING: ("aileron", "elevon"),
    Role.STABILISER: ("elevator",),
    Role.FIN: ("rudder",),
}
TRIM_MM = 3.0  # common practice, no source
CLOSEST_BEND = 8.0  # thicknesses; from memory
BALANCE = 0.25  # of the mean chord: common practice, no source


def read_surface(name: str, table: SurfaceTable, materials: Materials, reader: Reader) -> Surface:
    """A surface, with what is usual for what is left out."""
    path: Path = ("surface", name)
    role, build = Role(table.role or "wing"), Build(table.build or "flat")
    material = materials.named(table, path, "stock")
    _refuse_foreign(table, path, role, build, materials, reader)
    return Surface(
        key=key_of(path),
        name=name,
        role=role,
        build=build,
        material=material,
        at=reader.at(table, path, "at"),
        stations=_stations(table, path, role, materials, reader),
        angle_deg=reader.angle(table, path, "angle"),
        over_spar=OverSpar(table.over_spar or "creased"),
        nose=Nose(table.nose or "stripped"),
        nose_height_mm=reader.optional_mm(table, path, "nose_height"),
        nose_band_mm=reader.optional_mm(table, path, "nose_band"),
        trailing_edge=TrailingEdge(table.trailing_edge or "bevelled"),
        trim_mm=reader.mm(table, path, "trim", TRIM_MM),
        closest_bend=CLOSEST_BEND
        if table.closest_bend is None
        else reader.ratio(table, path, "closest_bend"),
        balance=BALANCE if table.balance is None else reader.ratio(table, path, "balance"),
        spar=_spar(table.spar, (*path, "spar"), material, materials, reader) if table.spar else None,
        joiner=_joiner(table.joiner, (*path, "joiner"), materials, reader) if table.joiner else None,
        patches=materials.named(table, path, "patches") if table.patches else None,
        controls=tuple(
            _control(word, one, (*path, word), materials, reader)
            for word in ("aileron", "elevon", "elevator", "rudder")
            if (one := getattr(table, word)) is not None
        ),
    )


def _refuse_foreign(
    table: SurfaceTable, path: Path, role: Role, build: Build, materials: Materials, reader: Reader
) -> None:
    """Keys that do not belong to the role or the build, and a spar that is missing."""
    if build is Build.FOLDED and table.spar is None and (*path, "spar") not in materials.gone:
        reader.refuse(
            (*path, "spar"),
            'is missing; a folded surface needs one: spar = { layers = 2, width = "25 mm",'
            ' behind_leading_edge = "36 mm" }',
        )
    if build is Build.FOLDED and role is Role.FIN:
        reader.refuse((*path, "build"), 'a fin is cut from flat board; write build = "flat"')
    for word in _OF_FOLDED if build is Build.FLAT else ():
        if getattr(table, word) is not None:
            reader.refuse(
                (*path, word), 'belongs to a folded surface; take it out, or write build = "folded"'
            )
    for word in ("aileron", "elevon", "elevator", "rudder"):
        if getattr(table, word) is not None and word not in _CONTROLS[role]:
            due = " or ".join(_CONTROLS[role])
            reader.refuse((*path, word), f"a {role.value} has no {word}; it has {due}")
    if role is Role.FIN:
        for word in ("angle", "dihedral", "tip_height", "joiner"):
            if getattr(table, word) is not None:
                reader.refuse((*path, word), "a fin stands upright on the centre plane; take this key out")


def _stations(
    table: SurfaceTable, path: Path, role: Role, materials: Materials, reader: Reader
) -> tuple[Station, ...]:
    given = [word for word in _SHORT if getattr(table, word) is not None]
    if table.stations is not None:
        if given:
            reader.refuse(
                (*path, "stations"), f"stands beside {', '.join(given)}; keep either the stations or those"
            )
        return _listed(table.stations, path, reader)
    for word in ("span", "root_chord"):
        if word not in given and (*path, word) not in materials.gone:
            reader.refuse((*path, word), "is missing; add it, or give stations instead")
    if table.dihedral is not None and table.tip_height is not None:
        reader.refuse((*path, "tip_height"), "stands beside dihedral; keep one of them")
    half = reader.mm(table, path, "span") / (1 if role is Role.FIN else 2)
    root = reader.mm(table, path, "root_chord")
    key = key_of(path)
    rise = reader.angle(table, path, "dihedral")
    height = reader.mm(table, path, "tip_height", 0.0)
    if height:
        rise = _rise(height, half, path, reader)
    return (
        Station(key=key, out_mm=0.0, back_mm=0.0, chord_mm=root, dihedral_deg=rise),
        Station(
            key=key,
            out_mm=half,
            back_mm=reader.mm(table, path, "tip_back", 0.0),
            chord_mm=reader.mm(table, path, "tip_chord", root),
        ),
    )


def _rise(height_mm: float, half_mm: float, path: Path, reader: Reader) -> float:
    """The dihedral at which the tip of a half lies so high."""
    if half_mm != half_mm or height_mm != height_mm:
        return 0.0
    if height_mm > half_mm * math.sin(math.radians(45)):
        reader.refuse(
            (*path, "tip_height"),
            f"{_mm(height_mm, 2)} is more than 45 degrees over half a span of {_mm(half_mm, 2)};"
            " write a lower tip",
        )
        return 0.0
    return math.degrees(math.asin(height_mm / half_mm))


def _listed(tables: list[StationTable], path: Path, reader: Reader) -> tuple[Station, ...]:
    stations: list[Station] = []
    rise = 0.0
    for i, table in enumerate(tables):
        here = (*path, "stations", i)
        rise = reader.angle(table, here, "dihedral", rise)
        stations.append(
            Station(
                key=key_of(here),
                out_mm=reader.mm(table, here, "out"),
                back_mm=reader.mm(table, here, "back", 0.0),
                chord_mm=reader.mm(table, here, "chord"),
                dihedral_deg=rise,
            )
        )
    if len(stations) < 2:
        reader.refuse((*path, "stations"), "has fewer than two; give the root, the tip, and any between")
    elif abs(stations[0].out_mm) > 0 or abs(stations[0].back_mm) > 0:
        reader.refuse((*path, "stations", 0), "the first station is the root: write out = 0, and no back")
    for i, (a, b) in enumerate(pairwise(stations), start=1):
        if b.out_mm <= a.out_mm:
            reader.refuse(
                (*path, "stations", i, "out"),
                f"{_mm(b.out_mm, 2)} does not lie farther out than the station before it, {_mm(a.out_mm, 2)};"
                " write the stations from the root out",
            )
    return tuple(stations)


def _spar(table: SparTable, path: Path, board: Material, materials: Materials, reader: Reader) -> Spar:
    layers = reader.count(table, path, "layers", 1)
    tip = None if table.tip_layers is None else reader.count(table, path, "tip_layers", 1)
    if tip is not None and tip > layers:
        reader.refuse((*path, "tip_layers"), f"{tip} are more than the {layers} at the root; write fewer")
    return Spar(
        key=key_of(path),
        material=materials.named(table, path, "stock") if table.stock else board,
        layers=layers,
        width_mm=reader.mm(table, path, "width"),
        behind_mm=reader.mm(table, path, "behind_leading_edge"),
        run=Run(table.run or "square"),
        tip_layers=tip,
        tip_width_mm=reader.optional_mm(table, path, "tip_width"),
    )


def _joiner(table: JoinerTable, path: Path, materials: Materials, reader: Reader) -> Joiner:
    return Joiner(
        key=key_of(path),
        material=materials.named(table, path, "stock"),
        count=reader.count(table, path, "count", 2),
        length_mm=reader.mm(table, path, "length"),
    )


def _control(word: str, table: ControlTable, path: Path, materials: Materials, reader: Reader) -> Control:
    begins, ends = reader.mm(table, path, "from"), reader.mm(table, path, "to")
    if begins >= ends:
        reader.refuse(
            (*path, "to"),
            f"{_mm(ends, 2)} does not lie farther out than `from`, {_mm(begins, 2)};"
            " write the inner end first",
        )
    return Control(
        key=key_of(path),
        word=word,
        from_mm=begins,
        to_mm=ends,
        chord_mm=reader.mm(table, path, "chord"),
        throw_deg=reader.angle(table, path, "throw"),
        horn=materials.named(table, path, "horn") if table.horn else None,
    )
