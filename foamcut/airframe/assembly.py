"""The model put together from its parts as cut: what does not fit is a finding, in mm."""

from collections.abc import Sequence

from foamcut.airframe.made import Shell
from foamcut.airframe.values import Inputs
from foamcut.findings import Finding
from foamcut.flat.part import Part


def fit_findings(parts: Sequence[Part], shells: Sequence[Shell], inputs: Inputs) -> tuple[Finding, ...]:
    """Everything that does not fit on the model."""
    return ()
