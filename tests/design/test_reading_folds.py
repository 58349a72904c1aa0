"""Folds and bevels as they are read: defaults, every key, and each refusal with its words."""

import math
import re

import pytest

from foamcut.design.key_kinds import keys_of
from foamcut.design.part_folds import FOLD_KEYS
from foamcut.design.part_tables import FoldTable
from foamcut.errors import Refused
from foamcut.flat.drawn import DrawnFold, FoldAt, FoldKind, Reading, Readings, Side

from .making import changed, part, read, refused

LINE = "from = [1, 0], to = [1, 9]"


def fold(words: str) -> DrawnFold:
    (found,) = read(part(f"rectangle = [20, 9]\nfolds = [ {{ {words} }} ]")).parts[0].folds
    return found


def test_a_groove_with_all_its_keys():
    """Points are sketch measures like all others; angles stand as they are; the key is that of its table."""
    found = fold("kind = 'groove', from = [20, -1], to = [20, '96 mm'], turn = '90 deg', side = 'down', groove_extra = 2")
    assert found == DrawnFold(
        key="parts.side.folds[0]",
        kind=FoldKind.GROOVE,
        start=(120, -6),
        end=(120, 96),
        turn_deg=90,
        side=Side.DOWN,
        groove_extra_deg=2,
    )


def test_what_is_left_out_of_a_fold():
    """The drawn face is cut; a wrap turns 90 degrees at the far edge of the strip, a hinge hangs straight."""
    score = fold(f"kind = 'score', {LINE}, turn = 10")
    assert (score.side, score.groove_extra_deg, score.lands_thickness_mm) == (Side.UP, 0, None)
    wrap = fold(f"kind = 'wrap', {LINE}")
    assert (wrap.turn_deg, wrap.fold_at, wrap.lands_thickness_mm) == (90, FoldAt.FAR, 5)
    hinge = fold(f"kind = 'hinge', {LINE}")
    assert (hinge.turn_deg, hinge.bevel_deg) == (0, 0)
    roll = fold(f"kind = 'roll', {LINE}, turn = 270, radius = 5")
    assert (roll.radius_mm, roll.every_mm, roll.turn_deg) == (30, None, 270)


def test_keys_of_one_kind_of_fold():
    """A wrap is as wide as what lands there is thick; a roll has its radius and the distance of its cuts."""
    wrap = fold(f"kind = 'wrap', {LINE}, turn = 90, lands = 'ply', fold_at = 'near'")
    assert (wrap.lands_thickness_mm, wrap.fold_at) == (1.5, FoldAt.NEAR)
    roll = fold(f"kind = 'roll', {LINE}, turn = 90, radius = '30 mm', every = '4 mm'")
    assert (roll.radius_mm, roll.every_mm) == (30, 4)
    assert fold(f"kind = 'hinge', {LINE}, turn = 15, bevel = '40 deg'").bevel_deg == 40


def test_a_strip_has_its_width_in_true_size():
    """A band is as wide as the board asks, whatever the sketch's scale; it turns alike at both edges."""
    strip = fold(f"kind = 'strip', {LINE}, turn = 90, band = '10 mm'")
    assert (strip.kind, strip.band_mm, strip.turn_deg, strip.far_turn_deg) == (FoldKind.STRIP, 10, 90, None)
    assert fold(f"kind = 'strip', {LINE}, turn = 80, band = '10 mm', far_turn = '100 deg'").far_turn_deg == 100


