"""Random aeroplanes as values: wings, tails, bodies, motors of many proportions, from a seed.

Invented proportions; the ranges are those of models of foam board (common practice, no source).
"""

import math
from dataclasses import dataclass, replace
from random import Random

from foamcut.airframe.section import ALONE_MM
from foamcut.airframe.values import (
    Body,
    BodyBuild,
    Build,
    Control,
    Corners,
    Firewall,
    Former,
    Inputs,
    Joiner,
    Material,
    Motor,
    Nose,
    OverSpar,
    Propeller,
    Role,
    Run,
    SideReading,
    Spar,
    Station,
    Surface,
    TrailingEdge,
)

BOARDS = ((994.0, 694.0), (694.0, 494.0), (756.0, 502.0))
PLY = Material(name="ply", thickness_mm=1.5, boards_mm=((294.0, 194.0),), fit_mm=0.2)
CARD = Material(name="card", thickness_mm=0.8, boards_mm=((414.0, 291.0),), fit_mm=0.2)
#: the share drawn without a look at the room there is: most of these are refused
_CARELESS = 0.15
#: what a builder gives a tip at least, mm, and the least chord behind a spar for each mm of its height
_LEAST_TIP_MM, _BEHIND_PER_MM = 75.0, 2.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Proportions:
    """What a random aeroplane was drawn from, to be told when it fails.

    Of a careless one the sizes of spar, controls and motors are drawn without a look at the room for them.
    """

    seed: int
    careless: bool
    aspect: float
    taper: float
    sweep_deg: float
    panels: int


def random_airframe(seed: int) -> tuple[Inputs, Proportions]:
    """An aeroplane: aspect 2 to 12, taper 0.3 to 1, sweep 0 to 35 degrees, 1 to 4 panels."""
    rng = Random(seed)
    drawn = Proportions(
        seed=seed,
        careless=rng.random() < _CARELESS,
        aspect=rng.uniform(2, 12),
        taper=rng.uniform(0.3, 1),
        sweep_deg=rng.choice([0.0, 0.0, rng.uniform(0, 35)]),
        panels=rng.choice([1, 1, 1, 2, 3, 4]),
    )
    t = rng.choice([3.0, 4.8, 5.0, 5.4, 6.0])
    board = Material(name="board", thickness_mm=t, boards_mm=(rng.choice(BOARDS),), fit_mm=0.2)
    root = rng.uniform(140 if drawn.careless else max(140.0, _LEAST_TIP_MM / drawn.taper), 320)
    half = min(drawn.aspect * root * (1 + drawn.taper) / 4, 1200.0)
    body = _body(rng, board, root)
    wing = _wing(rng, drawn, board, root, half)
    surfaces = [wing, *_tail(rng, board, root, half, body)]
    return Inputs(surfaces=tuple(surfaces), bodies=(body,), motors=_motors(rng, drawn, wing, body)), drawn


def _wing(rng: Random, drawn: Proportions, board: Material, root: float, half: float) -> Surface:
    t, tip = board.thickness_mm, root * drawn.taper
    run = rng.choice([Run.SQUARE, Run.FOLLOW]) if drawn.sweep_deg < 5 else Run.FOLLOW
    layers = 1 if root < 160 else rng.choice([1, 2, 2, 3])
    tip_layers = rng.choice([None, max(1, layers - 1)])
    behind, width = root * rng.uniform(0.22, 0.33), rng.uniform(15, 40)
    controls = _aileron(rng, half, tip) if drawn.panels == 1 else ()
    rear = rng.choice(list(TrailingEdge))
    joiner = rng.choice([None, Joiner(key="surface.wing.joiner", material=PLY, count=2, length_mm=160.0)])
    if not drawn.careless:
        behind, width = min(behind, 0.4 * tip), min(width, 0.2 * tip)
        alone = controls[0].chord_mm if controls else ALONE_MM
        room = tip - behind - width
        if room - alone < _BEHIND_PER_MM * 2 * t:
            rear = TrailingEdge.BEVELLED
        room -= alone if rear is TrailingEdge.SINGLE else 0.0
        most = max(1, math.floor(room / (_BEHIND_PER_MM * t)) - 1)
        layers, tip_layers = min(layers, most + 1), min(layers, tip_layers or layers, most)
        if joiner is not None:
            joiner = replace(joiner, length_mm=min(160.0, 1.6 * half / drawn.panels))
    return Surface(
        key="surface.wing",
        name="wing",
        role=Role.WING,
        build=Build.FOLDED,
        material=board,
        at=(root * 1.2, 45.0),
        stations=_stations(rng, drawn, root, half),
        angle_deg=rng.choice([0.0, 1.0, 2.5]),
        over_spar=rng.choice([OverSpar.CREASED, OverSpar.CREASED, OverSpar.BENT]),
        nose=rng.choice(list(Nose)),
        trailing_edge=rear,
        spar=Spar(
            key="surface.wing.spar",
            material=board,
            layers=layers,
            width_mm=width,
            behind_mm=behind,
            run=run,
            tip_layers=tip_layers,
        ),
        joiner=joiner,
        patches=rng.choice([None, CARD]),
        controls=controls,
        nose_height_mm=rng.choice([None, 2.2 * t]),
    )


