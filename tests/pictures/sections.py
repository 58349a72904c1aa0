"""Pictures of sections: `python -m tests.pictures.sections OUT_DIR` writes three SVG files.

Each shows every nose, creased and bent over the spar: `root`, `tip` (thin, one strip left, stepped) and
`single` (the lower skin runs on alone).  Skins light, strips darker, the outline of `Section` as a red line.
"""

import sys
from collections.abc import Iterable
from pathlib import Path

from foamcut.airframe.section import Section, upper_length
from foamcut.airframe.section_spar import spar_of, strips_at
from foamcut.airframe.values import Nose, OverSpar, Surface, TrailingEdge
from foamcut.flat.outline import Point
from tests.airframe.section_surfaces import section, spar, stations, surface

#: mm of paper for a mm of section, and of a cell of the picture
SCALE, WIDE, HIGH = 4.0, 1000.0, 190.0


def boards(one: Section) -> dict[str, list[Point]]:
    """The polygons of both skins, and of a round nose between them."""
    t, (first, last) = one.thickness_mm, one.lower_mm
    shapes = {
        "lower": [(first, 0.0), (last, 0.0), (last, t), (first, t)],
        "upper": [*one.upper_outer, *reversed(one.upper_inner)],
    }
    if one.nose_outer:
        shapes["nose"] = [*one.nose_outer, *reversed(one.nose_inner)]
    return shapes


def strips(made: Surface, one: Section) -> list[list[Point]]:
    """The strips on each other."""
    (front, rear, _), each = one.spar, spar_of(made).material.thickness_mm
    feet = [one.thickness_mm + i * each for i in range(strips_at(made, one.s_mm))]
    return [[(front, n), (rear, n), (rear, n + each), (front, n + each)] for n in feet]


def _polygon(points: Iterable[Point], style: str) -> str:
    path = " ".join(f"{SCALE * c:.3f},{-SCALE * n:.3f}" for c, n in points)
    return f'<polygon points="{path}" {style}/>'


def cell(made: Surface, s_mm: float) -> str:
    """One section with its numbers."""
    one = section(made, s_mm)
    thin = 'stroke="#333" stroke-width="0.5"'
    drawn = [_polygon(shape, f'fill="#f1ead8" {thin}') for shape in boards(one).values()]
    drawn += [_polygon(shape, f'fill="#c9b98c" {thin}') for shape in strips(made, one)]
    drawn.append(_polygon(one.outline, 'fill="none" stroke="#c00" stroke-width="0.8"'))
    for a, b in zip(one.upper_outer, one.upper_inner, strict=True):
        drawn.append(_polygon((a, b), 'stroke="#06c" stroke-width="0.4"'))
    turns = ", ".join(f"{turn:.1f}" for turn in one.turns_deg)
    words = f"{made.nose.value}, {made.over_spar.value}, {s_mm:.0f} mm out; turns {turns}; upper"
    words += f" {upper_length(one):.2f}; lift {one.lift_mm:.2f}; least radius {one.least_radius_mm:.0f}"
    drawn.append(f'<text x="0" y="32" font-size="16" font-family="sans-serif">{words}</text>')
    return "".join(drawn)


def sheet(made: Surface, s_mm: float) -> str:
    """All noses by both ways over the spar."""
    cells = []
    for row, nose in enumerate(Nose):
        for column, over in enumerate(OverSpar):
            x, y = 40 + column * WIDE, (row + 0.7) * HIGH
            shown = cell(_with(made, nose, over), s_mm)
            cells.append(f'<g transform="translate({x} {y:.1f})">{shown}</g>')
    wide, high = 2 * WIDE, len(Nose) * HIGH
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}" height="{high}"'
        f' viewBox="0 0 {wide} {high}"><rect width="100%" height="100%" fill="#fff"/>{"".join(cells)}</svg>\n'
    )


def _with(made: Surface, nose: Nose, over: OverSpar) -> Surface:
    return surface(
        nose=nose,
        over_spar=over,
        stations=made.stations,
        spar=made.spar,
        trailing_edge=made.trailing_edge,
    )


def main(out: Path) -> None:
    """Write the pictures."""
    out.mkdir(parents=True, exist_ok=True)
    thin = surface(
        stations=stations((0.0, 0.0, 204.0), (552.0, 30.0, 110.0)),
        spar=spar(tip_layers=1, tip_width_mm=15.0, behind_mm=50.0),
    )
    single = surface(trailing_edge=TrailingEdge.SINGLE)
    for name, made, s in (("root", surface(), 0.0), ("tip", thin, 552.0), ("single", single, 0.0)):
        (out / f"{name}.svg").write_text(sheet(made, s), encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