@pytest.mark.parametrize(
    ("words", "key", "text"),
    [
        (f"{LINE}, turn = 90", ".kind", "is missing; add it: score opens, groove is folded shut"),
        (f"kind = 'grove', {LINE}, turn = 90", ".kind", 'did you mean "groove"?'),
        (f"kind = 'crease', {LINE}, turn = 90", ".kind", '"crease" is none of "score", "groove", "wrap", "roll", "hin'),
        (f"kind = 90, {LINE}, turn = 90", ".kind", '90 is none of "score", "groove"'),
        ("kind = 'score', to = [1, 9], turn = 9", ".from", "is missing; add it: where the line of the fold begins"),
        ("kind = 'score', from = [1, 0], turn = 9", ".to", "is missing; add it: where the line of the fold ends"),
        ("kind = 'score', from = [1, 0], to = 9, turn = 9", ".to", "9 where two lengths are due; write [x, y]"),
        ("kind = 'score', from = [1, 0], to = [1, 'x'], turn = 9", ".to[1]", '"x" is no name in [sizes]'),
        (f"kind = 'score', {LINE}", ".turn", 'is missing; a fold "score" needs it: by how many degrees it is folded'),
        (f"kind = 'groove', {LINE}", ".turn", 'is missing; a fold "groove" needs it'),
        (f"kind = 'roll', {LINE}, turn = 90", ".radius", 'is missing; a fold "roll" needs it: its outer radius'),
        (f"kind = 'groove', {LINE}, turn = 400", ".turn", "400 degrees is more than a full turn"),
        (f"kind = 'groove', {LINE}, turn = 'square'", ".turn", '"square" does not begin with a number'),
        (f"kind = 'groove', {LINE}, turn = '90 mm'", ".turn", 'is no angle; write 40 or "40 deg"'),
        (f"kind = 'groove', {LINE}, turn = true", ".turn", "true where a number is due"),
        (f"kind = 'groove', {LINE}, turn = 90, groove_extra = 89.5, side = 'out'", ".side", 'none of "up", "down"'),
        (f"kind = 'groove', {LINE}, turn = 100, groove_extra = -1", ".groove_extra", "-1 is less than 0; write 0 or more"),
        (f"kind = 'wrap', {LINE}, lands = 'plyw'", ".lands", 'there is no stock "plyw"; did you mean "ply"?'),
        (f"kind = 'wrap', {LINE}, fold_at = 'middle'", ".fold_at", 'none of "far", "near"'),
        (f"kind = 'roll', {LINE}, turn = 90, radius = 0", ".radius", "0 mm is not above 0"),
        (f"kind = 'roll', {LINE}, turn = 90, radius = 5, every = -1", ".every", "-6 mm is not above 0"),
        (f"kind = 'roll', {LINE}, turn = 90, radius = 5, every = '0.1 mm'", ".every", "0.1 mm is less than 0.5 mm"),
        (f"kind = 'hinge', {LINE}, bevel = 90", ".bevel", "90 is not from 0 to 80 degrees; it is measured from square"),
        (f"kind = 'strip', {LINE}, band = '9 mm'", ".turn", 'is missing; a fold "strip" needs it'),
        (f"kind = 'strip', {LINE}, turn = 90", ".band", 'is missing; a fold "strip" needs it: width of the band'),
        (f"kind = 'strip', {LINE}, turn = 90, band = '0 mm'", ".band", "0 mm is not above 0"),
        (f"kind = 'strip', {LINE}, turn = 90, band = 2", ".band", "true"),
        (f"kind = 'strip', {LINE}, turn = 90, band = '9 mm', far_turn = 400", ".far_turn", "more than a full turn"),
        (f"kind = 'hinge', {LINE}, bevl = 9", ".bevl", 'unknown key; did you mean "bevel"?'),
    ],
)  # fmt: skip
def test_faults_of_a_fold(words: str, key: str, text: str):
    """A fault is told once, at its key."""
    found = refused(part(f"rectangle = [20, 9]\nfolds = [ {{ {words} }} ]"))
    assert list(found) == [f"parts.side.folds[0]{key}"]
    assert text in found[f"parts.side.folds[0]{key}"]


VALUES = {"groove_extra": "1", "lands": "'ply'", "fold_at": "'far'", "radius": "9", "every": "2", "bevel": "30"}
VALUES |= {"band": "'9 mm'", "far_turn": "80"}


@pytest.mark.parametrize("kind", FOLD_KEYS)
def test_keys_of_another_kind_of_fold(kind: str):
    """Each is refused with the kind that it belongs to; those of the kind itself are not."""
    needed, allowed = FOLD_KEYS[kind]
    given = ", ".join(f"{word} = {value}" for word, value in VALUES.items())
    found = refused(part(f"rectangle = [20, 9]\nfolds = [ {{ kind = '{kind}', {LINE}, turn = 90, {given} }} ]"))
    foreign = [word for word in VALUES if word not in (*needed, *allowed)]
    assert sorted(found) == sorted(f"parts.side.folds[0].{word}" for word in foreign)
    for word in foreign:
        (owner,) = (k for k, (due, may) in FOLD_KEYS.items() if word in (*due, *may))
        assert found[f"parts.side.folds[0].{word}"] == f'belongs to a fold "{owner}", not to "{kind}"; take it out'


