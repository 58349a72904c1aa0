"""All parts of an airframe: surfaces, bodies, motors, in this order; each is told of the others."""

from foamcut.airframe.body import body_parts
from foamcut.airframe.flat_surface import flat_surface_parts
from foamcut.airframe.folded_surface import folded_surface_parts
from foamcut.airframe.made import Made
from foamcut.airframe.motors import motor_parts, with_places
from foamcut.airframe.values import Build, Inputs


def airframe_parts(inputs: Inputs) -> Made:
    """Every part that the inputs ask for, with advice, and what cannot be built."""
    inputs, placing = with_places(inputs)
    if placing.refusals:
        return placing
    made = [placing]
    for surface in inputs.surfaces:
        make = folded_surface_parts if surface.build is Build.FOLDED else flat_surface_parts
        made.append(make(surface, inputs))
    made += [body_parts(body, inputs) for body in inputs.bodies]
    made += [motor_parts(motor, inputs) for motor in inputs.motors]
    return Made.of(made)
