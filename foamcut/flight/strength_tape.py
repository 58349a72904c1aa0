"""What strapping tape under a gap has to pull, and how wide it has to be.  mm, N."""

import math

from foamcut.airframe.planform import panel_at
from foamcut.airframe.section import section_at
from foamcut.airframe.values import Build, Surface
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.strength_wing import Wing
from foamcut.units import mm_text

#: strapping tape is usually so wide at least (common practice, no source)
LEAST_TAPE_MM = 19.0
#: words by which strapping tape among what is bought is known
_WORDS = ("strapping", "filament", "glass-fibre tape", "glass fibre tape", "fibreglass tape")


def tape_pull_n(wing: Wing, s_mm: float) -> float:
    """What tape on the underside of a gap pulls when it alone carries the bending moment there, N.

    Method: the moment over the height between the tape and the middle of what is pressed together over it:
    of a folded wing the upper skin over the spar, of a flat one the upper paper.  That is nearly the highest
    there is, so that the pull comes out low by a little.
    """
    return wing.load.moment_n_mm(s_mm) / _lever_mm(wing.surface, s_mm)


def _lever_mm(surface: Surface, s_mm: float) -> float:
    t = surface.material.thickness_mm
    if surface.build is Build.FLAT:
        return t
    panel = panel_at(surface, s_mm)
    return section_at(surface, panel, s_mm).spar[2] + t / 2


def tape_width_mm(pull_n: float, wanted: float) -> float:
    """How wide tape has to be in all to bear so many times a pull, in steps of 5 mm."""
    width = wanted * pull_n / ASSUMED["strapping_tape"].value
    return max(5.0 * math.ceil(width / 5.0 - 1e-9), LEAST_TAPE_MM)


def tape_words(width_mm: float, over: str = "gap") -> str:
    """What to lay over a gap or a joint."""
    return (
        f"strapping tape on the underside, {mm_text(width_mm, 0)} wide in all, along the span over the {over}"
        " and well out onto both sides"
    )


def has_tape(hardware: tuple[str, ...]) -> bool:
    """Whether strapping tape is among what is bought."""
    return any(word in name.lower() for name in hardware for word in _WORDS)
