"""Numbers of a design: every row of the table of sums, every kind of number, and what is refused."""

import datetime
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.design.quantities import Quantity, read_quantity
from foamcut.design.sums import (
    Kind,
    SumError,
    read_angle,
    read_count,
    read_length,
    read_money,
    read_ratio,
    read_scale,
    read_size,
    read_true_length,
    resolve_sizes,
)

from .making import changed, refused

SIZES, REFUSED = resolve_sizes({"half_span": 92, "root_chord": 34, "tip_chord": 27}, 6, sketch_unit_mm=1)


def read_mass(raw):
    return read_quantity(raw, Quantity.MASS)


def length(raw, scale=6, unit=1):
    return read_length(raw, sizes=SIZES, scale=scale, sketch_unit_mm=unit)


def true_length(raw, unit=1):
    return read_true_length(raw, sizes=SIZES, scale=6, sketch_unit_mm=unit)


# scale 6, half_span 552 mm, root_chord 204 mm, tip_chord 162 mm at full size
TABLE = {
    "half_span - 2": 540,
    "half_span - 2 1/2": 537,
    "half_span - 1/2": 549,
    "half_span - 2 * 3": 516,
    "root_chord / 4 + 3 mm": 54,
    "2 * (root_chord + 1/8 in)": 414.35,
    "root_chord * (1 - 0.25)": 153,
    "1/2 * root_chord": 102,
    "25 % * root_chord": 51,
    "root_chord * tip_chord / half_span": 204 * 162 / 552,
    "2 1/2": 15,
    "3/16 in": 4.7625,
    "1 ft 3 1/2 in": 393.7,
    "1 ft - 3 in": 228.6,
    "max(3, 5 mm)": 18,
    "-1 1/16 in": -26.9875,
    "4 mm * scale": 24,
}


def test_sizes_are_lengths_at_full_size():
    assert REFUSED == []
    assert [(v.kind, v.number) for v in SIZES.values()] == [(Kind.LENGTH, n) for n in (552, 204, 162)]


