"""The model put together from its parts as cut: what does not fit is a finding, in mm.

Nothing here knows how a part was generated: parts drawn by hand are looked over in the same way.
"""

from collections.abc import Sequence

from foamcut.airframe.fit_discs import disc_findings
from foamcut.airframe.fit_formers import former_findings
from foamcut.airframe.fit_halves import halves_findings
from foamcut.airframe.fit_saddle import saddle_findings
from foamcut.airframe.fit_tabs import tab_findings
from foamcut.airframe.fit_through import through_findings
from foamcut.airframe.made import Shell
from foamcut.airframe.model import assembled
from foamcut.airframe.motors import discs
from foamcut.airframe.values import Inputs
from foamcut.findings import Finding
from foamcut.flat.part import Part


def fit_findings(parts: Sequence[Part], shells: Sequence[Shell], inputs: Inputs) -> tuple[Finding, ...]:
    """Everything that does not fit on the model; parts without a place are left out.

    What is told of the right hand of a pair is not told of the left one too.  Motor mounts are no formers
    and no sides: a firewall may be narrower than its nacelle, and no wing lies on a cheek.
    """
    model = assembled(parts, shells)
    mounts = tuple(f"motor-{motor.name}-" for motor in inputs.motors)
    hull = [one for one in model if not one.part.name.startswith(mounts)]
    tabs, misses = tab_findings(model)
    return (
        *tabs,
        *former_findings(hull),
        *saddle_findings(hull, inputs),
        *through_findings(model, misses),
        *disc_findings(model, discs(inputs)),
        *halves_findings(model),
    )
