"""The static margin: how far the balance lies ahead of the neutral point, in mean chords.  SI."""

from collections.abc import Sequence
from typing import NamedTuple

from foamcut.flight.figures import Loaded
from foamcut.flight.planform_lifting import Lifting

DRELA = "M. Drela, Basic Aircraft Design Rules, MIT, 2006"
#: the usual range of the margin, in mean chords (Drela)
LEAST, MOST = 0.05, 0.15


class Margin(NamedTuple):
    """Static margin in mean chords: by the lattice and the balance as drawn, and its least and most."""

    value: float
    low: float
    high: float


def margin_of(wing: Lifting, points_m: Sequence[float], now: Loaded) -> Margin:
    """The margin to the neutral points of several methods, the first of which gives the value."""
    chord = wing.mean_chord_m
    return Margin(
        value=(points_m[0] - now.at[0] / 1000) / chord,
        low=(min(points_m) - max(now.along_high_mm, now.at[0]) / 1000) / chord,
        high=(max(points_m) - min(now.along_low_mm, now.at[0]) / 1000) / chord,
    )


def balance_range_m(
    wing: Lifting, points_m: Sequence[float], least: float = LEAST, most: float = MOST
) -> tuple[float, float]:
    """From where to where the balance may lie for margins from `most` to `least`, cautiously."""
    forward = min(points_m)
    return forward - most * wing.mean_chord_m, forward - least * wing.mean_chord_m
