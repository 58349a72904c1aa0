"""Findings of the chain: kerf, bed, stocks that nothing is cut from; and the lines of the summary about them."""

import pytest

from foamcut.plan import Options, check, cut
from foamcut.plan.words import hand_words

BRACKET = """[parts.bracket]
stock = "board"
rectangle = [20, 16]
folds = [ { kind = "groove", from = [10, -1], to = [10, 17], turn = 90, side = "down" } ]
"""

DESIGN = """format = 1
[plan]
name = "samphire"
[sketch]
units = "mm"
scale = 5
[cutting]
tool = "plotter"
{cutting}
[stock.board]
material = "foam board"
thickness = "5 mm"
margin = "{margin}"
gap = "{gap}"
sheets = [ {{ size = "700 x 500 mm" }} ]
[parts.rib]
stock = "board"
count = 4
rectangle = [36, 10]
[parts.spar]
stock = "board"
rectangle = [110, 6]
{more}
"""


def design(cutting: str = "", *, margin: str = "3 mm", gap: str = "2 mm", more: str = "") -> bytes:
    return DESIGN.format(cutting=cutting, margin=margin, gap=gap, more=more).encode()


def found(data: bytes) -> dict[str, list[tuple[str, str]]]:
    codes: dict[str, list[tuple[str, str]]] = {}
    for finding in check(data, "a.toml").findings:
        codes.setdefault(finding.code, []).append((finding.where, finding.text))
    return codes


@pytest.mark.parametrize(
    ("kerf", "where"), [("2 mm", []), ("2.1 mm", ["gap"]), ("2.4 mm", ["gap"]), ("2.5 mm", ["gap", "margin"])]
)
def test_a_kerf_wider_than_the_gap_or_half_of_it_than_the_margin(kerf, where):
    """Half the kerf runs outside each piece: two halves between neighbours, one at the edge (arithmetic)."""
    codes = found(design(f'kerf = "{kerf}"', margin="1.2 mm"))
    assert [key for key, _ in codes.get("kerf-gap", [])] == [f"stock.board.{name}" for name in where]


def test_the_kerf_of_one_part_names_that_part():
    codes = found(design(more='cutting = { kerf = "2.5 mm" }'))
    assert codes["kerf-gap"] == [("stock.board.gap", "the cuts of neighbours run into each other: spar")]


def test_pieces_beyond_the_bed_are_listed_by_hand():
    data = design('bed = "300 x 210 mm"')
    assert found(data)["beyond-bed"] == [("cutting.bed", "to be cut by hand: spar")]
    checked = check(data, "a.toml")
    assert list(hand_words(checked.layouts, (300.0, 210.0), checked.chosen)) == ["by hand: spar"]
    assert "beyond-bed" not in found(design('bed = "600 x 210 mm"'))
    pack = cut(data, "a.toml", Options())
    assert "by hand: spar" in pack.summary


def test_a_bed_on_which_no_piece_fits_leaves_all_to_the_hand():
    assert found(design('bed = "100 x 40 mm"'))["beyond-bed"] == [
        ("cutting.bed", "to be cut by hand: rib (4), spar")
    ]


def test_cuts_behind_pieces_on_a_rectangle_are_done_by_hand():
    fold = 'folds = [ { kind = "groove", from = [10, -1], to = [10, 17], turn = 90, side = "down" } ]'
    more = f'[parts.bracket]\nstock = "board"\nrectangle = [20, 16]\n{fold}'
    codes = found(design('bed = "300 x 210 mm"', more=more))
    ((where, text),) = codes["back-beyond-bed"]
    assert where == "cutting.bed" and text.endswith(": bracket")
    assert "back-beyond-bed" not in found(design(more=more))
    assert "back-beyond-bed" not in found(design('bed = "700 x 500 mm"', more=more))


def test_a_stock_that_nothing_is_cut_from():
    ply = '[stock.ply]\nmaterial = "plywood"\nthickness = "1.5 mm"\nsheets = [ { size = "300 x 200 mm" } ]'
    assert found(design(more=ply))["stock-unused"] == [("stock.ply", "no part is cut from this stock")]


def test_the_folded_shape_of_every_part_is_looked_at_by_check_and_cut():
    """A strip of four panels of 10, folded by 120 degrees each way round: the last passes through the first."""
    folds = ", ".join(
        f'{{ kind = "score", from = [{x}, -1], to = [{x}, 9], turn = 120 }}' for x in (10, 20, 30)
    )
    more = f'[parts.curl]\nstock = "board"\nrectangle = [40, 8]\nfolds = [ {folds} ]'
    data = design(more=more)
    assert any(where.startswith("parts.curl") for where, _ in found(data)["panels-clash"])
    told = [f.code for f in cut(data, "a.toml", Options()).findings]
    assert "panels-clash" in told
    assert "panels-clash" not in found(design(more=BRACKET))


def test_a_notch_that_the_kerf_closes_is_told():
    """A notch 1 mm wide (0.2 on the sketch) has no room for a kerf of 1.5 mm, and has for 0.5 mm."""
    notched = '[parts.comb]\nstock = "board"\noutline = [[0,0],[20,0],[20,8],[10.2,8],[10.2,4],[10,4],[10,8],[0,8]]\n'
    ((where, text),) = found(design('kerf = "1.5 mm"', more=notched))["kerf-fills"]
    assert where == "parts.comb" and "1.5 mm" in text
    assert "kerf-fills" not in found(design('kerf = "0.5 mm"', more=notched))


def test_names_that_the_font_cannot_write_are_told_once():
    """An empty box on a sheet tells nobody which part it is."""
    more = '[parts."צלע"]\nstock = "board"\nrectangle = [9, 6]\n[parts."צל"]\nstock = "board"\nrectangle = [9, 6]\n'
    ((where, text),) = found(design(more=more))["letters-missing"]
    assert where == 'parts."צלע"'
    assert "has no צ ל ע for this name and 1 more; on drawings and printed pages an empty box" in text
    assert "letters-missing" not in found(design(more=more.replace("צלע", "ребро").replace("צל", "щит")))


def test_very_many_letters_that_the_font_cannot_write_are_cut_short():
    name = "".join(map(chr, range(0x5900, 0x5980)))
    ((_, text),) = found(design(more=f'[parts."{name}"]\nstock = "board"\nrectangle = [9, 6]\n'))[
        "letters-missing"
    ]
    assert text.count("\u591d") == 1
    assert "\u5970" not in text
    assert " ... for this name; on drawings" in text
