"""Pictures of parts that changed: every word can be read, both versions and what is added are there."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import Any

import pytest
import shapely
from shapely import Polygon

from foamcut.draw.overlay import overlay_pictures
from foamcut.draw.picture import Ink, Picture
from foamcut.flat.build import build_part
from foamcut.flat.drawn import Hand
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.write.picture_svg import render
from tests.draw.balance_checks import NAMES, crossed, crowded, cut_off
from tests.strategies import fold, hole, panel, rectangle


class Verdict(Enum):
    KEEP = "keep"
    TRIM = "trim"
    EXTEND = "extend"
    CUT_AGAIN = "cut again"
    NEW = "new"
    GONE = "gone"


@dataclass(frozen=True, kw_only=True)
class Held:
    name: str
    verdict: Verdict
    reason: str = "The slot is moved by 3 mm."
    old: Part | None
    new: Part | None
    added: tuple[Part, ...] = ()
    shift: tuple[float, float] = (0.0, 0.0)


def plate(width: float = 300.0, height: float = 80.0, **more: Any) -> Part:
    return build_part(panel(rectangle(width, height), **more))[0][0]


def piece(part: Part, name: str, x0: float, x1: float) -> Part:
    _, y0, _, y1 = part.outline.bounds
    return replace(part, name=name, outline=Outline.rectangle(x0, y0, x1, y1), slots=(), folds=())


def drawn(*held: Held, units: str = "mm") -> tuple[Picture, ...]:
    pictures = overlay_pictures(held, units)
    for picture in pictures:
        assert crowded(picture) == []
        assert cut_off(picture) == []
        assert crossed(picture) == []
        assert render(picture) == render(picture)
    return pictures


def of(picture: Picture, ink: Ink) -> list[Polygon]:
    return [Polygon(one.points) for one in picture.shapes if one.ink is ink and one.closed]


def words(picture: Picture) -> list[str]:
    return [text.text for text in picture.texts]


def changed(old: Part | None, new: Part | None, verdict: Verdict = Verdict.CUT_AGAIN, **more: Any) -> Held:
    return Held(name=(new or old).name, verdict=verdict, old=old, new=new, **more)


def test_what_is_kept_has_no_picture_unless_more_copies_are_cut():
    assert drawn(changed(plate(), plate(), Verdict.KEEP)) == ()
    assert len(drawn(changed(plate(), plate(), Verdict.KEEP, added=(plate(),)))) == 1


def test_a_longer_part_shows_both_ends_the_strip_the_seam_and_how_much_longer_it_is():
    old, new = plate(300.0), plate(360.0)
    strip, doubler = (
        piece(new, "panel-added", 300.0, 360.0),
        piece(new, "panel-added-doubler-a", 250.0, 350.0),
    )
    (picture,) = drawn(changed(old, new, Verdict.EXTEND, added=(strip, doubler)))
    assert picture.name == "compare-1-panel"
    (before,), (after,) = of(picture, Ink.BEFORE), of(picture, Ink.AFTER)
    grey = of(picture, Ink.ADDED)[0]
    scale = (after.bounds[2] - after.bounds[0]) / 360.0
    # the old one and the strip make up the new one
    assert before.union(grey).symmetric_difference(after).area < 1e-6
    assert grey.area == pytest.approx(60.0 * 80.0 * scale**2)
    (seam,) = [one for one in picture.shapes if one.ink is Ink.CENTRE and len(one.points) == 2][:1]
    assert {round(x, 6) for x, _ in seam.points} == {round(grey.bounds[0], 6)}
    assert "60 mm" in words(picture)
    assert {"old version", "new version", "added piece", "seam", "doubler"} <= set(words(picture))


def test_the_seam_of_a_tapered_part_runs_across_it():
    """A strip that is narrower than the whole part at its end is glued on along its inner edge alone."""
    whole = Polygon([(0, 0), (360, 20), (360, 70), (0, 80)])
    cut = [whole.intersection(shapely.box(x0, -1, x1, 90)) for x0, x1 in ((0, 300), (300, 360))]
    old, new, strip = (replace(plate(), outline=Outline(one)) for one in (cut[0], whole, cut[1]))
    added = (replace(strip, name="panel-added"),)
    (picture,) = drawn(changed(old, new, Verdict.EXTEND, added=added))
    (seam,) = [one for one in picture.shapes if one.ink is Ink.CENTRE and len(one.points) == 2][:1]
    left = of(picture, Ink.ADDED)[0].bounds[0]
    assert [round(x, 6) for x, _ in seam.points] == [round(left, 6)] * 2


def test_a_part_that_moves_is_laid_on_the_new_one():
    old, new = plate(300.0), plate(340.0)
    (picture,) = drawn(changed(old, new, Verdict.CUT_AGAIN, shift=(40.0, 0.0)))
    (before,), (after,) = of(picture, Ink.BEFORE), of(picture, Ink.AFTER)
    assert before.bounds[2] == pytest.approx(after.bounds[2])
    assert after.bounds[0] < before.bounds[0]


def test_a_tall_part_lies_turned_and_is_not_mirrored():
    corners = [(0.0, 0.0), (80.0, 0.0), (80.0, 400.0), (40.0, 400.0)]
    tall = replace(plate(), outline=Outline.of_points(corners))
    (picture,) = drawn(changed(None, tall, Verdict.NEW))
    (after,) = of(picture, Ink.AFTER)
    assert after.bounds[2] - after.bounds[0] > after.bounds[3] - after.bounds[1]
    # a quarter turn clockwise: (x, y) to (y, -x)
    low = after.bounds[0], after.bounds[3]
    scale = (after.bounds[2] - after.bounds[0]) / 400.0
    expected = Polygon([(low[0] + y * scale, low[1] - x * scale) for x, y in corners])
    assert after.symmetric_difference(expected).area < 1e-6


def test_what_is_cut_off_to_trim_a_part_is_grey():
    (picture,) = drawn(changed(plate(300.0), plate(250.0), Verdict.TRIM))
    assert "cut off" in words(picture) and "50 mm" in words(picture)


def test_a_hole_that_grows_is_shown_where_it_does():
    old, new = (plate(cutouts=(hole(0, (150.0, 40.0), size),)) for size in (20.0, 26.0))
    (picture,) = drawn(changed(old, new, Verdict.TRIM))
    assert "3 mm here" in words(picture)


def test_new_and_gone_parts_have_one_outline_and_no_dimension():
    new, gone = drawn(changed(None, plate(), Verdict.NEW), changed(plate(), None, Verdict.GONE))
    assert (len(of(new, Ink.AFTER)), len(of(new, Ink.BEFORE))) == (1, 0)
    assert (len(of(gone, Ink.AFTER)), len(of(gone, Ink.BEFORE))) == (0, 1)
    assert not any(shape.ink is Ink.MEASURE for one in (new, gone) for shape in one.shapes)


def test_inches_with_the_mm_beside():
    (picture,) = drawn(changed(plate(304.8), plate(330.2)), units="in")
    assert "1 in (25.4 mm)" in words(picture)
    assert any(text.endswith(" in") for text in words(picture))


@pytest.mark.parametrize("name", NAMES)
def test_names_and_reasons_of_every_script_stay_on_the_picture(name):
    held = [
        replace(changed(plate(300.0), plate(310.0)), name=name, reason=f"{name} is moved by 3 mm; {name}.")
    ] * 3
    several = drawn(*held)
    assert len({picture.name for picture in several}) == 3
    for picture in several:
        assert picture.name.isascii() and len(picture.name) < 60
        assert all(letter.islower() or letter.isdigit() or letter == "-" for letter in picture.name)


@pytest.mark.parametrize(
    ("old", "new"),
    [((2.0, 1.0), (2.0, 1.0)), ((2.0, 1.0), (3.0, 1.0)), ((5000.0, 2.0), (5100.0, 2.0)), ((1.0, 900.0), (30.0, 900.0))],
)  # fmt: skip
def test_tiny_long_and_thin_parts(old, new):
    for verdict in (Verdict.CUT_AGAIN, Verdict.TRIM):
        drawn(changed(plate(*old), plate(*new), verdict))
        drawn(changed(plate(*new), plate(*old), verdict))


def test_folds_and_the_axes_of_both_hands():
    shape = panel(
        rectangle(200.0, 90.0), folds=(fold(0, "score", (0.0, 30.0), (200.0, 30.0)),), pair=Hand.RIGHT
    )
    longer = replace(
        shape, shape=rectangle(230.0, 90.0), folds=(fold(0, "score", (0.0, 30.0), (230.0, 30.0)),)
    )
    pairs = zip(build_part(shape)[0], build_part(longer)[0], strict=True)
    right, left = drawn(*(changed(a, b) for a, b in pairs))
    for picture in (right, left):
        assert any(shape.ink is Ink.CREASE for shape in picture.shapes)
        assert {"x", "y"} <= set(words(picture))

    def way(picture: Picture) -> Sequence[float]:
        """Up or down, the arrow of y: its word beside the corner of both arrows."""
        (x,), (y,) = ([t.at for t in picture.texts if t.text == word] for word in "xy")
        return (y[1] - x[1],)

    assert way(right)[0] > 0 > way(left)[0]
