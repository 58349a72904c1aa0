"""What parts are generated from, as the design gives it."""

from foamcut.airframe.values import Inputs, Role
from foamcut.design.airframe_limits import limit_refusals
from foamcut.design.bodies import read_body, read_dowel, read_servo
from foamcut.design.materials import Materials
from foamcut.design.motors import read_motor
from foamcut.design.reader import Reader
from foamcut.design.schema import DesignTable
from foamcut.design.setting import Setting
from foamcut.design.surfaces import read_surface


def read_airframe(tables: DesignTable, setting: Setting, reader: Reader) -> Inputs:
    """Surfaces, bodies, motors, servos and dowels in the order of the file."""
    materials = Materials(setting=setting, reader=reader)
    surfaces = tuple(read_surface(n, one, materials, reader) for n, one in (tables.surface or {}).items())
    bodies = tuple(read_body(n, one, materials, reader) for n, one in (tables.body or {}).items())
    named = tuple(surface.name for surface in surfaces)
    hulls = tuple(body.name for body in bodies)
    for name in hulls:
        if name in named:
            reader.refuse(("body", name), "a surface has the same name; choose another")
    wings = tuple(surface.name for surface in surfaces if surface.role is Role.WING)
    inputs = Inputs(
        surfaces=surfaces,
        bodies=bodies,
        motors=tuple(
            read_motor(n, one, wings, hulls, materials, reader) for n, one in (tables.motor or {}).items()
        ),
        servos=tuple(
            read_servo(one, ("servo", i), hulls, named, reader) for i, one in enumerate(tables.servo or ())
        ),
        dowels=tuple(
            read_dowel(one, ("dowel", i), hulls, reader) for i, one in enumerate(tables.dowel or ())
        ),
    )
    reader.refusals.extend(limit_refusals(inputs))
    return inputs