@pytest.mark.parametrize(("text", "mm"), TABLE.items())
def test_table_of_sums(text, mm):
    """Equal to the last bit: exact fractions, rounded once."""
    assert length(text) == mm


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12", 72),
        ("12.5", 75),
        (".5", 3),
        ("25mm", 25),
        ("7 - 2 - 1", 24),
        ("12 / 3 / 2", 12),
        ("2 + 3 * 4", 84),
        ("(2 + 3) * 4", 120),
        ("-2 * -3", 36),
        ("-(2 + 1)", -18),
        ("min(half_span, root_chord, tip_chord)", 162),
        ("max (1, 2)", 12),
        ("min(3, 5 mm)", 5),
        ("half_span / root_chord * 10 mm", 552 / 204 * 10),
        ("root_chord * (half_span / tip_chord - tip_chord / half_span)", 204 * (552 / 162 - 162 / 552)),
        ("root_chord / scale", 34),
        ("1 m - 1 cm", 990),
        ("1/2 ft 1/2 in", 165.1),
        ("50 % * 50 % * root_chord", 51),
        ("root_chord / 50 %", 408),
        ("(" * 50 + "1" + ")" * 50, 6),
        ("1" + "+1" * 249, 1500),
    ],
)
def test_more_sums(text, mm):
    assert length(text) == pytest.approx(mm, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("tip_chord / root_chord", r"gives a factor \(0.794118\), not a length; multiply"),
        ("root_chord + 25 %", r'25 % stands beside "\+"; a percentage may only be multiplied'),
        ("2 root_chord", r'no sign between; write "2 \* root_chord"'),
        ("3,5 mm", r'"3,5" has a comma; the decimal sign is a full stop: write "3.5"'),
        ("1e3", r'"1e3" has an exponent; write the number out'),
        ("half-span", r'names are joined with _: write "half_span"'),
        ("5 / 0", r'"5 / 0" divides by zero'),
        # and more slips of the same kinds
        ("1.5E-3 mm", "has an exponent"),
        ("1,000 mm", '"1.000", or "1000" if the comma parts the thousands'),
        ("root_chord / (2 - 2)", "divides by zero"),
        ("1/0 in", '"1/0" divides by zero'),
        ("half_spam", 'no name in .sizes.; did you mean "half_span"'),
        ("Half_Span", 'did you mean "half_span"'),
        ("elevator", "no name in .sizes.; add it there"),
        ('5"', 'write "in" or "ft"'),
        ("5'", 'write "in" or "ft"'),
        ("2½ in", 'fractions with a stroke: "1/2"'),
        ("2 × 3", 'write "\\*" to multiply'),
        ("3 − 2", 'ordinary minus "-"'),
        ("2\u00a0mm", "special space"),
        ("2 ^ 3", "no powers"),
        ("25 inch", '"inch" is no unit; write "in"'),
        ("25 MM", '"MM" is no unit; write "mm"'),
        ("25 yd", '"yd" is no unit; write one of mm, cm, m, in, ft'),
        ("1 ft 3", "side by side only feet and inches"),
        ("5 mm 3 mm", "side by side only feet and inches"),
        ("2 3", "two numbers side by side"),
        ("2 5/4", "fraction behind a whole number is 1 or more"),
        ("2.5 1/2", "two numbers side by side"),
        ("25.", "full stop without digits"),
        ("1_000", '"_" in a number'),
        ("(2 + 3", r'"\(" is never closed'),
        ("2 + 3)", r'a "\)" without "\("'),
        ("2 (3)", "no sign between"),
        ("(3) mm", "stands only right behind a number"),
        ("half_span % 2", '"%" has no number right before it'),
        ("mm", '"mm" has no number before it'),
        ("max 3, 5", '"max" has no brackets'),
        ("max()", '"max" has nothing to choose from'),
        ("max(3)", '"max" needs two values'),
        ("(3; 4)", "the sign ; cannot be read"),
        ("max(25 %, 3)", "a percentage may only be multiplied"),
        ("2 +", "stops where a number is due"),
        ("* 2", r'has "\*" where a number is due'),
        ("+2", "leave it out"),
        ("--2", "two minus signs"),
        ("", "is empty"),
        ("   ", "is empty"),
        ("scale", r"gives a factor \(6\)"),
        ("scale - 2", '"-" cannot join a factor and a bare number'),
        ("root_chord + scale", '"\\+" cannot join a length and a factor'),
        ("root_chord * tip_chord", "gives a product of 2 lengths"),
        ("2 / root_chord", "gives a number divided by a length"),
        ("3 / 16 in", 'write a fraction without spaces: "3/16 in"'),
        ("root_chord/3/4", "may be read in two ways"),
        ("25 %", "gives a factor"),
        ("nan", "no name in"),
        ("1001 m", "is 1,001,000 mm, over 1e6 mm"),
        ("9" * 40, "over 1e6 mm"),
        ("9" * 41, "over 40 digits"),
        ("1" + " + 1" * 125, "has 501 letters, over 500"),
        ("(" * 51 + "1" + ")" * 51, "over 50 brackets"),
        ("__import__('os')", "cannot be read"),
    ],
)
def test_refused_sums(text, words):
    with pytest.raises(SumError, match=words):
        length(text)


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        (True, "^true where a number is due"),
        (datetime.date(2031, 4, 2), "^the date or time 2031-04-02 where a number"),
        ([1], "^a list where a number"),
        ({"x": 1}, "^a table where a number"),
        (float("nan"), "^nan is no number"),
        (float("-inf"), "^-inf is no number"),
        (1e300, "too large, over 1e6"),
        pytest.param(10**5000, "a number of over 19 digits", id="5001 digits"),
        (200_000, "1,200,000 mm, over 1e6 mm; check the number, its unit and the scale"),
    ],
)
def test_refused_values(raw, words):
    with pytest.raises(SumError, match=words):
        length(raw)


