"""A trainer drawn part by part: whatever of its sizes is changed, its parts still go together."""

import re
from pathlib import Path

import pytest

from foamcut.design.design import Design, read_design
from foamcut.flat.build import build_part, check_fits
from foamcut.flat.drawn import Turns

HERE = Path(__file__).parent
DRAWN = {"mm": HERE / "drawn-trainer.toml", "in": HERE / "drawn-trainer-in.toml"}


def _assert_parts_fit(design: Design) -> None:
    """No part is longer or wider than the board inside its margin."""
    stocks = {stock.name: stock for stock in design.stocks}
    for drawn in design.parts:
        stock = stocks[drawn.stock]
        sheet = stock.sheets[0]
        long, short = sorted((sheet.width_mm, sheet.height_mm), reverse=True)
        for part in build_part(drawn)[0]:
            assert max(part.length_mm, part.width_mm) <= long - 2 * stock.margin_mm, part.name
            assert min(part.length_mm, part.width_mm) <= short - 2 * stock.margin_mm, part.name
            if part.length_mm < part.width_mm and drawn.stock == "board":
                assert drawn.turns is Turns.QUARTER, part.name  # else it must stand across the board


#: sizes as a builder changes them: each alone, and several at once; full sizes in mm stand in the test
CHANGES: dict[str, tuple[dict[str, str], ...]] = {
    "mm": (
        {},
        {"half_span": "110"},
        {"half_span": "60"},
        {"root_chord": "40"},
        {"root_chord": "30"},
        {"tip_chord": "20"},
        {"width": '"80 mm"'},
        {"width": '"50 mm"'},
        {"t": '"3 mm"'},
        {"t": '"6 mm"'},
        {"half_span": "100", "root_chord": "40", "width": '"72 mm"', "t": '"6 mm"'},
    ),
    "in": (
        {},
        {"half_span": '"3 1/8"'},
        {"half_span": '"1 3/4"'},
        {"root_chord": '"1 1/4"'},
        {"root_chord": '"7/8"'},
        {"tip_chord": '"5/8"'},
        {"width": '"7/16"'},
        {"width": '"1/4"'},
        {"t": '"1/8 in"'},
        {"t": '"1/4 in"'},
        {"half_span": '"2 3/4"', "root_chord": '"1 3/16"', "width": '"3/8"', "t": '"1/4 in"'},
    ),
}


def with_sizes(text: str, sizes: dict[str, str]) -> str:
    """The text with other values of names under [sizes], which must be there."""
    for name, value in sizes.items():
        text, count = re.subn(rf"(?m)^{name}( *)= (\"[^\"]*\"|[^ #\n]+)", rf"{name}\1= {value}", text)
        assert count == 1, name
    return text


@pytest.mark.parametrize(
    ("units", "sizes"), [(units, sizes) for units, several in CHANGES.items() for sizes in several]
)
def test_a_trainer_of_other_sizes_stays_in_proportion(units: str, sizes: dict[str, str]):
    """A longer span moves the whole tip, a longer chord the tail: parts still fit, none draws a finding."""
    design = read_design(with_sizes(DRAWN[units].read_text(encoding="utf-8"), sizes).encode(), "x.toml")
    _assert_parts_fit(design)
    rows = {row.key: row.mm for row in design.sizes_table}
    built = [build_part(drawn) for drawn in design.parts]
    parts = {part.name: part for some, _ in built for part in some}
    assert not [finding for _, findings in built for finding in findings]
    assert not check_fits(tuple(parts.values()))

    one = design.plan.scale * (25.4 if units == "in" else 1.0)
    half_span, root_chord = rows["sizes.half_span"], rows["sizes.root_chord"]
    for hand in ("right", "left"):
        wing, layer = parts[f"wing-{hand}"], parts[f"wing-layer-{hand}"]
        # a natural spline through points that lie even-handed about the tip is level there: no overshoot
        assert wing.width_mm == pytest.approx(half_span, abs=0.05)
        assert wing.length_mm == pytest.approx(root_chord, abs=0.05)
        short_of_tip = 2 if units == "mm" else 1 / 16
        assert layer.width_mm == pytest.approx(half_span - short_of_tip * one, abs=0.05)
        assert (
            layer.outline.minus(wing.outline) == ()
            or max(abs(rest.area) for rest in layer.outline.minus(wing.outline)) < 1.0
        )  # mm2: the layer lies on its panel
        assert wing.slots[0].at == layer.slots[0].at
        # the wing lies between the nose and the tail, its root on the saddle
        assert wing.place is not None and parts["stabiliser"].place is not None
        assert wing.place.at[0] + wing.length_mm < parts["stabiliser"].place.at[0]
    assert parts["stabiliser"].width_mm == pytest.approx(2 * half_span * (0.4 if units == "mm" else 5 / 12))
    assert parts["elevator"].width_mm == pytest.approx(parts["stabiliser"].width_mm)
    for name in ("floor-front", "floor-rear", "deck", "hatch", "windscreen", "tail-seat"):
        assert parts[name].width_mm == pytest.approx(rows["sizes.width"] - 2 * rows["sizes.t"]), name


@pytest.mark.parametrize("units", list(DRAWN))
def test_keys_in_comments_are_in_order(units: str):
    """What stands there to be taken out of its comment is read, and the parts can still be built."""
    text = DRAWN[units].read_text(encoding="utf-8")
    opened, count = re.subn(r"(?m)^# ([a-z_]+ = )", r"\1", text)
    assert count == 2
    design = read_design(opened.encode(), "x.toml")
    assert design.plan.kerf_mm == pytest.approx(0.2, abs=0.01)
    _assert_parts_fit(design)
    sides = [part for part in design.parts if part.joint_lines]
    assert sides
    for side in sides:
        assert side.doubling is not None
        x_mm = side.joint_lines[0].x_mm or 0.0
        ends = [build_part(side)[0][0].outline.bounds[2], *(cutout.at[0] for cutout in side.cutouts)]
        assert min(abs(x_mm - end) for end in ends) > side.doubling.overlap_mm
