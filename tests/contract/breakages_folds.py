"""Damages to what the sheets' files show of folds and bevels, on both faces."""

import itertools
import math
import re
from collections import Counter
from pathlib import Path

from breakage import Collection, NotApplicableError, edit_text, load
from breakage_dxf import (
    Block,
    change_layer,
    dxf_files,
    moved,
    points_of,
    put,
    read_blocks,
    set_points,
    shifted,
    stretched,
    write_pairs,
)

BREAKAGES = Collection()


@BREAKAGES.add("a groove with one of its edges left out", r"\.dxf: GROOVE: .*groove .* is not drawn")
def _groove_edge(folder: Path) -> None:
    change_layer(folder, "GROOVE", lambda own, every: every.remove(own[0]))


@BREAKAGES.add("a groove 0.05 mm too wide", r"\.dxf: GROOVE: .*groove .* is not drawn")
def _groove_wide(folder: Path) -> None:
    change_layer(folder, "GROOVE", lambda own, every: shifted(own[0], 0.05))


@BREAKAGES.add("a groove all of whose edges lie a board off", r"\.dxf: GROOVE: .* no line of a fold or bevel")
def _groove_off(folder: Path) -> None:
    def change(own: list[Block], every: list[Block]) -> None:
        for block in own:
            shifted(block, 5.0)

    change_layer(folder, "GROOVE", change)


@BREAKAGES.add("a strip lifted out 0.05 mm too narrow", r"\.dxf: LIFT: .*wrap .* is not drawn")
def _lift(folder: Path) -> None:
    change_layer(folder, "LIFT", lambda own, every: shifted(own[1], -0.05))


@BREAKAGES.add("a cut of the drawn face put on the other", r"\.dxf: layer LIFT_BACK has no place in the file")
def _other_face(folder: Path) -> None:
    change_layer(folder, "LIFT", lambda own, every: [put(block, 8, "LIFT_BACK") for block in own] and None)


@BREAKAGES.add("half a cut called a lift", r"\.dxf: HALF: .* is not drawn")
def _half_lift(folder: Path) -> None:
    change_layer(folder, "HALF", lambda own, every: put(own[0], 8, "LIFT"))


@BREAKAGES.add("a fold towards you called one away", r"\.dxf: FOLD_UP: .*turns is not drawn")
def _fold_down(folder: Path) -> None:
    change_layer(folder, "FOLD_UP", lambda own, every: [put(block, 8, "FOLD_DOWN") for block in own] and None)


@BREAKAGES.add("an end tick of a fold left out", r"\.dxf: FOLD_UP: .*turns is not drawn")
def _tick(folder: Path) -> None:
    change_layer(folder, "FOLD_UP", lambda own, every: every.remove(own[0]))


@BREAKAGES.add("an end tick of 4 mm", r"\.dxf: FOLD_UP: .*turns is not drawn")
def _tick_short(folder: Path) -> None:
    change_layer(folder, "FOLD_UP", lambda own, every: stretched(own[0], -1.0))


@BREAKAGES.add("a fold drawn whole on a line that is cut", r"\.dxf: FOLD_UP: .* no line of a fold or bevel")
def _fold_on_cut(folder: Path) -> None:
    lifted: list[list[tuple[float, float]]] = []
    change_layer(folder, "LIFT", lambda own, every: lifted.append(points_of(own[1])))
    change_layer(folder, "FOLD_UP", lambda own, every: set_points(own[0], lifted[0]))


@BREAKAGES.add("a line where a hinge turns", r"\.dxf: FOLD_UP: .* no line of a fold or bevel")
def _needless_fold(folder: Path) -> None:
    def change(own: list[Block], every: list[Block]) -> None:
        block = list(own[0])
        put(block, 8, "FOLD_UP")
        at = next(i for i, other in enumerate(every) if (8, "LETTERING") in other)
        every.insert(at, block)

    change_layer(folder, "HALF", change)


