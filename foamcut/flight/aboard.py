"""Whether what is carried has room in the body, where it sits and where it may be moved.  mm."""

from foamcut.findings import Finding
from foamcut.flight.values import Model, Setup


def room_findings(model: Model, setup: Setup) -> tuple[Finding, ...]:
    """Things outside the body, too large for it, or that go through a former, a dowel or each other."""
    raise NotImplementedError
