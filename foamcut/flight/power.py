"""Thrust, currents, flight time, one failed motor of two, propeller clearances, launching.  SI."""

from foamcut.flight.air import Air
from foamcut.flight.figures import Figures, Loaded
from foamcut.flight.lift import Lift
from foamcut.flight.planform import Planform
from foamcut.flight.power_advice import power_findings
from foamcut.flight.power_clear import clearance_numbers
from foamcut.flight.power_currents import Load, current_numbers
from foamcut.flight.power_drives import drive
from foamcut.flight.power_launch import launch_findings
from foamcut.flight.power_numbers import engine_numbers, names, total_numbers
from foamcut.flight.power_out import motor_out
from foamcut.flight.power_supply import circuits
from foamcut.flight.values import Model, Setup


def power_figures(
    model: Model, setup: Setup, air: Air, plan: Planform | None, now: Loaded | None, lift: Lift | None
) -> Figures:
    """What motors, propellers, speed controls and batteries can do together, and advice.

    Static thrust in two ways, by an actuator disc from power and by measured coefficients from turns; what is
    not given is left out and named in a finding.  A model without motors has no numbers of this kind.
    """
    inputs = model.inputs
    loads = [
        Load(
            circuit=circuit,
            drives=tuple(drive(engine, circuit, air.density_kg_m3) for engine in circuit.engines),
        )
        for circuit in circuits(inputs.motors, setup)
    ]
    drives = [one for load in loads for one in load.drives]
    launch = launch_findings(drives, inputs, setup, plan, now, lift)
    if not drives:
        return Figures(findings=launch)
    words = names(drives)
    failed = motor_out(drives, inputs, air, plan, now, lift)
    numbers = [
        number for one, word in zip(drives, words, strict=True) for number in engine_numbers(one, word)
    ]
    numbers += total_numbers(drives, now, lift)
    numbers += current_numbers(loads)
    numbers += failed.numbers
    numbers += clearance_numbers(drives, words, inputs)
    findings = (*power_findings(loads, now, lift), *failed.findings, *launch)
    return Figures(numbers=tuple(numbers), findings=findings)
