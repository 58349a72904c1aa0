"""Tail volumes, spiral parameter, roll authority, elevator power at stall.  SI and degrees."""

from foamcut.flight.figures import Figures, Loaded
from foamcut.flight.lift import Lift
from foamcut.flight.neutral import Neutral
from foamcut.flight.planform import Planform
from foamcut.flight.stability_angles import angle_figures
from foamcut.flight.stability_power import power_of_elevator
from foamcut.flight.stability_roll import roll_figures
from foamcut.flight.stability_steer import steering_findings
from foamcut.flight.stability_tail import tail_of, volume_figures


def stability_figures(plan: Planform, now: Loaded | None, neutral: Neutral, lift: Lift | None) -> Figures:
    """Numbers and advice on the sizes of tail, fin and dihedral, and on what the controls can do."""
    tail = tail_of(plan)
    return Figures.of(
        [
            volume_figures(plan, tail),
            angle_figures(plan),
            roll_figures(plan, tail, now, lift),
            power_of_elevator(plan, now, neutral, lift, tail),
            Figures(findings=steering_findings(plan, tail)),
        ]
    )