def test_bare_numbers_are_sketch_measures_in_the_sketch_unit():
    """Trade rule (common practice, no source): 2 1/2 in on the plan at factor 8 is 20 in on the board."""
    for raw in (2.5, "2.5", "2 1/2", "5 / 2"):
        assert length(raw, scale=8, unit=Fraction(254, 10)) == 508 == 20 * 25.4


def test_inch_and_foot():
    """Memory: international yard and pound agreement, 1959: 1 yd = 0.9144 m exactly, so 1 in = 25.4 mm."""
    assert length("1 in") == 25.4
    assert length("36 in") == length("3 ft") == 914.4
    assert read_mass("1 lb") == 453.59237
    assert read_mass("16 oz") == 453.59237


@pytest.mark.parametrize("text", ["25 mm", "2.5 cm", "4 mm * scale", "root_chord / 4", "max(3 mm, 1/8 in)"])
def test_true_lengths(text):
    assert true_length(text) == length(text)


@pytest.mark.parametrize(
    ("raw", "unit", "words"),
    [
        (25, 1, r'^25 has no unit\. Write "25 mm" for a true size, "4 mm \* scale" if read off the sketch$'),
        ("2 1/2", 25.4, r'^2 1/2 has no unit\. Write "2 1/2 in" for a true size, "4 in \* scale"'),
        ("2 + 3", 1, r'^"2 \+ 3" has no unit\. Write "25 mm"'),
        ("5 mm + 1", 1, "^1 has no unit"),
        ("max(5 mm, 1)", 1, "^1 has no unit"),
        (False, 1, "^false where a number is due"),
    ],
)
def test_true_lengths_without_unit(raw, unit, words):
    with pytest.raises(SumError, match=words):
        true_length(raw, unit)


def test_what_the_tool_removes_is_not_read_off_the_sketch():
    """Kerf and fit belong to the tool: scale has no part in them."""
    for key in ("kerf", "fit"):
        found = refused(changed("[stock.board]", f"[cutting]\n{key} = 0.3\n\n[stock.board]"))
        assert found == {f"cutting.{key}": '0.3 has no unit; write "0.3 mm"'}


@pytest.mark.parametrize(
    ("text", "count", "mm"),
    [
        ("700 x 500 mm", 2, (700, 500)),
        ("700x500mm", 2, (700, 500)),
        ("20 x 30 in", 2, (508, 762)),
        ("19 3/4 x 30 in", 2, (501.65, 762)),
        ("2 ft x 4 ft", 2, (609.6, 1219.2)),
        ("1 ft 6 in x 2 ft", 2, (457.2, 609.6)),
        ("105 x 34 x 24 mm", 3, (105, 34, 24)),
    ],
)
def test_sizes_of_boards(text, count, mm):
    assert read_size(text, count) == mm


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        ("700 x 500", "has no unit behind its last number"),
        ("20 in x 30", "has no unit behind its last number"),
        ("700 x 500 x 5 mm", "is not 2 numbers with x between"),
        ("700 mm", "is not 2 numbers with x between"),
        ("700 × 500 mm", '"x" between the numbers of a size'),
        ("700 X 500 mm", "needs a small x"),
        ("700 * 500 mm", "needs a small x"),
        ("3,5 x 5 mm", "has a comma"),
        ("0 x 5 mm", "not above 0"),
        ("-7 x 5 mm", '"-7" is no number with a unit'),
        ("root_chord x 5 mm", "is no number with a unit"),
        ("x 5 mm", "lacks a number beside an x"),
        ("2 km x 3 km", "is no number with a unit"),
        ("2000 x 3 m", "over 1e6 mm"),
        (700, "700 has no unit where a size is due"),
        ([700, 500], "a list where a size is due"),
        ("", "is empty"),
    ],
)
def test_refused_sizes_of_boards(raw, words):
    with pytest.raises(SumError, match=words):
        read_size(raw)


