"""Reads lines and their layers out of a PDF's pages (pikepdf), in mm from the page's lower left."""

import functools
import io
import itertools
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pikepdf
import pypdfium2
import shapely
from shapely import LineString, Polygon

# A PDF unit is 1/72 inch.
MM_PER_UNIT = 25.4 / 72
_BEZIER_STEPS = 32
_MAX_FORMS = 12

Matrix = tuple[float, float, float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """One painted subpath; `at` counts its painting operator in the page's content, -1 in a form."""

    points: np.ndarray
    closed: bool
    stroked: bool
    white: bool
    layer: str | None
    clip: Polygon | None
    at: int

    def visible(self) -> shapely.Geometry:
        """Return what of the line the clip lets through."""
        if len(self.points) < 2:
            return LineString()
        line = LineString(self.points)
        if self.clip is None or self.clip.covers(line):
            return line
        return self.clip.intersection(line)


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page: its size in mm, lines and words."""

    width_mm: float
    height_mm: float
    strokes: tuple[Stroke, ...]
    text: str

    def lines(self, layers: tuple[str, ...]) -> shapely.Geometry:
        """Return all that is drawn and seen on these layers."""
        drawn = [s.visible() for s in self.strokes if s.stroked and not s.white and s.layer in layers]
        return shapely.union_all(drawn) if drawn else LineString()


@dataclass(slots=True, kw_only=True)
class _State:
    matrix: Matrix
    clip: Polygon | None = None
    white: bool = False

    def copy(self) -> "_State":
        return _State(matrix=self.matrix, clip=self.clip, white=self.white)


def _times(first: Matrix, then: Matrix) -> Matrix:
    a, b, c, d, e, f = first
    p, q, r, s, t, u = then
    return (
        a * p + b * r,
        a * q + b * s,
        c * p + d * r,
        c * q + d * s,
        e * p + f * r + t,
        e * q + f * s + u,
    )


def _apply(matrix: Matrix, points: np.ndarray) -> np.ndarray:
    a, b, c, d, e, f = matrix
    x, y = points[:, 0], points[:, 1]
    return np.column_stack([a * x + c * y + e, b * x + d * y + f])


def _bezier(start: np.ndarray, controls: np.ndarray) -> np.ndarray:
    t = np.linspace(0.0, 1.0, _BEZIER_STEPS + 1)[1:, None]
    first, second, end = controls
    return (1 - t) ** 3 * start + 3 * (1 - t) ** 2 * t * first + 3 * (1 - t) * t**2 * second + t**3 * end


@dataclass(slots=True, kw_only=True)
class _Painter:
    """Runs content streams and keeps what they paint."""

    strokes: list[Stroke] = field(default_factory=list)
    subpaths: list[tuple[list[np.ndarray], bool]] = field(default_factory=list)
    layers: list[str | None] = field(default_factory=list)
    pending_clip: bool = False

    def run(self, content: Any, resources: Any, state: _State, depth: int) -> None:
        saved: list[_State] = []
        for at, (operands, operator) in enumerate(pikepdf.parse_content_stream(content)):
            name = str(operator)
            if name == "q":
                saved.append(state.copy())
            elif name == "Q":
                state = saved.pop() if saved else state
            elif name == "cm":
                state.matrix = _times(tuple(float(v) for v in operands), state.matrix)
            elif name in _PATH:
                self._path(name, [float(v) for v in operands])
            elif name in _PAINT:
                self._paint(name, state, at if depth == 0 else -1)
            elif name in ("W", "W*"):
                self.pending_clip = True
            elif name in ("G", "RG", "K"):
                state.white = [float(v) for v in operands] in ([1.0], [1.0] * 3, [0.0] * 4)
            elif name in ("BDC", "BMC"):
                self.layers.append(_layer(operands, resources) if name == "BDC" else None)
            elif name == "EMC" and self.layers:
                self.layers.pop()
            elif name == "Do" and depth < _MAX_FORMS:
                self._form(resources, operands[0], state, depth)

    def _form(self, resources: Any, name: Any, state: _State, depth: int) -> None:
        form = resources.get("/XObject", {}).get(str(name))
        if form is None or form.get("/Subtype") != "/Form":
            return
        inner = state.copy()
        matrix = tuple(float(v) for v in form.get("/Matrix", [1, 0, 0, 1, 0, 0]))
        inner.matrix = _times(matrix, state.matrix)
        tag = form.get("/OC")
        self.layers.append(str(tag.get("/Name")) if tag is not None and "/Name" in tag else None)
        self.run(form, form.get("/Resources", resources), inner, depth + 1)
        self.layers.pop()

    def _path(self, name: str, numbers: list[float]) -> None:
        if name == "re":
            x, y, w, h = numbers
            corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)]
            self.subpaths.append(([np.array(corners)], True))
            return
        if name == "m":
            self.subpaths.append(([np.array([numbers])], False))
            return
        if not self.subpaths:
            return
        parts, _ = self.subpaths[-1]
        if name == "h":
            self.subpaths[-1] = ([*parts, parts[0][:1]], True)
        elif name == "l":
            parts.append(np.array([numbers]))
        else:
            start = parts[-1][-1]
            points = np.array(numbers).reshape(-1, 2)
            if name == "v":
                points = np.vstack([start, points])
            elif name == "y":
                points = np.vstack([points, points[-1:]])
            parts.append(_bezier(start, points))

    def _paint(self, name: str, state: _State, at: int) -> None:
        shapes = []
        for parts, closed in self.subpaths:
            points = np.vstack(parts)
            ends = closed or name in ("s", "b", "b*")
            if ends and not np.array_equal(points[0], points[-1]):
                points = np.vstack([points, points[:1]])
            shapes.append((_apply(state.matrix, points) * MM_PER_UNIT, ends))
        if name != "n":
            layer = next((layer for layer in reversed(self.layers) if layer), None)
            for points, closed in shapes:
                self.strokes.append(
                    Stroke(
                        points=points,
                        closed=closed,
                        stroked=name in _STROKED,
                        white=state.white,
                        layer=layer,
                        clip=state.clip,
                        at=at,
                    )
                )
        if self.pending_clip:
            areas = [Polygon(points).buffer(0) for points, _ in shapes if len(points) >= 3]
            window = shapely.union_all(areas) if areas else Polygon()
            state.clip = window if state.clip is None else state.clip.intersection(window)
        self.pending_clip = False
        self.subpaths = []


_PATH = frozenset(("m", "l", "c", "v", "y", "h", "re"))
_STROKED = frozenset(("S", "s", "B", "B*", "b", "b*"))
_PAINT = _STROKED | {"f", "F", "f*", "n"}


def _layer(operands: Any, resources: Any) -> str | None:
    """Return the name of the optional content group of a BDC operator, None for other marked content."""
    if str(operands[0]) != "/OC":
        return None
    group = resources.get("/Properties", {}).get(str(operands[1]))
    return str(group["/Name"]) if group is not None and "/Name" in group else None


@functools.lru_cache(maxsize=64)
def read_pages(data: bytes, most: int | None = None) -> tuple[Page, ...]:
    """Read every page of a PDF, or the first `most`; raises what pikepdf and pdfium raise on a broken file."""
    words = pypdfium2.PdfDocument(data)
    pages = []
    with pikepdf.open(io.BytesIO(data)) as document:
        for number, page in enumerate(itertools.islice(document.pages, most)):
            left, bottom, right, top = (float(v) for v in page.mediabox)
            painter = _Painter()
            start = _State(matrix=(1.0, 0.0, 0.0, 1.0, -left, -bottom))
            painter.run(page, page.obj.get("/Resources", page.resources), start, 0)
            text_page = words[number].get_textpage()
            pages.append(
                Page(
                    width_mm=(right - left) * MM_PER_UNIT,
                    height_mm=(top - bottom) * MM_PER_UNIT,
                    strokes=tuple(painter.strokes),
                    text=text_page.get_text_range(),
                )
            )
            text_page.close()
    words.close()
    return tuple(pages)
