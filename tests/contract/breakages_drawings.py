"""Damages to the DXF and SVG files of the sheets."""

import re
from collections.abc import Callable
from pathlib import Path

from breakage import Collection, NotApplicableError, edit_text
from breakage_dxf import Block, dxf_files, kind_of, of_layer, put, read_blocks, write_pairs
from pack_dxf import read_pairs

BREAKAGES = Collection()


def _dxf(folder: Path) -> Path:
    return dxf_files(folder, "front")[0]


def _svg(folder: Path) -> Path:
    return min(path for path in (folder / "sheets").glob("*.svg") if kind_of(path) == "front")


def _change(folder: Path, change: Callable[[list[Block]], None]) -> None:
    path = _dxf(folder)
    before, blocks, after = read_blocks(path)
    change(blocks)
    write_pairs(path, before + [pair for block in blocks for pair in block] + after)


@BREAKAGES.add("a DXF 25.4 times too large", r"\.dxf: (THROUGH|SHEET): .*is not drawn as in the layout")
def _inches(folder: Path) -> None:
    def change(blocks: list[Block]) -> None:
        for block in blocks:
            for at, (code, value) in enumerate(block):
                if code in (10, 11, 20, 21, 40):
                    block[at] = (code, f"{float(value) * 25.4:.6f}")

    _change(folder, change)


@BREAKAGES.add("a piece dropped from a DXF", r"\.dxf: THROUGH: outline of piece .* is not drawn")
def _dropped(folder: Path) -> None:
    _change(folder, lambda blocks: blocks.remove(of_layer(blocks, "THROUGH")[-1]))


@BREAKAGES.add("a piece drawn twice in a DXF", r"\.dxf: THROUGH: .*is no line of the layout")
def _drawn_twice(folder: Path) -> None:
    _change(
        folder,
        lambda blocks: blocks.insert(
            blocks.index(of_layer(blocks, "THROUGH")[0]), of_layer(blocks, "THROUGH")[0]
        ),
    )


@BREAKAGES.add("two layers of a DXF swapped", r"\.dxf: .*(is not drawn as in the layout|order of the table)")
def _swapped(folder: Path) -> None:
    def change(blocks: list[Block]) -> None:
        swap = {"THROUGH": "SHEET", "SHEET": "THROUGH"}
        for block in blocks:
            for at, (code, value) in enumerate(block):
                if code == 8:
                    block[at] = (8, swap.get(value, value))

    _change(folder, change)


@BREAKAGES.add("a cut on the layer of marks", r"\.dxf: THROUGH: outline of piece .* is not drawn")
def _on_marks(folder: Path) -> None:
    _change(folder, lambda blocks: put(of_layer(blocks, "THROUGH")[0], 8, "MARK"))


@BREAKAGES.add("a closed line of a DXF opened", r"\.dxf: THROUGH: .*(not closed|lacks the closed flag)")
def _opened(folder: Path) -> None:
    _change(folder, lambda blocks: put(of_layer(blocks, "THROUGH", "LWPOLYLINE")[0], 70, "0"))


@BREAKAGES.add("a corner of a DXF 0.05 mm off", r"\.dxf: THROUGH: outline of piece .* is not drawn")
def _corner(folder: Path) -> None:
    def change(blocks: list[Block]) -> None:
        block = of_layer(blocks, "THROUGH", "LWPOLYLINE")[0]
        put(block, 10, f"{float(next(value for code, value in block if code == 10)) + 0.05:.6f}")

    _change(folder, change)


@BREAKAGES.add("an arc of a DXF made a straight line", r"\.dxf: (THROUGH|OPENING): .* is not drawn")
def _bulge(folder: Path) -> None:
    def change(blocks: list[Block]) -> None:
        for block in blocks:
            cut = (8, "THROUGH") in block or (8, "OPENING") in block
            for at, (code, value) in enumerate(block):
                if code == 42 and abs(float(value)) > 0.05 and cut:
                    block[at] = (42, "0.0")
                    return
        raise NotApplicableError("no arc on this sheet")

    _change(folder, change)