@pytest.mark.parametrize(
    ("reader", "raw", "value"),
    [
        (read_ratio, 0.25, 0.25),
        (read_ratio, "25 %", 0.25),
        (read_ratio, "1/4", 0.25),
        (read_angle, 40, 40),
        (read_angle, "-2 1/2 deg", -2.5),
        (read_angle, "45", 45),
        (read_count, 3, 3),
        (read_money, 3.4, Decimal("3.40")),
        (read_money, 3, Decimal("3.00")),
        (read_mass, "158 g", 158),
        (read_mass, "1.5 kg", 1500),
        (read_mass, "5 1/2 oz", 155.9223771875),
        (read_scale, 6, 6),
        (read_scale, "1/2", Fraction(1, 2)),
        (read_scale, 5.1, Fraction(51, 10)),
    ],
)
def test_other_kinds(reader, raw, value):
    assert reader(raw) == value


@pytest.mark.parametrize(
    ("reader", "raw", "words"),
    [
        (read_ratio, "25 mm", "is no ratio"),
        (read_ratio, True, "true where a number is due"),
        (read_ratio, "0,5", "has a comma"),
        (read_angle, "40°", 'write "deg"'),
        (read_angle, 361, "more than a full turn"),
        (read_angle, "5 mm", "is no angle"),
        (read_count, 2.0, "2.0 where a whole number is due"),
        (read_count, "2", 'the text "2" where a whole number is due'),
        (read_count, True, "true where a whole number is due"),
        (read_count, -1, "-1 is less than 0"),
        (read_count, 10**7, "over 1,000,000"),
        (read_money, "3.40", "write a number alone, such as 3.40"),
        (read_money, 3.405, "more than two places"),
        (read_money, -1, "less than 0"),
        (read_money, 1e300, "far too large"),
        (read_money, float("nan"), "nan is no number"),
        (read_mass, 158, r'158 has no unit; write "158 g" \(g, kg, oz, lb\)'),
        (read_mass, "158", '158 has no unit; write "158 g"'),
        (read_mass, "3 KG", 'did you mean "kg"'),
        (read_mass, "1e3 g", "has an exponent"),
        (read_mass, "some g", "does not begin with a number"),
        (read_mass, "9" * 20 + " g", "over 1e6"),
        (read_scale, "1:8", '"1:8" is a ratio; write 8'),
        (read_scale, 0, "a number above 0"),
        (read_scale, 1e300, "far too large"),
    ],
)
def test_refused_other_kinds(reader, raw, words):
    with pytest.raises(SumError, match=words):
        reader(raw)


def test_lowest_count():
    with pytest.raises(SumError, match="0 is less than 1; write 1 or more"):
        read_count(0, at_least=1)


# ---- [sizes]


def sizes(raw, scale=6):
    return resolve_sizes(raw, scale, sketch_unit_mm=1)


def test_sizes_may_use_those_that_stand_below():
    values, refusals = sizes({"span": "2 * half", "half": "root + 1", "root": 34})
    assert refusals == []
    assert list(values) == ["span", "half", "root"]
    assert values["span"].number == 420


@pytest.mark.parametrize(
    ("raw", "refusals"),
    [
        ({"a": "b", "b": "c + 1", "c": "a"}, [("sizes.a", "a -> b -> c -> a go in a ring; give one of them a number")]),
        ({"u": "a", "b": "a", "a": "b"}, [("sizes.b", "b -> a -> b go in a ring; give one of them a number")]),
        ({"a": "a + 1"}, [("sizes.a", "a uses itself; give it a number")]),
        ({"a": True}, [("sizes.a", 'true where a number is due; write a number or a text such as "25 mm"')]),
        ({"mm": 1}, [("sizes.mm", '"mm" is a word of the sums themselves; choose another name')]),
        ({"x" * 41: 1}, [("sizes." + "x" * 41, "the name has 41 letters, over 40; choose a shorter one")]),
    ],
)
def test_refused_names(raw, refusals):
    assert sizes(raw)[1] == refusals


