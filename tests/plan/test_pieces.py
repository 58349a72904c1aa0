"""What is cut of each part: pieces by stock, names, numbers, and the lines that say so."""

from dataclasses import replace

import pytest

from foamcut.flat.drawn import Hand
from foamcut.flat.joint import Joint, Role
from foamcut.nest.search import lay
from foamcut.nest.values import Pace
from foamcut.nest.verify import faults
from foamcut.plan import pieces
from foamcut.plan.names import stems_of
from foamcut.plan.pieces import choose, joints_of, joints_table, numbers_of, wanted_of
from foamcut.plan.words import joined_words
from tests.nest.making import part, rectangle, stock
from tests.plan.joined import in_two, joined, strip, whole

BOARD = stock((700, 500), margin=3, gap=2)
PLY = replace(stock((300, 200)), key="stock.ply", name="ply")


def test_pieces_lie_on_the_stock_that_they_are_cut_from():
    """A doubler of another stock is laid on that stock's sheets; nothing is lost and nothing is there twice."""
    chosen = (joined(strip(count=2), doubler_stock="ply"), whole(part("rib", rectangle(80, 60))))
    wanted = [wanted_of(chosen, one) for one in (BOARD, PLY)]
    layouts = [lay(w, one, seed=1, pace=Pace(steps=5)) for w, one in zip(wanted, (BOARD, PLY), strict=True)]
    assert faults(layouts, [*wanted[0], *wanted[1]]) == ()
    ids = [{one.id for sheet in layout.sheets for one in sheet.placed} for layout in layouts]
    assert ids == [
        {"strip-1-section-1", "strip-1-section-2", "strip-2-section-1", "strip-2-section-2", "rib-1"},
        {"strip-1-doubler-a", "strip-2-doubler-a"},
    ]


def test_a_lost_section_is_a_fault():
    wanted = wanted_of((joined(strip()),), BOARD)
    layout = lay(wanted, BOARD, seed=1, pace=Pace(steps=5))
    (sheet,) = layout.sheets
    fewer = replace(layout, sheets=(replace(sheet, placed=sheet.placed[1:]),))
    assert any("is not placed once" in fault for fault in faults([fewer], wanted))


def test_numbers_run_over_the_pieces_in_the_order_of_the_design():
    chosen = (whole(part("rib", rectangle(80, 60))), joined(strip()), whole(part("top", rectangle(9, 9))))
    assert list(numbers_of(chosen).items()) == [
        ("rib", 1), ("strip-section-1", 2), ("strip-section-2", 3), ("strip-doubler-a", 4), ("top", 5),
    ]  # fmt: skip


def test_letters_of_doublers_run_through_the_plan():
    """Right and left hand, then the other parts: no letter stands on two doublers that differ."""
    left, right = (replace(strip(f"side-{hand.value}"), hand=hand) for hand in (Hand.LEFT, Hand.RIGHT))
    long = strip("floor", length=1500.0, count=2)
    chosen, refusals = choose((right, left, part("rib", rectangle(80, 60)), long), (BOARD,))
    assert refusals == ()
    found = {one.part.name: [letter for joint in one.way.joints for letter in joint.letters] for one in chosen}
    assert found == {"side-right": ["A"], "side-left": ["B"], "rib": [], "floor": ["C", "D"]}
    names = [piece.flat.name for one in chosen for piece in one.way.pieces if piece.role is Role.DOUBLER]
    assert names == ["side-right-doubler-a", "side-left-doubler-b", "floor-doubler-c", "floor-doubler-d"]


def test_joints_as_records():
    chosen = (whole(part("rib", rectangle(80, 60))), joined(strip()))
    assert joints_table(joints_of(chosen)) == [
        {"part": "strip", "axis": "x", "at": 500.0, "doublers": ["A"], "length": 900.0}
    ]


def test_one_line_for_each_joined_part():
    assert list(joined_words((joined(strip()),), "mm")) == ["strip: cut in 2 at x = 500 mm, doubler A"]
    assert list(joined_words((joined(strip(), at=254.0),), "in")) == ["strip: cut in 2 at x = 10 in, doubler A"]
    image = joined(strip())
    turned = Joint(y_mm=-254.0, letters=("B",), length_mm=60.0, mirror_image=True)
    image = replace(image, way=replace(image.way, joints=(turned,)))
    assert list(joined_words((image,), "in")) == ["strip: cut in 2 at y = 10 in of the drawing, doubler B"]
    both = joined(strip())
    across = Joint(y_mm=30.0, letters=("B", "C"), length_mm=60.0)
    both = replace(both, way=replace(both.way, joints=(*both.way.joints, across)))
    assert list(joined_words((both,), "mm")) == ["strip: cut in 2 at x = 500 mm and y = 30 mm, doublers A, B, C"]


@pytest.mark.parametrize(
    ("name", "what"), [("strip-section-2", "strip-section-2"), ("strip-1-doubler", None), ("strip-doubler-a", "strip-doubler-a")]
)
def test_a_part_that_is_called_like_a_section_is_asked_for_another_name(monkeypatch, name, what):
    """Names and ids of pieces tell them apart in every file of a pack."""
    long, other = strip(), part(name, rectangle(50, 40))
    monkeypatch.setattr(pieces, "ways", lambda one, *_, **__: (in_two(one),) if one is long else (whole(one).way,))
    _, refusals = choose((long, other), (BOARD,))
    if what is None:
        assert refusals == ()
        return
    (refusal,) = refusals
    assert refusal.key == f"parts.{name}"
    assert f"strip is longer than its sheets, and what it is cut in needs the name {what}" in refusal.text


def test_a_part_whose_piece_has_the_id_of_a_section_is_asked_for_another_name(monkeypatch):
    long, other = strip(), part("strip-1-section", rectangle(50, 40))
    monkeypatch.setattr(pieces, "ways", lambda one, *_, **__: (in_two(one),) if one is long else (whole(one).way,))
    _, (refusal,) = choose((long, other), (BOARD,))
    assert refusal.key == "parts.strip-1-section" and "needs the name strip-1-section-1" in refusal.text


def test_sections_and_doublers_count_among_the_pieces_that_are_laid_out(monkeypatch):
    monkeypatch.setattr(pieces, "ways", lambda one, *_, **__: (in_two(one),))
    assert choose((strip(count=1666),), (BOARD,))[1] == ()
    _, (refusal,) = choose((strip(count=1667),), (BOARD,))
    assert refusal.key == "parts" and refusal.text.startswith("5,001 pieces are wanted, sections and doublers among them")


def test_stems_of_stocks_that_would_share_a_files_name():
    """Sheet 1 of `board-1-bed` is no rectangle 1 of sheet 1 of `board`."""
    stems = stems_of(["board", "board-1-bed", "ply"])
    assert stems["board"] == "board" and stems["ply"] == "ply"
    assert stems["board-1-bed"].startswith("board-1-bed-") and len(stems["board-1-bed"]) == len("board-1-bed-") + 6