@BREAKAGES.add("a roll with a score too few", r"\.dxf: HALF: .*roll .* is not drawn")
def _roll(folder: Path) -> None:
    """The lines of a roll are the most that are of one length."""

    def change(own: list[Block], every: list[Block]) -> None:
        long = [round(math.dist(*points_of(block)[:2]), 3) for block in own]
        usual, count = Counter(long).most_common(1)[0]
        if count < 4:
            raise NotApplicableError("no roll on the first sheet")
        every.remove(own[[at for at, length in enumerate(long) if length == usual][-2]])

    change_layer(folder, "HALF", change)


@BREAKAGES.add("a half cut drawn twice", r"\.dxf: HALF: (.*mm are drawn where|.* lies on one of HALF)")
def _twice(folder: Path) -> None:
    change_layer(folder, "HALF", lambda own, every: every.insert(every.index(own[0]), own[0]))


@BREAKAGES.add("a half cut 0.05 mm past the part's edge", r"\.dxf: HALF: .* no line of a fold or bevel")
def _past(folder: Path) -> None:
    change_layer(folder, "HALF", lambda own, every: stretched(own[0], 0.05))


@BREAKAGES.add("a half cut 0.05 mm short of the part's edge", r"\.dxf: HALF: .* is not drawn")
def _short(folder: Path) -> None:
    change_layer(folder, "HALF", lambda own, every: stretched(own[0], -0.05))


@BREAKAGES.add("a half cut on an outline", r"\.dxf: HALF: .* lies on an outline")
def _on_outline(folder: Path) -> None:
    """A kerf moves outlines: the true edge is that of the layout."""
    worked = (path for path in dxf_files(folder, "front") if "\nHALF\n" in path.read_text("cp1252"))
    path = next(worked, None)
    if path is None:
        raise NotApplicableError("no half cut")
    sheet = next(s for s in load(folder)["sheets"] if f"sheets/{path.name}" in s["files"])

    def change(own: list[Block], every: list[Block]) -> None:
        (x, y), _ = points_of(own[0])[:2]
        best: tuple[float, list[tuple[float, float]]] = (1e9, [])
        for entry in sheet["placed"]:
            for a, b in itertools.pairwise(entry["polygon"][0]):
                best = min(best, (abs(a[0] - x) + abs(a[1] - y), [tuple(a), tuple(b)]))
        set_points(own[0], best[1])

    change_layer(folder, "HALF", change)


@BREAKAGES.add("a bevel left out", r"\.dxf: BEVEL: .* is not drawn")
def _bevel(folder: Path) -> None:
    change_layer(folder, "BEVEL", lambda own, every: every.remove(own[0]))


@BREAKAGES.add("a bevel 0.05 mm too deep", r"\.dxf: BEVEL: .* is not drawn")
def _bevel_deep(folder: Path) -> None:
    change_layer(folder, "BEVEL", lambda own, every: shifted(own[0], 0.05))


@BREAKAGES.add("a bevel outside its edge", r"\.dxf: BEVEL: .* no line of a fold or bevel")
def _bevel_outside(folder: Path) -> None:
    def change(own: list[Block], every: list[Block]) -> None:
        for step in (-10.0, 10.0):
            copy = list(own[0])
            shifted(copy, step)
            every.insert(every.index(own[0]), copy)

    change_layer(folder, "BEVEL", change)


@BREAKAGES.add("a bevel that ends before its mitre", r"\.dxf: BEVEL: .*(ends neither at|is not drawn)")
def _bevel_short(folder: Path) -> None:
    change_layer(folder, "BEVEL", lambda own, every: stretched(own[0], -0.5))


@BREAKAGES.add("a groove missing behind", r"-back\.dxf: GROOVE_BACK: .* is not drawn")
def _back_groove(folder: Path) -> None:
    change_layer(folder, "GROOVE_BACK", lambda own, every: every.remove(own[-1]), "back")