def test_folds_are_a_list():
    """One table alone is told what it lacks; an empty list is no fold."""
    found = refused(part(f"circle = 9\nfolds = {{ kind = 'score', {LINE}, turn = 9 }}"))
    assert found["parts.side.folds"] == "a table where a list of tables is due; write folds = [ { ... } ]"
    assert read(part("circle = 9\nfolds = []")).parts[0].folds == ()


def test_the_line_of_a_fold_that_is_refused():
    """Each fold stands in its own line of the file."""
    text = part(
        "rectangle = [20, 9]\nfolds = [\n"
        f"  {{ kind = 'score', {LINE}, turn = 9 }},\n  {{ kind = 'groove', {LINE}, turn = 900 }},\n]"
    )
    with pytest.raises(Refused) as caught:
        read(text)
    (refusal,) = caught.value.refusals
    assert refusal.key == "parts.side.folds[1].turn"
    assert refusal.line == 1 + next(i for i, line in enumerate(text.split("\n")) if "groove" in line)


def test_numbers_of_folds_stand_in_the_table_of_sizes():
    """Angles and lengths are ticked off as typed."""
    text = part(f"rectangle = [20, 9]\nfolds = [ {{ kind = 'roll', {LINE}, turn = '90 deg', radius = 5 }} ]")
    rows = {row.key: row for row in read(text).sizes_table}
    turn, radius = rows["parts.side.folds[0].turn"], rows["parts.side.folds[0].radius"]
    assert (turn.typed, turn.factor, turn.mm, turn.unit) == ("90 deg", "as it stands", None, "deg")
    assert (radius.typed, radius.factor, radius.mm) == ("5", "x 6", 30)
    assert rows["parts.side.folds[0].to[1]"].mm == 54


# ---- bevels ---------------------------------------------------------------------------------------


def points(outline: str) -> tuple[Reading, ...]:
    shape = read(part(f'outline = """\n{outline}\n"""')).parts[0].shape
    assert isinstance(shape, Readings)
    return shape.points


def test_bevels_of_the_edge_that_leaves_a_point():
    """Degrees from square, bare or with their unit, among other words; the last row's edge has one too."""
    a, b, c, d = points(
        "0, 0 bevel 45\n9, 0 round 1 bevel_back 30 deg name tail\n9, 9 bevel 12.5deg bevel_back 10 smooth\n0, 9 bevel 1"
    )
    assert (a.bevel_deg, a.bevel_back_deg) == (45, None)
    assert (b.bevel_deg, b.bevel_back_deg, b.round_mm, b.name) == (None, 30, 6, "tail")
    assert (c.bevel_deg, c.bevel_back_deg, c.smooth) == (12.5, 10, True)
    assert d.bevel_deg == 1


def test_a_size_may_be_called_bevel():
    """A word begins only behind a finished number."""
    text = changed("half_span = 92", "half_span = 92\nbevel = 3", part('outline = "0, bevel bevel 45; 9, 0; 5, 5"'))
    shape = read(text).parts[0].shape
    assert isinstance(shape, Readings)
    assert (shape.points[0].at, shape.points[0].bevel_deg) == ((0, 18), 45)


def test_a_bevel_stands_in_the_table_of_sizes():
    rows = {row.key: row for row in read(part('outline = "0, 0 bevel 45 deg; 9, 0; 5, 5"')).sizes_table}
    row = rows["parts.side.outline[0].bevel"]
    assert (row.typed, row.unit, row.mm) == ("45 deg", "deg", None)


