"""Damages to the PDF files. Everything else of the file stays as it was: saved with plain streams again."""

import io
from collections.abc import Callable
from pathlib import Path

import pikepdf
from breakage import Collection, NotApplicableError, load, store
from pack_pdf import BOARD_LAYERS
from pack_pdf_reader import Stroke, read_pages

BREAKAGES = Collection()
FULL = "full-size.pdf"


def _templates(folder: Path) -> str:
    return min(path.name for path in folder.glob("templates-*.pdf"))


def change_pdf(folder: Path, name: str, change: Callable[[pikepdf.Pdf], None]) -> None:
    path = folder / name
    with pikepdf.open(io.BytesIO(path.read_bytes())) as document:
        change(document)
        document.save(
            path,
            compress_streams=False,
            stream_decode_level=pikepdf.StreamDecodeLevel.none,
            object_stream_mode=pikepdf.ObjectStreamMode.disable,
            deterministic_id=True,
        )


def _edit_page(
    folder: Path,
    name: str,
    number: int,
    edit: Callable[[list[pikepdf.ContentStreamInstruction]], None],
) -> None:
    """Edit the instructions of page `number` (from 1)."""

    def change(document: pikepdf.Pdf) -> None:
        page = document.pages[number - 1]
        instructions = list(pikepdf.parse_content_stream(page))
        edit(instructions)
        page.Contents = document.make_stream(pikepdf.unparse_content_stream(instructions))

    change_pdf(folder, name, change)


def _instruction(operands: list[object], operator: str) -> pikepdf.ContentStreamInstruction:
    return pikepdf.ContentStreamInstruction(operands, pikepdf.Operator(operator))


def _tile_pages(folder: Path) -> list[int]:
    entries = load(folder).get("templates", [])
    name = _templates(folder)
    pages = [tile["page"] for entry in entries if entry["file"] == name for tile in entry["tiles"]]
    if not pages:
        raise NotApplicableError("nothing is tiled")
    return pages


def drop_line(folder: Path, name: str, number: int, wanted: Callable[[Stroke], bool]) -> None:
    """Leave out the first painted line that is wanted."""
    page = read_pages((folder / name).read_bytes())[number - 1]
    stroke = next((stroke for stroke in page.strokes if stroke.at >= 0 and wanted(stroke)), None)
    if stroke is None:
        raise NotApplicableError("no such line on the page")

    def edit(instructions: list[pikepdf.ContentStreamInstruction]) -> None:
        instructions[stroke.at] = _instruction([], "n")

    _edit_page(folder, name, number, edit)


@BREAKAGES.add("a printed line missing on a tile", r"templates-.*: page .*: a line of the outline is missing")
def _line_missing(folder: Path) -> None:
    drop_line(
        folder,
        _templates(folder),
        _tile_pages(folder)[0],
        lambda stroke: stroke.layer == "THROUGH" and stroke.stroked and stroke.visible().length > 5,
    )


@BREAKAGES.add("a mark missing on a tile", r"templates-.*: page .*: the line of MARK at .* is missing")
def _mark_missing(folder: Path) -> None:
    for number in _tile_pages(folder):
        try:
            drop_line(
                folder,
                _templates(folder),
                number,
                lambda stroke: stroke.layer == "MARK" and stroke.stroked and stroke.visible().length > 5,
            )
        except NotApplicableError:
            continue
        return
    raise NotApplicableError("no tile has a mark")


WORKED = ("HALF", "GROOVE", "LIFT", "BEVEL", "FOLD_UP", "FOLD_DOWN")


@BREAKAGES.add("a fold missing on a tile", r"templates-.*: page .*: the line of [A-Z_]+ at .* is missing")
def _fold_missing(folder: Path) -> None:
    for number in _tile_pages(folder):
        try:
            drop_line(folder, _templates(folder), number, lambda s: s.layer in WORKED and s.stroked)
        except NotApplicableError:
            continue
        return
    raise NotApplicableError("no tile has a fold")


@BREAKAGES.add("a fold missing on the full-size page", r"full-size.pdf: page .*: the line of [A-Z_]+ at")
def _fold_missing_full(folder: Path) -> None:
    for number in range(1, len(load(folder)["sheets"]) + 1):
        try:
            drop_line(folder, FULL, number, lambda s: s.layer in WORKED and s.stroked)
        except NotApplicableError:
            continue
        return
    raise NotApplicableError("no sheet has a fold")


