"""Advice on wiring: unlike motors, joined receiver supplies, packs, leads, connectors.

Common practice, opinions differ, the maker's word comes first; every finding says so.
"""

from foamcut.findings import Finding
from foamcut.flight.values import Model, Setup


def wiring_findings(model: Model, setup: Setup) -> tuple[Finding, ...]:
    """What is doubtful about motors, speed controls, packs and leads together."""
    return ()
