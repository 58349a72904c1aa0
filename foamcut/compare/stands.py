"""What stands at a seam so that a part cannot be extended there: joiners, hinges, motors, cuts, folds."""

from collections.abc import Iterator

from foamcut.compare.placed import Ruler
from foamcut.compare.seam import Seam
from foamcut.flat.clipping import run_points
from foamcut.flat.drawn import FoldKind
from foamcut.flat.marks import Mark, TapeMark
from foamcut.flat.obstacles import obstacles
from foamcut.flat.part import Part

#: words in keys and marks of what carries load across, and what it is called
_CARRIES = (("joiner", "a joiner"), ("firewall", "a motor"), ("motor", "a motor"))
#: in the words of tape that is a hinge
_HINGE = "hinge"

Box = tuple[float, float, float, float]


def stands_there(part: Part, seam: Seam, overlap_mm: float) -> Iterator[str]:
    """Joiners, hinges and motors in the strip, across the seam, or joiners and motors under its doublers."""
    yield from ("a hinge" for bounds in _hinges(part) if _beyond(seam, bounds, 0.0))
    for key, bounds, text in _things(part):
        if _beyond(seam, bounds, overlap_mm):
            words = f"{key.removeprefix(part.key)} {text}".lower()
            yield from (what for word, what in _CARRIES if word in words)


def _hinges(part: Part) -> Iterator[Box]:
    for fold in part.folds:
        if fold.kind is FoldKind.HINGE:
            runs = (*fold.cut_runs(), *fold.fold)
            yield _box([at for run in runs for at in run_points(run)] or [fold.start, fold.end])
    for mark in part.marks:
        if isinstance(mark, TapeMark) and _HINGE in f"{mark.key} {mark.text}".lower():
            yield _box([at for run in mark.runs for at in run_points(run)])


def too_near(part: Part, seam: Seam, overlap_mm: float, ruler: Ruler) -> Iterator[str]:
    """Slots, cutouts, tabs, ranges to keep clear and folds along the seam nearer than the doublers reach."""
    words = {keep.key: "a place that is kept clear" for keep in part.keep_clear}
    for word, several in (("a slot", part.slots), ("a tab", part.tabs), ("a fold", part.folds)):
        words |= {thing.key: word for thing in several}
    for one in obstacles(part):
        if not one.bars[seam.axis]:
            continue
        low, high = one.reach(seam.axis)
        if low - overlap_mm < seam.at_mm < high + overlap_mm:
            yield f"{words.get(one.key, one.word)} at {ruler.line(part, seam.axis, (low + high) / 2)}"


def _things(part: Part) -> Iterator[tuple[str, Box, str]]:
    for slot in part.slots:
        yield slot.key, slot.outline.bounds, ""
    for mark in part.marks:
        points = [point for run in mark.drawn().runs for point in run_points(run)]
        if points:
            yield mark.key, _box(points), _words(mark)


def _words(mark: Mark) -> str:
    return " ".join(text.text for text in mark.drawn().texts)


def _box(points: list[tuple[float, float]]) -> Box:
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _beyond(seam: Seam, bounds: Box, near_mm: float) -> bool:
    """Whether a box reaches nearer to the seam than `near_mm` on the old side, or over it."""
    far = bounds[seam.axis + 2] if seam.side > 0 else bounds[seam.axis]
    return (far - seam.at_mm) * seam.side > -near_mm