@pytest.mark.parametrize(
    ("row", "key", "words"),
    [
        ("3, 4 bevel", "outline[2]", '"bevel" needs degrees behind it, such as "bevel 45"'),
        ("3, 4 bevel_back", "outline[2]", '"bevel_back" needs degrees behind it, such as "bevel_back 45"'),
        ("3, 4 bevel 45 bevel 30", "outline[2]", '"bevel" stands there twice; take one out'),
        ("3, 4 bevle 45", "outline[2]", '"bevle" is no word of an outline; did you mean "bevel"?'),
        ("3, 4 bevel-back 45", "outline[2]", '"bevel" and "back" have to be one word; write "bevel_back 45"'),
        ("3, 4 bevel 0", "outline[2].bevel", "0 is not above 0 and up to 80 degrees"),
        ("3, 4 bevel 90", "outline[2].bevel", "90 is not above 0 and up to 80 degrees; it is measured from square"),
        ("3, 4 bevel_back -45", "outline[2].bevel_back", "-45 is not above 0 and up to 80"),
        ("3, 4 bevel 3 mm", "outline[2].bevel", '"3 mm" is no angle; write 40 or "40 deg"'),
        ("3, 4 bevel half_span", "outline[2].bevel", '"half_span" does not begin with a number'),
        ("3, 4 bevel 1e1", "outline[2].bevel", "has an exponent"),
    ],
)
def test_faults_of_a_bevel(row: str, key: str, words: str):
    """What is wrong is told at the row or at its word."""
    found = refused(part(f'outline = """\n0, 0\n9, 0\n{row}\n"""'))
    assert list(found) == [f"parts.side.{key}"]
    assert words in found[f"parts.side.{key}"]


def test_no_bevels_but_on_the_outline_of_a_part():
    """Cutouts and scraps are square."""
    found = refused(part('circle = 50\ncutouts = [ { outline = "0, 0 bevel 45; 9, 0; 5, 5" } ]'))
    assert list(found) == ["parts.side.cutouts[0].outline[0]"]
    assert "the edges of a cutout are cut square; take it out" in found["parts.side.cutouts[0].outline[0]"]
    scrap = 'offcuts = [ { outline = "0 mm, 0 mm; 90 mm, 0 mm bevel_back 45; 0 mm, 80 mm" } ]'
    found = refused(changed('material = "foam board"', f'material = "foam board"\n{scrap}'))
    assert list(found) == ["stock.board.offcuts[0].outline[1]"]
    assert "the edges of a scrap are taken as square; take it out" in found["stock.board.offcuts[0].outline[1]"]


def test_a_wrong_stock_of_a_fold_leaves_nothing_behind():
    """Where the part's own stock is not known, that alone is told."""
    found = refused(changed('stock = "board"', 'stock = "bord"', part(f"circle = 9\nfolds = [ {{ kind = 'wrap', {LINE} }} ]")))
    assert list(found) == ["parts.side.stock"]
    assert math.isfinite(fold(f"kind = 'wrap', {LINE}").lands_thickness_mm or math.nan)


def test_two_words_for_the_bevel_from_behind():
    """The word that was meant is written out with the user's own number."""
    for words, mended in [
        ("bevel back 30", "bevel_back 30"), ("bevel-back 30 deg", "bevel_back 30 deg"), ("bevel back", "bevel_back 45"),
    ]:  # fmt: skip
        found = refused(part(f'outline = "0, 0 {words}; 9, 0; 5, 5"'))
        assert list(found) == ["parts.side.outline[0]"]
        assert found["parts.side.outline[0]"].endswith(f'have to be one word; write "{mended}"')


def test_the_hint_for_a_missing_turn_is_one_plain_clause():
    """What else there is to a turn stands in the description alone."""
    found = refused(part(f"rectangle = [20, 9]\nfolds = [ {{ kind = 'groove', {LINE} }} ]"))
    assert found["parts.side.folds[0].turn"] == (
        'is missing; a fold "groove" needs it: by how many degrees it is folded, such as 90'
    )


@pytest.mark.parametrize("word", ["kind", "fold_at", "radius", "turn", "bevel"])
def test_the_schema_says_on_which_side_of_its_line_a_fold_lies(word: str):
    """Where two ends are given, left and right depend on which comes first."""
    assert re.search(r"left of (from -> to|it\b)|to the left of", keys_of(FoldTable)[word].description)
