"""Motors as the design gives them."""

from foamcut.airframe.values import Firewall, Motor, Nacelle, Propeller
from foamcut.design.airframe_tables import (
    FirewallTable,
    MotorTable,
    NacelleTable,
    PropellerTable,
    ThrustTable,
)
from foamcut.design.keys import key_of
from foamcut.design.literals import near, quoted
from foamcut.design.materials import Materials
from foamcut.design.reader import Reader
from foamcut.design.structure import Path


def read_motor(
    name: str,
    table: MotorTable,
    surfaces: tuple[str, ...],
    bodies: tuple[str, ...],
    materials: Materials,
    reader: Reader,
) -> Motor:
    """A motor; `surfaces` are the wings.  Without `on` it sits where its name, or `out`, says."""
    path: Path = ("motor", name)
    on = _carrier(name, table, path, surfaces, bodies, reader)
    on_wing = on in surfaces
    _refuse_foreign(table, path, on_wing=on_wing, reader=reader)
    thrust = table.thrust or ThrustTable()
    here = (*path, "thrust")
    return Motor(
        key=key_of(path),
        name=name,
        on=on,
        on_wing=on_wing,
        ahead_mm=reader.mm(table, path, "ahead"),
        firewall=_firewall(table.firewall or FirewallTable(), (*path, "firewall"), materials, reader),
        propeller=_propeller(table.propeller or PropellerTable(), (*path, "propeller"), reader),
        out_mm=reader.optional_mm(table, path, "out"),
        clearance_mm=reader.optional_mm(table, path, "clearance"),
        at_mm=None if table.at is None else reader.at(table, path, "at"),
        right_deg=reader.angle(thrust, here, "right"),
        outwards_deg=reader.angle(thrust, here, "outwards"),
        down_deg=reader.angle(thrust, here, "down"),
        nacelle=_nacelle(table.nacelle, (*path, "nacelle"), reader) if table.nacelle else None,
        mass_g=reader.measured(table, path, "mass"),
        power_w=reader.measured(table, path, "power"),
        speed_constant_rpm_v=reader.measured(table, path, "speed_constant"),
        current_limit_a=reader.measured(table, path, "current_limit"),
    )


def _carrier(
    name: str,
    table: MotorTable,
    path: Path,
    surfaces: tuple[str, ...],
    bodies: tuple[str, ...],
    reader: Reader,
) -> str:
    known = (*surfaces, *bodies)
    if table.on is not None:
        on = reader.name(table, path, "on")
        if on and on not in known:
            hint = near(on, known) or (f"; known are {', '.join(known)}" if known else "")
            reader.refuse((*path, "on"), f"there is no wing or body {quoted(on)}{hint}")
        return on
    if name in known:
        return name
    first = surfaces if table.out is not None or table.clearance is not None else bodies
    if not first:
        reader.refuse(path, 'sits on nothing; write on = "..", the name of a wing or a body')
    return first[0] if first else ""


def _refuse_foreign(table: MotorTable, path: Path, *, on_wing: bool, reader: Reader) -> None:
    """Keys of a motor on the wing in one in the nose, and the other way round."""
    foreign = ("at",) if on_wing else ("out", "clearance", "nacelle")
    where = "in the nose" if on_wing else "on a wing"
    for word in foreign:
        if getattr(table, word) is not None:
            reader.refuse((*path, word), f"belongs to a motor {where}; take it out, or write `on`")
    thrust = table.thrust or ThrustTable()
    word = "right" if on_wing else "outwards"
    if getattr(thrust, word) is not None:
        reader.refuse((*path, "thrust", word), f"belongs to a motor {where}; take it out")


def _firewall(table: FirewallTable, path: Path, materials: Materials, reader: Reader) -> Firewall:
    return Firewall(
        key=key_of(path),
        material=materials.named(table, path, "stock"),
        width_mm=reader.mm(table, path, "width"),
        height_mm=reader.optional_mm(table, path, "height"),
        screws_mm=reader.optional_mm(table, path, "screws"),
    )


def _propeller(table: PropellerTable, path: Path, reader: Reader) -> Propeller:
    return Propeller(
        key=key_of(path),
        diameter_mm=reader.mm(table, path, "diameter"),
        pitch_mm=reader.optional_mm(table, path, "pitch"),
        blades=reader.count(table, path, "blades", 2),
        turns=table.turns or "",
        mass_g=reader.measured(table, path, "mass"),
    )


def _nacelle(table: NacelleTable, path: Path, reader: Reader) -> Nacelle:
    return Nacelle(
        key=key_of(path), width_mm=reader.mm(table, path, "width"), length_mm=reader.mm(table, path, "length")
    )
