"""Pictures of parts that changed: the old version over the new one, what is added, how much they differ."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace

from foamcut.draw.balance_frame import Sheet, box, steps
from foamcut.draw.balance_words import HEADING_MM, PITCH_MM, PLAIN_MM, shortened, width_mm, words_at
from foamcut.draw.overlay_measure import BELOW_MM, BESIDE_MM, both, dimension
from foamcut.draw.overlay_view import Held, Versions, View, letters, shapes
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.draw.values import Align, Text
from foamcut.flat.outline import Point
from foamcut.units import MM_PER_INCH, decimal_text

_WIDTH_MM = 240.0
#: the view is so high at most
_HIGHEST_MM = 130.0
#: letters of a part's name in that of its picture
_STEM = 40
#: arrows of x and y: length, head, from the view's corner
_ARROW_MM, _HEAD_MM, _GAP_MM = 9.0, 1.6, 4.0
_MEANINGS = {
    Ink.BEFORE: "old version",
    Ink.AFTER: "new version",
    Ink.ADDED: "more board",
    Ink.CENTRE: "seam",
    Ink.HIDDEN: "doubler",
    Ink.CREASE: "fold",
}
_BOXES = (Ink.ADDED,)
_SWATCH_MM, _NEXT_MM = 8.0, 5.0


def overlay_pictures(compared: Iterable[Held], units: str) -> tuple[Picture, ...]:
    """A picture of each part that is not kept as it is, in their order.

    `units` is what the ruler reads, mm or in.  Names are ``compare-<number>-<part>``, each once.
    """
    told = [held for held in compared if held.verdict.value != "keep" or held.added]
    wide = len(str(len(told)))
    found = (_picture(held, f"compare-{i:0{wide}d}", units) for i, held in enumerate(told, 1))
    return tuple(picture for picture in found if picture is not None)


def _picture(held: Held, stem: str, units: str) -> Picture | None:
    versions = Versions.of(held)
    if versions is None:
        return None
    sheet = Sheet(_WIDTH_MM, [], [])
    verdict = f": {held.verdict.value}"
    room = sheet.right - sheet.left - width_mm(verdict, HEADING_MM)
    sheet.line(shortened(held.name, room, HEADING_MM) + verdict, HEADING_MM)
    sheet.lines(held.reason)
    sheet.y -= 3.0
    left = sheet.left + _GAP_MM + PLAIN_MM
    view = View.of(versions.bounds, sheet.right - BESIDE_MM - left, _HIGHEST_MM)
    drawn = list(shapes(versions, view))
    texts = list(letters(versions, view))
    difference = both(versions)
    for several, words in (
        _seam(versions, view),
        dimension(difference, view, units) if difference else ([], []),
    ):
        drawn += several
        texts += words
    _put(sheet, drawn, texts, left)
    sheet.y -= max(view.high_mm, 6.0) + BELOW_MM
    _axes(sheet, versions, view, left, units)
    grey = "added piece" if versions.strip else "cut off" if versions.trimmed else "more board"
    _key(sheet, drawn, {Ink.ADDED: grey})
    slug = re.sub(r"[^a-z0-9]+", "-", held.name.lower()).strip("-")[:_STEM].strip("-")
    name = f"{stem}-{slug}" if slug else stem
    return sheet.finished(name, f"{held.name}{verdict}", f"{held.name}{verdict}. {held.reason}")


def _put(sheet: Sheet, drawn: Iterable[Shape], texts: Iterable[Text], left: float) -> None:
    """Shapes and words of the view on the picture."""
    sheet.shapes += [shape.moved(left, sheet.y) for shape in drawn]
    sheet.texts += [replace(text, at=(text.at[0] + left, text.at[1] + sheet.y)) for text in texts]


def _seam(versions: Versions, view: View) -> tuple[list[Shape], list[Text]]:
    """The seam, a little beyond the part at both ends."""
    ends = versions.seam()
    if ends is None:
        return [], []
    (ax, ay), (bx, by) = map(view.at, ends)
    over = _GAP_MM / 2
    x, y = (over, 0.0) if abs(bx - ax) > abs(by - ay) else (0.0, over)
    way = 1 if bx + by > ax + ay else -1
    points = ((ax - way * x, ay - way * y), (bx + way * x, by + way * y))
    return [Shape(ink=Ink.CENTRE, points=points)], []


def _axes(sheet: Sheet, versions: Versions, view: View, left: float, units: str) -> None:
    """Which way x and y of the drawing run, and a bar of a round length."""
    down = -1.0 if versions.part.mirror_image else 1.0
    corner = left, sheet.y - _ARROW_MM - 2.0
    ways: list[tuple[str, Point]] = [("x", (1.0, 0.0)), ("y", (0.0, down))]
    if view.turned:
        ways = [("x", (0.0, -1.0)), ("y", (down, 0.0))]
    base = corner[0] + (_ARROW_MM if any(dx < 0 for _, (dx, _) in ways) else 0.0), corner[1]
    base = base[0], base[1] + (_ARROW_MM if any(dy < 0 for _, (_, dy) in ways) else 0.0)
    for word, (dx, dy) in ways:
        tip = base[0] + dx * _ARROW_MM, base[1] + dy * _ARROW_MM
        back = tip[0] - dx * _HEAD_MM, tip[1] - dy * _HEAD_MM
        across = dy * _HEAD_MM / 2.5, dx * _HEAD_MM / 2.5
        head = (tip, (back[0] + across[0], back[1] + across[1]), (back[0] - across[0], back[1] - across[1]))
        sheet.shapes.append(Shape(ink=Ink.AXIS, points=(base, tip)))
        sheet.shapes.append(Shape(ink=Ink.SOLID, points=head, closed=True))
        at = (
            tip[0] + 1.6 * dx + (2.0 if dx == 0 else 0.0),
            tip[1] - (PLAIN_MM / 2 if dx else PLAIN_MM * (dy > 0)),
        )
        sheet.texts.append(words_at(at, word, align=Align.MIDDLE if dx >= 0 else Align.RIGHT))
    _bar(sheet, view, left + 3 * _ARROW_MM, corner[1] + _ARROW_MM / 2, units)
    sheet.y = corner[1] - 3.0


def _bar(sheet: Sheet, view: View, x: float, y: float, units: str) -> None:
    """A bar of a round length of the part."""
    unit = MM_PER_INCH if units == "in" else 1.0
    length = steps(50.0 / view.scale / unit, 2)
    long = length * unit * view.scale
    runs = [((x, y), (x + long, y)), *(((end, y - 1.0), (end, y + 1.0)) for end in (x, x + long))]
    sheet.shapes += [Shape(ink=Ink.AXIS, points=run) for run in runs]
    sheet.texts.append(words_at((x + long + 2.0, y - PLAIN_MM / 2), f"{decimal_text(length, 3)} {units}"))


def _key(sheet: Sheet, drawn: Iterable[Shape], otherwise: Mapping[Ink, str]) -> None:
    """A sample of every ink that is used, with what it means."""
    used = {shape.ink for shape in drawn}
    x = sheet.left
    for ink, words in {**_MEANINGS, **otherwise}.items():
        if ink not in used:
            continue
        base = sheet.y - PLAIN_MM
        sheet.shapes.append(_swatch(ink, x, base))
        sheet.texts.append(words_at((x + _SWATCH_MM + 1.5, base), words))
        x += _SWATCH_MM + 1.5 + width_mm(words) + _NEXT_MM
    sheet.y -= PITCH_MM


def _swatch(ink: Ink, x: float, base: float) -> Shape:
    middle = base + PLAIN_MM / 2
    if ink in _BOXES:
        return box(ink, x, middle - 1.1, x + _SWATCH_MM, middle + 1.1)
    return Shape(ink=ink, points=((x, middle), (x + _SWATCH_MM, middle)))
