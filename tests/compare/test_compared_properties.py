"""Parts of every shape against themselves, against others, longer and shorter, mirrored."""

from dataclasses import replace

from hypothesis import assume, event, given, settings
from hypothesis import strategies as st
from shapely import box
from shapely.affinity import translate

from foamcut.compare.parts import compared_parts
from foamcut.compare.values import Verdict
from foamcut.errors import Refused
from foamcut.flat.build import build_part
from foamcut.flat.drawn import Hand
from foamcut.flat.other_hand import other_hand
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from tests.compare.versions import hold, plate
from tests.strategies import bevelled_shapes, folded_parts, hole, mark, panel, slot, sound_parts


@st.composite
def parts(draw) -> Part:
    """A part with whatever lies on it."""
    drawn = draw(st.one_of(sound_parts(), folded_parts(), bevelled_shapes().map(panel)))
    try:
        several, _ = build_part(replace(drawn, pair=Hand.NONE))
    except Refused:
        assume(False)
    return replace(several[0], name="one")


@given(parts())
@settings(max_examples=30, deadline=None)
def test_a_part_against_itself_is_kept(part):
    (found,) = compared_parts([part], [part])
    assert (found.verdict, found.reason) == (Verdict.KEEP, "It is the same.")


@given(parts(), parts())
@settings(max_examples=40, deadline=None)
def test_any_two_parts_have_a_verdict_that_holds(old, new):
    found = compared_parts([old], [new])
    hold(found)
    event(found[0].verdict.value)


@given(parts(), st.floats(-50.0, 50.0), st.floats(-50.0, 50.0))
@settings(max_examples=40, deadline=None)
def test_a_plain_part_that_is_drawn_elsewhere_is_kept(part, x, y):
    bare = replace(
        part, slots=(), tabs=(), marks=(), folds=(), bevels=(), label=None, joint_lines=(), keep_clear=()
    )
    moved = replace(bare, outline=Outline(translate(bare.outline.polygon, x, y)))
    (found,) = compared_parts([bare], [moved])
    assert found.verdict is Verdict.KEEP
    hold([found])


@st.composite
def plates(draw) -> tuple[Part, Part]:
    """A plate in a short and a longer version, what is on it away from the end, its marks from end to end."""
    short = draw(st.floats(180.0, 400.0))
    more = draw(st.floats(16.0, 120.0))  # room for a doubler of two thicknesses, one off the edge
    high = draw(st.floats(40.0, 120.0))
    line = draw(st.floats(0.2, 0.8)) * high

    def version(length: float) -> Part:
        return plate(
            length,
            high,
            slots=(slot(0, (50.0, high / 2), 15.0),),
            cutouts=(hole(0, (100.0, high / 2), 8.0),),
            marks=(mark(0, "line", (0.0, line), (length, line)),),
        )

    return version(short), version(short + more)


@given(plates(), st.booleans())
@settings(max_examples=30, deadline=None)
def test_a_longer_plate_is_extended_and_a_shorter_one_trimmed(pair, mirrored):
    old, new = (other_hand(one) for one in pair) if mirrored else pair
    (found,) = compared_parts([old], [new])
    hold([found])
    assert found.verdict is Verdict.EXTEND
    strip = found.added[0].outline.polygon
    # arithmetic: the strip is all of the new one that the old one has not, by shapely
    grown = new.outline.polygon.difference(box(*old.outline.bounds))
    assert strip.symmetric_difference(grown).area < 1e-3
    (back,) = compared_parts([new], [old])
    hold([back])
    assert back.verdict is Verdict.TRIM
    assert "off at the end of highest x" in back.reason


@given(plates())
@settings(max_examples=20, deadline=None)
def test_the_same_parts_give_the_same_words(pair):
    once, again = (compared_parts([pair[0]], [pair[1]]) for _ in range(2))
    assert [one.reason for one in once] == [one.reason for one in again]
    assert once[0].added == again[0].added