@BREAKAGES.add("a hole of a DXF left out", r"\.dxf: OPENING: hole of piece .* is not drawn")
def _hole(folder: Path) -> None:
    _change(folder, lambda blocks: blocks.remove(of_layer(blocks, "OPENING")[0]))


@BREAKAGES.add("a DXF said to be in inches", r"\.dxf: header \$INSUNITS is 1, not 4")
def _insunits(folder: Path) -> None:
    path = _dxf(folder)
    pairs = read_pairs(path.read_bytes())
    at = pairs.index((9, "$INSUNITS")) + 1
    pairs[at] = (70, "1")
    write_pairs(path, pairs)


@BREAKAGES.add("a layer of another program", r"\.dxf: layer 'CUT' is not in the table")
def _foreign(folder: Path) -> None:
    _change(folder, lambda blocks: put(of_layer(blocks, "THROUGH")[0], 8, "CUT"))


@BREAKAGES.add("a line on layer 0", r"\.dxf: layer '0' is not in the table")
def _layer_0(folder: Path) -> None:
    _change(folder, lambda blocks: put(of_layer(blocks, "SHEET")[0], 8, "0"))


@BREAKAGES.add("a text on a layer that is cut", r"\.dxf: layer THROUGH: text on a layer of lines")
def _text_on_cut(folder: Path) -> None:
    _change(folder, lambda blocks: put(of_layer(blocks, "LETTERING", "TEXT")[0], 8, "THROUGH"))


@BREAKAGES.add("a label that is not ASCII", r"\.dxf: LETTERING: text .* is not plain ASCII")
def _not_ascii(folder: Path) -> None:
    _change(folder, lambda blocks: put(of_layer(blocks, "LETTERING", "TEXT")[0], 1, "Flügel"))


@BREAKAGES.add("a note over the board", r"\.dxf: NOTES: text .* is not wholly to the right")
def _note(folder: Path) -> None:
    def change(blocks: list[Block]) -> None:
        for block in of_layer(blocks, "NOTES", "TEXT"):
            put(block, 10, "20.0")

    _change(folder, change)


@BREAKAGES.add("the 100 mm line of a DXF is 99 mm", r"\.dxf: NOTES: no line of 100 mm")
def _bar(folder: Path) -> None:
    def change(blocks: list[Block]) -> None:
        for block in of_layer(blocks, "NOTES"):
            for at, (code, value) in enumerate(block):
                if code in (10, 11, 20, 21) and block[0][1] != "TEXT":
                    block[at] = (code, f"{float(value) * 0.99 + 100:.6f}")

    _change(folder, change)


@BREAKAGES.add("the board's thickness told wrongly", r"\.(dxf|svg): NOTES: the thickness of .* is not told")
def _thickness(folder: Path) -> None:
    def change(blocks: list[Block]) -> None:
        for block in of_layer(blocks, "NOTES", "TEXT"):
            words = next(value for code, value in block if code == 1)
            put(block, 1, re.sub(r"[0-9.]+ mm", "77 mm", re.sub(r"[0-9.]+ x [0-9.]+", "77 x 77", words)))

    _change(folder, change)


@BREAKAGES.add("a DXF number with an exponent", r"\.dxf: numbers not plain")
def _exponent(folder: Path) -> None:
    def change(blocks: list[Block]) -> None:
        block = of_layer(blocks, "THROUGH")[0]
        put(block, 10, f"{float(next(value for code, value in block if code == 10)):.9e}")

    _change(folder, change)


@BREAKAGES.add("a coordinate that is no number", r"\.dxf: ")
def _nan(folder: Path) -> None:
    _change(folder, lambda blocks: put(of_layer(blocks, "THROUGH")[0], 10, "nan"))


@BREAKAGES.add("the outline cut before the holes", r"\.dxf: layers? .*(order of the table|stand together)")
def _order(folder: Path) -> None:
    def change(blocks: list[Block]) -> None:
        last = of_layer(blocks, "THROUGH")[-1]
        blocks.remove(last)
        blocks.insert(0, last)

    _change(folder, change)


