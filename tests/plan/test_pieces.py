"""What is cut of each part: pieces by stock, names, numbers, and the lines that say so."""

import re
from collections.abc import Sequence
from dataclasses import replace

import pytest

from foamcut.errors import Refused
from foamcut.flat.drawn import Doubling, Hand, JointLine
from foamcut.flat.joint import Joint, Role
from foamcut.flat.joint_mark import JointMark
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.nest.search import lay
from foamcut.nest.values import Laid, Pace, Wanted
from foamcut.nest.verify import faults
from foamcut.plan import pieces
from foamcut.plan.names import stems_of
from foamcut.plan.pieces import (
    MOST_OFFERED,
    Chosen,
    Offers,
    joints_of,
    joints_table,
    numbers_of,
    wanted_of,
)
from foamcut.plan.words import joined_words
from tests.nest.making import part, rectangle, stock
from tests.plan.joined import in_two, joined, strip, whole

BOARD = stock((700, 500), margin=3, gap=2)
PLY = replace(stock((300, 200)), key="stock.ply", name="ply")


def choose(parts: Sequence[Part], stocks: Sequence[Stock]):
    """The usual way of every part, and what is refused."""
    offers = Offers(parts, stocks)
    return offers.usual, offers.refusals


def test_pieces_lie_on_the_stock_that_they_are_cut_from():
    """A doubler of another stock is laid on that stock's sheets; nothing is lost and nothing is there twice."""
    chosen = (joined(strip(count=2), doubler_stock="ply"), whole(part("rib", rectangle(80, 60))))
    wanted = [wanted_of(chosen, one) for one in (BOARD, PLY)]
    layouts = [lay(w, one, seed=1, pace=Pace(steps=5)) for w, one in zip(wanted, (BOARD, PLY), strict=True)]
    assert faults(layouts, [Wanted(part=one.part, ways=(one.way,)) for one in chosen]) == ()
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
    assert f"strip is cut in two, and one of its pieces needs the name {what}" in refusal.text


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


# the search chooses: further ways, and letters given anew

SKIN = Doubling(key="", stock="board", thickness_mm=5.0, overlap_mm=50.0, inset_mm=5.0, taper_mm=25.0)
OF_PLY = replace(SKIN, stock="ply", thickness_mm=1.0)


def may_join(name: str, width: float = 500, height: float = 260, count: int = 1, **more: object) -> Part:
    """A part that lies whole on the board and may be cut to save one."""
    return replace(part(name, rectangle(width, height), count), may_join=True, **more)


def settled(offers: Offers, *indices: int, bed_mm: tuple[float, float] | None = None):
    """What comes of a search that took these ways of all parts."""
    wanted = offers.more_ways(range(len(indices)))
    taken = [replace(want, ways=(want.ways[i],)) for want, i in zip(wanted, indices, strict=True)]
    layouts = []
    for one in (BOARD, PLY):
        of_stock = wanted_of([Chosen(part=w.part, way=w.ways[0]) for w in taken], one)
        if of_stock:
            layouts.append(lay(of_stock, one, seed=1, pace=Pace(steps=2), bed_mm=bed_mm))
    laid = Laid(layouts=tuple(layouts), wanted=tuple(wanted), ways=indices)
    return laid, *offers.settled(laid)


def test_ways_are_open_where_there_are_further_ones():
    """Where the program places joints, and where it may place one; not along the builder's lines."""
    by_builder = (JointLine(key="parts.d.joints[0]", x_mm=200.0),)
    parts = (
        part("a", rectangle(500, 260)), may_join("b"), strip("c"),
        replace(part("d", rectangle(500, 260)), joint_lines=by_builder), may_join("e", joint_lines=by_builder),
    )  # fmt: skip
    offers = Offers(parts, (BOARD,))
    assert offers.refusals == ()
    assert [want.is_open for want in offers.wanted] == [False, True, True, False, False]
    assert [len(want.ways) for want in offers.wanted] == [1, 1, 1, 1, 2]
    more = offers.more_ways(range(5))
    assert [len(want.ways) for want in more] == [1, MOST_OFFERED, MOST_OFFERED, 1, 2]
    assert all(want.ways[0] == first.ways[0] for want, first in zip(more, offers.wanted, strict=True))
    assert [want.part.name for want in offers.more_ways([2, 1])] == ["c", "b"]


