"""Things with mass and place, a wing and a body, put together by hand.  g, mm."""

from typing import Any

from foamcut.airframe.values import Build, Inputs, Role, Station, Surface
from foamcut.flight.figures import Item, Loaded, PlaceRow, Sort
from foamcut.flight.loading import loaded, loading_figures, places
from foamcut.flight.planform import Cross, Lifting, Planform
from foamcut.flight.values import Aboard, Carried, Model, Setup, Target, Wishes
from tests.airframe.body_sample import BOARD, body, dowels, plain

BATTERY = "aboard[0]"


def item(mass: float, along: float, *, out: float = 0.0, up: float = 0.0, **more: Any) -> Item:
    """A thing whose mass is known; `range` (low, high) of one whose mass is not."""
    low, high = more.pop("range", (mass, mass))
    values: dict[str, Any] = {"key": "parts.block", "name": "block", "sort": Sort.OTHER} | more
    return Item(**{"mass_g": mass, "low_g": low, "high_g": high, "at": (along, out, up)} | values)


def battery(at: tuple[float, float] = (132.0, 40.0), mass: float = 180.0, **more: Any) -> Aboard:
    values: dict[str, Any] = {
        "key": BATTERY,
        "name": "battery",
        "kind": Carried.BATTERY,
        "size_mm": (105.0, 34.0, 24.0),
    }
    return Aboard(**values | {"at": at, "mass_g": mass} | more)


def items_of(*things: Aboard) -> tuple[Item, ...]:
    """What things aboard count as."""
    sides = [(one, out) for one in things for out in ((1, -1) if one.mirrored else (1,))]
    return tuple(
        item(
            one.mass_g or 0.0, one.at[0], out=side * one.out_mm, up=one.at[1], key=one.key, name=one.name,
            sort=Sort.BATTERY if one.kind is Carried.BATTERY else Sort.RADIO,
        )
        for one, side in sides
    )  # fmt: skip


def plank(
    chord: float = 200.0, half_span: float = 500.0, at: float = 240.0, tip_back: float = 0.0
) -> Planform:
    """A wing alone, flat, of one chord: its mean chord is that chord, half of `tip_back` aft of `at`."""
    key = "surface.wing"
    rows = ((0.0, 0.0), (half_span, tip_back))
    wing = Surface(
        key=key, name="wing", role=Role.WING, build=Build.FLAT, material=BOARD, at=(at, 84.0),
        stations=tuple(
            Station(key=f"{key}.stations[{i}]", out_mm=out, back_mm=back, chord_mm=chord)
            for i, (out, back) in enumerate(rows)
        ),
    )  # fmt: skip
    crosses = tuple(
        Cross(leading_m=((at + back) / 1000, out / 1000, 0.084), chord_m=chord / 1000, angle_deg=0.0)
        for out, back in rows
    )
    lifting = Lifting(
        surface=wing,
        area_m2=2 * half_span * chord / 1e6,
        span_m=2 * half_span / 1000,
        aspect_ratio=2 * half_span / chord,
        mean_chord_m=chord / 1000,
        leading_m=(at + tip_back / 2) / 1000,
        out_m=half_span / 2000,
        up_m=0.084,
        crosses=crosses,
    )
    return Planform(wing=lifting, tail=None, fins=())


def model(inputs: Inputs | None = None) -> Model:
    """A body 864 mm long with nothing in it but two formers and a dowel, or other inputs."""
    usual = Inputs(
        bodies=(plain(formers=body().formers[:2], hatch_mm=(60.0, 228.0)),), dowels=dowels((216.0, 42.0))
    )
    return Model(inputs=usual if inputs is None else inputs, cuts=(), standing=(), stocks={})


def setup(*things: Aboard, target: Target | None = None, **more: Any) -> Setup:
    return Setup(aboard=things, wishes=Wishes(target=target), **more)


def share(value: float) -> Target:
    return Target(key="balance.target", mean_chord_share=value)


def now_of(items: tuple[Item, ...], one: Setup, plan: Planform | None) -> Loaded:
    """The model as drawn; there is something to balance."""
    found = loaded(items, one, plan)
    assert found is not None
    return found


def all_of(items: tuple[Item, ...], one: Setup, plan: Planform | None, built: Model | None = None) -> Any:
    """Loaded, rows of places, figures."""
    built = built or model()
    now = now_of(items, one, plan)
    rows: tuple[PlaceRow, ...] = places(items, now, built, one, plan)
    return now, rows, loading_figures(items, now, rows, built, one, plan)
