"""Parts of a body."""

from foamcut.airframe.made import Made
from foamcut.airframe.values import Body, Inputs


def body_parts(body: Body, inputs: Inputs) -> Made:
    """Every part of a body, cut for the surfaces and motors that it carries."""
    return Made()
