"""The one table of usual values: what is taken where a design does not say, with range and source.

Nothing that the design leaves out is taken from anywhere else; what has no row here is left out of the sums
and named.  Every row that was used is printed.
"""

from typing import NamedTuple

#: how a source is named that nobody can look up
PRACTICE = "common practice, no source"
MEMORY = "from memory"


class Assumed(NamedTuple):
    """A usual value with its range, in `unit`; `what` is how it is called where it is printed."""

    value: float
    low: float
    high: float
    unit: str
    what: str
    source: str


ASSUMED: dict[str, Assumed] = {
    # ---- masses
    "foam_board": Assumed(
        94,
        62,
        125,
        "kg/m3",
        "mass of paper-faced foam board by its volume",
        "300 to 600 g/m2 at 4.8 mm, built up from core and papers (arithmetic on values from memory)",
    ),
    "plywood": Assumed(
        660, 650, 710, "kg/m3", "mass of birch plywood by its volume", "birch plywood data sheet"
    ),
    "light_plywood": Assumed(
        500, 450, 550, "kg/m3", "mass of poplar plywood by its volume", "encyclopaedia, plywood"
    ),
    "eps": Assumed(
        20, 15, 32, "kg/m3", "mass of expanded polystyrene by its volume", "ASTM C578, types I to IX"
    ),
    "xps": Assumed(
        33, 28, 45, "kg/m3", "mass of extruded polystyrene by its volume", "ASTM C578 and data sheets"
    ),
    "balsa": Assumed(150, 100, 220, "kg/m3", "mass of balsa by its volume", MEMORY),
    "card": Assumed(750, 650, 850, "kg/m3", "mass of card by its volume", MEMORY),
    "dowel_wood": Assumed(650, 500, 750, "kg/m3", "mass of a hardwood dowel by its volume", MEMORY),
    "glue": Assumed(
        6.7,
        3.0,
        11.9,
        "g/m",
        "glue on a glued edge",
        "round bead of 3 mm (2 to 4 mm) at 0.95 g/cm3 (arithmetic on a density from memory)",
    ),
    "tape": Assumed(2.5, 1.5, 4.0, "g/m", "tape over the joint of the halves and along hinges", PRACTICE),
    "servo": Assumed(9, 6, 14, "g", "mass of a small servo", PRACTICE),
    "receiver": Assumed(8, 4, 14, "g", "mass of a receiver", PRACTICE),
    "propeller": Assumed(
        12.0, 6.0, 18.0, "g", "mass of a propeller of 200 mm; others as diameter squared", PRACTICE
    ),
    "battery": Assumed(7.5, 6.0, 9.0, "g/Wh", "mass of a lithium-polymer battery by its energy", PRACTICE),
    "speed_control": Assumed(0.8, 0.5, 1.2, "g/A", "mass of a speed control by its current", PRACTICE),
    "wire": Assumed(
        20,
        12,
        30,
        "g/m",
        "insulated copper wire of 1.5 to 2 mm2, each strand",
        "copper 8.96 g/cm3 and insulation (arithmetic on values from memory)",
    ),
    "servo_wire": Assumed(12, 8, 16, "g/m", "servo lead of three thin wires", PRACTICE),
    # ---- air and lift
    "cl_max_folded": Assumed(
        1.1,
        1.0,
        1.25,
        "",
        "highest lift coefficient of a folded section of about 12 %, flat below",
        "typical of published tests at low Reynolds number; from memory",
    ),
    "cl_max_flat": Assumed(
        0.70,
        0.65,
        0.85,
        "",
        "highest lift coefficient of a flat plate",
        "typical of published tests at low Reynolds number; from memory",
    ),
    "section_moment": Assumed(
        -0.05,
        -0.09,
        -0.03,
        "",
        "moment coefficient about the quarter chord of a folded section, flat below",
        MEMORY,
    ),
    "section_zero_lift": Assumed(
        -3.0,
        -5.0,
        -2.0,
        "deg",
        "angle of the underside of a folded section, flat below, at which it lifts nothing",
        MEMORY,
    ),
    "flap_effect": Assumed(
        0.75,
        0.6,
        0.9,
        "",
        "what a control surface does at full throw as a share of thin-aerofoil theory",
        MEMORY,
    ),
    "cl_max_share": Assumed(
        0.9,
        0.85,
        0.95,
        "",
        "highest lift of a wing as a share of its section's",
        "0.9: Raymer ch. 12, from memory; 0.89 on a course sheet",
    ),
    # ---- power
    "figure_of_merit": Assumed(
        0.58,
        0.40,
        0.72,
        "",
        "figure of merit of a small propeller standing still",
        "UIUC propeller database, Brandt and Selig, AIAA 2011-1255: 0.63 to 0.72 at pitch/diameter 0.45,"
        " 0.40 to 0.52 at 0.75",
    ),
    "thrust_coefficient_flat": Assumed(
        0.118,
        0.095,
        0.13,
        "",
        "thrust coefficient standing still of two blades at pitch/diameter 0.45",
        "UIUC propeller database, slow-flight propellers of 10 and 11 in: 0.099 to 0.130;"
        " narrower blades less (memory)",
    ),
    "power_coefficient_flat": Assumed(
        0.047,
        0.036,
        0.053,
        "",
        "power coefficient standing still of two blades at pitch/diameter 0.45",
        "UIUC propeller database, slow-flight propellers of 10 and 11 in: 0.039 to 0.053;"
        " narrower blades less (memory)",
    ),
    "thrust_coefficient_steep": Assumed(
        0.133,
        0.105,
        0.141,
        "",
        "thrust coefficient standing still of two blades at pitch/diameter 0.75",
        "UIUC propeller database, volume 2, a research propeller: 0.126 to 0.141;"
        " narrower blades less (memory)",
    ),
    "power_coefficient_steep": Assumed(
        0.083,
        0.065,
        0.089,
        "",
        "power coefficient standing still of two blades at pitch/diameter 0.75",
        "UIUC propeller database, volume 2, a research propeller: 0.078 to 0.089;"
        " narrower blades less (memory)",
    ),
    "thrust_end": Assumed(
        1.3,
        1.14,
        1.43,
        "",
        "speed at which a propeller has no thrust left, as a multiple of its pitch speed",
        "UIUC propeller database, a run each at pitch/diameter 0.75 (1.14) and 0.47 (1.43), quoted",
    ),
    "motor_efficiency": Assumed(
        0.75,
        0.65,
        0.80,
        "",
        "share of battery power that reaches the shaft, motor and speed control",
        PRACTICE,
    ),
    "usable_charge": Assumed(0.8, 0.7, 0.8, "", "share of a battery's charge that is flown", PRACTICE),
    "cell_voltage": Assumed(
        3.7,
        3.5,
        4.2,
        "V",
        "voltage of a lithium-polymer cell",
        "nominal 3.7, full 4.2: study cards; kept above 3.5: a handbook page",
    ),
    "cruise_throttle": Assumed(
        0.35, 0.25, 0.5, "", "mean power in flight as a share of full power", PRACTICE
    ),
    "loaded_speed": Assumed(
        0.75, 0.65, 0.85, "", "turns under load as a share of speed constant times voltage", PRACTICE
    ),
    # ---- strength
    "load_factor": Assumed(
        4.0,
        3.8,
        6.0,
        "",
        "load factor to be borne",
        "limit loads of 3.8 (normal) to 6.0 (acrobatic), 14 CFR 23 Appendix A, 2014",
    ),
    "paper_modulus": Assumed(3000, 2000, 7000, "MPa", "stiffness of the liner paper", MEMORY),
    "paper_thickness": Assumed(0.22, 0.15, 0.30, "mm", "thickness of one liner paper", MEMORY),
    "paper_strength": Assumed(
        10, 10, 20, "MPa", "compression that the liner paper bears: 10 across, 20 along its grain", MEMORY
    ),
    "core_modulus": Assumed(
        2.0, 1.24, 3.4, "MPa", "stiffness of the foam core", "EPS data table to ASTM C578-92"
    ),
    "core_shear": Assumed(
        2.7, 1.9, 4.4, "MPa", "shear stiffness of the foam core", "EPS data table to ASTM C578-92"
    ),
    "plywood_modulus": Assumed(7000, 5000, 10000, "MPa", "stiffness of birch plywood along a plate", MEMORY),
    "plywood_strength": Assumed(40, 30, 60, "MPa", "bending stress that birch plywood bears", MEMORY),
    "foam_strength": Assumed(
        0.20, 0.17, 0.52, "MPa", "bending stress that foam without paper bears", "ASTM C578 flexural strength"
    ),
    "strapping_tape": Assumed(
        20, 10, 30, "N/mm", "pull that glass-fibre strapping tape bears for each mm of its width", MEMORY
    ),
    # ---- wiring
    "lead_slack": Assumed(30, 20, 50, "mm", "what a lead is longer than its way", PRACTICE),
    # ---- set-up
    "low_rate": Assumed(65, 60, 70, "%", "low rate to begin with, as a share of the throws", PRACTICE),
}
