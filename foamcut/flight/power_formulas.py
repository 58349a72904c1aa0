"""Formulas of propellers: thrust of a disc, coefficients, figure of merit, speed of the pitch.  SI.

Sources: actuator disc, any text (MIT 16.unified notes, thermodynamics and propulsion, propeller chapter);
coefficients as in J. Brandt, M. Selig, AIAA 2011-1255: T = CT rho n^2 D^4, P = CP rho n^3 D^5, n turns a
second.
"""

import math

#: rounds of Newton's method: it runs down to the root from above and doubles its figures in each round
_ROUNDS = 40


def disc_area(diameter_m: float) -> float:
    """Area that a propeller sweeps."""
    return math.pi * diameter_m**2 / 4


def ideal_power(thrust_n: float, diameter_m: float, density_kg_m3: float) -> float:
    """Least shaft power for a thrust while standing still: T^1.5 / sqrt(2 rho A)."""
    area = disc_area(diameter_m)
    if thrust_n <= 0 or density_kg_m3 <= 0 or area <= 0:
        return 0.0
    return thrust_n**1.5 / math.sqrt(2 * density_kg_m3 * area)


def disc_thrust(shaft_w: float, diameter_m: float, density_kg_m3: float, merit: float) -> float:
    """Thrust while standing still: (FM^2 2 rho A P^2)^(1/3); FM is the figure of merit.

    >>> round(disc_thrust(100.0, 0.254, 1.225, 1.0), 2), round(disc_thrust(100.0, 0.254, 1.225, 0.6), 2)
    (10.75, 7.65)
    """
    return math.cbrt(2 * density_kg_m3 * disc_area(diameter_m) * (merit * max(shaft_w, 0.0)) ** 2)


def figure_of_merit(thrust_coefficient: float, power_coefficient: float) -> float:
    """Ideal over shaft power while standing still: sqrt(2 / pi) CT^1.5 / CP."""
    if power_coefficient <= 0:
        return 0.0
    return math.sqrt(2 / math.pi) * max(thrust_coefficient, 0.0) ** 1.5 / power_coefficient


def turned_thrust(coefficient: float, rpm: float, diameter_m: float, density_kg_m3: float) -> float:
    """Thrust by its coefficient and the turns."""
    return coefficient * density_kg_m3 * (rpm / 60) ** 2 * diameter_m**4


def turned_power(coefficient: float, rpm: float, diameter_m: float, density_kg_m3: float) -> float:
    """Shaft power by its coefficient and the turns."""
    return coefficient * density_kg_m3 * (rpm / 60) ** 3 * diameter_m**5


def rpm_for_power(coefficient: float, shaft_w: float, diameter_m: float, density_kg_m3: float) -> float:
    """Turns at which a propeller takes a shaft power: the reverse of `turned_power`."""
    below = coefficient * density_kg_m3 * diameter_m**5
    return 60 * math.cbrt(max(shaft_w, 0.0) / below) if below > 0 else 0.0


def pitch_speed(rpm: float, pitch_m: float) -> float:
    """How fast a propeller would screw itself ahead without slip.

    >>> round(pitch_speed(6000.0, 4.7 * 0.0254), 2)
    11.94
    """
    return rpm / 60 * pitch_m


def moving_thrust(ideal_w: float, diameter_m: float, density_kg_m3: float, speed_m_s: float) -> float:
    """Thrust of a disc at a speed through the air; `ideal_w` is shaft power times figure of merit.

    Through the disc the air goes at w: T = 2 rho A w (w - V) and P = T w, so that
    w^3 - V w^2 = P / (2 rho A).  Limits: no blades, so that it stays above a real propeller's, which has
    none left a little above the speed of its pitch.
    """
    mass = 2 * density_kg_m3 * disc_area(diameter_m)
    if ideal_w <= 0 or mass <= 0:
        return 0.0
    speed = max(speed_m_s, 0.0)
    share = ideal_w / mass
    w = speed + math.cbrt(share)
    for _ in range(_ROUNDS):
        w -= (w * w * (w - speed) - share) / (w * (3 * w - 2 * speed))
    return ideal_w / w


def bladed_share(speed_m_s: float, ends_m_s: float) -> float:
    """What is left at a speed of the static thrust, the turns held: 1 - (V / Vend)^2, none beyond Vend.

    Source: chosen to lie over runs of the UIUC propeller database at pitch/diameter 0.47 and 0.75, by up to
    0.03 of the thrust coefficient; no theory.
    """
    return max(0.0, 1 - (speed_m_s / ends_m_s) ** 2) if ends_m_s > 0 else 1.0
