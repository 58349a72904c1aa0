"""The lines and texts of a sheet, layer by layer: what the DXF and SVG writers have in common."""

from collections.abc import Iterator
from dataclasses import dataclass

from foamcut.draw.styles import STYLES
from foamcut.draw.values import LAYERS, Drawing, Line, Text
from foamcut.write.paths import Path, path

#: the layers that hold words; letters on any other would be cut or drawn by a machine
WORDED = (Line.LETTERING, Line.NOTES)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """The lines and texts of one kind."""

    line: Line
    paths: tuple[Path, ...]
    texts: tuple[Text, ...]


def layers(drawing: Drawing) -> Iterator[Layer]:
    """The drawing's layers in the order of the table, those only that hold something.

    Raises
    ------
    ValueError
        A line is of a kind that sheets do not have, a line that must be closed is open, a text stands
        on a layer of lines, or a line cannot be drawn (see `paths.path`).
    """
    for stroke in drawing.strokes:
        if stroke.line not in LAYERS:
            raise ValueError(f"{drawing.name}: a sheet has no lines of the kind {stroke.line.value}")
        if STYLES[stroke.line].closed and not stroke.closed:
            raise ValueError(f"{drawing.name}: an open line on {stroke.line.value}")
    for text in drawing.texts:
        if text.line not in WORDED:
            raise ValueError(f"{drawing.name}: text {text.text!r} on {text.line.value}")
    for line in LAYERS:
        paths = tuple(path(stroke) for stroke in drawing.strokes if stroke.line is line)
        texts = tuple(text for text in drawing.texts if text.line is line and text.text.strip())
        if paths or texts:
            yield Layer(line=line, paths=paths, texts=texts)