def test_letters_run_through_the_parts_whatever_ways_are_taken():
    """Names, ids, marks, joints, the findings' words and the layouts have the same letters."""
    parts = (may_join("skin", count=2), strip("spar"), may_join("deck", doubling=OF_PLY), strip("keel"))
    laid, chosen, layouts = settled(Offers(parts, (BOARD, PLY)), 2, 0, 1, 3)
    found = {one.part.name: [a for joint in one.way.joints for a in joint.letters] for one in chosen}
    every = [letter for letters in found.values() for letter in letters]
    assert every == sorted(every) == [chr(ord("A") + i) for i in range(len(every))] and len(every) >= 4
    wanted = [Wanted(part=one.part, ways=(one.way,)) for one in chosen]
    assert faults(layouts, wanted) == ()
    placed = [one for layout in layouts for sheet in layout.sheets for one in sheet.placed]
    known = {id(piece) for one in chosen for piece in one.way.pieces}
    assert all(id(one.piece) in known for one in placed)
    for one in placed:
        name, letters = one.piece.part.name, found[one.piece.part.name]
        assert one.id == f"{name}-{one.copy}-{one.piece.suffix}"
        assert one.piece.flat.name == f"{name}-{one.piece.suffix}"
        marks = {mark.letter for mark in one.piece.flat.marks if isinstance(mark, JointMark)}
        assert marks <= set(letters)
        if one.piece.role is Role.DOUBLER:
            assert marks == {one.piece.suffix.removeprefix("doubler-").upper()}
    for one in chosen:
        (text,) = [f.text for f in one.way.findings if f.code == "joined"]
        assert re.findall(r"\b([A-Z]) \(", text) == found[one.part.name]
        assert {p.suffix for p in one.way.pieces if p.role is Role.DOUBLER} == {
            f"doubler-{letter.lower()}" for letter in found[one.part.name]
        }
    assert [entry["doublers"] for entry in joints_table(joints_of(chosen))] == [
        list(joint.letters) for one in chosen for joint in one.way.joints
    ]
    # nothing has moved
    before = [one for layout in laid.layouts for sheet in layout.sheets for one in sheet.placed]
    assert [(one.outline, one.placement, one.copy) for one in placed] == [
        (one.outline, one.placement, one.copy) for one in before
    ]


def test_rectangles_for_the_bed_know_the_new_ids():
    parts = (may_join("skin"), may_join("deck"))
    bed_mm = (400.0, 300.0)
    _, chosen, layouts = settled(Offers(parts, (BOARD,)), 1, 1, bed_mm=bed_mm)
    assert faults(layouts, [Wanted(part=one.part, ways=(one.way,)) for one in chosen], bed_mm=bed_mm) == ()
    on_beds = {name for layout in layouts for sheet in layout.sheets for bed in sheet.beds for name in bed.pieces}
    assert "skin-1-doubler-a" in on_beds and "deck-1-doubler-b" in on_beds


def test_where_the_usual_ways_are_taken_nothing_changes():
    offers = Offers((may_join("skin"), strip("spar")), (BOARD,))
    laid, chosen, layouts = settled(offers, 0, 0)
    assert (chosen, layouts) == (offers.usual, laid.layouts)


def test_the_words_of_a_bound_name_pieces_by_their_new_letters():
    offers = Offers((may_join("skin"), strip("spar")), (BOARD,))
    laid, _, _ = settled(offers, 1, 0)
    (layout,) = laid.layouts
    said = replace(layout.bound, reason="all but spar-doubler-a and my-spar-doubler-a fit on 1")
    _, (layout,) = offers.settled(replace(laid, layouts=(replace(layout, bound=said),)))
    assert layout.bound.reason == "all but spar-doubler-b and my-spar-doubler-a fit on 1"


def test_a_name_that_a_section_takes_only_when_a_part_is_cut():
    """Whole it is no matter; cut in two the other part is asked for another name."""
    offers = Offers((may_join("skin"), part("skin-section-2", rectangle(50, 40))), (BOARD,))
    assert offers.refusals == ()
    assert settled(offers, 0, 0)[1] == offers.usual
    with pytest.raises(Refused) as caught:
        settled(offers, 1, 0)
    assert [refusal.key for refusal in caught.value.refusals] == ["parts.skin-section-2"]


def test_what_is_refused_before_is_not_refused_again():
    """A long part needs the name whatever is taken: it is told once, with the other refusals."""
    offers = Offers((strip("spar"), part("spar-section-2", rectangle(50, 40))), (BOARD,))
    assert [refusal.key for refusal in offers.refusals] == ["parts.spar-section-2"]
    assert len(settled(offers, 0, 0)[1]) == 2


def test_no_way_is_offered_that_makes_more_pieces_than_can_be_laid_out():
    """5,000 at most: 1,666 skins in three pieces are 4,998, and leave no room for a second part to be cut."""
    offers = Offers((may_join("skin", 500, 200, count=1666), may_join("deck")), (BOARD,))
    skin, deck = offers.more_ways([0, 1])
    assert (len(skin.ways), len(deck.ways)) == (MOST_OFFERED, 1)
    offers = Offers((may_join("skin", 500, 200, count=1667), may_join("deck")), (BOARD,))
    skin, deck = offers.more_ways([0, 1])
    assert (len(skin.ways), len(deck.ways)) == (1, MOST_OFFERED)


def test_joints_of_both_hands_are_compared_as_they_are_taken():
    """A doubler is 100 mm long: the middle of both hands is said to be too close, the ends are not."""
    right = may_join("skin-right", 500, 200, key="parts.skin", hand=Hand.RIGHT)
    left = replace(right, name="skin-left", hand=Hand.LEFT, outline=right.outline.mirrored(), mirror_image=True)
    offers = Offers((right, left), (BOARD,))
    wanted = offers.more_ways([0, 1])
    seen = set()
    for i, right_way in enumerate(wanted[0].ways):
        for j, left_way in enumerate(wanted[1].ways):
            chosen, _ = offers.settled(Laid(layouts=(), wanted=tuple(wanted), ways=(i, j)))
            said = [f.code for one in chosen for f in one.way.findings].count("joints-not-staggered")
            both = [[joint.x_mm for joint in way.joints] for way in (right_way, left_way)]
            near = bool(both[0] and both[1]) and abs(both[0][0] - both[1][0]) < 100
            assert said == near
            seen.add(near)
    assert seen == {True, False}
