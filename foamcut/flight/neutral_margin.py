"""The static margin: how far the balance lies ahead of the neutral point, in mean chords.  SI."""

from collections.abc import Sequence
from typing import NamedTuple

from foamcut.flight.figures import Loaded
from foamcut.flight.planform_lifting import Lifting

DRELA = "M. Drela, Basic Aircraft Design Rules, MIT, 2006"
#: the usual range of the margin, in mean chords (Drela)
LEAST, MOST = 0.05, 0.15
#: above it a model is heavy in the nose: much elevator for little (common practice, no source)
NOSE_HEAVY = 0.25


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
    """From where to where the balance may lie for margins from `most` to `least`, cautiously.

    They are taken to the more forward of the points, but to none so far before the first that what suits
    one is heavy in the nose by the other: there the formula does not hold.
    """
    forward = max(min(points_m), points_m[0] - (NOSE_HEAVY - MOST) * wing.mean_chord_m)
    return forward - most * wing.mean_chord_m, forward - least * wing.mean_chord_m


def margin_at(wing: Lifting, points_m: Sequence[float], along_mm: float) -> float:
    """The margin of a balance at a place along, to the first of the points, in mean chords; 4 decimals."""
    return round((points_m[0] - along_mm / 1000) / wing.mean_chord_m, 4)