def _stations(rng: Random, drawn: Proportions, root: float, half: float) -> tuple[Station, ...]:
    rise = rng.uniform(0, 8)
    stations = []
    for i in range(drawn.panels + 1):
        share = i / drawn.panels
        stations.append(
            Station(
                key=f"surface.wing.stations[{i}]",
                out_mm=half * share,
                back_mm=half * share * math.tan(math.radians(drawn.sweep_deg)),
                chord_mm=root * (1 + (drawn.taper - 1) * share),
                dihedral_deg=rise + 2.0 * i if i < drawn.panels else 0.0,
            )
        )
    return tuple(stations)


def _aileron(rng: Random, half: float, tip: float) -> tuple[Control, ...]:
    if rng.random() < 0.4:
        return ()
    return (
        Control(
            key="surface.wing.aileron",
            word="aileron",
            from_mm=0.5 * half,
            to_mm=0.95 * half,
            chord_mm=tip * rng.uniform(0.15, 0.3),
            throw_deg=rng.uniform(10, 30),
            horn=rng.choice([None, PLY]),
        ),
    )


def _body(rng: Random, board: Material, root: float) -> Body:
    length, width = root * rng.uniform(3.4, 4.6), rng.uniform(45, 90)
    high = rng.uniform(70, 110)
    saddle = root * 1.2
    side = [
        (0.0, high * 0.1, high * 0.6),
        (0.3 * root, 0.0, high),
        (saddle + 1.3 * root, 0.0, high),
        (length, high * 0.3, high * 0.75),
    ]
    return Body(
        key="body.hull",
        name="hull",
        material=board,
        width_mm=width,
        side=tuple(
            SideReading(key=f"body.hull.side[{i}]", along_mm=x, bottom_mm=low, top_mm=top)
            for i, (x, low, top) in enumerate(side)
        ),
        corners=rng.choice(list(Corners)),
        build=BodyBuild.BOX,
        formers=tuple(
            Former(key=f"body.hull.formers[{i}]", at_mm=at)
            for i, at in enumerate((0.35 * root, saddle - 12.0, saddle + 1.1 * root, length * 0.85))
        ),
        deck_mm=(saddle + 1.15 * root, length),
        hatch_mm=(0.4 * root, saddle - 15.0),
        nose_doubler_mm=rng.choice([None, (0.3 * root, saddle - 20.0)]),
    )


def _tail(rng: Random, board: Material, root: float, half: float, body: Body) -> tuple[Surface, ...]:
    length, top = body.side[-1].along_mm, body.side[-1].top_mm
    chord, span = root * 0.45, min(0.45 * half, 300.0)
    taper = rng.uniform(0.6, 1)

    def stations(key: str, out: float, back: float) -> tuple[Station, ...]:
        return (
            Station(key=key, out_mm=0.0, back_mm=0.0, chord_mm=chord),
            Station(key=key, out_mm=out, back_mm=back, chord_mm=chord * taper),
        )

    elevator = Control(
        key="surface.tail.elevator",
        word="elevator",
        from_mm=body.width_mm / 2 + 6,
        to_mm=span * 0.95,
        chord_mm=chord * 0.3,
        throw_deg=20.0,
    )
    rudder = Control(
        key="surface.fin.rudder",
        word="rudder",
        from_mm=6.0,
        to_mm=0.9 * span * 0.7,
        chord_mm=chord * 0.3,
        throw_deg=25.0,
    )
    tail = Surface(
        key="surface.tail",
        name="tail",
        role=Role.STABILISER,
        build=Build.FLAT,
        material=board,
        at=(length - chord * 1.05, (body.side[-1].bottom_mm + top) / 2),
        stations=stations("surface.tail", span, rng.uniform(0, 20)),
        controls=(elevator,) if span * 0.95 > body.width_mm / 2 + 30 else (),
    )
    fin = Surface(
        key="surface.fin",
        name="fin",
        role=Role.FIN,
        build=Build.FLAT,
        material=board,
        at=(length - chord * 1.1, top + 3.0),
        stations=stations("surface.fin", span * 0.7, rng.uniform(0, 25)),
        controls=(rudder,),
    )
    return tail, fin


def _motors(rng: Random, drawn: Proportions, wing: Surface, body: Body) -> tuple[Motor, ...]:
    where = rng.choice(["none", "nose", "wing"])
    if where == "none":
        return ()
    wide = 45.0 if where == "wing" else 40.0
    ahead, disc = rng.uniform(25, 50), rng.uniform(127, 229)
    clearance = 20.0
    if not drawn.careless:
        wide = 45.0 if where == "wing" else body.width_mm
        clearance = _beside_stations(wing, body.width_mm / 2 + disc / 2, wide / 2 + 12.0) or clearance
        ahead += wide * math.tan(math.radians(drawn.sweep_deg)) if where == "wing" else 0.0
    return (
        Motor(
            key="motor.m",
            name="m",
            on=wing.name if where == "wing" else body.name,
            on_wing=where == "wing",
            ahead_mm=ahead,
            firewall=Firewall(key="motor.m.firewall", material=PLY, width_mm=wide),
            propeller=Propeller(key="motor.m.propeller", diameter_mm=disc),
            clearance_mm=clearance if where == "wing" else None,
            right_deg=2.0 if where == "nose" else 0.0,
            down_deg=rng.choice([0.0, 2.0]),
        ),
    )


def _beside_stations(wing: Surface, out_mm: float, half_mm: float) -> float | None:
    """A clearance, 20 mm or more, that keeps a mount off the stations; None: there is none on the wing."""
    inner = [one.out_mm for one in wing.stations[1:-1]]
    for more in range(20, 300, 5):
        if out_mm + more + half_mm > wing.half_span_mm:
            return None
        if all(abs(out_mm + more - one) > half_mm for one in inner):
            return float(more)
    return None
