"""Reports made by hand for the pictures of the balance, and a model for them; every number is made up."""

from foamcut.airframe.values import (
    Body,
    Firewall,
    Inputs,
    Material,
    Motor,
    Propeller,
    Role,
    SideReading,
    Station,
    Surface,
)
from foamcut.airframe.values import Build as How
from foamcut.draw.values import Title
from foamcut.flight.figures import Group, Item, Loaded, Number, PlaceRow, Report, Sort
from foamcut.flight.values import Aboard, Carried, Model

BOARD = Material(name="board", thickness_mm=5.0, boards_mm=((694.0, 494.0),), fit_mm=0.2)


def title(units: str = "mm", name: str = "curlew-4", words: str = "Glider that reads tide gauges") -> Title:
    return Title(
        name=name,
        title=words,
        revision="C",
        maker="Salt-marsh station workshop",
        licence="",
        scale_text="1:6",
        tool="knife",
        sketch_unit=units,
        sketch_scale=6.0,
        version="0",
    )


def surface(name: str, role: Role, at: tuple[float, float], half: float, root: float, tip: float) -> Surface:
    stations = (
        Station(key=f"surface.{name}.stations[0]", out_mm=0.0, back_mm=0.0, chord_mm=root, dihedral_deg=3.0),
        Station(key=f"surface.{name}.stations[1]", out_mm=half, back_mm=root - tip, chord_mm=tip),
    )
    return Surface(
        key=f"surface.{name}",
        name=name,
        role=role,
        build=How.FLAT,
        material=BOARD,
        at=at,
        stations=stations,
        angle_deg=0.0 if role is Role.FIN else 2.0,
    )


WING = surface("wing", Role.WING, (240.0, 55.0), 550.0, 200.0, 160.0)
TAIL = surface("tail", Role.STABILISER, (780.0, 55.0), 180.0, 90.0, 70.0)
FIN = surface("fin", Role.FIN, (760.0, 62.0), 120.0, 110.0, 70.0)
HULL = Body(
    key="body.hull",
    name="hull",
    material=BOARD,
    width_mm=62.0,
    side=tuple(
        SideReading(key=f"body.hull.side[{i}]", along_mm=a, bottom_mm=b, top_mm=c)
        for i, (a, b, c) in enumerate([(0, 10, 40), (60, 0, 80), (400, 0, 80), (870, 35, 62)])
    ),
)
NOSE_MOTOR = Motor(
    key="motor.nose",
    name="nose",
    on="hull",
    on_wing=False,
    ahead_mm=25.0,
    firewall=Firewall(key="motor.nose.firewall", material=BOARD, width_mm=50.0),
    propeller=Propeller(key="motor.nose.propeller", diameter_mm=203.0, pitch_mm=100.0),
    at_mm=(0.0, 25.0),
)


def model(inputs: Inputs) -> Model:
    return Model(inputs=inputs, cuts=(), standing=(), stocks={})


def powered() -> Model:
    return model(Inputs(surfaces=(WING, TAIL, FIN), bodies=(HULL,), motors=(NOSE_MOTOR,)))


def battery(**more: object) -> Aboard:
    facts: dict[str, object] = {
        "key": "aboard[0]",
        "name": "battery",
        "kind": Carried.BATTERY,
        "at": (120.0, 20.0),
        "mass_g": 165.0,
        "size_mm": (105.0, 34.0, 25.0),
        "slides_mm": (80.0, 220.0),
    }
    return Aboard(**(facts | more))  # type: ignore[arg-type]


def item(name: str, grams: float, x: float | None, sort: Sort, key: str = "", share: float = 0.0) -> Item:
    return Item(
        key=key or name,
        name=name,
        sort=sort,
        mass_g=grams,
        low_g=grams * (1 - share),
        high_g=grams * (1 + share),
        at=None if x is None else (x, 0.0, 20.0),
    )


ITEMS = (
    item("wing-skin-right", 98.0, 330.0, Sort.BOARD, share=0.05),
    item("wing-skin-left", 98.0, 330.0, Sort.BOARD, share=0.05),
    item("hull-side-right", 45.0, 400.0, Sort.BOARD),
    item("hull-side-left", 45.0, 400.0, Sort.BOARD),
    item("fin", 8.0, 815.0, Sort.BOARD),
    item("glue", 22.0, None, Sort.GLUE, share=0.5),
    item("motor nose", 52.0, -10.0, Sort.MOTOR, key="motor.nose"),
    item("propeller", 11.0, -25.0, Sort.MOTOR, key="motor.nose.propeller", share=0.3),
    item("battery", 165.0, 120.0, Sort.BATTERY, key="aboard[0]"),
    item("receiver", 8.0, 260.0, Sort.RADIO, key="aboard[1]", share=0.4),
    item("servo aileron", 9.0, 330.0, Sort.RADIO, key="servo[0]"),
    item("servo aileron", 9.0, 330.0, Sort.RADIO, key="servo[0]"),
    item("tide gauge", 60.0, 300.0, Sort.OTHER, key="aboard[2]"),
)

THINGS = (
    battery(),
    Aboard(key="aboard[1]", name="receiver", kind=Carried.RECEIVER, at=(260.0, 30.0)),
    Aboard(
        key="aboard[2]",
        name="tide gauge",
        kind=Carried.OTHER,
        at=(300.0, 12.0),
        mass_g=60.0,
        size_mm=(40.0, 40.0, 20.0),
        may_sit=((340.0, 12.0), (380.0, 12.0)),
    ),
)


def number(name: str, value: float, unit: str, group: Group, low: float, high: float) -> Number:
    return Number(
        name=name,
        title=name.replace("_", " "),
        value=value,
        unit=unit,
        group=group,
        low=low,
        high=high,
        source="made up",
    )


NUMBERS = (
    number("neutral_point", 331.0, "mm", Group.STABILITY, 322.0, 340.0),
    number("neutral_point_formula", 326.5, "mm", Group.STABILITY, 326.5, 326.5),
    number("stall_speed", 7.1, "m/s", Group.SPEED, 6.5, 7.9),
    number("approach_speed", 9.2, "m/s", Group.SPEED, 8.4, 10.3),
    number("pitch_speed", 17.6, "m/s", Group.POWER, 15.2, 19.9),
)


def report(
    items: tuple[Item, ...] = ITEMS, numbers: tuple[Number, ...] = NUMBERS, *, known: bool = True
) -> Report:
    placed = [one for one in items if one.at]
    mass = sum(one.mass_g for one in items)
    at = sum(one.mass_g * one.at[0] for one in placed if one.at) / max(sum(o.mass_g for o in placed), 1e-9)
    now = Loaded(
        mass_g=mass,
        low_g=sum(one.low_g for one in items),
        high_g=sum(one.high_g for one in items),
        at=(at, 0.0, 25.0),
        along_low_mm=at - 5.0,
        along_high_mm=at + 7.0,
        target_mm=288.0,
        inertia_kg_m2=(0.01, 0.02, 0.03),
    )
    drawn = PlaceRow(
        moved=(("battery", 120.0, 20.0), ("tide gauge", 300.0, 12.0)),
        along_mm=at,
        mean_chord_share=0.3,
        is_drawn=True,
    )
    best = PlaceRow(
        moved=(("battery", 168.0, 20.0), ("tide gauge", 340.0, 12.0)),
        along_mm=288.0,
        mean_chord_share=0.25,
        lead_mm=400.0,
        is_best=True,
    )
    return Report(
        numbers=numbers,
        items=items,
        loaded=now if known and placed else None,
        places=(drawn, best) if known else (),
        throws=(),
        findings=(),
    )
