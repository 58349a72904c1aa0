"""Advice on wiring: unlike motors, joined receiver supplies, packs, leads, connectors.

Common practice, opinions differ, the maker's word comes first; every finding says so.
"""

from foamcut.findings import Finding
from foamcut.flight import wiring_alike, wiring_leads
from foamcut.flight.values import Model, Setup
from foamcut.flight.wiring_missing import missing_findings
from foamcut.flight.wiring_packs import motors_count, pack_findings, receiver_findings, supply_findings
from foamcut.flight.wiring_reach import reach_findings


def wiring_findings(model: Model, setup: Setup) -> tuple[Finding, ...]:
    """What is doubtful about motors, speed controls, packs and leads together.

    Nothing is said of a model with one motor or none that carries nothing and has no servos.
    """
    found: list[Finding] = []
    if motors_count(model, setup) > 1:
        found += wiring_alike.motor_findings(model, setup)
        found += wiring_alike.control_findings(model, setup)
        found += supply_findings(model, setup)
        found += receiver_findings(model, setup)
    found += missing_findings(model, setup)
    found += pack_findings(model, setup)
    found += wiring_alike.lead_findings(setup)
    found += wiring_leads.lead_findings(model, setup)
    found += reach_findings(model, setup)
    return tuple(found)
