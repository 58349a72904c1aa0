"""The model on the scales beside the sum; the whole of what counts."""

import warnings

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.airframe.values import Inputs
from foamcut.findings import Level
from foamcut.flight.figures import Item, Sort
from foamcut.flight.values import Aboard, Carried, Model, Setup, Weighed, Wishes
from foamcut.flight.weights import weighed
from foamcut.flight.weights_scales import scale_items
from tests.flight.weights_sample import design_model, model_of


def item(mass, along, name="a", **more) -> Item:
    at = None if along is None else (along, 0.0, 10.0)
    return Item(key=name, name=name, sort=Sort.OTHER, mass_g=mass, low_g=mass, high_g=mass, at=at, **more)


FRONT, REAR = item(100.0, 100.0), item(300.0, 300.0, "b")
REST = (FRONT, REAR)  # 400 g at 250


def total(items):
    return sum(one.mass_g for one in items)


def balance(items):
    placed = [one for one in items if one.at is not None]
    return sum(one.mass_g * one.at[0] for one in placed) / sum(one.mass_g for one in placed)


def scales(mass=None, along=None):
    return Weighed(model_mass_g=mass, model_along_mm=along)


def test_nothing_is_added_to_a_model_that_was_not_weighed():
    assert scale_items(REST, scales()) == ((), ())


def test_what_is_over_lies_where_the_rest_balances_and_spreads_as_the_rest():
    """Arithmetic: 100 g at -150 and 300 g at +50 from 250: mean square (100 x 150^2 + 300 x 50^2) / 400."""
    (over,), (said,) = scale_items(REST, scales(440.0))
    assert over.mass_g == over.low_g == over.high_g == pytest.approx(40.0)
    assert over.at == pytest.approx((250, 0, 10))
    assert over.spread_mm2 == pytest.approx((7500, 0, 0))
    assert over.name == "what was weighed over the sum" and over.key == "weighed.model"
    assert said.code == "weighed-differs" and said.level is Level.NOTE
    assert "40 g or 10 % more" in said.text


def test_less_than_the_sum_is_a_mass_below_nothing():
    (over,), (said,) = scale_items(REST, scales(340.0))
    assert over.mass_g == pytest.approx(-60.0) and total((*REST, over)) == pytest.approx(340)
    assert said.level is Level.WARNING and "60 g or 15 % less" in said.text and "60 g too many" in said.mend


def test_a_small_difference_is_not_told_of():
    assert scale_items(REST, scales(404.0))[1] == ()


def test_the_place_of_what_is_over_is_worked_out_from_the_balance():
    """Arithmetic: (440 x 245 - 400 x 250) / 40 = 195."""
    (over,), said = scale_items(REST, scales(440.0, 245.0))
    assert over.at[0] == pytest.approx(195)
    assert balance((*REST, over)) == pytest.approx(245)
    (place,) = (one for one in said if "balances" in one.text)
    assert "5 mm before" in place.text and "20 g moved by 100 mm" in place.mend


def test_what_would_lie_off_the_model_is_shared_to_its_ends():
    """A hundredth of a gram cannot move the balance by 10 mm from a place on the model."""
    several, _ = scale_items(REST, scales(400.01, 260.0))
    assert [one.at[0] for one in several] == [100.0, 300.0]
    assert total((*REST, *several)) == pytest.approx(400.01)
    assert balance((*REST, *several)) == pytest.approx(260.0)


def test_a_balance_alone_moves_no_mass_in_or_out():
    several, _ = scale_items(REST, scales(None, 260.0))
    assert total(several) == pytest.approx(0, abs=1e-9)
    assert balance((*REST, *several)) == pytest.approx(260.0)


def test_a_model_of_nothing_that_was_weighed_is_what_was_weighed():
    (over,), said = scale_items((), scales(500.0, 200.0))
    assert over.mass_g == 500.0 and over.at == (200.0, 0.0, 0.0) and said == ()
    (over,), _ = scale_items((), scales(500.0))
    assert over.at is None
    assert scale_items((), scales(None, 200.0)) == ((), ())


