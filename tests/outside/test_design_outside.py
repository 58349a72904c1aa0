"""A design's numbers against what builders and standards bodies hold true."""

import pytest

from foamcut.design.design import read_design

DESIGN = """format = 1
[plan]
name = "x"
[sketch]
units = "{units}"
scale = {scale}
[sizes]
measure = "{measure}"
[stock.board]
material = "foam board"
thickness = "{thickness}"
[parts.a]
stock = "board"
circle = "measure"
"""


def sizes(units: str, scale: int, measure: str, thickness: str = "5 mm") -> dict[str, float]:
    text = DESIGN.format(units=units, scale=scale, measure=measure, thickness=thickness)
    return {row.key: row.mm for row in read_design(text.encode(), "x.toml").sizes_table}


@pytest.mark.parametrize(
    ("scale", "measure", "board_inches"),
    [
        (8, "2 1/2", 20),
        (8, "1/8", 1),
        (8, "3 3/4", 30),
        (6, "1 1/4", 7.5),
        (12, "2", 24),
        (1, "3/16", 0.1875),
    ],
)
def test_a_plan_measure_times_a_whole_factor_is_the_board_measure(
    scale: int, measure: str, board_inches: float
):
    """2 1/2 in on a plan drawn at one eighth is 20 in on the board.

    Source: common practice, no source (whole-number multipliers for enlarging plans by hand).
    """
    assert sizes("in", scale, measure)["sizes.measure"] == pytest.approx(board_inches * 25.4, abs=1e-9)


@pytest.mark.parametrize(("measure", "mm"), [("92", 552), ("34", 204), ("27", 162)])
def test_a_millimetre_plan_at_one_sixth(measure: str, mm: float):
    """The same in millimetres: 92 on the plan is 552 mm. Source: common practice, no source."""
    assert sizes("mm", 6, measure)["sizes.measure"] == mm


@pytest.mark.parametrize(
    ("text", "mm"), [("1 in", 25.4), ("3/16 in", 4.7625), ("1 ft", 304.8), ("0.19 in", 4.826)]
)
def test_an_inch_is_25_4_mm(text: str, mm: float):
    """The inch of 1959 is 25.4 mm exactly, the foot 12 of them.

    Source: memory (international yard and pound agreement, 1959: 1 yd = 0.9144 m); arithmetic, 0.9144 m / 36.
    """
    assert sizes("mm", 6, "1", text)["stock.board.thickness"] == mm
    assert sizes("in", 8, "1", text)["stock.board.thickness"] == mm
    assert mm / 25.4 == pytest.approx(mm * 36 / 914.4)
