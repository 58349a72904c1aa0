"""Parts of a body whose sides and floor are folded from one sheet."""

from foamcut.airframe.made import Made
from foamcut.airframe.values import Body, Inputs


def trough_parts(body: Body, inputs: Inputs) -> Made:
    """Every part of a body that is a trough."""
    return Made()
