"""Measured quantities: every unit that is read, and what is said of those that people write besides."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.design.quantities import Quantity, read_quantity
from foamcut.design.sums import SumError

Q = Quantity


@pytest.mark.parametrize(
    ("raw", "quantity", "value"),
    [
        ("158 g", Q.MASS, 158),
        ("1.5 kg", Q.MASS, 1500),
        ("180 W", Q.POWER, 180),
        ("180W", Q.POWER, 180),
        ("3.2 V", Q.VOLTAGE, 3.2),
        ("1/2 A", Q.CURRENT, 0.5),
        ("2200 mAh", Q.CHARGE, 2200),
        ("6000 rpm", Q.TURNS, 6000),
        ("1100 rpm/V", Q.SPEED_CONSTANT, 1100),
        ("90 s", Q.TIME, 90),
        ("6 1/2 min", Q.TIME, 390),
        ("8 m/s", Q.SPEED, 8),
        ("-5 degC", Q.TEMPERATURE, -5),
        ("6.7 g/m", Q.LINE_MASS, 6.7),
        ("60 g/m2", Q.AREA_MASS, 60),
    ],
)
def test_every_unit_is_read(raw: str, quantity: Quantity, value: float):
    """A number and its unit, with or without a space between, come out in the quantity's first unit."""
    assert read_quantity(raw, quantity) == value


def test_ounces_and_pounds():
    """Arithmetic: the avoirdupois pound of 453.59237 g, sixteen ounces to the pound (agreement of 1959)."""
    assert read_quantity("1 lb", Q.MASS) == 453.59237
    assert read_quantity("16 oz", Q.MASS) == 453.59237


@pytest.mark.parametrize(
    ("raw", "quantity", "words"),
    [
        ("2200mah", Q.CHARGE, 'did you mean "mAh"? Write "2200 mAh"'),
        ("2.2 Ah", Q.CHARGE, 'write "2200 mAh"'),
        ("2200", Q.CHARGE, '2200 has no unit; write "2200 mAh"'),
        (2200, Q.CHARGE, '2200 has no unit; write "2200 mAh"'),
        ("25 C", Q.TEMPERATURE, 'write "25 degC"'),
        ("25 °C", Q.TEMPERATURE, 'write "25 degC"'),
        ("77 F", Q.TEMPERATURE, 'write "25 degC"'),
        ("-40 degF", Q.TEMPERATURE, 'write "-40 degC"'),
        ("25 C", Q.CURRENT, "a multiple of the capacity; write amperes"),
        ("20 amps", Q.CURRENT, 'write "20 A"'),
        ("500 mA", Q.CURRENT, 'write "0.5 A"'),
        ("20 a", Q.CURRENT, 'did you mean "A"? Write "20 A"'),
        ("180 w", Q.POWER, 'did you mean "W"? Write "180 W"'),
        ("0.18 kW", Q.POWER, 'write "180 W"'),
        ("1100 KV", Q.SPEED_CONSTANT, 'write "1100 rpm/V"'),
        ("1100 rpm/v", Q.SPEED_CONSTANT, 'Write "1100 rpm/V"'),
        ("60 g/m²", Q.AREA_MASS, 'Write "60 g/m2"'),
        ("60 gsm", Q.AREA_MASS, 'write "60 g/m2"'),
        ("0.6 g/dm2", Q.AREA_MASS, 'write "60 g/m2"'),
        ("60 g/m", Q.AREA_MASS, "is a mass along a line; write a mass over an area in g/m2"),
        ("0.067 g/cm", Q.LINE_MASS, 'write "6.7 g/m"'),
        ("6 min", Q.MASS, "is a time; write a mass in g kg oz lb, such as"),
        ("12 quids", Q.MASS, "is none of the units g, kg, oz, lb; write a mass"),
        ("6 ounces", Q.MASS, 'write "170.1 g"'),
        ("1e3 g", Q.MASS, "has an exponent"),
        ("some g", Q.MASS, "does not begin with a number"),
        ("9999999 mAh", Q.CHARGE, "over 1e6"),
        (True, Q.MASS, "true where a number is due"),
    ],
)  # fmt: skip
def test_other_units_are_told_with_the_number_to_write(raw: object, quantity: Quantity, words: str):
    """Who writes by habit is told what to write instead, worked out."""
    with pytest.raises(SumError) as caught:
        read_quantity(raw, quantity)
    assert words in str(caught.value)


def test_an_ounce_over_a_square_foot():
    """Arithmetic: 28.349523125 g over 0.3048^2 m2 are 305.15 g/m2, and a ninth of it for the square yard."""
    for raw, words in (
        ("0.2 oz/ft2", '"61.03 g/m2"'),
        ("1.8 oz/yd2", '"61.03 g/m2"'),
        ("1 oz/ft", '"93.01 g/m"'),
    ):
        quantity = Q.LINE_MASS if raw.endswith("ft") else Q.AREA_MASS
        with pytest.raises(SumError, match=words):
            read_quantity(raw, quantity)


@pytest.mark.parametrize("quantity", list(Quantity))
def test_an_example_is_read(quantity: Quantity):
    """What a refusal shows may be typed; the first unit counts one."""
    assert read_quantity(quantity.value.example, quantity) > 0
    assert read_quantity(f"1 {quantity.unit}", quantity) == 1


@given(
    st.one_of(st.text(st.sampled_from("0123456789 ./-+gkmWAVhCFrpn2²°"), max_size=12), st.text(max_size=12))
)
def test_any_text_is_a_number_or_a_refusal_with_advice(text: str):
    """Whatever is written, the words say what to do."""
    for quantity in Quantity:
        try:
            read_quantity(text, quantity)
        except SumError as err:
            assert ";" in str(err) or "Write" in str(err)
            assert str(err).isprintable()