def test_a_name_that_sums_cannot_read_is_refused_with_a_better_one():
    refusals = sizes({"Half-Span": 1, "left wing": 2, "2nd": 3})[1]
    assert [key for key, _ in refusals] == ["sizes.Half-Span", 'sizes."left wing"', "sizes.2nd"]
    assert [text.rpartition(": ")[2] for _, text in refusals[:2]] == ['"half_span"', '"left_wing"']


def test_a_refused_size_is_told_once():
    values, refusals = sizes({"a": "3,5", "b": "a + 1", "bad-name": 1})
    assert [key for key, _ in refusals] == ["sizes.a", "sizes.bad-name"]
    for text in ("a", "2 * b", "bad-name"):
        with pytest.raises(SumError, match=r"is refused under \[sizes\]; mend it there first") as caught:
            read_length(text, sizes=values, scale=6, sketch_unit_mm=1)
        assert caught.value.follows


def test_no_size_is_a_factor():
    assert "gives a factor" in sizes({"taper": "25 %"})[1][0][1]


def test_long_chains_and_growing_fractions_end():
    """No recursion limit, no fraction that grows until memory is full."""
    chain = {f"s{i}": f"s{i - 1} + 1" if i else 1 for i in reversed(range(5000))}
    assert sizes(chain)[0]["s4999"].number == 30_000
    growing = {"a0": "1/3 mm"}
    for i in range(1, 40):
        many = "*".join([f"a{i - 1}"] * 6)
        growing[f"a{i}"] = f"{many} / ({many[5:]} ) * 1.0000001 + 1/7 mm"
    values, refusals = sizes(growing)
    assert all(v.number.denominator <= 10**30 for v in values.values())
    assert len(refusals) <= len(growing)


def test_products_on_the_way_are_bounded():
    values, _ = sizes({"a": "0.12345678910111213141516171819 mm"})
    with pytest.raises(SumError, match="numbers on the way grow too long"):
        read_length("*".join(["a"] * 250), sizes=values, scale=6, sketch_unit_mm=1)


# ---- properties

NUMBERS = st.one_of(
    st.integers(0, 999).map(lambda n: (str(n), Fraction(n))),
    st.tuples(st.integers(0, 99), st.integers(1, 9999)).map(lambda p: (f"{p[0]}.{p[1]:04}", Fraction(f"{p[0]}.{p[1]:04}"))),
    st.tuples(st.integers(1, 63), st.integers(1, 64)).map(lambda p: (f"{p[0]}/{p[1]}", Fraction(*p))),
    st.tuples(st.integers(1, 99), st.integers(1, 15)).map(lambda p: (f"{p[0]} {p[1]}/16", p[0] + Fraction(p[1], 16))),
)
MM = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": Fraction(254, 10), "ft": Fraction(3048, 10)}


@st.composite
def trees(draw, depth=4):
    """A sum as a nested tuple: ("bare", text, value), ("true", text, value), (sign, left, right), ("-", x)."""
    if depth == 0 or draw(st.booleans()):
        text, number = draw(NUMBERS)
        if draw(st.booleans()):
            return ("bare", text, number)
        unit = draw(st.sampled_from(sorted(MM)))
        return ("true", f"{text} {unit}", number * MM[unit])
    if draw(st.integers(0, 9)) == 0:
        return ("neg", draw(trees(depth=depth - 1)))
    sign = draw(st.sampled_from(["+", "-", "*", "/", "min", "max"]))
    return (sign, draw(trees(depth=depth - 1)), draw(trees(depth=depth - 1)))


def spell(tree):
    """Write a tree with every bracket, so that precedence plays no part."""
    if tree[0] in ("bare", "true"):
        return tree[1]
    if tree[0] == "neg":
        return f"(-({spell(tree[1])}))"
    if tree[0] in ("min", "max"):
        return f"{tree[0]}({spell(tree[1])}, {spell(tree[2])})"
    return f"(({spell(tree[1])}) {tree[0]} ({spell(tree[2])}))"


class NoLength(Exception):
    pass