@BREAKAGES.add("a hinge's slope behind 0.05 mm off", r"-back\.dxf: BEVEL_BACK: .* is not drawn")
def _back_slope(folder: Path) -> None:
    def change(own: list[Block], every: list[Block]) -> None:
        for block in own:
            shifted(block, 0.05)

    change_layer(folder, "BEVEL_BACK", change, "back")


@BREAKAGES.add("a back file that is not turned over", r"-back\.dxf: .*_BACK: .* is not drawn")
def _not_turned(folder: Path) -> None:
    path = next(iter(dxf_files(folder, "back")), None)
    if path is None:
        raise NotApplicableError("no back file")
    number = int(re.findall(r"-([0-9]+)-back", path.name)[0])
    name = f"sheets/{path.name}"
    sheet = next(sheet for sheet in load(folder)["sheets"] if name in sheet["files"])
    if sheet["number"] != number:
        raise NotApplicableError("another sheet")
    before, blocks, after = read_blocks(path)
    for block in blocks:
        if (8, "NOTES") not in block and block[0][1] != "TEXT":
            set_points(block, [(sheet["size"][0] - x, y) for x, y in points_of(block)])
    write_pairs(path, before + [pair for block in blocks for pair in block] + after)


@BREAKAGES.add(
    "an outline cut from behind", r"-back\.dxf: (layer THROUGH has no place|THROUGH: .* no line of the)"
)
def _back_outline(folder: Path) -> None:
    change_layer(folder, "OPENING", lambda own, every: put(own[0], 8, "THROUGH"), "back")


@BREAKAGES.add("a mark of the other face lost there", r"-back\.dxf: MARK_BACK: .* are not drawn")
def _back_mark(folder: Path) -> None:
    change_layer(folder, "MARK_BACK", lambda own, every: every.remove(own[0]), "back")


@BREAKAGES.add("a mark of the other face lost on this one", r"[0-9]\.dxf: MARK_BACK: .* are not drawn")
def _front_mark(folder: Path) -> None:
    if not dxf_files(folder, "back"):
        raise NotApplicableError("no back file")

    def change(own: list[Block], every: list[Block]) -> None:
        for block in own:
            moved(block, 0.2, 0.2)

    for path in dxf_files(folder, "back"):
        front = path.with_name(path.name.replace("-back", ""))
        before, blocks, after = read_blocks(front)
        own = [block for block in blocks if (8, "MARK_BACK") in block]
        if own:
            change(own, blocks)
            write_pairs(front, before + [pair for block in blocks for pair in block] + after)
            return
    raise NotApplicableError("no mark behind on such a sheet")


@BREAKAGES.add("a fold missing in an SVG", r"\.svg: LIFT: .* is not drawn")
def _svg_fold(folder: Path) -> None:
    for path in sorted((folder / "sheets").glob("*.svg")):
        text = path.read_text("utf-8")
        if 'id="LIFT"' in text:
            start = text.index("<path", text.index('id="LIFT"'))
            path.write_text(text[:start] + text[text.index("/>", start) + 2 :], "utf-8")
            return
    raise NotApplicableError("nothing is lifted out")


@BREAKAGES.add("bevels of an SVG named for the other face", r"\.svg: group BEVEL_BACK has no place")
def _svg_face(folder: Path) -> None:
    for path in sorted((folder / "sheets").glob("*.svg")):
        if 'id="BEVEL"' in path.read_text("utf-8"):
            edit_text(folder, f"sheets/{path.name}", 'id="BEVEL"', 'id="BEVEL_BACK"')
            return
    raise NotApplicableError("no bevel")


@BREAKAGES.add("a turn that is another in the design", r"\.dxf: GROOVE: .*groove .* is not drawn")
def _design_turn(folder: Path) -> None:
    path = folder / "design.toml"
    text = path.read_text("utf-8")
    match = re.search(r'kind = "groove"[^\n]*?turn = ([0-9.]+)', text)
    if match is None:
        raise NotApplicableError("no groove")
    path.write_text(text[: match.start(1)] + f"{float(match[1]) + 1:g}" + text[match.end(1) :], "utf-8")