@BREAKAGES.add("a tile's page taken out", r"templates-.*: .*(is missing|is not written on the page)")
def _page_out(folder: Path) -> None:
    number = _tile_pages(folder)[-1]

    def change(document: pikepdf.Pdf) -> None:
        del document.pages[number - 1]

    change_pdf(folder, _templates(folder), change)


@BREAKAGES.add("two tiles' pages swapped", r"templates-.*: page .*: (tile|a line)")
def _pages_swapped(folder: Path) -> None:
    pages = _tile_pages(folder)
    if len(pages) < 2:
        raise NotApplicableError("only one tile")

    def change(document: pikepdf.Pdf) -> None:
        first, second = pages[0] - 1, pages[-1] - 1
        for key in ("/Contents", "/Resources"):
            one, other = document.pages[first].obj[key], document.pages[second].obj[key]
            document.pages[first].obj[key], document.pages[second].obj[key] = other, one

    change_pdf(folder, _templates(folder), change)


@BREAKAGES.add(
    "a tile shifted by 0.5 mm", r"templates-.*: page .*: a line of the outline is missing or 0\.[45]"
)
def _shifted(folder: Path) -> None:
    def edit(instructions: list[pikepdf.ContentStreamInstruction]) -> None:
        instructions.insert(0, _instruction([1, 0, 0, 1, 0.5 / 25.4 * 72, 0], "cm"))

    _edit_page(folder, _templates(folder), _tile_pages(folder)[0], edit)


@BREAKAGES.add("a tile printed 3 % too small", r"templates-.*: page .*: a line of the outline is missing")
def _shrunk(folder: Path) -> None:
    def edit(instructions: list[pikepdf.ContentStreamInstruction]) -> None:
        instructions.insert(0, _instruction([0.97, 0, 0, 0.97, 0, 0], "cm"))

    _edit_page(folder, _templates(folder), _tile_pages(folder)[0], edit)


@BREAKAGES.add("a page 2 mm too wide", r"templates-.*: page .* mm is not (a4|a3|letter|tabloid)")
def _page_size(folder: Path) -> None:
    def change(document: pikepdf.Pdf) -> None:
        box = [float(value) for value in document.pages[-1].mediabox]
        box[2] += 2 / 25.4 * 72
        document.pages[-1].obj["/MediaBox"] = pikepdf.Array(box)

    change_pdf(folder, _templates(folder), change)


def bar_99(folder: Path, name: str, number: int) -> None:
    """Pull the whole content that is on no layer of the board to 99 %: all bars of 100 mm with it."""
    page = read_pages((folder / name).read_bytes())[number - 1]
    bars = []
    for stroke in page.strokes:
        sides = abs(stroke.points - stroke.points[:1]).max(axis=0)
        if stroke.layer not in BOARD_LAYERS and stroke.at >= 0 and abs(sides.max() - 100) < 0.02:
            bars.append(stroke.at)
    if not bars:
        raise NotApplicableError("no bar in the page's own content")

    def edit(instructions: list[pikepdf.ContentStreamInstruction]) -> None:
        for at in bars:
            start = at
            while str(instructions[start - 1].operator) in ("m", "l", "re", "h", "c"):
                start -= 1
            for index in range(start, at):
                shrunk = [float(value) * 0.99 for value in instructions[index].operands]
                instructions[index] = _instruction(shrunk, str(instructions[index].operator))

    _edit_page(folder, name, number, edit)


@BREAKAGES.add("a tile's 100 mm bar is 99 mm", r"templates-.*: page .*: no line of 100 mm")
def _tile_bar(folder: Path) -> None:
    bar_99(folder, _templates(folder), _tile_pages(folder)[0])


@BREAKAGES.add("the 100 mm bar of full-size.pdf is 99 mm", r"full-size.pdf: page 1: no line of 100 mm")
def _full_bar(folder: Path) -> None:
    bar_99(folder, FULL, 1)


@BREAKAGES.add("print scaling left to the viewer", r"templates-.*: /PrintScaling is")
def _scaling(folder: Path) -> None:
    def change(document: pikepdf.Pdf) -> None:
        del document.Root.ViewerPreferences["/PrintScaling"]

    change_pdf(folder, _templates(folder), change)