def work_out(tree, sketch_mm):
    """Return (number, power of mm or None for plain): the rules of kinds, written a second time."""
    if tree[0] == "bare":
        return tree[2], None
    if tree[0] == "true":
        return tree[2], 1
    if tree[0] == "neg":
        number, power = work_out(tree[1], sketch_mm)
        return -number, power
    (a, p), (b, q) = (work_out(side, sketch_mm) for side in tree[1:])
    if tree[0] in "*/":
        if tree[0] == "/" and b == 0:
            raise NoLength
        number = a * b if tree[0] == "*" else a / b
        step = (q or 0) if tree[0] == "*" else -(q or 0)
        return number, None if p is None and q is None else (p or 0) + step
    if p is None and q == 1:
        a, p = a * sketch_mm, 1
    if q is None and p == 1:
        b, q = b * sketch_mm, 1
    if p != q:
        raise NoLength
    return {"+": a + b, "-": a - b, "min": min(a, b), "max": max(a, b)}[tree[0]], p


@given(tree=trees(), scale=st.sampled_from([1, 4, 6, 8, 5.5]), unit=st.sampled_from([1, 10, 25.4]))
def test_a_sum_equals_a_second_reading_of_the_rules(tree, scale, unit):
    text = spell(tree)
    if len(text) > 500 or text.count("(") > 50:
        return
    sketch_mm = Fraction(str(scale)) * Fraction(str(unit))
    try:
        number, power = work_out(tree, sketch_mm)
        if power not in (None, 1) or abs(number * (sketch_mm if power is None else 1)) > 10**6:
            raise NoLength
        expected = float(number * sketch_mm if power is None else number)
    except NoLength:
        with pytest.raises(SumError):
            length(text, scale, unit)
        return
    assert length(text, scale, unit) == expected



@given(st.lists(NUMBERS, min_size=2, max_size=8), st.lists(st.sampled_from("+-*/"), min_size=7, max_size=7))
def test_the_usual_order_of_signs(numbers, signs):
    """Without brackets Python's own precedence on exact fractions is the reference."""
    text = numbers[0][0]
    code = "n[0]"
    for index, ((typed, _), sign) in enumerate(zip(numbers[1:], signs, strict=False), 1):
        text += f" {sign} {typed}"
        code += f"{sign}n[{index}]"
    try:
        expected = eval(code, {"n": [number for _, number in numbers]}) * 6
    except ZeroDivisionError:
        with pytest.raises(SumError, match="divides by zero"):
            length(text)
        return
    if abs(expected) <= 10**6:
        assert length(text) == float(expected)


LETTERS = st.text(st.sampled_from("0123456789 ./,+-*()%mincftx_eE\"'×½ abhalf_spanroot"), max_size=40)


@given(st.one_of(LETTERS, st.text(max_size=30)))
def test_any_text_is_a_number_or_a_refusal_with_advice(text):
    readers = (length, true_length, read_size, read_ratio, read_angle, read_mass, read_scale)
    for reader in readers:
        try:
            reader(text)
        except SumError as err:
            assert ";" in str(err) or "Write" in str(err)
            assert str(err).isprintable()


@given(st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.dates(), st.lists(st.integers())))
def test_any_value_is_a_number_or_a_refusal(raw):
    for reader in (length, true_length, read_size, read_ratio, read_angle, read_count, read_money, read_mass):
        try:
            value = reader(raw)
        except SumError:
            continue
        assert not isinstance(raw, bool)
        assert value == value


@given(st.dictionaries(st.sampled_from("abcdef"), st.sampled_from(["1", "a + b", "c", "d * 2", "e - f", "3,5", "b"])))
def test_any_sizes_end_with_every_name_a_length_or_refused(raw):
    values, refusals = sizes(raw)
    assert list(values) == list(raw)
    refused = [name for name, value in values.items() if value.kind is Kind.REFUSED]
    assert bool(refused) == bool(refusals)
    assert {key.removeprefix("sizes.") for key, _ in refusals} <= set(refused)
