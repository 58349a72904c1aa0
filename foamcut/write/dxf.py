"""DXF writer: the drawing of a sheet in, the bytes of a file out.

Model space in mm, x right, y up, as the drawing has it.  Arcs stay arcs (bulges), nothing is a block
or a spline, everything is drawn as its layer says.  The same drawing gives the same bytes.

Release 2000 says that its unit is the mm; release 12 cannot, so a comment at its head does.
"""

import io
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from typing import Literal

import ezdxf
from ezdxf import units
from ezdxf.colors import DXF_DEFAULT_COLORS, int2rgb
from ezdxf.document import Drawing as DxfDocument
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts import Modelspace

from foamcut.draw.styles import RGB, STYLES, Dashes, Style
from foamcut.draw.values import Align, Drawing, Text
from foamcut.write.ascii_words import ascii_words
from foamcut.write.extents import drawing_box
from foamcut.write.layers import Layer, layers
from foamcut.write.numbers import plain, rounded
from foamcut.write.paths import Path

Version = Literal["R2000", "R12"]

#: the colour number that a viewer shows black on white and white on black
BLACK_INDEX = 7

_ALIGNMENT = {
    Align.LEFT: TextEntityAlignment.LEFT,
    Align.MIDDLE: TextEntityAlignment.CENTER,
    Align.RIGHT: TextEntityAlignment.RIGHT,
}

# Group codes whose values are real numbers (DXF reference, "Group Code Value Types").
_REALS = frozenset((*range(10, 60), *range(110, 150), *range(210, 240), *range(460, 470), *range(1010, 1060)))


def render(drawing: Drawing, *, version: Version, comment_lines: Sequence[str] = ()) -> bytes:
    """The drawing as a DXF file; `comment_lines` stand at its head, in ASCII, before the unit.

    Raises
    ------
    ValueError
        The drawing holds what cannot be drawn or cut (see `layers.layers`), or the library found
        something to mend in the file: bugs of ours.
    """
    with _without_stamps():
        document = DxfDocument.new(version)
        if version != "R12":  # which has no field for the unit
            document.units = units.MM
        space = document.modelspace()
        for layer in layers(drawing):
            _add_layer(document, layer)
            _add_paths(space, layer)
            for text in layer.texts:
                _add_text(space, text)
        _set_extents(document, space, drawing)
        _check(document)
        return _encoded(document, version, comment_lines)


@contextmanager
def _without_stamps() -> Iterator[None]:
    """Keep times and random identifiers out of the file; the library's option is put back afterwards."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _add_layer(document: DxfDocument, layer: Layer) -> None:
    style = STYLES[layer.line]
    document.layers.add(
        layer.line.value,
        color=nearest_index(style.colour),
        linetype=_linetype(document, style),
        lineweight=-3 if document.dxfversion == "AC1009" else round(style.width_mm * 100),
    )


def _linetype(document: DxfDocument, style: Style) -> str:
    """Name of the style's linetype in the file, added when it is not there: its lengths are mm."""
    if style.dashes is Dashes.CONTINUOUS:
        return "CONTINUOUS"
    name = f"{style.dashes.name}_{round(style.width_mm * 100)}"
    if name not in document.linetypes:
        lengths = [length if i % 2 == 0 else -length for i, length in enumerate(style.dashes_mm)]
        # the first number is the length of the whole pattern
        pattern = [rounded(sum(style.dashes_mm)), *lengths]
        document.linetypes.add(name, pattern=pattern, description=f"{plain(style.width_mm)} mm wide")
    return name


@cache
def nearest_index(colour: RGB) -> int:
    """The colour number (1 to 255) closest to a colour by the squared distance in red, green and blue.

    Black is number 7, which viewers turn white on a black ground; ties go to the lower number.
    """
    if colour == (0, 0, 0):
        return BLACK_INDEX
    others = [index for index in range(1, 256) if index != BLACK_INDEX]
    return min(others, key=lambda index: (_distance(colour, int2rgb(DXF_DEFAULT_COLORS[index])), index))


def _distance(a: Sequence[int], b: Sequence[int]) -> int:
    return sum((x - y) ** 2 for x, y in zip(a, b, strict=True))


def _add_paths(space: Modelspace, layer: Layer) -> None:
    # release 12 has no LWPOLYLINE
    add = space.add_polyline2d if space.dxfversion == "AC1009" else space.add_lwpolyline
    for path in layer.paths:
        add(_vertices(path), format="xyb", close=path.closed, dxfattribs={"layer": layer.line.value})


def _vertices(path: Path) -> list[tuple[float, float, float]]:
    bulges = path.bulges if path.closed else (*path.bulges, 0.0)
    return [(x, y, rounded(bulge)) for (x, y), bulge in zip(path.points, bulges, strict=True)]


def _add_text(space: Modelspace, text: Text) -> None:
    entity = space.add_text(
        _unescaped(ascii_words(text.text)),
        height=rounded(text.height_mm),
        rotation=rounded(text.turn_deg % 360),
        dxfattribs={"layer": text.line.value},
    )
    place = rounded(text.at[0]), rounded(text.at[1])
    entity.set_placement(place, align=_ALIGNMENT[text.align])


def _unescaped(words: str) -> str:
    """Words without what a reader would take for a control code: %%d, ^J, \\U+00B0."""
    return words.replace("%%", "% %").replace("^", "'").replace("\\", "/")


def _set_extents(document: DxfDocument, space: Modelspace, drawing: Drawing) -> None:
    x0, y0, x1, y1 = (rounded(value) for value in drawing_box(drawing))
    low, high = (x0, y0, 0.0), (x1, y1, 0.0)
    # Both are needed: the header alone is overwritten, and a zero corner given to the space is ignored.
    document.header["$EXTMIN"], document.header["$EXTMAX"] = low, high
    space.reset_extents(low, high)
    document.header["$MEASUREMENT"] = 1
    document.header["$LTSCALE"] = 1.0
    height = max(y1 - y0, (x1 - x0) / 1.6) * 1.1
    middle = rounded((x0 + x1) / 2), rounded((y0 + y1) / 2)
    document.set_modelspace_vport(height=rounded(height), center=middle)


def _check(document: DxfDocument) -> None:
    auditor = document.audit()
    found = [entry.message for entry in (*auditor.errors, *auditor.fixes)]
    if found:
        raise ValueError(f"the DXF file is not whole: {'; '.join(found[:5])}")


def _encoded(document: DxfDocument, version: Version, comment_lines: Sequence[str]) -> bytes:
    if version != "R12":
        # The library registers classes in the order of a set; sorted beforehand, the order is ours.
        document.commit_pending_changes()
        for kind in sorted(document.entitydb.dxf_types_in_use()):
            document.classes.add_class(kind)
    stream = io.StringIO(newline="\n")
    document.write(stream)
    comments = [*map(ascii_words, comment_lines), "units: mm"]
    head = "".join(f"999\n{line or ' '}\n" for line in comments)
    return document.encode(head + _without_exponents(stream.getvalue()))


def _without_exponents(text: str) -> str:
    """Numbers with an exponent written out, since simple readers take none; the rest as it stands."""
    lines = text.split("\n")
    for at in range(1, len(lines), 2):
        if "e" in lines[at] and int(lines[at - 1]) in _REALS:
            lines[at] = plain(float(lines[at]))
    return "\n".join(lines)
