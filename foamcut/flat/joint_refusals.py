"""Why a part cannot be joined, or not as the builder wants it, in words for the builder."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from foamcut.errors import Refusal
from foamcut.flat.doublers import Line
from foamcut.flat.drawn import Doubling, JointLine
from foamcut.flat.fitting import Fitting, millimetres, nanometres, size_text, what_holds_it
from foamcut.flat.ground import LONGER_MM, Ground
from foamcut.flat.joint_lines import Lines, best_lines
from foamcut.flat.line_search import MOST_SECTIONS, AxisSearch
from foamcut.flat.obstacles import Obstacle
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.units import decimal_text

#: of what stands in the way so much is named: more is not read
_MOST_NAMED = 8


def at_text(line: Line, *, mirror_image: bool = False) -> str:
    """Where a joint line lies, as the drawing has it; `mirror_image`: of the hand that is not drawn."""
    if mirror_image and line.axis == 1:
        return f"y = {decimal_text(0.0 - line.at_mm, 2)} mm of the drawing"
    return f"{'xy'[line.axis]} = {decimal_text(line.at_mm, 2)} mm"


def too_large(part: Part, stock: Stock, fitting: Fitting) -> Refusal:
    """A part that fits no sheet and may not be joined."""
    text = (
        f"{part.name} is {size_text(part.length_mm, part.width_mm)} and fits no sheet of stock {stock.name}: "
        f"the largest leaves {fitting.largest_text} inside its margin, "
        'and joints = "none" keeps it in one piece; '
    )
    turn = None if fitting.askew else fitting.free_turn(part.outline)
    if turn is not None:
        text += f"turned by {decimal_text(turn)} degrees it would fit: {what_holds_it(part, stock)}; "
        text += "otherwise "
    text += "let it be joined (leave joints out), make it shorter or add a larger size"
    return Refusal(key=part.key, text=text)


def builders_lines_refused(
    part: Part, ground: Ground, lines: Sequence[JointLine], sections: Sequence[Outline]
) -> list[Refusal]:
    """What is wrong with the lines that the builder gave, and with the sections that they make."""
    refusals: list[Refusal] = []
    seen: set[tuple[int, int]] = set()
    cross = True
    for line in lines:
        axis, at = line_place(line)
        cross = cross and ground.low[axis] < at < ground.high[axis] and (axis, at) not in seen
        if (axis, at) in seen:
            text = "there is another joint line at this place; take one of them out"
            refusals.append(Refusal(key=line.key, text=text))
        seen.add((axis, at))
        refusals += _line_refused(ground, line)
    if cross:
        refusals += _sections_refused(part, ground, lines, sections)
    return refusals


def line_place(line: JointLine) -> tuple[int, int]:
    """Axis of a line and where it lies, nm."""
    if line.x_mm is not None:
        return 0, nanometres(line.x_mm)
    if line.y_mm is None:
        raise ValueError(f"{line.key}: a joint line without a place")
    return 1, nanometres(line.y_mm)


def _line_refused(ground: Ground, line: JointLine) -> Iterator[Refusal]:
    axis, at = line_place(line)
    name = "xy"[axis]
    where = f"the joint line at {name} = {_mm(at)} mm"
    low, high = ground.low[axis], ground.high[axis]
    if not low < at < high:
        reach = f"{name} from {_mm(low)} to {_mm(high)}"
        yield Refusal(key=line.key, text=f"{where} does not cross the part ({reach}); move it")
        return
    for barred_from, barred_to, obstacle in ground.blocked(axis):
        if barred_from < at < barred_to:
            off = max(barred_from + ground.overlap - at, at - barred_to + ground.overlap)
            near = f"is {_mm(off)} mm from" if off > 0 else "runs through"
            text = (
                f"{where} {near} {obstacle.text(axis)}; it has to keep off by the overlap of "
                f"{_mm(ground.overlap)} mm: move it to {_mm(barred_from)} or less, or to {_mm(barred_to)} or "
                "more, or shorten the overlap"
            )
            yield Refusal(key=line.key, text=text)


def _sections_refused(
    part: Part, ground: Ground, lines: Sequence[JointLine], sections: Sequence[Outline]
) -> Iterator[Refusal]:
    axes = sorted({line_place(line)[0] for line in lines})
    for section in sections:
        bounds = section.bounds
        key = _line_at(lines, bounds) or part.key
        for axis in axes:
            length = nanometres(bounds[axis + 2]) - nanometres(bounds[axis])
            if length < ground.shortest:
                text = (
                    f"{_section_text(section, axis)} is {_mm(length)} mm long; it has to be at least "
                    f"{_shortest_text(ground)}; move the line, or shorten the overlap ({_overlap_key(part)})"
                )
                yield Refusal(key=key, text=text)
        if not ground.fitting.holds(section.polygon):
            text = (
                f"{_section_text(section, axes[0])} is "
                f"{size_text(bounds[2] - bounds[0], bounds[3] - bounds[1])} and fits no sheet of stock "
                f"{ground.fitting.stock.name}: the largest leaves {ground.fitting.largest_text} inside its "
                "margin; move the line, add another, or add a larger size"
            )
            yield Refusal(key=key, text=text)


def _section_text(section: Outline, axis: int) -> str:
    low, high = (decimal_text(section.bounds[i], 2) for i in (axis, axis + 2))
    return f"the section from {'xy'[axis]} = {low} to {high} mm"


def _shortest_text(ground: Ground) -> str:
    return (
        f"{_mm(ground.shortest)} mm: a doubler (twice the overlap of {_mm(ground.overlap)} mm) "
        f"and {decimal_text(LONGER_MM)} mm"
    )


def _line_at(lines: Sequence[JointLine], bounds: Sequence[float]) -> str | None:
    """The key of the first line that a section ends at."""
    ends = [{nanometres(bounds[axis]), nanometres(bounds[axis + 2])} for axis in (0, 1)]
    return next((line.key for line in lines if line_place(line)[1] in ends[line_place(line)[0]]), None)


def with_turn(refusal: Refusal, part: Part, stock: Stock, fitting: Fitting) -> Refusal:
    """The refusal of a part that cannot be joined, with the angle at which it would lie whole, if any."""
    turn = None if fitting.askew else fitting.free_turn(part.outline)
    if turn is None:
        return refusal
    text = f"turned by {decimal_text(turn)} degrees it would lie whole: {what_holds_it(part, stock)}"
    return replace(refusal, text=f"{refusal.text}; {text}")


def no_lines(part: Part, ground: Ground) -> Refusal:
    """Why there is no place for the joint lines of a part."""
    longest = size_text(part.length_mm, part.width_mm)
    text = (
        f"{part.name} is {longest}, fits no sheet of stock {ground.fitting.stock.name} (the largest leaves "
        f"{ground.fitting.largest_text} inside its margin) and cannot be joined: "
    )
    key = part.key
    free = replace(ground, obstacles=(), clear=None)
    without = best_lines(free, None, 1)
    if without:
        text += _in_the_way(ground, free, without[0])
    elif _sections_at_least(ground) > MOST_SECTIONS:
        text += f"it would take more than {MOST_SECTIONS} sections; check the numbers, or add a larger size"
    else:
        text += (
            "no straight lines leave sections that all lie on a sheet and are at least "
            f"{_shortest_text(ground)}; shorten the overlap ({_overlap_key(part)}), add a larger size, or "
            "change the shape"
        )
    if part.doubling and _overlap_is_why(part, ground):
        key = _overlap_key(part)
    return Refusal(key=key, text=text)


def _overlap_key(part: Part) -> str:
    return f"{part.key}.doubler.overlap"


def _overlap_is_why(part: Part, ground: Ground) -> bool:
    """Whether an overlap is longer than is usual, and lines would find a place with the usual one."""
    usual = nanometres(Doubling.usual("", part.stock, part.thickness_mm).overlap_mm)
    if ground.overlap <= usual:
        return False
    shortest = ground.shortest - 2 * (ground.overlap - usual)
    return bool(best_lines(replace(ground, overlap=usual, shortest=shortest, clear=None), None, 1))


def _sections_at_least(ground: Ground) -> int:
    """Fewer sections than this do not reach along the part, whatever else stands in the way."""
    longest = max((max(room) for room in ground.fitting.rooms), default=1)
    return -(-max(ground.length(0), ground.length(1)) // longest)


def _in_the_way(ground: Ground, free: Ground, lines: Lines) -> str:
    """What bars the places where lines would have to lie."""
    words: list[str] = []
    for axis in (0, 1):
        row = lines.of_axis(axis)
        windows = AxisSearch(free, axis, ()).windows(len(row)) if row else []
        windows = windows or [(at, at) for at in row]
        reach = " and ".join(_mm(a) if a == b else f"{_mm(a)} to {_mm(b)}" for a, b in windows)
        barring = _barring(ground, axis, windows)
        if row and barring:
            several = list(dict.fromkeys(obstacle.text(axis) for obstacle in barring))
            more = len(several) - _MOST_NAMED
            names = ", ".join(several[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
            words.append(
                f"a line would have to lie at {'xy'[axis]} = {reach} mm, and keep the overlap of "
                f"{_mm(ground.overlap)} mm off {names}"
            )
    mend = "; move them, shorten the overlap, or add a larger size"
    return " and ".join(words) + mend if words else "lines find no place off its cuts" + mend


def _barring(ground: Ground, axis: int, windows: Iterable[tuple[int, int]]) -> list[Obstacle]:
    spans = list(windows)
    return [
        obstacle
        for low, high, obstacle in sorted(ground.blocked(axis), key=lambda b: b[:2])
        if any(low <= end and high >= start for start, end in spans)
    ]


def too_little_covered(key: str, line: Line, covered_mm: float, board_mm: float) -> Refusal:
    """Doublers that leave more than half of a joint bare."""
    text = (
        f"the doublers over the joint at {at_text(line)} cover {decimal_text(covered_mm)} of its "
        f"{decimal_text(board_mm)} mm, less than half; move the joint, make the inset smaller, or move "
        "what doublers keep off: edges, cuts, folds, marks with clear = true, keep_clear"
    )
    return Refusal(key=key, text=text)


def reaches_too_little(
    key: str, line: Line, reach: float, overlap_mm: float, marks: Sequence[str]
) -> Refusal:
    """Doublers that marks to be kept clear leave too little room beside a joint, mm."""
    names = ", ".join(marks[:_MOST_NAMED])
    text = (
        f"the doublers over the joint at {at_text(line)} reach {decimal_text(reach)} mm to a side along most "
        f"of it, less than half of the overlap of {decimal_text(overlap_mm)} mm, as they keep off {names}; "
        "move the joint or the marks, take clear = true out of them, or shorten the overlap"
    )
    return Refusal(key=key, text=text)


def falls_off(key: str, section: Outline) -> Refusal:
    """A section that no doubler joins to the rest."""
    x0, y0, x1, y1 = (decimal_text(v) for v in section.bounds)
    text = (
        f"no doubler finds room to join the section from {x0}, {y0} to {x1}, {y1} mm to the rest; "
        "move the joint, or make the inset smaller"
    )
    return Refusal(key=key, text=text)


def doubler_too_large(
    key: str, line: Line, outline: Outline, doubling: Doubling, fitting: Fitting
) -> Refusal:
    """A doubler that its stock has no room for, divided or not."""
    x0, y0, x1, y1 = outline.bounds
    room = f"the largest leaves {fitting.largest_text} inside its margin" if fitting.rooms else "it has none"
    text = (
        f"the doubler over the joint at {at_text(line)}, {size_text(x1 - x0, y1 - y0)}, fits no sheet of "
        f"stock {doubling.stock} in the turns that the part and both grains allow, in one piece or divided: "
        f"{room}; shorten the overlap, or give the doubler another stock"
    )
    return Refusal(key=key, text=text)


def _mm(nm: int) -> str:
    return decimal_text(millimetres(nm), 2)