@BREAKAGES.add("a font not embedded", r"full-size.pdf: page 1: font .* is not embedded")
def _font(folder: Path) -> None:
    def change(document: pikepdf.Pdf) -> None:
        for item in document.objects:
            if isinstance(item, pikepdf.Dictionary):
                for key in ("/FontFile", "/FontFile2", "/FontFile3"):
                    if key in item:
                        del item[key]

    change_pdf(folder, FULL, change)


@BREAKAGES.add("layers gone from a PDF", r"full-size.pdf: has no layers")
def _layers(folder: Path) -> None:
    def change(document: pikepdf.Pdf) -> None:
        del document.Root["/OCProperties"]

    change_pdf(folder, FULL, change)


@BREAKAGES.add("bookmarks gone from a PDF", r"templates-.*: has no bookmarks")
def _bookmarks(folder: Path) -> None:
    def change(document: pikepdf.Pdf) -> None:
        del document.Root["/Outlines"]

    change_pdf(folder, _templates(folder), change)


@BREAKAGES.add("no language named in a PDF", r"full-size.pdf: names no language")
def _language(folder: Path) -> None:
    def change(document: pikepdf.Pdf) -> None:
        del document.Root["/Lang"]

    change_pdf(folder, FULL, change)


@BREAKAGES.add("a page with a user unit", r"full-size.pdf: page 1: has a UserUnit")
def _user_unit(folder: Path) -> None:
    def change(document: pikepdf.Pdf) -> None:
        document.pages[0].obj["/UserUnit"] = 2

    change_pdf(folder, FULL, change)


@BREAKAGES.add("streams compressed", r"full-size.pdf: .*(compressed|/Filter)")
def _compressed(folder: Path) -> None:
    path = folder / FULL
    with pikepdf.open(io.BytesIO(path.read_bytes())) as document:
        document.save(path, compress_streams=True, deterministic_id=True)


@BREAKAGES.add(
    "full-size.pdf shifted by 1 mm", r"full-size.pdf: page 1: THROUGH: outline of piece .* is not drawn"
)
def _full_shifted(folder: Path) -> None:
    def edit(instructions: list[pikepdf.ContentStreamInstruction]) -> None:
        instructions.insert(0, _instruction([1, 0, 0, 1, 72 / 25.4, 0], "cm"))

    _edit_page(folder, FULL, 1, edit)


@BREAKAGES.add("a piece missing in full-size.pdf", r"full-size.pdf: page 1: THROUGH: outline of piece")
def _full_piece(folder: Path) -> None:
    drop_line(folder, FULL, 1, lambda stroke: stroke.layer == "THROUGH" and stroke.stroked)


@BREAKAGES.add("a page too many in full-size.pdf", r"full-size.pdf: .* pages for .* sheets")
def _full_pages(folder: Path) -> None:
    def change(document: pikepdf.Pdf) -> None:
        document.pages.append(document.pages[0])

    change_pdf(folder, FULL, change)


@BREAKAGES.add(
    "a part neither tiled nor ruled nor left to its pair", r"templates-.*: .*printed as another 0 times"
)
def _part_unprinted(folder: Path) -> None:
    document = load(folder)
    entry = document["templates"][0]
    name = (entry["tiles"] or entry["ruled"])[0]["name"]
    for key in ("tiles", "ruled"):
        entry[key] = [item for item in entry[key] if item["name"] != name]
    store(folder, document)


@BREAKAGES.add("a tile whose window is said to lie elsewhere", r"templates-.*: page .*: (a line|shows a cut)")
def _window(folder: Path) -> None:
    document = load(folder)
    entry = document["templates"][0]
    if not entry["tiles"]:
        raise NotApplicableError("nothing is tiled")
    window = entry["tiles"][0]["window"]
    entry["tiles"][0]["window"] = [window[0] + 1, window[1], window[2] + 1, window[3]]
    store(folder, document)


@BREAKAGES.add("a PDF that is none", r"full-size.pdf: the file cannot be read")
def _no_pdf(folder: Path) -> None:
    (folder / FULL).write_bytes(b"%PDF-1.6 nothing behind")