@BREAKAGES.add("a DXF cut in half", r"\.dxf: the file cannot be read")
def _half(folder: Path) -> None:
    path = _dxf(folder)
    data = path.read_bytes()
    path.write_bytes(data[: len(data) // 2])


@BREAKAGES.add("an SVG whose width is not its viewBox", r"\.svg: viewBox .* is not")
def _width(folder: Path) -> None:
    path = _svg(folder)
    text = path.read_text("utf-8")
    path.write_text(re.sub(r'(<svg[^>]*\swidth=")([0-9.]+)mm', _wider, text, count=1), "utf-8")


def _wider(match: re.Match[str]) -> str:
    return f"{match[1]}{float(match[2]) * 2:g}mm"


@BREAKAGES.add("an SVG in pixels", r"\.svg: width is .* not a number of mm")
def _pixels(folder: Path) -> None:
    path = _svg(folder)
    text = path.read_text("utf-8")
    path.write_text(re.sub(r'(<svg[^>]*\swidth="[0-9.]+)mm', r"\1", text, count=1), "utf-8")


@BREAKAGES.add("an SVG drawn a little lower", r"\.svg: THROUGH: outline of piece .* is not drawn")
def _lower(folder: Path) -> None:
    """Put the sheet's corner where y was not turned about the sheet's height but about 0.1 mm more."""
    path = _svg(folder)
    text = path.read_text("utf-8")
    match = re.search(r'<g[^>]*id="THROUGH".*?</g>', text, re.DOTALL)
    assert match is not None
    moved = re.sub(r"(-?[0-9.]+)([ ,]+)(-?[0-9.]+)(?=\s*[LlZzAaHhVv])", _down, match[0])
    path.write_text(text[: match.start()] + moved + text[match.end() :], "utf-8")


def _down(match: re.Match[str]) -> str:
    return f"{match[1]}{match[2]}{float(match[3]) + 0.1:g}"


@BREAKAGES.add(
    "an SVG upside down", r"\.svg: (THROUGH: outline of piece .* is not drawn|<g> has a transform)"
)
def _upside_down(folder: Path) -> None:
    path = _svg(folder)
    text = path.read_text("utf-8")
    height = re.search(r'viewBox="0 0 [0-9.]+ ([0-9.]+)"', text)
    assert height is not None
    turned = re.sub(r'(<g[^>]*id="THROUGH")', rf'\1 transform="matrix(1 0 0 -1 0 {height[1]})"', text)
    path.write_text(turned, "utf-8")


@BREAKAGES.add("a group of an SVG misnamed", r"\.svg: group 'CUTS' is not in the table")
def _misnamed(folder: Path) -> None:
    edit_text(folder, f"sheets/{_svg(folder).name}", 'id="THROUGH"', 'id="CUTS"')


@BREAKAGES.add("groups of an SVG out of order", r"\.svg: groups do not stand in the order")
def _group_order(folder: Path) -> None:
    path = _svg(folder)
    text = path.read_text("utf-8")
    text = text.replace('id="SHEET"', 'id="-"').replace('id="THROUGH"', 'id="SHEET"')
    path.write_text(text.replace('id="-"', 'id="THROUGH"'), "utf-8")


@BREAKAGES.add("a line of an SVG left open", r"\.svg: THROUGH: the line that starts at .* is not closed")
def _svg_open(folder: Path) -> None:
    path = _svg(folder)
    text = path.read_text("utf-8")
    at = text.index('id="THROUGH"')
    match = re.compile(r"\s*[Zz]").search(text, at)
    if match is None:
        raise NotApplicableError("no closed path")
    path.write_text(text[: match.start()] + text[match.end() :], "utf-8")


@BREAKAGES.add("a script in an SVG", r"\.svg: <script> has no place")
def _script(folder: Path) -> None:
    edit_text(folder, f"sheets/{_svg(folder).name}", "</svg>", "<script>1</script></svg>")