def test_a_model_in_one_place_can_only_be_made_heavier():
    (over,), _ = scale_items((FRONT,), scales(100.2, 150.0))
    assert over.at == FRONT.at and over.mass_g == pytest.approx(0.2)


@given(
    st.lists(st.tuples(st.floats(0.1, 500), st.floats(-100, 1500)), min_size=2, max_size=8),
    st.floats(0.3, 3.0),
    st.floats(0.0, 1.0),
    st.booleans(),
)
def test_the_sum_is_always_what_the_scales_say(rows, share, where, loose):
    things = [item(mass, along) for mass, along in rows] + ([item(7.0, None)] if loose else [])
    alongs = [along for _, along in rows]
    if max(alongs) - min(alongs) < 1.0:
        return
    mass = total(things) * share
    along = min(alongs) + where * (max(alongs) - min(alongs))
    placed = sum(one.mass_g for one in things if one.at is not None)
    if abs(placed + mass - total(things)) < 0.1:
        return  # nothing with a place would be left
    several, _ = scale_items(things, scales(mass, along))
    assert total((*things, *several)) == pytest.approx(mass, rel=1e-6, abs=1e-6)
    assert balance((*things, *several)) == pytest.approx(along, rel=1e-4, abs=1e-3)


# ---- the whole


def test_everything_of_a_twin_counts_once():
    model = design_model("cordgrass-2.toml")
    battery = Aboard(key="aboard[0]", name="battery", kind=Carried.BATTERY, at=(130.0, 30.0), mass_g=182.0)
    found = weighed(model, Setup(aboard=(battery,), wishes=Wishes(paint_g_m2=40.0)))
    names = [one.name for one in found.items]
    assert len(set(names)) == len(names)
    assert len(names) == len(model.cuts) + 2 + 1 + 4 + 3 + 2 + 1  # glue, tape; paint; motors; servos; dowels
    assert all(one.low_g <= one.mass_g <= one.high_g for one in found.items)
    assert all(one.at is not None for one in found.items)
    # nothing of it leans to a side but the horn of the rudder
    off = sum(one.mass_g * one.at[1] for one in found.items) / total(found.items)
    assert abs(off) < 0.3


def test_scales_of_the_whole_go_before_the_sum():
    model = design_model("cordgrass-2.toml")
    found = weighed(model, Setup(weighed=scales(700.0, 320.0)))
    assert total(found.items) == pytest.approx(700.0)
    assert balance(found.items) == pytest.approx(320.0)
    assert {one.code for one in found.findings} == {"weighed-differs"}


def test_a_model_of_nothing_weighs_nothing():
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        found = weighed(model_of([]), Setup())
    assert found.items == () and found.findings == ()


def test_things_without_a_model_count():
    one = Aboard(key="aboard[0]", name="weight", kind=Carried.BALLAST, at=(0.0, 0.0), mass_g=5.0)
    found = weighed(model_of([]), Setup(aboard=(one,)))
    assert [thing.mass_g for thing in found.items] == [5.0]


def test_hardware_has_no_mass_and_is_named():
    model = Model(inputs=Inputs(), cuts=(), standing=(), stocks={}, hardware=("rubber band",))
    (found,) = weighed(model, Setup()).findings
    assert found.code == "hardware-unweighed" and '"rubber band"' in found.text


def test_hardware_that_is_carried_or_counted_is_not_told_of():
    names = ("rubber bands, 80 mm", "strapping tape", "hot glue stick", "screw M3")
    model = Model(inputs=Inputs(), cuts=(), standing=(), stocks={}, hardware=names)
    bands = Aboard(key="aboard[0]", name="rubber band", kind=Carried.OTHER, at=(0.0, 0.0), mass_g=3.0)
    (found,) = weighed(model, Setup(aboard=(bands,))).findings
    assert '"screw M3";' in found.text and "rubber" not in found.text and "strapping" not in found.text


def test_the_same_model_gives_the_same_things():
    model = design_model("thrift-1.toml")
    assert weighed(model, Setup()) == weighed(model, Setup())
